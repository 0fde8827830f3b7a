"""Which of the log's services a text asks for: record, done, skip, list, undo, redo, correct, export.

The shape of the sentence decides (an order to note, a question, a taking back); the language's own cue is
asked where the shape says nothing.
"""

from __future__ import annotations

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Request
from gardenmate.language.values.deeds import asking_part, is_told_to_log, own_words

_POLITE = r"^\W*(?:(?:please|ok|no|sorry|oh|oops|wait|and|so|hey|hi|well)\W+)*"


_UNDO = Pattern(
    _POLITE + r"(?:undo+|scrap|scratch|delete?|remove|erase|strike|cancel)\b",
    _POLITE + r"(?:forget (?:that|it|the last)|take (?:that|it|the last) (?:\w+ )?(?:back|out))\b",
    r"\bundo\b",
    r"didn'?t mean that",
)
_REDO = Pattern(
    r"\bredo\b", r"\b(?:put|bring) (?:it|that|them|the \w+) back\b", r"\bbring back\b", r"\brestore\b"
)
_PUT_BACK = Pattern(r"^\W*(?:please )?(?:put|bring) (?:it|that|them|the \w+) back\b")
_CORRECT = Pattern(
    r"\bmake (?:it|that)\b",
    r"\b(?:correct|fix|amend)\b",
    r"\bshould (?:be|have been)\b",
    r"\bi meant?\b|\bmistake\b",
    r"\bit (?:was|is|were) .+\bnot\b",
    r"^\W*(?:sorry|no)\b.*\bnot\b",
    r"\bchange .+\bto\b",
    r"^\W*(?:no|sorry|actually|oops)\W+(?:(?:it|that|they) (?:was|were)\b|\d)",
)
# What was just said or noted is called wrong, and nothing is told to put in its place.
_WRONG = Pattern(
    _POLITE + r"(?:no,? )?(?:that|it|this|which)(?:'s| is| was|s)? (?:all |just |quite )?"
    r"(?:wrong|a mistake|my mistake|an error|not right|incorrect|a slip|a typo)\W*$",
    _POLITE + r"(?:my mistake|wrong one|wrong entry|that entry is wrong)\W*$",
)
_TAKE_IT_BACK = Pattern(
    r"\bundo (?:that|it|this|the last)\b", r"\b(?:take (?:that|it) back|scrap that|scratch that)\W*$"
)
_NEW_VALUE = Pattern(
    r"\b(?:it|that|they) (?:was|were|is|are) (?:only )?\d",
    r"\bmake (?:it|that)\b",
    r"\bshould (?:be|have been)\b",
)
_BOOK_ALONE = Pattern(r"^\W*(?:the |my )?(?:log|logbook|journal|diary|notes|records)\W*$")
_KEEP = Pattern(r"\b(?:write|note|log|record) (?:down )?that (?:the|i|we|my|it)\b")
_EXPORT = Pattern(
    r"\b(?:export|spreadsheet|csv|markdown|ics|icalendar|calendar file|download|json)\b",
)
_DONE = Pattern(
    r"\b(?:did|done) (?:it|that|them)\b",
    r"^\W*(?:done|all done|did it)\W*$",
    r"\bticks? (?:it|that) off\b",
    r"^\W*(?:yes|yep|yeah|ok|sure)?\W*(?:please )?"
    r"(?:log|note|record|save|add|write) (?:it|that|this)(?: down)?\W*$",
)
_SKIP = Pattern(r"\bskip(?:ped|ping)?\b", r"\b(?:leave|drop) (?:it|that) (?:out|this year)\b")
_ASKING = Pattern(
    _POLITE + r"(?:what'?s?|when'?s?|where|which|how|show|list|find|search|read|tell me)\b",
    _POLITE + r"(?:remind|did|have you|has|whose)\b",
    _POLITE + r"(?:is there|are there|was|were|any|look up|print|give me)\b",
    _POLITE + r"(?:the )?(?:last|latest|newest) \w+\W*$",
    _POLITE + r"(?:can|could|would) you (?:ever )?(?:tell|show|find|remind)\b",
    r"\bdid i\b|\bwhat i (?:wrote|noted|logged)\b|\bdig (?:that|it) out\b|\bwhen was it\b",
    r"\b(?:notes|log|entries|entry|journal|diary|records)\W*$",
    r"\?\s*$|^\W*and (?:on|in)\b",
)


def action_of(question: Request) -> str:
    """The service asked for; "wrong" when the latest entry is only called so."""
    text = asking_part(question.text)
    told = is_told_to_log(question.text)
    if _DONE.search(text) and len(own_words(text).split()) <= 6:
        return "done"
    if _BOOK_ALONE.search(text):
        return "list"
    if _PUT_BACK.search(text):
        return "redo"
    if _WRONG.search(text):
        return "wrong"
    if _TAKE_IT_BACK.search(text) and not _NEW_VALUE.search(text):
        return "undo"
    told = told or _KEEP.search(text) is not None
    if told and not text.endswith("?"):
        return "record"
    for action, pattern in (
        ("correct", _CORRECT),
        ("redo", _REDO),
        ("undo", _UNDO),
        ("export", _EXPORT),
        ("list", _ASKING),
        ("skip", _SKIP),
    ):
        if pattern.search(text):
            return action
    cue = question.cue("action")
    if cue in ("record", "list", "undo", "redo", "correct", "export", "done", "skip"):
        return cue
    return "list" if cue == "show" or (question.crops and len(text.split()) <= 2) else "record"


_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "couple": 2, "both": 2}
_STEPS = Pattern(
    r"\blast (\d+|two|three|four|five|six|couple)\b",
    r"\b(\d+|two|three|four|five|six) (?:entries|things|notes|steps)\b",
    r"\b(both)\b",
)
_ENTRY_NUMBER = Pattern(r"\b(?:entry|no\.?|number|#)\s*(\d{1,9})\b")


def steps_in(question: Request) -> int:
    """How many changes an undo or redo is to go back."""
    match = _STEPS.search(asking_part(question.text))
    if match is None:
        return 1
    word = next(group for group in match.groups() if group)
    return _NUMBERS.get(word) or max(1, min(100, int(word)))


def entry_number(question: Request) -> int | None:
    """The entry named by its number ("delete entry 12")."""
    match = _ENTRY_NUMBER.search(asking_part(question.text))
    return None if match is None else int(match[1])
