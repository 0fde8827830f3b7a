"""When the grower's own seedlings were potted up, beside the weeks of the table."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.plantings.current import spans_told
from gardenmate.plantings.own_days import OwnMean, OwnSpan, beside
from gardenmate.records import replace
from gardenmate.topics.shared.containers import containers, weeks_in
from gardenmate.topics.shared.raising import named_crops


def own_pot_up(low_weeks: float, high_weeks: float, crop: Crop, world: World) -> OwnMean | None:
    """The middle of a table's weeks to potting up (in days) with the grower's own beside it; None without any."""
    spans = tuple(s for s in spans_told(world.journal) if s.kind == "pot-up" and s.crop == crop.base)
    return beside(3.5 * (low_weeks + high_weeks), spans)


def with_own_potting(answer: Answer, question: Request, world: World) -> Answer:
    """The answer about potting up one crop, with when the grower did it before."""
    crops = named_crops(question, world)
    if len(crops) != 1 or answer.verdict is not None or world.home is not None:
        return answer
    row = world.facts.group_of(crops[0].crop, "potting")
    if row is None or len(row["steps"]) < 2:
        return answer
    low, high = weeks_in(containers(world.facts)[row["steps"][0]], row)
    found = own_pot_up(low, high, crops[0].crop, world)
    if found is None:
        return answer
    usual = f"the table says {low:.0f} to {high:.0f}"
    lines = []
    numbers = list(answer.numbers)
    if found.counted:
        lines.append(
            f"You potted yours up {' and '.join(_when(s) for s in found.counted[-3:])}; {usual}. "
            f"I count about {found.value / 7.0:.1f} weeks from sowing."
        )
        numbers.append(
            Number("own_weeks_to_pot_up", round(found.value / 7.0, 1), "weeks", "with your own", crops[0].id)
        )
    lines += [
        f"Your log has it potted up {_when(s)}, where {usual}: is that right? I left it out."
        for s in found.odd
    ]
    return replace(
        answer,
        numbers=tuple(numbers),
        details=(*lines, *answer.details),
        sources=tuple(dict.fromkeys((*answer.sources, "own-days"))),
    )


def _when(span: OwnSpan) -> str:
    return f"{span.days / 7.0:.1f} weeks after sowing in {span.year}"
