"""Is a text about the garden a question only, or does it (also) tell something to keep.

A question leaves the stored garden as it is, whatever place, date or gear it names; a sentence that tells
("we're in Boise now, what's my last frost?") and a request to keep something ("can you set it to Boise?") do
not. The text is read sentence by sentence, and at the commas.
"""

from __future__ import annotations

import re

from gardenmate.core.pattern import Pattern

_OPENERS = (
    r"(?:(?:and|so|but|hi|hey|hello|ok|okay|well|oh|no|yes|sorry|actually|please|right|also|then|now|since|as|"
    r"because|by the way|just to let you know)\b[\s,]*)*"
)
_REQUEST = Pattern(
    rf"^{_OPENERS}(?:(?:can|could|will|would)\s+(?:you|i|we|that|it|this)\s+(?:please\s+|just\s+|be\s+)?)?"
    r"(?:set|change|put|make|note|remember|store|keep|save|update|switch|correct|add|remove|delete|forget|"
    r"record|write)\b"
)
_ASKS = Pattern(
    rf"^{_OPENERS}(?:what|when|where|which|who|whose|how|why|is|isn'?t|are|am|was|were|does|doesn'?t|do|"
    r"don'?t you|did|has|have (?:i|we|you)|had|will|would|can|could|should|shall|may|might|must|any|"
    r"tell me|show|list|give me|compare|look up|find|check|remind|if)\b"
)
_TELLS = Pattern(
    rf"^{_OPENERS}(?:(?:i|we)(?:'?m|'?re|'?ve|\s+(?:all|both|also|now|just|really|finally))*\s+\w+|"
    r"i'?m|we'?re|(?:my|our|the|this|here|it|there|that|mum'?s)\b.*\b(?:is|are|was|were|has|sits|faces|costs)\b|"
    r"(?:it|there|here)'?s\b)"
)
# "Frost dates for Fairbanks", "growing season in Reno": a thing to look up, with a place and no day told.
_LOOK_UP = Pattern(
    rf"^{_OPENERS}(?:the\s+|usual\s+|average\s+|typical\s+|expected\s+|normal\s+)*(?:(?:last|first)\s+)?"
    r"(?:(?:spring|fall|autumn|average|killing|hard|light)\s+)*"
    r"(?:(?:frost|freeze)(?:[- ]free)?(?:\s+(?:dates?|days?|season|period))?|growing season|season length|"
    r"(?:usda\s+|hardiness\s+)*zone)\b(?!\s*(?:pocket|hollow|cloth|is\b|was\b|:|\d))"
)
_DAY = Pattern(
    r"\b(?:\d{1,2}(?:st|nd|rd|th)?|jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*\b|\d"
)
_OPENING = Pattern(rf"^\W*{_OPENERS}")
_SENTENCE = re.compile(r"(?<=[.!?;\n])\s+")
_COMMA = re.compile(r",\s{1,3}|\s{1,3}-+\s{1,3}")


def only_asks(text: str) -> bool:
    """True when nothing in ``text`` tells of the garden or asks for something to be kept."""
    plain = text.lower().replace("’", "'").strip()
    sentences = [s for s in _SENTENCE.split(plain) if s.strip()]
    return bool(sentences) and all(_sentence_asks(s) for s in sentences)


def _sentence_asks(sentence: str) -> bool:
    sentence = _OPENING.sub("", sentence)
    parts = [p.strip() for p in _COMMA.split(sentence) if p.strip()]
    if not parts or any(_REQUEST.search(p) for p in parts):
        return False
    question_mark = sentence.rstrip().endswith("?")
    first = parts[0]
    if _ASKS.search(first):
        return question_mark or not any(_told(p) for p in parts[1:])
    if _LOOK_UP.search(first) and not _DAY.search(sentence):
        return True
    if not question_mark:
        return False
    return not any(_told(p) for p in parts)


def _told(part: str) -> bool:
    return _TELLS.search(part) is not None and _ASKS.search(part) is None
