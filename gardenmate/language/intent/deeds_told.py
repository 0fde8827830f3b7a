"""The deeds a line tells: what was done, to which crops, how many, where and when; or what is planned.

The line falls into clauses; a clause that names no crop, deed, place or day of its own takes those of its
neighbours: "48 onions, 24 cabbages all in the ground" is two deeds, "24 on the 29th and again 12 on the 5th" too.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from gardenmate.core.question import CropRef, Deed, Request
from gardenmate.knowledge.deeds import FROST, HAVE, NOTE
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.clauses_told import Clause, clauses_of, day_of, where_of
from gardenmate.language.intent.deed_marks import marks_on
from gardenmate.language.intent.names_told import NameMark
from gardenmate.language.intent.plans_told import (
    BEFALLS,
    MOST_JOBS,
    PLANS,
    REMIND,
    days_ahead,
    jobs_named,
    lies_ahead,
    of_job,
    plan_heard,
    says_what,
)
from gardenmate.language.intent.reading import Context
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.deeds import own_words, without_asking_to_be_reminded, without_its_day
from gardenmate.language.values.near_days import DAYS
from gardenmate.records import dataclass, replace


@dataclass(slots=True)
class _Draft:
    """A deed in the making."""

    action: str | None
    crop: CropRef | None = None
    count: float | None = None
    unit: str = ""
    where: str | None = None
    on: date | None = None
    variety: str | None = None
    days: int | None = None
    sentence: int = 0
    own: bool = True  # told with a deed of its own
    which: int | None = None
    goes_on: bool = False  # the line opens with "and"
    has: bool = False  # the line tells what there is: "I have 24 of them"
    verb: bool = False  # it has a verb of its own that is no deed known: "staked 12 tomatoes"
    lent: bool = False  # its crop comes from the conversation
    plan: str = ""


def deeds_told(
    board: Board,
    request: Request,
    facts: Facts,
    context: Context,
    *,
    planned: bool = False,
    correcting: bool = False,
    verb: str = "",
) -> tuple[Deed, ...]:
    """The deeds of a report, of a plan (``planned``) or of what is right instead (``correcting``: a weekday is the one
    nearest to the day told before). ``verb`` is the command heard in it, if any. Never empty: what tells no deed is a
    note."""
    reported = not planned and not correcting
    planned = planned or correcting
    today = board.today or context.today
    planned = planned or lies_ahead(board)
    marks = marks_on(board, facts, context.varieties, context.gardens, correcting=correcting)
    if correcting and context.deeds and context.deeds[-1].on is not None:
        marks = [_nearest(m, board, context.deeds[-1].on) for m in marks]
    if reported and _GONE & {t.word for t in board.tokens}:
        marks = [_gone_day(m, today) for m in marks]
    asked = context.previous if context.previous is not None and context.previous.topic != "garden" else None
    spoken = asked.ask.date if asked is not None else None
    if planned and spoken is not None:
        marks = [_in_month_of(m, board, spoken) for m in marks]
    text = own_words(board.text.typed)
    numbers = (
        jobs_named(board, marks, most=_ANY if verb == "job-done" else MOST_JOBS)
        if (planned and not correcting) or verb == "job-done"
        else ()
    )
    if numbers:
        return tuple(of_job(n, board, marks, planned, verb, text) for n in numbers)
    clauses = clauses_of(board, marks)
    reminds = verb == "remind" or board.near(0, REMIND, 0, len(board.tokens)) or board.word(0) in REMIND
    own_job = (
        planned and reminds and says_what(board, marks) and not _THOSE & {t.word for t in board.tokens[2:]}
    )
    everything = planned and verb == "postpone" and any(m.kind == "all" for m in marks)
    carried = () if own_job or everything else _carried(request, context, marks)
    drafts = _drafts(clauses, context, carried, planned, _of_those(board))
    drafts = _parts_only(_without_denied(drafts, marks, board))
    heard = verb if verb in PLANS else plan_heard(board.words(0, len(board.tokens))) if planned else ""
    ahead = days_ahead(board, today) if planned else None
    before = context.deeds[-1] if context.deeds else None
    if verb in ("log-advice", "job-done"):
        drafts = [replace(d, action=d.action or "done") for d in drafts]
    if _HAS & {t.word for t in board.tokens}:
        drafts = [replace(d, has=True) for d in drafts]
    if board.word(0) == "and":
        drafts = [replace(d, goes_on=True) for d in drafts]
    if not any(d.plan for d in drafts):
        drafts = [replace(d, plan=heard) for d in drafts]
    deeds = [_deed(d, heard, planned, today, ahead, before, _asked_place(context)) for d in drafts]
    if verb == "decide" and len(board.tokens) <= _THAT and not any(d.on is not None for d in drafts):
        deeds = [replace(d, on=spoken or d.on) for d in deeds]  # "ok, plan that": the day just asked about
    deeds = _together(deeds)
    whole = len(deeds) == 1
    dated = any(d.on is not None for d in drafts)
    own = without_its_day(text) if dated else text
    if reminds:
        own = without_asking_to_be_reminded(own)
    rest = board.text.typed if reported else ""
    return tuple(replace(d, text=own if whole else rest if _in_words(d) else "") for d in deeds)


_THEM = words("them em those these")
_HAS = words("have has had got are is was were be own keep need want")


def _asked_place(context: Context) -> str | None:
    """The place a question just before was about: "sowed 2 rows in it" behind one about the frame."""
    asked = context.previous
    if asked is None or context.told:
        return None
    named = asked.first("where")
    if named is not None and named.value != "same":
        return str(named.value)
    return "cold frame" if asked.topic == "cold-frame" else None


def _in_words(deed: Deed) -> bool:
    """True for a deed of several that is kept in the words of the line: nothing else tells what it was."""
    return deed.action in (NOTE, "done") and (deed.count is None or not deed.crops)


def with_frost(deeds: Sequence[Deed], on: date, board: Board) -> tuple[Deed, ...]:
    """The deeds of a line that tells of a frost or a reading too: the frost first, behind it those of the plants it
    names."""
    others = [deed for deed in deeds if deed.action not in (NOTE, FROST) and deed.crops]
    return (Deed(FROST, own_words(board.text.typed), on=on), *(others if board.of("crop") else ()))


_THAT = 5  # words of "ok, put that on the list"


def _in_month_of(mark: NameMark, board: Board, spoken: date) -> NameMark:
    """A day told by its number alone ("ok, 7th then") as one of the month of the day spoken of before."""
    number = board.tokens[mark.start].number
    alone = mark.kind == "date" and number is not None and mark.end - mark.start <= 2
    if not alone or number is None or any(s.start == mark.start for s in board.of("date")):
        return mark
    try:
        return mark._replace(value=spoken.replace(day=int(number)))
    except ValueError:  # no such day in that month
        return mark


_GONE = words("was were forgot had")


def _gone_day(mark: NameMark, today: date) -> NameMark:
    """A day told by its number alone ("they were up on the 24th") as the latest such day gone by."""
    if mark.unit != "day" or not isinstance(mark.value, date) or mark.value <= today:
        return mark
    gone = (today - timedelta(days=n) for n in range(1, 62))
    return mark._replace(value=next((d for d in gone if d.day == mark.value.day), mark.value))


def _nearest(mark: NameMark, board: Board, day: date) -> NameMark:
    """A weekday of a correction as the one nearest to the day told before: "Saturday, not Sunday"."""
    last = board.word(mark.end - 1)
    if mark.kind != "date" or last not in DAYS or not isinstance(mark.value, date):
        return mark
    near = [
        day + timedelta(days=n)
        for n in range(-6, 7)
        if n and (day + timedelta(days=n)).weekday() == DAYS[last]
    ]
    return mark._replace(value=min(near, key=lambda d: abs((d - day).days), default=mark.value))


def _drafts(
    clauses: Sequence[Clause], context: Context, carried: tuple[CropRef, ...], planned: bool, of_those: bool
) -> list[_Draft]:
    """The deeds in the making, clause by clause. ``of_those``: a note is about the plants spoken of."""
    drafts: list[_Draft] = []
    day: date | None = None
    for clause in clauses:
        found = _in_clause(clause, context.varieties)
        if not found and not drafts and _tells(clause, planned or bool(context.deeds)):
            found = [_Draft(None, ref, lent=True) for ref in carried]
            found = found or ([_Draft(None)] if _tells(clause, planned) else [])
            _share(found, clause)
        if not found:
            day = _add_to(drafts, clause) or day
            continue
        action, on, where = clause.action, day_of(clause), where_of(clause)
        if drafts and not planned and clause.tells_otherwise(drafts[-1].sentence):
            action = NOTE
        if len(found) == 1 and clause.action is None and len(drafts) > 1 and all(d.lent for d in drafts):
            count = next((d.count for d in drafts if d.count is not None), None)
            drafts = [replace(d, count=count) for d in drafts if d.crop == found[0].crop][:1] or drafts
        last = drafts[-1] if drafts else None
        if _completes(last, found, clause):
            assert last is not None
            last.crop, last.count = found[0].crop, found[0].count if last.count is None else last.count
            last.unit, last.variety = last.unit or found[0].unit, last.variety or found[0].variety
            last.where, last.on = last.where or where, last.on or on
            continue
        for draft in found:
            draft.action = draft.action or action or (last.action if last is not None else None)
            draft.on = draft.on or on or day
            draft.where = draft.where or (where if where != "same" or last is None else last.where)
            draft.sentence, draft.own, draft.plan = clause.sentence, action is not None, clause.plan
            draft.verb = clause.has_a_verb
            draft.which = next((int(str(m.value)) for m in clause.of("which")), None) if draft.lent else None
            if draft.crop is None and last is not None:
                draft.crop = last.crop
            elif draft.crop is None and carried:
                draft.crop = carried[0]
        drafts += found
    if not drafts:
        drafts = [_Draft(None, ref) for ref in carried if planned or of_those] or [_Draft(None)]
    for draft in drafts:
        if draft.crop is None and carried and (draft.count is not None or draft.variety):
            draft.crop = carried[0]
    return dealt(_levelled(drafts))


def dealt(drafts: list[_Draft]) -> list[_Draft]:
    """Places told together go to the crops in their order: "peas and turnips, bed 1 and 2"."""
    places = (drafts[0].where or "").split(" and ")
    if len(drafts) < 2 or len(places) != len(drafts) or len({d.where for d in drafts}) > 1:
        return drafts
    return [replace(draft, where=where) for draft, where in zip(drafts, places, strict=True)]


_THOSE = words("it them em those these they all lot everything both fine ok")
_FEW_WORDS = 9  # words of a line that leans on the one before; design value


def _of_those(board: Board) -> bool:
    """True for a short note that points back, or opens with what was done: "all fine this morning", "netted",
    "earthed up then"."""
    said = {t.word for t in board.tokens}
    first = board.word(0) if board.word(0) not in ("ok", "right", "so", "just") else board.word(1)
    done = first.endswith("ed") and len(first) > len("need")
    return len(board.tokens) <= _FEW_WORDS and (bool(said & _THOSE) or done)


def _tells(clause: Clause, planned: bool) -> bool:
    """True for a clause that tells a deed though it names no crop."""
    kinds = {m.kind for m in clause.marks}
    return bool(kinds & {"action", "count", "variety"}) or (planned and bool(kinds & {"date", "where"}))


def _share(drafts: list[_Draft], clause: Clause) -> None:
    """The counts of a clause that names no crop, dealt to the crops spoken of: "24 and 24"; one is for all."""
    counts = clause.of("count")
    for draft, count in zip(drafts, counts, strict=False):
        draft.count, draft.unit = float(str(count.value)), count.unit
    for draft in drafts:
        draft.variety = next((str(m.value) for m in clause.of("variety")), None)
        draft.days = next((int(str(m.value)) for m in clause.of("days")), None)


def _completes(last: _Draft | None, found: list[_Draft], clause: Clause) -> bool:
    """True for a clause that only says more of the deed before: "3 sown. Delicata", "spuds in. 20 Yukon Gold"."""
    if last is None or clause.action is not None or len(found) != 1 or clause.plan:
        return False
    if last.variety is not None and found[0].variety not in (None, last.variety):
        return False
    if last.crop is None:
        return found[0].count is None or last.count is None
    same = found[0].crop is not None and found[0].crop.id == last.crop.id
    return same and (last.count is None or found[0].count is None)


def _in_clause(clause: Clause, varieties: Mapping[str, str]) -> list[_Draft]:
    """The crops of one clause, each with the count, day, deed and variety told with it."""
    crops = clause.of("crop")
    named = clause.of("variety")
    if not crops and named:
        refs = {varieties.get(str(m.value)) for m in named} - {None}
        if len(refs) == 1:
            crops = [named[0]._replace(kind="crop", value=CropRef(str(refs.pop())))]
    first = next((m.kind for m in clause.marks if m.kind in ("crop", "count")), "crop")
    found = []
    for n, crop in enumerate(crops):
        before = crops[n - 1].start if n else -1
        after = crops[n + 1].start if n + 1 < len(crops) else _FAR
        low, high = (before, crop.start) if first == "count" else (crop.start, after)
        counts = [m for m in clause.of("count") if low < m.start < high]
        if not counts and len(crops) == 1:
            counts = clause.of("count")
        draft = _Draft(None, crop.value if isinstance(crop.value, CropRef) else None)
        if counts:
            chosen = next((m for m in counts if m.unit in _PLANTS), counts[0])
            draft.count, draft.unit = float(str(chosen.value)), chosen.unit
        draft.variety = next((str(m.value) for m in named if before <= m.start < after), crop.unit or None)
        draft.days = next(
            (int(str(m.value)) for m in clause.of("days") if crop.start < m.start < after), None
        )
        _apart(draft, clause, before if n else -1, crop.start, after)
        found.append(draft)
    return found


_FAR = 10**6
_ANY = 10**6  # "done 77" is about a job, though none has that number
_PLANTS = frozenset({"", "plants", "cells", "pieces"})


def _apart(draft: _Draft, clause: Clause, before: int, here: int, after: int) -> None:
    """Where a clause tells several days, places or deeds, those of this crop: the day and place behind it, the deed
    before it ("buy the peppers sow the tomatoes")."""
    days, wheres = clause.of("date"), clause.of("where")
    if len(days) > 1:
        draft.on = next((m.value for m in days if here < m.start < after and isinstance(m.value, date)), None)
    if len(wheres) > 1:
        draft.where = next((str(m.value) for m in wheres if here < m.start < after), None)
    deeds = [m for m in clause.of("action") if not m.weak]
    if len(deeds) > 1:
        draft.action = next((str(m.value) for m in reversed(deeds) if before < m.start < here), None)


def _add_to(drafts: list[_Draft], clause: Clause) -> date | None:
    """A clause without a crop: a further deed of the crop before, or more about the deeds before. Returns the day it
    tells where no deed came before."""
    on, where, action = day_of(clause), where_of(clause), clause.action
    if not drafts:
        return on
    counts = clause.of("count")
    count = float(str(counts[0].value)) if counts else None
    unit = counts[0].unit if counts else ""
    which = next((int(str(m.value)) for m in clause.of("which")), None)
    about = drafts[which - 1] if which is not None and which <= len(drafts) else drafts[-1]
    if which is None and count is not None:
        here = [d for d in drafts if d.sentence == drafts[-1].sentence]
        about = next((d for d in here if d.count is None), drafts[-1])
    last = drafts[-1]
    names = clause.of("variety")
    if names and last.variety is not None and action is None:
        days = next((int(str(m.value)) for m in clause.of("days")), None)
        drafts.append(replace(last, variety=str(names[0].value), days=days, count=count, own=False))
        return None
    if (action is not None and last.action is not None and action != last.action) or (
        count is not None and about.count is not None and which is None
    ):
        told_all = count is None and (bool(clause.of("all")) or bool(_THEM & set(clause.unmarked)))
        drafts.append(
            _Draft(
                action or last.action,
                last.crop,
                last.count if told_all else count,
                unit,
                where,
                on,
                sentence=clause.sentence,
                own=action is not None,
            )
        )
        return None
    for draft in drafts:
        draft.action = draft.action or action
        draft.where = draft.where or where
        draft.on = draft.on or on
    if count is not None and about.count is None:
        about.count, about.unit = count, unit
    about.variety = about.variety or next((str(m.value) for m in clause.of("variety")), None)
    about.days = about.days or next((int(str(m.value)) for m in clause.of("days")), None)
    return None


def _levelled(drafts: list[_Draft]) -> list[_Draft]:
    """What only a later deed tells holds for those before it that leave it open, within a sentence for place and
    day: "18 peppers and 12 tomatoes on the mat today", "48 onions, 24 cabbages, all in the ground"."""
    for later, draft in zip(reversed(drafts[1:]), reversed(drafts[:-1]), strict=True):
        draft.action = draft.action or later.action
        if (
            draft.action == "buy"
            and later.action == "plant"
            and draft.crop == later.crop
            and draft.unit in _PLANTS
        ):
            later.action = "set-out"  # plants bought and planted in one breath
        if draft.sentence == later.sentence and not (later.own and draft.own):
            draft.where = draft.where or later.where
            draft.on = draft.on or later.on
    return drafts


def _without_denied(drafts: list[_Draft], marks: Sequence[NameMark], board: Board) -> list[_Draft]:
    """Without the crops that were not done: "did the kale, not the mooli"."""
    denied = set()
    for m in marks:
        crop = next((c for c in marks if c.kind == "crop" and m.start < c.start <= m.start + 2), None)
        same = crop is not None and board.tokens[crop.start].sentence == board.tokens[m.start].sentence
        if m.kind == "not" and crop is not None and same:
            denied.add(crop.value)
    left = [d for d in drafts if d.crop not in denied or d.plan == "drop"]
    return left or drafts


def _parts_only(drafts: list[_Draft]) -> list[_Draft]:
    """Without a whole that is told again in its parts: "12 tomatoes, 6 on the sill and 6 in the bedroom"."""
    if len(drafts) < 3 or drafts[0].count is None:
        return drafts
    whole, parts = drafts[0], drafts[1:]
    same = all(d.crop == whole.crop and d.action == whole.action and d.where for d in parts)
    if not same or sum(d.count or 0.0 for d in parts) != whole.count:
        return drafts
    return [replace(d, variety=d.variety or whole.variety, days=d.days or whole.days) for d in parts]


def _carried(request: Request, context: Context, marks: Sequence[NameMark]) -> tuple[CropRef, ...]:
    """The crops spoken of before that a clause without any is about; "the second" alone is the second of them."""
    before = context.deeds
    said = tuple(dict.fromkeys(ref for deed in before for ref in deed.crops))
    previous = context.previous.crops if context.previous is not None else ()
    about = request.crops if not any(m.kind == "crop" for m in marks) else ()
    left_out = {ref.id for deed in before if deed.action == "drop" for ref in deed.crops}
    about = tuple(ref for ref in about or previous or said or context.spoken[-1:] if ref.id not in left_out)
    which = [int(str(m.value)) for m in marks if m.kind == "which"]
    picked = tuple(about[n - 1] for n in which if n <= len(about))
    return picked if len(picked) == 1 and not any(m.kind == "count" for m in marks) else about


def _deed(
    draft: _Draft,
    heard: str,
    planned: bool,
    today: date,
    ahead: date | None,
    before: Deed | None,
    place: str | None,
) -> Deed:
    crops = () if draft.crop is None else (draft.crop,)
    where = draft.where
    if where == "same":
        where = place or (before.where if before is not None else None)
    told = Deed(
        draft.action or _as_before(draft, before, planned),
        "",
        crops,
        draft.variety,
        draft.count,
        draft.unit,
        where,
        draft.on,
        days=draft.days,
        which=draft.which,
    )
    if not planned and told.on is not None and told.on > today and draft.action is None:
        planned, heard = (
            True,
            heard or "decide",
        )  # "spinach on the 10th": no deed told, and the day is to come
    if not planned:
        on = told.on if told.on is not None else today
        return replace(told, on=on if on <= today else _gone_by(on, today))
    kind = draft.plan if heard in ("drop", "decide") else heard
    of = told.action if told.action not in ("done", NOTE) else None
    when = told.on if told.on is not None else (ahead if heard in ("postpone", "remind") else None)
    later = (ahead - today).days if kind == "postpone" and told.on is None and ahead is not None else None
    return replace(told, action=kind or "decide", of=of, on=when, later=later)


def _as_before(draft: _Draft, before: Deed | None, planned: bool) -> str:
    """What a crop and a count alone tell: the same deed as just before ("48 onions. 12 celeriac"); a weight is a
    harvest."""
    if draft.unit in ("lb", "kg", "oz", "jars"):
        return "harvest"
    if draft.where is not None and "ground" in draft.where and draft.crop is not None:
        return "plant"
    goes_on = draft.count is not None or draft.goes_on or (draft.where is not None and not draft.lent)
    once = (*BEFALLS, "harvest") if planned else (FROST, *(("buy",) if draft.where is not None else ()))
    done = before is not None and before.action not in (*PLANS, *once, "done")
    if draft.has and draft.count is not None and not planned:
        return HAVE
    if draft.verb:
        return NOTE
    if before is not None and done and draft.crop is not None and goes_on:
        return before.action
    begun = draft.count is not None and draft.crop is not None and not draft.has
    return "plant" if begun else NOTE  # "12 leeks in the top bed": there was none before, they were begun


def _together(deeds: Sequence[Deed]) -> list[Deed]:
    """Deeds that differ in nothing but their crop are one deed: "covered the peas and the kale"."""
    out: list[Deed] = []
    for deed in deeds:
        if out and deed.count is None and replace(deed, crops=()) == replace(out[-1], crops=()):
            out[-1] = replace(out[-1], crops=tuple(dict.fromkeys((*out[-1].crops, *deed.crops))))
        else:
            out.append(deed)
    return out


def _gone_by(day: date, today: date) -> date:
    """The latest such day gone by: of what was done a weekday ahead is last week's, a month's day last year's."""
    if (day - today).days <= 7:
        return day - timedelta(days=7)
    try:
        return day.replace(year=day.year - 1)
    except ValueError:
        return day.replace(year=day.year - 1, day=28)
