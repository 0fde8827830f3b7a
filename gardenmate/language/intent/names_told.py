"""Marks of what a line names: crops, varieties, and where in the garden things stand."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Literal

from gardenmate.core.question import CropRef, Typed
from gardenmate.language.text.spans import Board, Span, words
from gardenmate.records import NamedTuple

Kind = Literal["action", "crop", "count", "date", "where", "variety", "days", "not", "which", "all"]


class NameMark(NamedTuple):
    """One thing told: its kind, what it is, and the tokens it stands on. ``unit`` belongs to a count; ``weak``: an
    action that is only one where no other is told ("in", "out", "up"). The ``unit`` of a crop called by the name of a
    variety is that name."""

    kind: Kind
    value: object
    start: int
    end: int
    unit: str = ""
    weak: bool = False


UNITS: Mapping[str, str] = {
    **dict.fromkeys(("row", "rows", "drill", "drills"), "rows"),
    **dict.fromkeys(("tray", "trays", "flat", "flats"), "trays"),
    **dict.fromkeys(("pot", "pots"), "pots"),
    **dict.fromkeys(("cell", "cells", "module", "modules", "plugs"), "cells"),
    **dict.fromkeys(("packet", "packets", "pack", "packs"), "packets"),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("kg", "kilo", "kilos"), "kg"),
    **dict.fromkeys(("oz", "ounce", "ounces"), "oz"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("ft", "foot", "feet"), "ft"),
    **dict.fromkeys(("quart", "quarts", "jar", "jars", "pint", "pints"), "jars"),
    **dict.fromkeys(("plant", "plants", "seedling", "seedlings", "starts"), "plants"),
    **dict.fromkeys(
        ("seed", "seeds", "cloves", "clove", "sets", "tubers", "slips", "crowns", "bulbs"), "pieces"
    ),
}


NUMBERED = words(
    "bed beds tray trays mat row frame shelf job number note entry zone box tunnel # light lamp "
    "change edit amend correct fix"
)


_SPOTS = words(
    "bed beds tray trays frame frames tunnel polytunnel hoophouse greenhouse glasshouse sill windowsill sills window "
    "kitchen bedroom bathroom basement cellar garage shed porch fridge mat pad lights light lamp shelf rack "
    "conservatory camp home allotment plot border trough troughs tub tubs pots modules cells barrel hotbed ground "
    "garden field yard patio deck balcony bucket buckets box boxes flats closet attic barn orchard hedge cottage "
    "bench patch ridge ridges mound mounds trellis seedbed strip prop propagator propagators planter planters bank "
    "corner barrels arbour arbor pergola terrace wall"
)


_LEADS = words("in on at to under into onto inside behind beside by near up out down half along across")


_BESIDE = words(
    "the my our a that this back front top bottom left right south north east west big small "
    "cold heat old new raised first second seed long short near far sunny shady spare little"
)


_PLAIN_SPOTS = words("bed tray mat frame tunnel greenhouse sill windowsill shelf trough mounds mound bench")


_NO_PLAIN_SPOT = words("garden field home ground pots tubs modules cells lights light boxes box flats window")


_SAME = (
    "in there",
    "in it",
    "in that bed",
    "in the same",
    "same bit",
    "same spot",
    "same place",
    "same bed",
    "same tray",
    "beside them",
    "next to them",
    "in with them",
    "alongside them",
    "between them",
    "between em",
    "among them",
)


_SMALL = words("of de the du di von la le")


_NO_NAME = words(
    "i no ok yes so and the my our it we a hi hello thanks then now right well good both all also just done"
)


_MOST_WORDS = 4  # words of a variety, or of a name in capitals; design value


def names_and_places(board: Board, varieties: Mapping[str, str], gardens: frozenset[str]) -> Iterator[Typed]:
    """Where (a bed, tray or other part of the garden), garden (one told by name), crop and variety, as named in the
    line itself: what comes from the conversation is not among them."""
    for mark in places_named(board, gardens):
        yield Typed("where", str(mark.value), start=mark.start, end=mark.end)
        named = next((name for name in gardens if name in str(mark.value).split()), None)
        if named is not None:
            yield Typed("garden", named)
    for mark in crops_named(board):
        if isinstance(mark.value, CropRef):
            yield Typed("crop", mark.value.id)
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
    return [
        NameMark("crop", ref, s.start, s.end, _as_variety(board, s))
        for tag in ("crop", "family", "implied")
        for s in board.of(tag)
        for ref in s.value.refs[:1]
    ]


def _as_variety(board: Board, span: Span) -> str:
    """The name where a crop is called by that of a variety ("Black Krim", "Yukon Gold"); "" for a plain name."""
    tokens = board.tokens[span.start : span.end]
    first = span.start == 0 or board.tokens[span.start - 1].sentence != tokens[0].sentence
    if not all(t.capital for t in tokens) or (first and len(tokens) == 1):
        return ""
    return board.text.typed[tokens[0].start : tokens[-1].end]


def places_named(board: Board, gardens: frozenset[str]) -> list[NameMark]:
    """ "in tray 1", "bed 3", "under the lights", "bed by the shed", "at camp"."""
    tokens, found = board.tokens, []
    for i in range(len(tokens)):
        word = board.word(i)
        if (left := _left_by(board, i)) is not None:
            found.append(left)
        elif _same_place(board, i):
            found.append(NameMark("where", "same", i, _same_place(board, i)))
        elif word in NUMBERED and word in _SPOTS and _numbers(board, i + 1):
            start = i - 1 if board.word(i - 1) in _LEADS else i
            found.append(_numbered(board, start, i))
        elif word in _LEADS and i + 1 < len(tokens):
            end = _spot_end(board, i + 1, gardens)
            if end:
                named = i + 1
                while board.word(named) in ("the", "my", "our", "a", *_LEADS) and named + 1 < end:
                    named += 1
                numbered = board.word(named) in NUMBERED and end > named + 1
                found.append(_numbered(board, i, named) if numbered else _where(board, i, end, named))
        elif word in _PLAIN_SPOTS and board.word(i + 1) in ("by", "behind", "beside", "under"):
            end = i + 2 + (board.word(i + 2) in ("the", "my", "our"))
            if end < len(tokens):
                found.append(_where(board, i, end + 1, i))
        elif word in gardens and board.word(i + 1) in ("ones", "one", "lot"):  # "the camp ones"
            found.append(NameMark("where", word, i, i + 1))
        elif _told_alone(board, i):
            found.append(_where(board, i, _told_alone(board, i), i))
        elif word == "home" and board.word(i - 1) in ("one", "some", "rest", "at"):
            found.append(NameMark("where", "home", i, i + 1))
    return found


def _left_by(board: Board, i: int) -> NameMark | None:
    """The place another crop had: "where the spuds were", "same bed as the garlic was"; called "potato bed"."""
    lead = next(
        (said for said in ("where", "same bed as") if board.words(i, i + said.count(" ") + 1) == said), None
    )
    if lead is None:
        return None
    at = i + lead.count(" ") + 1
    at += board.word(at) in ("the", "my", "our")
    crop = next((s for s in board.of("crop") if s.start == at), None)
    if crop is None or board.word(crop.end) not in ("were", "was", "had", "came"):
        return None
    start = i - 1 if board.word(i - 1) in _LEADS else i
    return NameMark("where", f"{crop.value.refs[0].id.replace('-', ' ')} bed", start, crop.end + 1)


def _same_place(board: Board, i: int) -> int:
    """Where words that mean the place told before end: "in there", "same bed", a "there" that closes its clause."""
    for said in _SAME:
        length = said.count(" ") + 1
        stands = said.startswith(board.word(i)) and board.words(i, i + length) == said
        if stands and _spot_end(board, i + 1, frozenset()) <= i + length:
            return i + length
    if board.word(i) == "same" and board.word(i + 1) in _PLAIN_SPOTS:
        return i + 2
    if board.word(i) == "there" and i > 0 and board.word(i - 1) not in _BE and _clause_ends(board, i + 1):
        return i + 1
    return 0


_BE = words("is are was were out over up back")


def _clause_ends(board: Board, i: int) -> bool:
    """True where a clause ends before token ``i``."""
    if i >= len(board.tokens):
        return True
    token = board.tokens[i]
    return (
        token.sentence != board.tokens[i - 1].sentence
        or "," in token.gap
        or token.word in ("and", "now", "today")
    )


def _told_alone(board: Board, i: int) -> int:
    """Where a place ends that is told between commas, without a leading word: "sowed 20, kitchen bench"; else 0."""
    token = board.tokens[i]
    if i == 0 or not (token.sentence != board.tokens[i - 1].sentence or "," in token.gap):
        return 0
    for end in range(i + 1, min(i + 4, len(board.tokens)) + 1):
        spot = board.word(end - 1)
        if spot in _SPOTS - _NO_PLAIN_SPOT and _clause_ends(board, end):
            return end
        if spot in _LEADS or board.tokens[end - 1].number is not None or _clause_ends(board, end):
            return 0
    return 0


def _spot_end(board: Board, i: int, gardens: frozenset[str]) -> int:
    """Where a place of the garden that begins at ``i`` ends; 0 when none does. At most three words lead to it."""
    at = i
    while at < i + 4 and at < len(board.tokens):
        word = board.word(at)
        if word in _SPOTS or word in gardens:
            end = at + 1
            if word in NUMBERED and _numbers(board, end):
                return _numbered(board, i, at).end
            led = board.word(end) in ("by", "behind", "beside") and board.word(end + 1) in ("the", "my")
            if led and board.word(end + 2) != "way":
                return min(end + 3, len(board.tokens))
            if board.word(end) == "in" and board.word(end + 1) == "the" and board.word(end + 2) in _SPOTS:
                return end + 3
            return end
        span = next((s for s in board.spans if s.start <= at < s.end and s.tag == "crop"), None)
        if (
            word not in _BESIDE
            and word not in _LEADS
            and (span is None or board.word(span.end) not in _SPOTS)
        ):
            return 0
        at += 1
    return 0


def _numbered(board: Board, start: int, i: int) -> NameMark:
    """The bed or tray ``i`` with its number, and the further numbers named with it: "beds 1 and 2" is bed 1 and
    bed 2."""
    end = i + 2
    while board.word(end) in ("and", "&") and _closes_a_place(board, end + 1):
        end += 2
    kind = board.word(i).removesuffix("s")
    numbers = [board.tokens[k].raw for k in range(i + 1, end, 2)]
    return NameMark("where", " and ".join(f"{kind} {n}" for n in numbers), start, end)


_NEAR_DAYS = words("today yesterday tonight tomorrow")


def _closes_a_place(board: Board, i: int) -> bool:
    """True for a number that can only be that of another bed: nothing it might count follows."""
    ends = i + 1 >= len(board.tokens) or board.tokens[i + 1].sentence != board.tokens[i].sentence
    dated = board.word(i + 1) in _NEAR_DAYS or any(s.start == i + 1 and s.tag == "date" for s in board.spans)
    return _numbers(board, i) and (ends or dated or "," in board.tokens[i + 1].gap)


def _where(board: Board, start: int, end: int, named: int) -> NameMark:
    first, last = board.tokens[named], board.tokens[end - 1]
    text = board.text.typed[first.start : last.end].lower()
    return NameMark("where", re.sub(r"^(?:the|my|our|a)\s+", "", text), start, end)


def _numbers(board: Board, i: int) -> bool:
    """True when token ``i`` is the number of the bed or tray before it."""
    token = board.tokens[i] if 0 < i < len(board.tokens) else None
    if token is None or token.number is None or token.number != int(token.number) or token.number > 40:
        return False
    same = token.sentence == board.tokens[i - 1].sentence and "," not in token.gap
    return same and board.word(i + 1) not in ("of", "is", *UNITS)


def varieties_named(board: Board, known: Mapping[str, str]) -> list[NameMark]:
    """Names of varieties: those told before, in any case; new ones by their capitals, beside a crop or a number."""
    found = _known_varieties(board, known)
    held = {i for m in found for i in range(m.start, m.end)}
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
