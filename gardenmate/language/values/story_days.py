"""Days of what happened: "they arrived in January", "hacked every October", "wrapped up since February".

Such a day is no day of the question. The verb nearest before the day in its own clause decides, or the word that leads
to the day.
"""

from __future__ import annotations

from gardenmate.language.text.spans import Board, Span, words

_LEADS = words("since every each")
_RULE = words("normally usually always generally")
_PIECES = words("cuttings seedlings plants sticks runners prunings")
_HAPPENED = words(
    "was were had got came went lost broke did took gave made found fell grew dug bought brought kept left meant "
    "met ran said sat sent sold spent stood stuck told thought threw woke won wrote ate missed happened bolted burst"
)
_NO_PAST = words(
    "need seed weed bed feed speed red indeed raised mixed used bleed breed shed tired advised supposed"
)
_JOBS_DONE = words(
    "pruned cut divided moved potted planted sown sowed transplanted lifted picked started seeded"
)
_BE = words("be is are get being can should could would will to best if must")
_WILLED = words("meant used forgot tried wanted hoped")
_WHO = words("i we he she they it was were got had have has")
_TURNS = words("and but so then now when if should can could would will is are do does to wants want says")
_REACH = 8  # words before a day that say what happened on it; design value


def of_the_story(board: Board, span: Span) -> bool:
    """True for a day that only tells when something happened."""
    lead = board.word(span.start - 1)
    if _as_a_rule(board, span) or (lead == "from" and board.word(span.start - 2) in _PIECES):
        return True  # "mine normally go in at the end of March", "cuttings from August"
    if lead in _LEADS or (lead == "of" and board.word(span.start - 2) in ("all", "half")):
        return True
    if any(
        board.word(span.start - k) in _LEADS for k in (2, 3, 4) if board.word(span.start - k + 1) in _PARTS
    ):
        return True
    if lead == "last" and board.word(span.start) not in ("week", "days"):
        return True
    return _verb_before(board, span.start)


def _as_a_rule(board: Board, span: Span) -> bool:
    """True for what is usual, told in the same sentence."""
    sentence = board.tokens[span.start].sentence
    return any(
        t.word in _RULE and t.sentence == sentence for t in board.tokens[max(0, span.start - 7) : span.start]
    )


def lasted(board: Board, span: Span) -> bool:
    """True for how long the story lasted: "lost in the post for three weeks", "70 degrees for a week now"."""
    if board.word(span.end) == "of" and board.word(span.end + 1) in _TROUBLE:
        return True
    if board.word(span.start - 1) != "for" or board.word(span.end) == "ago":
        return False
    weather = any(s.end <= span.start <= s.end + 4 for s in board.of("temp"))
    return (weather and board.word(span.end) == "now") or _verb_before(board, span.start - 1)


_TROUBLE = words(
    "flood floods flooding rain rains drought heat snow frost wet dry drizzle wind storms cold clouds cloud grey gray"
)
"""Weather that lasted: "three weeks of flooding, the ground is only now fit to dig"."""
_PARTS = words("the early mid late end start middle beginning")


def _verb_before(board: Board, start: int) -> bool:
    """True when the nearest verb before token ``start``, in its own clause, tells of the past."""
    sentence = board.tokens[start].sentence if start < len(board.tokens) else 0
    for i in range(start - 1, max(-1, start - 1 - _REACH), -1):
        token = board.tokens[i]
        if token.sentence != sentence or "," in board.tokens[i + 1].gap:
            return False
        if token.word in _HAPPENED or _regular_past(token.word):
            return _happened(board, i)
        if token.word in _TURNS and not (token.word == "to" and board.word(i - 1) in _HAPPENED | _WILLED):
            return False
    return False


def _regular_past(word: str) -> bool:
    return len(word) > 4 and word.endswith("ed") and word not in _NO_PAST


def _happened(board: Board, i: int) -> bool:
    """True unless the verb at token ``i`` is a participle of what may yet be done ("best pruned in July")."""
    near = {board.word(i - k) for k in (1, 2)}
    if near & _BE:
        return False
    return board.word(i) not in _JOBS_DONE or bool({board.word(i - k) for k in (1, 2, 3)} & _WHO)
