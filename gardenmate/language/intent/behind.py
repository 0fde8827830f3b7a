"""Short turns behind a report, a plan or a look-up: what is told by a number alone, added, counted again or judged."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from gardenmate.core.question import SEASON_TOPICS, Deed, Request
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.clauses_told import is_past
from gardenmate.language.intent.elliptic import BESIDE_A_NAME, bare_crop, puts_no_question
from gardenmate.language.intent.names_told import NameMark
from gardenmate.language.intent.plans_told import PLANS, plan_heard
from gardenmate.language.intent.reading import Context, Draft
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import words

_MOST_TOLD = 12  # words; a longer line tells a story (design value)
_MOST_ADDED = 8  # words of a line that adds to the deed before; design value
_MOST_JUDGED = 5  # words of a question that judges the deed before; design value
_SPEAKS = 0.5  # share from which a topic's own words are taken at their word (design value)
_CLEARLY = 0.6  # share of its topic from which a line is clearly one; design value
_HEARD = 0.1  # share under which a topic is not heard at all; design value
_PLAINLY = 0.9  # share from which a line needs nothing of those before; design value
_MOST_OF_ONE_SELF = 9  # words of such a question where the grower speaks of himself; design value
_ONE_SELF = words("was were did have should am")
_BEGINS = frozenset({"sow", "plant", "set-out"})
_KEPT = frozenset({"log", "garden", "unclear", "out-of-scope"})
_TAKES_NUMBERS = frozenset({"buy-or-sow", "how-many", "frost", "cold-frame", "explain"})
"""Behind these a number alone adds to the question: "how many for us?", "4 peppers and 10 tomatoes"."""
_SUPPOSES = words("if suppose supposing say would could should can maybe want need mine")
_LOWS = words("low lows night nights forecast degrees frost")
_DONE = words("done did finished")
_NOW = words("now up so far of them em only just about already today and so thats it is are that")
_QUESTION_WORDS = words("when how where which what who whats whens why wheres hows")
_ENOUGH = words("enough plenty overkill many few")
_SAID_OF_IT = words("is that it too are they those for us of them was so much")


def tells_by_number(draft: Draft, marks: Sequence[NameMark], context: Context) -> bool:
    """ "6 in mounds by the tank", "24 broadies beside them": how many and where, or of what, and nothing asked: begun,
    though no verb says so."""
    said = {t.word for t in draft.board.tokens}
    kinds = {m.kind for m in marks}
    before = context.asked or context.previous
    if not puts_no_question(draft) or draft.found.decisive is not None:
        return False
    if "action" in kinds and draft.board.word(0) in _DONE:
        return True
    if "count" not in kinds:
        return False
    if len(draft.board.tokens) > _MOST_TOLD or said & _SUPPOSES:
        return False
    own = draft.ranked[0] if draft.ranked else None
    goes_on = context.told and bool(context.deeds) and context.deeds[-1].action not in PLANS
    sure = "where" in kinds or (goes_on and bool(draft.crops))  # "12 celeriac" behind "48 onions"
    sure = sure and not (before is None and own is not None and own.share >= _PLAINLY)
    if own is not None and own.topic not in _KEPT and own.share >= _SPEAKS and not sure:
        return False
    asked_cold = before is not None and before.topic in ("frost", "cold-frame") and not draft.crops
    nights = bool(said & _LOWS) or any(t.role is not None for t in draft.slots.temps)
    if said & _QUESTION_WORDS or nights or (asked_cold and draft.board.of("temp")):
        return False
    known = bool(draft.crops) or bool(before is not None and before.crops) or bool(context.deeds)
    placed = bool(kinds & {"where", "action", "date"}) or "of them" in draft.board.words(
        0, len(draft.board.tokens)
    )
    alone = bool(draft.crops) and (goes_on or before is None or before.topic not in _TAKES_NUMBERS)
    return known and (placed or alone)


def adds_a_place(draft: Draft, marks: Sequence[NameMark], context: Context) -> bool:
    """ "In the cold frame by the way", "they are in bed 3": where the plants of the report before stand."""
    kinds = {m.kind for m in marks}
    plain = puts_no_question(draft) and draft.found.decisive is None and not draft.crops
    short = len(draft.board.tokens) <= _MOST_ADDED and not draft.slots.temps
    return (
        context.told
        and bool(context.deeds)
        and plain
        and short
        and "where" in kinds
        and kinds <= {"where", "all"}
    )


def counts_again(draft: Draft, context: Context) -> bool:
    """ "15 now" behind "6 peppers are up": the plants of the deed before, counted again."""
    tokens = draft.board.tokens
    numbers = [t for t in tokens if t.number is not None]
    before = context.previous
    cold = before is not None and bool(before.ask.temps)
    counted = bool(context.deeds) and context.deeds[-1].action in ("up", "harvest", "lost")
    rest = {t.word for t in tokens if t.number is None}
    said = len(numbers) == 1 and bool(rest & words("now so up")) and rest <= _NOW
    return said and counted and not cold and puts_no_question(draft)


def judged(draft: Draft, context: Context, facts: Facts) -> str | None:
    """The topic of a short question behind a report or plan whose words speak of nothing else: what is asked of such a
    deed ("is that bad?" behind "6 are up"), by knowledge/deeds.toml; None for any other."""
    if not context.told or not context.deeds or puts_no_question(draft):
        return None
    if context.previous is None or context.previous.topic != "log":
        return None
    most = (
        _MOST_OF_ONE_SELF
        if draft.board.word(0) in _ONE_SELF and draft.board.word(1) in ("i", "we")
        else _MOST_JUDGED
    )
    if "start_verb" in draft.cues or len(draft.board.tokens) > most:
        return None
    deed = context.deeds[-1]
    if deed.action in PLANS and deed.of in _BEGINS:
        return "when-start"
    action = deed.of or deed.action if deed.action in PLANS else deed.action
    others = {ref.id for ref in draft.crops} - {ref.id for ref in deed.crops}
    own = next((r for r in draft.ranked if r.topic not in _KEPT and r.topic != "explain"), None)
    said = {t.word for t in draft.board.tokens}
    if said & _QUESTION_WORDS or not any(w.isalpha() for w in said):
        return None
    if others or bare_crop(draft):
        return None
    if _ENOUGH & said and not said - _ENOUGH - _SAID_OF_IT and deed.count is not None:
        return "how-many"
    if own is not None and own.share >= _CLEARLY:
        return None
    if "mat" in (draft.cues.get("gear") or ""):
        return "heat-and-light"
    row = facts.table("deeds").get(action, {})
    return str(row["asked_of"]) if "asked_of" in row else None


_NOT_A_NIGHT = frozenset({"frost", "cold-frame", "hardening-off", "explain"})
_NOT_BY_NIGHT = frozenset({"germination", "heat-and-light"})
_AIR = frozenset({None, "low", "outside"})


def asks_of_a_night(draft: Draft, request: Request, topic: str) -> str | None:
    """ "19 on Sunday night, do any of those care": a low is typed, so the plants spoken of are asked about for that
    night, whatever was asked before."""
    lows = [t for t in draft.slots.temps if t.role in _AIR]
    night = {t.word for t in draft.board.tokens} & _NIGHT
    about = bool(request.crops) and bool(lows) and bool(night)
    if topic in _NOT_BY_NIGHT and not night & _TONIGHT:
        return None  # "will it sprout at 48": no night is spoken of
    return "frost" if about and topic not in _NOT_A_NIGHT else None


_TONIGHT = words("tonight overnight forecast")
BARE_NIGHT = 4  # words; "30 tonight" names no plant and points at none: it is about all that stands outside


_NIGHT = words(
    "tonight night overnight forecast dips drops frost frosts minus mind care survive live hurt kill low"
)


def not_explained(draft: Draft, topic: str, context: Context) -> str | None:
    """What else the words speak for, where they ask for an explanation and no answer stands before them."""
    before = context.asked or context.previous
    if topic != "explain" or draft.found.decisive is not None:
        return None
    if before is None or before.topic not in _KEPT:
        return None
    own = next(r for r in draft.ranked if r.topic not in ("explain", "out-of-scope"))
    return own.topic if own.share >= _HEARD else None


_NOW_OR_WHEN = words("now yet today tonight tomorrow when inside outside indoors outdoors still")
_WHEN = words("when whens")
_STILL = words("when whens now yet still")


def names_only(draft: Draft, context: Context) -> str | None:
    """The topic of a plant's name with a "?", "now" or "when" beside it and nothing else, behind a turn that asked
    nothing of plants: when to begin it, or whether it is still time; "radish when" behind its sowing, the picking."""
    board = draft.board
    held = {i for s in board.spans if s.tag in ("crop", "family") for i in range(s.start, s.end)}
    rest = {t.word for i, t in enumerate(board.tokens) if i not in held} - BESIDE_A_NAME
    if not held or rest - _NOW_OR_WHEN or not (rest & _STILL or "?" in draft.text):
        return None
    before = context.asked or context.previous
    if before is None and draft.ranked[0].share >= _CLEARLY:
        return None
    if rest & _WHEN:
        done = {ref.id for deed in context.deeds for ref in deed.crops if deed.action in _BEGINS}
        return "harvest-date" if context.told and {ref.id for ref in draft.crops} <= done else "when-start"
    asked = before is not None and before.topic in _GOES_ON
    if before is not None and asked and context.told and "?" in draft.text:
        return (
            before.topic if before.topic in SEASON_TOPICS else "late-start"
        )  # what was asked has been answered
    return None if asked else "late-start"


_GOES_ON = frozenset(
    {
        "late-start", "early-start", "when-start", "harvest-date", "germination", "potting-up", "hardening-off",
        "frost", "cold-frame", "pruning", "propagation", "buy-or-sow", "how-many", "heat-and-light", "explain",
    }
)  # fmt: skip


_OBJECTS = words("it them em these those the my our all both up out off in on away back some a two three")
_OPENERS = words("ok right just also and then so i we finally")
_NO_DEED = words("need needed used unused red")


def opens_with_a_deed(draft: Draft) -> bool:
    """ "Dragged it on the porch", "netted", "earthed up then": a verb in the past without its subject opens the line,
    and nothing is asked."""
    board = draft.board
    i = 0
    while board.word(i) in _OPENERS:
        i += 1
    verb, follows = board.word(i), board.word(i + 1)
    if (
        verb in _NO_DEED
        or not puts_no_question(draft)
        or draft.found.decisive is not None
        or bool({t.word for t in board.tokens} & (_QUESTION_WORDS | {"or"}))
    ):
        return False
    if any(r.topic not in _KEPT and r.share >= _SPEAKS for r in draft.ranked[:1]):
        return False  # "sowed beets three weeks ago and nothing is up" tells why it asks
    done = is_past(verb)
    counted = i + 1 < len(board.tokens) and board.tokens[i + 1].number is not None
    named = any(s.start == i + 1 and s.tag in ("crop", "family", "date") for s in board.spans)
    return done and (not follows or follows in _OBJECTS or counted or named)


def asks_on(draft: Draft, context: Context, today: date) -> bool:
    """ "And the corn sown may 25" behind a question of the season: asked as before, for a day still to come."""
    before = context.previous
    ahead = any(isinstance(s.value, date) and s.value > today for s in draft.board.of("date"))
    asked = before is not None and not context.told and before.topic in SEASON_TOPICS
    return (
        asked
        and ahead
        and draft.board.word(0) == "and"
        and bool(draft.crops)
        and draft.found.decisive is None
    )


def unknown_named(draft: Draft, context: Context, lexicon: Lexicon) -> str | None:
    """The one word of "fireweed?" or "and yacon" behind a question about plants, where it is none that is known."""
    before = context.asked or context.previous
    if before is None or before.topic not in _GOES_ON or draft.crops or draft.cues.get("unknown"):
        return None
    rest = [t for t in draft.board.tokens if t.word not in BESIDE_A_NAME]
    if len(rest) != 1 or not (
        draft.text.rstrip().endswith("?") or draft.board.word(0) in ("and", "or", "what", "how")
    ):
        return None
    token = rest[0]
    plain = token.number is None and token.word.isalpha() and len(token.word) >= _SHORTEST_NAME
    strange = token.word not in lexicon.vocabulary and not lexicon.is_english(token.word)
    return token.raw if plain and strange and not draft.board.spans else None


_SHORTEST_NAME = 4  # letters of a word that may be a name; design value


def tells_as_before(draft: Draft, deeds: Sequence[Deed], context: Context) -> bool:
    """True for plants counted or named with no word of a plan and no day, behind a report: "plus 20 broads at the end"
    was done as those before it."""
    said = draft.board.words(0, len(draft.board.tokens))
    planned = plan_heard(said, "") or _WILL & set(said.split())
    dated = any(d.on is not None for d in deeds)
    done = context.told and bool(context.deeds) and context.deeds[-1].action not in PLANS
    counted = any(d.count is not None or d.variety is not None for d in deeds)
    return done and counted and not planned and not dated and draft.found.decisive is None


_WILL = words("will shall going gonna plan want need next later tomorrow then")


def asks_back(draft: Draft, act: str, context: Context) -> bool:
    """ "Oh. So?", "today's fine?" behind a question about plants, and read as small talk: asked of it again."""
    before = context.asked or context.previous
    short = len(draft.board.tokens) <= _FEW_BACK and draft.text.rstrip().endswith("?")
    return act == "talk" and short and before is not None and before.topic in _GOES_ON and not draft.crops


_FEW_BACK = 4  # words of a question thrown back; design value


def not_up(draft: Draft, context: Context) -> bool:
    """ "Peppers aren't up, worried?", "leeks aren't, worried?" behind "sprouts are up": seed that is waited for."""
    said = [t.word for t in draft.board.tokens]
    denied = next((i for i, word in enumerate(said) if word in ("not", "nothing", "none", "no")), None)
    if denied is None or not draft.crops or puts_no_question(draft):
        return False
    behind_up = context.told and bool(context.deeds) and context.deeds[-1].action == "up"
    shows = bool({"up", "through", "showing", "sprouted", "emerged", "germinated"} & set(said[denied:]))
    ends = denied + 1 == len(said) or "," in draft.board.tokens[denied + 1].gap
    return shows or (behind_up and ends)


def begins_instead(draft: Draft, topic: str, context: Context) -> str | None:
    """The topic of a start asked about behind another question: "would you start the beans" behind a night of frost,
    "daft to do them now?" behind "when?"; None where the words ask on."""
    before, said = context.previous, {t.word for t in draft.board.tokens}
    if before is None or context.told or before.topic != topic:
        return None
    if topic == "frost" and draft.crops and "start_verb" in draft.cues and not draft.slots.temps:
        return next((r.topic for r in draft.ranked if r.topic in SEASON_TOPICS), "early-start")
    now = bool(said & words("now today yet already")) and not said & _WHEN
    return "early-start" if topic == "when-start" and now and not draft.crops else None


def agrees_to_a_day(draft: Draft, marks: Sequence[NameMark], today: date) -> bool:
    """ "Ok, sow kale and radishes sunday": agreed to, with a deed, its plants and a day to come; nothing is asked."""
    if draft.board.word(0) not in _AGREES or not puts_no_question(draft) or draft.found.decisive is not None:
        return False
    ahead = any(m.kind == "date" and isinstance(m.value, date) and m.value > today for m in marks)
    return ahead and {"action", "crop"} <= {m.kind for m in marks}


_AGREES = words("ok okay right yes yep fine")
