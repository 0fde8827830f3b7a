"""A crop lost to a pest and begun again: what is asked is whether there is time, not about the pest."""

from __future__ import annotations

from gardenmate.core.pattern import Pattern
from gardenmate.language.intent.reading import Draft, Reading
from gardenmate.records import replace

_AGAIN = Pattern(
    r"\b(?:re-?sow(?:ing)?|re-?plant(?:ing)?|re-?seed(?:ing)?|start(?:ing)? over|try again|"
    r"(?:sow|plant|start|seed|put|grow)(?: \w+){0,3} (?:again|more|another|anew|afresh)|"
    r"(?:second|another) (?:sowing|planting|go|try))\b",
    ignore_case=True,
)
_LOST = Pattern(
    r"\b(?:ate|eaten|eat|chewed|nibbled|dug|destroyed|killed|wiped out|got|gone|lost|damped|rotted|trampled|"
    r"flattened|died|dead|pulled up|finished off|took|taken|mown|mowed|munched|devoured|stripped)\b",
    ignore_case=True,
)
_LOGS = Pattern(r"^\W*(?:log|note|record)\b", ignore_case=True)
# Where such a question strays to: the pest leads away, or the story is taken for something to be kept.
_STRAYED = frozenset({"out-of-scope", "unclear", "log", "when-start", "early-start", "harvest-date"})


def begun_again(reading: Reading, draft: Draft) -> Reading:
    """The reading, turned to "is there time" when a lost crop is to be sown or planted again."""
    question = reading.question
    asked = "ask" in draft.found.signals or "?" in draft.text
    if question.topic not in _STRAYED or not draft.crops or not asked or _LOGS.search(draft.text):
        return reading
    if _AGAIN.search(draft.text) is None or _LOST.search(draft.text) is None:
        return reading
    cues = {name: value for name, value in question.cues.items() if name not in ("asks", "why_out")}
    turned = replace(question, topic="late-start", crops=draft.crops, slots=draft.slots, cues=cues)
    return reading._replace(question=turned, readings=())
