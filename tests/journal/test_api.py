"""What plantings and jobs are built on: `keep`, undo by number, garden changes, versions, folds."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.effects import CorrectDecision, GardenChange, LogDecision, RedoDecision, UndoDecision
from gardenmate.garden.store import GardenFile
from gardenmate.journal.decision import KeptDecision
from gardenmate.journal.faults import JournalError
from gardenmate.journal.store import Derived, Journal

DAY = date(2027, 4, 18)


@pytest.fixture
def garden(path: Path) -> GardenFile:
    path.parent.mkdir()
    (path.parent / "garden.toml").write_text('# mine\n[frost]\nlast = "05-12"  # by the barn\n')
    return GardenFile(path.parent / "garden.toml")


@pytest.fixture
def kept(path: Path, garden: GardenFile) -> Journal:
    return Journal(path, garden=garden)


def entry(text: str, action: str = "note", **detail: str) -> LogDecision:
    return LogDecision(action, text, DAY, detail=detail)


def told(journal: Journal, changes: Sequence[GardenChange], said: str) -> KeptDecision | None:
    return next(iter(journal.keep(changes, said=said, today=DAY)), None)


def undo(journal: Journal, number: int | None = None) -> KeptDecision | None:
    return next(iter(journal.keep([UndoDecision(number)])), None)


def redo(journal: Journal, number: int | None = None) -> KeptDecision | None:
    return next(iter(journal.keep([RedoDecision(number)])), None)


def test_jobs_and_plans_are_entries_with_details(kept: Journal) -> None:
    put_off = entry("2 until Saturday", "postpone", job="sow-leek-2027", until="2027-04-24")
    (done,) = kept.keep([put_off])
    kept.keep([CorrectDecision(done.id, detail={"until": "2027-05-01", "job": ""}, action="drop")])
    kept.close()
    (found,) = Journal(kept.path).search(action="drop")
    assert found.detail == {"until": "2027-05-01"}
    undo(kept)
    assert kept.entry(done.id) == done


def test_undo_and_redo_by_number(kept: Journal) -> None:
    one, two, three = kept.keep([entry("one"), entry("two"), entry("three")])
    assert undo(kept, two.id) == two
    assert undo(kept, two.id) is None
    undo(kept)
    assert [d.text for d in kept.everything()] == ["one"]
    assert redo(kept, two.id) == two
    assert redo(kept, two.id) is None
    assert redo(kept) == three
    assert [d.id for d in kept.everything()] == [one.id, two.id, three.id]


def test_one_turn_is_kept_whole_or_not_at_all(kept: Journal, garden: GardenFile) -> None:
    before = garden.path.read_text()
    told = GardenChange("frost.last", "05-20")
    with pytest.raises(JournalError, match="longer"):
        kept.keep([entry("one"), told, entry("x" * 10_000_000)])
    assert list(kept.everything()) == []
    assert garden.path.read_text() == before


class TestGardenChanges:
    def test_what_one_thing_said_changed_is_taken_back_as_one(
        self, kept: Journal, garden: GardenFile
    ) -> None:
        before = garden.path.read_text()
        changes = [
            GardenChange("frost.last", "05-20"),
            GardenChange("gear.mat", 2),
            GardenChange("frost.risk", 0.2),
        ]
        done = told(kept, changes, "last frost May 20, two mats")
        assert done is not None
        assert [tuple(c) for c in done.changes] == [
            ("frost.last", "05-12", "05-20"),
            ("gear.mat", None, 2),
            ("frost.risk", None, 0.2),
        ]
        assert garden.garden.last_frost == (5, 20)
        assert undo(kept) == done
        assert garden.path.read_text() == before
        assert redo(kept) == done
        assert garden.garden.has("mat")
        assert undo(kept, done.id) == done
        assert garden.path.read_text() == before

    def test_a_section_and_a_list_come_back(self, kept: Journal, garden: GardenFile) -> None:
        told(kept, [GardenChange("plants.plum.planted", 2020)], "")
        told(kept, [GardenChange("crops.wanted", ["leek", "pea"])], "")
        told(kept, [GardenChange("plants", None), GardenChange("crops", None)], "")
        assert garden.garden.plants == ()
        undo(kept)
        assert [(p.id, p.planted_year) for p in garden.garden.plants] == [("plum", 2020)]
        assert garden.garden.wanted == ("leek", "pea")

    def test_they_are_no_lines_of_the_log(self, kept: Journal) -> None:
        kept.keep([entry("sowed leeks"), GardenChange("gear.lamp", 1)], said="I have a lamp", today=DAY)
        assert [d.text for d in kept.everything()] == ["sowed leeks"]
        assert [d.text for d in kept.latest()] == ["sowed leeks"]
        assert kept.search(text="lamp") == []
        assert [d.text for d in kept.search(action="garden")] == ["I have a lamp"]
        assert kept.check() == []

    def test_what_was_changed_by_hand_since_stays(self, path: Path, garden: GardenFile) -> None:
        warned: list[str] = []
        journal = Journal(path, garden=garden, warn=warned.append)
        told(journal, [GardenChange("frost.last", "05-20")], "")
        garden.path.write_text('[frost]\nlast = "06-01"\n')
        assert undo(journal) is not None
        assert garden.garden.last_frost == (6, 1)
        assert warned == ["frost.last in the garden file has been changed since; it stays as it is."]

    def test_nothing_is_kept_of_a_change_that_changes_nothing(self, kept: Journal) -> None:
        assert told(kept, [GardenChange("frost.last", "05-12")], "") is None
        assert kept.version().endswith("-0")

    def test_a_value_that_does_not_fit_changes_nothing(self, kept: Journal, garden: GardenFile) -> None:
        before = garden.path.read_text()
        with pytest.raises(ValueError, match="does not fit"):
            kept.keep([entry("one"), GardenChange("frost.last", "13-40")])
        assert garden.path.read_text() == before
        assert kept.version().endswith("-0")


class TestVersions:
    def test_each_write_is_a_new_version_and_reading_is_none(self, kept: Journal) -> None:
        seen = [kept.version()]
        for number in range(3):
            kept.keep([entry(str(number))])
            seen.append(kept.version())
        kept.keep([UndoDecision()])
        seen.append(kept.version())
        kept.latest()
        assert kept.version() == seen[-1] == Journal(kept.path).version()
        assert len(set(seen)) == 5

    def test_what_was_added_since(self, kept: Journal) -> None:
        start = kept.version()
        one, two = kept.keep([entry("one"), entry("two")])
        assert kept.added_since(start) is None or start == ""
        version = kept.version()
        assert kept.added_since(version) == []
        (three,) = kept.keep([entry("three")])
        (four,) = kept.keep([GardenChange("gear.mat", 1)], today=DAY)
        assert kept.added_since(version) == [three, four]
        kept.keep([CorrectDecision(three.id, text="3")])
        assert [d.text for d in kept.added_since(version) or ()] == ["3", four.text]
        undo(kept, three.id)
        assert kept.added_since(version) == [four]
        kept.keep([CorrectDecision(one.id, count=3)])
        undo(kept)  # a correction of an older one, taken back: it was changed all the same
        assert kept.added_since(version) is None
        assert kept.added_since("another-3") is None
        assert kept.added_since(f"{kept.version().rpartition('-')[0]}-999") is None
        assert two in kept.everything()

    def test_a_fold_is_kept_with_its_version(self, kept: Journal) -> None:
        kept.keep([entry("one")])
        version = kept.version()
        assert kept.derived("plantings") is None
        assert kept.put_derived("plantings", version, '{"beds": "ÄÖ"}')
        assert kept.version() == version
        assert Journal(kept.path).derived("plantings") == Derived(version, '{"beds": "ÄÖ"}')
        kept.keep([entry("two")])
        assert not kept.put_derived("plantings", version, "late")
        assert kept.derived("plantings") == Derived(version, '{"beds": "ÄÖ"}')
        assert kept.check() == []


def test_a_question_leaves_the_files_untouched(kept: Journal) -> None:
    kept.keep([entry("one")])
    kept.close()
    before = {p.name: p.read_bytes() for p in kept.path.parent.iterdir()}
    code = f"""
from pathlib import Path
from gardenmate.journal.store import Journal
with Journal(Path({str(kept.path)!r})) as journal:
    assert len(journal.latest()) == 1
    assert journal.would_undo() and journal.version() and not journal.derived("x")
"""
    subprocess.run([sys.executable, "-c", code], check=True, cwd=Path(__file__).parents[2])
    assert {p.name: p.read_bytes() for p in kept.path.parent.iterdir()} == before
