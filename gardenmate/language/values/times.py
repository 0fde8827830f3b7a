"""Ages, durations and days to maturity named in a text."""

from __future__ import annotations

import re
from datetime import date

from gardenmate.language.text.spans import Board, words

_LONGEST_MATURITY_DAYS = 3650  # ten years: a nut tree; design value
_TIME = {"day": ("days", 1.0), "days": ("days", 1.0), "week": ("weeks", 1.0), "weeks": ("weeks", 1.0),
    "wk": ("weeks", 1.0),
         "wks": ("weeks", 1.0), "fortnight": ("weeks", 2.0), "month": ("months", 1.0),
         "months": ("months", 1.0),
         "hour": ("hours", 1.0), "hours": ("hours", 1.0), "hrs": ("hours", 1.0), "hr": ("hours", 1.0),
         "year": ("years", 1.0), "years": ("years", 1.0), "yr": ("years", 1.0), "yrs": ("years", 1.0),
         "minute": ("minutes", 1.0), "minutes": ("minutes", 1.0)}  # fmt: skip
_NOT_A_SPAN = frozenset({"window", "forecast", "stretch", "spell", "outlook"})
_ORDINALS = {
    "first": 1,
    "second": 2,
    "third": 3,
    "fourth": 4,
    "fifth": 5,
    "sixth": 6,
    "seventh": 7,
    "eighth": 8,
    "ninth": 9,
    "tenth": 10,
}

_NOT_AGE = words("every for next last within another in about")


def find_ages(board: Board, today: date) -> None:
    """Lay an `age` span (value: years) on "six year old", "fifth year", "planted in 2023", "3 years ago"."""
    tokens = board.tokens
    for i, token in enumerate(tokens):
        n, follow, third = token.number, board.word(i + 1), board.word(i + 2)
        if n is not None and follow in ("year", "years", "yr", "yrs", "y") and n < 100:
            if third in ("old", "olds") and board.word(i + 3) in (
                "wants",
                "is",
                "has",
                "son",
                "daughter",
                "girl",
            ):
                continue  # a child
            if third in ("old", "olds") or (third == "ago" and board.near(i, _PLANTED, 10, 3)):
                board.lay(i, i + 3, "age", n)
            elif not _of_a_plant(board, i):
                continue  # "kept a diary thirty years"
            elif third == "back" or (
                third in ("in", "now", "or", "and") and board.word(i - 1) not in _NOT_AGE
            ):
                board.lay(i, i + 2, "age", n)
        elif (
            n is not None
            and follow in ("st", "nd", "rd", "th")
            and third in ("year", "summer", "season", "spring")
        ):
            board.lay(i, i + 3, "age", n)
        elif (
            token.word in _ORDINALS
            and (follow in ("year", "leaf") or (follow == "summer" and third in ("with", "for", "of")))
            and board.word(i - 1) not in ("every", "this", "my")
        ):
            board.lay(i, i + 2, "age", float(_ORDINALS[token.word]))
        elif (
            n is not None
            and re.fullmatch(r"(19|20)\d\d", token.raw)
            and (
                i == 0 or (tokens[i - 1].number is None and board.word(i - 1) not in ("st", "nd", "rd", "th"))
            )
            and n <= today.year
            and board.near(i, _PLANTED, 6, 2)
        ):
            start = i - 1 if board.word(i - 1) in ("in", "since", "spring", "fall", "autumn") else i
            board.lay(start, i + 1, "age", float(today.year - int(n)))


_LIVES = words(
    "diary notebook journal kept keep records gardening gardened lived living married farming farmed retired "
    "teaching worked working"
)


def _of_a_plant(board: Board, i: int) -> bool:
    """False for years of a grower's life or of a notebook."""
    return not board.near(i, _LIVES, 7, 1)


def find_stated_ages(board: Board) -> None:
    """ "The quince is nine", "aged seven": a bare number said of a plant in a clause about nothing else is its age."""
    for i, token in enumerate(board.tokens):
        of_a_plant = any(0 <= i - 1 - s.end <= 1 for s in board.of("crop"))
        if board.word(i - 1) == "aged" and of_a_plant and token.number is not None and 0 < token.number <= 60:
            board.lay(i, i + 1, "age", token.number)
    for span in board.of("crop"):
        i = span.end + 1
        if i >= len(board.tokens) or board.word(i - 1) not in ("is", "are", "turns") or i in board.taken:
            continue
        n = board.tokens[i].number
        ends = i + 1 >= len(board.tokens) or "," in board.tokens[i + 1].gap
        ends = ends or board.tokens[i + 1].sentence != board.tokens[i].sentence or board.word(i + 1) == "now"
        if n is not None and n == int(n) and 1 <= n <= 60 and ends:
            board.lay(i, i + 1, "age", n)


_PLANTED = words(
    "planted plant old bought moved put since went age got crowns whip whips sapling slip cutting"
)


_ONE_OF = words("one ones sort kind job crop")
_TOLD_DAYS = words("told says said label bag reckons takes take needs need say catalog catalogue")
_VARIETY = words("variety varieties cultivar type maturity")
_PACKET = words("dtm maturity packet tag packets says")


def _is_maturity(board: Board, i: int, j: int, days: float) -> bool:
    """True when the days (number at token ``i``, "days" at ``j``) are those on a seed packet."""
    after, then = board.word(j + 1), board.word(j + 2)
    if days >= SHORTEST_CROP and after in _ONE_OF and j > i and not _ago(board, j):
        return True  # "mine is a 63 day one"
    if after in _VARIETY or (after == "to" and then in ("maturity", "mature", "harvest")):
        return True
    if after == "from" and then in ("transplant", "transplanting", "seed", "sowing", "setting"):
        return True
    crop_next = [s.start - j for s in board.spans if s.tag == "crop" and j < s.start <= j + 2]
    hyphen = j > i and board.tokens[j].gap == "-"
    if crop_next and (hyphen or (1 in crop_next and days >= SHORTEST_CROP)):
        return True
    if days >= SHORTEST_CROP and board.near(i, _PACKET, 5, 6):
        return True
    if days >= SHORTEST_CROP and _of_its_own(board, i, j):
        return True
    told = board.near(i, _TOLD_DAYS, 4, 3) and bool(board.of("crop"))
    return days >= LONG_CROP and told and not _ago(board, j)


def _of_its_own(board: Board, i: int, j: int) -> bool:
    """ "Too late for carrots? 90 days": days that are a clause to themselves, where a harvest is asked about and
    nobody waits for seed to come up."""
    tokens, start = board.tokens, i
    while board.word(start - 1) in _SAID_OF and "," not in tokens[start].gap:
        start -= 1
    opens = start == 0 or tokens[start - 1].sentence != tokens[i].sentence or "," in tokens[start].gap
    ends = j + 1 >= len(tokens) or tokens[j + 1].sentence != tokens[i].sentence or "," in tokens[j + 1].gap
    said = {t.word for t in tokens}
    return opens and ends and bool(board.of("crop")) and bool(said & _OF_HARVEST) and not said & _OF_WAITING


def _ago(board: Board, j: int) -> bool:
    return board.word(j + 1) in ("ago", "back", "since", "now", "later", "before", "after")


_SAID_OF = words("they're theyre they it's its it that's are is about")
_OF_HARVEST = words(
    "late ready harvest harvested harvesting pick picked picking mature ripe ripen crop still"
)
_OF_WAITING = words(
    "nothing yet ago up sprout sprouts sprouted sprouting emerge emerged germinate germinated keep keeps kept store "
    "stored left away dead overdue"
)
LONG_CROP = 45  # days told without a word of a packet: shorter may be anything
SHORTEST_CROP = 20  # days; fewer are hardly a crop's days to maturity


def find_spans_of_time(board: Board) -> None:
    """Lay `dtm` (days to maturity) and `span` (unit, amount) on durations; hyphens or not."""
    tokens = board.tokens
    for i, token in enumerate(tokens):
        n = token.number
        if n is None and token.word == "fortnight" and board.word(i - 1) in ("a", "one", "every"):
            board.lay(i - 1, i + 1, "span", ("weeks", 2.0))
            continue
        if n is None and token.word == "another" and board.word(i + 1) == "week":
            board.lay(i, i + 2, "span", ("weeks", 1.0))
            continue
        if n is None and token.word in ("a", "couple") and board.word(i + 1) in ("week", "weeks"):
            if token.word == "couple" or board.word(i + 2) in (
                "ago",
                "late",
                "behind",
                "early",
                "now",
                "later",
                "earlier",
                "sooner",
            ):
                board.lay(i, i + 2, "span", ("weeks", 2.0 if token.word == "couple" else 1.0))
            continue
        if n is None:
            continue
        first, j = n, i + 1
        if board.word(j) in ("to", "or") and j + 1 < len(tokens) and tokens[j + 1].number is not None:
            j += 2
        elif j < len(tokens) and tokens[j].number is not None and tokens[j].gap in ("-", "/"):
            j += 1
        unit = _TIME.get(board.word(j))
        if unit is None or tokens[j].sentence != token.sentence or "," in tokens[j].gap:
            continue
        after = board.word(j + 1)
        if unit[0] == "days" and _is_maturity(board, i, j, n):
            board.lay(i, j + 1, "dtm", int(min(n, _LONGEST_MATURITY_DAYS)))
        elif unit[0] == "years" and (after in ("old", "olds") or _one_year(board, i)):
            continue  # a child's age; "forty tomatoes one year"
        elif after not in _NOT_A_SPAN and after not in _RUNNING and not _of_so_many(board, j):
            board.lay(i, j + 1, "span", (unit[0], first * unit[1]))
            _lay_other_end(board, i, j, unit)
    for i in range(len(tokens)):
        _lay_day_or_dtm(board, i)


def _lay_other_end(board: Board, i: int, j: int, unit: tuple[str, float]) -> None:
    """The second length of "from 16 hours to 10", in the unit of the first."""
    k = j + 2
    if board.word(i - 1) != "from" or board.word(j + 1) != "to" or k >= len(board.tokens):
        return
    n, after = board.tokens[k].number, board.word(k + 1)
    ends = k + 1 >= len(board.tokens) or board.tokens[k + 1].sentence != board.tokens[k].sentence
    if n is not None and (ends or after in _TIME or after in ("to", "and", "or", "would", "will")):
        board.lay(k, k + 1 + (after in _TIME), "span", (unit[0], n * unit[1]))


_RUNNING = frozenset({"straight", "running"})


def _one_year(board: Board, i: int) -> bool:
    """True for "one year" of a story, not "for one year", "after one year"."""
    return board.tokens[i].raw.lower() == "one" and board.word(i - 1) not in _HOW_LONG


_HOW_LONG = words("for in after within about only just under over another every")


def _of_so_many(board: Board, j: int) -> bool:
    """ "Five days of seven", "4 nights out of 7"."""
    return board.word(j + 1) == "of" and j + 2 < len(board.tokens) and board.tokens[j + 2].number is not None


def _lay_day_or_dtm(board: Board, i: int) -> None:
    """ "Day twelve" and "dtm of 65"."""
    tokens = board.tokens
    word, after = board.word(i), tokens[i + 1] if i + 1 < len(tokens) else None
    degrees = board.word(i + 2) in ("night", "nights", "c", "f", "degrees", "°")  # "18C day 14C night"
    if word == "day" and after is not None and after.number is not None and after.gap == " " and not degrees:
        board.lay(i, i + 2, "span", ("days", after.number))
    if word == "dtm":
        j = i + 2 if board.word(i + 1) in ("of", "is", "was") else i + 1
        if j < len(tokens) and tokens[j].number is not None:
            board.lay(i, j + 1, "dtm", int(min(tokens[j].number or 0, _LONGEST_MATURITY_DAYS)))
