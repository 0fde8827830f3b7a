"""A frost or a morning's reading told of one year: "first frost last night", "last frost was 20 May in 2026",
"28 on my thermometer this morning". An average date ("my last frost is May 20") names no year and is none."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.place import Called
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.near_days import DAYS
from gardenmate.records import NamedTuple

_FROST = words("frost frosts freeze freezes")
_KINDS = words("killing hard light heavy white ground real proper big air autumn fall spring")
_LEADS = words("a the our my had got have has saw was were came there we i just")
_ASKS = words(
    "if whether will would could should can might may maybe tonight tomorrow forecast forecasting predicted "
    "expected expecting expect average averages usual usually normally normal typical typically when what how is "
    "are do does did suppose supposing say assume why which until unless risk chance"
)
_INSTRUMENTS = words("thermometer thermometers gauge minimum min sensor probe weatherstation logger")
_FELL = words("dropped fell went got hit reached touched bottomed down saw had low read showed said")
_INSIDE = words(
    "frame coldframe tunnel polytunnel greenhouse glasshouse hoophouse soil mat inside indoors room house shed garage "
    "porch tray trays bed beds fridge water compost basement cellar bedroom kitchen conservatory pot pots propagator"
)
_CAUGHT = words("killed took got nipped blackened hit ruined lost burned burnt caught damaged dead died")
MOST_WORDS = 14  # words of a sentence that tells of a frost seen; design value
FIRST_YEAR, LAST_YEAR = 1900, 2200  # years in which a frost can have been seen


class FrostTold(NamedTuple):
    """What a line tells: whether the frost was the last or the first of its season, and its morning."""

    called: Called | None
    on: date


def frost_told(board: Board, today: date, *, after: bool = False) -> FrostTold | None:
    """The frost or reading a line reports, None for a line that asks, supposes, tells an average, or is about a
    plant or a place indoors. ``after`` a question about a night, "it hit 29" tells how that went."""
    said = [t.word for t in board.tokens]
    if (
        not said
        or len(said) > MOST_WORDS
        or board.text.questions
        or _ASKS & (set(said) - _months_said(board))
    ):
        return None
    called = _called(said)
    if after and _how_it_went(board):
        return FrostTold(None, _day(board, today) or today)
    if board.of("crop") and called is None:
        return None
    day = _day(board, today)
    if called is not None:
        return None if day is None else FrostTold(called, day)
    if day is None or _INSIDE & set(said):
        return None
    frosty = _seen(said) and not _CAUGHT & set(said)
    read = bool(board.of("temp")) and (_INSTRUMENTS | _FELL) & set(said)
    return FrostTold(None, day) if frosty or read else None


def _how_it_went(board: Board) -> bool:
    """ "It hit 29", "so it was 26": it, a verb of what came, and the reading."""
    first = next((i for i in range(3) if board.word(i) == "it"), None)
    if first is None or board.word(first + 1) not in _FELL | _WAS:
        return False
    return any(first < s.start <= first + 4 for s in board.of("temp"))


_WAS = words("was")


def _months_said(board: Board) -> set[str]:
    """The word "may" where it stands in a date."""
    return {board.word(i) for span in board.of("date") for i in range(span.start, span.end)}


def _called(said: list[str]) -> Called | None:
    """ "last" or "first" where it stands before "frost", with no more than a kind of frost between; or behind it:
    "frost last night, first of the autumn"."""
    for i, word in enumerate(said):
        if word in ("last", "first"):
            j = i + 1
            while j < len(said) and said[j] in _KINDS:
                j += 1
            of_season = (
                "frost" in said[:i] and said[i + 1 : i + 2] == ["of"] and _SEASONS & set(said[i + 2 : i + 4])
            )
            if of_season or (j < len(said) and said[j] in _FROST):
                return "last" if word == "last" else "first"
    return None


_SEASONS = words("autumn fall season year spring winter")


def _seen(said: list[str]) -> bool:
    """True for "frost this morning", "we had a killing frost on ...": nothing but such words before the frost."""
    at = next((i for i, word in enumerate(said) if word in _FROST), None)
    return at is not None and all(word in _KINDS | _LEADS | _WHEN for word in said[:at])


_WHEN = words("this last morning night yesterday today on overnight")


def _day(board: Board, today: date) -> date | None:
    """The morning told, which lies in the past: a day of a year that is named, or one lately gone by."""
    said = [t.word for t in board.tokens]
    text = " ".join(said)
    days = [s.value for s in board.of("date") if isinstance(s.value, date)]
    year = _year(board, text, today)
    if days and year is not None:
        return _past(_in_year(days[0], year), today)
    if days and (today - days[0]).days >= 0 and (_lately(text) or "this morning" in text):
        return days[0]
    if "last night" in text or "this morning" in text or "overnight" in said or "today" in said:
        return today
    if "yesterday" in said:
        return today - timedelta(days=1)
    if days and {"had", "came", "got", "saw"} & set(said):
        back = days[0] if days[0] <= today else _in_year(days[0], days[0].year - 1)
        return back if not {"my", "our"} & set(said) or _seen(said) else None
    return None


def _lately(text: str) -> bool:
    return "yesterday" in text or any(day in text for day in DAYS)


def _year(board: Board, text: str, today: date) -> int | None:
    """The year named, in figures or as this or last year."""
    for token in board.tokens:
        n = token.number
        if n is not None and n == int(n) and FIRST_YEAR <= n <= LAST_YEAR:
            return int(n)
    if "this year" in text or "this spring" in text or "this fall" in text or "this autumn" in text:
        return today.year
    return today.year - 1 if "last year" in text or "last spring" in text or "last fall" in text else None


def _in_year(day: date, year: int) -> date:
    try:
        return day.replace(year=year)
    except ValueError:
        return day.replace(year=year, day=28)


def _past(day: date, today: date) -> date | None:
    return day if day <= today else None
