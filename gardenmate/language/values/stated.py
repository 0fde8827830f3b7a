"""Every value the words state, as the machine contract counts them, whether or not it bears on the answer.

`Request.slots` holds what the answer is worked with; the day of another job, a month's middle are left out there. Here
they stand as typed: mid May is the 15th, early May and its start the 5th, its end the last day. A long text is a story,
and what it holds beside the question is not stated for it.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from gardenmate.core.question import SEASON_TOPICS, Slots
from gardenmate.language.text.spans import Board, Span, words
from gardenmate.language.values.amounts import no_quantity
from gardenmate.language.values.calendar_days import Stretch
from gardenmate.language.values.dates import SHORT
from gardenmate.language.values.near_days import coming_feast
from gardenmate.language.values.stated_figures import figures
from gardenmate.records import replace

_MID, _EARLY = words("mid middle"), words("early start beginning")
_UNLIKE_DAYS = frozenset({"temp", "money", "count", "people"})
_WEEKS_OF_A_YEAR = 53  # the most a year has (ISO 8601)


def stated(board: Board, slots: Slots, topic: str) -> Slots:
    """``slots`` with every value added that the words state and that is not in them."""
    if topic == "out-of-scope" or len(board.tokens) > SHORT:
        return slots
    found: dict[str, Any] = {
        "date": slots.date or _day(board),
        "count": _one_of_so_many(board) or (slots.count if slots.count is not None else _count(board, topic)),
        "method": _raised(board) if slots.method in (None, "setout") else slots.method,
        "plant_age_years": slots.plant_age_years or _first(board, "age"),
        "days_to_maturity": slots.days_to_maturity or _first(board, "dtm"),
        "people": slots.people or _first(board, "people"),
        "price": slots.price or _first(board, "money"),
    }
    for unit in ("days", "weeks"):
        lasting = [s.value[1] for s in board.of("span") if s.value[0] == unit]
        if lasting and getattr(slots, unit) is None and found["date"] is None:
            found[unit] = lasting[0]
    if slots.when == "today" and any(
        board.word(k) == "today" for s in board.of("date") for k in range(s.start, s.end)
    ):
        found["when"] = None  # "a fortnight today" is a date
    found["method"] = found["method"] or slots.method or _method(board, topic)
    found["cultivar_class"] = _sort(board) or slots.cultivar_class
    if topic in _OF_MATURITY and slots.days_to_maturity is None and (days := slots.days or found.get("days")):
        found |= {"days": None, "days_to_maturity": round(days)}
    filled = replace(slots, **found)
    return replace(filled, **figures(board, filled, topic))


_OF_MATURITY = frozenset({"garden"})


def _raised(board: Board) -> str | None:
    """Indoors, where seed is started in a place named as such: "sow under lights for planting out May 20"."""
    said = f" {board.words(0, len(board.tokens))} "
    indoors = any(f" {phrase} " in said for phrase in _INDOORS)
    return "indoors" if indoors and _STARTED & {t.word for t in board.tokens} else None


_SORTS = (
    ("early", ("first earlies", "first early", "earlies", "an early sort", "early sort")),
    ("mid", ("second earlies", "second early")),
    (
        "late",
        ("maincrop", "main crop", "maincrops", "late sort", "late cabbage", "late cabbages", "late tomatoes"),
    ),
)


def _sort(board: Board) -> str | None:
    """The class of sort named by a trade word for it: "second earlies" are mid, "maincrop" is late."""
    said = f" {board.words(0, len(board.tokens))} "
    heard = [(len(name), cls) for cls, names in _SORTS for name in names if f" {name} " in said]
    return max(heard)[1] if heard and " too late cabbage" not in said else None


def _first(board: Board, tag: str) -> Any:
    spans = board.of(tag)
    return spans[0].value if spans and isinstance(spans[0].value, int | float) else None


# -- days ----------------------------------------------------------------------------------------------
def _day(board: Board) -> date | None:
    """The first day stated: a date, a part of a month, a holiday, a week by its number."""
    days = [(s.start, s.value) for s in board.of("date") if isinstance(s.value, date)]
    days += [(s.start, d) for s in board.of("date") if (d := _part_of_month(board, s)) is not None]
    for i in range(len(board.tokens)):
        d = _numbered_week(board, i) or _feast(board, i)
        if d is not None:
            days.append((i, d))
    return min(days)[1] if days else None


def _part_of_month(board: Board, span: Span) -> date | None:
    if not isinstance(span.value, Stretch):
        return None
    lead, month = board.word(span.start), span.value.first
    lead = lead if span.end - span.start > 1 else board.word(span.start - 1)
    if lead in _MID:
        return month.replace(day=15)
    if lead in _EARLY:
        return month.replace(day=5)
    if lead == "end":
        first_after = (month.replace(day=1) + timedelta(days=32)).replace(day=1)
        return first_after - timedelta(days=1)
    return None


def _numbered_week(board: Board, i: int) -> date | None:
    """The Monday of "week 20", counted as in ISO 8601."""
    n = board.tokens[i + 1].number if board.word(i) == "week" and i + 1 < len(board.tokens) else None
    if n is None or n != int(n) or not 10 <= n <= _WEEKS_OF_A_YEAR or board.today is None:
        return None
    return date.fromisocalendar(board.today.year, min(int(n), 52), 1)


def _feast(board: Board, i: int) -> date | None:
    if board.today is None or any(
        s.start <= i < s.end for s in board.spans if s.tag in _UNLIKE_DAYS | {"date"}
    ):
        return None
    feast = coming_feast(board, i, board.today)
    return feast[2] if feast is not None and isinstance(feast[2], date) else None


# -- how it is grown -----------------------------------------------------------------------------------
_INDOORS = (
    "on the sill", "on a sill", "on the windowsill", "on a windowsill", "on the window sill", "under lights",
    "under the lights", "under the lamp", "under a lamp", "under light", "indoors", "under the light", "inside at",
    "started inside", "sown inside", "windowsill", "east sill", "south sill",
)  # fmt: skip
_STARTED = words("sow sown sowing start started starting")
_OUTDOORS = (
    "direct", "straight in", "straight where", "straight into", "sown outside", "sow outside", "sown in the bed",
    "sow outdoors", "sown outdoors", "outdoors direct", "where they will", "in situ",
)  # fmt: skip
_SETOUT = (
    "plant out", "planted out", "planting out", "set out", "setting out", "transplant", "transplanted",
    "transplanting", "go out", "going out", "gone out", "goes out", "went out", "put out", "putting out", "move out",
)  # fmt: skip
_STARTS = (
    "plants not seed", "bought plants", "shop plants", "from plants", "store plants", "nursery plants", "buy plants",
    "bought in plants", "from starts", "bought starts", "plants from the shop",
)  # fmt: skip
_OUT_ALONE = frozenset({*SEASON_TOPICS, "log"})


def _method(board: Board, topic: str) -> str | None:
    """How the words say it is grown; of several the one said first."""
    said = f" {board.words(0, len(board.tokens))} "
    heard = [
        (at, method)
        for method, phrases in (
            ("indoors", _INDOORS),
            ("outdoors", _OUTDOORS),
            ("setout", _SETOUT),
            ("starts", _STARTS),
        )
        for phrase in phrases
        if (at := said.find(f" {phrase} ")) >= 0
    ]
    if heard:
        return min(heard)[1]
    out = topic in _OUT_ALONE and any(
        board.word(s.end) == "out" and board.word(s.end + 1) != "of" for s in board.spans if s.tag == "crop"
    )
    return "setout" if out else None


# -- how many ------------------------------------------------------------------------------------------
_HELD = frozenset(
    {"temp", "date", "span", "age", "money", "people", "people_part", "dtm", "place", "height", "cells"}
)
_THINGS = words(
    "plant plants seed seeds seedling seedlings tray trays flat flats pot pots packet packets row rows clove cloves "
    "bulb bulbs set sets slip slips crown crowns tuber tubers cane canes cutting cuttings bush bushes tree trees mat "
    "mats lamp lamps light lights frame frames stick sticks bed beds up bulb kids jars lb lbs pounds"
)
_ONE_OF = words("just only a single another")
_LOOKS = 3  # words between a number and what it counts


def _one_of_so_many(board: Board) -> float | None:
    """The first number of "5 of a dozen chillies"; None where none is."""
    spots = (i for i, t in enumerate(board.tokens) if t.number is not None and _of_so_many(board, i))
    return next((board.tokens[i].number for i in spots), None)


def _count(board: Board, topic: str) -> float | None:
    """The first quantity of a plant or of what it grows in."""
    held = {i for s in board.spans if s.tag in _HELD for i in range(s.start, s.end)}
    crops = {s.start for s in board.spans if s.tag in ("crop", "family")}
    ends = {s.end for s in board.spans if s.tag in ("crop", "family")}
    for i, token in enumerate(board.tokens):
        n = token.number
        if n is None or n <= 0 or i in held or n != int(n):
            continue
        if topic == "log" and _alone(board, i):
            return n
        if board.word(i + 1) == "for" and any(s.start == i + 2 for s in board.of("money")):
            return n  # "sprouts 6 for 2.50"
        if any(s.start == i for s in board.of("count")):
            return n
        if no_quantity(board, i) or (token.word == "one" and board.word(i - 1) not in _ONE_OF):
            continue
        if _of_things(board, i, crops) or (i in ends and i + 1 == len(board.tokens) and n < _MOST_BARE):
            return n
    return None


_MOST_BARE = 13  # a bare number from here on that ends a line is no count; design value


def _alone(board: Board, i: int) -> bool:
    """True for a number between commas: "onion sets, 100, in yesterday"."""
    last = i + 1 >= len(board.tokens)
    return "," in board.tokens[i].gap and (last or "," in board.tokens[i + 1].gap)


def _of_so_many(board: Board, i: int) -> bool:
    """True for the first of "5 of a dozen chillies", "three out of twenty", "one of the twelve"."""
    k = i + 1 + (board.word(i + 1) == "out")
    k += 1 + (board.word(k + 1) in ("a", "the", "my", "those", "these"))
    joined = "of" in (board.word(k - 1), board.word(k - 2))
    return joined and k < len(board.tokens) and board.tokens[k].number is not None


def _of_things(board: Board, i: int, crops: set[int]) -> bool:
    """True when a crop or what it grows in stands shortly behind the number."""
    for k in range(i + 1, min(i + 1 + _LOOKS, len(board.tokens))):
        token = board.tokens[k]
        if token.number is not None or token.sentence != board.tokens[i].sentence or "," in token.gap:
            return False
        if k in crops or token.word in _THINGS or board.words(k, k + 3) == "to a pot":
            return True
    return False
