"""The first picking counted from what was seen on the plant: scapes curled, fruit set, silks, tops down."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from gardenmate.core.answer import Mark, Number, Verdict
from gardenmate.science.frost_risk import chance_before
from gardenmate.topics.season.case import Case, Reply, percent
from gardenmate.topics.season.ripening import season_end

NEAR_FROST_DAYS = 21  # days before the end of the season that count as near it; design value
LATE_SHARE = 0.25
"""Of the range of days this share is the spread (standard deviation) of single fruits and years."""


def stage_row(case: Case, stage: str) -> Mapping[str, Any] | None:
    """The row of knowledge/stages.toml for a stage of this crop; None where there is none."""
    if stage not in case.terms.crop.picked_after:
        return None
    rows: list[Mapping[str, Any]] = case.facts.table("stages")["stage"]
    return next((r for r in rows if r["id"] == stage), None)


def after_stage(case: Case, stage: str, usual: Reply) -> Reply:
    """How long after a stage it is picked, no day told: the days, beside the ``usual`` first picking."""
    row = stage_row(case, stage)
    if row is None:
        return usual
    low, high = _days(case, row)
    return usual._replace(
        told=True,
        verdict=None,
        headline=f"{case.name.capitalize()}: ready {low:.0f} to {high:.0f} days after {row['words']}.",
        details=(row["sign"], usual.headline, *usual.details),
        sources=(*row["sources"], *usual.sources),
    )


def _days(case: Case, row: Mapping[str, Any]) -> tuple[float, float]:
    return case.terms.crop.picked_after[row["id"]]


def from_stage(
    case: Case, stage: str, seen: date, wanted: date | None = None, *, weighed: bool = False
) -> Reply | None:
    """When it is picked, ``stage`` seen on ``seen``; with a verdict where a frost may come first or
    (``weighed``) is asked about."""
    row = stage_row(case, stage)
    if row is None:
        return None
    low, high = _days(case, row)
    first, last = seen + timedelta(days=low), seen + timedelta(days=high)
    on, crop = case.on, case.terms.base
    when = "today" if seen == case.today else on(seen)
    verb = "ripe" if stage in ("flower", "fruit") and case.terms.crop.warm else "ready"
    span = f"about {on(first)} to {on(last)}" if first >= case.today else f"from now to about {on(last)}"
    if last < case.today:
        span = "now"
    head = (
        f"{case.name.capitalize()} should be {verb} {span}: {low:.0f} to {high:.0f} days after {row['words']}"
    )
    end = _end(case, seen)
    near = end is not None and (end - last).days <= NEAR_FROST_DAYS
    verdict, chance = (
        _in_time(case, seen, low, high, wanted) if weighed or near or wanted is not None else (None, None)
    )
    if chance is not None:
        limit = f"{on(wanted)}" if wanted is not None else f"the killing frost about {on(end)}" if end else ""
        lead = {"yes": "Yes, most", "tight": "Some", "no": "Few"}[verdict or "yes"]
        head = (
            f"{lead} {case.name} should be {verb} before {limit}: {low:.0f} to {high:.0f} days after "
            f"{row['words']} ({when}) is {on(first)} to {on(last)}"
        )
    return Reply(
        case=case,
        told=True,
        verdict=verdict,
        headline=f"{head}.",
        numbers=(
            Number("first_pick", max(first, case.today), "date", "first picking", crop),
            Number("first_pick_late", last, "date", "at the latest", crop),
            *(() if chance is None else (Number("chance", round(100 * chance), "%", "chance", crop),)),
        ),
        details=(
            row["sign"],
            *(() if chance is None else (f"That is {percent(chance)} likely for fruit of that age.",)),
        ),
        chance=None if chance is None else round(chance, 2),
        marks=tuple(
            Mark(label, day)
            for label, day in (
                ("today", case.today),
                ("first pick", max(first, case.today)),
                ("first frost", end),
            )
            if day is not None
        ),
        working=(
            f"{row['words'].capitalize()} {when}; {low:.0f} to {high:.0f} days: {on(first)} to {on(last)}.",
        ),
        cautions=case.terms.crop.cautions,
        do=row["words"],
        pick=on(max(first, case.today)),
        sources=(*row["sources"], *case.terms.sources),
    )


def _end(case: Case, seen: date) -> date | None:
    """The day the season ends for the crop, None where frost does not end it."""
    if case.terms.stands or case.terms.rule or not case.terms.crop.warm:
        return None
    end, _ = season_end(case.terms, case.year, case.cover)
    origin = case.year.origin(seen)
    return origin + timedelta(days=round(end)) if end < 400 else None


def _in_time(
    case: Case, seen: date, low: float, high: float, wanted: date | None
) -> tuple[Verdict | None, float | None]:
    """Verdict and chance of being ripe before the wanted day or the frost; Nones where neither binds."""
    end, sd = season_end(case.terms, case.year, case.cover)
    ends = _end(case, seen)
    if wanted is not None and (ends is None or wanted < ends):
        limit, sd = float((wanted - seen).days), 1.0
    elif ends is not None:
        limit = end - (seen - case.year.origin(seen)).days
    else:
        return None, None
    chance = chance_before(0.5 * (low + high), max(2.0, LATE_SHARE * (high - low)), limit, sd)
    chance = min(max(chance, 0.02), 0.98)
    g = case.terms.general
    return ("yes" if chance >= g.yes_from else "tight" if chance >= g.tight_from else "no"), chance
