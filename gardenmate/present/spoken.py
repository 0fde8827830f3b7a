"""The word before the first line: YES, TIGHT or NO as a person hears it.

The machine verdict judges the doing, however it was asked about. The word answers the question: it stands
only where yes or no was asked for (TIGHT only where there is a last day), and is the other one where the question
was turned round ("is it too late?", "will 15 F kill my garlic?").
"""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.pattern import Pattern
from gardenmate.records import replace

WORDS = {"yes": "YES", "tight": "TIGHT", "no": "NO"}
_TURNED = {"yes": "NO", "tight": "TIGHT", "no": "YES"}
# Its verdict chooses one of two ways; asked "should I buy?", neither word says which.
_CHOICES = frozenset({"buy-or-sow"})
# Topics whose verdict may judge a remedy ("open it", "turn it on"): neither word is sure of the harm.
_REMEDIES = frozenset({"cold-frame", "heat-and-light", "germination", "agenda"})
# Topics with a last day to be tight of; elsewhere the first line says by itself what the risk is.
_DEADLINES = frozenset({"late-start", "when-start", "harvest-date"})
# Topics whose first line answers "too late?" and "too early?" in those very words, as the machine contract has it.
_OWN_TERMS = frozenset({"late-start", "early-start", "pruning"})
_OPENS = Pattern(r"^(?:yes|no)(?: need)?\b\s*[,.:;]\s*(?=\S)", ignore_case=True)


def word_of(answer: Answer) -> str:
    """YES, TIGHT or NO, or nothing where the question wants another answer."""
    sense = answer.question.sense
    polar = sense.polar if answer.polar is None else answer.polar
    if answer.verdict is None or not polar or answer.question.topic in _CHOICES:
        return ""
    if answer.verdict == "tight" and answer.question.topic not in _DEADLINES:
        return ""
    if not sense.turned:
        return WORDS[answer.verdict]
    if answer.question.topic in _OWN_TERMS and answer.verdict != "tight":
        return ""
    return "" if answer.question.topic in _REMEDIES else _TURNED[answer.verdict]


def spoken(answer: Answer) -> tuple[str, str]:
    """The word and the first sentence, which does not say yes or no a second time, nor against the word."""
    word = word_of(answer)
    match = _OPENS.match(answer.headline)
    kept = answer.verdict == "tight" and not word  # "yes, but only ..." is all that says it may be done
    if answer.verdict is None or kept or match is None or len(match[0]) == len(answer.headline):
        return word, answer.headline
    text = answer.headline[match.end() :]
    return word, text[0].upper() + text[1:]


def without_yes(answer: Answer) -> Answer:
    """The answer to a question in which a danger was heard: what was found, but no yes, neither as the word before the
    first line nor at its beginning."""
    match, told = _OPENS.match(answer.headline), answer.headline
    if match is not None and told[:1] in "Yy" and match.end() < len(told):
        told = told[match.end()].upper() + told[match.end() + 1 :]
    return replace(answer, verdict=None if answer.verdict == "yes" else answer.verdict, headline=told)
