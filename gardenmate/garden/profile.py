"""The grower's garden as rules see it: place, own frost dates, gear, plants, household, preferences."""

from __future__ import annotations

from collections.abc import Mapping

from gardenmate.core.units import Units
from gardenmate.records import NamedTuple, dataclass, field


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


class Variety(NamedTuple):
    """A variety the grower grows: its name, crop (contract id), days to maturity where told, and the crop's kind."""

    name: str
    crop: str
    days: int | None = None
    kind: str | None = None


class Bed(NamedTuple):
    """A bed, tray or other part of the garden, and what was told of it ("4 x 8 ft", "a bog")."""

    name: str
    note: str = ""


class OtherGarden(NamedTuple):
    """Another garden of the grower's: its name ("camp"), place, height (m) and own frost dates (month, day)."""

    name: str
    place: str | None = None
    elevation_m: float | None = None
    last_frost: tuple[int, int] | None = None
    first_frost: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Garden:
    """Everything the grower told about the garden; every part may be missing.

    ``last_frost`` / ``first_frost`` are the grower's own average dates as (month, day). ``gear`` maps a
    piece of gear (mat, lamp, frame, tunnel, fleece, cloche, greenhouse) to how many or how large it is, as
    typed numbers ("2" LED shelves -> 2.0) - presence is what most rules ask. ``wanted`` are the crops the
    grower wants to grow. ``prefs`` holds the rest as text (tariff per kWh, time rate). ``varieties`` by name,
    ``beds`` and other ``gardens`` by their names.
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
    varieties: Mapping[str, Variety] = field(default_factory=dict)
    beds: Mapping[str, Bed] = field(default_factory=dict)
    gardens: Mapping[str, OtherGarden] = field(default_factory=dict)

    def varieties_of(self, crop: str) -> tuple[Variety, ...]:
        """The varieties told of a crop (contract id), in the order told."""
        return tuple(v for v in self.varieties.values() if v.crop == crop)

    def variety_for(self, crop: str) -> Variety | None:
        """The variety that holds for a crop: the only one told, or the only one with days; None else."""
        found = self.varieties_of(crop)
        timed = [v for v in found if v.days is not None]
        return found[0] if len(found) == 1 else timed[0] if len(timed) == 1 else None

    def has(self, gear: str) -> bool:
        """True when the grower said they have this piece of gear."""
        return self.gear.get(gear, 0.0) > 0


NO_GARDEN = Garden()
