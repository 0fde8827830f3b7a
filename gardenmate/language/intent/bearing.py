"""Which of the values said bear on a topic: the others are detail of a story."""

from __future__ import annotations

from typing import Any

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import SEASON_TOPICS, Slots
from gardenmate.language.intent.reading import Draft
from gardenmate.language.text.spans import words
from gardenmate.records import replace

# Topics in which any quantity bears on the answer; elsewhere only how many plants there are.
OF_AMOUNTS = words("log potting-up buy-or-sow how-many garden explain unclear")
# Numbers of a story that bear on some topics only: elsewhere they are detail.
# Topics in which any length of time bears on the answer; "one week" of a story bears on no other.
_LASTING = words(
    "germination harvest-date heat-and-light potting-up hardening-off propagation explain unclear"
)
_LASTING_TOO = words("late-start early-start when-start cold-frame pruning how-many")
_ONLY_FOR: dict[str, frozenset[str]] = {
    "people": frozenset({"how-many", "garden", "buy-or-sow", "log", "unclear"}),
    "price": words("buy-or-sow heat-and-light log propagation how-many garden unclear"),
    "days_to_maturity": frozenset({*SEASON_TOPICS, "log", "garden", "explain", "unclear"}),
    "plant_age_years": words("pruning propagation harvest-date garden unclear"),
    "method": frozenset({*SEASON_TOPICS, "buy-or-sow", "how-many", "log", "explain", "unclear"}),
    "cultivar_class": frozenset({*SEASON_TOPICS, "buy-or-sow", "how-many", "log", "explain", "garden",
    "frost", "unclear"}),
}  # fmt: skip


def slots_for(topic: str, said: Slots) -> Slots:
    """What was said, without the numbers that mean nothing for the topic."""
    if topic == "out-of-scope":
        return Slots()
    dropped: dict[str, Any] = {name: None for name, topics in _ONLY_FOR.items() if topic not in topics}
    for name in ("days", "weeks"):
        amount = getattr(said, name)
        if topic not in _LASTING and (topic not in _LASTING_TOO or (amount or 0) <= 1):
            dropped[name] = None
    return replace(said, **dropped)


_BUYING = Pattern(r"\b(?:just (?:buy|grab|get)|if i (?:am )?buy(?:ing)?|buying anyway)\b")
_OR_BUY = Pattern(
    r"\bor (?:just |do i |should i |shall i )?(?:buy|get|grab|plug|plants|starts|seedlings|cheat)\b"
)


def without_choice(said: Slots, topic: str, draft: Draft) -> Slots:
    """Bought plants are the method only when settled on, not when they are one side of the question."""
    if said.method != "starts":
        return said
    text = " ".join(t.word for t in draft.board.tokens)
    sowing = draft.cues.get("start_verb") == "sow"  # "shop plants cost a bomb. too late to sow?"
    settled = _OR_BUY.search(text) is None and not sowing
    settled = _BUYING.search(text) is not None if topic == "buy-or-sow" else settled
    return said if settled else replace(said, method=None)
