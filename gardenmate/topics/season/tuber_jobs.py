"""Two jobs of tubers that hang on the planting: standing them in the light to chit, and earthing up."""

from __future__ import annotations

from datetime import timedelta

from gardenmate.core.answer import Mark, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import show_length_cm
from gardenmate.knowledge.crop_uses import TuberJobs
from gardenmate.topics.season.case import Case, Reply, assumed
from gardenmate.topics.season.season import ACTIVITIES


def tuber_job(case: Case, question: Request) -> Reply | None:
    """The answer where chitting or earthing up is asked about; None for any other job or crop."""
    row = case.terms.crop.tuber_jobs
    if row is None:
        return None
    if question.has("job", "chit"):
        return _chitting(case, *row.chit_weeks, row.sources)
    return _earthing_up(case, row, row.sources) if question.has("job", "earth-up") else None


def _chitting(case: Case, low: float, high: float, sources: tuple[str, ...]) -> Reply:
    """When to stand the tubers in the light, counted back from the planting at hand or next."""
    plant = next(w for w in case.season.windows(case.today) if w.activity in ACTIVITIES["outdoors"])
    first = plant.best_from - timedelta(days=round(7 * high))
    last = plant.best_from - timedelta(days=round(7 * low))
    on, today = case.on, case.today
    verdict: Verdict | None = None
    weeks = f"{low:.0f} to {high:.0f} weeks before planting from {on(plant.best_from)}"
    if today < first:
        head = f"Set seed {case.name} to chit {on(first)} to {on(last)}, {weeks}"
    elif today <= last:
        verdict, head = "yes", f"Set seed {case.name} to chit now, {weeks}"
    else:
        verdict = "yes" if today + timedelta(days=round(7 * low)) <= plant.best_to else "tight"
        ready = max(plant.best_from, today + timedelta(days=round(7 * low)))
        head = (
            f"Set seed {case.name} to chit now and plant about {on(ready)}; unchitted they may go in at once"
        )
    return Reply(
        case=case,
        told=True,
        verdict=verdict,
        headline=f"{head}.",
        numbers=(
            Number("start_from", first, "date", "chit from", case.terms.base),
            Number("earliest", plant.best_from, "date", "plant from", case.terms.base),
        ),
        details=(
            "Stand them eyes up in egg boxes, cool, light and free of frost, until the shoots are 1 in long.",
        )
        if case.units == "us"
        else (
            "Stand them eyes up in egg boxes, cool, light and free of frost, until the shoots are 2 cm long.",
        ),
        marks=(Mark("today", today), Mark("chit", max(first, today)), Mark("plant", plant.best_from)),
        assumptions=assumed(case, variety=False),
        working=(f"{on(plant.best_from)} less {low:.0f} to {high:.0f} weeks is {on(first)} to {on(last)}.",),
        do=f"chit from {on(first)}",
        sources=(*sources, *case.terms.sources),
    )


def _earthing_up(case: Case, row: TuberJobs, sources: tuple[str, ...]) -> Reply:
    """How deep to plant, and when the shoots of the planting at hand are high enough to earth up."""
    plant = next(w for w in case.season.windows(case.today) if w.activity in ACTIVITIES["outdoors"])
    day = case.day if case.day_said else max(case.today, plant.best_from)
    depth = case.terms.crop.space.sow_depth_cm
    deep = "" if depth is None else f"Plant {show_length_cm(depth[1], case.units)} deep; "
    shoots = show_length_cm(row.earth_up_cm, case.units)
    up = day + timedelta(days=round(row.up_days))
    first = up + timedelta(days=round(row.after_up_days))
    on = case.on
    return Reply(
        case=case,
        told=True,
        verdict=None,
        headline=f"{deep}earth up when the shoots are about {shoots} high, about {on(first)} for planting on "
        f"{on(day)}, and again every two or three weeks until the leaves meet.",
        numbers=(Number("start_from", first, "date", "earth up from", case.terms.base),),
        details=("Draw soil up over the shoots also on any evening that threatens frost.",),
        marks=(Mark("today", case.today), Mark("plant", day), Mark("up", up), Mark("earth up", first)),
        assumptions=assumed(case, variety=False),
        working=(f"Planted {on(day)}, up about {on(up)}, high enough about {on(first)}.",),
        do=f"earth up about {on(first)}",
        sources=(*sources, *case.terms.sources),
    )
