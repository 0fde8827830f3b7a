"""Seed tested in a damp towel: so many of so many came up - sow it, sow thicker, or buy fresh."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.topics.shared.grammar import listed, sentence
from gardenmate.topics.shared.raising import Named

_GOOD, _FAIR, _POOR = 0.9, 0.6, 0.4  # as packeted; worth sowing thickly; buy fresh below (common practice)


def seed_test(question: Request) -> tuple[int, int] | None:
    """Seeds that came up and seeds tested, when they were counted ("7 of 10 came up")."""
    up, tried = question.first("count", "up"), question.first("count", "tried")
    return None if up is None or tried is None else (int(up.number), int(tried.number))


def tested_answer(question: Request, crops: Sequence[Named], up: int, tried: int) -> Answer:
    """yes = sow it, somewhat thicker; tight = sow thickly; no = buy fresh."""
    share = up / tried
    verdict: Verdict = "yes" if share >= _FAIR else ("tight" if share >= _POOR else "no")
    names = listed(n.name for n in crops)
    what = f"{names} seed" if names else "that seed"
    times = f"{_GOOD / share:.1f} times as many seeds" if share else ""
    says = {
        "yes": f"Yes, sow {what}: {share:.0%} came up"
        + (f", so sow {times} as from a fresh packet" if share < _GOOD else ", as good as a fresh packet"),
        "tight": f"Only thickly: {share:.0%} of {what} came up, so sow {times} as from a fresh packet",
        "no": f"No, buy fresh: only {share:.0%} of {what} came up, and weak seed gives weak plants",
    }[verdict]
    return Answer(
        question=question,
        verdict=verdict,
        headline=f"{sentence(says).removesuffix('.')}.",
        numbers=(Number("came_up", round(100 * share), "%", "came up in the test"),),
        details=(f"A test of {tried} seeds is rough: a few more or fewer would be no surprise.",)
        if tried < 50
        else (),
        sources=("common-practice",),
    )
