"""A mark on the words of a line: one thing told, and the tokens it stands on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from gardenmate.records import NamedTuple

Kind = Literal["action", "crop", "count", "date", "where", "variety", "days", "not", "which", "all"]


class NameMark(NamedTuple):
    """One thing told: its kind, what it is, and the tokens it stands on. ``unit`` belongs to a count; ``weak``: an
    action that is only one where no other is told ("in", "out", "up"). The ``unit`` of a crop called by the name of a
    variety is that name."""

    kind: Kind
    value: object
    start: int
    end: int
    unit: str = ""
    weak: bool = False


UNITS: Mapping[str, str] = {
    **dict.fromkeys(("row", "rows", "drill", "drills"), "rows"),
    **dict.fromkeys(("tray", "trays", "flat", "flats"), "trays"),
    **dict.fromkeys(("pot", "pots"), "pots"),
    **dict.fromkeys(("cell", "cells", "module", "modules", "plugs"), "cells"),
    **dict.fromkeys(("packet", "packets", "pack", "packs"), "packets"),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("kg", "kilo", "kilos"), "kg"),
    **dict.fromkeys(("oz", "ounce", "ounces"), "oz"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("ft", "foot", "feet"), "ft"),
    **dict.fromkeys(("quart", "quarts", "jar", "jars", "pint", "pints"), "jars"),
    **dict.fromkeys(("plant", "plants", "seedling", "seedlings", "starts"), "plants"),
    **dict.fromkeys(
        ("seed", "seeds", "cloves", "clove", "sets", "tubers", "slips", "crowns", "bulbs"), "pieces"
    ),
}
