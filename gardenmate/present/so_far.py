"""What a screen has shown so far: the cautions said, and what of the last answer waits for "more"."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Line, Look, Piece, layout
from gardenmate.present.short import Brief, ShortForm, brief_of, rest, short
from gardenmate.records import dataclass

HINT = "(Enter or 'more' shows the rest)"
HINTS = 2
"""Times the hint is shown in one session; by then it is known. Design value."""
_MORE = frozenset(
    {"more", "show more", "show me more", "tell me more", "the rest", "show the rest", "all of it"}
)


def asks_more(text: str) -> bool:
    """True when a line asks for the rest of the last answer and for nothing else."""
    return text.strip().lower().lstrip("/").rstrip("?!. ") in _MORE


@dataclass(slots=True, eq=False, repr=False)
class SoFar:
    """One session's screen. ``full`` shows every answer whole; ``hints`` is how often "more" is still pointed
    out."""

    facts: Facts
    full: bool = False
    hints: int = 0
    _brief: Brief | None = None
    _shown: tuple[ShortForm, ...] = ()
    _said: frozenset[str] = frozenset()

    def first(self, answer: Answer, look: Look) -> list[Line]:
        """An answer, and those to what else the line asked, as shown first: in short form, or whole."""
        answers = (answer, *answer.also)
        if self.full:
            return _apart([layout(each, look) for each in answers])
        self._shown = tuple(self._short(each, look) for each in answers)
        lines = _apart([list(shown.lines) for shown in self._shown])
        if self.waits and self.hints > 0:
            self.hints -= 1
            lines.append((Piece(HINT, "dim"),))
        return lines

    def _short(self, answer: Answer, look: Look) -> ShortForm:
        if self._brief is None:
            self._brief = brief_of(self.facts)
        shown = short(answer, look, self._brief, self._said)
        self._said = shown.said
        return shown

    @property
    def waits(self) -> bool:
        """True when something of the last answer was left out."""
        return any(shown.more for shown in self._shown)

    def rest(self, look: Look) -> list[Line]:
        """What was left out of the last answer, once; then nothing."""
        left = [lines for shown in self._shown if (lines := rest(shown, look))]
        self._shown = ()
        return _apart(left)

    def forget(self) -> None:
        """The next answer stands on its own: its cautions are said in full."""
        self._shown, self._said = (), frozenset()


def _apart(parts: list[list[Line]]) -> list[Line]:
    """Answers under each other, an empty line between them."""
    lines: list[Line] = []
    for part in parts:
        lines += [(), *part] if lines else part
    return lines
