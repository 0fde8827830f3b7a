"""What a shift in time moves: "what if it's a week later" said of the frost, or of the job."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.question import Request
from gardenmate.language.intent.reading import Draft
from gardenmate.language.text.spans import words
from gardenmate.records import NamedTuple

_FROST = words("frost frosts freeze freezes spring winter autumn fall season thaw last first")
MOST_DAYS = 366.0
"""A shift by more than a year supposes no season any more (design value)."""
_OF_A_DAY = frozenset({"late-start", "early-start", "harvest-date"})


class Shift(NamedTuple):
    """``days`` later (earlier: negative); ``of_the_job``: not the frost moves but the job, to ``day``."""

    days: float
    of_the_job: bool
    day: date


def shifted_by(draft: Draft, previous: Request) -> Shift | None:
    """The shift a follow-up supposes; None when it supposes none, or none that means anything.

    Without a word of frost or season the job that was spoken of moves: its day, else today.
    """
    said = draft.cues.get("shift_days")
    if said is None or draft.board.today is None:
        return None
    days = float(said)
    if abs(days) > MOST_DAYS:
        return None
    base = previous.ask.date or draft.board.today
    frost = bool(_FROST & {t.word for t in draft.board.tokens})
    return Shift(days, not frost and previous.topic in _OF_A_DAY, base + timedelta(days=round(days)))
