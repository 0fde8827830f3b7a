"""Cells and pots: what they hold, and how many weeks a seedling may stay in one."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from gardenmate.core.question import Request
from gardenmate.core.units import INCH_CM, Units, show_length_cm
from gardenmate.knowledge.facts import Facts

_POT = re.compile(r"^\s{0,3}(\d+(?:\.\d+)?)\s{0,3}-?\s{0,3}(in|inch|inches|cm)\b", re.IGNORECASE)
_SAME_IN = 0.2  # "10 cm" and "4 in" are one pot
_CELLS = re.compile(r"^\s{0,3}(\d{2,3})\s{0,3}(?:s|-?cell.*)?\s{0,3}$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Container:
    """A cell or pot. ``cm3`` is its volume, ``weeks`` how long most seedlings stay in it from sowing."""

    id: str
    name: str
    cm3: float
    weeks: tuple[float, float]
    across_in: float | None

    def label(self, units: Units) -> str:
        """ "72-cell tray", "4 in pot", "10 cm pot"."""
        if self.across_in is None:
            return self.name
        return f"{show_length_cm(self.across_in * INCH_CM, units)} {self.name}"

    def volume(self, units: Units) -> str:
        """What it holds, as text: "15 cu in", "250 cm3"."""
        return f"{self.cm3 / INCH_CM**3:.2g} cu in" if units == "us" else f"{self.cm3:g} cm3"


def containers(facts: Facts) -> dict[str, Container]:
    """Every container of knowledge/raising.toml by its id, smallest first."""
    rows = facts.table("raising")["containers"]["size"]
    return {
        row["id"]: Container(
            row["id"], row["name"], row["cm3"], (row["weeks"][0], row["weeks"][1]), row.get("across_in")
        )
        for row in rows
    }


def container_asked(question: Request, facts: Facts) -> Container | None:
    """The container of cue ``cell`` ("72", "4in", "9cm"): a pot of that width with the weeks of the nearest
    known size, or the nearest known tray; None when none was said."""
    text = question.cue("cell") or ""
    sizes = containers(facts).values()
    pot = _POT.match(text)
    if pot:
        across = float(pot.group(1)) / (INCH_CM if pot.group(2).lower() == "cm" else 1.0)
        pots = [c for c in sizes if c.across_in is not None]
        near = min(pots, key=lambda c: abs((c.across_in or 0.0) - across))
        if abs((near.across_in or 0.0) - across) <= _SAME_IN:
            return near
        cubed = (across / near.across_in) ** 3 if near.across_in else 1.0
        return replace(near, across_in=across, cm3=float(f"{near.cm3 * cubed:.2g}"))
    cells = _CELLS.match(text)
    if cells:
        trays = [c for c in sizes if c.across_in is None]
        return min(trays, key=lambda c: abs(int(c.id) - int(cells.group(1))))
    return None


def weeks_in(container: Container, row: Mapping[str, Any], *, buttons: bool = False) -> tuple[float, float]:
    """Weeks from sowing a crop may stay in a container: the container's, at the crop's pace.

    ``row`` is the crop's [[potting]] row. Crops that button when root-bound leave in the earlier half.
    """
    low, high = (w * row["pace"] for w in container.weeks)
    if buttons:
        high = (low + high) / 2
    most = row.get("max_weeks")
    return (min(low, most), min(high, most)) if most is not None else (low, high)


def mix_litres(count: float, container: Container, facts: Facts) -> float:
    """Litres of potting mix for ``count`` plants, with what it settles."""
    settling = facts.table("raising")["containers"]["settling"]
    litres: float = count * container.cm3 / 1000.0 * settling
    return round(litres, 1)
