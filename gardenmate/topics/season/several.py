"""From findings to one answer: a single crop, a table of several, or a whole region's places."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.season.case import Case, Reply
from gardenmate.topics.season.numbers import few
from gardenmate.topics.season.season import ACTIVITIES
from gardenmate.topics.shared.grammar import listed, sentence
from gardenmate.topics.shared.regions import in_sentence
from gardenmate.topics.shared.verdicts import of_all

_WORD: dict[str | None, str] = {"yes": "yes", "tight": "tight", "no": "no", None: "-"}


def answer_of(finding: Reply, question: Request, place: str | None = None) -> Answer:
    """The answer for one crop in one place."""
    return Answer(
        question=question,
        verdict=finding.verdict,
        headline=finding.headline,
        numbers=few(finding.numbers),
        details=finding.details,
        table=finding.table,
        changes=finding.changes,
        chance=finding.chance,
        windows=finding.windows,
        marks=finding.marks,
        cautions=finding.cautions,
        assumptions=finding.assumptions,
        sources=_sources((finding,)),
        working=finding.working,
        reading=question.reading,
    )


def answer_for_several(question: Request, world: World, found: Sequence[Reply], *, listed: bool) -> Answer:
    """One answer with a table row per crop."""
    rows = tuple(
        (
            f.case.name,
            f.answer or _WORD[f.verdict],
            f.do or "-",
            f.pick or "-",
            "-" if f.chance is None else f"{round(100 * f.chance)}%",
        )
        for f in (sorted(found, key=_order) if listed else found)
    )
    table = Table(("crop", "answer", "do", "first picking", "chance"), rows)
    return Answer(
        question=question,
        verdict=_common(found, listed, _asks_what_is_late(question)),
        headline=_headline(question, found, listed),
        numbers=() if listed else tuple(n for f in found for n in f.numbers),
        details=()
        if listed or question.topic == "when-start" or any(f.told for f in found)
        else tuple(f.headline for f in found),
        table=table,
        changes=()
        if listed
        else tuple(dict.fromkeys(_for_one(f.case.name, c) for f in found for c in f.changes[:1])),
        windows=tuple(w for f in found for w in f.windows),
        cautions=tuple(dict.fromkeys(c for f in found for c in f.cautions)),
        assumptions=_assumptions(found),
        sources=_sources(found),
        working=() if listed else tuple(line for f in found for line in f.working),
        reading=question.reading,
    )


def _for_one(name: str, change: str) -> str:
    """ "Chard: sow indoors from 7 Feb.": what would change one of several."""
    return f"{sentence(name)}: {change[0].lower()}{change[1:]}"


def _order(finding: Reply) -> tuple[int, str]:
    return ({"yes": 0, "tight": 1, None: 2, "no": 3}[finding.verdict], finding.case.name)


def _common(found: Sequence[Reply], listed: bool, asked_what_is_late: bool) -> Verdict | None:
    if listed and any(f.told for f in found):
        return None
    verdicts = {f.verdict for f in found}
    if listed and asked_what_is_late:
        return None
    if listed:
        return "yes" if "yes" in verdicts else ("tight" if "tight" in verdicts else "no")
    return of_all(verdicts)


def _headline(question: Request, found: Sequence[Reply], listed: bool) -> str:
    if any(f.told for f in found):
        if listed:
            return "Counted back from the day you named, crop by crop:"
        return " ".join(f.headline for f in found)
    by: dict[str | None, list[str]] = {}
    for f in found:
        by.setdefault(f.verdict, []).append(f.case.name)
    if question.topic in ("when-start", "harvest-date") and not listed:
        if question.topic == "when-start":
            return " ".join((found[0].headline, *(f.brief or f.headline for f in found[1:])))
        picked = ", ".join(f"{f.case.name} about {f.pick}" for f in found if f.pick)
        return f"First picking: {picked}." if picked else " ".join(f.headline for f in found)
    yes, tight, no = by.get("yes", []), by.get("tight", []), by.get("no", [])
    late = question.topic == "late-start"
    case = found[0].case
    when = "now" if case.day == case.today else f"around {case.on(case.day)}"
    if listed:
        if not yes and not tight:
            return f"You can't start anything on the usual list {when}; the table shows what comes next."
        some = _names(yes or tight)
        if late and _asks_what_is_late(question):
            return _too_late_words(found, some, when)
        return f"{'Not too late' if late else 'Yes'}: {when} you can start {some}."
    if len(by) == 1:
        names = _names([f.case.name for f in found])
        if yes:
            return f"{'Not too late' if late else 'Not too early'} for {names}."
        if tight:
            return f"{'Not too late but tight' if late else 'Early but possible'} for {names}."
        return f"{'Too late' if late else 'Not now'} for {_names([f.case.name for f in found], 'or')}."
    parts = [
        f"{word} for {_names(names)}" for word, names in (("yes", yes), ("tight", tight), ("no", no)) if names
    ]
    text = "; ".join(parts)
    return f"{text[0].upper()}{text[1:]}."


def _asks_what_is_late(question: Request) -> bool:
    """ "What is too late?" asks for a list; "is it too late for anything?" for a yes or no."""
    return question.cue("too_late") == "yes" and question.has("asks", "list")


def _too_late_words(found: Sequence[Reply], some: str, when: str) -> str:
    """ "What is too late now?": what closed lately, then what can still be started."""
    gone = [f.case.name for f in found if f.verdict == "no" and _lately_closed(f.case)]
    lead = f"Too late now: {_names(gone)}" if gone else "None of the usual list is too late yet"
    return f"{lead}. You can start these {when}: {some}."


def _lately_closed(case: Case) -> bool:
    """True where a window of the crop closed in the last weeks, by whatever way of starting."""
    return any(case.season.just_closed(method, case.day) is not None for method in ACTIVITIES)


def _names(names: Sequence[str], last: str = "and") -> str:
    return listed(dict.fromkeys(names), last)


def _assumptions(found: Sequence[Reply]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(a for f in found for a in f.assumptions))


def _sources(found: Sequence[Reply]) -> tuple[str, ...]:
    ids = (s for f in found for s in (*f.sources, *f.case.site.source_ids))
    return tuple(dict.fromkeys(ids))


def answer_for_region(
    question: Request, world: World, found: Sequence[Sequence[Reply]], *, listed: bool
) -> Answer:
    """A whole region: one verdict where its places agree, else where it is yes and where it is no."""
    region = in_sentence(world.region, world.facts)
    middle = _middle(found)
    one = (
        answer_for_several(question, world, middle, listed=listed)
        if len(middle) > 1
        else answer_of(middle[0], question)
    )
    town = middle[0].case.site.name
    ask = (
        f"{sentence(region)} covers a lot of ground, so these are dates for {town}, about the middle. Name your "
        "town for its own."
    )
    if len(middle) > 1:
        rows = tuple(_spread_row(column) for column in zip(*found, strict=True))
        return replace(
            one,
            table=Table(
                ("crop", "answer", "earliest place", "latest place"),
                rows,
                f"At {len(found)} places in {region}",
            ),
            headline=one.headline,
            assumptions=(ask, *one.assumptions),
        )
    column = [row[0] for row in found]
    return _one_crop(question, one, column, region, ask)


def _one_crop(question: Request, one: Answer, column: list[Reply], region: str, ask: str) -> Answer:
    if question.topic == "when-start":
        return _when_in_region(one, column, region, ask)
    by: dict[str | None, list[Reply]] = {}
    for f in column:
        by.setdefault(f.verdict, []).append(f)
    head = f"In {column_middle(column).case.site.name}, about the middle of {region}: {one.headline}"
    middle = column_middle(column).case.site.name
    if len(by) == 1:
        every = "both" if len(column) == 2 else f"all {len(column)}"
        return replace(
            one,
            headline=f"{one.headline} It is the same at {every} places in {region}; these dates are for {middle}.",
            assumptions=(ask, *one.assumptions),
            table=_places(column),
        )
    split = "; ".join(
        f"{_WORD[v]} in {_some([f.case.site.name for f in fs])}"
        for v, fs in sorted(by.items(), key=lambda i: -len(i[1]))
        if v is not None
    )
    return replace(
        one,
        verdict=None,
        headline=f"It depends on where in {region}: {split}.",
        details=(head, *one.details),
        assumptions=(ask, *one.assumptions),
        table=_places(column),
        chance=None,
    )


def _when_in_region(one: Answer, column: list[Reply], region: str, ask: str) -> Answer:
    """When to start across a region: the middle place's dates, and how far the ends lie apart."""
    starts = sorted(
        ((f.windows[0].best_from.timetuple().tm_yday, f) for f in column if f.windows),
        key=lambda pair: pair[0],
    )
    spread = ""
    if starts:
        first, last = starts[0][1], starts[-1][1]
        spread = (
            f" Across {region} the earliest start is {first.case.on(first.windows[0].best_from)} in "
            f"{first.case.site.name} and the latest {last.case.on(last.windows[0].best_from)} in {last.case.site.name}."
        )
    return replace(
        one, headline=one.headline + spread, assumptions=(ask, *one.assumptions), table=_places(column)
    )


def _places(column: list[Reply]) -> Table:
    rows = tuple((f.case.site.name, _WORD[f.verdict], f.do or "-", f.pick or "-") for f in column)
    return Table(("place", "answer", "do", "first picking"), rows)


def _some(names: Sequence[str], most: int = 4) -> str:
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")


def column_middle(column: Sequence[Reply]) -> Reply:
    """The finding of the place in the middle of the region, by its mean warmth."""
    ranked = sorted(column, key=lambda f: sum(f.case.year.mean_c))
    return ranked[len(ranked) // 2]


def _middle(found: Sequence[Sequence[Reply]]) -> Sequence[Reply]:
    ranked = sorted(found, key=lambda row: sum(row[0].case.year.mean_c))
    return ranked[len(ranked) // 2]


def _spread_row(column: Sequence[Reply]) -> tuple[str, ...]:
    verdicts = [f.verdict for f in column]
    common = _WORD[verdicts[0]] if len(set(verdicts)) == 1 else "depends"
    ranked = sorted(column, key=lambda f: sum(f.case.year.mean_c))
    warm, cold = ranked[-1], ranked[0]
    return (
        column[0].case.name,
        common,
        f"{warm.case.site.name}: {warm.do}",
        f"{cold.case.site.name}: {cold.do}",
    )
