"""Buy or sow: both bills, the break-even, what time is left, planting stock, several crops, and none."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request, Typed
from gardenmate.core.units import show_date
from gardenmate.garden.profile import Garden
from gardenmate.records import replace
from gardenmate.topics.costs.answer import answer
from gardenmate.topics.costs.bill import compare, money
from gardenmate.topics.costs.decide import timing
from gardenmate.topics.season import answer as season_questions
from tests.topics.money_world import FACTS, ask, world_at

T = "buy-or-sow"


def numbers(a: Answer) -> dict[str, object]:
    return {n.name: n.value for n in a.numbers}


def test_eighteen_broccoli_at_75_cents() -> None:
    a = answer(ask(T, ["broccoli"], count=18, price=0.75), world_at())
    n = numbers(a)
    assert a.verdict == "yes"
    assert a.headline.startswith("Sow")
    assert n["cost_bought"] == 13.5
    assert n["cost_raised"] < 13.5
    assert n["break_even_price"] == pytest.approx(n["cost_raised"] / 18, abs=0.01)
    assert 1 < n["break_even_count"] <= 18
    assert a.table is not None
    assert "time is not counted" in " ".join(a.assumptions)
    assert a.sources


def test_bill_lines_add_up_to_the_total() -> None:
    question = ask(T, ["tomato"], count=6)
    c = compare(FACTS.crop("tomato"), "tomato", 6, question, world_at())
    assert c.raised.total == pytest.approx(sum(line.money for line in c.raised.lines))
    assert {line.what for line in c.raised.lines} == {"seed", "mix", "trays and pots", "mat", "lamp"}
    assert c.saves == pytest.approx(c.bought.total - c.raised.total)


def test_own_time_is_counted_only_when_the_grower_set_a_rate() -> None:
    question = ask(T, ["tomato"], count=6)
    free = compare(FACTS.crop("tomato"), "tomato", 6, question, world_at())
    paid = compare(
        FACTS.crop("tomato"), "tomato", 6, question, world_at(garden=Garden(prefs={"time_rate": "12"}))
    )
    assert paid.raised.part("time") > 0
    assert paid.raised.total > free.raised.total


def test_own_tariff_moves_the_energy() -> None:
    question = ask(T, ["tomato"], count=6)
    dear = compare(
        FACTS.crop("tomato"), "tomato", 6, question, world_at(garden=Garden(prefs={"tariff": "0.60"}))
    )
    usual = compare(FACTS.crop("tomato"), "tomato", 6, question, world_at())
    assert dear.raised.part("lamp") == pytest.approx(3 * usual.raised.part("lamp"))


def test_a_tariff_that_is_no_number_falls_back_to_the_default() -> None:
    c = compare(
        FACTS.crop("tomato"),
        "tomato",
        6,
        ask(T, ["tomato"]),
        world_at(garden=Garden(prefs={"tariff": "dear"})),
    )
    assert c.prices.tariff == FACTS.table("raising")["light"]["price_per_kwh"]


def test_one_plant_is_bought() -> None:
    a = answer(ask(T, ["tomato"], count=1), world_at("Boise"))
    assert a.verdict == "no"
    assert a.headline.startswith("Buy")


def test_too_late_to_sow_says_until_when_plants_go_out() -> None:
    a = answer(ask(T, ["pepper"], count=6), world_at("Boise", date(2027, 7, 1)))
    assert a.verdict == "no"
    assert "too late to sow" in a.headline
    assert numbers(a)["latest_set_out"] >= date(2027, 7, 1)
    bought = answer(ask(T, ["pepper"], {"way": "buy"}, count=6), world_at("Boise", date(2027, 7, 1)))
    assert bought.verdict == "yes"


def test_after_the_season_neither_and_when_next() -> None:
    a = answer(ask(T, ["pepper"], count=6), world_at("Duluth, MN", date(2027, 7, 10)))
    assert a.verdict == "no"
    assert a.headline.startswith("Neither")
    assert "2028" in a.headline


def test_before_the_season_says_from_when() -> None:
    a = answer(ask(T, ["tomato"], count=6), world_at("Duluth, MN", date(2027, 1, 10)))
    assert a.verdict == "yes"
    assert a.headline.startswith("Sowing is cheaper (sow from ")


def test_in_time_names_the_last_day_to_sow() -> None:
    a = answer(ask(T, ["tomato"], count=6), world_at("Boise"))
    assert a.verdict in ("yes", "tight")
    assert numbers(a)["latest_sow"] > date(2027, 4, 18)
    assert any("only way" in d for d in a.details)
    assert a.windows


def test_no_season_at_all_is_said() -> None:
    a = answer(ask(T, ["tomato"], count=3), world_at("Churchill"))
    assert a.verdict == "no"
    assert "Neither" in a.headline


@pytest.mark.parametrize("crop", ["celery", "hot-pepper"])
def test_slow_seed_asked_as_buying_is_yes(crop: str) -> None:
    assert answer(ask(T, [crop], {"way": "buy"}), world_at()).verdict == "yes"
    assert answer(ask(T, [crop], method="starts"), world_at()).verdict == "yes"


def test_slow_seed_asked_as_sowing_without_a_place_is_tight() -> None:
    a = answer(ask(T, ["celery"]), world_at())
    assert a.verdict == "tight"
    assert "10 to 12 weeks" in a.headline


def test_crops_sown_in_place_are_not_bought() -> None:
    a = answer(ask(T, ["sweet-corn"], {"way": "buy"}), world_at("Boise"))
    assert a.verdict == "no"
    assert a.headline.startswith("No, sow sweet corn in place")
    assert "bought" not in a.headline
    assert a.table is None, "no duel of prices where nobody raises it in trays"


def test_herbs_that_do_not_come_from_seed() -> None:
    a = answer(ask(T, ["rosemary"], price=9), world_at())
    assert a.verdict == "no"
    assert "cuttings" in a.headline
    assert answer(ask(T, ["mint"], {"way": "buy"}), world_at()).verdict == "yes"


@pytest.mark.parametrize(
    ("cues", "count", "price", "each"),
    [
        ({}, 12, 0.9, 0.9),
        ({}, 12, 9.0, 0.75),
        ({"price_for": "each"}, 12, 9.0, 9.0),
        ({"pack": "6"}, 12, 4.5, 0.75),
        ({"price_for": "total"}, 30, 18.0, 0.6),
        ({}, None, 4.8, 0.8),
    ],
)
def test_price_of_one_of_a_pack_or_of_all(
    cues: dict[str, str], count: int, price: float, each: float
) -> None:
    a = answer(ask(T, ["cabbage"], cues, count=count, price=price), world_at())
    assert numbers(a)["cost_bought_each"] == pytest.approx(each)


def test_seed_in_the_drawer_costs_nothing() -> None:
    a = answer(ask(T, ["tomato"], {"seed_in_hand": "yes"}, count=4, price=7), world_at())
    b = answer(ask(T, ["tomato"], count=4, price=7), world_at())
    assert numbers(a)["cost_raised"] < numbers(b)["cost_raised"]
    assert any("old seed" in x for x in a.assumptions)


@pytest.mark.parametrize(
    ("place", "cues", "sign"),
    [("Leeds", {}, "£"), ("Nantes", {}, "€"), ("Boise", {}, "$"), (None, {"currency": "pound"}, "£")],
)
def test_currency_follows_the_words_and_the_place(place: str | None, cues: dict[str, str], sign: str) -> None:
    a = answer(ask(T, ["cabbage"], cues, count=12), world_at(place))
    assert sign in a.headline


def test_money_is_shown_with_two_places() -> None:
    assert money("$", 3) == "$3.00"
    assert money("£", -2.5) == "-£2.50"
    assert money("$", -0.001) == "$0.00"


@pytest.mark.parametrize(
    ("crop", "verdict", "words"),
    [
        ("garlic", "no", "seed garlic"),
        ("potato", "no", "certified"),
        ("asparagus", "no", "asparagus crowns"),
        ("sweet-potato", "yes", "own"),
        ("rhubarb", "yes", "own"),
        ("strawberry", "no", "strawberry plants"),
        ("raspberry", "no", "named raspberry plants"),
        ("apple", "no", "does not come true"),
        ("onion", "no", "onion sets"),
    ],
)
def test_planting_stock(crop: str, verdict: str, words: str) -> None:
    a = answer(ask(T, [crop]), world_at())
    assert a.verdict == verdict
    assert words in a.headline
    assert a.sources


def test_stock_asked_as_buying_is_yes() -> None:
    a = answer(ask(T, ["asparagus"], {"way": "buy"}, count=20, price=3), world_at())
    assert a.verdict == "yes"
    assert numbers(a)["cost_bought"] == 60
    assert any("second or third spring" in d for d in a.details)


def test_garlic_by_the_pound_becomes_a_price_a_clove() -> None:
    a = answer(ask(T, ["garlic"], price=28), world_at())
    assert numbers(a)["cost_bought_each"] == pytest.approx(28 / 45, abs=0.01)


def test_onions_compare_three_ways() -> None:
    a = answer(ask(T, ["onion"], count=60), world_at())
    assert a.table is not None
    assert len(a.table.rows) == 3
    assert {"cost_bought", "cost_plants", "cost_raised"} <= numbers(a).keys()


def test_several_crops_make_one_table_and_a_split() -> None:
    a = answer(ask(T, ["mint", "sage"]), world_at())
    assert a.verdict is None
    assert "mint" in a.headline
    assert "sage" in a.headline
    assert a.table is not None
    assert len(a.table.rows) == 2
    assert {n.crop for n in a.numbers} == {"mint", "sage"}


def test_stock_and_packet_crops_together() -> None:
    a = answer(ask(T, ["tomato", "garlic"]), world_at())
    assert a.verdict is None
    assert "seed garlic" in a.headline


def test_no_crop_gets_the_general_sum() -> None:
    a = answer(ask(T, [], price=2), world_at())
    assert a.verdict == "yes"
    assert "or more of a kind" in a.headline
    assert a.table is not None
    assert len(a.table.rows) == 6


def test_dearer_plants_never_raise_the_break_even_count() -> None:
    counts = []
    for price in (0.3, 0.6, 1.2, 2.4):
        n = numbers(answer(ask(T, ["cabbage"], {"price_for": "each"}, count=20, price=price), world_at()))
        counts.append(n["break_even_count"] if n["break_even_count"] is not None else 10_000)
    assert counts == sorted(counts, reverse=True)


@pytest.mark.parametrize("crop_id", FACTS.crop_ids)
def test_every_crop_answers_with_a_bill(crop_id: str) -> None:
    crop = FACTS.crop(crop_id)
    name = f"{crop.base}:{crop.kind}" if crop.kind else crop.base
    for place in (None, "Boise", "Hobart"):
        a = answer(ask(T, [name]), world_at(place))
        assert a.headline.endswith(".")
        assert "  " not in a.headline
        assert a.verdict in ("yes", "tight", "no")
        for source in a.sources:
            assert FACTS.source(source).title


def test_question_type_is_untouched() -> None:
    question = ask(T, ["tomato"])
    a = answer(question, world_at())
    assert isinstance(a.question, Request)
    assert a.question is question
    assert a.effects == ()


@pytest.mark.parametrize("crop", ["tomato", "pepper", "broccoli", "cabbage", "leek"])
def test_plants_at_a_price_are_a_yes_once_only_plants_are_left(crop: str) -> None:
    for day in (date(2027, 5, 24), date(2027, 6, 4)):
        for cues in ({}, {"way": "sow"}, {"way": "buy"}):
            a = answer(ask(T, [crop], cues, count=12, price=4.5), world_at("Duluth, MN", day))
            if a.headline.startswith("Buy plants"):
                assert a.verdict == "yes"


@pytest.mark.parametrize(
    ("text", "plant", "packet"),
    [
        ("kale starts are $3 each and the packet of seed is $2, I want 4 plants, buy or sow?", 12.0, 2.0),
        ("a packet of kale seed costs $2, plants $3, I need 4. what is cheaper", 12.0, 2.0),
        ("$2 for a seed packet or $3 a plant, 4 kale, which is cheaper", 12.0, 2.0),
        ("4 kale plants at $3 each against a $2 packet, buy or sow", 12.0, 2.0),
    ],
)
def test_a_price_of_plants_and_one_of_a_packet_both_count(text: str, plant: float, packet: float) -> None:
    from tests.topics.test_frost_typed import reply_to

    a = reply_to(text)
    n = numbers(a)
    assert n["cost_bought"] == plant
    assert a.table is not None
    assert next(r for r in a.table.rows if r[0] == "seed")[2] == f"${packet:.2f}"


@pytest.mark.parametrize("at", ["Boise", "Duluth", "Boston"])
@pytest.mark.parametrize("crop", ["tomato", "pepper", "broccoli"])
def test_bought_plants_go_out_when_the_season_says(crop: str, at: str) -> None:
    """The same day as "when do I set them out?" gives."""
    world = world_at(at, date(2027, 3, 20))
    season = season_questions.answer(ask("when-start", [crop], method="setout"), world)
    assert timing(FACTS.crop(crop), world).plants_from == numbers(season)["set_out_from"]


def test_gear_lacking_is_bought_first_and_the_verdict_follows() -> None:
    """The lamp and mat are bought with the first sowing: 6 tomatoes do not pay for them in one spring (own sums)."""
    from tests.topics.test_frost_typed import reply_to

    has, lacks = reply_to("buy or sow 6 tomatoes"), reply_to("buy or sow 6 tomatoes, no lights or mat")
    assert (has.verdict, lacks.verdict) == ("yes", "tight")
    defaults = FACTS.table("prices")["defaults"]
    assert numbers(lacks)["gear_to_buy"] == defaults["lamp"] + defaults["mat"]
    share = defaults["lamp"] / defaults["lamp_seasons"] + defaults["mat"] / defaults["mat_seasons"]
    assert numbers(lacks)["cost_raised"] == pytest.approx(numbers(has)["cost_raised"] + share, abs=0.02)
    assert numbers(reply_to("buy or sow 12 broccoli, no mat"))["cost_raised"] == pytest.approx(
        numbers(reply_to("buy or sow 12 broccoli"))["cost_raised"]
    ), "a cool crop comes up without a mat"


@pytest.mark.parametrize(
    ("text", "packet", "plant"),
    [
        ("packet for 3.60, worth sowing 12 peppers myself?", "$3.60", 4.0),
        ("seed packet $4.99 tomato plants $5.49, which for 3 plants", "$4.99", 5.49),
        ("is it cheaper to buy tomatoes at 4.75 each or grow them, packet for 3.60", "$3.60", 4.75),
    ],
)
def test_prices_typed_are_used_as_typed(text: str, packet: str, plant: float) -> None:
    from tests.topics.test_frost_typed import reply_to

    a = reply_to(text)
    assert numbers(a)["cost_bought_each"] == pytest.approx(plant)
    assert any(packet in line for line in a.working), a.working


def test_just_one_plant_is_one() -> None:
    from tests.topics.test_frost_typed import reply_to

    assert numbers(reply_to("should I buy or sow peppers, I only need just one plant"))["plants"] == 1


def test_a_household_named_sets_the_number_of_plants() -> None:
    from tests.topics.test_frost_typed import reply_to

    few, many = (
        numbers(reply_to(f"cabbage for {n} people, buy plants or sow seed?"))["plants"] for n in (2, 6)
    )
    assert many == pytest.approx(3 * few, abs=2)


def test_germination_typed_sets_the_seed() -> None:
    from tests.topics.test_frost_typed import reply_to

    poor, good = (
        numbers(reply_to(f"12 peppers, seed at {p}% germination, buy or sow?"))["seeds"] for p in (40, 90)
    )
    assert poor > good + 5


def test_where_seed_may_not_make_it_plants_are_bought_whatever_the_pennies() -> None:
    """What the season room calls tight or a no is no time to save on a packet (common practice)."""
    world = world_at("Flagstaff, AZ", date(2026, 5, 15))
    question = ask(T, ["tomato"])
    season = season_questions.answer(replace(question, topic="late-start"), world)
    assert season.verdict != "yes"
    bought = answer(question, world)
    assert bought.headline.startswith("Buy plants: it is late")
    assert bought.verdict == "no"


def test_a_lamp_is_reckoned_at_the_price_typed() -> None:
    dear, cheap = (
        compare(FACTS.crop("pepper"), "pepper", 6, ask(T, ["pepper"], {"lamp_price": price}), world_at())
        for price in ("90", "30")
    )
    assert dear.outlay == 90
    assert cheap.outlay == 30
    assert dear.raised.part("lamp to buy, a season") == pytest.approx(
        3 * cheap.raised.part("lamp to buy, a season")
    )


def test_asked_what_is_cheaper_the_bills_come_before_the_time() -> None:
    late = world_at("Minneapolis", date(2027, 4, 28))
    money_asked = replace(ask(T, ["pepper"], count=6), typed=(Typed("weighs", "money"),))
    a = answer(money_asked, late)
    assert a.headline.startswith("Seed is cheaper")
    assert a.headline.index("$") < a.headline.index("buy plants")
    assert answer(ask(T, ["pepper"], count=6), late).headline.startswith("Buy plants")


def test_what_is_as_well_sown_in_the_ground_is_priced_there() -> None:
    # no tray, pot or lamp for a seed that is put where it grows (common practice)
    question = ask(T, ["summer-squash"], count=3)
    c = compare(FACTS.crop("summer-squash"), "zucchini", 3, question, world_at())
    assert {line.what for line in c.raised.lines} == {"seed"}


def test_when_to_buy_plants_is_when_they_can_go_out() -> None:
    a = answer(ask(T, ["pepper"], cues={"asks_when": "yes", "way": "buy"}), world_at("Boise"))
    window = next(w for w in a.windows if w.activity == "set-out")
    assert a.verdict is None
    assert show_date(window.best_from, date(2027, 4, 18)) in a.headline
