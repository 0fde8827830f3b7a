"""Reports and plans: what was done or decided is kept, and told back in one line."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.core.answer import Answer
from gardenmate.core.effects import Effect, LogDecision
from gardenmate.core.errors import DamagedFileError
from gardenmate.core.question import CropRef, Deed, Part
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.knowledge.deeds import FROST, NOTE, deed_named
from gardenmate.plantings.batches import Batch
from gardenmate.plantings.current import batches_of
from gardenmate.plantings.jobs import Jobs, Reminder, jobs_of
from gardenmate.records import replace
from gardenmate.topics.agenda.items import items
from gardenmate.topics.log.frost_told import frost_detail, frost_doubt, frost_effect, frost_words
from gardenmate.topics.log.said import RESTS_ON_PREVIOUS, detail_of, numbers_of
from gardenmate.topics.log.settle import job_meant, named, settled
from gardenmate.topics.shared.kept import logged
from gardenmate.topics.shared.plant_names import plant_names

MOST_COUNTED = 100_000
"""No household sows, plants or picks more of one thing at once (design value)."""
_PLANS = frozenset({"decide", "postpone", "remind", "drop", "return"})
_AHEAD_DAYS = 200  # days: a job or sowing further off is another season's; design value
_SHORT = 90  # signs of an entry said back
_BEHIND = frozenset({"up", "mat-off"})  # told behind the plants: "peas came up"
_PLAIN_UNITS = frozenset({"", "plants", "pieces"})


def answer(part: Part, world: World) -> Answer:
    """Keep what a part reports or plans; one line back."""
    try:
        batches, jobs = batches_of(world.journal), jobs_of(world.journal, world.today)
    except DamagedFileError:  # the entry itself sets the damaged file aside, and says so
        batches, jobs = (), Jobs()
    wrong = part.request.first("impossible-day")
    if wrong is not None:
        return _plain(part, f"There is no {wrong.value}, so I have noted nothing: which day was it?")
    if any(deed.count is not None and deed.count > MOST_COUNTED for deed in part.deeds):
        return _plain(
            part, f"That is more than {MOST_COUNTED:,} of one thing, so I have noted nothing: how many?"
        )
    effects: list[LogDecision] = []
    for deed in (one for told in part.deeds for one in _each(told)):
        if deed.action in _PLANS:
            problem = _plan(deed, part, world, jobs, effects)
        else:
            problem = _report(deed, part, world, batches, jobs, effects)
        if problem:
            return _plain(part, problem, tuple(effects))
    return Answer(
        question=part.request,
        verdict=None,
        headline=_headline(effects, part.request.crops, world),
        numbers=tuple(n for e in effects for n in numbers_of(e)),
        details=(*_details(effects, world), *_about_frosts(part, world)),
        effects=tuple(effects),
    )


def _about_frosts(part: Part, world: World) -> tuple[str, ...]:
    """What the frosts of a report do to the garden's dates."""
    return tuple(
        line for d in part.deeds if d.action == FROST for line in frost_effect(d, part.request, world)
    )


def _plain(part: Part, headline: str, effects: tuple[Effect, ...] = ()) -> Answer:
    return Answer(question=part.request, verdict=None, headline=headline, effects=effects)


# -- reports ------------------------------------------------------------------------------------------
def _report(
    deed: Deed, part: Part, world: World, batches: Sequence[Batch], jobs: Jobs, effects: list[LogDecision]
) -> str:
    """Add the entries of one deed; what to say instead where it cannot be kept."""
    here = {t.value for t in part.request.all("crop")}
    found = settled(deed, world, batches, jobs, named_here=any(ref.id in here for ref in deed.crops))
    if not found:
        if deed.job is not None:
            return f"There is no job {deed.job} on the list, so nothing is changed. Say 'jobs' to see it."
        return "What did you do? Say it with the plant, for example 'sowed 48 peppers today'."
    for one in found:
        whole = one.text
        if not whole and len(part.deeds) > 1:
            whole = _things(one, world)
        whole = f"done: {whole}" if deed.action == "done" and whole else whole
        if one.action == NOTE and not whole.strip(" .,!?"):
            return (
                "What shall I note? Tell it with the entry, for example 'note that I sowed 48 peppers today'."
            )
        on = one.on if one.on is not None else world.today
        if one.action == FROST and (doubt := frost_doubt(one, part.request, world)):
            return doubt
        detail = frost_detail(part.request, world) if one.action == FROST else _detail(one, part, world)
        if deed.action == "done":
            job = job_meant(deed, world)
            detail |= {"job": job.job} if job is not None else {}
            detail |= {"reminder": str(job.reminder)} if job is not None and job.reminder is not None else {}
            detail |= _basis(one, world, always=deed.job is None and not deed.crops)
        text = one.text if one.text and deed.action != "done" else _told(one, world)
        if one.action == NOTE:
            text = whole.strip()
        if one.action == FROST:
            text = frost_words(part.request)
        effects.append(
            LogDecision(
                action=one.action,
                text=text,
                on=on,
                crops=tuple(ref.id for ref in one.crops),
                count=one.count,
                detail=detail,
            )
        )
    return ""


def _detail(deed: Deed, part: Part, world: World) -> dict[str, str]:
    """What else was told with a deed."""
    found = detail_of(part.request, part.deeds[0].count) if len(part.deeds) == 1 else {}
    kinds = ", ".join(dict.fromkeys(ref.kind for ref in deed.crops if ref.kind))
    told = {
        "kind": kinds or found.get("kind", ""),
        "variety": deed.variety or "",
        "unit": deed.unit if deed.unit not in _PLAIN_UNITS else "",
        "where": deed.where or "",
        "garden": _garden_named(deed, world),
        "days_to_maturity": str(deed.days) if deed.days is not None else "",
        "which": str(deed.which) if deed.which is not None else "",
        "of": deed.of or "",
    }
    return {**found, **{name: value for name, value in told.items() if value}} | _basis(deed, world)


def _garden_named(deed: Deed, world: World) -> str:
    where = (deed.where or "").casefold()
    return where if where in {name.casefold() for name in world.garden.gardens} else ""


def _basis(deed: Deed, world: World, *, always: bool = False) -> dict[str, str]:
    """Ties the entry to the answer before it when that spoke of the same crop."""
    previous = world.previous
    if previous is None or previous.question.topic in ("log", "garden"):
        return {}
    asked = {ref.id for ref in previous.question.crops}
    return RESTS_ON_PREVIOUS if always or asked & {ref.id for ref in deed.crops} else {}


def _told(deed: Deed, world: World) -> str:
    """A deed in plain words: "sowed 12 tomatoes (Glacier) in tray 1"."""
    done, things = deed_named(deed.action, world.facts).done, _things(deed, world)
    return (f"{things} {done}" if deed.action in _BEHIND else f"{done} {things}").strip()


def _things(deed: Deed, world: World) -> str:
    names = plant_names(deed.crops, world.facts)
    count = "" if deed.count is None else f"{deed.count:g}"
    if deed.unit and deed.unit not in _PLAIN_UNITS and count:
        count = f"{count} {deed.unit if deed.count != 1 else deed.unit.removesuffix('s')} of"
    variety = f"({deed.variety})" if deed.variety else ""
    where = _in_place(deed.where)
    return " ".join(p for p in (count, names, variety, where) if p)


def _in_place(where: str | None) -> str:
    if not where or where in ("indoors", "outdoors"):
        return where or ""
    on = ("mat", "sill", "shelf", "windowsill", "rack", "pad", "light", "lights")
    lead = (
        "at"
        if where in ("home", "camp")
        else "on"
        if where.split()[0] in on or where.split()[-1] in on
        else "in"
    )
    return f"{lead} {where}"


def _each(deed: Deed) -> tuple[Deed, ...]:
    """A reminder about several crops without a day as one for each: each has a day of its own."""
    if deed.action != "remind" or deed.on is not None or len(deed.crops) < 2:
        return (deed,)
    return tuple(replace(deed, crops=(ref,)) for ref in deed.crops)


# -- plans --------------------------------------------------------------------------------------------
def _plan(deed: Deed, part: Part, world: World, jobs: Jobs, effects: list[LogDecision]) -> str:
    job = job_meant(deed, world)
    if deed.job is not None and job is None:
        return f"There is no job {deed.job} on the list, so nothing is changed. Say 'jobs' to see it."
    crops = deed.crops or ((named(job.crop, world),) if job is not None and job.crop else ())
    on = deed.on
    detail = _detail(deed, part, world)
    if job is not None and (deed.job is not None or deed.action in ("postpone", "drop", "return")):
        detail |= {"job": job.job} if deed.job is not None else {}
        detail |= {"reminder": str(job.reminder)} if job.reminder is not None else {}
    waits = _open_plan(crops, jobs)
    if deed.action == "decide" and waits is not None and _moves_only(deed, waits):
        deed = replace(
            deed, action="postpone"
        )  # a plan of the crop is open, and a later day is all that is told
    if deed.action == "postpone":
        if deed.later is not None and waits is not None:
            on = max(waits.on, world.today) + timedelta(days=deed.later)
        on = on if on is not None and on > world.today else world.today + timedelta(days=7)
    if deed.action == "remind" and on is None:
        on = _season_day(crops, world)
        if on is None:
            return "On which day shall I remind you?"
    advised = _advised_day(deed, part, world)
    if advised is not None:
        deed, on = replace(deed, action="remind", text=""), advised
    if on is None and deed.action == "decide":
        detail["open"] = "yes"
    text = _plan_text(replace(deed, crops=crops), on, job.do if job is not None else "", world)
    count = deed.count if deed.job is None else None
    if count is None and deed.action == "decide" and deed.of is not None:
        count = _wanted_before(crops, world)
    effects.append(
        LogDecision(deed.action, text, on or world.today, tuple(ref.id for ref in crops), count, detail)
    )
    return ""


def _advised_day(deed: Deed, part: Part, world: World) -> date | None:
    """The day the answer before gives, for "put that on the list": the first day of it that is still to come."""
    wished = part.command is not None and part.command.verb == "decide" and part.command.target.newest
    if not wished or deed.on is not None or deed.count is not None or world.previous is None:
        return None
    days = [n.value for n in world.previous.numbers if isinstance(n.value, date) and n.value >= world.today]
    return days[0] if days else None


def _open_plan(crops: Sequence[CropRef], jobs: Jobs) -> Reminder | None:
    """The only open plan of just these crops, None where there is none or several."""
    named = {ref.id for ref in crops}
    found = [r for r in jobs.reminders if not r.own and set(r.crops) == named]
    return found[0] if named and len(found) == 1 else None


def _moves_only(deed: Deed, plan: Reminder) -> bool:
    """True for a plan that tells another, later day for one that is open, and nothing else."""
    same = deed.of in (None, plan.of) and deed.count in (None, plan.count)
    return same and deed.on is not None and deed.on > plan.on


def _wanted_before(crops: Sequence[CropRef], world: World) -> float | None:
    """How many of a crop an earlier plan wanted."""
    if world.journal is None or len(crops) != 1:
        return None
    since = world.today - timedelta(days=_AHEAD_DAYS)
    plans = world.journal.search(crop=crops[0].id, action="decide", since=since)
    return next((d.count for d in plans if d.count is not None), None)


def _season_day(crops: Sequence[CropRef], world: World) -> date | None:
    """The day the crop's next job is good from, for a reminder without a day."""
    named = {ref.id for ref in crops}
    if not named:
        return None
    wanted = replace(world, garden=replace(world.garden, wanted=tuple(named)))
    ahead = [i for i in items(wanted, world.today + timedelta(days=_AHEAD_DAYS)) if i.crop in named]
    days = [max(world.today, i.good_from or i.opens) for i in ahead if i.status != "missed"]
    return min(days, default=None)


def _plan_text(deed: Deed, on: date | None, do: str, world: World) -> str:
    """A plan in plain words; the grower's own where they are short."""
    names = plant_names(deed.crops, world.facts)
    what = f"{do[:1].lower()}{do[1:]}" if do and deed.job is not None else names
    if deed.action == "drop":
        return f"not doing '{what}'" if deed.job is not None else f"decided to skip {what or 'all jobs'}"
    if deed.action == "postpone":
        return f"put off '{what}'" if deed.job is not None else f"put off {what or 'all jobs'}"
    if deed.action == "return":
        return f"{what or 'all jobs'} back on the list"
    if deed.action == "remind":
        return f"reminder: {deed.text}" if deed.text else f"reminder: {names}"
    if deed.of is not None:
        verb = str(world.facts.table("deeds").get(deed.of, {}).get("to", deed.of.replace("-", " ")))
        return f"plan to {verb} {_things(deed, world)}".strip()
    return deed.text or f"plan: {_things(deed, world)}".strip()


# -- one line back ------------------------------------------------------------------------------------
def _headline(effects: Sequence[LogDecision], refs: Sequence[CropRef], world: World) -> str:
    days = {e.on for e in effects if e.detail.get("open") is None}
    one_day = len(days) == 1 and not any(e.detail.get("open") for e in effects)
    said = "; ".join(_short(e, refs, world) + ("" if one_day else _when(e, world)) for e in effects)
    return logged(f"{said}{_when(effects[0], world) if one_day else ''}", world)


def _when(effect: LogDecision, world: World) -> str:
    if effect.detail.get("open") is not None:
        return ""
    if effect.action in ("postpone",):
        return f" until {show_date(effect.on, world.today)}"
    return f", {show_date(effect.on, world.today)}"


def _typed(effect: LogDecision, refs: Sequence[CropRef]) -> tuple[CropRef, ...]:
    """The crops of an entry in the grower's own words."""
    named = {ref.id: ref for ref in refs}
    return tuple(named.get(crop, CropRef(crop)) for crop in effect.crops)


def _short(effect: LogDecision, refs: Sequence[CropRef], world: World) -> str:
    if len(effect.text) <= _SHORT:
        return effect.text
    if effect.action != NOTE and effect.crops:
        unit = effect.detail.get("unit", "")
        return _told(Deed(effect.action, "", _typed(effect, refs), count=effect.count, unit=unit), world)
    return effect.text[: _SHORT - 20].rsplit(" ", 1)[0] + " ..."


def _details(effects: Sequence[LogDecision], world: World) -> tuple[str, ...]:
    found = [f"In your words: {e.text}" for e in effects if len(e.text) > _SHORT]
    if world.keeps and any(e.action == "decide" and not e.detail.get("of") for e in effects):
        found.append("I've noted it as a plan, not as done.")
    return tuple(dict.fromkeys(found))
