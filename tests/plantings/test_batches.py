"""Batches folded from the journal: split, merged, moved on, lost. The cases are common practice at a bench."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.core.effects import CorrectDecision, LogDecision, UndoDecision
from gardenmate.core.world import Decision
from gardenmate.journal.store import Journal
from gardenmate.plantings.batches import GONE, Batch, fold
from gardenmate.plantings.current import batches_of
from gardenmate.plantings.jobs import fold_jobs

SOWN = date(2027, 3, 15)


def told(
    *entries: tuple[int, str, str, float | None] | tuple[int, str, str, float | None, Mapping[str, str]],
) -> list[Decision]:
    """Entries as (days after sowing, action, crop, count, detail)."""
    return [
        Decision(n, SOWN + timedelta(days=e[0]), e[1], e[1], (e[2],), e[3], detail=e[4] if len(e) > 4 else {})
        for n, e in enumerate(entries, start=1)
    ]


def shown(batches: tuple[Batch, ...]) -> list[tuple[str, float | None, str, str | None]]:
    return [(b.crop, b.count, b.stage, b.where) for b in batches]


def test_a_sowing_moves_on_as_a_whole() -> None:
    found = fold(
        told(
            (0, "sow", "tomato", 18, {"where": "tray 1"}),
            (8, "up", "tomato", None),
            (30, "pot-up", "tomato", None),
            (55, "harden", "tomato", None, {"where": "frame"}),
            (65, "set-out", "tomato", None, {"where": "bed 2"}),
            (120, "harvest", "tomato", 3, {"unit": "lb"}),
        )
    )
    assert shown(found) == [("tomato", 18, "picking", "bed 2")]
    assert found[0].up == SOWN + timedelta(days=8)
    assert found[0].entries == (1, 2, 3, 4, 5, 6)


def test_part_of_a_batch_is_a_batch_of_its_own_and_comes_back() -> None:
    entries = told(
        (0, "sow", "tomato", 18, {"where": "tray 1"}),
        (30, "pot-up", "tomato", 12, {"where": "4 inch"}),
        (33, "pot-up", "tomato", 6, {"where": "4 inch"}),
    )
    assert shown(fold(entries[:2])) == [
        ("tomato", 6, "sown", "tray 1"),
        ("tomato", 12, "potted on", "4 inch"),
    ]
    assert shown(fold(entries)) == [("tomato", 18, "potted on", "4 inch")]


def test_what_came_up_is_what_there_is() -> None:
    found = fold(told((0, "sow", "pepper", 18), (11, "up", "pepper", 6), (17, "up", "pepper", 15)))
    assert shown(found) == [("pepper", 15, "up", None)]
    assert found[0].started == 18


def test_two_sowings_come_up_one_after_the_other_and_the_lot_is_told_apart() -> None:
    entries = told(
        (0, "sow", "tomato", 24),
        (7, "sow", "tomato", 12),
        (10, "up", "tomato", 20),
        (21, "pot-up", "tomato", 12, {"which": "2"}),
    )
    assert shown(fold(entries)) == [("tomato", 20, "up", None), ("tomato", 12, "potted on", None)]


def test_losses_are_taken_off_and_a_batch_without_a_count_is_lost_whole() -> None:
    found = fold(
        told(
            (0, "sow", "kale", 6),
            (0, "sow", "basil", None),
            (20, "lost", "kale", 4),
            (21, "lost", "basil", None),
        )
    )
    assert shown(found) == [("kale", 2, "sown", None), ("basil", None, "lost", None)]


def test_plants_bought_are_set_out_and_seed_bought_is_no_batch() -> None:
    found = fold(
        told(
            (0, "buy", "leek", 12),
            (0, "buy", "carrot", 2, {"unit": "packets"}),
            (1, "set-out", "leek", None, {"where": "bed by the shed"}),
        )
    )
    assert shown(found) == [("leek", 12, "out", "bed by the shed")]


def test_planting_what_was_never_sown_begins_a_batch() -> None:
    assert shown(fold(told((0, "set-out", "garlic", 80, {"where": "bed 5"})))) == [
        ("garlic", 80, "out", "bed 5")
    ]


def test_the_variety_tells_which() -> None:
    found = fold(
        told(
            (0, "sow", "tomato", 6, {"variety": "Sungold"}),
            (0, "sow", "tomato", 12, {"variety": "Ailsa Craig"}),
            (30, "pot-up", "tomato", None, {"variety": "Sungold"}),
        )
    )
    assert [(b.variety, b.stage) for b in found] == [("Sungold", "potted on"), ("Ailsa Craig", "sown")]


def test_picking_all_ends_a_batch() -> None:
    found = fold(told((0, "set-out", "garlic", 78), (290, "harvest", "garlic", 78)))
    assert shown(found) == [("garlic", 0.0 if found[0].count == 0 else 78, "over", None)]


def test_a_place_told_later_is_where_it_stands() -> None:
    found = fold(told((0, "sow", "leek", 60), (0, "note", "leek", None, {"where": "cold frame"})))
    assert shown(found) == [("leek", 60, "sown", "cold frame")]


_ACTIONS = st.sampled_from(
    ["sow", "up", "pot-up", "harden", "set-out", "harvest", "lost", "buy", "note", "plant"]
)


@given(
    st.lists(
        st.tuples(
            st.integers(0, 200), _ACTIONS, st.sampled_from(["leek", "pea"]), st.none() | st.integers(1, 40)
        )
    )
)
def test_any_story_folds_and_no_plant_is_counted_twice(
    story: list[tuple[int, str, str, float | None]],
) -> None:
    entries = told(*sorted(story, key=lambda e: e[0]))
    begun = sum(
        e.count or 0
        for e in entries
        if e.action in ("sow", "buy", "set-out", "plant", "up", "pot-up", "harden")
    )
    found = fold(entries)
    counted = sum(b.count or 0 for b in found if b.stage not in GONE)
    assert counted <= begun
    assert len({b.id for b in found}) <= len(entries)


def test_the_fold_is_kept_and_continued_and_made_anew_when_an_older_entry_changes(tmp_path: Path) -> None:
    with Journal(tmp_path / "journal.db") as journal:

        def log(action: str, day: int, count: float | None) -> int:
            effect = LogDecision(action, action, SOWN + timedelta(days=day), ("tomato",), count)
            kept = journal.apply(effect, place="", answer=None, knowledge_version="")
            assert kept is not None
            return kept.id

        first = log("sow", 0, 18)
        assert shown(batches_of(journal)) == [("tomato", 18, "sown", None)]
        log("up", 9, 15)
        assert shown(batches_of(journal)) == [("tomato", 15, "up", None)]
        journal.apply(CorrectDecision(first, count=24), place="", answer=None, knowledge_version="")
        assert batches_of(journal)[0].started == 24
        journal.apply(UndoDecision(first), place="", answer=None, knowledge_version="")
        assert batches_of(journal) == ()
        assert batches_of(journal) == fold(sorted(journal.search(), key=lambda d: (d.on, d.id)))


@pytest.mark.parametrize(("later", "waits"), [(None, True), ("return", False)])
def test_a_job_put_off_waits_until_its_day_and_comes_back(later: str | None, waits: bool) -> None:
    entries = [Decision(1, date(2027, 4, 24), "postpone", "put off", ("leek",), detail={"job": "harden"})]
    if later is not None:
        entries.append(Decision(2, date(2027, 4, 19), later, later, ("leek",)))
    jobs = fold_jobs(entries)
    assert (jobs.waiting("harden", "leek", date(2027, 4, 20)) is not None) == waits
    assert jobs.waiting("harden", "leek", date(2027, 4, 24)) is None
    assert jobs.waiting("harden", "pea", date(2027, 4, 20)) is None


def test_a_plan_is_open_until_it_is_done_or_dropped() -> None:
    plan = Decision(
        1, date(2027, 4, 22), "decide", "plan to sow 12 peppers", ("pepper",), 12, detail={"of": "sow"}
    )
    assert [r.entry for r in fold_jobs([plan]).reminders] == [1]
    for after in ("sow", "drop"):
        assert fold_jobs([plan, Decision(2, date(2027, 4, 22), after, after, ("pepper",))]).reminders == ()
    other = Decision(2, date(2027, 4, 22), "sow", "sowed leeks", ("leek",))
    assert [r.entry for r in fold_jobs([plan, other]).reminders] == [1]
