"""What the words of a plan tell: which kind of plan, jobs by their numbers, and until when."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from types import MappingProxyType

from gardenmate.core.question import Deed
from gardenmate.language.intent.name_marks import NameMark
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.near_days import days_on

PLANS = ("remind", "postpone", "drop", "return", "decide")


_PLAN_WORDS: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        "remind": words("remind reminder nudge poke shout"),
        "return": words("reinstate unskip back"),
        "postpone": words(
            "postpone postponed delay delayed defer snooze shift push wait leave hold later stay off move slide slip"
        ),
        "drop": words("skip drop forget scrap no without ditch bin"),
    }
)


MOST_JOBS = 40  # numbers in a list of jobs; design value


REMIND = words("remind reminder nudge poke shout")


_AROUND = words(
    "remind reminder nudge poke shout give tell me us please ok can you could to on about it them that for each the "
    "again in will at"
)


_WILL = words("will shall going plan plans planning tomorrow")


_VERBS = frozenset().union(*_PLAN_WORDS.values()) | {"done", "did", "finished", "do", "number", "job"}


_SPANS = words("week weeks day days fortnight month months")


_JOB_ENDS = frozenset({"", "until", "to", "till", "til", "done", "please", "can", "could", "may", "is"})


BEFALLS = frozenset({"lost", "up", "frost"})
"""What nobody plans: it happens."""


def not_to_be_planned(deeds: Sequence[Deed], today: date) -> bool:
    """True for a loss or a coming up with no day ahead: nobody plans those, they have happened."""
    return any(d.of in BEFALLS and (d.on is None or d.on <= today) for d in deeds)


def says_what(board: Board, marks: Sequence[NameMark]) -> bool:
    """True for a reminder that tells its job itself: "remind me to turn the compost on Friday"."""
    dated = {i for m in marks if m.kind == "date" for i in range(m.start, m.end)}
    return any(t.word not in _AROUND and i not in dated for i, t in enumerate(board.tokens))


def lies_ahead(board: Board) -> bool:
    """True for "note that I will plant garlic on October 3": told to the log, but still to come."""
    said = {t.word for t in board.tokens}
    ahead = any(isinstance(s.value, date) and s.value > (board.today or date.min) for s in board.of("date"))
    return ahead and bool(said & _WILL)


def plan_heard(said: str, otherwise: str = "decide") -> str:
    """Which kind of plan the words tell; ``otherwise`` when none of them is heard."""
    heard = set(said.split())
    return next((name for name, named in _PLAN_WORDS.items() if heard & named), otherwise)


def days_ahead(board: Board, today: date) -> date | None:
    """So much later ("put it off two weeks", "leave it a week"): the day that is."""
    for span in board.of("span"):
        unit, n = span.value
        days = {"days": 1.0, "weeks": 7.0, "months": 30.4}.get(str(unit))
        if days is not None:
            return days_on(today, days * float(n))
    said = board.words(0, len(board.tokens))
    for words_, days in (("a fortnight", 14), ("a week", 7), ("a day", 1)):
        if words_ in said:
            return today + timedelta(days=days)
    return None


def jobs_named(board: Board, marks: Sequence[NameMark], *, most: int = MOST_JOBS) -> tuple[int, ...]:
    """Numbers of the jobs list the line settles: behind "job", or bare behind the verb with no crop told."""
    if any(m.kind == "crop" for m in marks):
        return ()
    found: list[int] = []
    dated = {i for m in marks if m.kind in ("date", "where") for i in range(m.start, m.end)}
    for i, token in enumerate(board.tokens):
        n = token.number
        if n is None or n != int(n) or not 0 < n <= most or i in dated:
            continue
        before, after = board.word(i - 1), board.word(i + 1)
        listed = before == "and" and bool(found) and after in _JOB_ENDS
        named = before in _VERBS and after not in _SPANS
        if listed or named or (i == 0 and after in _JOB_ENDS):
            found.append(int(n))
    return tuple(dict.fromkeys(found))


def of_job(number: int, board: Board, marks: Sequence[NameMark], planned: bool, verb: str, text: str) -> Deed:
    """What is told of one job of the list: each takes the nearest verb before it."""
    at = next(i for i, t in enumerate(board.tokens) if t.number == number)
    action = verb if verb in PLANS else "done"
    for i in range(at, -1, -1):
        named = next((name for name, said in _PLAN_WORDS.items() if board.word(i) in said), None)
        if named is not None:
            action = named
            break
    following = [m for m in marks if m.kind == "date" and m.start > at]
    on = following[0].value if following and action == "postpone" else None
    if action == "done" and on is None and planned and following:
        action, on = "postpone", following[0].value
    return Deed(action, text, job=number, on=on if isinstance(on, date) else None)
