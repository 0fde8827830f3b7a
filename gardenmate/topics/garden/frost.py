"""Own frost dates told: which day, and whether it is the last of spring or the first of autumn."""

from __future__ import annotations

from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.records import dataclass

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


@dataclass(frozen=True, slots=True)
class FrostDates:
    """Own average frost dates told: (month, day) each, what was assumed, or a ``problem`` to ask back."""

    last: tuple[int, int] | None = None
    first: tuple[int, int] | None = None
    assumed: tuple[str, ...] = ()
    problem: str = ""
    choices: tuple[str, ...] = ()


def frost_dates(question: Request, world: World) -> FrostDates | None:
    """The frost dates a statement tells, None when it tells none."""
    named = question.has("own-frosts")
    earlier = _frost_before(world)
    if not named and earlier is None:
        return None
    days, assumed = _days(question)
    if not days:
        if named and question.has("frost-month"):
            return FrostDates(
                problem="Which day? A month is too wide; say for example 'my last frost is May 12'."
            )
        return None
    if len(days) >= 2:
        return _two(days, assumed)
    (_, month_day) = days[0]
    role = _role(question) or (None if named else earlier)
    southern = world.site is not None and world.site.southern
    spring_half = (month_day[0] <= 7) != southern  # last frosts of the north come before August
    if role is None:
        role = "last" if spring_half else "first"
        if not question.has("frost-role", "both"):
            assumed = (*assumed, f"A frost date in that month is the {role} one.")
    elif world.site is not None and (role == "last") != spring_half:
        name = f"{month_day[1]} {_MONTHS[month_day[0] - 1].capitalize()}"
        other = "first" if role == "last" else "last"
        return FrostDates(
            problem=f"A {role} frost on {name} does not fit the seasons {world.site.where}; which is it?",
            choices=(f"my {other} frost is {name}", "another place: 'I garden in ...'"),
        )
    return FrostDates(**{role: month_day}, assumed=assumed)  # type: ignore[arg-type]


_Day = tuple[str | None, tuple[int, int]]


def _days(question: Request) -> tuple[list[_Day], tuple[str, ...]]:
    """(what is said of it, (month, day)) of every day named, and what was assumed of them."""
    typed = question.all("frost-day")
    said = question.slots.date
    if len(typed) < 2 and said is not None:
        return [(None, (said.month, said.day))], ()
    days: list[_Day] = [(t.role, (int(str(t.value)[:2]), int(str(t.value)[3:]))) for t in typed]
    assumed = (f"I read '{t.text}' as the {days[0][1][1]}th." for t in typed if t.unit == "part")
    return days, tuple(assumed)


def _two(days: list[_Day], assumed: tuple[str, ...]) -> FrostDates:
    """Two days: each is what the "last" or "first" before it says; else the one named first is the last."""
    roles: dict[str, tuple[int, int]] = {}
    for role, month_day in days[:2]:
        if role is not None:
            roles.setdefault(role, month_day)
    if len(roles) < 2:
        roles = {"last": days[0][1], "first": days[1][1]}
    return FrostDates(last=roles["last"], first=roles["first"], assumed=assumed)


def _role(question: Request) -> str | None:
    """ "first" or "last" where only one of them is told."""
    typed = question.first("frost-role")
    return None if typed is None or typed.value == "both" else str(typed.value)


def _frost_before(world: World) -> str | None:
    """The frost the statement before was about, so that "actually it's May 3" corrects it."""
    previous = world.previous
    if previous is None or previous.question.topic != "garden":
        return None
    if not previous.question.has("own-frosts"):
        return None
    named = {n.name for n in previous.numbers}
    if "first_frost" in named and "last_frost" not in named:
        return "first"
    return "last" if "last_frost" in named else _role(previous.question)
