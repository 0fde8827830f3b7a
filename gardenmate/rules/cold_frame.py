"""The cold frame: open or shut it now, how cold tonight, will the crops live, what an opener catches."""

from __future__ import annotations

from dataclasses import replace

from gardenmate.answer import Answer
from gardenmate.question import Question
from gardenmate.rules.frame_box import Readings, readings
from gardenmate.rules.frame_comfort import answer_comfort
from gardenmate.rules.frame_day import answer_day
from gardenmate.rules.frame_gain import answer_gain, night_calibration
from gardenmate.rules.frame_lid import answer_general, answer_opener, answer_shut
from gardenmate.rules.frame_night import answer_night
from gardenmate.rules.raising import asks, gear, named_crops
from gardenmate.units import f_to_c
from gardenmate.world import World

_COMFORT_TO_C = f_to_c(64.0)  # a reading up to this with crops named asks whether they are warm enough


def answer(question: Question, world: World) -> Answer:
    """The answer to a question about a cold frame or an unheated house.

    verdict: open? yes = open; shut? yes = shut; will it survive? yes = survives.
    """
    asked = asks(question)
    crops = named_crops(question, world)
    read = readings(question)
    if "gain" in asked:
        return answer_gain(question, world)
    if "close" in asked:
        return answer_shut(question, world, read, crops)
    if read.night and read.outside_c is not None and read.inside_c is None:
        return answer_night(question, world, read, crops)
    if _about_comfort(question, read) and crops:
        return answer_comfort(question, world, read, crops)
    if read.inside_c is not None and read.outside_c is not None and _both_cold(question, read):
        return _night_reading(question, world, read)
    if read.inside_c is not None or read.outside_c is not None:
        return answer_day(question, world, read, crops)
    if "opener" in gear(question) or "opener" in asked:
        return answer_opener(question, world, crops)
    if question.cue("glazing") is not None or read.night:
        return answer_gain(question, world)
    return answer_general(question, world, crops)


def _about_comfort(question: Question, read: Readings) -> bool:
    """True when a mild or cold reading inside is asked about, not whether to open."""
    if read.inside_c is None:
        return False
    mild = read.inside_c <= _COMFORT_TO_C and question.cue("sky") is None
    return mild or "warm-enough" in asks(question)


def _both_cold(question: Question, read: Readings) -> bool:
    assert read.inside_c is not None
    assert read.outside_c is not None
    cold_c = f_to_c(45.0)
    return question.cue("sky") in (None, "clear") and read.outside_c <= cold_c and read.inside_c <= cold_c


def _night_reading(question: Question, world: World, read: Readings) -> Answer:
    """A night's reading inside and outside: what it says of the frame, and keep it."""
    effects, said = night_calibration(question, world, read)
    general = answer_gain(replace(question, slots=replace(question.slots, temp_c=None, temp_f=None)), world)
    return replace(
        general,
        question=question,
        verdict=None,
        headline=said[0] if said else general.headline,
        details=(general.headline, *general.details),
        effects=effects,
    )
