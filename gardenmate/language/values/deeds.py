"""What an entry or a question to the log says: which deed, in whose words.

Deeds are read from knowledge/deeds.toml. The wording of an entry stays the grower's own: only what was said
to the log itself ("note that ...", "log it") is taken off.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from itertools import product

from gardenmate.core.pattern import Pattern
from gardenmate.knowledge.deeds import DeedKind
from gardenmate.knowledge.facts import Facts

_SHORT = 120  # characters of an entry that is one plain sentence
_HEAD, _TAIL = 1500, 300  # characters at either end that say what is asked; a longer story lies between
_GAP = 5  # words that may stand where a phrase has ".."


def asking_part(text: str) -> str:
    """The text in lower case and on one line, as far as it says what is asked of the log."""
    flat = " ".join(text.split()).lower().replace("’", "'")
    return flat if len(flat) <= _HEAD + _TAIL else f"{flat[:_HEAD]} {flat[-_TAIL:]}"


# -- deeds --------------------------------------------------------------------------------------------
def deed_in(text: str, facts: Facts) -> DeedKind | None:
    """The first deed told in ``text``; of two at one place the longer wording."""
    words = re.findall(r"[\w'-]+", text.lower().replace("’", "'"))
    hits = (longest_deed_at(words, start, facts) for start in range(len(words)))
    return next((hit[1] for hit in hits if hit is not None), None)


def longest_deed_at(words: Sequence[str], start: int, facts: Facts) -> tuple[int, DeedKind] | None:
    """The deed told from word ``start`` on, and where its wording ends; the longer of two wordings."""
    phrases = _phrases(_deed_words(facts))
    found = [
        (end, deed)
        for deed, phrase in phrases.get(words[start], ())
        if (end := _end_of(phrase, words, start)) is not None
    ]
    return max(found, key=lambda hit: hit[0]) if found else None


def _deed_words(facts: Facts) -> tuple[tuple[str, str, tuple[str, ...]], ...]:
    return tuple(
        (name, str(entry["done"]), tuple(entry["words"]))
        for name, entry in facts.table("deeds").items()
        if "done" in entry
    )


Form = tuple[str, ...]
Phrase = tuple[Form, ...]  # the forms that stand one after the other, with a gap between each two


@lru_cache(maxsize=4)
def _phrases(
    deeds: tuple[tuple[str, str, tuple[str, ...]], ...],
) -> dict[str, list[tuple[DeedKind, Phrase]]]:
    """First word -> the phrases that begin with it. In a line "|" separates forms and ".." marks a gap."""
    found: dict[str, list[tuple[DeedKind, Phrase]]] = {}
    for name, done, lines in deeds:
        for line in lines:
            parts = [[tuple(form.split()) for form in part.split("|")] for part in line.split(" .. ")]
            for phrase in product(*parts):
                found.setdefault(phrase[0][0], []).append((DeedKind(name, done), phrase))
    return found


def _end_of(phrase: Phrase, words: Sequence[str], start: int) -> int | None:
    """Where ``phrase`` ends when it begins at ``start``; None when it does not stand there."""
    at = start
    for number, form in enumerate(phrase):
        last = at if number == 0 else min(at + _GAP, len(words))
        places = (i for i in range(at, last + 1) if tuple(words[i : i + len(form)]) == form)
        found = next(places, None)
        if found is None:
            return None
        at = found + len(form)
    return at


# -- the grower's words -------------------------------------------------------------------------------
_BOOK = r"(?:the |my |your )?(?:garden |plot )?(?:log|journal|diary|notes?|book|records?|notebook)"
_VERBS = r"(?:note|log|record|write|jot|put|take|add|save|keep|stick|mark|remember|enter)"
_POLITE = r"(?:(?:ok(?:ay)?|so|hi|hey|hello|please|right|well|and|also|(?:can|could|would|will) you)[,\s]+)*"
_INTO = rf"(?:in|into|to|for)\s+{_BOOK}"
_TELL = (
    rf"(?:(?:make a )?note\s+(?:to (?:self|{_BOOK})|of)|let the record show|new one for {_BOOK}|"
    rf"{_VERBS}\s+(?:(?:it|this|that)(?:\s+down)?|down)(?:\s+{_INTO})?|{_VERBS}\s+{_INTO}|"
    rf"(?:note|log|record|jot|add|write)\b(?!\s*(?:book|pile)))"
)
_AFTER = r"(?:\s+(?:for me|would you|will you|please|if you please))*"
_LEAD = Pattern(
    rf"^\s*{_POLITE}(?:{_TELL}{_AFTER}(?:\s+that\b|\s*[:,.-])?|{_BOOK}\s*[:,.-])\s*", ignore_case=True
)
_TRAIL = Pattern(
    r"[\s,.;:-]{1,6}(?:and\s{1,3})?(?:(?:can|could|would) you\s{1,3})?(?:please\s{1,3})?"
    rf"{_VERBS}\s{{1,3}}(?:it|this|that)"
    rf"(?:\s{{1,3}}down)?(?:\s{{1,3}}(?:in|into|to)\s{{1,3}}{_BOOK})?"
    r"(?:\s{1,3}(?:please|for next year|with the date.*|before i .*|so i .*))?[\s.!]{0,8}$",
    ignore_case=True,
)
_DAY_WORD = r"(?:today|yesterday|this (?:morning|afternoon|evening)|just now)"
_DAY_LEAD = Pattern(rf"^{_DAY_WORD}[,\s]+", ignore_case=True)
_DAY_TRAIL = Pattern(rf"[,\s]{{1,4}}{_DAY_WORD}[\s.!]{{0,8}}$", ignore_case=True)
_WHO = Pattern(r"^(?:i've|i have|we've|we have|i|we)\s+(?:just\s+)?(?=\w)", ignore_case=True)


def own_words(text: str) -> str:
    """The entry itself, without what was said to the log and without "today", "I": the date is kept apart.

    Longer stories keep every word but the opening to the log.
    """
    flat = " ".join(text.split())
    told = _LEAD.sub("", flat, count=1)
    told = (told[:-_TAIL] + _TRAIL.sub("", told[-_TAIL:])).strip()
    if len(told) <= _SHORT:
        told = _DAY_TRAIL.sub("", _DAY_LEAD.sub("", told))
        told = _WHO.sub("", told)
    return told.strip(" ,;:-").removesuffix(".").strip()


# -- its day -----------------------------------------------------------------------------------------
_MONTH = (
    r"(january|february|march|april|may|june|july|august|september|october|november|december|"
    r"jan|feb|mar|apr|jun|jul|aug|sept?|oct|nov|dec)"
)
_WEEKDAY = r"(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_ORDINAL = r"\d{1,2}(?:st|nd|rd|th)?"
_DATE_TRAIL = Pattern(
    r"[,\s]{1,4}(?:on\s{1,3})?(?:(?:last|this)\s{1,3})?(?:the\s{1,3})?"
    rf"(?:{_WEEKDAY}|{_MONTH}\s{{1,3}}{_ORDINAL}|{_ORDINAL}(?:\s{{1,3}}(?:of\s{{1,3}})?{_MONTH}))(?:\s{{1,3}}\d{{4}})?\W{{0,12}}$",
    ignore_case=True,
)


def without_its_day(words: str) -> str:
    """A short entry without the day at its end, which is kept as its date."""
    if len(words) > _SHORT:
        return words
    cut = _DATE_TRAIL.sub("", words)
    return cut if re.search(r"\w", cut) else words


_REMIND_ME = Pattern(
    rf"^{_POLITE}(?:(?:please )?(?:remind|nudge|ping) (?:me|us)|(?:set|add) a reminder|reminder)\s*"
    r"(?:to|about|that|for|of)?\s*|(?<![\s,])[\s,]*(?:please )?(?:remind|nudge) (?:me|us)\W*$",
    ignore_case=True,
)


def without_asking_to_be_reminded(words: str) -> str:
    """What to be reminded of: "turn the compost" of "remind me to turn the compost"; "" when nothing else is said."""
    return _REMIND_ME.sub("", words).strip(" ,.;:-")
