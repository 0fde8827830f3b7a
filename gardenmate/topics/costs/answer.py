"""Buy plants or sow seed: both bills, where they cross, and whether there is still time to sow.

The verdict judges what was asked: sowing (yes: it pays and there is time) unless the question was about
buying ("should I just get plants?": yes = buy).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal

from gardenmate.core.answer import Answer, Number, Table, Verdict, Window
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import Units, plural, show_date
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.science.costs import cheaper
from gardenmate.topics.costs.bill import Comparison, compare, money, price_group
from gardenmate.topics.costs.raising_plan import sensible
from gardenmate.topics.quantities.household import plain_name
from gardenmate.topics.season.season_dates import PLANTING, SOWING, current, one_site, standing, windows_of
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.raising import named_crops

Time = Literal["unknown", "early", "yes", "late", "no", "nothing"]
_LATELY_DAYS, _SOON_DAYS = 150, 90
_AHEAD_DAYS = 270  # a window further off belongs to another season
_SLOW_WEEKS = 8  # seed that needs this long indoors is bought by many for that reason alone


@dataclass(frozen=True, slots=True)
class Timing:
    """Whether sowing is still in time, and until when bought plants can go out.

    ``state``: unknown (no place) | early | yes | late (at a risk) | no | nothing (the place has no season for
    it). ``sow_by`` is the last date to sow, ``plants_by`` the last to set out plants
    and ``plants_from`` the day it is good to; ``opens`` the first to sow.
    """

    state: Time
    opens: date | None = None
    sow_by: date | None = None
    best_by: date | None = None
    plants_from: date | None = None
    plants_by: date | None = None

    @property
    def sowing_lost(self) -> bool:
        """True when sowing can no longer give a crop but plants can, or nothing can."""
        return self.state in ("no", "nothing")


def answer(question: Request, world: World) -> Answer:
    """Buy plants or sow seed."""
    from gardenmate.topics.costs.several import in_general, several
    from gardenmate.topics.costs.stock import stock_answer, stock_of

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


def asked_for(question: Request) -> Literal["buy", "sow"]:
    """Which way the question asks about: buying when it says so, else sowing."""
    way = question.cue("way")
    if way in ("buy", "sow"):
        return "buy" if way == "buy" else "sow"
    return "buy" if question.slots.method == "starts" else "sow"


def plants_asked(question: Request, world: World, crop: Crop) -> tuple[int, str | None]:
    """How many plants, and the sentence that says so when none was named."""
    count = question.ask.count
    if count is not None and count >= 1 and question.cue("count_unit") != "pack":
        return sensible(count), None
    plants = int(price_group(crop, world.facts)["usual_plants"])
    return plants, f"You didn't say how many, so I used {plants} plants, usual for a household."


def timing(crop: Crop, world: World) -> Timing:
    """Whether sowing this crop is still in time at the place, from the season engine."""
    site, _ = one_site(world)
    if site is None:
        return Timing("unknown")
    windows = windows_of(crop, site, world.facts, world.today)
    if not windows:
        return Timing("nothing")
    soon = world.today + timedelta(days=_AHEAD_DAYS)
    ways = [w for w in windows if w.activity in SOWING and w.earliest < soon]
    plants = current(tuple(w for w in windows if w.earliest < soon), PLANTING, world.today)
    out = (plants.best_from, plants.latest) if plants is not None else (None, None)
    open_now = [w for w in ways if w.earliest <= world.today <= w.latest]
    if open_now:
        best = max(open_now, key=lambda w: (w.best_to >= world.today, w.latest))
        state: Time = "late" if standing(best, world.today).state == "late" else "yes"
        return Timing(state, best.earliest, best.latest, best.best_to, *out)
    closed = max((w.latest for w in ways if w.latest < world.today), default=None)
    to_come = min((w for w in ways if w.earliest > world.today), key=lambda w: w.earliest, default=None)
    if to_come is not None and not _next_season(to_come, closed, world.today):
        return Timing("early", to_come.earliest, to_come.latest, to_come.best_to, *out)
    opens = None if to_come is None else to_come.earliest
    return Timing("no", opens, closed, None, *out)


def _next_season(window: Window, closed: date | None, today: date) -> bool:
    """True when this season's sowing has closed lately and the window to come belongs to the next one."""
    if closed is None:
        return False
    return (today - closed).days < _LATELY_DAYS and (window.earliest - today).days > _SOON_DAYS


# -- one crop ---------------------------------------------------------------------------------------
def _one(question: Request, world: World, crop: Crop, name: str) -> Answer:
    plants, assumed = plants_asked(question, world, crop)
    c = compare(crop, name, plants, question, world)
    when = timing(crop, world)
    doing = asked_for(question)
    if question.ask.price is not None and when.state == "no" and when.plants_by is not None:
        doing = "buy"  # plants at a price are before the grower, and only they are left: buying is judged
    verdict = verdict_on(c, when, doing)
    site, region_note = one_site(world)
    return Answer(
        question=question,
        verdict=verdict,
        headline=_headline(c, when, doing, verdict, world),
        numbers=numbers_of(c, when),
        details=unique(time_words(c, when, world), way_words(c, world)),
        table=table_of([c]),
        changes=_changes(c, when, question),
        cautions=() if c.in_place else cautions(world.facts, "buy-or-sow", "electricity").texts,
        assumptions=unique(
            (assumed,) if assumed else (), c.prices.assumed, (region_note,) if region_note else ()
        ),
        sources=unique(c.prices.sources, crop.timing.sources if site is not None else ()),
        working=working_of(c, world.units),
        windows=_shown_windows(crop, world),
    )


def verdict_on(c: Comparison, when: Timing, doing: str) -> Verdict:
    """Sowing: yes when it clearly saves in time; buying: yes when seed is too late, slow or no cheaper."""
    cost = cheaper(c.raised.total, c.bought.total)
    if c.not_from_seed:
        return "yes" if doing == "buy" else "no"
    if when.state == "nothing":
        return "no"
    if when.state == "no":
        if when.plants_by is None:
            return "no"
        return "yes" if doing == "buy" else "no"
    slow = c.plan.weeks[0] >= _SLOW_WEEKS and not c.in_place
    if doing == "sow":
        if cost < 0:
            return "no"
        unsure = slow and when.state == "unknown"
        return "tight" if cost == 0 or when.state == "late" or unsure else "yes"
    if c.in_place:
        return "no"
    if cost <= 0 or when.state == "late" or (slow and when.state == "unknown"):
        return "yes"
    return "tight" if c.raised.total > 0.5 * c.bought.total else "no"


def _headline(c: Comparison, when: Timing, doing: str, verdict: Verdict, world: World) -> str:
    sign, n = c.prices.sign, c.plants
    bill = (
        f"{_of(n, c.name)} from seed cost about {money(sign, c.raised.total)} "
        f"({money(sign, c.raised.each)} each) against {money(sign, c.bought.total)} bought"
    )
    if c.not_from_seed:
        few = f"one {c.name} plant" if n < 4 else f"one or two {c.name} plants"
        one = money(sign, c.prices.plant)
        return f"Buy {few} ({one} each) and take cuttings or divide; seed is not the way to good {c.name}."
    where = world.region or (world.site.label if world.site is not None else "")
    if when.state == "nothing":
        return f"Neither outdoors: {c.name} finds no season long and warm enough at {where} without cover."
    if when.state == "no":
        gone = f"too late to sow {c.name} at {where}"
        if when.plants_by is None:
            again = f"; sow again from {show_date(when.opens, world.today)}" if when.opens is not None else ""
            return f"Neither: it is {gone}, and for setting out plants as well this season{again}."
        until = f"plants can go out until {show_date(when.plants_by, world.today)}"
        return f"Buy plants: it is {gone}{_since(when, world)}; {until}, {money(sign, c.prices.plant)} each."
    if doing == "buy":
        if verdict == "no" and c.in_place:
            return f"No, sow {c.name}: it is sown where it grows, and {bill}."
        lead = {"yes": "Yes, buy plants", "tight": "You can buy, but it costs more", "no": "No, sow them"}[
            verdict
        ]
        why = ""
        if verdict == "yes" and when.state == "late":
            why = f"it is late to sow {c.name}, and "
        elif verdict == "yes" and c.plan.weeks[0] >= _SLOW_WEEKS:
            why = f"{c.name} takes {_weeks(c)} indoors, and "
        return f"{lead}: {why}{bill}."
    if verdict == "no":
        return f"Buy: {bill}."
    if verdict == "tight" and when.state == "late":
        return f"Sow at once or buy: it is late for {c.name}; {bill}."
    if verdict == "tight" and cheaper(c.raised.total, c.bought.total) > 0:
        return f"Seed is cheaper, but {c.name} needs {_weeks(c)} indoors: {bill}."
    if verdict == "tight":
        return f"Much the same: {bill}."
    opening = (
        f"Sow (from {show_date(when.opens, world.today)})" if when.state == "early" and when.opens else "Sow"
    )
    return f"{opening}: {bill}."


def _of(n: int, name: str) -> str:
    return f"{n} {name} plant{'' if n == 1 else 's'}"


def _weeks(c: Comparison) -> str:
    return f"{c.plan.weeks[0]:g} to {c.plan.weeks[1]:g} weeks"


def _since(when: Timing, world: World) -> str:
    return f" (the last date was {show_date(when.sow_by, world.today)})" if when.sow_by is not None else ""


def time_words(c: Comparison, when: Timing, world: World) -> tuple[str, ...]:
    today = world.today
    if c.not_from_seed:
        return ()
    if when.state == "unknown":
        if c.in_place:
            return ()
        ready = today + timedelta(weeks=c.plan.weeks[0])
        return (
            f"Sown today it is ready to set out in {_weeks(c)}, from about {show_date(ready, today)}; "
            f"a bought plant is that much ahead.",
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
            f"Bought plants go out best from {show_date(when.plants_from, today)}, until "
            f"{show_date(when.plants_by, today)}."
        )
    return tuple(words)


def way_words(c: Comparison, world: World) -> tuple[str, ...]:
    table = world.facts.table("prices")
    words = []
    if c.in_place:
        words.append(sentence(f"{c.name}: {table['way']['in-place']['why']}."))
    elif c.crop.groups.way == "either":
        words.append(sentence(f"{c.name}: {table['way']['either']['why']}."))
    if c.crop.cuttings is not None:
        words.append(c.crop.cuttings.advice)
    if c.not_from_seed:
        return tuple(words)
    if c.from_count is None:
        words.append("At these prices buying stays cheaper for any number a household wants.")
    elif c.from_count > 1:
        words.append(
            f"Seed is the cheaper way from {c.from_count} plants up; the packet's spare seed keeps "
            "for next year."
        )
    else:
        words.append("At these prices seed is cheaper even for a single plant.")
    if not c.prices.has_seed and c.seeds < 0.5 * c.prices.per_packet:
        words.append(
            f"You would use about {c.seeds} of the {c.prices.per_packet} seeds: share the packet, "
            "or keep it dry and cool."
        )
    return tuple(words)


def _changes(c: Comparison, when: Timing, question: Request) -> tuple[str, ...]:
    sign = c.prices.sign
    found = [
        f"Break-even: bought plants at {money(sign, c.raised.each)} each cost the same as raising {c.plants}."
    ]
    if not c.in_place:
        extra = c.prices.lamp_season + c.prices.mat_season
        found.append(
            f"If you had to buy a lamp and a mat for it, add about {money(sign, extra)} a season "
            "over their life."
        )
    if question.ask.price is None:
        found.append("Tell me the price of a plant ('4 dollars each') and I'll use that.")
    if when.state == "unknown":
        found.append("With your place I can say whether there is still time to sow.")
    return tuple(found)


def numbers_of(c: Comparison, when: Timing, crop: str | None = None) -> tuple[Number, ...]:
    """The figures of one crop; those of the table are kept to the JSON."""
    sign = c.prices.sign
    found = [
        Number("plants", c.plants, "plants", "plants wanted", crop, shown=False),
        Number("cost_bought", round(c.bought.total, 2), sign, "bought", crop, shown=False),
        Number("cost_raised", round(c.raised.total, 2), sign, "raised from seed", crop, shown=False),
        Number("cost_bought_each", round(c.bought.each, 2), sign, "bought, each", crop, shown=False),
        Number("cost_raised_each", round(c.raised.each, 2), sign, "raised, each", crop, shown=False),
        Number("break_even_price", round(c.raised.each, 2), sign, "break-even price", crop, shown=False),
        Number("break_even_count", c.from_count, "plants", "seed is cheaper from", crop, shown=False),
        Number("seeds", c.seeds, "seeds", "seeds to sow", crop, shown=not c.not_from_seed),
    ]
    if when.sow_by is not None and not c.not_from_seed:
        found.append(Number("latest_sow", when.sow_by, "date", "last date to sow", crop))
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
    return (c.name, str(c.plants), money(sign, c.bought.total), money(sign, c.raised.total), which, start)


def working_of(c: Comparison, units: Units) -> tuple[str, ...]:
    p, plan, sign = c.prices, c.plan, c.prices.sign
    lines = [f"Bought: {c.plants} x {money(sign, p.plant)} = {money(sign, c.bought.total)}."]
    basis = "the legal minimum for packeted seed" if plan.standard else "a usual figure"
    if c.in_place:
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


def _shown_windows(crop: Crop, world: World) -> tuple[Window, ...]:
    site, _ = one_site(world)
    if site is None:
        return ()
    soon = world.today + timedelta(days=_AHEAD_DAYS)
    found: dict[str, Window] = {}
    for window in windows_of(crop, site, world.facts, world.today):
        if window.latest >= world.today and window.earliest < soon:
            found.setdefault(window.activity, window)
    return tuple(found.values())
