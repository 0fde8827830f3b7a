"""Marks of what a line names: crops and varieties."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from gardenmate.core.question import CropRef, Typed
from gardenmate.language.intent.name_marks import NameMark
from gardenmate.language.intent.places_told import NUMBER, places_named
from gardenmate.language.text.spans import Board, words

_SMALL = words("of de the du di von la le")


_NO_NAME = words(
    "i no ok yes so and the my our it we a hi hello thanks then now right well good both all also just done"
)


_MOST_WORDS = 4  # words of a variety, or of a name in capitals; design value


def names_and_places(board: Board, varieties: Mapping[str, str], gardens: frozenset[str]) -> Iterator[Typed]:
    """Where (a bed, tray or other part of the garden), garden (one told by name), crop and variety, as named in the
    line itself: what comes from the conversation is not among them."""
    for mark in places_named(board, gardens):
        where = str(mark.value).replace(NUMBER, "bed ")
        yield Typed("where", where, start=mark.start, end=mark.end)
        named = next((name for name in gardens if name in str(mark.value).split()), None)
        if named is not None:
            yield Typed("garden", named)
    strange = {span.start for span in board.of("stranger")}
    for mark in crops_named(board):
        if isinstance(mark.value, CropRef):
            yield Typed("crop", mark.value.id, role="stranger" if mark.start in strange else None)
            if "not" in (board.word(mark.start - 1), board.word(mark.start - 2)):
                yield Typed("denied", mark.value.id)  # "the beets, not the carrots"
    for mark in varieties_named(board, varieties):
        beside = _names_crop(board, mark)
        yield Typed(
            "variety", str(mark.value), varieties.get(str(mark.value), ""), "beside" if beside else None
        )


def names_known_variety(board: Board, varieties: Mapping[str, str]) -> bool:
    """True when a variety told before is named."""
    return bool(_known_varieties(board, varieties))


def _tells_days(board: Board) -> bool:
    """True when days to maturity are told: "Siberia tomatoes, 50 days"."""
    pairs = zip(board.tokens, board.tokens[1:], strict=False)
    return any(t.number is not None and 30 <= t.number <= 200 and n.word in ("day", "days") for t, n in pairs)


def _is_a(board: Board, start: int) -> bool:
    """True behind "is a": "the apple is a Goodland"."""
    return board.word(start - 1) in ("a", "an") and board.word(start - 2) in ("is", "was", "are")


def _names_crop(board: Board, mark: NameMark) -> bool:
    """True for a name that can be nothing else: right before its crop, or told of it ("are", "is", "called")."""
    crops = [s for s in board.spans if s.tag in ("crop", "family")]
    before = board.word(mark.start - 1)
    return (
        any(s.start == mark.end for s in crops)
        or _is_a(board, mark.start)
        or before in ("are", "is", "called", "was", "were")
    )


def crops_named(board: Board) -> list[NameMark]:
    """The crops named, and plants nothing is known of."""
    return [
        NameMark("crop", ref, s.start, s.end, s.value.variety)
        for tag in ("crop", "family", "implied", "stranger")
        for s in board.of(tag)
        for ref in s.value.refs[:1]
    ]


def varieties_named(board: Board, known: Mapping[str, str]) -> list[NameMark]:
    """Names of varieties: those told before, in any case; new ones by their capitals, beside a crop or a number."""
    found = _known_varieties(board, known)
    held = {i for m in found for i in range(m.start, m.end)}
    listed = [s for s in board.of("variety") if held.isdisjoint(range(s.start, s.end))]
    found += [NameMark("variety", s.value.variety, s.start, s.end) for s in listed]
    held |= {i for m in found for i in range(m.start, m.end)}
    tokens = board.tokens
    if sum(t.capital for t in tokens) > 0.7 * len(tokens) and len(tokens) > 3:
        return found  # all capitals: they tell nothing
    i = 0
    while i < len(tokens):
        end = _capitals_end(board, i, held)
        if end > i and stands_free(board, i, end) and _beside_crop(board, i, end):
            text = board.text.typed[tokens[i].start : tokens[end - 1].end]
            found.append(NameMark("variety", text, i, end))
        i = max(end, i + 1)
    return found


_SIGNS_BEFORE, _SIGNS_AFTER = frozenset("=+@<>[]{}\\|_^~:"), frozenset("=+@<>[]{}\\|_^~(")


def stands_free(board: Board, start: int, end: int) -> bool:
    """True for words or a number that stand for themselves, with no sign of a formula, address or markup grown on:
    not the 1 of "+1" or "a=1", nor the SUM of "@SUM(A1)"."""
    typed, first, last = board.text.typed, board.tokens[start].start, board.tokens[end - 1].end
    before, after = typed[first - 1 : first] if first else " ", typed[last : last + 1] or " "
    runs_on = after == ":" and not (typed[last + 1 : last + 2] or " ").isspace()
    hidden = not (before.isprintable() or before.isspace())
    grown_on = before in _SIGNS_BEFORE or (before.isdigit() and typed[first].isalpha())
    return not (hidden or grown_on or runs_on or after in _SIGNS_AFTER)


def _known_varieties(board: Board, known: Mapping[str, str]) -> list[NameMark]:
    found: list[NameMark] = []
    low = {" ".join(re.findall(r"\w+", name.lower())): name for name in known}
    raws = [re.sub(r"\W", "", t.raw.lower().replace("'s", "s")) for t in board.tokens]
    for i in range(len(raws)):
        for length in range(_MOST_WORDS, 0, -1):
            said = " ".join(raws[i : i + length])
            name = low.get(said) or low.get(said.replace("s ", " s ", 1))
            if name is not None and i + length <= len(raws):
                found.append(NameMark("variety", name, i, i + length))
                break
    return found


def _capitals_end(board: Board, i: int, held: set[int]) -> int:
    """Where a run of words with capitals that begins at ``i`` ends (``i`` when none does)."""
    tokens, at = board.tokens, i
    laid = {k for s in board.spans if s.tag in ("crop", "date", "family") for k in range(s.start, s.end)}
    while at < len(tokens) and at - i < _MOST_WORDS:
        token = tokens[at]
        if at > i and (token.sentence != tokens[i].sentence or "," in token.gap):
            break
        small = at > i and token.word in _SMALL and any(t.capital for t in tokens[at + 1 : at + 3])
        if at in held or at in laid or (token.word in _NO_NAME and not small) or not (token.capital or small):
            break
        at += 1
    return at


def _beside_crop(board: Board, start: int, end: int) -> bool:
    """A name stands right before a crop, or behind it (after "are", "is" or a comma), or behind a number."""
    tokens = board.tokens
    first = start == 0 or tokens[start - 1].sentence != tokens[start].sentence
    if board.word(start - 1) in ("in", "at", "near", "from", "on", "for", "to"):
        return False
    spans = [s for s in board.spans if s.tag in ("crop", "family")]
    if any(s.start == end for s in spans):
        return not first or end - start > 1 or _tells_days(board)
    if first:
        return board.word(end) in ("both", "all", "ones", "the") or (
            end - start > 1 and board.word(end) in ("", "both")
        )
    if any(s.end == start for s in spans):
        return True
    before = tokens[start - 1]
    if before.number is not None or _is_a(board, start):
        return True
    if board.word(start - 1) in ("are", "is", "called", "were") and board.word(start - 2) in (
        "ones",
        "they",
        "those",
        "it",
    ):
        return True
    near = [s for s in spans if s.end <= start and tokens[s.start].sentence == tokens[start].sentence]
    return bool(near) and (
        board.word(start - 1) in ("are", "is", "called", "and", "was", "were") or "," in tokens[start].gap
    )
