"""The batches as they stand now: kept beside the journal, and only what is new folded in."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import date
from itertools import groupby
from typing import Any, Protocol, runtime_checkable

from gardenmate.core.world import Decision, JournalView
from gardenmate.plantings.batches import PLANS, Batch, action_of, fold
from gardenmate.plantings.own_days import OwnSpan, merged, spans_of
from gardenmate.records import NamedTuple, asdict

NAME = "plantings-2"
SPANS = "own-days-1"
"""What batches and spans are kept under; another number when their form changes."""
_ALL = 2**31 - 1  # more entries than any journal has
_HALF = 6  # months
_DAYS = frozenset({"begun", "since", "up", "potted", "out", "picked"})


class KeptFold(Protocol):
    """What was kept beside the journal: a text, and the version of the journal it was worked out of."""

    @property
    def version(self) -> str:
        """The version of the journal."""
        ...

    @property
    def text(self) -> str:
        """The text kept."""
        ...


@runtime_checkable
class Remembers(Protocol):
    """A journal that tells its version and keeps what was worked out of it."""

    def version(self) -> str:
        """What tells this state of the journal from any other."""
        ...

    def added_since(self, version: str) -> Sequence[Decision] | None:
        """Entries added since; None when older ones changed."""
        ...

    def derived(self, name: str) -> KeptFold | None:
        """What was kept under a name."""
        ...

    def put_derived(self, name: str, version: str, text: str) -> bool:
        """Keep a text under a name while the journal is at ``version``."""
        ...


class State(NamedTuple):
    """The batches after the entries up to the day ``newest``, and the spans every batch has told, old ones too."""

    newest: date = date.min
    batches: tuple[Batch, ...] = ()
    spans: tuple[OwnSpan, ...] = ()


def batches_of(journal: JournalView | None) -> tuple[Batch, ...]:
    """Every batch the journal tells of; () without a journal."""
    if isinstance(journal, Remembers):
        kept = journal.derived(NAME)
        before = _read(kept.text) if kept is not None and kept.version == journal.version() else None
        if before is not None:
            return before.batches
    return _state_of(journal).batches


def spans_told(journal: JournalView | None) -> tuple[OwnSpan, ...]:
    """How long everything took that the journal tells of, in whatever year; () without a journal."""
    if isinstance(journal, Remembers):
        kept = journal.derived(SPANS)
        spans = _read_spans(kept.text) if kept is not None and kept.version == journal.version() else None
        if spans is not None:
            return spans
    return _state_of(journal).spans


def _state_of(journal: JournalView | None) -> State:
    """The batches and spans the journal tells of, with what was added since they were kept."""
    if journal is None:
        return State()
    if not isinstance(journal, Remembers):
        return _folded(_in_order(journal.search(limit=_ALL)), State())
    version = journal.version()
    kept, told = journal.derived(NAME), journal.derived(SPANS)
    if kept is not None and told is not None and kept.version == told.version:
        before, spans = _read(kept.text), _read_spans(told.text)
        added = journal.added_since(kept.version)
        if (
            before is not None
            and spans is not None
            and added is not None
            and all(entry.on >= before.newest for entry in _deeds(added))
        ):
            return _keep(journal, version, _in_order(added), before._replace(spans=spans))
    return _keep(journal, version, _in_order(journal.search(limit=_ALL)), State())


def _keep(journal: Remembers, version: str, entries: Sequence[Decision], before: State) -> State:
    found = _folded(entries, before)
    if version:
        journal.put_derived(NAME, version, _write(found))
        journal.put_derived(SPANS, version, json.dumps([_row(s._asdict()) for s in found.spans]))
    return found


def _folded(entries: Sequence[Decision], before: State) -> State:
    """The state after ``entries``, folded half a year at a time: a fold lets go of old batches, whose spans stay."""
    found = before
    for _, some in groupby(entries, key=lambda entry: (entry.on.year, entry.on.month > _HALF)):
        batches = fold(some, found.batches)
        found = State(found.newest, batches, merged(found.spans, spans_of(batches)))
    newest = max((e.on for e in _deeds(entries)), default=before.newest)
    return found._replace(newest=max(newest, before.newest))


def _deeds(entries: Sequence[Decision]) -> list[Decision]:
    """Entries of things done: the day of a plan lies ahead and moves no batch."""
    return [entry for entry in entries if action_of(entry) not in PLANS]


def _in_order(entries: Sequence[Decision]) -> list[Decision]:
    return sorted(entries, key=lambda entry: (entry.on, entry.id))


def _write(state: State) -> str:
    told = {"newest": state.newest.isoformat(), "batches": [_row(asdict(b)) for b in state.batches]}
    return json.dumps(told, separators=(",", ":"))


def _row(values: Mapping[str, Any]) -> dict[str, Any]:
    return {
        k: v.isoformat() if isinstance(v, date) else v
        for k, v in values.items()
        if v not in (None, "", (), False)
    }


def _read(text: str) -> State | None:
    """The batches of a kept text; None when it is none of ours."""
    try:
        found = json.loads(text)
        batches = tuple(_batch(row) for row in found["batches"])
        return State(date.fromisoformat(found["newest"]), batches)
    except (ValueError, KeyError, TypeError):
        return None


def _read_spans(text: str) -> tuple[OwnSpan, ...] | None:
    """The spans of a kept text; None when it is none of ours."""
    try:
        return tuple(OwnSpan(**_dated(row)) for row in json.loads(text))
    except (ValueError, KeyError, TypeError):
        return None


def _dated(row: dict[str, Any]) -> dict[str, Any]:
    return {k: date.fromisoformat(v) if k in _DAYS else v for k, v in row.items()}


def _batch(row: dict[str, Any]) -> Batch:
    return Batch(**{**_dated(row), "entries": tuple(row.get("entries", ()))})
