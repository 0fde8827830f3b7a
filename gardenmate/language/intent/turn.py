"""One line to a `Turn`: its parts, what each does, and why it was read so. Nothing behind this reads the text."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.question import TOPICS, Act, CropRef, Deed, Part, Request, Turn, Typed
from gardenmate.core.units import Units
from gardenmate.knowledge.deeds import NOTE
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent import done, growing, terms
from gardenmate.language.intent.acts import SURE, Chosen, choose
from gardenmate.language.intent.commands import command_of, topic_shown
from gardenmate.language.intent.followups import LASTING_CUES, asked_of, choice_of, resolve
from gardenmate.language.intent.leaning import (
    judged,
    of_a_night,
    of_elsewhere,
    only_a_value,
    remarks,
    says_nothing,
    tells_as_before,
    unknown_named,
    weekdays_on,
    without_strangers,
)
from gardenmate.language.intent.names_told import names_and_places, names_known_variety
from gardenmate.language.intent.parts import MOST, asked_outright, cuts
from gardenmate.language.intent.plans_told import PLANS, not_to_be_planned
from gardenmate.language.intent.reading import Context, Draft, Reading
from gardenmate.language.intent.routes import by_values
from gardenmate.language.intent.sense import sense_of
from gardenmate.language.intent.topics import doing, weights_at
from gardenmate.language.intent.understand import LONGEST, draft_of, frozen, weighed
from gardenmate.language.said import Said, plain, said_of
from gardenmate.language.said.lows import NIGHTS_TOLD
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spelling import strangers_in
from gardenmate.language.values.deeds import own_words
from gardenmate.language.values.frost_seen import frost_told
from gardenmate.language.values.season_year import frost_side, named_year, season_year
from gardenmate.language.values.typed import prices_typed, typed_on
from gardenmate.records import NamedTuple, replace

_JUST_DONE_DAYS = (
    8  # a deed told beside a question is news for about a week (design value); older ones are its story
)
_OWN_TOPIC = 0.7  # share its own words must give the topic of a second question in a line
_STATES = frozenset({"harden"})  # "hardened peppers, 8 C tonight": what they are, not what was done just now
_BARE_STATE = 2  # words
_SELDOM_BESIDE = frozenset({"explain", "garden", "log"})  # what a story's sentences are easily taken for
_OTHERWISE = 0.2  # share from which a second topic is worth trying when the first says nothing new
_SHORT_FOR_A_NOTE = 18  # words; a longer text tells a story and asks something else of it
_DOES_NOT_ASK = frozenset({"out-of-scope", "unclear", "log", "garden"})


class PieceRead(NamedTuple):
    """One piece of a line as read: its words, the part it is, the act chosen, and why."""

    draft: Draft
    part: Part
    chosen: Chosen
    why: tuple[str, ...]

    @property
    def asks(self) -> bool:
        """True when the piece puts a question."""
        said_so = "ask" in self.draft.found.signals or "?" in self.draft.text
        return self.part.act == "ask" and (said_so or self.chosen.share >= SURE)


class LineReader(NamedTuple):
    """What every piece of a line is read with."""

    today: date
    units: Units
    facts: Facts
    lexicon: Lexicon
    context: Context

    def read(self, text: str, before: Part | None = None) -> PieceRead:
        """One piece, in the light of the turn before, or of the piece ``before`` it in the line."""
        context = self.context if before is None else self.context.behind(before)
        draft = draft_of(text, self.today, self.units, self.lexicon, context)
        offered = choice_of(draft, context)
        if offered is not None:
            return PieceRead(
                draft, Part("ask", offered, text=text), Chosen("ask", offered.topic, 1.0), ("one offered",)
            )
        chosen = self._act(draft)
        reading = resolve(draft, self.lexicon, context, chosen.act, chosen.topic)
        request, why = _routed(reading.question, self.facts)
        if chosen.act in ("ask", "talk"):
            strange = unknown_named(draft, context, self.lexicon)
            if strange is not None:
                request = replace(request, crops=(), cues=frozen({**request.cues, "unknown": strange}))
            request = without_strangers(request, self.lexicon)
            request = self._noted(draft, request)
            act: Act = "talk" if request.topic == "out-of-scope" else "ask"
            chosen = chosen._replace(act=act, topic=request.topic)
        elif request.topic != chosen.topic:
            request = replace(request, topic=chosen.topic)
        one = self._as(draft, request, chosen, why)
        return self._asked_back(one, reading) if one.part.request.topic == "unclear" else one

    def _otherwise(self, draft: Draft, request: Request, said: Said) -> Request | None:
        """The same words under the topic they speak for by themselves, where the turn before gave them another."""
        before = self.context.previous
        if before is None or before.topic != request.topic:
            return None
        own = next((r for r in draft.ranked if r.topic != request.topic), None)
        if own is None or own.share < _OTHERWISE or own.topic in _DOES_NOT_ASK or own.topic == "explain":
            return None
        if own.topic == "agenda" and request.crops and not draft.crops:
            return None
        found = said_of(own.topic, said._replace(request=replace(request, topic=own.topic)))
        return replace(request, topic=own.topic, typed=(*typed_on(draft.board), *found))

    def _noted(self, draft: Draft, request: Request) -> Request:
        """The request for a note of knowledge/notes.toml where a short question asks for one."""
        name = draft.found.note
        if name is None or len(draft.board.tokens) > _SHORT_FOR_A_NOTE:
            return request
        entry = self.facts.table("notes")[name]
        if request.topic not in (entry["topic"], *entry["also_read_as"]):
            return request
        return replace(request, topic=entry["topic"], typed=(*request.typed, Typed("note", name)))

    def _asked_back(self, one: PieceRead, reading: Reading) -> PieceRead:
        """A piece that is not understood: where its words speak for two topics alike both are put to the grower, but
        what is answered under one topic either way is that question; else what can be asked is named."""
        choice = sorted((_routed(request, self.facts)[0] for request in reading.readings), key=_in_order)
        if choice and len({request.topic for request in choice}) == 1:
            taken = Chosen("ask", choice[0].topic, one.chosen.share, one.chosen.spoke)
            return self._as(one.draft, choice[0], taken, one.why)
        asked = [self._as(one.draft, r, Chosen("ask", r.topic, 1.0), ()).part.request for r in choice]
        lines = [asked_of(request.topic, one.draft, self.lexicon) for request in choice] or reading.near
        near = tuple(Typed("near", line) for line in lines)
        request = replace(one.part.request, typed=(*one.part.request.typed, *near))
        act: Act = "ask" if choice else one.part.act
        return one._replace(part=replace(one.part, act=act, request=request, readings=tuple(asked)))

    def under(self, one: PieceRead, request: Request) -> PieceRead:
        """The same piece with another request."""
        return self._as(one.draft, request, one.chosen, one.why)

    def _as(self, draft: Draft, request: Request, chosen: Chosen, why: tuple[str, ...]) -> PieceRead:
        text = draft.text
        before = self.context.previous.sense if self.context.previous is not None else None
        request = replace(request, sense=sense_of(draft.board, before))
        said = Said(text, plain(text), request, self.today, self.facts, self.units == "metric")
        known = self.context.varieties
        strange = (t for t in request.typed if t.kind == "unknown-plant")
        beside = (Typed("unknown-plant", w, p) for w, p in strangers_in(draft.board, self.lexicon))
        named = (*names_and_places(draft.board, known, self.context.gardens), *strange, *beside)
        telling = (Typed("act", "tell"),) if chosen.act == "tell" else ()
        stock: tuple[Deed, ...] = ()
        typed = (
            *prices_typed(typed_on(draft.board, weights_at(draft.board, draft.found)), request.slots),
            *(t for t in request.typed if t.kind == "note"),
            *named,
            *telling,
            *said_of(request.topic, said),
        )
        if any(t.kind == "variety" and t.role == "beside" and _holds(t, request) for t in named):
            request = replace(request, slots=replace(request.slots, place=None, place_within=None))
        if chosen.act == "tell":
            told = self._deeds(draft, request, planned=True, telling=True)
            typed = (*typed, *(_variety_told(d) for d in told if d.variety is not None and d.crops))
            plants = self._deeds(draft, request, telling=True)
            stock = tuple(
                d for d in plants if d.crops and d.count is not None and draft.found.decisive is None
            )
        verb = draft.found.decisive[1] if draft.found.decisive is not None else ""
        if verb == "review":
            typed = (*typed, Typed("season-year", season_year(draft.board)))
        if verb == "frosts":
            year, side = named_year(draft.board), frost_side(draft.board)
            typed = (*typed, *(() if year is None else (Typed("season-year", year),)))
            typed = (*typed, *(() if side is None else (Typed("frost-side", side),)))
        if chosen.act == "correct":
            typed = (*typed, *weekdays_on(draft.board))
        frost = (
            frost_told(draft.board, self.today, after=of_a_night(self.context))
            if chosen.act == "report"
            else None
        )
        if frost is not None:
            typed = (*typed, Typed("frost", frost.called or "seen"))
        crops = tuple(dict.fromkeys(CropRef(t.unit) for t in named if t.kind == "variety" and t.unit))
        request = replace(
            request, typed=typed, crops=request.crops if draft.crops else crops or request.crops
        )
        turned = by_values(request, self.facts) if chosen.act in ("ask", "talk") else None
        if turned is not None:
            topic, reason = turned
            request, chosen = replace(request, topic=topic), chosen._replace(act="ask", topic=topic)
            said = said._replace(request=request)
            typed = (*typed_on(draft.board), *named, *telling, *said_of(topic, said))
            request, why = replace(request, typed=typed), (*why, f"topic {topic}: {reason}")
        deeds: tuple[Deed, ...] = stock
        command = None
        if chosen.act in ("report", "plan", "correct"):
            deeds = self._deeds(
                draft, request, chosen.act == "plan", chosen.act == "correct", verb, frost and frost.on
            )
            if chosen.act == "report" and all(deed.action in PLANS for deed in deeds):
                chosen = chosen._replace(act="plan")  # "ten basil on the 22nd": the day is still to come
            if chosen.act == "plan" and (
                (draft.found.decisive is None and not_to_be_planned(deeds, self.today))
                or tells_as_before(draft, deeds, self.context)
            ):
                chosen, deeds = chosen._replace(act="report"), self._deeds(draft, request)
            crops = tuple(dict.fromkeys(ref for deed in deeds for ref in deed.crops))
            request = replace(request, crops=crops or request.crops)
        if chosen.act == "talk" and not verb and remarks(draft, self.context):
            verb = "agree"
        if chosen.act in ("correct", "manage", "plan", "talk") or verb:
            command = command_of(verb, draft.board, request.crops)
        if chosen.act == "manage" and command is not None:
            shown = topic_shown(command, request)
            why = why if shown == request.topic else (*why, f"topic {shown}: a command to show that")
            request, chosen = replace(request, topic=shown), chosen._replace(topic=shown)
        other = self._otherwise(draft, request, said) if chosen.act == "ask" else None
        if chosen.act != "ask":  # an entry shows what it is about; only a question tells what it took over
            request = replace(request, reading=draft.reading)
        part = Part(chosen.act, request, deeds[0] if deeds else None, command, text, deeds[1:], other)
        return PieceRead(draft, part, chosen, why)

    def _deeds(
        self,
        draft: Draft,
        request: Request,
        planned: bool = False,
        correcting: bool = False,
        verb: str = "",
        frost_on: date | None = None,
        telling: bool = False,
    ) -> tuple[Deed, ...]:
        """What a line tells of, with the frost of a day first where one was seen."""
        from gardenmate.language.intent import deeds_told  # start-up seam: a question tells no deed

        deeds = deeds_told.deeds_told(
            draft.board,
            request,
            self.facts,
            self.context,
            planned=planned,
            correcting=correcting,
            telling=telling,
            verb=verb,
            doing=doing(draft.found, "plan" if planned else "report", self.context.said, self.lexicon),
        )
        return deeds if frost_on is None else deeds_told.with_frost(deeds, frost_on, draft.board)

    def _act(self, draft: Draft) -> Chosen:
        """What the words do, and under which topic."""
        decisive = draft.found.decisive
        if draft.board.word(0) == "forget" and names_known_variety(draft.board, self.context.varieties):
            return Chosen("tell", "garden", 1.0)
        frost = frost_told(draft.board, self.today, after=of_a_night(self.context))
        if decisive is None and frost is not None:
            return Chosen("report", "log", 1.0)
        danger = "danger" in draft.cues
        chosen = choose(draft.found, draft.heard)
        if danger and not (chosen.act in ("report", "plan") and draft.crops):
            chosen = choose(draft.found, draft.heard, in_danger=True)
        if decisive is not None:
            return chosen.decided(decisive, chosen.topic)
        if says_nothing(draft, self.lexicon):
            return chosen._replace(act="talk", topic="out-of-scope")
        asked = self.context.said.asked
        if asked is not None and self.context.said.pair == f"ask/{asked}" and only_a_value(draft):
            return chosen._replace(act="ask", topic=asked)
        if chosen.act == "tell" and of_elsewhere(draft):
            chosen = chosen._replace(act="ask")
        if chosen.act == "ask":
            return chosen._replace(topic=judged(draft, chosen.topic, self.context, self.facts))
        if chosen.act == "correct" and self.context.before.pair == "tell/garden":
            return chosen._replace(act="tell", topic="garden")  # what corrects a fact tells it anew
        return chosen


def _holds(variety: Typed, request: Request) -> bool:
    """True when the place read is part of a variety's name: "Stockton Red onions", "King of the North"."""
    place = (request.slots.place or "").casefold()
    words = str(variety.value).casefold().split()
    return bool(place) and (place in words or place in str(variety.value).casefold())


def _variety_told(deed: Deed) -> Typed:
    """A variety the grower tells of a crop: its name, crop, days (as role) and kind (as text)."""
    crop = deed.crops[0]
    days = None if deed.days is None else str(deed.days)
    return Typed("grows-variety", deed.variety or "", crop.id, days, crop.kind or "")


def read_turn(
    text: str, *, today: date, units: Units, facts: Facts, lexicon: Lexicon, context: Context | None = None
) -> Turn:
    """The turn ``text`` is, on the day ``today``, in the light of the turns before. Total: any text gives one."""
    reader = LineReader(today, units, facts, lexicon, context or Context(units=units, today=today))
    typed, text = text, text[:LONGEST]
    whole = reader.read(text)
    reads = _parts(text, whole, reader)
    trace = [line for one in reads for line in _traced(one)]
    parts = tuple(one.part for one in reads)
    if len(typed) > LONGEST and len(parts) == 1 and parts[0].deed is not None:  # a long story is kept whole
        parts = (replace(parts[0], deed=replace(parts[0].deed, text=own_words(typed))),)
    return Turn(text, parts, tuple(trace))


# -- several things in one line ------------------------------------------------------------------------
def _parts(text: str, whole: PieceRead, reader: LineReader) -> list[PieceRead]:
    """The things said in a line, the one the whole line is read as first, the others as typed."""
    settled = whole.draft.found.decisive is not None or whole.part.act in ("correct", "manage")
    if settled and not whole.asks and "?" not in text:
        return [whole]
    pieces = [text[a:b].strip(" ,;") for a, b in cuts(whole.draft.board)]
    if len(pieces) < 2 or "danger" in whole.draft.cues:  # a danger is heard in all that is told
        return [whole]
    degrees = {t.value for t in whole.draft.slots.temps}
    kept: list[PieceRead] = []
    story = ""
    for piece in pieces[: 2 * MOST]:
        told = f"{story} {piece}".strip()
        one = reader.read(told, kept[-1].part if kept else None)
        read_off = one.part.deed is not None and one.part.deed.count in degrees  # "20 out, how cold inside"
        if _stands_alone(one, kept, reader.today) and not _only_goes_on(one, whole) and not read_off:
            kept.append(_of_what_was_told(one, kept, reader))
            story = ""
        else:
            story = told
    asked = [one for one in kept if one.asks]
    done_too = [one for one in kept if one.part.act == "report"]
    if done_too and not asked and whole.asks and whole.part.request.topic not in _DOES_NOT_ASK:
        return [
            whole,
            *done_too[:MOST],
        ]  # "finished sowing carrots when do they come up": the rest asks with the whole
    if len(kept) < 2 or not asked or len(kept) > MOST:
        return [whole]
    if len(asked) == 1 and whole.part.act == "ask" and whole.part.request.topic not in _DOES_NOT_ASK:
        kept[kept.index(asked[0])] = whole  # the story is part of the question
        asked = [whole]
    topic = whole.part.request.topic
    first = next((one for one in asked if one.part.request.topic == topic), asked[0])
    return [first, *(one for one in kept if one is not first)]


def _of_what_was_told(one: PieceRead, kept: list[PieceRead], reader: LineReader) -> PieceRead:
    """A question that names no plant is about those told of just before it: "slugs ate the lettuce, sow again?";
    nights told in a row before "which do I cover?" are those asked about."""
    request = one.part.request
    before = kept[-1] if kept else None
    if before is None or before.part.act == "ask" or one.part.act != "ask":
        return one
    cues = {name: value for name, value in before.draft.cues.items() if name in LASTING_CUES}
    crops = request.crops or before.part.request.crops
    found = reader.under(one, replace(request, crops=crops, cues=frozen({**cues, **request.cues})))
    asked, text = found.part.request, before.draft.text
    said = Said(text, plain(text), asked, reader.today, reader.facts, reader.units == "metric")
    told = [t for t in said_of(asked.topic, said) if t.kind in NIGHTS_TOLD and not asked.has(t.kind)]
    if not told:
        return found
    return found._replace(part=replace(found.part, request=replace(asked, typed=(*asked.typed, *told))))


def _stands_alone(one: PieceRead, kept: list[PieceRead], today: date) -> bool:
    """True when a piece says something of its own: a deed just done, or a question unlike those before it."""
    part = one.part
    if part.act == "report" and part.deed is not None:
        named = part.deed.action not in (NOTE, "decide") and not part.deed.supposed
        named = named and not (part.deed.action in _STATES and len(one.draft.board.tokens) <= _BARE_STATE)
        told = named or one.draft.found.decisive is not None
        return told and one.chosen.share >= SURE and _just_done(part.deed, today)
    if part.act == "correct":  # beside a question only what is said outright: a question changes nothing
        return one.draft.found.decisive is not None and not kept
    if part.act == "plan":  # beside a question only a plan that tells its deed: "peppers next" tells none
        planned = one.draft.found.decisive is not None or (part.deed is not None and part.deed.of is not None)
        return planned and one.chosen.share >= SURE and not kept
    if not one.asks or part.request.topic in ("out-of-scope", "unclear"):
        return False
    asked = [k.part.request for k in kept if k.asks]
    if not asked:
        return True
    if not asked_outright(one.draft.board) or not any(asked_outright(k.draft.board) for k in kept if k.asks):
        return False
    ids = {ref.id for request in asked for ref in request.crops}
    if part.request.topic in {request.topic for request in asked}:
        return any(ref.id not in ids for ref in part.request.crops)
    own = next((r.share for r in one.draft.ranked if r.topic == part.request.topic), 0.0)
    return own >= _OWN_TOPIC and part.request.topic not in _SELDOM_BESIDE


def _only_goes_on(one: PieceRead, whole: PieceRead) -> bool:
    """True for a piece that would ask by its words alone in a line that tells of a deed: "borlottis in, 24"."""
    tells = whole.part.act in ("report", "plan", "tell") and whole.chosen.share >= SURE
    return tells and one.part.act == "ask" and "ask" not in one.draft.found.signals


def _just_done(deed: Deed, today: date) -> bool:
    return deed.on is not None and today - timedelta(days=_JUST_DONE_DAYS) <= deed.on <= today


def understand(
    text: str, *, today: date, units: Units, facts: Facts, lexicon: Lexicon, context: Context | None = None
) -> Request:
    """The request of the first thing said in ``text``."""
    turn = read_turn(text, today=today, units=units, facts=facts, lexicon=lexicon, context=context)
    return turn.parts[0].request


def _in_order(request: Request) -> int:
    """Where the topic of a request stands among all, so that two that are close are always offered alike."""
    return TOPICS.index(request.topic)


def _routed(request: Request, facts: Facts) -> tuple[Request, tuple[str, ...]]:
    """The request under the topic it is answered under, and why where that is not the one the words lean to."""
    counted = done.as_count(request)
    if counted is not request:
        return counted, ("topic log: asks how many there are",)
    asked = terms.as_asked(request, facts)
    if asked is not request and asked.topic != request.topic:
        return asked, (f"topic {asked.topic}: asks for a word of the trade, or the zone",)
    grown = growing.as_woody(asked, facts)
    if grown is not asked:
        return grown, (f"topic {grown.topic}: bushes and trees are not sown",)
    return asked, ()


def _traced(one: PieceRead) -> tuple[str, ...]:
    """Why one part was read so: the words behind act and topic, what was found, what was carried over."""
    part, request = one.part, one.part.request
    decisive = one.draft.found.decisive
    words = ", ".join(f"'{w}' {weight:+g}" for w, weight in one.chosen.spoke)
    act = f"act {part.act} {one.chosen.share:.0%}" + (f": {words}" if words else "")
    act = act if decisive is None else f"act {part.act}: the words for '{decisive[1]}'"
    crops = (
        ", ".join(f"{c.id}{'/' + c.kind if c.kind else ''} ('{c.typed}')" for c in request.crops) or "none"
    )
    lines = [f"part: {one.draft.text.strip()}", act, *weighed(one.draft), *one.why]
    lines += [f"act {part.act}, topic {request.topic}", f"crops: {crops}"]
    lines += [
        f"{t.kind}{f' ({t.role})' if t.role else ''}: {t.value} {t.unit}".rstrip() for t in request.typed
    ]
    lines += [f"{name}: {value}" for name, value in sorted(request.cues.items())]
    for deed in part.deeds:
        told = (deed.action, deed.variety, deed.count, deed.unit, deed.where, deed.on)
        lines.append("deed: " + ", ".join(str(v) for v in told if v not in (None, "")))
    if part.command is not None and part.command.verb:
        lines.append(f"command: {part.command.verb} {part.command.noun}".rstrip())
    return (*lines, *((request.reading,) if request.reading else ()), *request.assumptions)
