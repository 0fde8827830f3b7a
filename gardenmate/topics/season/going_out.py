"""The plants go out on a day told: when their seed is started, by the age of a good transplant."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Mark, Number, Verdict, Window
from gardenmate.topics.season.case import Case, Reply, act, assumed, days_word

LATE_DAYS, TOO_LATE_DAYS = 7, 14
"""Sown so much late the plants are a little small on the day; later they are not worth setting out then."""


def for_going_out(case: Case, out: date, topic: str) -> Reply:
    """When to sow indoors for plants that are set out on ``out``; the verdict is on sowing today."""
    case = case._replace(method="indoors", method_said=True, day=case.today)
    low, high = case.terms.weeks_indoors
    first, last = out - timedelta(days=round(7 * high)), out - timedelta(days=round(7 * low))
    on, today, name = case.on, case.today, case.name
    verdict: Verdict | None
    counted = f"{low:.0f} to {high:.0f} weeks before {on(out)}"
    span = f"{on(first)} to {on(last)}"
    if today < first:
        verdict = {"late-start": "yes", "early-start": "no"}.get(topic)  # type: ignore[assignment]
        lead = {"late-start": "Not too late: ", "early-start": "Too early now: "}.get(topic, "")
        head = f"{lead}sow {name} indoors {span}, {counted}"
    elif today <= last:
        verdict, lead = "yes", {"early-start": "Not too early: "}.get(topic, "Not too late: ")
        head = f"{lead if topic != 'when-start' else ''}sow {name} indoors now to {on(last)}, {counted}"
    else:
        weeks = (out - today).days / 7.0
        late = (today - last).days
        verdict = "yes" if late <= LATE_DAYS else "tight" if late <= TOO_LATE_DAYS else "no"
        later = on(today + timedelta(days=round(7 * low)))
        lead = {
            "yes": f"Sow {name} indoors at once, a little late",
            "tight": f"Rather late to sow {name} indoors",
        }.get(verdict, f"Too late to sow {name} indoors")
        head = (
            f"{lead} for {on(out)}: best was {span}; sown now they are {weeks:.0f} weeks old "
            f"then, and ready to go out about {later}"
        )
        if topic == "late-start" and verdict != "no":
            head = f"Not too late: {head[0].lower()}{head[1:]}"
    found, window = _fit(case, out)
    if found:
        verdict = "no" if verdict is not None and window is None else verdict
        head = f"{head}. {found}"
    plan = case.season.plan("setout", out, wait=False)
    crop = case.terms.base
    numbers = [
        Number("sow", first, "date", "sow indoors from", crop),
        Number("latest_sow", last, "date", "sow indoors until", crop),
        Number("set_out", out, "date", "set out", crop),
    ]
    if plan.first_pick is not None:
        numbers.append(Number("first_pick", plan.first_pick, "date", "first picking then", crop))
    return Reply(
        case=case,
        told=True,
        verdict=verdict,
        headline=f"{head[:1].upper()}{head[1:]}.",
        numbers=tuple(numbers),
        changes=("Bought plants can go out that day too.",) if today > last else (),
        windows=case.season.windows(today),
        marks=tuple(
            Mark(label, day)
            for label, day in (
                ("today", today),
                ("sow", first),
                ("set out", out),
                ("first pick", plan.first_pick),
            )
            if day is not None
        ),
        assumptions=assumed(case, variety=False),
        working=(f"A good transplant is {low:.0f} to {high:.0f} weeks old: {on(out)} less that is {span}.",),
        do=f"sow indoors {span}",
        pick="" if plan.first_pick is None else on(plan.first_pick),
        sources=case.terms.sources,
    )


def _fit(case: Case, out: date) -> tuple[str, Window | None]:
    """What is wrong with that day for setting out, "" when nothing is; and the window it is in."""
    windows = case.season.of("setout", min(out, case.today))
    inside = next((w for w in windows if w.earliest <= out <= w.latest), None)
    what, on = act(case.terms, "setout"), case.on
    if inside is not None:
        early = (inside.best_from - out).days
        if early > 0:
            return f"{on(out)} is early to {what}: most growers begin {on(inside.best_from)}", inside
        return "", inside
    ahead = next((w for w in windows if w.earliest > out), None)
    if ahead is not None and (ahead.earliest - out).days <= 120:
        off = days_word((ahead.earliest - out).days)
        return (
            f"But {on(out)} is too early to {what} here by {off}: set out from {on(ahead.best_from)}, "
            "and sow as much later",
            None,
        )
    return f"But {on(out)} is too late to {what} here", None
