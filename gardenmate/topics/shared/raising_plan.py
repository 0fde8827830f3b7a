"""What raising a number of plants from seed takes: seeds, cells, trays, pots, mix, mat and lamp.

One plan serves both questions: how many to sow, and what it costs.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil
from typing import Any, Literal

from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.records import dataclass
from gardenmate.science.light import energy_kwh, lamp_watts
from gardenmate.science.seed_counts import cell_chance, mix_litres, trays_needed, tries_needed
from gardenmate.topics.shared.containers import Container, containers

Basis = Literal["standard", "usual", "typed"]
_USUAL_WEEKS = (4.0, 6.0)  # weeks indoors where a crop tells none (common practice)


@dataclass(frozen=True, slots=True)
class RaisingPlan:
    """From seed to a plant fit to set out, for ``plants`` of one crop.

    ``germination`` is the share that comes up, ``basis`` whether it is the legal minimum for packeted seed, a
    usual figure or as typed; ``loss`` the share lost later; ``confidence`` how sure the number is. ``seeds`` go into
    ``cells``, ``per_cell`` in each; onions and leeks grow several to a cell. ``last`` is the pot they move
    on to, None when they stay in the first.
    Energies in kWh for the whole time indoors.
    """

    plants: int
    germination: float
    basis: Basis
    loss: float
    confidence: float
    per_cell: int
    seeds: int
    cells: int
    first: Container
    trays: int
    last: Container | None
    last_trays: int
    mix_l: float
    weeks: tuple[float, float]
    mat_days: float
    mat_kwh: float
    lamp_watts: float
    lamp_hours: float
    lamp_days: float
    lamp_kwh: float

    @property
    def most_trays(self) -> int:
        """Trays on the shelf at the widest moment."""
        return max(self.trays, self.last_trays)

    @property
    def share_filled(self) -> float:
        """How much of the first trays the wanted plants fill, 0..1."""
        return self.plants / (self.trays * self.first.per_tray) if self.trays else 0.0


MOST_PLANTS = 20_000  # plants: nobody raises more at home


def sensible(count: float) -> int:
    """A typed count as a number of plants: whole, at least one, at most `MOST_PLANTS`."""
    return round(min(max(count, 1.0), MOST_PLANTS))


def germination_of(crop: Crop, fallback: float) -> tuple[float, bool]:
    """(share of seed that comes up, whether it is the legal minimum for packeted seed of this crop)."""
    standard = crop.emergence.germination_standard_pct
    return (fallback, False) if standard is None else (sum(standard) / 200.0, True)


def station_seeds(
    crop: Crop, plants: int, world: World, germination: float | None = None
) -> tuple[int, float]:
    """Seeds sown in the row for that many plants, and the share of them that comes up in garden soil.

    Two to a station, gaps filled from the doubles; more where seed comes up too poorly for that.
    """
    defaults = world.facts.table("amounts")["defaults"]
    share = germination_of(crop, defaults["germination"])[0] if germination is None else germination
    up = share * float(defaults["field_emergence"])
    return max(plants * int(defaults["seeds_per_station"]), ceil(plants / up)), up


def germination_typed(question: Request) -> float | None:
    """The share of the seed that comes up, as typed, 0..1; None when it was not."""
    percent = question.first("percent", "germination")
    return None if percent is None or not 0 < percent.number <= 100 else percent.number / 100.0


def germination_basis(basis: Basis) -> str:
    """Where the share that comes up is from, in words."""
    return {
        "standard": "the legal minimum for packeted seed; fresh seed does better",
        "usual": "a usual figure",
        "typed": "as you said",
    }[basis]


def plan_raising(
    crop: Crop,
    plants: int,
    facts: Facts,
    *,
    cell: Container | None = None,
    per_cell: int = 1,
    germination: float | None = None,
) -> RaisingPlan:
    """The plan for ``plants`` of a crop (1 to `MOST_PLANTS`, beyond which nobody raises them at home).

    ``cell``: the tray or pot the grower named; ``germination``: the share that comes up, when known better
    than the packet minimum.
    """
    plants = sensible(plants)
    defaults, raising = facts.table("amounts")["defaults"], facts.table("raising")
    share, standard = germination_of(crop, defaults["germination"])
    share = share if germination is None else germination
    loss = float(defaults["loss_after_emergence"])
    sure = float(defaults["confidence"])
    together = facts.table("amounts")["sown_together"]
    if "several-to-a-cell" in crop.traits:
        per_cell = int(together["seeds_per_cell"])
        seeds = tries_needed(plants, cell_chance(share, 1, loss), sure)
        cells = ceil(seeds / per_cell)
    else:
        cells = tries_needed(plants, cell_chance(share, per_cell, loss), sure)
        seeds = cells * per_cell
    row = facts.group_of(crop, "potting")
    steps = list(row["steps"]) if row is not None else ["72"]
    sizes = containers(facts)
    first = cell if cell is not None else sizes[steps[0]]
    last = sizes[steps[-1]] if cell is None and len(steps) > 1 else None
    trays = trays_needed(cells, first.per_tray)
    last_trays = trays_needed(plants, last.per_tray) if last is not None else 0
    settling = float(raising["containers"]["settling"])
    mix = mix_litres(cells, first.cm3, settling)
    mix += mix_litres(plants, last.cm3, settling) if last is not None else 0.0
    weeks = crop.timing.weeks_indoors or _USUAL_WEEKS
    mat, light = raising["mat"], raising["light"]
    days_indoors = 3.5 * (weeks[0] + weeks[1])
    mat_days = min(_emergence_days(crop, float(mat["days_on"])), days_indoors)
    watts = _watts_per_tray(crop, light)
    hours = sum(light["hours"]) / 2.0
    lamp_days = days_indoors - mat_days
    mean_trays = trays if last is None else 0.5 * (trays + last_trays)
    return RaisingPlan(
        plants=plants,
        germination=share,
        basis="typed" if germination is not None else "standard" if standard else "usual",
        loss=loss,
        confidence=sure,
        per_cell=per_cell,
        seeds=seeds,
        cells=cells,
        first=first,
        trays=trays,
        last=last,
        last_trays=last_trays,
        mix_l=mix,
        weeks=weeks,
        mat_days=mat_days,
        mat_kwh=energy_kwh(mat["watts_per_tray"] * trays, 24.0, mat_days, mat["duty_with_thermostat"]),
        lamp_watts=watts * mean_trays,
        lamp_hours=hours,
        lamp_days=lamp_days,
        lamp_kwh=energy_kwh(watts * mean_trays, hours, lamp_days),
    )


def _watts_per_tray(crop: Crop, light: Mapping[str, Any]) -> float:
    group = light["fruiting"] if crop.family in light["fruiting"]["families"] else light["leafy"]
    ppfd = sum(group["ppfd"]) / 2.0
    return lamp_watts(ppfd, light["led_umol_per_j"], light["share_on_plants"], light["tray_m2"])


def _emergence_days(crop: Crop, most: float) -> float:
    """Days on the mat: the crop's quickest emergence, no longer than a mat is usually left on."""
    days = [d for _, d in crop.emergence.days_by_soil_c]
    if not days and crop.emergence.days_to_emerge is not None:
        days = [crop.emergence.days_to_emerge[0]]
    return min([most, *days])


@dataclass(frozen=True, slots=True)
class Filled:
    """What so many cells give: ``expected`` plants on average, ``sure`` at least with ``confidence``.

    ``tries`` are the independent chances of ``chance`` each: cells, or seeds where several plants share a cell.
    """

    cells: int
    per_cell: int
    tries: int
    chance: float
    expected: float
    sure: int
    germination: float
    basis: Basis
    loss: float
    confidence: float

    @property
    def seeds(self) -> int:
        """Seeds sown in all."""
        return self.cells * self.per_cell


def fill(
    crop: Crop, cells: int, facts: Facts, *, per_cell: int = 1, germination: float | None = None
) -> Filled:
    """The plants of a crop that ``cells`` cells give, ``per_cell`` seeds in each and thinned to one."""
    defaults = facts.table("amounts")["defaults"]
    share, standard = germination_of(crop, defaults["germination"])
    basis: Basis = "typed" if germination is not None else "standard" if standard else "usual"
    share = share if germination is None else germination
    loss, sure = float(defaults["loss_after_emergence"]), float(defaults["confidence"])
    together = "several-to-a-cell" in crop.traits
    per_cell = int(facts.table("amounts")["sown_together"]["seeds_per_cell"]) if together else per_cell
    tries = cells * per_cell if together else cells
    chance = cell_chance(share, 1 if together else per_cell, loss)
    least = next((n for n in range(tries, 0, -1) if tries_needed(n, chance, sure) <= tries), 0)
    return Filled(cells, per_cell, tries, chance, tries * chance, least, share, basis, loss, sure)
