"""How long a seedling may stay in its cell or pot, and whether it lasts there until it can be planted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import plural, show_date
from gardenmate.core.world import World
from gardenmate.records import dataclass
from gardenmate.topics.season.set_out import set_out_window
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.containers import Container, container_asked, containers, weeks_in
from gardenmate.topics.shared.figures import range_numbers
from gardenmate.topics.shared.grammar import an, sentence, span, unique
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants

_LONGEST_WEEKS = 520.0  # ten years: no longer span is meant


@dataclass(frozen=True, slots=True)
class Wait:
    """Weeks until plants can be set out, and the date."""

    weeks: float
    until: date


def weeks_to_set_out(question: Request, world: World, crops: tuple[Named, ...]) -> Wait | None:
    """From today to set-out: the date said, else the place's; None when neither is known or it is here."""
    told = wait_told(question, world)
    if told is not None:
        return told
    windows = [w for n in crops if (w := set_out_window(n.crop, world)) is not None]
    if not windows:
        return None
    until = max(w.best_from for w in windows)
    return Wait((until - world.today).days / 7, until) if until > world.today else None


def wait_told(question: Request, world: World) -> Wait | None:
    """The wait as typed: until the last day named ("mid June": its first), or for so many weeks; None when not."""
    days = (question.ask.date, *(t.value for t in question.all("date")))
    said = max((day for day in days if isinstance(day, date) and day > world.today), default=None)
    if said is not None:
        return Wait((said - world.today).days / 7, said)
    if question.ask.weeks is not None and question.cue("span_means") == "until":
        weeks = min(question.ask.weeks, _LONGEST_WEEKS)
        return Wait(weeks, world.today + timedelta(weeks=weeks))
    return None


def lasts(named: Named, row: Mapping[str, Any], pot: Container, world: World) -> str:
    """How long a pot carries the crop, counted from sowing."""
    weeks = span(*_half(*weeks_in(pot, row, buttons=named.crop.groups.held == "buttons")))
    return f"{sentence(an(pot.label(world.units)))} carries {plants(named).word} to about {weeks} weeks from sowing."


def place_note(world: World) -> tuple[str, ...]:
    """What the place would add, while it is unknown."""
    if world.site is not None:
        return ()
    return ("Tell me the place and I can say how many weeks they still have to wait.",)


def answer(
    question: Request, world: World, named: Named, row: Mapping[str, Any], next_pot: Container
) -> Answer:
    """How long it may stay. With an age given: yes within the time, tight at its end, no past it."""
    hold = world.facts.table("raising")["hardening"]["hold"]
    buttons = named.crop.groups.held == "buttons"
    now = container_asked(question, world.facts)
    usual = containers(world.facts)[row["steps"][0]]
    shown = now or usual
    low, high = weeks_in(shown, row, buttons=buttons)
    age = age_weeks(question)
    wait = weeks_to_set_out(question, world, (named,)) if age is not None else None
    at_planting = age + wait.weeks if age is not None and wait is not None else age
    verdict = _judge(at_planting, low, high)
    planted = named.crop.best_age.weeks if named.crop.best_age is not None else None
    headline = _headline(named, world, shown, (low, high), age, at_planting, wait, verdict, next_pot, planted)
    why = (
        f"Past that {named.name} plants are checked for good: root-bound ones make tiny, early heads."
        if buttons
        else "Signs that time is up: roots circling or out of the holes, pale lower leaves, dry by evening."
    )
    best = (f"Best planted at {span(*planted)} weeks from sowing.",) if planted else ()
    ages = (
        ()
        if at_planting is None
        else (Number("weeks_at_planting", round(at_planting, 1), "weeks", "age then"),)
    )
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=(
            *range_numbers(
                "weeks_in_container", f"weeks in a {shown.label(world.units)}", *_half(low, high), "weeks"
            ),
            Number("next_pot", next_pot.label(world.units), "", "next pot"),
            Number("container_cm3", shown.cm3, "cm3", "holds"),
            *ages,
        ),
        table=_table(named, row, world, buttons),
        details=(
            *best,
            why,
            "Weeks count from sowing, in the warm and bright; cooler and darker they last longer.",
        ),
        changes=(
            f"In {an(next_pot.label(world.units))} it keeps growing.",
            *(place_note(world) if age is not None and wait is None else ()),
            *(("Tell me how many weeks ago it was sown and I can say if it lasts.",) if age is None else ()),
        ),
        cautions=cautions(world.facts, "potting-up").texts,
        assumptions=()
        if now is not None
        else (f"{sentence(an(usual.label(world.units)))}; other sizes are in the table.",),
        sources=unique(
            row["sources"],
            world.facts.table("raising")["containers"]["sources"],
            hold["sources"].of("button_below_f") if buttons else (),
            ("delaware-transplants",),
        ),
        working=(
            f"{sentence(shown.label(world.units))}: {span(*shown.weeks)} weeks for most seedlings, times the "
            f"pace of {named.name} ({row['pace']:g})"
            + (", the earlier half because it buttons" if buttons else "")
            + (f", at most {row['max_weeks']}" if "max_weeks" in row else "")
            + f": {low:.1f} to {high:.1f} weeks.",
        ),
    )


def age_weeks(question: Request) -> float | None:
    """Weeks since sowing as said; a span that lies ahead is no age."""
    ask = question.ask
    if question.cue("span_means") == "until":
        return None
    if ask.weeks is not None:
        return ask.weeks
    return None if ask.days is None else ask.days / 7


def _judge(weeks: float | None, low: float, high: float) -> Verdict | None:
    if weeks is None:
        return None
    if weeks <= low:
        return "yes"
    return "tight" if weeks <= high else "no"


def _headline(
    named: Named,
    world: World,
    shown: Container,
    stay: tuple[float, float],
    age: float | None,
    at_planting: float | None,
    wait: Wait | None,
    verdict: Verdict | None,
    next_pot: Container,
    planted: Sequence[float] | None,
) -> str:
    label, p = shown.label(world.units), plants(named)
    best = f"; plant out at {span(*planted)} weeks if you can" if planted else ""
    weeks = span(*_half(*stay))
    if verdict is None or age is None or at_planting is None:
        return f"{sentence(p.word)} can stay in {an(label)} for about {weeks} weeks from sowing, no longer{best}."
    day = "" if wait is None else show_date(wait.until, world.today)
    until = f" until planting about {day}" if day else ""
    old = plural(round(age, 1), "week")
    if verdict == "yes":
        holds = f"{an(label)} holds {p.word} for {weeks} weeks"
        return f"Yes, {p.they} can stay{until}: {holds}, and yours {p.are} {old} old."
    if verdict == "tight":
        return (
            f"Only just: {p.word} {p.does('last')} {weeks} weeks in {an(label)}{until and ' and would be'} "
            f"{f'{at_planting:.0f} weeks old' if until else f'and yours {p.are} {old} old'}. "
            "Look at the roots weekly."
        )
    then = (
        f"yours would be {at_planting:.0f} weeks old when planted about {day}"
        if until
        else f"yours {p.are} {old} old"
    )
    return (
        f"No, pot {p.them} on: {p.word} {p.does('last')} {weeks} weeks in {an(label)}, and {then}. Give {p.them} "
        f"{an(next_pot.label(world.units))}."
    )


def _half(low: float, high: float) -> tuple[float, float]:
    """Whole weeks: no one counts them finer."""
    return float(round(low)), float(max(round(low), round(high)))


def _table(named: Named, row: Mapping[str, Any], world: World, buttons: bool) -> Table:
    sizes = containers(world.facts)
    rows = []
    for size_id in ("288", "128", "72", "50", "3in", "4in", "5in"):
        size = sizes[size_id]
        weeks = span(*_half(*weeks_in(size, row, buttons=buttons)))
        rows.append((size.label(world.units), size.volume(world.units), weeks))
    return Table(("cell or pot", "holds", "weeks from sowing"), tuple(rows), f"{sentence(named.name)}")
