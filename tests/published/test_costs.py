"""Costs against worked examples published elsewhere."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.world import World
from gardenmate.garden.profile import Garden
from gardenmate.knowledge.facts import Facts
from gardenmate.science.costs import Bill, Line
from gardenmate.science.light import energy_kwh
from gardenmate.science.seed_counts import mix_litres
from gardenmate.topics.costs.bill import compare
from gardenmate.topics.costs.raising_plan import container

QUART_L = 0.946


def test_energy_cost_of_the_department_of_energy_example() -> None:
    """US Department of Energy appliance estimate: 200 W, 4 h a day, 120 days, 8.5 cents: $8.16."""
    kwh = energy_kwh(200, 4, 120)
    assert kwh == 96.0
    assert kwh * 0.085 == pytest.approx(8.16)


def test_two_trays_of_the_piedmont_grower() -> None:
    """Piedmont Home Vegetable Garden, "How much does it cost to start your own plants from seed?" (January
    2012): a 72-cell tray of onions and one of lettuce: seed 3, mix 2, trays 2, water 0.10, bulbs 1, mat 1,
    electricity 7: $16.10 together, $8.05 a tray, about 11 cents a plant, against 25 cents bought."""
    lines = [
        ("seed", 3),
        ("mix", 2),
        ("trays", 2),
        ("water", 0.10),
        ("bulbs", 1),
        ("mat", 1),
        ("electricity", 7),
    ]
    bill = Bill(144, tuple(Line(what, money) for what, money in lines))
    assert bill.total == pytest.approx(16.10)
    assert bill.each == pytest.approx(0.11, abs=0.005)


def test_mix_for_two_trays_is_what_that_grower_used() -> None:
    """The same page: three quarters of a brick that makes 6 quarts filled both 72-cell trays: 4.5 quarts.
    Cells are filled loosely there; ours hold 43 cm3 each, so between that and half as much again."""
    ours = mix_litres(144, container(Facts(), "72").cm3)
    assert 4.5 * QUART_L <= ours <= 1.5 * 4.5 * QUART_L


def test_a_tray_of_lettuce_costs_what_that_grower_paid() -> None:
    """The same page: $8.05 for a tray of 72 lettuce, 11 cents a plant. Our defaults, with the grower's
    electricity price of the day (10 cents, US average of 2012), come within a half of it."""
    world = World(today=date(2027, 2, 1), facts=Facts(), garden=Garden(prefs={"tariff": "0.10"}), units="us")
    question = Request("", "buy-or-sow", (CropRef("lettuce", "leaf"),), Slots(count=58, price=0.25))
    c = compare(world.facts.crop("lettuce-leaf"), "lettuce", 58, question, world)
    assert c.plan.trays <= 2
    assert c.raised.each == pytest.approx(0.11, abs=0.055)
    assert c.bought.total > 1.5 * c.raised.total  # the grower: more than twice
