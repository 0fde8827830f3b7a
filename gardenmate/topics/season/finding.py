"""What is decided of a start, and the reasons a verdict may rest on. Nothing is worded."""

from __future__ import annotations

from datetime import date
from enum import Enum

from gardenmate.core.answer import Verdict, Window
from gardenmate.records import NamedTuple, dataclass
from gardenmate.topics.season.plan import Plan
from gardenmate.topics.season.scan import shown
from gardenmate.topics.season.season import Season, Standing
from gardenmate.topics.season.terms import Terms


class Why(Enum):
    """The reason a verdict rests on."""

    FITS = "it comes ready in time"
    TIGHT = "it may not come ready in time"
    VARIETY = "only quick varieties come ready in time"
    COVER = "it comes ready only under a cover"
    EARLY = "possible, before most growers begin"
    TOO_EARLY = "its window opens later"
    AHEAD = "nothing is late: its window is still to come"
    AFTER_HEAT = "past its spring, before its autumn"
    HOT = "too hot now"
    TOO_LATE = "it would not come ready in time"
    BETWEEN = "too late for this season, too early for the next"
    NO_SEASON = "it has no season here"
    HOT_SOIL = "it comes ready in time, from soil so warm that little of the seed comes up"
    COLD_SOIL = "the soil as read is too cold"
    WARM_SOIL = "the soil as read is warm enough"
    FROST = "warm soil as read, but frost to come"
    SECOND_BEST = "a spring planting of what belongs to autumn"
    CLOSED = "its planting time is past"


class Read(NamedTuple):
    """What the grower read: temperatures of the soil and of the air outside, degrees C."""

    soil_c: float | None = None
    air_c: float | None = None


NOT_READ = Read()


class Spread(NamedTuple):
    """The varieties a verdict turns on: days to maturity and chance of a quick one (under
    the cover it takes, if any) and of a middling one in the open."""

    early_days: float
    early_chance: float
    usual_days: float
    usual_chance: float


@dataclass(frozen=True, slots=True)
class StartFinding:
    """What is decided of a start by ``method`` on ``day``.

    ``season`` is that of the variety and cover the verdict rests on; ``plan`` the start its figures are of;
    ``window`` the one it is about; ``longest`` the days to maturity that are still sure; ``frost`` the chance that
    a frost that hurts is still to come. ``chance`` is
    there where the verdict rests on it.
    """

    season: Season
    method: str
    day: date
    verdict: Verdict
    why: Why
    standing: Standing
    window: Window | None = None
    plan: Plan | None = None
    chance: float | None = None
    frost: float | None = None
    spread: Spread | None = None
    longest: int | None = None
    ready: date | None = None
    of_spring: bool = False
    """Judged against the opening of its window, not against its end."""
    listed: Season | None = None
    """The season whose list of windows ``window`` stands in, where that is not the one the verdict rests on."""

    @property
    def windows(self) -> tuple[Window, ...]:
        """Every window open on the day or to come, the one of the verdict among them."""
        return (self.listed or self.season).windows(self.day)


def level(terms: Terms, chance: float) -> Verdict:
    """yes from 80%, tight from 50%, no below, of the chance as it is shown."""
    g = terms.general
    return "yes" if shown(chance) >= g.yes_from else "tight" if shown(chance) >= g.tight_from else "no"
