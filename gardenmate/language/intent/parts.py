"""A line cut where one thing said ends and the next begins: reports and questions, and several questions.

A cut is only proposed here; whether both sides say something of their own is decided when they are read.
"""

from __future__ import annotations

from itertools import pairwise

from gardenmate.language.text.spans import Board, words

MOST = 4  # parts of one line
_OPENS_A_QUESTION = words(
    "when how what which where who why is are can could should shall will would do does did any anyone has have am"
)
_JOINS = words("and also then plus so but")
_NOT_BEFORE = words(  # behind these a question word goes on with the sentence: "that is when", "know how"
    "that know knows sure wonder wondering wondered tell ask asked see say said if whether or and about depends the a "
    "i we you they it he she not just only still even of for to with by from as than like there this these those my"
)


def cuts(board: Board) -> list[tuple[int, int]]:
    """The pieces of a line as spans of characters, in order; one piece when nothing parts it.

    A piece ends at the end of a sentence, at a comma or "and" before a question, and before a question that opens
    without any sign ("finished sowing carrots when do they come up").
    """
    tokens = board.tokens
    starts = [0]
    for i in range(1, len(tokens)):
        if (
            tokens[i].sentence != tokens[i - 1].sentence
            or _question_opens(board, i)
            or _clause_ends(board, i)
        ):
            starts.append(i)
    starts = [s for k, s in enumerate(starts) if k == 0 or s - starts[k - 1] >= 1][: MOST * 2]
    bounds = [tokens[s].start for s in starts[1:]] if tokens else []
    edges = [0, *bounds, len(board.text.typed)]
    return [(a, b) for a, b in pairwise(edges) if board.text.typed[a:b].strip(" ,;.")]


_ASKS_SHORTLY = words("too still worth ok okay safe time any last ready which")


def asked_outright(board: Board) -> bool:
    """True for a piece that opens as a question does: "should I buy cucumbers", "too late for beans"; a sentence of
    a story that holds a question word somewhere is none."""
    i = 0
    while board.word(i) in _JOINS:
        i += 1
    return board.word(i) in _OPENS_A_QUESTION or (
        board.word(i) in _ASKS_SHORTLY and i + 1 < len(board.tokens)
    )


def _clause_ends(board: Board, i: int) -> bool:
    """True at a comma that is none of a list of crops: "planted out the squash yesterday, 34 tonight"."""
    if "," not in board.tokens[i].gap and ";" not in board.tokens[i].gap:
        return False
    listed = {
        k for s in board.spans if s.tag in ("crop", "family", "count", "cells") for k in range(s.start, s.end)
    }
    return not listed & {i, i + 1, i + 2} and not board.tokens[i].capital


def _question_opens(board: Board, i: int) -> bool:
    """True where token ``i`` opens a question behind a comma, a joining word, or straight after a statement."""
    word, before = board.word(i), board.word(i - 1)
    if word in _JOINS and board.word(i + 1) in _OPENS_A_QUESTION and i + 3 < len(board.tokens):
        return True
    if word not in _OPENS_A_QUESTION or before in _JOINS:
        return False
    if "," in board.tokens[i].gap or ";" in board.tokens[i].gap:
        return True
    inverted = word in _ASKED_WORDS and board.word(i + 1) in _INVERTS
    return inverted and before not in _NOT_BEFORE


_ASKED_WORDS = words("when how what where")
_INVERTS = words(
    "do does can should will is are to long many much soon deep far cold next now else about size"
)
