"""The people of a household, as a text counts them."""

from __future__ import annotations

from gardenmate.language.text.spans import Board, words

_PEOPLE = words(
    "pensioners toddlers people person persons adults adult mouths folks folk kids kid children eaters bloke blokes "
    "teenagers teens grandkids grandchildren guests lodgers"
)
_GROWN = words("hungry grown small little big other more growing teenage young old")
_HOUSE = frozenset(["family", "household", "house", "crew", "us"])
_KIN = words(
    "wife husband hubby partner sister brother mother father mum mom dad son daughter lad lass girlfriend "
    "boyfriend fiancee flatmate roommate housemate lodger baby toddler grandson granddaughter gran nan "
    "missus mate boy girl aunt uncle grandkids kids parents boys girls lodgers inlaws twins"
)
_MYSELF = words("me myself i")
_OWNERS = words("my the our a his her and plus with young wee little old just now")
_ALONE = frozenset({"live alone", "living alone", "on my own", "by myself", "just me", "only me", "for one"})
_OTHERS_TOO = words("crew guests folks family customers us people kids")
_NOT_PEOPLE = words("came sprouted germinated")


def find_people(board: Board, wanted: bool) -> None:
    """Lay a `people` span; ``wanted``: the question is about amounts, so "for 4" means people.

    A whole that is stated ("family of four") counts, not the sum of those named in the story; without one,
    the kinds of people are added up ("two adults and three kids").
    """
    tokens = board.tokens
    total, first = 0, None
    for i, token in enumerate(tokens):
        n = token.number
        if n is None or n != int(n) or not 0 < n < 200 or i in board.taken:
            if token.word in ("single",) and board.word(i + 1) == "person":
                board.lay(i, i + 2, "people", 1)
            continue
        whole = _whole(board, i, wanted)
        if whole is not None:
            board.lay(*whole, "people", int(n))
        elif _likened(board, i):
            continue
        elif _some_people(board, i) and board.lay(i, i + 2, "people_part", int(n)):
            total, first = total + int(n), i
    if board.of("people"):
        return
    if first is not None:
        board.lay_free("people", total)
        return
    named = _named_one_by_one(board)
    if named and wanted:
        board.lay_free("people", named)


def the_household(board: Board) -> int | None:
    """How many people are to be fed: the whole that was stated."""
    spans = board.of("people")
    return int(spans[0].value) if spans else None


def _whole(board: Board, i: int, wanted: bool) -> tuple[int, int] | None:
    """The tokens of a whole household: "family of four", "three of us", "six in the house"."""
    if board.word(i + 1) == "of" and board.word(i + 2) == "us" and not board.near(i, _NOT_PEOPLE, 0, 5):
        return i, i + 3
    if board.word(i + 1) == "of" and board.word(i + 2) in ("them", "em") and _people_before(board, i):
        return i, i + 3
    if board.word(i - 1) == "of" and board.word(i - 2) in _HOUSE:
        return i - 2, i + 1
    if board.words(i + 1, i + 3) in ("in the", "in our", "in my", "at home") and (
        board.word(i + 3) in _HOUSE or board.word(i + 2) == "home"
    ):
        return i, i + 1
    if board.word(i - 1) == "us" and board.word(i - 2) in ("just", "only") and _ends_amount(board, i + 1):
        return i, i + 1  # "just us two"
    if board.word(i - 1) == "for" and i - 2 in board.taken and board.tokens[i - 2].number is not None:
        return None  # "canes 25 for ten": what they cost
    if board.words(i - 2, i) == "for us" and _ends_amount(board, i + 1):
        return i, i + 1  # "asparagus for us three"
    if board.words(i - 2, i) == "we are" and i + 1 == len(board.tokens):
        return i, i + 1
    fed = board.word(i - 1) == "for" and any(s.end == i - 1 for s in board.of("crop"))
    if fed and (
        _ends_amount(board, i + 1) or board.words(i + 1, i + 3) in ("all winter", "all year", "at the")
    ):
        return i, i + 1  # "carrots for 4 all winter"
    if board.word(i + 1) == "with" and board.word(i + 3) in _KIN and board.word(i + 2) in _OWNERS:
        return i, i + 1  # "three with the lodger"
    if (
        wanted
        and board.word(i - 1) in ("for", "feed", "feeding", "feeds", "serve")
        and _ends_amount(board, i + 1)
    ):
        return i, i + 1
    return None


def _some_people(board: Board, i: int) -> bool:
    return board.word(i + 1) in _PEOPLE or (board.word(i + 1) in _GROWN and board.word(i + 2) in _PEOPLE)


def _people_before(board: Board, i: int) -> bool:
    return any(board.word(k) in _OTHERS_TOO for k in range(max(0, i - 8), i))


def _likened(board: Board, i: int) -> bool:
    """True for "I plant like we've four teenagers"."""
    return "like" in {board.word(k) for k in range(max(0, i - 3), i)}


def _named_one_by_one(board: Board) -> int:
    """The people of "me and the wife", "myself, my sister and the lad"; 1 for "I live alone", else 0."""
    for i in range(len(board.tokens)):
        if board.word(i) not in _MYSELF:
            continue
        j, count = i + 1, 1
        while j < len(board.tokens) and board.word(j) in _OWNERS | _KIN:
            count += board.word(j) in _KIN
            j += 1
        if count > 1:
            return count
    text = " ".join(t.word for t in board.tokens)
    return 1 if any(said in text for said in _ALONE) else 0


_AFTER_AMOUNT = words("and or with all through over this how please in who that we i year for is now then")


def _ends_amount(board: Board, i: int) -> bool:
    ended = i >= len(board.tokens) or board.tokens[i].sentence != board.tokens[i - 1].sentence
    return ended or "," in board.tokens[i].gap or board.word(i) in _AFTER_AMOUNT
