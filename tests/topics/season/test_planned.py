"""A plan told is kept to: when it goes in, and when hardening begins, count from the grower's own day."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from gardenmate.core.answer import Answer
from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def _last(home: Path, *lines: str) -> Answer:
    """The answer to the last of the lines, in Boise on 18 April."""
    garden, journal = GardenFile(garden_path(home)), Journal(journal_path(home))
    garden.apply(GardenChange("place.name", "Boise, Idaho"))
    talk = Conversation(facts=FACTS, clock=lambda: date(2027, 4, 18), garden_file=garden, journal=journal)
    answer = [talk.ask(line) for line in lines][-1]
    journal.close()
    return answer


def test_when_they_go_out_is_the_day_planned(tmp_path: Path) -> None:
    answer = _last(tmp_path, "plan: set out peppers 8 June", "when do the peppers go out?")
    assert "8 Jun" in answer.headline
    assert answer.verdict == "yes"


def test_a_plan_too_early_is_told_so(tmp_path: Path) -> None:
    answer = _last(tmp_path, "plan: set out tomatoes 25 April", "when do the tomatoes go out?")
    assert "25 Apr" in answer.headline
    assert answer.verdict == "no"


def test_hardening_counts_back_from_the_plan(tmp_path: Path) -> None:
    answer = _last(tmp_path, "plan: set out peppers 8 June", "when do I start hardening off the peppers?")
    assert {n.value for n in answer.numbers if n.name == "set_out"} == {date(2027, 6, 8)}


def test_a_plan_done_is_no_plan(tmp_path: Path) -> None:
    answer = _last(tmp_path, "plan: sow beans 20 May", "sowed the beans today", "when do I sow beans?")
    assert "plan" not in answer.headline
