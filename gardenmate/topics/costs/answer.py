"""Buy plants or sow seed: both bills, where they cross, and whether there is still time to sow.

The verdict judges what was asked: sowing (yes: it pays and there is time) unless the question was about
buying ("should I just get plants?": yes = buy).
"""

from __future__ import annotations

from statistics import mean

from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.records import replace
from gardenmate.topics.costs import words
from gardenmate.topics.costs.bill import currency, money, price_group
from gardenmate.topics.costs.decide import decide, shown_windows
from gardenmate.topics.costs.several import in_general, several
from gardenmate.topics.costs.stock import stock_answer, stock_of
from gardenmate.topics.quantities.household import plain_name
from gardenmate.topics.season.season_dates import one_site
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.raising import named_crops

_LOT = 6.0  # a price so many times that of one is the price of a lot, not of one (design value)


def answer(question: Request, world: World) -> Answer:
    """Buy plants or sow seed."""
    return _with_said(_answer(question, world), question, world)


def _with_said(found: Answer, question: Request, world: World) -> Answer:
    """The answer with what was typed beside it: the price of so many trays, the people where plants were counted."""
    ask, unit = question.slots, question.cue("count_unit")
    if ask.price and ask.count and unit in ("pack", "tray") and question.cue("price_for") != "total":
        sum_text = money(currency(question, world), ask.price * ask.count)
        line = (
            f"{plural(ask.count, unit)} at {money(currency(question, world), ask.price)} come to {sum_text}."
        )
        found = replace(found, headline=f"{found.headline} {line}")
    lines = (*_other_prices(found, question, world), *_packets(question, world))
    found = replace(found, headline=" ".join((found.headline, *lines)))
    if ask.people and ask.count and unit not in ("pack", "tray"):
        note = f"Worked out for the plants you counted, not for what {plural(ask.people, 'person', 'people')} eat."
        found = replace(found, assumptions=(note, *found.assumptions))
    return found


def _other_prices(found: Answer, question: Request, world: World) -> list[str]:
    """What the plants would cost at a further price typed, of which neither bill was made."""
    cues = (_number(question.cue(f"{what}_price")) for what in ("packet", "lamp", "mat"))
    used = {question.ask.price, *cues}
    cost, each = (
        next((n.value for n in found.numbers if n.name == name and isinstance(n.value, float | int)), None)
        for name in ("cost_bought", "cost_bought_each")
    )
    others = list(
        dict.fromkeys(t.number for t in question.all("price") if t.number not in used and not t.told)
    )
    if not cost or not each or len(question.crops) > 1:
        return []
    sign, plants = currency(question, world), round(cost / each)
    return [
        f"At {money(sign, price)} each instead, {plants} of them come to {money(sign, price * plants)}."
        if price <= _LOT * each
        else f"{money(sign, price)} pays only for a lot of more than {price / each:.0f} of them."
        for price in others
    ]


def _packets(question: Request, world: World) -> list[str]:
    """What the packets counted cost, where crops are named."""
    packs, told = question.first("packets"), _number(question.cue("packet_price"))
    named = named_crops(question, world)
    if packs is None or packs.number < 2 or not named:
        return []
    each = mean(float(price_group(n.crop, world.facts)["packet"]) for n in named) if told is None else told
    sign = currency(question, world)
    return [
        f"{sentence(plural(packs.number, 'packet'))} of seed cost about {money(sign, packs.number * each)}."
    ]


def _number(text: str | None) -> float | None:
    return None if text is None else float(text)


def _answer(question: Request, world: World) -> Answer:
    stocks = [ref for ref in question.crops if stock_of(ref, world) is not None]
    packets = replace(question, crops=tuple(ref for ref in question.crops if ref not in stocks))
    if stocks and not packets.crops:
        return stock_answer(question, world)
    named = named_crops(packets, world)
    if not named:
        return in_general(question, world)
    crops = [(n.crop, plain_name(n.crop, _ref_of(n.crop, question))) for n in named]
    if len(crops) == 1 and not stocks:
        return _one(question, world, *crops[0])
    return several(question, world, crops, stocks)


def _ref_of(crop: Crop, question: Request) -> CropRef | None:
    return next((ref for ref in question.crops if ref.id == crop.base), None)


def _one(question: Request, world: World, crop: Crop, name: str) -> Answer:
    found = decide(crop, name, question, world)
    c, when = found.costs, found.time
    buys = found.asks == "when" or when.sowing_lost or when.plants_instead
    site, region_note = one_site(world)
    return Answer(
        question=question,
        verdict=None if found.asks == "when" else found.verdict,
        headline=words.headline(found, world),
        numbers=words.numbers_of(c, when, sown=found.asks != "when"),
        details=unique(
            words.day_words(when, question, world),
            words.time_words(c, when, world),
            () if buys else words.way_words(c, world),
        ),
        table=None if c.in_place else words.table_of([c]),
        changes=words.changes(found, question),
        cautions=cautions(world.facts, "buy-or-sow", "electricity").texts if c.lacking and not buys else (),
        assumptions=unique(
            (said,) if (said := words.plants_said(found)) else (),
            c.prices.assumed,
            (region_note,) if region_note else (),
        ),
        sources=unique(c.prices.sources, crop.timing.sources if site is not None else ()),
        working=words.working_of(c, world.units),
        windows=shown_windows(crop, world),
    )
