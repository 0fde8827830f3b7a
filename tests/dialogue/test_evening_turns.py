"""Short turns of an evening: what they leave unsaid comes from the turns before. Lines written for this file."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from gardenmate.core.answer import Answer
from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.decision import KeptDecision
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def _evening(home: Path, today: date, *lines: str) -> tuple[Answer, list[KeptDecision]]:
    """The last answer to ``lines`` and all that was kept, oldest first."""
    garden = GardenFile(garden_path(home))
    journal = Journal(journal_path(home))
    garden.apply(GardenChange("place.name", "Duluth, Minnesota"))
    talk = Conversation(facts=FACTS, clock=lambda: today, garden_file=garden, journal=journal)
    answer = [talk.ask(line) for line in lines][-1]
    kept = sorted(journal.search(limit=100), key=lambda d: d.id)
    journal.close()
    return answer, [d for d in kept if d.action != "garden"]


def _crops(answer: Answer) -> set[str]:
    return {ref.id for ref in answer.question.crops}


def test_a_crop_behind_a_report_takes_its_deed(tmp_path: Path) -> None:
    _, kept = _evening(tmp_path, date(2026, 5, 20), "sowed beets in bed 4", "radishes too same bed")
    assert [(d.action, d.crops, d.detail.get("where")) for d in kept] == [
        ("sow", ("beet",), "bed 4"),
        ("sow", ("radish",), "bed 4"),
    ]


def test_both_reaches_two_questions_back(tmp_path: Path) -> None:
    answer, kept = _evening(
        tmp_path, date(2026, 3, 1), "can I start celery?", "eggplant?", "when then, for both"
    )
    assert _crops(answer) == {"celery", "eggplant"}
    assert answer.question.topic == "when-start"
    assert not kept


def test_a_weekday_in_a_correction_is_nearest_to_its_own_entry(tmp_path: Path) -> None:
    _, kept = _evening(
        tmp_path,
        date(2026, 4, 23),  # a Thursday
        "sowed 24 cabbages on April 5",  # a Sunday
        "cabbages are up",
        "no wait i sowed those friday not sunday",
    )
    assert kept[0].on == date(2026, 4, 3)
    assert kept[1].on == date(2026, 4, 23)


def test_plants_named_behind_a_frost_question_are_asked_about(tmp_path: Path) -> None:
    answer, kept = _evening(
        tmp_path,
        date(2026, 5, 30),
        "29 tonight, will the beans live?",
        "lettuce is still out there too",
    )
    assert (answer.act, answer.question.topic) == ("ask", "frost")
    assert "lettuce" in _crops(answer)
    assert not kept


def test_a_day_number_is_of_the_month_spoken_of(tmp_path: Path) -> None:
    answer, kept = _evening(
        tmp_path,
        date(2026, 4, 27),
        "if I set out tomatoes june 9 when are they ripe?",
        "what if it's the 16th instead",
        "ok plan that",
    )
    assert answer.act == "plan"
    assert [d.on for d in kept] == [date(2026, 6, 16)]


def test_a_deed_still_to_do_is_no_question_for_the_log(tmp_path: Path) -> None:
    answer, kept = _evening(tmp_path, date(2026, 7, 20), "picked 3 lb of peas", "sow more peas?")
    assert answer.question.topic in ("late-start", "early-start", "when-start")
    assert len(kept) == 1


def test_a_second_night_is_in_the_unit_of_the_first(tmp_path: Path) -> None:
    garden = GardenFile(garden_path(tmp_path))
    garden.apply(GardenChange("place.name", "Thunder Bay, Ontario"))
    talk = Conversation(facts=FACTS, clock=lambda: date(2026, 5, 29), garden_file=garden)
    talk.ask("41 tonight, will the tomatoes live in the frame?")
    assert [(t.value, t.unit) for t in talk.ask("and if it was 29").question.slots.temps] == [(29.0, "F")]


def test_the_usual_frost_dates_are_the_places_not_the_plant_spoken_of(tmp_path: Path) -> None:
    dates, _ = _evening(
        tmp_path,
        date(2027, 5, 11),
        "apple in full bloom, 28 tonight, will I lose the fruit?",
        "when is the last frost usually?",
    )
    assert _crops(dates) == set()
    assert "17 May" in dates.headline


def test_a_weak_reading_behind_the_weeks_list_is_no_topic(tmp_path: Path) -> None:
    bare, _ = _evening(tmp_path / "a", date(2027, 4, 26), "what is due?", "and the peppers?")
    assert (bare.question.topic, _crops(bare)) == ("late-start", {"pepper"})
    weak, _ = _evening(tmp_path / "b", date(2027, 4, 26), "what is due?", "which tomatoes are left?")
    assert (weak.question.topic, _crops(weak)) == ("agenda", {"tomato"})
