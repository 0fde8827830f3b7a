"""The whole garden on one night: crops by the air temperature that hurts them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import F_DEGREE, f_to_c
from gardenmate.core.world import World
from gardenmate.science.frost_night import forecast_product
from gardenmate.topics.frost.decide import unknown_of
from gardenmate.topics.frost.night import Night, hours_of_frost
from gardenmate.topics.frost.night_words import night_assumptions, night_details, night_working
from gardenmate.topics.frost.outlook import Outlook, no_cover_saves, outlook
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, unique
from gardenmate.topics.shared.plant_names import proper
from gardenmate.topics.shared.protection import frost_temp
from gardenmate.topics.shared.raising import Named, spoken_name
from gardenmate.topics.shared.subjects import plants

Fate = Literal["fine", "chilled", "tips", "marked", "cover", "lost"]
"""What a night does to a group: nothing, chill, perhaps a mark on the leaves, a mark, cover it, lost outside."""
_FATE: Mapping[Fate, str] = {
    "fine": "fine",
    "chilled": "chilled",
    "tips": "leaves may be marked",
    "marked": "leaves marked",
    "cover": "cover",
    "lost": "lost outside",
}
_SHOWN = 3  # crops named in a row of the table


def own_crops(world: World) -> tuple[Named, ...]:
    """The crops the grower said they grow, as far as they are known."""
    found: dict[str, Named] = {}
    for name in world.garden.wanted:
        crop = world.facts.crop_for(CropRef(name))
        if crop is not None:
            found.setdefault(crop.id, Named(crop, crop.base, spoken_name(crop)))
    return tuple(found.values())


def _of_strangers(names: Sequence[str]) -> str:
    """What is said of plants nothing is known of: the groups they may belong to stand in the table."""
    return f"I have no figures for {listed(names)}. Here is what each group survives; cover them if you are unsure."


def answer_garden(question: Request, world: World, tonight: Night) -> Answer:
    """No crop named: the grower's own crops when known, else every group, at this low."""
    own = [outlook(named, tonight, question, world) for named in own_crops(world)]
    strange = unknown_of(question)
    verdict = None if strange else _overall(question, world, tonight, own)
    care = cautions(world.facts, "frost", "forecast", *(() if verdict == "yes" else ("no_flame",)))
    table = world.facts.table("protection")
    product = forecast_product(tonight.low_c)
    found = night_details(tonight, hours_of_frost(question, world, tonight), world)
    named = f"That low is what the US forecast office calls a {product}." if product else ""
    return Answer(
        question=question,
        verdict=verdict,
        headline=_of_strangers(strange) if strange else _headline(verdict or "tight", tonight, world, own),
        numbers=(
            *temp_numbers("low", "air at head height", tonight.low_c),
            *temp_numbers("leaf_low_clear", "at leaf height if clear", tonight.leaf_clear_c),
            *temp_numbers("leaf_low_cloudy", "at leaf height if cloudy", tonight.leaf_cloudy_c),
            *((Number("frost_product", product, "", "forecast wording", shown=False),) if product else ()),
        ),
        details=(*found, *((named,) if named else ())),
        table=group_rows(question, world, tonight),
        steps=() if verdict == "yes" else (table["help"]["dry_cloth"], table["help"]["wet_soil"]),
        changes=("Name the crops, and the cover they have, for an answer on each.",),
        cautions=care.texts,
        assumptions=("Hardened, growing plants without a cover.", *night_assumptions(tonight, world)),
        sources=unique(
            tonight.sources,
            ("hill", "common-practice"),
            table["products"]["sources"] if product else (),
            table["help"]["sources"],
            care.sources,
        ),
        working=night_working(tonight, world),
    )


def answer_ask_for_low(question: Request, world: World) -> Answer:
    """What each group survives, and the question that is needed: tonight's low."""
    care = cautions(world.facts, "frost", "forecast")
    return Answer(
        question=question,
        verdict=None,
        headline="What low is forecast for tonight? Here is what each group of crops survives.",
        table=group_limits(world),
        changes=(
            "Type the low ('31 tonight'), and the crops if you like ('peas 24?').",
            "Tell me the place, and I can give the usual frost dates and the odds.",
        ),
        cautions=care.texts,
        sources=("hill", "common-practice", *care.sources),
    )


def group_rows(question: Request, world: World, tonight: Night, leave_out: Sequence[str] = ()) -> Table:
    """One row per group: what hurts it, what this night does to it, and crops of it (own ones when known)."""
    own = {n.crop.id: n for n in own_crops(world)}
    rows = []
    for sort, group in world.facts.table("protection")["group"].items():
        members = world.facts.members("frost", sort)
        ids = [c for c in members if c not in leave_out and (not own or c in own)]
        if not ids:
            continue
        fate = _FATE[_fate(sort, group, tonight, world)]
        row = (group["name"], _hurt(group, world), fate, _named(ids, world))
        rows.append(row)
    return Table(("group", "hurt below", f"at {tonight.low_text(world.units)}", "crops"), tuple(rows))


def group_limits(world: World) -> Table:
    """What each group survives, without a night."""
    rows = []
    for sort, group in world.facts.table("protection")["group"].items():
        killed = frost_temp(f_to_c(group["killed_f"]), world.units)
        rows.append(
            (group["name"], _hurt(group, world), killed, _named(world.facts.members("frost", sort), world))
        )
    return Table(("group", "hurt below", "killed near", "crops"), tuple(rows))


def _hurt(group: Mapping[str, Any], world: World) -> str:
    low, high = (frost_temp(f_to_c(f), world.units) for f in group["hurt_f"])
    return high if low == high else f"{low.split()[0]} to {high}"


def _named(ids: Sequence[str], world: World) -> str:
    """The first few crops of a group, and how many more there are."""
    shown = ", ".join(proper(world.facts.crop(i).name) for i in ids[:_SHOWN])
    return shown if len(ids) <= _SHOWN else f"{shown} and {len(ids) - _SHOWN} more"


def _fate(sort: str, group: Mapping[str, Any], tonight: Night, world: World) -> Fate:
    """What the night does to a group, judged on its middle figure."""
    tender = sort in ("chilled", "tender", "light-frost")
    worst = tonight.leaf_worst_c if tender else tonight.low_c
    kindest = tonight.leaf_cloudy_c if tender else tonight.low_c
    hurt_c = f_to_c(group["hurt_f"][1])
    killed_c = f_to_c(group["killed_f"])
    if sort == "chilled" and tonight.low_c < hurt_c and worst >= killed_c:
        return "chilled"
    if sort == "half-hardy" and hurt_c <= tonight.low_c < 0.0 and tonight.leaf_worst_c < hurt_c:
        return "tips"
    if worst >= hurt_c or (sort == "chilled" and tonight.low_c >= hurt_c):
        return "fine"
    hurt_anyway = worst < killed_c and kindest < f_to_c(group["hurt_f"][0])
    if kindest < killed_c or hurt_anyway or (tender and no_cover_saves(worst, killed_c, world)):
        return "lost"
    return "cover" if tender else "marked"


def _overall(question: Request, world: World, tonight: Night, own: Sequence[Outlook]) -> Verdict:
    if own:
        verdicts: list[Verdict] = [o.verdict for o in own]
        return "no" if "no" in verdicts else ("tight" if "tight" in verdicts else "yes")
    fate = _fate("tender", world.facts.table("protection")["group"]["tender"], tonight, world)
    if fate == "fine":
        return "yes"
    return "no" if fate == "lost" else "tight"


def _headline(verdict: Verdict, tonight: Night, world: World, own: Sequence[Outlook]) -> str:
    units = world.units
    low, leaf = tonight.low_text(units), frost_temp(tonight.leaf_worst_c, units)
    if own:
        risk = listed(plants(o.named).word for o in own if o.outcome != "fine")
        rest = listed(plants(o.named).word for o in own if o.outcome == "fine")
        if not risk:
            return f"No danger at {low}: nothing you grow is hurt by that."
        end = f"; {rest} will be fine" if rest else ""
        return f"At {low} protect {risk}{end}."
    if verdict == "yes":
        top = tonight.leaf_worst_c <= f_to_c(32.0) + 3.0 * F_DEGREE and tonight.sky != "cloudy"
        near = f", though on a clear, calm night it may drop to about {leaf} at leaf height" if top else ""
        return (
            f"Probably no danger at {low}: no frost is likely{near}. Only crops that can't take cold nights, such as "
            "basil, will suffer."
        )
    if verdict == "tight":
        return (
            f"Some danger at {low}: on a clear, calm night it may drop to {leaf} at leaf height, so cover tender "
            "crops. Hardy ones are fine."
        )
    return f"Danger at {low}: tender crops will not survive uncovered. Here is what each group survives."
