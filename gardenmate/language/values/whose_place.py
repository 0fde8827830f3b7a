"""Whose place each place of a text is: the grower's own, the one asked about, or where somebody else lives."""

from __future__ import annotations

from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.places import PlaceTyped


def the_place(board: Board) -> str | None:
    """The place that counts: where the grower is, not where they come from or where an aunt lives."""
    found = _counting(board)
    return None if found is None else str(found)


def place_within(board: Board) -> str | None:
    """The region typed beside the place that counts, None when none was."""
    found = _counting(board)
    return None if found is None else found.within


def _counting(board: Board) -> PlaceTyped | None:
    spans = board.of("place")
    if not spans:
        return None
    best = max(
        spans,
        key=lambda s: (_here(board, s.start) >= 0, not s.value.region, _here(board, s.start), -s.start),
    )
    if _here(board, best.start) >= 0:
        place: PlaceTyped = best.value
        return place
    return anothers_place(board)


def anothers_place(board: Board) -> PlaceTyped | None:
    """Where somebody else gardens, when the question is about their garden: "my sister gardens in Miami, when
    should she sow?". None when the grower's own is asked about ("my sister has some, can I too?")."""
    found = next((s for s in board.of("place") if _here(board, s.start) == -1), None)
    if found is None or any(_here(board, s.start) > 0 for s in board.of("place")):
        return None
    earlier, later = board.tokens[: found.start], board.tokens[found.end :]
    theirs = any(t.word in _THIRD for t in later) or any(t.word in _ASKS_ME for t in (*earlier, *later))
    own = any(t.word in _FIRST for t in later)
    place: PlaceTyped = found.value
    return place if theirs and not own else None


def _here(board: Board, start: int) -> int:
    """How surely the grower is at the place that starts at token ``start``."""
    if start == 0:
        return 2
    before = board.words(start - 4, start).split()
    if before[-1] == "from" and not set(before) & {"am", "are", "here"}:
        return -2
    if before[-2:] == ["out", "of"] and set(before) & {"moved", "came", "move"}:
        return -2
    away = before[-2:-1] in (["week"], ["month"]) and before[-3:-2] not in (["this"], ["next"])
    if set(before) & _RELATIVES or away:  # "a week in Rome" is a trip, "this week in Bozeman" is none
        return -1
    if set(before) & {"am", "are", "live", "here", "garden", "to", "we", "plot"}:
        return 2
    return 0


_RELATIVES = words(
    "sister brother aunt auntie aunty uncle friend cousin son daughter visiting see son's his her "
    "drive driving restaurant mother father mum mom dad grandmother grandfather gran nan grandma grandpa "
    "neighbor neighbour niece nephew"
)
_THIRD = words("she he her his him hers")
_ASKS_ME = words("asks asking wonders")
_FIRST = words("i me my mine we us our ours")
