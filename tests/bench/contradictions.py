"""Answers about one crop, place and day set beside each other: how many pairs contradict.

Usage: python tests/bench/contradictions.py [--pairs N] [--seed S] [-v]

For thousands of (crop, place, day) the questions "too late?", "too early?" and "when?" are answered by every way of
starting, and the list of the week, the calendar, hardening off and buy-or-sow are asked for the same. A
contradiction is a verdict outside its own windows, a chance on the wrong side of the verdict's threshold (yes from
80%, tight from 50%), a date it becomes possible that is not the window's or that comes before the soil or the nights
it waits for, a next time that lies in no window, or two topics that tell different dates of one thing.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from gardenmate.climate.places import resolve_site
from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Window
from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.records import replace
from gardenmate.topics.agenda.item import Item
from gardenmate.topics.agenda.items import items
from gardenmate.topics.costs import answer as buy_or_sow
from gardenmate.topics.season.answer import answer
from gardenmate.topics.season.calendar import calendar_windows
from gardenmate.topics.season.season import ACTIVITIES, Season, season_for
from gardenmate.topics.season.site_year import YEAR
from gardenmate.topics.seedlings import hardening_off

PLACES = (
    "Duluth", "Bangor, ME", "Boston", "Macon, GA", "Phoenix", "Miami", "San Diego", "Seattle Sea-Tac", "Portland, OR",
    "Denver", "Bozeman, MT", "Fairbanks", "Winnipeg", "London Heathrow", "Leeds", "Dublin", "Hobart", "Melbourne",
    "Auckland", "Des Moines", "Philadelphia, PA", "Houston, TX", "Sacramento",
)  # fmt: skip
FACTS = Facts()
YES_FROM, TIGHT_FROM = 0.8, 0.5
JOBS = {
    "sow-indoors": "indoors",
    "sow-outdoors": "outdoors",
    "fall-sow": "outdoors",
    "overwinter-sow": "outdoors",
    "set-out-bought": "setout",
}
"""Jobs of the list that are a start made by one way."""
HARDENING_DAYS = 14
ROUNDED_C = 0.5
"""Usual temperatures of the windows are held to whole days; so much a day may move them."""
Told = tuple[str, str]
"""Kind of contradiction, and what was said."""


@cache
def site(name: str) -> Site:
    """A place as the command line finds it."""
    found = resolve_site(place=name, facts=FACTS).site
    assert found is not None
    return found


def world(name: str, day: date) -> World:
    """The world of one question, no garden told."""
    return World(day, FACTS, NO_GARDEN, "us", site(name))


def ask(topic: str, crop: Crop, at: World, method: str | None) -> Answer:
    """A season question about one crop by one way of starting."""
    ref = CropRef(crop.base, crop.kind, crop.names[0])
    return answer(Request("asked", topic, (ref,), Slots(method=method)), at)


def ways(crop: Crop, season: Season) -> tuple[str, ...]:
    """The ways the crop can be started."""
    able = (season.terms.can_raise, season.terms.can_sow_outdoors, season.terms.can_set_out)
    return tuple(w for w, can in zip(("indoors", "outdoors", "setout"), able, strict=True) if can)


def inside(windows: tuple[Window, ...], method: str, day: date) -> bool:
    """True where a window of this way is open on the day."""
    return any(w.activity in ACTIVITIES[method] and w.earliest <= day <= w.latest for w in windows)


def of_one(name: str, crop: Crop, day: date) -> Iterator[Told]:
    """Every contradiction about one crop at one place on one day."""
    at, season = world(name, day), season_for(crop, site(name), FACTS)
    told: dict[tuple[str, str], Answer] = {}
    for method in ways(crop, season):
        for topic in ("late-start", "early-start", "when-start"):
            found = told[topic, method] = ask(topic, crop, at, method)
            yield from _of_itself(found, topic, method, day)
        late, early = told["late-start", method], told["early-start", method]
        yield from _of_both(late, early, method, day)
        yield from _when_beside(told["when-start", method], early, method, day)
        yield from _possible(early, season, method)
    yield from _calendar(at, crop, season, day)
    yield from _bought(at, crop, season, day)
    if season.terms.can_raise and not season.terms.rule:
        yield from _hardened(at, crop, season)
    wanted = replace(at, garden=replace(NO_GARDEN, wanted=(crop.id,)))
    for item in items(wanted, day + timedelta(days=6)):
        yield from _listed(item, crop, told, day)


def _of_itself(found: Answer, topic: str, method: str, day: date) -> Iterator[Told]:
    """A verdict against its own windows, its chance, its next time and its last dates."""
    verdict, head = found.verdict, found.headline
    chance = found.chance
    if chance is not None and verdict is not None:
        low, high = {"yes": (YES_FROM, 1.01), "tight": (TIGHT_FROM, YES_FROM), "no": (-0.01, TIGHT_FROM)}[
            verdict
        ]
        if not low <= chance < high:
            yield "chance against verdict", f"{topic} {method} {verdict} {chance}: {head}"
    if topic != "when-start" and verdict in ("yes", "tight"):
        ahead = head.startswith("Not too late for") or "expect smaller" in head
        if not ahead and found.windows and not inside(found.windows, method, day):
            anyway = any(inside(found.windows, m, day) for m in ACTIVITIES)
            if not anyway:
                yield "verdict outside its windows", f"{topic} {method} {verdict}: {head}"
    if topic != "when-start" and verdict == "no" and inside(found.windows, method, day):
        yield "no inside its window", f"{topic} {method}: {head}"
    for n in found.numbers:
        if (
            n.name in ("latest_sow", "latest_starts")
            and n.shown
            and isinstance(n.value, date)
            and n.value < day
        ):
            yield "a latest that is past", f"{topic} {method} {n.value}: {head}"
        coming = n.name == "start_from" and isinstance(n.value, date) and n.value > day and found.windows
        if coming and not any(w.earliest <= n.value <= w.latest for w in found.windows):
            yield "next time in no window", f"{topic} {method} {n.value}: {head}"


def _of_both(late: Answer, early: Answer, method: str, day: date) -> Iterator[Told]:
    """Too late and too early about one start."""
    if late.verdict == "no" and early.verdict in ("yes", "tight"):
        yield "late no, early yes", f"{method}: {late.headline} | {early.headline}"
    if early.verdict == "no" and late.verdict in ("yes", "tight") and inside(late.windows, method, day):
        yield "early no, late yes", f"{method}: {late.headline} | {early.headline}"
    a, b = ({(w.activity, w.earliest, w.latest) for w in f.windows} for f in (late, early))
    shared = {x[0] for x in a} & {x[0] for x in b}
    one_variety = "variety" not in late.headline and "variety" not in early.headline
    if one_variety and {x for x in a if x[0] in shared} != {x for x in b if x[0] in shared}:
        yield "two lists of windows", f"{method}: {late.headline} | {early.headline}"


def _when_beside(when: Answer, early: Answer, method: str, day: date) -> Iterator[Told]:
    """ "Now is the time" against what the other questions say."""
    if when.verdict == "yes" and early.verdict == "no":
        yield "when now, early no", f"{method}: {when.headline} | {early.headline}"
    if "variety" in early.headline:
        return
    mine = [w for w in early.windows if w.activity in ACTIVITIES[method]]
    theirs = [w for w in when.windows if w.activity in ACTIVITIES[method]]
    if mine and theirs and mine[0][1:6] != theirs[0][1:6]:
        yield "when and early differ", f"{method}: {when.headline} | {early.headline}"


def _possible(early: Answer, season: Season, method: str) -> Iterator[Told]:
    """The day it becomes possible against the window, the soil and the nights."""
    first = next((n.value for n in early.numbers if n.name == "earliest"), None)
    if not isinstance(first, date):
        return
    mine = [w for w in early.windows if w.activity in ACTIVITIES[method]]
    if first not in {w.earliest for w in mine}:
        yield "possible from another day than the window's", f"{method} {first}: {early.headline}"
    window = next((w for w in mine if w.earliest == first), None)
    if window is None or method == "indoors" or window.activity.startswith("fall") or season.terms.rule:
        return
    rests = season.resting_on(window)
    for good, day in ((False, window.earliest), (True, window.best_from)):
        _, number = season.year.day_number(day)
        if number > season.year.hottest:
            continue
        waits = rests.waits_for(method, good=good)
        if season.year.soil_c[number % YEAR] < waits.soil_c - ROUNDED_C:
            yield "possible before the soil it waits for", f"{method} {day}: {early.headline}"
        if season.year.min_c[number % YEAR] < waits.night_c - ROUNDED_C:
            yield "possible before the nights it waits for", f"{method} {day}: {early.headline}"


def _calendar(at: World, crop: Crop, season: Season, day: date) -> Iterator[Told]:
    """The drawn calendar against the season."""
    assert at.site is not None
    drawn = {w[:6] for w in calendar_windows(at.site, FACTS, day, (crop,))}
    origin = season.year.origin(day + timedelta(days=40))
    if drawn != {w[:6] for w in season.of_season(origin)}:
        yield "calendar differs", crop.id


def _bought(at: World, crop: Crop, season: Season, day: date) -> Iterator[Told]:
    """Buy or sow: its last dates are the windows'."""
    ref = CropRef(crop.base, crop.kind, crop.names[0])
    found = buy_or_sow.answer(Request("asked", "buy-or-sow", (ref,), Slots()), at)
    starts = (season.year.origin(day), season.next_origin(season.year.origin(day)))
    lasts = {w.latest for start in starts for w in season.of_season(start)} | {
        w.latest for w in season.windows(day)
    }
    for n in found.numbers:
        if n.name in ("latest_sow", "latest_set_out") and isinstance(n.value, date) and n.value not in lasts:
            yield "buy-or-sow tells another last date", f"{n.name} {n.value}: {found.headline}"


def _hardened(at: World, crop: Crop, season: Season) -> Iterator[Told]:
    """Hardening off: the day plants go out lies in a window for setting them out."""
    ref = CropRef(crop.base, crop.kind, crop.names[0])
    found = hardening_off.answer(Request("asked", "hardening-off", (ref,), Slots()), at)
    out = next((n.value for n in found.numbers if n.name == "set_out"), None)
    if not isinstance(out, date):
        return
    start = season.year.origin(at.today)
    windows = [w for o in (start, season.next_origin(start)) for w in season.of_season(o)]
    outs = [w for w in (*windows, *season.windows(at.today)) if w.activity in ACTIVITIES["setout"]]
    ready = timedelta(days=HARDENING_DAYS)  # plants in hand whose time ends while they are being hardened
    closing = any(w.earliest <= at.today <= w.latest and out - ready <= w.latest for w in outs)
    if not closing and outs and not any(w.earliest <= out <= w.latest for w in outs):
        yield "hardened for a day in no window", f"{out}: {found.headline}"


def _listed(item: Item, crop: Crop, told: dict[tuple[str, str], Answer], day: date) -> Iterator[Told]:
    """The week's list against the questions."""
    method = JOBS.get(item.job)
    if method is None or item.crop != crop.base or (f := told.get(("early-start", method))) is None:
        return
    late = told["late-start", method]
    due = item.status in ("overdue", "closing", "due", "open", "late")
    if due and item.opens <= day and f.verdict == "no" and late.verdict == "no":
        yield "listed as due, the question says no", f"{item.job} {item.status}: {f.headline}"
    if item.status == "missed" and late.verdict == "yes" and inside(late.windows, method, day):
        yield "listed as missed, the question says yes", f"{item.job}: {late.headline}"


def sampled(pairs: int, seed: int) -> Iterator[tuple[str, Crop, date]]:
    """Places, crops and days drawn at random, the same for the same seed."""
    draw = random.Random(seed)
    crops = list(FACTS.crop_ids)
    for _ in range(pairs):
        day = date(2027, 1, 1) + timedelta(days=draw.randrange(365))
        yield draw.choice(PLACES), FACTS.crop(draw.choice(crops)), day


def main() -> int:
    """Count, and show the first of each kind; exit code 1 when there are any."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--pairs", type=int, default=3000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("-v", action="store_true", help="show five of each kind")
    options = parser.parse_args()
    counts: Counter[str] = Counter()
    for name, crop, day in sampled(options.pairs, options.seed):
        for kind, text in of_one(name, crop, day):
            counts[kind] += 1
            if counts[kind] <= (5 if options.v else 1):
                print(f"{kind}\n    {name}, {crop.id}, {day}: {text}")
    print(f"{options.pairs} crops at a place on a day: {sum(counts.values())} contradictions")
    for kind, count in counts.most_common():
        print(f"{count:5} {kind}")
    return 1 if counts else 0


if __name__ == "__main__":
    sys.exit(main())
