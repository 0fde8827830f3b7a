"""What an entry or a question to the log says: which deed, in which days, in whose words.

Deeds are read from knowledge/deeds.toml. The wording of an entry stays the grower's own: only what was said
to the log itself ("note that ...", "log it") is taken off.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from itertools import product

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.knowledge.facts import Facts

NOTE = "note"
_SHORT = 120  # characters of an entry that is one plain sentence
_HEAD, _TAIL = 1500, 300  # characters at either end that say what is asked; a longer story lies between
_GAP = 5  # words that may stand where a phrase has ".."


@dataclass(frozen=True, slots=True)
class Deed:
    """A kind of thing done: its id, and how it is told when done ("potted up")."""

    id: str
    done: str


@dataclass(frozen=True, slots=True)
class Period:
    """The days an entry search covers, both ends included, and how to say it ("in March 2027")."""

    since: date
    until: date
    said: str


def asking_part(text: str) -> str:
    """The text in lower case and on one line, as far as it says what is asked of the log."""
    flat = " ".join(text.split()).lower().replace("’", "'")
    return flat if len(flat) <= _HEAD + _TAIL else f"{flat[:_HEAD]} {flat[-_TAIL:]}"


# -- deeds --------------------------------------------------------------------------------------------
def deed_in(text: str, facts: Facts) -> Deed | None:
    """The first deed told in ``text``; of two at one place the longer wording."""
    words = re.findall(r"[\w'-]+", text.lower().replace("’", "'"))
    hits = (longest_deed_at(words, start, facts) for start in range(len(words)))
    return next((hit[1] for hit in hits if hit is not None), None)


def longest_deed_at(words: Sequence[str], start: int, facts: Facts) -> tuple[int, Deed] | None:
    """The deed told from word ``start`` on, and where its wording ends; the longer of two wordings."""
    phrases = _phrases(_deed_words(facts))
    found = [
        (end, deed)
        for deed, phrase in phrases.get(words[start], ())
        if (end := _end_of(phrase, words, start)) is not None
    ]
    return max(found, key=lambda hit: hit[0]) if found else None


def deed_named(name: str, facts: Facts) -> Deed:
    """A deed by id; an unknown one is told by its id."""
    entry = facts.table("deeds").get(name)
    return Deed(name, str(entry["done"]) if entry and "done" in entry else name)


def deed_of_topic(topic: str, method: str | None, asks: str | None, facts: Facts) -> str | None:
    """What "did it" means after an answer of ``topic``."""
    table = facts.table("deeds")
    if topic == "propagation" and asks in ("divide", "suckers", "move"):
        return "move" if asks == "move" else "divide"
    found = table["topics"].get(topic)
    if found == "sow" and method in ("setout", "starts"):
        return "set-out"
    return None if found is None else str(found)


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
) -> dict[str, list[tuple[Deed, Phrase]]]:
    """First word -> the phrases that begin with it. In a line "|" separates forms and ".." marks a gap."""
    found: dict[str, list[tuple[Deed, Phrase]]] = {}
    for name, done, lines in deeds:
        for line in lines:
            parts = [[tuple(form.split()) for form in part.split("|")] for part in line.split(" .. ")]
            for phrase in product(*parts):
                found.setdefault(phrase[0][0], []).append((Deed(name, done), phrase))
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
    rf"[\s,.;:-]+(?:and\s+)?(?:(?:can|could|would) you\s+)?(?:please\s+)?{_VERBS}\s+(?:it|this|that)"
    rf"(?:\s+down)?(?:\s+(?:in|into|to)\s+{_BOOK})?"
    r"(?:\s+(?:please|for next year|with the date.*|before i .*|so i .*))?[\s.!]*$",
    ignore_case=True,
)
_DAY_WORD = r"(?:today|yesterday|this (?:morning|afternoon|evening)|just now)"
_DAY_LEAD = Pattern(rf"^{_DAY_WORD}[,\s]+", ignore_case=True)
_DAY_TRAIL = Pattern(rf"[,\s]+{_DAY_WORD}[\s.!]*$", ignore_case=True)
_WHO = Pattern(r"^(?:i've|i have|we've|we have|i|we)\s+(?:just\s+)?(?=\w)", ignore_case=True)


def is_told_to_log(text: str) -> bool:
    """True when the text opens or closes by telling the log to keep it."""
    flat = " ".join(text.split())
    return bool(_LEAD.match(flat) or _TRAIL.search(flat[-_TAIL:]))


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


# -- days ---------------------------------------------------------------------------------------------
_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
    "november", "december",
)  # fmt: skip
_MONTH = r"(january|february|march|april|may|june|july|august|september|october|november|december|" \
         r"jan|feb|mar|apr|jun|jul|aug|sept?|oct|nov|dec)"  # fmt: skip
_IN_MONTH = Pattern(
    r"\b(in|for|of|during|from|since|last|this|early|mid|late|through|until)\s+(?:last\s+)?"
    rf"{_MONTH}\b"
    r"(?:\s+(?:of\s+)?(\d{4}|last year|this year))?",
)
_MONTH_ALONE = Pattern(rf"\b{_MONTH}\s+(?:notes|log|entries|records)\b")
_YEAR = Pattern(r"\b(?:in|for|of|from|during|since)\s+((?:19|20)\d\d)\b")
_SEASON = Pattern(r"\b(last|this)\s+(spring|summer|autumn|fall|winter)\b")
_SPAN = Pattern(r"(?<!like )\b(last|this|past)\s+(week|month|year)\b")
_SEASON_MONTH = {"spring": 3, "summer": 6, "autumn": 9, "fall": 9, "winter": 12}


_WEEKDAY = r"(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_ORDINAL = r"\d{1,2}(?:st|nd|rd|th)?"
_DATE_TRAIL = Pattern(
    r"[,\s]+(?:on\s+)?(?:(?:last|this)\s+)?(?:the\s+)?"
    rf"(?:{_WEEKDAY}|{_MONTH}\s+{_ORDINAL}|{_ORDINAL}(?:\s+(?:of\s+)?{_MONTH}))(?:\s+\d{{4}})?\W*$",
    ignore_case=True,
)


def without_its_day(words: str) -> str:
    """A short entry without the day at its end, which is kept as its date."""
    if len(words) > _SHORT:
        return words
    cut = _DATE_TRAIL.sub("", words)
    return cut if re.search(r"\w", cut) else words


def period_in(question: Request, world: World) -> Period | None:
    """The days a question to the log is about, None for any day. The future is never meant."""
    text = asking_part(question.text)
    today = world.today
    if question.slots.date is not None:
        day = question.slots.date
        if day > today and re.search(rf"\b{_WEEKDAY}\b", text):
            day = _back(day, 7)  # "what did I do on Friday": the one gone by
        return Period(day, day, f"on {_full(day)}")
    month = _IN_MONTH.search(text) or _MONTH_ALONE.search(text)
    if month is not None:
        return _month(month, today)
    season = _SEASON.search(text)
    if season is not None:
        return _season(season[1], season[2], world)
    year = _YEAR.search(text)
    if year is not None and 1 <= int(year[1]) <= 9999:
        number = int(year[1])
        return Period(date(number, 1, 1), date(number, 12, 31), f"in {number}")
    span = _SPAN.search(text)
    return None if span is None else _span(span[1], span[2], today)


def _month(match: re.Match[str], today: date) -> Period:
    groups = match.groups()
    word, name, year_said = groups if len(groups) == 3 else ("in", groups[0], None)
    number = next(i for i, full in enumerate(_MONTHS, start=1) if full.startswith(name[:3]))
    if year_said == "last year":
        year = today.year - 1
    elif year_said == "this year":
        year = today.year
    elif year_said:
        year = int(year_said)
    else:
        year = today.year if number <= today.month else today.year - 1
        if word == "last" and number == today.month:
            year -= 1
    first = date(max(year, 1), number, 1)
    until = today if word == "since" else _month_end(first)
    return Period(
        first, until, f"{'since' if word == 'since' else 'in'} {_MONTHS[number - 1].capitalize()} {year}"
    )


def _month_end(first: date) -> date:
    following = first.month % 12 + 1
    if first.year == date.max.year and following == 1:
        return date.max
    return date(first.year + (following == 1), following, 1) - timedelta(days=1)


def _season(which: str, name: str, world: World) -> Period:
    """The latest such season that has begun; "last" one of a season running now is the year before's."""
    start = _SEASON_MONTH[name]
    southern = world.site is not None and world.site.southern
    if southern:
        start = (start + 5) % 12 + 1
    year = world.today.year
    first = date(year, start, 1)
    if first > world.today:
        first = date(max(year - 1, 1), start, 1)
    end = _months_on(first, 3)
    if which == "last" and first <= world.today < end and first.year > 1:
        first = date(first.year - 1, start, 1)
        end = _months_on(first, 3)
    return Period(first, end - timedelta(days=1), f"in the {name} of {first.year}")


def _months_on(first: date, months: int) -> date:
    index = first.month - 1 + months
    year = first.year + index // 12
    return date.max if year > date.max.year else date(year, index % 12 + 1, 1)


def _span(which: str, unit: str, today: date) -> Period:
    if unit == "year":
        year = today.year if which == "this" else today.year - 1
        year = max(year, 1)
        return Period(date(year, 1, 1), date(year, 12, 31), f"in {year}")
    if unit == "month":
        first = today.replace(day=1)
        if which != "this" and first > date.min:
            first = (first - timedelta(days=1)).replace(day=1)
        return Period(first, _month_end(first), f"in {_MONTHS[first.month - 1].capitalize()} {first.year}")
    if which == "past":
        return Period(_back(today, 7), today, "in the past week")
    monday = _back(today, today.weekday())
    if which == "last":
        return Period(_back(monday, 7), _back(monday, 1), "last week")
    return Period(monday, today, "this week")


def _back(day: date, days: int) -> date:
    return date.fromordinal(max(1, day.toordinal() - days))


def _full(day: date) -> str:
    return f"{day.day} {_MONTHS[day.month - 1].capitalize()[:3]} {day.year}"
