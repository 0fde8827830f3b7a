"""The grower's garden as rules see it: place, own frost dates, gear, plants, household, preferences."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from gardenmate.core.units import Units


@dataclass(frozen=True, slots=True)
class Plant:
    """A woody or perennial plant of the garden: its plant id, kind, and the year it was planted."""

    id: str
    kind: str | None = None
    planted_year: int | None = None
    count: int | None = None


class Frame(NamedTuple):
    """The grower's cold frame, as far as known. Lengths in metres.

    ``glazing`` is an id of knowledge/protection.toml (glass, twin-wall-6 ...). ``gain_offset_c`` is the
    calibration learned from the grower's own inside readings (degrees C added to the computed rise).
    """

    width_m: float | None = None
    length_m: float | None = None
    height_m: float | None = None
    glazing: str | None = None
    insulated: bool | None = None
    opener: bool | None = None
    gain_factor: float = 1.0
    night_offset_c: float = 0.0


@dataclass(frozen=True, slots=True)
class Garden:
    """Everything the grower told about the garden; every part may be missing.

    ``last_frost`` / ``first_frost`` are the grower's own average dates as (month, day). ``gear`` maps a
    piece of gear (mat, lamp, frame, tunnel, fleece, cloche, greenhouse) to how many or how large it is, as
    typed numbers ("2" LED shelves -> 2.0) - presence is what most rules ask. ``wanted`` are the crops the
    grower wants to grow. ``prefs`` holds the rest as text (tariff per kWh, time rate, dtm of a variety).
    """

    place: str | None = None
    lat: float | None = None
    lon: float | None = None
    elevation_m: float | None = None
    last_frost: tuple[int, int] | None = None
    first_frost: tuple[int, int] | None = None
    units: Units | None = None
    people: int | None = None
    frost_risk: float | None = None
    low_spot_c: float = 0.0
    gear: Mapping[str, float] = field(default_factory=dict)
    frame: Frame = field(default_factory=Frame)
    plants: tuple[Plant, ...] = ()
    wanted: tuple[str, ...] = ()
    prefs: Mapping[str, str] = field(default_factory=dict)

    def has(self, gear: str) -> bool:
        """True when the grower said they have this piece of gear."""
        return self.gear.get(gear, 0.0) > 0


NO_GARDEN = Garden()
