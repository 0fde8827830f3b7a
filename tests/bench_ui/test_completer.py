"""Completion: names where names are typed, places after "in", whole questions from their beginning."""

from __future__ import annotations

import pytest
from prompt_toolkit.completion import CompleteEvent, Completer
from prompt_toolkit.document import Document

from gardenmate.bench.completer import MOST, BenchCompleter, NameCompleter
from gardenmate.bench.names import crop_names, place_names
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
BENCH = BenchCompleter(FACTS)


def offered(text: str, completer: Completer = BENCH, tab: bool = False) -> dict[str, str]:
    """What is offered for a line, as the whole line it would become -> its meaning."""
    event = CompleteEvent(text_inserted=not tab, completion_requested=tab)
    found = completer.get_completions(Document(text), event)
    return {text[: len(text) + c.start_position] + c.text: c.display_meta_text for c in found}


def test_a_crop_is_completed_where_it_is_typed() -> None:
    found = offered("is it too late to start pepp")
    assert found["is it too late to start peppers"] == "very tender crop, about 75 days"
    assert not any(line.endswith(" pepper") for line in found)  # the plural stands for both


def test_names_of_several_words_are_completed_whole() -> None:
    assert "when do I plant brussels sprouts" in offered("when do I plant brussels sp")


def test_a_plant_is_told_by_its_group_and_botanical_name() -> None:
    (meaning,) = {m for line, m in offered("prune the gooseb").items() if line.endswith("gooseberries")}
    assert meaning.startswith("bush, Ribes")


def test_places_come_after_in_and_the_like_only() -> None:
    assert offered("I garden in Dul")["I garden in Duluth"] == "place: MN, US, 435 m"
    assert "what about Duluth" not in offered("what dul")
    assert {"frost in Portland, ME", "frost in Portland, OR"} <= set(offered("frost in port"))


def test_a_question_is_completed_from_its_beginning_with_its_meaning() -> None:
    found = offered("too la")
    assert found["too late for"] == "Is it too late? With the dates and the odds."
    assert "is it too late for" not in found


@pytest.mark.parametrize("line", ["", "   ", "too late for ", "x", "is it xq"])
def test_nothing_is_offered_where_it_would_only_be_in_the_way(line: str) -> None:
    assert offered(line) == {}


def test_tab_asks_for_more_and_never_for_too_much() -> None:
    assert offered("is it too late for pe") == {}
    found = offered("is it too late for pe", tab=True)
    assert "is it too late for peas" in found
    assert len(found) <= MOST


def test_only_the_last_line_of_a_pasted_block_is_completed() -> None:
    assert "kale?\ntoo late for" in offered("kale?\ntoo la")


def test_first_run_completes_places_and_gear() -> None:
    assert "Duluth" in offered("du", NameCompleter(FACTS, "place"))
    assert "heat mat, cold frame" in offered("heat mat, co", NameCompleter(FACTS, "gear"))
    assert offered("", NameCompleter(FACTS, "place")) == {}


def test_every_name_has_a_meaning_and_no_misspelling_is_taught() -> None:
    names = crop_names(FACTS)
    assert len({n.key for n in names}) == len(names)
    assert all(n.meaning for n in (*names, *place_names(FACTS)))
    assert not {n.key for n in names} & {k for k, e in FACTS.names.items() if e.misspelled}


def test_a_small_town_is_completed_with_its_state_and_height() -> None:
    completer = NameCompleter(Facts(), "place")
    found = list(completer.get_completions(Document("Tellur"), CompleteEvent()))
    assert [c.text for c in found] == ["Telluride, CO"]
    assert "San Miguel County" in str(found[0].display_meta_text)


def test_a_bundled_place_is_offered_once() -> None:
    completer = NameCompleter(Facts(), "place")
    found = [c.text for c in completer.get_completions(Document("Dulut"), CompleteEvent())]
    assert found[0] == "Duluth"
    assert "Duluth, MN" not in found
    assert "Duluth, GA" in found


def test_a_variety_told_is_completed_with_its_crop() -> None:
    own = BenchCompleter(FACTS, lambda: {"Glacier": "tomato"})
    found = list(own.get_completions(Document("sowed 12 Gla"), CompleteEvent()))
    assert [(c.text, c.display_meta_text) for c in found][:1] == [("Glacier", "your tomato")]
