"""The log: gives back what was kept, and counts from it. What is kept, changed or taken back stands beside it
(`keep`, `correct`)."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.topics.log.counted import counted
from gardenmate.topics.log.listing import listing


def answer(question: Request, world: World) -> Answer:
    """What the log holds of a question: counted from the plantings where it can be, else the entries that fit."""
    found = counted(question, world)
    return found if found is not None else listing(question, world)


def export(question: Request) -> Answer:
    """Files are written by the command line; say how."""
    typed = question.first("format")
    form = "md" if typed is None else str(typed.value)
    crop = f" --crop {question.crops[0].id}" if question.crops else ""
    return Answer(
        question=question,
        verdict=None,
        headline=f"To write the log to a file: gardenmate log export{crop} --format {form} --out garden-log.{form}",
        details=("Formats: md (to read), csv (spreadsheet), ics (calendar), json (to import again).",),
    )
