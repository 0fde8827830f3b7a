"""A climate for a spot, blended from the stations round it by distance and height.

The nearer a station and the closer its height, the more it counts. The freeze dates are read at the spot from a plane
through the stations' (north, east and up), temperatures are carried to its height. How far the stations lie from that
plane tells how sure the blend is: that goes into
the spread of the freeze dates, and so into every chance. Weights, slopes and the error are fitted and measured by
tests/bench/station_fit.py on stations left out (knowledge/climate.toml, [blend]).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import sqrt
from typing import Any, Generic, NamedTuple, Protocol, TypeVar

from gardenmate.climate.freezes import (
    THRESHOLDS_F,
    Basis,
    Freeze,
    FreezeDate,
    FreezeFit,
    MinimumCurve,
    Side,
    arctic_outbreaks,
    estimate,
    freeze_fit,
    predictors,
)
from gardenmate.climate.nearby import distance_km
from gardenmate.climate.normals import daily_normals
from gardenmate.climate.site import (
    Regime,
    Site,
)
from gardenmate.climate.sites import completed, rare
from gardenmate.climate.stations import ANY_MONTH, Station
from gardenmate.core.place import PlaceNote, StationUse
from gardenmate.core.units import f_to_c
from gardenmate.science.local_fit import LocalFit, Sample, Slope, local_fit

_MOST = 0.5  # of the weight: what the larger part of the stations says holds for the spot
_TELL_HEIGHT = 5  # the heaviest stations tell whether the height of the garden matters (design value)
_SURE_SHARE = 0.7  # a town's own station with this share of the weight makes its dates published ones


class Spot(NamedTuple):
    """Where a climate is wanted: degrees, height in metres (None: not known), and the town, normalised."""

    lat: float
    lon: float
    elev_m: float | None = None
    town: str = ""


class Candidate(Protocol):
    """What can stand in a blend: a station not yet read."""

    @property
    def lat(self) -> float: ...
    @property
    def lon(self) -> float: ...
    @property
    def elev_m(self) -> float | None: ...
    @property
    def town(self) -> str: ...


C = TypeVar("C", bound=Candidate)


class Neighbour(NamedTuple, Generic[C]):
    """A candidate with its distance (km) and its share of the weight (0-1; all shares sum to 1)."""

    item: C
    km: float
    share: float


class Used(NamedTuple):
    """A station in a blend: its distance (km) and its share of the weight (0-1; all shares sum to 1)."""

    station: Station
    km: float
    share: float


class Sides(NamedTuple):
    """One figure for spring and one for fall."""

    spring: float
    fall: float


def weight(km: float, climb_m: float, own: bool, table: Mapping[str, Any]) -> float:
    """What a station counts at this distance and height apart; ``own``: it bears the name of the spot's town."""
    flat = 1.0 / (km + float(table["near_km"])) ** 2
    steep = 1.0 + (climb_m / float(table["climb_m"])) ** 2
    near = own and km <= float(table["own_km"]) and abs(climb_m) <= float(table["own_climb_m"])
    return (float(table["own_counts"]) if near else 1.0) * flat / steep


def choose(candidates: Sequence[C], spot: Spot, table: Mapping[str, Any]) -> list[Neighbour[C]]:
    """The stations that count most for a spot, at most ``most``, heaviest first. Those on the other side of the
    equator, or with next to no weight, are left out."""
    found = []
    for each in candidates:
        if (each.lat < 0) == (spot.lat < 0):
            km = distance_km(spot.lat, spot.lon, each.lat, each.lon)
            own = bool(spot.town) and each.town == spot.town
            found.append(Neighbour(each, km, weight(km, _climb(spot, each), own, table)))
    if not found:
        return []
    best = sorted(found, key=lambda u: -u.share)[: int(table["most"])]
    least, furthest = float(table["least_share"]) * best[0].share, float(table["furthest_km"])
    best = [u for u in best if u is best[0] or (u.share >= least and u.km <= furthest)]
    total = sum(u.share for u in best)
    return [u._replace(share=u.share / total) for u in best]


def _climb(spot: Spot, station: Candidate) -> float:
    """Metres from the station up to the spot; 0 while either height is not known."""
    return 0.0 if spot.elev_m is None or station.elev_m is None else spot.elev_m - station.elev_m


def height_of(used: Sequence[Used]) -> float | None:
    """The height the stations suggest for the spot (m), None when none of them has one."""
    known = [(u.share, u.station.elev_m) for u in used if u.station.elev_m is not None]
    total = sum(share for share, _ in known)
    return sum(share * height for share, height in known) / total if known else None


def slopes(lon: float, country: str, table: Mapping[str, Any]) -> Sides:
    """Days later in spring and in fall for 100 m up: steeper in the mountainous west of North America."""
    side = table["slopes_west" if _western(lon, country, table) else "slopes_elsewhere"]
    return Sides(float(side["spring"]), float(side["fall"]))


def _western(lon: float, country: str, table: Mapping[str, Any]) -> bool:
    """True in the mountainous west of North America."""
    return country in ("US", "CA") and lon < float(table["west_of_deg"])


def blended(
    used: Sequence[Used], spot: Spot, place: tuple[str, str, str], climate: Mapping[str, Any]
) -> Site:
    """The site of a spot from its stations; ``place`` is name, region and country, ``climate`` the parsed
    knowledge/climate.toml. Its note says which stations, and how sure the dates are."""
    name, region, country = place
    table = climate["blend"]
    low = _monthly(used, spot, [u.station.monthly_min_c for u in used], float(table["min_c_per_km"]))
    high = _monthly(used, spot, [u.station.monthly_max_c for u in used], float(table["max_c_per_km"]))
    fit = freeze_fit(climate, arctic_outbreaks(country, spot.lon))
    normal_min = daily_normals(low)
    curve = MinimumCurve(normal_min, spot.lat < 0)
    terms = predictors(spot.lat, spot.lon, country, low, high)
    guessed = {f: estimate(curve, fit, terms, f_to_c(f)) for f in THRESHOLDS_F}
    regime = _regime(used)
    rate = slopes(spot.lon, country, table)
    own = used[0].share >= _SURE_SHARE and used[0].station.kind == "d"
    basis: Basis = "published" if own else "estimated"
    spring, fall = (day_at(used, spot, w, climb, table) for w, climb in ((0, rate.spring), (2, rate.fall)))
    error = Sides(usual_error(used, spot, 0, spring, table), usual_error(used, spot, 2, fall, table))
    if regime == "frost-free":
        freezes: Mapping[int, Freeze] = {**guessed, 32: rare(guessed[32]), 28: rare(guessed[28])}
    else:
        dates = (
            _dated(spring, mean_spread(used, 1), error.spring, basis, curve, fit, fit.spring),
            _dated(fall, mean_spread(used, 3), error.fall, basis, curve, fit, fit.autumn),
        )
        freezes = _freezes(used, dates, curve, fit, guessed[32])
    return Site(
        name=name,
        region=region,
        country=country,
        lat=spot.lat,
        lon=spot.lon,
        elev_m=spot.elev_m if spot.elev_m is not None else height_of(used),
        normal_min_c=normal_min,
        normal_max_c=daily_normals(high),
        monthly_min_c=low,
        monthly_max_c=high,
        regime=regime,
        freezes=freezes,
        basis=basis,
        source_ids=_sources(used, climate),
        fit=fit,
        place=_note(name, region, used, spot, error),
    )


def _monthly(
    used: Sequence[Used], spot: Spot, means: Sequence[Sequence[float]], per_km: float
) -> tuple[float, ...]:
    """Twelve monthly means carried to the spot's height and blended, C."""
    moved = [per_km * _climb(spot, u.station) / 1000.0 for u in used]
    return tuple(
        sum(u.share * (t + step) for u, t, step in zip(used, month, moved, strict=True))
        for month in zip(*means, strict=True)
    )


def _regime(used: Sequence[Used]) -> Regime:
    if sum(u.share for u in used if u.station.kind == "r") >= _MOST:
        return "frost-free"
    any_month = sum(u.share for u in used if u.station.kind in ANY_MONTH)
    return "any-month" if any_month >= _MOST else "seasonal"


def _dated(
    found: LocalFit | None,
    spread: float | None,
    error: float,
    basis: Basis,
    curve: MinimumCurve,
    fit: FreezeFit,
    side: Side,
) -> FreezeDate | None:
    """A 32 F date with the spread of years (days, None: taken from the curve) and of stations."""
    if found is None:
        return None
    sd = spread if spread is not None else fit.spread_days(side, curve.steepness(found.value))
    return FreezeDate(found.value, sqrt(sd * sd + error * error), basis)


def _freezes(
    used: Sequence[Used],
    dates: tuple[FreezeDate | None, FreezeDate | None],
    curve: MinimumCurve,
    fit: FreezeFit,
    guess: Freeze,
) -> dict[int, Freeze]:
    """Freeze dates at all thresholds: the last and first at 32 F, the others as far from them as they are at the
    stations, or along the curve where these have none."""
    at_32 = Freeze(*dates, max(guess.share, 0.5))
    beside = {
        32: at_32,
        28: Freeze(_shifted(at_32.last_spring, used, 4, 0), _shifted(at_32.first_autumn, used, 5, 2)),
        36: Freeze(_shifted(at_32.last_spring, used, 6, 0), _shifted(at_32.first_autumn, used, 7, 2)),
    }
    return completed(at_32, beside, guess, curve, fit)


def day_at(
    used: Sequence[Used], spot: Spot, which: int, climb_days: float, table: Mapping[str, Any]
) -> LocalFit | None:
    """The figure ``which`` of the stations that have one (days), read at the spot from a plane through them: they
    say how it changes northward, eastward and, drawn to ``climb_days`` for 100 m, upward. None where none has it."""
    firm = table["firmness"]
    samples = [
        Sample(
            value,
            u.share,
            (u.station.lat - spot.lat, u.station.lon - spot.lon, -_climb(spot, u.station) / 100.0),
        )
        for u in used
        if (value := u.station.dates[which]) is not None
    ]
    level, up = Slope(0.0, float(firm["deg2"])), Slope(climb_days, float(firm["hundred_m2"]))
    return local_fit(samples, (level, level, up)) if samples else None


def mean_spread(used: Sequence[Used], which: int) -> float | None:
    """The spread ``which`` of the stations that have one (days), blended by their shares."""
    known = [(u.share, value) for u in used if (value := u.station.dates[which]) is not None]
    total = sum(share for share, _ in known)
    return sum(share * value for share, value in known) / total if known else None


def _shifted(at_32: FreezeDate | None, used: Sequence[Used], which: int, base: int) -> FreezeDate | None:
    """The date at another threshold: as many days from the 32 F one as at the stations that have both."""
    apart = [
        (u.share, value - start)
        for u in used
        if (value := u.station.dates[which]) is not None and (start := u.station.dates[base]) is not None
    ]
    total = sum(share for share, _ in apart)
    if at_32 is None or total < _MOST:
        return None
    return at_32._replace(offset_days=at_32.offset_days + sum(share * days for share, days in apart) / total)


def usual_error(
    used: Sequence[Used], spot: Spot, which: int, found: LocalFit | None, table: Mapping[str, Any]
) -> float:
    """Usual error (sd, days) of the 32 F date ``found``, from how far its stations lie from their plane and from the
    spot; 0 where there is no date."""
    if found is None:
        return 0.0
    side = table["error_spring" if which == 0 else "error_fall"]
    km = sum(u.share * u.km for u in used)
    near, per_spread = float(side["near"]), float(side["per_spread"])
    if _western(spot.lon, used[0].station.country, table):
        others = sum(u.share for u in used if u.station.town != spot.town)
        near += (float(side["near_west"]) - near) * others
        per_spread = float(side["per_spread_west"])
    squared = near + per_spread * found.variance + float(side["per_km"]) * km
    return float(min(sqrt(squared), float(table["error_most_days"])))


def _sources(used: Sequence[Used], climate: Mapping[str, Any]) -> tuple[str, ...]:
    table = climate["station_sources"]
    countries = dict.fromkeys(u.station.country for u in used)
    ids = [i for c in countries for i in table.get(c, table["*"])]
    return tuple(dict.fromkeys((*ids, "own-fit-to-bundled-places")))


def _note(name: str, region: str, used: Sequence[Used], spot: Spot, error: Sides) -> PlaceNote:
    first = used[0]
    heights = [u.station.elev_m for u in used[:_TELL_HEIGHT] if u.station.elev_m is not None]
    return PlaceNote(
        name=f"{name}, {region}" if region else name,
        station=first.station.label,
        km=first.km,
        height_difference_m=None
        if spot.elev_m is None or first.station.elev_m is None
        else spot.elev_m - first.station.elev_m,
        spread_days=max(error.spring, error.fall),
        stations=tuple(
            StationUse(
                u.station.label,
                u.km,
                None if spot.elev_m is None or u.station.elev_m is None else spot.elev_m - u.station.elev_m,
                u.share,
            )
            for u in used
        ),
        heights_apart_m=max(heights) - min(heights) if heights else 0.0,
        side_errors=(error.spring, error.fall),
    )
