"""Winter rest: how many chill hours a place gathers, and whether buds must wait for them in spring.

A plant opens when its chill is gathered and then the warmth of spring has run up. Where winters are cold the
chill is long there before warmth counts; where they are mild the warmth starts late, or never rightly.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from math import sqrt
from typing import TYPE_CHECKING

from gardenmate.records import dataclass, field
from gardenmate.science.chilling import chill_hours, hourly_course
from gardenmate.science.sun import day_length_hours

if TYPE_CHECKING:
    from gardenmate.climate.site import Site

_STEP_DAYS = 7  # normals hardly change within a week
_WEEKS = 34  # weeks of the dormant season, autumn to spring


@dataclass(frozen=True)
class WinterRest:
    """One winter at a place, on its normals.

    ``leaf_fall`` is the autumn before; ``warm_from`` the day warmth is counted from, ``warmth`` its running
    degree-days from there and ``need`` what the green tip takes of them. ``day_sd_c``: how single days stray
    from the normals; chill hours of mild places come from their cold spells.
    """

    site: Site
    leaf_fall: date
    warm_from: date
    warmth: Sequence[float]
    need: float
    day_sd_c: float = 0.0
    _weeks: list[float] = field(default_factory=list, compare=False, repr=False)

    def hours_by(self, day: date) -> int:
        """Hours at or below 45 F from leaf fall to ``day``: an estimate from one day a week."""
        weeks = max(0, (day - self.leaf_fall).days) / _STEP_DAYS
        totals = self._totals()
        whole = min(int(weeks), len(totals) - 2)
        part = min(1.0, weeks - whole)
        return round(totals[whole] + part * (totals[whole + 1] - totals[whole]))

    def complete(self, hours: float) -> date | None:
        """The day the chill hours are gathered; None where the winter never brings them."""
        for week, total in enumerate(self._totals()):
            if total >= hours:
                return self.leaf_fall + timedelta(days=_STEP_DAYS * week)
        return None

    def delay_days(self, hours: float) -> int | None:
        """Days the plant opens later because its chill comes late: 0 in cold places, None where it never
        comes."""
        rested = self.complete(hours)
        if rested is None:
            return None
        late = (rested - self.warm_from).days
        if late <= 0:
            return 0
        last = len(self.warmth) - 1
        gone = self.warmth[min(late, last)]
        usual = next((i for i, total in enumerate(self.warmth) if total >= self.need), last)
        moved = next((i for i, total in enumerate(self.warmth) if total - gone >= self.need), last)
        return max(0, moved - usual)

    def _totals(self) -> list[float]:
        """Chill hours gathered by the end of each week after leaf fall."""
        if not self._weeks:
            self._weeks.append(0.0)
            step = self.day_sd_c * sqrt(3.0)  # three-point rule, as for expected degree-days
            for week in range(_WEEKS):
                day = self.leaf_fall + timedelta(days=_STEP_DAYS * week)
                lowest, highest = self.site.min_c(day), self.site.max_c(day)
                following = self.site.min_c(day + timedelta(days=1))
                course = hourly_course(lowest, highest, following, day_length_hours(self.site.lat, day))
                cold = chill_hours([t - step for t in course])
                warm = chill_hours([t + step for t in course])
                hours = (4 * chill_hours(course) + cold + warm) / 6.0
                self._weeks.append(self._weeks[-1] + _STEP_DAYS * hours)
        return self._weeks
