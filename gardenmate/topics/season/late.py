"""Is it too late? One start on one day, judged by its chance."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from gardenmate.core.answer import Number, Verdict, Window
from gardenmate.topics.season.by_windows import by_windows, just_closed
from gardenmate.topics.season.case import (
    OUTDOOR,
    Case,
    Finding,
    act,
    activity_words,
    an,
    assumed,
    best_open,
    days_word,
    done,
    percent,
)
from gardenmate.topics.season.changes import cover_gain, for_late, quick_crop, sensitivity
from gardenmate.topics.season.not_now import shade_wanted, soil_read_too_hot, too_hot
from gardenmate.topics.season.numbers import LONG_DAYS, plan_marks, plan_numbers, plan_working
from gardenmate.topics.season.plan import Plan, count_back, make_plan, season_windows
from gardenmate.topics.season.scan import SLOWEST, slowest_days
from gardenmate.topics.season.terms import OPEN_GROUND, Cover, Terms, ways_to_help

SOON_DAYS = 21
OVERGROWN_DAYS = 28
"""Plants kept indoors this much past their oldest good age are no use."""
TOO_LONG_DAYS = 200


def late(case: Case) -> Finding:
    """Whether a start on ``case.day`` still works. The headline of a yes opens "Not too late"."""
    windows = season_windows(case.terms, case.year, case.day)
    if case.terms.rule in ("crown", "perennial", "overwinter"):
        return by_windows(case, windows)
    plan = make_plan(
        case.terms, case.year, case.method, case.day, cover=case.cover, mat=case.mat, by=case.wanted_by
    )
    mine = [w for w in windows if w.activity in OUTDOOR[case.method]]
    if not windows:
        return no_season(case)
    if soil_read_too_hot(case):
        hot = too_hot(case, windows, next((w for w in mine if w.earliest > case.day), None))
        if hot is not None:
            return hot
    open_now = best_open(mine, case.day)
    soon = next((w for w in mine if case.day < w.earliest), None)
    verdict = verdict_of(case, plan)
    helped = ""
    if verdict == "no":
        # An early variety may do where a middling one will not; covers count where the window rests on them.
        ways = ways_to_help(case.terms, case.method)
        plan, helped = helped_by(case, plan, ways if open_now is not None else ways[:1])
        verdict = "tight" if helped else "no"
        if helped and case.terms.stands and open_now is not None and plan.cover is case.cover:
            verdict = verdict_of(case, plan)  # it is picked at any size, and waits in the ground
    between = open_now is None and verdict != "no" and out_of_season(case, plan)
    if between:
        verdict, helped = "no", ""
    closed = just_closed(case, OUTDOOR[case.method])
    if open_now is None and closed is None and soon is not None and _season_ahead(case, soon):
        hot = too_hot(case, windows, soon) if soon.activity.startswith("fall") else None
        return hot or _not_in_the_heat(case, _ahead(case, windows, soon), soon)
    headline = _between(case, soon) if between else _headline(case, plan, verdict, soon, helped)
    changes = () if verdict == "yes" else for_late(case, plan)
    if helped:
        case = as_told(case, plan)
    return Finding(
        case=case,
        verdict=verdict,
        headline=headline,
        numbers=_labelled(plan_numbers(case, plan), helped),
        details=_details(case, plan, verdict, open_now),
        changes=changes,
        chance=round(plan.chance, 2),
        windows=windows,
        marks=plan_marks(case, plan),
        assumptions=assumed(case),
        working=plan_working(case, plan),
        do=_do(case, plan, verdict, soon),
        pick="" if verdict == "no" or plan.first_pick is None else case.on(plan.first_pick),
        sources=case.terms.sources,
    )


def out_of_season(case: Case, plan: Plan) -> bool:
    """True outside every window for what would creep through the winter, or wait overgrown indoors for the
    spring: it may well live to be picked, but it is next season's crop begun at the wrong end of this one."""
    goes = plan.set_out or plan.start
    _, number = case.year.day_number(case.day)
    if number <= case.year.hottest or plan.first_pick is None:
        return False
    oldest = timedelta(days=7 * case.terms.weeks_indoors[1] + OVERGROWN_DAYS)
    if case.method == "indoors" and goes - case.day > oldest:
        return True
    return (plan.first_pick - goes).days > slowest_days(plan.terms, case.method, SLOWEST) + SOON_DAYS


def _between(case: Case, soon: Window | None) -> str:
    when = "now" if case.day == case.today else f"on {case.on(case.day)}"
    head = f"Too late to {act(case.terms, case.method)} {when} for this season, too early for the next."
    if soon is None:
        return head
    words = activity_words(case.terms, soon.activity)
    return f"{head} The next time to {words} is from {case.on(soon.best_from)}."


def as_told(case: Case, plan: Plan) -> Case:
    """The case with the variety and the cover its plan rests on, so that every figure is of that one plan."""
    middling = case.terms.dtm
    if plan.terms.dtm >= middling:
        return case._replace(cover=plan.cover)
    note = (
        f"An early variety of {case.name}, {plan.terms.dtm:.0f} days to maturity "
        f"(a middling one takes {middling:.0f})."
    )
    return case._replace(terms=plan.terms._replace(notes=(note,)), cover=plan.cover)


def _labelled(numbers: tuple[Number, ...], helped: str) -> tuple[Number, ...]:
    """The figures of a start that rests on help, its chance named so."""
    if not helped:
        return numbers
    return tuple(n._replace(label=f"chance {helped}") if n.name == "chance" else n for n in numbers)


def no_season(case: Case) -> Finding:
    """A crop this place has no season for, even from the best day: how far it would get, and what helps."""
    plan = make_plan(case.terms, case.year, case.method, case.day, cover=case.cover, mat=case.mat)
    goes = plan.set_out or plan.opens or plan.start
    grown = share_grown(case, plan)
    how_far = (
        ""
        if grown is None
        else f", with about {round(100 * grown)}% of the warmth it needs before {_what_ends(plan)}"
    )
    started = f"started in the open ground about {case.on(goes)}"
    return Finding(
        case=case,
        verdict="no",
        headline=f"No: {case.name} hardly ever ripen outdoors at {case.site.label}: {started} it is only "
        f"{percent(plan.chance)} likely{how_far}.",
        numbers=plan_numbers(case, plan),
        changes=tuple(cover_gain(case, plan) + quick_crop(case))
        or ("A greenhouse or a tall tunnel is what it takes.",),
        chance=round(plan.chance, 2),
        marks=plan_marks(case, plan),
        assumptions=assumed(case),
        working=plan_working(case, plan),
        do="-",
        sources=case.terms.sources,
    )


def share_grown(case: Case, plan: Plan) -> float | None:
    """Share of the warmth the crop needs that it gets before its season ends (0..1); None without an end."""
    if plan.end is None:
        return None
    goes = plan.set_out or plan.opens or plan.start
    origin = case.year.origin(goes)
    a, b = (goes - origin).days, (plan.end - origin).days
    total = case.terms.total(case.year, plan.cover)
    if not 0 <= a < b < len(total):
        return None
    return min(1.0, (total[b] - total[a]) / plan.degree_days)


def verdict_of(case: Case, plan: Plan) -> Verdict:
    """yes from 80%, tight from 50%, no below."""
    g = case.terms.general
    chance = round(plan.chance, 2)  # as it is shown
    if chance >= g.yes_from:
        return "yes"
    return "tight" if chance >= g.tight_from else "no"


def _season_ahead(case: Case, soon: Window) -> bool:
    """True when the window that opens next is this growing season's, so that there is time left."""
    origin, day = case.year.day_number(case.day)
    opens = (soon.earliest - origin).days
    return opens < case.year.hottest + 140 and (
        day < case.year.hottest or (soon.earliest - case.day).days <= SOON_DAYS
    )


def _ahead(case: Case, windows: tuple[Window, ...], soon: Window) -> Finding:
    """Its window opens later: nothing is too late yet."""
    wait = (soon.earliest - case.day).days
    plan = make_plan(case.terms, case.year, case.method, soon.best_from, cover=case.cover, mat=case.mat)
    words = activity_words(case.terms, soon.activity)
    verdict, only, helped = verdict_of(case, plan), "", ""
    if verdict == "no":
        ways = ways_to_help(case.terms, case.method)
        plan, only = helped_by(case._replace(day=soon.best_from), plan, ways)
        if only:
            case, helped = as_told(case, plan), only
        verdict, only = "tight", f", but only {only}" if only else ", but it hardly ever ripens here"
    headline = (
        f"Not too late for {case.name}: {words} {case.on(soon.best_from)} to {case.on(soon.best_to)} "
        f"(possible from {case.on(soon.earliest)}, in {days_word(wait)}){only}."
    )
    return Finding(
        case=case,
        verdict=verdict,
        headline=headline,
        numbers=_labelled(plan_numbers(case, plan), helped),
        details=() if plan.first_pick is None else (f"First picking then about {case.on(plan.first_pick)}.",),
        chance=round(plan.chance, 2),
        windows=windows,
        marks=plan_marks(case, plan),
        assumptions=assumed(case),
        working=plan_working(case, plan),
        do=f"{words} from {case.on(soon.best_from)}",
        pick="" if plan.first_pick is None else case.on(plan.first_pick),
        sources=case.terms.sources,
    )


def _not_in_the_heat(case: Case, found: Finding, soon: Window) -> Finding:
    """What is to be begun only weeks from now, past the warmest time, is not to be begun today: a no."""
    origin, _ = case.year.day_number(case.day)
    if (soon.earliest - case.day).days <= SOON_DAYS or (soon.best_from - origin).days < case.year.hottest:
        return found
    words = activity_words(case.terms, soon.activity)
    return found._replace(
        verdict="no",
        headline=f"Not now to {act(case.terms, case.method)}: it is past its spring time here. Next: {words} "
        f"{case.on(soon.best_from)} to {case.on(soon.best_to)} (possible from {case.on(soon.earliest)}).",
    )


def helped_by(case: Case, plan: Plan, ways: Sequence[tuple[Terms, Cover]]) -> tuple[Plan, str]:
    """The start by the first of these ways that is likelier than not to work, and that way in words."""
    if plan.binding == "heat":
        return plan, ""
    for variety, cover in ways:
        if variety is case.terms and cover is OPEN_GROUND:
            continue
        used = cover if cover is not OPEN_GROUND else case.cover
        tried = make_plan(
            variety, case.year, case.method, case.day, cover=used, mat=case.mat, by=case.wanted_by
        )
        if tried.chance >= case.terms.general.tight_from:
            under = "" if cover is OPEN_GROUND else f" under {cover.name}"
            return tried, f"with {an(variety.dtm)}-day variety{under}"
    return plan, ""


def _headline(case: Case, plan: Plan, verdict: Verdict, soon: Window | None, helped: str) -> str:
    what = act(case.terms, case.method)
    first = None if plan.first_pick is None else case.on(plan.first_pick)
    when = "now" if case.day == case.today else f"on {case.on(case.day)}"
    if verdict == "yes":
        out = ""
        if plan.set_out is not None and plan.method == "indoors":
            out = f"they can be set out about {case.on(plan.set_out)} and "
        margin = ""
        if plan.margin_days is not None and 0 <= plan.margin_days <= 60:
            margin = f", {days_word(plan.margin_days)} to spare"
        if plan.waits > 3 and plan.opens is not None and plan.method != "indoors":
            return (
                f"Not too late to {what}, rather early: better from {case.on(plan.opens)} "
                f"({days_word(plan.waits)}); first picking is then about {first}{margin}."
            )
        if helped:
            return (
                f"Not too late to {what} {when}: {helped} first picking is about {first}; slower kinds stay "
                "smaller, and stand in the ground."
            )
        return f"Not too late to {what} {when}: {out}first picking is about {first}{margin}."
    if verdict == "tight" and helped:
        return f"Not too late to {what} {when}, but tight: only {helped}, first picking then about {first}."
    if verdict == "tight":
        return (
            f"Not too late to {what} {when}, but tight: first picking about {first}, "
            f"{percent(plan.chance)} likely to beat {_what_ends(plan)}."
        )
    if first is None or plan.ready_in_days is None or plan.ready_in_days > TOO_LONG_DAYS:
        grown = share_grown(case, plan)
        part = "" if grown is None else f", only about {round(100 * grown)}% grown"
        end = "" if plan.end is None else f" about {case.on(plan.end)}"
        before = "its growth stops for the winter" if case.terms.stands else "it turns too cold"
        if plan.binding == "wanted":
            before, end = f"the day you want it for, {case.on(case.wanted_by)}" if case.wanted_by else "", ""
        why = f"it would not be ready before {before}{end}{part}"
    elif plan.binding == "heat":
        why = f"it would come ready about {first}, in heat it can't take"
    elif plan.margin_days is not None and plan.margin_days < 0:
        end = f"{_what_ends(plan)} about {case.on(plan.end)}" if plan.end else "the end"
        if plan.binding == "wanted" and case.wanted_by is not None:
            end = f"the day you want it for, {case.on(case.wanted_by)}"
        why = f"first picking would be about {first}, with {end}"
    else:
        why = f"first picking would be about {first}, {percent(plan.chance)} likely to be worth it"
    tail = ""
    if soon is not None and (soon.earliest - case.day).days < 300:
        words = activity_words(case.terms, soon.activity)
        tail = f" The next time to {words} is from {case.on(soon.best_from)}."
    return f"Too late to {what} {when}: {why}.{tail}"


def _what_ends(plan: Plan) -> str:
    if plan.terms.stands and plan.binding in ("frost", "cold"):
        return "the end of its growth"
    return {
        "frost": "the frost that kills it",
        "heat": "the heat",
        "cold": "the cold",
        "wanted": "the day you want it for",
    }.get(plan.binding, "the end of the season")


def _details(case: Case, plan: Plan, verdict: Verdict, open_now: Window | None) -> tuple[str, ...]:
    found: list[str] = []
    if case.terms.stands and plan.binding in ("frost", "cold") and verdict != "no":
        found.append(
            "Frost doesn't end it: what has grown keeps in the ground, and you pick it as you want it."
        )
    if plan.waits > 3 and plan.opens is not None and case.method != "indoors":
        found.append(
            f"Most growers begin about {case.on(plan.opens)}; before that frost or cold soil holds it back."
        )
    if open_now is not None and verdict != "no":
        past = open_now.best_to < case.day
        best = "its best part is past" if past else f"best by {case.on(open_now.best_to)}"
        found.append(f"The window runs to {case.on(open_now.latest)}; {best}.")
    if verdict != "no":
        _, number = case.year.day_number(case.day)
        found += shade_wanted(case, case.year.mean_c[number])
    moved = sensitivity(case, plan)
    if moved is not None:
        found.append(moved)
    differ = None if plan.binding in ("heat", "wanted") else _count_back_differs(case, plan, verdict)
    if differ is not None:
        found.append(differ)
    replayed = _replay(case, plan)
    if replayed:
        found.append(replayed)
    return tuple(found)


def _count_back_differs(case: Case, plan: Plan, verdict: Verdict) -> str | None:
    """Say so when the classic count-back and the thermal time disagree about today."""
    back = count_back(case.terms, case.year, case.method, case.year.origin(case.day))
    if plan.ready_in_days is not None and plan.ready_in_days > LONG_DAYS:
        return None  # it stands the winter: nothing is counted back from the first frost
    if back is None or (not case.terms.crop.warm and not case.terms.crop.autumn.possible):
        return None
    if verdict == "yes" and back < case.day - timedelta(days=7):
        return f"Counting back days from frost gives {case.on(back)} as the last date; your climate allows later."
    if verdict == "no" and back > case.day + timedelta(days=7):
        return (
            f"The classic count-back would allow it until {case.on(back)}; the warmth of this place does not "
            "ripen it in that time."
        )
    return None


def _replay(case: Case, plan: Plan) -> str | None:
    """Past years on record, when a station history is there."""
    if case.site.history is None or plan.binding == "heat":
        return None
    from gardenmate.topics.season.replay import replay, replay_words

    return replay_words(replay(plan, case.year, case.site.history), case.site.history.label)


def _do(case: Case, plan: Plan, verdict: Verdict, soon: Window | None) -> str:
    if verdict == "no":
        return (
            "-"
            if soon is None
            else f"{activity_words(case.terms, soon.activity)} from {case.on(soon.best_from)}"
        )
    if plan.set_out is not None and plan.method == "indoors":
        return f"sow now, set out {case.on(plan.set_out)}"
    words = done(case.terms, case.method)
    return {"sown": "sow now", "planted": "plant now"}.get(words, "set out now")
