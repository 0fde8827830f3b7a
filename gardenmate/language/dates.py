"""Days named in a text the way gardeners name them, for the day it is.

A `date` span holds a day (value: date) or, where only a stretch is meant ("in April", "early June", "next
weekend"), a `Stretch`: that is a date to talk about, but not a day for the slots.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import NamedTuple

from gardenmate.language.holidays import holiday
from gardenmate.language.spans import Board, Span, words

_MONTHS = {
    "january": 1, "jan": 1, "february": 2, "feb": 2, "march": 3, "april": 4, "apr": 4, "may": 5,
    "june": 6, "jun": 6,
    "july": 7, "jul": 7, "august": 8, "aug": 8, "september": 9, "sept": 9, "sep": 9, "october": 10,
    "oct": 10,
    "november": 11, "nov": 11, "december": 12, "dec": 12,
}  # fmt: skip
_DAYS = {
    "monday": 0, "mon": 0, "tuesday": 1, "tues": 1, "wednesday": 2, "thursday": 3, "thurs": 3,
    "friday": 4, "fri": 4,
    "saturday": 5, "sunday": 6,
}  # fmt: skip
_PARTS = {"early": (1, 10), "start": (1, 5), "beginning": (1, 7), "mid": (10, 20), "middle": (10, 20),
          "late": (20, 31), "end": (25, 31)}  # fmt: skip
_ORDINALS = {
    "first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8,
    "ninth": 9, "tenth": 10, "eleventh": 11, "twelfth": 12, "thirteenth": 13, "fourteenth": 14,
    "fifteenth": 15, "sixteenth": 16, "seventeenth": 17, "eighteenth": 18, "nineteenth": 19,
    "twentieth": 20, "thirtieth": 30,
}  # fmt: skip
_SUFFIX = frozenset({"st", "nd", "rd", "th"})
# "may" and "march" are months only in company
_MONTH_LEADS = words(
    "in of by until to early mid late end start middle this next last on since around about before after "
    "during for through and or from beginning till is its be it was first come every"
)  # fmt: skip
_PAST = words(
    "sowed sown started planted potted yesterday last ago did log recorded went put was were had seeded "
    "moved pruned transplanted dug harvested picked took cut pulled bought since came got froze cleared home"
)  # fmt: skip

FEW = 10  # words; a feast day in a longer text is background
SHORT = 16  # words; a longer text tells a story, and not every day in it is meant


class Stretch(NamedTuple):
    """A stretch of days, both ends included: a month, "early June", "next weekend"."""

    first: date
    last: date

    @property
    def middle(self) -> date:
        """The day halfway."""
        return self.first + (self.last - self.first) / 2


def find_dates(board: Board, today: date, day_first: bool) -> None:
    """Lay a `date` span on every day or stretch of days. ``day_first``: 5/4 is 5 April."""
    board.today = today
    for i in range(len(board.tokens)):
        if i in board.taken:
            continue
        found = (
            _month_date(board, i, today)
            or _numeric(board, i, today, day_first)
            or _relative(board, i, today)
            or _weekday(board, i, today)
            or _holiday(board, i, today)
            or _bare_day(board, i, today)
        )
        if found is not None:
            board.lay(found[0], found[1], "date", found[2])


def a_day(board: Board, weights: Mapping[int, float]) -> date | None:
    """The day that counts: the first day named that is a day and not a stretch; in a long text a weekday or
    holiday counts only in the question clause. ``weights``: token -> weight of its clause."""
    for span in board.of("date"):
        if not isinstance(span.value, date):
            continue
        said = [t.word for t in board.tokens[span.start : span.end]]
        firm = any(t.number is not None for t in board.tokens[span.start : span.end]) or any(
            w in _MONTHS or w in ("yesterday", "tomorrow") for w in said
        )
        ahead = any(w in _DAYS for w in said) and _to_come(board, span)
        if not firm and not any(w in _DAYS for w in said) and len(board.tokens) > FEW:
            continue  # a feast day tells when the story was, seldom what is asked
        if firm or ahead or len(board.tokens) <= SHORT or weights.get(span.start, 1.0) == 1.0:
            return span.value
    return None


def _to_come(board: Board, span: Span) -> bool:
    """True for a weekday that lies ahead and is spoken of as a day to do or fear something."""
    if board.today is None or not isinstance(span.value, date) or span.value <= board.today:
        return False
    before, after = board.word(span.start - 1), board.word(span.end)
    return (
        bool(board.of("temp"))
        or before in ("coming", "next", "by", "is", "until", "so")
        or board.word(span.start) in ("next", "this", "coming")
        or after in ("i", "night", "morning", "we", "to")
    ) and not _told(board, span.start)


Found = tuple[int, int, date | Stretch]


def _is_month(board: Board, i: int) -> int | None:
    word = board.word(i)
    month = _MONTHS.get(word)
    if month is None:
        return None
    token = board.tokens[i]
    if word in ("may", "march", "mar", "sep", "jun"):
        beside = [board.tokens[k].number for k in (i - 1, i + 1) if 0 <= k < len(board.tokens)]
        number_by = any(n is not None and n <= 31 for n in beside) or board.word(i - 1) in _SUFFIX
        if not (board.word(i - 1) in _MONTH_LEADS or number_by or (token.capital and i > 0)):
            return None
        if (
            word == "may"
            and board.word(i + 1) in ("be", "have", "not", "i", "need", "want", "get", "as", "go", "take")
            and not number_by
        ):
            return None
    return month


def _month_date(board: Board, i: int, today: date) -> Found | None:
    """ "May 25", "25 May", "the 25th of May", "mid May", "in April", "week of May 3"."""
    tokens = board.tokens
    token = tokens[i]
    month = _is_month(board, i)
    if month is not None:
        day, end = _day_number(board, i + 1)
        if day is None:
            word = board.word(i + 1)
            j = i + 2 if word == "the" else i + 1
            ordinal = _ORDINALS.get(board.word(j))
            if ordinal is not None and word != "of":
                day, end = ordinal, j + 1
            elif word == "the":
                day, end = _day_number(board, i + 2)
        if day is not None:
            year, end = _year(board, end)
            made = _make(year, month, day, today, board)
            if made is not None:
                return i, end, made
        year, end = _year(board, i + 1)
        return i, end, _stretch(month, today, year)
    if token.word in _PARTS or token.word in ("week",):
        j = i + 1
        while board.word(j) in ("of", "the", "to", "in", "late", "part", "half") and j < i + 4:
            j += 1
        month = _is_month(board, j)
        if month is not None and not _day_number(board, j + 1)[0]:
            first, last = _PARTS.get(token.word, (1, 31))
            return i, j + 1, _within(month, first, last, today)
        return None
    day, end = _day_number(board, i)
    if day is None and token.word in _ORDINALS and board.word(i + 1) in ("of",):
        day, end = _ORDINALS[token.word], i + 1
        if board.word(i + 2) == "week":
            day = None
    if day is not None and board.word(i - 1) not in ("$", "£"):
        j = end + 1 if board.word(end) == "of" else end
        month = _MONTHS.get(board.word(j))
        if month is not None and (
            j + 1 >= len(tokens) or board.word(j + 1) not in ("be", "have") or tokens[j].capital
        ):
            year, after = _year(board, j + 1)
            made = _make(year, month, day, today, board)
            if made is not None:
                return i, after, made
    return None


def _day_number(board: Board, i: int) -> tuple[int | None, int]:
    """A day of the month at token ``i`` (with or without st/nd/rd/th) and where it ends."""
    if not 0 <= i < len(board.tokens):
        return None, i
    n = board.tokens[i].number
    if n is None or n != int(n) or not 1 <= n <= 31 or board.tokens[i].raw.isalpha():
        return None, i
    end = i + 1
    follow = board.word(end)
    if follow in _SUFFIX and board.tokens[end].gap == "":
        return int(n), end + 1
    if follow in (
        "degrees",
        "°",
        "f",
        "c",
        "%",
        "plants",
        "seeds",
        "weeks",
        "days",
        "am",
        "pm",
    ) and end < len(board.tokens):
        return None, i
    return int(n), end


def _year(board: Board, i: int) -> tuple[int | None, int]:
    if i < len(board.tokens):
        n = board.tokens[i].number
        if n is not None and 1990 <= n <= 2100 and n == int(n):
            return int(n), i + 1
    return None, i


def _make(year: int | None, month: int, day: int, today: date, board: Board) -> date | None:
    try:
        if year is not None:
            return date(year, month, day)
        made = date(today.year, month, day)
    except ValueError:
        return None
    if (
        made > today + timedelta(days=60)
        and any(t.word in _PAST for t in board.tokens)
        and (board.near(0, frozenset({"log", "note", "record", "write", "jot"}), 0, len(board.tokens)))
    ):
        return date(today.year - 1, month, day)
    return made


def _stretch(month: int, today: date, year: int | None) -> Stretch:
    made = _within(month, 1, 31, today)
    return (
        Stretch(made.first.replace(year=year), made.last.replace(year=year, day=min(made.last.day, 28)))
        if year
        else made
    )


def _within(month: int, first: int, last: int, today: date) -> Stretch:
    year = today.year
    end = date(year + (month == 12), month % 12 + 1, 1) - timedelta(days=1)
    return Stretch(date(year, month, first), min(date(year, month, min(last, end.day)), end))


def _numeric(board: Board, i: int, today: date, day_first: bool) -> Found | None:
    """ "5/25", "25/5", "2027-05-25"."""
    tokens = board.tokens
    if i + 1 >= len(tokens) or tokens[i].number is None or tokens[i + 1].number is None:
        return None
    a, b = tokens[i].number or 0.0, tokens[i + 1].number or 0.0
    if a != int(a) or b != int(b):
        return None
    if tokens[i + 1].gap == "-" and 1990 <= a <= 2100 and i + 2 < len(tokens) and tokens[i + 2].gap == "-":
        made = _safe(int(a), int(b), int(tokens[i + 2].number or 0))
        return (i, i + 3, made) if made else None
    if tokens[i + 1].gap != "/":
        return None
    first, second = int(a), int(b)
    month, day = (second, first) if (first > 12 or (day_first and second <= 12)) else (first, second)
    end = i + 2
    year = today.year
    if end < len(tokens) and tokens[end].gap == "/" and tokens[end].number is not None:
        year = int(tokens[end].number or 0)
        year += 2000 if year < 100 else 0
        end += 1
    made = _safe(year, month, day)
    return (i, end, made) if made else None


def _safe(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except (ValueError, OverflowError):
        return None


def _relative(board: Board, i: int, today: date) -> Found | None:
    """ "yesterday", "tomorrow", "in two weeks", "a fortnight from now", "three days ago"."""
    word = board.word(i)
    if word == "tomorrow":
        return i, i + 1, today + timedelta(days=1)
    if word == "yesterday":
        return i, i + 1, today - timedelta(days=1)
    if word == "day" and board.words(i + 1, i + 3) in ("before yesterday", "after tomorrow"):
        return i, i + 3, today + timedelta(days=-2 if board.word(i + 1) == "before" else 2)
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
    if led and not after.startswith(("before", "after", "in", "now")) and not _lasting(board, i):
        return _found(i - 1, j + 1, today, n * per)
    if after in ("from now", "from today") or (after.startswith("today") and per):
        return _found(i, j + 3, today, n * per)
    if after.startswith("ago") and per == 1:
        return _found(i, j + 2, today, -n * per)
    return None


def _found(start: int, end: int, today: date, days: float) -> Found | None:
    """So many days from today; None when the calendar has no such day."""
    try:
        return start, end, today + timedelta(days=round(days))
    except OverflowError:
        return None


def _lasting(board: Board, i: int) -> bool:
    """ "been in 3 weeks", "came up in 8 days": how long, not when."""
    lead = {board.word(i - k) for k in range(2, 5)}
    return bool(
        lead & words("been up sprouted germinated mature matures ready rooted came emerge germinate sprout")
    )


def _weekday(board: Board, i: int, today: date) -> Found | None:
    word = board.word(i)
    start, lead = i, ""
    if word in ("next", "this", "last", "on", "coming"):
        lead, i = word, i + 1
        word = board.word(i)
    number = _DAYS.get(word) if word not in ("mon", "fri") or board.tokens[i].capital else None
    if number is None or (board.word(start - 1) == "good" or board.word(i - 1) in ("easter", "good")):
        return None
    day, after = _day_number(board, i + 1 + (board.word(i + 1) == "the"))
    if day is None and board.word(i + 1) == "the" and board.word(i + 2) in _ORDINALS:
        day, after = _ORDINALS[board.word(i + 2)], i + 3
    if day is not None and (board.word(after - 1) in _SUFFIX or board.word(i + 1) == "the"):
        near = [today + timedelta(days=n) for n in range(-21, 22)]  # "Saturday 24th"
        fits = [d for d in near if d.day == day and d.weekday() == number]
        if fits:
            return start, after, fits[0]
    ahead = (number - today.weekday()) % 7
    past = lead == "last" or board.word(i + 1) == "gone" or (lead in ("on", "") and _told(board, i))
    if past:
        back = (today.weekday() - number) % 7 or 7
        return start, i + 1, today - timedelta(days=back)
    return start, i + 1, today + timedelta(days=ahead or 7)


_AHEAD = words("will next until going forecast forecasting forecasted calling says say might coming should")


def _told(board: Board, i: int) -> bool:
    """True when the sentence around token ``i`` tells of the past and of nothing to come."""
    sentence = board.tokens[i].sentence
    around = {t.word for t in board.tokens[max(0, i - 9) : i + 10] if t.sentence == sentence}
    return bool(around & _PAST) and not around & _AHEAD


def _holiday(board: Board, i: int, today: date) -> Found | None:
    """Days growers plant by: Good Friday, Easter, Mother's Day, Memorial Day, solstices, equinoxes ..."""
    three, two, one = board.words(i, i + 3), board.words(i, i + 2), board.word(i)
    for length, name in ((3, three), (2, two), (1, one)):
        made = holiday(name, today.year)
        if made is not None and (
            len(board.tokens) <= 14 or board.word(i - 1) in ("on", "by", "for", "after", "before")
        ):
            if made < today - timedelta(days=30) and not any(t.word in _PAST for t in board.tokens):
                made = holiday(name, today.year + 1) or made
            return i, i + length, made
    return None


def _bare_day(board: Board, i: int, today: date) -> Found | None:
    """ "on the 1st", "by the 25th": the next such day, the last one when it is told as past."""
    if board.word(i) != "the" or i + 2 >= len(board.tokens) or board.tokens[i + 2].word not in _SUFFIX:
        return None
    day, end = _day_number(board, i + 1)
    if (
        day is None
        or board.word(end) in _MONTHS
        or board.word(end) in ("of", "year", "time", "week", "one", "tray", "row", "day")
    ):
        return None
    past = any(t.word in _PAST for t in board.tokens)
    year, month = today.year, today.month
    if past and day > today.day:
        year, month = (year, month - 1) if month > 1 else (year - 1, 12)
    elif not past and day < today.day:
        year, month = (year, month + 1) if month < 12 else (year + 1, 1)
    made = _safe(year, month, day)
    return (i, end, made) if made else None
