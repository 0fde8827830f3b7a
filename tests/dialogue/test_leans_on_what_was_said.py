"""What a turn leaves to those before it, and what it must not take from them. Invented evenings in Duluth; sizes, names
of places in a garden and what a count means are common practice."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.answer import Answer
from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.decision import KeptDecision
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
MAY = date(2027, 5, 18)


def evening(home: Path, day: date, *lines: str) -> tuple[Answer, list[KeptDecision], GardenFile]:
    """The last answer, the entries kept in order, and the garden file."""
    garden, journal = GardenFile(garden_path(home)), Journal(journal_path(home))
    garden.apply(GardenChange("place.name", "Duluth, Minnesota"))
    talk = Conversation(FACTS, lambda: day, garden_file=garden, journal=journal)
    answer = [talk.ask(line) for line in lines][-1]
    return answer, sorted(journal.latest(), key=lambda d: d.id), garden


def crops(answer: Answer) -> list[str]:
    return [ref.id for ref in answer.question.crops]


def test_a_question_that_names_no_plant_is_about_the_last_one_spoken_of(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, MAY, "sowed 24 peppers in tray 1", "how long till they're up")
    assert crops(answer) == ["pepper"]


def test_a_general_question_is_about_no_plant_spoken_of(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, MAY, "when do I sow kale?", "what can I still sow now?")
    assert answer.table is not None
    assert crops(answer) == []


def test_either_and_both_reach_back_two_plants(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, MAY, "too late for potatoes?", "and peas?", "is it late for either")
    assert crops(answer) == ["potato", "pea"]


def test_a_plant_nobody_knows_lends_nothing_to_the_one_before(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, MAY, "is it too late for peppers?", "and skirret?")
    assert crops(answer) == []
    assert "skirret" in answer.headline


@pytest.mark.parametrize(
    ("line", "count", "where"),
    [
        ("sowed 100 leeks, flat 2", 100, "flat 2"),
        ("leeks 100 tray 2", 100, "tray 2"),
        ("sowed 40 kale, tray b", 40, "tray b"),
        ("set out 9 cabbages, bed two", 9, "bed 2"),
        ("moved 12 leeks behind the woodpile", 12, "behind the woodpile"),
        ("moved 8 tomatoes into the arctic entry", 8, "arctic entry"),
        ("potted 16 tomatoes into 4 inch pots", 16, "4 inch pots"),
        ("sowed 30 beets in 5", 30, "bed 5"),
        ("bed 4: 30 radishes", 30, "bed 4"),
    ],
)
def test_where_it_stands_and_how_many(tmp_path: Path, line: str, count: float, where: str) -> None:
    _, kept, _ = evening(tmp_path, MAY, line)
    assert (kept[-1].count, kept[-1].detail.get("where")) == (count, where)


@pytest.mark.parametrize(
    "line", ["planted peas by the way", "sowed kale in a row", "sowed peas in the morning"]
)
def test_what_is_no_place(tmp_path: Path, line: str) -> None:
    _, kept, _ = evening(tmp_path, MAY, line)
    assert kept[-1].detail.get("where") is None


def test_beside_is_where_the_last_ones_stand(tmp_path: Path) -> None:
    _, kept, _ = evening(tmp_path, MAY, "set out 20 broccoli in bed 2", "set out 12 kale beside")
    assert kept[-1].detail.get("where") == "bed 2"


def test_losing_two_to_the_cat_leaves_the_others(tmp_path: Path) -> None:
    answer, kept, _ = evening(
        tmp_path, MAY, "sowed 24 peppers in tray 1", "18 up", "lost 2 to the cat", "how many left"
    )
    assert (kept[-1].action, kept[-1].count) == ("lost", 2)
    assert "16" in answer.headline


def test_the_count_of_a_deed_is_no_temperature(tmp_path: Path) -> None:
    _, kept, _ = evening(tmp_path, MAY, "sowed 24 peppers in tray 1", "18 up")
    assert kept[-1].temp_c is None


def test_what_did_not_happen_is_a_note(tmp_path: Path) -> None:
    _, kept, _ = evening(tmp_path, MAY, "sowed lettuce", "lettuce never showed")
    assert kept[-1].action == "note"


def test_a_plan_is_for_the_year_to_come(tmp_path: Path) -> None:
    _, kept, _ = evening(tmp_path, date(2026, 12, 5), "plan: prune the apples 6 march")
    assert kept[-1].on == date(2027, 3, 6)


def test_a_number_before_a_month_and_day_counts(tmp_path: Path) -> None:
    _, kept, _ = evening(tmp_path, date(2027, 2, 20), "plan: sow peppers, 14, mar 13")
    assert (kept[-1].count, kept[-1].on) == (14, date(2027, 3, 13))


def test_a_number_read_as_degrees_counts_nothing(tmp_path: Path) -> None:
    _, kept, _ = evening(tmp_path, MAY, "sowed 6 zucchini", "20 out, how cold in the frame")
    assert len(kept) == 1


def test_a_number_is_no_job_where_none_were_listed(tmp_path: Path) -> None:
    _, kept, _ = evening(tmp_path, MAY, "pot up the tomatoes now?", "30 done")
    assert (kept[-1].crops, kept[-1].count) == (("tomato",), 30)


def test_a_second_town_is_the_garden_s_and_no_region_of_the_first(tmp_path: Path) -> None:
    answer, _, garden = evening(tmp_path, MAY, "I garden in Bozeman, Montana", "we are in Leeds")
    assert "Leeds" in answer.headline
    assert "Leeds" in (garden.garden.place or "")


def test_a_place_nobody_found_is_not_taken_over(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, MAY, "too late for kale in Canada?", "how do I ripen tomatoes")
    assert "Canada" not in answer.headline


def test_enough_is_judged_by_what_the_log_has(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, MAY, "there are 4 of us", "set out 9 peppers", "is that enough for us")
    assert answer.verdict == "yes"
    few, _, _ = evening(
        tmp_path / "b", MAY, "there are 4 of us", "set out 2 peppers", "is that enough for us"
    )
    assert few.verdict == "no"


def test_a_yes_and_a_risk_together_are_a_risk(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, MAY, "27 tonight will the onions, broccoli and cabbage take it")
    assert answer.verdict == "tight"


def test_a_remark_gets_a_word(tmp_path: Path) -> None:
    answer, kept, _ = evening(tmp_path, MAY, "sowed 12 leeks", "good lad")
    assert answer.headline == "All right."
    assert len(kept) == 1


def test_a_refusal_is_told_once_at_length(tmp_path: Path) -> None:
    first, _, _ = evening(tmp_path, MAY, "sowed 12 leeks", "how do I cook them")
    second, _, _ = evening(tmp_path / "b", MAY, "how do I cook leeks", "and what sauce goes with that?")
    assert len(second.headline) <= 60 < len(first.headline)


def test_below_zero_is_read_as_cold(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, date(2027, 1, 18), "is -5 going to kill my chard")
    assert answer.question.slots.temps[0].value == -5
    assert answer.verdict == "no"


def test_two_lamps_are_two(tmp_path: Path) -> None:
    _, _, garden = evening(tmp_path, MAY, "we have a cold frame, a mat and two lamps")
    assert garden.garden.gear["lamp"] == 2


def test_going_out_is_setting_out(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, MAY, "can courgettes go out")
    assert answer.question.slots.method == "setout"
    assert "set out" in answer.headline


def test_what_they_are_is_nothing_done(tmp_path: Path) -> None:
    answer, kept, _ = evening(tmp_path, MAY, "hardened peppers, night of 8C, leave them out?")
    assert answer.verdict == "no"
    assert kept == []


def test_a_night_of_a_plant_without_figures_names_it(tmp_path: Path) -> None:
    answer, _, _ = evening(tmp_path, MAY, "will pansies take 28")
    assert "pansies" in answer.headline
    assert answer.verdict is None


@pytest.mark.parametrize(
    ("line", "deed"),
    [
        ("sowed 24 winterbor in flat 2", True),
        ("tomatoes, peppers, leeks", False),
        ("a mat and two lamps", False),
    ],
)
def test_a_deed_told_in_answer_to_a_first_question_is_heard(line: str, deed: bool) -> None:
    assert Conversation(FACTS, lambda: MAY).tells_a_deed(line) is deed


def test_done_with_another_crop_is_not_what_was_asked_of_this_one(tmp_path: Path) -> None:
    _, kept, _ = evening(tmp_path, MAY, "sowed 24 kale", "30 tonight, kale ok?", "done with the leeks")
    assert (kept[-1].action, kept[-1].crops) == ("set-out", ("leek",))
