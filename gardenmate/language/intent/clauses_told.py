"""A line cut into clauses, with the marks of each."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from gardenmate.knowledge.deeds import NOTE
from gardenmate.language.intent.name_marks import NameMark
from gardenmate.language.intent.plans_told import plan_heard
from gardenmate.language.text.spans import Board, words
from gardenmate.records import dataclass, field

_JOINTS = words("and then plus also but & again")
_LINKS = _JOINTS | words(
    "too as well the my our some a few more rest of all both same now just in for with only today ok right so i we one"
)
_PAST = words(
    "took gave ate cut put made tied got found saw sold kept left broke fed brought dug shared swapped"
)
_NO_DEEDS = words("turned supposed planned wanted needed used raised heated unheated covered")
_STATES = words("fine ok okay alright good safe untouched unhurt")


def is_past(word: str) -> bool:
    """True for a verb in the past by its form ("staked", "took")."""
    return word in _PAST or (word.endswith("ed") and len(word) > len("seed") and word not in _NO_DEEDS)


@dataclass(slots=True)
class Clause:
    """One clause: its marks by kind."""

    marks: list[NameMark] = field(default_factory=list)

    sentence: int = 0
    plan: str = ""
    unmarked: tuple[str, ...] = ()  # its words that are part of no mark

    def of(self, kind: str) -> list[NameMark]:
        """Its marks of one kind, in order."""
        return [m for m in self.marks if m.kind == kind]

    @property
    def has_a_verb(self) -> bool:
        """True where a verb of what was done stands in it that is no deed known."""
        return any(is_past(word) for word in self.unmarked)

    def tells_otherwise(self, sentence: int) -> bool:
        """True for a clause that says something of its crop and tells no deed: how it looks ("cabbages fine"), or, as
        a sentence of its own behind sentence number ``sentence``, anything ("the cabbages laughed at it")."""
        plain = {m.kind for m in self.marks} <= {"crop", "variety", "not"} and self.plan not in (
            "drop",
            "remind",
        )
        said = set(self.unmarked) - _LINKS
        return plain and (bool(said & _STATES) or (bool(said) and self.sentence != sentence))

    @property
    def action(self) -> str | None:
        """The deed told in it: the first that is told outright, else one only hinted at ("up", "in"). What is denied
        ("were not hardened") is a note."""
        told = self.of("action")
        best = next((m for m in told if not m.weak), told[0] if told else None)
        if best is None:
            return None
        denied = any(m.start < best.start <= m.start + 2 for m in self.of("not"))
        return NOTE if denied else str(best.value)


def clauses_of(board: Board, marks: Sequence[NameMark]) -> list[Clause]:
    """The line cut at the ends of sentences, at commas and joining words, the marks dealt out."""
    out: list[Clause] = []
    held = {i for m in marks for i in range(m.start + 1, m.end)}
    begun, at = 0, 0
    for i in range(len(board.tokens) + 1):
        ends = i == len(board.tokens)
        if i > 0 and (ends or (i not in held and _joint(board, i))):
            mine = [m for m in marks[at:] if m.start < i]
            at += len(mine)
            if mine:
                marked = {k for m in mine for k in range(m.start, m.end)}
                rest = tuple(board.word(k) for k in range(begun, i) if k not in marked)
                plan = plan_heard(board.words(begun, i), "")
                out.append(Clause(mine, board.tokens[begun].sentence, plan, rest))
            begun = i
    return out


def _joint(board: Board, i: int) -> bool:
    token = board.tokens[i]
    return (
        token.sentence != board.tokens[i - 1].sentence
        or "," in token.gap
        or "&" in token.gap
        or token.word in _JOINTS
    )


def day_of(clause: Clause) -> date | None:
    return next((m.value for m in clause.of("date") if isinstance(m.value, date)), None)


def where_of(clause: Clause) -> str | None:
    return next((str(m.value) for m in clause.of("where")), None)
