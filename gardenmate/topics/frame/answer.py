"""The cold frame: open or shut it now, how cold tonight, will the crops live, what an opener catches."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request, Temperature
from gardenmate.core.units import f_to_c, show_length_cm
from gardenmate.core.world import World
from gardenmate.records import dataclass, replace
from gardenmate.topics.frame.box import Readings, frame_facts, in_greenhouse, readings, shut_time
from gardenmate.topics.frame.comfort import answer_comfort, answer_floor
from gardenmate.topics.frame.decide_day import decide_day
from gardenmate.topics.frame.decide_keep import about_living_in_a_house, decide_keep
from gardenmate.topics.frame.decide_night import decide_night, has_blanket
from gardenmate.topics.frame.gain import answer_gain, answer_lids, answer_night_reading
from gardenmate.topics.frame.house_from import answer_when, leaves_the_house
from gardenmate.topics.frame.lid import answer_general, answer_opener, answer_shut
from gardenmate.topics.frame.store import answer_siting, answer_store
from gardenmate.topics.frame.words_day import frame_day
from gardenmate.topics.frame.words_keep import frame_keep
from gardenmate.topics.frame.words_night import SNOW_ON_LID, frame_night, snow_comes
from gardenmate.topics.frost.covers import answer_covers
from gardenmate.topics.shared.figures import at_most_shown
from gardenmate.topics.shared.heights import room_under_cover
from gardenmate.topics.shared.protection import frame_asks, frost_span, frost_temp
from gardenmate.topics.shared.raising import Named, gear, named_crops

Aspect = Literal[
    "covers", "lids", "gain", "store", "siting", "floor", "shut-tonight", "shut", "store-tonight", "day-and-night",
    "night", "comfort", "night-reading", "day", "opener", "which-low", "snow", "house-when", "keep", "general",
]  # fmt: skip
_COMFORT_TO_C = f_to_c(
    64.0
)  # design value: a reading up to this, with crops named, asks if it is warm enough
_COLD_C = f_to_c(45.0)  # design value: two readings up to this were taken at night
_SPAN_MOST = {"C": 10.0, "F": 20.0}  # design value: a larger figure beside "how much warmer" is tonight's low
_DAMP_PERCENT = 85.0  # % humidity from which leaves stay wet long enough for grey mould (common practice)
_DAY_OVER_C = 3.0  # design value: a figure nearer to tonight's low is another night
_BUILDING: Mapping[str, Aspect] = {"lids": "lids", "store": "store", "siting": "siting"}


@dataclass(frozen=True, slots=True)
class _Case:
    """What the aspect is chosen by and the rules are given."""

    question: Request
    world: World
    crops: tuple[Named, ...]
    read: Readings


def answer(question: Request, world: World) -> Answer:
    """The answer to a question about a cold frame or an unheated house.

    verdict: open? yes = open; shut? leave it shut? yes = shut; will it survive? yes = survives.
    """
    read = readings(question)
    if frame_asks(question) == "leave-shut":
        read = _by_day(read, world)
    case = _Case(question, world, named_crops(question, world), read)
    found = _with_humidity(_with_height(_RULES[_aspect(case)](case), case), question)
    return at_most_shown(found)


def _with_height(found: Answer, case: _Case) -> Answer:
    """The answer with the room left under the lid over plants of the height typed."""
    if in_greenhouse(case.question):
        return found
    return replace(found, details=(*found.details, *room_under_cover(case.question, case.world, frame=True)))


def _with_humidity(found: Answer, question: Request) -> Answer:
    """The answer with a word on the humidity typed: wet leaves want air once the sun is on them."""
    humidity = question.first("percent", "humidity")
    if humidity is None:
        return found
    damp = humidity.number >= _DAMP_PERCENT
    line = (
        f"Air at {humidity.number:.0f}% keeps leaves wet, and mould grows on wet leaves: open it a crack once the sun "
        "is on it, even on a cold day, and shut it again early."
        if damp
        else f"{humidity.number:.0f}% humidity is no reason to open it: mould needs wet leaves."
    )
    return replace(found, headline=f"{found.headline} {line}")


def lives_in_house(question: Request, world: World) -> Answer | None:
    """Tender plants to go into an unheated house, asked as a question of the season; None when it is not."""
    if not about_living_in_a_house(question, world):
        return None
    crops = named_crops(question, world)
    if question.topic != "when-start":
        return frame_keep(question, world, decide_keep(question, world, crops))
    if leaves_the_house(question) or world.site is None:
        return None
    return answer_when(question, world, world.site, crops)


# -- what is asked ---------------------------------------------------------------------------------------
def _aspect(case: _Case) -> Aspect:
    """What is asked of the frame, the nearest thing first."""
    asked, read = frame_asks(case.question), case.read
    unread = read.outside_c is None and read.inside_c is None
    if asked == "gain" and (held := _gain_aspect(case.question)) is not None:
        return held
    if unread and (building := _BUILDING.get(asked or "")) is not None:
        return building
    if asked == "floor":
        return "floor"
    if asked == "close":
        return "shut-tonight" if read.night and read.outside_c is not None and case.crops else "shut"
    return _unread_aspect(case, asked) if unread else _read_aspect(case, asked)


def _gain_aspect(question: Request) -> Aspect | None:
    """How much warmer: under a cover, by lid, or in general; None when the figure typed is tonight's low."""
    if question.cue("frosting") == "covers":
        return "covers"
    if not _span_or_nothing(question):
        return None
    return "lids" if question.cue("glazing") else "gain"


def _read_aspect(case: _Case, asked: str | None) -> Aspect:
    """A temperature was typed: the night outside, comfort inside, both at night, else the day."""
    read = case.read
    if read.night and read.outside_c is not None and read.inside_c is None:
        by_day: Aspect = "night" if _day_air_c(case.question, read.outside_c) is None else "day-and-night"
        return "store-tonight" if asked == "store" else by_day
    if case.crops and _about_comfort(case.question, read):
        return "comfort"
    return "night-reading" if _both_cold(case.question, read) else "day"


def _unread_aspect(case: _Case, asked: str | None) -> Aspect:
    """No temperature: an opener, the night, snow, living in it, or the rules of the day."""
    question = case.question
    if question.has("snow") or (snow_comes(question) and not case.read.night):
        return "snow"
    if "opener" in gear(question) or asked == "opener":
        return "opener"
    if case.read.night or asked == "blanket" or "heater" in gear(question):
        return "which-low"
    if not case.crops:
        return "general"
    if question.cue("asks_when"):
        placed = case.world.site is not None and not leaves_the_house(question)
        return "house-when" if placed and about_living_in_a_house(question, case.world) else "general"
    return "general" if question.cue("vent") or question.cue("sky") else "keep"


def _day_air_c(question: Request, low_c: float) -> float | None:
    """The air of the day where it is told beside tonight's low: a high, or a warmer figure with no other role."""
    temps = question.ask.temps
    if not any(t.role == "low" for t in temps):
        return None
    told = (Temperature(t.number, t.unit, "high") for t in question.all("day-air"))
    day = [t.celsius for t in (*temps, *told) if t.role in ("high", "outside", None)]
    return max((air_c for air_c in day if air_c > low_c + _DAY_OVER_C), default=None)


def _by_day(read: Readings, world: World) -> Readings:
    """ "Sunny and 50, leave it shut?": the one figure is the day's air, whatever the frame holds now."""
    if read.night or read.inside_c is None or read.outside_c is not None:
        return read
    said = f"{frost_temp(read.inside_c, world.units)} was read as the air outside by day."
    return replace(read, inside_c=None, outside_c=read.inside_c, assumed=(said,))


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
    """True for a night's reading inside and outside."""
    if read.inside_c is None or read.outside_c is None:
        return False
    at_night = read.night or question.cue("sky") is None
    return at_night and read.outside_c <= _COLD_C and read.inside_c <= _COLD_C


# -- the rules -------------------------------------------------------------------------------------------
def _night(case: _Case) -> Answer:
    found = decide_night(case.question, case.world, case.read, case.crops)
    return frame_night(case.question, case.world, found, case.read)


def _day_and_night(case: _Case) -> Answer:
    """The day told beside tonight's low: the lid by day and when to shut it, then what lives through the night."""
    question, world, tonight = case.question, case.world, _night(case)
    assert case.read.outside_c is not None
    air_c = _day_air_c(question, case.read.outside_c)
    day = _day(replace(case, read=Readings(None, air_c, None, night=False)))
    lid = f"{day.headline[:1].lower()}{day.headline[1:]} Shut it {shut_time(question, world)}, while still warm."
    night_line = f"{tonight.headline[:1].lower()}{tonight.headline[1:]}"
    day_first = question.cue("vent") is not None or question.cue("horizon") == "today"
    return replace(
        tonight,
        verdict=day.verdict if question.cue("vent") else tonight.verdict,
        headline=f"By day {lid} Tonight: {night_line}" if day_first else f"{tonight.headline} By day {lid}",
        numbers=(
            *tonight.numbers,
            *(n for n in day.numbers if n.name not in {m.name for m in tonight.numbers}),
        ),
        details=(*day.details, *tonight.details),
        steps=(*day.steps, *tonight.steps),
        cautions=tuple(dict.fromkeys((*day.cautions, *tonight.cautions))),
        assumptions=tuple(dict.fromkeys((*day.assumptions, *tonight.assumptions))),
        sources=tuple(dict.fromkeys((*day.sources, *tonight.sources))),
        working=(*day.working, *tonight.working),
    )


def _store_tonight(case: _Case) -> Answer:
    """Jugs on a cold night: the night first, and what the jugs add."""
    tonight = _night(case)
    return replace(tonight, details=(answer_store(case.question, case.world).headline, *tonight.details))


def _shut(case: _Case) -> Answer:
    return answer_shut(case.question, case.world, case.read, case.crops)


def _shut_tonight(case: _Case) -> Answer:
    """Shut it, and what the crops named meet once it is shut."""
    shut, tonight = _shut(case), _night(case)
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
        key_figures=tonight.key_figures,
    )


def _day(case: _Case) -> Answer:
    found = decide_day(case.question, case.world, case.read, case.crops)
    return frame_day(case.question, case.world, found, case.read, case.crops)


def _snow(case: _Case) -> Answer:
    """Snow on the way and no temperature: shut, brushed off, opened again by the thermometer."""
    general, lying = _general(case), case.question.first("snow", "lying")
    deep = (
        "" if lying is None or not lying.number else f"{show_length_cm(lying.number, case.world.units)} of "
    )
    headline = (
        "Shut the frame before the snow comes and keep it shut while it snows; brush wet snow off "
        "the lid, and open again by the thermometer inside once the sun is back."
        if lying is None
        else f"Brush the snow off: {deep}snow on the lid shuts out the light. Leave dry snow lying only through a few "
        "days of hard frost."
    )
    return replace(
        general,
        headline=headline,
        details=(
            SNOW_ON_LID,
            *general.details,
        ),
        changes=("Type the low for that night and what is in it, and I can say whether it survives.",),
    )


def _house_when(case: _Case) -> Answer:
    assert case.world.site is not None
    found = answer_when(case.question, case.world, case.world.site, case.crops)
    return found if found is not None else _general(case)


def _keep(case: _Case) -> Answer:
    return frame_keep(case.question, case.world, decide_keep(case.question, case.world, case.crops))


def _general(case: _Case) -> Answer:
    return answer_general(case.question, case.world, case.crops)


def _which_low(case: _Case) -> Answer:
    """About the night, but no temperature: what it holds in general, and the figure that is needed."""
    general = answer_gain(case.question, case.world)
    told = general.headline
    if has_blanket(case.question):
        frame, units = frame_facts(case.question, case.world), case.world.units
        plain, warm = (frost_span(frame.night_rise_c(blanket=on), units) for on in (False, True))
        told = f"Shut, a frame stays about {plain} warmer than outside, with a dry blanket on the lid {warm}."
    return replace(
        general,
        headline=f"What low is forecast? {told}",
        changes=(
            "Type tonight's low, and what is in it ('lettuce in the frame, 22 tonight').",
            *general.changes,
        ),
    )


_RULES: Mapping[Aspect, Callable[[_Case], Answer]] = {
    "covers": lambda case: answer_covers(case.question, case.world),
    "lids": lambda case: answer_lids(case.question, case.world),
    "gain": lambda case: answer_gain(case.question, case.world),
    "store": lambda case: answer_store(case.question, case.world),
    "siting": lambda case: answer_siting(case.question, case.world),
    "floor": lambda case: answer_floor(case.question, case.world, case.crops),
    "shut-tonight": _shut_tonight,
    "shut": _shut,
    "store-tonight": _store_tonight,
    "day-and-night": _day_and_night,
    "night": _night,
    "comfort": lambda case: answer_comfort(case.question, case.world, case.read, case.crops),
    "night-reading": lambda case: answer_night_reading(case.question, case.world, case.read),
    "day": _day,
    "opener": lambda case: answer_opener(case.question, case.world, case.crops),
    "which-low": _which_low,
    "snow": _snow,
    "house-when": _house_when,
    "keep": _keep,
    "general": _general,
}
