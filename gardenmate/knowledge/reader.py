"""Reads one TOML fact file into frozen dataclasses, naming file, line and key when something is wrong.

Figures are written as published (degrees F, inches, pounds, feet); fields named for internal units are
converted on the way in: a field `min_soil_sow_c` is filled from the key `min_soil_sow_f`, and so on (see
`CONVERSIONS`).
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, TypeVar, get_args, get_origin

from gardenmate.core.errors import DamagedFileError
from gardenmate.core.units import (
    FT_M,
    INCH_CM,
    LB_PER_KG,
    OZ_G,
    f_to_c,
)
from gardenmate.knowledge import compiled
from gardenmate.records import MISSING, fields

T = TypeVar("T")


class Sources(tuple[str, ...]):
    """Ids of sources.toml behind a record, each once, in order; `of` are those behind single figures of it.

    A fact file says either ``sources = ["id"]``, one id that holds for every figure of the section, or figure
    by figure ``sources.days = ["id"]``.
    """

    by_figure: Mapping[str, tuple[str, ...]]

    def __new__(
        cls, ids: Iterable[str] = (), by_figure: Mapping[str, tuple[str, ...]] | None = None
    ) -> Sources:
        made = super().__new__(cls, dict.fromkeys(ids))
        made.by_figure = by_figure or {}
        return made

    def of(self, *figures: str) -> Sources:
        """The ids behind the figures named (fields of the record, or keys of the file), each once; those of
        the whole section for a figure without ids of its own."""
        found = [i for f in figures for i in self.by_figure.get(f, () if self.by_figure else self)]
        return Sources(found)

    @classmethod
    def read(cls, value: Any) -> Sources:
        """What stands under ``sources`` in a file. Raises TypeError for anything else."""
        if isinstance(value, Sources):
            return value
        if isinstance(value, Mapping):
            by = {str(figure): _ids(ids) for figure, ids in value.items()}
            return cls((i for ids in by.values() for i in ids), by)
        return cls(_ids(value))


def _ids(value: Any) -> tuple[str, ...]:
    if not isinstance(value, list | tuple) or not all(isinstance(i, str) for i in value):
        raise TypeError
    return tuple(value)


def with_sources(table: dict[str, Any]) -> dict[str, Any]:
    """The table of a fact file, the ``sources`` of every section in it read as `Sources`."""
    return {key: _deeper(value) for key, value in table.items()}


def _deeper(value: Any) -> Any:
    if isinstance(value, dict):
        return {k: Sources.read(v) if k == "sources" else _deeper(v) for k, v in value.items()}
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return [_deeper(item) for item in value]
    return value


Range = tuple[float, float]
Curve = tuple[tuple[float, float], ...]

# ending of the field -> (ending of the key in the file, conversion)
CONVERSIONS: tuple[tuple[str, str, Callable[[float], float]], ...] = (
    ("_kg_per_m", "_lb_per_10ft", lambda v: v / LB_PER_KG / (10 * FT_M)),
    ("_kg_per_plant", "_lb_per_plant", lambda v: v / LB_PER_KG),
    ("_per_m", "_per_10ft", lambda v: v / (10 * FT_M)),
    ("seeds_per_g", "seeds_per_oz", lambda v: v / OZ_G),
    ("_cm", "_in", lambda v: v * INCH_CM),
    ("_c", "_f", f_to_c),
)


def data_root() -> Path:
    """The folder that holds knowledge/ and transcripts_demo/: the package's own, else the checkout's."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "_data"
    return inside if inside.is_dir() else package.parent


def read_text(path: Path) -> str:
    """A text file as UTF-8. Raises DamagedFileError naming the file."""
    try:
        return _read_bytes(path).decode("utf-8")
    except UnicodeDecodeError as error:
        raise DamagedFileError(f"{path} is damaged: {error}.") from error


def _read_bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise DamagedFileError(f"Cannot read {path}: {error.strerror or error}.") from error


def read_toml(path: Path) -> dict[str, Any]:
    """One TOML file as a dict. Raises DamagedFileError naming file and line."""
    raw = _read_bytes(path)
    ready = compiled.lookup(path, raw)
    if ready is not None:
        return ready
    import tomllib

    try:
        return tomllib.loads(raw.decode("utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise DamagedFileError(f"{path} is damaged: {error}.") from error


def line_of(path: Path, key: str) -> int:
    """The first line (from 1) on which ``key`` is set, 0 when it is not found."""
    try:
        lines = path.read_text("utf-8", errors="replace").splitlines()
    except OSError:
        return 0
    for number, line in enumerate(lines, start=1):
        if line.split("=")[0].strip().strip('"') == key or line.strip().strip("[]") == key:
            return number
    return 0


def fault(path: Path, key: str, problem: str) -> DamagedFileError:
    """An error that names the file, the line and the key."""
    line = line_of(path, key.split(".")[-1])
    where = f"{path}, line {line}" if line else str(path)
    return DamagedFileError(f"{where}: '{key}' {problem}.")


def build(cls: type[T], table: Mapping[str, Any], path: Path, prefix: str = "") -> T:
    """Fill the dataclass or named tuple ``cls`` from a TOML table, converting units.

    Unknown or missing keys are faults.
    """
    kind: type = cls
    hints = _hints(kind)
    values: dict[str, Any] = {}
    known: set[str] = set()
    keys: dict[str, str] = {}
    for name, needed in _fields(kind):
        key, convert = _key_for(name, table)
        known.add(key)
        if key not in table:
            if needed:
                raise fault(path, prefix + key, "is missing")
            continue
        values[name] = _coerce(table[key], hints[name], convert, path, prefix + key)
        keys[key] = name
    unknown = set(table) - known
    if unknown:
        name = sorted(unknown)[0]
        raise fault(path, prefix + name, "is not a key this file may have")
    if by := getattr(values.get("sources"), "by_figure", None):
        if strangers := sorted(set(by) - set(table)):
            raise fault(path, f"{prefix}sources.{strangers[0]}", "is the source of no figure here")
        both = {**by, **{keys[k]: ids for k, ids in by.items()}}
        values["sources"] = Sources(values["sources"], both)
    return cls(**values)


@cache
def _fields(cls: Any) -> tuple[tuple[str, bool], ...]:
    """The fields of a record, and whether a file must fill them."""
    if issubclass(cls, tuple):
        return tuple((name, name not in cls._field_defaults) for name in cls._fields)
    return tuple((f.name, f.default is MISSING and f.default_factory is MISSING) for f in fields(cls))


@cache
def _hints(cls: type) -> dict[str, Any]:
    """Field -> its type: what `get_type_hints` finds, with each annotation of a file read once."""
    return {name: _hint(cls.__module__, text) for name, text in cls.__annotations__.items()}


@cache
def _hint(module: str, annotation: str) -> Any:
    return eval(annotation, vars(sys.modules[module]))


def _key_for(field: str, table: Mapping[str, Any]) -> tuple[str, Callable[[float], float] | None]:
    if field in table:
        return field, None
    for ours, theirs, convert in CONVERSIONS:
        if field.endswith(ours):
            return field[: -len(ours)] + theirs, convert
        if f"{ours}_" in field:  # yields such as row_m_per_person are spelled out in the file's own units
            continue
    return field, None


def _coerce(value: Any, hint: Any, convert: Callable[[float], float] | None, path: Path, key: str) -> Any:
    """A TOML value as the hinted type. Raises DamagedFileError when it does not fit."""
    options = [h for h in get_args(hint) if h is not type(None)] if type(None) in get_args(hint) else [hint]
    if len(options) > 1:
        return value
    kind = options[0]
    try:
        if kind is Sources:
            return Sources.read(value)
        if kind == Range:
            low, high = (float(v) for v in value)
            if low > high:
                raise fault(path, key, f"runs backwards ({low:g} to {high:g})")
            return (convert(low), convert(high)) if convert else (low, high)
        if kind == Curve:
            change = f_to_c if key.endswith("_by_soil_f") else (lambda v: v)
            return tuple(sorted((change(float(x)), float(y)) for x, y in value.items()))
        if kind is float:
            number = _number(value)
            return convert(number) if convert else number
        if kind is int:
            if isinstance(value, bool) or int(value) != value:
                raise TypeError
            return int(value)
        if kind is bool:
            if not isinstance(value, bool):
                raise TypeError
            return value
        if kind is str:
            if not isinstance(value, str):
                raise TypeError
            return value
        if get_origin(kind) is tuple:
            return tuple(_coerce(v, get_args(kind)[0], convert, path, key) for v in value)
    except (TypeError, ValueError, AttributeError) as error:
        raise fault(path, key, f"should be {_plain(kind)}, not {value!r}") from error
    return value


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError
    return float(value)


def _plain(kind: Any) -> str:
    names: dict[Any, str] = {float: "a number", int: "a whole number", str: "text", bool: "true or false"}
    if kind == Range:
        return "two numbers, low then high"
    return names.get(kind, "a list or table as in the other files")
