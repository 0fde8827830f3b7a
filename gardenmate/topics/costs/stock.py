"""Crops bought as planting stock (garlic, crowns, slips, canes): seed is no way to them, or a slow one."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural, show_date
from gardenmate.core.world import World
from gardenmate.knowledge.crop_uses import Stock
from gardenmate.knowledge.plants import name_of, section
from gardenmate.knowledge.reader import Range
from gardenmate.records import NamedTuple
from gardenmate.science.costs import packets
from gardenmate.topics.costs.bill import compare, currency, money
from gardenmate.topics.costs.decide import asked_for, timing
from gardenmate.topics.quantities.household import plain_name
from gardenmate.topics.season.season_dates import one_site
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.raising_plan import sensible


def stock_of(ref: CropRef, world: World) -> Stock | None:
    """The planting-stock entry of a crop; the general one for woody plants; None for crops from packets.

    A plant grown from seed or from sets counts as stock until the kind is said to be seed.
    """
    crop = world.facts.crop_for(ref)
    if crop is None:
        woody = world.facts.table("prices")["woody"]
        return Stock(woody["sources"], advice=woody["advice"], headline=woody["headline"])
    if crop.stock is None or not crop.stock.sets_crop:
        return crop.stock
    return None if ref.kind == "seed" else world.facts.crop(crop.stock.sets_crop).stock


def stock_lead(ref: CropRef, question: Request, world: World) -> str:
    """The first sentence of the answer about one such crop."""
    entry = _settled(ref, question, world).entry
    return _judge(entry, _name(ref, world), question)[1]


def stock_sentence(ref: CropRef, world: World) -> str:
    """One sentence for an answer about several crops."""
    entry = stock_of(ref, world)
    if entry is None:
        raise KeyError(ref.id)
    return f"{sentence(_name(ref, world))}: {entry.advice}"


def _name(ref: CropRef, world: World) -> str:
    crop = world.facts.crop_for(ref)
    if crop is None:
        return name_of(world.facts, ref.id)
    entry = stock_of(ref, world)
    return entry.name if entry is not None and entry.name else plain_name(crop, ref)


def stock_answer(question: Request, world: World) -> Answer:
    """Planting stock against seed, own pieces or nothing: price, years, and what to look for."""
    answers = [_one(ref, question, world) for ref in question.crops]
    if len(answers) == 1:
        return answers[0]
    verdicts = {a.verdict for a in answers}
    return Answer(
        question=question,
        verdict=answers[0].verdict if len(verdicts) == 1 else None,
        headline=" ".join(a.headline for a in answers),
        numbers=tuple(n for a in answers for n in a.numbers),
        details=unique(*(a.details for a in answers)),
        table=answers[0].table,
        changes=unique(*(a.changes for a in answers)),
        cautions=unique(*(a.cautions for a in answers)),
        assumptions=unique(*(a.assumptions for a in answers)),
        sources=unique(*(a.sources for a in answers)),
        working=unique(*(a.working for a in answers)),
    )


class SeedSettled(NamedTuple):
    """One crop's planting stock against seed: the entry with what it prefers here, and the ways with their prices."""

    entry: Stock
    pieces: int
    assumed: str | None
    rows: list[tuple[str, str, str, str]]
    numbers: list[Number]
    notes: list[str]


def _settled(ref: CropRef, question: Request, world: World) -> SeedSettled:
    entry = stock_of(ref, world)
    if entry is None:
        raise KeyError(ref.id)
    crop, sign = world.facts.crop_for(ref), currency(question, world)
    pieces, assumed = _pieces(entry, question)
    in_a_pound = crop.amounts.pieces_per_lb if crop is not None else None
    rows, numbers, notes = _rows(entry, pieces, question, in_a_pound, sign)
    if crop is not None and entry.seed_crop:
        rows, numbers, notes = _three_ways(entry, question, world, pieces, sign, rows, numbers, notes)
        money_of = {n.name: float(n.value) for n in numbers if isinstance(n.value, float | int)}
        raised, bought = money_of["cost_raised"], min(money_of["cost_bought"], money_of["cost_plants"])
        entry = entry._replace(prefer="seed" if raised < bought else "stock")
    return SeedSettled(entry, pieces, assumed, rows, numbers, notes)


def _one(ref: CropRef, question: Request, world: World) -> Answer:
    entry, pieces, assumed, rows, numbers, notes = _settled(ref, question, world)
    crop = world.facts.crop_for(ref)
    details = [entry.advice, entry.seed, entry.share]
    if entry.first_crop_years:
        details.insert(1, f"First crop: {entry.first_crop_years}.")
    if crop is None:
        if (section(world.facts, ref.id, "stock") or {}).get("cheap_suckers"):
            details.insert(0, world.facts.table("prices")["woody"]["suckers"])
    else:
        details += _when(ref, world)
    verdict, lead = _judge(entry, _name(ref, world), question)
    costs = "; ".join(f"{way} {total}" for way, _, total, _ in rows[:3])
    headline = f"{lead} For {pieces}: {costs}." if costs else lead
    _, region_note = one_site(world)
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=tuple(numbers),
        details=unique(d for d in details if d),
        table=Table(("way", "each", f"for {pieces}", "crop"), tuple(rows)) if rows else None,
        changes=("Tell me a different price or number and I'll work it out again.",),
        assumptions=unique(
            (assumed,) if assumed and rows else (), notes, (region_note,) if region_note else ()
        ),
        sources=unique(entry.sources),
        working=tuple(f"{way}: {each} x {pieces} = {total}" for way, each, total, _ in rows if each),
    )


def _pieces(entry: Stock, question: Request) -> tuple[int, str | None]:
    count = question.ask.count
    if count is not None and count >= 1:
        return sensible(count), None
    usual = entry.usual_plants
    return usual, f"You didn't say how many, so I used {usual}."


def _piece_price(
    entry: Stock, pieces: int, question: Request, in_a_pound: Range | None, sign: str
) -> tuple[float | None, list[str]]:
    """Price of one piece: the grower's, read as each, as the lot or as a pound, else the stated default."""
    usual, said = entry.price, question.ask.price
    if said is None:
        return usual, [] if usual is None else [f"One {entry.piece} costs {money(sign, usual)}."]
    meant, pack = question.cue("price_for"), question.cue("pack")
    if pack is not None and pack.isdigit() and int(pack) > 1:
        return said / int(pack), [f"{money(sign, said)} is the price of a pack of {pack}."]
    if meant == "each" or (meant is None and (usual is None or said <= 3 * usual)):
        return said, []
    if question.ask.count is not None:
        return said / pieces, [f"{money(sign, said)} is read as the price of all {pieces} together."]
    if in_a_pound is not None:
        each = said / (0.5 * (in_a_pound[0] + in_a_pound[1]))
        return each, [
            f"{money(sign, said)} is read as the price of a pound, {in_a_pound[0]:.0f} to "
            f"{in_a_pound[1]:.0f} {entry.piece}s."
        ]
    return usual, [
        f"{money(sign, said)} without a number of {entry.piece}s gives no price of one: "
        f"taken at {money(sign, usual or 0)}."
    ]


def _rows(
    entry: Stock, pieces: int, question: Request, in_a_pound: Range | None, sign: str
) -> tuple[list[tuple[str, str, str, str]], list[Number], list[str]]:
    rows: list[tuple[str, str, str, str]] = []
    numbers: list[Number] = []
    price, notes = _piece_price(entry, pieces, question, in_a_pound, sign)
    years = entry.extra_years
    if price is not None:
        rows.append((f"bought {entry.piece}s", money(sign, price), money(sign, price * pieces), "first"))
        numbers += [
            Number(
                "cost_bought",
                round(price * pieces, 2),
                sign,
                f"{pieces} bought {entry.piece}s",
                shown=False,
            ),
            Number("cost_bought_each", round(price, 2), sign, f"one {entry.piece}", shown=False),
        ]
    if entry.packet is not None and entry.seeds is not None:
        count = packets(2 * pieces, entry.seeds)
        told = question.cue("packet_price")
        packet = (
            0.0 if question.cue("seed_in_hand") == "yes" else entry.packet if told is None else float(told)
        )
        total = count * packet
        later = plural(years, "year") + " later" if years else "the same season"
        rows.append(("from seed", money(sign, total / pieces), money(sign, total), later))
        numbers.append(Number("cost_raised", round(total, 2), sign, f"{pieces} from seed", shown=False))
        notes.append(
            f"A packet costs {money(sign, packet)} with about {entry.seeds} seeds, two sown for each plant."
        )
    if entry.own:
        own = entry.own_price
        rows.append((entry.own, money(sign, own), money(sign, own * pieces), "as bought"))
        numbers.append(Number("cost_own", round(own * pieces, 2), sign, f"own: {entry.own}", shown=False))
    notes.append("Your own time is not counted.")
    return rows, numbers, notes


def _three_ways(
    entry: Stock,
    question: Request,
    world: World,
    pieces: int,
    sign: str,
    rows: list[tuple[str, str, str, str]],
    numbers: list[Number],
    notes: list[str],
) -> tuple[list[tuple[str, str, str, str]], list[Number], list[str]]:
    """Sets, plants and seed. A price said for a bundle counts for both bought ways."""
    c = compare(world.facts.crop(entry.seed_crop), entry.name, pieces, question, world)
    rows = [
        *rows,
        ("bought plants", money(sign, c.bought.each), money(sign, c.bought.total), "large bulbs"),
        (
            "from seed",
            money(sign, c.raised.each),
            money(sign, c.raised.total),
            "large bulbs, if sown early enough",
        ),
    ]
    rows[0] = (*rows[0][:3], "smaller bulbs, some bolt")
    numbers = [
        *numbers,
        Number("cost_plants", round(c.bought.total, 2), sign, f"{pieces} bought plants", shown=False),
        Number("cost_raised", round(c.raised.total, 2), sign, f"{pieces} from seed", shown=False),
    ]
    return rows, numbers, [*notes, *c.prices.assumed]


def _when(ref: CropRef, world: World) -> list[str]:
    crop = world.facts.crop_for(ref)
    if crop is None or (world.site is None and not world.sites):
        return []
    t = timing(crop, world)
    if t.plants_by is None:
        return []
    if t.plants_from is not None and t.plants_from > world.today:
        return [
            f"Planting here runs from {show_date(t.plants_from, world.today)} to "
            f"{show_date(t.plants_by, world.today)}."
        ]
    return [f"You can plant here until {show_date(t.plants_by, world.today)}."]


def _judge(entry: Stock, name: str, question: Request) -> tuple[Verdict, str]:
    """The verdict on what was asked (buying, or growing from seed or own pieces), and the first sentence."""
    doing, prefer = asked_for(question), entry.prefer
    if entry.headline:
        return ("yes" if doing == "buy" else "no"), f"{entry.headline.format(name=name)}."
    piece = f"{name} {entry.piece}s" if entry.piece != "plant" else f"{name} plants"
    if doing == "buy":
        verdict: Verdict = {"stock": "yes", "own": "tight", "seed": "tight"}[prefer]  # type: ignore[assignment]
        lead = {
            "stock": f"Yes, buy {piece}.",
            "own": f"You can buy {piece}, but your own cost next to nothing.",
            "seed": f"Bought {piece} work, but they are not the cheap way.",
        }[prefer]
    else:
        verdict = {"stock": "no", "own": "yes", "seed": "yes"}[prefer]  # type: ignore[assignment]
        lead = {
            "stock": f"Buy {piece} rather than starting from seed.",
            "own": f"Raise your own: the cheap way is {entry.own or 'your own pieces'}.",
            "seed": f"Seed is the cheap way for {name}.",
        }[prefer]
    return verdict, lead
