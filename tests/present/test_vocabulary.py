"""One vocabulary an answer: American words at American places, British ones elsewhere; what was typed stays.

The pairs are common usage of gardeners on either side (common practice).
"""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import Request
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Look, plain
from gardenmate.present.vocabulary import in_words, speaker, speaks_american

FACTS = Facts()


@pytest.mark.parametrize(
    ("text", "american", "british"),
    [
        (
            "Cover them with heavy fleece.",
            "Cover them with heavy row cover.",
            "Cover them with heavy fleece.",
        ),
        ("Sow for autumn.", "Sow for fall.", "Sow for autumn."),
        ("In fall it dies.", "In fall it dies.", "In autumn it dies."),
        ("Sow an autumn crop.", "Sow a fall crop.", "Sow an autumn crop."),
        ("it may fall to 29 F", "it may fall to 29 F", "it may fall to 29 F"),
        ("Zucchinis wait.", "Zucchinis wait.", "Courgettes wait."),
        ("a GFCI (RCD) protected outlet", "a GFCI-protected outlet", "an RCD-protected socket"),
        ("Burn no kerosene (paraffin) inside.", "Burn no kerosene inside.", "Burn no paraffin inside."),
    ],
)
def test_each_side_says_its_own_word(text: str, american: str, british: str) -> None:
    assert speaker(FACTS, american=True)(text) == american
    assert speaker(FACTS, american=False)(text) == british


def test_what_was_typed_stays_as_it_was_typed() -> None:
    say = speaker(FACTS, american=True, typed="can courgettes go under fleece")
    assert say("Courgettes live under fleece in autumn.") == "Courgettes live under fleece in fall."


@pytest.mark.parametrize(
    ("country", "units", "american"),
    [
        ("US", "metric", True),
        ("CA", "metric", True),
        ("GB", "us", False),
        ("NZ", "metric", False),
        (None, "us", True),
    ],
)
def test_the_country_decides_and_without_one_the_units(
    country: str | None, units: str, american: bool
) -> None:
    assert speaks_american(country, units) is american


def test_every_part_that_is_read_speaks_it_and_no_machine_name_does() -> None:
    answer = Answer(
        Request("q", "frost"),
        None,
        "autumn",
        numbers=(Number("autumn_f", 3, "F", "autumn low"),),
        details=("autumn",),
        table=Table(("autumn",), (("autumn",),), "autumn"),
        steps=("autumn",),
        changes=("autumn",),
        cautions=("autumn",),
        assumptions=("autumn",),
    )
    said = in_words(answer, speaker(FACTS, american=True))
    assert "autumn" not in plain(said, Look(80, "us", date(2027, 4, 18)))
    assert said.numbers[0].name == "autumn_f"


@pytest.mark.parametrize("vocabulary", ["american", "british"])
def test_no_pair_undoes_another_of_its_list(vocabulary: str) -> None:
    say = speaker(FACTS, american=vocabulary == "american")
    for _, new in FACTS.table("vocabulary")[vocabulary]["pairs"]:
        assert say(new) == new


@pytest.mark.parametrize(("place", "wrong"), [("Duluth", "autumn"), ("Norwich", "row cover")])
def test_an_answer_of_either_side(place: str, wrong: str) -> None:
    talk = Conversation(FACTS, lambda: date(2027, 7, 28), PlaceOptions(place=place), remembers=False)
    for text in ("should I cover tomatoes at 35?", "when do I plant garlic?", "too late for kale?"):
        assert wrong not in plain(talk.ask(text), Look(80, "us", date(2027, 7, 28)))
