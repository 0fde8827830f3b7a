"""Costs against a worked example published elsewhere: Piedmont Home Vegetable Garden, "How much does it cost
to start your own plants from seed?" (January 2012): a 72-cell tray of onions and one of lettuce for $16.10
together."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.world import World
from gardenmate.garden.profile import Garden
from gardenmate.knowledge.facts import Facts
from gardenmate.science.seed_counts import mix_litres
from gardenmate.topics.costs.bill import compare
from gardenmate.topics.shared.containers import containers

QUART_L = 0.946


def test_mix_for_two_trays_is_what_that_grower_used() -> None:
    """Three quarters of a brick that makes 6 quarts filled both 72-cell trays: 4.5 quarts.
    Cells are filled loosely there; ours hold 43 cm3 each, so between that and half as much again."""
    ours = mix_litres(144, containers(Facts())["72"].cm3)
    assert 4.5 * QUART_L <= ours <= 1.5 * 4.5 * QUART_L


def test_a_tray_of_lettuce_costs_what_that_grower_paid() -> None:
    """$8.05 for a tray of 72 lettuce, 11 cents a plant. Our defaults, with the grower's
    electricity price of the day (10 cents, US average of 2012), come within a half of it either way: that grower
    shares out seven items, of which seed, mix and trays alone double from shop to shop."""
    world = World(today=date(2027, 2, 1), facts=Facts(), garden=Garden(prefs={"tariff": "0.10"}), units="us")
    question = Request("", "buy-or-sow", (CropRef("lettuce", "leaf"),), Slots(count=58, price=0.25))
    c = compare(world.facts.crop("lettuce-leaf"), "lettuce", 58, question, world)
    assert c.plan.trays <= 2
    assert c.raised.each == pytest.approx(0.11, abs=0.055)
    # The grower: 25 cents bought against 11 raised, 2.3 times; the same half either way.
    assert c.bought.total / c.raised.total == pytest.approx(2.27, rel=0.5)
