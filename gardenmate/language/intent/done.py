"""A statement that a job is done ("done potting up the tomatoes") is an entry, whatever its words name."""

from __future__ import annotations

from dataclasses import replace

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.language.values.deeds import deed_in

_WHO = r"^\W*(?:(?:all|i(?:'ve| have| am|'m)?|we(?:'ve| have)?)\s+)?"
_DONE = Pattern(_WHO + r"(?:done|finished|completed)\b(?!.*\?)")
_OPENING = Pattern(_WHO + r"(?:done|finished|completed)\s+(?:with\s+)?", ignore_case=True)


def as_entry(question: Request, facts: Facts) -> Request:
    """The question as a log entry when it tells of a deed done; else unchanged."""
    if question.topic == "log" or not _DONE.search(question.text.lower()):
        return question
    told = _OPENING.sub("", question.text, count=1)
    if deed_in(told, facts) is None:
        return question
    return replace(question, topic="log", text=told, cues={**question.cues, "action": "record"})


_OWN_COUNT = Pattern(
    r"\bhow many\b.*\b(?:have i|do i have|i have|i'?ve got|i got|left|are there|came up|are up)\b",
    ignore_case=True,
)
_WANTED = Pattern(r"\b(?:should|need|want|enough|for|per|how far|to feed|sow|plant)\b", ignore_case=True)


def as_count(question: Request) -> Request:
    """ "How many tomatoes have I left": counted from the log, not what a household needs."""
    if question.topic != "how-many" or not _OWN_COUNT.search(question.text) or _WANTED.search(question.text):
        return question
    return replace(question, topic="log")
