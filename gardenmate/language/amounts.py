"""Counts of plants, seeds, pots, pounds or feet of row, and the cells of a tray."""

from __future__ import annotations

from gardenmate.language.spans import Board, words

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
_SIGNS = frozenset({"$", "£", "€"})
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
