"""A bundled climate moved to the garden: its height, distance, low spot, and the grower's own frost dates."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from gardenmate.climate.freezes import (
    THRESHOLDS_F,
    Freeze,
    FreezeDate,
    FreezeFit,
    MinimumCurve,
    freeze_fit,
    move_along,
    offset_of,
    season_offset,
)
from gardenmate.climate.place_names import PlaceRow
from gardenmate.climate.site import (
    Regime,
    Site,
)
from gardenmate.climate.sites import FIRST_32_P50, LAST_32_P50, build_site
from gardenmate.core.errors import DamagedFileError, UsageError
from gardenmate.core.units import (
    FT_M,
    f_to_c,
    plural,
    show_date,
)
from gardenmate.knowledge.facts import Facts
from gardenmate.records import replace

MonthDay = tuple[int, int]
_ALIKE_DAYS = 3.0  # days: frost dates no further apart count as alike; design value
_FAR_NORTH = 55.0  # summers there are unlike those of most gardens with the same frost dates
_BEYOND_COLDEST_DAYS = 60  # days past the coldest night a frost date of the other side may lie; design value
_STAND_IN = "Your garden"


def at_height(site: Site, elev_m: float, facts: Facts) -> Site:
    """The site moved up or down to another height (m), by the lapse rate of the standard atmosphere.

    A site whose own height is not known is returned unchanged, with a note.
    """
    if site.elev_m is None:
        note = f"The height of {site.label} is not on record, so nothing is corrected for yours."
        return replace(site, notes=(*site.notes, note))
    climb = elev_m - site.elev_m
    rate = float(facts.table("climate")["lapse"]["rate_c_per_km"])
    warmer_c = -rate * climb / 1000.0
    if abs(warmer_c) < 0.1:
        return replace(site, elev_m=elev_m)
    higher = "higher" if climb > 0 else "lower"
    colder = "colder" if climb > 0 else "warmer"
    note = (
        f"The garden lies {abs(climb):.0f} m ({abs(climb) / FT_M:.0f} ft) {higher} than {site.label}: "
        f"{abs(warmer_c):.1f} C ({abs(warmer_c) * 1.8:.1f} F) degrees {colder} is assumed "
        f"({rate:g} C per 1000 m), and the freeze dates move with it."
    )
    moved = _warmed(site, warmer_c, warmer_c)
    return replace(moved, elev_m=elev_m, notes=(*site.notes, note))


def in_low_spot(site: Site, colder_c: float) -> Site:
    """The site with nights colder by this many C degrees (a frost pocket; negative: a slope that drains)."""
    if not colder_c:
        return site
    word = "colder" if colder_c > 0 else "warmer"
    spot = "a low spot" if colder_c > 0 else "a slope that cold air runs off"
    note = (
        f"Nights in your garden are about {abs(colder_c):.1f} C ({abs(colder_c) * 1.8:.1f} F) degrees "
        f"{word} than {site.where}, as you said it is {spot}."
    )
    moved = _warmed(site, -colder_c, 0.0)
    return replace(moved, notes=(*site.notes, note))


def with_own_dates(
    site: Site, last_frost: MonthDay | None, first_frost: MonthDay | None, facts: Facts
) -> Site:
    """The site with the grower's own average frost dates (month, day); 36 F and 28 F move by the same days.

    Spreads stay the site's own. Raises UsageError when the dates cannot be a last and a first frost here.
    """
    if last_frost is None and first_frost is None:
        return site
    south = site.southern
    base = site.freezes[32]
    fit = site.fit or freeze_fit(facts.table("climate"))
    curve = MinimumCurve(site.normal_min_c, south)
    spring = None if last_frost is None else offset_of(last_frost, True, south)
    autumn = None if first_frost is None else offset_of(first_frost, False, south)
    _check_order(site, curve, spring, autumn, last_frost, first_frost)
    moved_spring = _own(base.last_spring, spring, fit, curve, True)
    moved_autumn = _own(base.first_autumn, autumn, fit, curve, False)
    own = Freeze(moved_spring, moved_autumn, 1.0)
    freezes: dict[int, Freeze] = {32: own}
    for f in THRESHOLDS_F:
        if f == 32:
            continue
        known = site.freezes[f]
        beside = move_along(own, 0.0, f_to_c(f), curve, fit)
        freezes[f] = Freeze(
            _beside(known.last_spring, base.last_spring, moved_spring, beside.last_spring),
            _beside(known.first_autumn, base.first_autumn, moved_autumn, beside.first_autumn),
            max(known.share, beside.share),
        )
    regime: Regime = "seasonal" if site.regime == "frost-free" else site.regime
    return replace(
        site,
        freezes=freezes,
        basis="own",
        regime=regime,
        notes=(*_without_estimate(site, spring, autumn), _own_note(site, base, own, last_frost, first_frost)),
        source_ids=(*(s for s in site.source_ids if not s.startswith("own-fit")), "own-frost-dates"),
    )


def stand_in(
    rows: Sequence[PlaceRow], last_frost: MonthDay | None, first_frost: MonthDay | None, facts: Facts
) -> Site:
    """A climate for a garden known only by its frost dates: the bundled place whose own dates are nearest.

    The hemisphere is read from the dates themselves: a last frost between August and December is southern.
    """
    south = (last_frost is not None and last_frost[0] >= 8) or (
        last_frost is None and first_frost is not None and 2 <= first_frost[0] <= 6
    )
    spring = None if last_frost is None else offset_of(last_frost, True, south)
    autumn = None if first_frost is None else offset_of(first_frost, False, south)
    known = [
        (row, dates)
        for row in rows
        if (row.lat < 0) == south and abs(row.lat) < _FAR_NORTH and (dates := _frost_offsets(row, facts))
    ]
    if not known:
        raise DamagedFileError(f"{facts.root / 'places.csv'} holds no place with freeze dates.")

    def miss(dates: tuple[float, float]) -> float:
        return sum(abs(d - own) for d, own in zip(dates, (spring, autumn), strict=True) if own is not None)

    near = sorted(known, key=lambda each: miss(each[1]))
    if spring is None or autumn is None:  # of places alike on the known side, the middle one on the other
        alike = [each for each in near if miss(each[1]) <= miss(near[0][1]) + _ALIKE_DAYS]
        near = sorted(alike, key=lambda each: each[1][1 if autumn is None else 0])[len(alike) // 2 :]
    else:  # of places alike on both sides, the one with a middling summer: neither desert nor coast
        alike = [each for each in near if miss(each[1]) <= miss(near[0][1]) + 2 * _ALIKE_DAYS]
        near = sorted(alike, key=lambda each: _warmest_c(each[0], facts))[(len(alike) - 1) // 2 :]
    site = build_site(near[0][0], facts)
    missing = (
        "" if last_frost and first_frost else " and the first frost" if last_frost else " and the last frost"
    )
    note = (
        f"Your place is not known, so day and night temperatures{missing} come from {site.label}, whose "
        "frost dates are like yours. Name your place for closer figures."
    )
    return replace(site, name=_STAND_IN, region="by its frost dates", notes=(note,), elev_m=None, place=None)


def _warmest_c(row: PlaceRow, facts: Facts) -> float:
    """Mean of the warmest month, degrees C."""
    site = build_site(row, facts)
    return max(0.5 * (a + b) for a, b in zip(site.monthly_min_c, site.monthly_max_c, strict=True))


def _frost_offsets(row: PlaceRow, facts: Facts) -> tuple[float, float] | None:
    """50% dates of the last and first 32 F freeze as offsets; None without. North: published ones only."""
    cells = row.rest.split(",")
    if row.lat >= 0:
        if not cells[LAST_32_P50] or not cells[FIRST_32_P50]:
            return None
        return season_offset(cells[LAST_32_P50], True, False), season_offset(
            cells[FIRST_32_P50], False, False
        )
    freeze = build_site(row, facts).freezes[32]
    if freeze.last_spring is None or freeze.first_autumn is None:
        return None
    return freeze.last_spring.offset_days, freeze.first_autumn.offset_days


def warmed_nights(site: Site, warmer_c: float) -> Site:
    """The site with its minima warmer by so many C degrees (negative: colder), and the freeze dates with them."""
    return _warmed(site, warmer_c, 0.0)


def _warmed(site: Site, min_c: float, max_c: float) -> Site:
    """The site with all minima and maxima raised; freeze dates follow the daily minimum."""
    raised = replace(
        site,
        normal_min_c=tuple(t + min_c for t in site.normal_min_c),
        normal_max_c=tuple(t + max_c for t in site.normal_max_c),
        monthly_min_c=tuple(t + min_c for t in site.monthly_min_c),
        monthly_max_c=tuple(t + max_c for t in site.monthly_max_c),
    )
    freezes = {f: _as_estimated(site.freeze_at(f_to_c(f) - min_c)) for f in THRESHOLDS_F}
    regime = site.regime
    if regime == "frost-free" and freezes[32].last_spring is not None:
        regime = "seasonal"
    return replace(raised, freezes=freezes, regime=regime, basis="estimated")


def _as_estimated(freeze: Freeze) -> Freeze:
    def mark(known: FreezeDate | None) -> FreezeDate | None:
        return None if known is None else known._replace(basis="estimated")

    return Freeze(mark(freeze.last_spring), mark(freeze.first_autumn), freeze.share)


def _own(
    base: FreezeDate | None, offset: int | None, fit: FreezeFit, curve: MinimumCurve, spring: bool
) -> FreezeDate | None:
    if offset is None:
        return base
    side = fit.spring if spring else fit.autumn
    sd = base.sd_days if base is not None else fit.spread_days(side, curve.steepness(offset))
    return FreezeDate(float(offset), sd, "own")


def _beside(
    known: FreezeDate | None, base: FreezeDate | None, moved: FreezeDate | None, along: FreezeDate | None
) -> FreezeDate | None:
    """Another threshold moved by as many days as the 32 F date was."""
    if known is None or base is None or moved is None:
        return along
    shift = moved.offset_days - base.offset_days
    return FreezeDate(known.offset_days + shift, known.sd_days, moved.basis)


def _check_order(
    site: Site,
    curve: MinimumCurve,
    spring: int | None,
    autumn: int | None,
    last_frost: MonthDay | None,
    first_frost: MonthDay | None,
) -> None:
    where = f"{site.label}, {'south' if site.southern else 'north'} of the equator"
    cold = curve.coldest
    if spring is not None and spring < cold - _BEYOND_COLDEST_DAYS:
        raise UsageError(
            f"A last frost on {_month_day(last_frost)} does not fit {where}: it is the last of the cold "
            "season, before midsummer. Dates are typed month first, 05-20 is 20 May.",
            "frost.last",
        )
    if autumn is not None and autumn > cold + 365 + _BEYOND_COLDEST_DAYS:
        raise UsageError(
            f"A first frost on {_month_day(first_frost)} does not fit {where}: it is the first after "
            "midsummer. Dates are typed month first, 09-25 is 25 September.",
            "frost.first",
        )


def _month_day(day: MonthDay | None) -> str:
    return "" if day is None else show_date(date(2028, *day))


def _without_estimate(site: Site, spring: int | None, autumn: int | None) -> tuple[str, ...]:
    """Notes that still hold: with both own dates, nothing is estimated or frost-free any more."""
    if spring is None or autumn is None:
        return site.notes
    return tuple(n for n in site.notes if "are estimated from" not in n and "frost-free" not in n)


def _own_note(
    site: Site, base: Freeze, own: Freeze, last_frost: MonthDay | None, first_frost: MonthDay | None
) -> str:
    parts = []
    for word, typed, before, after in (
        ("last frost", last_frost, base.last_spring, own.last_spring),
        ("first frost", first_frost, base.first_autumn, own.first_autumn),
    ):
        if typed is None or after is None:
            continue
        text = f"your own {word}, {_month_day(typed)}"
        if before is not None and site.name != _STAND_IN:
            days = round(after.offset_days - before.offset_days)
            if days:
                way = "later" if days > 0 else "earlier"
                text += f" ({plural(abs(days), 'day')} {way} than {site.where})"
        parts.append(text)
    return (
        f"Using {' and '.join(parts)}, as the average date; lighter and harder freezes are moved by as "
        "many days."
    )
