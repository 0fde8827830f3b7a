"""Correcting an entry: the latest one written, or the one named; what is replaced, and in which words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from gardenmate.core.answer import Answer
from gardenmate.core.effects import CorrectDecision
from gardenmate.core.pattern import Pattern
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import Decision, World
from gardenmate.knowledge.facts import Facts
from gardenmate.language.values.deeds import asking_part, own_words
from gardenmate.topics.log.asked import entry_number
from gardenmate.topics.log.listing import short, shown_day, told
from gardenmate.topics.log.said import plain
from gardenmate.topics.shared.plant_names import names_of, plant_name, plant_names

_NEW_COUNT = Pattern(
    r"\bmake (?:it|that) (\d+)\b", r"\b(\d+),? not (?:\d+)\b", r"\bnot \d+,? (?:but )?(\d+)\b"
)


def correct(question: Request, world: World) -> Answer:
    """Replace the count, the day or the crop of an entry; anything else is added to its words."""
    target = _target(question, world)
    if target is None:
        return plain(question, "There is no entry to correct yet.")
    other = _other_crop(question, target, world)
    if other is not None:
        return other
    count = _count(question)
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
            return plain(question, "What shall it say instead? For example 'make it 14' or 'it was 3 May'.")
        text = f"{text} (correction: {said})"
    effect = CorrectDecision(
        decision_id=target.id,
        text=text if text != target.text else None,
        on=day,
        count=count,
        crops=tuple(ref.id for ref in crops) if crops is not None else None,
    )
    return plain(
        question,
        f"Corrected: {short(text)}, {shown_day(day or target.on)}.",
        details=(f"It was: {told(target)}. 'Undo' brings that back.",),
        effects=(effect,),
    )


def wrong(question: Request, world: World) -> Answer:
    """The latest entry is called wrong and nothing is told instead: nothing is changed, it is asked back."""
    latest = world.journal.would_undo(1) if world.journal is not None else ()
    if not latest:
        return plain(question, "There is no entry in the log to put right; what was wrong?")
    entry = latest[0].before
    return plain(
        question,
        f"What is wrong with '{short(entry.text)}' of {shown_day(entry.on)}? 'Undo' takes it back; "
        "'make it 12', 'it was 3 May' or 'beets, not carrots' puts it right.",
    )


def _other_crop(question: Request, target: Decision, world: World) -> Answer | None:
    """A count or a day told of a crop that no entry is about: the entry of another crop is not its place."""
    named = [ref for ref in question.crops if ref.typed and ref.typed.lower() in question.text.lower()]
    told_anew = _count(question) is not None or question.slots.date is not None
    if not named or not told_anew or entry_number(question) is not None:
        return None
    if {ref.id for ref in named} & set(target.crops) or not target.crops:
        return None
    names = plant_names(named, world.facts)
    return plain(
        question,
        f"There is no entry about {names} to correct, and the latest is '{short(target.text)}' of "
        f"{shown_day(target.on)}, so I changed nothing: tell it as a new one, or name the crop it replaces.",
        asks=(f"note that it was {told_again(question)}", f"{names}, not {_plain_names(target.crops)}"),
    )


def told_again(question: Request) -> str:
    """The count and crops of a correction in a few words: "12 peas"."""
    count = _count(question)
    typed = " and ".join(dict.fromkeys(ref.typed for ref in question.crops if ref.typed))
    return f"{count:g} {typed}" if count is not None else typed


def _plain_names(crops: Sequence[str]) -> str:
    return " and ".join(crop.replace("-", " ") for crop in crops)


def _count(question: Request) -> float | None:
    """The new count, also as "18 not 16" says it."""
    if question.slots.count is not None:
        return question.slots.count
    match = _NEW_COUNT.search(asking_part(question.text))
    return None if match is None else float(next(group for group in match.groups() if group))


def _target(question: Request, world: World) -> Decision | None:
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


def _new_crops(question: Request, target: Decision) -> tuple[CropRef, ...] | None:
    """The crops the entry should name instead, None when they stay. "the beets not the carrots": beets."""
    text = asking_part(question.text)
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
