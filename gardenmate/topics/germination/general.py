"""No crop named: sowings logged lately, else the days of the staples side by side."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Table
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, show_temp
from gardenmate.core.world import World
from gardenmate.topics.germination import logged, waiting
from gardenmate.topics.germination.emergence_facts import trial_of
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique


def answer(question: Request, world: World) -> Answer:
    """No crop named: logged sowings if something was sown lately, else the staples side by side."""
    told = logged.all_batches(question, world)
    if told is not None:
        return told
    typed = question.ask.temperature_c
    columns = [typed] if typed is not None else [f_to_c(f) for f in (50, 59, 68, 77)]
    rows, sources = [], []
    for crop_id in world.facts.examples("seed_table"):
        crop = world.facts.crop(crop_id)
        trial = trial_of(crop, world.facts)
        sources.append(trial.sources)
        cells = [_days(d) if (d := trial.days_at(t)) is not None else "none" for t in columns]
        rows.append((sentence(crop.generic_names[0] if crop.generic_names else crop.name), *cells))
    heads = ("seed", *(show_temp(t, world.units) for t in columns))
    span_text = "from 2 days (lettuce in warm soil) to several weeks in the cold"
    headline = (
        f"At {show_temp(typed, world.units)} it depends on the seed; here are the days for common ones."
        if typed is not None
        else f"Most vegetable seed is up in 5 to 14 days in a warm room; the range runs {span_text}."
    )
    headline = f"{headline}{_by_then(question, world)}"
    return Answer(
        question=question,
        verdict=None,
        headline=headline,
        numbers=temp_numbers("soil", "soil", typed) if typed is not None else (),
        table=Table(heads, tuple(rows), "Days from sowing to emergence, by soil temperature"),
        details=waiting.GENERAL_WAIT,
        changes=("Name the crop and the temperature for one figure.",),
        sources=unique(*sources),
        working=(
            "Days as tabulated; between tabulated temperatures the daily share (1/days) is interpolated.",
        ),
    )


def _by_then(question: Request, world: World) -> str:
    """Which common seed is not up in a warm room after the time told; "" where none is."""
    spans = (t for t in question.all("span") if t.unit in waiting.DAYS_IN and not t.told)
    told = [t.number * waiting.DAYS_IN[t.unit] for t in spans]
    if not told:
        return ""
    days = max(told)
    room_c = f_to_c(world.facts.table("raising")["germination"]["room_f"])
    slow = []
    for crop_id in world.facts.examples("seed_table"):
        crop = world.facts.crop(crop_id)
        needs = trial_of(crop, world.facts).days_at(room_c)
        if needs is None or needs > days:
            slow.append(crop.generic_names[0] if crop.generic_names else crop.name)
    if not slow:
        return f" After {round(days)} days in a lived-in room all in the table should be up."
    return f" After {round(days)} days in a lived-in room {listed(slow)} are not due yet."


def _days(days: float) -> str:
    return f"{max(1, round(days))}"
