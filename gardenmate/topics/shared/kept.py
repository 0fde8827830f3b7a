"""The line back on what was told: noted, or, where nothing is stored, that it can't be."""

from __future__ import annotations

from gardenmate.core.world import World

NOT_KEPT = "I keep no notes here, so it won't be saved."


def noted(said: str, world: World) -> str:
    """A fact of the garden: "Noted: 2 people to feed." Where nothing is stored it holds for the conversation only."""
    return f"Noted: {said}." if world.keeps else f"Noted for now: {said}. {NOT_KEPT}"


def logged(said: str, world: World) -> str:
    """A deed or a plan: "Noted: sowed peas, 3 Apr." Where nothing is stored it is not kept at all."""
    return f"Noted: {said}." if world.keeps else f"Understood: {said}. {NOT_KEPT}"
