"""Towns of the gazetteer and postal codes in a text: looked up only where the words lead to a place."""

from __future__ import annotations

import re

from gardenmate.climate.place_names import normalise
from gardenmate.climate.town_table import Town, in_table
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import Board, words
from gardenmate.language.text.town_sounds import knowledge_root, state_code

MOST_WORDS = 4  # words of a town in the tables; design value
_LEADS_TO = words("in at near from around outside to here")
_CODE_WORDS = words("zip zipcode code postcode postal")
_LEADS_TO_CODE = _LEADS_TO | _CODE_WORDS
_ZIP_DIGITS, _ZIP_PLUS_DIGITS = 5, 4  # digits of a ZIP code, and of what may follow it
_PREFIX = re.compile(r"[a-z]\d[a-z]", re.IGNORECASE)


def find_codes(board: Board) -> list[tuple[int, int, str]]:
    """(start, end, code) of the postal codes a text leads to: US ZIP codes, Canadian prefixes."""
    found: list[tuple[int, int, str]] = []
    for i in range(len(board.tokens)):
        end, code = _code(board, i)
        only = i == 0 and end == len(board.tokens)
        led = board.word(i - 1) in _LEADS_TO_CODE or board.words(i - 2, i) in (
            "zip is",
            "code is",
            "postcode is",
        )
        if code and (only or led):
            found.append((i, end, code))
    return found


def _code(board: Board, i: int) -> tuple[int, str]:
    tokens = board.tokens
    if tokens[i].raw.isdigit() and len(tokens[i].raw) == _ZIP_DIGITS:
        plus = i + 1 < len(tokens) and tokens[i + 1].gap == "-" and len(tokens[i + 1].raw) == _ZIP_PLUS_DIGITS
        return i + 1 + plus, tokens[i].raw
    three = tokens[i : i + 3]
    joined = "".join(t.raw for t in three)
    if len(three) == 3 and all(t.gap == "" for t in three[1:]) and _PREFIX.fullmatch(joined):
        rest = tokens[i + 3 : i + 6]
        whole = (
            len(rest) == 3
            and "".join(t.raw for t in rest)[:1].isdigit()
            and all(t.gap == "" for t in rest[1:])
        )
        return i + 3 + 3 * whole, joined.upper()
    return i, ""


def listed(board: Board, i: int, past_region: int, length: int, region: str, lexicon: Lexicon) -> str | None:
    """The name of the town that the ``length`` words from ``i`` are, as it is written; None when they are none.

    ``past_region`` is the end of a region typed after them, which it must lie in; without one the words must follow
    "in", "near" ... and be no ordinary words.
    """
    tokens = board.tokens[i : i + length]
    name = " ".join(t.raw for t in tokens)
    followed = past_region > i + length
    if not followed and not _plain_name(board, i, length, lexicon):
        return None
    towns = in_table(normalise(name), table=knowledge_root(lexicon) / "towns.csv")
    if followed:
        towns = [t for t in towns if _lies_in(t, region, lexicon)]
    return towns[0].name if towns else None


def _plain_name(board: Board, i: int, length: int, lexicon: Lexicon) -> bool:
    """True for words after "in", "near" ..., or typed alone, that no other reading explains."""
    last = i + length == len(board.tokens) or board.tokens[i + length].sentence != board.tokens[i].sentence
    if board.word(i - 1) not in _LEADS_TO and not (i == 0 and i + length == len(board.tokens)):
        return False
    raw = [t.raw.lower() for t in board.tokens[i : i + length]]
    known = [w in lexicon.vocabulary or w in lexicon.ordinary or w in lexicon.name_words for w in raw]
    if length == 1:
        return len(raw[0]) > 3 and not known[0] and (last or not lexicon.is_rare_word(raw[0]))
    return not all(known)


def _lies_in(town: Town, region: str, lexicon: Lexicon) -> bool:
    code = state_code(region.lower(), lexicon)
    return code is not None and code in (town.region, town.country)
