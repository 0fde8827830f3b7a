"""Days and stretches of days by the calendar: "May 25", "the 25th of May", "mid May", "5/25"."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.language.text.spans import Board, words
from gardenmate.records import NamedTuple

MONTHS = {
    "january": 1, "jan": 1, "february": 2, "feb": 2, "march": 3, "mar": 3, "april": 4, "apr": 4, "may": 5,
    "june": 6, "jun": 6,
    "july": 7, "jul": 7, "august": 8, "aug": 8, "september": 9, "sept": 9, "sep": 9, "october": 10,
    "oct": 10,
    "november": 11, "nov": 11, "december": 12, "dec": 12,
}  # fmt: skip
_PARTS = {"early": (1, 10), "start": (1, 10), "beginning": (1, 10), "mid": (10, 20), "middle": (10, 20),
          "late": (20, 31), "end": (25, 31)}  # fmt: skip
ORDINALS = {
    "first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8,
    "ninth": 9, "tenth": 10, "eleventh": 11, "twelfth": 12, "thirteenth": 13, "fourteenth": 14,
    "fifteenth": 15, "sixteenth": 16, "seventeenth": 17, "eighteenth": 18, "nineteenth": 19,
    "twentieth": 20, "thirtieth": 30,
}  # fmt: skip
_WEEKS = {"first": (1, 7), "1": (1, 7), "second": (8, 14), "2": (8, 14), "third": (15, 21), "3": (15, 21),
          "fourth": (22, 28), "4": (22, 28), "last": (25, 31)}  # fmt: skip
"""Days of a week of a month, by its ordinal."""
SUFFIX = frozenset({"st", "nd", "rd", "th"})
# "may" and "march" are months only in company
_MONTH_LEADS = words(
    "in of by until to early mid late end start middle this next last on since around about before after "
    "during for through and or from beginning till is its be it was first come every"
)  # fmt: skip
PAST = words(
    "sowed sown started planted potted yesterday last ago did log recorded went put was were had seeded "
    "moved pruned transplanted dug harvested picked took cut pulled bought since came got froze cleared home"
)  # fmt: skip


class Stretch(NamedTuple):
    """A stretch of days, both ends included: a month, "early June", "next weekend"."""

    first: date
    last: date

    @property
    def middle(self) -> date:
        """The day halfway."""
        return self.first + (self.last - self.first) / 2


Found = tuple[int, int, date | Stretch]


def _is_month(board: Board, i: int) -> int | None:
    word = board.word(i)
    month = MONTHS.get(word)
    if month is None:
        return None
    token = board.tokens[i]
    if word in ("may", "march", "mar", "sep", "jun"):
        beside = [board.tokens[k].number for k in (i - 1, i + 1) if 0 <= k < len(board.tokens)]
        number_by = any(n is not None and n <= 31 for n in beside) or board.word(i - 1) in SUFFIX
        if not (board.word(i - 1) in _MONTH_LEADS or number_by or (token.capital and i > 0)):
            return None
        if (
            word == "may"
            and board.word(i + 1) in ("be", "have", "not", "i", "need", "want", "get", "as", "go", "take")
            and not number_by
            and board.word(i - 1) not in ("in", "mid", "late", "early", "of")
        ):
            return None
    return month


def _week_of_month(board: Board, i: int, today: date) -> Found | None:
    """ "the first week of June", "2nd week in May": token ``i`` is the ordinal."""
    days = _WEEKS.get(board.word(i))
    j = i + 2 if board.word(i + 1) in SUFFIX else i + 1
    if days is None or board.word(j) != "week" or board.word(j + 1) not in ("of", "in"):
        return None
    month = _is_month(board, j + 2)
    if month is None or day_number(board, j + 3)[0]:
        return None
    return i, j + 3, _within(month, *days, today)


def month_date(board: Board, i: int, today: date) -> Found | None:
    """ "May 25", "25 May", "the 25th of May", "mid May", "in April", "week of May 3", "first week of May"."""
    return _week_of_month(board, i, today) or _so_far_in(board, i, today) or _of_month(board, i, today)


def _so_far_in(board: Board, i: int, today: date) -> Found | None:
    """ "Eight days into September", "two weeks into May": token ``i`` is the number."""
    n, per = board.tokens[i].number, {"day": 1, "days": 1, "week": 7, "weeks": 7}.get(board.word(i + 1))
    month = MONTHS.get(board.word(i + 3)) if board.word(i + 2) == "into" else None
    if n is None or per is None or month is None or not 1 <= n * per <= 28:
        return None
    return i, i + 4, date(today.year, month, round(n * per))


def _of_month(board: Board, i: int, today: date) -> Found | None:
    tokens = board.tokens
    token = tokens[i]
    month = _is_month(board, i)
    if month is not None:
        day, end = day_number(board, i + 1)
        if day is None:
            word = board.word(i + 1)
            j = i + 2 if word == "the" else i + 1
            ordinal = ORDINALS.get(board.word(j))
            if ordinal is not None and word != "of":
                day, end = ordinal, j + 1
            elif word == "the":
                day, end = day_number(board, i + 2)
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
        if month is not None and not day_number(board, j + 1)[0]:
            first, last = _PARTS.get(token.word, (1, 31))
            return i, j + 1, _within(month, first, last, today)
        return None
    day, end = day_number(board, i)
    if day is None and token.word in ORDINALS and board.word(i + 1) in ("of",):
        day, end = ORDINALS[token.word], i + 1
        if board.word(i + 2) == "week":
            day = None
    if day is not None and board.word(i - 1) not in ("$", "£"):
        j = end + 1 if board.word(end) == "of" else end
        month = MONTHS.get(board.word(j))
        counts = month is not None and "," in board.tokens[j].gap and day_number(board, j + 1)[0] is not None
        if (
            month is not None
            and not counts
            and (j + 1 >= len(tokens) or board.word(j + 1) not in ("be", "have") or tokens[j].capital)
        ):
            year, after = _year(board, j + 1)
            made = _make(year, month, day, today, board)
            if made is not None:
                return i, after, made
    return None


def day_number(board: Board, i: int) -> tuple[int | None, int]:
    """A day of the month at token ``i`` (with or without st/nd/rd/th) and where it ends."""
    if not 0 <= i < len(board.tokens):
        return None, i
    n = board.tokens[i].number
    if n is None or n != int(n) or not 1 <= n <= 31 or board.tokens[i].raw.isalpha():
        return None, i
    end = i + 1
    follow = board.word(end)
    if follow in SUFFIX and board.tokens[end].gap == "":
        return int(n), end + 1
    if end < len(board.tokens) and follow in _NO_DAY and not _new_clause(board, end):
        return None, i
    return int(n), end


_NO_DAY = words("degrees ° f c % plants seeds weeks days am pm")


def _new_clause(board: Board, i: int) -> bool:
    """True for the "am" of "on May 1, am I cutting"."""
    return "," in board.tokens[i].gap


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
        and any(t.word in PAST for t in board.tokens)
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


_PARTS_OF = words(
    "inch inches in cm foot feet ft cup cups pint pints lb lbs pound pounds gallon strength full"
)
"""What a fraction is of: "3/4 inch" is no fourth of March."""


def numeric_date(board: Board, i: int, today: date, day_first: bool) -> Found | None:
    """ "5/25", "25/5", "2027-05-25"."""
    tokens = board.tokens
    if i + 1 >= len(tokens) or tokens[i].number is None or tokens[i + 1].number is None:
        return None
    a, b = tokens[i].number or 0.0, tokens[i + 1].number or 0.0
    if a != int(a) or b != int(b):
        return None
    if tokens[i + 1].gap == "-" and 1990 <= a <= 2100 and i + 2 < len(tokens) and tokens[i + 2].gap == "-":
        made = safe_date(int(a), int(b), int(tokens[i + 2].number or 0))
        return (i, i + 3, made) if made else None
    if tokens[i + 1].gap != "/" or board.word(i + 2) in _PARTS_OF:
        return None
    first, second = int(a), int(b)
    month, day = (second, first) if (first > 12 or (day_first and second <= 12)) else (first, second)
    end = i + 2
    year = today.year
    if end < len(tokens) and tokens[end].gap == "/" and tokens[end].number is not None:
        year = int(tokens[end].number or 0)
        year += 2000 if year < 100 else 0
        end += 1
    made = safe_date(year, month, day)
    return (i, end, made) if made else None


def safe_date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except (ValueError, OverflowError):
        return None
