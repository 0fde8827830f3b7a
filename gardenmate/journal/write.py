"""The effects of one turn, carried out in the transaction that keeps them."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from datetime import date

from gardenmate.core.answer import Answer
from gardenmate.core.effects import (
    Changed,
    CorrectDecision,
    Effect,
    GardenChange,
    LogDecision,
    RedoDecision,
    UndoDecision,
)
from gardenmate.core.errors import GardenmateError
from gardenmate.garden.store import GardenFile
from gardenmate.journal import rows
from gardenmate.journal.decision import KeptDecision, changed_by, content_of, garden_content
from gardenmate.records import NamedTuple, replace

RESTS_ON = "rests_on"
"""Key of `LogDecision.detail`: "previous" ties the decision to the answer before it."""


class JournalTurn(NamedTuple):
    """What is kept with the effects of one turn; see `Journal.keep`."""

    place: str
    answer: Answer | None
    knowledge_version: str
    said: str
    today: date
    written_at: str


class GardenInTurn:
    """The garden file inside a transaction of the journal: what was changed can be put back."""

    def __init__(self, file: GardenFile | None, warn: Callable[[str], None]) -> None:
        self._file = file
        self._warn = warn
        self._done: list[tuple[Changed, ...]] = []

    def change(self, changes: Sequence[GardenChange]) -> tuple[Changed, ...]:
        if self._file is None:
            raise GardenmateError("No garden file is in use, so the garden cannot be changed.")
        done = self._file.change(changes)
        self._done.append(done)
        return done

    def turn(self, changes: Sequence[Changed], *, back: bool) -> None:
        """Take changes back, or make them again. A key set to something else since stays as it is."""
        if self._file is None:
            raise GardenmateError("No garden file is in use, so the garden cannot be changed.")
        steps = [c._replace(old=c.new, new=c.old) for c in reversed(changes)] if back else list(changes)
        current = self._file.values([step.key for step in steps])
        fit = [step for step, value in zip(steps, current, strict=True) if value == step.old]
        for step in steps:
            if step not in fit:
                self._warn(f"{step.key} in the garden file has been changed since; it stays as it is.")
        self.change([GardenChange(step.key, step.new) for step in fit])

    def put_back(self) -> None:
        """Undo on the disk what this transaction changed there: it failed."""
        if self._file is not None:
            for done in reversed(self._done):
                self._file.change([GardenChange(c.key, c.old) for c in reversed(done)])
        self._done.clear()


def write_turn(
    db: sqlite3.Connection,
    effects: Sequence[Effect],
    turn: JournalTurn,
    garden: GardenInTurn,
) -> tuple[tuple[KeptDecision, ...], list[int]]:
    """Carry out effects. Returns the decisions as they stand (an undone one as it stood), and their
    numbers."""
    told = [e for e in effects if isinstance(e, GardenChange)]
    done = [_change_garden(db, told, turn, garden)] if told else []
    done += [_carry_out(db, e, turn, garden) for e in effects if not isinstance(e, GardenChange)]
    kept = tuple(each for each in done if each is not None)
    return kept, [each.id for each in kept]


def _change_garden(
    db: sqlite3.Connection, told: Sequence[GardenChange], turn: JournalTurn, garden: GardenInTurn
) -> KeptDecision | None:
    changed = [c for c in garden.change(told) if c.old != c.new]
    if not changed:
        return None
    said = turn.said or ", ".join(f"{c.key} = {c.new}" for c in changed)
    number = rows.add_record(db, garden_content(changed, text=said, on=turn.today), turn.written_at)
    return rows.standing(db, number)


def _carry_out(
    db: sqlite3.Connection,
    effect: LogDecision | CorrectDecision | UndoDecision | RedoDecision,
    turn: JournalTurn,
    garden: GardenInTurn,
) -> KeptDecision | None:
    match effect:
        case LogDecision():
            detail = dict(effect.detail)
            basis = turn.answer if detail.pop(RESTS_ON, None) == "previous" else None
            content = content_of(
                replace(effect, detail=detail),
                place=turn.place,
                answer=basis,
                knowledge_version=turn.knowledge_version,
            )
            return rows.standing(db, rows.add_record(db, content, turn.written_at))
        case CorrectDecision():
            if rows.standing(db, effect.decision_id) is None:
                return None
            rows.add_correction(db, effect.decision_id, changed_by(effect), turn.written_at)
            return rows.standing(db, effect.decision_id)
        case UndoDecision():
            return _undo(db, effect.decision_id, turn, garden)
        case RedoDecision():
            return _redo(db, effect.decision_id, turn, garden)


def _undo(
    db: sqlite3.Connection, number: int | None, turn: JournalTurn, garden: GardenInTurn
) -> KeptDecision | None:
    if number is not None:
        entry = about = number
    else:
        latest = rows.changes(db, 1)
        if not latest:
            return None
        entry, _, about = latest[0]
    before = rows.standing(db, about)
    if before is None:
        return None
    if before.changes:
        garden.turn(before.changes, back=True)
    rows.add_undo(db, entry, turn.written_at)
    return before


def _redo(
    db: sqlite3.Connection, number: int | None, turn: JournalTurn, garden: GardenInTurn
) -> KeptDecision | None:
    entry = rows.last_undone(db, number)
    if entry is None:
        return None
    rows.add_redo(db, entry, turn.written_at)
    after = rows.standing(db, rows.record_of(db, entry))
    if after is not None and after.changes:
        garden.turn(after.changes, back=False)
    return after
