"""A question about a danger is answered by the danger, whatever the topic would say, and cannot be misread.

The questions stand in dangers_asked.txt: every hazard of the work in several wordings, and harmless ones
that sound like them.
"""

import re
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from gardenmate.core.question import Request
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.help_lines import with_numbers
from gardenmate.present.vocabulary import speaker
from gardenmate.topics.safety.answer import card_of, danger_answer, danger_of
from tests.topics.said import spoken

FACTS = Facts()
LINES = [
    tuple(part.strip() for part in line.split("|", 1))
    for line in Path(__file__).with_name("dangers_asked.txt").read_text("utf-8").splitlines()
    if line.strip() and line[0] != "#"
]
DANGERS = [(text, kind) for kind, text in LINES if kind != "none"]
HARMLESS = [text for kind, text in LINES if kind == "none"]
CARDS = sorted({kind for name in FACTS.ids("dangers") for kind in FACTS.table(f"dangers/{name}")})
FIRST_AID = sorted(FACTS.table("dangers/first_aid"))


@cache
def _talk() -> Conversation:
    return Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"), "us", remembers=False)


def _read(text: str) -> Request:
    return _talk().understand(text)


@pytest.mark.parametrize(("text", "kind"), DANGERS)
def test_the_danger_is_heard_and_answers(text: str, kind: str) -> None:
    question = _read(text)
    assert danger_of(question, FACTS) == kind
    answer = _talk().answer(question)
    say = speaker(FACTS, american=True, typed=text)
    assert answer.headline == say(with_numbers(card_of(kind, FACTS)["text"], FACTS, "US"))
    assert answer.verdict is None
    assert _talk().exit_code == 0


@pytest.mark.parametrize("text", HARMLESS)
def test_what_is_harmless_is_left_to_its_topic(text: str) -> None:
    assert danger_of(_read(text), FACTS) is None


def test_there_are_many_near_misses() -> None:
    assert len(HARMLESS) >= 60


@pytest.mark.parametrize("kind", CARDS)
def test_a_card_cannot_be_read_the_wrong_way_round(kind: str) -> None:
    opening = card_of(kind, FACTS)["text"].split()[0].strip(":,").lower()
    assert opening not in ("no", "yes", "tight", "not at all"), kind
    assert card_of(kind, FACTS)["text"].endswith("."), kind


@pytest.mark.parametrize("kind", CARDS)
def test_a_card_says_what_to_do_and_whose_word_decides(kind: str) -> None:
    answer = danger_answer(spoken(text="", topic="frost", cues={"danger": kind}), FACTS)
    assert answer is not None
    assert answer.steps
    assert answer.cautions
    assert answer.sources
    for source in answer.sources:
        FACTS.source(source)


def test_every_card_is_asked_for_and_every_danger_heard_has_a_card() -> None:
    heard = {entry["kind"] for entry in FACTS.table("language/dangers")["danger"]}
    assert heard == set(CARDS)
    assert {kind for _, kind in DANGERS} == set(CARDS)


@pytest.mark.parametrize("kind", FIRST_AID)
def test_who_may_be_hurt_gets_the_first_step_first(kind: str) -> None:
    first = card_of(kind, FACTS)["text"].lower()
    steps = (
        "call|get out|leave|do not touch|cut the power|rinse|wash|take off|press|keep them still|stop|trouble"
    )
    assert re.match(f"({steps})\\b", first)


def test_poisoned_means_call_now_in_every_country_with_its_number() -> None:
    card = card_of("swallowed", FACTS)
    assert card["text"].startswith("Call poison control now")
    assert "vet" in card["text"]
    answer = danger_answer(spoken(text="", topic="frost", cues={"danger": "swallowed"}), FACTS)
    assert answer is not None
    said = " ".join(answer.steps)
    # HRSA Poison Help, NZ National Poisons Centre, Queensland Poisons Information Centre (see sources.toml).
    for number in ("1-800-222-1222", "0800 764 766", "13 11 26", "911", "999", "000", "111", "112"):
        assert number in said


@pytest.mark.parametrize(
    ("country", "poison", "emergency"),
    [
        ("US", "1-800-222-1222", "911"),  # HRSA Poison Help
        ("CA", "1-844-764-7669", "911"),  # Health Canada
        ("UK", "111", "999"),  # UK National Poisons Information Service
        ("IE", "01 809 2166", "999"),  # National Poisons Information Centre of Ireland
        ("AU", "13 11 26", "000"),  # Queensland Poisons Information Centre
        ("NZ", "0800 764 766", "111"),  # New Zealand National Poisons Centre
        ("FR", "poisons centre", "112"),  # common practice
    ],
)
def test_a_known_country_hears_its_own_numbers_only(country: str, poison: str, emergency: str) -> None:
    answer = danger_answer(spoken(text="", topic="frost", cues={"danger": "swallowed"}), FACTS, country)
    assert answer is not None
    said = " ".join((answer.headline, *answer.steps, *answer.cautions))
    assert poison in said
    assert f"({emergency}" in said
    others = {"1-800-222-1222", "1-844-764-7669", "01 809 2166", "13 11 26", "0800 764 766"} - {poison}
    assert not any(number in said for number in others)
    assert "{" not in said


@pytest.mark.parametrize(
    "text",
    [
        "Can I hang a heat lamp over my tomato seedlings?",
        "is it ok to prune my apple tree from a ladder",
        "Is a kerosene heater in a cold frame dangerous tonight?",
        "Should I avoid a chainsaw on a ladder for my apple?",
        "Must I unplug the heat mat before watering pepper trays?",
        "Does frost make rhubarb stalks poisonous?",
    ],
)
def test_a_card_has_no_verdict_however_it_was_asked_for(text: str) -> None:
    answer = _talk().ask(text)
    assert answer.question.cue("danger"), text
    assert answer.verdict is None


def test_an_unknown_danger_is_an_error() -> None:
    with pytest.raises(KeyError):
        danger_answer(spoken(text="", topic="frost", cues={"danger": "nonsense"}), FACTS)


@pytest.mark.parametrize(
    ("text", "topic", "kind", "answered"),
    [
        ("log: cut by the power line", "log", "power-line", False),
        ("cut back the pear under the power line", "log", "power-line", True),
        ("I have a propane heater in the greenhouse", "garden", "carbon-monoxide", False),
        ("I have a propane heater, can I run it in the greenhouse?", "garden", "carbon-monoxide", True),
        ("we mixed bleach and ammonia, it smells strong", "log", "fumes", True),
        ("log: got a shock from the lamp", "log", "shock", False),
    ],
)
def test_what_is_only_to_be_noted_or_is_owned_is_not_answered(
    text: str, topic: str, kind: str, answered: bool
) -> None:
    question = spoken(text=text, topic=topic, cues={"danger": kind})
    assert (danger_answer(question, FACTS) is not None) is answered


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("sowed 20 carrots and then got a buzz off the lamp", "shock"),
        ("just pruned the apple with the chainsaw up the ladder, all fine", "chainsaw-ladder"),
        ("picked 3 lb of green tomatoes and the toddler chewed a leaf", "swallowed"),
    ],
)
def test_a_deed_told_with_a_danger_is_noted_after_the_warning(text: str, kind: str, tmp_path: Path) -> None:
    answer = _keeping(tmp_path).ask(text)
    assert answer.headline == with_numbers(card_of(kind, FACTS)["text"], FACTS, "US")
    assert len(answer.kept) == 1
    assert any(also.headline.startswith("Noted: ") for also in answer.also)


def test_what_is_only_to_be_noted_is_noted(tmp_path: Path) -> None:
    answer = _keeping(tmp_path).ask("log: got a shock from the lamp")
    assert answer.headline.startswith("Noted: ")
    assert len(answer.kept) == 1
    assert not answer.also


def _keeping(folder: Path) -> Conversation:
    journal, garden = Journal(journal_path(folder)), GardenFile(garden_path(folder))
    talk = Conversation(FACTS, lambda: date(2027, 4, 18), garden_file=garden, journal=journal)
    talk.ask("I garden in Duluth, Minnesota")
    return talk


@pytest.mark.parametrize(
    ("text", "answered"),
    [
        ("candle under the fleece, when do I set out tomatoes?", True),
        ("smudge pots lit round the peach, how late can I sow carrots?", True),
        (
            "can I prune the apple with a chainsaw from the ladder",
            False,
        ),  # only the dangerous way is asked about
        ("the lamp gave me a shock, when do I sow tomatoes?", False),  # somebody may be hurt
    ],
)
def test_the_harmless_part_is_answered_where_that_is_safe(text: str, answered: bool) -> None:
    answer = _talk().ask(text)
    assert answer.question.cue("danger")
    assert bool(answer.also) is answered
    assert all(also.verdict is None for also in answer.also)


@pytest.mark.parametrize(
    "text", ["burned the old canes, then planted 12 leeks", "emptied grow bag spores, cough"]
)
def test_an_unsure_danger_is_one_sentence_beside_the_reply_or_first_where_nothing_else_is_said(
    text: str,
) -> None:
    answer = _talk().ask(text)
    kind = answer.question.cue("danger_beside")
    assert kind is not None
    beside = FACTS.table("danger_classes")[kind.removeprefix("class-")]["beside"]
    assert beside in (answer.headline, *answer.cautions)
    assert answer.verdict != "yes"


def test_a_danger_told_in_a_long_story_is_heard() -> None:
    story = (
        "We have had such a lovely spring and the peas are up, the lettuce is up, and my husband has built "
        "two new beds by the fence where the old shed used to be. Yesterday the grandchildren came to help. "
        "While I was watering the beans the little boy, who is two, ate a leaf of the rhubarb before I could "
        "stop him. He seems quite all right so far. Anyway, when do I sow the carrots?"
    )
    assert danger_of(_read(story), FACTS) == "swallowed"


def test_words_far_apart_in_a_long_story_are_not_put_together() -> None:
    story = (
        "My toddler loves the garden and helps me with the peas each day after nursery. We ate the last "
        "of the carrots in March and they were lovely. The hens are laying well again and the weather has "
        "turned mild at last, so we mean to spend the long weekend outdoors. There is a bed to dig and a "
        "path to lay. Is it time to take cuttings from the berries?"
    )
    assert danger_of(_read(story), FACTS) is None


@pytest.mark.parametrize(
    ("first", "then", "kind"),
    [
        ("how cold will my cold frame be at 22 tonight", "and with a candle in it?", "flame"),
        (
            "will tomatoes live in my greenhouse at 25 tonight?",
            "what about a paraffin heater?",
            "carbon-monoxide",
        ),
        ("when do I prune my pear tree", "can I use a chainsaw?", "chainsaw"),
        ("when do I pick rhubarb", "can I eat the leaves?", "rhubarb-leaf"),
        ("how cold will my cold frame be at 22 tonight", "and at 18?", None),
        ("when do I prune my pear tree", "and the apple?", None),
        ("can I put a candle in the cold frame", "and at 30 degrees, will lettuce live?", None),
    ],
)
def test_a_short_turn_is_heard_with_the_one_before(first: str, then: str, kind: str | None) -> None:
    talk = Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"), "us")
    talk.ask(first)
    assert talk.understand(then).cue("danger") == kind
