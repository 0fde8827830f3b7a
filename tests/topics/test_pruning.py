"""Pruning answers a gardener would sign: verdicts, dates, refusals, kinds, weather, aftermath."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from shutil import copytree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.garden.profile import Plant
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.woody import woody_kinds
from gardenmate.records import replace
from gardenmate.topics.pruning.decide import Asked, decide
from gardenmate.topics.pruning.seasons import cuts
from gardenmate.topics.registry import rule_for
from gardenmate.topics.shared.woody_phase import SEEN_STAGES, spring_at
from tests.topics.said import heard
from tests.topics.woody_bench import FACTS, ask, number, question, said, world

P = "pruning"
BASES = sorted({str(FACTS.table(f"woody/{i}")["base"]) for i in FACTS.ids("woody")})
BOISE, DULUTH, LONDON, HOBART = "Boise", "Duluth, MN", "London Heathrow", "Hobart"


@pytest.mark.parametrize(
    ("plant", "where", "today", "verdict"),
    [
        ("apple", BOISE, "2027-03-01", "yes"),
        ("apple", BOISE, "2027-12-01", "no"),  # wait for late winter
        ("apple", BOISE, "2027-07-20", "tight"),  # light summer thinning only
        ("apple", BOISE, "2027-10-10", "no"),
        ("apple", BOISE, "2027-05-01", "tight"),  # about bloom: the buds decide
        ("apple", DULUTH, "2027-04-18", "yes"),  # spring is a month later there
        ("grape", BOISE, "2027-03-15", "yes"),
        ("grape", BOISE, "2027-10-15", "no"),
        ("kiwi", BOISE, "2027-01-05", "yes"),
        ("kiwi", BOISE, "2027-11-15", "no"),
        ("kiwi", BOISE, "2027-03-20", "no"),  # bleeds
        ("peach", BOISE, "2027-01-15", "no"),
        ("peach", BOISE, "2027-03-20", "yes"),
        ("apricot", BOISE, "2027-08-01", "yes"),
        ("apricot", LONDON, "2027-02-01", "no"),
        ("plum", LONDON, "2027-02-10", "no"),  # wet winters: silver leaf
        ("plum", LONDON, "2027-07-01", "yes"),
        ("plum", BOISE, "2027-03-10", "yes"),
        ("cherry/sweet", LONDON, "2027-07-10", "yes"),
        ("cherry/sweet", LONDON, "2027-01-10", "no"),
        ("elderberry/american", BOISE, "2027-02-20", "yes"),
        ("elderberry/american", BOISE, "2027-07-01", "tight"),
        ("raspberry/fall", BOISE, "2027-03-01", "yes"),
        ("raspberry/summer", BOISE, "2027-08-01", "yes"),
        ("lilac", BOISE, "2027-02-01", "no"),
        ("lilac", BOISE, "2027-05-15", "yes"),
        ("rose", BOISE, "2027-04-01", "yes"),
        ("rose", BOISE, "2027-11-01", "no"),
        ("lavender", BOISE, "2027-12-01", "no"),
        ("hydrangea/old-wood", BOISE, "2027-02-15", "no"),
        ("hydrangea/new-wood", BOISE, "2027-03-10", "yes"),
        ("strawberry/june", BOISE, "2027-07-05", "yes"),
        ("strawberry/june", BOISE, "2027-09-15", "no"),
        ("citrus", BOISE, "2027-01-15", "no"),
        ("apple", HOBART, "2027-08-15", "yes"),
        ("apple", HOBART, "2027-04-25", "no"),
    ],
)
def test_verdict_on_a_date(plant: str, where: str, today: str, verdict: str) -> None:
    assert ask(P, plant, today=today, where=where).verdict == verdict


@pytest.mark.parametrize(
    ("plant", "stage", "verdict"),
    [
        ("apple", "bud_swell", "yes"),
        ("apple", "green_tip", "yes"),
        ("apple", "pink", "tight"),
        ("apple", "bloom", "no"),
        ("kiwi", "bud_swell", "no"),
        ("elderberry/american", "green_tip", "yes"),
        ("elderberry/american", "bloom", "no"),
        ("peach", "pink", "yes"),
        ("lilac", "bud_swell", "no"),
        ("lilac", "petal_fall", "yes"),
        ("apricot", "dormant", "no"),
        ("asparagus", "leafed_out", "no"),
        ("fig", "bud_swell", "yes"),
        ("grape", "leaf_fall", "no"),
    ],
)
def test_what_the_grower_sees_wins_over_the_calendar(plant: str, stage: str, verdict: str) -> None:
    """The same stage gives the same verdict in March and in May."""
    for today in ("2027-03-15", "2027-05-20"):
        reply = ask(P, plant, today=today, where=BOISE, cues={"bud_stage": stage})
        assert reply.verdict == verdict
        assert not any("give or take" in a for a in reply.assumptions)


def test_headline_opens_with_the_plain_answer() -> None:
    assert ask(P, "apple", today="2027-03-01", where=BOISE).headline.startswith("Yes, prune the apple")
    late = ask(P, "elderberry/american", today="2027-03-25", where=BOISE, cues={"bud_stage": "green_tip"})
    assert late.headline.startswith("Yes, you can still prune the American elder")
    assert ask(P, "kiwi", today="2027-11-15", where=BOISE).headline.startswith(
        "Not yet: prune kiwis early in the dormant season"
    )
    assert ask(P, "grape", today="2027-06-25", where=BOISE).headline.startswith(
        "Too late this year for the grape"
    )


def test_too_late_is_answered_in_its_own_words() -> None:
    reply = ask(P, "apple", today="2027-03-01", where=BOISE, cues={"too_late": "yes"})
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Not too late: you can prune apples in late winter")


def test_where_the_buds_decide_it_says_how_they_look() -> None:
    reply = ask(P, "apple", today="2027-04-18")
    assert reply.verdict == "tight"
    assert any(d.startswith("Green tip:") for d in reply.details)


def test_window_numbers_are_dates_and_carry_the_spread() -> None:
    reply = ask(P, "apple", today="2027-03-01", where=BOISE)
    assert number(reply, "prune_from") < date(2027, 3, 1) < number(reply, "prune_to")
    assert number(reply, "spread_days") == 10
    assert any("give or take 10 days" in a for a in reply.assumptions)
    assert number(reply, "bud_break") == date(2027, 3, 25) or number(reply, "bud_break").month in (3, 4)


def test_when_questions_give_every_main_season() -> None:
    reply = ask(P, "cherry/tart", today="2027-04-18", cues={"asks_when": "yes"})
    assert reply.headline.startswith("Prune tart cherries in a dry spell, late in winter or early in spring")
    assert "summer" in reply.headline


def test_no_place_says_what_was_assumed() -> None:
    reply = ask(P, "grape", today="2027-03-15")
    assert any("USDA zones 5-7 in the northern hemisphere" in a for a in reply.assumptions)
    assert any("where you garden" in c for c in reply.changes)


def test_too_young_is_refused_with_the_year() -> None:
    reply = ask(P, "apple", today="2027-03-01", where=BOISE, plant_age_years=2)
    assert reply.verdict == "no"
    assert "2030" in reply.headline
    assert ask(P, "apple", today="2027-03-01", where=BOISE, plant_age_years=6).verdict == "yes"


def test_an_age_once_said_is_remembered_as_the_year_of_planting() -> None:
    reply = ask(P, "currant/red", today="2027-04-18", where=DULUTH, plant_age_years=4)
    assert reply.effects == (GardenChange("plants.currant.planted", 2023),)
    known = (Plant("currant", None, 2023),)
    assert (
        ask(P, "currant/red", today="2027-04-18", where=DULUTH, plants=known, plant_age_years=4).effects == ()
    )


def test_the_gardens_own_planting_year_is_used() -> None:
    plants = (Plant("apple", None, 2026),)
    assert ask(P, "apple", today="2027-03-01", where=BOISE, plants=plants).verdict == "no"


def test_elder_has_its_options_and_their_age_gates() -> None:
    reply = ask(P, "elderberry", today="2027-02-20", where=BOISE)
    assert reply.table is not None
    assert [row[0] for row in reply.table.rows] == ["cane renewal", "coppice", "centre canes", "knee high"]
    assert [row[3] for row in reply.table.rows] == ["2", "2", "4", "4"]
    assert "cut at 8-12 inches" in said(reply)
    assert reply.cautions[0].startswith(
        "Elder leaves, stems, bark, roots and raw or unripe berries are poisonous"
    )
    assert any("American elderberry; tell me" in a for a in reply.assumptions)


def test_european_elder_is_meant_in_europe() -> None:
    reply = ask(P, "elderberry", today="2027-02-20", where=LONDON, units="metric")
    assert any("European elderberry; tell me" in a for a in reply.assumptions)
    assert "10-30 cm" in said(reply)


def test_kinds_cut_differently_are_both_answered_and_asked_for() -> None:
    reply = ask(P, "raspberry", today="2027-03-01", where=BOISE)
    assert reply.verdict == "yes"
    assert reply.asks == ("It is summer raspberry", "It is fall raspberry")
    apart = ask(P, "hydrangea", today="2027-03-10", where=BOISE, cues={"bud_stage": "dormant"})
    assert apart.verdict is None
    assert "It depends on the kind" in apart.headline
    told = ask(P, "hydrangea", today="2027-03-10", where=BOISE, kind="panicle", cues={"bud_stage": "dormant"})
    assert told.verdict == "yes"


def test_two_crop_raspberries_cut_down_lose_only_the_early_crop() -> None:
    reply = ask(P, "raspberry/fall", today="2027-04-18", cues={"past_cut": "yes"})
    assert reply.verdict is None
    assert "only the early-summer crop" in reply.headline
    assert "autumn crop still comes" in reply.headline


def test_summer_raspberries_cut_down_have_no_fruit() -> None:
    assert (
        "no fruit this summer"
        in ask(P, "raspberry/summer", today="2027-04-18", cues={"past_cut": "yes"}).headline
    )


def test_bloom_in_autumn_after_a_summer_cut() -> None:
    cues = {"past_cut": "yes", "bud_stage": "bloom"}
    reply = ask(P, "apple", today="2027-09-20", where=BOISE, cues=cues)
    assert "woke buds meant for next spring" in reply.headline
    assert any("late winter" in d for d in reply.details)


def test_a_dripping_vine_is_not_killed_and_a_kiwi_is_weakened() -> None:
    grape = ask(P, "grape", today="2027-04-18", cues={"past_cut": "bleeds"})
    assert "does not harm the vine" in grape.headline
    assert "weakening" in ask(P, "kiwi", today="2027-04-18", cues={"past_cut": "bleeds"}).headline


def test_a_cut_dated_in_the_past_is_spoken_of_as_done() -> None:
    reply = ask(P, "peach", today="2027-04-18", date=date(2027, 4, 15))
    assert reply.verdict is None


def test_frozen_tops_are_left() -> None:
    reply = ask(P, today="2027-02-01", where=BOISE, cues={"freeze_hurt": "yes"})
    assert reply.verdict == "no"
    assert reply.headline.startswith("Leave the brown tops")
    citrus = ask(P, "citrus", today="2027-01-20", where="Sacramento", cues={"freeze_hurt": "yes"})
    assert citrus.verdict == "no"
    canes = ask(P, "raspberry/summer", today="2027-03-10", where=BOISE, cues={"freeze_hurt": "yes"})
    assert canes.verdict == "yes"
    assert any("Scratch the bark" in d for d in canes.details)


def test_never_by_analogy() -> None:
    reply = ask(P, "apple", "elderberry", today="2027-03-01", where=BOISE, cues={"asks": "like"})
    assert reply.verdict == "no"
    assert "not pruned alike" in reply.headline
    assert any("spurs" in d for d in reply.details)
    assert any("this year's shoots" in d for d in reply.details)


def test_several_plants_one_row_each() -> None:
    reply = ask(P, "apple", "lilac", today="2027-02-05", where=BOISE)
    assert reply.verdict is None
    assert "yes for apple" in reply.headline.lower()
    assert "not now for lilac" in reply.headline
    assert reply.table is not None
    assert len(reply.table.rows) == 2


def test_an_uncovered_plant_is_declined() -> None:
    reply = ask(P, "tomato", today="2027-03-01")
    assert reply.verdict is None
    assert "no pruning advice for" in reply.headline
    mixed = ask(P, "apple", "tomato", today="2027-03-01", where=BOISE)
    assert mixed.verdict == "yes"
    assert any("no pruning advice for tomato" in d for d in mixed.details)


def test_a_plant_without_a_rule_is_declined_by_name() -> None:
    reply = ask(P, today="2027-05-10", cues={"other_plant": "oak"})
    assert reply.verdict is None
    assert "no pruning advice for the oak" in reply.headline
    assert any("oak wilt" in d for d in reply.details)
    assert "mn-oakwilt" in reply.sources


def test_one_plant_is_not_cut_by_another_plants_rule() -> None:
    reply = ask(P, "apple", today="2027-03-01", where=BOISE, cues={"alike": "yes"})
    assert reply.verdict == "no"
    assert "fruits on spurs" in reply.headline
    same = ask(P, "apple", "pear", today="2027-03-01", where=BOISE, cues={"alike": "yes"})
    assert same.verdict == "yes"


def test_a_severe_night_stops_pruning_and_a_light_frost_does_not() -> None:
    cold = ask(P, "apple", today="2027-03-01", where=BOISE, temp_f=5, when="tonight")
    assert cold.verdict == "no"
    assert "5 F" in cold.headline
    light = ask(P, "apple", today="2027-03-01", where=BOISE, temp_f=28, when="tonight")
    assert light.verdict == "yes"
    assert any("light frost" in d for d in light.details)


def test_stone_fruit_waits_out_the_rain_and_heat() -> None:
    wet = ask(P, "apricot", today="2027-08-01", where=BOISE, cues={"weather": "rain"})
    assert wet.verdict == "no"
    assert "Not in the wet" in wet.headline
    hot = ask(P, "apricot", today="2027-08-01", where=BOISE, temp_f=104, when="today")
    assert hot.verdict == "no"
    assert ask(P, "apple", today="2027-03-01", where=BOISE, cues={"weather": "rain"}).verdict == "yes"


def test_a_cold_night_on_pink_peach_names_the_kill_temperatures() -> None:
    reply = ask(P, "peach", today="2027-04-01", where=BOISE, temp_f=21, cues={"bud_stage": "pink"})
    assert reply.verdict == "tight"
    assert "21 F may kill about 40%" in reply.headline
    assert number(reply, "kill_10_f") == 25
    assert number(reply, "kill_90_f") == 15
    assert number(reply, "kill_10_c") == pytest.approx(-3.9, abs=0.05)
    assert any("may kill about 40% of them" in d for d in reply.details)


@pytest.mark.parametrize(
    ("plant", "verdict"),
    [
        ("elderberry/american", "yes"),
        ("apple", "no"),
        ("aronia", "tight"),
        ("raspberry/fall", "yes"),
        ("rosemary", "no"),
        ("hazelnut", "tight"),
        ("raspberry/summer", "no"),
    ],
)
def test_cut_to_the_ground(plant: str, verdict: str) -> None:
    assert ask(P, plant, today="2027-03-05", where=BOISE, cues={"cut_low": "yes"}).verdict == verdict


def test_december_with_no_plant_nothing_is_missed() -> None:
    reply = ask(P, today="2027-04-18", where=BOISE, cues={"asked_month": "12"})
    assert reply.headline.startswith("Nothing is missed")
    assert any("December" in a for a in reply.assumptions)
    assert reply.table is None
    assert any(line.startswith("Later: ") for line in reply.details)


def test_what_can_be_cut_now_is_told_in_few_words_and_all_dates_when_they_are_asked() -> None:
    short = ask(P, today="2027-03-20", where=BOISE)
    assert short.headline.startswith("Now is the time for")
    assert short.table is None
    said_length = len(short.headline) + sum(len(line) for line in (*short.details, *short.changes))
    assert said_length < 800
    every = ask(P, today="2027-03-20", where=BOISE, cues={"asks_when": "yes"})
    assert every.table is not None
    assert len(every.table.rows) >= 12
    assert {row[1] for row in every.table.rows} >= {"yes", "not now"}


def test_a_group_whose_plant_is_not_on_file_is_left_out(tmp_path: Path) -> None:
    root = tmp_path / "knowledge"
    copytree(FACTS.root, root)
    (root / "woody" / "apple.toml").unlink()
    facts = Facts(root)
    base = world("2027-03-20", BOISE)
    general = rule_for(P).answer(question(P), replace(base, facts=facts))
    assert "apple" not in general.headline
    assert "peach" in general.headline or "plum" in general.headline


@pytest.mark.parametrize(
    ("plant", "opening"),
    [
        ("elderberry", "No lasting harm, it will live"),
        ("lilac", "It will live, at a price"),
        ("lavender", "It may take years to recover"),
    ],
)
def test_a_hard_cut_already_made_is_judged_by_what_the_plant_stands(plant: str, opening: str) -> None:
    asked = heard(
        replace(
            question(P, plant, cues={"past_cut": "yes"}),
            text=f"we cut the {plant} down hard, did it harm it?",
        )
    )
    reply = rule_for(P).answer(asked, world("2027-04-18", BOISE))
    assert reply.headline.startswith(opening)
    assert reply.verdict is None


def test_one_plants_answer_is_short_and_its_ways_are_told_when_how_is_asked() -> None:
    short = ask(P, "apple", today="2027-03-01", where=BOISE)
    assert short.table is None
    assert len(" ".join(short.cautions)) < 500
    full = ask(P, "apple", today="2027-03-01", where=BOISE, cues={"asks": "how"})
    assert full.table is not None
    assert ask(P, "apple", today="2027-10-01", where=BOISE).steps == ()


def test_what_to_prune_goes_through_the_gardens_plants() -> None:
    plants = (Plant("apple", None, 2015), Plant("raspberry", "fall", 2024), Plant("lilac", None, 2000))
    reply = ask(P, today="2027-03-01", where=BOISE, plants=plants)
    assert reply.table is not None
    assert [row[0] for row in reply.table.rows] == ["apple", "fall raspberry", "lilac"]
    assert "Now is the time for apple and fall raspberry" in reply.headline


def test_clematis_is_told_by_its_group() -> None:
    unsaid = ask(P, "clematis", today="2027-03-01", where=LONDON)
    assert unsaid.verdict is None
    assert len(unsaid.asks) == 3
    assert ask(P, "clematis", today="2027-03-01", where=LONDON, kind="Jackmanii").verdict == "yes"
    assert ask(P, "clematis", today="2027-02-01", where=LONDON, kind="montana").verdict == "no"
    assert ask(P, "clematis", today="2027-03-01", cues={"clematis_group": "3"}).verdict == "yes"


def test_november_asked_in_april_is_answered_for_november() -> None:
    reply = ask(P, "kiwi", today="2027-04-18", where=BOISE, cues={"asked_month": "11"})
    assert reply.verdict == "no"
    assert reply.headline.startswith("Not in November: prune kiwis early in the dormant season")


def test_tree_cautions() -> None:
    text = " ".join(ask(P, "apple", today="2027-03-01", where=BOISE, cues={"asks": "how"}).cautions)
    for word in ("blades", "ladder", "overhead wires", "certified arborist", "alcohol"):
        assert word in text
    assert "sap" in " ".join(ask(P, "fig", today="2027-03-01", where=BOISE).cautions).lower()


def test_an_old_tree_gets_the_slow_restoration() -> None:
    reply = ask(P, "apple", today="2027-03-01", where=BOISE, plant_age_years=30)
    assert any("3 winters" in s for s in reply.steps)


def test_southern_texts_turn_their_months() -> None:
    reply = ask(P, "plum", today="2027-01-15", where=HOBART, units="metric")
    assert reply.verdict == "yes"
    assert "December to February" in said(reply)


def test_mild_winters_are_told_to_go_by_the_buds() -> None:
    reply = ask(P, "blueberry", today="2027-02-15", where="Miami")
    assert any("go by the buds" in a for a in reply.assumptions)
    assert any("outhern highbush" in a for a in reply.assumptions)


def test_too_little_chill_is_shown() -> None:
    reply = ask(P, "apple", today="2027-02-15", where="Miami")
    assert number(reply, "chill_hours_place") < number(reply, "chill_hours_need_low")


@settings(max_examples=150, deadline=None)
@given(
    base=st.sampled_from(BASES),
    where=st.sampled_from([None, BOISE, DULUTH, LONDON, HOBART, "Miami", "Minnesota"]),
    day=st.dates(date(2026, 1, 1), date(2028, 12, 31)),
    stage=st.sampled_from([None, *SEEN_STAGES]),
    asks=st.sampled_from([None, "how", "hard", "suckers", "when", "like", "aftermath"]),
    age=st.sampled_from([None, 1.0, 4.0, 30.0]),
    metric=st.booleans(),
)
def test_every_question_has_an_answer(
    base: str,
    where: str | None,
    day: date,
    stage: str | None,
    asks: str | None,
    age: float | None,
    metric: bool,
) -> None:
    cues = {k: v for k, v in (("bud_stage", stage), ("asks", asks)) if v}
    reply = ask(
        P,
        base,
        today=day.isoformat(),
        where=where,
        cues=cues,
        units="metric" if metric else "us",
        plant_age_years=age,
    )
    assert reply.headline.endswith((".", "?"))
    assert reply.headline[0].isupper()
    assert reply.verdict in ("yes", "tight", "no", None)
    assert reply.cautions
    assert reply.sources
    assert all(FACTS.source(s).title for s in reply.sources)
    assert len(reply.steps) <= 6
    if metric:
        assert " inch" not in said(reply)
    dates = [n.value for n in reply.numbers if n.name in ("prune_from", "prune_to")]
    for start, end in zip(dates[::2], dates[1::2], strict=True):
        assert start <= end


@pytest.mark.parametrize(
    ("text", "place", "day", "verdicts"),
    [
        ("can I prune roses now?", "Hobart", date(2027, 7, 12), ("yes",)),
        ("can I prune roses now?", "Canberra", date(2027, 8, 5), ("yes",)),
        ("prune the roses?", "Leeds", date(2027, 2, 25), ("yes",)),
        ("prune my roses now?", "Duluth", date(2027, 2, 25), ("no",)),  # deep cold to come
        ("prune my grape vine now?", "Leeds", date(2027, 12, 8), ("yes",)),
        ("prune my grape vine now?", "Hobart", date(2027, 8, 10), ("yes",)),
        ("prune the apple tree now?", "Canberra", date(2027, 7, 5), ("yes",)),
        ("prune the pear tree now?", "Leeds", date(2027, 1, 10), ("yes",)),
        ("prune gooseberries and redcurrants now?", "Leeds", date(2027, 1, 15), ("yes",)),
        ("prune blackcurrants now?", "Leeds", date(2027, 7, 25), ("yes",)),
        ("prune the apple tree now?", "Duluth", date(2027, 1, 5), ("no", "tight")),
    ],
)
def test_mild_winters_are_cut_earlier(text: str, place: str, day: date, verdicts: tuple[str, ...]) -> None:
    """British and Australian practice (common practice): where no deep cold comes, winter cuts start at leaf
    fall, roses in late winter."""
    talk = Conversation(FACTS, lambda: day, PlaceOptions(place=place), "metric")
    assert talk.ask(text).verdict in verdicts


@pytest.mark.parametrize("plant", ["apple", "grape", "pear", "gooseberry", "quince"])
def test_a_window_near_its_edge_is_tight_not_a_flat_no(plant: str) -> None:
    """The dates are no better known than the spread: a day within it before the window is no plain no."""
    kind = woody_kinds(FACTS, plant)[0]
    talk = Conversation(FACTS, lambda: date(2027, 1, 10), PlaceOptions(place="Duluth"), "us")
    spring = spring_at(talk.world())
    opens = next(c.start for c in cuts(kind, spring) if c.start > date(2027, 1, 10) and not c.lesser)
    near, far = opens - timedelta(days=spring.spread_days - 1), opens - timedelta(days=spring.spread_days + 5)
    assert decide(kind, spring, FACTS, Asked(near)).verdict == "tight"
    assert decide(kind, spring, FACTS, Asked(far)).verdict != "yes"


@pytest.mark.parametrize("plant", ["oak", "magnolia", "birch", "maple"])
def test_a_plant_without_a_rule_is_declined_by_name_with_its_warning(plant: str) -> None:
    for place in ("Duluth", "Leeds"):
        talk = Conversation(FACTS, lambda: date(2027, 6, 1), PlaceOptions(place=place), "us")
        reply = talk.ask(f"can I prune my {plant}")
        assert plant in reply.headline
        assert reply.verdict is None
        assert plant != "oak" or any("oak wilt" in d for d in reply.details)


def test_the_month_told_beside_a_general_answer_is_the_gardens_own() -> None:
    south = ask(P, today="2027-06-18", where=HOBART, units="metric")
    assert any("April to June" in line for line in south.details)
    north = ask(P, today="2027-12-18", where=BOISE)
    assert any("October to December" in line for line in north.details)


@pytest.mark.parametrize(
    ("text", "place", "day", "verdict", "opening"),
    [
        # Elder: renewal on new wood, so that a cut at green tip costs little (University of Missouri trial).
        ("can I still prune the elder? buds are just breaking", "Duluth", date(2027, 3, 10), "yes", "Yes"),
        ("elder has green leaves an inch long, too late?", "Duluth", date(2027, 7, 1), "yes", "Not too late"),
        ("elder has 3 inch shoots, can I cut it down", "Duluth", date(2027, 3, 10), "tight", "You can cut the elder"),
        # Silver leaf: plums, cherries and apricots are cut in summer where winters are wet (WSU FS366, UC IPM).
        ("can I prune the plum while it's bare", "Portland, OR", date(2027, 2, 20), "no", "Don't prune plums"),
        ("can I prune my cherry now", "Portland, OR", date(2027, 2, 20), "no", "Don't prune cherries"),
        ("can I prune the plum, buds are swelling", "Burlington, VT", date(2027, 4, 10), "yes", "Yes, prune the plum"),
        # Mowing primocane raspberries (common practice): before shoots pass about 4 inches.
        ("raspberry shoots are 3 inches, can I mow the fall raspberries", "Duluth", date(2027, 5, 1), "tight", "You"),
        ("is it too cold out to prune apples", "Duluth", date(2027, 4, 18), "yes", "Not too cold"),
        ("late snow broke a limb off the cherry, saw it off?", "Duluth", date(2027, 4, 18), "yes", "Yes, take"),
        ("when should I trim the privet hedge", "Duluth", date(2027, 4, 18), None, "Trim a hedge"),
    ],
)  # fmt: skip
def test_what_is_seen_sized_and_asked_is_answered(
    text: str, place: str, day: date, verdict: str | None, opening: str
) -> None:
    talk = Conversation(FACTS, lambda: day, PlaceOptions(place=place), "us")
    reply = talk.ask(text)
    assert reply.question.topic == "pruning"
    assert reply.headline.startswith(opening)
    assert verdict is None or reply.verdict == verdict


def test_the_long_caution_of_elder_has_a_short_form() -> None:
    reply = ask(P, "elderberry", today="2027-02-20", where=BOISE)
    entry = FACTS.table("cautions")["pruning"]["raw_elder"]
    assert reply.cautions[0] == entry["text"]
    assert len(entry["short"].split()) <= 5
