"""The people of a household, as a text counts them."""

from __future__ import annotations

from gardenmate.language.spans import Board, words

_PEOPLE = words(
    "pensioners toddlers people person persons adults adult mouths folks kids kid children eaters"
)
_HOUSE = frozenset(["family", "household", "house", "crew", "us"])


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
