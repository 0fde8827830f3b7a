"""The danger a text is about: by the words that stand together in it, and by the weights of all its words.

Dangers are looked for before any topic: a story told at length ("my toddler was in the bed and I think she
ate ...") must be heard as surely as a plain question. What must never be missed stands in
knowledge/language/dangers.toml, worst first; the first danger of which a line holds is the one meant. Where no
line holds, linear weights say which class of danger the words speak of, if any.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from gardenmate.core.pattern import Pattern
from gardenmate.language.text.phrases import Unit
from gardenmate.language.text.spans import Board
from gardenmate.language.text.spans import words as word_set
from gardenmate.language.text.weights import Features, features, weigh
from gardenmate.records import NamedTuple

if TYPE_CHECKING:
    from gardenmate.language.intent.topics import Found, Ranked
    from gardenmate.language.text.lexicon import Lexicon

STEM = 3  # letters under which a word beginning is filed
SHORT = 9  # a turn of so many words may lean on the one before
FEW = 5  # a turn of so many words surely does
WHOLE = 45  # a text of so many words is taken in one piece; a longer one two sentences at a time

_WORD = re.compile(r"[a-z0-9']+")
_EVERYWHERE = word_set(
    "i we he she it me my is are do does can should the a to in on of for and or not use safe cut with from "
    "how what when why will plant seed seeds frost cold leaf leaves tomato tomatoes water"
)


class Term(NamedTuple):
    """One thing a line asks for: any of its words, word beginnings or phrases; ``absent`` asks for none."""

    absent: bool
    words: frozenset[str]
    beginnings: tuple[str, ...]
    phrases: tuple[str, ...]

    def holds(self, words: frozenset[str], text: str) -> bool:
        """True when the words (and ``text``, the same joined by blanks) have what the term asks for."""
        found = (
            not self.words.isdisjoint(words)
            or any(phrase in text for phrase in self.phrases)
            or any(word.startswith(self.beginnings) for word in (words if self.beginnings else ()))
        )
        return found is not self.absent


class DangerLine(NamedTuple):
    """Terms that mean one kind of danger when all of them hold."""

    kind: str
    terms: tuple[Term, ...]


class Lines:
    """All lines, the worst first; a line is taken apart when a word of its own stands in a text."""

    def __init__(
        self, table: Sequence[Sequence[str]], groups: Mapping[str, str], index: Mapping[str, str]
    ) -> None:
        self._table = table
        self._groups = groups
        self._index = index
        self._parsed: dict[int, DangerLine] = {}

    def near(self, words: Iterable[str]) -> Iterator[DangerLine]:
        """The lines that the words may mean, the worst first."""
        found: set[int] = set()
        for word in words:
            found.update(map(int, self._index.get(word, "").split()))
            found.update(map(int, self._index.get(word[:STEM] + "*", "").split()))
        for number in sorted(found):
            line = self._parsed.get(number)
            if line is None:
                kind, text = self._table[number]
                line = self._parsed[number] = parse(kind, text, self._groups)
            yield line


def heard(board: Board, lines: Lines, before: str | None = None) -> str | None:
    """The kind of danger the text speaks of, None when it speaks of none.

    ``before``: the text of the turn before, which a short turn leans on ("and with a candle in it?"); what
    that text said by itself is not heard again.
    """
    scopes = [_words(scope) for scope in _scopes(board)]
    own = frozenset().union(*(words for words, _ in scopes))
    for line in lines.near(own):
        for words, text in scopes:
            if all(term.holds(words, text) for term in line.terms):
                return line.kind
    if before is None or not own or len(board.tokens) > SHORT:
        return None
    said = before.lower().replace("’", "'")
    earlier = frozenset(_WORD.findall(said))
    both = (own | earlier, f" {' '.join(_WORD.findall(said))} {scopes[0][1]}")
    for line in lines.near(both[0]):
        if all(term.holds(*both) for term in line.terms) and not all(
            term.holds(earlier, f" {' '.join(_WORD.findall(said))} ") for term in line.terms
        ):
            return line.kind
    return None


# -- how it is said --------------------------------------------------------------------------------------
_ASKS = Pattern(
    r"\?|\b(?:can|could|may|should|shall|do|does|is|are|will|what|how|ok|okay|safe)\b", ignore_case=True
)
_LOGS = Pattern(r"^\W*(?:log|note|record|journal|diary)\b", ignore_case=True)
_OWNS = Pattern(
    r"\b(?:i|we)(?:'ve| have| own| bought|'ve got| have got| got)\b"
    r"(?!.*\b(?:cough|fever|rash|headache|cut|burns?|pain|blisters?|sick|dizzy)\b)|\bthere is\b",
    ignore_case=True,
)
# Asked for a day, a number or a time, not whether or how to do it: that may be told whatever the danger.
_APART = Pattern(
    r"\b(?:when|too (?:late|early)|how (?:many|much|long|soon|late|early|far apart)|what (?:date|day|week|month))\b",
    ignore_case=True,
)


def manner(text: str) -> str:
    """How a danger is spoken of, as words: logged, owned, asked, and apart (something else is asked beside it)."""
    ways = (("logged", _LOGS), ("owned", _OWNS), ("asked", _ASKS), ("apart", _APART))
    return " ".join(name for name, pattern in ways if pattern.search(text))


# -- classes by weights --------------------------------------------------------------------------------
NONE = "none"
NEAR = 8  # content words within which two count as standing together
# How far the words must lie from "none", in margins of the classifier (1.0: as sure as its plainest lines). Chosen on
# lines the words had not seen (tests/bench/fit_dangers.py --folds), which prints what other limits would catch.
SURE = 0.2  # the danger is answered first
BESIDE = -0.6  # the line is answered, and the danger said with it
BESIDE_TOLD = -0.4  # the same where the line is plainly something done or told about the garden ...
BESIDE_ASKED = -0.2  # ... or plainly an ordinary garden question: few of these speak of a danger
PLAINLY = 0.75  # share of its topic from which a line is plainly one
CLASS = "class-"  # cards of knowledge/dangers/classes.toml are named so
_TOLD = frozenset({"log", "garden"})
_NOT_ASKED = frozenset({"out-of-scope", "unclear", "explain"})
_SMALL = word_set(
    "the an to in on of for and or not with from at by as is be are was it we he she they you my our his her their "
    "me this that these those there so but if then than do does did have has had can could will would should may might "
    "just about into up down out over some any all no what when how why where which who am it's too very still now "
    "i'm them its been"
)


def shown(found: Found) -> Features:
    """The features the danger weights are looked up for: words, words next to each other, signals and content words
    that stand together. Which crop is named never counts: what is dangerous about one stands in the decisive lines and
    with its own facts."""
    units: Sequence[Unit] = found.units
    return features(found.masked, units, found.signals) | _together(units)


def _together(units: Sequence[Unit]) -> Features:
    """Content words that stand near each other in any order ("p:"): what a thing is done with, or where."""
    words = [u.tag or u.lemma for u in units]
    words = [word for word in words if len(word) > 1 and word not in _SMALL]
    return {
        f"p:{min(one, other)} {max(one, other)}": 1.0
        for i, one in enumerate(words)
        for other in words[i + 1 : i + 1 + NEAR]
        if other != one
    }


def class_of(found: Found, lexicon: Lexicon) -> tuple[str, float]:
    """The class of danger the words speak of most, and how far they lie from speaking of none (margins)."""
    weights = lexicon.danger_weights
    totals, _ = weigh(shown(found), weights)
    lead = -totals.pop(NONE) / weights.scale
    return max(totals, key=lambda kind: totals[kind]), lead


def least(read: Ranked) -> float:
    """The margin from which a danger is said with the answer, by what the line is read as otherwise."""
    if read.share < PLAINLY or read.topic in _NOT_ASKED:
        return BESIDE
    return BESIDE_TOLD if read.topic in _TOLD else BESIDE_ASKED


def cues_of(board: Board, found: Found, lexicon: Lexicon, before: str | None, read: Ranked) -> dict[str, str]:
    """The danger a text speaks of, as a cue: ``danger`` (the card of a decisive line, else of its class) is answered
    first, ``danger_beside`` is said with the answer; empty when it speaks of none. ``read``: its likeliest topic."""
    kind = heard(board, lexicon.danger_lines, before)
    if kind is not None:
        return {"danger": kind, "danger_said": manner(board.text.typed)}
    told, lead = class_of(found, lexicon)
    leans = before is not None and len(board.tokens) <= FEW  # too few words to tell by themselves
    if lead < (BESIDE_ASKED if leans else least(read)):
        return {}
    return {
        "danger" if lead >= SURE else "danger_beside": CLASS + told,
        "danger_said": manner(board.text.typed),
    }


def parse(kind: str, line: str, groups: Mapping[str, str]) -> DangerLine:
    """One line of the word lists, taken apart; ``groups`` are the lists it may name.

    A line is words divided by blanks, all of which must hold: ``one|another`` either of them, ``poison*``
    any word so begun, ``power_line`` words side by side, ``@group`` a list, ``!word`` not there.
    Raises KeyError for a group that is not there.
    """
    return DangerLine(
        kind, tuple(_term(part.removeprefix("!"), part[0] == "!", groups) for part in line.split())
    )


def index_of(table: Sequence[Sequence[str]], groups: Mapping[str, str]) -> dict[str, str]:
    """Word (or the first letters of one, with a star) -> numbers of the lines it may belong to.

    A line stands under the words of that of its terms which is least likely to hold by chance.
    """
    index: dict[str, str] = {}
    for number, (_, line) in enumerate(table):
        wanted = [list(_opened(part, groups)) for part in line.split() if part[0] != "!"]
        keys = {_key(word) for word in min(wanted, key=_commonness)}
        for key in sorted(keys):
            index[key] = f"{index.get(key, '')} {number}"
    return index


def _key(word: str) -> str:
    first = word.partition("_")[0]
    return first[:STEM] + "*" if first.endswith("*") else first


def _commonness(words: Sequence[str]) -> int:
    return sum(30 if _key(word) in _EVERYWHERE else 1 for word in words)


def _term(part: str, absent: bool, groups: Mapping[str, str]) -> Term:
    words: set[str] = set()
    beginnings: list[str] = []
    phrases: list[str] = []
    for word in _opened(part, groups):
        if "_" in word:
            whole = " " if word[-1] != "*" else ""
            phrases.append(f" {word.rstrip('*').replace('_', ' ')}{whole}")
        elif word.endswith("*"):
            beginnings.append(word[:-1])
        else:
            words.add(word)
    return Term(absent, frozenset(words), tuple(beginnings), tuple(phrases))


def _opened(part: str, groups: Mapping[str, str]) -> Iterator[str]:
    """The single words of a term, its groups opened."""
    for word in part.split("|"):
        if word.startswith("@"):
            yield from _opened(groups[word[1:]], groups)
        else:
            yield word


def _scopes(board: Board) -> list[list[tuple[str, str]]]:
    """The stretches of text in which words must stand together: (as read, as typed) of every word."""
    both = [(t.word, t.raw.lower().replace("’", "'")) for t in board.tokens]
    if len(both) <= WHOLE:
        return [both] if both else []
    ends = [t.sentence for t in board.tokens]
    return [
        [pair for pair, sentence in zip(both, ends, strict=True) if sentence in (first, first + 1)]
        for first in sorted(set(ends))
    ]


def _words(scope: Sequence[tuple[str, str]]) -> tuple[frozenset[str], str]:
    read = " ".join(word for word, _ in scope)
    typed = " ".join(raw for _, raw in scope)
    return frozenset(w for pair in scope for w in pair), f" {read} | {typed} "
