"""Potting up: pots, depth, how long in a cell, holding over."""

from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.core.question import Slots, Temperature, Vessel
from gardenmate.core.units import Units
from gardenmate.language.intent.routes import by_values
from gardenmate.present.figures import show_number
from gardenmate.records import replace
from gardenmate.topics.registry import rule_for
from gardenmate.topics.seedlings import potting_up
from gardenmate.topics.shared.containers import container_asked, containers, weeks_in
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
    assert reply.headline.startswith(
        "Yes, pot on: move hot peppers into a 5 in pot and tomatoes into a 6 in pot"
    )
    assert any("stay indoors until frost is over" in said for said in reply.details)


def test_cauliflower_leaves_its_cell_early() -> None:
    reply = ask(P, "cauliflower", cues={"asks": "stay"})
    assert reply.verdict is None
    assert reply.headline.startswith("Cauliflower can stay in a 72-cell tray for about 6 to 7 weeks")
    assert "plant out at 4 to 5" in reply.headline
    assert any("tiny, early heads" in said for said in reply.details)


def test_age_and_planting_date_decide() -> None:
    cell = Vessel(72, "cells")
    assert ask(P, "pepper", weeks=4.0, container=cell).verdict == "yes"
    assert ask(P, "pepper", weeks=8.0, container=cell).verdict == "tight"
    assert ask(P, "pepper", weeks=12.0, container=cell).verdict == "no"
    late = ask(P, "pepper", weeks=5.0, container=cell, date=date(2027, 6, 1))
    assert late.verdict == "no"
    assert number(late, "weeks_at_planting") == pytest.approx(11.3)
    assert "3 in pot" in late.headline


def test_the_place_gives_the_wait() -> None:
    world = bare_world(site=continental_site())
    reply = ask(P, "tomato", weeks=6.0, container=Vessel(72, "cells"), world=world)
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
    ("typed", "found"),
    [
        (Vessel(72, "cells"), "72"),
        (Vessel(4, "in"), "4in"),
        (Vessel(9, "cm"), "4in"),
        (Vessel(7, "cm"), "3in"),
        (Vessel(98, "cells"), "98"),
    ],
)
def test_cells_and_pots_as_typed(typed: Vessel, found: str) -> None:
    container = container_asked(spoken("", P, slots=Slots(container=typed)), FACTS)
    assert container is not None
    assert container.id == found


def test_cells_that_are_not_listed_share_a_tray_with_their_neighbours() -> None:
    odd = container_asked(spoken("", P, slots=Slots(container=Vessel(98, "cells"))), FACTS)
    listed = containers(FACTS)
    assert odd is not None
    assert listed["128"].cm3 < odd.cm3 < listed["72"].cm3
    assert odd.label("us") == "98-cell tray"


@pytest.mark.parametrize("typed", [None, Vessel(3, "cells"), Vessel(0, "cm"), Vessel(2, "gal")])
def test_what_no_container_is_listed_by_is_none(typed: Vessel | None) -> None:
    assert container_asked(spoken("", P, slots=Slots(container=typed)), FACTS) is None


def test_larger_containers_hold_longer() -> None:
    row = FACTS.group_of(FACTS.crop("tomato"), "potting")
    assert row is not None
    sizes = list(containers(FACTS).values())
    assert [c.cm3 for c in sizes] == sorted(c.cm3 for c in sizes)
    highs = [weeks_in(c, row)[1] for c in sizes]
    assert highs == sorted(highs)


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


def said(
    text: str, crop: str | None = None, units: Units = "us", container: Vessel | None = None, **cues: str
) -> Answer:
    question = spoken(text, "potting-up", refs(crop) if crop else (), Slots(container=container), cues=cues)
    return potting_up.answer(question, bare_world(units=units))


@pytest.mark.parametrize(
    "text", ["roots circling, ok for now?", "roots out of the holes", "the roots are all matted"]
)
def test_full_pots_are_potted_on_whatever_their_age(text: str) -> None:
    for crop in ("tomato", None):
        reply = said(text, crop, container=Vessel(4, "in"), potting="stay")
        assert reply.verdict == "yes"
        assert reply.headline.startswith("Yes, pot on")


@pytest.mark.parametrize(
    ("pot", "crop"),
    [
        (Vessel(9, "cm"), "pepper"),
        (Vessel(10, "cm"), "tomato"),
        (Vessel(15, "cm"), "tomato"),
        (Vessel(4, "in"), "basil"),
    ],
)
def test_no_pot_is_named_that_is_no_larger_than_the_one_they_are_in(pot: Vessel, crop: str) -> None:
    across = pot.size * (1.0 if pot.unit == "cm" else 2.54)
    for text in ("pot them on now?", "roots circling"):
        reply = said(text, crop, units="metric", container=pot)
        for name in ("pot", "held_pot"):
            label = next(str(n.value) for n in reply.numbers if n.name == name)
            assert float(label.split()[0]) > across, (text, label)


def test_the_pot_named_to_go_into_is_kept() -> None:
    reply = said("potting chillies into 9cm pots", "hot-pepper", units="metric", container=Vessel(9, "cm"))
    assert "9 cm pot" in reply.headline


def test_what_a_pot_holds_is_told_in_the_growers_units() -> None:
    metric, us = (
        said("how long in this", "tomato", units=u, container=Vessel(72, "cells"), potting="stay")
        for u in ("metric", "us")
    )
    assert metric.table is not None
    assert us.table is not None
    assert any("cm3" in row[1] for row in metric.table.rows)
    assert not any("cm" in cell for row in us.table.rows for cell in row)
    held = next(n for n in us.numbers if n.name == "container_cm3")
    assert show_number(held, "us", TODAY) == "2.6 cu in"


def test_a_cold_night_for_pots_is_about_warmth_not_about_a_larger_pot() -> None:
    slots = Slots(temp_c=7, temps=(Temperature(7, "C"),), container=Vessel(9, "cm"))
    text = "propagator on tonight? 7C in the greenhouse, chillies in 9cm pots"
    question = spoken(text, "potting-up", refs("hot-pepper"), slots, cues={"gear": "mat"})
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
