"""A question about a danger is answered by the danger: refusal first, whatever the topic would say."""

from datetime import date

import pytest

from gardenmate.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.question import Question
from gardenmate.rules.danger import danger_answer, danger_of

FACTS = Facts()

ASKED = {
    "can I run a propane heater in my greenhouse overnight": "carbon-monoxide",
    "can I heat the greenhouse with a wood stove at 25F": "carbon-monoxide",
    "will a diesel heater in the polytunnel be ok": "carbon-monoxide",
    "kerosene heater in my cold frame tonight?": "carbon-monoxide",
    "should I put a candle in the cold frame tonight": "flame",
    "can I light smudge pots to save my apple blossom": "flame",
    "should I prune the branch touching the power line": "power-line",
    "an electric wire runs through my pear, can I cut it back": "power-line",
    "broke a limb 15 feet up, can I cut it with a chainsaw from a ladder": "chainsaw-ladder",
    "can I use an electric blanket under my seed trays": "blanket",
    "is my extension cord ok for two heat mats": "extension-lead",
    "can I daisy chain the power strips for my lamps": "extension-lead",
    "string lights under the sheet to save my peppers": "string-lights",
    "can I eat raw elderberries": "raw-elder",
    "can I make a whistle from elder sticks": "raw-elder",
    "can you eat rhubarb leaves": "rhubarb-leaf",
    "should I trim my foxglove now": "poisonous",
    "can I climb on the greenhouse roof to clear the snow": "roof-glass",
    "can I mix bleach with vinegar to clean my pruners": "bleach",
    "sprinkle water on my strawberries against frost?": "sprinkling",
}

HARMLESS = (
    "is it warm enough near the wood stove for pepper seeds",
    "when should I prune elderberries",
    "can I eat my rhubarb now",
    "how many watts of lights over lettuce",
    "cut elderberry stems for cuttings now?",
    "when do I prune grapes on a wire",
    "is 6 hours of light enough for tomatoes under a lamp",
    "an electric heater in my greenhouse at 25F?",
)


@pytest.mark.parametrize(("text", "kind"), ASKED.items())
def test_the_danger_is_heard(text: str, kind: str) -> None:
    talk = Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"), "us")
    question = talk.understand(text)
    assert danger_of(question) == kind
    answer = talk.ask(text)
    entry = FACTS.table("cautions")["danger"][kind]
    assert answer.headline == entry["text"]
    stamped = question.topic not in ("out-of-scope", "unclear")
    assert answer.verdict == (entry["verdict"] if stamped else None)


@pytest.mark.parametrize("text", HARMLESS)
def test_what_is_harmless_is_left_to_its_topic(text: str) -> None:
    talk = Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"), "us")
    assert danger_of(talk.understand(text)) is None


def test_every_danger_refuses_says_what_instead_and_who_decides() -> None:
    for kind in FACTS.table("cautions")["danger"]:
        question = Question(text="rhubarb", topic="frost", cues={"danger": kind})
        answer = danger_answer(question, FACTS)
        assert answer is not None, kind
        assert answer.steps, kind
        assert answer.cautions, kind
        assert answer.verdict == "tight" or answer.headline.startswith(("No", "Leave it")), kind


def test_an_unknown_danger_is_an_error() -> None:
    with pytest.raises(KeyError):
        danger_answer(Question(text="", topic="frost", cues={"danger": "nonsense"}), FACTS)


def test_what_was_done_is_still_recorded() -> None:
    question = Question(text="log: cut by the power line", topic="log", cues={"danger": "power-line"})
    assert danger_answer(question, FACTS) is None
