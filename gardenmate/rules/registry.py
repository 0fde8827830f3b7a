"""Which module answers which topic. A module is imported the first time its topic is asked."""

from __future__ import annotations

from importlib import import_module
from typing import Protocol, cast

from gardenmate.answer import Answer
from gardenmate.question import Question
from gardenmate.world import World

MODULES: dict[str, str] = {
    "late-start": "season_questions",
    "early-start": "season_questions",
    "when-start": "season_questions",
    "harvest-date": "season_questions",
    "germination": "germination",
    "heat-and-light": "heat_and_light",
    "potting-up": "potting_up",
    "hardening-off": "hardening_off",
    "frost": "frost",
    "cold-frame": "cold_frame",
    "pruning": "pruning",
    "propagation": "propagation",
    "buy-or-sow": "buy_or_sow",
    "how-many": "how_many",
    "agenda": "agenda",
    "garden": "garden_facts",
    "log": "log",
    "explain": "explain",
    "out-of-scope": "out_of_scope",
    "unclear": "out_of_scope",
}


class RuleModule(Protocol):
    """A file of gardenmate/rules: one function that answers."""

    def answer(self, question: Question, world: World) -> Answer:
        """The reply to ``question`` in ``world``; pure: no clock, no files, no drawing."""
        ...


def rule_for(topic: str) -> RuleModule:
    """The rule module of a topic. Raises KeyError for an unknown topic."""
    return cast(RuleModule, import_module(f"gardenmate.rules.{MODULES[topic]}"))
