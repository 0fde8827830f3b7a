""" "Did it" and "skip that": entries that rest on the answer before."""

from __future__ import annotations

from dataclasses import dataclass

from gardenmate.core.answer import Answer
from gardenmate.core.effects import LogDecision
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.knowledge.facts import Facts
from gardenmate.language.values.deeds import NOTE, deed_in, deed_named, deed_of_topic
from gardenmate.topics.log.listing import shown_day
from gardenmate.topics.log.said import RESTS_ON_PREVIOUS, detail_of, numbers_of, plain, told_deed
from gardenmate.topics.shared.plant_names import plant_names

_WHERE = ("indoors", "outdoors")


@dataclass(frozen=True, slots=True)
class _Advised:
    """What the answer before spoke of doing: the deed (None: it cannot be told), to which crops, where."""

    deed: str | None
    crops: tuple[CropRef, ...]
    where: str | None


def done(question: Request, world: World) -> Answer:
    """ "Did it", "yes, log that": what the answer before advised has been done."""
    previous = world.previous
    if previous is None or previous.question.topic in ("log", "garden"):
        return plain(
            question,
            "I do not know what was done. Say it, for example 'note that I sowed 48 peppers today'.",
        )
    earlier = previous.question
    advised = _advised(question, previous, world.facts)
    count = question.slots.count if question.slots.count is not None else earlier.ask.count
    if advised.deed is None:
        text = f"done: {previous.steps[0] if previous.steps else previous.headline}"
    else:
        text = told_deed(deed_named(advised.deed, world.facts).done, count, advised.crops, world)
        if advised.deed == "sow" and advised.where is not None:
            text = f"{text} {advised.where}"
    day = question.slots.date or world.today
    effect = LogDecision(
        action=advised.deed or NOTE,
        text=text,
        on=day,
        crops=tuple(ref.id for ref in advised.crops),
        count=count,
        detail=detail_of(question) | RESTS_ON_PREVIOUS,
    )
    return Answer(
        question=question,
        verdict=None,
        headline=f"Noted: {text}, {shown_day(day)}.",
        numbers=numbers_of(effect),
        details=(f"It rests on the answer before: {previous.headline}",),
        effects=(effect,),
    )


def skip(question: Request, world: World) -> Answer:
    """ "Skip that": decided against what the answer before spoke of."""
    previous = world.previous
    advised = _Advised(None, question.crops, None)
    if previous is not None:
        advised = _advised(question, previous, world.facts)
    elif not question.crops:
        return plain(question, "Skip what? Name it, for example 'skip the celery this year'.")
    names = plant_names(advised.crops, world.facts)
    what = names or (previous.question.text.strip() if previous is not None else "")
    text = f"decided to skip {what}"
    effect = LogDecision(
        action="skip",
        text=text,
        on=question.slots.date or world.today,
        crops=tuple(ref.id for ref in advised.crops),
        detail=({"of": advised.deed} if advised.deed else {}) | (RESTS_ON_PREVIOUS if previous else {}),
    )
    return Answer(
        question=question,
        verdict=None,
        headline=f"Noted: {text}, {shown_day(effect.on)}.",
        numbers=numbers_of(effect),
        effects=(effect,),
    )


def _advised(question: Request, previous: Answer, facts: Facts) -> _Advised:
    earlier = previous.question
    if earlier.topic == "agenda":
        return _first_job(question, previous, facts)
    deed = deed_of_topic(earlier.topic, earlier.ask.method, earlier.cue("asks"), facts)
    method = earlier.ask.method
    return _Advised(deed, question.crops or earlier.crops, method if method in _WHERE else None)


def _first_job(question: Request, previous: Answer, facts: Facts) -> _Advised:
    """The job of the week's list that was done: the first, or the first about the crop named now."""
    named = {ref.id for ref in question.crops}
    for number in previous.numbers:
        if number.name == "best_by" and (not named or number.crop in named):
            deed = deed_in(number.label, facts)
            crops = tuple(ref for ref in question.crops if ref.id == number.crop)
            if number.crop and not crops:
                crops = (CropRef(number.crop),)
            where = next((word for word in _WHERE if word in number.label), None)
            return _Advised(deed.id if deed else None, crops, where)
    return _Advised(None, question.crops, None)
