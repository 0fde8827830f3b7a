"""How far seedlings of an age told are from going out: what more light, a larger pot or hardening is for."""

from __future__ import annotations

from collections.abc import Iterable

from gardenmate.core.question import Request
from gardenmate.core.units import plural
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants

_USUAL_WEEKS = (4, 8)  # weeks raised indoors, most vegetables (common practice)


def age_weeks(question: Request) -> float | None:
    """The age of the seedlings, as typed ("nine weeks old"), in weeks; None where none is."""
    told = question.first("seedling-age")
    return None if told is None else told.number


def of_their_age(weeks: float | None, crops: Iterable[Named]) -> tuple[str, ...]:
    """A sentence on the first of the crops that is raised indoors, on seedlings in general where none is named; ()
    without an age."""
    if weeks is None:
        return ()
    named_any = tuple(crops)
    if not named_any:
        low, high = _USUAL_WEEKS
        left = "old enough to go out" if weeks >= high else "to be kept in strong light until they go out"
        age = plural(round(weeks, 1), "week")
        return (f"Most raised seedlings go out at {low} to {high} weeks: at {age} yours are {left}.",)
    for named in named_any:
        usual = named.crop.timing.weeks_indoors
        if usual is None:
            continue
        p = plants(named)
        age = plural(round(weeks, 1), "week") if weeks >= 1 else plural(round(7 * weeks), "day")
        if weeks >= usual[0]:
            return (
                f"At {age} {p.word} {p.are} old enough to go out ({usual[0]:g} to {usual[1]:g} weeks is usual).",
            )
        left = f"{max(1, round(usual[0] - weeks))} to {max(2, round(usual[1] - weeks))} weeks"
        return (
            f"At {age} {p.word} {p.are} {left} from going out, and {p.does('want')} strong light until then.",
        )
    return ()
