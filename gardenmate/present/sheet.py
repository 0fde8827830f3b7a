"""The season sheet: one printed page for one's own crops, drawn as SVG in black and white.

From the top: the frost odds, one row a crop (a lane each for indoors, outdoors, set out and pick), and the jobs week
by week. Hatchings and lanes tell the bars apart, never a colour. Sizes are in millimetres; whatever came from the
grower is escaped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from html import escape
from textwrap import wrap

from gardenmate.core.answer import Window
from gardenmate.core.text import harmless
from gardenmate.core.units import show_date
from gardenmate.present.season_bars import MONTHS, YEAR_DAYS
from gardenmate.records import NamedTuple, dataclass


class Paper(NamedTuple):
    """A sheet of paper, upright, in millimetres."""

    name: str
    width: float
    height: float


PAPERS = {"a4": Paper("A4", 210.0, 297.0), "letter": Paper("Letter", 215.9, 279.4)}

MARGIN = 12.0  # mm round the page
NAMES_WIDTH = 34.0  # mm
FROST_HEIGHT = 12.0  # mm
LANE_HEIGHT = 3.0  # mm, at the most
ROW_GAP = 1.6  # mm
NAME_SIZE = 3.2  # mm, at the most
LEAST_JOBS_HEIGHT = 68.0  # mm kept for the jobs
COLUMNS = 3  # of jobs
LEAST_DEEP = 8  # lines of a column of jobs
LATER = "Later jobs: print it again nearer the time."
ONE_IN_TEN = 0.1  # chance of frost at which a line is drawn
_LETTER_WIDTH = 0.54  # of the size of a letter, for breaking lines: wide enough for every usual sans-serif
_LEADING = 1.28  # height of a line, of the size of a letter
_BOX = "\u25a1"  # an empty box to tick
_JOB_SIZES = (3.6, 3.2, 2.9, 2.6, 2.3)  # mm: the largest at which all jobs fit
_LANES = ("indoors", "outdoors", "set-out", "pick")
_LANE_OF = {
    "sow-indoors": "indoors",
    "sow-outdoors": "outdoors",
    "fall-sow": "outdoors",
    "set-out": "set-out",
    "fall-set-out": "set-out",
}
_HATCH, _DOTS, _GREY, _EMPTY = "hatch", "dots", "grey", "empty"
_FILLS = {"indoors": _HATCH, "outdoors": _GREY, "set-out": _EMPTY, "pick": _DOTS}
_HATCH_STEP, _DOT_STEP = 1.1, 1.0  # mm between lines and between dots
_SAYS = {"indoors": "sow indoors", "outdoors": "sow outdoors", "set-out": "set out", "pick": "pick"}


class Planting(NamedTuple):
    """Something sown or set out: on which day, and what to write beside the crop's name."""

    on: date
    label: str


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One crop: its windows, pickings, and what of it is already in the ground or in trays."""

    name: str
    windows: tuple[Window, ...]
    picks: tuple[tuple[date, date], ...] = ()
    plantings: tuple[Planting, ...] = ()


class Week(NamedTuple):
    """The jobs of a week that begins on a day."""

    begins: date
    jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything on the page. ``frost_odds`` is one chance a day from ``start`` (None: no frost there); ``last_year``
    what came of the year before and what to move, a line each, under its heading."""

    title: str
    start: date
    today: date
    frost_odds: tuple[float | None, ...]
    frost_marks: tuple[tuple[date, str], ...]
    rows: tuple[SheetRow, ...]
    weeks: tuple[Week, ...]
    notes: tuple[str, ...] = ()
    last_year: tuple[str, ...] = ()
    autumn: str = "fall"
    paper: Paper = PAPERS["a4"]


def svg(sheet: Sheet) -> str:
    """The page as an SVG document as large as the paper."""
    paper = sheet.paper
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{paper.width}mm" height="{paper.height}mm" '
        f'viewBox="0 0 {paper.width} {paper.height}" font-family="DejaVu Sans, Verdana, Arial, sans-serif" '
        f'fill="#000" role="img" aria-label="{escape(harmless(sheet.title))}">'
    )
    return "\n".join((head, *_page(sheet), "</svg>")) + "\n"


def html(sheet: Sheet) -> str:
    """The page as an HTML document that prints on one sheet of its paper."""
    paper = sheet.paper
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f"<title>{escape(harmless(sheet.title))}</title>\n"
        f"<style>@page{{size:{paper.width}mm {paper.height}mm;margin:0}}html,body{{margin:0;background:#fff}}"
        f"svg{{display:block;width:{paper.width}mm;height:{paper.height - 0.5}mm}}</style></head>\n"
        f"<body>{svg(sheet)}</body></html>\n"
    )


def _page(sheet: Sheet) -> Iterator[str]:
    paper = sheet.paper
    yield f'<rect width="{paper.width}" height="{paper.height}" fill="#fff"/>'
    yield _text(MARGIN, MARGIN + 4, 5.0, sheet.title, bold=True)
    yield from _key(sheet, MARGIN + 9.5)
    top = MARGIN + 16.0
    lane = _lane_height(sheet, top)
    bottom = top + FROST_HEIGHT + sum(_row_height(row, lane) for row in sheet.rows)
    yield from _months(sheet, top, bottom)
    yield from _frost(sheet, top)
    y = top + FROST_HEIGHT
    for row in sheet.rows:
        yield from _row(sheet, row, y, lane)
        y += _row_height(row, lane)
    yield from _day_marks(sheet, top, bottom)
    yield from _jobs(sheet, bottom + 9.0)


def _x(sheet: Sheet, day: date) -> float:
    """Where a day stands across the page, kept within the year drawn."""
    share = min(max((day - sheet.start).days, 0), YEAR_DAYS) / YEAR_DAYS
    return MARGIN + NAMES_WIDTH + share * (sheet.paper.width - 2 * MARGIN - NAMES_WIDTH)


# -- the bars ------------------------------------------------------------------------------------------
def _lanes(row: SheetRow) -> tuple[str, ...]:
    used = {_LANE_OF[w.activity] for w in row.windows} | ({"pick"} if row.picks else set())
    return tuple(lane for lane in _LANES if lane in used) or ("pick",)


def _row_height(row: SheetRow, lane: float) -> float:
    return max(2, len(_lanes(row))) * lane + ROW_GAP


def _lane_height(sheet: Sheet, top: float) -> float:
    """As high as is usual, or as many crops leave: the jobs have their room beneath."""
    room = sheet.paper.height - top - FROST_HEIGHT - MARGIN - LEAST_JOBS_HEIGHT
    lanes = sum(max(2, len(_lanes(row))) for row in sheet.rows)
    return min(LANE_HEIGHT, (room - ROW_GAP * len(sheet.rows)) / max(1, lanes))


def _row(sheet: Sheet, row: SheetRow, y: float, lane: float) -> Iterator[str]:
    height = _row_height(row, lane)
    size = min(NAME_SIZE, (2 * lane + ROW_GAP) * 0.6)  # as the lowest row allows: names of one size
    yield _line(MARGIN, y + height, sheet.paper.width - MARGIN, y + height, "#bbb", 0.15)
    yield _text(MARGIN, y + size * 1.05, size, _shortened(row.name, size, NAMES_WIDTH), bold=True)
    label = "; ".join(planting.label for planting in row.plantings)
    small = min(2.1, size * 0.75)
    if label:
        yield _text(MARGIN, y + size * 1.05 + small * 1.3, small, _shortened(label, small, NAMES_WIDTH))
    for number, name in enumerate(_lanes(row)):
        at = y + ROW_GAP / 2 + number * lane
        for window in (w for w in row.windows if _LANE_OF[w.activity] == name):
            yield from _bars(sheet, window.earliest, window.latest, at + lane * 0.3, lane * 0.4, name)
            yield from _bars(sheet, window.best_from, window.best_to, at + lane * 0.05, lane * 0.85, name)
        for first, last in row.picks if name == "pick" else ():
            yield from _bars(sheet, first, last, at + lane * 0.05, lane * 0.85, name)
    for planting in row.plantings:
        x, middle = _x(sheet, planting.on), y + height / 2
        points = " ".join(
            f"{x + dx:.2f},{middle + dy:.2f}" for dx, dy in ((0, -1.7), (1.1, 0), (0, 1.7), (-1.1, 0))
        )
        yield f'<polygon points="{points}" fill="#000" stroke="#fff" stroke-width="0.3"/>'


def _bars(sheet: Sheet, first: date, last: date, y: float, height: float, lane: str) -> Iterator[str]:
    """A bar from one day to the other; what runs past the end of the year comes round again."""
    end = sheet.start + timedelta(days=YEAR_DAYS)
    year = timedelta(days=YEAR_DAYS)
    while first >= end:
        first, last = first - year, last - year
    yield _rect(_x(sheet, first), y, _x(sheet, min(last, end)), height, _FILLS[lane])
    if last > end:
        yield _rect(_x(sheet, sheet.start), y, _x(sheet, min(last - year, end)), height, _FILLS[lane])


def _rect(x: float, y: float, end: float, height: float, fill: str) -> str:
    """A bar and what fills it. Drawn stroke by stroke: a pattern would swell the printed page a hundredfold."""
    width = max(end - x, 0.6)
    colour = "#555" if fill == _GREY else "#fff"
    box = (
        f'<rect x="{x:.2f}" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}" fill="{colour}" '
        'stroke="#000" stroke-width="0.18"/>'
    )
    if fill == _HATCH:
        strokes = "".join(
            f"M{x + at:.2f} {y + height:.2f}l{height:.2f} {-height:.2f}"
            for at in _steps(width - height, _HATCH_STEP)
        )
        return f'{box}<path d="{strokes}" stroke="#000" stroke-width="0.32"/>' if strokes else box
    if fill == _DOTS:
        dots = "".join(
            f"M{x + at + 0.5:.2f} {y + height / 2:.2f}h0.01" for at in _steps(width - 0.6, _DOT_STEP)
        )
        return (
            f'{box}<path d="{dots}" stroke="#000" stroke-width="0.5" stroke-linecap="round"/>'
            if dots
            else box
        )
    return box


def _steps(width: float, step: float) -> Iterator[float]:
    at = 0.0
    while at < width:
        yield at
        at += step


# -- the top -------------------------------------------------------------------------------------------
def _key(sheet: Sheet, y: float) -> Iterator[str]:
    x = MARGIN
    for lane in _LANES:
        yield _rect(x, y - 2.2, x + 7, 2.2, _FILLS[lane])
        yield _text(x + 8.2, y - 0.2, 2.7, _SAYS[lane])
        x += 11 + len(_SAYS[lane]) * 2.7 * _LETTER_WIDTH + 3
    yield f'<polygon points="{x},{y - 2.8} {x + 1.1},{y - 1.1} {x},{y + 0.6} {x - 1.1},{y - 1.1}" fill="#000"/>'
    yield _text(x + 2.2, y - 0.2, 2.7, "sown or set out")
    yield _text(
        MARGIN, y + 3.8, 2.3, "Thick: the good part. Thin: possible, at more risk. " + " ".join(sheet.notes)
    )


def _months(sheet: Sheet, top: float, bottom: float) -> Iterator[str]:
    month = sheet.start
    for _ in range(12):
        x = _x(sheet, month)
        yield _line(x, top, x, bottom, "#ccc", 0.15)
        yield _text(x + 0.8, top + 2.6, 2.6, MONTHS[month.month - 1])
        month = (month.replace(day=1) + timedelta(days=32)).replace(day=1)


def _frost(sheet: Sheet, top: float) -> Iterator[str]:
    """The chance of frost to come (before midsummer) or already come (after it), as a falling and rising hill."""
    base, height = top + FROST_HEIGHT - 0.5, FROST_HEIGHT - 4.0
    yield _text(MARGIN, top + 5.4, 2.7, "frost odds", bold=True)
    yield _text(MARGIN, top + 8.4, 2.1, "spring: still to come")
    yield _text(MARGIN, top + 11.0, 2.1, f"{sheet.autumn}: already come")
    points = [f"{_x(sheet, sheet.start):.2f},{base:.2f}"]
    for number, odds in enumerate(sheet.frost_odds):
        x = _x(sheet, sheet.start + timedelta(days=number))
        points.append(f"{x:.2f},{base - height * (odds or 0.0):.2f}")
    points.append(f"{_x(sheet, sheet.start + timedelta(days=YEAR_DAYS)):.2f},{base:.2f}")
    if any(sheet.frost_odds):
        yield f'<polygon points="{" ".join(points)}" fill="#ddd" stroke="#000" stroke-width="0.2"/>'
    for day, odds in _turns(sheet):
        rising = day > sheet.start + timedelta(days=YEAR_DAYS // 2)
        x = _x(sheet, day) + (-0.6 if rising else 0.6)
        yield _text(
            x, base - height * odds - 0.6, 2.1, f"1 in 10: {show_date(day)}", anchor="end" if rising else ""
        )
    yield _line(MARGIN, base, sheet.paper.width - MARGIN, base, "#000", 0.25)


def _turns(sheet: Sheet) -> Iterator[tuple[date, float]]:
    """The days at which frost is left to, and already came in, one year in ten."""
    pairs = zip(sheet.frost_odds, sheet.frost_odds[1:], strict=False)
    for number, (odds, following) in enumerate(pairs):
        if odds is not None and following is not None and (odds < ONE_IN_TEN) != (following < ONE_IN_TEN):
            yield sheet.start + timedelta(days=number + 1), following


def _day_marks(sheet: Sheet, top: float, bottom: float) -> Iterator[str]:
    """The average frosts and today, down the whole chart."""
    for day, label in sheet.frost_marks:
        x = _x(sheet, day)
        yield _line(x, top + 3.5, x, bottom, "#000", 0.25, dashes="1.2 1")
        yield _text(x, bottom + 2.6, 2.3, label, anchor="middle")
    x = _x(sheet, sheet.today)
    yield _line(x, top + 3.5, x, bottom, "#000", 0.4)
    yield _text(x, bottom + 5.2, 2.3, f"today {show_date(sheet.today)}", anchor="middle")


# -- the jobs ------------------------------------------------------------------------------------------
def _jobs(sheet: Sheet, top: float) -> Iterator[str]:
    """The weeks in columns, in letters as large as the room allows; what does not fit even so is said."""
    yield _text(MARGIN, top, 3.6, "Jobs by week", bold=True)
    top += 2.0
    room = sheet.paper.height - MARGIN - top
    width = (sheet.paper.width - 2 * MARGIN) / COLUMNS
    for size in _JOB_SIZES:
        deep = int(room / (size * _LEADING))
        columns = _columns(list(_job_lines(sheet, size, width - 3)), deep)
        if len(columns) <= COLUMNS:
            break
    if len(columns) > COLUMNS:
        columns = [*columns[: COLUMNS - 1], [*columns[COLUMNS - 1][: deep - 1], (LATER, False)]]
    for number, column in enumerate(columns):
        for at, (text, bold) in enumerate(column, start=1):
            x = MARGIN + number * width + (0 if bold or text.startswith(_BOX) else size * 1.25)
            yield _text(x, top + at * size * _LEADING, size, text, bold=bold)


def _columns(lines: list[tuple[str, bool]], deep: int) -> list[list[tuple[str, bool]]]:
    """Lines in columns no deeper than ``deep``, about as long as each other; a week's name ends none."""
    deep = min(deep, max(LEAST_DEEP, -(-len(lines) // COLUMNS) + 1))
    columns: list[list[tuple[str, bool]]] = []
    column: list[tuple[str, bool]] = []
    for number, (text, bold) in enumerate(lines):
        last = len(column) == deep - 1 and number + 1 < len(lines)
        if len(column) == deep or (bold and last):
            columns.append(column)
            column = []
        column.append((text, bold))
    return [*columns, column] if column else columns


def _job_lines(sheet: Sheet, size: float, width: float) -> Iterator[tuple[str, bool]]:
    letters = int(width / (size * _LETTER_WIDTH))
    for number, said in enumerate(sheet.last_year):
        for line in wrap(harmless(said), letters - 1):
            yield line, number == 0
    for week in sheet.weeks:
        ends = show_date(week.begins + timedelta(days=6))
        yield (
            (f"now, to {ends}" if week.begins <= sheet.today else f"{show_date(week.begins)} to {ends}"),
            True,
        )
        for job in week.jobs:
            for line in wrap(f"{_BOX} {harmless(job)}", letters - 1):
                yield line, False


# -- pieces --------------------------------------------------------------------------------------------
def _shortened(text: str, size: float, width: float) -> str:
    letters = int(width / (size * _LETTER_WIDTH))
    return text if len(text) <= letters else f"{text[: letters - 1]}\u2026"


def _text(x: float, y: float, size: float, text: str, *, bold: bool = False, anchor: str = "") -> str:
    weight = ' font-weight="bold"' if bold else ""
    anchored = f' text-anchor="{anchor}"' if anchor else ""
    return f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:.2f}"{weight}{anchored}>{escape(harmless(text))}</text>'


def _line(x: float, y: float, to_x: float, to_y: float, colour: str, width: float, dashes: str = "") -> str:
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<line x1="{x:.2f}" y1="{y:.2f}" x2="{to_x:.2f}" y2="{to_y:.2f}" stroke="{colour}" '
        f'stroke-width="{width}"{dashed}/>'
    )


def weeks_of(jobs: Sequence[tuple[date, str]], today: date) -> tuple[Week, ...]:
    """Jobs by the week (from Monday) they begin in, in order; what should have begun is this week's."""
    found: dict[date, list[str]] = {}
    for day, job in sorted(jobs):
        at = max(day, today)
        found.setdefault(at - timedelta(days=at.weekday()), []).append(job)
    return tuple(Week(begins, tuple(dict.fromkeys(said))) for begins, said in found.items())
