"""What a deed told in few words was: "done", "did the neeps", "spuds in", "set them out"."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from gardenmate.core.answer import JobRef
from gardenmate.core.question import CropRef, Deed, Request
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.deeds import NOTE, deed_of_topic
from gardenmate.plantings.batches import INDOORS, Batch
from gardenmate.plantings.jobs import Jobs, Reminder
from gardenmate.records import replace
from gardenmate.topics.agenda.item import crop_words, week_of
from gardenmate.topics.agenda.items import items
from gardenmate.topics.season.set_out import set_out_window

DONE = "done"
_COVER = "cover"
_PIECES = frozenset({"seed-potatoes", "cloves", "sets", "crowns", "slips", "bare-root"})
_UNDER_COVER = ("tray", "cell", "pot", "module", "mat", "sill", "light", "window", "propagator", "shelf")
_WHOLE = frozenset({"set-out", "pot-up", "harden", "prick-out"})
_COMING_DAYS = 45  # days before its window a job is near; design value


def settled(
    deed: Deed, world: World, batches: Sequence[Batch], jobs: Jobs, *, named_here: bool = True
) -> tuple[Deed, ...]:
    """The deed with what it leaves unsaid: what "done" was, sown or set out, how many, where. Several where it
    settles a job about several crops. () when it cannot be told what was done. ``named_here``: its crop stands in the
    line itself, and is not left over from the turns before."""
    deed = replace(deed, where=_left_by(deed.where, batches))
    deed = deed if named_here else _as_planned(deed, jobs, world)
    found = _done(deed, world, batches, jobs) if deed.action == DONE else (deed,)
    each = tuple(one for d in found for one in _apart(d, batches))
    return tuple(_filled(one, world, batches) for one in each)


def _as_planned(deed: Deed, jobs: Jobs, world: World) -> Deed:
    """A deed that names no crop, of as many as were planned for these days: it is that plan's crop ("six in")."""
    since = world.today - timedelta(days=_LATE_DAYS)
    fits = [r for r in jobs.reminders if since <= r.on <= world.today and r.crops and r.count == deed.count]
    if deed.count is None or deed.job is not None or len(fits) != 1:
        return deed
    return replace(deed, crops=tuple(named(c, world) for c in fits[0].crops))


_LATE_DAYS = 3  # how long after its day a plan is still what a deed without a crop carries out (design value)


def _left_by(where: str | None, batches: Sequence[Batch]) -> str | None:
    """The bed a crop has left, for one told by that crop: "potato bed"; ``where`` itself where none is known."""
    if where is None or not where.endswith(" bed"):
        return where
    crop = where.removesuffix(" bed").replace(" ", "-")
    stood = [b for b in batches if b.crop == crop and b.where]
    return max(stood, key=lambda b: b.since).where if stood else where


def _apart(deed: Deed, batches: Sequence[Batch]) -> tuple[Deed, ...]:
    """A deed about several crops as one about each, where plants of them are known to stand by."""
    known = {b.crop for b in batches if b.alive}
    if len(deed.crops) < 2 or deed.action not in (*_WHOLE, "plant") or not {r.id for r in deed.crops} & known:
        return (deed,)
    return tuple(replace(deed, crops=(ref,), text="") for ref in deed.crops)


def job_deed(job: str, world: World) -> str:
    """What a job is filed under once it is done."""
    row = world.facts.table("work")["job"].get(job)
    return NOTE if row is None else str(row["deed"])


def job_meant(deed: Deed, world: World) -> JobRef | None:
    """The job of the list a plan or a deed is about: by its number, else the first about its crop."""
    if deed.job is not None:
        listed = world.listed or _this_week(world)
        return next((j for j in listed if j.number == deed.job), None)
    crops = {ref.id for ref in deed.crops}
    return next((j for j in world.listed if j.crop and j.crop in crops), None)


def _this_week(world: World) -> tuple[JobRef, ...]:
    """The jobs of this week as they would be shown now, where none have been."""
    found = [i for i in items(world, week_of(world.today)) if i.status != "missed"]
    return tuple(
        JobRef(n, i.job, i.crop, i.decision_id, i.reminder, i.do) for n, i in enumerate(found, start=1)
    )


# -- "done" -------------------------------------------------------------------------------------------
def _done(deed: Deed, world: World, batches: Sequence[Batch], jobs: Jobs) -> tuple[Deed, ...]:
    job = job_meant(deed, world)
    if deed.job is not None:
        return () if job is None else (_of_job(deed, job, world),)
    planned = _planned(deed, jobs)
    if planned is not None and planned.of:
        crops = deed.crops or tuple(CropRef(c) for c in planned.crops)
        return (replace(deed, action=planned.of, crops=crops, count=deed.count or planned.count),)
    if job is not None:
        return (_of_job(deed, job, world),)
    advised = _advised(world.previous.question, world) if world.previous is not None else None
    if advised == _COVER and deed.crops and not _asked_of(deed, world):
        advised = None  # "done with the leeks" behind a night of the kale: no cover was spoken of for them
    raised = {b.crop for b in batches if b.stage in INDOORS}
    if advised in _WHOLE and _covered(deed) and not raised & {ref.id for ref in deed.crops}:
        advised = "plant"  # nothing of it stands by to be moved: it was begun
    crops = deed.crops or (world.previous.question.crops if world.previous is not None else ())
    if advised is not None:
        count = deed.count
        if count is None and world.previous is not None:
            count = world.previous.question.ask.count
        if advised == "harden" and deed.where is not None and "frame" not in deed.where:
            advised = "set-out"  # "done, bed by the shed": they went straight out
        way = world.previous.question.ask.method if world.previous is not None else None
        where = deed.where or (way if advised == "sow" and way in ("indoors", "outdoors") else None)
        return (replace(deed, action=advised, crops=crops, count=count, where=where),)
    if world.listed and not deed.crops:
        return (_of_job(deed, world.listed[0], world),)
    if planned is not None:
        return (replace(deed, action=_usual(deed, world), crops=deed.crops),)
    return (replace(deed, action=_usual(deed, world)),) if deed.crops else ()


def _of_job(deed: Deed, job: JobRef, world: World) -> Deed:
    crops = deed.crops or ((named(job.crop, world),) if job.crop else ())
    action = job_deed(job.job, world)
    text = job.do[:1].lower() + job.do[1:] if action == NOTE else ""
    return replace(deed, action=action, crops=crops, text=deed.text if deed.crops else text)


def named(crop: str, world: World) -> CropRef:
    """A crop by its id, called as its jobs call it: "peppers"."""
    known = world.facts.crop_for(CropRef(crop))
    return CropRef(crop, None, crop_words(known) if known is not None else "")


def _planned(deed: Deed, jobs: Jobs) -> Reminder | None:
    """The open plan a deed carries out: the newest about its crop; of none named, the newest of all."""
    named = {ref.id for ref in deed.crops}
    fits = [r for r in jobs.reminders if r.of and (not named or named & set(r.crops))]
    return max(fits, key=lambda r: r.entry, default=None)


def _advised(question: Request, world: World) -> str | None:
    if question.topic in ("agenda", "log", "garden"):
        return None
    return deed_of_topic(question.topic, question.ask.method, question.cue("asks"), world.facts)


def _usual(deed: Deed, world: World) -> str:
    """What is done to a crop when nothing more is told: a woody plant is pruned, a crop begun."""
    woody = {name.split("-")[0] for name in world.facts.ids("woody")} | set(world.facts.ids("woody"))
    return "prune" if any(ref.id in woody for ref in deed.crops) else "plant"


# -- sown, or set out ---------------------------------------------------------------------------------
def _filled(deed: Deed, world: World, batches: Sequence[Batch]) -> Deed:
    crop = world.facts.crop_for(deed.crops[0]) if deed.crops else None
    mine = [b for b in batches if deed.crops and b.crop == deed.crops[0].id and b.alive]
    if deed.variety is not None:
        mine = [b for b in mine if (b.variety or "").casefold() == deed.variety.casefold()] or mine
    if deed.action == "plant" and crop is not None:
        deed = replace(deed, action=_how_begun(deed, crop, mine, world))
    if (
        deed.action in ("set-out", "plant")
        and "frame" in (deed.where or "")
        and any(b.stage in INDOORS for b in mine)
    ):
        deed = replace(deed, action="harden")
    if deed.action == "up":
        waiting = [b for b in mine if b.stage == "sown"] or [b for b in mine if b.stage == "up"]
        return replace(deed, where=deed.where or (waiting[0].where if len(waiting) == 1 else None))
    inside = [b for b in mine if b.stage in INDOORS]
    if deed.action in _WHOLE and deed.count is None and len({b.began for b in inside}) == 1:
        counts = [b.count for b in inside if b.unit in ("", "plants", "cells", "pieces")]
        if counts and None not in counts:
            return replace(deed, count=sum(c for c in counts if c is not None))
    return deed


def _asked_of(deed: Deed, world: World) -> bool:
    """True when the question before was about a plant of the deed, or about none."""
    asked = {ref.id for ref in world.previous.question.crops} if world.previous is not None else set()
    return not asked or bool(asked & {ref.id for ref in deed.crops})


def _covered(deed: Deed) -> bool:
    return _under_cover(deed.where)


def _under_cover(where: str | None) -> bool:
    return where is not None and any(word in where for word in _UNDER_COVER)


def _how_begun(deed: Deed, crop: Crop, mine: Sequence[Batch], world: World) -> str:
    """ "Planted", "in": set out where plants of it wait indoors or it is grown from pieces, else sown; a crop raised
    indoors is sown until its plants can stand outside."""
    if _covered(deed):
        return "sow"
    stands_by = [
        b for b in mine if b.stage in INDOORS and (crop.methods[0] != "direct" or _under_cover(b.where))
    ]
    if stands_by or _PIECES & set(crop.methods):
        return "set-out"
    if crop.methods[0] == "direct" or deed.unit in ("rows", "m", "ft", "seed", "packets"):
        return "sow"
    window = set_out_window(crop, world)
    if window is None:
        return "set-out" if "bed" in (deed.where or "") else "sow"
    soon = window.earliest - timedelta(days=_COMING_DAYS)
    return "sow" if world.today < window.earliest and world.today >= soon - timedelta(days=120) else "set-out"
