"""Counts of plants, seeds, pots, pounds or feet of row, and the cells of a tray."""

from __future__ import annotations

from gardenmate.core.question import Vessel
from gardenmate.language.text.spans import Board, words

_UNITS_OF_COUNT = words(
    "plant plants seed seeds seedling seedlings start starts tray trays pot pots packet packets pack "
    "packs lb lbs pound pounds kg kilos kilo oz foot feet ft row rows bed beds clove cloves bulb bulbs "
    "head heads jar jars quart quarts pint pints set sets slip slips crown crowns tuber tubers cane canes "
    "cutting cuttings bush bushes tree trees vine vines root roots meter meters metre metres ears bunches "
    "plugs six-packs flats flat transplants runners divisions more gallons litres liters m cells modules "
    "cups stems squares sticks blocks tubs shrubs twigs lengths suckers offsets shoots babies tufts tunnels "
    "teepees wigwams buckets containers"
)
_NOT_COUNT = words(
    "day days week weeks month months year years yr yrs hour hours hrs minute minutes inch inches in cm "
    "mm tall f c degrees degree percent % st nd rd th am pm times x s zone watt watts w v volt mph k lux "
    "o'clock clock per miles km wide deep long apart mil gauge acre acres old hr wk wks ppfd b a sq "
    "gallon litre liter"
)
_PART = words(
    "of or more thing question side end bit problem leaf true"
)  # "just one of them", "only one thing"
_FALSE_LEADS = words("zone usda step page channel chapter top number no week")
_SIGNS = frozenset({"$", "£", "€"})
_FEET = words("foot feet ft m metre metres meter meters")
_LONG = words("row rows bed beds long of fence hedge")
_TRAY_SIZES = frozenset({18, 24, 32, 36, 40, 48, 50, 60, 72, 84, 98, 104, 105, 128, 200, 288})
_FILLED = words("sown sowed filled fill finished did planted seeded")
_THEM = words("them em these those each")


def find_counts(board: Board) -> None:
    """Lay a `count` span (value: the number) on quantities of plants, seeds, pots, pounds, feet of row ..."""
    tokens = board.tokens
    for i, token in enumerate(tokens):
        n = token.number
        if n is None or i in board.taken or n <= 0:
            continue
        follow = board.word(i + 1)
        if "one" in (token.word, token.raw.lower()):
            if board.word(i - 1) in ("just", "only") and follow not in _NOT_COUNT | _PART:
                board.lay(i, i + 1, "count", n)
            continue
        if follow in ("cell", "cells") and n in _TRAY_SIZES and not board.near(i, _FILLED, 3, 3):
            board.lay(i, i + 2, "cells", int(n))
            continue
        if no_quantity(board, i) or _to_a_pot(board, i) or _only_told(board, i):
            continue
        if _counted(board, i):
            board.lay(i, i + 1, "count", n)


_GROWING = words(
    "plant plants seed seeds seedling seedlings starts cutting cuttings sticks tufts plugs slips crowns "
    "tubers cloves transplants divisions tubs"
)
FEW = 3  # "two seedling racks", "two quinces": a pair is told in passing


def plants_counted(board: Board) -> float | None:
    """The first number of plants themselves, not of rows, trays, packets or feet; None without one.

    Where amounts are not what is asked, only how many plants there are is worth keeping.
    """
    for span in board.of("count"):
        if span.value < FEW:
            continue
        i = span.start
        if board.word(i - 1) in _MADE_OF or board.word(i - 2) in _WISH:
            return float(span.value)
        for j in range(span.end, min(span.end + 4, len(board.tokens))):
            named = any(s.start == j and s.tag == "crop" for s in board.spans)
            if named or board.word(j) in _GROWING or (board.word(j) == "of" and board.word(j + 1) == "each"):
                return float(span.value)
            if board.word(j) in _STOPS or board.word(j) in _UNITS_OF_COUNT or board.word(j) == "of":
                break
    return None


_POT_UNITS = {
    "inch": "in", "inches": "in", "in": "in", "cm": "cm", "l": "l", "litre": "l", "liter": "l", "gallon": "gal",
    "gal": "gal",
}  # fmt: skip
_POTS = words("pot pots container containers")


def vessel(board: Board) -> Vessel | None:
    """What the plants stand in: the last pot told with its size ("9 cm pots"), else the first tray of cells."""
    pots = [
        Vessel(token.number, _POT_UNITS[board.word(i + 1)])
        for i, token in enumerate(board.tokens)
        if token.number is not None and board.word(i + 1) in _POT_UNITS and board.near(i, _POTS, 3, 4)
    ]
    cells = [Vessel(float(span.value), "cells") for span in board.of("cells")[:1]]
    return next(iter((*pots[::-1], *cells)), None)


def no_quantity(board: Board, i: int) -> bool:
    """True when the words beside a number make it a size, a time, a price or a channel."""
    tokens, follow, n = board.tokens, board.word(i + 1), board.tokens[i].number
    if follow in _NOT_COUNT or board.word(i - 1) in _FALSE_LEADS or board.word(i - 1) in _SIGNS:
        return True
    if (i + 1 < len(tokens) and tokens[i + 1].gap in ("/", ".")) or (i and tokens[i].gap in ("/", "#")):
        return True
    by = "by" in (board.word(i - 1), board.word(i + 2))
    if by or (follow in _FEET and not board.near(i, _LONG, 0, 5)):
        return True
    if board.words(i - 2, i) in ("out of", "days of", "nights of"):
        return True
    bought = board.word(i - 1) in ("need", "want", "bought")
    return follow in ("pack", "packs") and n in (4, 6, 9, 12) and not bought  # "a six pack" is a size


def _to_a_pot(board: Board, i: int) -> bool:
    """ "Two seeds per hole", "three seedlings to a pot": how they stand, not how many."""
    for k in range(i + 2, min(i + 6, len(board.tokens) - 1)):
        led = board.word(k) == "per" or board.words(k - 1, k + 1) in ("to a", "to each", "to one")
        if led and board.word(k + 1) in ("pot", "hole", "cell", "tray", "tub", "module", "cup", "station"):
            return True
    return False


_WHOLE_YEARS = words("last one every each")
_YEAR = words("year years summer season spring autumn fall july august june")
_NEAR_YEAR = 6  # words to either side in which a year is told; design value


def _only_told(board: Board, i: int) -> bool:
    """True for an amount of another year, or for guesses that are offered.

    "Last year a dozen wasn't enough", "ten plants or fifty?": what is asked is another amount.
    """
    for k in range(max(0, i - _NEAR_YEAR), min(len(board.tokens), i + _NEAR_YEAR + 2)):
        told = board.word(k) in _WHOLE_YEARS and board.word(k + 1) in _YEAR
        if told and not _comma_between(board, min(i, k), max(i, k)):
            return True
    if any(board.words(k, k + 2) in ("at once", "at a") for k in range(i + 1, min(i + 4, len(board.tokens)))):
        return True
    return _or_another(board, i)


def _comma_between(board: Board, first: int, last: int) -> bool:
    same = board.tokens[first].sentence == board.tokens[last].sentence
    return not same or any("," in t.gap for t in board.tokens[first + 1 : last + 1])


def _or_another(board: Board, i: int) -> bool:
    """ "Ten plants or fifty?": two guesses, neither of them said; "six or eight" is about seven."""
    for k in range(i + 1, min(i + 4, len(board.tokens) - 1)):
        if board.word(k) == "or" and board.tokens[k + 1].number is not None:
            return k > i + 1 or board.tokens[k].sentence in board.text.questions
    return False


_MADE_OF = words("want need make x another about around roughly maybe say")
_WISH = words("want need have got like would take do make plant raise buy")
_STOPS = words("and or to in on at but the i was is when for")
_TRAILING = words("though then please instead now thanks only really")


def _counted(board: Board, i: int) -> bool:
    """True when a thing that is counted stands within four words after the number, or the lead says so."""
    tokens = board.tokens
    for j in range(i + 1, min(i + 6, len(tokens))):
        if tokens[j].sentence != tokens[i].sentence:
            break
        if any(s.start == j and s.tag in ("crop", "family") for s in board.spans):
            return True
        if tokens[j].word in _UNITS_OF_COUNT:
            return True
        if tokens[j].word in _STOPS or tokens[j].number is not None or (j > i + 1 and "," in tokens[j].gap):
            break
    if board.word(i + 1) == "of" and board.word(i + 2) in _THEM:
        return True  # "must be 30 of them", "twelve of each"
    if board.words(i + 1, i + 3) == "or so" and board.words(i + 3, i + 5) in ("in it", "in each", "of them"):
        return True
    lead, before = board.word(i - 1), board.word(i - 2)
    if lead in ("want", "need", "make", "x", "another") or board.words(i - 2, i) in (
        "make it",
        "was actually",
        "it was",
    ):
        return True
    ends = i + 1 == len(tokens) or tokens[i + 1].sentence != tokens[i].sentence
    if lead in _MADE_OF and before in _WISH and ends:
        return True  # "I'd want about forty"
    if ends and board.of("money") and lead in ("sow", "buy", "raise", "grow"):
        return True  # "4.50 each, buy or sow 12?"
    if any(s.end == i and s.tag == "crop" for s in board.spans) and board.word(i + 1) in ("", "plants", "x"):
        return True
    return _bare_amount(board, i) or (i == 0 and board.word(1) == "of")


def _bare_amount(board: Board, i: int) -> bool:
    """ "Only six though", "sorry, 18 not 16": an amount of what was spoken of before."""
    if len(board.tokens) > 6:
        return False
    rest = [t.word for t in board.tokens[i + 1 :]]
    if rest[:1] == ["not"] and len(rest) <= 2:
        return True
    short = len([w for w in rest if w not in _TRAILING]) == 0
    return short and board.word(i - 1) in ("only", "just", "about") and len(board.tokens) <= 5
