"""How seed of a crop comes up at each soil temperature, from its own table or its nearest relative's."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from gardenmate.climate.site import Site
from gardenmate.core.answer import Verdict
from gardenmate.core.units import Units, f_to_c, show_temp
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.records import dataclass
from gardenmate.science.emergence import Curve, days_to_emerge, percent
from gardenmate.topics.season.site_year import YEAR, site_year

_HOPELESS_DAYS = 42  # six weeks in cold ground: the seed has rotted or been eaten (common practice)


@dataclass(frozen=True, slots=True)
class EmergenceTrial:
    """Emergence of one crop: curves over soil temperature (degrees C), and where they come from.

    ``days`` may be empty: then ``room_days`` (low, high) is all that is known, for a warm room.
    ``borrowed_from`` is the relative whose table stands in, None for the crop's own.
    """

    days: Curve
    percents: Curve
    room_days: tuple[float, float] | None
    borrowed_from: Crop | None
    sources: tuple[str, ...]

    def days_at(self, soil_c: float) -> float | None:
        """Days from sowing to emergence; None when next to nothing comes up or nothing is tabulated."""
        if not self.days:
            return None
        share = self.percent_at(soil_c)
        if share is not None and share < 2.0:
            return None
        last_c, last_days = self.days[-1]
        if soil_c > last_c and self.percents and soil_c <= self.percents[-1][0]:
            return last_days  # some still come up there; no one counted the days, they are no fewer
        return days_to_emerge(self.days, soil_c)

    def percent_at(self, soil_c: float) -> float | None:
        """Percent of good seed that comes up; None where the tables do not say."""
        ends = [t for t, _ in self.percents]
        tabulated = ends and min(ends) <= soil_c <= max(ends)
        if not tabulated and self.days and self.days[0][0] <= soil_c <= self.days[-1][0]:
            return None  # the days were counted there, the share was not
        return percent(self.percents, soil_c)

    @property
    def best_c(self) -> float | None:
        """The tabulated temperature that brings most seedlings soonest."""
        if not self.days:
            return None
        most = self.best_percent or 100.0

        def soonest(point: tuple[float, float]) -> float:
            share = self.percent_at(point[0])
            return (0.75 * most if share is None else share) / point[1]

        return max(self.days, key=soonest)[0]

    @property
    def best_percent(self) -> float | None:
        """The highest tabulated percentage."""
        return max((p for _, p in self.percents), default=None)


def trial_of(crop: Crop, facts: Facts) -> EmergenceTrial:
    """The emergence facts of a crop: its own table, else that of the relative its file names."""
    own, seed = crop.emergence, crop.germination
    if own.days_by_soil_c or not seed.relative:
        table = ("emergence_days_by_soil_f", "emergence_pct_by_soil_f", "days_to_emerge")
        listed = own.sources.of(*table) if seed.room_days is None else seed.sources.of("room_days")
        return EmergenceTrial(
            own.days_by_soil_c, own.pct_by_soil_c, seed.room_days or own.days_to_emerge, None, listed
        )
    relative = facts.crop(seed.relative)
    theirs = relative.emergence
    return EmergenceTrial(
        theirs.days_by_soil_c, theirs.pct_by_soil_c, own.days_to_emerge, relative, theirs.sources
    )


@dataclass(frozen=True, slots=True)
class EmergenceOutlook:
    """What one soil temperature brings for one crop."""

    verdict: Verdict | None
    days: float | None
    percent: float | None
    kind: str  # good | slow | poor | hopeless | none | unknown


def outlook(trial: EmergenceTrial, soil_c: float, settings: dict[str, Any]) -> EmergenceOutlook:
    """How seed fares at a soil temperature: good, slow, poor (few come up), hopeless, none."""
    if not trial.days:
        return EmergenceOutlook(None, None, None, "unknown")
    days, share = trial.days_at(soil_c), trial.percent_at(soil_c)
    best = trial.best_percent
    if days is None:
        return EmergenceOutlook("no", None, share, "none")
    if share is not None and best and share / best < settings["poor_share"]:
        return EmergenceOutlook("no", days, share, "poor")
    if days > _HOPELESS_DAYS:
        return EmergenceOutlook("no", days, share, "hopeless")
    if share is not None and best and share / best < settings["good_share"]:
        return EmergenceOutlook("tight", days, share, "poor")
    if days > settings["slow_days"]:
        return EmergenceOutlook("tight", days, share, "slow")
    return EmergenceOutlook("yes", days, share, "good")


def working_at(trial: EmergenceTrial, soil_c: float, units: Units) -> tuple[str, ...]:
    """The interpolation at one temperature, as lines a grower can check with a pencil."""
    days = trial.days_at(soil_c)
    if days is None:
        return (f"At {show_temp(soil_c, units)} the table promises nothing.",)
    here = show_temp(soil_c, units)
    below = [p for p in trial.days if p[0] <= soil_c]
    above = [p for p in trial.days if p[0] >= soil_c]
    if below and above and below[-1][0] != above[0][0]:
        (low_c, low), (high_c, high) = below[-1], above[0]
        share = (soil_c - low_c) / (high_c - low_c)
        return (
            f"Table: {low:g} days at {show_temp(low_c, units)}, {high:g} days at {show_temp(high_c, units)}.",
            f"Growth adds up as a daily share: (1 - {share:.2f})/{low:g} + {share:.2f}/{high:g} = "
            f"{1 / days:.4f} a day at {here}, so 1/{1 / days:.4f} = {days:.1f} days.",
        )
    if below and above:
        return (f"Table: {below[-1][1]:g} days at {here}.",)
    edge = trial.days[-1] if below else trial.days[0]
    return (
        f"The table ends at {show_temp(edge[0], units)} ({edge[1]:g} days); beyond it the daily share falls "
        f"to {1 / days:.4f} at {here}, about {days:.0f} days.",
    )


def soil_today_c(site: Site, day: date) -> float:
    """Usual soil temperature at sowing depth on a day, estimated from the place's normals."""
    year = site_year(site)
    return year.soil_c[year.day_number(day)[1] % YEAR]


def soil_reaches(site: Site, target_c: float, today: date) -> date | None:
    """The next day from ``today`` with usual soil at ``target_c`` or warmer; None within a year."""
    days = (today + timedelta(days=ahead) for ahead in range(366))
    return next((day for day in days if soil_today_c(site, day) >= target_c), None)


def mat_setting_c(crop: Crop, facts: Facts) -> float:
    """What to set a mat to for this crop: the middle of the published germination range, degrees C."""
    if crop.warmth is not None:
        return sum(crop.warmth.germinate_c) / 2
    best = trial_of(crop, facts).best_c
    if best is not None:
        return best
    good = crop.soil.opt_soil_sow_c
    return sum(good) / 2 if good else f_to_c(75)


def borrowed(name: str, trial: EmergenceTrial) -> tuple[str, ...]:
    """The assumption to state when a relative's table stands in for the crop called ``name``."""
    if trial.borrowed_from is None:
        return ()
    return (f"No table for {name}: that of its relative {trial.borrowed_from.name} stands in.",)
