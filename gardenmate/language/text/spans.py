"""What was found in a text, and where: the tags phrases may ask for and the values slots are filled from."""

from __future__ import annotations

from datetime import date
from typing import Any

from gardenmate.language.text.tokens import Text, Token
from gardenmate.records import NamedTuple, dataclass, field


def words(text: str) -> frozenset[str]:
    """A set of words, written as one readable line."""
    return frozenset(text.split())


class Span(NamedTuple):
    """Tokens ``start`` to ``end`` (excluded) mean one thing: ``tag`` says what kind, ``value`` which."""

    start: int
    end: int
    tag: str
    value: Any = None


@dataclass(slots=True, eq=False, repr=False)
class Board:
    """A text under study: its tokens and the spans laid on them so far, none over another."""

    text: Text
    tokens: tuple[Token, ...]
    spans: list[Span] = field(default_factory=list)
    taken: set[int] = field(default_factory=set)
    today: date | None = None
    assumptions: list[str] = field(default_factory=list)

    def lay(self, start: int, end: int, tag: str, value: Any = None) -> bool:
        """Lay a span if its tokens are free. False when they are not."""
        wanted = range(start, end)
        if not wanted or any(i in self.taken for i in wanted):
            return False
        self.taken.update(wanted)
        self.spans.append(Span(start, end, tag, value))
        return True

    def words(self, start: int, end: int) -> str:
        """The words of some tokens, joined by blanks; out-of-range ends are cut off."""
        return " ".join(t.word for t in self.tokens[max(0, start) : max(0, end)])

    def word(self, i: int) -> str:
        """The word of token ``i``, empty outside the text."""
        return self.tokens[i].word if 0 <= i < len(self.tokens) else ""

    def near(self, i: int, words: frozenset[str], before: int, after: int) -> bool:
        """True when one of ``words`` stands near token ``i`` in the same sentence."""
        return any(
            self.tokens[j].word in words and self.tokens[j].sentence == self.tokens[i].sentence
            for j in range(max(0, i - before), min(len(self.tokens), i + after + 1))
            if j != i
        )

    def of(self, tag: str) -> list[Span]:
        """The spans of one tag, in order of the text."""
        return sorted((s for s in self.spans if s.tag == tag), key=lambda s: s.start)

    def lay_free(self, tag: str, value: Any) -> None:
        """Add a value that stands in no single place (a sum of several)."""
        self.spans.append(Span(0, 0, tag, value))
