"""The log: keeps what was done or decided in the grower's words, and gives it back.

Recording, taking back and correcting are effects; the sentence shown speaks of them as done, because they
are carried out before the answer is shown.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from gardenmate.core.answer import Answer
from gardenmate.core.effects import LogDecision, RedoDecision, UndoDecision
from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.language.values.deeds import (
    NOTE,
    asking_part,
    deed_in,
    is_told_to_log,
    own_words,
    without_its_day,
)
from gardenmate.topics.log.after import done, skip
from gardenmate.topics.log.asked import action_of, entry_number, steps_in
from gardenmate.topics.log.correct import correct, wrong
from gardenmate.topics.log.day import day_told, impossible_day
from gardenmate.topics.log.listing import listing, short, shown_day, told
from gardenmate.topics.log.said import RESTS_ON_PREVIOUS, detail_of, numbers_of, plain, told_deed
from gardenmate.topics.shared.plant_names import plant_names

_SHORT = 90


def answer(question: Request, world: World) -> Answer:
    """Record, list, take back, put back, correct or export."""
    do: dict[str, Callable[[Request, World], Answer]] = {
        "record": _record,
        "done": done,
        "skip": skip,
        "list": listing,
        "undo": _undo,
        "redo": _redo,
        "correct": correct,
        "wrong": wrong,
        "export": _export,
    }
    return do[action_of(question)](question, world)


# -- recording ----------------------------------------------------------------------------------------
def _record(question: Request, world: World) -> Answer:
    words = own_words(question.text)
    if not re.search(r"\w", words):
        return plain(
            question,
            "What shall I note? Tell it with the entry, for example 'note that I sowed 48 peppers today'.",
        )
    wrong = impossible_day(question.text)
    if wrong is not None and question.slots.date is None:
        return plain(
            question,
            f"There is no {wrong}, so I have noted nothing: which day was it? Tell it again with the day.",
        )
    deed = deed_in(words, world.facts)
    garden = _garden_fact(question, world) if deed is None else None
    if garden is not None:
        return garden
    if question.slots.date is not None:
        words = without_its_day(words)
    day = day_told(question, world.today) or world.today
    planned = day > world.today
    effect = LogDecision(
        action="plan" if planned else (deed.id if deed else NOTE),
        text=words,
        on=day,
        crops=tuple(ref.id for ref in question.crops),
        count=question.slots.count,
        detail=detail_of(question) | ({"of": deed.id} if planned and deed else {}) | _basis(question, world),
    )
    if len(words) <= _SHORT:
        headline = f"Noted: {words}, {shown_day(day)}."
        details: tuple[str, ...] = ()
    else:
        headline = f"Noted: {_in_short(question, effect, world)}, {shown_day(day)}."
        details = (f"In your words: {words}",)
    if planned:
        details = (*details, "The day is still to come, so it is kept as a plan, not as done.")
    return Answer(
        question=question,
        verdict=None,
        headline=headline,
        numbers=numbers_of(effect),
        details=details,
        effects=(effect,),
    )


_EVERYTHING = Pattern(r"\b(?:everything|all of (?:it|them)|all (?:the |my )?(?:entries|notes)|whole log)\b")
_OWN_FROST = Pattern(r"\b(?:my|our)\s+(?:\w+\s+)?(?:last|first)\s+(?:\w+\s+)?(?:frost|freeze)\b")
_ONCE = Pattern(r"\b(?:this year|last year|last night|yesterday|today|was|came|hit)\b")


def _garden_fact(question: Request, world: World) -> Answer | None:
    """The garden's answer to what is no entry of a diary but a fact about the garden: "put my last frost down
    as May 24", "sold the mat"."""
    from gardenmate.topics.garden import answer as garden_facts

    text = asking_part(question.text)
    frost = _OWN_FROST.search(text) is not None and question.slots.date is not None and not _ONCE.search(text)
    if not frost and (question.crops or is_told_to_log(question.text)):
        return None
    reply = garden_facts.answer(question, world)
    return reply if reply.effects else None


def _basis(question: Request, world: World) -> dict[str, str]:
    """Ties the entry to the answer before it when that spoke of the same crop."""
    previous = world.previous
    if previous is None or previous.question.topic in ("log", "garden"):
        return {}
    asked = {ref.id for ref in previous.question.crops}
    return RESTS_ON_PREVIOUS if asked & {ref.id for ref in question.crops} else {}


def _in_short(question: Request, effect: LogDecision, world: World) -> str:
    deed = deed_in(effect.text, world.facts)
    if deed is not None and question.crops:
        return told_deed(deed.done, effect.count, question.crops, world)
    return effect.text[: _SHORT - 20].rsplit(" ", 1)[0] + " ..."


# -- taking back and putting back ---------------------------------------------------------------------
def _undo(question: Request, world: World) -> Answer:
    if _EVERYTHING.search(asking_part(question.text)) and not question.crops:
        return plain(
            question,
            "I do not take back everything at once: one slip would lose the season. Name the entry or the "
            "crop, such as 'delete entry 12', or say 'undo' for the latest.",
        )
    if _meant_for_the_garden(question, world):
        return plain(
            question,
            "That was kept in your garden, not in the log, so I took nothing back: tell me the right value, "
            "or say 'forget my last frost', 'I have no mat' and the like.",
        )
    if world.journal is None:
        return plain(question, "Took back the latest entry.", effects=(UndoDecision(),))
    number = entry_number(question)
    if number is not None or (question.crops and not _is_latest(question)):
        return _delete(question, world, number)
    found = world.journal.would_undo(steps_in(question))
    if not found:
        return plain(question, "There is nothing in the log to take back.")
    said = []
    for step in found:
        if step.after is None:
            said.append(f"took back '{short(step.before.text)}' of {shown_day(step.before.on)}")
        else:
            said.append(f"the entry reads '{short(step.after.text)}' of {shown_day(step.after.on)} again")
    headline = "; ".join(said)
    return plain(
        question,
        f"{headline[:1].upper()}{headline[1:]}.",
        details=("'Redo' puts it back.",),
        effects=tuple(UndoDecision() for _ in found),
    )


def _meant_for_the_garden(question: Request, world: World) -> bool:
    """True for a bare "undo" right after something was told of the garden."""
    previous = world.previous
    told_garden = previous is not None and previous.question.topic == "garden" and bool(previous.effects)
    return told_garden and not re.search(
        r"\b(?:log|note|notes|entry|entries|record)\b", question.text.lower()
    )


def _is_latest(question: Request) -> bool:
    """True when the crop only comes from the conversation ("scrap that") or the latest is asked for."""
    text = question.text.lower()
    return (
        "last" in text
        or "that" in text.split()
        or not any(ref.typed and ref.typed.lower() in text for ref in question.crops)
    )


def _delete(question: Request, world: World, number: int | None) -> Answer:
    """Take back one entry by its number, or the only one about a crop; several are listed to choose from."""
    assert world.journal is not None
    if number is not None:
        entry = world.journal.entry(number)
        found = [] if entry is None else [entry]
        about = f"number {number}"
    else:
        found = list(dict.fromkeys(d for ref in question.crops for d in world.journal.search(crop=ref.id)))
        about = f"about {plant_names(question.crops, world.facts)}"
    if not found:
        return plain(question, f"There is no entry {about}.")
    if len(found) > 1:
        choices = tuple(f"delete entry {d.id} ({told(d)})" for d in found[:5])
        return plain(question, f"There are {len(found)} entries {about}; which one?", asks=choices)
    gone = found[0]
    return plain(
        question,
        f"Took back '{short(gone.text)}' of {shown_day(gone.on)}.",
        details=("'Redo' puts it back.",),
        effects=(UndoDecision(gone.id),),
    )


def _redo(question: Request, world: World) -> Answer:
    if world.journal is None:
        return plain(question, "Put back what was taken back last.", effects=(RedoDecision(),))
    back = world.journal.would_redo()
    if back is None:
        return plain(question, "Nothing has been taken back, so there is nothing to put back.")
    return plain(question, f"Put back: {told(back)}.", effects=(RedoDecision(),))


# -- the rest -----------------------------------------------------------------------------------------
_FORMATS = (
    ("spreadsheet", "csv"), ("csv", "csv"), ("excel", "csv"), ("calendar", "ics"), ("ics", "ics"),
    ("json", "json"), ("markdown", "md"),
)  # fmt: skip


def _export(question: Request, world: World) -> Answer:
    """Files are written by the command line; say how."""
    text = question.text.lower()
    form = next((form for word, form in _FORMATS if word in text), "md")
    crop = f" --crop {question.crops[0].id}" if question.crops else ""
    return plain(
        question,
        f"The log is written to a file with: gardenmate log{crop} --format {form} --out garden-log.{form}",
        details=("Formats: md (to read), csv (spreadsheet), ics (calendar), json (to import again).",),
    )
