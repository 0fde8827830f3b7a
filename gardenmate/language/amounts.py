"""Numbers that are not temperatures or dates: money, ages, durations, people, counts, cell sizes."""

from __future__ import annotations

import re
from datetime import date

from gardenmate.language.spans import Board, words

_BUCKS = {"dollar": 1.0, "dollars": 1.0, "buck": 1.0, "bucks": 1.0, "quid": 1.0, "euro": 1.0, "euros": 1.0,
          "usd": 1.0, "cad": 1.0, "aud": 1.0, "nzd": 1.0,
          "cent": 0.01, "cents": 0.01, "pence": 0.01, "p": 0.01, "€": 1.0, "£": 1.0}  # fmt: skip
_NOTES = {"fiver": 5.0, "tenner": 10.0}
_LONGEST_MATURITY_DAYS = 3650
_SIGNS = frozenset({"$", "£", "€"})
_EACH = frozenset({"each", "apiece", "ea", "per", "a"})
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
_PEOPLE = words(
    "pensioners toddlers people person persons adults adult mouths folks kids kid children eaters"
)
_HOUSE = frozenset(["family", "household", "house", "crew", "us"])
_UNITS_OF_COUNT = words(
    "plant plants seed seeds seedling seedlings start starts tray trays pot pots packet packets pack "
    "packs lb lbs pound pounds kg kilos kilo oz foot feet ft row rows bed beds clove cloves bulb bulbs "
    "head heads jar jars quart quarts pint pints set sets slip slips crown crowns tuber tubers cane canes "
    "cutting cuttings bush bushes tree trees vine vines root roots meter meters metre metres ears bunches "
    "plugs six-packs flats flat transplants runners divisions more gallons litres liters m cells modules "
    "cups stems squares sticks blocks"
)
_NOT_COUNT = words(
    "day days week weeks month months year years yr yrs hour hours hrs minute minutes inch inches in cm "
    "mm tall f c degrees degree percent % st nd rd th am pm times x s zone watt watts w v volt mph k lux "
    "o'clock clock per miles km wide deep long apart mil gauge acre acres old hr wk wks ppfd b a sq "
    "gallon litre liter"
)
_FALSE_LEADS = words("zone usda step page channel chapter top number no")


def find_money(board: Board) -> None:
    """Lay a `money` span (value: the amount) on every price."""
    tokens = board.tokens
    for i, token in enumerate(tokens):
        if token.word in _NOTES:
            board.lay(i, i + 1, "money", _NOTES[token.word])
        if token.number is None:
            continue
        cents = _said_cents(board, i)
        if cents is not None:
            board.lay(i, i + 2, "money", token.number + cents)
            continue
        if i and tokens[i - 1].word in _SIGNS and token.gap.strip() == "":
            board.lay(i - 1, i + 1, "money", token.number)
        elif board.word(i + 1) in _BUCKS and not (
            board.word(i + 1) == "p" and tokens[i + 1].gap not in ("", " ")
        ):
            end = i + 2
            value = token.number * _BUCKS[board.word(i + 1)]
            if (
                value >= 1
                and end < len(tokens)
                and tokens[end].gap == " "
                and (tokens[end].number or 0.0) >= 50
            ):
                value, end = value + (tokens[end].number or 0.0) / 100, end + 1  # "three dollars fifty"
            board.lay(i, end, "money", value)
        elif "." in token.raw and (
            board.word(i + 1) in ("each", "apiece", "ea", "for", "a")
            or board.word(i - 1) in _PAID
            or (
                re.fullmatch(r"[0-9]*\.[0-9]{2}", token.raw)
                and board.word(i - 1) in ("are", "is", "was", "at")
            )
        ):
            board.lay(i, i + 1, "money", token.number)
        elif (
            board.word(i + 1) in ("pound", "pounds")
            and (
                (board.word(i + 2) in ("for", "each", "a", "the") and not board.near(i, _WEIGHED, 6, 6))
                or board.word(i - 1) in _PAID
            )
        ) or (
            board.word(i + 1) == "pounds"
            and board.near(i, words("each cost price buy garden nursery charge"), 8, 6)
            and not board.near(i, frozenset({"of", "harvest", "yield"}), 0, 3)
        ):
            board.lay(i, i + 2, "money", token.number)


def _said_cents(board: Board, i: int) -> float | None:
    """The cents of "five fifty", said of a plant or a shop; None when that is no price."""
    if i + 1 >= len(board.tokens):
        return None
    token, after = board.tokens[i], board.tokens[i + 1]
    said = token.raw.isalpha() and after.raw.isalpha() and (token.number or 0) <= 20
    if not said or after.number not in (25, 50, 75, 95, 99) or not board.near(i, _PRICED, 6, 8):
        return None
    return after.number / 100


_PAID = words("paid pay wants want costs cost charge charging paying")
_WEIGHED = words("harvest yield eat store per head potatoes beans")
_PRICED = words("plant plants pack packs nursery grocery shop store each bunch tray pot price costs buy pay")


def price(board: Board) -> float | None:
    """The price that counts: the one said to be for each, else the first."""
    spans = [s for s in board.of("money") if s.value > 0]
    for span in spans:
        if board.word(span.end) in _EACH or (board.word(span.end), board.word(span.end + 1)) == (
            "a",
            "plant",
        ):
            return float(span.value)
    return float(spans[0].value) if spans else None


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


def find_stated_ages(board: Board) -> None:
    """ "The quince is nine": a bare number said of a plant in a clause about nothing else is its age."""
    for span in board.of("crop"):
        i = span.end + 1
        if i >= len(board.tokens) or board.word(i - 1) not in ("is", "are", "turns") or i in board.taken:
            continue
        n = board.tokens[i].number
        ends = i + 1 >= len(board.tokens) or "," in board.tokens[i + 1].gap
        ends = ends or board.tokens[i + 1].sentence != board.tokens[i].sentence or board.word(i + 1) == "now"
        if n is not None and n == int(n) and 1 <= n <= 60 and ends:
            board.lay(i, i + 1, "age", n)


_PLANTED = words("planted plant old bought moved put since went age got in") - {"in"}


_VARIETY = words("variety varieties cultivar type maturity")
_PACKET = words("dtm maturity packet tag packets says")


def _is_maturity(board: Board, i: int, j: int, days: float) -> bool:
    """True when the days (number at token ``i``, "days" at ``j``) are those on a seed packet."""
    after, then = board.word(j + 1), board.word(j + 2)
    if after in _VARIETY or (after == "to" and then in ("maturity", "mature", "harvest")):
        return True
    if after == "from" and then in ("transplant", "transplanting", "seed", "sowing", "setting"):
        return True
    crop_next = [s.start - j for s in board.spans if s.tag == "crop" and j < s.start <= j + 2]
    hyphen = j > i and board.tokens[j].gap == "-"
    if crop_next and (hyphen or (1 in crop_next and days >= SHORTEST_CROP)):
        return True
    return days >= SHORTEST_CROP and board.near(i, _PACKET, 5, 6)


SHORTEST_CROP = 20  # days; fewer are hardly a crop's days to maturity


def find_spans_of_time(board: Board) -> None:
    """Lay `dtm` (days to maturity) and `span` (unit, amount) on durations; hyphens or not."""
    tokens = board.tokens
    for i, token in enumerate(tokens):
        n = token.number
        if n is None and token.word == "fortnight" and board.word(i - 1) in ("a", "one", "every"):
            board.lay(i - 1, i + 1, "span", ("weeks", 2.0))
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
        elif board.word(j) in ("and", "plus") and False:
            continue
        unit = _TIME.get(board.word(j))
        if unit is None or tokens[j].sentence != token.sentence:
            continue
        after = board.word(j + 1)
        if unit[0] == "days" and _is_maturity(board, i, j, n):
            board.lay(i, j + 1, "dtm", int(min(n, _LONGEST_MATURITY_DAYS)))
        elif after not in _NOT_A_SPAN:
            board.lay(i, j + 1, "span", (unit[0], first * unit[1]))
    for i, token in enumerate(tokens):
        if token.word == "day" and i + 1 < len(tokens) and tokens[i + 1].number is not None:  # "day twelve"
            board.lay(i, i + 2, "span", ("days", tokens[i + 1].number))
        if token.word == "dtm" and i + 1 < len(tokens):
            j = i + 2 if board.word(i + 1) in ("of", "is", "was") else i + 1
            if j < len(tokens) and tokens[j].number is not None:
                board.lay(i, j + 1, "dtm", int(min(tokens[j].number or 0, _LONGEST_MATURITY_DAYS)))


def find_people(board: Board, wanted: bool) -> None:
    """Lay a `people` span; ``wanted``: the question is about amounts, so "for 4" means people."""
    tokens = board.tokens
    total, first = 0, None
    for i, token in enumerate(tokens):
        n = token.number
        if n is None or n != int(n) or not 0 < n < 200 or i in board.taken:
            if token.word in ("single",) and board.word(i + 1) == "person":
                board.lay(i, i + 2, "people", 1)
            continue
        if board.word(i + 1) in _PEOPLE or (
            board.word(i + 1) in ("hungry", "grown", "small") and board.word(i + 2) in _PEOPLE
        ):
            if board.lay(i, i + 2, "people_part", int(n)):
                total, first = total + int(n), i
        elif (
            board.word(i + 1) == "of"
            and board.word(i + 2) in ("us", "them")
            and not board.near(i, frozenset({"came", "sprouted", "germinated"}), 0, 5)
        ):
            board.lay(i, i + 3, "people", int(n))
        elif board.word(i - 1) == "of" and board.word(i - 2) in _HOUSE:
            board.lay(i - 2, i + 1, "people", int(n))
        elif (
            wanted and board.word(i - 1) in ("for", "feed", "feeding", "feeds") and _ends_amount(board, i + 1)
        ):
            board.lay(i, i + 1, "people", int(n))
    if first is not None:
        board.lay_free("people", total)


def _ends_amount(board: Board, i: int) -> bool:
    return (
        i >= len(board.tokens)
        or board.tokens[i].sentence != board.tokens[i - 1].sentence
        or board.word(i)
        in (
            "and",
            "or",
            "with",
            "all",
            "through",
            "over",
            "this",
            "how",
            "please",
            "in",
            "who",
            "that",
            "we",
            "i",
            "year",
            "for",
            "is",
        )
    )


_FEET = words("foot feet ft m metre metres meter meters")
_LONG = words("row rows bed beds long of fence hedge")


def find_counts(board: Board) -> None:
    """Lay a `count` span (value: the number) on quantities of plants, seeds, pots, pounds, feet of row ..."""
    tokens = board.tokens
    for i, token in enumerate(tokens):
        n = token.number
        if n is None or i in board.taken or n <= 0 or token.raw.lower() == "one":
            continue
        follow = board.word(i + 1)
        if (
            follow in ("cell", "cells")
            and n in (18, 24, 32, 36, 40, 48, 50, 60, 72, 84, 98, 104, 105, 128, 200, 288)
            and not board.near(i, frozenset({"sown", "sowed", "filled", "fill"}), 3, 3)
        ):
            board.lay(i, i + 2, "cells", int(n))
            continue
        if follow in _NOT_COUNT or board.word(i - 1) in _FALSE_LEADS or board.word(i - 1) in _SIGNS:
            continue
        if (i + 1 < len(tokens) and tokens[i + 1].gap in ("/", ".")) or (i and token.gap in ("/", "#")):
            continue
        if (follow in _FEET and not board.near(i, _LONG, 0, 5)) or "by" in (
            board.word(i - 1),
            board.word(i + 2),
        ):
            continue
        if (
            follow in ("pack", "packs")
            and n in (4, 6, 9, 12)
            and board.word(i - 1) not in ("need", "want", "bought")
        ):
            continue  # "a six pack" is a size
        if _to_a_pot(board, i):
            continue
        if _counted(board, i):
            board.lay(i, i + 1, "count", n)


_ASKED = words(
    "want need have got make only just about around log say plus another extra those these sowed planted "
    "started x"
)


def _to_a_pot(board: Board, i: int) -> bool:
    """ "Two seeds per hole", "three seedlings to a pot": how they stand, not how many."""
    for k in range(i + 2, min(i + 6, len(board.tokens) - 1)):
        led = board.word(k) == "per" or board.words(k - 1, k + 1) in ("to a", "to each", "to one")
        if led and board.word(k + 1) in ("pot", "hole", "cell", "tray", "tub", "module", "cup", "station"):
            return True
    return False


def _counted(board: Board, i: int) -> bool:
    """True when a thing that is counted stands within three words after the number, or the lead says so."""
    tokens = board.tokens
    for j in range(i + 1, min(i + 5, len(tokens))):
        if tokens[j].sentence != tokens[i].sentence:
            break
        if any(s.start == j and s.tag in ("crop", "family") for s in board.spans):
            return True
        if tokens[j].word in _UNITS_OF_COUNT:
            return True
        if (
            tokens[j].word
            in ("and", "or", "to", "in", "on", "at", "but", "the", "i", "was", "is", "when", "for")
            or tokens[j].number is not None
        ):
            break
    if board.word(i - 1) in ("want", "need", "make", "x", "another") or board.words(i - 2, i) in (
        "make it",
        "was actually",
        "it was",
    ):
        return True
    ends = i + 1 == len(tokens) or tokens[i + 1].sentence != tokens[i].sentence
    if ends and board.of("money") and board.word(i - 1) in ("sow", "buy", "raise", "grow"):
        return True  # "4.50 each, buy or sow 12?"
    if any(s.end == i and s.tag == "crop" for s in board.spans) and board.word(i + 1) in ("", "plants", "x"):
        return True
    if len(tokens) <= 4 and i == len(tokens) - 1 and board.word(i - 1) in ("only", "just", "about"):
        return True  # "only six", of what was spoken of before
    return i == 0 and board.word(1) == "of"
