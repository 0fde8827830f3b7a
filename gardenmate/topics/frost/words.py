"""Crops on a night, in words: the first line is the decision with the exception that turns it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from gardenmate.core.answer import Answer, Table
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.frost.decide import CropNight
from gardenmate.topics.frost.night import Night
from gardenmate.topics.frost.night_words import (
    low_and_night,
    night_assumptions,
    night_details,
    night_working,
)
from gardenmate.topics.frost.one_crop import FREEZING_C, CropLine
from gardenmate.topics.frost.outlook import MARGIN_C, Outcome, Outlook, late_in_year, stage_now
from gardenmate.topics.frost.several_nights import night_by_night, nights_table
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import (
    Cover,
    frost_span,
    frost_temp,
    gain_range,
    stage_of,
)
from gardenmate.topics.shared.subjects import plants, together
from gardenmate.topics.shared.wording import numbers

LABELS = {
    "low": "air at head height",
    "leaf_low_clear": "at leaf height if clear",
    "leaf_low_cloudy": "at leaf height if cloudy",
    "frost_product": "US forecast wording",
    "hurt_below": "hurt below",
    "killed_below": "killed near",
    "margin": "to spare",
    "too_cold_by": "too cold by",
    "outcome": "outcome",
}
_BASIS = {"leaf": "leaf height", "air": "air"}
SAY: Mapping[Outcome, str] = {
    "fine": "fine",
    "cool": "no frost, but chilled",
    "cover": "cover",
    "chilled": "bring in or cover",
    "tips": "lives, leaves may mark",
    "burnt": "lives, leaves marked",
    "lost": "bring in, or likely lost",
}
_EXEMPT = {
    "regrows": "tops lost, grows back",
    "below-ground": "safe in the soil",
    "flowers": "flowers at risk, plant lives",
    "crown": "tops hurt, plant lives",
}
_AIR_FIGURES = (
    "Figures for hardy crops are for the air of a forecast, so the colder leaf of a clear night is already in them; "
    "a leaf tip may still blacken."
)
_TAKEN = {
    "bloom": "In flower, as the time of year suggests.",
    "dormant": "At rest, as the time of year suggests.",
}
_MOST_ROWS = 2  # crops that get a line of their own under "what would change it"


def crop_night(question: Request, world: World, found: CropNight) -> Answer:
    """The finding as an answer."""
    safe = found.cover is None and all(o.outcome in ("fine", "cool") for o in found.fate)
    care = cautions(world.facts, "frost", "forecast", *(() if safe else ("no_flame",)))
    one = len(found.fate) == 1
    return Answer(
        question=question,
        verdict=found.verdict,
        headline=_with_unknown(found, _headline(question, found, world)),
        numbers=numbers(found.figures, _labels(found)),
        details=_details(question, found, world),
        table=nights_table(found, world, _fate_word) or (None if one else _crops_table(found, world)),
        steps=_steps(question, found, world),
        changes=_changes(question, found, world),
        cautions=care.texts,
        assumptions=_assumptions(question, found, world),
        sources=unique(found.sources, care.sources),
        working=(*night_working(found.night, world), *(_working(o, world) for o in found.fate)),
        key_figures=found.key,
    )


def _labels(found: CropNight) -> dict[str, str]:
    """The labels, with the height a figure holds for where all the crops share one."""
    basis = {o.basis for o in found.fate}
    if len(basis) > 1:
        return LABELS
    where = _BASIS[basis.pop()]
    own = ("hurt_below", "killed_below", "margin", "too_cold_by")
    return {name: f"{label} ({where})" if name in own else label for name, label in LABELS.items()}


# -- the first line --------------------------------------------------------------------------------------
def _headline(question: Request, found: CropNight, world: World) -> str:
    row = night_by_night(found, world)
    if row is not None:
        return row
    text = _one(found.fate[0], found, world) if len(found.fate) == 1 else _many(found, world)
    text = _answering(text, found)
    if len(found.every) > 1:
        text = f"{text} That is the coldest of the {len(found.every)} nights."
    if found.doubtful and found.night.typed is not None:
        value = found.night.typed.value
        return f"If you mean {value:g} F (tell me if it is C): {text[:1].lower()}{text[1:]}"
    return text


def _with_unknown(found: CropNight, text: str) -> str:
    if not found.unknown:
        return text
    return f"I have no figures for {listed(found.unknown)}, so cover or bring them in. {text}"


def _answering(text: str, found: CropNight) -> str:
    """The sentence opened with what was asked: whether they live, or whether something has to be done."""
    if found.asked == "lives" and len(found.fate) == 1 and _plainly_lost(found):
        return f"No: {text[:1].lower()}{text[1:]}"
    if found.asked not in ("cover", "bring-in") or found.verdict is None:
        return text
    fates = {o.outcome for o in found.fate}
    small = f"{text[:1].lower()}{text[1:]}"
    if found.verdict == "no":
        return f"No need: {small}"
    if found.verdict == "yes":
        other = found.asked == "bring-in" and fates == {"cover"}
        return f"Yes, or {small}" if other else f"Yes, {small}" if fates <= _ORDERS else f"Yes: {small}"
    if fates == {"tips"} and found.night.sky == "unknown":
        return f"Only if it stays clear: {small}"
    return f"Worth it, but not a must: {small}" if fates <= {"tips", "burnt"} else text


_ORDERS: frozenset[Outcome] = frozenset({"cover", "chilled"})  # whose line is an order: "cover the beans"


def _plainly_lost(found: CropNight) -> bool:
    """Lost under what was to save it, or open flowers: the line does not say so in its first words."""
    o = found.fate[0]
    return o.verdict == "no" and (found.cover is not None or o.exemption == "flowers")


def _one(o: Outlook, found: CropNight, world: World) -> str:
    """One crop."""
    line = CropLine(o, found, world)
    if o.exemption == "regrows":
        return line.regrows()
    if o.exemption == "below-ground":
        return line.below_ground()
    if o.exemption == "flowers":
        return line.flowers()
    if o.exemption == "snow":
        return line.snow()
    by_outcome: Mapping[Outcome, Callable[[], str]] = {
        "fine": line.fine,
        "cool": line.cool,
        "chilled": line.chilled,
        "tips": line.tips,
        "burnt": line.burnt,
        "cover": line.covered if found.cover is not None else line.to_cover,
        "lost": line.lost,
    }
    text = by_outcome[o.outcome]()
    return f"{text} {line.if_in_flower()}" if o.exemption == "if-in-flower" else text


def _many(found: CropNight, world: World) -> str:
    """Several crops: what to do with each, the worst first."""
    fate = found.fate
    under = f" {found.cover.where}" if found.cover is not None else ""
    if under and found.night.sky == "unknown" and len(found.kinder) == len(fate):
        under = f"{under}, if the sky stays clear"
    lost = [o for o in fate if o.outcome == "lost" and o.exemption is None]
    tender = [o for o in lost if o.limits.hurt_c >= FREEZING_C]
    plain = [o for o in fate if o.exemption not in ("regrows", "below-ground", "flowers")]
    lose, well, cover, cool = _IN_GROUND if found.planted else _MOVABLE
    if late_in_year(world):
        lose = _PICK if found.planted else f"{_PICK}, and bring in what is in pots"
    if found.cover is not None:
        well = cover = "{word} may still be hurt under it"
    stays = [o for o in tender if o.remedy is None and o.named.crop.groups.way == "in-place"]
    rooted = [] if late_in_year(world) else stays
    groups: Sequence[tuple[str, Sequence[Outlook]]] = (
        (_IN_GROUND[0], rooted),
        (lose, [o for o in tender if o.remedy is None and o not in rooted]),
        (well, [o for o in tender if o.remedy is not None]),
        ("pick or lose {word}", [o for o in lost if o.limits.hurt_c < FREEZING_C]),
        ("the tops of {word} go but grow back", [o for o in fate if o.exemption == "regrows"]),
        ("{word} in the soil {are} safe", [o for o in fate if o.exemption == "below-ground"]),
        ("cover the flowers of {word}, the plants live", [o for o in fate if o.exemption == "flowers"]),
        (cover, [o for o in plain if o.outcome == "chilled"]),
        (f"no frost for {{word}}, but the cold sets {{them}} back: {cool}",
         [o for o in plain if o.outcome == "cool"]),
        ("cover {word}" if found.cover is None else cover, [o for o in plain if o.outcome == "cover"]),
        ("{word} should live with marked leaves", [o for o in plain if o.outcome == "burnt"]),
        ("{word} should live, with leaves marked if it is clear", [o for o in plain if o.outcome == "tips"]),
        ("{word} {are} fine as {they} {are}", [o for o in plain if o.outcome == "fine"]),
    )  # fmt: skip
    parts = [
        text.format(word=p.word, them=p.them, they=p.they, are=p.are)
        for text, group in groups
        if group
        for p in (together(plants(o.named) for o in group),)
    ]
    return f"At {low_and_night(found.night, world)}{under}: {'; '.join(parts)}."


_PICK = "no cover is enough for {word}, so pick what you can"
_MOVABLE = ("bring in or lose {word}", "bring in {word}, or cover {them} well", "bring in or cover {word}",
            "bring pots in")  # fmt: skip
_IN_GROUND = ("no cover is enough for {word}, so count on losing {them}", "cover {word} well", "cover {word}",
              "cover {them}")  # fmt: skip


# -- the rest --------------------------------------------------------------------------------------------
def _details(question: Request, found: CropNight, world: World) -> tuple[str, ...]:
    said = [*night_details(found.night, found.hours, world)]
    one = found.fate[0]
    if len(found.fate) == 1 and one.outcome != "fine" and one.limits.note:
        said.append(worded(one.limits.note, Manner(world.units)))
    if found.night.sky == "clear" and any(_hardy(o) for o in found.fate):
        said.append(_AIR_FIGURES)
    if question.cue("cover") == "mulch":
        said.append(world.facts.table("protection")["mulch"]["text"])
    if found.cover is not None:
        said.append(
            f"{sentence(found.cover.name)} keeps off {gain_range(found.cover, world.units)} by published figures; on "
            "some still, clear nights covers kept off nothing."
        )
    return tuple(said)


def _hardy(o: Outlook) -> bool:
    """Hurt only well below freezing, and judged by the air."""
    return o.outcome in ("fine", "burnt") and o.limits.hurt_c < 0.0 and o.basis == "air"


def _fate_word(o: Outlook) -> str:
    return _EXEMPT.get(o.exemption or "", SAY[o.outcome])


def _fate_here(o: Outlook, found: CropNight) -> str:
    """The same; what stands in the ground is not carried in."""
    said = _fate_word(o)
    rooted = found.planted or (o.named.crop.groups.way == "in-place" and o.remedy is None)
    return {SAY["lost"]: "likely lost", SAY["chilled"]: "cover"}.get(said, said) if rooted else said


def _crops_table(found: CropNight, world: World) -> Table:
    """A row for each crop, every temperature on the basis the row names."""
    units = world.units
    rows = tuple(
        (
            plants(o.named).word,
            _fate_here(o, found),
            f"{frost_temp(o.worst_c, units)} {_BASIS[o.basis]}",
            frost_temp(o.limits.hurt_c, units),
            frost_temp(o.limits.killed_c, units),
            o.remedy.name if o.remedy else ("-" if o.outcome == "fine" else "none is enough"),
        )
        for o in found.fate
    )
    unknown = tuple((name, "no figures", "-", "-", "-", "-") for name in found.unknown)
    heads = ("crop", "what to do", "low there", "hurt below", "killed near", "lightest cover")
    return Table(heads, (*rows, *unknown))


def _steps(question: Request, found: CropNight, world: World) -> tuple[str, ...]:
    if found.asked == "pick" or all(o.outcome in ("fine", "cool") for o in found.fate):
        return ()
    table = world.facts.table("protection")["help"]
    steps = [table["plastic"]] if question.cue("cover") == "plastic" else []
    if found.cover is None and any(o.remedy for o in found.fate):
        steps += [table["dry_cloth"], table["wet_soil"]]
    if any(o.outcome == "lost" for o in found.fate) and stage_of(question) == "fruit":
        steps.append("Pick what is ripe or full-sized today: frozen fruit does not keep.")
    return tuple(steps)


def _changes(question: Request, found: CropNight, world: World) -> tuple[str, ...]:
    changes = []
    for verdict, can in (("yes", "would be fine"), ("tight", "could survive")):
        better = [plants(o.named) for o in found.kinder if o.verdict == verdict]
        if better:
            p = together(better)
            changes.append(f"Under thick cloud or in wind {p.word} {can} as {p.they} {p.are}.")
    troubled = [o for o in found.fate if o.outcome != "fine" and o.remedy]
    if found.cover is None and len(found.fate) <= _MOST_ROWS:
        changes += [_left_out(o, o.remedy, found.night, world) for o in troubled if o.remedy and o.unhurt]
    elif found.cover is not None and troubled and troubled[0].remedy:
        changes.append(f"{sentence(troubled[0].remedy.name)} would do better.")
    if stage_of(question) is None and any(o.outcome != "fine" for o in found.fate):
        changes.append(
            "Newly planted or unhardened plants can't take as much cold; tell me if yours are, and I'll allow for it."
        )
    return tuple(changes)


def _left_out(o: Outlook, remedy: Cover, tonight: Night, world: World) -> str:
    gap_c = tonight.low_c - o.leaf_c
    carries = frost_temp(o.limits.hurt_c + MARGIN_C - remedy.plan_c + gap_c, world.units)
    clear = " on a clear night" if gap_c > 2.0 else ""
    return (
        f"Under {remedy.name} {plants(o.named).word} can be left out to a forecast of about {carries}{clear}."
    )


def _assumptions(question: Request, found: CropNight, world: World) -> tuple[str, ...]:
    assumed = [o.limits.assumed for o in found.fate if o.limits.assumed]
    if stage_of(question) is None:
        taken = {stage_now(o.named.crop, question, world) for o in found.fate}
        assumed += [_TAKEN[stage] for stage in sorted(s for s in taken if s)]
        assumed += ["Hardened, growing plants."] if None in taken else []
    if found.cover is None and question.cue("cover") is None:
        assumed.append("No cover on them.")
    if found.cover is None and any(o.basis == "leaf" or o.outcome == "tips" for o in found.fate):
        assumed += night_assumptions(found.night, world)
    return unique(assumed)


def _working(o: Outlook, world: World) -> str:
    units = world.units
    margin = frost_span(o.margin_c, units)
    way = "too cold by" if o.margin_c < 0.0 and not margin.startswith("0 ") else "to spare"
    where = "at leaf height" if o.basis == "leaf" else "in the air"
    return (
        f"{sentence(plants(o.named).word)}, {where}: meets {frost_temp(o.worst_c, units)}, hurt below "
        f"{frost_temp(o.limits.hurt_c, units)}, killed near {frost_temp(o.limits.killed_c, units)}; {way} {margin}."
    )
