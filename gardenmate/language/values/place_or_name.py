"""Place words that name something else: a variety ("Texas sweet onions"), a person ("Madison says")."""

from __future__ import annotations

from gardenmate.language.text.spans import Board, words

# Place words that stand in the names of common varieties and crops: "Texas sweet onions", "Boston lettuce".
_OF_VARIETIES = words(
    "alaska amsterdam arkansas bordeaux boston brussels california canada carolina charleston chicago "
    "cincinnati connecticut copenhagen danvers detroit egyptian florida genoa georgia hamburg hawaii idaho "
    "iowa jersey jerusalem kansas kentucky lima lisbon louisiana maine michigan milan minnesota mississippi "
    "montreal nantes naples ohio oregon paris rutgers savoy texas utah vermont victoria vidalia virginia"
)
_OF_VARIETIES_2 = frozenset(["walla walla", "long island", "new zealand", "new jersey", "nova scotia"])
_LEADS_TO = words("in near at from around outside here to over up of by live garden")


def in_variety(board: Board, start: int, end: int) -> bool:
    """True when the place word is part of a variety's name: "Texas sweet onions", "Minnesota Midget melon".

    It stands right before the crop, with nothing but capital words (or one small one) between, and nothing
    leads to it as to a place.
    """
    tokens = board.tokens
    if start and (
        tokens[start - 1].word in _LEADS_TO and tokens[start - 1].sentence == tokens[start].sentence
    ):
        return False
    if _days_before(board, start):  # "65 day Nantes"
        return True
    if board.words(start, end) == "jerusalem" and board.word(end) in ("artichoke", "artichokes"):
        return True
    crop = next((s for s in board.spans if s.tag in ("crop", "family") and s.start >= end), None)
    if crop is None or crop.start - end > 2 or tokens[crop.start].sentence != tokens[start].sentence:
        return False
    between = tokens[end : crop.start]
    if any(t.gap != " " for t in (*between, tokens[crop.start])):
        return False
    name = board.words(start, end)
    listed = name in _OF_VARIETIES or name in _OF_VARIETIES_2
    if not between:  # a capitalised name right before a crop is one of its varieties
        return listed or tokens[start].capital
    named = all(t.capital or t.number is not None for t in between)
    return named or (listed and len(between) == 1)


def _days_before(board: Board, start: int) -> bool:
    """True right behind days to maturity, where the name of a sort stands."""
    tokens = board.tokens
    days = start >= 2 and tokens[start - 1].word in ("day", "days") and tokens[start - 2].number is not None
    return days and tokens[start - 1].sentence == tokens[start].sentence


_LED = words("in near at from around outside for here to over up down of")
_OF_PEOPLE = words(
    "says said say asks asked wants wanted told tells thinks thought swears reckons gave gives bought buys brought "
    "has had grows grew planted sowed and & or likes loves needs"
)


def somebody(board: Board, start: int, end: int) -> bool:
    """True for a name that does or says something, or is one of two: "Madison says", "Carmen or Fresno",
    "Environment Canada"."""
    before = board.word(start - 1)
    return before in ("and", "or", "ask", "tell", "environment") or (
        before not in _LED and board.word(end) in _OF_PEOPLE
    )


_STAND_LED = words("by the is was now")


def set_off(board: Board, start: int, end: int) -> bool:
    """True for a name at either end of its sentence, or set off by a comma: where a place stands by itself."""
    tokens = board.tokens
    sentence = tokens[start].sentence
    if board.word(start - 1) in _STAND_LED:
        return True
    first = start == 0 or tokens[start - 1].sentence != sentence or "," in tokens[start].gap
    last = end >= len(tokens) or tokens[end].sentence != sentence or "," in tokens[end].gap
    return first or last


def in_longer_name(board: Board, start: int, end: int) -> bool:
    """True for a place word with another capital word right behind it that nothing leads to: "Texas Grano"."""
    tokens = board.tokens
    if board.word(start - 1) in _LED or end >= len(tokens) or not tokens[start].capital:
        return False
    after = tokens[end]
    said = after.capital and after.gap == " " and after.sentence == tokens[start].sentence
    return said and len(after.raw) > 1 and not after.raw.isupper() and end not in board.taken
