"""What a temperature is of: the night's low, the day's high, the soil, the inside of a frame, a setting."""

from __future__ import annotations

from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.thermometer import POINTS

_ROLES: tuple[tuple[str, frozenset[str]], ...] = (
    ("soil", frozenset({"soil", "ground", "dirt", "bed"})),
    ("setting", frozenset({"thermostat", "setting", "set", "mat"})),
    ("inside", words("inside frame greenhouse tunnel polytunnel coldframe hoophouse indoors")),
    ("low", words("low lows overnight tonight night nights min minimum dawn down")),
    ("high", words("high highs max maximum daytime day days afternoon noon")),
    ("outside", frozenset({"outside", "out", "outdoors", "ambient"})),
    ("air", frozenset({"air"})),
)  # fmt: skip


def shared_roles(board: Board, places: list[tuple[int, int]]) -> list[str | None]:
    """The role of each figure; the two ends of a range ("28 to 32 overnight") have one role between them."""
    roles = [role_of(board, start, end) for start, end in places]
    for n in range(1, len(places)):
        before, start = places[n - 1][1], places[n][0]
        joined = start - before == 1 and board.word(before) in _JOINS
        if joined or (start == before and board.tokens[start].gap.strip() == "-"):
            either = roles[n] or roles[n - 1]
            roles[n - 1], roles[n] = roles[n - 1] or either, roles[n] or either
    return roles


_JOINS = frozenset({"to", "or", "and", "through"})


def role_of(board: Board, start: int, end: int) -> str | None:
    """The role the nearest telling word gives, looking four words each way within the sentence."""
    sentence = board.tokens[start].sentence
    behind = end + (board.word(end) in ("and", "but"))
    if board.word(behind) in _SKIES and "," in board.tokens[start].gap:
        return "outside"  # "open the frame, 60 and sunny?": the weather of the day
    beside = _beside(board, start, end)
    if beside is not None:
        return beside
    before = next((role for role, telling in _ROLES if start and board.word(start - 1) in telling), None)
    if before is not None and end + 1 < len(board.tokens) and board.tokens[end + 1].number is not None:
        return before  # "high 55 low 31": the word after it leads the next figure
    forward = board.word(end) in POINTS and end < len(board.tokens) and board.tokens[end].sentence == sentence
    best = _nearest_role(board, start, end, forward) or _nearest_role(board, start, end, False)
    sheltered = any(board.word(k) in SHELTERS for k in range(max(0, start - 5), start))
    if best is not None and best[1] == "low" and sheltered and board.word(start - 1) in ("to", "at", "hit"):
        return "inside"  # "the greenhouse got down to 5"
    return best[1] if best else None


_BY_DAY, _BY_NIGHT = (
    words("day noon midday lunch lunchtime afternoon"),
    words("night dawn sunup sunrise daybreak"),
)
_BOXES = words("box tent plastic cloche")
_TELLS: dict[str, str] = {"low": "low", "lows": "low", "high": "high", "highs": "high"}


def _beside(board: Board, start: int, end: int) -> str | None:
    """The role of a figure with words of its own: "lows of 40 and highs of 65", "28 at dawn 60 by noon"."""
    if end < len(board.tokens) and board.word(end) in _TELLS and not _leads(board, end + 1):
        return _TELLS[board.word(end)]
    at = start - 2 if board.word(start - 1) in ("of", "is", "around", "about") else start - 1
    if board.word(at) in _TELLS and not any(s.tag == "temp" and s.end == at for s in board.spans):
        return _TELLS[board.word(at)]
    point, what = board.word(end), board.word(end + 1)
    alone = end + 1 >= len(board.tokens) or "," in board.tokens[end + 1].gap
    if point == "in" and end < len(board.tokens) and (alone or board.word(end + 2) in _BOXES):
        return "inside"  # "64 out and 71 in", "78 in the box"
    what = board.word(end + 2) if what == "the" else what
    if point in ("by", "at", "in") and end < len(board.tokens) and what in _BY_DAY | _BY_NIGHT:
        return "low" if what in _BY_NIGHT else "high"
    return None


def _leads(board: Board, i: int) -> bool:
    """True where the word before token ``i`` leads the next figure: "high 61", "high of 61"."""
    return i < len(board.tokens) and (board.tokens[i].number is not None or board.word(i) == "of")


def _nearest_role(board: Board, start: int, end: int, forward: bool) -> tuple[int, str] | None:
    """(distance, role) of the nearest telling word; only behind the figure where it points ``forward``. A word of a
    plant's name ("ground cherry") tells none."""
    named = {i for span in board.of("crop") for i in range(span.start, span.end)}
    sentence = board.tokens[start].sentence
    best: tuple[int, str] | None = None
    for distance in range(1, 5):
        for i in (end - 1 + distance, start - distance):
            if forward and i < start:
                continue
            if not 0 <= i < len(board.tokens) or board.tokens[i].sentence != sentence or i in named:
                continue
            if i < start and any(s.tag == "temp" and s.start > i and s.end <= start for s in board.spans):
                continue
            if i >= end and any(board.tokens[k].number is not None for k in range(end, i)):
                continue
            for role, telling in _ROLES:
                if board.tokens[i].word in telling and (best is None or distance < best[0]):
                    best = (distance, role)
    return best


_SKIES = words("sunny clear cloudy hazy overcast bright breezy windy")
SHELTERS = words("frame greenhouse tunnel polytunnel coldframe hoophouse")
