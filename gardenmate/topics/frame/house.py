"""An unheated greenhouse or hoop house: what it keeps at night, and from when tender plants can live in it.

A house with walk-in room holds little over the night outside, so tender plants in it are judged by their
chill limit, about 50 F for tomatoes, peppers and basil, not only by freezing.
"""

from __future__ import annotations

from datetime import date

from gardenmate.climate.site import Site
from gardenmate.core.answer import Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.records import dataclass
from gardenmate.topics.frame.box import FrameFacts, in_greenhouse
from gardenmate.topics.seedlings.hardening_nights import usual_from
from gardenmate.topics.shared.protection import chill_limit_c, cover_for

_GROWN = ("established", "bloom", "fruit")  # past the age at which a cool night sets a plant back


@dataclass(frozen=True, slots=True)
class Chill:
    """Cool nights against one tender crop. ``limit_c``: below it the plant is set back; ``never_c``: badly.

    ``inside_c`` is the usual low inside on the day asked about, ``from_day`` when it reaches the limit.
    """

    limit_c: float
    never_c: float
    inside_c: float
    from_day: date | None

    @property
    def verdict(self) -> Verdict:
        """yes = usual nights are warm enough, tight = they chill it somewhat, no = they set it back badly."""
        if self.inside_c >= self.limit_c - 1e-6:
            return "yes"
        return "tight" if self.inside_c >= self.never_c - 1e-6 else "no"


def night_gain_c(question: Request, world: World, frame: FrameFacts) -> float:
    """What the house or frame asked about keeps over outside at night, degrees C."""
    if not in_greenhouse(question):
        return frame.night_rise_c(question.cue("sky") not in ("cloudy", "rain"))
    cover = cover_for(world.facts, "greenhouse")
    assert cover is not None
    return cover.plan_c


def limit_of(question: Request, world: World, crop: Crop) -> float | None:
    """The night inside, degrees C, under which a crop is set back without frost; None when it minds none."""
    return None if question.cue("stage") in _GROWN else chill_limit_c(world.facts, crop)


def usual_chill(
    question: Request, world: World, site: Site, day: date, crop: Crop, gain_c: float
) -> Chill | None:
    """How the usual nights from ``day`` on suit a tender crop under a cover that keeps ``gain_c``."""
    limit_c = limit_of(question, world, crop)
    if limit_c is None:
        return None
    never_c = f_to_c(world.facts.table("raising")["hardening"]["never_below_f"])
    never_c = max(never_c, limit_c - f_to_c(50.0) + never_c)
    from_day = usual_from(site, limit_c - gain_c, day)
    return Chill(limit_c, never_c, site.min_c(day) + gain_c, from_day)
