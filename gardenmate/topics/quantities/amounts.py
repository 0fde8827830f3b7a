"""Distances, yields and lengths of one crop as the amount questions need them, and how they are shown."""

from __future__ import annotations

from math import ceil, sqrt

from gardenmate.core.units import (
    FT_CM,
    FT_M,
    INCH_CM,
    LB_PER_KG,
    Units,
)
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.reader import Range
from gardenmate.records import dataclass

SPACING = ("spacing_in_row_cm", "row_spacing_cm", "hill_spacing_cm")  # fields of the distances shown
_ROW_UNITS_CM = {"ft": FT_CM, "m": 100.0, "yd": 3 * FT_CM, "in": INCH_CM, "cm": 1.0}
_WEIGHT_UNITS_KG = {"lb": 1.0 / LB_PER_KG, "kg": 1.0, "oz": 1.0 / LB_PER_KG / 16.0}


@dataclass(frozen=True, slots=True)
class Spacing:
    """Distances of one crop, cm: in the row, between rows, and between hills where it is sown in hills."""

    in_row: Range
    rows: Range
    hills: Range | None

    @property
    def usual(self) -> float:
        """One distance in the row to reckon with: the middle of the published range."""
        return 0.5 * (self.in_row[0] + self.in_row[1])

    @property
    def usual_rows(self) -> float:
        """One distance between rows to reckon with."""
        return 0.5 * (self.rows[0] + self.rows[1])


def spacing_of(crop: Crop) -> Spacing | None:
    """The crop's distances, None when its file gives none."""
    space = crop.space
    if space.spacing_in_row_cm is None or space.row_spacing_cm is None:
        return None
    return Spacing(space.spacing_in_row_cm, space.row_spacing_cm, space.hill_spacing_cm)


@dataclass(frozen=True, slots=True)
class Yield:
    """What one plant gives, kg: in a poor year, as a rule, in a good year; and the sources."""

    poor: float
    usual: float
    good: float
    sources: tuple[str, ...]


def yield_per_plant(crop: Crop) -> Yield | None:
    """Yield of one plant from the published figure per plant or row, else the stated usual one.

    A row figure is shared among plants at the middle spacing, or among hills; where both are published they
    bound the range together and the figure per plant is the usual one; a bare range has its geometric middle
    as the usual.
    """
    y, spacing = crop.yields, spacing_of(crop)
    found: list[Range] = []
    if y.yield_kg_per_m is not None and spacing is not None:
        low, high = y.yield_kg_per_m
        gap_m = (spacing.usual if spacing.hills is None else sum(spacing.hills) / 2.0) / 100.0
        found.append((low * gap_m, high * gap_m))
    if y.yield_kg_per_plant is not None:
        found.append(y.yield_kg_per_plant)
    sources: tuple[str, ...] = y.sources.of("yield_kg_per_m", "yield_kg_per_plant")
    if not found:
        usual_lb = crop.amounts.yield_lb_per_plant
        if usual_lb is None:
            return None
        found.append((usual_lb[0] / LB_PER_KG, usual_lb[1] / LB_PER_KG))
        sources = crop.amounts.sources.of("yield_lb_per_plant")
    low, high = min(f[0] for f in found), max(f[1] for f in found)
    usual = sqrt(found[-1][0] * found[-1][1])
    return Yield(low, usual, high, sources)


def fruits_per_plant(crop: Crop) -> tuple[Range, tuple[str, ...]] | None:
    """Fruits, ears or heads from one plant, and the sources; None where they are not counted."""
    spacing = spacing_of(crop)
    y = crop.yields
    if y.yield_fruits_per_plant is not None:
        return y.yield_fruits_per_plant, y.sources.of("yield_fruits_per_plant")
    per_m = y.yield_ears_per_m or y.yield_fruits_per_m
    if per_m is not None and spacing is not None:
        return (per_m[0] * spacing.usual / 100.0, per_m[1] * spacing.usual / 100.0), y.sources.of(
            "yield_ears_per_m", "yield_fruits_per_m"
        )
    usual = crop.amounts.fruits_per_plant
    return None if usual is None else (usual, crop.amounts.sources.of("fruits_per_plant"))


def plants_for(amount: float, per_plant: float) -> int:
    """Whole plants for an amount, given what one plant yields."""
    if per_plant <= 0:
        raise ValueError("a plant must yield something")
    return max(1, ceil(amount / per_plant - 1e-9))


def row_cm(value: float, unit: str) -> float | None:
    """A row length in cm from ft, m, yd, in or cm; None for any other unit."""
    factor = _ROW_UNITS_CM.get(unit)
    return None if factor is None else value * factor


def weight_kg(value: float, unit: str) -> float | None:
    """A weight in kg from lb, kg or oz; None for any other unit."""
    factor = _WEIGHT_UNITS_KG.get(unit)
    return None if factor is None else value * factor


def show_row(length_cm: float, units: Units) -> str:
    """A row length: "40 ft" or "12 m", with one decimal under 10 m or 10 ft."""
    value = length_cm / FT_CM if units == "us" else length_cm / 100.0
    shown = f"{value:.0f}" if value >= 9.5 or abs(value - round(value)) < 0.05 else f"{value:.1f}"
    return f"{shown} {'ft' if units == 'us' else 'm'}"


def show_row_range(low_cm: float, high_cm: float, units: Units) -> str:
    """ "20 to 40 ft"."""
    low, high = show_row(low_cm, units), show_row(high_cm, units)
    return high if low == high else f"{low.split()[0]} to {high}"


def show_weight(kg: float, units: Units) -> str:
    """A weight: "12 lb" or "5.5 kg"."""
    value = kg * LB_PER_KG if units == "us" else kg
    shown = f"{value:.0f}" if value >= 9.5 or abs(value - round(value)) < 0.05 else f"{value:.1f}"
    return f"{shown} {'lb' if units == 'us' else 'kg'}"


def show_weight_range(low_kg: float, high_kg: float, units: Units) -> str:
    """ "100 to 200 lb"."""
    low, high = show_weight(low_kg, units), show_weight(high_kg, units)
    return high if low == high else f"{low.split()[0]} to {high}"


def show_area(m2: float, units: Units) -> str:
    """An area: "200 sq ft" or "19 m2"."""
    value = m2 / (FT_M * FT_M) if units == "us" else m2
    shown = f"{value:.0f}" if value >= 9.5 else f"{value:.1f}"
    return f"{shown} {'sq ft' if units == 'us' else 'm2'}"


def show_inches(length_cm: float, units: Units) -> str:
    """A garden distance to the nearest half inch, or whole cm: "2.5 in", "45 cm"."""
    if units == "us":
        return f"{round(2 * length_cm / INCH_CM) / 2:g} in"
    return f"{length_cm:.0f} cm"


def show_inches_range(span: Range, units: Units) -> str:
    """ "18 to 24 in"."""
    low, high = show_inches(span[0], units), show_inches(span[1], units)
    return high if low == high else f"{low.split()[0]} to {high}"


def span_text(low: float, high: float) -> str:
    """A range of whole numbers: "3 to 5", or "4"."""
    a, b = round(low), round(high)
    return str(b) if a == b else f"{a} to {b}"


def stock_kg(per_lb: Range, plants: Range) -> Range:
    """Planting stock in kg for that many plants, of ``per_lb`` pieces in a pound: the least and the most."""
    return plants[0] / per_lb[1] / LB_PER_KG, plants[1] / per_lb[0] / LB_PER_KG
