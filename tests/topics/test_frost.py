"""Frost tonight: crops, covers, stages, the whole garden, the morning after."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Slots, Temperature
from gardenmate.core.units import f_to_c
from gardenmate.garden.profile import Garden
from gardenmate.language.intent.turn import understand
from gardenmate.language.text.lexicon import load_lexicon
from gardenmate.records import replace
from gardenmate.topics.frost.answer import answer
from gardenmate.topics.frost.night import night_at
from gardenmate.topics.frost.outlook import outlook
from gardenmate.topics.shared.raising import named_crops
from gardenmate.topics.shared.subjects import plural_of
from tests.topics.raising_bench import FACTS, ask, bare_world, continental_site, number
from tests.topics.said import spoken

F = "frost"
CROPS = [f"{c.base}/{c.kind}" if c.kind else c.base for c in FACTS.crops()]


@pytest.mark.parametrize(
    ("crop", "low_f", "cues", "verdict"),
    [
        ("tomato", 51, {}, "yes"),
        ("tomato", 45, {}, "tight"),  # no frost, but chilled under 50 F
        ("tomato", 45, {"stage": "fruit"}, "yes"),  # a grown plant is not set back by a cool night
        ("tomato", 45, {"cover": "fleece"}, "yes"),
        ("pepper", 40, {}, "tight"),
        ("cucumber", 42, {"stage": "just-set-out"}, "tight"),
        ("eggplant", 48, {}, "tight"),
        ("okra", 46, {}, "tight"),
        ("cabbage", 40, {}, "yes"),
        ("tomato", 39, {"stage": "established"}, "yes"),  # clear sky: 33 F at the leaf, just above freezing
        ("tomato", 35, {}, "tight"),  # "cover" weather
        ("tomato", 36, {"sky": "cloudy", "stage": "established"}, "yes"),
        ("tomato", 34, {"sky": "clear"}, "tight"),  # 28 F at the leaf: fleece saves them
        ("tomato", 30, {"sky": "clear"}, "no"),  # 24 F at the leaf: no cover does
        ("tomato", 28, {}, "no"),
        ("tomato", 33, {"cover": "heavy-fleece"}, "yes"),  # 27 F at the leaf, 33 F under it
        ("tomato", 28, {"cover": "heavy-fleece"}, "no"),  # a clear night is taken when no sky is said
        ("tomato", 28, {"cover": "heavy-fleece", "sky": "cloudy"}, "yes"),
        ("tomato", 28, {"cover": "heavy-fleece", "sky": "clear"}, "no"),  # 22 F at the leaf and 6 degrees F
        ("pepper", 29, {"cover": "fleece", "cover_weight": "heavy", "sky": "clear"}, "no"),
        ("tomato", 35, {"cover": "fleece", "cover_weight": "double", "sky": "clear"}, "yes"),
        ("tomato", 33, {"cover": "blanket", "sky": "clear"}, "tight"),
        ("tomato", 36, {"cover": "blanket"}, "tight"),  # no margin at all is not "fine"
        ("tomato", 30, {"cover": "fleece"}, "no"),
        ("tomato", 24, {"cover": "fleece"}, "no"),
        ("tomato", 28, {"cover": "mulch"}, "no"),  # a mulch does not keep leaves warm
        ("pepper", 38, {}, "tight"),
        ("basil", 45, {}, "tight"),  # chilled, not frozen
        ("basil", 55, {}, "yes"),
        ("pea", 30, {}, "tight"),  # 24 F at the leaf on a clear night
        ("pea", 30, {"sky": "cloudy"}, "yes"),
        ("pea", 33, {}, "yes"),  # no frost in the air
        ("pea", 24, {}, "tight"),
        ("pea", 18, {}, "no"),
        ("pea", 30, {"stage": "bloom"}, "tight"),
        ("pea", 27, {"stage": "bloom"}, "no"),
        ("kale", 24, {}, "yes"),
        ("lettuce/leaf", 30, {}, "tight"),
        ("lettuce/leaf", 30, {"wind": "windy"}, "yes"),
        ("lettuce/leaf", 30, {"stage": "unhardened"}, "tight"),
        ("lettuce/leaf", 30, {"stage": "just-set-out"}, "tight"),
        ("spinach", 15, {}, "tight"),
        (
            "potato",
            30,
            {},
            "tight",
        ),  # bare tops are lost at 24 F at the leaf, and grow back from below ground
        ("potato", 15, {}, "no"),  # too cold to count on that
        ("potato", 33, {}, "tight"),
        ("chives", 10, {}, "tight"),  # tops die back, the crown lives
        ("chives", 10, {"stage": "just-set-out"}, "no"),
    ],
)
def test_verdicts(crop: str, low_f: float, cues: dict[str, str], verdict: str) -> None:
    assert ask(F, crop, f=low_f, role="low", cues=cues).verdict == verdict


def test_the_margin_is_told_in_both_units() -> None:
    reply = ask(F, "kale", f=24, role="low")
    assert number(reply, "margin_f") == pytest.approx(4.0, abs=0.1)
    assert number(reply, "margin_c") == pytest.approx(2.2, abs=0.1)
    assert number(reply, "hurt_below_f") == 20
    assert "24 F" in reply.headline
    assert "4 degrees F" in reply.headline


def test_metric_garden_gets_celsius() -> None:
    reply = ask(F, "pea", c=-5.0, role="low", world=bare_world(units="metric"))
    said = " ".join((reply.headline, *reply.details, *reply.changes, *reply.assumptions))
    assert " F" not in said
    assert "-5 C" in reply.headline


def test_the_cover_that_carries_it_is_named() -> None:
    reply = ask(F, "tomato", f=34, role="low")
    assert "heavy fleece" in reply.headline
    assert "Under heavy fleece tomatoes can be left out to a forecast of about 33 F on a clear night." in (
        reply.changes
    )


@pytest.mark.parametrize(
    "crop", ["tomato", "pepper", "bush-bean", "zucchini", "potato", "sweet-corn", "basil"]
)
@pytest.mark.parametrize("low_f", [26, 28, 29, 30, 31, 32, 33, 34, 35, 36])
@pytest.mark.parametrize("sky", ["", "clear", "cloudy"])
def test_no_cover_is_named_under_which_the_leaf_would_still_be_killed(
    crop: str, low_f: float, sky: str
) -> None:
    ref = CropRef("summer-squash" if crop == "zucchini" else crop)
    named = named_crops(spoken("", F, crops=(ref,)), bare_world())[0]
    question = spoken("", F, crops=(ref,), cues={"sky": sky} if sky else {})
    tonight = night_at(f_to_c(low_f), question, bare_world())
    found = outlook(named, tonight, question, bare_world())
    if found.remedy is not None:
        assert tonight.leaf_worst_c + found.remedy.plan_c > found.limits.killed_c
    elif found.outcome != "fine":
        text = ask(F, ref.id, f=low_f, role="low", cues=question.cues).headline
        assert any(word in text for word in ("bring", "Bring", "grow back", "grows back", "count on losing"))


def test_only_the_temperature_that_is_judged_is_printed() -> None:
    hardy = ask(F, "garlic", f=20, role="low")
    assert not any(n.shown for n in hardy.numbers if n.name.startswith("leaf_low"))
    tender = ask(F, "tomato", f=35, role="low", cues={"sky": "cloudy"})
    assert {n.name for n in tender.numbers if n.name.startswith("leaf_low") and n.shown} == {
        "leaf_low_cloudy_f", "leaf_low_cloudy_c",
    }  # fmt: skip


def test_a_cover_that_is_there_is_not_asked_for_again() -> None:
    reply = ask(F, "tomato", f=37, role="low", cues={"cover": "fleece"})
    assert reply.verdict == "yes"
    assert not any("No cover" in a for a in reply.assumptions)
    assert any("covers kept off nothing" in d for d in reply.details)


def test_several_crops_get_a_row_each_and_the_headline_says_which() -> None:
    reply = ask(F, "tomato", "kale", "lettuce/leaf", c=-0.5, role="low")
    assert reply.verdict is None
    assert "bring in tomatoes" in reply.headline or "cover tomatoes" in reply.headline
    assert "lettuce should live, with leaves marked if it is clear" in reply.headline
    assert "kale is fine as it is" in reply.headline
    assert reply.table is not None
    assert reply.table.rows[0][0] == "tomatoes"
    assert {n.crop for n in reply.numbers if n.name == "margin_f"} == {"tomato", "kale", "lettuce"}


def test_all_fine_is_one_verdict() -> None:
    assert ask(F, "kale", "spinach", f=28, role="low").verdict == "yes"


def test_low_spot_and_own_correction() -> None:
    plain = number(ask(F, "tomato", f=40, role="low"), "low_f")
    hollow = ask(F, "tomato", f=40, role="low", cues={"place_kind": "low-spot"})
    assert number(hollow, "low_f") == pytest.approx(plain - 3.4, abs=0.1)  # type: ignore[operator]
    own = bare_world(garden=Garden(low_spot_c=1.0))
    assert number(ask(F, "tomato", f=40, role="low", world=own), "low_c") == pytest.approx(3.4, abs=0.1)
    windy = ask(F, "tomato", f=40, role="low", cues={"place_kind": "low-spot", "wind": "windy"})
    assert number(windy, "low_f") == plain


def test_forecast_from_sunset_and_dew_point() -> None:
    reply = ask(F, "tomato", cues={"sunset_c": "10", "dew_point_c": "2"})
    assert number(reply, "low_c") == pytest.approx(-0.7, abs=0.1)
    assert any("fitted to other people's nights" in d for d in reply.details)
    assert reply.working[0].startswith("Forecast:")


def test_humidity_at_sunset_stands_for_the_dew_point() -> None:
    """10 C at 58 % has its dew point at 2.1 C (ASHRAE psychrometrics, checked in tests/published/test_frost_night)."""
    by_dew = ask(F, "tomato", cues={"sunset_c": "10", "dew_point_c": "2.1"})
    told = ask(F, "tomato", text="50 F at sunset, 58% humidity, frost tonight?", cues={"sunset_c": "10"})
    assert number(told, "low_c") == pytest.approx(number(by_dew, "low_c"), abs=0.1)


@pytest.mark.parametrize(("dew_c", "word"), [("-2", "probable"), ("3", "possible"), ("9", "speaks against")])
def test_dew_point_alone_is_a_hint(dew_c: str, word: str) -> None:
    reply = ask(F, "tomato", f=36, role="low", cues={"dew_point_c": dew_c})
    assert any(word in d for d in reply.details)


def test_hours_of_frost_need_place_and_evening_reading() -> None:
    world = bare_world(site=continental_site(), today=date(2027, 5, 10))
    reply = ask(F, "tomato", f=28, role="low", world=world, cues={"sunset_c": "6"})
    assert any("hours before sunrise" in d for d in reply.details)


def test_whole_garden_at_39_is_probably_fine() -> None:
    reply = ask(F, f=39, role="low")
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Probably no danger at 39 F")
    assert reply.table is not None
    assert reply.table.rows[0][2] == "chilled"
    assert {row[2] for row in reply.table.rows[1:]} == {"fine"}
    clear = ask(F, f=36, role="low", cues={"sky": "clear"})
    assert clear.verdict == "tight"
    assert ask(F, f=29, role="low").verdict == "no"


def test_the_growers_own_crops_come_first() -> None:
    world = bare_world(garden=Garden(wanted=("tomato", "kale", "lettuce")))
    reply = ask(F, f=31, role="low", world=world)
    assert reply.headline.startswith("At 31 F protect tomatoes and lettuce; kale will")
    assert reply.table is not None
    assert "pepper" not in str(reply.table.rows)


def test_nothing_known_asks_for_the_low_and_gives_the_limits() -> None:
    reply = ask(F)
    assert reply.verdict is None
    assert "What low" in reply.headline
    assert reply.table is not None
    assert len(reply.table.rows) == 6


@pytest.mark.parametrize(
    ("crop", "freeze", "verdict"),
    [("pea", "light", "yes"), ("tomato", "light", "no"), ("potato", "light", "tight"),
     ("lettuce/leaf", "hard", "tight"), ("kale", "hard", "yes"), ("broccoli", "winter", "no")],
)  # fmt: skip
def test_a_frost_without_a_temperature(crop: str, freeze: str, verdict: str) -> None:
    reply = ask(F, crop, cues={"freeze": freeze})
    assert reply.verdict == verdict
    assert any("You gave no temperature" in a for a in reply.assumptions)
    assert number(reply, "hurt_below_f") is not None


def test_broccoli_and_kale_through_a_winter() -> None:
    reply = ask(F, "broccoli", "kale", cues={"freeze": "winter"})
    assert "broccoli is hurt below 26 F and killed near 22 F" in reply.headline.lower().replace(" f", " F")
    here = ask(F, "kale", cues={"freeze": "winter"}, world=bare_world(site=continental_site()))
    assert here.verdict == "no"  # ordinary January nights of -16 C
    assert any("Bracken Hollow" in d for d in here.details)


# -- the morning after ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("crop", "verdict", "opens"),
    [
        ("tomato", "tight", "Perhaps not dead"),
        ("potato", "yes", "Not dead yet"),
        ("cabbage", "yes", "Not dead yet"),
        ("basil", "no", "Probably lost"),
        ("bush-bean", "tight", "Perhaps not dead"),
    ],
)
def test_dead_or_will_it_regrow(crop: str, verdict: str, opens: str) -> None:
    reply = ask(F, crop, cues={"frosting": "aftermath"})
    assert reply.verdict == verdict
    assert reply.headline.startswith(opens)
    assert number(reply, "wait_days_min") is not None
    assert reply.steps


def test_what_else_cannot_take_it_leaves_out_what_was_lost() -> None:
    reply = ask(F, "cucumber", "summer-squash", c=-1.0, role="low", cues={"frosting": "others"})
    assert reply.verdict == "tight"
    assert reply.table is not None
    cells = str(reply.table.rows)
    assert "cucumber" not in cells
    assert "tomato" in cells
    fates = {row[0]: row[2] for row in reply.table.rows}
    assert fates["tender"] == "lost outside"
    assert fates["hardy"] == "fine"


def test_frosted_woody_plants_wait() -> None:
    reply = ask(F, "hydrangea", cues={"frosting": "aftermath"})
    assert reply.verdict == "tight"
    assert reply.headline.startswith("Wait and see")


# -- readings ------------------------------------------------------------------------------------


def test_the_low_among_several_temperatures() -> None:
    temps = (Temperature(60, "F", "high"), Temperature(31, "F", "low"), Temperature(28, "F", "low"))
    question = spoken("", F, (CropRef("kale"),), Slots(temp_f=28, temps=temps))
    assert number(answer(question, bare_world()), "low_f") == 28


@pytest.mark.parametrize(
    ("one", "many"),
    [("tomato", "tomatoes"), ("cherry", "cherries"), ("radish", "radishes"), ("squash", "squash"),
     ("beans", "beans"), ("leek", "leeks"), ("tomatillo", "tomatillos"), ("peach", "peaches")],
)  # fmt: skip
def test_plurals(one: str, many: str) -> None:
    assert plural_of(one) == many


def test_known_plural_wins() -> None:
    assert plural_of("chilli", ("chilli", "chillies")) == "chillies"


def test_every_answer_cites_sources_that_exist() -> None:
    after = ask(F, "tomato", cues={"frosting": "aftermath"})
    for reply in (ask(F, "tomato", f=35), ask(F, f=35), ask(F), after):
        assert reply.cautions
        for source in reply.sources:
            FACTS.source(source)


def test_a_night_too_warm_for_celsius_is_read_as_fahrenheit() -> None:
    reply = ask(F, "tomato", c=38, role="low", world=bare_world(units="metric"))
    assert reply.verdict == "tight"
    assert number(reply, "low_f") == 38
    assert any("I read 38 as F" in d for d in reply.details)


def test_dead_after_a_given_low_still_speaks_of_the_crop() -> None:
    reply = ask(F, "lettuce/leaf", c=-4, role="low", cues={"frosting": "aftermath"})
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Not dead yet")


def test_a_day_gone_by_is_about_the_aftermath() -> None:
    reply = ask(F, "sweet-corn", date=date(2027, 4, 12), world=bare_world(site=continental_site()))
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Not dead yet")


def test_when_does_a_hard_freeze_come() -> None:
    cues = {"asks_when": "yes", "freeze": "hard"}
    reply = ask(F, "kale", cues=cues, world=bare_world(site=continental_site()))
    assert "28 F night" in reply.headline
    assert number(reply, "first_frost_50") == date(2027, 10, 10)


def test_potatoes_are_earthed_over_not_brought_in() -> None:
    reply = ask(F, "potato", f=26, role="low")
    assert "earth them over tonight" in reply.headline
    assert "grow back from below ground" in reply.headline
    assert "3 to 5 days" in reply.headline


def test_what_covers_keep() -> None:
    every = ask(F, cues={"frosting": "covers"})
    assert every.table is not None
    assert len(every.table.rows) == 10
    one = ask(F, cues={"frosting": "covers", "cover": "heavy-fleece"})
    assert one.headline.startswith("Heavy fleece keeps plants about 6 to 8 degrees F")
    assert number(one, "cover_gain_max_f") == 8


def test_a_low_typed_in_the_other_unit_is_shown_in_both() -> None:
    assert "-5 C (23 F)" in ask(F, "pea", c=-5.0, role="low").headline
    assert "28 F (-2 C)" in ask(F, "pea", f=28, role="low", world=bare_world(units="metric")).headline
    assert "(" not in ask(F, "pea", f=28, role="low").headline


def test_a_cover_is_told_with_a_frost_that_has_no_temperature() -> None:
    reply = ask(F, "potato", cues={"cover": "fleece", "cover_weight": "heavy"})
    assert reply.verdict == "yes"
    assert "no harm under heavy fleece" in reply.headline
    assert ask(F, "tomato", cues={"cover": "heavy-fleece"}).verdict == "tight"  # no margin left
    thin = ask(F, "tomato", cues={"cover": "blanket"})
    assert thin.verdict == "tight"


def test_a_unit_only_assumed_is_doubted_sooner() -> None:
    temps = (Temperature(22, "C"),)
    question = spoken(
        "",
        F,
        (CropRef("lettuce", "leaf"),),
        Slots(temp_c=22, temps=temps),
        assumptions=("Read 22 as C degrees.",),
    )
    assert number(answer(question, bare_world()), "low_f") == 22


def test_tops_hurt_but_the_crown_lives_on() -> None:
    reply = ask(F, "rhubarb", f=25, role="low")
    assert reply.verdict == "tight"
    assert "the plant lives on" in reply.headline


def test_hardy_crops_are_picked_not_brought_in() -> None:
    reply = ask(F, "kale", "tomato", f=5, role="low")
    assert reply.headline == "At 5 F: bring in or lose tomatoes; pick or lose kale."


@pytest.mark.parametrize(
    ("crop", "what"), [("tomato", "green"), ("pepper", "full-sized"), ("pumpkin", "stalk")]
)
def test_before_a_frost_what_would_be_lost_is_picked(crop: str, what: str) -> None:
    reply = ask(F, crop, f=30, role="low", cues={"frosting": "pick"})
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Yes, pick")
    assert what in reply.headline
    assert ask(F, "kale", f=30, role="low", cues={"frosting": "pick"}).verdict == "no"
    metric = ask(F, "tomato", c=-1, role="low", cues={"frosting": "pick"}, world=bare_world(units="metric"))
    assert "15.5 to 21 C" in metric.headline


@pytest.mark.parametrize(
    ("typed", "low_f", "verdict"),
    [("lemon tree", 25, "no"), ("lemon", 29, "tight"), ("satsuma", 25, "yes"), ("citrus", 28, "tight")],
)
def test_citrus_is_never_called_dormant(typed: str, low_f: float, verdict: str) -> None:
    question = spoken(
        "",
        F,
        crops=(CropRef("citrus", None, typed),),
        slots=Slots(temp_f=low_f, temps=(Temperature(low_f, "F", "low"),)),
    )
    reply = answer(question, bare_world())
    assert reply.verdict == verdict
    assert not any("dormant" in a for a in reply.assumptions)
    assert (verdict == "yes") or any("cover the tree" in step for step in reply.steps)


def test_a_figure_too_warm_for_celsius_is_not_said_to_be_read_so() -> None:
    low = Temperature(29.0, "C", "low")
    question = spoken(
        "", F, crops=(CropRef("pepper"),), slots=Slots(temp_c=29.0, temps=(low,)),
        assumptions=("Read 29 as C degrees.",),
    )  # fmt: skip
    reply = answer(question, bare_world())
    assert reply.question.assumptions == ()
    assert "29 F" in reply.headline


def test_no_low_in_a_warm_month_is_no_frost() -> None:
    summer = bare_world(site=continental_site(), today=date(2027, 7, 10))
    for crop in ("tomato", "sweet-corn"):
        reply = ask(F, crop, when="tonight", world=summer)
        assert reply.verdict == "yes"
        assert reply.headline.startswith("No frost is near")
    winter = bare_world(site=continental_site(), today=date(2027, 4, 18))
    assert not ask(F, "tomato", when="tonight", world=winter).headline.startswith("No frost is near")


@pytest.mark.parametrize("low_f", range(24, 35))
@pytest.mark.parametrize("crop", ["strawberry", "pea"])
def test_open_blossom_is_lost_or_kept_and_no_advice_chases_itself(crop: str, low_f: int) -> None:
    """A cover named for blossom is enough when it is on, or none better is left to name."""
    stage = {"stage": "bloom", "sky": "clear"}
    bare = ask(F, crop, f=low_f, role="low", cues=stage)
    covers = {"fleece": "light fleece", "medium-fleece": "medium fleece", "heavy-fleece": "heavy fleece"}
    if low_f <= number(bare, "killed_below_f"):
        assert bare.verdict == "no"
    for cue, name in covers.items():
        under = ask(F, crop, f=low_f, role="low", cues={**stage, "cover": cue})
        if f"{name}" in bare.headline:
            assert under.verdict != "no"
            assert "use " not in under.headline
        if under.verdict == "no":
            assert "likely lost" in under.headline


@pytest.mark.parametrize(("crop", "low_f"), [("winter-squash", 27), ("pumpkin", 25), ("tomato", 31)])
def test_pick_or_cover_is_judged_without_the_cover(crop: str, low_f: float) -> None:
    reply = ask(F, crop, f=low_f, role="low", cues={"pick_or_cover": "yes", "cover": "blanket"})
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Yes, pick")
    assert "pots" not in " ".join((reply.headline, *reply.details))


def test_what_cloud_would_change_is_told_when_no_sky_was_said() -> None:
    reply = ask(F, "tomato", f=28, role="low", cues={"cover": "heavy-fleece"})
    assert reply.verdict == "no"
    assert any("cloud" in c and "fine" in c for c in reply.changes)


@pytest.mark.parametrize(
    ("text", "crop", "verdict", "word"),
    [
        ("ten inches of snow on the radishes I sowed, gone?", "radish", "yes", "Not lost"),
        ("sowed carrots on Monday and it went to 22, did the frost get them", "carrot", "yes", "Not lost"),
        ("I direct seeded beans, it froze last night, are they dead", "bush-bean", "tight", "rots"),
    ],
)
def test_seed_in_the_ground_is_not_lost_to_frost(text: str, crop: str, verdict: str, word: str) -> None:
    reply = answer(spoken(text, F, (CropRef(crop),), cues={"frosting": "aftermath"}), bare_world())
    assert reply.verdict == verdict
    assert word in reply.headline


def test_seedlings_that_are_up_are_judged_as_plants() -> None:
    text = "the peas I sowed are up and it will be 15 tonight"
    low = Temperature(15, "F", "low")
    question = spoken(text, F, (CropRef("pea"),), Slots(temp_f=15, temps=(low,)))
    assert answer(question, bare_world()).verdict == "no"


@pytest.mark.parametrize("crop", ["broccoli", "chard", "cauliflower", "beet", "radish"])
def test_half_hardy_leaves_may_be_marked_on_a_clear_frosty_night(crop: str) -> None:
    reply = ask(F, crop, f=29, role="low")
    assert reply.verdict == "tight"
    assert "a clear, calm night may mark the leaves: the air stays" in reply.headline
    assert "23 F" not in reply.headline  # its figures hold for the air, so the leaf's are not set beside them
    assert not any(n.shown for n in reply.numbers if n.name == "leaf_low_clear_f")
    assert any("cloud" in c and "fine" in c for c in reply.changes)
    assert ask(F, crop, f=30, role="low", cues={"sky": "cloudy"}).verdict == "yes"
    assert ask(F, crop, f=31, role="low", cues={"cover": "heavy-fleece"}).verdict == "yes"


@pytest.mark.parametrize("crop", ["kale", "spinach", "leek", "garlic", "brussels-sprouts"])
def test_hardy_crops_are_judged_by_the_air_alone(crop: str) -> None:
    assert ask(F, crop, f=25, role="low").verdict == "yes"


def test_why_a_hardy_crop_is_judged_by_the_air_is_told_on_a_clear_night() -> None:
    clear = ask(F, "spinach", f=25, role="low", cues={"sky": "clear"})
    assert clear.verdict == "yes"
    assert any("hardy crops" in d for d in clear.details)
    assert not any("hardy crops" in d for d in ask(F, "tomato", f=35, cues={"sky": "clear"}).details)


def test_under_a_roof_the_leaf_is_as_warm_as_the_air_and_cool_nights_count() -> None:
    for sky in ("clear", ""):
        cues = {"cover": "greenhouse", "sky": sky} if sky else {"cover": "greenhouse"}
        reply = ask(F, "pepper", f=34, role="low", cues=cues)
        assert reply.verdict == "tight"
        assert "chilled" in reply.headline
    assert ask(F, "tomato", f=34, role="low", cues={"cover": "greenhouse", "stage": "fruit"}).verdict == "yes"
    assert ask(F, "tomato", f=25, role="low", cues={"cover": "greenhouse"}).verdict == "no"


# -- exceptions that turn the first line -----------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "verdict", "words"),
    [
        # Penn State and Purdue on frosted corn: the growing point is below ground to about five leaf collars
        ("my corn is 5 inches tall and it will be 29 tonight, will it live", "tight", "3 to 5 days"),
        ("my corn is 3 feet tall and it will be 27 tonight, will it live", "no", "won't survive"),
        ("potatoes are up 4 inches and 27 forecast, will they die", "tight", "grow back from below ground"),
        # NC State and others: the crown survives far more than the open flower, which dies near 28 F
        ("open strawberry flowers, 28 tonight", "no", "the plants live"),
        ("shud my strawbery flowrs be ok, 28 tonite", "no", "the plants live"),
        ("strawberries in bloom, 27 tonight", "no", "the plants live"),
        # Rutgers, quoted in the Rapid City Journal: 28 F at the ground under 9 in of snow at -14 F in the air
        ("a foot of snow on the spinach, 5 F tonight", "yes", "under that snow"),
        # extension tables: closed buds 22-27 F, so 30 F does nothing to them
        ("strawberry plants not in bloom yet, 30 tonight", "yes", "fine at 30 F"),
        ("strawberry plants not in bloom yet, 21 tonight", "no", "the plants live"),
        # tubers freeze near 30 F, and a night of frost does not reach them in moist soil
        ("potatoes ready to dig, hard freeze coming, 24", "yes", "in the soil are safe at 24 F"),
        ("an inch of snow on the spinach, 5 F tonight", "no", "won't survive"),
    ],
)
def test_the_exception_is_in_the_first_line(text: str, verdict: str, words: str) -> None:
    reply = typed(text)
    assert reply.verdict == verdict
    assert words in reply.headline


def test_every_low_is_used_and_the_coldest_decides() -> None:
    reply = typed("tomatoes: lows tue 31, wed 28, thu 35, ok")
    assert number(reply, "low_f") == 28
    assert "on Wed 26 May (28 F)" in reply.headline
    assert reply.table is not None
    assert [row[:2] for row in reply.table.rows] == [
        ("Tue 25 May", "31 F"), ("Wed 26 May", "28 F"), ("Thu 27 May", "35 F"),
    ]  # fmt: skip
    row = typed("will tomatoes live through lows this week of 38 29 34 41 36")
    assert number(row, "low_f") == 29
    assert row.table is not None
    assert len(row.table.rows) == 5


def test_a_margin_below_what_it_can_take_is_told_as_such() -> None:
    cold = ask(F, "onion", f=22, role="low")
    shown = {n.label: n.value for n in cold.numbers if n.shown and n.unit == "F"}
    assert shown["too cold by (air)"] == pytest.approx(4.0, abs=0.1)
    assert not any(label.startswith("to spare") for label in shown)
    assert not any("leaf" in label for label in shown)  # one basis: the air


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(CROPS), st.floats(10, 50), st.sampled_from(["", "clear", "cloudy"]))
def test_the_figures_shown_agree_on_one_basis(crop: str, low_f: float, sky: str) -> None:
    """What it meets, less what hurts it, is what is to spare, all for leaf height or all for the air."""
    reply = ask(F, crop, f=low_f, role="low", cues={"sky": sky} if sky else {})
    shown = {n.name: n.value for n in reply.numbers if n.shown}
    leaf = shown.get("leaf_low_clear_f", shown.get("leaf_low_cloudy_f"))
    met = shown["low_f"] if leaf is None else leaf
    spare = shown["margin_f"] if "margin_f" in shown else -float(str(shown["too_cold_by_f"]))
    assert float(str(met)) - float(str(shown["hurt_below_f"])) == pytest.approx(float(str(spare)), abs=0.2)
    assert ("margin_f" in shown) == (number(reply, "margin_c") >= 0)  # type: ignore[operator]


def test_a_bare_figure_that_could_be_a_killing_night_is_never_a_yes() -> None:
    """The place uses Fahrenheit and 8 F is possible weather there: the colder reading decides."""
    winter = replace(continental_site(), country="US")
    world = bare_world(site=winter, today=date(2027, 12, 10))
    slots = Slots(temp_c=8, temps=(Temperature(8, "C", "low"),))
    for crop in ("kale", "spinach", "cabbage"):
        question = spoken("", F, (CropRef(crop),), slots, assumptions=("Read 8 as C degrees.",))
        reply = answer(question, world)
        assert reply.verdict != "yes"
        assert reply.headline.startswith("If you mean 8 F")
        settled = answer(replace(question, typed=()), world)  # typed as 8 C
        assert settled.verdict == "yes"


def test_several_crops_are_each_named_with_the_unknown_ones() -> None:
    question = spoken(
        "", F, (CropRef("pea"), CropRef("kale")), Slots(temp_f=26, temps=(Temperature(26, "F", "low"),)),
        cues={"unknown": "pansies"},
    )  # fmt: skip
    reply = answer(question, bare_world())
    assert reply.headline.startswith("I have no figures for pansies")
    assert "kale is fine as it is" in reply.headline
    assert reply.table is not None
    assert [row[0] for row in reply.table.rows] == ["peas", "kale", "pansies"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        # University of Minnesota Extension, quoted by Home Guides: straw 3 to 4 in, off after the last hard freezes
        ("how deep to mulch garlic for winter", "3 to 4 in deep"),
        ("when do I mulch garlic", "once the ground begins to freeze"),
        ("when do I take the mulch off garlic", "once hard freezes are over"),
        ("garlic shoots came up through the mulch in january, will they die", "No harm done"),
        # Toronto Master Gardeners: 15 cm over carrots and parsnips; frozen carrots are ruined (Countryside, 2009)
        ("can carrots stay in the ground all winter", "Yes, but only under 6 to 12 in"),
        ("parsnips under straw all winter, ok?", "Yes, but only under 6 to 12 in"),
    ],
)
def test_crops_under_a_winter_mulch(text: str, words: str) -> None:
    reply = typed(text)
    assert reply.question.topic == "frost"
    assert words in reply.headline


def test_grape_shoots_go_by_their_length() -> None:
    """Michigan State (Howell) and Maryland Extension: secondary buds bear 0 to 60%, about 35% in Concord."""
    long, short = (typed(f"grape shoots are {n} inches long and 27 tonight") for n in (3, 0.5))
    assert long.verdict == "no"
    assert "secondary buds" in long.headline
    assert short.verdict == "tight"


def typed(text: str) -> Answer:
    question = understand(text, today=date(2027, 5, 24), units="us", facts=FACTS, lexicon=load_lexicon(FACTS))
    return answer(question, bare_world(today=date(2027, 5, 24)))


def test_where_the_ground_hardly_freezes_no_winter_mulch_is_needed() -> None:
    mild = replace(continental_site(), normal_min_c=tuple(t + 20.0 for t in continental_site().normal_min_c))
    reply = answer(
        spoken("how deep to mulch garlic for winter", F, (CropRef("garlic"),)), bare_world(site=mild)
    )
    assert reply.headline.startswith("You don't need a winter mulch")


def test_plants_of_a_list_that_are_not_known_are_named() -> None:
    reply = typed("tulips and peas at 25")
    assert reply.headline.startswith("I have no figures for tulips")
    assert "Peas should survive" in reply.headline


def test_citrus_in_flower_goes_by_its_own_figures() -> None:
    reply = typed("my lemon tree has fruit and flowers, 28 tonight, ok?")
    assert reply.verdict is not None
    assert "lemon trees" in reply.headline


def test_ordinary_winter_nights_are_no_yes_for_a_whole_winter() -> None:
    world = bare_world(site=continental_site())
    reply = ask(F, "garlic", cues={"freeze": "winter"}, world=world)
    assert reply.verdict != "yes"
    assert "ordinary midwinter night" in reply.headline
    text = "will kale survive the winter?"
    asked = understand(text, today=date(2027, 10, 5), units="us", facts=FACTS, lexicon=load_lexicon(FACTS))
    assert asked.cue("freeze") == "winter"
