"""Where in the garden things stand, as a line tells it: "tray 1", "under the lights", "behind the shed", "same bed"."""

from __future__ import annotations

import re

from gardenmate.language.intent.name_marks import UNITS, NameMark
from gardenmate.language.text.spans import Board, words

NUMBERED = words(
    "bed beds tray trays flat rack plot ridge mat row frame shelf job number note entry zone box tunnel # light lamp "
    "change edit amend correct fix"
)


_SPOTS = words(
    "bed beds tray trays frame frames tunnel polytunnel hoophouse greenhouse glasshouse sill windowsill sills window "
    "kitchen bedroom bathroom basement cellar garage shed porch fridge mat pad lights light lamp shelf rack "
    "conservatory camp home allotment plot border trough troughs tub tubs pots modules cells barrel hotbed ground "
    "garden field yard patio deck balcony bucket buckets box boxes flats closet attic barn orchard hedge cottage "
    "bench patch ridge ridges mound mounds trellis seedbed strip prop propagator propagators planter planters bank "
    "corner barrels arbour arbor pergola terrace wall rack hall room sunroom sunporch mudroom laundry pantry scullery "
    "loft veranda verandah entry step steps stairs counter table office gallery jar jars glass jug jugs cup cups cart "
    "crate crates carton cartons tote bin trench heap gutter sand grit plastic polycrub polytub woodshed hutch bath "
    "cupboard pot bathtub upstairs downstairs outside fence gate path house woodpile pond dyke dike poles snowbank "
    "rockery"
)


_LEADS = words("in on at to under into onto inside behind beside by near up out down half along across")


_BESIDE = words(
    "the my our a that this back front top bottom left right south north east west big small "
    "cold heat old new raised first second seed long short near far sunny shady spare little"
)


_PLAIN_SPOTS = words(
    "bed tray flat row box rack plot mat frame tunnel greenhouse sill windowsill shelf trough mounds mound bench"
)


_NO_PLAIN_SPOT = words(
    "garden field home ground pots tubs modules cells lights light boxes box flats window room step steps glass "
    "pot cupboard jars jugs cups crates cartons sand grit plastic outside upstairs downstairs table entry office bath"
)


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
    "beside it",
    "next to it",
    "next to em",
    "in with em",
    "with it",
    "with em",
    "the other half",
    "the other end",
    "at the end",
    "on the end",
)
_ROWS = words("row flat")  # places where they are numbered: "row 3", not "in a row"
_NEXT_TO_IT = words(
    "beside behind between alongside"
)  # standing alone at the end: beside what was told before
_BEHIND = words("behind beside along against")  # what follows these is a place whatever it is called
_NO_PLACE_NAME = words("schedule time this that it them em those these him her us me")


NUMBER = "#"
"""Opens a place told by its number alone."""
_HOLDS = words("has had have holds got")
_DETERMINERS = words("the my our a an that this her his")


def places_named(board: Board, gardens: frozenset[str]) -> list[NameMark]:
    """Every place of a line; ``gardens`` are the names of the grower's gardens, in small letters."""
    found = []
    for i in range(len(board.tokens)):
        mark = _standing(board, i) or _led(board, i, gardens) or _called(board, i, gardens)
        if mark is not None:
            found.append(mark)
    return found


def _standing(board: Board, i: int) -> NameMark | None:
    """A place that needs no leading word: where another crop was, the same again, one with its number."""
    left = _left_by(board, i)
    if left is not None:
        return left
    same = _same_place(board, i)
    if same:
        return NameMark("where", "same", i, same)
    word = board.word(i)
    if word in NUMBERED and (word in _SPOTS or word in _ROWS) and _numbers(board, i + 1):
        led = board.word(i - 1) in _LEADS and board.tokens[i - 1].sentence == board.tokens[i].sentence
        return _numbered(board, i - led, i)
    return None


def _led(board: Board, i: int, gardens: frozenset[str]) -> NameMark | None:
    """A place a word leads to: "in tray 1", "behind the woodpile", "into 4 inch pots", "in 5"."""
    word = board.word(i)
    if word not in _LEADS or i + 1 >= len(board.tokens):
        return None
    end = _spot_end(board, i + 1, gardens)
    if end:
        named = i + 1
        while board.word(named) in ("the", "my", "our", "a", *_LEADS) and named + 1 < end:
            named += 1
        if board.word(named) in NUMBERED and end > named + 1:
            return _numbered(board, i, named)
        return _where(board, i, end, i if word in _BEHIND else named)
    if word in _BEHIND and board.word(i + 1) in _DETERMINERS and (end := _thing_end(board, i + 2)):
        return _where(board, i, end, i)
    if end := _vessel_end(board, i):
        return _where(board, i, end, i + 1)
    if word == "in" and _bare_number(board, i + 1):
        return NameMark("where", f"{NUMBER}{_number(board, i + 1)}", i, i + 2)
    return None


def _called(board: Board, i: int, gardens: frozenset[str]) -> NameMark | None:
    """A place called by its name alone: "frame has 24", "bed by the shed", "the camp ones", "20, kitchen bench"."""
    word, after = board.word(i), board.word(i + 1)
    if word in _PLAIN_SPOTS and after in _HOLDS and (i == 0 or board.word(i - 1) in _DETERMINERS):
        return _where(board, i, i + 1, i)
    if word in _PLAIN_SPOTS and after in ("by", "behind", "beside", "under"):
        end = i + 2 + (board.word(i + 2) in ("the", "my", "our"))
        return _where(board, i, end + 1, i) if end < len(board.tokens) else None
    if word in gardens and after in ("ones", "one", "lot"):
        return NameMark("where", word, i, i + 1)
    alone = _told_alone(board, i)
    if alone:
        return _where(board, i, alone, i)
    at_home = word == "home" and board.word(i - 1) in ("one", "some", "rest", "at")
    return NameMark("where", "home", i, i + 1) if at_home else None


def _bare_number(board: Board, i: int) -> bool:
    """True for the number of "200 in 2" and "spinach in 5, two rows": of a bed or tray that is not named."""
    token = board.tokens[i] if i < len(board.tokens) else None
    whole = (
        token is not None
        and token.number is not None
        and token.number == int(token.number)
        and token.number <= 40
    )
    free = whole and not any(s.start <= i < s.end and s.tag in ("date", "span", "temp") for s in board.spans)
    return free and (_clause_ends(board, i + 1) or board.tokens[i + 1].number is not None)


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
    if i > 0 and board.word(i) in _NEXT_TO_IT and _clause_ends(board, i + 1):
        return i + 1
    if board.word(i) == "there" and i > 0 and board.word(i - 1) not in _BE and _clause_ends(board, i + 1):
        return i + 1
    return 0


_BE = words("is are was were out over up back")


_SIZES = words("inch inches in cm litre litres liter liters l gallon gallons gal quart quarts pint pints oz")
_VESSELS = words("quarts gallons pints cups pots cans cartons peat pot")


def _vessel_end(board: Board, i: int) -> int:
    """Where a pot ends that plants are moved into: "into 4 inch pots", "into quarts"; 0 where none is told."""
    if board.word(i) not in ("into", "in", "to"):
        return 0
    at = i + 1
    if board.tokens[at].number is not None and board.word(at + 1) in _SIZES - {"in"}:
        at += 2
        return at + (board.word(at) in _VESSELS)
    return at + 1 if board.word(i) == "into" and board.word(at) in _VESSELS else 0


def _thing_end(board: Board, i: int) -> int:
    """Where the name of a thing that begins at ``i`` ends, three words at most: "woodpile", "old dog run"; 0 where none
    stands there (a crop, a day, a number)."""
    end = i
    while end < min(i + 3, len(board.tokens)):
        token = board.tokens[end]
        named = any(s.start <= end < s.end and s.tag in ("crop", "family", "date") for s in board.spans)
        if named or token.number is not None or not token.word.isalpha() or token.word in _NO_PLACE_NAME:
            return 0
        end += 1
        if _clause_ends(board, end) or board.word(end) in _LEADS:
            return end
    return 0


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
    named = any(s.end == i for s in board.of("crop"))  # "60 lettuce kitchen counter"
    if i == 0 or not (named or token.sentence != board.tokens[i - 1].sentence or "," in token.gap):
        return 0
    for end in range(i + 1, min(i + 4, len(board.tokens)) + 1):
        spot = board.word(end - 1)
        if spot in _SPOTS - _NO_PLAIN_SPOT and _clause_ends(board, end):
            return end
        unlike = named and spot not in _SPOTS | _BESIDE
        if unlike or spot in _LEADS or board.tokens[end - 1].number is not None or _clause_ends(board, end):
            return 0
    return 0


def _spot_end(board: Board, i: int, gardens: frozenset[str]) -> int:
    """Where a place of the garden that begins at ``i`` ends; 0 when none does. At most three words lead to it."""
    at = i
    described = board.word(i) in _DETERMINERS  # "in the blue tray": any word may tell which
    while at < i + 4 and at < len(board.tokens):
        word = board.word(at)
        if word in _SPOTS or word in gardens:
            end = at + 1
            if word in NUMBERED and _numbers(board, end):
                return _numbered(board, i, at).end
            while board.word(end) in _SPOTS and not _clause_ends(board, end):  # "kitchen sill"
                end += 1
            led = board.word(end) in ("by", "behind", "beside") and board.word(end + 1) in ("the", "my")
            if led and board.word(end + 2) != "way":
                return min(end + 3, len(board.tokens))
            if board.word(end) == "in" and board.word(end + 1) == "the" and board.word(end + 2) in _SPOTS:
                return end + 3
            return end
        span = next((s for s in board.spans if s.start <= at < s.end and s.tag == "crop"), None)
        leads = word in _BESIDE or word in _LEADS or (span is not None and board.word(span.end) in _SPOTS)
        tells = (
            described and span is None and board.tokens[at].number is None and not _clause_ends(board, at + 1)
        )
        if not leads and not tells:
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
    numbers = [_number(board, k) for k in range(i + 1, end, 2)]
    return NameMark("where", " and ".join(f"{kind} {n}" for n in numbers), start, end)


def _number(board: Board, i: int) -> str:
    """The number of a bed or tray in figures ("two" is 2), or its letter."""
    number = board.tokens[i].number
    return board.tokens[i].raw if number is None else f"{number:g}"


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
    lettered = token is not None and len(token.word) == 1 and token.word in "abcdefgh"
    if lettered:
        return board.word(i) != "a" or _clause_ends(board, i + 1)
    if token is None or token.number is None or token.number != int(token.number) or token.number > 40:
        return False
    same = token.sentence == board.tokens[i - 1].sentence and "," not in token.gap
    return same and board.word(i + 1) not in ("of", "is", *UNITS)
