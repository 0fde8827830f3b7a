"""What a short turn leaves unsaid: the deed of the report before, the night of the question before, both plants."""

from __future__ import annotations

from datetime import date

from gardenmate.core.question import CropRef, Request, Typed
from gardenmate.knowledge.deeds import NOTE
from gardenmate.language.intent.plans_told import PLANS
from gardenmate.language.intent.reading import Context, Draft
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.near_days import DAYS

_MOST_WORDS = 9  # a longer line says what it means (design value)
_FEW = 5  # words of a line that leaves the rest out; design value
_JOINS_ON = words("and plus also again")
_OWN_MATTER = (
    0.9  # share of a topic from which a text that opens with "and" still asks of its own (design value)
)
_SPEAKS = 0.6  # share of a topic from which a text's own words are taken at their word
_CLEARLY = 2.0  # times the share of the next topic from which a weak reading counts (design value)
_ALIKE = words("too also same likewise ditto")  # no correction of the deed before: another like it
_NEAR = words("tonight today tomorrow now")
_WENT = words("went moved came took put got brought carried shifted")
_NO_ANSWER = frozenset({"log", "garden", "explain", "out-of-scope", "unclear"})
_BOTH = words("both either neither")
_ALL = words("all any each every none")
_THEY = words("they them these those")
_WAS = words("was were am is are did do does have has had should shall will would can could")
_SUBJECTS = words("i we they it that this those these")
_STANDS = words("is are still just only")
_NOT_DONE = frozenset({NOTE, "decide", "set-out", "up", "plan", "done"})


def puts_no_question(draft: Draft) -> bool:
    """True for a text without a question mark and without a word that asks."""
    inverted = draft.board.word(0) in _WAS and draft.board.word(1) in _SUBJECTS
    asks = "ask" in draft.found.signals or bool(draft.board.text.questions) or "?" in draft.text
    return not (asks or inverted)


def goes_on_reporting(draft: Draft, act: str, topic: str, context: Context) -> bool:
    """ "carrots too, same bed" behind "peas went in, bed 1": a report that leaves its deed to the report before; or
    one that tells a number or a deed done and asks nothing: "three up, three not"."""
    before = context.previous
    if not puts_no_question(draft) or draft.found.decisive is not None:
        return False
    if (
        act in ("ask", "manage")
        and topic == "log"
        and ("past" in draft.found.signals or draft.board.of("count"))
    ):
        return True
    alike = act in ("correct", "plan") and any(t.word in _ALIKE for t in draft.board.tokens)
    alike = alike and not (context.deeds and context.deeds[-1].action in PLANS)
    told = (
        (act == "ask" or alike)
        and before is not None
        and before.topic == "log"
        and context.told
        and bool(context.deeds)
    )
    short = len(draft.board.tokens) <= _MOST_WORDS
    own = bool(draft.ranked) and draft.ranked[0].topic == topic and topic != "log"
    own = own and (draft.board.word(0) not in _JOINS_ON or draft.ranked[0].share >= _OWN_MATTER)
    return (
        told and short and bool(draft.crops) and not bare_crop(draft) and not own
    )  # a name alone is asked about, as before it


def leaves_the_question(draft: Draft, topic: str) -> bool:
    """ "ok I'll buy 3" behind a question: it asks nothing, counts or dates, and its words speak for the log."""
    best = draft.ranked[0] if draft.ranked else None
    if (
        best is None
        or best.topic != "log"
        or best.share < _SPEAKS
        or topic == "log"
        or not puts_no_question(draft)
    ):
        return False
    told = bool(draft.board.of("count")) or "past" in draft.found.signals
    return told or (bool(draft.board.of("date")) and not draft.crops)


def plans_both(draft: Draft, both: tuple[CropRef, ...]) -> bool:
    """ "both tonight then": the plants spoken of, a day, and nothing asked."""
    said = {t.word for t in draft.board.tokens}
    short = len(draft.board.tokens) <= _FEW
    return short and bool(both) and puts_no_question(draft) and bool(said & _NEAR or draft.board.of("date"))


def tells_a_move(draft: Draft, today: date) -> bool:
    """ "they went in the frame yesterday": a day gone by and a verb of what was done; nothing is asked."""
    gone = any(isinstance(s.value, date) and s.value <= today for s in draft.board.of("date"))
    return gone and puts_no_question(draft) and any(t.word in _WENT for t in draft.board.tokens[:3])


def season_of_the_list(draft: Draft, topic: str, context: Context) -> str:
    """The topic of a question that names a plant behind the list of the week and says nothing of the week itself: what
    its own words speak for, and for a bare name whether there is still time; else ``topic``."""
    before = context.asked or context.previous
    behind = before is not None and before.topic == "agenda" and not puts_no_question(draft)
    if topic != "agenda" or not behind or not draft.crops:
        return topic
    if bare_crop(draft):
        return "late-start"
    own = [r for r in draft.ranked if r.topic not in _NO_ANSWER][:2]
    clear = own[:1] == draft.ranked[:1] and own[0].share >= _CLEARLY * own[1].share
    return own[0].topic if clear else topic


def stands_out(draft: Draft, deed: str, context: Context) -> bool:
    """ "the peas are out too and the kale" behind a question about a night of frost: more plants for that night, told
    without a deed, a count or a day of their own."""
    before = context.asked or context.previous
    if before is None or before.topic != "frost" or not draft.crops or deed not in _NOT_DONE:
        return False
    tokens = draft.board.tokens
    plain = not draft.board.of("count") and not draft.slots.count and not draft.board.of("date")
    return plain and len(tokens) <= _MOST_WORDS and any(t.word in _STANDS for t in tokens)


def both_spoken_of(draft: Draft, spoken: tuple[CropRef, ...]) -> tuple[CropRef, ...]:
    """The last two plants spoken of where the text says "both" or "either" and names none, the last few at "any of
    them"; else nothing."""
    said = {t.word for t in draft.board.tokens}
    if draft.crops or len(spoken) < 2:
        return ()
    if said & _BOTH or "of the two" in draft.board.words(0, len(draft.board.tokens)):
        return spoken[-2:]
    return spoken if said & _ALL and said & _THEY else ()


def still_spoken_of(draft: Draft, spoken: tuple[CropRef, ...]) -> tuple[CropRef, ...]:
    """The last plant spoken of, for a pronoun behind turns that named none: "if I set them both out 7 June"."""
    said = {t.word for t in draft.board.tokens}
    return spoken[-1:] if not draft.crops and said & (_THEY | _BOTH) else ()


def asks_to_begin(draft: Draft, request: Request) -> bool:
    """ "sow more beans?", "more kale, sow?": a question with a deed still to be done asks nothing of the log."""
    done = "past" in draft.found.signals or "did" in {t.word for t in draft.board.tokens}
    return "?" in draft.text and "start_verb" in draft.cues and bool(request.crops) and not done


def they_and_named(draft: Draft, before: Request | None) -> tuple[CropRef, ...]:
    """The plants before and the ones named, where a pronoun is set beside a name: "do they get it or do the onions"."""
    said = [t.word for t in draft.board.tokens]
    if before is None or not before.crops or not draft.crops or "or" not in said:
        return ()
    at = said.index("or")
    first = min((s.start for s in draft.board.of("crop")), default=0)
    if not _THEY & set(said[:at]) or first < at:
        return ()
    known = {ref.id for ref in draft.crops}
    return (*(ref for ref in before.crops if ref.id not in known), *draft.crops)


def weekdays_on(board: Board) -> tuple[Typed, ...]:
    """Every day of a correction told by its weekday alone: that one is the nearest to the entry it puts right."""
    days = [s for s in board.of("date") if s.end > s.start and isinstance(s.value, date)]
    return tuple(
        Typed("weekday", s.value, start=s.start, end=s.end) for s in days if board.word(s.end - 1) in DAYS
    )


BESIDE_A_NAME = words("and or the then too so what about how ok same also for a my")


def bare_crop(draft: Draft) -> bool:
    """True for a plant's name and next to nothing else: "beets", "and turnips?"."""
    held = {i for s in draft.board.spans if s.tag in ("crop", "family") for i in range(s.start, s.end)}
    rest = [t.word for i, t in enumerate(draft.board.tokens) if i not in held]
    return bool(held) and all(word in BESIDE_A_NAME for word in rest)
