"""The clear dome over a seed tray: off once most are up."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World


def answer(question: Request, world: World) -> Answer:
    """When the dome comes off, and how to water after it. Verdict yes: take it off."""
    return Answer(
        question=question,
        verdict="yes",
        headline="Take the dome off once most of the seeds are up; prop it open the day the first ones show.",
        details=(
            "Still, wet air under it is what damping off needs, which topples seedlings at the soil line.",
            "Before that keep it on: drying out as they sprout kills seed.",
        ),
        steps=(
            "Water from below: stand the tray in water for half an hour, then let it drain.",
            "Keep the mix moist, never soggy, and let air move over them.",
        ),
        changes=(
            "Seedlings that have toppled at the soil line do not recover: take them out with their mix.",
        ),
        sources=("umn-growing-healthy-transplants", "common-practice"),
        polar=False,
    )
