"""Which place an answer was worked for: told with every answer that rests on its climate."""

from __future__ import annotations

from dataclasses import replace

from gardenmate.climate.place_words import doubt_sentence
from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer
from gardenmate.core.question import SEASON_TOPICS
from gardenmate.core.units import Units

DATED_TOPICS = frozenset({*SEASON_TOPICS, "buy-or-sow", "agenda"})


def with_place(answer: Answer, site: Site | None, units: Units) -> Answer:
    """The answer with the place it rests on, and with the sentence that its dates are uncertain where they are."""
    if site is None or site.place is None or not rests_on(answer, site):
        return answer
    note = answer.place_note or doubt_sentence(site, units)
    return replace(answer, place=site.place, place_note=note)


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
