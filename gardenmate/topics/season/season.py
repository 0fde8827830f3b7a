"""One crop, of one variety, at one place, with the gear at hand: the only source of its dates and chances.

Whoever wants the earliest, the possible, the best or the latest day of a start, what soil and nights it waits for,
when plants go out or how likely a crop comes of it asks a `Season`. What is costly is kept with the place's year.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

from gardenmate.climate.site import Site
from gardenmate.core.answer import Activity, Window
from gardenmate.core.question import Slots
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple
from gardenmate.topics.season.plan import Plan, make_plan
from gardenmate.topics.season.scan import Opening, opening, wanted_soil_c
from gardenmate.topics.season.site_year import YEAR, SiteYear, site_year
from gardenmate.topics.season.terms import OPEN_GROUND, Shelter, Terms, early_variety, terms_for, with_dtm
from gardenmate.topics.season.windows import dated, joined, spans

WORTH_TELLING_DAYS, SAME_SEASON_DAYS = 7, 75
"""A quick variety's last day is told from so much later on; more would be of another season (design values)."""
JUST_CLOSED_DAYS = 75
"""A window that closed no longer ago than this is the one a grower asks about (design value)."""
State = Literal["before", "early", "good", "late", "past", "none"]
ACTIVITIES: dict[str, tuple[Activity, ...]] = {
    "indoors": ("sow-indoors",),
    "outdoors": ("sow-outdoors", "fall-sow"),
    "setout": ("set-out", "fall-set-out"),
}
"""Way of starting -> the activities of its windows."""


def method_of(activity: str) -> str:
    """The way of starting an activity is done by: indoors | outdoors | setout."""
    return next(m for m, activities in ACTIVITIES.items() if activity in activities)


class Standing(NamedTuple):
    """Where a day stands: ``state``, the window ``open`` on it, the one ``coming`` next, the one lately ``closed``.

    before: none is open and one is to come. early, good, late: inside, by the good part. past: one closed lately.
    """

    state: State
    open: Window | None
    coming: Window | None
    closed: Window | None


class Season(NamedTuple):
    """A crop and variety (``terms``) in one place's ``year``, under ``cover``, raised on a ``mat`` or without."""

    terms: Terms
    year: SiteYear
    cover: Shelter = OPEN_GROUND
    mat: bool = True

    def plan(self, method: str, day: date, *, wait: bool = True, by: date | None = None) -> Plan:
        """What comes of a start on ``day``; with ``wait`` False it goes out at once, whatever the weather."""
        return make_plan(self.terms, self.year, method, day, cover=self.cover, mat=self.mat, wait=wait, by=by)

    def windows(self, day: date) -> tuple[Window, ...]:
        """The windows open on ``day`` or still to come within a year, in order of opening.

        The season before counts too: what opened in autumn may still be open after midwinter.
        """
        key = ("open", self.terms.key, self.terms.crop.kind, day, self.cover, self.mat)
        return self.year.kept(key, lambda: self._windows(day))

    def _windows(self, day: date) -> tuple[Window, ...]:
        origin = self.year.origin(day)
        starts = (self.year.origin(origin - timedelta(days=1)), origin, self.next_origin(origin))
        found = [w for start in starts for w in self.of_season(start)]
        horizon = day + timedelta(days=YEAR)
        near = joined(found, day, autumn_best=self.terms.bulbs)
        kept = (w for w in near if w.latest >= day and w.earliest < horizon)
        return tuple(sorted(kept, key=lambda w: (w.earliest, w.activity)))

    def of_season(self, origin: date) -> list[Window]:
        """Every window of the season that begins on ``origin``, none joined over midwinter."""
        return [dated(s, self.terms, origin) for s in spans(self.terms, self.year, self.cover, mat=self.mat)]

    def next_origin(self, origin: date) -> date:
        """The first day of the season after the one that begins on ``origin``."""
        return self.year.origin(origin + timedelta(days=400))

    def of(self, method: str, day: date) -> tuple[Window, ...]:
        """The windows of one way of starting, open on ``day`` or to come."""
        return tuple(w for w in self.windows(day) if w.activity in ACTIVITIES[method])

    def standing(self, method: str, day: date) -> Standing:
        """Where ``day`` stands for this way of starting."""
        mine = self.of(method, day)
        open_now = best_open(mine, day)
        coming = next((w for w in mine if w.earliest > day), None)
        closed = None if open_now is not None else self.just_closed(method, day)
        if open_now is None:
            state: State = "past" if closed is not None else "none" if coming is None else "before"
        else:
            early, late = day < open_now.best_from, day > open_now.best_to
            state = "early" if early else "late" if late else "good"
        return Standing(state, open_now, coming, closed)

    def just_closed(self, method: str, day: date) -> Window | None:
        """The window of this way of starting that closed in the last weeks before ``day``."""
        before = self.of(method, day - timedelta(days=JUST_CLOSED_DAYS))
        closed = [w for w in before if w.latest < day]
        return closed[-1] if closed else None

    def latest(self, method: str, day: date) -> date | None:
        """The last day of the window that is open on ``day`` or opens next; None without one."""
        mine = self.of(method, day)
        open_now = max((w.latest for w in mine if w.earliest <= day), default=None)
        return open_now or (mine[0].latest if mine else None)

    def quick(self) -> Season:
        """The same place and gear for the crop's early varieties; itself where the variety was told."""
        return self.with_variety(early_variety(self.terms))

    def open_for_quick(self, method: str, day: date) -> Standing | None:
        """Where the day stands for a quick variety, past the window of a middling one; None where it is no time for
        either, before most growers begin, or the variety was told."""
        quick = self.quick()
        if quick.terms is self.terms or self.standing(method, day).open is not None:
            return None
        begun = any(w.best_from < day <= w.latest for w in quick.of(method, day))
        return quick.standing(method, day) if begun else None

    def quick_latest(self, method: str, day: date) -> date | None:
        """The last day a quick variety still makes it, where that is worth telling beside `latest`; else None."""
        usual, quick = self.latest(method, day), self.quick()
        if usual is None or self.terms.rule or quick.terms is self.terms:
            return None
        later = quick.latest(method, day)
        worth = later is not None and WORTH_TELLING_DAYS <= (later - usual).days <= SAME_SEASON_DAYS
        return later if worth else None

    def waits_for(self, method: str, *, good: bool = False) -> Opening:
        """The usual warmth a start waits for, to be possible or good."""
        return opening(self.terms, self.year, method, good=good, cover=self.cover)

    def wanted_soil_c(self, method: str) -> float | None:
        """The soil temperature at which the start makes sense, degrees C; None where none is known."""
        return wanted_soil_c(self.terms, method)

    def resting_on(self, window: Window) -> Season:
        """The season of the variety and under the cover that a window takes; itself where it takes neither."""
        if window.days_to_maturity is None:
            return self
        general = self.terms.general
        cover = next((c for c in (general.tunnel, general.greenhouse) if c.id == window.cover), self.cover)
        return self._replace(terms=with_dtm(self.terms, window.days_to_maturity), cover=cover)

    def with_variety(self, terms: Terms) -> Season:
        """The same place and gear for another variety."""
        return self._replace(terms=terms)


def best_open(windows: tuple[Window, ...], day: date) -> Window | None:
    """Of the windows open on a day, the one whose good part it is in, else one whose good part is ahead."""
    open_now = [w for w in windows if w.earliest <= day <= w.latest]
    return min(
        open_now, key=lambda w: (day > w.best_to, day < w.best_from, -w.best_to.toordinal()), default=None
    )


def season_for(
    crop: Crop, site: Site, facts: Facts, ask: Slots | None = None, *, risk: float | None = None
) -> Season:
    """The season of a crop at a place: of the variety asked about, else a middling one, in the open."""
    return Season(terms_for(crop, facts, ask, risk), site_year(site))
