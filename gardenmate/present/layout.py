"""How an answer is laid out: lines of styled pieces, the same for the plain and the coloured writer.

Order: verdict sign and word, one sentence; the reading when something was filled in; a small aligned block
of numbers; the date line; table; reasoning; steps; what would change it; cautions; what was assumed.
Nothing is computed here: figures come ready from the answer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from textwrap import wrap

from gardenmate.answer import Answer, Number, Table
from gardenmate.present.dateline import date_line
from gardenmate.present.text import harmless
from gardenmate.units import Units, show_date

SIGNS = {"yes": "+ YES", "tight": "~ TIGHT", "no": "x NO"}
_INDENT = "  "


@dataclass(frozen=True, slots=True)
class Piece:
    """Text with a style name (see gardenmate.present.screen for the colours)."""

    text: str
    style: str = ""


Line = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Look:
    """How wide, in which units, for which day; ``linear`` drops every drawing (screen readers, pipes)."""

    width: int
    units: Units
    today: date
    linear: bool = False


def layout(answer: Answer, look: Look) -> list[Line]:
    """The whole answer as lines no wider than ``look.width`` (a single longer word is not broken)."""
    lines: list[Line] = []
    for block in (
        _headline(answer, look),
        _reading(answer, look),
        _numbers(answer.numbers, look),
        _date_line(answer, look),
        _table(answer.table, look),
        _sentences(answer.details, look),
        _steps(answer.steps, look),
        _listed("What would change it", answer.changes, look) if not answer.asks else [],
        _listed("You could ask", answer.asks, look),
        _listed("Take care", answer.cautions, look, "caution"),
        _assumed(answer, look),
    ):
        drawn = list(block)
        if drawn:
            if lines and len(drawn) > 1 and not look.linear:
                lines.append(())
            lines.extend(drawn)
    return lines


def plain(answer: Answer, look: Look) -> str:
    """The answer as plain text, no escape sign in it, ending in a line break."""
    return "".join("".join(p.text for p in line).rstrip() + "\n" for line in layout(answer, look))


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


def _reading(answer: Answer, look: Look) -> Iterator[Line]:
    said = dict.fromkeys(r for r in (answer.question.reading, answer.reading) if r)
    for reading in said:
        text = harmless(reading)
        for line in _wrapped(f"({text})", look.width):
            yield (Piece(line, "dim"),)


def _numbers(numbers: tuple[Number, ...], look: Look) -> Iterator[Line]:
    one_crop = len({n.crop for n in numbers if n.crop}) < 2
    rows = [
        (n.label, show_number(n, look)) for n in numbers if _is_shown(n, look) and (one_crop or not n.crop)
    ]
    if not rows:
        return
    pad = max(len(label) for label, _ in rows)
    for label, value in rows:
        if look.linear or pad + len(value) + 4 > look.width:
            for line in _wrapped(f"{_INDENT}{label}: {value}", look.width, hang=_INDENT * 2):
                yield (Piece(line, "value"),)
        else:
            yield (Piece(f"{_INDENT}{label.ljust(pad)}  ", "label"), Piece(value, "value"))


def _is_shown(number: Number, look: Look) -> bool:
    if not number.shown or not number.label or number.value is None:
        return False
    if number.unit in ("F", "C"):
        return (number.unit == "F") == (look.units == "us")
    return True


def show_number(number: Number, look: Look) -> str:
    """A figure with its unit as a grower reads it."""
    value = number.value
    if isinstance(value, date):
        return show_date(value, look.today)
    if isinstance(value, float | int) and not isinstance(value, bool):
        text = f"{value:,.0f}" if abs(value) >= 100 or value == int(value) else f"{value:.2g}"
        if abs(value) < 100 and value != int(value) and abs(value) >= 10:
            text = f"{value:.1f}"
    else:
        text = harmless(str(value))
    if number.unit == "%":
        return f"{text}%"
    if number.unit in ("day", "days") and text == "1":
        return "1 day"
    return f"{text} {number.unit}".strip() if number.unit != "date" else text


def _date_line(answer: Answer, look: Look) -> Iterator[Line]:
    if look.linear or len(answer.marks) < 2:
        return
    for line in date_line(answer.marks, look.today, look.width - len(_INDENT)):
        yield (Piece(_INDENT + line, "line"),)


def _table(table: Table | None, look: Look) -> Iterator[Line]:
    if table is None or not table.rows:
        return
    rows = [tuple(harmless(cell) for cell in row) for row in table.rows]
    if table.title:
        yield (Piece(harmless(table.title), "strong"),)
    widths = [max(len(r[i]) for r in (table.heads, *rows)) for i in range(len(table.heads))]
    if look.linear or sum(widths) + 2 * len(widths) > look.width:
        yield from _stacked(table, rows, look)
        return
    yield (
        Piece(
            _INDENT + "  ".join(h.ljust(w) for h, w in zip(table.heads, widths, strict=True)).rstrip(),
            "label",
        ),
    )
    for row in rows:
        cells = "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip()
        yield (Piece(_INDENT + cells, "value"),)


def _stacked(table: Table, rows: list[tuple[str, ...]], look: Look) -> Iterator[Line]:
    """A table too wide for the screen, or for a screen reader: each row as a labelled sentence."""
    for row in rows:
        named = "; ".join(f"{h}: {c}" for h, c in zip(table.heads[1:], row[1:], strict=True) if c)
        for line in _wrapped(f"{row[0]} - {named}" if named else row[0], look.width, hang=_INDENT):
            yield (Piece(line, "value"),)


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
        for line in _wrapped(f"{title}: {harmless(texts[0])}", look.width, hang=_INDENT):
            yield (Piece(line, style),)
        return
    yield (Piece(f"{title}:", style or "label"),)
    for text in texts:
        for line in _wrapped(f"- {harmless(text)}", look.width, hang=_INDENT):
            yield (Piece(line, style),)


def _assumed(answer: Answer, look: Look) -> Iterator[Line]:
    said = dict.fromkeys((*answer.question.assumptions, *answer.assumptions))
    if said:
        text = " ".join(harmless(s) if s.endswith(".") else f"{harmless(s)}." for s in said)
        for line in _wrapped(f"Assumed: {text}", look.width, hang=_INDENT):
            yield (Piece(line, "dim"),)


def _wrapped(text: str, width: int, hang: str = "") -> list[str]:
    return wrap(
        text, max(20, width), subsequent_indent=hang, break_on_hyphens=False, break_long_words=True
    ) or [""]
