"""How an answer is laid out: lines of styled pieces, the same for the plain and the coloured writer.

Order: the word (of a yes-or-no question), one sentence; that the place is uncertain; the reading when something
was filled in; a small aligned block of numbers; the date line; table; steps; reasoning; what would change it;
cautions; what was assumed. Nothing is computed here: figures come ready from the answer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from textwrap import wrap

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.text import harmless
from gardenmate.core.units import Units
from gardenmate.present.dateline import NARROWEST, date_line
from gardenmate.present.figures import is_for, show_number
from gardenmate.present.spoken import spoken
from gardenmate.present.tables import table_lines
from gardenmate.records import NamedTuple

INDENT = "  "
_UNPLACED = {"people": "the number of people", "count": "the number"}
"""What a value is called whose place in the line is not known, by kind."""
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
    return joined(blocks(answer, look), look)


def blocks(answer: Answer, look: Look, headline: bool = True, first_step: int = 1) -> list[list[Line]]:
    """The parts of an answer in the order they are read, empty ones left out. ``first_step`` is the number
    the steps begin with."""
    drawn = (
        opening(answer, look) if headline else (),
        figure_lines(_figures(answer, look), look),
        _date_line(answer, look),
        table_of(answer.table, look),
        steps_of(answer.steps, look, first_step, numbered=len(answer.steps) + first_step > 2),
        sentences(answer.details, look),
        listed("What would change it", answer.changes, look) if not answer.asks else (),
        listed("You could say", answer.asks, look),
        listed("Take care", answer.cautions, look, "caution"),
        listed("Assumed", assumptions_of(answer), look, "dim"),
    )
    return [lines for lines in map(list, drawn) if lines]


def joined(parts: Iterable[list[Line]], look: Look, close: bool = False) -> list[Line]:
    """Blocks under each other: those of one line close, anything larger stands free; ``close`` keeps all
    close."""
    lines: list[Line] = []
    before = 0
    for drawn in parts:
        if not drawn:
            continue
        if before and max(before, len(drawn)) > 1 and not look.linear and not close:
            lines.append(())
        lines.extend(drawn)
        before = len(drawn)
    return lines


def plain(answer: Answer, look: Look) -> str:
    """The whole answer as plain text, no escape sign in it, ending in a line break."""
    return text_of(layout(answer, look))


def text_of(lines: Iterable[Line]) -> str:
    """Lines as plain text, each ending in a line break."""
    return "".join(line_text(line) + "\n" for line in lines)


def line_text(line: Line) -> str:
    """The text of one line, without its styles."""
    return "".join(p.text for p in line).rstrip()


def opening(answer: Answer, look: Look) -> Iterator[Line]:
    """The first line with its reason, and how the words were read where something was filled in."""
    yield from _headline(answer, look)
    for note in (answer.place_note, answer.place_doubt):
        for line in wrapped(harmless(note), look.width) if note is not None else ():
            yield (Piece(line),)
    readings = dict.fromkeys(r for r in (answer.question.reading, answer.reading, answer.place_reading) if r)
    for reading in (r for r in readings if not any(r != other and r in other for other in readings)):
        for line in wrapped(f"({harmless(reading)})", look.width):
            yield (Piece(line, "dim"),)
    unused = [
        f"'{harmless(t.text)}'" if t.text else _UNPLACED.get(t.kind, f"{t.value} {t.unit}".strip())
        for t in answer.unused
    ]
    if unused:
        for line in wrapped(f"I haven't allowed for {' or '.join(unused)} here.", look.width):
            yield (Piece(line, "dim"),)


def _headline(answer: Answer, look: Look) -> Iterator[Line]:
    word, text = spoken(answer)
    text = harmless(text)
    first, *rest = wrapped(f"{word}  {text}" if word else text, look.width)
    if word:
        yield (Piece(word, "verdict"), Piece(first[len(word) :], "head"))
    else:
        yield (Piece(first, "head"),)
    for line in rest:
        yield (Piece(line, "head"),)


def figure_lines(numbers: Iterable[Number], look: Look) -> Iterator[Line]:
    """Figures under each other, label and value aligned."""
    rows = [(harmless(n.label), show_number(n, look.units, look.today)) for n in numbers]
    if not rows:
        return
    pad = max(len(label) for label, _ in rows)
    for label, value in rows:
        if look.linear or pad + len(value) + 4 > look.width:
            for line in wrapped(f"{INDENT}{label}: {value}", look.width, hang=INDENT * 2):
                yield (Piece(line, "value"),)
        else:
            yield (Piece(f"{INDENT}{label.ljust(pad)}  ", "label"), Piece(value, "value"))


def asked(answer: Answer, look: Look) -> list[Number]:
    """The figures to be shown: in the grower's units; of several crops' figures, those of the whole."""
    several = len({n.crop for n in answer.numbers if n.crop}) > 1
    return [n for n in answer.numbers if is_for(n, look.units) and not (several and n.crop)]


def _figures(answer: Answer, look: Look) -> list[Number]:
    """The figures of the whole answer: an average frost date that the date line draws is not told twice."""
    drawn = {m.on for m in answer.marks} if _has_date_line(answer, look) else set()
    return [n for n in asked(answer, look) if not (n.name in _SEASON_MARKS and n.value in drawn)]


def _has_date_line(answer: Answer, look: Look) -> bool:
    days = len({m.on for m in answer.marks})
    return not look.linear and days > 1 and look.width - len(INDENT) >= NARROWEST


def _date_line(answer: Answer, look: Look) -> Iterator[Line]:
    if _has_date_line(answer, look):
        for line in date_line(answer.marks, look.today, look.width - len(INDENT)):
            yield (Piece(INDENT + harmless(line), "line"),)


def table_of(table: Table | None, look: Look) -> Iterator[Line]:
    """A table with its title, in columns, or row by row where those do not fit."""
    if table is None or not table.rows:
        return
    if table.title:
        for line in wrapped(harmless(table.title), look.width):
            yield (Piece(line, "strong"),)
    lines = table_lines(table, look.width - len(INDENT), stacked=look.linear)
    for number, line in enumerate(lines):
        yield (Piece(INDENT + line, "label" if number == 0 and not look.linear else "value"),)


def sentences(texts: Iterable[str], look: Look, style: str = "") -> Iterator[Line]:
    """Sentences, each from a new line on."""
    for text in texts:
        for line in wrapped(harmless(text), look.width):
            yield (Piece(line, style),)


def steps_of(steps: Iterable[str], look: Look, first: int = 1, numbered: bool = True) -> Iterator[Line]:
    """Things to do, numbered from ``first`` where there are several."""
    for number, step in enumerate(steps, start=first):
        sign = f"{number}. " if numbered else ""
        for line in wrapped(f"{sign}{harmless(step)}", look.width, hang=" " * len(sign)):
            yield (Piece(line),)


def listed(title: str, texts: Iterable[str], look: Look, style: str = "") -> Iterator[Line]:
    """Sentences under a title: one behind it, several as a list."""
    texts = list(dict.fromkeys(texts))
    if not texts:
        return
    if len(texts) == 1:
        first, *rest = wrapped(f"{title}: {harmless(texts[0])}", look.width, hang=INDENT)
        yield (Piece(first[: len(title) + 1], style or "label"), Piece(first[len(title) + 1 :], style))
        for line in rest:
            yield (Piece(line, style),)
        return
    yield (Piece(f"{title}:", style or "label"),)
    for text in texts:
        for line in wrapped(f"- {harmless(text)}", look.width, hang=INDENT):
            yield (Piece(line, style),)


def assumptions_of(answer: Answer) -> tuple[str, ...]:
    """What was assumed in reading and in answering, each once, as sentences; what matters most stands first:
    the rule's own before what was made of the words."""
    said = dict.fromkeys((*answer.assumptions, *answer.question.assumptions))
    return tuple(s if s.endswith((".", "?", "!")) else f"{s}." for s in said)


def wrapped(text: str, width: int, hang: str = "") -> list[str]:
    """The text in lines no wider than ``width`` (at least 20), all but the first indented by ``hang``."""
    return wrap(
        text, max(20, width), subsequent_indent=hang, break_on_hyphens=False, break_long_words=True
    ) or [""]
