"""Potting up: pots, depth, how long in a cell, holding over."""

import re
from dataclasses import replace
from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.core.question import Slots, Temperature
from gardenmate.core.units import Units
from gardenmate.language.intent.routes import by_values
from gardenmate.present.figures import show_number
from gardenmate.topics.registry import rule_for
from gardenmate.topics.seedlings import potting_up
from gardenmate.topics.seedlings.containers import container_asked, containers, mix_litres, weeks_in
from tests.topics.raising_bench import FACTS, TODAY, ask, bare_world, continental_site, number, refs
from tests.topics.said import spoken

P = "potting-up"


@pytest.mark.parametrize(
    ("crop", "verdict"),
    [
        ("tomato", "yes"),
        ("kale", "yes"),
        ("pepper", "tight"),
        ("basil", "tight"),
        ("cucumber", "no"),
        ("lettuce", "no"),
    ],
)
def test_may_the_stem_be_buried(crop: str, verdict: str) -> None:
    assert ask(P, crop, cues={"asks": "bury"}).verdict == verdict


def test_kale_stems_do_not_rot_to_the_first_leaves() -> None:
    reply = ask(P, "kale", cues={"asks": "bury"})
    assert reply.headline.startswith("Yes: set kale up to the first true leaves")
    assert "does not rot" in reply.headline


@pytest.mark.parametrize(
    ("crop", "pot"), [("basil", "3 in pot"), ("summer-squash", "4 in pot"), ("tomato", "4 in pot")]
)
def test_pot_size(crop: str, pot: str) -> None:
    reply = ask(P, crop, cues={"asks": "pot-size"})
    assert number(reply, "pot") == pot
    assert pot in reply.headline


def test_metric_pots_and_litres_of_mix() -> None:
    reply = ask(P, "tomato", count=40.0, cues={"asks": "pot-size"}, world=bare_world(units="metric"))
    assert number(reply, "pot") == "10 cm pot"
    assert number(reply, "mix_litres") == 23.0


def test_a_crowded_plant_is_potted_on_while_frost_lasts() -> None:
    reply = ask(P, "hot-pepper", "tomato", cues={"asks": "ahead"})
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Yes, pot on: hot pepper into a 5 in pot and tomato into a 6 in pot")
    assert any("not planting out" in said for said in reply.details)


def test_cauliflower_leaves_its_cell_early() -> None:
    reply = ask(P, "cauliflower", cues={"asks": "stay"})
    assert reply.verdict is None
    assert reply.headline.startswith("Cauliflower can stay in a 72-cell tray about 6 to 7 weeks")
    assert "best planted at 4 to 5" in reply.headline
    assert any("tiny, early heads" in said for said in reply.details)


def test_age_and_planting_date_decide() -> None:
    cell = {"cell": "72"}
    assert ask(P, "pepper", weeks=4.0, cues=cell).verdict == "yes"
    assert ask(P, "pepper", weeks=8.0, cues=cell).verdict == "tight"
    assert ask(P, "pepper", weeks=12.0, cues=cell).verdict == "no"
    late = ask(P, "pepper", weeks=5.0, cues=cell, date=date(2027, 6, 1))
    assert late.verdict == "no"
    assert number(late, "weeks_at_planting") == pytest.approx(11.3)
    assert "3 in pot" in late.headline


def test_the_place_gives_the_wait() -> None:
    world = bare_world(site=continental_site())
    reply = ask(P, "tomato", weeks=6.0, cues={"cell": "72"}, world=world)
    assert reply.verdict == "no"
    assert "when planted about" in reply.headline


def test_second_potting() -> None:
    assert ask(P, "tomato", cues={"asks": "second"}).verdict == "yes"
    assert ask(P, "cucumber", cues={"asks": "second"}).verdict == "no"


def test_flowers_and_roots_that_are_never_potted() -> None:
    assert ask(P, "tomato", cues={"asks": "flowers"}).verdict == "yes"
    assert ask(P, "carrot").verdict == "no"


def test_no_crop_gives_the_groups() -> None:
    reply = ask(P)
    assert reply.table is not None
    assert len(reply.table.rows) == 8


@pytest.mark.parametrize(
    ("text", "found"),
    [("72", "72"), ("72-cell", "72"), ("4in", "4in"), ("9cm", "4in"), ("7 cm", "3in"), ("130", "128")],
)
def test_cells_and_pots_as_typed(text: str, found: str) -> None:

    question = spoken("", P, cues={"cell": text})
    container = container_asked(question, FACTS)
    assert container is not None
    assert container.id == found


def test_words_that_are_no_container() -> None:

    assert container_asked(spoken("", P, cues={"cell": "bathtub"}), FACTS) is None


def test_larger_containers_hold_longer() -> None:
    row = FACTS.group_of(FACTS.crop("tomato"), "potting")
    assert row is not None
    sizes = list(containers(FACTS).values())
    assert [c.cm3 for c in sizes] == sorted(c.cm3 for c in sizes)
    highs = [weeks_in(c, row)[1] for c in sizes]
    assert highs == sorted(highs)


def test_mix_grows_with_the_count() -> None:
    pot = containers(FACTS)["4in"]
    assert mix_litres(20, pot, FACTS) == pytest.approx(2 * mix_litres(10, pot, FACTS), abs=0.1)


def test_weeks_ahead_are_a_wait_not_an_age() -> None:
    reply = ask(P, "sweet-corn", weeks=3.0, cues={"span_means": "until", "asks": "ahead"})
    assert reply.verdict == "yes"
    assert "3 weeks until about 9 May" in reply.headline


@pytest.mark.parametrize("crop", ["tomato", "pepper", "cabbage", "leek"])
def test_root_bound_plants_are_potted_on_while_it_is_cold(crop: str) -> None:
    reply = ask(
        "potting-up", crop, text=f"my {crop} plants are root bound, still freezing", cues={"asks": "stay"}
    )
    assert reply.verdict == "yes"
    assert "pot on" in reply.headline
    how_long = ask("potting-up", crop, text="how long until root bound", cues={"asks": "stay"})
    assert "pot on" not in how_long.headline


def said(text: str, crop: str | None = None, units: Units = "us", **cues: str) -> Answer:
    crops = refs(crop) if crop else ()
    return potting_up.answer(spoken(text, "potting-up", crops, cues=cues), bare_world(units=units))


@pytest.mark.parametrize(
    "text", ["roots circling, ok for now?", "roots out of the holes", "the roots are all matted"]
)
def test_full_pots_are_potted_on_whatever_their_age(text: str) -> None:
    for crop in ("tomato", None):
        reply = said(text, crop, cell="4in", potting="stay")
        assert reply.verdict == "yes"
        assert reply.headline.startswith("Yes, pot on")


@pytest.mark.parametrize(
    ("cell", "crop"), [("9cm", "pepper"), ("10cm", "tomato"), ("15cm", "tomato"), ("4in", "basil")]
)
def test_no_pot_is_named_that_is_no_larger_than_the_one_they_are_in(cell: str, crop: str) -> None:
    across = float(re.match(r"\d+", cell)[0]) * (1.0 if cell.endswith("cm") else 2.54)  # type: ignore[index]
    for text in ("pot them on now?", "roots circling"):
        reply = said(text, crop, units="metric", cell=cell)
        for name in ("pot", "held_pot"):
            label = next(str(n.value) for n in reply.numbers if n.name == name)
            assert float(label.split()[0]) > across, (text, label)


def test_the_pot_named_to_go_into_is_kept() -> None:
    reply = said("potting chillies into 9cm pots", "hot-pepper", units="metric", cell="9cm")
    assert "9 cm pot" in reply.headline


def test_what_a_pot_holds_is_told_in_the_growers_units() -> None:
    metric, us = (
        said("how long in this", "tomato", units=u, cell="72", potting="stay") for u in ("metric", "us")
    )
    assert metric.table is not None
    assert us.table is not None
    assert any("cm3" in row[1] for row in metric.table.rows)
    assert not any("cm" in cell for row in us.table.rows for cell in row)
    held = next(n for n in us.numbers if n.name == "container_cm3")
    assert show_number(held, "us", TODAY) == "2.6 cu in"


def test_a_cold_night_for_pots_is_about_warmth_not_about_a_larger_pot() -> None:
    slots = Slots(temp_c=7, temps=(Temperature(7, "C"),))
    text = "propagator on tonight? 7C in the greenhouse, chillies in 9cm pots"
    question = spoken(text, "potting-up", refs("hot-pepper"), slots, cues={"gear": "mat", "cell": "9cm"})
    turned = by_values(question, FACTS)
    assert turned is not None
    assert turned[0] == "heat-and-light"
    reply = rule_for(turned[0]).answer(replace(question, topic=turned[0]), bare_world(units="metric"))
    assert reply.verdict == "yes"
    assert "warmth" in reply.headline


def test_a_wait_told_as_a_day_is_used() -> None:
    a, b = (ask(P, "cucumber", cues={"potting": "pot-size"}, date=date(2027, 5, d)) for d in (1, 25))
    assert a.headline != b.headline
    assert "about 25 May" in b.headline
    assert any("weeks from sowing" in said for said in b.details), "how long the pot carries it"
