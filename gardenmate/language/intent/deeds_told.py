"""The deeds a line tells: what was done, to which crops, how many, where and when; or what is planned.

The line falls into clauses; a clause that names no crop, deed, place or day of its own takes those of its
neighbours: "48 onions, 24 cabbages all in the ground" is two deeds, "24 on the 29th and again 12 on the 5th" too.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.core.question import CropRef, Deed, Request
from gardenmate.knowledge.deeds import FROST, NOTE
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.clauses_told import clauses_of
from gardenmate.language.intent.deed_drafts import DeedDraft, drafts_of, parts_only, without_denied
from gardenmate.language.intent.deed_marks import marks_on
from gardenmate.language.intent.name_marks import NameMark
from gardenmate.language.intent.places_told import NUMBER, NUMBERED
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
from gardenmate.records import replace


def deeds_told(
    board: Board,
    request: Request,
    facts: Facts,
    context: Context,
    *,
    planned: bool = False,
    correcting: bool = False,
    telling: bool = False,
    verb: str = "",
    doing: str = NOTE,
) -> tuple[Deed, ...]:
    """The deeds of a report, of a plan (``planned``) or of what is right instead (``correcting``: a weekday is the one
    nearest to the day told before), or of what a fact told (``telling``) says of plants. ``verb`` is the command heard
    in it, if any; ``doing`` the deed its words speak for where they name none. Never empty: what tells no deed is a
    note."""
    reported = not planned and not correcting
    planned = planned or correcting
    today = board.today or context.today
    planned = planned or lies_ahead(board)
    marks = marks_on(board, facts, context.varieties, context.gardens, correcting=correcting, telling=telling)
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
        if ((planned and not correcting) or verb == "job-done")
        and (context.listed or not context.before.pair)
        else ()
    )
    if numbers:
        return tuple(of_job(n, board, marks, planned, verb, text) for n in numbers)
    crops_at = {m.start for m in marks if m.kind == "crop"}
    if reported and any(m.kind == "not" and not crops_at & {m.start + 1, m.start + 2} for m in marks):
        doing = NOTE  # "lettuce never showed": what its words speak for is what did not happen
    clauses = clauses_of(board, marks)
    reminds = verb == "remind" or board.near(0, REMIND, 0, len(board.tokens)) or board.word(0) in REMIND
    own_job = (
        planned and reminds and says_what(board, marks) and not _THOSE & {t.word for t in board.tokens[2:]}
    )
    everything = planned and verb == "postpone" and any(m.kind == "all" for m in marks)
    carried = () if own_job or everything else _carried(request, context, marks)
    drafts = drafts_of(clauses, context, carried, planned, _of_those(board))
    drafts = parts_only(without_denied(drafts, marks, board))
    heard = verb if verb in PLANS else _plan(doing, board) if planned else ""
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
    place = _asked_place(context)
    deeds = [_deed(d, heard, planned, today, ahead, before, place, doing) for d in drafts]
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


_ANY = 10**6  # "done 77" is about a job, though none has that number
_THOSE = words("it them em those these they all lot everything both fine ok")
_FEW_WORDS = 9  # words of a line that leans on the one before; design value


def _of_those(board: Board) -> bool:
    """True for a short note that points back, or opens with what was done: "all fine this morning", "netted",
    "earthed up then"."""
    said = {t.word for t in board.tokens}
    first = board.word(0) if board.word(0) not in ("ok", "right", "so", "just") else board.word(1)
    done = first.endswith("ed") and len(first) > len("need")
    return len(board.tokens) <= _FEW_WORDS and (bool(said & _THOSE) or done)


def _carried(request: Request, context: Context, marks: Sequence[NameMark]) -> tuple[CropRef, ...]:
    """The crops spoken of before that a clause without any is about; "the second" alone is the second of them."""
    about = request.crops if not any(m.kind == "crop" for m in marks) else context.plants("last")
    left_out = {ref.id for deed in context.deeds if deed.action == "drop" for ref in deed.crops}
    about = tuple(ref for ref in about if ref.id not in left_out)
    which = [int(str(m.value)) for m in marks if m.kind == "which"]
    picked = tuple(about[n - 1] for n in which if n <= len(about))
    return picked if len(picked) == 1 and not any(m.kind == "count" for m in marks) else about


def _deed(
    draft: DeedDraft,
    heard: str,
    planned: bool,
    today: date,
    ahead: date | None,
    before: Deed | None,
    place: str | None,
    doing: str,
) -> Deed:
    crops = () if draft.crop is None else (draft.crop,)
    where = draft.where
    last = before.where if before is not None else None
    if where == "same":
        where = place or last
    elif where is not None and where.startswith(NUMBER):  # "200 in 2": of the beds or trays told of before
        kind = (last or "").split(" ")[0]
        where = f"{kind if kind in NUMBERED else 'bed'} {where.removeprefix(NUMBER)}"
    told = Deed(
        draft.action or _unnamed(draft, before, planned, doing),
        "",
        crops,
        draft.variety,
        draft.count,
        draft.unit,
        where,
        draft.on,
        days=draft.days,
        which=draft.which,
        supposed=draft.action is None,
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
    if when is not None and when < today - timedelta(days=_LONG_GONE_DAYS) and kind in (*PLANS, ""):
        when = when.replace(year=when.year + 1)  # "march 6", said in December: a plan is for days to come
    later = (ahead - today).days if kind == "postpone" and told.on is None and ahead is not None else None
    return replace(told, action=kind or "decide", of=of, on=when, later=later)


_LONG_GONE_DAYS = 31  # a plan for a day longer gone is for that day of the next year (design value)
_BEGINS = frozenset({"sow", "plant", "set-out"})


def _plan(doing: str, board: Board) -> str:
    return doing if doing in PLANS else plan_heard(board.words(0, len(board.tokens)))


def _unnamed(draft: DeedDraft, before: Deed | None, planned: bool, doing: str) -> str:
    """The deed of what names none: a weight is a harvest, else what its words and those before speak for (``doing``);
    in a plan the deed before, of which there is to be more ("48 onions. 12 celeriac")."""
    if draft.unit in ("lb", "kg", "oz", "jars"):
        return "harvest"
    if not planned:
        untold = draft.verb and doing in _BEGINS  # "staked 12 tomatoes": done, but not begun
        untold = untold or (draft.crop is None and draft.count is None)  # of no plant nothing is done
        return NOTE if untold or doing in (*PLANS, FROST) else doing
    goes_on = draft.count is not None or draft.goes_on or (draft.where is not None and not draft.lent)
    done = before is not None and before.action not in (*PLANS, *BEFALLS, "harvest", "done")
    if before is not None and done and draft.crop is not None and goes_on:
        return before.action
    begun = draft.count is not None and draft.crop is not None and not draft.has
    return "plant" if begun else NOTE


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
