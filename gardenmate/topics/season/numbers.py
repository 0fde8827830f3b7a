"""The figures, marks and arithmetic of a plan, under the machine names the README lists."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from gardenmate.core.answer import Mark, Number
from gardenmate.core.units import show_date
from gardenmate.topics.season.case import Case, act, frost_dates
from gardenmate.topics.season.plan import Plan, count_back, longest_maturity

DRAWN_BACK_DAYS = 45
"""A last frost longer past than this is not drawn: it would only squeeze the days that count."""
MOST_SHOWN = 6
"""A grower reads no more figures than this under an answer; the rest stand in the machine form."""
MOST_SPARE_DAYS = 90
"""More days to spare than this say nothing: heat or another crop comes between (design value)."""
LONG_DAYS = 170
"""From here on days to maturity are counted on the calendar: the crop lives through a winter."""


def plan_numbers(case: Case, plan: Plan) -> tuple[Number, ...]:
    """The numbers of one start, in the order they are read; what is past or told elsewhere is not shown."""
    crop = case.terms.base
    spring, safe, autumn = frost_dates(case)
    back = count_back(case.terms, case.year, case.method, case.year.origin(case.day))
    latest = case.season.latest(case.method, case.day)
    longest = _longest(case, plan)
    quick = case.season.quick_latest(case.method, case.day)
    last = f"last date to {_job(case)}"
    with_quick = f"{last}, {case.season.quick().terms.dtm:.0f}-day variety"
    latest_name = "latest_sow" if case.method != "setout" else "latest_starts"
    dated = (
        ("sow", plan.sow if plan.method == "indoors" else None, "sow indoors", plan.sow != case.today),
        ("set_out", plan.set_out, "set out", True),
        ("start_from", plan.opens if plan.waits > 0 and plan.method != "indoors" else None, "may start from",
         True),
        ("first_pick", plan.first_pick, "first picking", True),
        (latest_name, latest, last, _of_this_season(latest, case)),
        (f"{latest_name}_quick", quick, with_quick, _of_this_season(quick, case)),
        ("count_back_date", back if case.terms.dtm < LONG_DAYS else None, "classic count-back", False),
        ("last_frost", spring, "average last frost", _is_to_come(spring, case)),
        ("last_frost_90", safe, "nine years in ten no frost after", _is_to_come(safe, case)),
        ("first_frost", autumn, "average first frost", plan.binding in ("frost", "cold")),
        ("season_end", plan.end if plan.end != autumn else None, "end of its season", False),
    )  # fmt: skip
    dates = [Number(n, v, "date", label, crop, shown) for n, v, label, shown in dated if v is not None]
    odds = [Number("chance", round(100 * plan.chance), "%", "chance of a crop", crop)]
    if plan.margin_days is not None and plan.margin_days < 300 and plan.binding != "heat":
        shown = 0 <= plan.margin_days <= MOST_SPARE_DAYS  # a negative one is told by its dates
        odds.insert(0, Number("margin_days", plan.margin_days, "days", "days to spare", crop, shown))
    if longest is not None and longest < 250:
        label = "longest days to maturity that fits"
        odds.append(Number("longest_dtm", int(longest), "days", label, crop, shown=False))
    leading = ("sow", "set_out", "start_from", "first_pick", latest_name, f"{latest_name}_quick")
    first_dates = [n for n in dates if n.name in leading]
    return (*first_dates, *odds, *(n for n in dates if n not in first_dates))


def _job(case: Case) -> str:
    """ "sow indoors", "set out": the job without the crop's name."""
    return act(case.terms, case.method).replace(f" {case.name}", "", 1)


def _longest(case: Case, plan: Plan) -> int | None:
    """The most days to maturity that still are safe from this start; None for what is no matter of days."""
    if case.terms.rule or plan.binding == "heat":
        return None
    season = case.season
    yes = season.terms.general.yes_from
    return longest_maturity(
        season.terms, season.year, plan.method, plan.start, yes, cover=plan.cover, mat=season.mat,
        by=case.wanted_by,
    )  # fmt: skip


def _is_to_come(day: date | None, case: Case, slack_days: int = 0) -> bool:
    return day is not None and (day - case.today).days >= -slack_days


def _of_this_season(day: date | None, case: Case) -> bool:
    """A last start told only for the season asked about, not for next year's."""
    return day is not None and case.day <= day and (day - case.day).days < 200


def few(numbers: Sequence[Number], most: int = MOST_SHOWN) -> tuple[Number, ...]:
    """The same figures with no more than ``most`` of them shown, the first ones."""
    kept, shown = [], 0
    for n in numbers:
        shown += n.shown
        kept.append(n if shown <= most or not n.shown else n._replace(shown=False))
    return tuple(kept)


def plan_marks(case: Case, plan: Plan) -> tuple[Mark, ...]:
    """The points of the date line."""
    spring, _, autumn = frost_dates(case)
    told = case.terms.rule not in ("crown", "perennial")  # plants that stay for years have no first picking
    points = (
        ("today", case.today),
        ("last frost", spring if _is_to_come(spring, case, slack_days=DRAWN_BACK_DAYS) else None),
        ("set out", plan.set_out if plan.set_out != plan.start else None),
        ("first pick", plan.first_pick if told else None),
        ("first frost", autumn),
    )
    return tuple(Mark(label, on) for label, on in points if on is not None)


def plan_working(case: Case, plan: Plan) -> tuple[str, ...]:
    """The arithmetic behind a plan, line by line."""
    t = case.terms
    lines = [f"{act(t, plan.method).capitalize()} on {show_date(plan.start, case.today)} {case.site.where}."]
    if plan.up is not None:
        of = f" (table of {t.emergence_of})" if t.emergence_of not in ("", t.crop.id) else ""
        lines.append(f"Up about {show_date(plan.up, case.today)}{of}.")
    if plan.set_out is not None and plan.method == "indoors" and plan.age_weeks is not None:
        low, high = t.weeks_indoors
        lines.append(
            f"Set out {show_date(plan.set_out, case.today)}, {plan.age_weeks:.0f} weeks old "
            f"(good at {low:.0f} to {high:.0f})."
        )
    lines.append(
        f"{t.dtm:.0f} days to maturity, counted at {case.temp(t.reference_c)}, are "
        f"{t.dtm * t.reference_rate():.0f} degree-days C over {case.temp(t.base_c)} "
        f"(none above {case.temp(t.upper_c)}); this start needs {plan.degree_days:.0f}."
    )
    if plan.first_pick is not None:
        days = (plan.first_pick - (plan.set_out or plan.start)).days
        lines.append(f"The place's daily normals gather them in {days} days: {case.on(plan.first_pick)}.")
    if plan.end is not None:
        what = {"frost": f"first {case.temp(t.damage_c)} night", "cold": "growth stops in the cold"}
        lines.append(
            f"Season's end ({what.get(plan.binding, 'average autumn end')}): {case.on(plan.end)}, "
            f"give or take {plan.end_sd:.0f} days."
        )
    if plan.margin_days is not None and plan.margin_days < 300:
        lines.append(
            f"{t.wanted_days:.0f} days of picking wanted leave {plan.margin_days} days; maturity varies "
            f"by {t.general.maturity_spread * t.dtm:.0f} days: chance {100 * plan.chance:.0f}%."
        )
    if plan.heat_mean_c is not None and t.heat_c is not None:
        lines.append(
            f"It would ripen at a daily mean of {case.temp(plan.heat_mean_c)}; its limit is about "
            f"{case.temp(t.heat_c)}."
        )
    return tuple(lines)
