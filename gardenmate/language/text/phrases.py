"""Phrases as a gardener writes them, and where they occur in a text.

A phrase is words in their base form, in order:
    too late to sow|plant|start      one of several words
    bring ?it in                     a word that may be missing
    carry .. in                      up to four other words between;  ... up to ten
    @sow @crop in # week             a group of words; something found (crop, temp, date ...); any number
    ^ still time $                   at the start or the end of the text
A word matches every form of itself (plant: plants, planted, planting); an inflected word only that form.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from gardenmate.records import NamedTuple

WORDS, MAYBE, GAP, START, END, NUMBER = range(6)
Element = tuple[int, frozenset[str] | int]
NO_WORDS: frozenset[str] = frozenset()


class Unit(NamedTuple):
    """One word or one found thing (its ``tag``) of the text phrases are matched on."""

    word: str
    lemma: str
    tag: str = ""
    sentence: int = 0
    weight: float = 1.0


class Hit(NamedTuple):
    """A phrase found: which, and the units it covers."""

    phrase: int
    start: int
    end: int


def parse(phrase: str, groups: Mapping[str, Sequence[str]]) -> tuple[Element, ...]:
    """The elements of one phrase. Raises ValueError for an unknown group."""
    out: list[Element] = []
    for part in phrase.split():
        if part in ("..", "..."):
            out.append((GAP, 4 if part == ".." else 10))
        elif part == "^":
            out.append((START, 0))
        elif part == "$":
            out.append((END, 0))
        elif part == "#":
            out.append((NUMBER, 0))
        else:
            kind = MAYBE if part[0] == "?" else WORDS
            words: list[str] = []
            for word in part.lstrip("?").split("|"):
                if word.startswith("@"):
                    words.extend(groups[word[1:]] if word[1:] in groups else (_tag(word),))
                else:
                    words.append(word)
            out.append((kind, frozenset(words)))
    return tuple(out)


def _tag(word: str) -> str:
    if word[1:] not in TAGS:
        raise ValueError(f"'{word}' is neither a group of words nor one of {', '.join(sorted(TAGS))}")
    return f"<{word[1:]}>"


TAGS = frozenset({"crop", "temp", "date", "money", "span", "age", "place", "people", "dtm", "cells"})


def anchor(elements: Sequence[Element]) -> frozenset[str]:
    """The words of which one must stand in the text: the required element with the fewest words."""
    best: frozenset[str] = NO_WORDS
    for kind, words in elements:
        if kind == WORDS and isinstance(words, frozenset) and (not best or _rarity(words) < _rarity(best)):
            best = words
    return best


_COMMON = frozenset(
    {
        "a",
        "the",
        "i",
        "it",
        "to",
        "in",
        "of",
        "do",
        "is",
        "be",
        "can",
        "my",
        "and",
        "for",
        "on",
        "at",
        "will",
        "when",
        "how",
    }
)


def _rarity(words: frozenset[str]) -> int:
    return len(words) + (100 if words & _COMMON else 0) + (50 if any(w[0] == "<" for w in words) else 0)


def find(
    units: Sequence[Unit],
    index: Mapping[str, str],
    elements_of: Callable[[int], tuple[Element, ...]],
) -> Iterator[Hit]:
    """Every phrase of ``index`` (word -> the numbers of phrases) that occurs, wherever it does."""
    places: dict[str, list[int]] = {}
    wanted: set[int] = set()
    for i, unit in enumerate(units):
        for key in {unit.word, unit.lemma, unit.tag} - {""}:
            places.setdefault(key, []).append(i)
    for key in places:
        wanted.update(map(int, index.get(key, "").split()))
    for number in sorted(wanted):
        elements = elements_of(number)
        reached = 0
        for at in _starts(elements[0], places, len(units)):
            if at >= reached:
                end = match(units, at, elements)
                if end > at:
                    yield Hit(number, at, end)
                    reached = end


def _starts(first: Element, places: Mapping[str, Sequence[int]], count: int) -> Sequence[int]:
    """Where a phrase with this first element can start, in order."""
    kind, words = first
    if kind == START:
        return (0,)
    if kind != WORDS or not isinstance(words, frozenset):
        return range(count)
    here = words & places.keys()
    if len(here) == 1:
        return places[next(iter(here))]
    return sorted({i for word in here for i in places[word]})


def match(units: Sequence[Unit], at: int, elements: Sequence[Element], e: int = 0) -> int:
    """End of the match of ``elements[e:]`` that starts exactly at ``at``; -1 when there is none."""
    while e < len(elements):
        kind, words = elements[e]
        if kind == WORDS:
            if at >= len(units) or not _is(units[at], words):
                return -1
            at += 1
        elif kind == MAYBE:
            if at < len(units) and _is(units[at], words):
                longer = match(units, at + 1, elements, e + 1)
                if longer >= 0:
                    return longer
        elif kind == NUMBER:
            if at >= len(units) or units[at].tag != "<n>":
                return -1
            at += 1
        elif kind == GAP:
            assert isinstance(words, int)
            for skip in range(words + 1):
                if skip and (at + skip > len(units) or _far(units, at, at + skip)):
                    return -1
                end = match(units, at + skip, elements, e + 1)
                if end >= 0:
                    return end
            return -1
        elif kind == START:
            if at != 0:
                return -1
        elif at != len(units):
            return -1
        e += 1
    return at


def _far(units: Sequence[Unit], start: int, end: int) -> bool:
    """A gap may not cross into another sentence."""
    return end < len(units) and end > 0 and units[end].sentence != units[max(0, start - 1)].sentence


def _is(unit: Unit, words: frozenset[str] | int) -> bool:
    assert isinstance(words, frozenset)
    return unit.word in words or unit.lemma in words or (unit.tag != "" and unit.tag in words)
