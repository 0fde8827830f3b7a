"""The log rule, turn by turn: what is asked, what is said, and what is kept."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.core.answer import Answer, JobRef, Number
from gardenmate.core.effects import LogDecision
from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.world import World
from gardenmate.dialogue.conversation import Conversation
from gardenmate.dialogue.so_far import TurnsSoFar
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.journal.decision import KeptDecision
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts
from gardenmate.language.said.periods import period_in
from gardenmate.language.values.deeds import asking_part, deed_in, own_words
from gardenmate.language.values.impossible_days import impossible_day
from gardenmate.records import replace
from gardenmate.topics.log.answer import answer
from tests.topics.said import spoken

FACTS = Facts()
TODAY = date(2027, 4, 18)
WORLD = World(today=TODAY, facts=FACTS, garden=NO_GARDEN, units="us")


def ref(name: str) -> CropRef:
    """A crop by what was typed: "leeks" -> leek."""
    entry = FACTS.names[name]
    return entry.ref._replace(typed=name)


def said(text: str, *crops: str, cues: Mapping[str, str] | None = None, **slots: object) -> Request:
    return spoken(text, "log", tuple(ref(c) for c in crops), Slots(**slots), cues=cues or {})  # type: ignore[arg-type]


class Talk:
    """A conversation that keeps a log and no garden."""

    def __init__(self, path: Path) -> None:
        self.journal = Journal(path)
        self.conversation = Conversation(facts=FACTS, clock=lambda: TODAY, journal=self.journal)

    def __call__(self, text: str, *_: str, **__: object) -> Answer:
        return self.conversation.ask(text)

    @property
    def previous(self) -> Answer | None:
        """The answer before."""
        return self.conversation.previous

    @previous.setter
    def previous(self, answer: Answer) -> None:
        self.conversation.so_far = self.conversation.so_far._replace(previous=answer)

    def show(self, jobs: Answer) -> None:
        """As if this list of jobs had just been shown."""
        self.conversation.so_far = TurnsSoFar(previous=jobs, listed=jobs.jobs)

    @property
    def kept(self) -> list[KeptDecision]:
        return list(self.journal.latest())

    @property
    def texts(self) -> list[str]:
        return [d.text for d in self.kept]


@pytest.fixture
def talk(tmp_path: Path) -> Talk:
    return Talk(tmp_path / "journal.db")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("note that I sowed 48 peppers today", "sowed 48 peppers"),
        ("Write down that I sowed beets today", "sowed beets"),
        ("Yesterday I potted up 10 cucumbers, log it", "potted up 10 cucumbers"),
        ("Log: struck 10 rosemary cuttings.", "struck 10 rosemary cuttings"),
        ("hi note to self, bought nine cabbages", "bought nine cabbages"),
        ("put in the notes we've just divided the rhubarb", "divided the rhubarb"),
        ("put fourteen kale out along the fence", "put fourteen kale out along the fence"),
        ("can you write this down for me please: moved the figs", "moved the figs"),
        ("take twelve cuttings of sage", "take twelve cuttings of sage"),
        ("note this down", ""),
    ],
)
def test_the_entry_keeps_the_growers_words(text: str, words: str) -> None:
    assert own_words(text) == words


@pytest.mark.parametrize(
    ("text", "deed"),
    [
        ("sowed 48 peppers", "sow"),
        ("started the tomatoes on the mat", "sow"),
        ("potted on 24 tomatoes", "pot-up"),
        ("pricked out lettuce", "prick-out"),
        ("put fourteen kale out along the fence", "set-out"),
        ("60 garlic cloves went in", "plant"),
        ("took off three big branches from the apple", "prune"),
        ("we took two dozen cuttings between us", "cut"),
        ("bought nine cabbage plants", "buy"),
        ("picked the first ripe tomatoes", "harvest"),
        ("the frost caught the low corner", "lost"),
        ("one tomato lost to the cat", "lost"),
        ("peas came up", "up"),
        ("brought the basil in", "cover"),
        ("hardening off the leeks", "harden"),
        ("took the trays off the mat", "mat-off"),
        ("planted hazelnuts, put rabbit guards on", "plant"),  # the first one told
        ("rained all day", None),
        ("nine cabbage plants on the bench", None),
    ],
)
def test_the_deed_an_entry_is_filed_under(text: str, deed: str | None) -> None:
    found = deed_in(text, FACTS)
    assert (found.id if found else None) == deed


class TestRecording:
    def test_reads_as_done_and_keeps_everything(self, talk: Talk) -> None:
        reply = talk("note that I sowed 48 peppers today", "peppers", count=48, when="today")
        assert reply.headline == "Noted: sowed 48 peppers, 18 Apr."
        assert reply.verdict is None
        (kept,) = talk.kept
        assert (kept.action, kept.text, kept.on) == ("sow", "sowed 48 peppers", TODAY)
        assert (kept.crops, kept.count) == (("pepper",), 48)

    def test_on_another_day(self, talk: Talk) -> None:
        reply = talk(
            "Yesterday I potted up 10 cucumbers, log it", "cucumbers", count=10, date=date(2027, 4, 17)
        )
        assert reply.headline == "Noted: potted up 10 cucumbers, 17 Apr."
        assert talk.kept[0].on == date(2027, 4, 17)

    @pytest.mark.parametrize(
        "when", ["on march 20", "on the 20th of March", "last Saturday", ", March 20th 2027"]
    )
    def test_the_day_is_told_once(self, talk: Talk, when: str) -> None:
        reply = talk(f"note that I sowed 48 peppers {when}")
        day = "17 Apr" if "Saturday" in when else "20 Mar"
        assert reply.headline == f"Noted: sowed 48 peppers, {day}."

    def test_a_day_to_come_is_a_plan_not_a_deed(self, talk: Talk) -> None:
        reply = talk("note that I will sow leeks on Saturday")
        assert talk.kept[0].action == "decide"
        assert talk.kept[0].on == date(2027, 4, 24)
        assert reply.headline.startswith("Noted: plan to sow leeks")

    def test_a_long_story_is_told_back_short_and_kept_whole(self, talk: Talk) -> None:
        story = (
            "so log this for me please, 24 tomatoes potted on this afternoon into the square pots, ran out "
            "of compost half way so the rest are in leaf mould"
        )
        reply = talk(story, "tomatoes", count=24)
        assert reply.headline == "Noted: potted up 24 tomatoes, 18 Apr."
        assert talk.texts[0].endswith("the rest are in leaf mould")
        assert talk.texts[0] in reply.details[0]

    def test_what_else_was_said_goes_along(self, talk: Talk) -> None:
        talk("log that I bought 9 onion sets for $4.50, 45 F out")
        detail = talk.kept[0].detail
        assert (detail["kind"], detail["price"]) == ("sets", "4.5")
        assert talk.kept[0].temp_c == pytest.approx(7.2, abs=0.1)

    def test_nothing_to_note_is_asked_back(self, talk: Talk) -> None:
        reply = talk("note this down")
        assert reply.headline.startswith("What shall I note?")
        assert talk.kept == []

    def test_an_entry_about_the_crop_just_asked_of_rests_on_that_answer(self, talk: Talk) -> None:
        talk.previous = Answer(
            spoken("too late?", "late-start", (CropRef("pepper"),)), "yes", "Not too late."
        )
        talk("note that I sowed peppers", "peppers")
        talk.previous = Answer(
            spoken("too late?", "late-start", (CropRef("pepper"),)), "yes", "Not too late."
        )
        talk("note that I sowed leeks", "leeks")
        by_crop = {d.crops[0]: d.verdict for d in talk.kept}
        assert by_crop == {"pepper": "yes", "leek": None}


class TestDoneAndSkipped:
    @pytest.mark.parametrize(
        ("topic", "slots", "cues", "text", "action"),
        [
            ("late-start", {"method": "indoors"}, {}, "sowed peppers indoors", "sow"),
            ("when-start", {"method": "starts"}, {}, "set out peppers", "set-out"),
            ("potting-up", {"count": 12}, {}, "potted up 12 peppers", "pot-up"),
            ("hardening-off", {}, {}, "hardened off peppers", "harden"),
            ("pruning", {}, {}, "pruned peppers", "prune"),
            ("propagation", {}, {"asks": "divide"}, "divided peppers", "divide"),
            ("propagation", {}, {"asks": "cuttings"}, "took cuttings of peppers", "cut"),
            ("buy-or-sow", {"count": 6}, {}, "bought 6 peppers", "buy"),
            ("frost", {}, {}, "covered peppers", "cover"),
        ],
    )
    def test_did_it_is_what_the_answer_before_spoke_of(
        self, talk: Talk, topic: str, slots: dict[str, object], cues: dict[str, str], text: str, action: str
    ) -> None:
        question = spoken("?", topic, (ref("peppers"),), Slots(**slots), cues=cues)  # type: ignore[arg-type]
        talk.previous = Answer(question, "yes", "Sow 60.", (Number("margin", 3, "days"),))
        reply = talk("did it")
        assert reply.headline == f"Noted: {text}, 18 Apr."
        (kept,) = talk.kept
        assert (kept.action, kept.verdict, kept.headline) == (action, "yes", "Sow 60.")
        assert kept.numbers[0]["name"] == "margin"

    def test_did_it_after_the_weeks_list_is_its_first_job_or_the_one_named(self, talk: Talk) -> None:
        jobs = Answer(
            spoken("what should I do this week", "agenda"),
            None,
            "This week: sow spinach, then harden off the leeks.",
            jobs=(
                JobRef(1, "sow-outdoors", "spinach", do="Sow spinach outdoors"),
                JobRef(2, "harden", "leek", do="Start hardening off the leeks"),
            ),
        )
        talk.show(jobs)
        assert talk("did it").headline == "Noted: sowed spinach, 18 Apr."
        talk.show(jobs)
        assert talk("done 2").headline == "Noted: hardened off leeks, 18 Apr."
        assert [d.action for d in talk.kept] == ["harden", "sow"]
        assert talk("done 7").headline.startswith("There is no job 7")
        assert talk("drop 1").headline == "Noted: not doing 'sow spinach outdoors', 18 Apr."
        assert talk("2 until Saturday").headline.startswith("Noted: put off 'start hardening off the leeks'")
        assert talk.kept[0].on == date(2027, 4, 24)

    def test_did_it_without_an_answer_before_is_asked_back(self, talk: Talk) -> None:
        assert talk("did it").headline.startswith("What did you do?")
        assert talk.kept == []

    def test_skip_is_a_decision_too(self, talk: Talk) -> None:
        talk.previous = Answer(spoken("too late?", "late-start", (ref("celery"),)), "no", "Too late.")
        assert talk("skip that").headline == "Noted: decided to skip celery, 18 Apr."
        (kept,) = talk.kept
        assert (kept.action, kept.verdict, kept.detail.get("of")) == ("drop", "no", None)
        assert talk("skip the leeks", "leeks").headline == "Noted: decided to skip leeks, 18 Apr."


class TestTakingBack:
    def test_and_putting_back(self, talk: Talk) -> None:
        talk("log that I planted 12 leeks", "leeks", count=12)
        assert talk("undo the last thing").headline == "Took back 'planted 12 leeks' of 18 Apr 2027."
        assert talk.texts == []
        assert talk("undo").headline == "There is nothing to take back."
        assert talk("put it back").headline == "Put back: planted 12 leeks, 18 Apr 2027."
        assert talk.texts == ["planted 12 leeks"]
        assert talk("redo").headline.startswith("Nothing has been taken back")

    def test_a_correction_only(self, talk: Talk) -> None:
        talk("log that I planted 12 leeks", "leeks", count=12)
        talk("no, make it 14", count=14)
        assert talk("undo").headline == "The entry reads 'planted 12 leeks' of 18 Apr 2027 again."
        assert talk.texts == ["planted 12 leeks"]

    def test_several(self, talk: Talk) -> None:
        for text in ("one", "two", "three"):
            talk(f"note that {text} happened")
        assert "two happened" in talk("undo the last two entries").headline
        assert talk.texts == ["one happened"]

    def test_about_a_crop_when_it_is_the_only_one(self, talk: Talk) -> None:
        talk("log that I planted leeks", "leeks")
        talk("log that I planted kale", "kale")
        assert talk("Delete my note about the leeks", "leeks").headline.startswith(
            "Took back 'planted leeks'"
        )
        assert talk.texts == ["planted kale"]
        assert (
            talk("Delete my note about the leeks", "leeks").headline
            == "There is no entry about leeks, so nothing is changed."
        )

    def test_of_several_about_a_crop_which_one_is_asked(self, talk: Talk) -> None:
        talk("log that I sowed leeks", "leeks")
        talk("log that I planted leeks", "leeks")
        reply = talk("delete my note about the leeks", "leeks")
        assert reply.headline == "There are 2 entries about leeks; which one?"
        assert reply.effects == ()
        assert talk(reply.asks[1]).headline.startswith("Took back 'sowed leeks'")
        assert talk.texts == ["planted leeks"]
        assert talk("delete entry 99").headline.startswith("There is no note 99, so nothing is changed.")


class TestCorrecting:
    def test_the_count_in_figures_and_in_words(self, talk: Talk) -> None:
        talk("log that I planted 12 leeks", "leeks", count=12)
        reply = talk("no, make it 14", count=14)
        assert reply.headline == "Corrected: planted 14 leeks, 18 Apr."
        assert (talk.kept[0].text, talk.kept[0].count) == ("planted 14 leeks", 14)
        talk("note that I planted a dozen kale", "kale", count=12)
        talk("sorry 18 not 12", count=18)
        assert talk.texts[0] == "planted 18 kale"

    def test_the_count_where_the_language_found_none(self, talk: Talk) -> None:
        talk("note that I potted up 16 tomatoes", "tomatoes", count=16)
        assert talk("sorry 18 not 16").headline == "Corrected: potted up 18 tomatoes, 18 Apr."
        assert talk.kept[0].count == 18

    def test_a_count_that_was_not_told_goes_before_the_crop(self, talk: Talk) -> None:
        talk("note that I sowed peppers under the lamp", "peppers")
        talk("make it 24", count=24)
        assert talk.texts == ["sowed 24 peppers under the lamp"]

    def test_the_crop(self, talk: Talk) -> None:
        talk("log six oregano divisions potted", "oregano")
        talk("make that thyme", "thyme")
        assert (talk.kept[0].text, talk.kept[0].crops) == ("six thyme divisions potted", ("thyme",))

    def test_one_crop_of_several(self, talk: Talk) -> None:
        talk("note that I sowed carrots and beets", "carrots", "beets")
        talk("scratch that, it was the beets not the carrots", "beets", "carrots")
        assert talk.kept[0].crops == ("beet",)

    def test_the_day(self, talk: Talk) -> None:
        talk("log that I planted leeks", "leeks")
        reply = talk("no, it was the 12th", date=date(2027, 4, 12))
        assert reply.headline == "Corrected: planted leeks, 12 Apr."
        assert talk.kept[0].on == date(2027, 4, 12)

    def test_the_place(self, talk: Talk) -> None:
        talk("note that I sowed cabbage in the greenhouse")
        talk("no, it was in the cold frame")
        assert talk.texts == ["sowed cabbage in the cold frame"]
        assert talk.kept[0].detail["where"] == "cold frame"

    def test_of_nothing(self, talk: Talk) -> None:
        assert talk("no, make it 14", count=14).headline == "There is no entry to correct yet."

    def test_an_older_entry_about_the_crop_named(self, talk: Talk) -> None:
        talk("log that I planted 12 leeks", "leeks", count=12)
        talk("log that I sowed kale", "kale")
        talk("change the leeks to 14", "leeks", count=14)
        assert sorted(talk.texts) == ["planted 14 leeks", "sowed kale"]


class TestListing:
    @pytest.fixture(autouse=True)
    def _entries(self, talk: Talk) -> None:
        for text, day, crops in (
            ("sowed 40 peppers on the mat", date(2026, 3, 2), ("pepper",)),
            ("potted up 36 peppers", date(2026, 4, 8), ("pepper",)),
            ("picked the first peppers", date(2026, 8, 20), ("pepper",)),
            ("planted 12 leeks", date(2027, 3, 14), ("leek",)),
            ("sowed 48 peppers", date(2027, 3, 20), ("pepper",)),
            ("frost caught the low corner", date(2027, 4, 2), ()),
            ("potted up leeks", date(2027, 4, 14), ("leek",)),
        ):
            deed = deed_in(text, FACTS)
            effect = LogDecision(deed.id if deed else "note", text, day, crops)
            talk.journal.apply(effect, place="Duluth, MN", answer=None, knowledge_version="test")

    def rows(self, reply: Answer) -> list[str]:
        assert reply.table is not None
        return [row[1] for row in reply.table.rows]

    def test_everything_newest_first(self, talk: Talk) -> None:
        reply = talk("show my log")
        assert reply.headline == "7 entries noted."
        assert self.rows(reply)[:2] == ["potted up leeks", "frost caught the low corner"]
        assert [n.value for n in reply.numbers] == [7, date(2026, 3, 2), date(2027, 4, 14)]

    def test_about_a_crop(self, talk: Talk) -> None:
        reply = talk("what did I decide about leeks", "leeks")
        assert reply.headline == "2 entries noted about leeks."
        assert self.rows(reply) == ["potted up leeks", "planted 12 leeks"]

    def test_of_a_month_the_latest_such_that_has_begun(self, talk: Talk) -> None:
        assert self.rows(talk("show my log for March")) == ["sowed 48 peppers", "planted 12 leeks"]
        assert "sowed 40 peppers on the mat" in talk("what did I do in March 2026").headline
        assert talk("What did I record in August?").headline == (
            "In the log: picked the first peppers, 20 Aug 2026."
        )

    def test_of_a_day_and_nothing(self, talk: Talk) -> None:
        assert talk("What did I do on Wednesday?", date=date(2027, 4, 14)).headline == (
            "In the log: potted up leeks, 14 Apr 2027."
        )
        assert talk("and on wednesday?", date=date(2027, 4, 21)).headline == (
            "In the log: potted up leeks, 14 Apr 2027."  # the Wednesday gone by, not the one to come
        )
        assert talk("and yesterday?", date=date(2027, 4, 17)).headline == "Nothing is noted on 17 Apr 2027."

    def test_by_words(self, talk: Talk) -> None:
        assert talk("my frost notes").headline == "In the log: frost caught the low corner, 2 Apr 2027."
        assert talk("slug notes").headline == "Nothing is noted with 'slug'."

    def test_when_and_how_did_it_go(self, talk: Talk) -> None:
        reply = talk("when did I start peppers last year, and how did it go", "peppers")
        assert reply.headline == "Started: sowed 40 peppers on the mat, 2 Mar 2026."
        assert reply.details[0] == "First harvest 20 Aug 2026, 171 days after that."
        assert self.rows(reply)[:3] == [
            "sowed 40 peppers on the mat", "potted up 36 peppers", "picked the first peppers",
        ]  # fmt: skip
        assert talk("when did I sow peppers last year", "peppers").headline == (
            "In the log: sowed 40 peppers on the mat, 2 Mar 2026."
        )

    def test_a_deed_nobody_noted_is_said_and_the_rest_shown(self, talk: Talk) -> None:
        reply = talk("when did I prune the leeks", "leeks")
        assert "No entry says 'pruned'" in reply.details[0]
        assert self.rows(reply) == ["potted up leeks", "planted 12 leeks"]

    def test_how_many(self, talk: Talk) -> None:
        talk("log that I sowed 24 kale", "kale", count=24)
        assert (
            talk("how many kale did I sow", "kale").headline
            == "24 in all, in 1 entry for 'sowed' about kale."
        )
        talk("log that I sowed 12 kale", "kale", count=12)
        reply = talk("how many kale did I sow", "kale")
        assert reply.headline == "36 in all, in 2 entries for 'sowed' about kale."
        assert reply.numbers[0].value == 36
        # an entry without a count is not counted as none: the entries are shown instead
        assert (
            talk("how many leeks did I plant", "leeks").headline
            == "In the log: planted 12 leeks, 14 Mar 2027."
        )

    def test_the_last_entry(self, talk: Talk) -> None:
        assert talk("last entry").headline == "The latest entry: potted up leeks, 14 Apr 2027."

    def test_a_long_list_is_cut_and_says_so(self, talk: Talk) -> None:
        for number in range(30):
            talk(f"note that number {number} came")
        reply = talk("show my log")
        assert len(self.rows(reply)) == 20
        assert "newest 20" in reply.details[0]


@pytest.mark.parametrize(
    ("text", "since", "until"),
    [
        ("in March", (2027, 3, 1), (2027, 3, 31)),
        ("in May", (2026, 5, 1), (2026, 5, 31)),  # this year's has not begun
        ("last june", (2026, 6, 1), (2026, 6, 30)),
        ("last April", (2026, 4, 1), (2026, 4, 30)),
        ("in february 2024", (2024, 2, 1), (2024, 2, 29)),
        ("in March last year", (2026, 3, 1), (2026, 3, 31)),
        ("since February", (2027, 2, 1), (2027, 4, 18)),
        ("last year", (2026, 1, 1), (2026, 12, 31)),
        ("this year", (2027, 1, 1), (2027, 12, 31)),
        ("in 2025", (2025, 1, 1), (2025, 12, 31)),
        ("last spring", (2026, 3, 1), (2026, 5, 31)),  # this spring runs
        ("last autumn", (2026, 9, 1), (2026, 11, 30)),
        ("last winter", (2026, 12, 1), (2027, 2, 28)),
        ("last month", (2027, 3, 1), (2027, 3, 31)),
        ("last week", (2027, 4, 5), (2027, 4, 11)),
        ("this week", (2027, 4, 12), (2027, 4, 18)),
        ("may I see it", None, None),
        ("forgot again like last year", None, None),
    ],
)
def test_the_days_a_question_is_about(
    text: str, since: tuple[int, int, int] | None, until: tuple[int, int, int] | None
) -> None:
    typed = {t.kind: t.value for t in period_in(asking_part(f"what did I note {text}"), None, TODAY)}
    if since is None or until is None:
        assert not typed
    elif "season" not in typed:  # the days of a season depend on the place: see the next test
        assert (typed["since"], typed["until"]) == (date(*since), date(*until))


def test_an_export_says_the_command(talk: Talk) -> None:
    reply = talk("export everything as a spreadsheet")
    assert reply.headline.endswith("gardenmate log export --format csv --out garden-log.csv")
    assert "--crop leek" in talk("export the leeks to my calendar file", "leeks").headline


@settings(max_examples=150, deadline=None)
@given(
    text=st.text(max_size=300)
    | st.sampled_from(["note that ", "undo ", "in march ", "last year "]).flatmap(
        lambda head: st.text(max_size=40).map(lambda rest: head + rest)
    ),
    today=st.dates(),
    count=st.none() | st.floats(0, 1e6),
)
def test_any_text_on_any_day_has_an_answer(text: str, today: date, count: float | None) -> None:
    world = replace(WORLD, today=today)
    reply = answer(said(text, count=count), world)
    assert reply.headline


@pytest.mark.parametrize("head", ["", "note that ", "what did I "])
@pytest.mark.parametrize(
    "piece",
    [
        "it was ", ",.;- ", "...", "note that ", "in march ", "no not ", "put leeks out ", "x" * 50,
        "twenty ", "log it, ",
    ],
)  # fmt: skip
def test_a_line_of_a_million_signs_is_answered_and_what_is_noted_kept_whole(
    tmp_path: Path, piece: str, head: str
) -> None:
    """A pattern that runs away on such a line would not come back at all."""
    text = (head + piece * (1_000_000 // len(piece)))[:1_000_000]
    talk = Talk(tmp_path / "journal.db")
    assert talk(text).headline
    if talk.kept:
        assert talk.texts == [own_words(text)]
        assert len(talk.texts[0]) > 900_000


@pytest.mark.parametrize(
    "text",
    [
        "sowed 40 marigolds",
        "the low of 32 may hit the beans",
        "planted 36 on May 5",
        "29 February",
        "sept 30",
    ],
)
def test_a_number_beside_a_word_is_no_impossible_day(text: str) -> None:
    assert impossible_day(text) is None
