"""Questions about the answer before: why, where the figure comes from, what if something were otherwise."""

from __future__ import annotations

from collections.abc import Mapping

from gardenmate.core.pattern import Pattern
from gardenmate.language.text.spans import Board

SHORT = 9  # words; a longer text about sources asks more than that
_SOURCE = Pattern(
    r"\b(?:where (?:does|do|did|is|are) (?:that|this|it|those|these|the|you)\b.*(?:from|get|number|figure)|"
    r"sources?|says who|who says|citation|reference|proof|prove it|based on)\b"
)
_KNOW = Pattern(
    r"\bhow (?:do|can|would) you know\b|\bhow (?:sure|certain|confident) (?:are|is)\b|\bhow come\b|"
    r"^(?:but |and |so |ok )*why(?: not| then| is that| so)?\b|\bwhy$|\bis that (?:an? |from |just |only )|"
    r"\bchange (?:your mind|that|the answer)\b|\b(?:book|guess|average)\b"
)
# "why 30?", "how come it is 28": the figure is the answer's, whatever it could mean by itself
_WHY_FIGURE = Pattern(
    r"^(?:(?:but|and|so|ok) )*(?:why|how come)"
    r"(?: (?:is|it|that|only|just|not|the|was|exactly))* "
    r"(?:[\d.]+\b|so (?:many|much|few|little|late|early|long)\b)"
)
_WHAT_IF = Pattern(r"\bwhat if\b|\bsuppose\b|\bsay (?:frost|it)\b|\bif (?:the )?(?:frost|spring|summer|may) ")
_MOVED = ("shift_days", "anomaly")


def about_the_answer(board: Board) -> bool:
    """True for a short text that can only be about the answer before: "how do you know", "says who?"."""
    text = " ".join(t.word for t in board.tokens)
    named = any(s.tag in ("crop", "family", "temp", "date") for s in board.spans)
    if len(board.tokens) > SHORT:
        return False
    return bool(_WHY_FIGURE.match(text)) or (not named and bool(_KNOW.search(text) or _SOURCE.search(text)))


def asked_of_it(board: Board, cues: Mapping[str, str]) -> str:
    """What is asked about the answer before: "what-if", "source" or "why"."""
    text = " ".join(t.word for t in board.tokens)
    if _WHAT_IF.search(text) or any(name in cues for name in _MOVED):
        return "what-if"
    return "source" if _SOURCE.search(text) else "why"
