"""Whether yes or no was asked, and whose yes it is: as an English speaker hears it (labelled by hand)."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.question import Sense
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.spoken import spoken

YES_OR_NO = Sense(polar=True)
TURNED = Sense(polar=True, turned=True)
OTHER = Sense()

ASKED = [
    ("can I set out tomatoes now?", YES_OR_NO),
    ("shud i shut the coldfram now its clowding over", YES_OR_NO),
    ("55 out and hazy, frame at 72. Vent?", YES_OR_NO),
    ("courgettes outside yet?", YES_OR_NO),
    ("peas 24?", YES_OR_NO),
    ("do eggplants need bottom heat", YES_OR_NO),
    ("should I cover them or not?", YES_OR_NO),
    ("Found the onion seed in April. Is there any point now or will I get marbles", YES_OR_NO),
    ("will 15 F kill my garlic?", TURNED),
    ("is it too late for carrots?", TURNED),
    ("did I miss my chance for green beans", TURNED),
    ("are my tomatoes dead after that frost?", TURNED),
    ("will burying the stems when I repot make them rot?", TURNED),
    ("is it ok to dig one up to see whether the seed rotted", YES_OR_NO),
    ("can spinach survive a hard freeze or will it die?", YES_OR_NO),
    ("when do I start leeks?", OTHER),
    ("what pot size for basil?", OTHER),
    ("howto take currant cuttings", OTHER),
    ("artichoke offsets when", OTHER),
    ("should I sow celery or buy plants?", OTHER),
    ("which is cheaper, seed or plants", OTHER),
    ("can you tell me when to prune grapes?", OTHER),
    ("told not to trim grapes in fall. when is the proper time then", OTHER),
    ("how many seeds for 24 cabbages", OTHER),
    ("I garden in Duluth, on a slope above the lake, since last year", OTHER),
    ("", OTHER),
]

FOLLOWED = [
    ("is it too late to start peppers?", "and tomatoes?", TURNED),
    ("does spinach germinate at 45 degrees?", "and at 75", YES_OR_NO),
    ("when do I prune cherries?", "plums too?", OTHER),
    ("when do I take elder cuttings?", "too late to prune the elder?", TURNED),
    ("when do I shut it?", "lettuce in the frame, 18 tonight, okay?", YES_OR_NO),
    ("is it too late to start peppers?", "what if the last frost is a week later?", OTHER),
    ("can tomatoes go outside yet?", "and my basil?", YES_OR_NO),
]


@pytest.fixture(scope="module")
def facts() -> Facts:
    return Facts()


def talk(facts: Facts) -> Conversation:
    return Conversation(facts, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"))


@pytest.mark.parametrize(("text", "sense"), ASKED)
def test_a_question_on_its_own(facts: Facts, text: str, sense: Sense) -> None:
    assert talk(facts).understand(text).sense._replace(figure=False) == sense


@pytest.mark.parametrize(("before", "text", "sense"), FOLLOWED)
def test_a_turn_without_its_own_question_takes_over_the_one_before(
    facts: Facts, before: str, text: str, sense: Sense
) -> None:
    conversation = talk(facts)
    conversation.ask(before)
    assert conversation.understand(text).sense._replace(figure=False) == sense


def test_the_machine_verdict_stays_and_the_word_follows_the_question(facts: Facts) -> None:
    straight = talk(facts).ask("will my kale survive 26 F tonight?")
    turned = talk(facts).ask("will 26 F kill my kale tonight?")
    assert straight.verdict == turned.verdict == "yes"
    assert spoken(straight)[0] == "YES"
    assert spoken(turned)[0] == "NO"


@pytest.mark.parametrize(
    ("text", "figure"),
    [
        ("how deep do I bury leggy tomatoes?", True),
        ("and when can I pot them up", True),
        ("can I bury leggy tomatoes, and how deep?", False),
        ("is it too late to prune the lilac", False),
    ],
)
def test_a_time_or_a_measure_asked_first_is_told(facts: Facts, text: str, figure: bool) -> None:
    assert talk(facts).understand(text).sense.figure is figure
