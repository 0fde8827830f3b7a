"""One turn: text -> Request -> World -> Answer, with the memory a conversation needs.

The conversation is the only place that carries out effects: what an answer asks to be remembered is durable
before the answer is shown.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import TYPE_CHECKING

from gardenmate.core.answer import Answer, Kept
from gardenmate.core.effects import Changed, GardenChange, UndoDecision
from gardenmate.core.errors import AmbiguousPlaceError, NeedPlaceError, UsageError
from gardenmate.core.question import SEASON_TOPICS, Part, Request, Turn, Typed
from gardenmate.core.units import Units
from gardenmate.core.world import World
from gardenmate.dialogue.memory import (
    known_varieties,
    named_for,
    which_variety,
    with_variety,
)
from gardenmate.dialogue.places import NEEDS_NO_PLACE, Places
from gardenmate.dialogue.places import PlaceOptions as PlaceOptions
from gardenmate.dialogue.rephrased import (
    TOLD,
    on_its_own,
    plainly,
    without_sign,
)
from gardenmate.dialogue.so_far import TurnsSoFar
from gardenmate.dialogue.told_in_danger import with_kept
from gardenmate.dialogue.unused import unused_in
from gardenmate.dialogue.where import chosen, for_garden, with_place
from gardenmate.garden.profile import NO_GARDEN, Garden
from gardenmate.knowledge.deeds import NOTE
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.help_lines import ELSEWHERE, with_numbers
from gardenmate.language.said import read_under
from gardenmate.present.spoken import without_yes
from gardenmate.present.vocabulary import in_words, speaker, speaks_american
from gardenmate.records import dataclass, field, replace
from gardenmate.topics.registry import rule_for

if TYPE_CHECKING:
    from gardenmate.climate.places import Place
    from gardenmate.garden.store import GardenFile, GardenInMind
    from gardenmate.journal.store import Journal
    from gardenmate.language.intent.reading import Weather
    from gardenmate.language.text.lexicon import Lexicon

# What the command line leaves with after a one-shot question.
EXIT_ANSWERED = 0
EXIT_NEEDS_PLACE = 3
EXIT_NOT_UNDERSTOOD = 4
# Topics whose answer without the plant asked about would be an answer about something else.
ABOUT_ONE_PLANT = (
    *SEASON_TOPICS, "germination", "potting-up", "pruning", "propagation", "buy-or-sow", "how-many",
    "out-of-scope", "unclear",
)  # fmt: skip
NEVER_ASK = frozenset({"report", "plan", "correct", "manage", "talk"})
"""Acts met without a rule of a topic; a question and a fact told of the garden go to the rule of theirs."""
SUPPOSED_PLACE = "That place is supposed for this one answer; the next is about your own garden again."
NO_CHANGE = "That doesn't change the answer."
OUTSIDE_TOO = "That is outside what I know, too."
_LONG = 60  # characters; a longer refusal is not said twice (design value)
SAY_WHAT = "Tell me what is different, or name the plant and ask again."
FREAK_C = 16.0  # C: how far beyond the normal low or high weather may go; 3.5 spreads of 4.5 (design value)
LATELY = 6  # answers back that one is told not to be new


@dataclass(slots=True, eq=False, repr=False)
class Conversation:
    """A conversation about one garden. ``ask`` is one turn.

    ``clock`` tells today's date; ``units`` overrides the garden's; ``journal`` and ``garden_file`` are None
    when nothing is to be kept. ``remembers`` False answers each question on its own: no turn sees the one
    before, and what is said of the garden is not kept (a log request is).
    """

    facts: Facts
    clock: Callable[[], date]
    options: PlaceOptions = field(default_factory=PlaceOptions)
    units: Units | None = None
    garden_file: GardenFile | None = None
    journal: Journal | None = None
    remembers: bool = True
    so_far: TurnsSoFar = TurnsSoFar()
    exit_code: int = EXIT_ANSWERED
    where: Places = field(init=False)
    _lexicon: Lexicon | None = None
    _pending: tuple[Request, ...] = ()
    _waiting: Request | None = None
    _shown: Units | None = None
    _in_mind: GardenInMind | None = None
    _unsettled: str | None = None
    _which: tuple[Request, tuple[str, ...]] | None = None
    _place_told: str | None = None
    _said: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.where = Places(self)

    @property
    def previous(self) -> Answer | None:
        """The answer a follow-up goes on with."""
        return self.so_far.previous

    def place(self) -> Place | None:
        """The place that holds, None when none is known. Raises AmbiguousPlaceError, UsageError."""
        return self.where.place()

    @property
    def garden(self) -> Garden:
        """The garden as it stands now."""
        if self.garden_file is not None:
            return self.garden_file.garden
        return self._in_mind.garden if self._in_mind is not None else NO_GARDEN

    @property
    def _keeps(self) -> bool:
        return self.garden_file is not None or self.journal is not None

    def varieties(self) -> Mapping[str, str]:
        """The varieties told of the garden or named in the log, with the crop of each."""
        return known_varieties(self.garden, self.journal)

    def lexicon(self) -> Lexicon:
        """The words, read once."""
        if self._lexicon is None:
            # start-up seam: a calendar reads no words
            from gardenmate.language.text.lexicon import load_lexicon

            self._lexicon = load_lexicon(self.facts)
        return self._lexicon

    def read(self, text: str) -> Turn:
        """What ``text`` says, in the light of the turns before: read once, here, and nowhere else."""
        # start-up seam: a calendar reads no words
        from gardenmate.language.intent.reading import Context
        from gardenmate.language.intent.turn import read_turn

        site = self.where.known()
        units = self._units(site)
        context = Context(
            pending=self._pending,
            units=units,
            units_known=self.units is not None or self.garden.units is not None or site is not None,
            weather=self._weather(site),
            today=self.clock(),
            varieties=self.varieties(),
            gardens=frozenset({"home", *(g.name.casefold() for g in self.garden.gardens.values())}),
        )
        return read_turn(
            text,
            today=self.clock(),
            units=units,
            facts=self.facts,
            lexicon=self.lexicon(),
            context=self.so_far.over(context),
        )

    def _weather(self, place: Place | None) -> Weather | None:
        """Air temperatures possible at the garden's place today, and the unit bare figures are in there."""
        chosen = self.units or self.garden.units
        if place is None or place.site is None:
            return None
        # start-up seam: a calendar reads no words
        from gardenmate.language.intent.reading import Weather

        day, site = self.clock(), place.site
        low, high = site.min_c(day), site.max_c(day)
        local: Units = "us" if site.country == "US" else "metric"
        return Weather(low - FREAK_C, high + FREAK_C, low + FREAK_C, chosen or local, chosen is not None)

    def tells_a_deed(self, text: str) -> bool:
        """True when ``text`` reports or plans a deed it names."""
        told = (part for part in self.read(text).parts if part.act in ("report", "plan"))
        return any(d.crops and not d.supposed and d.action != NOTE for part in told for d in part.deeds)

    def understand(self, text: str) -> Request:
        """The request of the first thing said in ``text``."""
        return self.read(text).parts[0].request

    def ask(self, text: str) -> Answer:
        """Answer one question; what it asks to be kept is durable when this returns.

        Raises GardenmateError only for faults of files (damaged, unwritable); everything about the question
        itself comes back as an Answer, and ``exit_code`` tells which kind it was.
        """
        picked = self._picked(text)
        if picked is not None:
            return self._take(picked)
        first, *rest = [self._take(part) for part in self.read(text).parts]
        return replace(first, also=(*first.also, *rest)) if rest else first

    def _picked(self, text: str) -> Part | None:
        """The question that named one of several towns, once ``text`` says which; None when it does not."""
        asked, self._which = self._which, None
        if asked is None or not self.remembers:
            return None
        question, candidates = asked
        town = chosen(text, candidates, self.facts.table("regions"))
        if town is None:
            return None
        slots = replace(question.slots, place=town, place_within=None)
        return Part("ask", replace(question, slots=slots), text=text)

    def _take(self, part: Part) -> Answer:
        """One part of a turn: answered, its effects carried out, and remembered."""
        self._pending = part.readings if self.remembers else ()
        if part.act in TOLD:
            part = replace(part, request=plainly(part.request))
        question = part.request
        answer = replace(self._replied(part), act=part.act)
        answer = replace(answer, unused=self._unused(part, answer))
        if not self.remembers:
            answer = on_its_own(answer)
        answer = self._place_in_doubt(replace(self._not_again(part, answer), act=part.act))
        if answer.effects and not self._keeps:
            self._bear_in_mind(answer)
            answer = replace(answer, effects=())
        answer = replace(answer, kept=self._carry_out(answer))
        if self.remembers:
            asked = question if part.otherwise is None else answer.question
            nowhere = self.exit_code == EXIT_NEEDS_PLACE
            self.so_far = self.so_far.after(part, asked, answer, nowhere=nowhere)
        return answer

    def _unused(self, part: Part, answer: Answer) -> tuple[Typed, ...]:
        """What was typed in a question and changes nothing of its answer."""
        asked = part.act == "ask" and part.request.topic not in NEEDS_NO_PLACE
        if part.request.cue("other_plant") and not part.request.crops and not answer.numbers:
            return ()  # a plant declined by name: there is no answer to use anything in
        if not asked or self.exit_code != EXIT_ANSWERED or part.request.cue("danger"):
            return ()
        kept = (self._shown, self._waiting, self._which, self._place_told)
        try:
            return unused_in(part.request, answer, self.answer, self.clock())
        finally:
            self.exit_code = EXIT_ANSWERED
            self._shown, self._waiting, self._which, self._place_told = kept

    def _not_again(self, part: Part, answer: Answer) -> Answer:
        """The same answer to other words is not printed a second time: it is said that nothing changes."""
        before = self._said.get(answer.headline)
        self._said = {**dict(list(self._said.items())[-LATELY:]), answer.headline: part.text}
        repeated = before is not None and before.casefold() != part.text.casefold()
        if part.request.has("crop") or part.request.slots.place is not None:
            return answer  # a question of its own
        looked_up = answer.question.topic in ("log", "garden", "agenda", "explain")
        if (
            repeated
            and part.act == "talk"
            and answer.question.topic == "out-of-scope"
            and len(answer.headline) > _LONG
        ):
            return replace(answer, headline=OUTSIDE_TOO)
        if (
            not repeated
            or part.act != "ask"
            or answer.asks
            or looked_up
            or not answer.numbers + answer.windows
        ):
            return answer
        if part.otherwise is not None:
            return self.answer(part.otherwise)
        return replace(
            answer,
            headline=NO_CHANGE,
            polar=False,
            table=None,
            details=(),
            steps=(),
            changes=(SAY_WHAT,),
            assumptions=(),
        )

    def _replied(self, part: Part) -> Answer:
        """The reply to one part, its effects not yet carried out."""
        if part.act not in NEVER_ASK or part.request.cue("danger") or part.request.has("note"):
            answer = self.answer(part.request)
            if part.deed is not None and part.act in ("report", "plan") and part.request.cue("danger"):
                return with_kept(answer, replace(self._responded(part), act=part.act))
            if part.act != "tell" or part.deed is None or answer.effects or answer.asks:
                return answer  # else plants are told of, and nothing the garden file could hold
        return self._in_words(self._with_danger(self._responded(part), part.request), part.request)

    def _responded(self, part: Part) -> Answer:
        """The reply to what is told, planned, put right or only said, and to a command."""
        self.exit_code = EXIT_ANSWERED
        try:
            world = self.world(part.request if part.act == "manage" else None)
            from gardenmate.dialogue.acts import respond  # start-up seam: a question needs no log and no jobs

            return with_place(respond(part, world, self.so_far.last), world.site, world.units)
        except NeedPlaceError as error:
            return self._without_place(part.request, error)

    def _with_danger(self, answer: Answer, question: Request) -> Answer:
        """The answer, with the danger its question may hold said beside it."""
        if not question.cue("danger_beside"):
            return answer
        # start-up seam: few questions hold a danger
        from gardenmate.topics.safety.answer import with_danger

        return without_yes(with_danger(answer, question, self.facts, self.where.country(question)))

    def tell(self, text: str) -> Answer:
        """Take ``text`` as a statement about the garden, whatever else it might mean, and keep it."""
        understood = self.understand(text)
        metric = self._units(self.where.known()) == "metric"
        understood = read_under("garden", understood, self.clock(), self.facts, metric)
        answer = self.answer(replace(understood, typed=(*understood.typed, Typed("act", "tell"))))
        self._carry_out(answer)
        return answer

    @property
    def waits_for_place(self) -> bool:
        """True when a question could not be answered for want of a place."""
        return self._waiting is not None

    def resumed(self) -> Answer | None:
        """The question that waited for the garden's place, answered once the place is known; else None."""
        question = self._waiting
        if question is None or self.where.known() is None:
            return None
        self._waiting = None
        answer = self.answer(question)
        self.so_far = self.so_far._replace(previous=answer)
        self._carry_out(answer)
        return answer

    def answer(self, question: Request) -> Answer:
        """The answer to an understood question, in one vocabulary, its effects not yet carried out."""
        return self._in_words(self._with_own_varieties(question), question)

    def _in_words(self, answer: Answer, question: Request) -> Answer:
        """The answer in the vocabulary of its country, with whom to call there."""
        country = self.where.country(question)
        called = tuple(with_numbers(text, self.facts, country or ELSEWHERE) for text in answer.cautions)
        say = speaker(self.facts, speaks_american(country, self.shown_units()), question.text)
        return in_words(replace(answer, cautions=called), say)

    def _with_own_varieties(self, question: Request) -> Answer:
        """The answer for the variety the grower told; for each of several where none is named."""
        several = which_variety(question, self.garden)
        if not several:
            asked, said = with_variety(question, self.garden)
            answer = self._answered(asked)
            if said is None or (answer.verdict is None and not answer.numbers):
                return answer
            return replace(
                answer, headline=named_for(answer.headline, said), assumptions=(said, *answer.assumptions)
            )
        answers = [
            self._answered(replace(question, carried=replace(question.carried, days_to_maturity=v.days)))
            for v in several
        ]
        lines = tuple(f"{v.name}, {v.days} days: {a.headline}" for v, a in zip(several, answers, strict=True))
        return replace(answers[0], headline=lines[0], details=(*lines[1:], *answers[0].details))

    def _answered(self, question: Request) -> Answer:
        self.exit_code = EXIT_ANSWERED
        if question.topic in ("out-of-scope", "unclear"):
            self.exit_code = EXIT_NOT_UNDERSTOOD
        if question.cue("danger"):
            # start-up seam: few questions hold a danger
            from gardenmate.topics.safety.answer import danger_answer, leaves_a_question

            warned = danger_answer(question, self.facts, self.where.country(question))
            if warned is not None:
                beside = self._beside(question) if leaves_a_question(question, self.facts) else None
                self.exit_code = EXIT_ANSWERED
                return warned if beside is None else replace(warned, also=(beside,))
        other = question.cue("other_plant")
        declines = question.topic in ("pruning", "propagation", "out-of-scope")  # by name, with its warning
        strange = other.replace("-", " ") if other and not question.crops and not declines else None
        unknown = question.cue("unknown") or strange
        named = any(t.role != "stranger" for t in question.all("crop")) or (other and declines)
        if unknown is not None and not named and question.topic in ABOUT_ONE_PLANT:
            # start-up seam: few questions hold a danger
            from gardenmate.topics.safety.out_of_scope import unknown_plant

            self.exit_code = EXIT_NOT_UNDERSTOOD
            return unknown_plant(replace(question, crops=()), unknown)
        try:
            world = self.world(question)
            said = self._note(question, world) or rule_for(question.topic).answer(question, world)
            answer = with_place(said, world.site, world.units)
            answer = for_garden(answer, self.where.other(question), world.site)
            if question.cue("supposed") and question.topic not in ("garden", "log"):
                answer = replace(answer, assumptions=(*answer.assumptions, SUPPOSED_PLACE))
            answer = self._with_danger(answer, question)
            return self.where.with_reading(without_sign(answer, question), question)
        except NeedPlaceError as error:
            return self._without_place(question, error)
        except AmbiguousPlaceError as error:
            self.exit_code = EXIT_NEEDS_PLACE
            self._which = (question, error.candidates) if question.ask.place is not None else None
            doubt = self.where.doubt(question, error)
            return Answer(question, None, error.asked, asks=error.candidates, changes=doubt)
        except UsageError as error:
            self.exit_code = EXIT_NEEDS_PLACE
            return Answer(question, None, str(error), changes=self.where.doubt(question, error))

    def _note(self, question: Request, world: World) -> Answer | None:
        """The note asked for, None when none was."""
        if not question.has("note"):
            return None
        from gardenmate.topics.shared.notes import note  # start-up seam: few questions ask for one

        return note(question, world)

    def _beside(self, question: Request) -> Answer | None:
        """The garden question a danger was heard in, answered without a yes; None where nothing else was asked."""
        if question.topic in ("log", "garden", "explain", "agenda", "out-of-scope", "unclear"):
            return None
        asked = replace(question, cues={k: v for k, v in question.cues.items() if k != "danger"})
        return replace(without_yes(self._answered(asked)), verdict=None, effects=())

    def _without_place(self, question: Request, error: NeedPlaceError) -> Answer:
        """What is said to a question that needs the garden's place while it is not known. That a name kept for it is
        not found is said once."""
        self.exit_code = EXIT_NEEDS_PLACE
        self._waiting = question
        headline, problem = str(error), self.where.problem()
        if problem is not None and problem != self._place_told:
            self._place_told = problem
            headline = problem
        return Answer(
            question=question,
            verdict=None,
            headline=headline,
            changes=("Tell me the place ('I garden in Duluth') or your dates ('my last frost is May 12').",),
        )

    def world(self, question: Request | None = None) -> World:
        """The world of a question: the place it names, else the command line's, else that of the garden meant."""
        place = self.where.with_own_frost(self.where.of(question), question)
        return World(
            today=self.clock(),
            facts=self.facts,
            garden=self.garden,
            units=self._answer_units(place, question),
            site=place.site if place is not None else None,
            sites=place.sites if place is not None else (),
            region=place.region if place is not None else None,
            journal=self.journal,
            previous=self.so_far.asked
            if question is not None and question.topic == "explain"
            else self.previous,
            supposed=self.so_far.supposed,
            home=self.where.home(question),
            listed=self.so_far.listed,
            keeps=self._keeps,
        )

    def first_due(self) -> Answer | None:
        """What an empty line gets: the first thing of the agenda, None while the place is unknown."""
        world = self.world() if self.where.known() is not None else None
        if world is None or world.site is None:
            return None
        agenda = rule_for("agenda").answer(Request(text="", topic="agenda"), world)
        return replace(agenda, table=None, steps=agenda.steps[:1], details=(), numbers=(), assumptions=())

    def shown_units(self) -> Units:
        """The units of the latest answer, or those the next one will be in."""
        if self._shown is not None:
            return self._shown
        return self._units(self.where.known() if self.units is None and self.garden.units is None else None)

    def _answer_units(self, place: Place | None, question: Request | None) -> Units:
        """Units of one answer: those set for the garden or the run, else those the question was typed in."""
        typed = {t.unit for t in question.slots.temps} if question is not None else set()
        if question is not None and question.cue("units") in ("us", "metric"):  # "in celsius, please"
            self._shown = "us" if question.cue("units") == "us" else "metric"
            return self._shown
        chosen = self.units is not None or self.garden.units is not None
        self._shown = (
            self._units(place) if chosen or len(typed) != 1 else ("us" if "F" in typed else "metric")
        )
        return self._shown

    def _units(self, place: Place | None = None) -> Units:
        if self.units is not None:
            return self.units
        if self.garden.units is not None:
            return self.garden.units
        sites = () if place is None else (place.site,) if place.site is not None else place.sites
        return "metric" if sites and sites[0].country != "US" else "us"

    def _bear_in_mind(self, answer: Answer) -> None:
        """What is told of the garden holds for the rest of the conversation, though it is not kept."""
        # start-up seam: only with no garden kept
        from gardenmate.garden.store import GardenInMind

        for effect in answer.effects:
            if isinstance(effect, GardenChange):
                self._in_mind = self._in_mind or GardenInMind()
                self._in_mind.apply(effect)
                self.where.forget_own()

    def _place_in_doubt(self, answer: Answer) -> Answer:
        """After a place that could be several: the next answers say which place they are for."""
        question = answer.question
        if question.slots.place is not None:
            which = self.exit_code == EXIT_NEEDS_PLACE or (question.topic == "garden" and not answer.effects)
            self._unsettled = question.slots.place if which and answer.asks else None
            return answer
        place = self.where.known() if self._unsettled is not None else None
        if place is None or place.site is None or (answer.verdict is None and not answer.numbers):
            return answer
        said = f"For {place.site.label}: which {self._unsettled} you meant is still open."
        return replace(answer, assumptions=(said, *answer.assumptions))

    def _carry_out(self, answer: Answer) -> tuple[Kept, ...]:
        """Keep what the answer asks to be remembered, all or nothing; what was written where. A note needs no
        place."""
        effects = answer.effects
        if self.garden_file is None:
            effects = tuple(e for e in effects if not isinstance(e, GardenChange))
        if not effects:
            return ()
        try:
            if self.journal is None:
                told = [e for e in effects if isinstance(e, GardenChange)]
                done = self.garden_file.change(told) if self.garden_file is not None else ()
                return tuple(_told(change) for change in done)
            place = self.where.known()
            self.journal.garden = self.garden_file
            entries = self.journal.keep(
                effects,
                place=place.site.label if place is not None and place.site is not None else "",
                answer=self.previous,
                knowledge_version=self.facts.version,
                said=answer.question.text,
                today=self.clock(),
            )
        finally:
            self.where.forget_own()
        undone = any(isinstance(e, UndoDecision) for e in effects)
        return tuple(
            kept
            for entry in entries
            for kept in (
                [Kept("journal", entry.id, entry.text)]
                if undone or not entry.changes
                else [_told(change) for change in entry.changes]
            )
        )


def _told(change: Changed) -> Kept:
    """A change of the garden file as it is named to the grower."""
    return Kept("garden", change.key, "" if change.new is None else str(change.new))
