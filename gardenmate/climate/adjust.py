"""A bundled climate moved to where the garden really lies: height, distance, low spot, the grower's own dates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from gardenmate.climate.freezes import (
    THRESHOLDS_F,
    FreezeFit,
    MinimumCurve,
    freeze_between,
    freeze_fit,
    move_along,
    offset_of,
)
from gardenmate.climate.place_names import PlaceRow
from gardenmate.climate.site import Freeze, FreezeDate, Regime, Site
from gardenmate.climate.sites import build_site
from gardenmate.errors import DamagedFileError, UsageError
from gardenmate.knowledge.facts import Facts
from gardenmate.units import f_to_c, show_date

MonthDay = tuple[int, int]


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
        f"The garden lies {abs(climb):.0f} m ({abs(climb) / 0.3048:.0f} ft) {higher} than {site.label}: "
        f"{abs(warmer_c):.1f} C ({abs(warmer_c) * 1.8:.1f} F) degrees {colder} is assumed "
        f"({rate:g} C per 1000 m), and the freeze dates move with it."
    )
    moved = _warmed(site, warmer_c, warmer_c)
    return replace(moved, elev_m=elev_m, notes=(*site.notes, note))


def less_certain(site: Site, error_days: float) -> Site:
    """The site with freeze dates that may be off by this much more (sd, days), as at a place further away."""
    if error_days < 0.5:
        return site

    def wider(known: FreezeDate | None) -> FreezeDate | None:
        if known is None:
            return None
        return FreezeDate(known.offset_days, (known.sd_days**2 + error_days**2) ** 0.5, "estimated")

    freezes = {
        f: Freeze(wider(freeze.last_spring), wider(freeze.first_autumn), freeze.share)
        for f, freeze in site.freezes.items()
    }
    return replace(site, freezes=freezes, basis="estimated")


def in_low_spot(site: Site, colder_c: float) -> Site:
    """The site with nights colder by this many C degrees (a frost pocket; negative: a slope that drains)."""
    if not colder_c:
        return site
    word = "colder" if colder_c > 0 else "warmer"
    spot = "a low spot" if colder_c > 0 else "a slope that cold air runs off"
    note = (
        f"Nights in your garden are taken as {abs(colder_c):.1f} C ({abs(colder_c) * 1.8:.1f} F) degrees "
        f"{word} than at {site.label}, as you said it is {spot}."
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
    fit = freeze_fit(facts.table("climate"))
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
    best: tuple[float, Site] | None = None
    for row in rows:
        if (row.lat < 0) != south:
            continue
        site = build_site(row, facts)
        freeze = site.freezes[32]
        if freeze.last_spring is None or freeze.first_autumn is None:
            continue
        miss = 0.0
        if last_frost is not None:
            miss += abs(freeze.last_spring.offset_days - offset_of(last_frost, True, south))
        if first_frost is not None:
            miss += abs(freeze.first_autumn.offset_days - offset_of(first_frost, False, south))
        if best is None or miss < best[0]:
            best = (miss, site)
    if best is None:
        raise DamagedFileError("knowledge/places.csv holds no place with freeze dates.")
    site = best[1]
    note = (
        f"Your place is not known, so day and night temperatures are taken from {site.label}, whose frost "
        "dates are nearest to yours. Name your place for closer figures."
    )
    return replace(site, name="Your garden", region="by its frost dates", notes=(note,), elev_m=None)


def _warmed(site: Site, min_c: float, max_c: float) -> Site:
    """The site with all minima and maxima raised; freeze dates follow the daily minimum."""
    raised = replace(
        site,
        normal_min_c=tuple(t + min_c for t in site.normal_min_c),
        normal_max_c=tuple(t + max_c for t in site.normal_max_c),
        monthly_min_c=tuple(t + min_c for t in site.monthly_min_c),
        monthly_max_c=tuple(t + max_c for t in site.monthly_max_c),
    )
    freezes = {f: _as_estimated(freeze_between(site, f_to_c(f) - min_c)) for f in THRESHOLDS_F}
    regime = site.regime
    if regime == "frost-free" and freezes[32].last_spring is not None:
        regime = "seasonal"
    return replace(raised, freezes=freezes, regime=regime, basis="estimated")


def _as_estimated(freeze: Freeze) -> Freeze:
    def mark(known: FreezeDate | None) -> FreezeDate | None:
        return None if known is None else replace(known, basis="estimated")

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
    where = f"at {site.label}, {'south' if site.southern else 'north'} of the equator"
    if spring is not None and spring > curve.warmest:
        raise UsageError(
            f"A last frost on {_month_day(last_frost)} does not fit {where}: that is after midsummer."
        )
    if autumn is not None and autumn < curve.warmest:
        raise UsageError(
            f"A first frost on {_month_day(first_frost)} does not fit {where}: that is before midsummer."
        )


def _month_day(day: MonthDay | None) -> str:
    from datetime import date

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
        if before is not None:
            days = round(after.offset_days - before.offset_days)
            if abs(days) >= 1:
                text += f" ({abs(days)} days {'later' if days > 0 else 'earlier'} than at {site.label})"
        parts.append(text)
    return (
        f"Using {' and '.join(parts)}, as the average date; lighter and harder freezes are moved by as "
        "many days."
    )
