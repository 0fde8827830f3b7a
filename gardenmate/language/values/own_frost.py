"""The grower's own frost date told inside a question: "my last frost is May 12, too late for peppers?"."""

from __future__ import annotations

from datetime import date, timedelta

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
    return _so_far_ahead(board)


def _so_far_ahead(board: Board) -> tuple[str, Span] | None:
    """ "My last frost ... it's now eleven weeks off", "frost ends in 2 weeks", "6 weeks till last frost"."""
    for span in board.of("span"):
        per, after = _DAYS_IN.get(span.value[0]), board.word(span.end)
        if per is None or board.today is None or not 0 < span.value[1] * per < _YEAR_DAYS:
            continue
        lead = [board.word(i) for i in range(max(0, span.start - _LONG_REACH), span.start)]
        then = [board.word(i) for i in range(span.end + 1, span.end + 5)]
        ends = bool(_ENDS & set(lead[-3:])) and bool(_FROST & set(lead[-5:]))
        told = after in ("off", "away") and bool(_FROST & set(lead)) and bool({"last", "first"} & set(lead))
        until = (
            after in ("until", "till", "to")
            and bool(_FROST & set(then))
            and bool({"last", "first"} & set(then))
        )
        if ends or told or until:
            side = "first" if "first" in (then if until else lead) and not ends else "last"
            day = board.today + timedelta(days=round(span.value[1] * per))
            return side, Span(span.start, span.end, "date", day)
    return None


_DAYS_IN = {"days": 1.0, "weeks": 7.0, "months": 30.4}
_YEAR_DAYS = 300.0  # days; a frost further off is not the coming one
_LONG_REACH = 22  # words from the frost to how far off it is
_ENDS = words("ends end over done finishes")


_RULE = words("normally usually always average typically")


def _usual(board: Board, span: Span) -> bool:
    """True for a part of a month at which frosts usually end or come: "frost is normally done mid May"."""
    lead = {board.word(i) for i in range(max(0, span.start - _REACH), span.start)}
    part = (span.value.last - span.value.first).days <= _PART_DAYS
    return part and bool(_FROST & lead) and bool(_RULE & lead)


_PART_DAYS = 14  # days: a part of a month ("late May") is a date of its own


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
