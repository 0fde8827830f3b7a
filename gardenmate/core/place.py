"""Which place an answer was worked for, from which climate stations, and how sure that is."""

from __future__ import annotations

from datetime import date
from typing import Literal

from gardenmate.records import NamedTuple


class StationUse(NamedTuple):
    """A station a site is made from: how far (km), how much higher the spot lies (m; None: not known), and its
    share of the weight (0-1)."""

    label: str
    km: float
    climb_m: float | None
    share: float


Called = Literal["last", "first"]
"""What a frost is called: the last of its spring, or the first of its autumn."""


class FrostSeen(NamedTuple):
    """A frost or a morning's reading the grower told. ``temp_c``: the minimum read (None: a frost, no figure);
    ``called``: the last of its spring or the first of its autumn, None where not said; ``entry`` numbers the report."""

    on: date
    temp_c: float | None = None
    called: Called | None = None
    entry: int = 0


HeightFrom = Literal["station", "told", "map", "guess"]
"""Where a site's height comes from: the record's own, the grower, a gazetteer, or the stations round it."""


class PlaceNote(NamedTuple):
    """Which place a site stands for and how sure its dates are.

    ``station`` is the one that counts most, ``km`` away and ``height_difference_m`` below the spot;
    ``spread_days`` the usual error (sd) of the frost dates here, beside their change from year to year;
    ``own``: they are the grower's own or from an imported record. ``heights_apart_m``: how far the heights of
    the stations differ. ``side_errors``: the usual error of the last and of the first frost, where they are known
    apart.
    """

    name: str
    station: str
    km: float
    height_difference_m: float | None
    spread_days: float
    own: bool = False
    stations: tuple[StationUse, ...] = ()
    heights_apart_m: float = 0.0
    height_from: HeightFrom = "station"
    side_errors: tuple[float, float] | None = None
