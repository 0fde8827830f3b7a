"""Which module answers which topic. A module is imported the first time its topic is asked."""

from __future__ import annotations

from importlib import import_module
from typing import Protocol, cast

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World

MODULES: dict[str, str] = {
    "late-start": "season.answer",
    "early-start": "season.answer",
    "when-start": "season.answer",
    "harvest-date": "season.answer",
    "germination": "germination.answer",
    "heat-and-light": "seedlings.heat_and_light",
    "potting-up": "seedlings.potting_up",
    "hardening-off": "seedlings.hardening_off",
    "frost": "frost.answer",
    "cold-frame": "frame.answer",
    "pruning": "pruning.answer",
    "propagation": "propagation.answer",
    "buy-or-sow": "costs.answer",
    "how-many": "quantities.answer",
    "agenda": "agenda.answer",
    "garden": "garden.answer",
    "log": "log.answer",
    "explain": "explain.answer",
    "out-of-scope": "safety.out_of_scope",
    "unclear": "safety.out_of_scope",
}


class RuleModule(Protocol):
    """A file of gardenmate/topics: one function that answers."""

    def answer(self, question: Request, world: World) -> Answer:
        """The reply to ``question`` in ``world``; pure: no clock, no files, no drawing."""
        ...


def rule_for(topic: str) -> RuleModule:
    """The rule module of a topic. Raises KeyError for an unknown topic."""
    return cast(RuleModule, import_module(f"gardenmate.topics.{MODULES[topic]}"))
