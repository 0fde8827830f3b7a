"""Questions leave the stored garden as it is; a place asked about is answered for, or compared."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gardenmate.climate.places import resolve_site
from gardenmate.core.answer import Answer
from gardenmate.core.question import Slots
from gardenmate.core.world import World
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.profile import Garden
from gardenmate.garden.store import GardenFile, garden_path
from gardenmate.knowledge.facts import Facts
from gardenmate.language.values.asks_or_tells import only_asks
from gardenmate.topics.registry import rule_for
from tests.topics.said import spoken

FACTS = Facts()
TODAY = date(2027, 4, 18)
KEPT = '[place]\nname = "Burlington, VT"\n'


def ask(home: Path, text: str) -> Answer:
    """The answer in a garden at Burlington, after seeing that the garden file stayed as it was."""
    path = garden_path(home)
    path.write_text(KEPT, encoding="utf-8")
    answer = Conversation(FACTS, lambda: TODAY, garden_file=GardenFile(path)).ask(text)
    assert path.read_text(encoding="utf-8") == KEPT, text
    return answer


FRAMES = [
    "frost dates {for_} {place}",
    "last frost {for_} {place}",
    "average first frost in {place}",
    "usual last freeze for {place}",
    "what are the frost dates in {place}",
    "when is the last frost at {place}",
    "when does the first frost come to {place}",
    "what's the first freeze in {place}",
    "is the first frost in {place} earlier than mine",
    "does {place} freeze later than here",
    "is {place} milder than my garden",
    "is spring in {place} later than ours",
    "compare {place} with my garden",
    "how does my last frost compare with {place}",
    "which is colder, {place} or here",
    "is my garden warmer than {place}",
    "do you have my garden at {place}",
    "do I garden in {place}",
    "am I in {place}",
    "is my garden in {place}",
    "is {place} where you think I am",
    "have you got me down for {place}",
    "should I go by the dates of {place}",
    "can I go by {place}",
    "would {place} be a better match for my garden",
    "what if I gardened in {place}",
    "if I lived in {place} would my frost be later",
    "how long is the season in {place}",
    "growing season {for_} {place}",
    "frost-free days in {place}",
    "tell me the last frost of {place}",
    "show me {place}",
    "what do you know about {place}",
    "what zone is {place} in",
    "what hardiness zone would {place} be",
    "hardiness zone for {place}",
    "my brother gardens in {place}, when is his last frost",
    "is it true that {place} never freezes",
    "does it get down to 20F in {place}",
    "are the frost dates for {place} on record",
]
PLACES = [
    "Denver",
    "Duluth, Minnesota",
    "Seattle",
    "Leeds",
    "Hobart",
    "Fairbanks",
    "Iowa",
    "Boise",
    "Christchurch, New Zealand",
]


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    frame=st.sampled_from(FRAMES),
    place=st.sampled_from(PLACES),
    for_=st.sampled_from(["for", "in", "at", "near"]),
    opening=st.sampled_from(["", "and ", "ok, ", "Hi, "]),
)
def test_no_question_about_a_place_writes_the_garden(
    tmp_path: Path, frame: str, place: str, for_: str, opening: str
) -> None:
    text = opening + frame.format(place=place, for_=for_)
    asks = frame.split()[0] in {"frost", "last", "average", "usual", "growing", "frost-free", "hardiness"}
    ask(tmp_path, text if asks or frame.startswith(("tell", "show", "compare")) else f"{text}?")


@pytest.mark.parametrize(
    "text",
    [
        "Is my cold frame 4 by 8?",
        "do I have two heat mats?",
        "Are we a household of five?",
        "Have I told you about the plum planted in 2012?",
        "Is my last frost May 20?",
        "Should I use Celsius?",
        "Do I grow leeks?",
    ],
)
def test_no_question_about_what_is_kept_writes_it(tmp_path: Path, text: str) -> None:
    ask(tmp_path, text)


def about(text: str, place: str, topic: str = "garden") -> Answer:
    """The rule's answer to a question about ``place`` by a gardener at Burlington."""
    home, there = (resolve_site(place=name, facts=FACTS).site for name in ("Burlington, VT", place))
    world = World(TODAY, FACTS, Garden(place="Burlington, VT"), "us", site=there, home=home)
    reply = rule_for(topic).answer(spoken(text, topic, slots=Slots(place=place)), world)
    assert not reply.effects
    return reply


def test_the_place_asked_about_is_answered_for() -> None:
    assert "Fairbanks" in about("Usual last frost in Fairbanks?", "Fairbanks").headline
    assert "Duluth" in about("first frost near Duluth", "Duluth").headline
    length = about("Growing season in Duluth?", "Duluth")
    assert length.headline.startswith("The growing season in Duluth, MN is about")
    days = {n.name: n.value for n in length.numbers}
    last, first = days["last_frost_50"], days["first_frost_50"]
    assert isinstance(last, date)
    assert isinstance(first, date)
    assert days["frost_free_days"] == (first - last).days


@pytest.mark.parametrize(
    ("text", "place", "opening"),
    [
        ("Is the last frost in Duluth later than mine?", "Duluth", "Yes, later:"),
        ("Is the last frost in Chicago later than here?", "Chicago", "No, earlier:"),
        ("Is the first frost in Duluth earlier than ours?", "Duluth", "Yes, earlier:"),
        ("Is Boise warmer than Duluth?", "Boise", "Yes, warmer:"),
        ("Is Boise colder than my garden?", "Boise", "No, warmer:"),
        ("Does Duluth have a longer season than mine?", "Duluth", "No, shorter:"),
        ("Compare Boise with my garden", "Boise", "The last frost in Boise, ID"),
        ("Is the last frost for Denver later than mine?", "Denver", "About the same:"),
    ],
)
@pytest.mark.parametrize("topic", ["garden", "frost"])
def test_two_places_are_set_side_by_side(text: str, place: str, opening: str, topic: str) -> None:
    cues = {"frosting": "dates"}
    home, there = (resolve_site(place=name, facts=FACTS).site for name in ("Burlington, VT", place))
    world = World(TODAY, FACTS, Garden(place="Burlington, VT"), "us", site=there, home=home)
    reply = rule_for(topic).answer(spoken(text, topic, slots=Slots(place=place), cues=cues), world)
    assert reply.headline.startswith(opening)
    assert reply.verdict is None
    assert reply.table is not None
    second = "Duluth, MN" if "than Duluth" in text else "Burlington, VT"
    assert there is not None
    assert [row[0] for row in reply.table.rows] == [there.label, second]


def test_where_one_gardens_is_told_not_changed() -> None:
    assert about("Do you have my garden at Boise?", "Boise").headline == "Your garden is in Burlington, VT."
    assert about("Am I in Duluth?", "Duluth").headline == "Your garden is in Burlington, VT."


@pytest.mark.parametrize(
    "text",
    [
        "I garden in Boise",
        "We're in Boise now, what's my last frost?",
        "can you set my garden to Boise?",
        "we've moved to Boise, ok?",
        "Boise, Idaho",
        "My garden is in Boise, right?",
    ],
)
def test_a_statement_or_request_is_kept(tmp_path: Path, text: str) -> None:
    assert not only_asks(text)
    path = garden_path(tmp_path)
    path.write_text(KEPT, encoding="utf-8")
    Conversation(FACTS, lambda: TODAY, garden_file=GardenFile(path)).ask(text)
    assert "Boise" in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "text",
    ["frost date May 5", "last frost May 12, first frost Sept 20", "zone 5", "a heat mat but no lamp", ""],
)
def test_terse_statements_are_no_questions(text: str) -> None:
    assert not only_asks(text)
