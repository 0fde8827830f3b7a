"""What every rule about woody plants is given, and how plants are called in it."""

from __future__ import annotations

from gardenmate.core.answer import Verdict
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.marked import Manner
from gardenmate.knowledge.woody import Woody
from gardenmate.records import dataclass
from gardenmate.topics.shared.subjects import plural_of
from gardenmate.topics.shared.woody_phase import Spring

_HOW_MUCH = ("how-much", "hard")
_HOW = ("how", "steps")
NOW = "now"


@dataclass(frozen=True, slots=True)
class WoodyCase:
    """The question, the world on the day asked about, the yearly frame there, and how to call that day."""

    question: Request
    world: World
    spring: Spring
    day: str = NOW

    @property
    def facts(self) -> Facts:
        """The facts."""
        return self.world.facts

    @property
    def manner(self) -> Manner:
        """How facts are told there."""
        return Manner(self.world.units, self.spring.southern)

    def asks(self, *values: str) -> bool:
        """True when one of these is what is asked."""
        return self.question.cue("asks") in values or any(self.question.has("asks", v) for v in values)

    @property
    def asks_when(self) -> bool:
        """The time of the job is asked for."""
        return self.question.cue("asks_when") is not None or self.asks("when", "dates")

    @property
    def asks_how_much(self) -> bool:
        """How much to take off is asked for."""
        return self.asks(*_HOW_MUCH)

    @property
    def asks_how(self) -> bool:
        """The way of doing it is asked for."""
        return self.asks(*_HOW, *_HOW_MUCH)

    @property
    def right_down(self) -> bool:
        """It is to be cut to the ground, or mown."""
        return self.question.cue("cut_low") is not None or any(
            self.question.has("cut", value) for value in ("mow", "down")
        )

    @property
    def too_late(self) -> bool:
        """Whether it is too late is what is asked."""
        return self.question.cue("too_late") is not None or self.question.sense.turned

    @property
    def in_time(self) -> str:
        """ "Not too late", or "Not too early" where that was asked."""
        early = self.question.cue("too_early") is not None and self.question.cue("too_late") is None
        return "Not too early" if early else "Not too late"

    @property
    def is_forecast(self) -> bool:
        """The temperature stands for weather to come, not for some other number in the text."""
        ask = self.question.ask
        roles = {t.role for t in ask.temps}
        return not ask.temps or ask.when is not None or bool(roles & {"low", "outside", "air"})

    def not_then(self, verdict: Verdict) -> str:
        """Whether it may be done on the day, said beside a time: "now is fine", "not in November"."""
        return {
            "yes": f"{self.day} is fine",
            "tight": f"{self.day} is possible with care",
            "no": f"not {self.day}",
        }[verdict]


@dataclass(frozen=True, slots=True)
class PlantCalled:
    """A plant as a sentence calls it: "elder", "elders"."""

    one: str
    many: str


def called(plant: Woody, refs: tuple[CropRef, ...], assumed: bool) -> PlantCalled:
    """By the grower's own word where it is one of the plant's names, by its general name where the kind was taken for
    granted, else by its own name."""
    known = (*plant.generic_names, *plant.names) if assumed else (*plant.names, *plant.generic_names)
    low = {name.lower(): name for name in known}
    typed = [ref.typed.strip().lower() for ref in refs if ref.id == plant.base]
    for word in typed:
        one = next((n for n in low if word in (n, plural_of(n, tuple(low)))), None)
        if one is not None and (assumed or len(plant.generic_names) == 0 or low[one] in plant.names):
            return _name(low[one], known, plant)
    return _name(known[0], known, plant)


def _name(one: str, known: tuple[str, ...], plant: Woody) -> PlantCalled:
    if plant.group == "herb":  # lavender and sage are not counted
        return PlantCalled(one, one)
    singular = next((n for n in known if plural_of(n, known) == one and n != one), one)
    return PlantCalled(singular, plural_of(singular, known))
