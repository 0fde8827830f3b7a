"""Seed in the ground, not up yet, and frost or snow: is it lost?

Frost does not reach through moist soil to a seed in a night, and snow lies at freezing and keeps worse cold
off. Hardy seed waits for warmth; seed of warm crops rots if the soil stays cold and wet.
"""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.topics.germination.emergence_facts import soil_today_c
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import frost_temp
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants


def about_seed_in_the_ground(question: Request) -> bool:
    """True when seed was sown and nothing says that it is up."""
    coming = question.has("plants", "up") or question.has("doing", "may-sow")
    return question.has("plants", "sown") and not coming and question.cue("stage") is None


def answer_sown(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """Did it live? yes = it did; tight = warm crops, whose seed rots where the soil stays cold."""
    warm = [n for n in crops if n.crop.warm]
    hardy = [n for n in crops if not n.crop.warm]
    units = world.units
    verdict: Verdict | None = "yes" if not warm else "tight" if not hardy else None
    parts, details = [], []
    numbers: list[Number] = []
    snow = question.cue("weather") == "snow" or question.has("weather", "snow")
    if hardy:
        names = listed(plants(n).word for n in hardy)
        parts.append(
            f"not lost: {names} still in the soil {_take(hardy)} no harm from frost"
            f"{' or snow' if snow else ''}, the seed waits and comes up once it warms"
        )
    if warm:
        names = listed(plants(n).word for n in warm)
        known = [n.crop.soil.min_soil_sow_c[0] for n in warm if n.crop.soil.min_soil_sow_c]
        cold = f"that stays below about {frost_temp(min(known), units)}" if known else "that stays cold"
        parts.append(f"the frost does not reach the seed of {names}, but in soil {cold} it rots within weeks")
        numbers += temp_numbers("least_soil", "least soil", min(known)) if known else ()
    if world.site is not None:
        numbers += temp_numbers("soil", "soil now, usually", soil_today_c(world.site, world.today))
    if snow:
        details.append(
            "Snow lies at about freezing and keeps worse cold off the ground; let it melt where it is."
        )
    up = [n for n in hardy if n.crop.frost.damage_below_c < 0.0]
    if up:
        told = listed(f"{plants(n).word} {frost_temp(n.crop.frost.damage_below_c, units)}" for n in up)
        details.append(f"Once up they survive some frost as well; hurt begins below: {told}.")
    care = cautions(world.facts, "frost", "forecast")
    return Answer(
        question=question,
        verdict=verdict,
        headline=f"{sentence('; '.join(parts))}.",
        numbers=tuple(numbers),
        details=tuple(details),
        changes=(
            "Give it twice the usual days, then dig a few seeds up: firm and plump is alive, soft is rotted.",
            "If they were up already, tell me, with the low.",
        ),
        cautions=care.texts,
        assumptions=("Still below ground, not up yet.",),
        sources=unique(
            ("common-practice",),
            *(n.crop.frost.sources.of("damage_below_c", "killed_below_c") for n in up),
            care.sources,
        ),
        working=("A seed an inch down is as cold as the soil there, which a night of frost hardly changes.",),
    )


def _take(crops: Sequence[Named]) -> str:
    many = len(crops) > 1 or plants(crops[0]).plural
    return "take" if many else "takes"
