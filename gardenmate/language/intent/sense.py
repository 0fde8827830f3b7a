"""Whether a question wants yes or no for an answer, and whose yes that is.

"Can I set them out?" wants one; "when", "how many", "which is cheaper" and "sow or buy?" do not. To "will it kill
them?" and "is it too late?" a person hears the opposite of what the doing is worth. Only function words and the
few words that turn a question round are looked at: nothing here knows a crop or a job.
"""

from __future__ import annotations

from itertools import groupby

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import NO_SENSE, Sense
from gardenmate.language.text.spans import Board

_AUXILIARY = (
    r"(?:is|are|am|was|were|do|does|did|can|could|should|shall|will|would|may|might|must|has|have|had|need|dare|"
    r"ought)"
)
_LEAD = r"^(?:(?:and|but|so|ok|okay|then|well|now|also|please|hi|hey|hello|or|still|just|even|really|oh|what if) )*"
_SUBJECT = (
    r"(?:i|we|you|he|she|it|they|this|that|these|those|there|my|our|the|a|an|any|anyone|anybody|one|some|all|"
    r"both|either|mine|ours|here|\w+s)"
)
# A question that begins so names what it wants instead of yes or no.
_WANTS = r"(?:when|where|which|what|who|whose|why|how|whats|whens|wheres|hows|howto|whichever)"
_OPENS_WANTING = Pattern(rf"{_LEAD}(?:(?:about|by|at|for|from|in|on|to|until|with) )?{_WANTS}\b")
_WANTING = Pattern(
    rf"\b{_WANTS}(?: (?:else|many|much|long|deep|far|close|often|hard|soon|late|early|big|high|low|hot|cold|warm|"
    rf"old|size|kind|time|date|day|days|week|month|way|temperature|pot|of the|\w+))?(?: \w+)? "
    rf"(?:{_AUXILIARY}|to)\b|\bhow (?:many|much|long|deep|far|often)\b|\b{_WANTS}$"
)
_ASKS_TO_BE_TOLD = Pattern(
    rf"\b(?:tell|show|remind|know|knows|idea|wonder|wondering|wondered|sure|decide|remember|say)\b.*\b{_WANTS}\b"
)
_OPENS_FIGURE = Pattern(r"^(?:(?:and|so|ok|then) )*(?:how (?:deep|far|close|often)|when)\b")
_INHERITS = Pattern(
    rf"{_LEAD}(?:what about|how about|what if|same|ditto|likewise)\b",
    r"^(?:and|but|or) ",
    r"\b(?:too|then|as well|also|instead|though)$",
)
_SUPPOSES = Pattern(rf"{_LEAD}what if\b|^what if\b")
_OPENS_POLAR = Pattern(
    rf"{_LEAD}(?:{_AUXILIARY}|too|ok|okay|safe|worth|any|enough|time|good|fine|alright|possible|still|ready)\b"
)
_POLAR = Pattern(rf"\b{_AUXILIARY} (?:not )?{_SUBJECT}\b|\b(?:if|whether) (?:i|it|they|we|this|that|there)\b")
_EITHER_OR = Pattern(r"\bor\b|\bversus\b|\bvs\b|\brather than\b|\binstead of\b")
# What stands behind an "or" that offers no second choice: a negation, a number, the same fear in other words.
_NO_CHOICE = Pattern(
    rf"\bor (?:not|no|nah|so|two|more|less|later|earlier|sooner|better|below|above|under|over|worse|something|"
    rf"anything|whatever|other|\d+|too|have|has|did|is it|am i|are we|will (?:i|it|they|we)|do i|"
    rf"{_AUXILIARY} (?:i|it|they|we) \w+ (?:blown|missed|late))\b"
)
_WEIGHS = Pattern(r"\b(?:cheaper|better|best|easier|rather|worse|which)\b")
# Words by which yes means "don't" or "it is lost".
_TURNS = Pattern(
    r"\btoo? (?:late|early|soon)\b|\btoo (?:much|many|cold|hot|warm|wet|dry|small|big|large|tall|old|young|dark|"
    r"leggy|far|long|near|close)\b",
    r"\bmiss(?:ed)?\b|\bblown it\b|\bleft it\b",
    r"\b(?:kill|harm|hurt|damage|ruin|rot|bolt|stunt|stress)(?:s|es|d|ed|ted)?\b",
    r"\bdie[sd]?\b|\bdead\b|\blose\b|\blost\b|\b(?:they|it|them|plants) (?:\w+ )?freeze\b|\bset (?:it|them) back\b",
    r"\bdoomed\b|\bhopeless\b|\bpointless\b|\bdanger(?:ous)?\b|\brisky?\b|\bdaft\b|\bcrazy\b|\bfoolish\b|\bgoners?\b",
)
# Asked in these words the doing itself is in question, whatever danger is named beside it.
_PERMITS = Pattern(
    r"\b(?:ok|okay|safe|fine|all right|alright|worth|good idea|should|can|could|may|shall|still time|survive|"
    r"live|stand|take|tolerate|cover|bring|protect|need|time to)\b"
)
_MOST_BARE_WORDS = 6
_TAGS = frozenset(
    {"true", "right", "correct", "really", "yes", "no", "is that right", "is that true", "is it"}
)


def sense_of(board: Board, previous: Sense | None = None) -> Sense:
    """How the words want to be answered. ``previous`` is the sense of the turn before, which a turn without a
    question of its own ("and the kale?") takes over."""
    sentences = _sentences(board)
    if not sentences:
        return NO_SENSE
    figure = _OPENS_FIGURE.search(sentences[0][0]) is not None
    return _wanted(board, sentences, previous)._replace(figure=figure)


def _wanted(board: Board, sentences: list[tuple[str, bool]], previous: Sense | None) -> Sense:
    marked = [text for text, asked in sentences if asked]
    texts = marked or [text for text, _ in sentences]
    headed = [text for text in texts if _wants(text) or _polar(text)]
    text = (headed[0] if marked else headed[-1]) if headed else texts[-1]
    leans = _INHERITS.search(text) is not None and not _polar(text)
    if previous is not None and _few(board) and (leans or (not headed and not marked)):
        return previous if _SUPPOSES.search(text) is None else NO_SENSE
    if text in _TAGS:  # "..., too late to sow kale. true?"
        text = " ".join(said for said, _ in sentences)
    if _wants(text):
        return NO_SENSE
    bare = not _polar(text)
    if (bare and not marked and len(board.tokens) > _MOST_BARE_WORDS) or _chooses(text):
        return NO_SENSE
    return Sense(polar=True, turned=_turned(text))


def _sentences(board: Board) -> list[tuple[str, bool]]:
    """Each sentence in mended, lower-case words, and whether it ends in a question mark."""
    return [
        (" ".join(token.word.lower() for token in tokens), number in board.text.questions)
        for number, tokens in groupby(board.tokens, key=lambda token: token.sentence)
    ]


def _few(board: Board) -> bool:
    return len(board.tokens) <= 2 * _MOST_BARE_WORDS


def _wants(text: str) -> bool:
    """True when a time, a number, a way or a reason is wanted."""
    if _OPENS_WANTING.search(text) is not None or _ASKS_TO_BE_TOLD.search(text) is not None:
        return True
    wanting, polar = _WANTING.search(text), _POLAR.search(text)
    if wanting is None or _OPENS_POLAR.search(text) is not None:
        return False
    return polar is None or wanting.start() < polar.start()


def _polar(text: str) -> bool:
    return _OPENS_POLAR.search(text) is not None or _POLAR.search(text) is not None


def _chooses(text: str) -> bool:
    """True when one of two ways is to be chosen."""
    if _EITHER_OR.search(text) is None:
        return False
    return _WEIGHS.search(text) is not None or _NO_CHOICE.search(text) is None


def _turned(text: str) -> bool:
    """True when yes would mean that it does not work. What counts is what the question asks first."""
    first = text.partition(" or ")[0]
    turns, permits = _TURNS.search(first), _PERMITS.search(first)
    return turns is not None and (permits is None or turns.start() < permits.start())
