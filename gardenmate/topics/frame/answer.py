"""The cold frame: open or shut it now, how cold tonight, will the crops live, what an opener catches."""

from __future__ import annotations

from dataclasses import replace

from gardenmate.core.answer import Answer, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.topics.frame.box import Readings, frame_facts, readings
from gardenmate.topics.frame.comfort import answer_comfort
from gardenmate.topics.frame.day import answer_day
from gardenmate.topics.frame.gain import answer_gain, answer_lids, night_calibration
from gardenmate.topics.frame.keep import (
    about_living_in_a_house,
    answer_floor,
    answer_keep,
    answer_siting,
    answer_store,
)
from gardenmate.topics.frame.lid import answer_general, answer_opener, answer_shut
from gardenmate.topics.frame.night import answer_night, has_blanket
from gardenmate.topics.frost.covers import answer_covers
from gardenmate.topics.shared.figures import at_most_shown
from gardenmate.topics.shared.protection import frame_asks, frost_span, frost_temp
from gardenmate.topics.shared.raising import gear, named_crops

_COMFORT_TO_C = f_to_c(64.0)  # a reading up to this with crops named asks whether they are warm enough


_LEAVE_SHUT: dict[Verdict, Verdict] = {"yes": "no", "no": "yes", "tight": "tight"}


def answer(question: Request, world: World) -> Answer:
    """The answer to a question about a cold frame or an unheated house.

    verdict: open? yes = open; shut? leave it shut? yes = shut; will it survive? yes = survives.
    """
    found = at_most_shown(_answer(question, world))
    if frame_asks(question) != "leave-shut" or found.verdict is None or not _about_opening(found):
        return found
    verdict = _LEAVE_SHUT[found.verdict]
    rest = f"{found.headline[:1].lower()}{found.headline[1:]}"
    if verdict == "no" and _has_opener(question, world):
        return replace(found, verdict="tight", headline=f"Only with the opener tested and fitted: {rest}")
    headline = f"No, {rest}" if verdict == "no" else found.headline
    return replace(found, verdict=verdict, headline=headline)


def _has_opener(question: Request, world: World) -> bool:
    return world.garden.frame.opener or "opener" in gear(question)


def _about_opening(found: Answer) -> bool:
    return any(number.name.startswith("open_at_") for number in found.numbers)


def lives_in_house(question: Request, world: World) -> Answer | None:
    """Tender plants to go into an unheated house, asked as a question of the season; None when it is not."""
    if not about_living_in_a_house(question, world):
        return None
    asked, crops = replace(question, topic="cold-frame"), named_crops(question, world)
    if question.topic == "when-start":
        from gardenmate.topics.frame.house_from import answer_when, leaves_the_house

        if leaves_the_house(question) or world.site is None:
            return None
        return answer_when(question, world, world.site, crops)
    return answer_keep(asked, world, crops)


def _answer(question: Request, world: World) -> Answer:
    asked = frame_asks(question)
    crops = named_crops(question, world)
    read = readings(question)
    if asked == "leave-shut":
        read = _by_day(read, world)
    if asked == "gain" and question.cue("frosting") == "covers":
        return answer_covers(question, world)
    if asked == "gain" and _span_or_nothing(question):
        return answer_lids(question, world) if question.cue("glazing") else answer_gain(question, world)
    if asked in _BUILDING and read.outside_c is None and read.inside_c is None:
        return _BUILDING[asked](question, world)
    if asked == "floor":
        return answer_floor(question, world, crops)
    if asked == "close":
        shut = answer_shut(question, world, read, crops)
        if not (read.night and read.outside_c is not None and crops):
            return shut
        return _with_the_night(shut, answer_night(question, world, read, crops))
    if read.night and read.outside_c is not None and read.inside_c is None:
        tonight = answer_night(question, world, read, crops)
        if asked != "store":
            return tonight
        told = answer_store(question, world).headline
        return replace(tonight, details=(told, *tonight.details))
    if _about_comfort(question, read) and crops:
        return answer_comfort(question, world, read, crops)
    if read.inside_c is not None and read.outside_c is not None and _both_cold(question, read):
        return _night_reading(question, world, read)
    if read.inside_c is not None or read.outside_c is not None:
        return answer_day(question, world, read, crops)
    if "opener" in gear(question) or asked == "opener":
        return answer_opener(question, world, crops)
    if read.night or asked == "blanket" or "heater" in gear(question):
        return _ask_for_low(question, world)
    if question.cue("weather") == "snow" or question.has("weather", "snow"):
        return _before_snow(answer_general(question, world, crops))
    if crops and question.cue("asks_when") and question.ask.temperature_c is None:
        housed = lives_in_house(replace(question, topic="when-start"), world)
        if housed is not None:
            return replace(housed, question=question)
    if crops and not any(question.cue(name) for name in ("vent", "sky", "asks_when")):
        return answer_keep(question, world, crops)
    return answer_general(question, world, crops)


def _before_snow(general: Answer) -> Answer:
    """Snow on the way and no temperature: shut, brushed off, opened again by the thermometer."""
    return replace(
        general,
        headline="Shut the frame before the snow comes and keep it shut while it snows; brush wet snow off "
        "the lid, and open again by the thermometer inside once the sun is back.",
        details=(
            "Dry snow left lying keeps the cold out for a few days; wet snow is heavy enough to break glass.",
            *general.details,
        ),
        changes=("Type the low for that night and what stands in it, and I can say whether it lives.",),
    )


def _with_the_night(shut: Answer, tonight: Answer) -> Answer:
    """Shut it, and what the crops named meet once it is shut."""
    return replace(
        shut,
        headline=f"{shut.headline} {tonight.headline}",
        numbers=(*tonight.numbers, *shut.numbers),
        details=(*tonight.details, *shut.details),
        table=tonight.table,
        steps=tonight.steps,
        changes=tonight.changes,
        cautions=tuple(dict.fromkeys((*shut.cautions, *tonight.cautions))),
        assumptions=tuple(dict.fromkeys((*shut.assumptions, *tonight.assumptions))),
        sources=tuple(dict.fromkeys((*shut.sources, *tonight.sources))),
        working=tonight.working,
    )


def _by_day(read: Readings, world: World) -> Readings:
    """ "Sunny and 50, leave it shut?": the one figure is the day's air, whatever the frame holds now."""
    if read.night or read.inside_c is None or read.outside_c is not None:
        return read
    said = f"{frost_temp(read.inside_c, world.units)} was read as the air outside by day."
    return replace(read, inside_c=None, outside_c=read.inside_c, assumed=(said,))


_BUILDING = {"lids": answer_lids, "store": answer_store, "siting": answer_siting}
_SPAN_MOST = {"C": 10.0, "F": 20.0}  # a larger figure beside "how much warmer" is tonight's low


def _span_or_nothing(question: Request) -> bool:
    """True when no temperature was typed, or one small enough to be a difference of temperatures."""
    ask = question.ask
    if ask.temperature_c is None:
        return not ask.temps
    value, unit = (ask.temp_c, "C") if ask.temp_c is not None else (ask.temp_f, "F")
    return value is not None and 0.0 < value <= _SPAN_MOST[unit] and ask.when != "tonight"


def _about_comfort(question: Request, read: Readings) -> bool:
    """True when a mild or cold reading inside is asked about, not whether to open."""
    if read.inside_c is None:
        return False
    mild = read.inside_c <= _COMFORT_TO_C and question.cue("sky") is None
    return mild or frame_asks(question) == "warm-enough"


def _both_cold(question: Request, read: Readings) -> bool:
    assert read.inside_c is not None
    assert read.outside_c is not None
    cold_c = f_to_c(45.0)
    at_night = read.night or question.cue("sky") is None
    return at_night and read.outside_c <= cold_c and read.inside_c <= cold_c


def _night_reading(question: Request, world: World, read: Readings) -> Answer:
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


def _ask_for_low(question: Request, world: World) -> Answer:
    """About the night, but no temperature: what it holds in general, and the figure that is needed."""
    general = answer_gain(question, world)
    told = general.headline
    if has_blanket(question):
        frame = frame_facts(question, world)
        plain_c, warm_c = frame.night_rise_c(), frame.night_rise_c(blanket=True)
        units = world.units
        told = (
            f"Shut, a frame stays about {frost_span(plain_c, units)} warmer than outside, with a dry blanket "
            "on the lid "
            f"{frost_span(warm_c, units)}."
        )
    return replace(
        general,
        headline=f"What low is forecast? {told}",
        changes=(
            "Type tonight's low, and what stands in it ('lettuce in the frame, 22 tonight').",
            *general.changes,
        ),
    )
