"""How many: people, trays, rows, spacing, jars and weights, whether it fits, and the winter's keepers."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Slots, Vessel
from gardenmate.core.units import LB_PER_KG
from gardenmate.core.world import World
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.garden.profile import NO_GARDEN, Garden
from gardenmate.records import replace
from gardenmate.topics.quantities.amounts import (
    plants_for,
    show_inches,
    show_row,
    show_row_range,
    show_weight,
)
from gardenmate.topics.quantities.answer import answer
from gardenmate.topics.shared.raising_plan import plan_raising
from tests.topics.money_world import FACTS, ask, world_at
from tests.topics.said import heard, spoken

T = "how-many"


def _talk() -> Conversation:
    return Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"), remembers=False)


def numbers(a: Answer) -> dict[str, object]:
    return {n.name: n.value for n in a.numbers}


def test_one_72_cell_tray_for_48_cabbages() -> None:
    a = answer(ask(T, ["cabbage"], {"amount": "trays"}, count=48, container=Vessel(72, "cells")), world_at())
    n = numbers(a)
    assert a.verdict is None
    assert n["trays"] == 1
    assert n["tray_filled"] == 67
    assert n["seeds"] == 2 * n["cells"]
    assert 48 < n["cells"] <= 72
    assert a.headline.startswith("One 72-cell tray")


def test_trays_without_a_named_tray_use_the_crops_own() -> None:
    a = answer(ask(T, ["cucumber"], {"amount": "trays"}, count=20), world_at())
    assert "pots of 4 in" in a.headline


def test_onions_share_their_cells() -> None:
    plan = plan_raising(FACTS.crop("leek"), 60, FACTS)
    assert plan.per_cell == 6
    assert plan.cells < plan.seeds / 5


def test_spinach_for_four() -> None:
    a = answer(ask(T, ["spinach"], people=4), world_at())
    n = numbers(a)
    assert n["plants_fresh_min"] < n["plants_fresh_max"] < n["plants_preserve_max"]
    assert "20 to 40 ft" in a.headline
    assert any("every 3 weeks" in d for d in a.details)


def test_metric_units_in_the_words() -> None:
    a = answer(ask(T, ["spinach"], people=4), world_at(units="metric"))
    assert " m of spinach" in a.headline
    assert " ft" not in a.headline


def test_preserving_leads_with_the_year() -> None:
    a = answer(ask(T, ["tomato"], {"wants": "preserve"}, people=2), world_at())
    assert a.headline.index("to store for a year") < a.headline.index("fresh")


def test_no_people_gives_one_person_and_a_household() -> None:
    a = answer(ask(T, ["tomato"]), world_at())
    assert "For 1 person: 3 to 5" in a.headline
    assert "for 4 people: 12 to 20" in a.headline
    assert any("I used 4" in x for x in a.assumptions)


def test_the_gardens_household_is_used() -> None:
    a = answer(ask(T, ["tomato"]), world_at(garden=Garden(people=3)))
    assert "For 3 people: 9 to 15" in a.headline


def test_people_scale_straight() -> None:
    two = numbers(answer(ask(T, ["pepper"], people=2), world_at()))
    six = numbers(answer(ask(T, ["pepper"], people=6), world_at()))
    assert six["plants_fresh_max"] == 3 * two["plants_fresh_max"]


def test_several_crops_make_one_table() -> None:
    a = answer(ask(T, ["carrot", "beet"], people=5), world_at())
    assert a.table is not None
    assert len(a.table.rows) == 2
    assert {n.crop for n in a.numbers} == {"carrot", "beet"}


def test_two_hundred_pounds_of_potatoes_a_head() -> None:
    cues = {"count_unit": "lb", "count_each": "person"}
    one = numbers(answer(ask(T, ["potato"], cues, count=200, people=1), world_at()))
    four = numbers(answer(ask(T, ["potato"], cues, count=200, people=4), world_at()))
    assert one["plants_min"] < one["plants"] < one["plants_max"]
    assert 100 <= one["plants"] <= 220
    assert four["plants"] == pytest.approx(4 * one["plants"], abs=4)


def test_kilograms_and_pounds_agree() -> None:
    lb = numbers(answer(ask(T, ["potato"], {"count_unit": "lb"}, count=100), world_at()))
    kg = numbers(answer(ask(T, ["potato"], {"count_unit": "kg"}, count=45.36), world_at()))
    assert lb["plants"] == kg["plants"]


def test_a_sack_of_seed_potatoes_fills_a_row() -> None:
    a = answer(ask(T, ["potato"], {"count_unit": "kg", "amount": "bed"}, count=20), world_at(units="metric"))
    assert "m of row" in a.headline
    assert numbers(a)["pieces_min"] < numbers(a)["pieces_max"]


def test_heads_of_garlic_are_cloves() -> None:
    a = answer(ask(T, ["garlic"], {"count_unit": "head"}, count=52), world_at())
    assert numbers(a)["plants"] == 52
    assert any("plant again" in d for d in a.details)


def test_jars_without_a_crop_are_read_as_tomatoes_and_said() -> None:
    a = answer(ask(T, [], {"count_unit": "quart"}, count=60), world_at())
    assert "tomato" in a.headline
    assert any("read as jars of tomatoes" in x for x in a.assumptions)


def test_pints_are_half_quarts() -> None:
    pints = numbers(answer(ask(T, ["tomato"], {"count_unit": "pint"}, count=80), world_at()))
    quarts = numbers(answer(ask(T, ["tomato"], {"count_unit": "quart"}, count=40), world_at()))
    assert pints["plants"] == quarts["plants"]


def test_a_row_takes_so_many() -> None:
    a = answer(ask(T, ["sweet-potato"], {"count_unit": "ft"}, count=20), world_at())
    assert numbers(a)["plants"] == 20
    assert a.headline == "20 ft of row takes 20 sweet potato slips."


def test_a_row_without_a_crop_asks_for_it() -> None:
    a = answer(ask(T, [], {"count_unit": "ft"}, count=20), world_at())
    assert a.headline.startswith("Name the crop")


def test_seeds_to_a_foot() -> None:
    a = answer(ask(T, ["bush-bean"], {"amount": "per-row"}), world_at())
    assert "3 to 6 to a foot" in a.headline
    assert numbers(a)["seeds"] > numbers(a)["plants"]


def test_rows_of_the_grower_for_a_family() -> None:
    a = answer(ask(T, ["bush-bean"], {"count_unit": "ft"}, count=20, people=7), world_at())
    assert any("Of rows 20 ft long" in d for d in a.details)


def test_spacing_in_both_units() -> None:
    us = answer(ask(T, ["cauliflower"], {"amount": "spacing"}), world_at())
    metric = answer(ask(T, ["cauliflower"], {"amount": "spacing"}), world_at(units="metric"))
    assert us.headline == "Space cauliflower 18 to 24 in apart, in rows 24 to 36 in apart."
    assert metric.headline == "Space cauliflower 46 to 61 cm apart, in rows 61 to 91 cm apart."
    assert numbers(us)["spacing_min_cm"] == pytest.approx(45.7)
    assert us.table is not None
    assert metric.table is not None
    assert us.table.heads[3] == "plants to a foot"
    assert metric.table.rows[0][3] == "2"  # 46 to 61 cm: two to the metre


def test_corn_is_planted_in_blocks() -> None:
    a = answer(ask(T, ["sweet-corn"], {"amount": "spacing"}), world_at())
    assert any("block" in d for d in a.details)


def test_the_general_cue_works_too() -> None:
    a = answer(ask(T, ["cauliflower"], {"asks": "spacing"}), world_at())
    assert "apart" in a.headline


def test_expected_yield() -> None:
    a = answer(ask(T, ["tomato"], {"amount": "yield"}, count=6), world_at())
    assert a.headline.startswith("6 tomato plants give about")
    assert numbers(a)["yield_min_kg"] < numbers(a)["yield_max_kg"]


@pytest.mark.parametrize(
    ("gear", "count", "verdict"),
    [
        ({"mat": 1.0, "lamp": 1.0}, 12, "yes"),
        ({"mat": 1.0, "lamp": 1.0}, 48, "no"),
        ({"mat": 2.0, "lamp": 3.0}, 48, "yes"),
    ],
)
def test_does_it_fit(gear: dict[str, float], count: int, verdict: str) -> None:
    a = answer(ask(T, ["tomato"], {"amount": "fit"}, count=count), world_at(garden=Garden(gear=gear)))
    assert a.verdict == verdict


def test_trays_counted_by_the_grower_fit_or_not() -> None:
    garden = Garden(gear={"mat": 1.0, "lamp": 2.0})
    a = answer(ask(T, [], {"amount": "fit", "count_unit": "tray"}, count=4), world_at(garden=garden))
    assert a.verdict == "tight"  # four trays under two lamps, one at a time on the mat


def test_fit_without_gear_says_what_was_taken() -> None:
    a = answer(ask(T, ["tomato"], {"amount": "fit"}, count=12), world_at())
    assert sum("You haven't told me of a" in x for x in a.assumptions) == 2


def test_a_bed_told_in_the_words_is_counted() -> None:
    question = heard(replace(ask(T, ["kale"], people=2), text="kale for two of us, there's a 4 by 8 box"))
    a = answer(question, world_at())
    assert a.details[0].startswith("A bed of 4 x 8 ft holds about")
    assert 0 < numbers(a)["bed_holds"] < numbers(a)["bed_holds_most"]
    shared = answer(replace(question, crops=(*question.crops, CropRef("carrot"))), world_at())
    assert sum("of a bed of" in d for d in shared.details) == 2


def test_a_tray_is_no_bed() -> None:
    question = heard(
        replace(ask(T, ["kale"], {"amount": "trays"}, count=10), text="10 kale in a 10 by 20 inch tray")
    )
    assert not any("A bed of" in d for d in answer(question, world_at()).details)


def test_jars_come_with_the_canning_caution_and_mats_with_electricity() -> None:
    jars = answer(ask(T, ["tomato"], {"count_unit": "quart"}, count=7), world_at())
    assert any("tested recipe" in c for c in jars.cautions)
    mats = answer(ask(T, ["cabbage"], {"amount": "fit"}, count=48), world_at())
    assert any("GFCI" in c for c in mats.cautions)
    assert answer(ask(T, ["kale"], people=2), world_at()).cautions == ()


def test_winter_for_six() -> None:
    a = answer(ask(T, [], people=6), world_at())
    assert a.table is not None
    assert len(a.table.rows) >= 10
    assert numbers(a)["area_m2"] > 100
    assert "6 people" in a.headline


def test_a_tray_without_a_crop() -> None:
    a = answer(ask(T, [], {"amount": "trays"}), world_at())
    n = numbers(a)
    assert n["per_tray_72"] == 72
    assert n["per_tray_2in_apart"] == 50


def test_woody_plants_have_amounts_and_spacing() -> None:
    a = answer(ask(T, ["raspberry"], {"count_unit": "ft"}, count=40), world_at())
    assert 15 <= numbers(a)["plants"] <= 27
    assert "blueberry plants" in answer(ask(T, ["blueberry"], people=2), world_at()).headline


def test_unknown_amounts_are_admitted() -> None:
    a = answer(ask(T, ["walnut"], people=2), world_at())
    assert "no figure" in a.headline


@pytest.mark.parametrize("crop_id", FACTS.crop_ids)
@pytest.mark.parametrize("amount", [None, "spacing", "trays", "yield", "seeds", "per-row", "fit", "bed"])
def test_every_crop_answers_every_question(crop_id: str, amount: str | None) -> None:
    crop = FACTS.crop(crop_id)
    name = f"{crop.base}:{crop.kind}" if crop.kind else crop.base
    a = answer(ask(T, [name], {"amount": amount} if amount else {}, people=None if amount else 3), world_at())
    assert a.headline.rstrip().endswith(".")
    assert "None" not in a.headline
    for source in a.sources:
        assert FACTS.source(source).title


@pytest.mark.parametrize(
    ("shown", "text"),
    [
        (show_row(609.6, "us"), "20 ft"),
        (show_row(250, "metric"), "2.5 m"),
        (show_row_range(609.6, 1219.2, "us"), "20 to 40 ft"),
        (show_weight(5, "metric"), "5 kg"),
        (show_weight(1, "us"), "2.2 lb"),
        (show_inches(1.27, "us"), "0.5 in"),
        (show_inches(45.7, "metric"), "46 cm"),
    ],
)
def test_lengths_and_weights(shown: str, text: str) -> None:
    assert shown == text


def test_plants_for_an_amount() -> None:
    assert plants_for(10, 2.5) == 4
    assert plants_for(10.1, 2.5) == 5
    assert plants_for(0, 2.5) == 1
    with pytest.raises(ValueError, match="yield something"):
        plants_for(10, 0)


def _asked(text: str, crop: str, **slots: Any) -> Answer:
    cues = slots.pop("cues", {})
    question = spoken(text, "how-many", (FACTS.names[crop].ref,), Slots(**slots), cues=cues)
    return answer(question, World(date(2027, 4, 18), FACTS, NO_GARDEN, "us"))


@pytest.mark.parametrize(
    ("text", "crop", "holds"),
    [
        ("onions for my 4x8 raised bed", "onions", 12 * 24),  # 4 in both ways
        ("how many beets go in a 3 by 6 foot box", "beets", 9 * 18),  # 4 in
        ("carrots in a 2x4 ft bed", "carrots", 9 * 19),  # 2 1/2 in
    ],
)
def test_a_bed_holds_small_crops_at_their_distance_both_ways(text: str, crop: str, holds: int) -> None:
    reply = _asked(text, crop)
    assert f" {holds} " in reply.headline
    assert next(n.value for n in reply.numbers if n.name == "bed_holds_most") == holds


def test_seed_potatoes_give_about_tenfold() -> None:
    pounds = {"count_unit": "lb"}
    reply = _asked("what will 3 lb of seed potatoes give me?", "potatoes", count=3.0, cues=pounds)
    kilos = {n.name: n.value for n in reply.numbers}
    low, usual, high = (float(str(kilos[f"yield_{k}kg"])) for k in ("min_", "", "max_"))
    assert low < usual < high
    assert 7 < usual / (3 / LB_PER_KG) < 15  # tenfold or a little over (common practice)
    assert "seed potato gives about" in reply.headline
    other = _asked("how much seed for 50 lb of potatoes", "potatoes", count=50.0, cues=pounds)
    assert "takes about" in other.headline


def test_how_many_for_people_is_of_the_crop_spoken_of() -> None:
    conversation = Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"))
    conversation.ask("too late to start leeks and kale?")
    reply = conversation.ask("how many for four people?")
    assert [ref.id for ref in reply.question.crops] == ["leek", "kale"]
    assert "leek" in reply.headline
    winter = conversation.ask("how many of what do four people need for the winter?")
    assert not winter.question.crops


def test_seed_in_the_row_is_two_to_a_plant_unless_it_comes_up_poorly() -> None:
    from gardenmate.topics.shared.raising_plan import germination_of, station_seeds

    for crop in ("bush-bean", "pea", "sweet-corn", "parsnip"):
        for plants in (1, 20, 60):
            seeds, up = station_seeds(FACTS.crop(crop), plants, world_at())
            assert seeds * up >= plants, crop  # enough come up to fill every place
            assert 2 * plants <= seeds <= max(2 * plants, plants / up + 1), crop
        assert germination_of(FACTS.crop(crop), 0.7)[0] < 1.0


@pytest.mark.parametrize(
    ("text", "verdict"),
    [
        ("20 pepper plants overkill for 3?", "no"),
        ("half a dozen cukes enough for six people?", "yes"),
        ("does two courgettes do a family of six", "no"),
    ],
)
def test_a_number_is_judged_for_the_people_named(text: str, verdict: str) -> None:
    """Against the published plants a person (figures of the crop files); verdict of planting that many."""
    a = _talk().ask(text)
    assert a.verdict == verdict
    assert a.table is not None
    assert a.table.rows[0][1] in a.headline, "headline and table round alike"


def test_cells_named_give_plants() -> None:
    """Binomial: 72 cells of two 80% seeds fill 96% of them; a tenth of the plants is lost later (own sums)."""
    n = numbers(_talk().ask("72 cells, how many lettuces will that make at 80% germination"))
    assert n["cells"] == 72
    assert n["plants"] == round(72 * (1 - 0.2**2) * 0.9)
    assert n["plants_sure"] < n["plants"]


def test_a_distance_told_is_used() -> None:
    bed = _talk().ask("how many cabbages 18 inches apart in a 4x8 bed")
    assert numbers(bed)["bed_holds_most"] == 2 * 5, "48 / 18 = 2 rows of 96 / 18 = 5 (own sums)"
    row = numbers(_talk().ask("50 leeks 6 inches apart in 2 rows, how long"))
    assert row["row_m"] == pytest.approx(50 * 0.1524, abs=0.1)
    assert row["row_each_m"] == pytest.approx(25 * 0.1524, abs=0.1)


def test_germination_typed_changes_the_seed() -> None:
    poor, good = (
        numbers(_talk().ask(f"how many pepper seeds for 24 plants at {p}% germination"))["seeds"]
        for p in (50, 90)
    )
    assert poor > good


def test_a_weight_told_beside_jars_decides() -> None:
    talk = _talk()
    told = numbers(talk.ask("how many tomato plants for 20 litres of passata (about 30kg of fruit)"))
    alone = numbers(talk.ask("how many tomato plants for 30kg"))
    assert told["plants"] == alone["plants"]


def test_seed_potatoes_come_in_weight_and_are_eaten_fresh() -> None:
    """Ten to fifteen plants a person to eat fresh, eight to ten pieces to the pound: common practice."""
    head = _talk().ask("how much seed potato for a family of 4").headline
    assert "40 to 60 potato seed pieces (4 to 7.5 lb) to eat fresh" in head
