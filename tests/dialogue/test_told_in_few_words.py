"""Reports as they are typed at the end of a day: no verb, a place in two words, a deed left to the turn before.
Lines written for this file; what must be kept is what a gardener means by them (common practice)."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.answer import Answer
from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
MAY = date(2026, 5, 20)  # a Wednesday

Kept = tuple[str, str | None, float | None, str | None, date]


def evening(
    home: Path, today: date, *lines: str, place: str = "Duluth, Minnesota"
) -> tuple[Answer, list[Kept]]:
    """The last answer to ``lines``, and action, crop, count, place and day of all that was kept, oldest first."""
    garden = GardenFile(garden_path(home))
    journal = Journal(journal_path(home))
    garden.apply(GardenChange("place.name", place))
    talk = Conversation(facts=FACTS, clock=lambda: today, garden_file=garden, journal=journal)
    answer = [talk.ask(line) for line in lines][-1]
    found = sorted(journal.search(limit=100), key=lambda d: d.id)
    kept = [(d.action, d.crops[0] if d.crops else None, d.count, d.detail.get("where"), d.on) for d in found]
    journal.close()
    return answer, [k for k in kept if k[0] != "garden"]


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("18 kale in the top bed", [("have", "kale", 18, "top bed", MAY)]),
        ("sowed 30 beets, bottom patch", [("sow", "beet", 30, "bottom patch", MAY)]),
        ("4 rows of peas down the long strip", [("sow", "pea", 4, "long strip", MAY)]),
        ("a tray of lettuce on the bench", [("sow", "lettuce", 1, "bench", MAY)]),
        (
            "sowed beets and carrots, bed 3 and 4",
            [("sow", "beet", None, "bed 3", MAY), ("sow", "carrot", None, "bed 4", MAY)],
        ),
        ("sowed carrots in beds 2 and 3 today", [("sow", "carrot", None, "bed 2 and bed 3", MAY)]),
        (
            "sowed 3 rows of peas at home and one at camp",
            [("sow", "pea", 3, "home", MAY), ("sow", "pea", 1, "camp", MAY)],
        ),
        ("ten basil out on the 30th", [("decide", "basil", 10, None, date(2026, 5, 30))]),
        ("peas been up a week, 40", [("up", "pea", 40, None, date(2026, 5, 13))]),
        ("toms up, 12", [("up", "tomato", 12, None, MAY)]),
    ],
)
def test_a_deed_without_its_verb_or_with_a_place_in_two_words(
    tmp_path: Path, line: str, wanted: list[Kept]
) -> None:
    _, kept = evening(tmp_path, MAY, "we have a second garden at camp", line)
    assert kept == wanted


def test_what_else_is_said_of_a_crop_is_no_second_loss(tmp_path: Path) -> None:
    _, kept = evening(tmp_path, MAY, "lost 4 kale. the cabbages shrugged it off")
    assert [(action, crop, count) for action, crop, count, *_ in kept] == [
        ("lost", "kale", 4),
        ("note", "cabbage", None),
    ]


def test_rows_of_lows_count_no_plants(tmp_path: Path) -> None:
    _, kept = evening(tmp_path, MAY, "5, 2, -1, 3. planted 6 peppers in the bed")
    assert [(crop, count) for _, crop, count, *_ in kept] == [("pepper", 6)]


def test_the_bed_a_crop_left_is_that_bed(tmp_path: Path) -> None:
    _, kept = evening(tmp_path, MAY, "sowed peas in bed 6", "sowed 2 rows of carrots where the peas were")
    assert kept[-1][:4] == ("sow", "carrot", 2, "bed 6")


@pytest.mark.parametrize(
    ("lines", "wanted"),
    [
        (("sowed 40 leeks", "in the cold frame by the way"), ("sow", "leek", 40, "cold frame")),
        (("sowed 24 kale in tray 2", "6 kale are up", "19 now"), ("up", "kale", 19, "tray 2")),
        (("sowed beets in bed 4", "3 rows of chard in there too"), ("sow", "chard", 3, "bed 4")),
    ],
)
def test_what_a_report_leaves_unsaid_is_that_of_the_one_before(
    tmp_path: Path, lines: tuple[str, ...], wanted: tuple[str, str, float, str]
) -> None:
    _, kept = evening(tmp_path, MAY, *lines)
    action, crop, count, where, _ = kept[-1]
    assert (crop, where) == (wanted[1], wanted[3])
    assert action in (wanted[0], "note", "have")
    assert count == wanted[2] or action in ("note", "have")


@pytest.mark.parametrize(
    ("report", "topic"),
    [
        ("only 5 kale are up", "germination"),
        ("set out 12 peppers", "early-start"),
        ("pruned the apple", "pruning"),
        ("divided the rhubarb", "propagation"),
    ],
)
def test_a_short_question_behind_a_report_judges_the_deed(tmp_path: Path, report: str, topic: str) -> None:
    answer, _ = evening(tmp_path, MAY, report, "was that daft?")
    assert (answer.act, answer.question.topic) == ("ask", topic)


@pytest.mark.parametrize("place", ["Leeds, West Yorkshire", "Kirkwall, Orkney"])
def test_a_town_told_with_its_county_is_found(tmp_path: Path, place: str) -> None:
    answer, _ = evening(tmp_path, MAY, "too late for leeks?", place=place)
    assert answer.verdict is not None


def test_plants_told_to_be_there_are_a_batch_of_that_many(tmp_path: Path) -> None:
    answer, kept = evening(tmp_path, MAY, "ive 20 tomatoes under lights", "lost 3 tomatoes", "how many left?")
    assert kept[0][:3] == ("have", "tomato", 20)
    assert "17 tomatoes" in answer.headline


def test_plants_first_heard_of_when_potted_up_are_a_batch(tmp_path: Path) -> None:
    answer, _ = evening(tmp_path, MAY, "potted up 12 tomatoes", "how many tomatoes have I?")
    assert "12 tomatoes" in answer.headline
    shown, _ = evening(tmp_path / "b", MAY, "potted up 12 tomatoes", "what do you know about my garden?")
    said = " ".join(
        (shown.headline, *shown.details, *(" ".join(r) for r in (shown.table.rows if shown.table else ())))
    )
    assert "1 note; 1 batch growing" in said


def test_what_was_done_by_a_verb_unknown_begins_nothing(tmp_path: Path) -> None:
    _, kept = evening(tmp_path, MAY, "staked 12 tomatoes")
    assert [k[:3] for k in kept] == [("note", "tomato", 12)]


def test_a_plan_put_off_waits_from_its_own_day(tmp_path: Path) -> None:
    _, kept = evening(tmp_path, MAY, "beets on the 30th", "beets can slide a week")
    assert kept[-1][0] == "postpone"
    assert kept[-1][4] == date(2026, 6, 6)


def test_a_later_day_for_an_open_plan_moves_it(tmp_path: Path) -> None:
    _, kept = evening(tmp_path, MAY, "12 kale on the 23rd", "can't make it, kale on the 27th")
    assert [(k[0], k[1], k[4]) for k in kept] == [
        ("decide", "kale", date(2026, 5, 23)),
        ("postpone", "kale", date(2026, 5, 27)),
    ]


def test_the_plant_denied_names_the_entry_to_be_put_right(tmp_path: Path) -> None:
    _, kept = evening(
        tmp_path, MAY, "set out 8 kale", "set out 9 leeks", "slugs got 2 leeks", "sorry, kale not leeks"
    )
    assert [k[:3] for k in kept] == [("set-out", "kale", 8), ("set-out", "leek", 9), ("lost", "kale", 2)]


def test_a_variety_of_a_tree_is_no_place(tmp_path: Path) -> None:
    talked, _ = evening(tmp_path, MAY, "the apple is a Lodi", "where is my garden?")
    assert "Duluth" in talked.headline


def test_a_night_behind_reports_is_about_all_that_stands_outside(tmp_path: Path) -> None:
    answer, _ = evening(
        tmp_path, MAY, "set out 12 tomatoes", "sowed 30 leeks in tray 1", "planted 20 onions", "30 tonight"
    )
    assert {ref.id for ref in answer.question.crops} == {"tomato", "onion"}
    assert "tomatoes" in answer.headline


@pytest.mark.parametrize("line", ["wrapped it all in an old curtain", "netted them", "mulched it all"])
def test_a_verb_in_the_past_that_opens_a_line_is_a_report(tmp_path: Path, line: str) -> None:
    answer, kept = evening(tmp_path, MAY, "30 tonight, will the peppers live?", line)
    assert answer.act == "report"
    assert kept[0][1] == "pepper"


def test_a_question_is_no_report_though_it_opens_like_one(tmp_path: Path) -> None:
    answer, kept = evening(tmp_path, MAY, "when do I set out tomatoes?", "put them out when")
    assert answer.act == "ask"
    assert not kept


def test_a_plant_nobody_knows_is_named_in_mid_conversation(tmp_path: Path) -> None:
    answer, _ = evening(tmp_path, MAY, "too late for turnips?", "and skirret?")
    assert "skirret" in answer.headline
    assert answer.question.crops == ()


def test_that_on_the_list_is_the_day_of_the_answer_before(tmp_path: Path) -> None:
    _, kept = evening(
        tmp_path, MAY, "when do I start hardening off tomatoes to go out june 12?", "ok put that on the list"
    )
    assert kept[-1][0] == "remind"
    assert MAY < kept[-1][4] < date(2026, 6, 12)


def test_reminders_for_each_have_days_of_their_own(tmp_path: Path) -> None:
    _, kept = evening(tmp_path, date(2026, 3, 1), "when do I sow peppers and basil?", "remind me for each")
    assert [(k[0], k[1]) for k in kept] == [("remind", "pepper"), ("remind", "basil")]
    assert kept[0][4] != kept[1][4]


def test_sums_are_no_frost(tmp_path: Path) -> None:
    answer, _ = evening(tmp_path, MAY, "set out 4 peppers", "3*7?")
    assert answer.act == "talk"


def test_seed_not_up_is_waited_for(tmp_path: Path) -> None:
    answer, _ = evening(tmp_path, MAY, "sowed 20 leeks", "kale is up, 9", "leeks aren't, worried?")
    assert (answer.question.topic, [ref.id for ref in answer.question.crops]) == ("germination", ["leek"])


def test_tonight_behind_seed_is_a_frost_night(tmp_path: Path) -> None:
    answer, _ = evening(tmp_path, MAY, "set out 6 kale", "will pepper seed sprout at 60?", "30 tonight")
    assert answer.question.topic == "frost"


@pytest.mark.parametrize("line", ["33 on friday, what needs covering?", "frost warning, 29 on sunday"])
def test_a_low_with_its_day_is_a_temperature(tmp_path: Path, line: str) -> None:
    answer, kept = evening(tmp_path, MAY, "set out 6 tomatoes", line)
    assert [t.unit for t in answer.question.slots.temps] == ["F"]
    assert len(kept) == 1


def test_what_is_left_and_what_is_planned_are_looked_up(tmp_path: Path) -> None:
    lines = ("sowed 12 tomatoes in tray 1", "lost 2 tomatoes", "which tomatoes are left?")
    left, _ = evening(tmp_path / "a", MAY, *lines)
    assert "10 tomatoes" in left.headline
    planned, _ = evening(tmp_path / "b", MAY, "12 kale on the 29th", "what have I got planned?")
    assert "kale" in planned.headline


def test_a_low_beside_a_question_plans_nothing(tmp_path: Path) -> None:
    answer, kept = evening(tmp_path, MAY, "33 on Saturday with the tomatoes out, cover?")
    assert answer.question.topic == "frost"
    assert not kept


def test_a_number_no_garden_counts_is_asked_about(tmp_path: Path) -> None:
    answer, kept = evening(tmp_path, MAY, "sowed 1000000000000000000000000 beets")
    assert not kept
    assert "100,000" in answer.headline


def test_a_start_behind_a_night_of_frost_is_a_start(tmp_path: Path) -> None:
    answer, _ = evening(tmp_path, MAY, "30 tonight, will the peas live?", "would you start the runner beans")
    assert answer.question.topic in ("early-start", "late-start", "when-start")


def test_now_behind_when_asks_whether_it_is_early(tmp_path: Path) -> None:
    answer, _ = evening(tmp_path, date(2026, 3, 14), "cucumbers when", "would I be daft to do them now?")
    assert (answer.question.topic, answer.verdict) == ("early-start", "no")


def test_more_plants_behind_a_report_are_reported(tmp_path: Path) -> None:
    _, kept = evening(tmp_path, MAY, "sowed 24 kale", "12 leeks", "and chard, patchy")
    assert [(k[0], k[1], k[2]) for k in kept[:2]] == [("sow", "kale", 24), ("sow", "leek", 12)]
    assert len(kept) == 3


def test_what_is_agreed_to_for_a_day_is_planned(tmp_path: Path) -> None:
    answer, kept = evening(tmp_path, MAY, "too late for beets?", "ok sow beets and chard sunday")
    assert answer.act == "plan"
    assert {crop for _, crop, *_ in kept} == {"beet"}
    assert kept[0][4] == date(2026, 5, 24)
