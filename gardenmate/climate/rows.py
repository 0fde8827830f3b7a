"""The bundled places of knowledge/places.csv, read once."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from gardenmate.climate.place_names import PlaceRow
from gardenmate.core.errors import DamagedFileError
from gardenmate.knowledge.facts import Facts


def place_rows(facts: Facts) -> tuple[PlaceRow, ...]:
    """The rows of places.csv, read once."""
    return read_rows(facts.root / "places.csv")


@lru_cache(maxsize=2)
def read_rows(path: Path) -> tuple[PlaceRow, ...]:
    """The rows of places.csv: the first six fields read, the rest kept as text.

    Raises DamagedFileError naming the line.
    """
    try:
        lines = path.read_text("utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise DamagedFileError(f"Cannot read {path}: {error}.") from error
    if not lines:
        raise DamagedFileError(f"{path} is damaged: it is empty.")
    rows: list[PlaceRow] = []
    for number, line in enumerate(lines[1:], start=2):
        fields = line.split(",", 6)
        try:
            name, region, country, lat, lon, elev, rest = fields
            height = float(elev) if elev else None
            rows.append(PlaceRow(name, region, country, float(lat), float(lon), height, rest))
        except ValueError as error:
            raise DamagedFileError(f"{path}, line {number}: not a place ({error}).") from error
    return tuple(rows)
