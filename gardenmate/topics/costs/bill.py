"""The two bills of one crop: bought plants, and plants raised from a packet, with every default said."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.records import dataclass
from gardenmate.science.costs import Bill, CostLine, break_even_count, packets, spread
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.raising_plan import (
    RaisingPlan,
    germination_typed,
    plan_raising,
    sensible,
    station_seeds,
)
from gardenmate.topics.shared.subjects import plants

_MOST_COMPARED = 120  # plants up to which the break-even is looked for
_DEAR = 3.0  # a price this many times the usual one of a plant is the price of a pack
_USUAL_PACK = 6  # plants in a pack, where the price group says no other (common practice)


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices one question is answered with. ``assumed`` are the sentences about defaults among them.

    ``plant_told``, ``packet_told``: typed, not a default. ``germination``: the share that comes up, where typed.
    """

    sign: str
    packet: float
    per_packet: int
    plant: float
    mix_per_litre: float
    tray: float
    pot: float
    tariff: float
    time_per_hour: float | None
    lamp_season: float
    mat_season: float
    has_seed: bool
    plant_told: bool = False
    packet_told: bool = False
    germination: float | None = None
    assumed: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Comparison:
    """Both bills of one crop for the asked number of plants, and where they cross.

    ``lacking`` is the gear the grower said they have not and the crop wants (lamp, mat); ``outlay`` what that costs
    new, of which ``raised`` holds one season's share. ``in_place``: nobody raises it in trays; ``in_ground``: its seed
    is reckoned as sown where it grows, which is the cheap way wherever both are done.
    """

    crop: Crop
    name: str
    plants: int
    bought: Bill
    raised: Bill
    plan: RaisingPlan
    prices: Prices
    in_place: bool
    in_ground: bool
    not_from_seed: bool
    from_count: int | None
    seeds: int
    lacking: tuple[str, ...] = ()
    outlay: float = 0.0

    @property
    def many(self) -> str:
        """The crop in the plural where it has one: "chives", "basil"."""
        return plants(Named(self.crop, self.crop.base, self.name)).word

    @property
    def dear_at_first(self) -> bool:
        """True when the gear to be bought first costs more than the plants would."""
        return self.outlay > 0.0 and self.outlay + self.raised.total > self.bought.total

    @property
    def saves(self) -> float:
        """Money saved by raising, negative when buying is cheaper."""
        return self.bought.total - self.raised.total


def money(sign: str, amount: float) -> str:
    """ "$3.50", "-$2.00"."""
    return f"{'-' if amount < -0.004 else ''}{sign}{abs(amount):.2f}"


def currency(question: Request, world: World) -> str:
    """The currency sign: what was typed, else that of the place, else the dollar."""
    table = world.facts.table("prices")["currency"]
    said = question.cue("currency")
    country = world.site.country if world.site is not None else ""
    for name, entry in table.items():
        if name == said or (said is None and country in entry["countries"]):
            return str(entry["sign"])
    return str(table["dollar"]["sign"])


def price_group(crop: Crop, facts: Facts) -> Mapping[str, Any]:
    """The price group of a crop."""
    found = facts.group_of(crop, "price")
    assert found is not None, "every crop has a price group"
    return found


def price_of_plants(question: Request) -> float | None:
    """The price typed for plants; None when none was, or only that of a packet of seed."""
    said, packet = question.ask.price, _number(question.cue("packet_price"))
    return None if said == packet and len(question.all("price")) < 2 else said


def gear_lacking(crop: Crop, question: Request, in_place: bool) -> tuple[str, ...]:
    """Lamp and mat, where the grower said they have none, or what one costs, and the crop wants it (a mat only warm
    crops do)."""
    typed = {t.value for t in question.all("gear", "lacking")} | set(_gear_told(question))
    wanted = () if in_place else (("lamp", "mat") if crop.warm else ("lamp",))
    return tuple(piece for piece in wanted if piece in typed)


def _gear_told(question: Request) -> dict[str, float]:
    """What a lamp or a mat to be bought costs, as typed."""
    told = {piece: _number(question.cue(f"{piece}_price")) for piece in ("lamp", "mat")}
    return {piece: cost for piece, cost in told.items() if cost is not None}


def prices_for(crop: Crop, plants: int, question: Request, world: World) -> Prices:
    """Prices of one crop: the grower's where given, the stated defaults elsewhere."""
    table = world.facts.table("prices")
    defaults, group = table["defaults"], price_group(crop, world.facts)
    sign = currency(question, world)
    plant, assumed = _plant_price(question, group, plants, sign)
    has_seed = question.cue("seed_in_hand") == "yes"
    told = _number(question.cue("packet_price"))
    lacking = gear_lacking(crop, question, sown_in_ground(crop, question))
    inside = question.first("in-packet")
    seeds = int(group["seeds"]) if inside is None else max(1, int(inside.number))
    packet = 0.0 if has_seed else float(group["packet"]) if told is None else told
    if has_seed:
        assumed += (
            "You have the seed already, so it costs nothing here; old seed is worth a test on damp paper.",
        )
    elif inside is not None:
        assumed += (f"A packet costs {money(sign, packet)} with {seeds} seeds, as you say.",)
    elif told is not None:
        assumed += (f"A packet holds about {seeds} seeds.",)
    else:
        assumed += (f"A packet costs {money(sign, packet)} with about {seeds} seeds.",)
    tariff, said_tariff = _tariff(world)
    assumed += (
        f"Mix at {money(sign, defaults['mix_per_litre'])} a litre, trays at "
        f"{money(sign, defaults['tray'])} spread over "
        f"{defaults['tray_seasons']} seasons, electricity at {money(sign, tariff)} per kWh"
        f"{' as you told me' if said_tariff else ''}; {_gear_note(lacking)}.",
    )
    rate = _number(world.garden.prefs.get("time_rate"))
    assumed += (
        (
            "Your own time is not counted."
            if rate is None
            else f"Your time is counted at {money(sign, rate)} an hour."
        ),
    )
    light = world.facts.table("raising")["light"]
    gear = {**defaults, **_gear_told(question)}
    return Prices(
        sign=sign,
        packet=packet,
        per_packet=seeds,
        plant=plant,
        mix_per_litre=float(defaults["mix_per_litre"]),
        tray=spread(defaults["tray"], defaults["tray_seasons"]),
        pot=spread(defaults["pot"], defaults["pot_seasons"]),
        tariff=tariff,
        time_per_hour=rate,
        lamp_season=spread(gear["lamp"], defaults["lamp_seasons"]),
        mat_season=spread(gear["mat"], defaults["mat_seasons"]),
        has_seed=has_seed,
        plant_told=price_of_plants(question) is not None,
        packet_told=told is not None,
        germination=germination_typed(question),
        assumed=assumed,
        sources=(
            *defaults["sources"],
            *light["sources"].of("hours", "led_umol_per_j", "share_on_plants", "tray_m2", "price_per_kwh"),
            *crop.emergence.sources.of("germination_standard_pct"),
        ),
    )


def _gear_note(lacking: tuple[str, ...]) -> str:
    """Which gear is there already, and which the bill holds a season's share of."""
    if not lacking:
        return "you already have the lamp and mat"
    return f"the {' and '.join(lacking)} you lack at one season's share of the price"


def _plant_price(
    question: Request, group: Mapping[str, Any], plants: int, sign: str
) -> tuple[float, tuple[str, ...]]:
    """Price of one bought plant. A price far above the usual one is that of a pack, or of all the plants."""
    said, usual = price_of_plants(question), float(group["plant"])
    if said is None:
        return usual, (f"A bought plant costs {money(sign, usual)}.",)
    if said == 0:
        return 0.0, ()
    meant, pack = question.cue("price_for"), question.cue("pack")
    if pack is not None and pack.isdigit() and int(pack) > 1 and meant != "each":
        return said / int(pack), (f"{money(sign, said)} is the price of a pack of {pack}.",)
    dear = _DEAR if question.cue("packet_price") is None else 2 * _DEAR  # said beside a packet: of one plant
    if meant == "each" or (meant is None and said <= dear * usual):
        return said, ()
    typed = question.ask.count
    if meant == "total" or (typed is not None and 0.2 * usual <= said / plants <= _DEAR * usual):
        return said / plants, (f"{money(sign, said)} is read as the price of all {plants} together.",)
    size = int(group.get("pack", _USUAL_PACK))
    return said / size, (
        f"{money(sign, said)} is read as the price of a pack of {size}; say 'each' if it is one plant.",
    )


def _tariff(world: World) -> tuple[float, bool]:
    own = _number(world.garden.prefs.get("tariff"))
    if own is not None:
        return own, True
    return float(world.facts.table("raising")["light"]["price_per_kwh"]), False


def _number(text: str | None) -> float | None:
    """A preference as a number; None when it was never set or is not a number."""
    if text is None:
        return None
    try:
        return float(text.strip().lstrip("$£€"))
    except ValueError:
        return None


def sown_in_ground(crop: Crop, question: Request) -> bool:
    """True where the seed is reckoned as sown where it grows: what nobody moves, and what is as well sown there
    unless trays were named."""
    return crop.groups.way == "in-place" or (crop.groups.way == "either" and question.ask.method != "indoors")


def compare(crop: Crop, name: str, plants: int, question: Request, world: World) -> Comparison:
    """Both bills for ``plants`` of a crop, and the number of plants from which raising is no dearer."""
    prices = prices_for(crop, plants, question, world)
    in_place = crop.groups.way == "in-place"
    in_ground = sown_in_ground(crop, question)
    lacking = gear_lacking(crop, question, in_ground)
    gear = {**world.facts.table("prices")["defaults"], **_gear_told(question)}
    plan = plan_raising(crop, plants, world.facts, germination=prices.germination)

    def raised(n: int) -> Bill:
        return (
            _sown_in_place(crop, n, prices, world) if in_ground else _raised(crop, n, prices, lacking, world)
        )

    bought = Bill(plants, (CostLine("plants", plants * prices.plant),))
    return Comparison(
        crop=crop,
        name=name.removesuffix(" seed"),
        plants=plants,
        bought=bought,
        raised=raised(plants),
        plan=plan,
        prices=prices,
        in_place=in_place,
        in_ground=in_ground,
        not_from_seed="poor-from-seed" in crop.traits,
        from_count=world.facts.kept(
            ("break-even", crop.id, prices, lacking, in_ground),  # a hundred bills: 5 ms
            lambda: break_even_count(
                lambda n: raised(n).total, lambda n: n * prices.plant, most=_MOST_COMPARED
            ),
        ),
        seeds=_field_seeds(crop, plants, prices, world) if in_ground else plan.seeds,
        lacking=lacking,
        outlay=sum(float(gear[piece]) for piece in lacking),
    )


def _raised(crop: Crop, plants: int, prices: Prices, lacking: tuple[str, ...], world: World) -> Bill:
    plan = plan_raising(crop, plants, world.facts, germination=prices.germination)
    lines = [
        CostLine("seed", packets(plan.seeds, prices.per_packet) * prices.packet),
        CostLine("mix", plan.mix_l * prices.mix_per_litre),
        CostLine(
            "trays and pots",
            plan.trays * prices.tray + (plants * prices.pot if plan.last is not None else 0.0),
        ),
        CostLine("mat", plan.mat_kwh * prices.tariff),
        CostLine("lamp", plan.lamp_kwh * prices.tariff),
    ]
    share = {"lamp": prices.lamp_season, "mat": prices.mat_season}
    lines += [CostLine(f"{piece} to buy, a season", share[piece]) for piece in lacking]
    if prices.time_per_hour is not None:
        lines.append(CostLine("time", _hours(plants, plan.last is not None, world) * prices.time_per_hour))
    return Bill(plants, tuple(lines))


def _sown_in_place(crop: Crop, plants: int, prices: Prices, world: World) -> Bill:
    seeds = _field_seeds(crop, plants, prices, world)
    lines = [CostLine("seed", packets(seeds, prices.per_packet) * prices.packet)]
    if prices.time_per_hour is not None:
        minutes = world.facts.table("work")["job"]["sow-outdoors"]["minutes"]
        lines.append(CostLine("time", minutes / 60.0 * prices.time_per_hour))
    return Bill(plants, tuple(lines))


def _field_seeds(crop: Crop, plants: int, prices: Prices, world: World) -> int:
    """Seeds sown in the row for that many plants: two to a station, garden soil being harder than a tray."""
    return station_seeds(crop, sensible(plants), world, prices.germination)[0]


def _hours(plants: int, potted_up: bool, world: World) -> float:
    jobs = world.facts.table("work")["job"]
    minutes = jobs["sow-indoors"]["minutes"]
    if potted_up:
        minutes += jobs["pot-up"]["minutes"] + max(0, plants - 12) * jobs["pot-up"]["minutes_each"]
    return float(minutes) / 60.0
