"""The short form of an answer: what is needed to decide and act, in ten lines; the rest waits for "more".

Kept: the first line with its reason, at most three figures, the one thing to do, the caution that matters.
What gives way when it does not fit is fixed in one order; a caution against an acute danger never does.
Nothing is lost: `rest` draws exactly what the short form left out, in the order of the whole answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from functools import cache

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.help_lines import in_every_country
from gardenmate.present.figures import show_number
from gardenmate.present.layout import (
    INDENT,
    Line,
    Look,
    asked,
    assumptions_of,
    blocks,
    figure_lines,
    joined,
    listed,
    opening,
    sentences,
    steps_of,
    table_of,
)
from gardenmate.present.tables import fits_in_columns
from gardenmate.present.vocabulary import Say, speaker
from gardenmate.records import NamedTuple, replace

_DEGREES = ("_f", "_c")
_LEAST_ROWS = 2  # rows of a table in a short answer; design value
_HINT_LINES = 1  # left free for the word that there is more
_NOTHING_SAID: frozenset[str] = frozenset()


class CautionForm(NamedTuple):
    """What stands for a caution once it was said, and whether it is of an acute danger."""

    short: str
    acute: bool = False


class Brief(NamedTuple):
    """The rules of knowledge/present.toml and the short forms of knowledge/cautions.toml."""

    lines: tuple[tuple[int, int], ...]
    figures: int
    table_rows: int
    preferred: Mapping[str, tuple[str, ...]]
    tables_first: frozenset[str]
    cautions: Callable[[], Mapping[str, CautionForm]]  # made when a caution is first shown

    def budget(self, width: int) -> int:
        """Lines an answer may take at this width."""
        return next(lines for columns, lines in self.lines if width >= columns)


class ShortForm(NamedTuple):
    """A short form: its lines, what of the answer was left out, and the cautions said so far."""

    lines: tuple[Line, ...]
    left: Answer | None
    first_step: int
    said: frozenset[str]

    @property
    def more(self) -> bool:
        """True when something waits for "more"."""
        return self.left is not None


class _Cut(NamedTuple):
    """How much of each part of an answer is in the short form."""

    figures: tuple[Number, ...]
    steps: int = 0
    details: int = 0
    changes: int = 0
    assumptions: int = 0
    rows: int = 0


def brief_of(facts: Facts) -> Brief:
    """The rules of the short form, read from the facts."""
    table = facts.table("present")
    return Brief(
        lines=tuple((row["from_columns"], row["lines"]) for row in table["short"]["rows"]),
        figures=table["short"]["figures"],
        table_rows=table["short"]["table_rows"],
        preferred={topic: tuple(names) for topic, names in table["figures"].items()},
        tables_first=frozenset(table["tables"]["first"]),
        cautions=cache(lambda: _caution_forms(facts)),
    )


def _caution_forms(facts: Facts) -> dict[str, CautionForm]:
    """The short form of every caution, in the words of either vocabulary."""
    entries = [entry for topic in facts.table("cautions").values() for entry in topic.values()]
    ways: tuple[Say, ...] = (str, *(speaker(facts, american) for american in (True, False)))
    return {
        say(text): CautionForm(say(e["short"]), e.get("acute", False))
        for e in entries
        for text in in_every_country(e["text"], facts)
        for say in ways
    }


def short(answer: Answer, look: Look, brief: Brief, said: frozenset[str] = _NOTHING_SAID) -> ShortForm:
    """The short form of an answer. ``said``: the short names of cautions already said in full,
    and the doubts about the place told before.

    The warning of an emergency is never cut. How the place was read and how sure its dates are is said once.
    """
    if answer.question.cue("danger"):
        return ShortForm(tuple(joined(blocks(answer, look), look)), None, 1, said)
    doubts = frozenset(line for line in (answer.place_doubt, answer.place_reading) if line)
    answer = replace(
        answer,
        place_doubt=None if answer.place_doubt in said else answer.place_doubt,
        place_reading=None if answer.place_reading in said else answer.place_reading,
    )
    said |= doubts
    caution, now_said = _caution_lines(answer, look, brief, said)
    head = list(opening(answer, look))
    room = brief.budget(look.width) - len(head) - len(caution) - _HINT_LINES
    cut = _fitted(answer, look, brief, room)
    lines = joined([head, *_body(answer, look, cut), caution], look, close=True)
    left = _left(answer, look, cut)
    return ShortForm(tuple(lines), left, cut.steps + 1, now_said)


def rest(shown: ShortForm, look: Look) -> list[Line]:
    """What the short form left out, in the order of the whole answer; nothing when nothing was."""
    if shown.left is None:
        return []
    return joined(blocks(shown.left, look, headline=False, first_step=shown.first_step), look)


# -- what is in it -------------------------------------------------------------------------------------
def key_figures(answer: Answer, look: Look, brief: Brief) -> tuple[Number, ...]:
    """The figures that would change the decision: those the answer names, else the first of its topic's list.

    A figure the first line states already is not said twice.
    """
    usable = [n for n in asked(answer, look) if not _stated(n, answer.headline, look)]
    if answer.key_figures:
        names: Iterable[str] = answer.key_figures
    else:
        names = (*brief.preferred.get(answer.question.topic, ()), *brief.preferred["usual"])
    chosen: list[Number] = []
    for name in names:
        chosen += [n for n in usable if name in (n.name, _bare(n.name)) and n not in chosen]
    return tuple(chosen[: brief.figures])


def _stated(number: Number, headline: str, look: Look) -> bool:
    """True when the first line says the figure already, a chance perhaps to the nearest five percent."""
    shown = show_number(number, look.units, look.today)
    if isinstance(number.value, date):  # "26 Sep to 12 Oct 2026": a year said once
        shown = shown.removesuffix(f" {number.value.year}")
    if shown in headline:
        return True
    if number.unit != "%" or not isinstance(number.value, int | float):
        return False
    return any(f"{mark}%" in headline for mark in _rounded(number.value))


def _rounded(percent: float) -> tuple[int, ...]:
    near = 5 * round(percent / 5)
    return (near, 95) if percent > 95 else (near,)


def _bare(name: str) -> str:
    return name[:-2] if name.endswith(_DEGREES) else name


def _fitted(answer: Answer, look: Look, brief: Brief, room: int) -> _Cut:
    """As much as fits into ``room`` lines. The table or the figures come first, then the thing to do; an
    answer that has none of these shows its sentences."""
    figures = key_figures(answer, look, brief)
    rows = _table_rows(answer, brief, bool(figures))
    if rows:
        figures = ()
    cut = _Cut(figures, rows=rows)
    bare = not figures and not rows
    whole = cut
    listed_jobs = rows > 0 and answer.question.topic in brief.tables_first
    for grown in _growing(answer, cut, bare, listed_jobs):
        if _height(answer, look, grown) > room:
            break
        whole = grown
    while _height(answer, look, whole) > room and whole.figures:
        whole = whole._replace(figures=whole.figures[:-1])
    least = brief.table_rows if len(_crops(answer)) > 1 else _LEAST_ROWS
    while _height(answer, look, whole) > room and whole.rows > least:
        whole = whole._replace(rows=whole.rows - 1)
    return whole


def _crops(answer: Answer) -> set[str]:
    return {ref.id for ref in answer.question.crops}


def _growing(answer: Answer, cut: _Cut, bare: bool, listed_jobs: bool) -> Iterator[_Cut]:
    """The cut with one thing more at a time, as long as there is something to add. ``listed_jobs``: the table
    holds the thing to do."""
    if listed_jobs:
        return
    if answer.steps:
        cut = cut._replace(steps=1)
        yield cut
    elif answer.changes and answer.verdict in ("no", "tight") and not answer.asks:
        cut = cut._replace(changes=1)
        yield cut
    if bare:
        for _ in answer.details:
            cut = cut._replace(details=cut.details + 1)
            yield cut
        for _ in answer.steps[1:]:
            cut = cut._replace(steps=cut.steps + 1)
            yield cut
        for _ in assumptions_of(answer):
            cut = cut._replace(assumptions=cut.assumptions + 1)
            yield cut


def _table_rows(answer: Answer, brief: Brief, has_figures: bool) -> int:
    """How many rows of the table are in the short form: none where figures say it."""
    if answer.table is None or not answer.table.rows or answer.asks:
        return 0  # what is asked back comes before any table
    several = len(_crops(answer)) != 1
    first = answer.question.topic in brief.tables_first
    if not first and has_figures and not several:
        return 0
    rows = len(answer.table.rows)
    return rows if rows <= brief.table_rows + 1 else brief.table_rows


def _height(answer: Answer, look: Look, cut: _Cut) -> int:
    return sum(len(block) for block in _body(answer, look, cut))


def _body(answer: Answer, look: Look, cut: _Cut) -> list[list[Line]]:
    """The blocks of the short form between the first line and the caution, in the order of the whole."""
    table = answer.table
    if table is not None and cut.rows:
        over = len(table.rows) - cut.rows
        drawn = list(table_of(_narrowed(table._replace(rows=table.rows[: cut.rows]), look), look))
        if over:
            drawn += sentences((f"... and {over} more.",), look)
    else:
        drawn = []
    return [
        list(figure_lines(cut.figures, look)),
        drawn,
        list(steps_of(answer.steps[: cut.steps], look, numbered=len(answer.steps) > 1 and cut.steps > 1)),
        list(sentences(answer.details[: cut.details], look)),
        list(sentences(answer.changes[: cut.changes], look)),
        list(listed("You could say", answer.asks, look)),
        list(listed("Assumed", assumptions_of(answer)[: cut.assumptions], look, "dim")),
    ]


def _narrowed(table: Table, look: Look) -> Table:
    """The table without its last columns where all do not fit side by side and two or more do."""
    for keep in range(len(table.heads), 1, -1):
        cut = table._replace(heads=table.heads[:keep], rows=tuple(row[:keep] for row in table.rows))
        if look.linear or fits_in_columns(cut, look.width - len(INDENT)):
            return cut
    return table


# -- cautions ------------------------------------------------------------------------------------------
def _caution_lines(
    answer: Answer, look: Look, brief: Brief, said: frozenset[str]
) -> tuple[list[Line], frozenset[str]]:
    """The one caution in full, with every other acute one in few words; what was said before in few words.

    One that has no short form (a plant's own) is said whole the first time, and then named by its plant.
    """
    cautions = tuple(dict.fromkeys(answer.cautions))
    plant = next(
        (f"the caution for {ref.typed or ref.id}" for ref in answer.question.crops), "the caution above"
    )
    known = brief.cautions() if cautions else {}
    forms = {text: known.get(text, CautionForm("", acute=True)) for text in cautions}
    names = {text: forms[text].short or text for text in cautions}
    new = [text for text in cautions if names[text] not in said]
    full = next((t for t in new if forms[t].acute), new[0] if new else None)
    whole = [t for t in new if t == full or not forms[t].short]
    also = [
        forms[t].short for t in new if forms[t].acute and t not in whole and names[t] != names.get(full or "")
    ]
    old = [t for t in cautions if t not in new]
    before = [forms[t].short or plant for t in old if forms[t].acute or (full is None and t == cautions[0])]
    parts = list(whole)
    if also:
        parts.append(f"Also: {'; '.join(dict.fromkeys(also))}.")
    if before:
        words = f"{'; '.join(dict.fromkeys(before))}, as before."
        parts.append(words[0].upper() + words[1:])
    lines = list(listed("Take care", (" ".join(parts),), look, "caution")) if parts else []
    return lines, said | {names[t] for t in whole}


# -- what is left --------------------------------------------------------------------------------------
def _left(answer: Answer, look: Look, cut: _Cut) -> Answer | None:
    """The answer without what was shown, None when nothing is left."""
    table: Table | None = answer.table
    if table is not None and cut.rows == len(table.rows) and _narrowed(table, look) == table:
        table = None
    shown_now = {t for t in answer.cautions[:1] if len(answer.cautions) == 1}
    left = replace(
        answer,
        numbers=tuple(n for n in answer.numbers if n not in cut.figures),
        table=table,
        steps=answer.steps[cut.steps :],
        details=answer.details[cut.details :],
        changes=answer.changes[cut.changes :],
        cautions=tuple(t for t in answer.cautions if t not in shown_now),
        assumptions=assumptions_of(answer)[cut.assumptions :],
        question=replace(answer.question, assumptions=()),
        asks=(),
    )
    return left if blocks(left, look, headline=False) else None
