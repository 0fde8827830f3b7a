"""Days told from today: "tomorrow", "in two weeks", "last Friday", "Mother's Day", "the 25th"."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.calendar_days import (
    MONTHS,
    ORDINALS,
    PAST,
    SUFFIX,
    Found,
    Stretch,
    day_number,
    safe_date,
)
from gardenmate.language.values.holidays import holiday

DAYS = {
    "monday": 0, "mon": 0, "tuesday": 1, "tues": 1, "wednesday": 2, "thursday": 3, "thurs": 3,
    "friday": 4, "fri": 4,
    "saturday": 5, "sunday": 6,
}  # fmt: skip


def from_today(board: Board, i: int, today: date) -> Found | None:
    """ "yesterday", "tomorrow", "in two weeks", "a fortnight from now", "three days ago"."""
    word = board.word(i)
    near = _next_to_today(board, i, today)
    if near is not None:
        return near
    if word in ("next", "this", "coming", "last") and board.word(i + 1) in ("weekend", "week", "month"):
        if word == "this" and board.word(i + 1) == "week":
            return None
        start = today + timedelta(days=(5 - today.weekday()) % 7)
        if board.word(i + 1) == "weekend":
            if word == "this" and today.weekday() == 6:
                return i, i + 2, Stretch(today, today)  # on a Sunday what is left of it is today
            shift = 7 if word == "next" and today.weekday() < 5 else -7 if word == "last" else 0
            return i, i + 2, Stretch(start + timedelta(days=shift), start + timedelta(days=shift + 1))
        shift = {"next": 7, "last": -7}.get(word, 0)
        if board.word(i + 1) == "month":
            return None
        monday = today - timedelta(days=today.weekday()) + timedelta(days=shift)
        return i, i + 2, Stretch(monday, monday + timedelta(days=6))
    n = board.tokens[i].number
    unit = {"day": 1, "days": 1, "week": 7, "weeks": 7, "wks": 7, "fortnight": 14}
    j = i + 1
    if (
        n is None
        and word in ("a", "couple")
        and board.word(i + 1) in ("week", "fortnight", "couple", "weeks", "of", "days")
    ):
        n = 1.0
        if "couple" in (word, board.word(i + 1)):
            n = 2.0
            j = i + 1 if word == "couple" else i + 2
            j += board.word(j) == "of"
    per = unit.get(board.word(j))
    if n is None or per is None:
        return None
    after = board.words(j + 1, j + 3)
    led = board.word(i - 1) == "in"
    if (
        led
        and not after.startswith(("before", "after", "in", "now", "back", "ago"))
        and not _lasting(board, i)
    ):
        return _found(i - 1, j + 1, today, n * per)
    if after in ("from now", "from today") or (after.startswith("today") and per):
        return _found(i, j + 3, today, n * per)
    if after.startswith("ago") and per == 1 and any(t.word in _RECORDING for t in board.tokens):
        return _found(i, j + 2, today, -n * per)
    return None


def _next_to_today(board: Board, i: int, today: date) -> Found | None:
    """ "tomorrow", "yesterday", "the day after tomorrow", "tomorrow week" (a week from tomorrow)."""
    word, following = board.word(i), board.word(i + 1)
    if word in ("tomorrow", "today") and following == "week" and board.word(i - 1) not in _BEFORE_TODAY:
        return i, i + 2, today + timedelta(days=8 if word == "tomorrow" else 7)
    if word in ("tomorrow", "yesterday"):
        return i, i + 1, today + timedelta(days=1 if word == "tomorrow" else -1)
    if word == "day" and board.words(i + 1, i + 3) in ("before yesterday", "after tomorrow"):
        return i, i + 3, today + timedelta(days=-2 if following == "before" else 2)
    return None


_BEFORE_TODAY = words("a one this next last")
# Where something is written down "three days ago" is a day; elsewhere it is how long it has been.
_RECORDING = words("log note record write jot diary put add")


def _found(start: int, end: int, today: date, days: float) -> Found | None:
    """So many days from today; None when the calendar has no such day."""
    day = days_on(today, days)
    return None if day is None else (start, end, day)


def days_on(today: date, days: float) -> date | None:
    """The day so many days on (rounded to whole days); None when the calendar has no such day."""
    try:
        return today + timedelta(days=round(days))
    except (OverflowError, ValueError):
        return None


def _lasting(board: Board, i: int) -> bool:
    """ "been in 3 weeks", "came up in 8 days": how long, not when."""
    lead = {board.word(i - k) for k in range(2, 5)}
    if {board.word(i - k) for k in range(2, 4)} & {"nothing", "none", "nowt"}:
        return True  # "done nothing in 16 days"
    if any(board.words(k, k + 2) == "out of" for k in range(max(0, i - 6), i)):
        return True  # "three out of twenty in four weeks"
    return bool(
        lead & words("been up sprouted germinated mature matures ready rooted came emerge germinate sprout")
    )


def weekday(board: Board, i: int, today: date) -> Found | None:
    word = board.word(i)
    start, lead = i, ""
    if word in ("next", "this", "last", "on", "coming"):
        lead, i = word, i + 1
        word = board.word(i)
    number = DAYS.get(word) if word not in ("mon", "fri") or board.tokens[i].capital else None
    if number is None or (board.word(start - 1) == "good" or board.word(i - 1) in ("easter", "good")):
        return None
    day, after = day_number(board, i + 1 + (board.word(i + 1) == "the"))
    if day is None and board.word(i + 1) == "the" and board.word(i + 2) in ORDINALS:
        day, after = ORDINALS[board.word(i + 2)], i + 3
    if day is not None and (board.word(after - 1) in SUFFIX or board.word(i + 1) == "the"):
        near = [today + timedelta(days=n) for n in range(-21, 22)]  # "Saturday 24th"
        fits = [d for d in near if d.day == day and d.weekday() == number]
        if fits:
            return start, after, fits[0]
    ahead = (number - today.weekday()) % 7
    if ahead == 0 and lead == "" and board.word(i + 1) in _NOW_OF_DAY:
        return start, i + 1, today  # on a Sunday: "Sunday arvo, cricket's done"
    past = lead == "last" or board.word(i + 1) == "gone" or (lead in ("on", "") and told(board, i))
    if past:
        back = (today.weekday() - number) % 7 or 7
        return start, i + 1, today - timedelta(days=back)
    return start, i + 1, today + timedelta(days=ahead or 7)


_NOW_OF_DAY = words("arvo afternoon morning evening")
_AHEAD = words("will next until going forecast forecasting forecasted calling says say might coming should")


def told(board: Board, i: int) -> bool:
    """True when the sentence around token ``i`` tells of the past and of nothing to come."""
    sentence = board.tokens[i].sentence
    around = {t.word for t in board.tokens[max(0, i - 9) : i + 10] if t.sentence == sentence}
    return bool(around & PAST) and not around & _AHEAD


def feast_day(board: Board, i: int, today: date) -> Found | None:
    """Days growers plant by: Good Friday, Easter, Mother's Day, Memorial Day, solstices, equinoxes ... In a longer text
    only one that is led to ("by Easter")."""
    lead = board.word(i - 2) if board.word(i - 1) == "the" else board.word(i - 1)
    led = lead in ("on", "by", "for", "after", "before")
    return coming_feast(board, i, today) if led or len(board.tokens) <= _FEW_FOR_A_FEAST else None


_FEW_FOR_A_FEAST = 14  # words
_LONGEST_FEAST = 4  # words


def coming_feast(board: Board, i: int, today: date) -> Found | None:
    """The feast day named from token ``i`` on, in the coming season."""
    for length in range(_LONGEST_FEAST, 0, -1):
        name = board.words(i, i + length)
        made = holiday(name, today.year) if len(name.split()) == length else None
        if made is not None:
            if made < today - timedelta(days=30) and not any(t.word in PAST for t in board.tokens):
                made = holiday(name, today.year + 1) or made
            return i, i + length, made
    return None


def bare_day(board: Board, i: int, today: date) -> Found | None:
    """ "on the 1st", "by the 25th": the next such day, the last one when it is told as past."""
    if board.word(i) != "the" or i + 2 >= len(board.tokens) or board.tokens[i + 2].word not in SUFFIX:
        return None
    day, end = day_number(board, i + 1)
    if (
        day is None
        or board.word(end) in MONTHS
        or board.word(end) in ("of", "year", "time", "week", "one", "tray", "row", "day")
    ):
        return None
    past = any(t.word in PAST for t in board.tokens)
    year, month = today.year, today.month
    if past and day > today.day:
        year, month = (year, month - 1) if month > 1 else (year - 1, 12)
    elif not past and day < today.day:
        year, month = (year, month + 1) if month < 12 else (year + 1, 1)
    made = safe_date(year, month, day)
    return (i, end, made) if made else None
