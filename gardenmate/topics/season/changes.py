"""What would change an answer: another variety, bought plants, cover, a quick crop, the next window."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.science.frost_risk import chance_before
from gardenmate.topics.season.case import Case, act, days_word
from gardenmate.topics.season.plan import Plan
from gardenmate.topics.season.season import ACTIVITIES
from gardenmate.topics.season.terms import OPEN_GROUND, Terms, cover_named, terms_for, with_dtm

_SAME_SEASON_DAYS = 180
"""A sowing indoors further off is for another season, and no way to start this one sooner (design value)."""


def for_late(case: Case, plan: Plan, longest: int | None) -> tuple[str, ...]:
    """Ways to make a start that is tight or too late work after all, best first. ``longest``: the days to maturity
    that still are sure, where that is news."""
    found: list[str] = []
    quickest = case.season.quick().terms.dtm if not case.terms.variety_said else 0.0
    if longest is not None and quickest <= longest < case.terms.dtm:
        found.append(f"A variety of {longest} days or fewer would still fit.")
    found += _starts(case)
    found += _mat_gain(case)
    found += cover_gain(case, plan)
    if plan.chance < case.terms.general.tight_from:
        found += quick_crop(case)
    return tuple(found)


def _starts(case: Case) -> list[str]:
    """The last date for bought plants, when the question was about seed."""
    if case.method == "setout" or not case.terms.can_raise or case.wanted_by is not None:
        return []
    last = case.season.latest("setout", case.day)
    if last is None or last < case.day:
        return []
    open_now = [
        w for w in case.season.windows(case.day)
        if w.activity in ACTIVITIES["setout"] and w.earliest <= case.day + timedelta(days=60)
    ]  # fmt: skip
    if not open_now:
        return []
    return [f"Bought plants can go out until about {case.on(last)}."]


def _mat_gain(case: Case) -> list[str]:
    """The days a mat saves at emergence, for seed sown indoors without one."""
    if case.method != "indoors" or case.mat:
        return []
    g = case.terms.general
    warm, room = case.terms.emergence_days(g.mat_soil_c), case.terms.emergence_days(g.room_soil_c)
    if warm is None or room is None or room - warm < 2.0:
        return []
    return [f"A heat mat brings the seedlings up about {days_word(round(room - warm))} sooner."]


def cover_gain(case: Case, plan: Plan) -> list[str]:
    """The days a low tunnel buys in autumn, when frost or cold is what binds."""
    if plan.binding not in ("frost", "cold") or case.cover is not OPEN_GROUND:
        return []
    tunnel = cover_named(case.facts, "tunnel")
    covered = case._replace(cover=tunnel).season.plan(case.method, case.day)
    if covered.first_pick is None:
        return []
    if covered.chance < plan.chance + 0.05:
        return []
    word = f"{round(100 * covered.chance)}%"
    if plan.margin_days is None or covered.margin_days is None:
        return [f"Under a low tunnel the chance of a crop is about {word}."]
    won = covered.margin_days - plan.margin_days
    return [
        f"A low tunnel gains about {days_word(max(won, 1))} and raises the chance of a crop to about {word}."
    ]


def quick_crop(case: Case) -> list[str]:
    """A quick crop that can be sown outdoors on the day instead and is very likely to come ready."""
    best: tuple[int, Terms, date] | None = None
    for crop_id in case.facts.examples("quick"):
        if crop_id == case.terms.crop.id or crop_id not in case.facts.crop_ids:
            continue
        terms = terms_for(case.facts.crop(crop_id), case.facts)
        plan = case.season.with_variety(terms)._replace(cover=OPEN_GROUND).plan("outdoors", case.day)
        if plan.waits > 0 or plan.chance < terms.general.yes_from or plan.first_pick is None:
            continue
        same = 0 if terms.crop.warm == case.terms.crop.warm else 1
        if best is None or same < best[0]:
            best = (same, terms, plan.first_pick)
    if best is None:
        return []
    _, terms, pick = best
    return [f"A quick crop instead: {act(terms, 'outdoors')} now and pick about {case.on(pick)}."]


def for_early(case: Case, opens: date | None, activity: str) -> tuple[str, ...]:
    """What lets an early start go ahead sooner: cover, warm soil, raising indoors."""
    if case.method == "indoors" or opens is None or activity.startswith("fall"):
        return ()
    found: list[str] = []
    for gear in ("tunnel", "fleece"):
        if not case.terms.crop.warm and gear == "tunnel" and case.terms.damage_c < -4.0:
            continue
        cover = cover_named(case.facts, gear)
        sooner = case._replace(cover=cover).season.plan(case.method, case.day)
        if sooner.opens is not None and sooner.opens < opens - timedelta(days=2):
            gained = (opens - max(sooner.opens, case.day)).days
            found.append(f"Under {cover.name} you can start about {days_word(gained)} sooner.")
            break
    if case.terms.can_raise:
        indoor = [
            w for w in case.season.windows(case.day) if w.activity == "sow-indoors"
        ]  # fmt: skip
        if indoor and indoor[0].earliest <= case.day:
            best, last = indoor[0].best_from, case.on(indoor[0].latest)
            start = f"from {case.on(best)}" if best > case.day else "now"
            found.append(f"Sow indoors {start}, {last} at the latest.")
        elif indoor and (indoor[0].earliest - case.day).days < _SAME_SEASON_DAYS:
            found.append(f"Sow indoors from {case.on(indoor[0].best_from)}.")
    return tuple(found)


def sensitivity(case: Case, plan: Plan) -> str | None:
    """The one assumption that moves the chance most, in words; None when nothing moves it much."""
    if plan.first_pick is None or plan.binding == "heat" or plan.terms.dtm != case.terms.dtm:
        return None
    trials: list[tuple[float, str]] = []
    days = case.terms.crop.maturity.days
    early, late = days.early, days.late
    for dtm, label in ((early, "an early"), (late, "a late")):
        if dtm is not None and dtm != case.terms.dtm and abs(dtm - case.terms.dtm) <= 25:
            moved = case.season.with_variety(with_dtm(case.terms, dtm)).plan(case.method, case.day)
            trials.append((moved.chance, f"{label} variety ({dtm:.0f} days) has a chance of {{}}"))
    if plan.end is not None and plan.end_sd > 0 and plan.binding == "frost":
        for shift, label in (
            (-14, "if frost comes two weeks early, the chance is {}"),
            (14, "if frost comes two weeks late, the chance is {}"),
        ):
            trials.append((_with_end(case, plan, shift), label))
    if not trials:
        return None
    chance, label = max(trials, key=lambda t: abs(t[0] - plan.chance))
    if abs(chance - plan.chance) < 0.1:
        return None
    return f"What matters most: {label.format(f'about {round(100 * chance)}%')}."


def _with_end(case: Case, plan: Plan, shift: int) -> float:
    assert plan.first_pick is not None
    assert plan.end is not None
    t = case.terms
    ready = float((plan.first_pick - plan.start).days) + t.wanted_days
    end = float((plan.end - plan.start).days) + shift
    # A known date: only maturity stays uncertain.
    return chance_before(ready, t.general.maturity_spread * t.dtm, end, 1.0)
