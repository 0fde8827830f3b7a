"""Values a question holds beside its main one are answered to: months to choose from, heights, snow, humidity."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

TODAY = date(2027, 4, 18)


@pytest.fixture(scope="module")
def ask() -> Callable[[str], Answer]:
    talk = Conversation(Facts(), lambda: TODAY, PlaceOptions(place="Duluth"), remembers=False)
    return talk.ask


def said(answer: Answer) -> str:
    return " ".join((answer.headline, *answer.details, *answer.steps))


@pytest.mark.parametrize(
    ("text", "lead"),
    [
        ("is garlic an October or a November thing?", "October rather than November."),
        ("do I set out leeks in May or June?", "May rather than June."),
        ("for planting out brussels sprouts is it May or June", "Both May and June are right."),
        ("celery seed: January or December?", "Neither January nor December."),
    ],
)
def test_months_put_to_choose_from_are_judged(ask: Callable[[str], Answer], text: str, lead: str) -> None:
    assert ask(text).headline.startswith(lead)


def test_a_month_of_the_story_is_not_judged(ask: Callable[[str], Answer]) -> None:
    found = ask("lost the lot to a June frost last year, so when do tomatoes go outside")
    assert "June is" not in found.headline
    assert found.unused == ()


def test_a_month_asked_of_frost_has_its_odds(ask: Callable[[str], Answer]) -> None:
    may, june, july = (ask(f"any risk of frost in {m} here?").chance or 0.0 for m in ("May", "June", "July"))
    assert may > june > july


@pytest.mark.parametrize(
    "text", ["peas at 26, up {} inches", "beans {} inches tall and 33 tonight, cover them?"]
)
def test_a_cover_stands_clear_of_the_height_typed(ask: Callable[[str], Answer], text: str) -> None:
    assert "about 8 in high" in said(ask(text.format(4)))
    assert "about 12 in high" in said(ask(text.format(8)))


def test_mulch_is_laid_by_the_height_of_the_shoots(ask: Callable[[str], Answer]) -> None:
    assert "lay it between them" in said(ask("garlic is 10 inches tall, do I put the straw mulch back on?"))
    assert "find their way through" in said(ask("garlic is 2 inches tall, do I put the straw mulch back on?"))


@pytest.mark.parametrize(("inches", "words"), [(4, "room enough"), (14, "touch cold glass")])
def test_plants_in_a_frame_have_room_or_not(ask: Callable[[str], Answer], inches: int, words: str) -> None:
    assert words in said(ask(f"lettuce {inches} inches tall in the cold frame and 25 tonight, will it live?"))


def test_the_depth_of_snow_is_no_height_of_plants(ask: Callable[[str], Answer]) -> None:
    found = ask("snow on top of my frame, about five inches, do I leave it? beet greens in there")
    assert "5 in of snow" in found.headline
    assert "tall" not in said(found)


@pytest.mark.parametrize(("percent", "words"), [(100, "open it a crack"), (60, "no reason to open")])
def test_humidity_in_a_house_is_answered(ask: Callable[[str], Answer], percent: int, words: str) -> None:
    assert words in said(ask(f"Is {percent} percent humidity in the tunnel a reason to vent at 2C out?"))


def test_a_lid_on_a_sunny_day_is_not_a_lid_that_is_on(ask: Callable[[str], Answer]) -> None:
    assert "with 55 F outside" in ask("How far do I prop the lid on a 55 degree sunny day?").headline
    assert ask("50 and sunny, leave the lid on?").verdict == "no"


@pytest.mark.parametrize(
    ("text", "verdict", "words"),
    [
        ("is 1 packet of leek seed enough for 60 plants", "yes", "for 60 leek plants"),
        ("is one packet of beans with 40 seeds enough for a 30 foot row", "no", "about 40 seeds"),
        ("is one packet of beans with 300 seeds enough for a 30 foot row", "yes", "about 300 seeds"),
    ],
)
def test_packets_are_no_plants(ask: Callable[[str], Answer], text: str, verdict: str, words: str) -> None:
    found = ask(text)
    assert found.verdict == verdict
    assert words in found.headline
    assert found.unused == ()


def test_seeds_along_a_row_need_no_crop(ask: Callable[[str], Answer]) -> None:
    assert "4 in apart" in ask("one packet of 30 seeds enough for a 10 ft row?").headline
    assert "2 in apart" in ask("one packet of 60 seeds enough for a 10 ft row?").headline


def test_of_two_guesses_one_is_chosen(ask: Callable[[str], Answer]) -> None:
    assert ask("1 zucchini or 2 for four people, wife says 1").headline.startswith("2 rather than 1")
    assert ask("8 zucchini or 3 for four people?").headline.startswith("3 rather than 8")


def test_every_price_typed_is_answered(ask: Callable[[str], Answer]) -> None:
    found = ask("supermarket garlic at 30p or £7 named bulbs to plant")
    assert "£7.00 pays only for a lot of more than 23" in found.headline
    assert "$" not in found.headline


def test_what_is_to_be_spent_is_money_and_no_weight(ask: Callable[[str], Answer]) -> None:
    found = ask("our budget is fifty pounds, packets or plug plants?")
    assert [t.value for t in found.question.typed if t.kind == "price"] == [50.0]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("when is garlic ready, june or july", "Not in June. In July, yes."),
        ("beans ready when, and do I cover them at 34", "A night of 34 F"),
        ("if I put watermelons in in the middle of May, when are they ready", "set out 15 May"),
        (
            "if hot peppers are sown now and go in the ground June 1, do we see pods in september?",
            "set out 1 Jun",
        ),
    ],
)
def test_a_harvest_is_worked_from_what_is_told(ask: Callable[[str], Answer], text: str, words: str) -> None:
    found = ask(text)
    assert words in found.headline
    assert found.unused == ()


def test_a_start_to_come_is_judged_on_its_own_day(ask: Callable[[str], Answer]) -> None:
    assert "29 Sep" in ask("swiss chard for winter, sown at michaelmas, done and dusted?").headline
    assert "8 Sep" in ask("a bit of rocket, eight days into September, any hope").headline
    assert "15 Aug" in ask("it's nearly august, is planting kale now too late").headline


def test_another_day_is_set_beside_a_start_now(ask: Callable[[str], Answer]) -> None:
    assert (
        "By October it is too late"
        in ask("can I sow the sunflowers now rather than wait for october").headline
    )
    assert "May is a good time" in ask("can I sow sunflowers now rather than wait for may").headline


def test_weeks_to_the_own_last_frost_move_the_season(ask: Callable[[str], Answer]) -> None:
    near, far = (ask(f"my last frost is {n} weeks away, when do tomatoes go out") for n in (2, 8))
    assert near.headline != far.headline


def test_a_fraction_of_an_inch_is_no_day(ask: Callable[[str], Answer]) -> None:
    assert not ask("snaps in soil blocks 3/4 inch, step up when").question.has("date")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("one lamp for a dozen pots of basil, ok?", "For 12 plants in pots, on 1 flat"),
        ("one lamp for forty pots of basil, ok?", "For 40 plants in pots, on 3 flats"),
        ("LED bar of 1,800 lumens for a dozen lettuce, enough?", "Only just"),
        (
            "dropping lights from 16 hrs to 10 to save power, would onions suffer",
            "10 hours a day is a little short",
        ),
        (
            "Dad turns the lamp off at six and on at noon. Is six hours enough for seedlings?",
            "6 hours a day is too short",
        ),
    ],
)
def test_lamps_are_judged_by_what_is_under_them(ask: Callable[[str], Answer], text: str, words: str) -> None:
    found = ask(text)
    assert words in found.headline
    assert found.unused == ()


def test_the_age_of_seedlings_says_how_long_they_need_the_light(ask: Callable[[str], Answer]) -> None:
    young, old = (said(ask(f"{n} weeks old and pale, tomatoes, more light?")) for n in (3, 7))
    assert "from going out" in young
    assert "old enough to go out" in old


def test_daylight_is_that_of_the_month_told(ask: Callable[[str], Answer]) -> None:
    dark, bright = (
        ask(f"would a south facing porch do for lettuce seedlings in {month}, light enough?").numbers
        for month in ("January", "March")
    )
    assert dark[0].value < bright[0].value  # type: ignore[operator]


def test_the_packets_days_are_judged_beside_the_wait(ask: Callable[[str], Answer]) -> None:
    fair, quick = (
        said(ask(f"packet says {n} days for tomatoes and I'm on day 13, is the rest coming?")) for n in (9, 4)
    )
    assert "is a fair time" in fair
    assert "is quick" in quick


def test_seed_counted_early_may_still_come(ask: Callable[[str], Answer]) -> None:
    assert "won't come" in said(ask("three out of twenty aubergines in 4 weeks, resow?"))
    assert "may still come" in said(ask("three out of twenty aubergines in 5 days, resow?"))


def test_seed_comes_up_by_the_soil_of_the_day_told(ask: Callable[[str], Answer]) -> None:
    may, july = (ask(f"how long do carrots take to come up in {month}") for month in ("mid May", "July"))
    assert may.headline != july.headline
    assert may.unused == july.unused == ()


def test_a_possible_day_is_told_with_the_soil_it_waits_for(ask: Callable[[str], Answer]) -> None:
    talk = Conversation(Facts(), lambda: date(2027, 4, 1), PlaceOptions(place="Oxford, UK"), remembers=False)
    found = talk.ask("is it too early to set out tomatoes?")
    assert "if the soil holds 16 C by then" in found.headline


def test_a_pot_of_something_unknown_is_no_seedling(ask: Callable[[str], Answer]) -> None:
    for plant in ("bay tree", "avocado"):
        assert "I won't guess" in ask(f"when do I pot up my {plant}").headline


@pytest.mark.parametrize(
    "text", ["thin carrots to what", "how much to thin carrots", "how far apart do carrots go"]
)
def test_thinning_is_answered_by_the_distance(ask: Callable[[str], Answer], text: str) -> None:
    assert ask(text).headline.startswith("Space carrots 2 to 3 in apart")


def test_a_town_before_its_season_is_the_place(ask: Callable[[str], Answer]) -> None:
    found = ask("will a sunny sill do for lettuce through a Winnipeg January?")
    assert found.question.slots.place == "Winnipeg"


def test_another_day_than_the_clocks_is_the_day_of_the_list(ask: Callable[[str], Answer]) -> None:
    assert "1 Jan 2028" in ask("new year new me, walk me through january in the garden").headline
    assert "5 Mar" in ask("it's the 5th of March, what needs doing in the next two weeks?").headline


def test_money_for_the_morning_is_counted_in_packets(ask: Callable[[str], Answer]) -> None:
    assert "packets of seed" in said(ask("free morning and twenty quid, what wants sowing?"))


def test_the_end_of_july_is_the_day_of_the_cut(ask: Callable[[str], Answer]) -> None:
    april, july = (
        ask(f"it's the {part}, what do I take off my grape vine") for part in ("20th of April", "end of July")
    )
    assert april.headline != july.headline


def test_the_age_of_seedlings_is_said_where_they_move(ask: Callable[[str], Answer]) -> None:
    assert "At 9 weeks celery" in said(ask("celery nine weeks old, is hardening it off risky"))
    assert "At 8 weeks peppers" in said(ask("peppers 8 weeks old, pot on?"))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("are four months for leeks about right?", "4 months is about right"),
        ("are four weeks for leeks about right?", "4 weeks is too short"),
        ("are eight months for leeks about right?", "8 months is longer than it takes"),
    ],
)
def test_a_growers_own_estimate_is_judged(ask: Callable[[str], Answer], text: str, words: str) -> None:
    assert words in ask(text).headline


def test_days_on_the_mat_are_judged(ask: Callable[[str], Answer]) -> None:
    assert "is about right" in said(ask("how long do peppers need the mat, two weeks?"))
    assert "is short" in said(ask("how long do peppers need the mat, three days?"))


def test_the_price_of_a_lamp_is_spread_over_its_seasons(ask: Callable[[str], Answer]) -> None:
    assert "5.00 a season" in ask("lamp cost 40 dollars, worth it for lettuce seedlings?").headline


def test_the_warmth_told_beside_old_seed_is_answered(ask: Callable[[str], Answer]) -> None:
    warm, cold = (said(ask(f"4 year old carrot seed in {t} degree soil, bother?")) for t in (60, 45))
    assert warm != cold


def test_a_month_of_buying_says_what_seed_is_too_late(ask: Callable[[str], Answer]) -> None:
    assert "too late to sow" in said(ask("is seed in june still cheaper than plants from the garden centre?"))
