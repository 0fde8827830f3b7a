"""Frost: will they live tonight, covers, blossom, winter cold, the usual dates, and the morning after."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from gardenmate.core.answer import Answer
from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.records import dataclass, replace
from gardenmate.topics.frost.after import answer_after, answer_woody_after
from gardenmate.topics.frost.also_said import with_also_said
from gardenmate.topics.frost.buds import has_table, phase_of
from gardenmate.topics.frost.covers import answer_covers
from gardenmate.topics.frost.dates import answer_dates
from gardenmate.topics.frost.decide import asked_of, decide, turned
from gardenmate.topics.frost.groups import answer_ask_for_low, answer_garden, own_crops
from gardenmate.topics.frost.limits import answer_limits
from gardenmate.topics.frost.mulch import answer_mulch, mulched
from gardenmate.topics.frost.night import Night, night, night_at, without_misreading
from gardenmate.topics.frost.one_night import answer_one_night, answer_usual_night
from gardenmate.topics.frost.outside import with_plants_outside
from gardenmate.topics.frost.pick import pick_before
from gardenmate.topics.frost.sown import about_seed_in_the_ground, answer_sown
from gardenmate.topics.frost.winter import answer_winter, is_evergreen
from gardenmate.topics.frost.words import crop_night
from gardenmate.topics.frost.words_bloom import answer_bloom, answer_no_table
from gardenmate.topics.garden.compare import season_asked
from gardenmate.topics.shared.protection import cover_of, frost_asks
from gardenmate.topics.shared.raising import Named, named_crops

Aspect = Literal[
    "mulch", "sown", "after-woody", "after", "dates", "covers", "woody", "pick", "crops", "usual-night", "limits",
    "garden", "one-night", "own", "no-place", "ask-low",
]  # fmt: skip
_LIGHT_FROST_C = 0.0  # design value: taken for "frost is coming" without a figure
_DEEP_C = f_to_c(15.0)  # design value: under this it is winter cold, no spring frost
_IN_LEAF = ("after_harvest", "leaf_fall")


@dataclass(frozen=True, slots=True)
class _Case:
    """What the aspect is chosen by and the rules are given."""

    question: Request
    world: World
    crops: tuple[Named, ...]
    woody: tuple[CropRef, ...]
    tonight: Night | None

    @property
    def placed(self) -> bool:
        """True when a place or a region is known."""
        return self.world.site is not None or bool(self.world.sites)


def answer(question: Request, world: World) -> Answer:
    """The answer to a frost question. verdict: yes = fine as it is, tight = cover or borderline, no = not
    without bringing in or a stronger cover; asked whether a cover is needed, yes = needed and no = no need.
    Raises NeedPlaceError only when dates are asked and no place is known."""
    question = without_misreading(question)
    if night(question, world) is not None and frost_asks(question) not in ("dates", "odds", "covers"):
        question = with_plants_outside(question, world)
    woody = tuple(ref for ref in question.crops if world.facts.crop_for(ref) is None)
    case = _Case(question, world, named_crops(question, world), woody, night(question, world))
    aspect = _aspect(case)
    found = _RULES[aspect](case)
    return (
        found
        if aspect == "mulch"
        else with_also_said(found, question, world, case.crops, past=aspect == "after")
    )


def _aspect(case: _Case) -> Aspect:
    """What is asked about frost, the nearest thing first."""
    asked = frost_asks(case.question)
    if mulched(case.question, case.crops):
        return "mulch"
    if case.crops and not case.woody and asked != "covers" and about_seed_in_the_ground(case.question):
        return "sown"
    if _is_over(case, asked):
        return "after-woody" if case.woody and not case.crops else "after"
    if asked == "odds" and not _has_more(case) and _about_tonight(case.question):
        return "one-night"
    if case.tonight is None and (asked == "covers" or _about_a_cover(case.question)):
        return "covers"
    if not case.woody and _about_dates(case, asked):
        return "dates"
    if case.crops:
        return _crops_aspect(case)
    if case.woody:
        return "woody"
    return "garden" if case.tonight is not None else _bare_aspect(case)


def _about_a_cover(question: Request) -> bool:
    """A cover is named, and what it keeps is asked."""
    return question.has("asks", "cover-gain") and cover_of(question) is not None


def _has_more(case: _Case) -> bool:
    """A crop, a low or no single place: then the odds of one ordinary night are not what is asked."""
    return bool(case.crops or case.woody) or case.tonight is not None or case.world.site is None


def _is_over(case: _Case, asked: str | None) -> bool:
    """The frost has been: said so, or plants it hurt or a day gone by and no temperature."""
    day = case.question.ask.date
    told = not asked and bool(case.crops or case.woody) and case.tonight is None
    hurt = case.question.cue("freeze_hurt") is not None or (day is not None and day < case.world.today)
    return asked in ("aftermath", "others") or (told and hurt)


def _about_dates(case: _Case, asked: str | None) -> bool:
    """The usual dates or the odds; "first frost tonight, 30, what do I do" is about the night, not the date."""
    question, tonight = case.question, case.tonight
    wants_when = question.cue("asks_when") is not None
    this_night = (
        asked == "dates"
        and tonight is not None
        and question.ask.when in ("tonight", "today")
        and not wants_when
    )
    kind_and_when = tonight is None and wants_when and question.cue("freeze") is not None
    return (asked in ("odds", "dates") and not this_night) or kind_and_when


def _crops_aspect(case: _Case) -> Aspect:
    """Crops are named: pick them, this night, a date, an ordinary night now, or their limits."""
    question = case.question
    if asked_of(question) == "pick" and question.ask.date is None:
        return "pick"
    if case.tonight is not None:
        return "crops"
    if question.ask.date is not None and case.placed:
        return "dates"
    usual = case.world.site is not None and _about_tonight(question)
    return "usual-night" if usual else "limits"


def _bare_aspect(case: _Case) -> Aspect:
    """No crop, no temperature: the odds when the place is known, else what each group survives."""
    if case.placed:
        usual = case.world.site is not None and _about_tonight(case.question)
        return "one-night" if usual else "dates"
    if own_crops(case.world):
        return "own"
    return "no-place" if case.question.ask.date is not None else "ask-low"


def _about_tonight(question: Request) -> bool:
    """Tonight is asked about, no other day, and no kind of frost is named."""
    tonight = question.ask.when in ("tonight", "today") or question.cue("asks") == "tonight"
    return tonight and question.ask.date is None and question.cue("freeze") is None


# -- the rules -------------------------------------------------------------------------------------------
def _crops(case: _Case) -> Answer:
    question, world = case.question, case.world
    main = crop_night(question, world, decide(question, world, case.crops))
    return _beside(main, _woody(case)) if case.woody else main


def _pick(case: _Case) -> Answer:
    taken = None if case.tonight is not None else night_at(_LIGHT_FROST_C, case.question, case.world)
    return pick_before(case.question, case.world, decide(case.question, case.world, case.crops, taken))


def _usual_night(case: _Case) -> Answer:
    usual = answer_usual_night(case.question, case.world, case.crops)
    return usual if usual is not None else _limits(case)


def _limits(case: _Case) -> Answer:
    main = answer_limits(case.question, case.world, case.crops)
    return _beside(main, _woody(case)) if case.woody else main


def _garden(case: _Case) -> Answer:
    assert case.tonight is not None
    found = answer_garden(case.question, case.world, case.tonight)
    need = asked_of(case.question) in ("cover", "bring-in")
    return replace(found, verdict=turned(found.verdict)) if need else found


def _woody(case: _Case) -> Answer:
    """Blossom when a stage is said or the night is a spring frost; winter hardiness when it is dormant."""
    question, world, woody, tonight = case.question, case.world, case.woody, case.tonight
    phase = phase_of(question)
    dormant = phase == "dormant" or phase in _IN_LEAF or question.cue("freeze") == "winter"
    with_table = any(has_table(ref, world.facts) for ref in woody)
    deep = tonight is not None and tonight.low_c < _DEEP_C
    if with_table and not dormant and not (phase is None and deep):
        found = answer_bloom(question, world, woody, tonight)
    elif phase is not None and not dormant and not any(is_evergreen(ref, world) for ref in woody):
        found = answer_no_table(question, world, woody, tonight)
    else:
        found = answer_winter(question, world, woody, tonight)
    need = asked_of(question) in ("cover", "bring-in")
    return replace(found, verdict=turned(found.verdict)) if need else found


def _dates(case: _Case) -> Answer:
    season = season_asked(case.question, case.world)
    if season is not None:
        return season
    found = answer_dates(case.question, case.world, case.crops)
    if case.crops or frost_asks(case.question) in ("odds", "dates"):
        return found
    return replace(found, changes=("Type tonight's low, and what you grow, for an answer about tonight.",))


def _own(case: _Case) -> Answer:
    found = answer_limits(case.question, case.world, own_crops(case.world))
    return replace(found, changes=("Type tonight's low for an answer about tonight.",))


def _no_place(case: _Case) -> Answer:
    raise NeedPlaceError("The odds of frost differ from place to place: I need to know where the garden is.")


_RULES: Mapping[Aspect, Callable[[_Case], Answer]] = {
    "mulch": lambda case: answer_mulch(case.question, case.world, case.crops, case.tonight),
    "sown": lambda case: answer_sown(case.question, case.world, case.crops),
    "after-woody": lambda case: answer_woody_after(case.question, case.world, case.tonight),
    "after": lambda case: answer_after(case.question, case.world, case.crops, case.tonight),
    "dates": _dates,
    "covers": lambda case: answer_covers(case.question, case.world),
    "woody": _woody,
    "pick": _pick,
    "crops": _crops,
    "usual-night": _usual_night,
    "limits": _limits,
    "garden": _garden,
    "one-night": lambda case: answer_one_night(case.question, case.world),
    "own": _own,
    "no-place": _no_place,
    "ask-low": lambda case: answer_ask_for_low(case.question, case.world),
}


def _beside(main: Answer, other: Answer) -> Answer:
    """One answer for vegetables and fruit named together."""
    return replace(
        main,
        verdict=main.verdict if main.verdict == other.verdict else None,
        headline=f"{main.headline} {other.headline}",
        numbers=(*main.numbers, *(n for n in other.numbers if not n.name.startswith("low"))),
        details=(*main.details, *other.details),
        sources=tuple(dict.fromkeys((*main.sources, *other.sources))),
        working=(*main.working, *other.working),
    )
