"""Corrections: what is taken back, put back or changed is what the words name, else the newest; or it is asked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta

from gardenmate.core.answer import Answer
from gardenmate.core.effects import CorrectDecision, Effect, RedoDecision, UndoDecision
from gardenmate.core.question import Command, CropRef, Deed, Part
from gardenmate.core.units import show_date
from gardenmate.core.world import Decision, JournalView, World
from gardenmate.journal.wording import everywhere, exchanged, put_before
from gardenmate.knowledge.deeds import FROST, NOTE
from gardenmate.knowledge.facts import Facts
from gardenmate.plantings.batches import PLANS
from gardenmate.records import replace
from gardenmate.topics.log.frost_told import in_year
from gardenmate.topics.log.listing import short, shown_day, told
from gardenmate.topics.shared.plant_names import names_of, plant_name, plant_names

_RECENT = 60  # entries a correction may mean; design value
GARDEN = "garden"
BACK = "'Redo' puts it back."


def answer(part: Part, world: World) -> Answer:
    """Carry out a correction."""
    command = part.command or Command("undo")
    if world.journal is None:
        return _plain(part, "No log is kept here, so there is nothing to correct.")
    do: dict[str, Callable[[Part, Command, World, JournalView], Answer]] = {
        "undo": _undo,
        "delete": _undo,
        "redo": _redo,
        "amend": _amend,
    }
    verb = command.verb if command.verb in do else "amend"
    return do[verb](part, command, world, world.journal)


def _plain(
    part: Part,
    headline: str,
    effects: tuple[Effect, ...] = (),
    *,
    details: tuple[str, ...] = (),
    asks: tuple[str, ...] = (),
) -> Answer:
    return Answer(
        question=part.request, verdict=None, headline=headline, details=details, asks=asks, effects=effects
    )


def _about(answer: Answer, entries: Sequence[Decision]) -> Answer:
    """The answer as one about the plants of the entries it changes: the next turn leans on those, not on all that were
    listed before."""
    crops = tuple(dict.fromkeys(CropRef(c) for entry in entries for c in entry.crops))
    return replace(answer, question=replace(answer.question, crops=crops)) if crops else answer


# -- taking back and putting back ---------------------------------------------------------------------
def _undo(part: Part, command: Command, world: World, journal: JournalView) -> Answer:
    target = command.target
    if part.request.has("all"):
        return _plain(
            part,
            "I won't take back everything at once: one slip would lose the season. Name the entry or the crop, "
            "such as 'delete note 12', or say 'undo' for the newest.",
        )
    if target.numbers:
        return _by_number(part, target.numbers, journal)
    named = _named_here(part, target.crops) if not target.newest else ()
    if named or (target.on is not None and not target.newest):
        return _named(part, named, target.on, world, journal)
    deleted = [e for e in world.previous.effects if isinstance(e, UndoDecision)] if world.previous else []
    if command.verb == "undo" and deleted and all(e.decision_id is not None for e in deleted):
        back = tuple(RedoDecision(e.decision_id) for e in deleted)  # "undo" behind "delete 2" brings it back
        put_back = _plain(part, "Put back what was just taken out.", back)
        return (
            replace(put_back, question=replace(part.request, crops=world.previous.question.crops))
            if world.previous
            else put_back
        )
    steps = part.request.first("steps")
    found = journal.would_undo(int(float(str(steps.value))) if steps is not None else 1)
    if not found:
        return _plain(part, "There is nothing to take back.")
    said = [_taken_back(step.before) if step.after is None else _reads_again(step.after) for step in found]
    headline = "; ".join(said)
    taken = _plain(
        part, f"{headline[:1].upper()}{headline[1:]}.", tuple(UndoDecision() for _ in found), details=(BACK,)
    )
    return _about(taken, [step.before for step in found])


def _taken_back(entry: Decision) -> str:
    if entry.action == GARDEN:
        return f"took back what you told me about the garden: '{short(entry.text)}'"
    return f"took back '{short(entry.text)}' of {shown_day(entry.on)}"


def _reads_again(entry: Decision) -> str:
    return f"the entry reads '{short(entry.text)}' of {shown_day(entry.on)} again"


def _by_number(part: Part, numbers: Sequence[int], journal: JournalView) -> Answer:
    found = [(n, journal.entry(n)) for n in numbers]
    missing = [str(n) for n, entry in found if entry is None]
    if missing:
        what = f"note {missing[0]}" if len(missing) == 1 else f"notes {' or '.join(missing)}"
        return _plain(part, f"There is no {what}, so nothing is changed. Say 'log' to see the numbers.")
    entries = [entry for _, entry in found if entry is not None]
    said = "; ".join(_taken_back(e) for e in entries)
    effects = tuple(UndoDecision(e.id) for e in entries)
    return _about(_plain(part, f"{said[:1].upper()}{said[1:]}.", effects, details=(BACK,)), entries)


def _named(part: Part, named: Sequence[CropRef], on: object, world: World, journal: JournalView) -> Answer:
    """Take back the only entry that fits what is named; several are listed to choose from."""
    found = [
        d
        for d in _recent(journal)
        if (not named or {ref.id for ref in named} & set(d.crops)) and (on is None or d.on == on)
    ]
    about = f"about {plant_names(named, world.facts)}" if named else "of that day"
    if not found:
        return _plain(part, f"There is no entry {about}, so nothing is changed.")
    if len(found) > 1:
        choices = tuple(f"delete note {d.id} ({told(d)})" for d in found[:5])
        return _plain(part, f"There are {len(found)} entries {about}; which one?", asks=choices)
    said = _taken_back(found[0])
    taken = _plain(part, f"{said[:1].upper()}{said[1:]}.", (UndoDecision(found[0].id),), details=(BACK,))
    return _about(taken, found)


def _redo(part: Part, command: Command, world: World, journal: JournalView) -> Answer:
    back = journal.would_redo()
    if back is None:
        return _plain(part, "Nothing has been taken back, so there is nothing to put back.")
    what = f"'{short(back.text)}'" if back.action == GARDEN else told(back)
    return _plain(part, f"Put back: {what}.", (RedoDecision(),))


# -- changing -----------------------------------------------------------------------------------------
def _named_here(part: Part, crops: Sequence[CropRef]) -> tuple[CropRef, ...]:
    """The crops the line itself names; those of the conversation are not meant by it."""
    said = {t.value for t in part.request.all("crop")}
    return tuple(ref for ref in crops if ref.id in said)


def _tells_anew(part: Part) -> bool:
    """True when a correction says what is right instead."""
    deed = part.deed
    if deed is None:
        return False
    told = any(v is not None for v in (deed.count, deed.on, deed.where, deed.variety))
    return told or bool(_named_here(part, deed.crops))


def _recent(journal: JournalView) -> list[Decision]:
    """Entries by when they were written, newest first; changes of the garden are not among them."""
    return sorted(journal.latest(_RECENT), key=lambda d: -d.id)


def _amend(part: Part, command: Command, world: World, journal: JournalView) -> Answer:
    deed = part.deed or Deed(NOTE, "")
    deed = replace(deed, crops=_named_here(part, deed.crops))
    numbers = command.target.numbers
    recent = _recent(journal)
    if numbers:
        target = journal.entry(numbers[0])
        if target is None:
            return _plain(
                part, f"There is no note {numbers[0]}, so nothing is changed. Say 'log' to see the numbers."
            )
        if deed.count is not None and deed.count == numbers[0]:
            deed = replace(deed, count=None)
    else:
        wrong = {str(t.value) for t in part.request.all("denied")}
        about = [d for d in recent if wrong & set(d.crops)]
        target = about[0] if about and deed.crops else _target(deed, recent)
    if target is None:
        return _plain(part, "There is no entry to correct yet.")
    if not _tells_anew(replace(part, deed=deed)):
        return _plain(
            part,
            f"What is wrong with '{short(target.text)}' of {shown_day(target.on)}? 'Undo' takes it back; 'make it 12', "
            "'it was 3 May' or 'beets, not carrots' puts it right.",
        )
    if deed.where is not None and deed.where in _places(target) and deed.variety is not None:
        deed = replace(deed, where=None)  # "the camp ones are Maxibel": where tells which, not what
    told_of = deed.crops
    unnamed = not numbers and not {ref.id for ref in told_of} & set(target.crops)
    if told_of and unnamed and _another(deed, target):
        return _no_entry(part, told_of, target, world)
    return _changed(part, deed, target, world)


def _target(deed: Deed, recent: Sequence[Decision]) -> Decision | None:
    """The entry meant: the newest about the crop named (with a deed of the kind told), else the newest written."""
    if not recent:
        return None
    named = {ref.id for ref in deed.crops}
    about = [d for d in recent if named & set(d.crops)]
    kind = deed.of or (deed.action if deed.action not in (NOTE, "done", *PLANS) else None)
    there = [d for d in recent if deed.where is not None and deed.where in _places(d)]
    if there and deed.variety is not None and not named:
        return there[0]
    same = [d for d in (about or recent) if kind is not None and d.action == kind]
    if same and not (named and not about):
        return same[0]
    return about[0] if about else recent[0]


def _places(entry: Decision) -> tuple[str, ...]:
    return tuple(v for v in (entry.detail.get("where"), entry.detail.get("garden")) if v)


def _another(deed: Deed, target: Decision) -> bool:
    """True for a count, a day or a place of a crop no entry is about: the entry of another crop is not its own."""
    told = (deed.count, deed.on, deed.where, deed.variety)
    return any(v is not None for v in told) or not target.crops


def _no_entry(part: Part, named: Sequence[CropRef], target: Decision, world: World) -> Answer:
    names = plant_names(named, world.facts)
    return _plain(
        part,
        f"There is no entry about {names} to correct, and the newest is '{short(target.text)}' of "
        f"{shown_day(target.on)}, so I changed nothing: tell it as a new one, or name the crop it replaces.",
    )


def _nearest(weekday: int, day: date) -> date:
    """The day of that weekday (0 Monday) nearest to ``day``, never that day itself."""
    near = (day + timedelta(days=n) for n in range(-6, 7) if n)
    return min((d for d in near if d.weekday() == weekday), key=lambda d: abs((d - day).days), default=day)


def _changed(part: Part, deed: Deed, target: Decision, world: World) -> Answer:
    day = deed.on
    weekdays = {t.value.weekday() for t in part.request.all("weekday") if isinstance(t.value, date)}
    if day is not None and day.weekday() in weekdays:
        day = _nearest(day.weekday(), target.on)
    if day is not None and day > world.today and target.on <= world.today and target.action not in _AHEAD:
        day -= timedelta(days=7) if (day - world.today).days <= 7 else timedelta(0)
    if day is not None and target.action == FROST:
        day = in_year(day, target.on.year)  # "no, the 24th": of the year it was told for
    new = {ref.id for ref in deed.crops}
    crops = deed.crops if new and not new <= set(target.crops) else None
    denied = {str(t.value) for t in part.request.all("denied")} & set(target.crops)
    if denied and crops is None and denied != set(target.crops):
        crops = tuple(CropRef(c) for c in target.crops if c not in denied)
    text = target.text
    if deed.count is not None:
        text = _with_count(text, target, deed.count, world.facts)
    if crops is not None:
        text = _with_crops(text, target.crops, crops, world)
    detail = {"where": deed.where or "", "variety": deed.variety or "", "unit": deed.unit}
    detail = {name: value for name, value in detail.items() if value}
    for name in ("where", "variety"):
        if name in detail and detail[name].lower() not in text.lower():
            old = target.detail.get(name)
            text = everywhere(text, old, detail[name]) if old else text
            if detail[name].lower() not in text.lower():
                text = f"{text} in {detail[name]}" if name == "where" else f"{text} ({detail[name]})"
    if day is not None and target.detail.get("open"):
        detail["open"] = ""
    same = (
        day in (None, target.on)
        and deed.count in (None, target.count)
        and crops is None
        and text == target.text
    )
    if same and all(target.detail.get(name) == value for name, value in detail.items()):
        return _plain(
            part, f"Nothing to change: the entry reads '{short(target.text)}', {shown_day(target.on)}."
        )
    effect = CorrectDecision(
        decision_id=target.id,
        text=text if text != target.text else None,
        on=day,
        count=deed.count,
        crops=tuple(ref.id for ref in crops) if crops is not None else None,
        detail=detail or None,
    )
    effects: tuple[Effect, ...] = (effect,)
    corrected = _plain(
        part,
        f"Corrected: {short(text)}, {show_date(day or target.on, world.today)}.",
        effects,
        details=(f"It was: {told(target)}. 'Undo' brings that back.",),
    )
    return _about(corrected, [target]) if crops is None else corrected


_AHEAD = frozenset({"decide", "remind", "postpone", "plan"})


def _with_count(text: str, target: Decision, new: float, facts: Facts) -> str:
    """The entry's words with the count replaced, or put before the crop where none was told."""
    old = target.count
    if old is not None:
        spelled = (word for word, value in facts.table("deeds")["number_words"].items() if value == old)
        for word in (f"{old:g}", *sorted(spelled, key=len, reverse=True)):
            changed = exchanged(text, word, f"{new:g}")
            if changed is not None:
                return changed
    for name in _names_of(target.crops, facts):
        changed = put_before(text, name, f"{new:g}")
        if changed is not None:
            return changed
    return f"{text} ({new:g})"


def _names_of(crops: Sequence[str], facts: Facts) -> list[str]:
    """Every name the crops may stand under in an entry, the longest first."""
    return sorted(
        (n for crop in crops for n in names_of(crop, facts, misspelled=True)), key=len, reverse=True
    )


def _with_crops(text: str, old: Sequence[str], new: Sequence[CropRef], world: World) -> str:
    said = ", ".join(ref.typed or plant_name(ref, world.facts) for ref in new)
    if len(old) == 1:
        for name in _names_of(old, world.facts):
            changed = exchanged(text, name, said)
            if changed is not None:
                return changed
    return f"{text} ({said})"
