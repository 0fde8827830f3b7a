"""What a turn leaves to those before it: its plants, the night asked about, whether it was done as the last deed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from types import MappingProxyType

from gardenmate.core.question import SEASON_TOPICS, CropRef, Deed, Request, Typed
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.plans_told import PLANS, plan_heard
from gardenmate.language.intent.reading import Context, Draft
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.near_days import DAYS
from gardenmate.language.values.temperatures import only_a_number
from gardenmate.records import replace

ABOUT_PLANTS = frozenset(
    {
        "late-start", "early-start", "when-start", "harvest-date", "germination", "potting-up", "hardening-off",
        "frost", "cold-frame", "pruning", "propagation", "buy-or-sow", "how-many", "heat-and-light",
    }
)  # fmt: skip  # fmt: skip
_THEY = words("they them these those")
_BESIDE_A_NAME = words("and or the then too so what about how ok same also for a my")
_SUMS = frozenset("+*=/")
_FEW = 3  # words
_A_REMARK = 2  # words
_MOST_JUDGED = 5  # words
_QUESTION_WORDS = words("when how where which what who whats whens why wheres hows")
_OF_A_DEED = frozenset(
    {*SEASON_TOPICS, "explain", "log"}
)  # what "too early?" and "is that bad?" speak for alone
_SHORTEST_NAME = 4  # letters (design value)
_WILL = words("will shall going gonna plan want need next later tomorrow then")


def of_a_night(context: Context) -> bool:
    """True behind a question about a night of frost: "it hit 29" tells how it went."""
    before = context.asked or context.previous
    return before is not None and before.topic == "frost"


def points_back(draft: Draft) -> bool:
    """True for a text with a pronoun for plants spoken of."""
    return bool({t.word for t in draft.board.tokens} & (_THEY | {"em", "it", "all", "both"}))


def they_and_named(draft: Draft, context: Context) -> tuple[CropRef, ...]:
    """The plants before and the ones named, where a pronoun is set beside a name: "do they get it or do the onions"."""
    said = [t.word for t in draft.board.tokens]
    before = context.plants("last")
    if not before or not draft.crops or "or" not in said:
        return ()
    at = said.index("or")
    first = min((s.start for s in draft.board.of("crop")), default=0)
    if not _THEY & set(said[:at]) or first < at:
        return ()
    known = {ref.id for ref in draft.crops}
    return (*(ref for ref in before if ref.id not in known), *draft.crops)


def unknown_named(draft: Draft, context: Context, lexicon: Lexicon) -> str | None:
    """The one word of "fireweed?" or "and yacon" behind a question about plants, where it is none that is known."""
    before = context.asked or context.previous
    if before is None or before.topic not in ABOUT_PLANTS or draft.crops or draft.cues.get("unknown"):
        return None
    rest = [t for t in draft.board.tokens if t.word not in _BESIDE_A_NAME]
    if len(rest) != 1 or not (
        draft.text.rstrip().endswith("?") or draft.board.word(0) in ("and", "or", "what", "how")
    ):
        return None
    token = rest[0]
    plain = token.number is None and token.word.isalpha() and len(token.word) >= _SHORTEST_NAME
    strange = token.word not in lexicon.vocabulary and not lexicon.is_english(token.word)
    return token.raw if plain and strange and not draft.board.spans else None


def without_strangers(request: Request, lexicon: Lexicon) -> Request:
    """The question without the plants of turns before that nothing is known of, told as such."""
    strange = [ref for ref in request.crops if ref.id in lexicon.strangers.values()]
    if not strange:
        return request
    known = tuple(ref for ref in request.crops if ref not in strange)
    names = tuple(Typed("unknown-plant", ref.typed or ref.id.replace("-", " "), ref.id) for ref in strange)
    cues = request.cues if known else MappingProxyType({**request.cues, "unknown": str(names[0].value)})
    return replace(request, crops=known, cues=cues, typed=(*request.typed, *names))


def only_a_value(draft: Draft) -> bool:
    """True for a turn that is a temperature or the units alone: "41", "in celsius"."""
    board = draft.board
    units = "units" in draft.cues and len(board.tokens) <= _FEW
    return units or (only_a_number(board) is not None and bool(board.of("temp")))


def says_nothing(draft: Draft, lexicon: Lexicon) -> bool:
    """True for a text without a word that is known ("sdkfjh"), and for a sum: "2+2"."""
    said = draft.text
    if not any(c.isalpha() for c in said):
        return any(c in _SUMS for c in said)
    words_typed = [t.word for t in draft.board.tokens if t.word.isalpha()]
    known = any(
        word in lexicon.vocabulary
        or lexicon.is_english(word)
        or lexicon.turn_weights.of(f"r:{word}") is not None
        for word in words_typed
    )
    return bool(words_typed) and not known and not draft.board.spans


_OWN = words(
    "i we my our us im ive weve here garden gardens gardening gardener moved move moving live living home plot "
    "allotment based located place farm homestead yard croft"
)


def of_elsewhere(draft: Draft) -> bool:
    """True for what is said of a place and of nobody's garden: "frost-free days in Denver" asks, and tells nothing."""
    spans = draft.board.of("place")
    named = {i for s in spans for i in range(s.start, s.end)}
    tokens = [t for i, t in enumerate(draft.board.tokens) if i not in named]
    rest = {t.word for t in tokens}
    if any(t.number is not None for t in tokens):  # a date, a height, a zone is told
        return False
    return bool(spans) and not rest & _OWN and len(rest - _LEADS_TO) > 1


_LEADS_TO = words("in near at from by of for outside around just ok and hi hello so well")


def remarks(draft: Draft, context: Context) -> bool:
    """True for a word or two in a conversation that ask and name nothing: "lol", "good lad"."""
    quiet = "ask" not in draft.found.signals and not draft.board.spans
    return bool(context.before.pair) and quiet and 0 < len(draft.board.tokens) <= _A_REMARK


def judged(draft: Draft, topic: str, context: Context, facts: Facts) -> str:
    """The topic of a short question behind a report that names nothing itself ("too early?", "is that bad?"): what is
    asked of such a deed, by knowledge/deeds.toml; ``topic`` for any other."""
    said = {t.word for t in draft.board.tokens}
    names = bool(draft.crops) or "start_verb" in draft.cues or bool(said & _QUESTION_WORDS)
    deed = context.said.deed
    if context.said.pair != "report/log" or deed is None or names or len(said) > _MOST_JUDGED:
        return topic
    return str(facts.table("deeds").get(deed, {}).get("asked_of", topic)) if topic in _OF_A_DEED else topic


def tells_as_before(draft: Draft, deeds: Sequence[Deed], context: Context) -> bool:
    """True for plants counted or named with no word of a plan and no day, behind a report: "plus 20 broads at the end"
    was done as those before it."""
    said = draft.board.words(0, len(draft.board.tokens))
    planned = plan_heard(said, "") or _WILL & set(said.split())
    dated = any(d.on is not None for d in deeds)
    done = context.told and bool(context.deeds) and context.deeds[-1].action not in PLANS
    counted = any(d.count is not None or d.variety is not None for d in deeds)
    return done and counted and not planned and not dated and draft.found.decisive is None


def weekdays_on(board: Board) -> tuple[Typed, ...]:
    """Every day of a correction told by its weekday alone: that one is the nearest to the entry it puts right."""
    days = [s for s in board.of("date") if s.end > s.start and isinstance(s.value, date)]
    return tuple(
        Typed("weekday", s.value, start=s.start, end=s.end) for s in days if board.word(s.end - 1) in DAYS
    )
