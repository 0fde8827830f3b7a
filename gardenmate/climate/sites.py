"""From a row of places.csv to a Site."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import sqrt
from typing import Any

from gardenmate.climate.freezes import (
    THRESHOLDS_F,
    Basis,
    Freeze,
    FreezeDate,
    FreezeFit,
    MinimumCurve,
    arctic_outbreaks,
    estimate,
    freeze_fit,
    move_along,
    predictors,
    published_side,
)
from gardenmate.climate.normals import daily_normals
from gardenmate.climate.place_names import PlaceRow
from gardenmate.climate.site import (
    Regime,
    Site,
)
from gardenmate.core.errors import DamagedFileError
from gardenmate.core.place import PlaceNote
from gardenmate.core.units import f_to_c
from gardenmate.knowledge.facts import Facts

# Where the cells of places.csv lie behind the elevation.
MIN_CELLS, MAX_CELLS = slice(1, 13), slice(13, 25)
LAST_32_P50, FIRST_32_P50 = 26, 29


def build_site(row: PlaceRow, facts: Facts) -> Site:
    """The Site of a bundled place. Raises DamagedFileError when its row does not read."""
    cells = _cells(row, facts)
    monthly_min, monthly_max = _numbers(cells[MIN_CELLS], row, facts), _numbers(cells[MAX_CELLS], row, facts)
    dates = {
        32: (tuple(cells[25:28]), tuple(cells[28:31])),
        28: (("", cells[31], ""), ("", cells[32], "")),
        36: (("", cells[33], ""), ("", cells[34], "")),
    }
    table = facts.table("climate")
    fit = freeze_fit(table, arctic_outbreaks(row.country, row.lon))
    normal_min = daily_normals(monthly_min)
    curve = MinimumCurve(normal_min, row.lat < 0)
    terms = predictors(row.lat, row.lon, row.country, monthly_min, monthly_max)
    guessed = {f: estimate(curve, fit, terms, f_to_c(f)) for f in THRESHOLDS_F}
    regime = _regime(
        row.label, guessed[32], curve, table, max(s.level_c(terms) for s in (fit.spring, fit.autumn))
    )
    freezes: Mapping[int, Freeze] = guessed
    basis: Basis = "estimated"
    if regime == "frost-free":
        freezes = {**guessed, 32: rare(guessed[32]), 28: rare(guessed[28])}
    else:
        published = {f: _published(d, row, fit, curve) for f, d in dates.items()}
        if published[32] is not None:
            basis = "published"
            freezes = completed(published[32], published, guessed[32], curve, fit)
    return Site(
        name=row.name,
        region=row.region,
        country=row.country,
        lat=row.lat,
        lon=row.lon,
        elev_m=row.elev_m,
        normal_min_c=normal_min,
        normal_max_c=daily_normals(monthly_max),
        monthly_min_c=monthly_min,
        monthly_max_c=monthly_max,
        regime=regime,
        freezes=freezes,
        basis=basis,
        notes=_row_notes(row, regime, basis, freezes[32], fit, curve),
        source_ids=_source_ids(",".join(cells[35:]).strip('"'), basis, table),
        fit=fit,
        place=PlaceNote(row.label, row.label, 0.0, 0.0, _spread_days(basis, freezes[32], fit, curve, table)),
    )


def _spread_days(
    basis: Basis, freeze: Freeze, fit: FreezeFit, curve: MinimumCurve, table: Mapping[str, Any]
) -> float:
    """Usual error (sd, days) of a bundled place's dates for a garden near it: that of two stations side by side, or
    that of the fit where the dates are estimated. It stands beside the dates and does not widen them."""
    if basis == "published":
        return sqrt(float(table["blend"]["error_spring"]["near"]))
    return max(_errors(freeze, fit, curve), default=0.0)


def _errors(freeze: Freeze, fit: FreezeFit, curve: MinimumCurve) -> list[float]:
    """Usual errors of estimated dates, days; none where freezes are too rare to date."""
    sides = ((fit.spring, freeze.last_spring), (fit.autumn, freeze.first_autumn))
    return [
        fit.error_days(side, curve.steepness(known.offset_days)) for side, known in sides if known is not None
    ]


def _published(cells: tuple[Any, Any], row: PlaceRow, fit: FreezeFit, curve: MinimumCurve) -> Freeze | None:
    spring = published_side(cells[0], True, row.lat < 0, fit, curve)
    autumn = published_side(cells[1], False, row.lat < 0, fit, curve)
    return None if spring is None and autumn is None else Freeze(spring, autumn)


def completed(
    at_32: Freeze, published: Mapping[int, Freeze | None], guess: Freeze, curve: MinimumCurve, fit: FreezeFit
) -> dict[int, Freeze]:
    """Freeze dates at all three thresholds: published where there is a date, else found along the curve from
    32 F."""
    known = Freeze(
        at_32.last_spring or guess.last_spring,
        at_32.first_autumn or guess.first_autumn,
        max(guess.share, 0.5),
    )
    freezes = {32: known}
    for f in THRESHOLDS_F:
        if f == 32:
            continue
        moved = move_along(known, 0.0, f_to_c(f), curve, fit)
        here = published[f]
        freezes[f] = Freeze(
            _centred(here.last_spring if here else None, moved.last_spring),
            _centred(here.first_autumn if here else None, moved.first_autumn),
            moved.share,
        )
    return freezes


def _centred(published: FreezeDate | None, moved: FreezeDate | None) -> FreezeDate | None:
    """A published date with the spread that follows from the 32 F one."""
    if published is None or moved is None:
        return published or moved
    return published._replace(sd_days=moved.sd_days)


def rare(freeze: Freeze) -> Freeze:
    """The same threshold where its freezes are too rare to date."""
    return Freeze(None, None, min(freeze.share, 0.2))


def _regime(
    label: str, freeze: Freeze, curve: MinimumCurve, table: Mapping[str, Any], level_c: float
) -> Regime:
    known = table["regime"]
    if label in known["frost_free"] or freeze.share <= known["frost_free_share"]:
        return "frost-free"
    if label in known["any_month"]:
        return "any-month"
    margin = curve.values[curve.warmest] - level_c
    return "any-month" if margin < known["any_month_margin_c"] else "seasonal"


def _row_notes(
    row: PlaceRow, regime: Regime, basis: Basis, freeze: Freeze, fit: FreezeFit, curve: MinimumCurve
) -> tuple[str, ...]:
    notes: list[str] = []
    if regime == "frost-free":
        notes.append(f"{row.label} is practically frost-free: too few years have a freeze to date one.")
    elif regime == "any-month":
        notes.append(
            f"A freeze is possible in any month in {row.label}: no stretch of the year is safe for tender "
            "plants without cover."
        )
    if regime == "seasonal" and freeze.last_spring is None:
        notes.append(
            f"Only about {round(10 * freeze.share)} winters in 10 have a freeze in {row.label} (estimated "
            "from its monthly temperatures): too few to date one."
        )
    elif basis == "estimated" and regime != "frost-free":
        errors = _errors(freeze, fit, curve)
        error = max(errors, default=fit.error_limits_days[1])
        notes.append(
            f"Freeze dates for {row.label} are estimated from its monthly temperatures (usual error about "
            f"{error:.0f} days); your own dates would be better."
        )
    return tuple(notes)


def _source_ids(source: str, basis: Basis, table: Mapping[str, Any]) -> tuple[str, ...]:
    for begins, ids in table["sources"].items():
        if source.startswith(begins):
            kept = list(ids) if basis == "published" else list(ids[:1])
            return (*kept, "own-fit-to-bundled-places") if basis == "estimated" else tuple(kept)
    return ("own-fit-to-bundled-places",) if basis == "estimated" else ()


def _cells(row: PlaceRow, facts: Facts) -> list[str]:
    cells = row.rest.split(",")
    if len(cells) < 36:
        raise DamagedFileError(f"{facts.root / 'places.csv'}: the row of {row.label} is cut short.")
    return cells


def _numbers(cells: Sequence[str], row: PlaceRow, facts: Facts) -> tuple[float, ...]:
    try:
        return tuple(float(cell) for cell in cells)
    except ValueError as error:
        raise DamagedFileError(
            f"{facts.root / 'places.csv'}: the row of {row.label} has a temperature that is no number "
            f"({error})."
        ) from error
