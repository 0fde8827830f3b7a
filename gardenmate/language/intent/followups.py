"""One turn in a conversation: what it takes over from the turn before, what it replaces, what it drops."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import SEASON_TOPICS, CropRef, Request, Slots
from gardenmate.language.intent.bearing import OF_AMOUNTS, slots_for, without_choice
from gardenmate.language.intent.elliptic import both_spoken_of, they_and_named
from gardenmate.language.intent.explaining import about_the_answer, asked_of_it
from gardenmate.language.intent.meant import OF_A_PLANT, elsewhere, of_it, plant_meant
from gardenmate.language.intent.reading import Context, Draft, Reading
from gardenmate.language.intent.salience import crops_in_question
from gardenmate.language.intent.telling import tells_crops, tells_done, tells_purchase
from gardenmate.language.intent.topics import Ranked
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import words
from gardenmate.language.values.amounts import plants_counted
from gardenmate.language.values.own_frost import asked_day, own_frost
from gardenmate.language.values.shifts import shifted_by
from gardenmate.language.values.stated import stated
from gardenmate.language.values.stated_figures import figures
from gardenmate.language.values.temperatures import only_a_number
from gardenmate.records import replace

LEAST = 0.3  # a topic with a smaller share of the evidence than this is not taken
SEASON_LEAST = 0.5  # the topics of the season together: their answers show the same windows
OWN = 0.75  # a follow-up whose own words have this share for one topic is a new subject
LEAVES = 0.92  # a follow-up leaves the topic before when its own words have this share for another
LEAVES_A_REPORT = (
    0.38  # a question behind a report, when what was asked before it is not heard in its words at all
)
LEAVES_ASKING = (
    0.75  # a question with a word that asks, when the topic before is not heard in its words at all
)
_HARDLY = 0.05  # share of a topic that hardly speaks of it; design value
_OWN_MATTER = frozenset(
    {
        *SEASON_TOPICS,
        "germination",
        "buy-or-sow",
        "how-many",
        "heat-and-light",
        "potting-up",
        "hardening-off",
        "pruning",
        "propagation",
    }
)
LEAVES_EASILY = 0.55  # "why", and one season topic for another
LEAVES_THE_GARDEN = 0.97  # out of scope
NEVER = 2.0  # share of a topic no line reaches: one is the most
LEAVES_HARDLY = 0.9  # a statement, which mostly adds to what was asked
UNSURE = 0.4  # a text about the garden is not refused on a smaller share than this, but asked about
CLOSE = 0.05  # two readings whose shares are nearer than this are put to the grower
DOUBTED = 0.2  # "out of scope" with this part of the best share: asked back, not answered
PLAINLY = (
    0.8  # from this share on words that tell of a purchase are still taken for a question (design value)
)
ENOUGH = 0.12  # a second reading is worth naming from this share on
# Cues that describe the plot or the plant and hold on while the subject does.
LASTING_CUES = words("cover stage bud_stage glazing vent sky wind gear method needed origin")
# What the days said before are the days of, as long as the season of a crop is spoken of.
_DAY_CUES = words("wanted_on out_on away begun_on begun_by seen_on seen about")
_KEPT_TOPICS = frozenset({"log", "garden", "unclear", "out-of-scope"})  # nothing was worked out under these
_SHORT = 9
_WHEN = words("when whens when's")
FEW = 3
_WITHOUT = frozenset({"without", "with", "using"})


def resolve(draft: Draft, lexicon: Lexicon, context: Context) -> Reading:
    """The reading of a draft in its conversation."""
    previous = context.previous
    chosen = _choice(draft, context)
    if chosen is not None:
        return Reading(chosen, None, tuple(draft.ranked))
    signals = draft.found.signals
    if tells_crops(draft.board) and not draft.text.rstrip().endswith("?"):
        told = _question(draft, "garden", draft.crops, Slots(), draft.cues, [])
        return Reading(told, None, tuple(draft.ranked))
    tells = tells_purchase(draft.board) or tells_done(draft.board)
    if draft.crops and not _asks(draft) and tells and not _speaks_of_a_question(draft):
        return Reading(
            _question(draft, "log", draft.crops, Slots(), draft.cues, []), None, tuple(draft.ranked)
        )
    if previous is not None and _follows(draft, previous, signals):
        return _follow(draft, previous, signals, lexicon, context.spoken, context.told)
    return _fresh(draft, lexicon, previous)


def _speaks_of_a_question(draft: Draft) -> bool:
    """True where the words speak plainly for something asked: "buy or sow 6 tomatoes, no lights"."""
    best = _best(draft.ranked)
    return best is not None and best.topic not in _KEPT_TOPICS and best.share >= PLAINLY


def _asks(draft: Draft) -> bool:
    return "ask" in draft.found.signals or draft.text.rstrip().endswith("?")


def _choice(draft: Draft, context: Context) -> Request | None:
    """The offered reading that a short reply picks: by its number, its topic's word, or first/second."""
    if not context.pending or len(draft.board.tokens) > 6:
        return None
    words = [t.word for t in draft.board.tokens]
    order = {"first": 0, "1": 0, "one": 0, "former": 0, "second": 1, "2": 1, "two": 1, "latter": 1,
        "last": -1,
             "third": 2, "3": 2, "three": 2}  # fmt: skip
    for word in words:
        if word in order and order[word] < len(context.pending):
            return context.pending[order[word]]
    for question in context.pending:
        if set(words) & set(question.topic.split("-")):
            return question
    best = _best(draft.ranked)
    if best is None or best.share < LEAST:
        return None
    return next((question for question in context.pending if question.topic == best.topic), None)


def _follows(draft: Draft, previous: Request, signals: frozenset[str]) -> bool:
    """True when a turn leans on the one before: it opens so, or is too short to stand alone."""
    best = _best(draft.ranked)
    if "units" in draft.cues and len(draft.board.tokens) <= FEW:  # "in celsius": the same again
        return True
    if _ticked_off(draft) or (about_the_answer(draft.board) and previous.topic not in _KEPT_TOPICS):
        return True
    if draft.board.word(0) in _WITHOUT and previous.crops and len(draft.board.tokens) <= _SHORT:
        return True  # "without hormone powder?": the same job, done otherwise
    leaves = best is not None and best.topic == "out-of-scope" and best.share >= LEAVES_THE_GARDEN
    if leaves and not (_only_a_value(draft) or of_it(draft)):
        return False
    opens = "follows" in signals
    strong = best is not None and best.share >= OWN and best.topic != "out-of-scope"
    strong = strong and not (_only_a_value(draft) or (of_it(draft) and bool(draft.board.of("count"))))
    if opens:
        return not (
            strong
            and best is not None
            and best.topic not in (previous.topic,)
            and "ask" in signals
            and len(draft.board.tokens) > _SHORT
        )
    return len(draft.board.tokens) <= _SHORT and not strong


def _tells_anew(draft: Draft, previous: Request) -> bool:
    """True for "actually it's May 3" behind a fact told of the garden: what corrects a fact tells it anew."""
    heard = draft.heard.shares
    return previous.topic == "garden" and max(heard, key=lambda pair: heard[pair]) == "correct/log"


def _shares(draft: Draft, topic: str) -> float:
    return next((r.share for r in draft.ranked if r.topic == topic), 0.0)


def _best(ranked: list[Ranked]) -> Ranked | None:
    return ranked[0] if ranked else None


def _follow(
    draft: Draft,
    previous: Request,
    signals: frozenset[str],
    lexicon: Lexicon,
    spoken: tuple[CropRef, ...] = (),
    told: bool = False,
) -> Reading:
    """The turn as a follow-up: its own topic if it clearly has one, else the topic before."""
    best = _best(draft.ranked)
    topic = previous.topic
    leaves = best is not None and best.share >= _bar_for(draft, best, previous, signals, told)
    leaves = leaves and not _tells_anew(draft, previous)
    if best is not None and leaves and not _only_a_value(draft) and "units" not in draft.cues:
        topic = best.topic
    if about_the_answer(draft.board) and previous.topic not in _KEPT_TOPICS:
        topic = "explain"
    if _ticked_off(draft):
        topic = "log"
    shift = shifted_by(draft, previous)
    if shift is not None and shift.of_the_job:
        topic, best = previous.topic, None
    elif previous.topic not in _NOT_SUPPOSED and (shift is not None or "anomaly" in draft.cues):
        topic = "explain"
    if topic in ("out-of-scope", "unclear"):
        return _fresh(draft, lexicon, previous)
    both = both_spoken_of(draft, spoken) if len(previous.crops) < 2 else ()
    crops = they_and_named(draft, previous) or draft.crops or _the_ones(draft, previous, lexicon) or both
    crops = crops or previous.crops
    if "family" in signals and not draft.crops:
        crops = previous.crops
    carried = _carried(previous, topic, draft)
    said_kind = next((c.kind for c in crops if c.kind), None)
    if not draft.crops and crops != previous.crops and said_kind:  # "and the red ones"
        draft = draft._replace(slots=replace(draft.slots, kind=said_kind))
    cues: dict[str, str] = {}
    if topic == previous.topic or topic == "explain":
        cues = {
            k: v
            for k, v in previous.cues.items()
            if k in LASTING_CUES
            or (k == "asks" and topic == previous.topic and not {"asks", "too_late"} & set(draft.cues))
        }
    if topic in (previous.topic, "explain") or _sister(topic, previous.topic):
        cues.update({k: v for k, v in previous.cues.items() if k in _DAY_CUES})
    cues.update(draft.cues)
    filled = []
    if shift is not None and shift.of_the_job:
        carried = replace(carried, date=shift.day)
        cues.pop("shift_days", None)
        filled.append(f"for {shift.day:%-d %B}")
    if not draft.crops and previous.crops:
        filled.append("still about " + _list(previous.crops))
    if topic == previous.topic and topic not in ("explain", "garden", "log"):
        filled.append("same question as before")
    question = _question(draft, topic, crops, carried, cues, filled)
    return Reading(question, _second(draft, question), tuple(draft.ranked))


_OF_MINE = words(
    "mine my is a it one day days old are we have got the that about of only there us now will be no wait oh "
    "actually this summer year in"
)


_VALUES = frozenset({"dtm", "age", "temp", "people", "people_part", "count"})


def _only_a_value(draft: Draft) -> bool:
    """True for a turn that adds a figure to the question before: "mine is a 63 day one", "60 with basil?"."""
    board = draft.board
    if only_a_number(board) is not None and board.of("temp"):
        return True
    given = [s for s in board.spans if s.tag in _VALUES]
    held = {i for s in given for i in range(s.start, s.end)}
    return bool(given) and all(t.word in _OF_MINE for i, t in enumerate(board.tokens) if i not in held)


# After these nothing can be worked again with the frost or the weather moved.
_NOT_SUPPOSED = frozenset({"garden", "log", "explain", "agenda"})
_TICKS = Pattern(
    r"^(?:(?:yes|yep|yeah|ok|okay|right|and|so|please) )*(?:(?:i|we)(?: have)? )?"
    r"(?:(?:did|done) (?:it|that|them|this)|"
    r"done$|(?:it|that) (?:is|was) done|(?:log|note|record|save|skip) (?:it|that|this|them))\b"
)


def _ticked_off(draft: Draft) -> bool:
    """ "Did it", "yes, log that", "skip that": the log is to keep what the answer before advised."""
    words = [t.word for t in draft.board.tokens]
    return len(words) <= 6 and _TICKS.match(" ".join(words)) is not None


def _the_ones(draft: Draft, previous: Request, lexicon: Lexicon) -> tuple[CropRef, ...]:
    """The crops before, turned by one word ("no, the hot ones"); empty when no word turns them."""
    said = {t.word for t in draft.board.tokens}
    turned: list[CropRef] = []
    for crop in previous.crops:
        for word, target in (*lexicon.ones.get(crop.id, {}).items(), *lexicon.kinds.get(crop.id, {}).items()):
            if word in said:
                base, _, kind = (
                    target.partition("/") if word in lexicon.ones.get(crop.id, {}) else (crop.id, "", target)
                )
                turned.append(CropRef(base, kind or None, word))
                break
    return tuple(turned)


def _bar_for(draft: Draft, best: Ranked, previous: Request, signals: frozenset[str], told: bool) -> float:
    """`_bar`, lower for "when do they go outside" behind "too early for tomatoes?", and for one behind a report in
    whose words the topic asked about before the report is not heard."""
    bar = _bar(best, previous, signals)
    if best.topic == "when-start" and draft.board.word(0) in _WHEN:
        bar = min(bar, LEAST)
    if told and best.topic in _OWN_MATTER and _shares(draft, previous.topic) < _HARDLY:
        bar = min(bar, LEAVES_A_REPORT)
    asks = "ask" in signals and previous.topic not in _KEPT_TOPICS
    if asks and best.topic in _OWN_MATTER and _shares(draft, previous.topic) < _HARDLY:
        bar = min(bar, LEAVES_ASKING)
    return bar


def _bar(best: Ranked, previous: Request, signals: frozenset[str]) -> float:
    """The share its own words must have for a follow-up to leave the topic before.

    "why" and "what if" leave easily; "and at 42 tonight?" does not; a statement ("it was in there") hardly.
    """
    if best.topic == "explain":
        return NEVER  # that is told by words of its own (see `about_the_answer`), not by leaning
    if best.topic == "out-of-scope":
        return LEAVES_THE_GARDEN
    if _sister(best.topic, previous.topic):
        return LEAVES_EASILY
    if "statement" in signals and best.topic not in ("log", "garden"):
        return LEAVES_HARDLY
    return LEAVES


def _sister(one: str, other: str) -> bool:
    return one in SEASON_TOPICS and other in SEASON_TOPICS


def _list(crops: tuple[CropRef, ...]) -> str:
    names = [c.typed or c.id.replace("-", " ") for c in crops]
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def _carried(previous: Request, topic: str, draft: Draft) -> Slots:
    """Slots of earlier turns that still apply: the place always; the rest while the subject holds.

    What belongs to one crop (its variety, kind, count, age, price) is dropped when another crop is named.
    """
    older = previous.ask
    if previous.cue("supposed"):
        older = replace(older, place=previous.carried.place)  # supposed for one answer
    place = Slots(place=older.place)
    same = topic == previous.topic or topic == "explain" or _sister(topic, previous.topic)
    if not same:
        keep = Slots(place=older.place, date=older.date if topic in SEASON_TOPICS else None)
        return keep if older.date else place
    if draft.crops and {c.id for c in draft.crops} != {c.id for c in previous.crops}:
        return replace(
            older, days_to_maturity=None, cultivar_class=None, kind=None, plant_age_years=None, price=None
        )
    return older


def _fresh(draft: Draft, lexicon: Lexicon, previous: Request | None) -> Reading:
    """The turn on its own."""
    ranked = draft.ranked
    best, next_best = ranked[0], ranked[1]
    carried = Slots()
    if previous is not None and not draft.slots.place:
        carried = Slots(place=(previous.carried if previous.cue("supposed") else previous.ask).place)
    crops = draft.crops
    filled: list[str] = []
    if best.topic == "explain" and previous is not None and not crops:
        crops, carried = previous.crops, previous.ask
    elif previous is not None and previous.crops and not crops and _still_of_it(draft, best, previous):
        crops = previous.crops
        filled.append("still about " + _list(crops))
    question = _question(draft, best.topic, crops, carried, draft.cues, filled)
    second = _second(draft, question)
    doubtful = "garden" in draft.found.signals and (best.share < UNSURE or _only_a_name(draft))
    if {"crop", "temp"} <= draft.found.signals and not draft.found.signals & {"care", "pest"}:
        doubtful = doubtful or not elsewhere(
            draft
        )  # a plant and a temperature: asked back, never turned away
    if best.topic == "out-of-scope" and not doubtful:
        if not plant_meant(draft):
            question = replace(question, crops=())
        return Reading(question, second, tuple(ranked), near=_near(draft, lexicon))
    # "too early?" and "when?" are answered by the same windows: a grower need not choose between them
    sisters = _sister(best.topic, next_best.topic)
    close = best.share - next_best.share < CLOSE and next_best.topic != "out-of-scope" and not sisters
    if not crops and _of_the_week(draft) and not _asks(draft):
        return Reading(_question(draft, "agenda", crops, carried, draft.cues, []), second, tuple(ranked))
    bare = best.topic == "log" and _only_a_name(draft)  # "tomatoes" alone: asked back
    share_outside = next(r.share for r in ranked if r.topic == "out-of-scope")
    doubted = share_outside > DOUBTED * best.share
    season = sum(r.share for r in ranked if r.topic in SEASON_TOPICS) if best.topic in SEASON_TOPICS else 0.0
    unsure = best.share < LEAST and season < SEASON_LEAST
    if unsure or close or bare or doubted or best.topic == "out-of-scope":
        unclear = _question(draft, "unclear", crops, carried, draft.cues, [])
        if second is None or "out-of-scope" in (best.topic, next_best.topic):
            return Reading(unclear, second, tuple(ranked), near=_near(draft, lexicon))
        asked = replace(unclear, cues=MappingProxyType({**unclear.cues, "asks": "choose"}))
        return Reading(asked, second, tuple(ranked), readings=(question, second), near=_near(draft, lexicon))
    return Reading(question, second, tuple(ranked))


_OWN_SUBJECT = words(
    "frost frosts freeze freezes zone weather week today tonight garden seedlings everything"
)
_FRAGMENT, _BARE = (
    5,
    2,
)  # words; "how far apart" is said of what was spoken of, "how deep" whatever was asked of it


def _still_of_it(draft: Draft, best: Ranked, previous: Request) -> bool:
    """True when a turn that names no plant is about the one before: "cut it when?", "how far apart"."""
    if best.topic not in OF_A_PLANT:
        return False
    own = any(t.word in _OWN_SUBJECT for t in draft.board.tokens)
    longest = _FRAGMENT if best.topic == previous.topic else _BARE
    fragment = len(draft.board.tokens) <= longest and not own
    return of_it(draft) or fragment or (not own and _how_many_of_it(draft, best))


_WHOLE_DIET = words(
    "winter year feed food vegetables veg all store keep larder pantry beds row rows tray trays"
)


def _how_many_of_it(draft: Draft, best: Ranked) -> bool:
    """ "How many for three people?" after a crop was spoken of; not the household's whole winter."""
    said = {t.word for t in draft.board.tokens}
    short = len(draft.board.tokens) <= _FEW_PEOPLE
    return best.topic == "how-many" and short and bool(draft.slots.people) and not said & _WHOLE_DIET


_FEW_PEOPLE = 10  # words


def _of_the_week(draft: Draft) -> bool:
    """True for "I only have an hour" and "nothing until Saturday": time to spare, and nothing else asked."""
    told = "limit_minutes" in draft.cues or draft.cues.get("hold") == "until"
    return told and len(draft.board.tokens) <= _SHORT and not draft.slots.temps


def _only_a_name(draft: Draft) -> bool:
    """True for "raspberry canes": a crop and next to nothing said of it."""
    return (
        "ask" not in draft.found.signals and "crop" in draft.found.signals and len(draft.board.tokens) <= FEW
    )


def _near(draft: Draft, lexicon: Lexicon) -> tuple[str, ...]:
    """Three things that can be asked, nearest to what was typed first."""
    order = [r.topic for r in draft.ranked if r.topic in lexicon.near_topics and r.share >= ENOUGH]
    order += [t for t in ("late-start", "frost", "when-start") if t not in order]
    return tuple(asked_of(topic, draft, lexicon) for topic in order[:3])


def asked_of(topic: str, draft: Draft, lexicon: Lexicon) -> str:
    """A question that can be asked under a topic, about the plant named if one is."""
    of_a_plant, of_none = lexicon.near_topics[topic]
    return of_a_plant.format(crop=draft.crops[0].id.replace("-", " ")) if draft.crops else of_none


def _second(draft: Draft, taken: Request) -> Request | None:
    for ranked in draft.ranked:
        if ranked.topic not in (taken.topic, "out-of-scope") and ranked.share >= ENOUGH:
            return replace(taken, topic=ranked.topic, slots=slots_for(ranked.topic, draft.slots))
    return None


def _question(
    draft: Draft,
    topic: str,
    crops: tuple[CropRef, ...],
    carried: Slots,
    cues: Mapping[str, str],
    filled: list[str],
) -> Request:
    said = [draft.reading] if draft.reading else []
    if topic == "agenda" and crops == draft.crops:  # the work of the week, whatever stands in the story
        crops = crops_in_question(draft.board, draft.found)
    if topic == "explain":
        cues = {**cues, "asks": asked_of_it(draft.board, cues)}
    slots = draft.slots
    frost = own_frost(draft.board)
    if frost is not None and topic not in ("garden", "log", "explain"):
        slots = replace(slots, date=asked_day(draft.board, frost[1], slots.date))
    if slots.count is not None and topic not in OF_AMOUNTS:
        slots = replace(slots, count=plants_counted(draft.board))
    bearing = without_choice(slots_for(topic, slots), topic, draft)
    if topic == "buy-or-sow":  # "blueberries at 18": what they cost, no degrees
        bearing = replace(bearing, **figures(draft.board, bearing, topic))
    return Request(
        text=draft.text,
        topic=topic,
        crops=crops,
        slots=bearing,
        stated=stated(draft.board, bearing, topic),
        carried=carried,
        cues=MappingProxyType(dict(cues)),
        reading="; ".join(said + filled) or None,
        assumptions=tuple(draft.board.assumptions) if draft.slots.temps else (),
    )
