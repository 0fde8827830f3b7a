"""Plants that are pruned and never sown, told by what they show: "elder has inch-long leaves, too late?"."""

from __future__ import annotations

from dataclasses import replace

from gardenmate.core.question import SEASON_TOPICS, Request
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.woody import woody_kinds
from gardenmate.language.said import plain
from gardenmate.language.said.plants import sees_growth


def as_woody(request: Request, facts: Facts) -> Request:
    """Too late, too early or when, of bushes and trees: bare-root ones are to be planted, which is told with making new
    plants; of those seen in bud or leaf cutting is meant, where planting is not said."""
    if request.topic not in SEASON_TOPICS or not request.crops:
        return request
    if not all(facts.crop_for(ref) is None and woody_kinds(facts, ref.id) for ref in request.crops):
        return request
    if request.cue("bare_root"):
        return replace(request, topic="propagation")
    cutting = not request.cue("start_verb") and sees_growth(plain(request.text))
    return replace(request, topic="pruning") if cutting else request
