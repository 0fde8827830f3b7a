"""What the frost and frame rules answer, against lists, limits and trials printed elsewhere."""

from __future__ import annotations

import pytest

from gardenmate.core.units import f_to_c
from gardenmate.knowledge.plants import bud_kills
from gardenmate.topics.frost.buds import killed_share, stages
from tests.topics.raising_bench import FACTS, ask, number

# "Frost Facts" (Grow a Gardener, 14 January 2016): light frost 28-32 F, hard frost below 28 F.
LIGHT_KILLS = (
    "bush-bean", "cucumber", "eggplant", "melon", "new-zealand-spinach", "okra", "pepper",
    "pumpkin", "summer-squash", "sweet-corn", "tomato", "watermelon", "amaranth", "winter-squash",
)  # fmt: skip
STANDS_LIGHT = (
    "globe-artichoke", "beet", "carrot", "cauliflower", "celery", "chinese-cabbage", "endive",
    "lettuce/leaf", "parsnip", "pea", "chard", "arugula", "pak-choi", "corn-salad", "radicchio",
)  # fmt: skip
STANDS_HARD = (
    "broccoli", "brussels-sprouts", "cabbage", "collards", "kale", "kohlrabi", "mustard-greens",
    "onion/seed", "parsley", "pea", "radish", "spinach", "turnip", "leek",
)  # fmt: skip

# Purdue Extension HO-203, Hardiness of vegetables (after University of Illinois VC-14).
PURDUE_VERY_HARDY = (
    "collards", "endive", "kale", "kohlrabi", "lettuce/leaf", "mustard-greens", "onion/sets",
    "pea", "rhubarb", "rutabaga", "spinach", "asparagus",
)  # fmt: skip
PURDUE_FROST_TOLERANT = (
    "beet", "broccoli", "brussels-sprouts", "cabbage", "carrot", "cauliflower", "celeriac",
    "celery", "chard", "chinese-cabbage", "onion/seed", "parsnip", "radish", "turnip",
)  # fmt: skip
PURDUE_TENDER = (
    "bush-bean", "sweet-corn", "tomato", "lima-bean", "cucumber", "eggplant", "melon", "okra",
    "pepper", "pumpkin", "summer-squash", "winter-squash", "sweet-potato", "watermelon",
)  # fmt: skip


def verdict(crop: str, low_f: float) -> str | None:
    """The verdict on a plant past the age at which it grows back from below ground (young corn does to five leaves)."""
    return ask("frost", crop, f=low_f, role="low", cues=GROWN.get(crop)).verdict


GROWN = {"sweet-corn": {"stage": "established"}}


@pytest.mark.parametrize("crop", sorted(set(LIGHT_KILLS + PURDUE_TENDER)))
def test_tender_crops_do_not_live_through_a_light_frost(crop: str) -> None:
    """Both lists: damaged or killed at 28-32 F."""
    assert verdict(crop, 30) == "no"


@pytest.mark.parametrize("crop", sorted(set(STANDS_LIGHT + PURDUE_FROST_TOLERANT)))
def test_frost_tolerant_crops_are_not_given_up_in_a_light_frost(crop: str) -> None:
    """Both lists: withstand light frost, 28-32 F."""
    assert verdict(crop, 29) in ("yes", "tight")


@pytest.mark.parametrize("crop", sorted(set(STANDS_HARD + PURDUE_VERY_HARDY)))
def test_hardy_crops_are_not_given_up_in_a_hard_frost(crop: str) -> None:
    """Both lists: withstand hard frost, below 28 F, for short periods."""
    assert verdict(crop, 26) in ("yes", "tight")


def test_spinach_at_20_f_is_uninjured() -> None:
    """Clemson HGIC: hardened spinach takes 20 F without injury."""
    assert verdict("spinach", 20) == "yes"


# "Winter hardiness" (Sustainable Market Farming, central Virginia, 27 August 2012): the temperature, degrees
# F, at which plants without a cover were seen to die. Kinds it calls hardier are left out.
SEEN_TO_DIE_F = {
    "dill": 25, "endive": 25, "fennel": 25, "lettuce/leaf": 25, "chinese-cabbage": 25, "pak-choi": 25,
    "mustard-greens": 25, "radicchio": 25, "arugula": 22, "beet": 20, "cabbage": 20,
    "bush-bean": 32, "sweet-corn": 32, "cucumber": 32, "eggplant": 32, "lima-bean": 32, "melon": 32,
    "okra": 32, "pepper": 32, "winter-squash": 32, "sweet-potato": 32, "tomato": 32, "basil": 35,
}  # fmt: skip


@pytest.mark.parametrize("crop", sorted(SEEN_TO_DIE_F))
def test_a_crop_is_given_up_where_it_was_seen_to_die_and_not_well_above(crop: str) -> None:
    """6 F either way: the list has kinds of one crop 5 F apart, and how long the cold lasts is worth as
    much."""
    assert verdict(crop, SEEN_TO_DIE_F[crop] - 6) == "no"
    if crop not in ("basil", "sweet-potato"):  # these are chilled long before they freeze
        assert verdict(crop, SEEN_TO_DIE_F[crop] + 6) != "no"


@pytest.mark.parametrize(
    "crop", ["beet", "brussels-sprouts", "carrot", "collards", "kale", "parsley", "spinach"]
)
def test_the_hardiest_stand_some_hours_under_20_f_unhurt_or_marked(crop: str) -> None:
    """Georgia question-and-answer page: these tolerate short periods below 20 F; Michigan and Kansas call
    none of them safe in the open near 0 F."""
    assert verdict(crop, 19) in ("yes", "tight")
    assert verdict(crop, 4) == "no"


def test_soft_broccoli_dies_under_22_f() -> None:
    """The same page: broccoli grown warm is probably killed when it falls below 22 F."""
    assert verdict("broccoli", 21) == "no"
    assert verdict("broccoli", 26) != "no"


@pytest.mark.parametrize(
    "crop",
    ["broccoli", "cabbage", "cauliflower", "chard", "lettuce/leaf", "mustard-greens", "onion/seed", "radish"],
)
def test_foliage_burns_but_lives_at_26_to_31_f(crop: str) -> None:
    """Georgia question-and-answer page (after Texas A&M): 26-31 F may burn the foliage but does not kill."""
    assert verdict(crop, 27) in ("yes", "tight")
    assert verdict(crop, 31) in ("yes", "tight")


def test_36_f_forecast_can_be_30_f_at_the_plant() -> None:
    """NOAA/National Weather Service (via WOWK): surface usually 6 F, up to 10 F, colder than at 4-5 ft."""
    reply = ask("frost", "tomato", f=36, role="low", cues={"sky": "clear", "wind": "calm"})
    assert number(reply, "leaf_low_clear_f") == pytest.approx(30, abs=1)
    assert reply.verdict != "yes"


@pytest.mark.parametrize(
    ("cover", "carries_f"), [("fleece", 30), ("medium-fleece", 28), ("heavy-fleece", 26)]
)
def test_cover_carries_a_tender_crop_to_its_limit_less_the_gain(cover: str, carries_f: float) -> None:
    """Colorado GardenNotes 722: 2-4, 4-6, 6-8 F by weight; Nebraska: outside low = limit - gain, 32 - 8 = 24.

    The low end of each band is what is counted on; the rule is for air that is no colder at the plant than
    where it is measured, so a clear night (NOAA: 6 F colder at the plant) takes that much of it away.
    """
    dull = {"cover": cover, "sky": "cloudy"}
    assert ask("frost", "tomato", f=carries_f + 2, role="low", cues=dull).verdict == "yes"
    assert ask("frost", "tomato", f=carries_f + 1, role="low", cues=dull).verdict == "tight"  # no margin
    assert ask("frost", "tomato", f=carries_f + 2, role="low", cues={"cover": cover}).verdict != "yes"
    assert ask("frost", "tomato", f=carries_f + 7, role="low", cues={"cover": cover}).verdict == "yes"
    clear = {"cover": cover, "sky": "clear"}
    assert ask("frost", "tomato", f=carries_f + 1, role="low", cues=clear).verdict != "yes"
    assert ask("frost", "tomato", f=carries_f - 0.5, role="low", cues={"cover": cover}).verdict != "yes"
    heavy = ask("frost", "tomato", f=24, role="low", cues={"cover": "heavy-fleece"})
    assert heavy.verdict in ("tight", "no")  # the published best case is not promised


def test_tunnels_hold_to_about_24_f() -> None:
    """Nebraska Extension 2022: most low tunnels carry plants to about 24 F outside (hardy salads): alive
    there, given up 9 F lower."""
    assert ask("frost", "lettuce/leaf", f=24, role="low", cues={"cover": "tunnel"}).verdict in (
        "yes",
        "tight",
    )
    assert ask("frost", "lettuce/leaf", f=15, role="low", cues={"cover": "tunnel"}).verdict == "no"


def test_cold_frame_at_night_is_5_to_10_f_warmer() -> None:
    """Missouri G6965: 5-10 F above outside, generally no more; two garden logs: 6-10 F (polycarbonate)."""
    for glazing in ("glass", "twin-wall", "double-glass"):
        reply = ask("cold-frame", f=20, when="tonight", cues={"glazing": glazing})
        assert 5.0 <= number(reply, "inside_low_f") - 20.0 <= 10.0  # type: ignore[operator]


def test_a_frame_is_opened_at_about_70_f_inside() -> None:
    """National Gardening Association, question 3903 (26 January 1998): keep a frame to about 70 F inside.

    Five degrees either way, what a thermometer in the sun and one in the shade of a leaf differ by.
    """
    assert ask("cold-frame", f=76, role="inside").verdict == "yes"
    assert ask("cold-frame", f=62, role="inside").verdict == "no"


def test_half_the_buds_of_an_apple_at_tight_cluster_and_24_f() -> None:
    """Between 10% kill at 27 F and 90% at 21 F (Michigan and Penn State tables): about half."""
    apple = bud_kills(FACTS, "apple")[0]
    tight = next(s for s in stages(apple) if s.id == "tight-cluster")
    assert killed_share(tight, f_to_c(24)) == pytest.approx(0.5, abs=0.02)
    reply = ask("frost", "apple", f=24, cues={"bud_stage": "tight_cluster"})
    assert number(reply, "killed_pct") == 50


@pytest.mark.parametrize(
    ("plant", "stage", "low_f", "hurt"),
    [
        ("peach", "bloom", 29, False), ("peach", "bloom", 24, True),  # 10% at 27 F, 90% at 24 F
        ("blueberry", "bloom", 30, False), ("blueberry", "petal_fall", 27, True),  # MSU, NC State
        ("cherry/sweet", "green_tip", 28, False), ("cherry/tart", "green_tip", 22, True),  # MSU
    ],
)  # fmt: skip
def test_blossom(plant: str, stage: str, low_f: float, hurt: bool) -> None:
    """Spot checks on what the tables mean for the verdict."""
    reply = ask("frost", plant, f=low_f, cues={"bud_stage": stage})
    assert (reply.verdict in ("tight", "no")) is hurt


@pytest.mark.parametrize(
    ("plant", "safe_f", "hurt_f"),
    [
        ("peach", 0, -12),  # Purdue: some buds at -10 F
        ("apple", -10, -26),  # Kansas: -20 to -25 F; Delaware: -25 F
        ("blackberry", 0, -11),  # Purdue: not hardy below -10 F
        ("citrus", 32, 18),  # LSU: 20-22 F satsuma, 26-28 F others
    ],
)
def test_winter_hardiness(plant: str, safe_f: float, hurt_f: float) -> None:
    """Purdue, Kansas State, Delaware and LSU figures for dormant plants."""
    assert ask("frost", plant, f=safe_f, cues={"bud_stage": "dormant"}).verdict == "yes"
    assert ask("frost", plant, f=hurt_f, cues={"bud_stage": "dormant"}).verdict == "no"
