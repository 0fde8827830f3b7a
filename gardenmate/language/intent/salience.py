"""Which of the crops named are asked about, and which only stand in the story."""

from __future__ import annotations

from gardenmate.core.question import CropRef
from gardenmate.language.intent.topics import Found, weights_at
from gardenmate.language.text.spans import Board, Span, words
from gardenmate.language.values.crops import CropNamed

SHORT = 14  # words; of a shorter text every crop named is asked about
# "fruit the size of a walnut", "leaves like lettuce", "soft as butter": a likeness, not a crop.
_LIKENESS = frozenset({"like", "as", "than"})
_BETWEEN = words("a an the boiled old wet big little ripe cooked small tender")
# Whose crop it is when it is not the grower's own.
_OTHERS = words(
    "neighbour neighbours neighbor neighbors his her their friend dad mum mom uncle everyone people folk "
    "folks"
)
# What is told of a crop that is doing fine, so that the question is about another.
_BE = words("is are was were seem seems looks look")
_STATE = words(
    "up in away ok fine good huge great done out through everywhere tall popped finished later first "
    "already flowering flowered next beside twice"
)
# Words before a crop that only tell where or when: "once the garlic comes out", "along with the shallots".
_BESIDE = words("once where beside between along near unlike alongside amongst among behind")
_ARTICLES = words("the my our some a those these your")
# What makes a crop's name the name of a bed, a pest or a dish.
_COMPOUND = words("moth moths fly butterfly weevil bed patch bread pie leaf markers soup soups")
_SELF = frozenset({"looks fine", "look fine", "next door", "can wait", "can look", "looks good", "comes out"})
_JOIN = words("and or n plus also then both as well few & the my our some a those these")
_FOCUS = words("bothered worried asking concerned care interested want just only mainly")
_NOT_ONE = words("nothing not zero never no none nowt")


def asked_crops(board: Board, found: Found) -> tuple[CropRef, ...]:
    """The crops the question is about, each once, in the order of the text.

    Those the grower says it is about ("I'm only bothered about the plums"), else those named in the question
    clause, else those of the story that are no likeness, nobody else's, and not said to be fine already. When
    that leaves none, all of them.
    """
    spans = _named(board)
    kept = spans
    if _several(spans):  # "it was the beets, not the carrots"
        kept = spans = [s for s in spans if board.words(s.start - 2, s.start) not in _RULED_OUT] or spans
    if _several(kept):  # "the garlic came out. bush beans still?"
        asked = [s for s in kept if board.tokens[s.start].sentence in board.text.questions]
        told = {board.tokens[s.start].sentence for s in kept} - set(board.text.questions)
        kept = spans = asked if asked and told and _closes(board, told) else kept
    if _several(spans) and len(board.tokens) > SHORT:
        lists = _lists(board, spans)
        own = [s for s in spans if not _aside(board, lists[s])]
        kept = _focused(board, lists) or _asked_sentence(board, found, own) or own or spans
    return _refs(kept)


def _closes(board: Board, told: set[int]) -> bool:
    """True where what was told is over: a deed done before the question, not a wish that goes on in it."""
    return any(t.sentence in told and t.word in _DONE_WITH for t in board.tokens)


_DONE_WITH = words(
    "came pulled lifted dug died killed gone lost finished cleared eaten ate harvested picked bolted"
)


def crops_in_question(board: Board, found: Found) -> tuple[CropRef, ...]:
    """The crops named in the question clause itself; none when all stand in the story before it."""
    spans = _named(board)
    if all(u.weight == 1.0 for u in found.units):
        return _refs(spans) if len(board.tokens) <= SHORT else ()
    return _refs(_asked_sentence(board, found, spans))


def _named(board: Board) -> list[Span]:
    spans = sorted((*board.of("crop"), *board.of("family")), key=lambda s: s.start) or board.of("implied")
    spans = [s for s in spans if not _likeness(board, s) and not _container(board, s)] or spans
    return [s for s in spans if not _named_before(s, spans)]


def _several(spans: list[Span]) -> bool:
    return len({r.id for s in spans for r in s.value.refs}) > 1


def _named_before(span: Span, spans: list[Span]) -> bool:
    """True for "the beans" after "broad beans": the same plant again, by the last word of its name."""
    said: str = span.value.typed.lower()
    if " " in said or "-" in said:
        return False
    own = {r.id for r in span.value.refs}
    for other in spans:
        full = other.value.typed.lower()
        if other.start >= span.start or own == {r.id for r in other.value.refs}:
            continue
        if span.start - other.end > 2 and full.rstrip("s").endswith(f" {said.rstrip('s')}"):
            return True
    return False


def _asked_sentence(board: Board, found: Found, spans: list[Span]) -> list[Span]:
    """The spans inside the question clause (the tokens that weigh fully)."""
    if all(u.weight == 1.0 for u in found.units):
        return []
    weight_at = weights_at(board, found)
    return [s for s in spans if weight_at.get(s.start, 0.0) == 1.0]


def _likeness(board: Board, span: Span) -> bool:
    if board.word(span.end) in ("size", "sized", "shaped", "colored", "coloured"):
        return True
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


def _lists(board: Board, spans: list[Span]) -> dict[Span, tuple[Span, ...]]:
    """Span -> the list it stands in ("six melons and 6 cukes"): its members are asked about together."""
    groups: list[list[Span]] = []
    for span in spans:
        if groups and _joined(board, groups[-1][-1], span):
            groups[-1].append(span)
        else:
            groups.append([span])
    return {span: tuple(group) for group in groups for span in group}


def _joined(board: Board, one: Span, other: Span) -> bool:
    between = board.tokens[one.end : other.start]
    same = board.tokens[one.start].sentence == board.tokens[other.start].sentence
    comma = "," in board.tokens[other.start].gap
    return same and (comma or bool(between)) and all(t.word in _JOIN or t.number is not None for t in between)


def _focused(board: Board, lists: dict[Span, tuple[Span, ...]]) -> list[Span]:
    """ "I'm only bothered about the cherry and the plums", "I just want peas"."""
    for span, group in lists.items():
        before = [board.word(span.start - k) for k in range(1, 6)]
        lead = [w for w in before if w not in _ARTICLES and w not in ("about", "in")][:3]
        if len(_FOCUS.intersection(lead[:2])) == 2:
            return list(group)
    return []


def _aside(board: Board, group: tuple[Span, ...]) -> bool:
    """True for crops of the story only; "peppers and tomatoes are up" stand or fall together."""
    first, last = group[0], group[-1]
    i = first.start - 1
    while board.word(i) in _ARTICLES:
        i -= 1
    if board.words(first.start - 2, first.start) in _NOT_THESE or board.word(i) in _BESIDE:
        return True
    if board.words(i - 1, i + 1) in ("along with", "next to", "same as"):
        return True
    return len(group) == 1 and _alone_aside(board, last)


_RULED_OUT = frozenset({"not the", "not my"})
_NOT_THESE = frozenset(
    {
        "full of",
        "instead of",
        "rather than",
        "not the",
        "beside the",
        "over the",
        "drop the",
        "ate the",
        "pulled the",
        "no more",
        "anything but",
        "nothing but",
        "only get",
    }
)


def _alone_aside(board: Board, span: Span) -> bool:
    before = {board.word(span.start - 1), board.word(span.start - 2)}
    if before & _OTHERS or board.word(span.start - 1) in ("no", "not"):
        return True
    after, then = board.word(span.end), board.word(span.end + 1)
    if span.end >= len(board.tokens) or "," in board.tokens[span.end].gap:
        return False
    if board.tokens[span.end - 1].sentence != board.tokens[span.end].sentence:
        return False
    if after == "popped" or board.words(span.end, span.end + 3) in _DUG_UP:
        return True
    if after in _COMPOUND or f"{after} {then}" in _SELF:
        return True
    if after in _BE and then in _STATE:
        return board.word(span.end + 2) not in ("top", "below", "against")
    if _popped_up(board, span.end) and any(t.word in _NOT_ONE for t in board.tokens):
        return True
    if after == "a" and then in ("foot", "metre", "meter", "yard"):  # "garlic's a foot high"
        return True
    dated = any(s.start == span.end + 1 and s.tag == "date" for s in board.spans)
    return (
        not dated
        and after in ("up", "in", "away")
        and then not in words("my the a it there to pots cells trays top")
    )


_CONTAINERS = words(
    "tray trays punnet punnets box boxes crate crates carton cartons tub tubs tin tins sack sacks"
)
_WORN = words("old empty plastic cardboard wooden used spare")


def _container(board: Board, span: Span) -> bool:
    """True for a box named by what came in it: "in an old grape tray"."""
    if board.word(span.end) not in _CONTAINERS:
        return False
    before = board.word(span.start - 1)
    return before in _WORN or board.words(span.start - 2, span.start) in ("in a", "in an", "from a")


_DUG_UP = frozenset({"are coming out", "is coming out", "were coming out", "is coming up", "come out in"})


def _popped_up(board: Board, start: int) -> bool:
    """ "the jalapenos from my friend came up": told within six words, in the same clause."""
    for i in range(start, min(start + 6, len(board.tokens) - 1)):
        if "," in board.tokens[i].gap or any(s.start == i and s.tag == "crop" for s in board.spans):
            return False
        if board.word(i) in ("came", "popped", "come", "shot") and board.word(i + 1) in ("up", "through"):
            return True
    return False


def _refs(spans: list[Span]) -> tuple[CropRef, ...]:
    seen: dict[str, CropRef] = {}
    whole = [s for s in spans if not s.value.family]
    for span in spans:
        named: CropNamed = span.value
        if named.family and any({r.id for r in w.value.refs} & {r.id for r in named.refs} for w in whole):
            continue  # "winter brassicas, sprouts and cabbages": the members are named
        for ref in named.refs:
            old = seen.get(ref.id)
            if old is None or (old.kind is None and ref.kind):
                seen[ref.id] = ref
    return tuple(seen.values())
