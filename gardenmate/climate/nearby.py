"""A climate for a spot that has no record of its own: from the records round it, while they are near enough.

Close by, the nearest record stands for the spot. Further off several are blended, the nearer the weightier;
beyond a few hundred kilometres, across the equator or a mountain's height away nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import asin, cos, radians, sin, sqrt
from typing import Any, NamedTuple

from gardenmate.climate.place_names import PlaceRow
from gardenmate.climate.site import Freeze, FreezeDate, Site
from gardenmate.core.errors import FarPlaceError

EARTH_KM = 6371.0


class Near(NamedTuple):
    """A record near a spot: how far (km), and how far it counts, with the height between them."""

    row: PlaceRow
    km: float
    effort_km: float


def distance_km(lat1: float, lon1: float, lat2: float, lon2: float) -> float:
    """Great-circle distance, km (haversine)."""
    a = sin(radians(lat2 - lat1) / 2) ** 2
    a += cos(radians(lat1)) * cos(radians(lat2)) * sin(radians(lon2 - lon1) / 2) ** 2
    return 2.0 * EARTH_KM * asin(min(1.0, sqrt(a)))


def records_near(
    rows: Sequence[PlaceRow], lat: float, lon: float, elev_m: float | None, table: Mapping[str, Any]
) -> list[Near]:
    """The records on the same side of the equator, best first; height counts as distance where known."""
    per_m = float(table["km_per_100_m"]) / 100.0
    found: list[Near] = []
    for row in rows:
        if (row.lat < 0) == (lat < 0):
            km = distance_km(lat, lon, row.lat, row.lon)
            climb = 0.0 if elev_m is None or row.elev_m is None else abs(elev_m - row.elev_m)
            found.append(Near(row, km, km + climb * per_m))
    return sorted(found, key=lambda n: n.effort_km)


def must_be_near(name: str, best: Near, elev_m: float | None, table: Mapping[str, Any]) -> None:
    """FarPlaceError where the best record is no guide to the spot: too far, or much higher or lower."""
    climb = 0.0 if elev_m is None or best.row.elev_m is None else abs(elev_m - best.row.elev_m)
    if best.km <= float(table["furthest_km"]) and climb <= float(table["furthest_climb_m"]):
        return
    away = f"{best.km:.0f} km ({best.km / 1.609344:.0f} miles) away"
    if best.km <= float(table["furthest_km"]):
        away += f" and {climb:.0f} m higher or lower"
    raise FarPlaceError(
        f"I have no climate record near {name}: the nearest one on its side of the equator is "
        f"{best.row.label}, {away}, which would be another climate. Tell me your own average frost dates "
        "('my last frost is 20 May and my first frost is 25 September', or --last-frost 05-20 --first-frost "
        "09-25), give the latitude and longitude of a garden nearer to a record, or import a station's daily "
        "weather (gardenmate import-weather FILE)."
    )


def to_blend(near: Sequence[Near], table: Mapping[str, Any]) -> list[Near]:
    """The records that are blended: only the best where it is close, else up to three not much further."""
    best = near[0]
    if best.effort_km <= float(table["blend_from_km"]):
        return [best]
    reach, furthest = float(table["blend_reach"]) * best.effort_km, float(table["furthest_km"])
    alike = [n for n in near if n is best or (n.effort_km <= reach and n.km <= furthest)]
    alike = [n for n in alike if _climb(n.row, best.row) <= float(table["blend_climb_m"])]
    return alike[: int(table["blend_most"])]


def _climb(row: PlaceRow, other: PlaceRow) -> float:
    return 0.0 if row.elev_m is None or other.elev_m is None else abs(row.elev_m - other.elev_m)


def blended(sites: Sequence[Site], near: Sequence[Near]) -> Site:
    """The first site with normals, height and freeze dates weighted by the inverse square of the distance."""
    first = sites[0]
    if len(sites) == 1:
        return first
    raw = [1.0 / max(n.effort_km, 1.0) ** 2 for n in near]
    weights = [w / sum(raw) for w in raw]

    def mixed(lists: Sequence[Sequence[float]]) -> tuple[float, ...]:
        return tuple(
            sum(w * v for w, v in zip(weights, day, strict=True)) for day in zip(*lists, strict=True)
        )

    heights = [s.elev_m for s in sites]
    known = [h for h in heights if h is not None]
    height = None if len(known) < len(sites) else sum(w * h for w, h in zip(weights, known, strict=True))
    return replace(
        first,
        normal_min_c=mixed([s.normal_min_c for s in sites]),
        normal_max_c=mixed([s.normal_max_c for s in sites]),
        monthly_min_c=mixed([s.monthly_min_c for s in sites]),
        monthly_max_c=mixed([s.monthly_max_c for s in sites]),
        freezes={f: _freeze([s.freezes[f] for s in sites], weights) for f in first.freezes},
        elev_m=height,
        basis="estimated",
        source_ids=tuple(dict.fromkeys(i for s in sites for i in s.source_ids)),
    )


def last_frosts_apart(sites: Sequence[Site]) -> float:
    """Days between the earliest and the latest average last frost of these records; 0 where none has one."""
    days = [d.offset_days for s in sites if (d := s.freezes[32].last_spring) is not None]
    return max(days) - min(days) if days else 0.0


def _freeze(freezes: Sequence[Freeze], weights: Sequence[float]) -> Freeze:
    return Freeze(
        _date([f.last_spring for f in freezes], weights),
        _date([f.first_autumn for f in freezes], weights),
        sum(w * f.share for w, f in zip(weights, freezes, strict=True)),
    )


def _date(dates: Sequence[FreezeDate | None], weights: Sequence[float]) -> FreezeDate | None:
    """The weighted date; none where the best record has none, for there frost is too rare to date."""
    if dates[0] is None:
        return None
    known = [(w, d) for w, d in zip(weights, dates, strict=True) if d is not None]
    total = sum(w for w, _ in known)
    return FreezeDate(
        sum(w * d.offset_days for w, d in known) / total,
        sum(w * d.sd_days for w, d in known) / total,
        "estimated",
    )
