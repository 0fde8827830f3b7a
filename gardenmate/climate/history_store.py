"""How an imported weather record is kept beside the garden file.

One small file: a line that names the format, a line of JSON (station, first year, checksum), then the minima
and the maxima as little-endian 16-bit tenths of degrees C.
"""

from __future__ import annotations

import json
import os
import sys
import zlib
from array import array
from collections.abc import Mapping
from pathlib import Path

from gardenmate.climate.history import YEAR_CELLS, History
from gardenmate.core.errors import DamagedFileError, GardenmateError
from gardenmate.core.files import make_folder, refuse_odd, replace

FIRST_YEAR, LAST_YEAR = 1700, 2200  # years a record may hold; design value
LATITUDES, LONGITUDES = (-90.0, 90.0), (-180.0, 180.0)
HEIGHTS_M = (-430.0, 9000.0)  # metres: from the Dead Sea to above any garden
_MAGIC = b"gardenmate weather 1\n"


def weather_path(garden_file: Path) -> Path:
    """Where the weather record of a garden file is kept: beside it, with its name."""
    return garden_file.with_suffix(".weather")


def save(history: History, path: Path) -> None:
    """Write a history beside the garden, in one step: an interrupted write leaves the old file."""
    payload = b"".join(_little_endian(cells) for cells in (history.min_tenths, history.max_tenths))
    header = {
        "station": history.station,
        "name": history.name,
        "lat": history.lat,
        "lon": history.lon,
        "elev_m": history.elev_m,
        "source": history.source,
        "first_year": history.first_year,
        "cells": len(history.min_tenths),
        "crc32": zlib.crc32(payload),
    }
    path = Path(os.path.realpath(path))  # a link stays a link
    try:
        make_folder(path.parent)
        replace(path, _MAGIC + json.dumps(header, allow_nan=False).encode() + b"\n" + payload)
    except OSError as error:
        raise GardenmateError(
            f"The weather record {path} cannot be written: {error.strerror or error}. It is as it was."
        ) from error


def load(path: Path) -> History | None:
    """The stored history; None when there is no file. Raises DamagedFileError when it does not read."""
    try:
        refuse_odd(Path(os.path.realpath(path)))
        data = path.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise DamagedFileError(f"Cannot read {path}: {error.strerror or error}.") from error
    return parse(data, path)


def parse(data: bytes, path: Path) -> History:
    """The history in the bytes of a record that stand, or stood, in ``path``. Raises DamagedFileError."""
    again = f"Import the weather file again, or delete {path}."
    try:
        if not data.startswith(_MAGIC):
            raise ValueError("it does not begin as a weather record")
        end = data.index(b"\n", len(_MAGIC))
        header: Mapping[str, object] = json.loads(data[len(_MAGIC) : end])
        payload = data[end + 1 :]
        cells = header["cells"]
        if not isinstance(cells, int) or cells % YEAR_CELLS or len(payload) != 4 * cells:
            raise ValueError("it is cut short")
        if zlib.crc32(payload) != header["crc32"]:
            raise ValueError("its content has changed")
        first_year = int(str(header["first_year"]))
        if not FIRST_YEAR <= first_year <= first_year + cells // YEAR_CELLS - 1 <= LAST_YEAR:
            raise ValueError("its years cannot be")
        return History(
            station=str(header["station"]),
            first_year=first_year,
            min_tenths=_from_little_endian(payload[: 2 * cells]),
            max_tenths=_from_little_endian(payload[2 * cells :]),
            name=str(header["name"]),
            lat=_number(header["lat"], LATITUDES),
            lon=_number(header["lon"], LONGITUDES),
            elev_m=_number(header["elev_m"], HEIGHTS_M),
            source=str(header["source"]),
        )
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise DamagedFileError(f"The stored weather record {path} is damaged ({error}). {again}") from error


def _number(value: object, within: tuple[float, float]) -> float | None:
    if value is None:
        return None
    low, high = within
    if not isinstance(value, int | float) or not low <= value <= high:
        raise ValueError(f"{str(value)[:20]} is not from {low:g} to {high:g}")
    return float(value)


def _little_endian(cells: array[int]) -> bytes:
    if sys.byteorder == "big":
        cells = array("h", cells)
        cells.byteswap()
    return cells.tobytes()


def _from_little_endian(data: bytes) -> array[int]:
    cells = array("h")
    cells.frombytes(data)
    if sys.byteorder == "big":
        cells.byteswap()
    return cells
