"""What tonight does to a crop: fine as it is, cover it, bring it in, or likely lost, with the margin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from gardenmate.answer import Answer, Number, Table, Verdict
from gardenmate.question import Question
from gardenmate.rules.cautions import cautions
from gardenmate.rules.frost_sky import Night, hours_of_frost
from gardenmate.rules.frost_words import Plants, plants
from gardenmate.rules.protection import (
    F_DEGREE,
    Cover,
    Limits,
    chill_limit_c,
    cover_for,
    cover_of,
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

Outcome = Literal["fine", "cool", "cover", "chilled", "burnt", "lost"]
# Less than this above the hurt figure is no margin: forecasts and thermometers are not that good.
_MARGIN_C = 0.9 * F_DEGREE
_CROWN_LIVES_C = 20.0  # a gap this wide between hurt and killed: only the tops are meant by the first
_CHILL_LIMIT_C = f_to_c(34.0)
# Hurt as soon as the leaf freezes and killed a little below: what kills it is met at leaf height too.
_TENDER_C, _TENDER_GAP_C = f_to_c(30.9), 4.5 * F_DEGREE
_SAVED_C = 0.9 * F_DEGREE  # a cover must keep the plant this far above what kills it to be named at all
_GROWN = ("established", "bloom", "fruit")  # past the age at which a cool night sets a plant back
_NOT_LAID = ("greenhouse", "cloche", "water-wall", "frame")  # no cover to be laid over plants tonight
_SAY = {
    "fine": "fine",
    "cool": "no frost, but chilled",
    "cover": "cover",
    "chilled": "bring in or cover",
    "burnt": "lives, leaves hurt",
    "lost": "bring in, or likely lost",
}
_VERDICT: dict[Outcome, Verdict] = {
    "fine": "yes",
    "cool": "tight",
    "cover": "tight",
    "chilled": "tight",
    "burnt": "tight",
    "lost": "no",
}


@dataclass(frozen=True, slots=True)
class Outlook:
    """One crop on one night.

    ``worst_c``/``best_c`` is the temperature range met by the plant where the hurt figure applies;
    ``margin_c`` is worst minus hurt; ``remedy`` the lightest cover that carries it, if any does, and
    ``unhurt`` tells that it does so without a mark; ``chill_c`` what sets it back without any frost.
    """

    named: Named
    plants: Plants
    limits: Limits
    outcome: Outcome
    worst_c: float
    margin_c: float
    remedy: Cover | None
    unhurt: bool = True
    chill_c: float | None = None
    blossom: bool = False

    @property
    def verdict(self) -> Verdict:
        """yes = fine as it is, tight = cover or some hurt, no = not without more than it has."""
        return _VERDICT[self.outcome]


def outlook(named: Named, tonight: Night, question: Question, world: World) -> Outlook:
    """How this crop comes through this night with the cover it has."""
    bounds = limits(world.facts, named.crop, question.cue("stage"), world.units)
    cover = cover_for(world.facts, cover_of(question))
    at_leaf = is_freezing_limit(bounds.hurt_c)
    worst, best = _met(at_leaf, tonight, cover)
    usual = named.crop.frost
    near = usual.damage_below_c - usual.killed_below_c <= _TENDER_GAP_C
    tender = at_leaf and near and usual.damage_below_c >= _TENDER_C
    blossom = at_leaf and question.cue("stage") == "bloom"  # open to the sky as a leaf is
    kill_at_leaf = tender or blossom or is_freezing_limit(bounds.killed_c)
    worst_kill, best_kill = _met(kill_at_leaf, tonight, cover)
    margin = worst - bounds.hurt_c
    chill = None if question.cue("stage") in _GROWN else chill_limit_c(world.facts, named.crop)
    remedy, unhurt = _remedy(bounds, (worst, worst_kill), cover, world)
    beaten = worst_kill < bounds.killed_c
    hopeless = best < bounds.hurt_c - 1e-6
    if blossom:  # the year's crop: no cover that would not be named is called borderline
        beaten = worst_kill < bounds.killed_c + _SAVED_C - 1e-6
        if cover is None:
            hopeless = tonight.low_c < bounds.killed_c + _SAVED_C - 1e-6
            best_kill = max(best_kill, tonight.low_c)
    outcome: Outcome
    if margin >= (_MARGIN_C if cover is None else -1e-6):
        cool = cover is None and chill is not None and tonight.low_c < chill - 1e-6
        outcome = "cool" if cool else "fine"
    elif best_kill < bounds.killed_c or (
        beaten and (hopeless or _no_way_out(cover, remedy, tonight, bounds))
    ):
        outcome = "lost"
    elif bounds.hurt_c > _CHILL_LIMIT_C:
        outcome = "chilled"
    elif is_freezing_limit(bounds.hurt_c):
        outcome = "cover"
    else:
        outcome = "burnt"
    if outcome in ("fine", "cool"):
        remedy = None
    return Outlook(named, plants(named), bounds, outcome, worst, margin, remedy, unhurt, chill, blossom)


def _no_way_out(cover: Cover | None, remedy: Cover | None, tonight: Night, bounds: Limits) -> bool:
    """At leaf height a clear night kills: in the open true where no cover helps; under a cover unless the
    sky may be kind and the published rule (air outside plus what the cover keeps) is met."""
    if cover is None:
        return remedy is None
    return tonight.sky == "clear" or tonight.low_c + cover.plan_c < bounds.hurt_c - 1e-6


def _met(at_leaf: bool, tonight: Night, cover: Cover | None) -> tuple[float, float]:
    """Worst and best temperature the plant meets where a limit applies.

    A limit that is the freezing of the leaf (``at_leaf``) is met at leaf height, where a clear night is
    colder than the forecast; others are published for air. A cover adds what it keeps to either.
    """
    worst, best = (tonight.leaf_worst_c, tonight.leaf_best_c) if at_leaf else (tonight.low_c, tonight.low_c)
    return (worst, best) if cover is None else (worst + cover.plan_c, best + cover.most_c)


def _remedy(
    bounds: Limits, met: tuple[float, float], has: Cover | None, world: World
) -> tuple[Cover | None, bool]:
    """The lightest cover (better than the one it has) that keeps the plant unhurt, else the best of those
    that keep it well above what kills it, so that no better one is left to name; and whether it stays unhurt.
    ``met``: the coldest it meets, where the hurt and where the killing figure applies. A cover under which it
    would still be killed is never named."""
    gain_c = has.plan_c if has is not None else 0.0
    better = sorted(
        (c for c in covers(world.facts) if c.id not in _NOT_LAID and c.plan_c > gain_c),
        key=lambda c: c.plan_c,
    )
    worst, worst_kill = (t - gain_c for t in met)
    safe = [c for c in better if worst_kill + c.plan_c >= bounds.killed_c + _SAVED_C - 1e-6]
    whole = [c for c in safe if worst + c.plan_c >= bounds.hurt_c - 1e-6]
    if whole:
        return whole[0], True
    return (safe[-1] if safe else None), False


def answer_crops(question: Question, world: World, crops: Sequence[Named], tonight: Night) -> Answer:
    """The answer for the crops named, on a night whose low is known."""
    found = [outlook(named, tonight, question, world) for named in crops]
    one = len(found) == 1
    verdicts = {o.verdict for o in found}
    cover = cover_for(world.facts, cover_of(question))
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
    if o.outcome == "cool":
        assert o.chill_c is not None
        return (
            f"No frost{under} at {low}, but {p.word} {p.are} chilled and set back below about "
            f"{frost_temp(o.chill_c, units)}: bring pots in, or cover what is planted out."
        )
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
            f"Borderline: {p.word}{under} {p.does('meet')} about {met} and {hurt} hurts {p.them}; "
            f"{f'use {o.remedy.name} or ' if o.remedy else ''}{_rescue(o)}."
        )
    if o.outcome == "cover":
        falls = "falls" if tonight.sky == "clear" else "may fall"
        do = f"Earth the {p.word} over or cover {p.them}" if o.named.id == "potato" else f"Cover the {p.word}"
        mark = "" if o.unhurt else f" (some {'flowers' if o.blossom else 'leaves'} may still be hurt)"
        using = f" with {o.remedy.name}{mark}" if o.remedy else ""
        return (
            f"{do} tonight{using}: with {low} in the forecast, leaf height {falls} to {met}, and "
            f"{hurt} hurts {p.them}."
        )
    if o.blossom:
        bare = under or " uncovered"
        use = f"use {o.remedy.name}, or count on losing" if o.remedy else "no cover laid over them saves"
        return (
            f"No: the blossom of {p.word}{bare} is likely lost at {low} (killed near {killed}, and it may "
            f"meet {frost_temp(o.worst_c, units)}); {use} it."
        )
    if cover is not None:
        save = _rescue(o)
        more = f"use {o.remedy.name}, or {save}" if o.remedy else save
        return f"No: {p.word}{under} will not come through {low}; {more}."
    other = f"use {o.remedy.name}" if o.remedy else f"count on losing {p.them}"
    if o.named.id == "potato":
        return (
            f"The tops of {p.word} will not live through {low} bare (killed near {killed}): draw soil over "
            f"the shoots, or {other}; new shoots come from below ground in 10 to 14 days."
        )
    return (
        f"{sentence(p.word)} will not live through {low} uncovered (killed near {killed}): {_rescue(o)}, "
        f"or {other}."
    )


def _rescue(o: Outlook) -> str:
    """What else can be done tonight: potatoes are earthed up, hardy crops picked, tender pots carried in."""
    if o.named.id == "potato":
        return "earth them over"
    if o.blossom:
        return f"bring {o.plants.them} in where in pots"
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
        ("no frost for {}, but chilled: bring pots in", [o for o in found if o.outcome == "cool"]),
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
    at_leaf = any(is_freezing_limit(o.limits.hurt_c) for o in found)
    sky = "cloudy" if tonight.sky == "cloudy" else "clear"
    leaf = {
        "clear": temp_numbers("leaf_low_clear", "leaf height, clear and calm", tonight.leaf_clear_c),
        "cloudy": temp_numbers("leaf_low_cloudy", "leaf height, cloudy or windy", tonight.leaf_cloudy_c),
    }
    for kind, pair in leaf.items():  # hardy crops are judged by the air: leaf height would only confuse
        numbers += [n._replace(shown=n.shown and at_leaf and kind == sky) for n in pair]
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
    if all(o.outcome in ("fine", "cool") for o in found):
        return ()
    table = world.facts.table("protection")["help"]
    steps = [table["plastic"]] if question.cue("cover") == "plastic" else []
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
            if o.remedy is not None and o.unhurt:
                gap_c = tonight.low_c - o.worst_c
                carries = frost_temp(o.limits.hurt_c - o.remedy.plan_c + gap_c, units)
                clear = " on a clear night" if gap_c > 2.0 else ""
                changes.append(
                    f"Under {o.remedy.name} {o.plants.word} can be left out to a forecast of about "
                    f"{carries}{clear}."
                )
    elif any(o.outcome != "fine" and o.remedy for o in found):
        better = next(o.remedy for o in found if o.remedy and o.outcome != "fine")
        changes.append(f"{sentence(better.name)} would do better.")
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
