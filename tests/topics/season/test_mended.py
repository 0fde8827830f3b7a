"""Rules of judging a start that a gardener checked: the job meant, heat, winter, cover, wanted days, figures.

Dates named here as usual are common practice in the region unless a source stands beside them.
"""

from __future__ import annotations

from datetime import date
from functools import cache
from itertools import product

import pytest

from gardenmate.climate.places import Place, resolve_site
from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Slots
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.season.answer import answer
from gardenmate.topics.season.choose import ways_of_starting
from gardenmate.topics.season.terms import terms_for
from tests.topics.said import spoken

FACTS = Facts()
PLACES = ("Duluth", "Boston", "Seattle", "Tucson", "Hobart", "Leeds")


@cache
def place(name: str) -> Place:
    return resolve_site(place=name, facts=FACTS)


def ask(
    topic: str,
    crop: str,
    at: str,
    day: date,
    typed: str = "",
    cues: dict[str, str] | None = None,
    **slots: object,
) -> Answer:
    said = Slots(**slots)  # type: ignore[arg-type]
    question = spoken("as asked", topic, (CropRef(crop, typed=typed or crop),), said, cues=cues or {})
    where = place(at)
    return answer(question, World(day, FACTS, NO_GARDEN, "us", where.site, where.sites, where.region))


def number(found: Answer, name: str) -> object:
    return next(n.value for n in found.numbers if n.name == name)


# -- the job meant -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("crop", "verb", "topic", "first"),
    [
        ("tomato", "plant", "late-start", "setout"),
        ("eggplant", "plant", "late-start", "setout"),
        ("tomato", "sow", "early-start", "indoors"),
        ("onion-seed", "start", "early-start", "indoors"),
        ("bush-bean", "plant", "late-start", "outdoors"),
        ("garlic", "plant", "early-start", "outdoors"),
        ("cucumber", "setout", "early-start", "setout"),
        ("leek", "setout", "late-start", "setout"),
        ("tomato", None, "early-start", "setout"),
    ],
)
def test_the_verb_says_which_job(crop: str, verb: str | None, topic: str, first: str) -> None:
    terms = terms_for(FACTS.crop(crop), FACTS)
    usual = "outdoors" if terms.crop.methods[0] in ("direct", "cloves") else "setout"
    assert ways_of_starting(terms, verb, topic, usual)[0] == first


@pytest.mark.parametrize(
    ("crop", "at", "day"),
    [
        ("tomato", "Boston", date(2027, 6, 15)),
        ("eggplant", "Boston", date(2027, 6, 10)),
        ("pepper", "Des Moines", date(2027, 6, 15)),
        ("pepper", "Canberra", date(2027, 12, 10)),
    ],
)
def test_planting_a_tender_crop_in_early_summer_means_plants(crop: str, at: str, day: date) -> None:
    found = ask("late-start", crop, at, day, cues={"start_verb": "plant"})
    assert found.verdict in ("yes", "tight")
    assert "set out" in found.headline
    seed = ask("late-start", crop, at, day, method="indoors")
    if seed.verdict == "no":
        assert any("from seed it is too late" in d for d in found.details)


def test_without_a_verb_plants_are_answered_where_seed_is_too_late() -> None:
    day = date(2027, 6, 18)
    assert ask("late-start", "tomato", "Minneapolis, MN", day, method="indoors").verdict == "no"
    found = ask("late-start", "tomato", "Minneapolis, MN", day)
    assert found.verdict in ("yes", "tight")
    assert any(d.startswith("Not this time: to sow tomatoes indoors") for d in found.details)


@pytest.mark.parametrize(
    ("crop", "day"),
    [("tomato", date(2027, 4, 18)), ("pepper", date(2027, 4, 10)), ("celery", date(2027, 3, 12))],
)
def test_sowing_a_crop_raised_indoors_means_indoors(crop: str, day: date) -> None:
    found = ask("early-start", crop, "Duluth", day, cues={"start_verb": "sow"})
    assert found.verdict == "yes"
    assert "indoors" in found.headline


# -- heat ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("crop", ["tomato", "potato", "broccoli", "pea"])
@pytest.mark.parametrize("at", ["Tucson", "Phoenix"])
def test_in_desert_july_it_is_too_hot_and_never_too_cold(crop: str, at: str) -> None:
    found = ask("early-start", crop, at, date(2027, 7, 5), cues={"start_verb": "plant"})
    assert found.verdict == "no"
    assert "colder" not in found.headline
    assert "days average only" not in found.headline


def test_tomatoes_are_not_set_out_into_desert_june() -> None:
    found = ask("late-start", "tomato", "Tucson", date(2027, 6, 10), cues={"start_verb": "plant"})
    assert found.verdict == "no"
    assert "too hot" in found.headline


def test_lettuce_seed_waits_for_cooler_soil() -> None:
    # Lettuce seed goes dormant in soil over about 80 F (common practice).
    september = ask("early-start", "lettuce", "Tucson", date(2027, 9, 15), cues={"start_verb": "sow"})
    assert september.verdict != "yes"
    assert any("evening" in d for d in september.details)
    assert (
        ask("early-start", "lettuce", "Tucson", date(2027, 10, 20), cues={"start_verb": "sow"}).verdict
        == "yes"
    )


# -- winter --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("at", "day", "first", "last"),
    [
        ("Duluth", date(2027, 7, 1), date(2027, 7, 15), date(2027, 8, 15)),
        ("Minneapolis, MN", date(2027, 7, 1), date(2027, 7, 1), date(2027, 7, 25)),
        ("Leeds", date(2027, 6, 1), date(2027, 7, 1), date(2027, 7, 31)),
        ("Hobart", date(2027, 8, 1), date(2027, 11, 25), date(2028, 1, 20)),
        ("Tucson", date(2027, 4, 1), date(2027, 5, 10), date(2027, 6, 25)),
    ],
)
def test_autumn_garlic_is_lifted_in_its_summer(at: str, day: date, first: date, last: date) -> None:
    found = ask("harvest-date", "garlic", at, day)
    picked = number(found, "first_pick")
    assert isinstance(picked, date)
    assert first <= picked <= last


@pytest.mark.parametrize("at", ["Duluth", "Boston", "Halifax"])
def test_garlic_in_spring_is_second_best_not_too_warm(at: str) -> None:
    found = ask("early-start", "garlic", at, date(2027, 4, 20))
    assert found.verdict == "tight"
    assert "smaller bulbs" in found.headline
    assert "warm" not in found.headline


def test_garlic_in_may_waits_for_autumn() -> None:
    found = ask("early-start", "garlic", "Leeds", date(2027, 5, 20))
    assert found.verdict == "no"
    assert "autumn is the time for it" in found.headline


@pytest.mark.parametrize(
    ("crop", "at", "day"),
    [
        ("leek", "Leeds", date(2027, 7, 1)),
        ("leek", "Seattle", date(2027, 7, 10)),
        ("brussels-sprouts", "Leeds", date(2027, 6, 20)),
        ("cauliflower", "Canberra", date(2027, 3, 5)),
        ("cabbage", "Melbourne", date(2027, 3, 1)),
    ],
)
def test_hardy_crops_planted_in_summer_stand_a_mild_winter(crop: str, at: str, day: date) -> None:
    assert ask("late-start", crop, at, day, cues={"start_verb": "plant"}).verdict == "yes"


@pytest.mark.parametrize("crop", ["leek", "parsnip", "carrot", "beet", "kale", "brussels-sprouts"])
def test_what_stands_in_the_ground_is_never_said_to_be_killed(crop: str) -> None:
    for at, month in product(PLACES, (6, 7, 8, 9)):
        found = ask("late-start", crop, at, date(2027, month, 20))
        assert "kills it" not in found.headline, (at, month)


def test_leeks_are_there_in_a_mild_february() -> None:
    found = ask("harvest-date", "leek", "Leeds", date(2027, 2, 10))
    assert found.verdict != "no"
    assert any("keeps in the ground" in d for d in found.details)


def test_midwinter_is_no_good_time_however_mild() -> None:
    for crop in ("carrot", "beet", "lettuce", "radish"):
        assert ask("early-start", crop, "Hobart", date(2027, 6, 21)).verdict != "yes", crop


def test_kinds_that_are_wintered_have_their_own_dates() -> None:
    sown = ask("late-start", "cabbage", "Leeds", date(2027, 8, 5), typed="spring cabbage")
    assert sown.verdict == "yes"
    out = ask("when-start", "cabbage", "Leeds", date(2027, 9, 10), typed="spring cabbage", method="setout")
    assert out.verdict == "yes"
    broccoli = ask("late-start", "broccoli", "Seattle", date(2027, 7, 1), typed="purple sprouting broccoli")
    pick = number(broccoli, "first_pick")
    assert isinstance(pick, date)
    assert pick.month in (2, 3)
    assert ask("late-start", "cabbage", "Duluth", date(2027, 8, 5), typed="spring cabbage").verdict == "no"


# -- covers, crowns, wanted days -----------------------------------------------------------------------------


@pytest.mark.parametrize(("crop", "day"), [("lettuce", date(2027, 4, 13)), ("spinach", date(2027, 4, 14))])
def test_a_cover_named_counts_for_an_early_start(crop: str, day: date) -> None:
    bare = ask("early-start", crop, "Duluth", day, method="outdoors")
    covered = ask("early-start", crop, "Duluth", day, method="outdoors", cues={"cover": "tunnel"})
    rank = {"no": 0, "tight": 1, "yes": 2}
    assert rank[str(covered.verdict)] > rank[str(bare.verdict)]


@pytest.mark.parametrize("crop", ["rhubarb", "asparagus"])
def test_frost_does_not_keep_dormant_crowns(crop: str) -> None:
    found = ask("early-start", crop, "Duluth", date(2027, 4, 10))
    assert "frost" not in found.headline


def test_warm_crops_wait_for_the_soil_they_want() -> None:
    found = ask("early-start", "cucumber", "Halifax", date(2027, 5, 24), cues={"start_verb": "setout"})
    assert found.verdict == "no"
    opens = number(found, "earliest")
    assert isinstance(opens, date)
    assert opens >= date(2027, 6, 1)


@pytest.mark.parametrize(("day", "verdicts"), [(date(2027, 6, 10), {"yes"}), (date(2027, 9, 1), {"no"})])
def test_a_wanted_day_is_no_sowing_day(day: date, verdicts: set[str]) -> None:
    cues = {"wanted_on": "2027-10-31", "too_late": "yes"}
    found = ask("late-start", "pumpkin", "Atlanta", day, cues=cues, date=date(2027, 10, 31))
    assert found.verdict in verdicts
    assert "31 Oct" in found.headline
    picked = next((n.value for n in found.numbers if n.name == "first_pick"), None)
    if found.verdict != "no":
        assert isinstance(picked, date)
        assert picked <= date(2027, 10, 31)


# -- figures -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("topic", ["late-start", "early-start", "when-start", "harvest-date"])
def test_six_figures_at_most_and_none_of_next_years_last_start(topic: str) -> None:
    for crop, at, month in product(("tomato", "leek", "broccoli", "garlic", "squash"), PLACES, (2, 5, 8, 11)):
        ref = "winter-squash" if crop == "squash" else crop
        day = date(2027, month, 10)
        found = ask(topic, ref, at, day)
        shown = [n for n in found.numbers if n.shown]
        assert len(shown) <= 6
        for n in shown:
            if n.name.startswith("latest_") and isinstance(n.value, date):
                assert (n.value - day).days < 200


def test_verdict_and_chance_agree() -> None:
    for crop, at, month in product(
        ("tomato", "pepper", "bush-bean", "carrot", "cabbage"), PLACES, range(3, 10)
    ):
        found = ask("late-start", crop, at, date(2027, month, 15))
        if found.chance is None or "variety" in found.headline or "Not too late for" in found.headline:
            continue
        if found.verdict == "yes":
            assert found.chance >= 0.8, (crop, at, month)
        elif found.verdict == "tight":
            assert 0.5 <= found.chance < 0.8, (crop, at, month)


@pytest.mark.parametrize(
    ("crop", "typed", "word"),
    [
        ("summer-squash", "courgettes", "courgettes"),
        ("summer-squash", "courgette", "courgettes"),
        ("eggplant", "aubergines", "aubergines"),
        ("tomato", "tomato", "tomatoes"),
        ("leek", "leek", "leeks"),
        ("garlic", "garlic", "garlic"),
    ],
)
def test_the_growers_own_word_is_answered(crop: str, typed: str, word: str) -> None:
    found = ask("when-start", crop, "Leeds", date(2027, 5, 20), typed=typed)
    assert found.headline.lower().startswith(word)


@pytest.mark.parametrize("at", PLACES)
def test_a_list_calls_nothing_late_that_is_only_not_time_yet(at: str) -> None:
    """Every row of "too late?" agrees with its own dates: a start to come is not a no."""
    where = place(at)
    for month in (3, 5, 9):
        world = World(date(2027, month, 18), FACTS, NO_GARDEN, "us", where.site, where.sites, where.region)
        found = answer(spoken("too late", "late-start", (), Slots(), cues={"too_late": "yes"}), world)
        assert found.table is not None
        for _, word, do, _, chance in found.table.rows:
            assert word != "yes" or "only with" not in do
            if word == "yes" and chance != "-":
                assert int(chance.rstrip("%")) >= 50


@pytest.mark.parametrize("crop", ["onion", "garlic", "rhubarb", "asparagus"])
def test_early_in_its_window_is_not_late(crop: str) -> None:
    for at in PLACES:
        for day in (date(2027, 3, 10), date(2027, 4, 18), date(2027, 10, 1)):
            found = ask("late-start", crop, at, day)
            if "not the best time" in found.headline:
                best = [w for w in found.windows if w.earliest <= day <= w.latest]
                assert not best or any(w.best_to < day for w in best)


# Canberra and Edmonton both have a frost to come on these days, about one year in four.
@pytest.mark.parametrize("at", ["Canberra", "Edmonton", "Burlington, VT", "Leeds"])
def test_a_frost_is_a_reason_to_wait_by_one_limit_everywhere(at: str) -> None:
    limit = terms_for(FACTS.crop("tomato"), FACTS).safe_risk
    met = set()
    for month, days in ((5, range(1, 31, 3)), (10, range(1, 31, 3)), (11, range(1, 16, 3))):
        for day in days:
            found = ask("early-start", "tomato", at, date(2026, month, day), method="setout")
            risk = next((n.value for n in found.numbers if n.name == "frost_chance"), None)
            if risk is None or abs(float(risk) / 100 - limit) < 0.01:  # type: ignore[arg-type]
                continue
            over = float(risk) / 100 > limit  # type: ignore[arg-type]
            assert found.verdict != "yes" or not over
            if "too early" in found.headline.lower() or "but it is early" in found.headline:
                assert ("frost that would hurt" in found.headline) == over or found.verdict == "yes"
                met.add(over)
    assert met


def test_days_to_spare_say_what_picking_takes_off() -> None:
    found = ask("late-start", "bush-bean", "Burlington, VT", date(2026, 7, 14), method="outdoors")
    assert "days to spare" in found.headline
    assert any("left after" in line and "of picking" in line for line in found.details)
