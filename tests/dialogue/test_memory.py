"""What is said in an evening is kept, used by later answers and can be taken back. The talks are invented."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.answer import Answer
from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts
from gardenmate.plantings.current import batches_of

FACTS = Facts()
Say = Callable[..., Answer]


class Evening:
    """A conversation on a day that can move on."""

    def __init__(self, home: Path, place: str | None = "Duluth, MN") -> None:
        self.today = date(2027, 4, 18)
        self.garden_file = GardenFile(garden_path(home))
        if place is not None:
            self.garden_file.apply(GardenChange("place.name", place))
        self.journal = Journal(journal_path(home))
        self.talk = Conversation(
            facts=FACTS, clock=lambda: self.today, garden_file=self.garden_file, journal=self.journal
        )

    def say(self, *lines: str) -> Answer:
        """Say some lines; the last answer."""
        return [self.talk.ask(line) for line in lines][-1]

    @property
    def kept(self) -> list[tuple[str, tuple[str, ...], float | None]]:
        """What the journal holds, oldest first."""
        return [(d.action, d.crops, d.count) for d in reversed(self.journal.search())]


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


def test_a_variety_told_is_used_by_the_next_answer_and_can_be_forgotten(evening: Evening) -> None:
    plain = evening.say("is it too late for tomatoes?")
    evening.say("my tomatoes are Glacier, 55 days")
    own = evening.say("is it too late for tomatoes?")
    assert "your Glacier, 55 days" in own.headline
    days = {a.headline: [n.value for n in a.numbers if n.name == "first_pick"] for a in (plain, own)}
    assert days[own.headline] <= days[plain.headline]
    assert evening.say("what are my varieties").headline.startswith("Your varieties: Glacier")
    evening.say("forget Glacier")
    assert evening.garden_file.garden.varieties == {}
    evening.say("undo")
    assert [v.name for v in evening.garden_file.garden.varieties.values()] == ["Glacier"]


@pytest.mark.parametrize(
    "line",
    [
        "sowed carrots in bed 2, Napoli, 3 rows",
        "my peppers are King of the North, 68 days",
        "sowed 12 Cambridge lettuce today",
        "sowed Manitoba tomatoes today",
        "bought 6 tomatoes in Bangor",
    ],
)
def test_a_varietys_name_never_moves_the_garden(evening: Evening, line: str) -> None:
    evening.say(line)
    assert evening.garden_file.garden.place == "Duluth, MN"
    told = evening.say("when do I sow kale?")
    assert told.place is not None
    assert told.place.name.startswith("Duluth")


def test_a_second_garden_answers_for_itself_and_the_main_one_stays(evening: Evening) -> None:
    evening.say("I have a second garden at camp in Jackman ME")
    assert evening.garden_file.garden.place == "Duluth, MN"
    camp = evening.say("when do I sow beans at camp")
    assert camp.place_note is not None
    assert camp.place_note.startswith("For camp (Jackman, ME)")
    home = evening.say("when do I sow kale?")
    assert home.place_note is None or "camp" not in home.place_note


def test_a_place_nobody_knows_is_told_once_and_blocks_nothing(tmp_path: Path) -> None:
    evening = Evening(tmp_path, "Nowhere at all, ZZ")
    first = evening.say("when do I sow kale?")
    assert "Nowhere" in first.headline
    assert evening.say("sowed 12 leeks").headline.startswith("Noted: sowed 12 leeks")
    assert "Nowhere" not in evening.say("when do I sow leeks?").headline
    assert evening.say("how are my trays").table is not None


def test_several_deeds_of_one_line_are_kept_each_with_its_own(evening: Evening) -> None:
    evening.say("48 onions, 24 cabbages and 12 broccoli set out in bed 2 today")
    assert evening.kept == [
        ("set-out", ("onion",), 48.0),
        ("set-out", ("cabbage",), 24.0),
        ("set-out", ("broccoli",), 12.0),
    ]
    assert {b.where for b in batches_of(evening.journal)} == {"bed 2"}


def test_a_deed_beside_a_question_is_kept_and_the_question_answered(evening: Evening) -> None:
    reply = evening.say("set out 18 tomatoes this morning, 31 tonight will they live")
    assert {a.act for a in (reply, *reply.also)} == {"ask", "report"}
    assert reply.verdict == "no"
    assert evening.kept == [("set-out", ("tomato",), 18.0)]


def test_a_correction_acts_on_what_it_names_or_changes_nothing(evening: Evening) -> None:
    evening.say("sowed 12 leeks", "sowed 6 peas")
    before = evening.kept
    for line in ("delete note 99", "change entry 88 to 5", "actually the carrots are in bed 3"):
        evening.say(line)
        assert evening.kept == before, line
    evening.say("no, 36")
    assert evening.kept[-1] == ("sow", ("pea",), 36.0)
    assert evening.say("delete note 1").headline.startswith("Took back 'sowed 12 leeks'")
    evening.say("undo")
    assert ("sow", ("leek",), 12.0) in evening.kept


def test_jobs_are_done_put_off_and_dropped_by_number(evening: Evening) -> None:
    listed = evening.say("what should I do this week")
    first, second, third = listed.jobs[:3]
    assert "Noted" in evening.say("done 1").headline
    evening.say("2 until Sunday", "drop 3")
    left = {(j.job, j.crop) for j in evening.say("jobs").jobs}
    assert not left & {(j.job, j.crop) for j in (first, second, third)}
    evening.today = date(2027, 4, 25)
    left = {(j.job, j.crop) for j in evening.say("jobs").jobs}
    assert (third.job, third.crop) not in left
    assert evening.say("done 77").headline.startswith("There is no job 77")


@pytest.mark.parametrize("line", ["sdkfjh skdjfh", "thanks", "hello"])
def test_talk_is_met_shortly_and_never_with_the_answer_before(evening: Evening, line: str) -> None:
    before = evening.say("is it too late for peppers?")
    reply = evening.say(line)
    assert reply.act == "talk"
    assert len(reply.headline) < 160
    assert reply.headline != before.headline


@pytest.mark.parametrize(
    "line",
    [
        "did I sow leeks?",
        "can the tomatoes go out?",
        "should I pot up the peppers?",
        "more kale?",
        "and beets",
    ],
)
def test_a_question_never_writes(evening: Evening, line: str) -> None:
    evening.say("is it too late for peppers?", line)
    assert evening.kept == []


def test_everything_kept_is_shown_with_the_way_to_take_it_back(evening: Evening) -> None:
    evening.say("bed 2 is a bog", "my tomatoes are Glacier, 55 days", "sowed 12 leeks", "household of three")
    table = evening.say("what do you know about my garden?").table
    assert table is not None
    rows = {row[0]: row for row in table.rows}
    assert {"Place", "People", "Glacier", "Bed 2", "Log"} <= set(rows)
    assert all(row[2] for row in table.rows)
