"""From an amount wanted (pounds, jars, ears, heads) to plants and row; and from plants to what they give."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import Request
from gardenmate.core.units import LB_PER_KG, plural
from gardenmate.core.world import World
from gardenmate.knowledge.crop_uses import Amounts
from gardenmate.knowledge.reader import Range
from gardenmate.records import dataclass, replace
from gardenmate.topics.quantities.amounts import (
    fruits_per_plant,
    plants_for,
    row_cm,
    show_row,
    show_row_range,
    show_weight,
    show_weight_range,
    spacing_of,
    span_text,
    stock_kg,
    weight_kg,
    yield_per_plant,
)
from gardenmate.topics.quantities.household import Wanted, piece_of
from gardenmate.topics.shared.grammar import listed, sentence, unique

_QUARTS = {"quart": 1.0, "jar": 1.0, "pint": 0.5, "litre": 1.057, "gallon": 4.0}
JARS = frozenset(_QUARTS)
PIECE_UNITS = frozenset({"head", "bulb", "ear", "fruit"})


@dataclass(frozen=True, slots=True)
class HarvestTarget:
    """An amount wanted of one crop: kg (None when counted in pieces), pieces, how it was worked out."""

    text: str
    kg: float | None
    pieces: float | None
    working: str
    sources: tuple[str, ...] = ()
    plural: bool = False


def is_harvest_unit(unit: str | None) -> bool:
    """True for a unit of harvest: a weight, a jar, a piece."""
    return unit is not None and (weight_kg(1.0, unit) is not None or unit in _QUARTS or unit in PIECE_UNITS)


def target_of(w: Wanted, question: Request, world: World) -> HarvestTarget | None:
    """The amount wanted, from count and cue count_unit; "a head" multiplies by the people."""
    count, unit = question.ask.count, question.cue("count_unit")
    if count is None or unit is None:
        return None
    people = question.ask.people or 1
    times = people if question.cue("count_each") == "person" else 1
    kg = weight_kg(count * times, unit)
    if kg is not None:
        each = f" ({count:g} {unit} x {times})" if times > 1 else ""
        return HarvestTarget(
            f"{show_weight(kg, world.units)} of {w.name}{each}",
            kg,
            None,
            f"{count * times:g} {unit} = {kg:.1f} kg.",
        )
    if unit in _QUARTS:
        own = w.crop.amounts if w.crop is not None else Amounts()
        if own.lb_per_quart is None:
            return None
        quarts = count * times * _QUARTS[unit]
        told = next((float(str(t.value)) for t in question.all("weight", "produce")), None)
        kg = quarts * own.lb_per_quart / LB_PER_KG if told is None else told
        text = f"{count:g} {unit}{'' if count == 1 else 's'} ({show_weight(kg, world.units)} of {w.name})"
        return HarvestTarget(
            text,
            kg,
            None,
            f"{kg:.1f} kg for {quarts:g} quarts, as you told me."
            if told is not None
            else f"{quarts:g} quarts x {own.lb_per_quart:g} lb of {own.quart_of} = {kg * LB_PER_KG:.0f} lb.",
            own.sources.of("lb_per_quart"),
            plural=count != 1,
        )
    if unit in PIECE_UNITS:
        pieces = count * times
        words = f"{pieces:g} {w.name} {unit}{'' if pieces == 1 else 's'}"
        return HarvestTarget(words, None, pieces, f"{words}.", plural=pieces != 1)
    return None


def harvest_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer | None:
    """Plants and row for the amount wanted; None when no crop of the question has the figures."""
    lines = [line for w in crops if (line := _line(w, question, world)) is not None]
    if not lines:
        return None
    several = len(lines) > 1
    units = world.units
    return Answer(
        question=question,
        verdict=None,
        headline=sentence(f"{'; '.join(_harvest_words(line, world) for line in lines)}."),
        numbers=tuple(n for line in lines for n in _harvest_numbers(line, several)),
        details=unique(
            *(_pieces(line.w, line.usual, world) for line in lines),
            ("Plant for the poor year if it has to last.",),
            *(_a_head(line, question, world) for line in lines),
        ),
        table=Table(
            ("", "for", "plants", "row", "good year", "poor year"),
            tuple(
                (
                    line.w.name,
                    line.target.text,
                    str(line.usual),
                    "-" if line.gap_cm is None else show_row(line.usual * line.gap_cm, units),
                    str(line.good),
                    str(line.poor),
                )
                for line in lines
            ),
        ),
        changes=(
            "Published yields differ up to fourfold with soil, water and season; a yield of your "
            "own moves this.",
        ),
        sources=unique(*((*line.sources, *line.target.sources) for line in lines)),
        working=tuple(text for line in lines for text in _harvest_working(line)),
    )


@dataclass(frozen=True, slots=True)
class _Line:
    """Plants of one crop for its target: usual, and in a good and a poor year."""

    w: Wanted
    target: HarvestTarget
    per_plant: tuple[float, float, float]
    usual: int
    good: int
    poor: int
    gap_cm: float | None
    sources: tuple[str, ...]


def _line(w: Wanted, question: Request, world: World) -> _Line | None:
    target = target_of(w, question, world)
    if target is None or w.crop is None:
        return None
    if target.kg is not None:
        y = yield_per_plant(w.crop)
        if y is None:
            return None
        amount, per, sources = target.kg, (y.poor, y.usual, y.good), y.sources
    else:
        fruits = fruits_per_plant(w.crop)
        if fruits is None or target.pieces is None:
            return None
        (low, high), sources = fruits
        amount, per = target.pieces, (low, 0.5 * (low + high), high)
    spacing = spacing_of(w.crop)
    poor, usual, good = (plants_for(amount, p) for p in per)
    return _Line(w, target, per, usual, good, poor, None if spacing is None else spacing.usual, sources)


def _harvest_words(line: _Line, world: World) -> str:
    row = "" if line.gap_cm is None else f" and {show_row(line.usual * line.gap_cm, world.units)} of row"
    years = "" if line.good == line.poor else f" ({line.good} in a good year, {line.poor} in a poor one)"
    about = "" if line.good == line.poor else "about "
    piece = piece_of(line.w.crop)
    verb = "take" if line.target.plural else "takes"
    return f"{line.target.text} {verb} {about}{plural(line.usual, piece)}{row}{years}"


def _harvest_numbers(line: _Line, several: bool) -> list[Number]:
    crop = line.w.id if several else None
    found = [
        Number("plants", line.usual, "plants", "plants", crop, shown=False),
        Number("plants_min", line.good, "plants", "in a good year", crop, shown=False),
        Number("plants_max", line.poor, "plants", "in a poor year", crop, shown=False),
    ]
    if line.gap_cm is not None:
        found.append(
            Number("row_m", round(line.usual * line.gap_cm / 100.0, 1), "m", "row", crop, shown=False)
        )
    return found


def _harvest_working(line: _Line) -> list[str]:
    unit = "kg" if line.target.kg is not None else "each"
    poor, usual, good = line.per_plant
    return [
        f"{line.w.name}: {line.target.working}",
        f"One plant gives {usual:.2g} {unit} ({poor:.2g} in a poor year, {good:.2g} in a good "
        f"one): {line.usual} plants.",
    ]


def _a_head(line: _Line, question: Request, world: World) -> list[str]:
    """The amount shared out among the people typed."""
    people, count = question.ask.people, question.ask.count
    if people is None or count is None:
        return []
    each = count if question.cue("count_each") == "person" else count / people
    unit = plural(round(each, 1), question.cue("count_unit") or "")
    return [f"For {plural(people, 'person', 'people')} that is {unit} each."]


def _pieces(w: Wanted, plants: int, world: World) -> list[str]:
    """Seed stock for that many plants, where it is bought by weight; a tenth kept back to plant again."""
    own = w.crop.amounts if w.crop is not None else Amounts()
    per_lb = own.pieces_per_lb
    if per_lb is None:
        return []
    low, high = stock_kg(per_lb, (plants, plants))
    text = [
        f"For {plants} plants you need about {show_weight_range(low, high, world.units)} of seed {w.name}."
    ]
    if own.keep_back_one_in is not None:
        text.append(
            f"To plant again next year keep back about one head in {own.keep_back_one_in}: "
            "put in that many more."
        )
    return text


def stock_row_answer(question: Request, world: World, w: Wanted) -> Answer | None:
    """A weight of seed potatoes, cloves or sets in hand: how many pieces, and the row they fill."""
    count, unit = question.ask.count, question.cue("count_unit")
    own = w.crop.amounts if w.crop is not None else Amounts()
    per_lb = own.pieces_per_lb
    kg = None if count is None or unit is None else weight_kg(count, unit)
    spacing = spacing_of(w.crop) if w.crop is not None else None
    if kg is None or per_lb is None or spacing is None:
        return None
    low, high = kg * LB_PER_KG * per_lb[0], kg * LB_PER_KG * per_lb[1]
    row = show_row_range(low * spacing.usual, high * spacing.usual, world.units)
    each = yield_per_plant(w.crop) if w.crop is not None else None
    gives: tuple[str, ...] = ()
    if each is not None:
        gives = (f"That should give {show_weight_range(low * each.poor, high * each.good, world.units)}.",)
    return Answer(
        question=question,
        verdict=None,
        headline=(
            f"About {row} of row: {show_weight(kg, world.units)} of seed {w.name} makes "
            f"{span_text(round(low, -1), round(high, -1))} pieces."
        ),
        numbers=(
            Number("pieces_min", round(low), "pieces", "pieces, least"),
            Number("pieces_max", round(high), "pieces", "pieces, most"),
            Number("row_min_m", round(low * spacing.usual / 100.0, 1), "m", "row, least", shown=False),
            Number("row_max_m", round(high * spacing.usual / 100.0, 1), "m", "row, most", shown=False),
        ),
        details=gives,
        changes=(own.stock_row_note,) if own.stock_row_note else (),
        assumptions=(
            f"{per_lb[0]:.0f} to {per_lb[1]:.0f} pieces to the pound, {spacing.usual:.0f} cm apart.",
        ),
        sources=unique(own.sources.of("pieces_per_lb"), w.crop.space.sources if w.crop else ()),
        working=(
            f"{kg * LB_PER_KG:.1f} lb x {per_lb[0]:.0f} to {per_lb[1]:.0f} pieces x {spacing.usual:.0f} cm.",
        ),
    )


def stock_yield_answer(question: Request, world: World, w: Wanted) -> Answer | None:
    """What a weight of seed stock gives ("what will 5 lb of seed potatoes yield"); None when the weight asked
    about is one of the harvest."""
    if not question.has("asks", "yield-of-stock") or w.crop is None:
        return None
    stock, each = stock_row_answer(question, world, w), yield_per_plant(w.crop)
    pieces = {n.name: n.value for n in stock.numbers} if stock is not None else {}
    if stock is None or each is None:
        return None
    few, many = float(str(pieces["pieces_min"])), float(str(pieces["pieces_max"]))
    low, high = few * each.poor, many * each.good
    usual = 0.5 * (few + many) * each.usual
    count, unit = question.ask.count, question.cue("count_unit")
    kg = weight_kg(count, unit) if count is not None and unit is not None else None
    assert kg is not None  # else there would be no stock
    return replace(
        stock,
        headline=sentence(
            f"{show_weight(kg, world.units)} of seed {w.name} gives about {show_weight(usual, world.units)}, "
            f"from {show_weight(low, world.units)} in a poor year to {show_weight(high, world.units)} in a "
            "good one."
        ),
        numbers=(
            Number("yield_min_kg", round(low, 2), "kg", "yield, least", shown=False),
            Number("yield_kg", round(usual, 2), "kg", "yield, as a rule", shown=False),
            Number("yield_max_kg", round(high, 2), "kg", "yield, most", shown=False),
            *stock.numbers,
        ),
        details=(stock.headline,),
        sources=unique(stock.sources, each.sources),
        working=(
            *stock.working,
            f"{each.poor:.2g} to {each.good:.2g} kg a plant, {each.usual:.2g} as a rule.",
        ),
    )


def yield_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer:
    """What one plant, or the number or row said, should give."""
    count, unit = question.ask.count, question.cue("count_unit")
    parts, numbers, working, unknown = [], [], [], []
    sources: list[str] = []
    for w in crops:
        each = None if w.crop is None else yield_per_plant(w.crop)
        fruits = None if w.crop is None else fruits_per_plant(w.crop)
        spacing = None if w.crop is None else spacing_of(w.crop)
        if each is None and fruits is None:
            unknown.append(w.many)
            continue
        length = None if count is None or unit is None else row_cm(count, unit)
        plants = count if count is not None and length is None else 1.0
        what = f"{plants:g} {w.name} plant{' gives' if plants == 1 else 's give'}"
        if length is not None and spacing is not None:
            plants, what = length / spacing.usual, f"{show_row(length, world.units)} of {w.many} gives"
        crop = w.id if len(crops) > 1 else None
        said = []
        if each is not None:
            low, high = plants * each.poor, plants * each.good
            said.append(f"about {_weight_span((low, high), world)}")
            numbers += [
                Number("yield_min_kg", round(low, 2), "kg", "yield, least", crop, shown=False),
                Number("yield_max_kg", round(high, 2), "kg", "yield, most", crop, shown=False),
            ]
            working.append(f"{w.name}: {each.poor:.2g} to {each.good:.2g} kg a plant x {plants:.3g}.")
            sources += each.sources
        if fruits is not None and fruits[0] != (1.0, 1.0):
            said.append(f"{span_text(plants * fruits[0][0], plants * fruits[0][1])} fruits")
            sources += fruits[1]
        parts.append(f"{what} {' or '.join(said) or 'one head or root each'}")
    if not parts:
        return Answer(question, None, f"I have no yield figures for {listed(unknown)}.")
    return Answer(
        question=question,
        verdict=None,
        headline=sentence(f"{'; '.join(parts)} over the season."),
        numbers=tuple(numbers),
        details=(f"I have no yield figures for {listed(unknown)}.",) if unknown else (),
        changes=(
            "Published yields differ up to fourfold: poor soil, drought or a short season give the "
            "lower figure.",
        ),
        sources=unique(sources),
        working=tuple(working),
    )


def _weight_span(span: Range, world: World) -> str:
    return show_weight_range(span[0], span[1], world.units)
