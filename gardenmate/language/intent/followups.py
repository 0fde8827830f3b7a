"""One turn in a conversation: what it takes over from the turn before, what it replaces, what it drops."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from gardenmate.core.question import SEASON_TOPICS, CropRef, Request, Slots
from gardenmate.language.intent.bearing import OF_AMOUNTS, slots_for, without_choice
from gardenmate.language.intent.explaining import about_the_answer, asked_of_it
from gardenmate.language.intent.leaning import points_back, they_and_named
from gardenmate.language.intent.meant import elsewhere, plant_meant
from gardenmate.language.intent.reading import Context, Draft, Reading
from gardenmate.language.intent.salience import crops_in_question
from gardenmate.language.intent.topics import Ranked, about
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import words
from gardenmate.language.values.amounts import plants_counted
from gardenmate.language.values.own_frost import asked_day, own_frost
from gardenmate.language.values.shifts import shifted_by
from gardenmate.language.values.stated import stated
from gardenmate.language.values.stated_figures import figures
from gardenmate.records import replace

LEAST = 0.3  # a topic with a smaller share of the evidence than this is not taken
SEASON_LEAST = 0.5  # the topics of the season together: their answers show the same windows
UNSURE = 0.4  # a text about the garden is not refused on a smaller share than this, but asked about
CLOSE = 0.05  # two readings whose shares are nearer than this are put to the grower
DOUBTED = 0.2  # "out of scope" with this part of the best share: asked back, not answered
ENOUGH = 0.12  # a second reading is worth naming from this share on
# Cues that describe the plot or the plant and hold on while the subject does.
LASTING_CUES = words("cover stage bud_stage glazing vent sky wind gear method needed origin")
# What the days said before are the days of, as long as the season of a crop is spoken of.
_DAY_CUES = words("wanted_on out_on away begun_on begun_by seen_on seen about")
_KEPT_TOPICS = frozenset({"log", "garden", "unclear", "out-of-scope"})  # nothing was worked out under these
_OUTSIDE = "out-of-scope"
_BOTH = words("both either neither")
_SHORT = 9
FEW = 3


def resolve(draft: Draft, lexicon: Lexicon, context: Context, act: str, topic: str) -> Reading:
    """The reading of a draft, whose words speak for ``act`` and ``topic``, in its conversation."""
    previous = context.previous
    meant = plants_meant(draft, lexicon, context, act, topic)
    if previous is not None and topic != _OUTSIDE and _leans(draft, previous, topic):
        return _follow(draft, previous, topic, lexicon, meant)
    return _fresh(draft, lexicon, previous, topic, meant)


def plants_meant(
    draft: Draft, lexicon: Lexicon, context: Context, act: str, topic: str
) -> tuple[CropRef, ...]:
    """The plants a turn is about: those it names, else those of the turns before its words speak for."""
    if draft.crops:
        beside = they_and_named(draft, context)
        return beside or draft.crops
    of_the_place = draft.cues.get("asks") == "dates"  # the usual frost dates are no plant's
    told_a_night = topic == "frost" and context.told and bool(draft.slots.temps) and not points_back(draft)
    if draft.cues.get("unknown") or of_the_place or told_a_night:
        return ()  # a night behind a report is about all that stands outside
    if topic == "explain" and context.previous is not None:
        return context.previous.crops
    both = bool({t.word for t in draft.board.tokens} & _BOTH)
    return context.plants("both" if both else about(draft.found, f"{act}/{topic}", context.said, lexicon))


def _asks(draft: Draft) -> bool:
    return "ask" in draft.found.signals or draft.text.rstrip().endswith("?")


def choice_of(draft: Draft, context: Context) -> Request | None:
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


def _leans(draft: Draft, previous: Request, topic: str) -> bool:
    """True when a turn leans on the one before: it opens so, or says too little to stand alone."""
    if "units" in draft.cues and len(draft.board.tokens) <= FEW:  # "in celsius": the same again
        return True
    if about_the_answer(draft.board) and previous.topic not in _KEPT_TOPICS:
        return True
    if topic == "explain" and draft.crops:
        return False
    if "follows" in draft.found.signals or len(draft.board.tokens) <= _FRAGMENT:
        return True
    whole = bool(draft.crops) and "ask" in draft.found.signals
    return len(draft.board.tokens) <= _SHORT and not whole


def _best(ranked: list[Ranked]) -> Ranked | None:
    return ranked[0] if ranked else None


def _follow(
    draft: Draft, previous: Request, topic: str, lexicon: Lexicon, meant: tuple[CropRef, ...]
) -> Reading:
    """The turn as a follow-up: what it does not say itself is as before."""
    if about_the_answer(draft.board) and previous.topic not in _KEPT_TOPICS:
        topic = "explain"
    if "units" in draft.cues and len(draft.board.tokens) <= FEW:
        topic = previous.topic
    shift = shifted_by(draft, previous)
    if shift is not None and shift.of_the_job:
        topic = previous.topic
    elif previous.topic not in _NOT_SUPPOSED and (shift is not None or "anomaly" in draft.cues):
        topic = "explain"
    if topic == "unclear":
        return _fresh(draft, lexicon, previous, draft.ranked[0].topic, meant)
    crops = (draft.crops and meant) or _the_ones(draft, previous, lexicon) or meant
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
    if not draft.crops and crops:
        filled.append("still about " + _list(crops))
    asked_anew = "ask" in draft.found.signals and len(draft.board.tokens) > FEW
    if topic == previous.topic and topic not in ("explain", "garden", "log") and not asked_anew:
        filled.append("same question as before")
    question = _question(draft, topic, crops, carried, cues, filled)
    return Reading(question, _second(draft, question), tuple(draft.ranked))


# After these nothing can be worked again with the frost or the weather moved.
_NOT_SUPPOSED = frozenset({"garden", "log", "explain", "agenda"})


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
    if draft.cues.get("asks") == "dates":  # when frosts usually come, not one as cold as was spoken of
        return place
    same = topic == previous.topic or topic == "explain" or _sister(topic, previous.topic)
    if not same:
        keep = Slots(place=older.place, date=older.date if topic in SEASON_TOPICS else None)
        return keep if older.date else place
    if draft.crops and {c.id for c in draft.crops} != {c.id for c in previous.crops}:
        return replace(
            older, days_to_maturity=None, cultivar_class=None, kind=None, plant_age_years=None, price=None
        )
    return older


def _fresh(
    draft: Draft, lexicon: Lexicon, previous: Request | None, topic: str, meant: tuple[CropRef, ...]
) -> Reading:
    """The turn on its own."""
    ranked = draft.ranked
    best = next(r for r in ranked if r.topic == topic)
    next_best = next(r for r in ranked if r.topic != topic)
    carried = Slots()
    if previous is not None and not draft.slots.place:
        carried = Slots(place=(previous.carried if previous.cue("supposed") else previous.ask).place)
    crops = meant
    filled = ["still about " + _list(crops)] if crops and not draft.crops else []
    if best.topic == "explain" and previous is not None and not draft.crops:
        carried = previous.ask
    question = _question(draft, best.topic, crops, carried, draft.cues, filled)
    second = _second(draft, question)
    if draft.found.decisive is not None:
        return Reading(question, second, tuple(ranked))
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


_FRAGMENT = 5  # words


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
