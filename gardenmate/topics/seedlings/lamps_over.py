"""How many lamps over so many trays or a shelf: watts, height and hours. One footprint for LEDs and for tubes."""

from __future__ import annotations

from math import ceil

from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.records import dataclass
from gardenmate.science import light
from gardenmate.topics.quantities.amounts import show_row
from gardenmate.topics.seedlings.lamps import distance, lamp_cautions, need_working, needs_of
from gardenmate.topics.seedlings.light_supply import LightNeed, in_pots, number_cue
from gardenmate.topics.shared.grammar import sentence, span, unique
from gardenmate.topics.shared.raising import Named, gear


@dataclass(frozen=True, slots=True)
class LampFinding:
    """Lamps over ``trays``, which ``pots`` stand on where they were counted: LED ``watts_each`` a tray, or
    ``fixtures`` of tubes, 4 ft long."""

    trays: int
    pots: int | None
    shelf_m: tuple[float, float] | None
    depth_assumed: bool
    need: LightNeed
    watts_each: float
    fixtures: int
    fixture_watts: float


def answer(question: Request, world: World, crops: tuple[Named, ...]) -> Answer | None:
    """How many lamps; None where neither trays nor a shelf are told, or a lamp's own light is asked about."""
    fits = question.cue("asks") == "trays" and question.first("count", "trays") is None
    counted = (in_pots(question, world) is not None or fits) and "lamp" in gear(question)
    lamp = question.has("asks", "how-many-lamps") or (
        (question.has("lamp") or counted) and "mat" not in gear(question)
    )
    known = any(
        number_cue(question, cue) is not None for cue in ("lamp_watts", "lux", "lumens", "ppfd", "lamp_hours")
    )
    if not lamp or known:
        return None
    if fits and question.first("size", "shelf-length") is None:
        return _under_one(question, world, crops)
    found = decide(question, world, crops)
    return None if found is None else _worded(found, question, world, crops)


def _under_one(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """How many trays a twin-tube light covers, by its length."""
    fixture, need = (
        world.facts.table("raising")["light"]["fixture"],
        needs_of(crops, world)[-1 if crops else 0][1],
    )
    trays, long = fixture["trays"], "4 ft" if world.units == "us" else "1.2 m"
    hours = span(*need.hours)
    return Answer(
        question=question,
        verdict=None,
        headline=f"One twin-tube shop light of {long} covers {plural(trays, 'flat')}, end to end. "
        f"Leave it on {hours} hours a day.",
        numbers=(
            Number("trays", trays, "trays", "flats a light", shown=False),
            Number("lamp_hours", hours, "hours", "lamp on"),
        ),
        steps=(f"Hang {distance(world)}.",),
        details=("A second row of flats beside them needs a second light: the edges get too little.",),
        cautions=lamp_cautions(world),
        sources=unique(need.sources, fixture["sources"]),
        working=(need_working("seedlings", need),),
    )


def decide(question: Request, world: World, crops: tuple[Named, ...]) -> LampFinding | None:
    """The lamps for the trays told, or for those the shelf told holds; None when neither is."""
    table = world.facts.table("raising")["light"]
    told = question.first("count", "trays")
    shelf, assumed = _shelf(question, table["fixture"]["shelf_depth_m"])
    pots = in_pots(question, world)
    if told is not None:
        trays = max(1, round(told.number))
    elif pots is not None and shelf is None:
        trays = pots[1]
    elif shelf is not None:
        trays = max(1, _trays_on(shelf, tuple(table["fixture"]["tray_outside_m"])))
    else:
        return None
    need = needs_of(crops, world)[-1 if crops else 0][1]
    watts = light.lamp_watts(
        sum(need.ppfd) / 2, table["led_umol_per_j"], table["share_on_plants"], table["tray_m2"]
    )
    each = table["fixture"]["trays"]
    return LampFinding(
        trays=trays,
        pots=pots[0] if pots is not None and told is None and shelf is None else None,
        shelf_m=shelf if told is None else None,
        depth_assumed=assumed and told is None,
        need=need,
        watts_each=watts,
        fixtures=ceil(trays / each),
        fixture_watts=table["fixture"]["watts"],
    )


def for_shelf(question: Request, world: World, crops: tuple[Named, ...]) -> str | None:
    """What the shelf or the trays told take of lamps, as one sentence; None where neither is told."""
    found = decide(question, world, crops)
    return (
        None if found is None or found.pots is not None else _worded(found, question, world, crops).headline
    )


def _shelf(question: Request, usual_depth_m: float) -> tuple[tuple[float, float] | None, bool]:
    """Depth and length of the shelf told, metres, and whether the depth was assumed."""
    depth, length = question.first("size", "shelf-depth"), question.first("size", "shelf-length")
    if length is None:
        return None, False
    return (depth.number if depth is not None else usual_depth_m, length.number), depth is None


def _trays_on(shelf_m: tuple[float, float], tray_m: tuple[float, ...]) -> int:
    """Trays side by side on a shelf, the better way round."""
    depth, length = (side + 0.01 for side in shelf_m)  # 4 ft shelves are sold a little short of it
    wide, long = tray_m
    return max(int(length // wide) * int(depth // long), int(length // long) * int(depth // wide))


def _worded(found: LampFinding, question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    table = world.facts.table("raising")["light"]
    each, total = round(found.watts_each), round(found.watts_each) * found.trays
    trays = plural(found.trays, "flat")
    where = f"For {trays} you need"
    if found.pots is not None:
        where = f"For {plural(found.pots, 'plant')} in pots, on {trays}, you need"
    if found.shelf_m is not None:
        where = f"A {show_row(100.0 * found.shelf_m[1], world.units)} shelf holds {trays}, which need"
    long = "4 ft" if world.units == "us" else "1.2 m"
    lights = f"{plural(found.fixtures, 'shop light')} of {long}"
    bars = "one LED bar" if found.trays == 1 else f"{found.trays} LED bars"
    led = f"{bars} of about {each} real watts{'' if found.trays == 1 else f' each ({total} W in all)'}"
    return Answer(
        question=question,
        verdict=None,
        headline=f"{where} {led}, or {lights} with two tubes each."
        f"{_by_price(question, total)}{_tubes(question, found)}",
        numbers=(
            Number("trays", found.trays, "trays", "flats", shown=False),
            Number("lamps", found.trays, "", "LED bars, one a flat"),
            Number("lamp_watts", total, "W", "LED watts in all"),
            Number("shop_lights", found.fixtures, "", "or shop lights, two tubes each"),
            Number("lamp_hours", span(*found.need.hours), "hours", "lamp on"),
        ),
        details=(
            f"Height: {distance(world)}.",
            f"A twin-tube light of {found.fixture_watts:g} W lights {table['fixture']['trays']} flats end to end.",
            "Hang one bar along each flat rather than one lamp over the middle: the edges get too little.",
        ),
        changes=()
        if crops
        else (
            f"Tomatoes, peppers and cucumbers want half as much again: about {_fruiting(world)} W a flat.",
        ),
        cautions=lamp_cautions(world),
        assumptions=_assumed(found, world, bool(crops)),
        sources=unique(found.need.sources, table["fixture"]["sources"]),
        working=(
            need_working("seedlings", found.need),
            f"{sentence(trays)} x {each} W = {total} W of white LED.",
        ),
        key_figures=("lamp_watts", "shop_lights", "lamp_hours"),
    )


def _tubes(question: Request, found: LampFinding) -> str:
    """Whether the tubes counted are enough."""
    count = question.ask.count
    if not count or question.cue("lamp_kind") != "fluorescent" or question.cue("count_unit"):
        return ""
    enough = count >= 2 * found.fixtures
    return f" So {count:g} tubes are {'enough' if enough else 'too few'}."


def _by_price(question: Request, watts: int) -> str:
    """What a price told says of a lamp: little."""
    if question.slots.price is None:
        return ""
    return f" The price, {question.slots.price:g}, says little: look for {watts} real watts on the label."


def _assumed(found: LampFinding, world: World, crop_named: bool) -> tuple[str, ...]:
    said = [] if crop_named else ["I took leafy seedlings; name the crop for its own figure."]
    if found.shelf_m is not None and found.depth_assumed:
        said.append(f"I took the shelf to be {show_row(100.0 * found.shelf_m[0], world.units)} deep.")
    return tuple(said)


def _fruiting(world: World) -> int:
    """Watts of white LED over one flat of fruiting crops."""
    table = world.facts.table("raising")["light"]
    return round(
        light.lamp_watts(
            sum(table["fruiting"]["ppfd"]) / 2,
            table["led_umol_per_j"],
            table["share_on_plants"],
            table["tray_m2"],
        )
    )
