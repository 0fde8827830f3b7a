"""Cells and pots: what they hold, how many stand on a tray, and how many weeks a seedling may stay in one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.question import Request, Vessel
from gardenmate.core.units import INCH_CM, Units, show_length_cm
from gardenmate.knowledge.facts import Facts
from gardenmate.records import dataclass, replace

_SAME_IN = 0.2  # "10 cm" and "4 in" are one pot
_FEWEST_CELLS = 6  # a strip of six is the smallest tray sold (common practice)


@dataclass(frozen=True, slots=True)
class Container:
    """A cell or pot. ``cm3`` is its volume, ``weeks`` how long most seedlings stay in it from sowing, ``per_tray``
    how many make up or stand on one 10 x 20 in tray; ``across_in`` is None for a cell."""

    id: str
    name: str
    cm3: float
    weeks: tuple[float, float]
    across_in: float | None
    per_tray: int

    @property
    def is_pot(self) -> bool:
        """True for a single pot, False for a cell of a tray."""
        return self.across_in is not None

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
    pots = facts.table("prices")["per_tray"]
    return {
        row["id"]: Container(
            row["id"],
            row["name"],
            float(row["cm3"]),
            (row["weeks"][0], row["weeks"][1]),
            row.get("across_in"),
            int(pots[row["id"]] if "across_in" in row else row["id"]),
        )
        for row in facts.table("raising")["containers"]["size"]
    }


def container_asked(question: Request, facts: Facts) -> Container | None:
    """The container the grower named (``Slots.container``): the listed one, or one worked from its nearest
    neighbour; None when none was named or it is told by a measure no container is listed by."""
    said = question.ask.container
    if said is None:
        return None
    listed = containers(facts).values()
    if said.unit == "cells":
        return _tray(round(said.size), [c for c in listed if not c.is_pot])
    if said.unit in ("in", "cm") and said.size > 0:
        return _pot(said, [c for c in listed if c.is_pot])
    return None


def _tray(cells: int, listed: list[Container]) -> Container | None:
    """Cells of one tray share its volume: cells x volume changes slowly between listed trays."""
    if cells < _FEWEST_CELLS:
        return None
    near = min(listed, key=lambda c: abs(c.per_tray - cells))
    if near.per_tray == cells:
        return near
    volume = near.cm3 * near.per_tray / cells
    return replace(near, id=str(cells), name=f"{cells}-cell tray", cm3=volume, per_tray=cells)


def _pot(said: Vessel, listed: list[Container]) -> Container:
    """A pot of that width, of the nearest listed one's shape."""
    across = said.size / (INCH_CM if said.unit == "cm" else 1.0)
    near = min(listed, key=lambda c: abs((c.across_in or 0.0) - across))
    wider = across / (near.across_in or across)
    if abs((near.across_in or 0.0) - across) <= _SAME_IN:
        return near
    return replace(
        near,
        across_in=across,
        cm3=float(f"{near.cm3 * wider**3:.2g}"),
        per_tray=max(int(near.per_tray / wider**2), 1),
    )


def weeks_in(container: Container, row: Mapping[str, Any], *, buttons: bool = False) -> tuple[float, float]:
    """Weeks from sowing a crop may stay in a container: the container's, at the crop's pace.

    ``row`` is the crop's [[potting]] row. Crops that button when root-bound leave in the earlier half.
    """
    low, high = (w * row["pace"] for w in container.weeks)
    if buttons:
        high = (low + high) / 2
    most = row.get("max_weeks")
    return (min(low, most), min(high, most)) if most is not None else (low, high)
