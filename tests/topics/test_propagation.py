"""Propagation answers: when, how, how long it keeps, bottom heat, and what is not done at home."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.topics.shared.woody_phase import SEEN_STAGES
from tests.topics.woody_bench import FACTS, ask, number, said

P = "propagation"
BASES = sorted(
    {
        table["base"]
        for folder in ("crops", "woody")
        for table in (FACTS.table(f"{folder}/{i}") for i in FACTS.ids(folder))
        if "propagation" in table or "not_propagated" in table
    }
)
BOISE, DULUTH, HOBART = "Boise", "Duluth, MN", "Hobart"


@pytest.mark.parametrize(
    ("plant", "today", "asks", "verdict"),
    [
        ("blackcurrant", "2027-12-01", "cuttings", "yes"),
        ("blackcurrant", "2027-06-15", "cuttings", "no"),
        ("elderberry", "2027-02-20", "cuttings", "yes"),
        ("raspberry", "2027-03-20", "suckers", "yes"),
        ("raspberry", "2027-07-15", "suckers", "no"),
        ("mint", "2027-04-10", "divide", "yes"),
        ("mint", "2027-07-10", "divide", "no"),
        ("globe-artichoke", "2027-04-15", "suckers", "yes"),
        ("globe-artichoke", "2027-08-15", "suckers", "no"),
        ("rhubarb", "2027-03-25", "move", "yes"),
        ("rhubarb", "2027-07-01", "divide", "no"),
        ("strawberry", "2027-08-25", "suckers", "yes"),
        ("strawberry", "2027-06-01", "suckers", "no"),
        ("sweet-potato", "2027-04-15", "cuttings", "yes"),
        ("rosemary", "2027-08-10", "cuttings", "yes"),
        ("lavender", "2027-12-10", "cuttings", "no"),
        ("fig", "2027-02-10", "cuttings", "yes"),
        ("hydrangea", "2027-06-20", "cuttings", "yes"),
        ("gooseberry", "2027-02-01", "layer", "yes"),
    ],
)
def test_verdict_on_a_date(plant: str, today: str, asks: str, verdict: str) -> None:
    assert ask(P, plant, today=today, where=BOISE, cues={"asks": asks}).verdict == verdict


def test_black_raspberries_are_layered_at_the_tip_and_red_ones_lifted() -> None:
    black = ask(P, "raspberry/black", today="2027-08-25", where=BOISE)
    assert "tip-layer black raspberries" in black.headline
    red = ask(P, "raspberry/summer", today="2027-03-25", where=BOISE)
    assert "rooted suckers" in red.headline


def test_how_close_to_the_mother_plant() -> None:
    reply = ask(P, "raspberry", today="2027-03-25", where=BOISE, cues={"asks": "spacing"})
    assert "4-6 inches from the sucker" in reply.headline
    metric = ask(P, "raspberry", today="2027-03-25", where=BOISE, units="metric", cues={"asks": "spacing"})
    assert "10-15 cm" in metric.headline


def test_open_leaves_are_too_late_for_dormant_wood() -> None:
    awake = ask(P, "currant", today="2027-03-10", where=BOISE, cues={"bud_stage": "leafed_out"})
    assert awake.verdict == "no"
    late = ask(P, "blackcurrant", today="2027-04-05", where=BOISE, cues={"bud_stage": "green_tip"})
    assert late.verdict == "tight"
    assert "expect most to fail" in late.headline
    asleep = ask(P, "currant", today="2027-04-15", where=BOISE, cues={"bud_stage": "dormant"})
    assert asleep.verdict == "yes"


@pytest.mark.parametrize("plant", ["apple", "pear", "peach", "cherry", "walnut"])
def test_grafted_trees_are_not_grown_from_cuttings(plant: str) -> None:
    reply = ask(P, plant, today="2027-02-01", where=BOISE, cues={"asks": "cuttings"})
    assert reply.verdict == "no"
    assert not reply.steps


def test_a_seed_crop_is_sent_to_the_seed() -> None:
    reply = ask(P, "carrot", today="2027-04-18")
    assert reply.verdict is None
    assert "from seed; I have no advice" in reply.headline


@pytest.mark.parametrize(
    ("plant", "until", "verdict"),
    [
        ("raspberry", "2027-04-24", "yes"),
        ("raspberry", "2027-05-01", "tight"),
        ("raspberry", "2027-06-01", "no"),
        ("blackcurrant", "2027-04-24", "yes"),
        ("mint", "2027-04-20", "tight"),
    ],
)
def test_how_long_it_keeps_until_it_can_be_planted(plant: str, until: str, verdict: str) -> None:
    reply = ask(P, plant, today="2027-04-18", where=BOISE, cues={"not_before": until})
    assert reply.verdict == verdict
    assert number(reply, "wait_days") == (date.fromisoformat(until) - date(2027, 4, 18)).days
    assert any("Heel in" in s for s in reply.steps)


def test_moving_a_plant_is_moving_the_whole_plant() -> None:
    reply = ask(P, "asparagus", today="2027-03-20", where=BOISE, cues={"asks": "move"})
    assert "you can move asparagus" in reply.headline


def test_whether_it_can_be_done_at_all() -> None:
    cues = {"asks": "cuttings", "can_be": "yes"}
    reply = ask(P, "blueberry", today="2027-04-18", where=BOISE, cues=cues)
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Yes, you can take softwood cuttings of blueberries")
    assert ask(P, "apple", today="2027-04-18", cues=cues).verdict == "no"


def test_a_day_named_is_the_day_it_must_keep_until() -> None:
    reply = ask(P, "raspberry", today="2027-04-18", date=date(2027, 4, 24), cues={"asks": "hold"})
    assert reply.verdict == "yes"
    assert number(reply, "wait_days") == 6


def test_a_plant_without_a_rule_is_declined_by_name() -> None:
    reply = ask(P, today="2027-04-18", cues={"other_plant": "camellia", "asks": "cuttings"})
    assert reply.verdict is None
    assert "no advice on propagating camellia" in reply.headline


def test_how_long_cuttings_keep() -> None:
    reply = ask(P, "fig", today="2027-02-18", cues={"asks": "hold", "how_long": "yes"})
    assert "30 to 60 days" in reply.headline
    assert any("damp sand" in d for d in reply.details)
    assert ask(P, "fig", today="2027-02-18", days=20, cues={"asks": "hold"}).verdict == "yes"


def test_hardwood_sticks_on_a_heat_mat() -> None:
    reply = ask(P, "currant", "mulberry", today="2027-01-18", cues={"gear": "mat", "asks": "cuttings"})
    assert reply.verdict == "tight"
    assert "the tops cool" in reply.headline
    assert any("65-70 F" in d for d in reply.details)
    assert any("GFCI" in c for c in reply.cautions)
    assert ask(P, "sweet-potato", today="2027-04-18", cues={"gear": "mat"}).verdict == "yes"
    assert ask(P, "raspberry", today="2027-03-18", cues={"gear": "mat"}).verdict == "no"


def test_runners_in_autumn_where_spring_turns_hot() -> None:
    reply = ask(
        P, "strawberry", today="2027-04-18", where="Raleigh", cues={"asks": "move", "asked_season": "fall"}
    )
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Yes, you can move rooted runners of strawberries in fall")
    assert any("springs turn hot" in d for d in reply.details)


def test_digging_asks_for_buried_services_first() -> None:
    assert any("buried" in c for c in ask(P, "raspberry", today="2027-03-20", where=BOISE).cautions)
    assert any("poisonous" in c for c in ask(P, "elderberry", today="2027-02-20", where=BOISE).cautions)
    assert any(
        "check local rules" in c for c in ask(P, "gooseberry", today="2027-02-20", where=BOISE).cautions
    )


def test_no_plant_named_gives_the_ways_and_their_dates() -> None:
    reply = ask(P, today="2027-02-10", where=BOISE, cues={"asks": "cuttings"})
    assert "hardwood cuttings" in reply.headline
    assert reply.table is not None
    assert len(reply.table.rows) >= 5


def test_several_plants() -> None:
    reply = ask(P, "gooseberry", "mint", today="2027-02-01", where=BOISE)
    assert reply.table is not None
    assert [row[0] for row in reply.table.rows] == ["gooseberry", "mint"]
    assert reply.verdict is None


def test_another_way_than_the_one_asked_for_is_named() -> None:
    reply = ask(P, "raspberry", today="2027-03-20", where=BOISE, cues={"asks": "divide"})
    assert "Don't use division" in reply.headline


def test_southern_winter_is_midyear() -> None:
    assert (
        ask(P, "blackcurrant", today="2027-07-01", where=HOBART, cues={"asks": "cuttings"}).verdict == "yes"
    )
    assert ask(P, "blackcurrant", today="2027-01-10", where=HOBART, cues={"asks": "cuttings"}).verdict == "no"


@settings(max_examples=150, deadline=None)
@given(
    base=st.sampled_from(BASES),
    where=st.sampled_from([None, BOISE, DULUTH, HOBART, "Miami", "Minnesota"]),
    day=st.dates(date(2026, 1, 1), date(2028, 12, 31)),
    stage=st.sampled_from([None, *SEEN_STAGES]),
    asks=st.sampled_from([None, "cuttings", "divide", "move", "layer", "suckers", "how", "hold", "spacing"]),
    gear=st.sampled_from([None, "mat", "mat,lamp"]),
    metric=st.booleans(),
)
def test_every_question_has_an_answer(
    base: str,
    where: str | None,
    day: date,
    stage: str | None,
    asks: str | None,
    gear: str | None,
    metric: bool,
) -> None:
    cues = {k: v for k, v in (("bud_stage", stage), ("asks", asks), ("gear", gear)) if v}
    reply = ask(P, base, today=day.isoformat(), where=where, cues=cues, units="metric" if metric else "us")
    assert reply.headline.endswith(".")
    assert reply.headline[0].isupper()
    assert all(FACTS.source(s).title for s in reply.sources)
    assert reply.sources
    assert len(reply.steps) <= 6
    if metric:
        assert " inch" not in said(reply)
    for name in ("take_from", "take_to"):
        assert all(isinstance(n.value, date) for n in reply.numbers if n.name == name)


@pytest.mark.parametrize(
    ("plant", "place", "day", "verdict"),
    [
        ("raspberry", "Leeds", date(2027, 12, 10), "yes"),
        ("apple", "Leeds", date(2027, 2, 1), "yes"),
        ("gooseberry", "Hobart", date(2027, 7, 20), "yes"),
        ("apple", "Duluth", date(2027, 4, 18), "yes"),
        ("plum", "Duluth", date(2027, 1, 10), "tight"),  # frozen ground
        ("pear", "Duluth", date(2027, 7, 1), "no"),
        ("raspberry", "Leeds", date(2027, 6, 15), "no"),
    ],
)
def test_bare_root_plants_go_in_while_asleep(plant: str, place: str, day: date, verdict: str) -> None:
    talk = Conversation(FACTS, lambda: day, PlaceOptions(place=place), "metric")
    reply = talk.ask(f"can I plant a bare-root {plant} now?")
    assert reply.verdict == verdict, reply.headline
    assert "suckers" not in reply.headline


@pytest.mark.parametrize("words", ["now they have leaves", "they are in leaf", "now it has leafed out"])
def test_rooted_pieces_moved_in_leaf_are_no_plain_yes(words: str) -> None:
    talk = Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place=DULUTH), "us")
    assert talk.ask("can I move my raspberries now").verdict == "yes"
    assert talk.ask(f"can I move my raspberries, {words}").verdict in ("tight", "no")


@pytest.mark.parametrize(
    ("plant", "where", "asks", "day", "verdict"),
    [
        ("elderberry", "Burlington, VT", "cuttings", "2027-02-01", "yes"),  # leafless: any time
        ("elderberry", "Burlington, VT", "cuttings", "2027-07-10", "no"),
        ("strawberry", "Leeds", "move", "2027-07-25", "yes"),  # runners are pegged from midsummer
        ("strawberry", "Leeds", "move", "2027-05-20", "no"),
    ],
)
def test_common_practice_bounds(plant: str, where: str, asks: str, day: str, verdict: str) -> None:
    assert ask(P, plant, today=day, where=where, cues={"asks": asks}).verdict == verdict


@pytest.mark.parametrize("where", ["Burlington, VT", HOBART])
def test_within_the_spread_of_its_first_day_it_is_tight_not_no(where: str) -> None:
    seen = 0
    for plant in BASES:
        for step in range(0, 365, 30):
            today = date(2027, 1, 1) + timedelta(days=step)
            far = ask(P, plant, today=today.isoformat(), where=where)
            if far.verdict != "no" or not any(n.name == "take_from" for n in far.numbers):
                continue
            start = next(n.value for n in far.numbers if n.name == "take_from")
            assert isinstance(start, date)
            assert (start - today).days > 10, plant  # nearer would be tight
            near = ask(P, plant, today=(start - timedelta(days=4)).isoformat(), where=where)
            assert near.verdict != "no", (plant, start)
            assert not near.headline.startswith("Not "), plant
            seen += 1
    assert seen > 50


def test_clumps_split_in_autumn_root_before_the_ground_freezes() -> None:
    from gardenmate.topics.propagation.ways import chances, plant_ways
    from gardenmate.topics.shared.woody_phase import spring_at
    from tests.topics.raising_bench import FACTS, bare_world, continental_site

    day = date(2027, 9, 1)
    spring = spring_at(bare_world(site=continental_site(), today=day))
    fall = spring.shifted(0).leaf_fall
    for base in ("rhubarb", "mint"):
        for chance in chances(plant_ways(FACTS, base), spring, spring.green_tip, day):
            if chance.way.method in ("division", "transplant"):
                assert chance.start >= day - timedelta(days=30)
                assert chance.end <= fall + timedelta(weeks=4)


@pytest.mark.parametrize(
    ("text", "opening"),
    [
        ("can I divide mint now", "Yes, you can divide mint now"),
        ("when do I graft apples", "Graft apples between"),
        ("can I move a 6 foot lilac now", "Yes, move the lilac now"),
        ("when do bare root trees go in", "Plant bare-root plants while they are dormant"),
        (
            "bare root raspberries came early, how long will they keep",
            "Bare-root plants keep one to two weeks",
        ),
        ("when do I separate strawberry runners", "Move rooted runners of strawberries between"),
        ("can I take apple cuttings", "Named apples are grafted"),
    ],
)
def test_each_way_is_answered_in_its_own_terms(text: str, opening: str) -> None:
    talk = Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Burlington, VT"), "us")
    assert talk.ask(text).headline.startswith(opening)


def test_the_root_ball_grows_with_the_shrub() -> None:
    """American standard for nursery stock, shrubs: about 12 inches at 2 feet, 20 at 6 (from memory)."""
    talk = Conversation(FACTS, lambda: date(2027, 4, 10), PlaceOptions(place="Burlington, VT"), "us")
    balls = [number(talk.ask(f"can I move a {feet} foot lilac"), "ball_in") for feet in (2, 4, 6)]
    assert balls == [12, 16, 20]
    assert "arborist" in said(talk.ask("can I move a 12 foot lilac"))


@pytest.mark.parametrize(("where", "day"), [("Ballarat", "2026-05-20"), ("Aberdeen, Scotland", "2026-10-25")])
def test_what_is_split_in_autumn_is_split_in_either_hemispheres(where: str, day: str) -> None:
    """Rhubarb is lifted once its leaves die down: April to June in Victoria, October to November in Scotland
    (common practice). A mild place comes to its autumn later, not earlier."""
    assert ask(P, "rhubarb", today=day, where=where, cues={"asks": "divide"}).verdict == "yes"
