"""Plants, row and seed for a household: fresh, and to keep a year."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import FT_CM, plural
from gardenmate.core.world import World
from gardenmate.knowledge.crop_uses import Amounts
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.plants import amounts, name_of
from gardenmate.knowledge.reader import Range
from gardenmate.records import dataclass
from gardenmate.topics.quantities.amounts import (
    Spacing,
    row_cm,
    show_row,
    show_row_range,
    show_weight_range,
    spacing_of,
    span_text,
    stock_kg,
    yield_per_plant,
)
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.plant_names import proper
from gardenmate.topics.shared.raising import Named, spoken_name
from gardenmate.topics.shared.raising_plan import plan_raising
from gardenmate.topics.shared.subjects import plants, plural_of

_PER_PERSON = tuple(
    f"{unit}_per_person_{use}" for unit in ("plants", "row_ft", "hills") for use in ("fresh", "preserve")
)


@dataclass(frozen=True, slots=True)
class Need:
    """What one household wants of a crop. Ranges are plants for all of it; ``by_row`` when the published
    figure is row length and plants follow from the spacing. None where nothing is published or usual."""

    fresh: Range | None
    keep: Range | None
    by_row: bool
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """One crop of the question: its facts (None for a woody plant), contract id, name, and key in amounts."""

    crop: Crop | None
    id: str
    name: str
    key: str

    @property
    def many(self) -> str:
        """The crop in the plural where it has one: "leeks", "kale"."""
        return (
            plural_of(self.name) if self.crop is None else plants(Named(self.crop, self.id, self.name)).word
        )


def wanted(ref: CropRef, world: World) -> Wanted:
    """A reference as this topic needs it. An onion without a kind is grown from sets here."""
    crop = world.facts.crop_for(ref)
    if crop is None:
        return Wanted(None, ref.id, proper(name_of(world.facts, ref.id)), ref.id)
    return Wanted(crop, crop.base, plain_name(crop, ref), crop.id)


_PIECES = (
    ("cloves", "clove"),
    ("seed-potatoes", "seed piece"),
    ("slips", "slip"),
    ("sets", "set"),
    ("crowns", "crown"),
)


def plain_name(crop: Crop, ref: CropRef | None = None) -> str:
    """The singular name without what it is planted as: "potato" for seed potatoes, "onion" for onion sets."""
    name = spoken_name(crop, ref)
    if name.endswith("s") and not name.endswith("ss"):
        name = spoken_name(crop)  # a plural that is no known name
    name = name.removeprefix("seed ")
    for _, piece in _PIECES:
        name = name.removesuffix(f" {piece}")
    return name


def piece_of(crop: Crop | None) -> str:
    """What one plant of it is planted as: "clove", "set", "slip" ..., else "plant"."""
    method = crop.methods[0] if crop is not None else ""
    return next((piece for key, piece in _PIECES if key == method), "plant")


def people_of(question: Request, world: World) -> tuple[int, str | None, bool]:
    """(people, the sentence that says where the number comes from, whether it was said or stored)."""
    if question.ask.people is not None:
        return max(1, question.ask.people), None, True
    if world.garden.people is not None:
        return world.garden.people, f"Your household of {world.garden.people}.", True
    usual = int(world.facts.table("amounts")["defaults"]["people"])
    return usual, f"You didn't say how many people, so I used {usual}.", False


def need_of(w: Wanted, people: int, facts: Facts) -> Need | None:
    """What ``people`` want of a crop; None when no figure is known."""
    own = usual_amounts(w, facts)
    spacing = spacing_of(w.crop) if w.crop is not None else None
    if w.crop is not None:
        y = w.crop.yields
        fresh, by_row = _plants(
            y.plants_per_person_fresh, y.row_ft_per_person_fresh, y.hills_per_person_fresh, spacing
        )
        keep, _ = _plants(
            y.plants_per_person_preserve, y.row_ft_per_person_preserve, y.hills_per_person_preserve, spacing
        )
        if not (own is not None and own.in_place_of_yields) and (fresh is not None or keep is not None):
            by_row = by_row or (fresh is None and y.row_ft_per_person_preserve is not None)
            return Need(_times(fresh, people), _times(keep, people), by_row, y.sources.of(*_PER_PERSON))
    if own is None:
        return None
    figures = (
        own.plants_per_person_fresh,
        own.row_ft_per_person_fresh,
        own.plants_per_person_preserve,
        own.row_ft_per_person_preserve,
    )
    if all(figure is None for figure in figures):
        return None
    fresh, by_row = _plants(figures[0], figures[1], None, spacing)
    keep, keep_by_row = _plants(figures[2], figures[3], None, spacing)
    sources = own.sources.of(*(n for n in _PER_PERSON if getattr(own, n, None) is not None))
    return Need(_times(fresh, people), _times(keep, people), by_row or keep_by_row, sources)


def usual_amounts(w: Wanted, facts: Facts) -> Amounts | None:
    """The usual amounts in the file of a crop or woody plant."""
    return w.crop.amounts if w.crop is not None else amounts(facts, w.id)


def _times(span: Range | None, people: int) -> Range | None:
    return None if span is None else (span[0] * people, span[1] * people)


def _plants(
    plants: Range | None, row_ft: Range | None, hills: Range | None, spacing: Spacing | None
) -> tuple[Range | None, bool]:
    """(plants, whether they come from a row length), from whichever figure is published."""
    if plants is not None:
        return plants, False
    if row_ft is not None and spacing is not None:
        low, high = (feet * FT_CM / spacing.usual for feet in row_ft)
        return (low, high), True
    return hills, False


def household_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer:
    """How much of each named crop for the people said."""
    people, who, said = people_of(question, world)
    keeps = question.cue("wants") == "preserve"
    rows = [(w, need_of(w, people, world.facts)) for w in crops]
    known = [(w, n) for w, n in rows if n is not None]
    unknown = [w.name for w, n in rows if n is None]
    if known and not said:
        single = [(w, one) for w, _ in known if (one := need_of(w, 1, world.facts)) is not None]
        headline = (
            f"{_headline(single, 1, keeps, world)}; {_headline(known, people, keeps, world, short=True)}."
        )
    elif known:
        headline = _headline(known, people, keeps, world) + "."
    else:
        headline = f"I have no figure for how much {listed(unknown)} a household wants."
    details = [f"I have no figure for {listed(unknown)}."] if unknown and known else []
    details += _again(known, world)
    details += _rows_of(known, keeps, question, world)
    details += _expected(known, keeps, world)
    details += _sowing(known, keeps, world)
    return Answer(
        question=question,
        verdict=None,
        headline=headline,
        numbers=tuple(n for w, need in known for n in _numbers(w, need, people, len(crops) > 1)),
        details=unique(details),
        table=_table(known, world) if known else None,
        changes=changes_for(said),
        assumptions=unique((who,) if who else (), _assumed(known)),
        sources=unique(
            *(need.sources for _, need in known),
            *(w.crop.space.sources.of("spacing_in_row_cm") for w, _ in known if w.crop),
        ),
        working=tuple(line for w, need in known for line in _working(w, need, people, world)),
    )


def _headline(
    known: list[tuple[Wanted, Need]], people: int, keeps: bool, world: World, *, short: bool = False
) -> str:
    parts = []
    for w, need in known:
        first = need.keep if keeps and need.keep is not None else need.fresh
        other = need.fresh if first is need.keep else need.keep
        main = first if first is not None else other
        if main is None:
            continue
        how = "to store for a year" if main is need.keep else "to eat fresh"
        text = f"{_amount(w, main, need.by_row, world)} {how}"
        if other is not None and main is not other and len(known) == 1 and other != main and not short:
            use = "to store for a year" if other is need.keep else "to eat fresh"
            text += f", or {_amount(w, other, need.by_row, world)} {use}"
        parts.append(text)
    return f"{'for' if short else 'For'} {plural(people, 'person', 'people')}: {listed(parts)}"


def _amount(w: Wanted, plants: Range, by_row: bool, world: World) -> str:
    spacing = spacing_of(w.crop) if w.crop is not None else None
    noun = noun_of(w, plants[1]) + _stock_weight(w, plants, world)
    if by_row and spacing is not None:
        row = show_row_range(plants[0] * spacing.usual, plants[1] * spacing.usual, world.units)
        return f"{row} of {w.name} row (about {round_range(plants)} {noun.removeprefix(w.name).strip()})"
    return f"{round_range(plants)} {noun}"


def _stock_weight(w: Wanted, plants: Range, world: World) -> str:
    """ " (9 to 14 lb)": what is bought by weight; "" for what is not."""
    per_lb = w.crop.amounts.pieces_per_lb if w.crop is not None else None
    if per_lb is None:
        return ""
    return f" ({show_weight_range(*stock_kg(per_lb, plants), world.units)})"


def noun_of(w: Wanted, most: float) -> str:
    """What is counted: "tomato plants", "garlic cloves", "sweet potato slips"."""
    return f"{w.name} {piece_of(w.crop)}{'' if most == 1 else 's'}"


def round_range(plants: Range) -> str:
    """Plants that follow from a row length are no truer than to ten: "50 to 110"."""
    if plants[1] < 30:
        return span_text(*plants)
    return span_text(round(plants[0], -1), round(plants[1], -1))


def _table(known: list[tuple[Wanted, Need]], world: World) -> Table:
    rows = []
    for w, need in known:
        spacing = spacing_of(w.crop) if w.crop is not None else None

        def cell(plants: Range | None, gap: Spacing | None = spacing) -> tuple[str, str]:
            if plants is None:
                return "-", "-"
            length = (
                "-"
                if gap is None
                else show_row_range(plants[0] * gap.usual, plants[1] * gap.usual, world.units)
            )
            return round_range(plants), length

        rows.append((noun_of(w, 2), *cell(need.fresh), *cell(need.keep)))
    return Table(("", "to eat fresh", "row", "to store for a year", "row"), tuple(rows))


def _numbers(w: Wanted, need: Need, people: int, several: bool) -> list[Number]:
    crop = w.id if several else None
    spacing = spacing_of(w.crop) if w.crop is not None else None
    found = [Number("people", people, "people", "people", crop, shown=False)]
    for name, span, label in (("fresh", need.fresh, "fresh"), ("preserve", need.keep, "to keep a year")):
        if span is None:
            continue
        found.append(
            Number(f"plants_{name}_min", round(span[0]), "plants", f"{label}, least", crop, shown=False)
        )
        found.append(
            Number(f"plants_{name}_max", round(span[1]), "plants", f"{label}, most", crop, shown=False)
        )
        if spacing is not None:
            found.append(
                Number(
                    f"row_{name}_max_m",
                    round(span[1] * spacing.usual / 100.0, 1),
                    "m",
                    f"row {label}, most",
                    crop,
                    shown=False,
                )
            )
    return found


def _again(known: list[tuple[Wanted, Need]], world: World) -> list[str]:
    found = []
    for w, need in known:
        weeks = w.crop.amounts.again_weeks if w.crop is not None else None
        if weeks is not None and need.fresh is not None:
            found.append(
                f"{sentence(w.many)} won't wait in the ground: sow a third every {weeks} weeks rather than all "
                "at once."
            )
    return found


def _expected(known: list[tuple[Wanted, Need]], keeps: bool, world: World) -> list[str]:
    found = []
    for w, need in known:
        plants = need.keep if keeps and need.keep is not None else need.fresh or need.keep
        each = yield_per_plant(w.crop) if w.crop is not None else None
        if plants is None or each is None:
            continue
        text = show_weight_range(plants[0] * each.usual, plants[1] * each.usual, world.units)
        found.append(f"That is about {text} of {w.name} in an ordinary year.")
    return found


def _rows_of(known: list[tuple[Wanted, Need]], keeps: bool, question: Request, world: World) -> list[str]:
    """How many of the grower's rows that is, when their length was said."""
    count, unit = question.ask.count, question.cue("count_unit")
    length = None if count is None or unit is None else row_cm(count, unit)
    if not length:
        return []
    found = []
    for w, need in known:
        plants = need.keep if keeps and need.keep is not None else need.fresh or need.keep
        spacing = spacing_of(w.crop) if w.crop is not None else None
        if plants is None or spacing is None:
            continue
        low, high = (max(0.1, p * spacing.usual / length) for p in plants)
        rows = f"{high:.1f}" if round(low, 1) == round(high, 1) else f"{low:.1f} to {high:.1f}"
        found.append(f"Of rows {show_row(length, world.units)} long that is {rows} for the {w.name}.")
    return found


def _sowing(known: list[tuple[Wanted, Need]], keeps: bool, world: World) -> list[str]:
    """Seeds for the upper figure of crops raised in trays."""
    per_cell = int(world.facts.table("amounts")["defaults"]["seeds_per_cell"])
    found = []
    for w, need in known:
        plants = need.keep if keeps and need.keep is not None else need.fresh or need.keep
        if w.crop is None or plants is None or need.by_row or "indoors" not in w.crop.methods:
            continue
        plan = plan_raising(w.crop, max(1, round(plants[1])), world.facts, per_cell=per_cell)
        found.append(
            f"For {plan.plants} {w.name} plants sow {plan.seeds} seeds, {plan.per_cell} to a cell, "
            f"to be {plan.confidence:.0%} sure."
        )
    return found


def changes_for(said: bool) -> tuple[str, ...]:
    """What would change the amounts."""
    ask = () if said else ("Say how many you are ('for three') and I'll work it out for you.",)
    return (
        *ask,
        "Big eaters, poor soil or no water call for the upper figure; a first garden is happier "
        "with the lower.",
    )


def _assumed(known: list[tuple[Wanted, Need]]) -> tuple[str, ...]:
    gaps = [w for w, need in known if need.by_row and w.crop is not None]
    return ("I used the middle of the published spacing in the row.",) if gaps else ()


def _working(w: Wanted, need: Need, people: int, world: World) -> list[str]:
    lines = []
    spacing = spacing_of(w.crop) if w.crop is not None else None
    for label, span in (("fresh", need.fresh), ("to keep a year", need.keep)):
        if span is None:
            continue
        one = (span[0] / people, span[1] / people)
        text = f"{w.name}, {label}: {round_range(one)} a person x {people} = {round_range(span)} plants"
        if spacing is not None:
            row = show_row_range(span[0] * spacing.usual, span[1] * spacing.usual, world.units)
            text += f"; at {spacing.usual:.0f} cm apart, {row} of row"
        lines.append(text + ".")
    return lines
