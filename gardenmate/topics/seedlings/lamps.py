"""Light for seedlings: how much, for how many hours, from a lamp, a sill or a greenhouse.

Leafy crops make good plants on less light than tomato, pepper and cucumber. The day's total is what counts
(DLI, mol/m2); PPFD is the strength at the leaves. A sill looks bright and seldom gives enough.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import INCH_CM, show_length_cm
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.science import light
from gardenmate.topics.seedlings.light_supply import (
    LightNeed,
    Supply,
    fruiting_need,
    judge_supply,
    lamp_hours,
    light_need,
    number_cue,
    outdoor_share,
    supply_of,
)
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import range_numbers
from gardenmate.topics.shared.grammar import listed, sentence, span, unique
from gardenmate.topics.shared.raising import Named, gear

_HOURS_OFF = 2.0  # so far from the hours they want still makes usable plants
_LONGEST_DAY = 18.0  # no lamp is left on longer than this: most plants want a night


def need_answer(question: Request, world: World, crops: tuple[Named, ...], focus: str) -> Answer:
    """How much light, how long. ``focus``, what the headline leads with: hours | ppfd | distance | all."""
    needs = needs_of(crops, world)
    name, need = needs[0]
    hung = distance(world)
    hours, ppfd, dli = span(*need.hours), span(*need.ppfd), span(*need.dli)
    whose = _plural_name(name) if crops else "Seedlings"
    headline = {
        "hours": f"{sentence(whose)} want {hours} hours of lamp a day, then a dark night"
        + (f": {need.why_hours}." if need.why_hours else "."),
        "ppfd": f"{sentence(whose)} want {ppfd} umol/m2/s at the leaves for {hours} hours: a DLI of {dli}.",
        "distance": f"Hang {hung}; keep it there as {whose.lower() if not crops else whose} grow.",
        "all": f"{sentence(whose)} want {dli} mol/m2 of light a day: {hours} hours under a lamp giving "
        f"{ppfd} umol/m2/s at the leaves.",
    }[focus]
    return Answer(
        question=question,
        verdict=None,
        headline=headline,
        numbers=tuple(n for each, (_, found) in paired(crops, needs) for n in need_numbers(found, each)),
        details=(
            *(() if focus == "hours" else (f"Distance: {hung}.",)),
            "A lamp does harm only when it is hot or too close: bleached or curled top leaves are the sign.",
            "Tall, thin and leaning means too little light, or too warm for the light there is.",
        ),
        steps=(f"Hang {hung}.",) if focus == "hours" else (),
        table=_need_table(crops, world),
        changes=(
            "If your lamp is too weak for that, hang it lower or leave it on longer, up to 18 hours.",
            *(() if crops else ("Name the crop for its own figures.",)),
        ),
        cautions=lamp_cautions(world),
        assumptions=()
        if crops
        else ("You named no crop: the first line is for leafy crops, and the table has fruiting ones.",),
        sources=unique(
            *(found.sources for _, found in needs),
            world.facts.table("raising")["light"]["sources"].of("hours", "dark_hours", "floor_dli"),
        ),
        working=tuple(need_working(label, found) for label, found in needs),
    )


def needs_of(crops: tuple[Named, ...], world: World) -> list[tuple[str, LightNeed]]:
    if not crops:
        return [("leafy", light_need(None, world)), ("fruiting", fruiting_need(world))]
    return [(n.name, light_need(n.crop, world)) for n in crops]


def paired(
    crops: tuple[Named, ...], needs: list[tuple[str, LightNeed]]
) -> list[tuple[str | None, tuple[str, LightNeed]]]:
    ids: list[str | None] = [n.id for n in crops] or [None]
    return list(zip(ids, needs, strict=False))


def need_numbers(need: LightNeed, crop: str | None) -> tuple[Number, ...]:
    return (
        *range_numbers("dli", "light a day", *need.dli, "mol/m2", crop),
        *range_numbers("ppfd", "at the leaves", *need.ppfd, "umol/m2/s", crop),
        *range_numbers("lamp_hours", "lamp on", *need.hours, "hours", crop),
    )


def _need_table(crops: tuple[Named, ...], world: World) -> Table | None:
    if len(crops) == 1:
        return None
    rows: list[tuple[str, LightNeed]] = (
        [(sentence(n.name), light_need(n.crop, world)) for n in crops]
        if crops
        else [
            ("Lettuce, cabbage, onion, herbs", light_need(None, world)),
            ("Tomato, pepper, cucumber", fruiting_need(world)),
        ]
    )
    return Table(
        ("seedlings", "mol/m2 a day", "umol/m2/s", "hours"),
        tuple((label, span(*n.dli), span(*n.ppfd), span(*n.hours)) for label, n in rows),
    )


def need_working(label: str, need: LightNeed) -> str:
    middle = sum(need.dli) / 2
    hours = sum(need.hours) / 2
    ppfd = light.ppfd_for(middle, hours)
    return (
        f"{sentence(label)}: DLI = PPFD x 3600 x hours / 1,000,000, so {middle:g} mol in {hours:g} hours "
        f"needs {ppfd:.0f} umol/m2/s."
    )


def distance(world: World) -> str:
    table = world.facts.table("raising")["light"]
    tubes = _lengths(table["fluorescent_in"], world)
    panel = _lengths(table["led_in"], world)
    return f"fluorescent tubes {tubes} above the leaves, LED panels {panel}"


def _lengths(inches: list[float], world: World) -> str:
    low, high = (show_length_cm(i * INCH_CM, world.units) for i in inches)
    return f"{low.split()[0]} to {high}"


# ---------------------------------------------------------------------------------- is this enough?
def supply_answer(question: Request, world: World, crops: tuple[Named, ...], supply: Supply) -> Answer:
    """Is this light enough? yes | tight | no, and the lamp hours that would make up the rest."""
    needs = needs_of(crops, world)
    verdicts = [judge_supply(supply, need, world) for _, need in needs]
    verdict: Verdict | None = verdicts[0] if len(set(verdicts)) == 1 else None
    heat = " (a filament bulb turns most of its watts into heat)" if supply.hot else ""
    gives = f"{supply.how} gives about {supply.usual:.1f} mol/m2 a day{heat}"
    wants = listed(f"{_plural_name(label)} want {span(*need.dli)}" for label, need in needs)
    opening = {"yes": "Yes, enough", "tight": "Only just", "no": "No, too little", None: "It depends"}[
        verdict
    ]
    if verdict is None:
        by = {"yes": "Enough for", "tight": "only just for", "no": "too little for"}
        found = {
            v: listed(_plural_name(lb) for (lb, _), w in zip(needs, verdicts, strict=True) if w == v)
            for v in by
        }
        opening = sentence("; ".join(f"{words} {found[v]}" for v, words in by.items() if found[v]))
    dose = needs[0][1].ppfd[0]
    missing = max(0.0, needs[0][1].dli[0] - supply.usual)
    extra = light.hours_for(missing, dose)
    changes: tuple[str, ...] = ()
    if missing > 0:
        hours = min(extra, _LONGEST_DAY)
        changes = (
            f"A lamp at {dose:g} umol/m2/s for about {max(1, round(hours))} more hours a day makes up the "
            f"rest, within a day of {span(*needs[0][1].hours)} hours in all.",
        )
    return Answer(
        question=question,
        verdict=verdict,
        headline=f"{opening}: {gives}. {sentence(wants)}.",
        numbers=(
            Number("dli_given", round(supply.usual, 1), "mol/m2", "light it gives a day"),
            Number("dli_given_min", round(supply.low, 1), "mol/m2", "on a dull day or at the low end"),
            Number("dli_given_max", round(supply.high, 1), "mol/m2", "on a bright day or at the high end"),
            Number("extra_lamp_hours", round(extra, 1), "hours", "lamp to make up the rest", shown=extra > 0),
            *(n for each, (_, found) in paired(crops, needs) for n in need_numbers(found, each)),
        ),
        details=(
            f"Below about {world.facts.table('raising')['light']['floor_dli']} mol/m2 a day seedlings "
            "stretch badly; turn pots daily and keep them cool if they must stand there.",
        ),
        table=_need_table(crops, world),
        changes=(*changes, *_place_helps(world)),
        cautions=lamp_cautions(world, "filament") if supply.hot else lamp_cautions(world),
        assumptions=supply.assumed,
        sources=unique(supply.sources, *(need.sources for _, need in needs)),
        working=(
            f"{sentence(supply.how)}: {supply.low:.1f} to {supply.high:.1f} mol/m2 a day, usually "
            f"{supply.usual:.1f}.",
            *(need_working(label, need) for label, need in needs),
        ),
    )


def _plural_name(label: str) -> str:
    return f"{label.removesuffix(' seedling')} seedlings"


def hours_answer(question: Request, world: World, crops: tuple[Named, ...], hours: float) -> Answer:
    """Is a lamp on for so many hours a day right? yes | tight (within two hours of it) | no."""
    needs = needs_of(crops, world)
    verdicts = [_judge_hours(hours, need) for _, need in needs]
    verdict: Verdict | None = verdicts[0] if len(set(verdicts)) == 1 else None
    need = needs[0][1]
    wants = f"seedlings want {span(*need.hours)}"
    if crops:
        wants = listed(f"{_plural_name(label)} want {span(*each.hours)}" for label, each in needs)
    long = hours > need.hours[1]
    opening = {"yes": "Yes", "tight": "Possible", "no": "No", None: "It depends on the crop"}[verdict]
    fault = {
        "yes": f"{hours:g} hours a day is right",
        "tight": f"{hours:g} hours a day is {'more than they need' if long else 'a little short'}",
        "no": f"{hours:g} hours a day is too {'long (plants need a dark night)' if long else 'short'}",
        None: f"{hours:g} hours a day",
    }[verdict]
    short_dark = f" and at least {world.facts.table('raising')['light']['dark_hours']} hours of dark"
    why = f" ({need.why_hours})" if long and need.why_hours else ""
    return replace(
        need_answer(question, world, crops, "hours"),
        verdict=verdict,
        headline=f"{opening}: {fault}; {wants} hours of lamp{short_dark if long else ''}{why}.",
    )


def _judge_hours(hours: float, need: LightNeed) -> Verdict:
    low, high = need.hours
    if low <= hours <= high:
        return "yes"
    return "tight" if low - _HOURS_OFF <= hours <= high + _HOURS_OFF else "no"


def lamp_or_not(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """Do seedlings need a lamp? yes unless the light where they stand is known to be enough."""
    supply = supply_of(question, world)
    table = world.facts.table("raising")["light"]
    if supply is None:
        supply = outdoor_share(world, question, table["sill"]["share_of_outdoors"], "a sunny sill")
    needs = needs_of(crops, world)
    whose = listed(_plural_name(label) for label, _ in needs)
    if supply is None:
        verdict: Verdict = "yes"
        headline = (
            f"Yes, in most homes: {whose} want {span(*needs[0][1].dli)} mol/m2 of light a day and a sill "
            f"in early spring seldom gives half. Run a lamp {span(*needs[0][1].hours)} hours."
        )
        gives: tuple[Number, ...] = ()
    else:
        judged = {judge_supply(supply, need, world) for _, need in needs}
        verdict = "yes" if "no" in judged else "tight" if "tight" in judged else "no"
        tail = {
            "yes": "without a lamp they grow leggy",
            "tight": "a lamp on dull days makes sturdier plants",
            "no": "they need no lamp if they stand right there and you turn them daily",
        }[verdict]
        opening = {"yes": "Yes", "tight": "It helps", "no": "No"}[verdict]
        headline = (
            f"{opening}: {supply.how} gives about {supply.usual:.1f} mol/m2 a day; {needs[0][0]} seedlings "
            f"want {span(*needs[0][1].dli)}. {sentence(tail)}."
        )
        gives = (Number("dli_given", round(supply.usual, 1), "mol/m2", "light it gives a day"),)
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=(*gives, *(n for each, (_, f) in paired(crops, needs) for n in need_numbers(f, each))),
        details=(f"Distance: {distance(world)}.",),
        table=_need_table(crops, world),
        changes=_place_helps(world),
        cautions=lamp_cautions(world),
        assumptions=supply.assumed if supply else (),
        sources=unique(supply.sources if supply else (), *(need.sources for _, need in needs)),
        working=tuple(need_working(label, need) for label, need in needs),
    )


def cost_answer(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """What lamp and mat use and cost, for the trays said."""
    raising = world.facts.table("raising")
    lamp, mat = raising["light"], raising["mat"]
    trays = question.ask.count or 1
    need = needs_of(crops, world)[0][1]
    price, price_note = _price(question, world, lamp)
    hours = lamp_hours(question) or sum(need.hours) / 2
    watts = number_cue(question, "lamp_watts")
    notes = [] if watts else ["I worked out the watts of an LED lamp from the light the crop needs."]
    drawn = watts or trays * light.lamp_watts(
        sum(need.ppfd) / 2, lamp["led_umol_per_j"], lamp["share_on_plants"], lamp["tray_m2"]
    )
    slots = question.ask
    days = slots.days or (slots.weeks * 7 if slots.weeks else None)
    lamp_days, mat_days = days or lamp["lamp_days"], days or mat["days_on"]
    lamp_kwh = light.energy_kwh(drawn, hours, lamp_days)
    mat_watts = mat["watts_per_tray"] * trays
    mat_kwh = light.energy_kwh(mat_watts, 24, mat_days, mat["duty_with_thermostat"])
    used = gear(question)
    both = not used & {"mat", "lamp"}
    other = next(
        (t.number for t in question.all("span") if t.unit == "hours" and not t.told and t.number != hours),
        None,
    )
    instead: tuple[str, ...] = ()
    if other is not None:
        cost_then = light.energy_kwh(drawn, other, lamp_days) * price
        right = hours_answer(question, world, crops, other).headline
        instead = (f"At {other:g} hours it costs {cost_then:.2f}. {right}",)
    parts = []
    if both or "lamp" in used:
        parts.append(
            f"a {drawn:.0f} W lamp uses {lamp_kwh:.1f} kWh in {lamp_days:g} days, which costs {lamp_kwh * price:.2f}"
        )
    if both or "mat" in used:
        cost = mat_kwh * price
        parts.append(
            f"a {mat_watts:.0f} W mat uses {mat_kwh:.1f} kWh in {mat_days:g} days, which costs {cost:.2f}"
        )
    return Answer(
        question=question,
        verdict=None,
        headline=" ".join(
            (f"{sentence('; '.join(parts))} at {price:g} a kWh.", *instead, *to_buy(question, world))
        ),
        numbers=(
            Number("lamp_watts", round(drawn), "W", "lamp"),
            Number("lamp_kwh", round(lamp_kwh, 1), "kWh", "lamp uses"),
            Number("lamp_cost", round(lamp_kwh * price, 2), "", "lamp costs"),
            Number("mat_watts", mat_watts, "W", "mat"),
            Number("mat_kwh", round(mat_kwh, 1), "kWh", "mat uses"),
            Number("mat_cost", round(mat_kwh * price, 2), "", "mat costs"),
        ),
        changes=("Tell me your price per kWh, the trays and the watts on the label for your own figure.",),
        cautions=lamp_cautions(world, "mat"),
        assumptions=(
            *price_note,
            *notes,
            f"{trays:g} tray{'' if trays == 1 else 's'}; the mat draws power half the time.",
        ),
        sources=unique(
            lamp["sources"], mat["sources"], ("us-department-energy-appliance-energy-estimating",)
        ),
        working=(
            f"kWh = W x h x days / 1000: {drawn:.0f} x {hours:g} x {lamp_days:g} / 1000 = {lamp_kwh:.1f}.",
            f"{mat_watts:.0f} x 24 x {mat_days:g} x {mat['duty_with_thermostat']} / 1000 = {mat_kwh:.1f}.",
        ),
    )


def to_buy(question: Request, world: World) -> tuple[str, ...]:
    """What a lamp or a mat at the price told comes to a season."""
    defaults, lines = world.facts.table("prices")["defaults"], []
    for piece in ("lamp", "mat"):
        cost = number_cue(question, f"{piece}_price")
        if cost is not None:
            seasons = defaults[f"{piece}_seasons"]
            lines.append(
                f"A {piece} bought at {cost:g} costs {cost / seasons:.2f} a season over {seasons} seasons."
            )
    return tuple(lines)


def _price(question: Request, world: World, lamp: Mapping[str, Any]) -> tuple[float, tuple[str, ...]]:
    if question.ask.price is not None:
        return question.ask.price, ()
    kept = world.garden.prefs.get("tariff", "")
    try:
        return float(kept), ("Price per kWh as kept with your garden.",)
    except ValueError:
        price = float(lamp["price_per_kwh"])
        return price, (f"I used {price:g} a kWh, in your own money.",)


def _place_helps(world: World) -> tuple[str, ...]:
    if world.site is not None:
        return ()
    return ("Tell me the place and I can work out the daylight on a sill there.",)


def lamp_cautions(world: World, *more: str) -> tuple[str, ...]:
    return cautions(world.facts, "heat-and-light", "electricity", *more, "lamp_heat").texts
