"""The sentences of a decided start: nothing is decided here, and every date and chance is the finding's own."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import timedelta

from gardenmate.core.answer import Mark, Number, Table, Window
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.season.case import (
    Case,
    Reply,
    act,
    activity_words,
    an,
    assumed,
    days_word,
    done,
    percent,
)
from gardenmate.topics.season.changes import cover_gain, for_early, for_late, quick_crop, sensitivity
from gardenmate.topics.season.decide import Finding, Read, Why, heat_limit_c, soil_hot
from gardenmate.topics.season.numbers import LONG_DAYS, after_picking, plan_marks, plan_numbers, plan_working
from gardenmate.topics.season.plan import Plan, count_back
from gardenmate.topics.season.replay import replay, replay_words, strip
from gardenmate.topics.season.scan import HOT_SOIL_UNDER_C, hottest_soil_c
from gardenmate.topics.season.site_year import YEAR
from gardenmate.topics.season.terms import OPEN_GROUND

TOLD_BACK_DAYS = 60
"""When most growers begin is told for so many days after."""
NEAR_HEAT_C = 3.0
"""A cool crop is told to be shaded from this much under the mean it stands."""
TOO_LONG_DAYS = 200  # days: no picking further off is told; design value
NEARLY_GROWN = 0.95
"""From this share of the warmth it needs a crop is called full-grown, not so many percent (design value)."""
FROST_TOLD_FROM = 0.1
"""A frost at least this likely is told where it is no reason to wait (design value)."""


def reply(case: Case, found: Finding, *, asked_early: bool = False) -> Reply:
    """The finding in words. ``asked_early``: the question was whether it is too early."""
    case = told_of(case, found)
    return _early(case, found) if found.of_spring else _late(case, found, asked_early=asked_early)


def told_of(case: Case, found: Finding) -> Case:
    """The case with the variety and the cover the finding rests on, so that every figure is of that one season."""
    middling, mine = case.terms.dtm, found.season.terms.dtm
    case = case.resting_on(found.season)
    if mine >= middling:
        return case
    note = f"An early variety of {case.name}, {mine:.0f} days to maturity (a mid-season one takes {middling:.0f})."
    return case._replace(terms=case.terms._replace(notes=(note,)))


def only_with(found: Finding) -> str:
    """ "with a 60-day variety under low tunnel": what the verdict takes; "" where a middling variety will do."""
    if found.why not in (Why.VARIETY, Why.COVER):
        return ""
    cover = found.season.cover
    under = "" if cover is OPEN_GROUND else f" under {cover.name}"
    return f"with {an(found.season.terms.dtm)}-day variety{under}"


def _when(case: Case) -> str:
    return "now" if case.day == case.today else f"on {case.on(case.day)}"


# -- too late? -----------------------------------------------------------------------------------------------


def _late(case: Case, found: Finding, *, asked_early: bool) -> Reply:
    head = _LATE[found.why](case, found)
    if asked_early and found.verdict != "no" and found.standing.open is not None:
        head = _late_rather_than_early(head)
    plan = found.plan
    return Reply(
        case=case,
        verdict=found.verdict,
        headline=head,
        numbers=_late_numbers(case, found),
        details=_late_details(case, found),
        table=None if plan is None else _past_years(case, plan),
        changes=_late_changes(case, found),
        chance=found.chance,
        windows=found.windows,
        marks=plan_marks(case, plan) if plan is not None else _window_marks(case, found),
        assumptions=assumed(case, variety=plan is not None),
        working=plan_working(case, plan) if plan is not None else _window_lines(case, found),
        do=_do(case, found),
        pick=_pick(case, found),
        sources=case.terms.sources,
    )


def _late_rather_than_early(head: str) -> str:
    """The answer to "too late?" as one to "too early?"."""
    words = head.replace("Not too late to ", "No longer early, but you can still ", 1)
    return words.replace(", but not the best time:", ":", 1).replace(
        ", but tight:", ", though it is tight:", 1
    )


def _fits(case: Case, found: Finding) -> str:
    plan, what, when = found.plan, act(case.terms, case.method, case.cover), _when(case)
    if plan is None:
        return f"Not too late to {what}: {_best_of(case, found)}."
    first = "" if plan.first_pick is None else case.on(plan.first_pick)
    spare = plan.margin_days
    margin = (
        f", {days_word(spare)} to spare{after_picking(plan)}"
        if spare is not None and 0 <= spare <= 60
        else ""
    )
    if plan.waits > 3 and plan.opens is not None and plan.method != "indoors":
        return (
            f"Not too late to {what}; it is still early: better from {case.on(plan.opens)} "
            f"(in {days_word(plan.waits)}), with the first picking about {first}{margin}."
        )
    out = ""
    if plan.set_out is not None and plan.method == "indoors":
        out = f"they can be set out about {case.on(plan.set_out)} and "
    return f"Not too late to {what} {when}: {out}first picking is about {first}{margin}.{_shade_it(case)}"


def _shade_it(case: Case) -> str:
    """What a cool crop begun in heat over its own wants, in one sentence; "" for any other."""
    heat, terms = case.terms.heat_c, case.terms
    _, number = case.year.day_number(case.day)
    if heat is None or terms.crop.warm or case.method == "indoors" or case.year.felt_c[number % YEAR] <= heat:
        return ""
    how = (
        "shade the row and sow in the evening"
        if case.method == "outdoors"
        else "plant in the evening and shade them"
    )
    more = f"more than {case.plants.they} {case.plants.does('like')}"
    return f" Days average {case.temp(_warmth(case)[0])}, {more}: {how}."


def _tight(case: Case, found: Finding) -> str:
    what, plan = act(case.terms, case.method, case.cover), found.plan
    if plan is None:
        return f"Not too late to {what}, but not the best time: {_best_of(case, found)}."
    first = "" if plan.first_pick is None else case.on(plan.first_pick)
    return (
        f"Not too late to {what} {_when(case)}, but tight: first picking about {first}, "
        f"{percent(plan.chance)} likely to be ready before {what_ends(plan)}.{_longest(found)}"
    )


def _longest(found: Finding) -> str:
    """Which days to maturity are still sure, where the verdict turns on the variety."""
    days = fits_still(found)
    return "" if days is None else f" A variety of {days} days or fewer is still safe."


def fits_still(found: Finding) -> int | None:
    """The days to maturity that are still sure, where varieties as quick as that are grown; else None."""
    longest, days = found.longest, found.season.terms.crop.maturity.days
    quickest = days.early if days.early is not None else days.mid
    return longest if longest is not None and longest >= 0.85 * quickest else None


def _best_of(case: Case, found: Finding) -> str:
    window = found.window
    assert window is not None
    best = f"best {case.between(window.best_from, window.best_to)}"
    return f"{best}, {case.on(window.latest)} at the latest"


def _by_variety(case: Case, found: Finding) -> str:
    plan, spread = found.plan, found.spread
    assert plan is not None
    first = "" if plan.first_pick is None else case.on(plan.first_pick)
    what, only = act(case.terms, case.method, case.cover), only_with(found)
    if found.verdict == "yes":
        return (
            f"Not too late to {what} {_when(case)}: {only} first picking is about {first}; slower kinds stay "
            "smaller but keep in the ground."
        )
    head = f"Not too late to {what} {_when(case)}, but tight: only {only} (first picking about {first})."
    if spread is None:
        return head
    usual = f"a usual {spread.usual_days:.0f}-day one is {percent(spread.usual_chance)} likely to make it"
    return f"{head}{_longest(found)} {usual[0].upper()}{usual[1:]}."


def _by_cover(case: Case, found: Finding) -> str:
    plan, window, only = found.plan, found.window, only_with(found)
    assert plan is not None
    assert window is not None
    first = "" if plan.first_pick is None else f" (first picking about {case.on(plan.first_pick)})"
    if window.earliest > case.day:
        return f"{_coming(case, window)}, but only {only}."
    return f"Not too late to {act(case.terms, case.method, case.cover)} {_when(case)}, but tight: only {only}{first}."


def _coming(case: Case, soon: Window) -> str:
    words, wait = activity_words(case.terms, soon.activity), (soon.earliest - case.day).days
    return (
        f"Not too late for {case.name}: {words} {case.between(soon.best_from, soon.best_to)} "
        f"(possible from {case.on(soon.earliest)}, in {days_word(wait)})"
    )


def _ahead(case: Case, found: Finding) -> str:
    soon = found.window
    assert soon is not None
    if found.plan is None:
        words = activity_words(case.terms, soon.activity)
        return f"Not too late for {case.name}: {words} {case.between(soon.best_from, soon.best_to)}."
    return f"{_coming(case, soon)}."


def _variety(case: Case, found: Finding) -> str:
    window = found.window
    if window is not None and window.earliest > case.day:
        return f"{_coming(case, window)}, but only {only_with(found)}.{_longest(found)}"
    return _by_variety(case, found)


def _after_heat(case: Case, found: Finding) -> str:
    soon = found.window
    assert soon is not None
    return (
        f"Not now: it is past the spring time to {act(case.terms, case.method, case.cover)} here. Next, "
        f"{activity_words(case.terms, soon.activity)} {case.between(soon.best_from, soon.best_to)} "
        f"(possible from {case.on(soon.earliest)})."
    )


def _hot(case: Case, found: Finding) -> str:
    _, day = case.year.day_number(case.day)
    mean, soil = case.year.mean_c[day % YEAR], case.year.soil_c[day % YEAR]
    limit, most = heat_limit_c(case.terms, case.method), hottest_soil_c(case.terms, case.method)
    if case.soil_said_c is not None and case.soil_said_c > most:
        why = f"your soil is at {case.temp(case.soil_said_c)}, and above {case.temp(most)} little of the seed comes up"
    elif limit is not None and case.year.felt_c[day % YEAR] > limit:
        hot = " with hot afternoons" if case.year.felt_c[day % YEAR] > mean + 0.5 else ""
        they, fail = case.plants.they, case.plants.does("struggle")
        why = f"days average {case.temp(mean)}{hot}, and {they} {fail} above about {case.temp(limit)}"
    else:
        why = f"the soil is about {case.temp(soil)}, and above {case.temp(most)} little of the seed comes up"
    after, soon = "", found.window
    if soon is not None:
        words = activity_words(case.terms, soon.activity)
        after = f" The next good time to {words} is {case.between(soon.best_from, soon.best_to)}."
    return f"No, it is too hot to {act(case.terms, case.method, case.cover)} {_when(case)}: {why}.{after}"


def _in_hot_soil(case: Case, found: Finding) -> str:
    plan, window = found.plan, found.window
    assert plan is not None
    assert window is not None
    first = "" if plan.first_pick is None else f" First picking is about {case.on(plan.first_pick)}."
    better = f" Better from {case.on(window.best_from)}." if window.best_from > case.day else ""
    return (
        f"Not too late to {act(case.terms, case.method, case.cover)} {_when(case)}, but it is hot for the seed: "
        f"{_hot_for_seed(case)}. Sow in the evening, shade the row and keep it moist.{better}{first}"
    )


def _hot_for_seed(case: Case) -> str:
    """ "the soil is about 77 F, and over about 75 F little of it comes up"."""
    most = hottest_soil_c(case.terms, case.method) - HOT_SOIL_UNDER_C
    return f"the soil is about {case.temp(_warmth(case)[1])}, and over about {case.temp(most)} little of it comes up"


def _too_late(case: Case, found: Finding) -> str:
    plan, soon = found.plan, found.standing.coming
    assert plan is not None
    why = _why_late(case, plan)
    tail = ""
    if soon is not None and (soon.earliest - case.day).days < 300:
        tail = f" The next time to {activity_words(case.terms, soon.activity)} is from {case.on(soon.best_from)}."
    return f"Too late to {act(case.terms, case.method, case.cover)} {_when(case)}: {why}.{tail}"


def _why_late(case: Case, plan: Plan) -> str:
    first = None if plan.first_pick is None else case.on(plan.first_pick)
    wanted = "" if case.wanted_by is None else f"the day you want it for, {case.on(case.wanted_by)}"
    they = case.plants.they
    if first is None or plan.ready_in_days is None or plan.ready_in_days > TOO_LONG_DAYS:
        grown = share_grown(case, plan)
        before = "growth stops for the winter" if case.terms.stands else "it turns too cold"
        end = before if plan.end is None else f"{before} about {case.on(plan.end)}"
        if wanted or grown is None:
            return (
                f"{they} would not be ready by {wanted}"
                if wanted
                else f"{they} would not be ready before {end}"
            )
        return f"{they} would be {how_far_grown(grown)} when {end}"
    if plan.binding == "heat":
        return f"{they} would be ready about {first}, in heat {they} can't take"
    if plan.margin_days is not None and plan.margin_days < 0:
        if wanted:
            return f"first picking would be about {first}, too late for {wanted}"
        end = f", and {what_ends(plan)} about {case.on(plan.end)}" if plan.end else ""
        return f"first picking would be about {first}{end}"
    return f"first picking would be about {first}, {percent(plan.chance)} likely to be worth it"


def how_far_grown(share: float) -> str:
    """How far a crop is when its season ends, in words; ``share`` 0 to 1 of the warmth it needs."""
    return "only just full-grown" if share >= NEARLY_GROWN else f"only about {round(100 * share)}% grown"


def _between(case: Case, found: Finding) -> str:
    soon, what = found.standing.coming, act(case.terms, case.method, case.cover)
    head = f"Too late to {what} {_when(case)} for this season, too early for the next."
    if soon is None:
        return head
    return f"{head} The next time to {activity_words(case.terms, soon.activity)} is from {case.on(soon.best_from)}."


def _no_season(case: Case, found: Finding) -> str:
    plan = found.plan
    assert plan is not None
    goes, grown = plan.set_out or plan.opens or plan.start, share_grown(case, plan)
    how_far, they = "", case.plants.they
    if grown is not None:
        how_far = f", with about {round(100 * grown)}% of the warmth {they} {case.plants.does('need')}"
    return (
        f"No: {case.name} seldom {case.plants.does('ripen')} outdoors {case.site.where}. Started in the open about "
        f"{case.on(goes)}, the chance is {percent(plan.chance)}{how_far}."
    )


def _second_best(case: Case, found: Finding) -> str:
    autumn, ready = found.window, found.ready
    assert ready is not None
    better = "Autumn is the better time"
    if autumn is not None:
        better = f"{better}: {case.between(autumn.best_from, autumn.best_to)}"
    return (
        f"You can {act(case.terms, case.method, case.cover)} as soon as you can work the soil, but expect smaller "
        f"bulbs, or single undivided ones, about {case.on(ready)}. {better}."
    )


def _closed(case: Case, found: Finding) -> str:
    closed, soon = found.standing.closed, found.window
    gone = " this season"
    if closed is not None:
        gone = f": the last good date was {days_word((case.day - closed.latest).days)} ago"
    after = "" if soon is None else f" The next time is {case.between(soon.best_from, soon.best_to)}."
    return f"Too late to {act(case.terms, case.method, case.cover)}{gone}.{after}"


_LATE: Mapping[Why, Callable[[Case, Finding], str]] = {
    Why.FITS: _fits,
    Why.TIGHT: _tight,
    Why.VARIETY: _variety,
    Why.COVER: _by_cover,
    Why.AHEAD: _ahead,
    Why.AFTER_HEAT: _after_heat,
    Why.HOT: _hot,
    Why.HOT_SOIL: _in_hot_soil,
    Why.TOO_LATE: _too_late,
    Why.BETWEEN: _between,
    Why.NO_SEASON: _no_season,
    Why.SECOND_BEST: _second_best,
    Why.CLOSED: _closed,
}


def what_ends(plan: Plan) -> str:
    """What the crop has to be ready before, as a clause."""
    if plan.terms.stands and plan.binding in ("frost", "cold"):
        return "growth stops for the winter"
    return {
        "frost": "a killing frost comes",
        "heat": "it turns too hot",
        "cold": "it turns too cold",
        "wanted": "the day you want it",
    }.get(plan.binding, "the season ends")


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


def _late_numbers(case: Case, found: Finding) -> tuple[Number, ...]:
    crop, plan = case.terms.base, found.plan
    if found.why is Why.HOT:
        soon = found.window
        next_ = (
            () if soon is None else (Number("start_from", soon.best_from, "date", "next good start", crop),)
        )
        return (*_temperatures("daily_mean", "normal daily mean", _warmth(case)[0], case), *next_)
    if plan is None:
        return (
            () if found.ready is None else (Number("first_pick", found.ready, "date", "first picking", crop),)
        )
    numbers = plan_numbers(case, plan)
    untold = ("chance", "start_from") if found.verdict == "no" else ("chance",)
    numbers = tuple(n for n in numbers if n.name not in untold)
    if found.chance is not None:
        mixed = found.why is Why.VARIETY and found.verdict == "tight"
        label = "chance, early to mid-season varieties" if mixed else "chance"
        numbers = (Number("chance", round(100 * found.chance), "%", label, crop), *numbers)
    longest = ()
    if found.longest is not None and found.verdict != "no":
        longest = (Number("longest_dtm", found.longest, "days", "days to maturity still safe", crop),)  # type: ignore[assignment]
    numbers = (*longest, *(n for n in numbers if n.name != "longest_dtm"))
    spread = found.spread
    if spread is None or found.why is Why.TIGHT:
        return numbers
    quick = "chance_early" if found.why is Why.VARIETY else "chance_covered"
    odds = tuple(
        Number(name, round(100 * chance), "%", f"chance of a {days:.0f}-day variety", crop)
        for name, days, chance in (
            (quick, spread.early_days, spread.early_chance),
            ("chance_usual", spread.usual_days, spread.usual_chance),
        )
    )
    return (*numbers, *odds)


def _late_details(case: Case, found: Finding) -> tuple[str, ...]:
    plan = found.plan
    if found.why is Why.SECOND_BEST:
        note = worded(case.terms.crop.growth.heat_or_bolting_note, Manner(case.units))
        return (note,) if note else ()
    if plan is None:
        note = worded(
            case.terms.crop.autumn.note or case.terms.crop.maturity.harvest_note, Manner(case.units)
        )
        return (note,) if note and found.why is not Why.HOT else ()
    if found.why is Why.NO_SEASON:
        return ()
    if found.window is not None and found.window.earliest > case.day and found.verdict != "no":
        first = plan.first_pick
        return () if first is None else (f"First picking then about {case.on(first)}.",)
    return tuple(line for line in _of_the_plan(case, found, plan) if line)


def _of_the_plan(case: Case, found: Finding, plan: Plan) -> list[str]:
    lines: list[str] = []
    now, possible = found.standing.open, found.verdict != "no"
    if case.terms.stands and plan.binding in ("frost", "cold") and possible:
        lines.append(
            "Frost doesn't end it: what has grown keeps in the ground, and you pick it as you want it."
        )
    if plan.waits > 3 and plan.opens is not None and case.method != "indoors" and possible:
        opens = case.on(plan.opens)
        lines.append(f"Most growers begin about {opens}; before that frost or cold soil holds it back.")
    if now is not None and possible:
        lines.append(_runs_to(case, now))
    if possible:
        lines += shade_wanted(case, _warmth(case)[0])
    lines.append(sensitivity(case, plan) or "")
    if plan.binding not in ("heat", "wanted"):
        lines.append(_count_back_differs(case, found, plan) or "")
    lines.append(_replay(case, plan) or "")
    return lines


def _runs_to(case: Case, now: Window) -> str:
    """How long the window runs, with the days of it that are tight marked."""
    past = now.best_to < case.day
    best = "its best part is past" if past else f"best by {case.on(now.best_to)}"
    tight = ""
    if now.sure_to is not None and case.day <= now.sure_to < now.latest:
        tight = f", tight after {case.on(now.sure_to)}"
    return f"The window runs to {case.on(now.latest)}{tight}; {best}."


def _count_back_differs(case: Case, found: Finding, plan: Plan) -> str | None:
    """Say so when the classic count-back and the thermal time disagree about today."""
    back = count_back(case.terms, case.year, case.method, case.year.origin(case.day))
    if plan.ready_in_days is not None and plan.ready_in_days > LONG_DAYS:
        return None  # it stands the winter: nothing is counted back from the first frost
    if back is None or (not case.terms.crop.warm and not case.terms.crop.autumn.possible):
        return None
    if found.verdict == "yes" and back < case.day - timedelta(days=7):
        return (
            f"Counting back days from frost gives {case.on(back)} as the last date; your climate "
            "allows later."
        )
    if found.verdict == "no" and back > case.day + timedelta(days=7):
        return (
            f"Counting back days from frost would allow until {case.on(back)}, but it isn't warm enough here to "
            "ripen a crop in that time."
        )
    return None


def _replay(case: Case, plan: Plan) -> str | None:
    """Past years on record, when a station history is there."""
    if case.site.history is None or plan.binding == "heat":
        return None
    return replay_words(replay(plan, case.year, case.site.history), case.site.history.label)


def _past_years(case: Case, plan: Plan) -> Table | None:
    """The years on record, a sign each."""
    if case.site.history is None or plan.binding == "heat":
        return None
    return strip(replay(plan, case.year, case.site.history))


def _late_changes(case: Case, found: Finding) -> tuple[str, ...]:
    plan = found.plan
    if found.why is Why.HOT:
        return ("Shade, evening sowing and steady water help only in the last weeks before that.",)
    if found.verdict == "yes" or plan is None:
        return ()
    if found.why is Why.NO_SEASON:
        ways = tuple(cover_gain(case, plan) + quick_crop(case))
        return ways or ("A greenhouse or a tall tunnel is what it takes.",)
    if found.window is not None and found.window.earliest > case.day and found.verdict == "tight":
        return ()
    return for_late(case, plan, None if found.why is Why.VARIETY else fits_still(found))


def _do(case: Case, found: Finding) -> str:
    plan, soon = found.plan, found.standing.coming
    if found.why is Why.SECOND_BEST:
        return "plant now, for smaller bulbs"
    if found.verdict == "no" or (found.window is not None and found.window.earliest > case.day):
        window = found.window or soon
        if window is None or found.why is Why.NO_SEASON:
            return "-"
        return f"{activity_words(case.terms, window.activity)} from {case.on(window.best_from)}"
    if plan is None:
        return act(case.terms, case.method, case.cover)
    if plan.set_out is not None and plan.method == "indoors":
        return f"sow now, set out {case.on(plan.set_out)}"
    words = done(case.terms, case.method)
    return {"sown": "sow now", "planted": "plant now"}.get(words, "set out now")


def _pick(case: Case, found: Finding) -> str:
    if found.ready is not None:
        return case.on(found.ready)
    first = None if found.plan is None else found.plan.first_pick
    return "" if found.verdict == "no" or first is None else case.on(first)


def _window_marks(case: Case, found: Finding) -> tuple[Mark, ...]:
    window = found.window
    if window is None:
        return ()
    return (Mark("today", case.today), Mark("from", window.best_from), Mark("to", window.best_to))


def _window_lines(case: Case, found: Finding) -> tuple[str, ...]:
    lines = [
        f"{activity_words(case.terms, w.activity)}: {case.on(w.earliest)}, best {case.on(w.best_from)} to "
        f"{case.on(w.best_to)}, latest {case.on(w.latest)}."
        for w in found.windows
    ]
    mean, soil = _warmth(case)
    if found.ready is not None:
        lines.append(f"About {(found.ready - case.day).days} days from a spring planting.")
    return (*lines, f"Normal daily mean {case.temp(mean)}, soil {case.temp(soil)} on {case.on(case.day)}.")


# -- too early? ----------------------------------------------------------------------------------------------


def _early(case: Case, found: Finding) -> Reply:
    plan, window = found.plan, found.window
    assert plan is not None
    assert window is not None
    mean, soil = _warmth(case)
    crop, no = case.terms.base, found.verdict == "no"
    kept = ("first_pick", "last_frost", "last_frost_90", "set_out")
    frost = ()
    if found.frost is not None:
        label = "chance of a frost that hurts it"
        frost = (Number("frost_chance", round(100 * found.frost), "%", label, crop),)  # type: ignore[assignment]
    warmth = () if case.method == "indoors" else (
        *_temperatures("soil", "normal soil temperature", soil, case),
        *_temperatures("daily_mean", "normal daily mean", mean, case),
    )  # fmt: skip
    opening = window.earliest if no else window.best_from
    return Reply(
        case=case,
        verdict=found.verdict,
        headline=_EARLY[found.why](case, found),
        numbers=(
            Number("start_from", window.best_from, "date", "most growers begin", crop),
            Number("earliest", window.earliest, "date", "earliest", crop),
            *frost,
            *warmth,
            *(n for n in plan_numbers(case, plan) if n.name in kept),
        ),
        details=_early_details(case, found, mean, soil),
        changes=() if found.verdict == "yes" else for_early(case, opening, window.activity),
        windows=found.windows,
        marks=plan_marks(case, plan),
        assumptions=assumed(case),
        working=(*_early_working(case, found, mean, soil), *plan_working(case, plan)),
        do="now"
        if found.verdict == "yes"
        else f"{activity_words(case.terms, window.activity)} from {case.on(window.best_from)}",
        pick="" if plan.first_pick is None else case.on(plan.first_pick),
        sources=case.terms.sources,
    )


def _now(case: Case, found: Finding) -> str:
    window, air = found.window, case.air_said_c
    assert window is not None
    tail = ""
    if 0 < (case.day - window.best_from).days <= TOLD_BACK_DAYS:
        tail = f"; most growers begin about {case.on(window.best_from)}"
    if air is not None and air >= hottest_soil_c(case.terms, case.method):
        tail = (
            f", but not into hot ground: in {case.temp(air)} heat hardly any of the seed comes up. Shade and "
            "water the row for some days first, or start it indoors where it is cool"
        )
    elif found.frost is not None and found.frost >= FROST_TOLD_FROM and case.terms.crop.warm:
        tail += f"; a frost that hurts them is still {percent(found.frost)} likely, so keep a cover ready"
    return f"Not too early: {act(case.terms, case.method, case.cover)} {_when(case)}{tail}."


def _possible(case: Case, found: Finding) -> str:
    window, what, when = found.window, act(case.terms, case.method, case.cover), _when(case)
    assert window is not None
    if case.method == "indoors":
        return f"A little early to {what} {when}, but possible: best from {case.on(window.best_from)}."
    return f"Early but possible to {what} {when}: {_reason(case, found)}. Safer from {case.on(window.best_from)}."


def _too_early(case: Case, found: Finding) -> str:
    window, what, when = found.window, act(case.terms, case.method, case.cover), _when(case)
    assert window is not None
    if case.method == "indoors":
        return (
            f"Too early to {what} {when}: the plants would be overgrown before they can go out. Sow from "
            f"{case.on(window.earliest)}."
        )
    off, first = days_word((window.earliest - case.day).days), case.on(window.earliest)
    if window.earliest == window.best_from:
        return f"Too early to {what} {when}: {_reason(case, found)}. Wait until {first} (in {off})."
    return (
        f"Too early to {what} {when}: {_reason(case, found)}. Possible from {first} (in {off}), better from "
        f"{case.on(window.best_from)}."
    )


def _reason(case: Case, found: Finding) -> str:
    """Why it is early: frost to come, cold air, cold soil, cold nights, short days."""
    window, year, terms = found.window, case.year, case.terms
    assert window is not None
    _, number = year.day_number(case.day)
    mean, soil = _warmth(case)
    if window.activity.startswith("fall"):
        if soil_hot(found.season, found.method, case.day):
            return _hot_for_seed(case)
        warm = "it is still too warm, and this is for autumn"
        return f"autumn is the time for {case.plants.them}" if number < year.hottest else warm
    if number > year.hottest:
        return "it is the end of the season, not its start"
    waits = found.season.waits_for(found.method, good=True)
    why = []
    if found.frost is not None and found.frost > found.season.terms.safe_risk:
        why.append(f"a frost that hurts them is still {percent(found.frost)} likely")
    if mean < terms.start.earliest_mean_c:
        average = "are averaging" if case.day == case.today else "average"
        why.append(f"days {average} only {case.temp(mean)}")
    elif soil < waits.soil_c:
        wanted = case.temp(found.season.wanted_soil_c(found.method) or soil)
        want = f"{case.plants.they} {case.plants.does('need')} {wanted}"
        why.append(f"the soil is usually about {case.temp(soil)}, and {want}")
    elif year.min_c[number % YEAR] < waits.night_c:
        why.append(f"nights usually fall to {case.temp(year.min_c[number % YEAR])}")
    short = (
        "the days are still too short"
        if mean >= terms.start.best_mean_c
        else "it is still colder than they like"
    )
    return " and ".join(why) if why else short


def _cold_soil(case: Case, found: Finding) -> str:
    said, least = case.soil_said_c or 0.0, found.season.wanted_soil_c(found.method) or 0.0
    what = act(case.terms, case.method, case.cover)
    return f"Too early to {what}: soil at {case.temp(said)} is colder than the {case.temp(least)} it wants."


def _warm_soil(case: Case, found: Finding) -> str:
    said, what = case.temp(case.soil_said_c or 0.0), act(case.terms, case.method, case.cover)
    return f"Not too early to {what}: soil at {said} is warm enough and the frost risk is small."


def _frost_to_come(case: Case, found: Finding) -> str:
    said, what = case.temp(case.soil_said_c or 0.0), act(case.terms, case.method, case.cover)
    lead = "Possible" if found.verdict == "tight" else "Too early"
    cover = "; have a cover ready" if found.verdict == "tight" else ""
    return (
        f"{lead} to {what}: soil at {said} is warm enough, but a frost that hurts them is still "
        f"{percent(found.frost or 0.0)} likely{cover}."
    )


def _under_cover(case: Case, found: Finding) -> str:
    return (
        f"Possible to {act(case.terms, case.method, case.cover)} {_when(case)}, but only {only_with(found)}."
    )


_EARLY: Mapping[Why, Callable[[Case, Finding], str]] = {
    Why.FITS: _now,
    Why.EARLY: _possible,
    Why.COVER: _under_cover,
    Why.TOO_EARLY: _too_early,
    Why.COLD_SOIL: _cold_soil,
    Why.WARM_SOIL: _warm_soil,
    Why.FROST: _frost_to_come,
}


def _early_details(case: Case, found: Finding, mean: float, soil: float) -> tuple[str, ...]:
    least = found.season.wanted_soil_c(found.method)
    lines = []
    if soil_hot(found.season, found.method, case.day):
        most = hottest_soil_c(case.terms, case.method) - HOT_SOIL_UNDER_C
        lines.append(
            f"The seed comes up poorly in soil over about {case.temp(most)}, and the usual soil then is "
            f"about {case.temp(soil)}: shade the row, water it cool and sow in the evening."
        )
    elif least is not None and case.soil_said_c is None and case.method != "indoors":
        lines.append(
            f"{case.plants.they.capitalize()} {case.plants.does('need')} soil at {case.temp(least)} or more; it is "
            f"usually about {case.temp(soil)} then. Go by your own thermometer."
        )
    lines += shade_wanted(case, mean)
    note = case.terms.crop.set_out.chill_note
    if note and case.method == "setout":
        lines.append(worded(note, Manner(case.units)))
    return tuple(lines)


def _early_working(case: Case, found: Finding, mean: float, soil: float) -> tuple[str, ...]:
    s, window = case.terms.start, found.window
    assert window is not None
    lines = [
        f"Its season opens at a daily mean of {case.temp(s.earliest_mean_c)}, for most growers at "
        f"{case.temp(s.best_mean_c)}; on {case.on(case.day)} the normal is {case.temp(mean)} "
        f"(soil {case.temp(soil)}).",
        f"Accepted chance of a night at {case.temp(case.terms.damage_c)} still to come: "
        f"{100 * s.earliest_risk:.0f}% at the earliest, {100 * s.best_risk:.0f}% for most.",
    ]
    if found.frost is not None:
        on = case.on(case.day)
        lines.append(f"Chance of such a night after it is up, from {on}: {100 * found.frost:.0f}%.")
    lines.append(f"Window: {case.on(window.earliest)}, good from {case.on(window.best_from)}.")
    return tuple(lines)


# -- both ----------------------------------------------------------------------------------------------------


def shade_wanted(case: Case, mean_c: float) -> tuple[str, ...]:
    """What a start of a cool crop in the warmest part of the year wants; nothing for any other."""
    heat = case.terms.heat_c
    if heat is None or case.terms.crop.warm or case.method == "indoors" or mean_c <= heat - NEAR_HEAT_C:
        return ()
    return (
        f"{case.plants.they.capitalize()} {case.plants.does('like')} cool weather, and days average "
        f"{case.temp(mean_c)} then: shade the row and keep it moist until the plants are up.",
    )


def _warmth(case: Case) -> tuple[float, float]:
    _, day = case.year.day_number(case.day)
    return case.year.mean_c[day % YEAR], case.year.soil_c[day % YEAR]


def _temperatures(name: str, label: str, temp_c: float, case: Case) -> tuple[Number, ...]:
    us = case.units == "us"
    return (
        Number(f"{name}_f", round(temp_c * 1.8 + 32), "F", label, case.terms.base, shown=us),
        Number(f"{name}_c", round(temp_c), "C", label, case.terms.base, shown=not us),
    )


def read_of(case: Case) -> Read:
    """What the grower read on a thermometer."""
    return Read(case.soil_said_c, case.air_said_c)
