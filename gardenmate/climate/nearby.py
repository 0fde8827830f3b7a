"""How far two spots lie apart, and how far a climate record still speaks for a spot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import asin, cos, radians, sin, sqrt
from typing import Any, Protocol

from gardenmate.core.errors import FarPlaceError
from gardenmate.core.units import plural

EARTH_KM = 6371.0  # mean radius (IUGG)


class _Spot(Protocol):
    @property
    def elev_m(self) -> float | None: ...


def distance_km(lat1: float, lon1: float, lat2: float, lon2: float) -> float:
    """Great-circle distance, km (haversine)."""
    a = sin(radians(lat2 - lat1) / 2) ** 2
    a += cos(radians(lat1)) * cos(radians(lat2)) * sin(radians(lon2 - lon1) / 2) ** 2
    return 2.0 * EARTH_KM * asin(min(1.0, sqrt(a)))


def must_be_near(
    name: str, spot: _Spot, records: Sequence[tuple[str, float, float | None]], table: Mapping[str, Any]
) -> None:
    """FarPlaceError where the best record is no guide to the spot: too far, or much higher or lower.

    ``records``: label, distance (km) and height (m) of those that count, best first.
    """
    if not records:
        raise FarPlaceError(f"I have no climate record near {name}. {_INSTEAD}")
    label, km, height = records[0]
    climb = 0.0 if spot.elev_m is None or height is None else abs(spot.elev_m - height)
    if km <= float(table["furthest_km"]) and climb <= float(table["furthest_climb_m"]):
        return
    away = f"{far(km)} away"
    if km <= float(table["furthest_km"]):
        away += f" and {climb:.0f} m higher or lower"
    raise FarPlaceError(
        f"I have no climate record near {name}: the nearest one on its side of the equator is {label}, {away}, "
        f"which would be another climate. {_INSTEAD}"
    )


def far(km: float) -> str:
    """A distance in both units: "25 km (16 miles)"."""
    return f"{km:.0f} km ({plural(round(km / 1.609344), 'mile')})"


_INSTEAD = (
    "Tell me your own average frost dates ('my last frost is 20 May and my first frost is 25 September', or "
    "--last-frost 05-20 --first-frost 09-25), give the latitude and longitude of a garden nearer to a record, or "
    "import a station's daily weather (gardenmate import-weather FILE)."
)
