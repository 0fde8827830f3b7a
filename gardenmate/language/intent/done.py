"""Questions the log answers though their words lean elsewhere: how many there are of what was sown."""

from __future__ import annotations

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Request
from gardenmate.records import replace

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
