"""Which place an answer was worked for, told with every answer that rests on its climate; and which of several towns
of one name was meant."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from gardenmate.climate.place_names import normalise
from gardenmate.climate.place_words import doubt_sentence
from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer
from gardenmate.core.question import SEASON_TOPICS
from gardenmate.core.units import Units
from gardenmate.garden.profile import OtherGarden
from gardenmate.records import replace

DATED_TOPICS = frozenset({*SEASON_TOPICS, "buy-or-sow", "agenda"})


def with_place(answer: Answer, site: Site | None, units: Units) -> Answer:
    """The answer with the place it rests on, and with the sentence that its dates are uncertain where they are."""
    if site is None or site.place is None or not rests_on(answer, site):
        return answer
    note = answer.place_note
    zone = answer.question.first("zone")
    if zone is not None and answer.question.slots.place is None:
        note = f"Zone {zone.value} is about winter cold, not frost dates, so I used the frosts {site.where}."
    return replace(answer, place=site.place, place_note=note, place_doubt=doubt_sentence(site, units))


def rests_on(answer: Answer, site: Site) -> bool:
    """True when the answer uses the dates or temperatures of the site: its topic always does, or it names a day, a
    chance or the site's records."""
    if answer.question.topic in DATED_TOPICS and (answer.verdict is not None or answer.numbers):
        return True
    if answer.windows or answer.marks or answer.chance is not None:
        return True
    if any(number.unit == "date" for number in answer.numbers):
        return True
    return bool(set(site.source_ids) & set(answer.sources))


_MOST_WORDS = 8  # a reply to "which one?" is short
_NUMBERS = ({"1", "first"}, {"2", "second"}, {"3", "third"}, {"4", "fourth"}, {"5", "fifth"}, {"6", "sixth"})


def chosen(reply: str, candidates: Sequence[str], regions: Mapping[str, Any]) -> str | None:
    """The one of several towns a reply picks, by its state, county or number; None when it picks none or several.

    ``regions`` is the parsed knowledge/regions.toml.
    """
    said = f" {normalise(reply)} "
    if len(said.split()) > _MOST_WORDS:
        return None
    picked = [c for c in candidates if any(f" {name} " in said for name in _names_of(c, regions))]
    if not picked:
        words = set(said.split())
        picked = [c for c, number in zip(candidates, _NUMBERS, strict=False) if words & number]
    return picked[0] if len(picked) == 1 else None


def _names_of(candidate: str, regions: Mapping[str, Any]) -> list[str]:
    """What tells a candidate apart: its state in full and short, its county; "Gunnison, CO (Gunnison County)"."""
    name, _, rest = candidate.partition(",")
    region, _, county = rest.partition("(")
    code = region.strip()
    full = [n for country in ("us", "ca") for n in regions[country].get(code, ())]
    county = normalise(county.removesuffix(")"))
    told = [normalise(code), *map(normalise, full)]
    return [n for n in (*told, county) if n and n not in (normalise(name), "or", "in", "me", "hi", "ok")]


def for_garden(answer: Answer, other: OtherGarden | None, site: Site | None) -> Answer:
    """The answer, saying in its first lines which garden it is for when it is not the main one."""
    if other is None or site is None:
        return answer
    said = f"For {other.name} ({site.label})."
    return replace(answer, place_note=said if answer.place_note is None else f"{said} {answer.place_note}")
