"""How an answer is laid out: lines of styled pieces, the same for the plain and the coloured writer.

Order: verdict sign and word, one sentence; the reading when something was filled in; a small aligned block
of numbers; the date line; table; steps; reasoning; what would change it; cautions; what was assumed.
Nothing is computed here: figures come ready from the answer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from textwrap import wrap
from typing import NamedTuple

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.units import Units
from gardenmate.present.dateline import NARROWEST, date_line
from gardenmate.present.figures import is_for, show_number
from gardenmate.present.tables import table_lines
from gardenmate.present.text import harmless

SIGNS = {"yes": "+ YES", "tight": "~ TIGHT", "no": "x NO"}
_INDENT = "  "
_SEASON_MARKS = ("last_frost", "first_frost")


class Piece(NamedTuple):
    """Text with a style name (see gardenmate.present.screen for the colours)."""

    text: str
    style: str = ""


Line = tuple[Piece, ...]


class Look(NamedTuple):
    """How wide, in which units, for which day; ``linear`` drops every drawing (screen readers, pipes)."""

    width: int
    units: Units
    today: date
    linear: bool = False


def layout(answer: Answer, look: Look) -> list[Line]:
    """The whole answer as lines no wider than ``look.width`` (a single longer word is not broken)."""
    lines: list[Line] = []
    before = 0
    for block in (
        _opening(answer, look),
        _numbers(answer, look),
        _date_line(answer, look),
        _table(answer.table, look),
        _steps(answer.steps, look),
        _sentences(answer.details, look),
        _listed("What would change it", answer.changes, look) if not answer.asks else [],
        _listed("You could say", answer.asks, look),
        _listed("Take care", answer.cautions, look, "caution"),
        _assumed(answer, look),
    ):
        drawn = list(block)
        if drawn:
            # One-line blocks follow each other closely; anything larger stands free.
            if before and max(before, len(drawn)) > 1 and not look.linear:
                lines.append(())
            lines.extend(drawn)
            before = len(drawn)
    return lines


def plain(answer: Answer, look: Look) -> str:
    """The answer as plain text, no escape sign in it, ending in a line break."""
    return "".join(line_text(line) + "\n" for line in layout(answer, look))


def line_text(line: Line) -> str:
    """The text of one line, without its styles."""
    return "".join(p.text for p in line).rstrip()


def _opening(answer: Answer, look: Look) -> Iterator[Line]:
    yield from _headline(answer, look)
    readings = dict.fromkeys(r for r in (answer.question.reading, answer.reading) if r)
    for reading in (r for r in readings if not any(r != other and r in other for other in readings)):
        for line in _wrapped(f"({harmless(reading)})", look.width):
            yield (Piece(line, "dim"),)


def _headline(answer: Answer, look: Look) -> Iterator[Line]:
    sign = SIGNS.get(answer.verdict or "", "")
    text = harmless(answer.headline)
    first, *rest = _wrapped(f"{sign}  {text}" if sign else text, look.width, hang=_INDENT if sign else "")
    if sign:
        yield (Piece(sign, f"verdict.{answer.verdict}"), Piece(first[len(sign) :], "head"))
    else:
        yield (Piece(first, "head"),)
    for line in rest:
        yield (Piece(line, "head"),)


def _numbers(answer: Answer, look: Look) -> Iterator[Line]:
    rows = [(harmless(n.label), show_number(n, look.units, look.today)) for n in _shown(answer, look)]
    if not rows:
        return
    pad = max(len(label) for label, _ in rows)
    for label, value in rows:
        if look.linear or pad + len(value) + 4 > look.width:
            for line in _wrapped(f"{_INDENT}{label}: {value}", look.width, hang=_INDENT * 2):
                yield (Piece(line, "value"),)
        else:
            yield (Piece(f"{_INDENT}{label.ljust(pad)}  ", "label"), Piece(value, "value"))


def _shown(answer: Answer, look: Look) -> list[Number]:
    """The figures of the block: the grower's units; of several crops' figures, those of the whole.

    An average frost date that the date line draws is not told twice.
    """
    several = len({n.crop for n in answer.numbers if n.crop}) > 1
    drawn = {m.on for m in answer.marks} if _has_date_line(answer, look) else set()
    return [
        n
        for n in answer.numbers
        if is_for(n, look.units)
        and not (several and n.crop)
        and not (n.name in _SEASON_MARKS and n.value in drawn)
    ]


def _has_date_line(answer: Answer, look: Look) -> bool:
    days = len({m.on for m in answer.marks})
    return not look.linear and days > 1 and look.width - len(_INDENT) >= NARROWEST


def _date_line(answer: Answer, look: Look) -> Iterator[Line]:
    if _has_date_line(answer, look):
        for line in date_line(answer.marks, look.today, look.width - len(_INDENT)):
            yield (Piece(_INDENT + harmless(line), "line"),)


def _table(table: Table | None, look: Look) -> Iterator[Line]:
    if table is None or not table.rows:
        return
    if table.title:
        for line in _wrapped(harmless(table.title), look.width):
            yield (Piece(line, "strong"),)
    lines = table_lines(table, look.width - len(_INDENT), stacked=look.linear)
    for number, line in enumerate(lines):
        yield (Piece(_INDENT + line, "label" if number == 0 and not look.linear else "value"),)


def _sentences(texts: Iterable[str], look: Look) -> Iterator[Line]:
    for text in texts:
        for line in _wrapped(harmless(text), look.width):
            yield (Piece(line),)


def _steps(steps: tuple[str, ...], look: Look) -> Iterator[Line]:
    for number, step in enumerate(steps, start=1):
        for line in _wrapped(f"{number}. {harmless(step)}", look.width, hang="   "):
            yield (Piece(line),)


def _listed(title: str, texts: Iterable[str], look: Look, style: str = "") -> Iterator[Line]:
    texts = list(dict.fromkeys(texts))
    if not texts:
        return
    if len(texts) == 1:
        first, *rest = _wrapped(f"{title}: {harmless(texts[0])}", look.width, hang=_INDENT)
        yield (Piece(first[: len(title) + 1], style or "label"), Piece(first[len(title) + 1 :], style))
        for line in rest:
            yield (Piece(line, style),)
        return
    yield (Piece(f"{title}:", style or "label"),)
    for text in texts:
        for line in _wrapped(f"- {harmless(text)}", look.width, hang=_INDENT):
            yield (Piece(line, style),)


def _assumed(answer: Answer, look: Look) -> Iterator[Line]:
    said = dict.fromkeys((*answer.question.assumptions, *answer.assumptions))
    if said:
        text = " ".join(harmless(s) if s.endswith((".", "?", "!")) else f"{harmless(s)}." for s in said)
        for line in _wrapped(f"Assumed: {text}", look.width, hang=_INDENT):
            yield (Piece(line, "dim"),)


def _wrapped(text: str, width: int, hang: str = "") -> list[str]:
    return wrap(
        text, max(20, width), subsequent_indent=hang, break_on_hyphens=False, break_long_words=True
    ) or [""]
