"""Buy plants or sow seed, worded: headline, reasons, tables and the arithmetic of a Finding."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Number, Table
from gardenmate.core.question import Request
from gardenmate.core.units import Units, plural, show_date
from gardenmate.core.world import World
from gardenmate.science.costs import cheaper
from gardenmate.topics.costs.bill import Comparison, money, price_of_plants
from gardenmate.topics.costs.decide import SLOW_WEEKS, BuyTiming, CostFinding
from gardenmate.topics.shared.grammar import listed, sentence
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.raising_plan import germination_basis
from gardenmate.topics.shared.regions import in_sentence
from gardenmate.topics.shared.subjects import plants


def plants_said(found: CostFinding) -> str | None:
    """Where the number of plants comes from, None when it was typed."""
    n = found.costs.plants
    if found.basis == "household":
        people = "one person" if found.people == 1 else f"{found.people} people"
        return f"{_of(n, found.costs.name)}: about what {people} eat fresh."
    if found.basis == "usual":
        return f"You didn't say how many, so I used {n} plants, usual for a household."
    return None


def headline(found: CostFinding, world: World) -> str:
    """The first line: which way, and both bills."""
    c, when = found.costs, found.time
    where = world.site.where if world.site is not None else f"in {in_sentence(world.region, world.facts)}"
    if c.not_from_seed:
        few = f"one {c.name} plant" if c.plants < 4 else f"one or two {c.name} plants"
        one = about(c.prices.sign, c.prices.plant, exact=c.prices.plant_told)
        return f"Buy {few} ({one} each) and take cuttings or divide; seed is not the way to good {c.many}."
    if found.asks == "when" and when.plants_by is not None:
        return _when_to_buy(found, world)
    if found.asks == "money" and when.state != "nothing" and not c.in_place and not c.dear_at_first:
        return f"{_cheaper(c)}: {_bill(c)}. {_time_for_it(found, world)}".rstrip()
    if when.state == "nothing":
        return f"Neither outdoors: the season {where} is not long and warm enough for {c.many} without cover."
    if when.state == "no":
        return _too_late(c, when, where, world)
    if c.in_place:
        return _in_place(found, world)
    return _buying(found) if found.doing == "buy" else _sowing(found, world)


def _when_to_buy(found: CostFinding, world: World) -> str:
    """Plants are bought for the days they can go out."""
    c, when, today = found.costs, found.time, world.today
    assert when.plants_by is not None
    last, best = show_date(when.plants_by, today), when.plants_from
    if best is None or best <= today:
        return f"Buy {c.name} plants now and set them out, by {last} at the latest."
    first = show_date(best, today)
    return (
        f"Buy {c.name} plants when they can go out: from about {first}, by {last} at the latest. Bought sooner, they "
        "wait indoors."
    )


def _cheaper(c: Comparison) -> str:
    """Which way costs less."""
    return {1: "Seed is cheaper", 0: "They cost much the same", -1: "Plants are cheaper"}[
        cheaper(c.raised.total, c.bought.total)
    ]


def _time_for_it(found: CostFinding, world: World) -> str:
    """What the calendar says beside the bills; "" where no place is known."""
    c, when, today = found.costs, found.time, world.today
    until = None if when.plants_by is None else show_date(when.plants_by, today)
    if when.state == "no":
        gone = f"But it is too late to sow {c.many} this season{_since(when, world)}"
        again = "" if when.opens is None else f"; sow again from {show_date(when.opens, today)}"
        return f"{gone}: buy plants, by {until}." if until else f"{gone}, or to set out plants{again}."
    if when.plants_instead:
        return f"But it is late to sow {c.many}, so buy plants this year; they can go out until {until}."
    if when.state == "late":
        return f"It is late to sow {c.many}: sow at once."
    if when.state == "early" and when.best_from is not None:
        return f"Sow from about {show_date(when.best_from, today)}."
    best = when.best_by if when.best_by is not None and when.best_by >= today else when.sow_by
    return "" if best is None else f"You can still sow, best by {show_date(best, today)}."


def about(sign: str, amount: float, *, exact: bool = False) -> str:
    """Money as a person would say it: whole from ten up, else to ten cents; to the cent where typed so."""
    if exact or abs(amount) < 1.0:
        return money(sign, amount)
    whole = amount >= 9.95 or round(amount, 1) == round(amount)
    return f"{sign}{amount:.0f}" if whole else money(sign, round(amount, 1))


def _too_late(c: Comparison, when: BuyTiming, where: str, world: World) -> str:
    if when.plants_by is None:
        again = f" Sow again from {show_date(when.opens, world.today)}." if when.opens is not None else ""
        return f"Neither: this season it is too late to sow {c.many} or set out plants {where}.{again}"
    until = f"plants can go out until {show_date(when.plants_by, world.today)}"
    each = about(c.prices.sign, c.prices.plant, exact=c.prices.plant_told)
    gone = f"it is too late to sow {c.many} {where}{_since(when, world)}"
    return f"Buy plants: {gone}, but {until}. They cost about {each} each."


def _in_place(found: CostFinding, world: World) -> str:
    """A crop nobody raises in trays: no duel of prices, the packet and where it goes."""
    c, when = found.costs, found.time
    them = plants(Named(c.crop, c.crop.base, c.name))
    lead = f"No, sow {them.word} in place" if found.doing == "buy" else f"Sow {them.word} in place"
    if when.state == "early" and when.opens is not None:
        lead += f", from about {show_date(when.best_from or when.opens, world.today)}"
    elif when.state == "late":
        lead += " at once, it is late"
    cost = about(c.prices.sign, c.raised.total, exact=c.prices.packet_told)
    packet = "The seed you have" if c.prices.has_seed else f"Seed for {cost}"
    return (
        f"{lead}. {packet} gives about {c.plants} plants, and {them.word} {them.does('suffer')} when moved."
    )


def _bill(c: Comparison) -> str:
    sign, told = c.prices.sign, c.prices.plant_told
    each = f" ({about(sign, c.raised.each)} each)" if c.plants > 1 else ""
    return (
        f"{_of(c.plants, c.name)} cost{'s' if c.plants == 1 else ''} about {about(sign, c.raised.total)} from seed"
        f"{each}, {about(sign, c.bought.total, exact=told)} bought"
    )


def _gear_first(c: Comparison) -> str:
    """What must be bought before the first seed, and what the bill is in later years."""
    sign = c.prices.sign
    return (
        f"to sow {_of(c.plants, c.name)} you would first buy {gear_named(c)} for about {about(sign, c.outlay)}; "
        f"plants cost {about(sign, c.bought.total, exact=c.prices.plant_told)}. Spread over the years it lasts, "
        f"sowing costs about {about(sign, c.raised.total)} a season"
    )


def gear_named(c: Comparison) -> str:
    """The gear lacking: "a lamp and a mat"."""
    return listed(f"a {piece}" for piece in c.lacking)


def _buying(found: CostFinding) -> str:
    c, when = found.costs, found.time
    lead = {"yes": "Yes, buy plants", "tight": "You can buy, but it costs more", "no": "No, sow them"}[
        found.verdict
    ]
    if c.dear_at_first:
        return f"{lead}: {_gear_first(c)}."
    why = ""
    if found.verdict == "yes" and when.state == "late":
        why = f"it is late to sow {c.many}. "
    elif found.verdict == "yes" and c.plan.weeks[0] >= SLOW_WEEKS:
        them = plants(Named(c.crop, c.crop.base, c.name))
        why = f"{them.word} {them.does('need')} {_weeks(c)} indoors. "
    return f"{lead}: {why}{_bill(c)}."


def _sowing(found: CostFinding, world: World) -> str:
    c, when, bill = found.costs, found.time, _bill(found.costs)
    dearer = cheaper(c.raised.total, c.bought.total)
    if when.plants_instead and when.plants_by is not None:
        until = show_date(when.plants_by, world.today)
        return (
            f"Buy plants: it is late to sow {c.many}, and plants can go out until {until}. {sentence(bill)}."
        )
    if c.dear_at_first:
        lead = "Buy" if found.verdict == "no" else "Buy this year"
        return f"{lead}: {_gear_first(c)}."
    if found.verdict == "no":
        return f"{'Buying is cheaper' if dearer < 0 else 'Buy plants'}: {bill}."
    if found.verdict == "tight" and when.state == "late":
        return f"Sow at once or buy: it is late for {c.many}. {sentence(bill)}."
    if found.verdict == "tight" and dearer > 0:
        them = plants(Named(c.crop, c.crop.base, c.name))
        return f"Seed is cheaper, but {them.word} {them.does('need')} {_weeks(c)} indoors: {bill}."
    if found.verdict == "tight":
        return f"They cost much the same: {bill}."
    opening = "Sowing is cheaper" if dearer > 0 else "Sow them"
    if when.state == "early" and when.opens:
        opening += f" (sow from {show_date(when.opens, world.today)})"
    return f"{opening}: {bill}."


def _of(n: int, name: str) -> str:
    return f"{n} {name} plant{'' if n == 1 else 's'}"


def _weeks(c: Comparison) -> str:
    return f"{c.plan.weeks[0]:g} to {c.plan.weeks[1]:g} weeks"


def _since(when: BuyTiming, world: World) -> str:
    return f" (the last date was {show_date(when.sow_by, world.today)})" if when.sow_by is not None else ""


def time_words(c: Comparison, when: BuyTiming, world: World) -> tuple[str, ...]:
    today = world.today
    if c.not_from_seed:
        return ()
    if when.state == "unknown":
        if c.in_place:
            return ()
        ready = today + timedelta(weeks=c.plan.weeks[0])
        return (
            f"Sown today, they will be ready to set out in {_weeks(c)}, from about {show_date(ready, today)}; "
            "bought plants are that much ahead.",
        )
    words = []
    if when.state in ("yes", "late") and when.sow_by is not None:
        words.append(
            f"You can sow until {show_date(when.sow_by, today)}; after that, bought plants are the only way."
        )
    if when.state == "early" and when.opens is not None and when.sow_by is not None:
        words.append(f"Sowing runs from {show_date(when.opens, today)} to {show_date(when.sow_by, today)}.")
    if when.plants_from is not None and when.plants_by is not None:
        words.append(
            f"Set out bought plants from {show_date(when.plants_from, today)}, and by "
            f"{show_date(when.plants_by, today)} at the latest."
        )
    return tuple(words)


def day_words(when: BuyTiming, question: Request, world: World) -> tuple[str, ...]:
    """Whether bought plants can go out on the day named; nothing without a day to come, or a season."""
    days = (question.ask.date, *(t.value for t in question.all("date")))
    day = max((d for d in days if isinstance(d, date) and d > world.today), default=None)
    if day is None or when.plants_from is None or when.plants_by is None:
        return ()
    shown = show_date(day, world.today)
    if day > when.plants_by:
        return (
            f"By {shown} it is too late for bought plants as well: they go out until "
            f"{show_date(when.plants_by, world.today)}.",
        )
    if day < when.plants_from:
        return (
            f"Keep plants bought by {shown} indoors: it is best to set them out from "
            f"{show_date(when.plants_from, world.today)}.",
        )
    return (f"Plants bought by {shown} can go straight out.",)


def way_words(c: Comparison, world: World) -> tuple[str, ...]:
    table = world.facts.table("prices")
    words = []
    if c.in_place:
        words.append(sentence(f"{c.many}: {table['way']['in-place']['why']}."))
    elif c.crop.groups.way == "either":
        words.append(sentence(f"{c.many}: {table['way']['either']['why']}."))
    if c.crop.cuttings is not None:
        words.append(c.crop.cuttings.advice)
    if c.not_from_seed or c.in_place:
        return tuple(words)
    if c.lacking:
        words.append(_done_without(c))
    if c.from_count is None:
        words.append("At these prices buying stays cheaper for any number a household wants.")
    elif c.from_count > 1:
        words.append(
            f"Seed is cheaper from {c.from_count} plants up, and the spare seed in the packet keeps for next year."
        )
    else:
        words.append("At these prices seed is cheaper even for a single plant.")
    if not c.prices.has_seed and c.seeds < 0.5 * c.prices.per_packet:
        words.append(
            f"You would use about {c.seeds} of the {c.prices.per_packet} seeds: share the packet, "
            "or keep it dry and cool."
        )
    return tuple(words)


def _done_without(c: Comparison) -> str:
    """How to raise it without the gear lacking, and what that costs the plants."""
    ways = {
        "mat": "start the seed in a warm cupboard or on the fridge until the first green shows",
        "lamp": "grow on in the brightest window, turned daily and kept cool; expect longer, weaker plants",
    }
    return sentence(f"without buying: {'; '.join(ways[piece] for piece in reversed(c.lacking))}.")


def changes(found: CostFinding, question: Request) -> tuple[str, ...]:
    c, when, sign = found.costs, found.time, found.costs.prices.sign
    said = []
    if not c.in_place:
        said.append(
            f"To match seed, bought plants would have to cost about {about(sign, c.raised.each)} each."
        )
    if not c.in_place and not c.lacking:
        extra = c.prices.lamp_season + c.prices.mat_season
        said.append(
            f"If you had to buy a lamp and a mat for it, add about {about(sign, extra)} a season "
            "over their life."
        )
    if price_of_plants(question) is None and not c.in_place:
        said.append("Tell me the price of a plant ('4 dollars each') and I'll use that.")
    if when.state == "unknown":
        said.append("With your place I can say whether there is still time to sow.")
    return tuple(said)


def numbers_of(
    c: Comparison, when: BuyTiming, crop: str | None = None, *, sown: bool = True
) -> tuple[Number, ...]:
    """The figures of one crop; those of the table are kept to the JSON, those of seed where no seed is ``sown``."""
    sign = c.prices.sign
    found = [
        Number("plants", c.plants, "plants", "plants wanted", crop, shown=False),
        Number("cost_bought", round(c.bought.total, 2), sign, "bought", crop, shown=False),
        Number("cost_raised", round(c.raised.total, 2), sign, "raised from seed", crop, shown=False),
        Number("cost_bought_each", round(c.bought.each, 2), sign, "bought, each", crop, shown=False),
        Number("cost_raised_each", round(c.raised.each, 2), sign, "raised, each", crop, shown=False),
        Number("break_even_price", round(c.raised.each, 2), sign, "break-even price", crop, shown=False),
        Number("break_even_count", c.from_count, "plants", "seed is cheaper from", crop, shown=False),
        Number("seeds", c.seeds, "seeds", "seeds to sow", crop, shown=sown and not c.not_from_seed),
    ]
    if c.lacking:
        found.append(
            Number("gear_to_buy", round(c.outlay, 2), sign, f"{listed(c.lacking)} to buy first", crop)
        )
    if when.sow_by is not None and not c.not_from_seed:
        found.append(Number("latest_sow", when.sow_by, "date", "last date to sow", crop, shown=sown))
    if when.plants_by is not None:
        found.append(Number("latest_set_out", when.plants_by, "date", "last date for bought plants", crop))
    return tuple(found)


def table_of(rows: list[Comparison]) -> Table:
    """Both ways of one crop, cost by cost; for several crops a row each."""
    if len(rows) > 1:
        heads = ("", "plants", "bought", "from seed", "cheaper", "seed pays from")
        return Table(heads, tuple(_row(c) for c in rows))
    c = rows[0]
    sign = c.prices.sign
    lines = [(line.what, "", money(sign, line.money)) for line in c.raised.lines]
    return Table(
        ("", "bought", "from seed"),
        (
            *(((f"{c.plants} plants"), money(sign, c.bought.total), ""),),
            *lines,
            ("together", money(sign, c.bought.total), money(sign, c.raised.total)),
            ("each", money(sign, c.bought.each), money(sign, c.raised.each)),
            ("break-even", f"{money(sign, c.raised.each)} a plant", f"from {_from(c)}"),
        ),
        title=f"{c.plants} {c.name} plant{'' if c.plants == 1 else 's'}",
    )


def _from(c: Comparison) -> str:
    return "no number" if c.from_count is None else plural(c.from_count, "plant")


def _row(c: Comparison) -> tuple[str, ...]:
    sign = c.prices.sign
    which = {1: "seed", 0: "much the same", -1: "bought"}[cheaper(c.raised.total, c.bought.total)]
    start = "never" if c.from_count is None else _from(c)
    return (c.many, str(c.plants), money(sign, c.bought.total), money(sign, c.raised.total), which, start)


def working_of(c: Comparison, units: Units) -> tuple[str, ...]:
    p, plan, sign = c.prices, c.plan, c.prices.sign
    lines = [f"Bought: {c.plants} x {money(sign, p.plant)} = {money(sign, c.bought.total)}."]
    basis = germination_basis(plan.basis)
    if c.in_ground:
        lines.append(
            f"Seed: {c.seeds} seeds in the row, of packets of {p.per_packet} at {money(sign, p.packet)}."
        )
    else:
        lines += [
            f"Seed: {plan.seeds} seeds to be {plan.confidence:.0%} sure of {c.plants} plants "
            f"({plan.germination:.0%} come up: {basis}; {plan.loss:.0%} lost later), "
            f"in packets of {p.per_packet} at {money(sign, p.packet)}.",
            f"Mix: {plan.mix_l:.1f} l x {money(sign, p.mix_per_litre)} = "
            f"{money(sign, c.raised.part('mix'))}.",
            f"Trays and pots: {plan.trays} x {plan.first.label(units)} at {money(sign, p.tray)} a season = "
            f"{money(sign, c.raised.part('trays and pots'))} with the pots.",
            f"Mat: {plan.mat_kwh:.1f} kWh over {plan.mat_days:g} days; lamp: {plan.lamp_watts:.0f} W x "
            f"{plan.lamp_hours:g} h x {plan.lamp_days:.0f} days = {plan.lamp_kwh:.1f} kWh, at "
            f"{money(sign, p.tariff)} per kWh.",
        ]
    lines.append(
        f"From seed: {money(sign, c.raised.total)} / {c.plants} = {money(sign, c.raised.each)} each."
    )
    return tuple(lines)
