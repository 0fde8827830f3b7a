"""Which of the crops named are asked about, and which only stand in the story."""

from __future__ import annotations

from gardenmate.language.crops import Named
from gardenmate.language.spans import Board, Span, words
from gardenmate.language.topics import Found, weights_at
from gardenmate.question import CropRef

# "fruit the size of a walnut", "leaves like lettuce", "soft as butter": a likeness, not a crop.
_LIKENESS = frozenset({"like", "as", "than"})
_BETWEEN = words("a an the boiled old wet big little ripe cooked small tender")
# Whose crop it is when it is not the grower's own.
_OTHERS = words(
    "neighbour neighbours neighbor neighbors his her their friend dad mum mom uncle everyone people folk "
    "folks"
)
# What is told of a crop that is doing fine, so that the question is about another.
_BE = words("is are was were came come has have seem looks look popped went")
_STATE = words(
    "up in away ok fine good huge great done out through everywhere tall popped finished later first "
    "already flowering flowered next beside"
)


def asked_crops(board: Board, found: Found) -> tuple[CropRef, ...]:
    """The crops the question is about, each once, in the order of the text.

    Those named in the question clause if there are any; else those of the story that are no likeness, nobody
    else's, and not said to be fine already. When that leaves none, all of them.
    """
    spans = sorted((*board.of("crop"), *board.of("family")), key=lambda s: s.start) or board.of("implied")
    spans = [s for s in spans if not _likeness(board, s)] or spans
    kept = spans
    if len({r.id for s in spans for r in s.value.refs}) > 1 and len(board.tokens) > 14:
        asked = _asked_sentence(board, found, spans)
        if asked:
            kept = asked
        else:
            kept = [s for s in spans if not _aside(board, s)] or spans
    return _refs(kept)


def _asked_sentence(board: Board, found: Found, spans: list[Span]) -> list[Span]:
    """The spans inside the question clause (the tokens that weigh fully)."""
    if all(u.weight == 1.0 for u in found.units):
        return []
    weight_at = weights_at(board, found)
    return [s for s in spans if weight_at.get(s.start, 0.0) == 1.0 and not _aside(board, s)]


def _likeness(board: Board, span: Span) -> bool:
    i = span.start - 1
    while i >= 0 and board.word(i) in _BETWEEN:
        i -= 1
    if (
        board.word(i) in _LIKENESS
        and board.word(i + 1) != ""
        and not (board.word(i) == "as" and board.word(i - 1) in ("well", "same"))
    ):
        verb = board.word(i - 1)
        return not (
            board.word(i) == "like"
            and verb in ("things", "plants", "crops", "stuff", "veg", "vegetable", "ones", "would", "do", "i")
        )
    return board.word(i) == "of" and board.words(i - 2, i) in ("the size", "size size")


def _aside(board: Board, span: Span) -> bool:
    """True for a crop of the story only; "peppers and tomatoes are up" stand or fall together."""
    group = [span]
    for other in sorted((*board.of("crop"), *board.of("family")), key=lambda s: s.start):
        if other.start - group[-1].end == 1 and board.word(group[-1].end) in ("and", "or", "n"):
            group.append(other)
    before = [
        s for s in board.of("crop") if span.start - s.end == 1 and board.word(s.end) in ("and", "or", "n")
    ]
    if before or len(group) > 1:
        return board.words(span.start - 2, span.start) in _NOT_THESE
    return board.words(span.start - 2, span.start) in _NOT_THESE or _alone_aside(board, span)


_NOT_THESE = frozenset(
    {"full of", "instead of", "rather than", "not the", "beside the", "over the", "drop the"}
)


def _alone_aside(board: Board, span: Span) -> bool:
    before = {board.word(span.start - 1), board.word(span.start - 2)}
    if before & _OTHERS:
        return True
    after, then = board.word(span.end), board.word(span.end + 1)
    if board.tokens[span.end - 1].sentence != (
        board.tokens[span.end].sentence if span.end < len(board.tokens) else -1
    ):
        return False
    return (after in _BE and then in _STATE) or (
        after in ("up", "in", "away")
        and then not in ("my", "the", "a", "it", "there", "to", "pots", "cells", "trays")
    )


def _refs(spans: list[Span]) -> tuple[CropRef, ...]:
    seen: dict[str, CropRef] = {}
    whole = [s for s in spans if not s.value.family]
    for span in spans:
        named: Named = span.value
        if named.family and any({r.id for r in w.value.refs} & {r.id for r in named.refs} for w in whole):
            continue  # "winter brassicas, sprouts and cabbages": the members are named
        for ref in named.refs:
            old = seen.get(ref.id)
            if old is None or (old.kind is None and ref.kind):
                seen[ref.id] = ref
    return tuple(seen.values())
