"""What tonight does to a crop: fine as it is, cover it, bring it in, or likely lost, with the margin."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from gardenmate.answer import Answer, Number, Table, Verdict
from gardenmate.question import Question
from gardenmate.record import dataclass
from gardenmate.rules.cautions import cautions
from gardenmate.rules.frost_sky import Night, hours_of_frost
from gardenmate.rules.frost_words import Plants, plants
from gardenmate.rules.protection import (
    F_DEGREE,
    Cover,
    Limits,
    cover_for,
    covers,
    frost_span,
    frost_temp,
    gain_range,
    is_freezing_limit,
    limits,
    note_in_units,
)
from gardenmate.rules.raising import Named, listed, sentence, temp_numbers, unique
from gardenmate.science.frost_night import forecast_product
from gardenmate.units import f_to_c
from gardenmate.world import World

Outcome = Literal["fine", "cover", "chilled", "burnt", "lost"]
# Less than this above the hurt figure is no margin: forecasts and thermometers are not that good.
_MARGIN_C = 0.9 * F_DEGREE
_CROWN_LIVES_C = 20.0  # a gap this wide between hurt and killed: only the tops are meant by the first
_CHILL_LIMIT_C = f_to_c(34.0)
_TENDER_C = f_to_c(31.5)  # hurt as soon as the leaf freezes: what kills it is met at leaf height too
_SAY = {
    "fine": "fine",
    "cover": "cover",
    "chilled": "bring in or cover",
    "burnt": "lives, leaves hurt",
    "lost": "bring in, or likely lost",
}
_VERDICT: dict[Outcome, Verdict] = {
    "fine": "yes",
    "cover": "tight",
    "chilled": "tight",
    "burnt": "tight",
    "lost": "no",
}


@dataclass(frozen=True, slots=True)
class Outlook:
    """One crop on one night.

    ``worst_c``/``best_c`` is the temperature range met by the plant where the hurt figure applies;
    ``margin_c`` is worst minus hurt; ``remedy`` the lightest cover that carries it, if any does.
    """

    named: Named
    plants: Plants
    limits: Limits
    outcome: Outcome
    worst_c: float
    margin_c: float
    remedy: Cover | None

    @property
    def verdict(self) -> Verdict:
        """yes = fine as it is, tight = cover or some hurt, no = not without more than it has."""
        return _VERDICT[self.outcome]


def outlook(named: Named, tonight: Night, question: Question, world: World) -> Outlook:
    """How this crop comes through this night with the cover it has."""
    bounds = limits(world.facts, named.crop, question.cue("stage"), world.units)
    cover = cover_for(world.facts, question.cue("cover"))
    at_leaf = is_freezing_limit(bounds.hurt_c)
    worst, best = _met(at_leaf, tonight, cover)
    tender = at_leaf and named.crop.frost.damage_below_c >= _TENDER_C
    worst_kill, best_kill = _met(tender or is_freezing_limit(bounds.killed_c), tonight, cover)
    margin = worst - bounds.hurt_c
    outcome: Outcome
    if margin >= _MARGIN_C:
        outcome = "fine"
    elif best_kill < bounds.killed_c or (worst_kill < bounds.killed_c and best < bounds.hurt_c - 1e-6):
        outcome = "lost"
    elif bounds.hurt_c > _CHILL_LIMIT_C:
        outcome = "chilled"
    elif is_freezing_limit(bounds.hurt_c):
        outcome = "cover"
    else:
        outcome = "burnt"
    remedy = None if outcome == "fine" else _remedy(bounds, tonight, cover, world)
    return Outlook(named, plants(named), bounds, outcome, worst, margin, remedy)


def _met(at_leaf: bool, tonight: Night, cover: Cover | None) -> tuple[float, float]:
    """Worst and best temperature the plant meets where a limit applies.

    Under a cover the leaf faces the cloth, not the sky, so the air and the cover's gain count. In the open a
    limit that is the freezing of the leaf (``at_leaf``) is met at leaf height; others are published for air.
    """
    if cover is not None:
        return tonight.low_c + cover.plan_c, tonight.low_c + cover.most_c
    if at_leaf:
        return tonight.leaf_worst_c, tonight.leaf_best_c
    return tonight.low_c, tonight.low_c


def _remedy(bounds: Limits, tonight: Night, has: Cover | None, world: World) -> Cover | None:
    """The lightest cover (better than the one it has) that keeps the plant at or above its hurt figure."""
    gain_c = has.plan_c if has is not None else 0.0
    for cover in sorted(covers(world.facts), key=lambda c: c.plan_c):
        usual = cover.id not in ("greenhouse", "cloche", "water-wall")
        if usual and cover.plan_c > gain_c and tonight.low_c + cover.plan_c >= bounds.hurt_c - 1e-6:
            return cover
    return None


def answer_crops(question: Question, world: World, crops: Sequence[Named], tonight: Night) -> Answer:
    """The answer for the crops named, on a night whose low is known."""
    found = [outlook(named, tonight, question, world) for named in crops]
    one = len(found) == 1
    verdicts = {o.verdict for o in found}
    cover = cover_for(world.facts, question.cue("cover"))
    care = cautions(world.facts, "frost")
    product = forecast_product(tonight.low_c)
    details = [*tonight.details]
    hours = hours_of_frost(question, world, tonight)
    if hours:
        details.append(hours)
    if one and found[0].outcome != "fine" and found[0].limits.note:
        details.append(note_in_units(found[0].limits.note, world.units))
    if question.cue("cover") == "mulch":
        details.append(world.facts.table("protection")["mulch"]["text"])
    if cover is not None:
        details.append(
            f"{sentence(cover.name)} keeps {gain_range(cover, world.units)} as published; on some "
            "still, clear nights "
            "covers kept nothing."
        )
    return Answer(
        question=question,
        verdict=verdicts.pop() if len(verdicts) == 1 else None,
        headline=_headline(found[0], tonight, cover, world) if one else _headline_many(found, tonight, world),
        numbers=_numbers(found, tonight, one),
        details=tuple(details),
        table=None if one else _table(found, world),
        steps=_steps(found, question, world),
        changes=_changes(found, tonight, question, cover, world),
        cautions=care.texts,
        assumptions=_assumptions(found, question, tonight),
        sources=unique(
            *(o.limits.sources for o in found),
            tonight.sources,
            cover.sources if cover else (),
            *(o.remedy.sources for o in found if o.remedy),
            world.facts.table("protection")["products"]["sources"] if product else (),
            world.facts.table("protection")["help"]["sources"],
            care.sources,
        ),
        working=(*tonight.working, *(_working(o, world) for o in found)),
    )


def _headline(o: Outlook, tonight: Night, cover: Cover | None, world: World) -> str:
    under = f" under {cover.name}" if cover is not None else ""
    if o.outcome == "fine":
        return _fine(o, tonight, cover, under, world)
    units, p = world.units, o.plants
    low = tonight.low_text(units)
    hurt, killed = (frost_temp(t, units) for t in (o.limits.hurt_c, o.limits.killed_c))
    if o.outcome == "chilled":
        return (
            f"Bring the {p.word} in or cover {p.them}: {low} does not freeze {p.them}, but below {hurt} "
            f"{p.they} {p.are} chilled and set back."
        )
    if o.outcome == "burnt":
        saves = f"; {o.remedy.name} would spare {p.them}" if o.remedy else ""
        if o.limits.hurt_c - o.limits.killed_c > _CROWN_LIVES_C:
            return (
                f"The tops of {p.word}{under} are hurt at {low} (below {hurt}), but the crown lives on and "
                f"sprouts again{saves}."
            )
        return (
            f"{sentence(p.word)}{under} should live through {low} but may be marked: hurt begins near "
            f"{hurt}, loss near {killed}{saves}."
        )
    met = frost_temp(o.worst_c, units)
    if o.outcome == "cover" and cover is not None:
        return (
            f"Borderline: {p.word}{under} {p.does('meet')} about {met} and {hurt} hurts {p.them}; add a "
            f"layer or {_rescue(o)}."
        )
    if o.outcome == "cover":
        falls = "falls" if tonight.sky == "clear" else "may fall"
        return (
            f"Cover the {p.word} tonight: with {low} in the forecast, leaf height {falls} to {met}, and "
            f"{hurt} hurts {p.them}."
        )
    if cover is not None:
        save = _rescue(o)
        more = f"use {o.remedy.name}, or {save}" if o.remedy else save
        return f"No: {p.word}{under} will not come through {low}; {more}."
    other = f"use {o.remedy.name}" if o.remedy else f"count on losing {p.them}"
    return (
        f"{sentence(p.word)} will not live through {low} uncovered (killed near {killed}): {_rescue(o)}, "
        f"or {other}."
    )


def _rescue(o: Outlook) -> str:
    """What else can be done tonight: potatoes are earthed up, hardy crops picked, tender pots carried in."""
    if o.named.id == "potato":
        return "earth them over"
    if o.limits.hurt_c < f_to_c(30.0):
        return f"pick {o.plants.them} now"
    return "bring pots in"


def _fine(o: Outlook, tonight: Night, cover: Cover | None, under: str, world: World) -> str:
    units, p = world.units, o.plants
    low = tonight.low_text(units)
    at_leaf = is_freezing_limit(o.limits.hurt_c) and cover is None and tonight.sky != "cloudy"
    where = "even at leaf height on a clear night " if at_leaf else ""
    return (
        f"{sentence(p.word)}{under} {p.are} fine at {low}: {where}{p.they} {p.does('stay')} "
        f"{frost_span(o.margin_c, units)} above the {frost_temp(o.limits.hurt_c, units)} that begins to hurt."
    )


def _headline_many(found: Sequence[Outlook], tonight: Night, world: World) -> str:
    low = tonight.low_text(world.units)
    hardy_c = f_to_c(30.0)
    lost = [o for o in found if o.outcome == "lost"]
    tender = [o for o in lost if o.limits.hurt_c >= hardy_c]
    groups = (
        ("bring in or lose {}", [o for o in tender if o.remedy is None]),
        ("bring in {}, or cover well", [o for o in tender if o.remedy is not None]),
        ("pick or lose {}", [o for o in lost if o.limits.hurt_c < hardy_c]),
        ("bring in or cover {}", [o for o in found if o.outcome == "chilled"]),
        ("cover {}", [o for o in found if o.outcome == "cover"]),
        ("{} should live with marked leaves", [o for o in found if o.outcome == "burnt"]),
        ("{} fine as {}", [o for o in found if o.outcome == "fine"]),
    )
    parts = []
    for text, group in groups:
        if group:
            many = len(group) > 1 or group[0].plants.plural
            names = listed(o.plants.word for o in group)
            parts.append(text.format(names, "they are" if many else "it is"))
    return f"At {low}: {'; '.join(parts)}."


def _numbers(found: Sequence[Outlook], tonight: Night, one: bool) -> tuple[Number, ...]:
    numbers: list[Number] = [*temp_numbers("low", "low at thermometer height", tonight.low_c)]
    numbers += temp_numbers("leaf_low_clear", "leaf height, clear and calm", tonight.leaf_clear_c)
    product = forecast_product(tonight.low_c)
    if product:
        numbers.append(Number("frost_product", product, "", "US forecast wording", shown=False))
    for o in found:
        crop = None if one else o.named.id
        numbers += temp_numbers("hurt_below", "hurt below", o.limits.hurt_c, crop)
        numbers += temp_numbers("killed_below", "killed near", o.limits.killed_c, crop)
        numbers.append(Number("margin_f", round(o.margin_c * 1.8, 1), "F", "margin", crop))
        numbers.append(Number("margin_c", round(o.margin_c, 1), "C", "margin", crop))
        numbers.append(Number("outcome", _SAY[o.outcome], "", "outcome", crop, shown=False))
    return tuple(numbers)


def _table(found: Sequence[Outlook], world: World) -> Table:
    units = world.units
    rows = tuple(
        (
            o.plants.word,
            frost_temp(o.limits.hurt_c, units),
            frost_temp(o.limits.killed_c, units),
            _SAY[o.outcome],
            o.remedy.name if o.remedy else ("-" if o.outcome == "fine" else "none is enough"),
        )
        for o in found
    )
    return Table(("crop", "hurt below", "killed near", "tonight", "lightest cover"), rows)


def _steps(found: Sequence[Outlook], question: Question, world: World) -> tuple[str, ...]:
    if all(o.outcome == "fine" for o in found):
        return ()
    table = world.facts.table("protection")["help"]
    steps = []
    if question.cue("cover") in (None, "none", "mulch") and any(o.remedy for o in found):
        steps.append(table["dry_cloth"])
        steps.append(table["wet_soil"])
    if any(o.outcome == "lost" for o in found) and question.cue("stage") == "fruit":
        steps.append("Pick what is ripe or full-sized today: frozen fruit does not keep.")
    return tuple(steps)


def _changes(
    found: Sequence[Outlook], tonight: Night, question: Question, cover: Cover | None, world: World
) -> tuple[str, ...]:
    units = world.units
    changes = []
    if tonight.sky == "unknown" and cover is None and any(is_freezing_limit(o.limits.hurt_c) for o in found):
        changes.append("Tell me if it will be cloudy or windy: that makes tonight kinder.")
    if cover is None:
        for o in found if len(found) < 3 else ():
            if o.remedy is not None and o.outcome != "fine":
                carries = frost_temp(o.limits.hurt_c - o.remedy.plan_c, units)
                changes.append(f"Under {o.remedy.name} {o.plants.word} can be left out to about {carries}.")
    elif any(o.outcome != "fine" and o.remedy for o in found):
        better = next(o.remedy for o in found if o.remedy and o.outcome != "fine")
        changes.append(f"{sentence(better.name)} would do.")
    if question.cue("stage") is None and any(o.outcome != "fine" for o in found):
        changes.append("Plants just set out or not hardened stand less; say so and I reckon with it.")
    return tuple(changes)


def _assumptions(found: Sequence[Outlook], question: Question, tonight: Night) -> tuple[str, ...]:
    assumed = [o.limits.assumed for o in found if o.limits.assumed]
    if question.cue("stage") is None:
        assumed.append("Hardened, growing plants.")
    if question.cue("cover") is None:
        assumed.append("No cover on them.")
    if question.cue("cover") in (None, "none", "mulch") and any(
        is_freezing_limit(o.limits.hurt_c) for o in found
    ):
        assumed += tonight.assumptions
    return unique(assumed)


def _working(o: Outlook, world: World) -> str:
    units = world.units
    margin = frost_span(o.margin_c, units)
    sign = "-" if o.margin_c < 0.0 and not margin.startswith("0 ") else ""
    return (
        f"{sentence(o.plants.word)}: meets {frost_temp(o.worst_c, units)}, hurt below "
        f"{frost_temp(o.limits.hurt_c, units)}, killed near {frost_temp(o.limits.killed_c, units)}; "
        f"margin {sign}{margin}."
    )
