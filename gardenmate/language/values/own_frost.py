"""The grower's own frost date told inside a question: "my last frost is May 12, too late for peppers?"."""

from __future__ import annotations

from datetime import date

from gardenmate.language.text.spans import Board, Span, words

_OWN = words("my our")
_FROST = words("frost frosts freeze freezes")
_SUPPOSED = words("if suppose supposing say assume assuming imagine")
_REACH = 8  # words between "my" and the date


def own_frost(board: Board) -> tuple[str, Span] | None:
    """("last" or "first", the date's span) when the text tells the grower's own average frost date."""
    for span in board.of("date"):
        if not isinstance(span.value, date):
            if _usual(board, span):
                return _half(span.value.middle, board), Span(span.start, span.end, "date", span.value.middle)
            continue
        lead = [board.word(i) for i in range(max(0, span.start - _REACH), span.start)]
        role = next((word for word in reversed(lead) if word in ("last", "first")), None)
        supposed = _SUPPOSED & {t.word for t in board.tokens[: span.start]}
        if role is None or not (_OWN & set(lead) or supposed) or not _FROST & set(lead[lead.index(role) :]):
            continue
        return role, span
    return None


_RULE = words("normally usually always average typically")


def _usual(board: Board, span: Span) -> bool:
    """True for a part of a month at which frosts usually end or come: "frost is normally done mid May"."""
    lead = {board.word(i) for i in range(max(0, span.start - _REACH), span.start)}
    part = (span.value.last - span.value.first).days <= _PART_DAYS
    return part and bool(_FROST & lead) and bool(_RULE & lead)


_PART_DAYS = 14


def _half(day: date, board: Board) -> str:
    """Which of the two frosts a day is of: that of the half of the year the other side of midsummer is not."""
    said = {t.word for t in board.tokens}
    if said & {"first", "fall", "autumn"}:
        return "first"
    return (
        "last" if said & {"last", "spring", "done", "over", "ends", "finished"} or day.month <= 6 else "first"
    )


def asked_day(board: Board, frost: Span, told: date | None) -> date | None:
    """The day the question is about, the frost date apart: another one named, else none."""
    if told != frost.value:
        return told
    others = [s.value for s in board.of("date") if s is not frost and isinstance(s.value, date)]
    return others[0] if others else None
