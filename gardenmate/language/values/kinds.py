"""The kind of a plant: said outright ("autumn raspberries", "onion sets"), or told by its look ("mophead").

Only what is said outright fills the slot; rules hear of both, with the crop.
"""

from __future__ import annotations

from gardenmate.core.question import CropRef
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import Board, Span, words

# Words that describe a plant, from which its kind follows.
_BY_LOOK = frozenset({"two crop", "one crop"}) | words(
    "mophead bigleaf lacecap oakleaf panicle paniculata smooth thornless"
)
# Kinds whose names are plain words: they count beside the crop's name or before "ones", "type" ...
_PLAIN = words(
    "black red white sweet sour tart pie head leaf autumn fall summer american european erect trailing smooth"
)
_ONE_OF = words("one ones kind kinds sort sorts type types variety varieties")
_BETWEEN = words("fruiting bearing crop flowered leaf leaved big old little")
_SEED = words("seed seeds packet plants")


def said_kind(board: Board, lexicon: Lexicon) -> str | None:
    """The kind that was said outright, for the slot; None when none was, or the choice is left open."""
    named = [(span.value.refs[0], board.words(span.start, span.end)) for span in board.of("crop")]
    for ref, name in named:  # a name that says the kind goes before other words
        if ref.kind and _in_its_name(ref, name, lexicon):
            return str(ref.kind)
    for ref, _ in named:
        found = _kinds_near(board, ref.id, lexicon)
        said = {kind for word, kind, _ in found if word not in _BY_LOOK}
        if len(said) == 1 and not _one_of_several(board, found):
            return said.pop()
    for span in board.of("implied"):
        kind: str | None = span.value.refs[0].kind
        if kind and not _or_seed(board):
            return kind
    return None


def with_kinds(refs: tuple[CropRef, ...], board: Board, lexicon: Lexicon) -> tuple[CropRef, ...]:
    """The crops with the kind that was said of them, or that follows from how they look."""
    return tuple(ref if ref.kind else ref._replace(kind=_kind_of(ref.id, board, lexicon)) for ref in refs)


def _kind_of(base: str, board: Board, lexicon: Lexicon) -> str | None:
    kinds = {kind for _, kind, _ in _kinds_near(board, base, lexicon)}
    return kinds.pop() if len(kinds) == 1 else None


def _in_its_name(ref: CropRef, name: str, lexicon: Lexicon) -> bool:
    """True when the name says the kind: "redcurrants", "sour cherry", a variety; not "onion seedlings"."""
    kind = ref.kind or ""
    if any(look in name for look in _BY_LOOK):
        return False
    if not any(part[:_STEM] in name for part in ref.id.split("-")):
        return True  # a variety, named alone: "Annabelle"
    for word in name.split():
        one = word.removesuffix("s")
        told = lexicon.kinds.get(ref.id, {}).get(word) == kind
        if told or one == kind.removesuffix("s") or one.endswith(kind):
            return True
        if word.startswith(kind) and word[len(kind) :] in lexicon.names:
            return True
    return False


_STEM = 4  # letters that all forms of a crop's name share


def _kinds_near(board: Board, base: str, lexicon: Lexicon) -> list[tuple[str, str, int]]:
    """(word, kind, token) of every kind of the plant that is told, by word or by look."""
    out = []
    spans = [s for s in board.of("crop") if s.value.refs[0].id == base]
    for said, kind in lexicon.kinds.get(base, {}).items():
        length = len(said.split())
        for i in range(len(board.tokens) - length + 1):
            if board.words(i, i + length) == said and (said not in _PLAIN or _of_the_plant(board, i, spans)):
                out.append((said, kind, i))
    return out


def _of_the_plant(board: Board, i: int, spans: list[Span]) -> bool:
    """True when a plain word at token ``i`` is said of the plant: "autumn raspberries", "the summer ones"."""
    after = board.word(i + 1)
    if after in _ONE_OF or (after == "or" and board.word(i + 3) in _ONE_OF):
        return True
    for span in spans:
        if span.start <= i < span.end or span.start == i + 1 or span.end == i:
            return True
        if span.start == i + 2 and after in _BETWEEN:
            return True
    return False


def _one_of_several(board: Board, found: list[tuple[str, str, int]]) -> bool:
    """True for "sets or seed" and "sets, plants or a packet": a choice that is asked about."""
    beside = {s.end for s in board.of("crop")} | {s.start - 1 for s in board.of("crop")}
    return all(word == "sets" and i not in beside for word, _, i in found) and _or_seed(board)


def _or_seed(board: Board) -> bool:
    said = {t.word for t in board.tokens}
    return "or" in said and bool(_SEED & said)
