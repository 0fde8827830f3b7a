"""What tonight does to a crop: fine as it is, cover it, bring it in, or likely lost, with the margin."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.science.frost_night import forecast_product
from gardenmate.topics.frost.outlook import MARGIN_C, Outlook, outlook
from gardenmate.topics.frost.sky import Night, hours_of_frost, under_cloud
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import (
    Cover,
    cover_for,
    cover_of,
    frost_span,
    frost_temp,
    gain_range,
    is_freezing_limit,
    note_in_units,
)
from gardenmate.topics.shared.raising import Named

_CROWN_LIVES_C = 20.0  # a gap this wide between hurt and killed: only the tops are meant by the first
_HALF_HARDY = (
    "The figures of half-hardy crops are for the air of a forecast; below freezing their leaves may burn on "
    "a clear night, but the plant lives."
)
_AIR_FIGURES = (
    "The figures of hardy crops were noted against the air of a forecast, so the colder leaf of a clear "
    "night is in them already; it may still blacken a tip."
)
SAY = {
    "fine": "fine",
    "cool": "no frost, but chilled",
    "cover": "cover",
    "chilled": "bring in or cover",
    "tips": "lives, leaves may be marked",
    "burnt": "lives, leaves hurt",
    "lost": "bring in, or likely lost",
}


def answer_crops(question: Request, world: World, crops: Sequence[Named], tonight: Night) -> Answer:
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
    if tonight.sky == "clear" and any(o.outcome in ("fine", "burnt") and _hardy(o) for o in found):
        details.append(_AIR_FIGURES)
    if any(o.outcome == "tips" for o in found):
        details.append(_HALF_HARDY)
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
        rest = "or cover what is planted out" if cover is None else "or lay fleece over them inside"
        return (
            f"No frost{under} at {low}, but {p.word} {p.are} chilled and set back below about "
            f"{frost_temp(o.chill_c, units)}: bring pots in, {rest}."
        )
    if o.outcome == "chilled":
        return (
            f"Bring the {p.word} in or cover {p.them}: {low} does not freeze {p.them}, but below {hurt} "
            f"{p.they} {p.are} chilled and set back."
        )
    saves = f"; {o.remedy.name} would {'spare' if o.unhurt else 'help'} {p.them}" if o.remedy else ""
    if o.outcome == "tips":
        return (
            f"{sentence(p.word)}{under} should live through {low} but may be marked: on a clear, calm night "
            f"the leaves may meet {frost_temp(o.leaf_c, units)}, and hurt begins near {hurt}{saves}."
        )
    if o.outcome == "burnt":
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
        sky = "" if tonight.sky == "cloudy" else " on a clear night"
        use = f"use {o.remedy.name} or " if o.remedy else ""
        if o.beaten:
            return (
                f"Not enough by itself{sky}: {p.word}{under} {p.does('meet')} about {met} and {killed} kills "
                f"{p.them}; {use}{_rescue(o)}."
            )
        return (
            f"Borderline: {p.word}{under} {p.does('meet')} about {met}{sky} and {hurt} begins to hurt "
            f"{p.them}; {use}{_rescue(o)}."
        )
    if o.outcome == "cover":
        falls = "falls" if tonight.sky == "clear" else "may fall"
        own = o.named.crop.frost_words
        do = f"Cover the {p.word}" if own is None else own.cover.format(word=p.word, them=p.them)
        mark = "" if o.unhurt else f" (some {'flowers' if o.blossom else 'leaves'} may still be hurt)"
        using = f" with {o.remedy.name}{mark}" if o.remedy else ""
        harm = f"{killed} kills {p.them}" if o.beaten and tonight.sky == "clear" else f"{hurt} hurts {p.them}"
        return f"{do} tonight{using}: with {low} in the forecast, leaf height {falls} to {met}, and {harm}."
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
    if (own := o.named.crop.frost_words) is not None:
        return own.lost.format(word=p.word, low=low, killed=killed, other=other)
    return (
        f"{sentence(p.word)} will not live through {low} uncovered (killed near {killed}): {_rescue(o)}, "
        f"or {other}."
    )


def _rescue(o: Outlook) -> str:
    """What else can be done tonight: its own way, hardy crops picked, tender pots carried in."""
    if o.named.crop.frost_words is not None:
        return o.named.crop.frost_words.rescue
    if o.blossom:
        return f"bring {o.plants.them} in where in pots"
    if o.limits.hurt_c < f_to_c(30.0):
        return f"pick {o.plants.them} now"
    return "bring pots in"


def _hardy(o: Outlook) -> bool:
    """Hurt only well below freezing, and judged by the air."""
    return o.limits.hurt_c < 0.0 and not _by_leaf(o)


def _by_leaf(o: Outlook) -> bool:
    """The leaf height counts: a limit that is the leaf's freezing, or leaves that a clear night may mark."""
    return is_freezing_limit(o.limits.hurt_c) or (o.outcome != "fine" and o.leaf_c < o.worst_c - 1e-6)


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
        ("{} should live, leaves may be marked if it is clear", [o for o in found if o.outcome == "tips"]),
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
    at_leaf = any(_by_leaf(o) for o in found)
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
        numbers.append(Number("margin_f", round(o.margin_c * 1.8, 1), "F", "to spare", crop))
        numbers.append(Number("margin_c", round(o.margin_c, 1), "C", "to spare", crop))
        numbers.append(Number("outcome", SAY[o.outcome], "", "outcome", crop, shown=False))
    return tuple(numbers)


def _table(found: Sequence[Outlook], world: World) -> Table:
    units = world.units
    rows = tuple(
        (
            o.plants.word,
            frost_temp(o.limits.hurt_c, units),
            frost_temp(o.limits.killed_c, units),
            SAY[o.outcome],
            o.remedy.name if o.remedy else ("-" if o.outcome == "fine" else "none is enough"),
        )
        for o in found
    )
    return Table(("crop", "hurt below", "killed near", "tonight", "lightest cover"), rows)


def _steps(found: Sequence[Outlook], question: Request, world: World) -> tuple[str, ...]:
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
    found: Sequence[Outlook], tonight: Night, question: Request, cover: Cover | None, world: World
) -> tuple[str, ...]:
    units = world.units
    changes = []
    if tonight.sky == "unknown":
        changes += _kinder(found, tonight, question, world)
    if cover is None:
        for o in found if len(found) < 3 else ():
            if o.remedy is not None and o.unhurt:
                gap_c = tonight.low_c - o.leaf_c
                carries = frost_temp(o.limits.hurt_c + MARGIN_C - o.remedy.plan_c + gap_c, units)
                clear = " on a clear night" if gap_c > 2.0 else ""
                changes.append(
                    f"Under {o.remedy.name} {o.plants.word} can be left out to a forecast of about "
                    f"{carries}{clear}."
                )
    elif any(o.outcome != "fine" and o.remedy for o in found):
        better = next(o.remedy for o in found if o.remedy and o.outcome != "fine")
        changes.append(f"{sentence(better.name)} would do better.")
    if question.cue("stage") is None and any(o.outcome != "fine" for o in found):
        changes.append(
            "Newly planted or unhardened plants can't take as much cold; tell me if yours are, and I'll allow for it."
        )
    return tuple(changes)


_KINDER = {"yes": "{} would be fine", "tight": "{} could live"}
_RANK = {"no": 0, "tight": 1, "yes": 2}


def _kinder(found: Sequence[Outlook], tonight: Night, question: Request, world: World) -> list[str]:
    """What cloud or wind would change, as nothing was said of the sky."""
    changes = []
    for verdict, text in _KINDER.items():
        better = [
            o
            for o in found
            if (seen := outlook(o.named, under_cloud(tonight), question, world)).verdict == verdict
            and _RANK[seen.verdict] > _RANK[o.verdict]
        ]
        if better:
            names = listed(o.plants.word for o in better)
            changes.append(f"Under thick cloud or in wind {text.format(names)} as it is.")
    return changes


def _assumptions(found: Sequence[Outlook], question: Request, tonight: Night) -> tuple[str, ...]:
    assumed = [o.limits.assumed for o in found if o.limits.assumed]
    if question.cue("stage") is None:
        assumed.append("Hardened, growing plants.")
    if question.cue("cover") is None:
        assumed.append("No cover on them.")
    if question.cue("cover") in (None, "none", "mulch") and any(_by_leaf(o) for o in found):
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
