"""The words that say what a day beside them is the day of: starts, wishes, trips, frosts, stages."""

from __future__ import annotations

from gardenmate.language.text.spans import Board, words
from gardenmate.records import NamedTuple

SEED = words("sow sowed sown sowing sows seed seeded seeding start started starting begin began begun")
PLANT = words("plant planted planting replant replanted")
_MOVE = words(
    "set setting put putting move moving moved go goes going went plant planted planting take taking"
)
_OUT = words("transplant transplanted transplanting transplants")
_WANT = words(
    "want wants wanted wanting need needs needed ready ripe pick picking picked pickable harvest harvesting "
    "harvested eat eating dinner supper lunch table feast party wedding fair barbecue bbq reunion "
    "birthday anniversary serve carve carving red mature"
)
_HAVE = words("have having get getting got")
AWAY = words("away vacation holiday holidays trip travel traveling travelling traveled abroad camping cruise")
_FROST = words("frost frosts froze freeze freezes frozen snow snowed hail hailed storm forecast")
PAST = words("sowed sown seeded started planted transplanted replanted began begun went moved")
_NOT_TOLD = words("if be should can could to would will")
_SHOWS = words("the our a village county flower garden horticultural agricultural")
_STAGES = {
    "scape": words("scape scapes curled curling"),
    "flower": words("flowered flowering bloomed blooming blossomed blossoming"),
    "silk": words("silk silks silked silking"),
    "tassel": words("tassel tassels tasseled tasselled tasseling tasselling"),
    "tops-down": words("flopped toppled yellowed withered"),
    "up": words("sprouted germinated emerged"),
}


class Role(NamedTuple):
    """What a day is the day of, and, for a start already made or a sight, of which kind."""

    name: str
    kind: str = ""


def role_at(board: Board, i: int) -> Role | None:
    """What kind of word stands at token ``i``: a start (kind "past" when already made), a wish, a trip ..."""
    word = board.word(i)
    if word == "out" and any(board.word(i - k) in _MOVE for k in (1, 2, 3, 4)):
        k = next(k for k in (1, 2, 3, 4) if board.word(i - k) in _MOVE)
        return Role("setout", "past" if is_past(board, i - k) else "")
    if (
        word == "put"
        and any(board.word(i + k) == "in" for k in (1, 2, 3))
        and any(s.start == i + 1 for s in board.of("crop"))
    ):
        return Role("plant", "past" if is_past(board, i) else "")  # "put melons in in May"
    if word in _OUT:
        return Role("setout", "past" if is_past(board, i) else "")
    if word == "in" and board.word(i - 1) in ("go", "goes", "going") and board.word(i + 1) == "the":
        return Role("setout", "")  # "go in the ground June 1"
    if word in ("set", "put") and board.word(i + 1) in ("seeds", "seed"):
        return Role("sow", "")
    if word == "set" and board.word(i + 1) != "out" and _bears(board, i - 1):
        return Role("seen", "fruit")
    for stage, said in _STAGES.items():
        if word in said:
            return Role("seen", stage)
    if word in ("over", "down") and board.word(i - 1) in ("fell", "fallen", "gone", "falling", "fall"):
        return Role("seen", "tops-down")
    if word == "up" and board.word(i - 1) in ("came", "come", "coming"):
        return Role("seen", "up")
    if word == "in" and (board.word(i - 1) == "went" or (board.word(i - 1) == "put" and _put_in(board, i))):
        return Role("plant", "past")
    if word in SEED:
        if word in ("seed", "start") and board.word(i - 1) in ("the", "from", "my", "of", "head"):
            return None
        if word == "seed" and board.word(i + 1) in ("potato", "potatoes", "spuds", "tubers", "garlic"):
            return None
        return Role("sow", "past" if is_past(board, i) else "")
    if word in PLANT:
        return Role("plant", "past" if is_past(board, i) else "")
    if word in AWAY or (word == "gone" and board.word(i - 1) in ("are", "am", "be", "is")
                         and board.word(i - 2) in ("i", "we", "will")):  # fmt: skip
        return Role("away")
    if word in ("leave", "leaving") and board.word(i - 1) in ("i", "we", "am", "are"):
        return Role("away")
    if word == "show" and board.word(i - 1) in _SHOWS:
        return Role("want")
    if word == "town" and board.words(i - 2, i) == "out of":
        return Role("away")
    if word in _FROST:
        return None if _to_beat(board, i) else Role("frost")
    if word in _WANT and not (word in ("need", "needs") and board.word(i + 1) == "to"):
        return Role("want")
    return Role("have") if word in _HAVE and board.word(i + 1) != "to" else None


def _to_beat(board: Board, i: int) -> bool:
    """True for "a bit of rocket before the snow, ...": a frost to come that no day is told of."""
    ends = i + 1 >= len(board.tokens) or "," in board.tokens[i + 1].gap
    return ends and board.word(i - 1 - (board.word(i - 1) == "the")) in ("before", "until", "beat")


def _put_in(board: Board, i: int) -> bool:
    """True for "carrots put in ten weeks ago" and "I put in peas": planted, not to be planted."""
    before = board.word(i - 2)
    told = "ago" in {board.word(k) for k in range(i + 1, i + 6)}
    return before in ("i", "we", "were", "was", "got", "have", "just") or (told and _bears(board, i - 2))


def _bears(board: Board, i: int) -> bool:
    """True when what stands at token ``i`` can set fruit: the crop, "they", "it", "the fruit"."""
    return board.word(i) in ("they", "it", "fruit", "fruits") or any(s.end == i + 1 for s in board.of("crop"))


def is_past(board: Board, i: int) -> bool:
    """True when the verb at token ``i`` tells of a start already made."""
    word = board.word(i)
    sentence = board.tokens[i].sentence
    before = {t.word for t in board.tokens[max(0, i - 3) : i] if t.sentence == sentence}
    if word in PAST:  # "can be sown", "if sown" are not told; "will leeks sown in March" are
        near = {t.word for t in board.tokens[max(0, i - 2) : i] if t.sentence == sentence}
        missed = "should" in before and "have" in near
        return not missed and "if" not in before and "be" not in near and board.word(i - 1) not in _NOT_TOLD
    told = word in ("set", "put") and board.word(i - 1) in (
        "i",
        "we",
        "have",
        "already",
        "just",
        "was",
        "were",
    )
    return told and not before & (_NOT_TOLD | {"do", "when", "did"})
