"""The engine's windows against planting calendars and rules that extension services and societies publish.

``calendars_published.csv`` holds the rows (place, crop, activity, first and last day, publication and its
address); ``relative_rules.csv`` holds rules in weeks from frost, of other publications. Nothing here knows
how a window is computed: only where it lies.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from statistics import median

from gardenmate.climate.places import resolve_site
from gardenmate.climate.site import Site
from gardenmate.core.answer import Window
from gardenmate.core.errors import UsageError
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.season.calendar import calendar_windows, crops_named

HERE = Path(__file__).parent
TODAY = date(2027, 6, 1)
GRACE_DAYS = 7
FAR_DAYS = 30
YEAR = 365
# The calendars that list a whole season of a crop, spring and autumn, so that silence means "not then".
WHOLE_SEASON = ("Middle Georgia", "Central Maine", "Philadelphia")
# With those that list the months of every crop, but of some crops one season only (Oregon's charts, Napa's).
MORE_WHOLE_SEASON = (*WHOLE_SEASON, "Oregon", "Napa")
GENERIC = {
    "snap-bean": "bush-bean",
    "wax-bean": "bush-bean",
    "swiss-chard": "chard",
    "cantaloupe": "melon",
    "bok-choy": "pak-choi",
    "mustard": "mustard-greens",
    "green-onion": "scallion",
    "chilli": "hot-pepper",
    "sprouting-broccoli": "broccoli",
    "perpetual-spinach": "chard",
    "popcorn": "sweet-corn",
    "artichoke": "globe-artichoke",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One published line: a crop's activity at a place, first and last day of the year (0-364)."""

    place: str
    crop: str
    activity: str
    start: int
    end: int
    publication: str
    site: Site

    @property
    def days(self) -> int:
        """Length of the published window."""
        return (self.end - self.start) % YEAR

    @property
    def middle(self) -> int:
        """Its middle day."""
        return (self.start + self.days // 2) % YEAR


@dataclass(frozen=True, slots=True)
class Score:
    """How a row fares: None where the engine has no such window at all."""

    row: Row
    window: Window | None
    accepted: bool
    overlaps: bool
    outside: int
    late: int

    @property
    def off(self) -> int:
        """Distance of best_from (of the latest day, for last sowings) from the published day."""
        return abs(self.late)


def day_number(day: date) -> int:
    """Day of a common year, 0-364."""
    return min(day.timetuple().tm_yday - 1, YEAR - 1)


def between(a: int, b: int) -> int:
    """Days from ``a`` to ``b`` round the year, from -182 to 182."""
    return (b - a + YEAR // 2) % YEAR - YEAR // 2


def read_rows(facts: Facts) -> list[Row]:
    """Every published row, each at its place as the command line would find it."""
    rows: list[Row] = []
    sites: dict[tuple[str, ...], Site] = {}
    with (HERE / "calendars_published.csv").open(encoding="utf-8", newline="") as file:
        for r in csv.DictReader(file):
            key = tuple(r[k] for k in ("lat", "lon", "elev_m", "last_frost_50", "first_frost_50"))
            if key not in sites:
                sites[key] = _site(key, facts)
            start, end = (_mmdd(r[k]) for k in ("start_mmdd", "end_mmdd"))
            rows.append(Row(r["place"], r["crop"], r["activity"], start, end, r["publication"], sites[key]))
    return rows


def _site(key: tuple[str, ...], facts: Facts) -> Site:
    lat, lon, elev, last, first = key
    site = resolve_site(
        lat=float(lat),
        lon=float(lon),
        elevation_m=float(elev) if elev else None,
        last_frost=_pair(last),
        first_frost=_pair(first),
        facts=facts,
    ).site
    assert site is not None
    return site


def _pair(text: str) -> tuple[int, int] | None:
    if not text:
        return None
    month, day = text.split("-")
    return int(month), int(day)


def _mmdd(text: str) -> int:
    month, day = text.split("-")
    return day_number(date(2027, int(month), int(day)))


def windows_for(crop: str, site: Site, facts: Facts) -> tuple[Window, ...]:
    """The engine's windows of a crop under the name a publication uses; none for a crop it does not know."""
    try:
        crops = crops_named([GENERIC.get(crop, crop)], facts)
    except UsageError:
        return ()
    return calendar_windows(site, facts, TODAY, crops)


def score_row(row: Row, facts: Facts) -> Score:
    """The best-fitting window of the same activity against one row."""
    windows = windows_for(row.crop, row.site, facts)
    if row.activity == "last-sow":
        return _score_last(row, windows)
    found = [_score(row, w) for w in windows if w.activity == row.activity]
    if not found:
        return Score(row, None, False, False, YEAR // 2, YEAR // 2)
    return min(found, key=lambda s: (not s.accepted, s.outside, s.off))


def _score_last(row: Row, windows: Sequence[Window]) -> Score:
    sown = [w for w in windows if w.activity in ("sow-outdoors", "fall-sow")]
    chosen = sown or [w for w in windows if w.activity in ("set-out", "fall-set-out")]
    if not chosen:
        return Score(row, None, False, False, YEAR // 2, YEAR // 2)
    last = max(chosen, key=lambda w: w.latest)
    late = between(row.start, day_number(last.latest))
    return Score(row, last, abs(late) <= GRACE_DAYS, False, 0, late)


def _score(row: Row, window: Window) -> Score:
    length = (window.latest - window.earliest).days
    to_middle = between(day_number(window.earliest), row.middle)
    accepted = -GRACE_DAYS <= to_middle <= length + GRACE_DAYS or length + GRACE_DAYS >= to_middle + YEAR
    early = between(row.start, day_number(window.earliest))
    late = between(row.start, day_number(window.best_from))
    best_days = (window.best_to - window.best_from).days
    overlaps = late <= row.days and between(row.start, day_number(window.best_from)) + best_days >= 0
    return Score(row, window, accepted, overlaps, max(0, early, -late), late)


@dataclass(frozen=True, slots=True)
class Summary:
    """The figures of a set of rows."""

    rows: int
    accepted: float
    overlap: float
    outside_days: float
    start_error_days: float
    start_bias_days: float
    last_error_days: float | None
    missing: int


def summary(scores: Iterable[Score]) -> Summary:
    """Shares and medians over rows; last sowings apart."""
    all_scores = list(scores)
    windows = [s for s in all_scores if s.row.activity != "last-sow"]
    last = [s for s in all_scores if s.row.activity == "last-sow"]
    n = max(1, len(windows))
    return Summary(
        rows=len(windows),
        accepted=sum(s.accepted for s in windows) / n,
        overlap=sum(s.overlaps for s in windows) / n,
        outside_days=median([s.outside for s in windows]) if windows else 0.0,
        start_error_days=median([s.off for s in windows]) if windows else 0.0,
        start_bias_days=median([s.late for s in windows if s.window is not None] or [0.0]),
        last_error_days=median([s.off for s in last]) if last else None,
        missing=sum(s.window is None for s in all_scores),
    )


def overreach(rows: Sequence[Row], facts: Facts, places: tuple[str, ...] = WHOLE_SEASON) -> float:
    """Share of the days the engine accepts that lie over 30 days from anything the calendar publishes for
    that crop and kind of start (sowing or planting), over the calendars that give a whole season."""
    accepted = far = 0
    groups: dict[tuple[str, str, str], list[Row]] = {}
    for row in rows:
        if row.place.startswith(places) and row.activity not in ("last-sow", "sow-indoors"):
            kind = "set" if row.activity.endswith("set-out") else "sow"
            groups.setdefault((row.place, row.crop, kind), []).append(row)
    for (_, crop, _), published in groups.items():
        near = {
            (r.start + i) % YEAR for r in published for i in range(-FAR_DAYS, r.days + FAR_DAYS + 1)
        }  # fmt: skip
        activities = {r.activity for r in published}
        days: set[int] = set()
        for w in windows_for(crop, published[0].site, facts):
            if w.activity in activities:
                first = day_number(w.earliest)
                days |= {(first + i) % YEAR for i in range((w.latest - w.earliest).days + 1)}
        accepted += len(days)
        far += len(days - near)
    return far / max(1, accepted)
