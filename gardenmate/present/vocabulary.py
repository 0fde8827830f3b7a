"""One vocabulary an answer: American words at American places, British ones elsewhere (knowledge/vocabulary.toml)."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

from gardenmate.core.answer import Answer, Table
from gardenmate.knowledge.facts import Facts
from gardenmate.records import replace

AMERICAN = frozenset({"US", "CA"})
Say = Callable[[str], str]
_ENDINGS = "(s|es)?"


def speaks_american(country: str | None, units: str) -> bool:
    """Whether a garden is spoken to in American words: by its country, else by its units."""
    return units == "us" if country is None else country in AMERICAN


def speaker(facts: Facts, american: bool, typed: str = "") -> Say:
    """A function that puts a text into one vocabulary. Words of ``typed`` stay as they were typed."""
    pairs = tuple(
        (old, new) for old, new in facts.table("vocabulary")["american" if american else "british"]["pairs"]
    )
    kept = frozenset(word for word in re.findall(r"[a-z]+", typed.lower()))
    pattern, table = _compiled(pairs)

    def say(text: str) -> str:
        return pattern.sub(lambda match: _said(match, table, kept), text)

    return say


def in_words(answer: Answer, say: Say) -> Answer:
    """An answer in one vocabulary: everything that is read, nothing that machines read."""
    table = answer.table
    return replace(
        answer,
        headline=say(answer.headline),
        numbers=tuple(n._replace(label=say(n.label)) for n in answer.numbers),
        details=tuple(map(say, answer.details)),
        table=None if table is None else _table(table, say),
        steps=tuple(map(say, answer.steps)),
        changes=tuple(map(say, answer.changes)),
        marks=tuple(m._replace(label=say(m.label)) for m in answer.marks),
        cautions=tuple(map(say, answer.cautions)),
        assumptions=tuple(map(say, answer.assumptions)),
        asks=tuple(map(say, answer.asks)),
        working=tuple(map(say, answer.working)),
    )


def _table(table: Table, say: Say) -> Table:
    rows = tuple(tuple(map(say, row)) for row in table.rows)
    return Table(tuple(map(say, table.heads)), rows, say(table.title))


@cache
def _compiled(pairs: tuple[tuple[str, str], ...]) -> tuple[re.Pattern[str], dict[str, str]]:
    """One pattern for all pairs, longer texts first, and what each is replaced by."""
    words = sorted((old for old, _ in pairs), key=len, reverse=True)
    said = "|".join(map(re.escape, words))
    pattern = rf"(?<!\w)(?:(an? ))??({said}){_ENDINGS}(?!\w)"
    return re.compile(pattern, re.IGNORECASE), {old.lower(): new for old, new in pairs}


def _said(match: re.Match[str], table: dict[str, str], kept: frozenset[str]) -> str:
    article, old, ending = match[1] or "", match[2], match[3] or ""
    if {old.lower(), *(old.lower() + e for e in ("s", "es"))} & kept:
        return match[0]
    new = table[old.lower()]
    if article:
        article = article[0] + ("n " if new[0].lower() in "aeiou" else " ")
    return article + (new[0].upper() + new[1:] if old[0].isupper() else new) + ending
