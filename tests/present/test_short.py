"""The short form: what is in it, what gives way, cautions in full once, and nothing lost."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import CropRef, Request, Sense
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Look, layout, text_of
from gardenmate.present.short import brief_of, key_figures, rest, short
from gardenmate.present.so_far import HINT, SoFar, asks_more
from gardenmate.records import replace

FACTS = Facts()
BRIEF = brief_of(FACTS)
TODAY = date(2027, 4, 18)
LOOK = Look(80, "us", TODAY)
CAUTIONS = FACTS.table("cautions")
FLAME, FORECAST = CAUTIONS["frost"]["no_flame"], CAUTIONS["frost"]["forecast"]

ANSWER = Answer(
    question=Request(
        "will it kill my peas?", "frost", (CropRef("pea"),), sense=Sense(polar=True, turned=True)
    ),
    verdict="yes",
    headline="Peas come through 30 F.",
    numbers=(
        Number("low_f", 30.0, "F", "low"),
        Number("leaf_low_clear_f", 24.0, "F", "leaf height"),
        Number("hurt_below_f", 28.0, "F", "hurt below"),
        Number("killed_below_f", 20.0, "F", "killed near"),
        Number("killed_below_c", -6.7, "C", "killed near"),
    ),
    details=("They are hardy.",),
    table=Table(("crop", "low"), (("pea", "24 F"),)),
    steps=("Cover them.", "Uncover them."),
    changes=("Fleece adds 4 degrees.",),
    cautions=(FORECAST["text"], FLAME["text"]),
    assumptions=("A clear night.",),
)


def test_at_most_three_figures_and_those_that_decide() -> None:
    text = text_of(short(ANSWER, LOOK, BRIEF).lines)
    assert [n.name for n in key_figures(ANSWER, LOOK, BRIEF)] == [
        "leaf_low_clear_f",
        "hurt_below_f",
        "killed_below_f",
    ]
    assert "24 F" in text
    assert "Cover them." in text
    assert "Uncover" not in text
    assert "hardy" not in text


def test_an_answer_may_name_its_own_figures() -> None:
    named = replace(ANSWER, key_figures=("killed_below",))
    assert [n.value for n in key_figures(named, LOOK, BRIEF)] == [20.0]
    assert [n.value for n in key_figures(named, LOOK._replace(units="metric"), BRIEF)] == [-6.7]


def test_a_figure_of_the_first_line_is_not_said_twice() -> None:
    said = replace(ANSWER, headline="Peas come through: leaves may reach 24 F.")
    assert "leaf_low_clear_f" not in [n.name for n in key_figures(said, LOOK, BRIEF)]


@pytest.mark.parametrize("width", [50, 80])
def test_more_is_exactly_what_the_short_form_left_out(width: int) -> None:
    look = Look(width, "us", TODAY)
    shown = short(ANSWER, look, BRIEF)
    whole = " ".join(text_of(layout(ANSWER, look)).split())
    both = " ".join((text_of(shown.lines) + text_of(rest(shown, look))).split())
    for word in set(whole.split()):
        assert word.strip(".:") in both or word == "1."  # one thing to do needs no number
    assert "2. Uncover them." in text_of(rest(shown, look))


def test_cautions_stand_in_full_once_then_in_few_words_and_an_acute_one_always() -> None:
    first = short(ANSWER, LOOK, BRIEF)
    assert FLAME["text"] in " ".join(text_of(first.lines).split())
    again = text_of(short(ANSWER, LOOK, BRIEF, first.said).lines)
    assert FLAME["text"] not in " ".join(again.split())
    assert f"{FLAME['short']}, as before" in " ".join(again.lower().split())


def test_two_acute_dangers_are_both_named() -> None:
    elder, lines = CAUTIONS["pruning"]["raw_elder"], CAUTIONS["pruning"]["lines"]
    answer = replace(ANSWER, cautions=(lines["text"], elder["text"]))
    text = " ".join(text_of(short(answer, LOOK, BRIEF).lines).split())
    assert lines["text"] in text
    assert f"Also: {elder['short']}." in text


def test_a_caution_without_a_short_form_is_said_whole_and_then_named_by_its_plant() -> None:
    answer = replace(ANSWER, cautions=("Mind the bull.",))
    first = short(answer, LOOK, BRIEF)
    assert "Mind the bull." in text_of(first.lines)
    assert "The caution for pea, as before." in text_of(short(answer, LOOK, BRIEF, first.said).lines)


def test_every_caution_has_a_short_form_of_few_words() -> None:
    for topic, entries in CAUTIONS.items():
        for name, entry in entries.items():
            assert 2 <= len(entry["short"].split()) <= 6, f"{topic}.{name}"
            assert len(entry["short"]) < len(entry["text"])


def test_the_word_is_the_one_a_person_hears() -> None:
    assert text_of(short(ANSWER, LOOK, BRIEF).lines).startswith("NO  Peas come through 30 F.")
    straight = replace(ANSWER, question=replace(ANSWER.question, sense=Sense(polar=True)))
    assert text_of(short(straight, LOOK, BRIEF).lines).startswith("YES  Peas")
    when = replace(
        ANSWER, question=replace(ANSWER.question, sense=Sense()), headline="Yes: peas come through."
    )
    assert text_of(short(when, LOOK, BRIEF).lines).startswith("Peas come through.")
    assert text_of(short(replace(ANSWER, polar=False), LOOK, BRIEF).lines).startswith("Peas come")


def test_the_hint_is_given_twice_and_more_shows_the_rest_once() -> None:
    screen = SoFar(FACTS, hints=2)
    hinted = [HINT in text_of(screen.first(ANSWER, LOOK)) for _ in range(3)]
    assert hinted == [True, True, False]
    assert screen.waits
    assert "They are hardy." in text_of(screen.rest(LOOK))
    assert not screen.waits
    assert screen.rest(LOOK) == []


@pytest.mark.parametrize("text", ["more", "More.", "/more", "show me more", "the rest"])
def test_more_is_asked_for(text: str) -> None:
    assert asks_more(text)


@pytest.mark.parametrize("text", ["more peppers?", "one more week", "", "how many more"])
def test_more_of_something_is_a_question(text: str) -> None:
    assert not asks_more(text)


def test_full_is_the_whole_answer() -> None:
    assert SoFar(FACTS, full=True).first(ANSWER, LOOK) == layout(ANSWER, LOOK)


@pytest.mark.parametrize("place", ["Duluth", "Christchurch"])
@pytest.mark.parametrize(("width", "limit"), [(80, 10), (50, 13)])
def test_nine_in_ten_answers_of_the_help_fit(place: str, width: int, limit: int) -> None:
    talk = Conversation(FACTS, lambda: TODAY, PlaceOptions(place=place), remembers=False)
    asked = [text for entry in FACTS.table("help").values() for text in entry["ask"]]
    lengths = [
        len(SoFar(FACTS).first(talk.ask(text), Look(width, talk.shown_units(), TODAY))) for text in asked
    ]
    assert sum(n <= limit for n in lengths) >= 0.9 * len(lengths)


def test_two_things_asked_are_two_short_answers_and_more_shows_both_rests() -> None:
    other = replace(ANSWER, headline="Beans do not.", details=("They are tender.",))
    screen = SoFar(FACTS)
    first = text_of(screen.first(replace(ANSWER, also=(other,)), LOOK))
    assert first.index("Peas come") < first.index("Beans do not.")
    both = text_of(screen.rest(LOOK))
    assert "They are hardy." in both
    assert "They are tender." in both
