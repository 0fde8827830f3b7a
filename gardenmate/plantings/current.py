"""The batches as they stand now: kept beside the journal, and only what is new folded in."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from datetime import date
from typing import Any, Protocol, runtime_checkable

from gardenmate.core.world import Decision, JournalView
from gardenmate.plantings.batches import PLANS, Batch, action_of, fold

NAME = "plantings-1"
"""What the batches are kept under; another number when their form changes."""
_ALL = 2**31 - 1


class Kept(Protocol):
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

    def derived(self, name: str) -> Kept | None:
        """What was kept under a name."""
        ...

    def put_derived(self, name: str, version: str, text: str) -> bool:
        """Keep a text under a name while the journal is at ``version``."""
        ...


def batches_of(journal: JournalView | None) -> tuple[Batch, ...]:
    """Every batch the journal tells of; () without a journal."""
    if journal is None:
        return ()
    if not isinstance(journal, Remembers):
        return fold(_in_order(journal.search(limit=_ALL)))
    version = journal.version()
    kept = journal.derived(NAME)
    before = _read(kept.text) if kept is not None else None
    if kept is not None and before is not None:
        if kept.version == version:
            return before[1]
        added = journal.added_since(kept.version)
        if added is not None and all(entry.on >= before[0] for entry in _deeds(added)):
            return _keep(journal, version, _in_order(added), before)
    return _keep(journal, version, _in_order(journal.search(limit=_ALL)), (date.min, ()))


def _keep(
    journal: Remembers, version: str, entries: Sequence[Decision], before: tuple[date, tuple[Batch, ...]]
) -> tuple[Batch, ...]:
    found = fold(entries, before[1])
    newest = max((e.on for e in _deeds(entries)), default=before[0])
    if version:
        journal.put_derived(NAME, version, _write(max(newest, before[0]), found))
    return found


def _deeds(entries: Sequence[Decision]) -> list[Decision]:
    """Entries of things done: the day of a plan lies ahead and moves no batch."""
    return [entry for entry in entries if action_of(entry) not in PLANS]


def _in_order(entries: Sequence[Decision]) -> list[Decision]:
    return sorted(entries, key=lambda entry: (entry.on, entry.id))


def _write(newest: date, batches: Sequence[Batch]) -> str:
    rows = [
        {
            k: v.isoformat() if isinstance(v, date) else v
            for k, v in asdict(b).items()
            if v not in (None, "", ())
        }
        for b in batches
    ]
    return json.dumps({"newest": newest.isoformat(), "batches": rows}, separators=(",", ":"))


def _read(text: str) -> tuple[date, tuple[Batch, ...]] | None:
    """The batches of a kept text; None when it is none of ours."""
    try:
        found = json.loads(text)
        return date.fromisoformat(found["newest"]), tuple(_batch(row) for row in found["batches"])
    except (ValueError, KeyError, TypeError):
        return None


def _batch(row: dict[str, Any]) -> Batch:
    for name in ("begun", "since", "up"):
        if name in row:
            row[name] = date.fromisoformat(row[name])
    row["entries"] = tuple(row.get("entries", ()))
    return Batch(**row)
