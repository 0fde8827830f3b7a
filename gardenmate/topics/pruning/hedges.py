"""A hedge, whatever it is of: when it is trimmed, and the nests that come first."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.answer import Answer, Mark, Number, Verdict
from gardenmate.core.finding import Finding
from gardenmate.core.units import show_date
from gardenmate.records import dataclass
from gardenmate.topics.pruning.numbers import place_assumption, spring_working
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_phase import Span, month_spans
from gardenmate.topics.shared.woody_text import sentence, span_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Hedge(Finding):
    """The trimming time at hand or next, and whether birds may be nesting on the day."""

    trim: Span
    nesting: bool


def answer_hedge(case: WoodyCase) -> Answer:
    """yes = its trimming time; tight = possible where no bird nests; no verdict is given against a nest in use."""
    table = case.facts.told("pruning", case.manner)["hedge"]
    found = _decide(case, table)
    start, end = found.trim
    said = cautions(case.facts, "pruning", "blades", "ladders", "lines")
    return Answer(
        question=case.question,
        verdict=found.verdict,
        headline=sentence(_headline(found, case, table)),
        numbers=(
            Number("prune_from", start, "date", "trim from"),
            Number("prune_to", end, "date", "trim until"),
        ),
        key_figures=("prune_from", "prune_to"),
        details=(*(() if not found.nesting else (table["nests"],)), *table["details"]),
        steps=tuple(table["steps"]),
        marks=tuple(
            sorted(
                (Mark("today", case.world.today), Mark("trim from", start), Mark("until", end)),
                key=lambda m: m.on,
            )
        ),
        changes=("Tell me what the hedge is of, and I can be more exact.",),
        cautions=said.texts,
        assumptions=place_assumption(case.spring),
        sources=tuple(dict.fromkeys((*table["sources"], *said.sources))),
        working=spring_working(case.spring),
    )


def _decide(case: WoodyCase, table: Mapping[str, Any]) -> Hedge:
    day = case.world.today
    trim = _at_hand(case, table["trim_months"])
    start, end = _at_hand(case, table["nesting_months"])
    verdict: Verdict = "yes" if trim[0] <= day <= trim[1] else "tight"
    return Hedge(verdict=verdict, trim=trim, nesting=start <= day <= end)


def _at_hand(case: WoodyCase, months: list[int]) -> Span:
    """The span the day lies in, or the next."""
    frames = (case.spring.shifted(years) for years in (-1, 0, 1))
    spans = sorted(span for frame in frames for span in month_spans(months, "summer", frame))
    return next((s for s in spans if s[1] >= case.world.today), spans[-1])


def _headline(found: Hedge, case: WoodyCase, table: Mapping[str, Any]) -> str:
    span, nests = span_text(*found.trim, case.world.today), "; look for nests first" if found.nesting else ""
    if case.asks_when or case.asks_how:
        return f"Trim a hedge {table['say']} (about {span}){nests}"
    if found.verdict == "yes":
        until = show_date(found.trim[1], case.world.today)
        return f"Yes, trim the hedge {case.day}, until about {until}{nests}"
    better = show_date(found.trim[0], case.world.today)
    if found.nesting:
        return f"Only if no bird nests in it: look first. The better time for a hedge starts about {better}"
    return f"You can, lightly; the better time to trim a hedge starts about {better}"
