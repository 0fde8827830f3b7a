"""The garden file as a `Garden`: which keys it may have, and what they mean.

[place]        name, lat, lon, elevation_m, low_spot_c
[frost]        last = "05-12", first = "09-20" (month-day of the average year), risk = 0.1
[gear]         mat = 1, lamp = 2, ...
[frame]        width_m, length_m, height_m, glazing, insulated, opener, gain_factor, night_offset_c
[plants.ID]    planted = 2022, kind, count
[household]    people
[crops]        wanted = ["leek", ...]
[varieties.KEY] name = "Glacier", crop = "tomato", days = 55, kind
[beds.KEY]     name = "bed 2", note
[gardens.KEY]  name = "camp", place, elevation_m, last = "06-15", first = "08-30"
[preferences]  units = "us" | "metric", and anything else as text or number
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any, TypeVar, cast

from gardenmate.core.units import Units
from gardenmate.garden.profile import Bed, Frame, Garden, OtherGarden, Plant, Variety
from gardenmate.knowledge.reader import fault

T = TypeVar("T")
LONGEST_TEXT = 200
"""Letters of a name in the garden file (design value)."""
SECTIONS = (
    "place",
    "frost",
    "gear",
    "frame",
    "plants",
    "household",
    "crops",
    "varieties",
    "beds",
    "gardens",
    "preferences",
)
_PLACE_KEYS = ("name", "lat", "lon", "elevation_m", "low_spot_c")
_FROST_KEYS = ("last", "first", "risk")
_PLANT_KEYS = ("planted", "kind", "count")
_FRAME_KEYS = Frame._fields


def garden_of(data: Mapping[str, Any], path: Path) -> Garden:
    """The garden that parsed TOML describes. Raises DamagedFileError naming file, line and key."""
    _only(data, SECTIONS, path, "")
    place = _section(data, "place", _PLACE_KEYS, path)
    frost = _section(data, "frost", _FROST_KEYS, path)
    gear = _section(data, "gear", None, path)
    household = _section(data, "household", ("people",), path)
    crops = _section(data, "crops", ("wanted",), path)
    prefs = dict(_section(data, "preferences", None, path))
    units = prefs.pop("units", None)
    if units not in (None, "us", "metric"):
        raise fault(path, "preferences.units", f'should be "us" or "metric", not {_short(units)}')
    return Garden(
        place=_get(place, "name", _text, path),
        lat=_get(place, "lat", _within(-90, 90), path),
        lon=_get(place, "lon", _within(-180, 180), path),
        elevation_m=_get(place, "elevation_m", _within(-430, 9000), path),
        low_spot_c=_get(place, "low_spot_c", _within(-15, 15), path) or 0.0,
        last_frost=_get(frost, "last", _month_day, path),
        first_frost=_get(frost, "first", _month_day, path),
        frost_risk=_get(frost, "risk", _within(0.001, 0.999), path),
        units=cast("Units | None", units),
        people=_get(household, "people", _whole(1, 10_000), path),
        gear={name: _need(gear, name, _amount, path) for name in gear},
        frame=_frame(_section(data, "frame", _FRAME_KEYS, path), path),
        plants=_plants(_section(data, "plants", None, path), path),
        wanted=_get(crops, "wanted", _names, path) or (),
        prefs={name: _preference(value, name, path) for name, value in prefs.items()},
        varieties=_named(data, "varieties", Variety._fields, _variety, path),
        beds=_named(data, "beds", Bed._fields, _bed, path),
        gardens=_named(data, "gardens", _GARDEN_KEYS, _other_garden, path),
    )


_GARDEN_KEYS = ("name", "place", "elevation_m", "last", "first")


def _named(
    data: Mapping[str, Any],
    section: str,
    keys: tuple[str, ...],
    read: Callable[[str, Mapping[str, Any], Path], T],
    path: Path,
) -> dict[str, T]:
    """A section of named tables such as [varieties.glacier], each read by ``read``."""
    found = {}
    for key, entry in _section(data, section, None, path).items():
        if not isinstance(entry, Mapping):
            raise fault(path, f"{section}.{key}", f"should be a section such as [{section}.{key}]")
        _only(entry, keys, path, f"{section}.{key}.")
        found[key] = read(key, entry, path)
    return found


def _variety(key: str, entry: Mapping[str, Any], path: Path) -> Variety:
    return Variety(
        name=_get(entry, "name", _text, path) or key,
        crop=_get(entry, "crop", _text, path) or "",
        days=_get(entry, "days", _whole(10, 400), path),
        kind=_get(entry, "kind", _text, path),
    )


def _bed(key: str, entry: Mapping[str, Any], path: Path) -> Bed:
    return Bed(name=_get(entry, "name", _text, path) or key, note=_get(entry, "note", _text, path) or "")


def _other_garden(key: str, entry: Mapping[str, Any], path: Path) -> OtherGarden:
    return OtherGarden(
        name=_get(entry, "name", _text, path) or key,
        place=_get(entry, "place", _text, path),
        elevation_m=_get(entry, "elevation_m", _within(-430, 9000), path),
        last_frost=_get(entry, "last", _month_day, path),
        first_frost=_get(entry, "first", _month_day, path),
    )


def _frame(table: Mapping[str, Any], path: Path) -> Frame:
    length = _within(0.05, 100)
    return Frame(
        width_m=_get(table, "width_m", length, path),
        length_m=_get(table, "length_m", length, path),
        height_m=_get(table, "height_m", length, path),
        glazing=_get(table, "glazing", _text, path),
        insulated=_get(table, "insulated", _flag, path),
        opener=_get(table, "opener", _flag, path),
        gain_factor=_default(_get(table, "gain_factor", _within(0.05, 20), path), 1.0),
        night_offset_c=_default(_get(table, "night_offset_c", _within(-15, 15), path), 0.0),
    )


def _plants(table: Mapping[str, Any], path: Path) -> tuple[Plant, ...]:
    found = []
    for name, entry in table.items():
        if not isinstance(entry, Mapping):
            raise fault(path, f"plants.{name}", "should be a section such as [plants.elderberry]")
        _only(entry, _PLANT_KEYS, path, f"plants.{name}.")
        found.append(
            Plant(
                id=name,
                kind=_get(entry, "kind", _text, path),
                planted_year=_get(entry, "planted", _whole(1500, 9999), path),
                count=_get(entry, "count", _whole(1, 1_000_000), path),
            )
        )
    return tuple(found)


# -- sections and values ------------------------------------------------------------------------------
def _short(value: Any) -> str:
    """A value as it is shown: not a screenful of it."""
    said = repr(value)
    return said if len(said) <= 40 else f"{said[:40]}..."


def _section(
    data: Mapping[str, Any], name: str, keys: tuple[str, ...] | None, path: Path
) -> Mapping[str, Any]:
    table = data.get(name, {})
    if not isinstance(table, Mapping):
        raise fault(path, name, f"should be a section [{name}]")
    if keys is not None:
        _only(table, keys, path, f"{name}.")
    return table


def _only(table: Mapping[str, Any], keys: tuple[str, ...], path: Path, prefix: str) -> None:
    unknown = sorted(set(table) - set(keys))
    if unknown:
        raise fault(path, prefix + unknown[0][:60], f"is not one of {', '.join(keys)}")


def _get(table: Mapping[str, Any], key: str, read: Callable[[Any], T], path: Path) -> T | None:
    return None if key not in table else _need(table, key, read, path)


def _need(table: Mapping[str, Any], key: str, read: Callable[[Any], T], path: Path) -> T:
    try:
        return read(table[key])
    except OverflowError as error:
        raise fault(path, key, "is far too large a number") from error
    except (ValueError, TypeError) as error:
        raise fault(path, key, str(error)) from error


def _default(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError(f"should be text in quotes, not {_short(value)}")
    if len(value) > LONGEST_TEXT:
        raise ValueError(f"is longer than {LONGEST_TEXT} letters")
    return value


def _flag(value: Any) -> bool:
    if not isinstance(value, bool):
        raise TypeError(f"should be true or false, not {_short(value)}")
    return value


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or value != value:
        raise TypeError(f"should be a number, not {_short(value)}")
    return float(value)


def _amount(value: Any) -> float:
    """How many of a piece of gear: true is one, false none."""
    amount = float(value) if isinstance(value, bool) else _number(value)
    if not 0 <= amount <= 1_000_000:
        raise ValueError(f"should be a number from 0 up, not {_short(value)}")
    return amount


def _within(low: float, high: float) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        number = _number(value)
        if not low <= number <= high:
            raise ValueError(f"should be from {low:g} to {high:g}, not {number:g}")
        return number

    return read


def _whole(low: int, high: int) -> Callable[[Any], int]:
    def read(value: Any) -> int:
        number = _number(value)
        if not low <= number <= high or number != int(number):
            raise ValueError(f"should be a whole number from {low} to {high}, not {number:g}")
        return int(number)

    return read


def _month_day(value: Any) -> tuple[int, int]:
    if isinstance(value, date):
        return value.month, value.day
    month, _, day = str(value).partition("-")
    try:
        found = date(2000, int(month), int(day))
    except (ValueError, OverflowError):
        raise ValueError(f'should be a month and day such as "05-12", not {_short(value)}') from None
    return found.month, found.day


def _names(value: Any) -> tuple[str, ...]:
    if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
        raise TypeError(f'should be a list of names such as ["leek"], not {_short(value)}')
    return tuple(value)


def _preference(value: Any, key: str, path: Path) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return f"{value:g}"
    if isinstance(value, date | str):
        return str(value)
    raise fault(path, key, f"should be text or a number, not {_short(value)}")
