"""Why, where from, and what if: speaks of the answer before, and re-runs its question when something moves;
and the words of the trade, explained.

What if: the same question is answered again in a world that differs in just what was said (frost dates
moved, a warmer or colder year, a cover added, another date or variety), and the figures that moved are told.
"""

from __future__ import annotations

from datetime import date, timedelta
from types import MappingProxyType

from gardenmate.climate.freezes import (
    Freeze,
    FreezeDate,
)
from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import Request
from gardenmate.core.units import show_date, show_span, show_temp
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.explain.glossary import explained
from gardenmate.topics.registry import rule_for
from gardenmate.topics.shared.containers import container_asked

# "warmer than usual", "a cold spring": how far the whole temperature curve is moved when no figure is
# given. About one standard deviation of a monthly mean in a continental climate (common practice).
USUAL_ANOMALY_C = 1.5
_WHAT_IF_CUES = ("cover", "gear", "bud_stage", "sky", "wind", "vent", "stage", "glazing")


def answer(question: Request, world: World) -> Answer:
    """Explain ``world.previous``: its arithmetic, its sources, or what moves when one thing changes."""
    if question.has("term"):
        return explained(question, world)
    previous = world.previous
    if previous is None:
        return Answer(
            question=question,
            verdict=None,
            headline="There is no answer yet to explain; ask something first, then ask why.",
        )
    if previous.question.topic in ("garden", "log"):
        return Answer(
            question=question,
            verdict=None,
            headline="Your last message was only noted, so there is nothing to recalculate.",
            changes=("Ask a question first, such as 'too late for peppers?', then 'why' or 'what if'.",),
        )
    if question.cue("asks") == "source":
        return _sources(question, world, world.supposed or previous)
    if supposes(question):
        return _what_if(question, world, previous)
    return _why(question, world.supposed or previous)


def supposes(question: Request) -> bool:
    """True for a "what if", said so or by what it changes; "why 30?" changes nothing."""
    if question.has("asks", "why"):
        return False
    return question.cue("asks") == "what-if" or (
        question.cue("asks") != "source" and _changes_something(question)
    )


def _changes_something(question: Request) -> bool:
    said = any(question.cue(name) for name in (*_WHAT_IF_CUES, "shift_days", "anomaly"))
    slots = question.slots
    return said or any(
        (slots.date, slots.days_to_maturity, slots.method, slots.container, slots.temperature_c is not None)
    )


def _why(question: Request, previous: Answer) -> Answer:
    working = previous.working or previous.details
    if not working:
        working = ("There is no arithmetic behind that answer.",)
    figures = set() if question.slots.date else {str(t.value) for t in question.all("figure")}
    working = tuple(
        sorted(working, key=lambda line: not figures & _figures(line))
    )  # the figure asked after first
    known = {f"{t.value:g}" for t in previous.question.typed if isinstance(t.value, int | float)}
    known |= {f"{n.value:g}" for n in previous.numbers if isinstance(n.value, int | float)}
    known |= {str(round(n.value)) for n in previous.numbers if isinstance(n.value, int | float)}
    shown = set().union(*(_figures(line) for line in (previous.headline, *previous.details, *working)))
    strange = sorted(figures - known - shown)
    return Answer(
        question=question,
        verdict=None,
        headline=f"There is no {strange[0]} in that answer; this is how it was worked out:"
        if strange
        else f"How {previous.question.quoted} was answered:",
        details=working,
        assumptions=previous.assumptions,
        sources=previous.sources,
        working=working,
        chance=previous.chance,
    )


def _figures(line: str) -> set[str]:
    """The figures a line of the answer before shows."""
    return {
        word.strip("(),:;%$") for word in line.split() if word.strip("(),:;%$").replace(".", "", 1).isdigit()
    }


def _sources(question: Request, world: World, previous: Answer) -> Answer:
    titles = []
    for source_id in dict.fromkeys(previous.sources):
        source = world.facts.source(source_id)
        memory = " (from memory)" if source.from_memory else ""
        link = f" <{source.url}>" if source.url else ""
        titles.append(f"{source.title}{memory}{link}")
    headline = (
        f"The figures come from {len(titles)} source{'s' if len(titles) != 1 else ''}:"
        if titles
        else "That answer rests on no published figure."
    )
    return Answer(
        question=question, verdict=None, headline=headline, details=tuple(titles), sources=previous.sources
    )


def _what_if(question: Request, world: World, previous: Answer) -> Answer:
    again, changed_world, said = _changed(question, world, previous)
    new = rule_for(again.topic).answer(again, changed_world)
    moved = _moved(previous, new, world)
    if previous.verdict != new.verdict:
        moved = (f"The verdict moves from {_word(previous)} to {_word(new)}.", *moved)
    if not moved:
        moved = ("That doesn't change the answer.",)
    return replace(
        new,
        question=question,
        headline=f"{said}: {new.headline[:1].lower()}{new.headline[1:]}",
        details=(*moved, *new.details),
        assumptions=(*new.assumptions,),
        effects=(),
    )


def _changed(question: Request, world: World, previous: Answer) -> tuple[Request, World, str]:
    """The earlier question and world with what was said now put in, and that said in words."""
    earlier = previous.question
    cues = dict(earlier.cues)
    parts: list[str] = []
    for name in _WHAT_IF_CUES:
        value = question.cue(name)
        if value and value != earlier.cues.get(name):
            cues[name] = value
            plain = value.replace("-", " ").replace("_", " ")
            parts.append(f"with a {plain} sky" if name == "sky" else f"with {plain}")
    stands_in = container_asked(question, world.facts)
    if question.slots.container is not None and stands_in is not None:
        parts.append(f"in a {stands_in.label(world.units)}")
    start = _start_moved(question, earlier, world.today)
    days, autumn = (None, False) if start else _frost_shift(question, earlier, world.site)
    moved_day = days is not None or start is not None
    slots = replace(question.slots, date=start, weeks=None, days=None) if moved_day else question.slots
    again = replace(
        earlier,
        slots=slots.merged_over(earlier.ask),
        cues=MappingProxyType(cues),
        crops=question.crops or earlier.crops,
    )
    site = world.site
    if site is not None and days is not None:
        site = _shift_autumn(site, days) if autumn else _shift_spring(site, days)
        which = "autumn" if autumn else "spring"
        parts.append(f"if {which} frosts come {abs(days):g} days {'later' if days > 0 else 'earlier'}")
    anomaly = question.cue("anomaly")
    if site is not None and anomaly in ("warmer", "colder"):
        change_c = USUAL_ANOMALY_C if anomaly == "warmer" else -USUAL_ANOMALY_C
        site = _shift_temperatures(site, change_c)
        parts.append(f"if it is {show_span(abs(change_c), world.units)} {anomaly} throughout")
    if slots.date:
        parts.append(f"on {show_date(slots.date, world.today)}")
    if question.slots.days_to_maturity:
        parts.append(f"with a {question.slots.days_to_maturity}-day variety")
    if question.slots.temperature_c is not None:
        parts.append(f"at {show_temp(question.slots.temperature_c, world.units)}")
    said = ", ".join(parts) if parts else "worked again"
    said = said[:1].upper() + said[1:]
    return again, replace(world, site=site), said


def _start_moved(question: Request, earlier: Request, today: date) -> date | None:
    """The day when "a week later" moves the job itself, not a frost: "what if I sow a week later"."""
    shift = question.cue("shift_days")
    if not shift or not question.has("moves", "start"):
        return None
    return (earlier.ask.date or today) + timedelta(days=round(float(shift)))


def _frost_shift(question: Request, earlier: Request, site: Site | None) -> tuple[float | None, bool]:
    """(days the frosts move, None when they do not; whether it is the autumn's).

    Said without a season, the end of the season that binds the earlier question moves: autumn for too
    late and for the harvest. A first or last frost told as a date moves from the usual one to it.
    """
    told = question.cue("frost_moved")
    autumn = told == "autumn" if told else earlier.topic in ("late-start", "harvest-date")
    shift = question.cue("shift_days")
    if shift:
        return float(shift), autumn
    if told is None or site is None or question.slots.date is None:
        return None, autumn
    freeze = site.freeze_at(0.0)
    usual = freeze.first_autumn if autumn else freeze.last_spring
    if usual is None:
        return None, autumn
    on = site.anchor(question.slots.date) + timedelta(days=round(usual.offset_days))
    return float((question.slots.date - on).days), autumn


def _later_by(frost: FreezeDate | None, days: float) -> FreezeDate | None:
    return None if frost is None else frost._replace(offset_days=frost.offset_days + days)


def _shift_spring(site: Site, days: float) -> Site:
    """Spring frosts later by ``days``; autumn frosts stay."""
    freezes = {t: Freeze(_later_by(f.last_spring, days), f.first_autumn) for t, f in site.freezes.items()}
    return replace(site, freezes=freezes)


def _shift_autumn(site: Site, days: float) -> Site:
    """Autumn frosts, and the cooling after the warmest time, later by ``days``; spring stays."""
    freezes = {t: Freeze(f.last_spring, _later_by(f.first_autumn, days)) for t, f in site.freezes.items()}
    low, high = site.normal_min_c, site.normal_max_c
    year = len(low)
    mean = [a + b for a, b in zip(low, high, strict=True)]
    warmest, coldest = mean.index(max(mean)), mean.index(min(mean))
    fall = (coldest - warmest) % year

    def moved(values: tuple[float, ...]) -> tuple[float, ...]:
        out = list(values)
        for k in range(fall + 1):
            out[(warmest + k) % year] = values[(warmest + max(0, min(fall, k - round(days)))) % year]
        return tuple(out)

    return replace(site, freezes=freezes, normal_min_c=moved(low), normal_max_c=moved(high))


def _shift_temperatures(site: Site, change_c: float) -> Site:
    return replace(
        site,
        normal_min_c=tuple(v + change_c for v in site.normal_min_c),
        normal_max_c=tuple(v + change_c for v in site.normal_max_c),
        monthly_min_c=tuple(v + change_c for v in site.monthly_min_c),
        monthly_max_c=tuple(v + change_c for v in site.monthly_max_c),
    )


def _moved(before: Answer, after: Answer, world: World) -> tuple[str, ...]:
    """One sentence for each shown figure that is in both answers and differs."""
    old = {(n.name, n.crop): n for n in before.numbers}
    lines = []
    for number in after.numbers:
        was = old.get((number.name, number.crop))
        other_unit = number.unit in ("F", "C") and (number.unit == "F") != (world.units == "us")
        if was is None or was.value == number.value or not number.shown or not number.label or other_unit:
            continue
        crop = f" ({number.crop})" if number.crop else ""
        lines.append(
            f"{number.label.capitalize()}{crop}: {_show(was, world)} before, {_show(number, world)} now."
        )
    return tuple(lines)


def _show(number: Number, world: World) -> str:
    value = number.value
    if isinstance(value, date):
        return show_date(value, world.today)
    whole = isinstance(value, float) and number.unit in ("F", "C", "days")
    shown = f"{value:.0f}" if whole else f"{value:g}" if isinstance(value, int | float) else str(value)
    return f"{shown} {number.unit}".strip()


def _word(answer: Answer) -> str:
    return answer.verdict or "no verdict"
