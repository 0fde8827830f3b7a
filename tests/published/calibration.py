"""Are the chances honest? Starts tried on real years that the distributions never saw.

The normals and freeze distributions come from one half of each record's years (every other year), the
outcomes from the other half. In every year the crop is run on the daily record with the engine's thermal
time, at five points of its stated spread of days to maturity. Records: data/README.md.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from statistics import NormalDist

from gardenmate.climate.history import MISSING, YEAR_CELLS, History, history_site
from gardenmate.climate.import_weather import import_weather
from gardenmate.climate.places import resolve_site
from gardenmate.knowledge.facts import Facts
from gardenmate.records import dataclass, replace
from gardenmate.topics.season.plan import Plan, make_plan
from gardenmate.topics.season.replay import replay
from gardenmate.topics.season.site_year import SiteYear, site_year
from gardenmate.topics.season.terms import terms_for, with_dtm

DATA = Path(__file__).parent / "data"
NEAR = {
    "champion": "Grand Island, NE",
    "brussels": "De Bilt",
    "cambridge": "Cambridge, UK",
    "lincolnshire": "Waddington",
    "clemson": "Greenville, SC",
}
CROPS = (
    ("bush-bean", "outdoors"),
    ("sweet-corn", "outdoors"),
    ("cucumber", "outdoors"),
    ("summer-squash", "outdoors"),
    ("tomato", "setout"),
    ("pepper", "setout"),
    ("lettuce-leaf", "outdoors"),
    ("beet", "outdoors"),
    ("broccoli", "setout"),
    ("turnip", "outdoors"),
)
SPREAD_POINTS = (0.1, 0.3, 0.5, 0.7, 0.9)
BINS = ((0.0, 0.1), (0.1, 0.3), (0.3, 0.5), (0.5, 0.7), (0.7, 0.9), (0.9, 1.01))


@dataclass(frozen=True, slots=True)
class Trial:
    """One start at one record: the chance stated and the share of unseen outcomes that succeeded."""

    record: str
    crop: str
    start: date
    stated: float
    succeeded: float
    outcomes: int


def every_other(history: History, first: int) -> History:
    """The record with only every other year left (``first`` 0 or 1)."""
    cells = {}
    for name in ("min_tenths", "max_tenths"):
        values = array("h", getattr(history, name))
        for y in range(len(values) // YEAR_CELLS):
            if y % 2 != first:
                values[y * YEAR_CELLS : (y + 1) * YEAR_CELLS] = array("h", [MISSING] * YEAR_CELLS)
        cells[name] = values
    return replace(history, **cells)


def trials(store: Path, facts: Facts) -> Iterator[Trial]:
    """Every start of every crop at every record, learnt on one half of the years and tried on the other."""
    for record, place in NEAR.items():
        history = import_weather(DATA / f"{record}.csv.gz", store / record).history
        base = resolve_site(place=place, facts=facts).site
        assert base is not None
        for half in (0, 1):
            site = replace(history_site(every_other(history, half), base), history=None)
            year, unseen = site_year(site), every_other(history, 1 - half)
            for crop_id, method in CROPS:
                terms = terms_for(facts.crop(crop_id), facts)
                day = date(2027, 5, 20)
                while day < date(2027, 10, 1):
                    plan = make_plan(terms, year, method, day, wait=False)
                    if plan.binding == "frost" and 0.02 < plan.chance < 0.995:
                        yield _tried(record, plan, year, unseen)
                    day += timedelta(days=6)


def _tried(record: str, plan: Plan, year: SiteYear, unseen: History) -> Trial:
    """One start on the unseen years, at every point of the spread of days to maturity."""
    terms, method, day = plan.terms, plan.method, plan.start
    good = total = 0
    for p in SPREAD_POINTS:
        dtm = NormalDist(terms.dtm, terms.general.maturity_spread * terms.dtm).inv_cdf(p)
        moved = make_plan(with_dtm(terms, dtm), year, method, day, wait=False)
        outcome = replay(moved, year, unseen)
        good += outcome.worked
        total += outcome.years
    return Trial(record, terms.crop.id, day, plan.chance, good / total if total else 0.0, total)


def reliability(found: list[Trial]) -> list[tuple[float, float, int, float, float]]:
    """(from, to, starts, mean stated, mean succeeded) per band of stated chance, weighted by outcomes."""
    rows = []
    for low, high in BINS:
        inside = [t for t in found if low <= t.stated < high and t.outcomes]
        n = sum(t.outcomes for t in inside)
        if not n:
            continue
        stated = sum(t.stated * t.outcomes for t in inside) / n
        worked = sum(t.succeeded * t.outcomes for t in inside) / n
        rows.append((low, high, len(inside), stated, worked))
    return rows
