"""Batches: what was sown, bought and planted, and where it has got to; a pure fold of the journal.

A batch is some plants of one crop (and variety) that stand together and are at one stage. A deed moves the batches
it fits: all of one, or part of it ("potted up 12 of the 18"), which then is a batch of its own. Batches of one sowing
that come together again, at one stage in one place, are one batch again.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import Literal

from gardenmate.core.world import Decision
from gardenmate.records import dataclass, replace

Stage = Literal["sown", "up", "potted on", "hardening", "out", "picking", "over", "lost"]
STAGES: tuple[Stage, ...] = ("sown", "up", "potted on", "hardening", "out", "picking", "over", "lost")
GONE = frozenset({"over", "lost"})
INDOORS = frozenset({"sown", "up", "potted on", "hardening"})
KEPT_DAYS = 760
"""A batch begun longer ago than this before the newest entry is history: the year before can be told of to the end of
the next. Design value."""
YOUNGEST_DAYS = 2  # nothing comes up sooner (cress: two days, common practice)
# Older words of the journal for the same deeds.
OLDER = {"emerge": "up", "skip": "drop", "plan": "decide"}
PLANS = frozenset({"postpone", "drop", "return", "remind", "decide"})
_REACHED: dict[str, Stage] = {
    "up": "up", "prick-out": "potted on", "pot-up": "potted on", "harden": "hardening", "set-out": "out",
    "plant": "out", "harvest": "picking",
}  # fmt: skip
_PLAIN_UNITS = frozenset({"", "plants", "cells", "pieces"})
_WEIGHTS = frozenset({"lb", "kg", "oz", "jars"})
SEED_UNITS = frozenset({"packets", "seed"})


@dataclass(frozen=True, slots=True)
class Batch:
    """Plants of one crop that stand together at one stage.

    ``id`` is the number of the entry that made the batch, ``began`` that of its sowing, buying or planting, on the day
    ``begun``. ``count`` are the plants now (None: not told), ``started`` how many there were at first, ``unit`` what
    they are counted in ("" plants). ``where`` is the bed or tray in the grower's words, ``garden`` the name of another
    garden ("" the main one). ``since`` is the day of its stage; ``up`` the day it came up, None when not told.
    ``potted``, ``out`` and ``picked`` are the days it was first potted up, set out or planted, and first picked from,
    ``sown_in`` where it was sown. ``entries`` are the numbers of the entries that made it what it is; ``text`` the
    words of the first.
    """

    id: int
    crop: str
    began: int
    begun: date
    stage: Stage
    since: date
    count: float | None = None
    started: float | None = None
    unit: str = ""
    where: str | None = None
    variety: str | None = None
    kind: str | None = None
    garden: str = ""
    up: date | None = None
    potted: date | None = None
    out: date | None = None
    picked: date | None = None
    sown_in: str | None = None
    bought: bool = False
    temp_c: float | None = None
    entries: tuple[int, ...] = ()
    text: str = ""

    @property
    def alive(self) -> bool:
        """True while there is something to look after."""
        return self.stage not in GONE

    @property
    def sown(self) -> bool:
        """True when it was raised from seed sown by the grower."""
        return not self.bought


def fold(entries: Iterable[Decision], batches: Sequence[Batch] = ()) -> tuple[Batch, ...]:
    """The batches after ``entries`` (by day and number), from those there were before."""
    found = list(batches)
    newest = date.min
    for entry in entries:
        if action_of(entry) in PLANS:
            continue
        newest = max(newest, entry.on)
        for crop in entry.crops:
            _take(found, entry, crop)
    oldest = newest - timedelta(days=KEPT_DAYS) if newest > date.min + timedelta(days=KEPT_DAYS) else date.min
    return tuple(b for b in found if b.begun >= oldest or b.alive)


def action_of(entry: Decision) -> str:
    """The deed of an entry, in the words of today."""
    return OLDER.get(entry.action, entry.action)


def _take(found: list[Batch], entry: Decision, crop: str) -> None:
    action = action_of(entry)
    detail = entry.detail
    if action == "sow":
        found.append(_begun(entry, crop, "sown"))
    elif action == "buy":
        if detail.get("unit") not in SEED_UNITS and detail.get("seed") is None:
            found.append(_begun(entry, crop, "up", bought=True))
    elif action == "lost":
        _lose(found, entry, crop)
    elif action in _REACHED:
        _reach(found, entry, crop, _REACHED[action])
    elif action == "have":
        _count(found, entry, crop)
    elif detail.get("where") and not _move(found, entry, crop) and entry.count is not None:
        found.append(_begun(entry, crop, "up", bought=True))  # "24 tomatoes under lights": plants there are


def _count(found: list[Batch], entry: Decision, crop: str) -> None:
    """Plants told to be there: those of the only batch they can be, counted again, else a batch nobody spoke of."""
    mine = meant(found, entry, crop)
    if not mine:
        found.append(_begun(entry, crop, "up", bought=True))
    elif len(mine) == 1 and mine[0].unit in _PLAIN_UNITS and entry.detail.get("unit", "") in _PLAIN_UNITS:
        where = entry.detail.get("where") or mine[0].where
        _put(
            found,
            mine[0],
            replace(mine[0], count=entry.count, where=where, entries=(*mine[0].entries, entry.id)),
        )


def _begun(entry: Decision, crop: str, stage: Stage, *, bought: bool = False) -> Batch:
    detail = entry.detail
    return Batch(
        id=entry.id,
        crop=crop,
        began=entry.id,
        begun=entry.on,
        stage=stage,
        since=entry.on,
        count=entry.count,
        started=entry.count,
        unit=detail.get("unit", ""),
        where=detail.get("where"),
        variety=detail.get("variety"),
        kind=detail.get("kind"),
        garden=detail.get("garden", ""),
        out=entry.on if stage == "out" else None,
        sown_in=detail.get("where") if stage == "sown" else None,
        bought=bought,
        temp_c=entry.temp_c,
        entries=(entry.id,),
        text=entry.text,
    )


# -- which batches a deed is about ----------------------------------------------------------------------
def meant(found: Sequence[Batch], entry: Decision, crop: str) -> list[Batch]:
    """The living batches of a crop an entry can be about, oldest first: those of the variety, garden and lot it
    names, and of the place where a place is named and something stands there."""
    detail = entry.detail
    mine = [b for b in found if b.crop == crop and b.alive and b.begun <= entry.on and b.began != entry.id]
    for name in ("variety", "garden"):
        said = detail.get(name)
        if said:
            mine = [b for b in mine if (getattr(b, name) or "").casefold() == said.casefold()] or (
                mine if name == "variety" and not any(b.variety for b in mine) else []
            )
    which = int(detail["which"]) if detail.get("which", "").isdigit() else None
    sowings = list(dict.fromkeys(b.began for b in sorted(mine, key=lambda b: (b.begun, b.began))))
    if which is not None and which <= len(sowings):
        mine = [b for b in mine if b.began == sowings[which - 1]]
    return sorted(mine, key=lambda b: (b.begun, b.id))


def _there(mine: list[Batch], entry: Decision) -> list[Batch]:
    """Of several batches those that stand where the entry says, if any do."""
    where = (entry.detail.get("where") or "").casefold()
    return [b for b in mine if b.where and where and b.where.casefold() == where] or mine


def _reach(found: list[Batch], entry: Decision, crop: str, stage: Stage) -> None:
    mine = meant(found, entry, crop)
    if stage == "up":
        _come_up(found, entry, _there(mine, entry))
        return
    if stage == "picking":
        _pick(found, entry, _there(mine, entry))
        return
    order = STAGES.index(stage)
    behind = [b for b in mine if STAGES.index(b.stage) < order]
    if not behind:
        if stage == "out" or not mine:  # the first that is heard of them
            found.append(_begun(entry, crop, stage))
        return
    furthest = sorted(behind, key=lambda b: (-STAGES.index(b.stage), b.begun, b.id))
    if entry.count is None or entry.detail.get("unit", "") not in ("", "plants", "cells", "pieces"):
        ready = [b for b in furthest if b.begun == furthest[0].begun] if stage != "out" else furthest
        for batch in ready:
            _put(found, batch, _moved(batch, entry, stage))
        return
    left = entry.count
    for batch in furthest:
        if left <= 0:
            break
        left -= _split(found, batch, entry, stage, left)


def _moved(batch: Batch, entry: Decision, stage: Stage) -> Batch:
    """The whole batch at its new stage, in its new place."""
    return replace(
        batch,
        stage=stage,
        since=entry.on,
        where=entry.detail.get("where") or (batch.where if stage in ("up", "hardening") else None),
        variety=batch.variety or entry.detail.get("variety"),
        up=batch.up or (entry.on if stage == "up" else None),
        potted=batch.potted or (entry.on if stage == "potted on" else None),
        out=batch.out or (entry.on if stage == "out" else None),
        entries=(*batch.entries, entry.id),
    )


def _split(found: list[Batch], batch: Batch, entry: Decision, stage: Stage, wanted: float) -> float:
    """Move up to ``wanted`` plants of a batch; returns how many moved."""
    if batch.count is None or batch.unit not in ("", "plants", "cells", "pieces") or wanted >= batch.count:
        moved = _moved(batch, entry, stage)
        taken = (
            wanted
            if batch.count is None or batch.unit not in ("", "plants", "cells", "pieces")
            else batch.count
        )
        _put(found, batch, replace(moved, count=taken, unit=""))
        return taken
    part = replace(_moved(batch, entry, stage), id=entry.id, count=wanted)
    _put(found, batch, replace(batch, count=batch.count - wanted, entries=(*batch.entries, entry.id)))
    found.append(part)
    _merge(found, part)
    return wanted


def _put(found: list[Batch], old: Batch, new: Batch) -> None:
    found[found.index(old)] = new
    _merge(found, new)


def _merge(found: list[Batch], new: Batch) -> None:
    """Parts of one sowing at one stage in one place are one batch."""
    for other in found:
        same = (
            other is not new
            and other.began == new.began
            and other.crop == new.crop
            and other.stage == new.stage
        )
        if same and other.where == new.where and other.variety == new.variety and other.stage not in GONE:
            both = None if None in (other.count, new.count) else (other.count or 0.0) + (new.count or 0.0)
            entries = tuple(sorted({*other.entries, *new.entries}))
            first, second = (other, new) if other.id < new.id else (new, other)
            found[found.index(first)] = replace(first, count=both, entries=entries)
            found.remove(second)
            return


def _come_up(found: list[Batch], entry: Decision, mine: list[Batch]) -> None:
    waiting = [b for b in mine if b.stage == "sown" and (entry.on - b.begun).days >= YOUNGEST_DAYS]
    waiting = waiting or [b for b in mine if b.stage == "sown"]
    if waiting:
        day = waiting[0].begun
        for batch in [b for b in waiting if b.begun == day]:
            new = replace(_moved(batch, entry, "up"), where=batch.where or entry.detail.get("where"))
            if entry.count is not None and batch is waiting[0] and new.unit in _PLAIN_UNITS:
                new = replace(new, count=entry.count, unit="")  # told once: it is not counted for each
            _put(found, batch, new)
        return
    up = [b for b in mine if b.stage == "up"]
    if up and entry.count is not None:  # counted again: "15 now"
        _put(found, up[-1], replace(up[-1], count=entry.count, entries=(*up[-1].entries, entry.id)))


def _pick(found: list[Batch], entry: Decision, mine: list[Batch]) -> None:
    outside = [b for b in mine if b.stage in ("out", "picking")] or mine
    if not outside:
        return
    batch = outside[0]
    counted = entry.count is not None and entry.detail.get("unit", "") not in _WEIGHTS
    whole = counted and batch.count is not None and (entry.count or 0.0) >= batch.count
    last = entry.detail.get("all") is not None or whole
    left = batch.count
    if counted and left is not None and not last and entry.detail.get("unit", "") in ("", "plants", "pieces"):
        left = left - (entry.count or 0.0)
    stage: Stage = "over" if last else "picking"
    since = batch.since if batch.stage == stage else entry.on
    _put(
        found,
        batch,
        replace(
            batch,
            stage=stage,
            since=since,
            count=left,
            picked=batch.picked or entry.on,
            entries=(*batch.entries, entry.id),
        ),
    )


def _lose(found: list[Batch], entry: Decision, crop: str) -> None:
    mine = _there(meant(found, entry, crop), entry)
    if not mine:
        return
    if entry.count is None:
        for batch in mine:
            if entry.detail.get("part") is None:
                gone = replace(batch, stage="lost", since=entry.on, entries=(*batch.entries, entry.id))
                found[found.index(batch)] = gone
        return
    left = entry.count
    for batch in sorted(mine, key=lambda b: (-max(b.entries, default=0), b.id)):
        if left <= 0 or batch.count is None:
            break
        taken = min(left, batch.count)
        left -= taken
        rest = batch.count - taken
        if rest > 0:
            new = replace(batch, count=rest, entries=(*batch.entries, entry.id))
        else:
            new = replace(batch, count=0.0, stage="lost", since=entry.on, entries=(*batch.entries, entry.id))
        found[found.index(batch)] = new


def _move(found: list[Batch], entry: Decision, crop: str) -> bool:
    """A place told of a crop without another deed: where the batch touched last now stands. False: there is none."""
    mine = meant(found, entry, crop)
    if mine:
        batch = max(mine, key=lambda b: max(b.entries, default=0))
        _put(found, batch, replace(batch, where=entry.detail["where"], entries=(*batch.entries, entry.id)))
    return bool(mine)
