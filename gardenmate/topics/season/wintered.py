"""Kinds sown in summer that stand the winter and are cut in spring: their own dates, by their own name."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from gardenmate.core.answer import Activity, Number, Verdict, Window
from gardenmate.core.question import CropRef
from gardenmate.knowledge.crop_uses import WinteredKind
from gardenmate.knowledge.crops import Crop
from gardenmate.topics.season.case import Case, Reply
from gardenmate.topics.season.site_year import YEAR
from gardenmate.topics.season.windows import AUTUMN_EQUINOX

SLACK_DAYS = 14  # days past its weeks a planting is only late; design value


def wintered_kind(crop: Crop, refs: Iterable[CropRef]) -> WinteredKind | None:
    """The kind named that is wintered ("spring cabbage"); None for other kinds."""
    typed = [ref.typed.strip().lower() for ref in refs if ref.id == crop.base]
    return next((r for r in crop.wintered_kinds if any(n in t for n in r.names for t in typed)), None)


def wintered(case: Case, row: WinteredKind, *, begun: date | None = None, topic: str = "when-start") -> Reply:
    """Whether the kind may be sown or planted out on the day, and when it is cut; asked for the harvest, only
    when what stands in the ground, begun on that day, is cut."""
    name, plants = row.names[0], case.method == "setout"
    if not case.year.mild:
        return Reply(
            case=case,
            verdict="no",
            headline=f"No: {name} has to survive the winter outdoors, and {case.site.label} is too cold.",
            assumptions=case.site.notes,
            do="-",
            sources=row.sources,
        )
    if topic == "harvest-date":
        return _cut(case, row, begun)
    origin = case.year.origin(case.day)
    if case.day > _day(origin, row.out_weeks[1]) + timedelta(days=SLACK_DAYS):
        origin += timedelta(days=YEAR)
    sow, out, cut = (
        (_day(origin, weeks[0]), _day(origin, weeks[1]))
        for weeks in (row.sow_weeks, row.out_weeks, row.cut_weeks)
    )
    a, b = out if plants else sow
    slack = timedelta(days=SLACK_DAYS)
    verdict: Verdict = "no"
    if a <= case.day <= b:
        verdict = "yes"
    elif a - slack <= case.day <= b + slack:
        verdict = "tight"
    job = "plant out" if plants else "sow"
    lead = _lead(verdict, topic, case.day > b)
    on = case.on
    activity: Activity = "fall-set-out" if plants else "fall-sow"
    return Reply(
        case=case,
        verdict=verdict,
        headline=f"{lead} to {job} {name}: sow {on(sow[0])} to {on(sow[1])}, plant out {on(out[0])} to "
        f"{on(out[1])}, cut {on(cut[0])} to {on(cut[1])}.",
        numbers=(
            Number("start_from", a, "date", f"{job} from", case.terms.base),
            Number("start_latest", b, "date", f"{job}, latest", case.terms.base),
            Number("first_pick", cut[0], "date", "cut from", case.terms.base),
        ),
        details=("It survives the winter as a young plant; net it against pigeons and firm it after frost.",),
        windows=(Window(case.terms.base, activity, a - slack, a, b, b + slack, case.terms.crop.kind),),
        assumptions=(
            f"{name.capitalize()} is the overwintered kind, not the summer one.",
            *case.site.notes,
        ),
        working=("Counted in weeks from the autumn equinox (common practice in mild-winter gardens).",),
        do=f"{job} {on(a)} to {on(b)}",
        pick=on(cut[0]),
        sources=row.sources,
    )


def _lead(verdict: Verdict, topic: str, past: bool) -> str:
    """The plain answer in the words of the question: to "too late?" a yes would say the opposite."""
    if verdict == "no":
        return "Not now"
    if topic == "late-start":
        return "Not too late" + (", but at the edge of its time," if verdict == "tight" and past else "")
    if verdict == "tight":
        return "At the edge of its time"
    return "Not too early: now is the time" if topic == "early-start" else "Yes, now is the time"


def _cut(case: Case, row: WinteredKind, begun: date | None) -> Reply:
    """When a kind in the ground is cut: in the winter after its start, else the cutting at hand or next."""
    name, on = row.names[0], case.on
    years = [
        case.year.origin(case.today if begun is None else begun) + timedelta(days=k * YEAR)
        for k in (-1, 0, 1)
    ]
    if begun is None:
        origin = next(o for o in years if _day(o, row.cut_weeks[1]) >= case.today)
    else:  # planted out at the latest some weeks after the last sowing
        origin = next(o for o in years if _day(o, row.out_weeks[1]) + timedelta(days=SLACK_DAYS) >= begun)
    first, last = (_day(origin, weeks) for weeks in row.cut_weeks)
    started = "" if begun is None else f" sown {on(begun)}"
    now = " It is being cut now." if first <= case.today <= last else ""
    return Reply(
        case=case,
        told=True,
        verdict=None,
        headline=f"{name.capitalize()}{started} is cut {on(first)} to {on(last)}.{now}",
        numbers=(
            Number("first_pick", first, "date", "cut from", case.terms.base),
            Number("first_pick_late", last, "date", "cut until", case.terms.base),
        ),
        details=("It survives the winter; cut the shoots or heads as they come, the middle one first.",),
        assumptions=(f"{name.capitalize()} is the overwintered kind.", *case.site.notes),
        working=("Counted in weeks from the autumn equinox (common practice in mild-winter gardens).",),
        do=f"cut from {on(first)}",
        pick=on(first),
        sources=row.sources,
    )


def _day(origin: date, weeks: float) -> date:
    return origin + timedelta(days=AUTUMN_EQUINOX + round(7 * weeks))
