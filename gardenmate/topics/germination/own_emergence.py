"""How soon the grower's own seed came up, beside the trial table."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, plural
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.plantings.current import spans_told
from gardenmate.plantings.own_days import OwnMean, OwnSpan, beside
from gardenmate.records import replace
from gardenmate.topics.germination.emergence_facts import mat_setting_c, soil_today_c, trial_of
from gardenmate.topics.shared.raising import named_crops

_DAYS = "days_to_emerge"


def own_up_days(table_days: float, crop: Crop, world: World) -> OwnMean | None:
    """A table's days to come up with the grower's own beside them; None where the log tells of none.

    Each own sowing is set against the table at its own warmth (as told, on the mat, in the room or in the ground), and
    counts as the table's days here, times how much slower or faster it was there.
    """
    spans = [s for s in spans_told(world.journal) if s.kind == "up" and s.crop == crop.base]
    expected = {s: days for s in spans if (days := _expected(s, crop, world)) is not None}
    return beside(table_days, tuple(expected), lambda span: table_days * span.days / expected[span])


def with_own_emergence(answer: Answer, question: Request, world: World) -> Answer:
    """The answer about one crop, with what the grower's own sowings say beside its table."""
    crops = named_crops(question, world)
    figure = next((n for n in answer.numbers if n.name == _DAYS), None)
    if len(crops) != 1 or answer.effects or world.home is not None:
        return answer
    crop = crops[0].crop
    at = figure.value if figure is not None and isinstance(figure.value, int | float) else None
    table = at if at is not None else _at_room(crop, world)
    if table is None or table <= 0:
        return answer
    found = own_up_days(float(table), crop, world)
    if found is None:
        return answer
    lines = list(own_up_notes(found, crop, world))
    numbers = list(answer.numbers)
    if found.counted and at is not None:
        lines.append(f"With your own beside the table I count {plural(round(found.value), 'day')} here.")
        numbers.append(
            Number("own_days_to_emerge", round(found.value, 1), "days", "with your own", crops[0].id)
        )
    return replace(
        answer,
        numbers=tuple(numbers),
        details=(*lines, *answer.details),
        sources=tuple(dict.fromkeys((*answer.sources, "own-days"))),
    )


def own_up_notes(found: OwnMean, crop: Crop, world: World) -> tuple[str, ...]:
    """ "Yours came up in 9 days on the mat in 2026; the table says 7." """

    def said(span: OwnSpan) -> str:
        place = " on the mat" if span.mat else ""
        table = _expected(span, crop, world) or 0.0
        return f"{plural(span.days, 'day')}{place} in {span.year} (the table says {table:.0f})"

    lines = []
    if found.counted:
        more = f", {plural(len(found.counted), 'sowing')} in all" if len(found.counted) > 3 else ""
        lines.append(f"Yours came up in {' and '.join(said(s) for s in found.counted[-3:])}{more}.")
    lines += [f"Your log has it up in {said(s)}: is that right? I left it out." for s in found.odd]
    return tuple(lines)


def _at_room(crop: Crop, world: World) -> float | None:
    trial = trial_of(crop, world.facts)
    return trial.days_at(f_to_c(world.facts.table("raising")["germination"]["room_f"]))


def _expected(span: OwnSpan, crop: Crop, world: World) -> float | None:
    """The table's days at the warmth a sowing lay in."""
    trial = trial_of(crop, world.facts)
    if span.temp_c is not None:
        soil_c = span.temp_c
    elif span.mat:
        soil_c = mat_setting_c(crop, world.facts)
    elif _in_the_ground(span, crop, world):
        if world.site is None:
            return None
        soil_c = soil_today_c(world.site, span.begun)
    else:
        soil_c = f_to_c(world.facts.table("raising")["germination"]["room_f"])
    return trial.days_at(soil_c) or None


def _in_the_ground(span: OwnSpan, crop: Crop, world: World) -> bool:
    """True for seed sown where it is to grow, by its words, else by the usual way of the crop."""
    words = world.facts.table("work")["sown"]
    text = f" {span.told} "
    if any(word in text for word in words["indoors"]):
        return False
    return any(word in text for word in words["outdoors"]) or "indoors" not in crop.methods
