"""One job: what it is, when it may be done, and how it stands today."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any, Literal

from gardenmate.core.question import CropRef
from gardenmate.core.world import Decision, World
from gardenmate.knowledge.crops import Crop
from gardenmate.records import dataclass
from gardenmate.topics.shared.raising import Named, spoken_name
from gardenmate.topics.shared.subjects import plants

Status = Literal["frost", "overdue", "closing", "late", "due", "open", "coming", "missed"]
Place = Literal["indoors", "outdoors", "bench"]


@dataclass(frozen=True, slots=True)
class Item:
    """One job.

    ``job`` is its key in knowledge/work.toml, ``crop`` the contract id, ``name`` what to call it, ``do`` the
    job in words. It may be done from ``opens``, best until ``best_by``, at all until ``closes`` (None: no
    hard end). ``status``: frost (tonight), overdue (a batch is waiting), closing (days left), late (past its
    best, still possible for a while), due, open (may wait), coming (opens within the time asked), missed
    (closed lately: ``cost`` is what that means and ``way_out`` what still works). ``weight`` orders: what a
    miss costs, shared over the days left.
    ``decision_id`` is the logged sowing it follows from; from ``good_from`` the good part of its time runs.
    """

    job: str
    crop: str
    name: str
    do: str
    opens: date
    best_by: date
    closes: date | None
    status: Status
    miss: float
    cost: str
    way_out: str
    minutes: int
    place: Place
    stopped_by: tuple[str, ...]
    heavy: bool
    weight: float
    decision_id: int | None = None
    good_from: date | None = None
    variety: str | None = None
    reminder: int | None = None

    def days_left(self, today: date) -> int | None:
        """Days from ``today`` until it can no longer be done, None without a hard end."""
        return None if self.closes is None else (self.closes - today).days


def wanted_crops(world: World) -> tuple[tuple[Crop, ...], bool]:
    """The crops the grower wants, and whether that was said; else the usual ones of a household."""
    facts = world.facts
    if world.garden.wanted:
        named = [_crop_named(name, world) for name in world.garden.wanted]
        return tuple(c for c in named if c is not None), True
    return tuple(facts.crop(i) for i in facts.examples("household")), False


def _crop_named(name: str, world: World) -> Crop | None:
    """A wanted crop by file id, contract id or any name a grower may have written."""
    if name in world.facts.crop_ids:
        return world.facts.crop(name)
    entry = world.facts.names.get(name.lower())
    return world.facts.crop_for(entry.ref if entry is not None else CropRef(name))


def make_item(
    world: World,
    job: str,
    crop: str,
    name: str,
    *,
    opens: date,
    best_by: date,
    closes: date | None,
    until: date,
    count: float | None = None,
    way_out: str = "",
    decision_id: int | None = None,
    urgent: bool = False,
    good_from: date | None = None,
    variety: str | None = None,
) -> Item | None:
    """An item of a job, with its status for today; None when it is not due yet or missed too long ago.

    ``urgent``: past its best it counts as overdue rather than as closing (a batch that waits).
    """
    table = world.facts.table("work")
    facts, order = table["job"][job], table["order"]
    status = status_on(world.today, opens, best_by, closes, until, order, urgent=urgent)
    if status is None:
        return None
    missed = status == "missed"
    words = facts.get("missed") if missed else facts["do"]
    if words is None:
        words = facts["do"]
    weight = weight_of(float(facts["miss"]), status, world.today, best_by, closes, order)
    if status == "open" and not (good_from is not None and good_from <= world.today <= best_by):
        weight *= float(order["early_weight"])
    each = facts.get("minutes_each", 0.0) * max(0.0, (count or 0.0) - 12.0)
    return Item(
        job=job,
        crop=crop,
        name=name,
        do=words.format(crop=name, crops=name),
        opens=opens,
        best_by=best_by,
        closes=closes,
        status=status,
        miss=float(facts["miss"]),
        cost=facts["cost"],
        way_out=way_out,
        minutes=round(facts["minutes"] + each),
        place=facts["place"],
        stopped_by=tuple(facts.get("stopped_by", ())),
        heavy=bool(facts.get("heavy", False)),
        weight=weight,
        decision_id=decision_id,
        good_from=good_from,
        variety=variety,
    )


def status_on(
    today: date,
    opens: date,
    best_by: date,
    closes: date | None,
    until: date,
    order: Mapping[str, Any],
    *,
    urgent: bool = False,
) -> Status | None:
    """Where a job stands: None before it concerns anybody, or once its miss has been told long enough."""
    if closes is not None and today > closes:
        return "missed" if (today - closes).days <= order["missed_days"] else None
    if today < opens:
        return "coming" if opens <= until else None
    if today > best_by and urgent:
        return "overdue"
    if closes is not None and (closes - today).days <= order["closing_days"]:
        return "closing"
    if today > best_by:
        return "late" if (today - best_by).days <= order["long_past_days"] else "open"
    return "due" if (best_by - today).days <= order["due_days"] else "open"


def weight_of(
    miss: float, status: Status, today: date, best_by: date, closes: date | None, order: Mapping[str, Any]
) -> float:
    """What a miss costs, shared over the days left; what is late does not wait for its last day."""
    end = closes if closes is not None and today > best_by else best_by
    days = max(0, (end - today).days)
    if closes is not None and today <= best_by:
        # What may still follow for weeks after its best presses less than what closes with it.
        days = round(0.5 * (days + (closes - today).days))
    if status == "late":
        days = min(days, int(order["late_days"]))
    if status == "overdue":
        days = 0
    weight = miss / (days + float(order["days_slack"]))
    if status == "overdue":
        weight *= float(order["overdue_weight"])
    return weight


def crop_words(crop: Crop) -> str:
    """The crop as its jobs name it: "peppers", "kale", "onion sets"."""
    return plants(Named(crop, crop.base, spoken_name(crop))).word


def decisions_on(world: World, crop: str, since: date) -> list[Decision]:
    """Logged decisions on a crop since a day, oldest first; none without a journal."""
    if world.journal is None:
        return []
    return sorted(world.journal.search(crop=crop, since=since), key=lambda d: (d.on, d.id))


def week_of(today: date) -> date:
    """The last day of the seven that start today."""
    return today + timedelta(days=6)
