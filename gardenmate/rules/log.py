"""The log: keeps what was done or decided in the grower's words, and gives it back.

Recording, taking back and correcting are effects; the sentence shown speaks of them as done, because they
are carried out before the answer is shown.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import date

from gardenmate.answer import Answer, Number
from gardenmate.effects import CorrectDecision, LogDecision, RedoDecision, UndoDecision
from gardenmate.knowledge.facts import Facts
from gardenmate.question import CropRef, Question
from gardenmate.rules.log_asked import action_of, entry_number, steps_in
from gardenmate.rules.log_list import listing, short, shown_day, told
from gardenmate.rules.log_words import NOTE, deed_in, deed_named, deed_of_topic, own_words, without_its_day
from gardenmate.rules.plant_names import names_of, plant_name, plant_names
from gardenmate.world import Decision, World

_SHORT = 90
_RESTS_ON_PREVIOUS = {"rests_on": "previous"}


def answer(question: Question, world: World) -> Answer:
    """Record, list, take back, put back, correct or export."""
    do: dict[str, Callable[[Question, World], Answer]] = {
        "record": _record,
        "done": _done,
        "skip": _skip,
        "list": listing,
        "undo": _undo,
        "redo": _redo,
        "correct": _correct,
        "export": _export,
    }
    return do[action_of(question)](question, world)


# -- recording ----------------------------------------------------------------------------------------
def _record(question: Question, world: World) -> Answer:
    words = own_words(question.text)
    if not re.search(r"\w", words):
        return _plain(
            question,
            "What shall I note? Tell it with the entry, for example 'note that I sowed 48 peppers today'.",
        )
    deed = deed_in(words, world.facts)
    if question.slots.date is not None:
        words = without_its_day(words)
    day = question.slots.date or world.today
    planned = day > world.today
    effect = LogDecision(
        action="plan" if planned else (deed.id if deed else NOTE),
        text=words,
        on=day,
        crops=tuple(ref.id for ref in question.crops),
        count=question.slots.count,
        detail=_detail(question) | ({"of": deed.id} if planned and deed else {}) | _basis(question, world),
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
        numbers=_numbers(effect),
        details=details,
        effects=(effect,),
    )


def _done(question: Question, world: World) -> Answer:
    """ "Did it", "yes, log that": what the answer before advised has been done."""
    previous = world.previous
    if previous is None or previous.question.topic == "log":
        return _plain(
            question,
            "I do not know what was done. Say it, for example 'note that I sowed 48 peppers today'.",
        )
    earlier = previous.question
    deed_id = deed_of_topic(earlier.topic, earlier.ask.method, earlier.cue("asks"), world.facts)
    crops = question.crops or earlier.crops
    count = question.slots.count if question.slots.count is not None else earlier.ask.count
    if deed_id is None:
        text = f"done: {previous.steps[0] if previous.steps else previous.headline}"
        action = NOTE
    else:
        action = deed_id
        text = _told(deed_named(deed_id, world.facts).done, count, crops, world)
        method = earlier.ask.method
        if deed_id == "sow" and method in ("indoors", "outdoors"):
            text = f"{text} {method}"
    day = question.slots.date or world.today
    effect = LogDecision(
        action=action,
        text=text,
        on=day,
        crops=tuple(ref.id for ref in crops),
        count=count,
        detail=_detail(question) | _RESTS_ON_PREVIOUS,
    )
    return Answer(
        question=question,
        verdict=None,
        headline=f"Noted: {text}, {shown_day(day)}.",
        numbers=_numbers(effect),
        details=(f"It rests on the answer before: {previous.headline}",),
        effects=(effect,),
    )


def _skip(question: Question, world: World) -> Answer:
    """ "Skip that": decided against what the answer before spoke of."""
    previous = world.previous
    crops = question.crops or (previous.question.crops if previous is not None else ())
    if previous is None and not crops:
        return _plain(question, "Skip what? Name it, for example 'skip the celery this year'.")
    of = None
    if previous is not None:
        earlier = previous.question
        of = deed_of_topic(earlier.topic, earlier.ask.method, earlier.cue("asks"), world.facts)
    names = plant_names(crops, world.facts)
    what = names or (previous.question.text.strip() if previous is not None else "")
    text = f"decided to skip {what}"
    effect = LogDecision(
        action="skip",
        text=text,
        on=question.slots.date or world.today,
        crops=tuple(ref.id for ref in crops),
        detail=({"of": of} if of else {}) | (_RESTS_ON_PREVIOUS if previous is not None else {}),
    )
    return Answer(
        question=question,
        verdict=None,
        headline=f"Noted: {text}, {shown_day(effect.on)}.",
        numbers=_numbers(effect),
        effects=(effect,),
    )


def _detail(question: Question) -> dict[str, str]:
    """What else was said, as typed: kind, price, method, temperature."""
    slots = question.slots
    kinds = ", ".join(dict.fromkeys(ref.kind for ref in question.crops if ref.kind)) or slots.kind
    found = {
        "kind": kinds,
        "method": slots.method,
        "price": None if slots.price is None else f"{slots.price:g}",
        "days_to_maturity": None if slots.days_to_maturity is None else str(slots.days_to_maturity),
    }
    if slots.temps:
        found["temperature"] = f"{slots.temps[0].value:g} {slots.temps[0].unit}"
    if slots.temperature_c is not None:
        found["temp_c"] = f"{slots.temperature_c:.2f}"
    return {name: value for name, value in found.items() if value is not None}


def _basis(question: Question, world: World) -> dict[str, str]:
    """Ties the entry to the answer before it when that spoke of the same crop."""
    previous = world.previous
    if previous is None or previous.question.topic in ("log", "garden"):
        return {}
    asked = {ref.id for ref in previous.question.crops}
    return _RESTS_ON_PREVIOUS if asked & {ref.id for ref in question.crops} else {}


def _in_short(question: Question, effect: LogDecision, world: World) -> str:
    deed = deed_in(effect.text, world.facts)
    if deed is not None and question.crops:
        return _told(deed.done, effect.count, question.crops, world)
    return effect.text[: _SHORT - 20].rsplit(" ", 1)[0] + " ..."


def _told(done: str, count: float | None, crops: Sequence[CropRef], world: World) -> str:
    names = plant_names(crops, world.facts)
    return " ".join(part for part in (done, f"{count:g}" if count is not None else "", names) if part)


def _numbers(effect: LogDecision) -> tuple[Number, ...]:
    numbers = [Number("logged_on", effect.on, "date", "Date", shown=False)]
    if effect.count is not None:
        numbers.append(Number("logged_count", effect.count, "", "Count", shown=False))
    return tuple(numbers)


# -- taking back and putting back ---------------------------------------------------------------------
def _undo(question: Question, world: World) -> Answer:
    if world.journal is None:
        return _plain(question, "Took back the latest entry.", effects=(UndoDecision(),))
    number = entry_number(question)
    if number is not None or (question.crops and not _is_latest(question)):
        return _delete(question, world, number)
    found = world.journal.would_undo(steps_in(question))
    if not found:
        return _plain(question, "There is nothing in the log to take back.")
    said = []
    for step in found:
        if step.after is None:
            said.append(f"took back '{short(step.before.text)}' of {shown_day(step.before.on)}")
        else:
            said.append(f"the entry reads '{short(step.after.text)}' of {shown_day(step.after.on)} again")
    headline = "; ".join(said)
    return _plain(
        question,
        f"{headline[:1].upper()}{headline[1:]}.",
        details=("'Redo' puts it back.",),
        effects=tuple(UndoDecision() for _ in found),
    )


def _is_latest(question: Question) -> bool:
    """True when the crop only comes from the conversation ("scrap that") or the latest is asked for."""
    text = question.text.lower()
    return (
        "last" in text
        or "that" in text.split()
        or not any(ref.typed and ref.typed.lower() in text for ref in question.crops)
    )


def _delete(question: Question, world: World, number: int | None) -> Answer:
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
        return _plain(question, f"There is no entry {about}.")
    if len(found) > 1:
        choices = tuple(f"delete entry {d.id} ({told(d)})" for d in found[:5])
        return _plain(question, f"There are {len(found)} entries {about}; which one?", asks=choices)
    gone = found[0]
    return _plain(
        question,
        f"Took back '{short(gone.text)}' of {shown_day(gone.on)}.",
        details=("'Redo' puts it back.",),
        effects=(UndoDecision(gone.id),),
    )


def _redo(question: Question, world: World) -> Answer:
    if world.journal is None:
        return _plain(question, "Put back what was taken back last.", effects=(RedoDecision(),))
    back = world.journal.would_redo()
    if back is None:
        return _plain(question, "Nothing has been taken back, so there is nothing to put back.")
    return _plain(question, f"Put back: {told(back)}.", effects=(RedoDecision(),))


# -- correcting ---------------------------------------------------------------------------------------
def _correct(question: Question, world: World) -> Answer:
    target = _target(question, world)
    if target is None:
        return _plain(question, "There is no entry to correct yet.")
    count = question.slots.count
    day: date | None = question.slots.date
    crops = _new_crops(question, target)
    text = target.text
    if count is not None:
        text = _with_count(text, target, count, world.facts)
    if crops is not None:
        text = _with_crops(text, target.crops, crops, world)
    if count is None and day is None and crops is None:
        said = own_words(question.text)
        if not re.search(r"\w", said):
            return _plain(question, "What shall it say instead? For example 'make it 14' or 'it was 3 May'.")
        text = f"{text} (correction: {said})"
    effect = CorrectDecision(
        decision_id=target.id,
        text=text if text != target.text else None,
        on=day,
        count=count,
        crops=tuple(ref.id for ref in crops) if crops is not None else None,
    )
    return _plain(
        question,
        f"Corrected: {short(text)}, {shown_day(day or target.on)}.",
        details=(f"It was: {told(target)}. 'Undo' brings that back.",),
        effects=(effect,),
    )


def _target(question: Question, world: World) -> Decision | None:
    """The entry meant: by number, else the latest one written, else the newest about the crop named."""
    if world.journal is None:
        return None
    number = entry_number(question)
    if number is not None:
        return world.journal.entry(number)
    latest = world.journal.would_undo(1)
    newest = latest[0].before if latest else None
    named = [ref.id for ref in question.crops if ref.typed and ref.typed.lower() in question.text.lower()]
    if newest is None or not named or set(named) & set(newest.crops):
        return newest
    if question.slots.count is not None or question.slots.date is not None:
        about = [d for crop in named for d in world.journal.search(crop=crop, limit=1)]
        return about[0] if about else newest
    return newest


def _new_crops(question: Question, target: Decision) -> tuple[CropRef, ...] | None:
    """The crops the entry should name instead, None when they stay. "the beets not the carrots": beets."""
    text = question.text.lower()
    named = [ref for ref in question.crops if ref.typed and ref.typed.lower() in text]
    wrong = {
        ref.id for ref in named if re.search(rf"\bnot\s+(?:the\s+)?{re.escape(ref.typed.lower())}", text)
    }
    right = tuple(ref for ref in named if ref.id not in wrong)
    if wrong & set(target.crops):
        named_right = {ref.id for ref in right}
        others = tuple(CropRef(c) for c in target.crops if c not in wrong | named_right)
        return (*others, *right)
    if not right or {ref.id for ref in right} <= set(target.crops):
        return None
    return right


def _with_count(text: str, target: Decision, new: float, facts: Facts) -> str:
    """The entry's words with the count replaced, or put before the crop where none was told."""
    old = target.count
    if old is not None:
        spelled = (word for word, value in facts.table("deeds")["number_words"].items() if value == old)
        for word in (f"{old:g}", *sorted(spelled, key=len, reverse=True)):
            changed, times = _replace(rf"(?<![\w.]){re.escape(word)}(?![\w.])", f"{new:g}", text)
            if times:
                return changed
    for name in _names_of(target.crops, facts):
        changed, times = _replace(rf"\b(?={re.escape(name)}\b)", f"{new:g} ", text)
        if times:
            return changed
    return f"{text} ({new:g})"


def _replace(pattern: str, new: str, text: str) -> tuple[str, int]:
    """``text`` with the first match of ``pattern`` replaced, and how many were (0 or 1)."""
    return re.subn(pattern, lambda _: new, text, count=1, flags=re.IGNORECASE)


def _names_of(crops: Sequence[str], facts: Facts) -> list[str]:
    """Every name the crops may stand under in an entry, the longest first."""
    return sorted(
        (n for crop in crops for n in names_of(crop, facts, misspelled=True)), key=len, reverse=True
    )


def _with_crops(text: str, old: Sequence[str], new: Sequence[CropRef], world: World) -> str:
    said = ", ".join(ref.typed or plant_name(ref, world.facts) for ref in new)
    if len(old) == 1:
        for name in _names_of(old, world.facts):
            changed, times = _replace(rf"\b{re.escape(name)}\b", said, text)
            if times:
                return changed
    return f"{text} ({said})"


# -- the rest -----------------------------------------------------------------------------------------
_FORMATS = (
    ("spreadsheet", "csv"), ("csv", "csv"), ("excel", "csv"), ("calendar", "ics"), ("ics", "ics"),
    ("json", "json"), ("markdown", "md"),
)  # fmt: skip


def _export(question: Question, world: World) -> Answer:
    """Files are written by the command line; say how."""
    text = question.text.lower()
    form = next((form for word, form in _FORMATS if word in text), "md")
    crop = f" --crop {question.crops[0].id}" if question.crops else ""
    return _plain(
        question,
        f"The log is written to a file with: gardenmate log{crop} --format {form} --out garden-log.{form}",
        details=("Formats: md (to read), csv (spreadsheet), ics (calendar), json (to import again).",),
    )


def _plain(
    question: Question,
    headline: str,
    *,
    details: tuple[str, ...] = (),
    asks: tuple[str, ...] = (),
    effects: tuple[LogDecision | CorrectDecision | UndoDecision | RedoDecision, ...] = (),
) -> Answer:
    return Answer(
        question=question, verdict=None, headline=headline, details=details, asks=asks, effects=effects
    )
