"""What a line tells of deeds, word by word: marks on its tokens, from which the deeds are put together."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, timedelta

from gardenmate.core.pattern import Pattern
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.name_marks import UNITS, NameMark
from gardenmate.language.intent.names_told import crops_named, stands_free, varieties_named
from gardenmate.language.intent.places_told import NUMBERED, places_named
from gardenmate.language.text.spans import Board, Span, words
from gardenmate.language.values.calendar_days import MONTHS, Stretch
from gardenmate.language.values.deeds import longest_deed_at
from gardenmate.language.values.near_days import DAYS

_NO_COUNT = words(
    "day days week weeks month months year years yr yrs hour hours minute minutes inch inches cm mm degree degrees "
    "percent % st nd rd th am pm x wide deep long apart old mph hrs leaves leaf brown per"
)
_ORDINALS = {"first": 1, "former": 1, "second": 2, "latter": 2, "other": 2, "third": 3}
_NOT = words(
    "not no without neither never aren isn weren wasn haven hasn didn arent isnt werent wasnt havent hasnt didnt"
)
_WEAK: Mapping[str, str] = {
    "up": "up",
    "in": "plant",
    "out": "set-out",
    "down": "plant",
    "gone": "lost",
    "done": "done",
    "did": "done",
    "finished": "done",
}
_BEFORE_WEAK = words(
    "are is all now finally both just been went well went go nearly most already half too were was them"
)
_AFTER_UP = words("to at by on in here there for against")


def marks_on(
    board: Board,
    facts: Facts,
    varieties: Mapping[str, str],
    gardens: frozenset[str],
    *,
    correcting: bool = False,
    telling: bool = False,
) -> list[NameMark]:
    """Every mark of a line, in order; no two share a token. In a correction (``correcting``) "it was 36" counts; told
    otherwise it is a thermometer's. Where a fact is told (``telling``) a bare number behind a variety is its days; in
    a report it counts plants: "patterson, 150"."""
    taken: set[int] = set()
    found: list[NameMark] = []

    def lay(mark: NameMark) -> None:
        places = set(range(mark.start, mark.end))
        if places and not places & taken:
            taken.update(places)
            found.append(mark)

    wheres = places_named(board, gardens)
    for mark in (*_dates(board), *wheres, *varieties_named(board, varieties), *crops_named(board)):
        lay(mark)
    if not any(m.kind == "crop" for m in found):  # "the pepper tray": the place tells the crop
        found += [c for c in crops_named(board) for w in wheres if w.start <= c.start < w.end][:1]
    named = (
        {m.end for m in found if m.kind == "variety" or (m.kind == "crop" and m.unit)}
        if telling or board.of("dtm")
        else set()
    )
    for mark in (
        *_days(board, named),
        *_counts(board, taken | (set() if correcting else _read_off(board))),
        *_actions(board, facts, taken),
        *_others(board),
    ):
        lay(mark)
    return sorted(found, key=lambda m: m.start)


def _dates(board: Board) -> list[NameMark]:
    found: list[NameMark] = []
    for span in board.of("date"):
        day = span.value if isinstance(span.value, date) else _of_stretch(board, span)
        mark = NameMark("date", day, span.start, span.end, weak=not isinstance(span.value, date))
        if found and found[-1].end == span.start and not mark.weak:
            found[-1] = mark._replace(start=found[-1].start)  # "Saturday March 29": the date says it
        else:
            found.append(mark)
    held = {i for m in found for i in range(m.start, m.end)}
    for i, token in enumerate(board.tokens):
        if i in held or board.today is None:
            continue
        if token.word in ("today", "tonight", "arvo"):
            found.append(NameMark("date", board.today, i, i + 1))
        elif token.word == "been" and (past := _since(board, i)) is not None:
            found.append(NameMark("date", board.today - timedelta(days=past[0]), past[1], past[2]))
        elif token.number is not None and board.word(i + 1) in _TH and 1 <= token.number <= 31:
            next_day = _next_day(int(token.number), board.today)
            if next_day is not None:
                found.append(NameMark("date", next_day, i, i + 2, "day"))
        elif token.word in MONTHS and token.word != "may" and not token.raw[:1].isdigit():
            found.append(NameMark("date", _next_month(MONTHS[token.word], board.today), i, i + 1, weak=True))
    return found


_TH = words("st nd rd th")


def _since(board: Board, i: int) -> tuple[int, int, int] | None:
    """Days gone by of "been up a week", "been out 3 days", and the tokens that tell them; None where none are told."""
    for at in range(i + 1, min(i + 4, len(board.tokens))):
        n = 1.0 if board.word(at) in ("a", "one") else board.tokens[at].number
        days = {"day": 1, "days": 1, "week": 7, "weeks": 7, "fortnight": 14}.get(board.word(at + 1))
        if n is not None and days is not None:
            return int(n * days), at, at + 2
    return None


def _of_stretch(board: Board, span: Span) -> date:
    """The day a stretch stands for: the 5th of "early", the 15th of "mid", the last of "end of" or "late"."""
    stretch: Stretch = span.value
    said = set(board.words(span.start - 1, span.end).split())
    if said & {"mid", "middle"}:
        return stretch.first.replace(day=15)
    if said & {"end", "late"}:
        return stretch.last
    if said & {"early", "start", "beginning"}:
        return stretch.first.replace(day=5)
    return stretch.first


def _next_day(number: int, today: date) -> date | None:
    """The next day of that number, today counted."""
    for ahead in range(62):
        day = today + timedelta(days=ahead)
        if day.day == number:
            return day
    return None


def _next_month(month: int, today: date) -> date:
    return date(today.year + (month < today.month), month, 1)


def _days(board: Board, behind_names: set[int]) -> list[NameMark]:
    """Days to maturity: "55 days", "Glacier 55", also as the board has it."""
    found = [NameMark("days", int(s.value), s.start, s.end) for s in board.of("dtm")]
    for i, token in enumerate(board.tokens):
        n = token.number
        if n is None or not 20 <= n <= 200:
            continue
        if i in behind_names and n >= _LEAST_DAYS and board.word(i + 1) not in UNITS:  # "Earlivee 63"
            found.append(NameMark("days", int(n), i, i + 1))
            continue
        if board.word(i + 1) not in ("day", "days"):
            continue
        if board.word(i + 2) not in ("ago", "later", "old", "since", "before", "after", "to"):
            found.append(NameMark("days", int(n), i, i + 2))
    return found


_LEAST_DAYS = 35  # a bare number behind a variety's name is its days from this on (design value)
_NO_NUMBERS = words("money span age people dtm place cells")


def _counts(board: Board, taken: set[int]) -> list[NameMark]:
    """Numbers that count something; those of sizes, times, temperatures and numbered beds do not."""
    other = {
        i
        for s in board.spans
        if s.tag in _NO_NUMBERS and not _one_of_them(board, s)
        for i in range(s.start, s.end)
    } | _rows_of_lows(board)
    degrees = {s.start for s in board.of("temp") if _of_degrees(board, s.start, s.end)}
    found = [NameMark("count", float(s.value), s.start, s.end, "cells") for s in board.of("cells")]
    found += [
        NameMark("count", 1.0, i, i + 2, UNITS[board.word(i + 1)])
        for i, token in enumerate(board.tokens)
        if token.word in ("a", "one") and board.words(i + 1, i + 3) in _A_TRAY_OF
    ]
    for i, token in enumerate(board.tokens):
        n = token.number if not _BEYOND.search(token.raw) else BEYOND_COUNT
        if (
            n is None
            or i in taken
            or i in other
            or i in degrees
            or n <= 0
            or not stands_free(board, i, i + 1)
        ):
            continue
        if token.raw.lower() == "one" and board.word(i + 1) not in _STANDS:
            continue
        after, before = board.word(i + 1), board.word(i - 1)
        numbered = before in NUMBERED and board.tokens[i - 1].sentence == token.sentence and after != "of"
        numbered = numbered and "," not in token.gap
        ranged = after == "to" and i + 2 < len(board.tokens) and board.tokens[i + 2].number is not None
        if after in _NO_COUNT or ranged or numbered or "#" in token.gap or token.gap == "/":
            continue
        if i + 1 < len(board.tokens) and board.tokens[i + 1].gap == "/":
            continue
        if (
            board.tokens[i - 1].sentence == token.sentence
            and before == "of"
            and i >= 2
            and board.tokens[i - 2].number
        ):
            continue  # "12 of 12": the first counts
        unit = (
            "" if i + 1 in taken else UNITS.get(after, "")
        )  # "leeks 100 tray 2": the tray is where they are
        found.append(NameMark("count", n, i, i + 1 + bool(unit), unit))
    return found


BEYOND_COUNT = 1e9
"""Stands for a number no garden counts, however many digits were typed."""
_BEYOND = Pattern(r"^\d{8,}$|^\d+e\d+$", ignore_case=True)
_A_TRAY_OF = ("tray of", "row of", "flat of", "packet of", "pot of")


def _one_of_them(board: Board, span: Span) -> bool:
    """ "One" read as a person where it stands for a plant or row: "2 rows at camp and one at home"."""
    return span.tag == "people" and span.end == span.start + 1 and board.word(span.end) in _STANDS


_STANDS = words("at in row tray on up")


def _rows_of_lows(board: Board) -> set[int]:
    """The numbers of a row that counts nothing, at least three: "6, 3, 0, -1, 4." are nights, not plants."""
    rows: list[list[int]] = [[]]
    for i, token in enumerate(board.tokens):
        if token.number is None or (rows[-1] and "," not in token.gap):
            rows.append([])
        if token.number is not None:
            rows[-1].append(i)
    return {i for row in rows for i in row if len(row) >= 3}


_FELL = (
    "it was",
    "it hit",
    "it is",
    "it reached",
    "it got",
    "got to",
    "down to",
    "fell to",
    "went to",
    "hit",
)


def _read_off(board: Board) -> set[int]:
    """Temperatures told of the air: "it was 26", "it hit 29", "33 on Saturday"."""
    fell = {i for i, t in enumerate(board.tokens) if t.number is not None and board.words(i - 2, i) in _FELL}
    return fell | {
        s.start
        for s in board.of("temp")
        if board.words(max(0, s.start - 2), s.start) in _FELL
        or board.word(s.end + (board.word(s.end) == "on")) in DAYS
    }


_COLD = words(
    "frost froze low tonight night lows degrees degree f c forecast hit dropped temp freeze freezing"
)


def _of_degrees(board: Board, start: int, end: int) -> bool:
    said = board.text.typed[board.tokens[start].start : board.tokens[end - 1].end + 2].lower()
    return bool(re.search(r"[°]|\d\s*[fc]\b|deg", said)) or board.near(start, _COLD, 4, 4)


def _actions(board: Board, facts: Facts, taken: set[int]) -> list[NameMark]:
    said = [t.word for t in board.tokens]
    raw = [t.raw.lower() for t in board.tokens]
    found: list[NameMark] = []
    i = 0
    while i < len(said):
        hit = longest_deed_at(said, i, facts) or longest_deed_at(raw, i, facts)
        if hit is not None and i not in taken:
            head = i + 1
            found.append(NameMark("action", hit[1].id, i, head))
            i = head if hit[0] > head + 2 else max(head, min(hit[0], head + 2))
            continue
        weak = _WEAK.get(said[i])
        if weak is not None and _weak_meant(board, i, said[i]):
            found.append(NameMark("action", weak, i, i + 1, weak=True))
        i += 1
    return found


def _weak_meant(board: Board, i: int, word: str) -> bool:
    """ "Peppers are up", "13 up", "spuds in", "leeks out": the word stands behind what it is about."""
    if word in ("done", "did", "finished"):
        return True
    if "with" in (board.word(k) for k in range(max(0, i - 3), i)):
        return False  # "33 on Saturday with the tomatoes out": how they stand, not what was done
    after = board.word(i + 1)
    same = i + 1 < len(board.tokens) and board.tokens[i + 1].sentence == board.tokens[i].sentence
    behind = any(s.end == i and s.tag in ("crop", "family", "cells", "count") for s in board.spans)
    behind = behind or (
        i > 0 and (board.tokens[i - 1].number is not None or board.word(i - 1) in _BEFORE_WEAK)
    )
    behind = behind or board.word(i - 1) in (
        "cloves",
        "sets",
        "beans",
        "seeds",
        "plants",
        "more",
        "one",
        "some",
    )
    if not behind:
        return False
    if word == "up" and same and after in ("to", "into"):
        return False
    if word == "up":
        return not (same and after in _AFTER_UP and board.word(i + 2) in ("the", "sale", "it"))
    closes = (
        not same
        or "," in board.tokens[i + 1].gap
        or after in ("today", "yesterday", "and", "this", "now", "to")
    )
    month = any(s.start == i + 1 and s.tag == "date" and board.word(i + 1) in MONTHS for s in board.spans)
    return not month and (closes or any(s.start == i + 1 and s.tag in ("date", "count") for s in board.spans))


def _others(board: Board) -> list[NameMark]:
    found = []
    for i, token in enumerate(board.tokens):
        if token.word in _NOT:
            found.append(NameMark("not", True, i, i + 1))
        elif token.word in ("all", "whole", "lot", "everything"):
            found.append(NameMark("all", True, i, i + 1))
        elif token.word in _ORDINALS:
            found.append(NameMark("which", _ORDINALS[token.word], i, i + 1))
    return found


# -- varieties ----------------------------------------------------------------------------------------
