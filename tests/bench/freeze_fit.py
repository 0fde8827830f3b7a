"""Fits freeze dates to monthly temperatures over the bundled places that publish both, and prints the error.

Run: python tests/bench/freeze_fit.py

The fit is for the level of the smooth daily minimum on the published 50% date (see
gardenmate.climate.freezes): a straight line in latitude, mean daily range and two coasts. It is weighted by
how many days a degree is worth there, softly against outliers; a place outside the United States counts
threefold, as that is where estimates are needed. The error printed is of places the fit has not seen: each
state is left out in turn (in Alaska and outside the United States each place). The coefficients printed are
those of knowledge/climate.toml.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import log
from pathlib import Path
from statistics import fmean, median, pstdev, quantiles

sys.path.insert(0, str(Path(__file__).parents[2]))

from gardenmate.climate.freezes import (
    SPAN_50_90,
    Freeze,
    FreezeDate,
    MinimumCurve,
    freeze_fit,
    move_along,
    predictors,
    season_offset,
)
from gardenmate.climate.normals import daily_normals
from gardenmate.climate.place_names import PlaceRow
from gardenmate.climate.places import distance_km, gazetteer
from gardenmate.core.units import f_to_c
from gardenmate.knowledge.facts import Facts

COLD_WINTER_C = 3.0  # beyond this the curve is too flat near the date for a level to mean much
STEEPNESS_FLOOR = 0.07
SOFT_DAYS = 8.0
ABROAD_WEIGHT = 3.0


@dataclass(frozen=True)
class Case:
    """One place with a published date on one side of the season."""

    row: PlaceRow
    curve: MinimumCurve
    terms: tuple[float, ...]
    offset: int
    offset_90: int | None

    @property
    def cold(self) -> bool:
        return self.curve.floor_c < COLD_WINTER_C

    @property
    def area(self) -> tuple[str, str]:
        """What is left out together: a state; in Alaska and outside the United States the single place."""
        row = self.row
        return (row.country, row.region if row.country == "US" and row.region != "AK" else row.name)


def cases(facts: Facts, spring: bool) -> list[Case]:
    """Every bundled place with a published 50% date on this side."""
    found: list[Case] = []
    for row in gazetteer(facts).rows:
        cells = row.rest.split(",")
        p50, p90 = (cells[26], cells[27]) if spring else (cells[29], cells[30])
        if not p50:
            continue
        low, high = [float(c) for c in cells[1:13]], [float(c) for c in cells[13:25]]
        south = row.lat < 0
        found.append(
            Case(
                row,
                MinimumCurve(daily_normals(low), south),
                predictors(row.lat, row.lon, row.country, low, high),
                season_offset(p50, spring, south),
                season_offset(p90, spring, south) if p90 else None,
            )
        )
    return found


def solve(matrix: list[list[float]], right: list[float]) -> list[float]:
    """Gaussian elimination with pivoting."""
    n = len(right)
    rows = [[*matrix[i], right[i]] for i in range(n)]
    for i in range(n):
        pivot = max(range(i, n), key=lambda k: abs(rows[k][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for k in range(i + 1, n):
            share = rows[k][i] / rows[i][i]
            rows[k] = [a - share * b for a, b in zip(rows[k], rows[i], strict=True)]
    out = [0.0] * n
    for i in reversed(range(n)):
        out[i] = (rows[i][n] - sum(rows[i][j] * out[j] for j in range(i + 1, n))) / rows[i][i]
    return out


def least_squares(
    xs: Sequence[Sequence[float]], ys: Sequence[float], weights: Sequence[float]
) -> list[float]:
    """Coefficients of the weighted linear fit."""
    n = len(xs[0])
    matrix = [
        [sum(w * x[i] * x[j] for x, w in zip(xs, weights, strict=True)) for j in range(n)] for i in range(n)
    ]
    right = [sum(w * x[i] * y for x, y, w in zip(xs, ys, weights, strict=True)) for i in range(n)]
    return solve(matrix, right)


def fit_level(training: Iterable[Case]) -> list[float]:
    """Coefficients of the level: at 40 degrees, then those of the predictors in their order."""
    kept = list(training)
    xs = [(1.0, *case.terms) for case in kept]
    ys = [case.curve.at(case.offset) for case in kept]
    days_per_c = [1.0 / max(case.curve.steepness(case.offset), STEEPNESS_FLOOR) for case in kept]
    soft = [1.0] * len(kept)
    coefficients: list[float] = []
    for _ in range(4):
        weights = [
            d * d * s * (1.0 if case.row.country == "US" else ABROAD_WEIGHT)
            for d, s, case in zip(days_per_c, soft, kept, strict=True)
        ]
        coefficients = least_squares(xs, ys, weights)
        misses = [abs(y - level(coefficients, x[1:])) * d for x, y, d in zip(xs, ys, days_per_c, strict=True)]
        soft = [1.0 / max(1.0, miss / SOFT_DAYS) for miss in misses]
    return coefficients


def level(coefficients: Sequence[float], terms: Sequence[float]) -> float:
    return coefficients[0] + sum(c * t for c, t in zip(coefficients[1:], terms, strict=True))


def missed_days(case: Case, coefficients: Sequence[float], spring: bool) -> float:
    day = case.curve.crossing(level(coefficients, case.terms), spring, else_coldest=True)
    assert day is not None
    return day - case.offset


def cross_validated(everything: Sequence[Case], spring: bool) -> list[tuple[Case, float]]:
    """(case, estimated minus published days), each area estimated by a fit that has not seen it."""
    out: list[tuple[Case, float]] = []
    for area in sorted({case.area for case in everything}):
        coefficients = fit_level(c for c in everything if c.cold and c.area != area)
        out += [(c, missed_days(c, coefficients, spring)) for c in everything if c.area == area]
    return out


def describe(misses: Sequence[float]) -> str:
    sizes = [abs(m) for m in misses]
    tenth = quantiles(sizes, n=10)[-1] if len(sizes) > 1 else sizes[0]
    return (
        f"n {len(misses):3d}  mean {fmean(misses):+5.1f}  sd {pstdev(misses):4.1f}  "
        f"mean size {fmean(sizes):4.1f}  median {median(sizes):4.1f}  nine in ten within {tenth:4.1f} days"
    )


def group(case: Case) -> str:
    row = case.row
    if row.country != "US":
        return {"NL": "Netherlands", "CA": "Canada", "UK": "United Kingdom"}.get(row.country, row.country)
    if row.region == "AK":
        return "Alaska"
    if row.region in ("WA", "OR", "CA"):
        return "US west coast"
    if row.region in ("MT", "ID", "WY", "CO", "UT", "NV", "AZ", "NM"):
        return "US mountain and desert"
    if row.region in ("FL", "LA", "TX", "GA", "SC", "AL", "MS"):
        return "US south"
    return "US east and central"


def spread(everything: Sequence[Case]) -> tuple[list[float], float]:
    """sd = a + b ln(steepness), and the mean size of its error in days."""
    known = [
        (log(max(c.curve.steepness(c.offset), 0.01)), abs(c.offset - c.offset_90) / SPAN_50_90)
        for c in everything
        if c.offset_90 is not None and c.curve.steepness(c.offset) > 0.05
    ]
    a, b = least_squares([(1.0, x) for x, _ in known], [y for _, y in known], [1.0] * len(known))
    return [a, b], fmean(abs(y - a - b * x) for x, y in known)


def other_thresholds(facts: Facts) -> None:
    """Dates at 28 and 36 F found along the curve from 32 F, against the places that publish them."""
    fit = freeze_fit(facts.table("climate"))
    misses: dict[str, list[float]] = {}
    for row in gazetteer(facts).rows:
        cells = row.rest.split(",")
        curve = MinimumCurve(daily_normals([float(c) for c in cells[1:13]]), row.lat < 0)
        for f, at, spring in ((28, 31, True), (28, 32, False), (36, 33, True), (36, 34, False)):
            base = cells[26] if spring else cells[29]
            if not base or not cells[at]:
                continue
            known = FreezeDate(float(season_offset(base, spring, row.lat < 0)), 10.0, "published")
            freeze = Freeze(known, None) if spring else Freeze(None, known)
            moved = move_along(freeze, 0.0, f_to_c(f), curve, fit)
            found = moved.last_spring if spring else moved.first_autumn
            if found is not None:
                published = season_offset(cells[at], spring, row.lat < 0)
                name = f"{f} F {'spring' if spring else 'autumn'}"
                misses.setdefault(name, []).append(found.offset_days - published)
    for name, values in sorted(misses.items()):
        print(f"  {name}  {describe(values)}")


def neighbours(everything: Sequence[Case], spring: bool) -> None:
    """How far a place's published date is from that of its nearest neighbour, by distance and height."""
    rows: list[tuple[float, float, float]] = []
    for case in everything:
        others = [o for o in everything if o is not case]

        def far(other: Case, case: Case = case) -> float:
            return distance_km(case.row.lat, case.row.lon, other.row.lat, other.row.lon)

        near = min(others, key=far)
        climb = abs((case.row.elev_m or 0.0) - (near.row.elev_m or 0.0))
        rows.append((far(near), climb, float(case.offset - near.offset)))
    tests: tuple[tuple[str, Callable[[float, float], bool]], ...] = (
        ("under 60 km, within 150 m", lambda km, m: km < 60 and m < 150),
        ("60-120 km, within 150 m", lambda km, m: 60 <= km < 120 and m < 150),
        ("120-250 km, within 150 m", lambda km, m: 120 <= km < 250 and m < 150),
        ("150-400 m higher or lower", lambda km, m: km < 250 and 150 <= m < 400),
        ("over 400 m higher or lower", lambda km, m: km < 250 and m >= 400),
    )
    for name, holds in tests:
        sizes = [miss for km, climb, miss in rows if holds(km, climb)]
        if len(sizes) > 2:
            print(f"  {name:28s} {describe(sizes)}")


def main() -> None:
    facts = Facts()
    for spring in (True, False):
        everything = cases(facts, spring)
        coefficients = fit_level(c for c in everything if c.cold)
        checked = cross_validated(everything, spring)
        cold = [miss for case, miss in checked if case.cold]
        error_c = (
            fmean((m * max(c.curve.steepness(c.offset), STEEPNESS_FLOOR)) ** 2 for c, m in checked if c.cold)
        ) ** 0.5
        print(f"\n{'Last spring' if spring else 'First autumn'} freeze (32 F), 50% date")
        names = ("at_40", "per_10_lat", "per_10_range", "pacific", "far_northwest")
        shown = ", ".join(f"{n} = {c:.2f}" for n, c in zip(names, coefficients, strict=True))
        print(f"  {shown}, error_c = {error_c:.2f}")
        print(f"  winters below {COLD_WINTER_C:.0f} C: {describe(cold)}")
        print(f"  all places:        {describe([miss for _, miss in checked])}")
        for name in sorted({group(c) for c, _ in checked}):
            print(f"  {name:24s} {describe([m for c, m in checked if c.cold and group(c) == name] or [0.0])}")
        (a, b), size = spread(everything)
        print(f"  spread: sd = {a:.2f} + {b:.2f} ln(C per day), mean error {size:.1f} days")
        print("  against the nearest neighbour's date:")
        neighbours(everything, spring)
    print("\nOther thresholds, along the daily minimum from the published 32 F date")
    other_thresholds(facts)


if __name__ == "__main__":
    main()
