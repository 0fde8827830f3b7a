"""The agenda: windows, logged batches, pruning, frost; order, little time, rain, absence, misses."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.core.answer import Answer
from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import Slots
from gardenmate.garden.profile import Garden, Plant
from gardenmate.plantings.current import batches_of
from gardenmate.topics.agenda.answer import answer, held_until, span_of
from gardenmate.topics.agenda.item import Item, status_on, week_of, weight_of
from gardenmate.topics.agenda.items import items
from gardenmate.topics.season.season_dates import garden_season, windows_of
from tests.topics.money_world import FACTS, TODAY, Book, ask, world_at
from tests.topics.said import spoken

T = "agenda"
ORDER = FACTS.table("work")["order"]
WANTED = Garden(wanted=("leek", "pea", "tomato"), gear={"mat": 1.0})


def jobs(a: Answer) -> list[str]:
    return [] if a.table is None else [row[0].partition(". ")[2] for row in a.table.rows]


def minutes_of(a: Answer) -> int:
    return 0 if a.table is None else sum(int(row[4].split()[0]) for row in a.table.rows)


def all_items(
    place: str | None, today: date = TODAY, garden: Garden = WANTED, book: Book | None = None
) -> tuple[Item, ...]:
    world = world_at(place, today, garden, journal=book)
    return items(world, week_of(today))


# -- windows ----------------------------------------------------------------------------------------
def test_only_wanted_crops_are_listed() -> None:
    assert {i.crop for i in all_items("Boise")} <= {"leek", "pea", "tomato"}


def test_without_wanted_crops_the_household_list_is_said() -> None:
    a = answer(ask(T), world_at("Boise"))
    assert len(jobs(a)) > 5
    assert any("usual crops of a household" in x for x in a.assumptions)


def test_wanted_crops_by_any_name() -> None:
    garden = Garden(wanted=("Courgettes", "lettuce-leaf", "onion"))
    found = {i.crop for i in all_items("Boise", garden=garden)}
    assert found <= {"summer-squash", "lettuce", "onion"}
    assert found


def test_an_item_lies_in_its_window() -> None:
    world = world_at("Boise", garden=WANTED)
    for item in items(world, week_of(TODAY)):
        assert item.opens <= item.best_by
        assert item.closes is None or item.best_by <= item.closes
        if item.status not in ("coming", "missed"):
            assert item.opens <= TODAY
            assert item.closes is None or item.closes >= TODAY


def test_a_logged_sowing_leaves_the_list() -> None:
    before = {i.crop for i in all_items("Boise") if i.job.startswith("sow")}
    book = Book((TODAY, "sow", "sowed peas outside", ["pea"]))
    after = {i.crop for i in all_items("Boise", book=book) if i.job.startswith("sow")}
    assert "pea" in before
    assert "pea" not in after


def test_skipping_leaves_the_list() -> None:
    book = Book((TODAY, "skip", "no peas this year", ["pea"]))
    assert "pea" not in {i.crop for i in all_items("Boise", book=book)}


def test_a_missed_sowing_turns_into_its_consequence_and_is_then_dropped() -> None:
    season = garden_season(FACTS.crop("celeriac"), world_at("Boise").site, world_at("Boise"))  # type: ignore[arg-type]
    closed = season.quick().latest("indoors", TODAY)
    assert closed is not None
    garden = Garden(wanted=("celeriac",))
    just = all_items("Boise", closed + timedelta(days=2), garden)
    missed = [i for i in just if i.status == "missed"]
    assert len(missed) == 1
    assert missed[0].do.startswith("Too late to sow")
    assert "bought plants can go out until" in missed[0].way_out
    assert any(i.job == "set-out-bought" for i in just)
    later = all_items("Boise", closed + timedelta(days=ORDER["missed_days"] + 1), garden)
    assert not [i for i in later if i.status == "missed"]


def test_crops_nobody_asked_for_are_never_told_as_missed() -> None:
    for today in (date(2027, 4, 27), date(2027, 9, 20), date(2027, 7, 10)):
        a = answer(ask(T), world_at("Boise", today))
        assert not any(d.startswith("Too late") for d in a.details)


def test_late_seed_gives_way_to_bought_plants() -> None:
    found = all_items("Boise", date(2027, 5, 25), Garden(wanted=("tomato",)))
    assert [i.job for i in found if i.status != "missed"] == ["set-out-bought"]


# -- batches ---------------------------------------------------------------------------------------
def _steps(sown: date, today: date, *more: tuple[object, ...], text: str = "sowed tomatoes") -> list[str]:
    book = Book((sown, "sow", text, ["tomato"], 12), *more)
    return [i.job for i in all_items("Boise", today, Garden(), book) if i.decision_id == 1]


def test_a_sowing_becomes_one_step_after_another() -> None:
    sown = date(2027, 3, 15)
    assert _steps(sown, sown + timedelta(days=1)) == []
    assert "emergence" in _steps(sown, sown + timedelta(days=9))
    assert "pot-up" in _steps(sown, sown + timedelta(days=40))
    later = _steps(sown, date(2027, 5, 12))
    assert "set-out" in later or "harden" in later


def test_a_mat_makes_it_mat_off() -> None:
    sown = date(2027, 3, 15)
    steps = _steps(sown, sown + timedelta(days=7), text="sowed tomatoes on the mat")
    assert steps == ["mat-off"]


def test_what_is_logged_is_done() -> None:
    sown = date(2027, 3, 15)
    up = (date(2027, 3, 22), "up", "tomatoes are up", ["tomato"])
    potted = (date(2027, 4, 20), "pot-up", "potted up", ["tomato"])
    out = (date(2027, 5, 20), "set-out", "planted out", ["tomato"])
    assert "emergence" not in _steps(sown, date(2027, 3, 23), up)
    assert "pot-up" not in _steps(sown, date(2027, 4, 21), potted)
    assert "harden" not in _steps(sown, date(2027, 5, 21), out)
    picking = next(
        d for n in range(120) if "first-pick" in _steps(sown, d := date(2027, 5, 21) + timedelta(days=n), out)
    )
    assert date(2027, 6, 15) < picking < date(2027, 9, 15)


def test_a_lost_batch_is_over() -> None:
    book = Book(
        (date(2027, 3, 15), "sow", "sowed tomatoes", ["tomato"]),
        (date(2027, 4, 1), "lost", "mice had them", ["tomato"]),
    )
    assert not [b for b in batches_of(book) if b.alive]


def test_a_bed_sowing_is_thinned_and_never_potted() -> None:
    sown = date(2027, 4, 1)
    book = Book((sown, "sow", "sowed carrots in the bed", ["carrot"]))
    found = {
        i.job
        for n in range(0, 60, 3)
        for i in all_items("Boise", sown + timedelta(days=n), Garden(wanted=("carrot",)), book)
    }
    assert "thin" in found
    assert "emergence" in found
    assert not found & {"pot-up", "harden", "set-out", "mat-off"}


def test_a_measured_soil_temperature_moves_emergence() -> None:
    from gardenmate.records import replace

    warm, cold = (Book((date(2027, 3, 15), "sow", "sowed peppers", ["pepper"])) for _ in range(2))
    warm.kept[0] = replace(warm.kept[0], temp_c=27.0)
    cold.kept[0] = replace(cold.kept[0], temp_c=17.0)

    def first(book: Book) -> date:
        for n in range(60):
            day = date(2027, 3, 15) + timedelta(days=n)
            found = all_items("Boise", day, Garden(), book)
            if any(i.job in ("emergence", "mat-off") and i.status != "coming" for i in found):
                return day
        raise AssertionError("never due")

    assert first(warm) < first(cold)


def test_two_sowings_are_two_batches() -> None:
    book = Book(
        (date(2027, 3, 15), "sow", "sowed tomatoes", ["tomato"]),
        (date(2027, 3, 25), "sow", "sowed more tomatoes and peppers", ["tomato", "pepper"]),
    )
    assert len(batches_of(book)) == 3


def test_batches_work_without_a_place() -> None:
    book = Book((date(2027, 3, 15), "sow", "sowed tomatoes", ["tomato"]))
    a = answer(ask(T), world_at(None, date(2027, 4, 25), journal=book))
    assert jobs(a)
    assert any("Without your place" in x for x in a.assumptions)


# -- plants and frost --------------------------------------------------------------------------------
def test_pruning_comes_in_its_season_and_only_then() -> None:
    garden = Garden(plants=(Plant("raspberry", None, 2023),), wanted=("pea",))
    assert any(i.job == "prune" for i in all_items("Boise", date(2027, 3, 1), garden))
    assert not any(i.job == "prune" for i in all_items("Boise", date(2027, 5, 20), garden))


def test_a_young_plant_is_left_alone_and_a_pruned_one_done() -> None:
    young = Garden(plants=(Plant("raspberry", None, 2027),), wanted=("pea",))
    assert not any(i.job == "prune" for i in all_items("Boise", date(2027, 3, 1), young))
    grown = Garden(plants=(Plant("raspberry", None, 2023),), wanted=("pea",))
    book = Book((date(2027, 2, 25), "prune", "pruned the raspberries", ["raspberry"]))
    assert not any(i.job == "prune" for i in all_items("Boise", date(2027, 3, 1), grown, book))


def test_frost_tonight_comes_first_and_names_what_stands_outside() -> None:
    book = Book((date(2027, 5, 15), "set-out", "planted out tomatoes and kale", ["tomato", "kale"]))
    world = world_at("Boise", date(2027, 5, 20), WANTED, journal=book)
    a = answer(ask(T, temp_f=30), world)
    assert a.headline.startswith("Tonight, first")
    assert "tomatoes" in jobs(a)[0]
    assert "kale" not in jobs(a)[0]


def test_a_mild_night_is_no_frost() -> None:
    assert not any(i.status == "frost" for i in items(world_at("Boise", garden=WANTED), TODAY, 8.0))


def test_the_low_of_the_answer_before_counts() -> None:
    before = Answer(spoken("28 tonight", "frost", slots=Slots(temp_f=28)), "no", "Cover.")
    a = answer(ask(T), world_at("Boise", date(2027, 5, 20), WANTED, previous=before))
    assert a.headline.startswith("Tonight, first")


# -- the days asked about ------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("cues", "slots", "until", "said"),
    [
        ({}, {}, date(2027, 4, 24), "this week"),
        ({}, {"when": "today"}, TODAY, "today"),
        ({"horizon": "month"}, {}, date(2027, 4, 30), "this month"),
        ({"horizon": "next-month"}, {}, date(2027, 5, 31), "next month"),
        ({"horizon": "next-week"}, {}, date(2027, 5, 1), "next week"),
        ({"asked_month": "4"}, {"when": "this week"}, date(2027, 4, 24), "this week"),
        ({"asked_month": "4"}, {}, date(2027, 4, 30), "this month"),
        ({"asked_month": "9"}, {}, date(2027, 9, 30), "in September"),
        ({}, {"date": date(2027, 4, 21)}, date(2027, 4, 21), "by 21 Apr"),
        ({"days": "2027-04-24/2027-04-25"}, {}, date(2027, 4, 25), "this weekend"),
        ({"days": "2027-04-10/2027-04-20"}, {}, date(2027, 4, 24), "this week"),
    ],
)
def test_days_asked_about(cues: dict[str, str], slots: dict[str, object], until: date, said: str) -> None:
    span = span_of(ask(T, cues=cues, **slots), world_at("Boise"))
    assert (span.until, span.said) == (until, said)


def test_a_region_is_answered_for_its_middle_and_says_so() -> None:
    a = answer(ask(T), world_at("Minnesota"))
    assert jobs(a)
    assert any("about the middle of Minnesota" in x for x in a.assumptions)


def test_a_short_question_about_one_crop_keeps_to_it() -> None:
    a = answer(ask(T, ["tomato"]), world_at("Boise"))
    assert all("tomato" in job for job in jobs(a))


def test_no_place_and_nothing_known_asks_for_the_place() -> None:
    with pytest.raises(NeedPlaceError, match="where you garden"):
        answer(ask(T), world_at())


def test_nothing_due_names_what_comes_next() -> None:
    a = answer(ask(T), world_at("Duluth, MN", date(2027, 12, 20)))
    assert a.headline.startswith("Nothing is due this week")
    assert "Next," in a.headline


# -- little time, rain, absence ------------------------------------------------------------------------
def test_an_hour_is_filled_with_the_weightiest_and_not_overfilled() -> None:
    everything = answer(ask(T), world_at("Boise"))
    a = answer(ask(T, cues={"limit_minutes": "60"}), world_at("Boise"))
    assert 0 < minutes_of(a) <= 60
    assert jobs(a)[0] == jobs(everything)[0]
    assert any("there isn't time for it" in d for d in a.details)


def test_rain_puts_sowing_outdoors_off_and_says_what_it_costs() -> None:
    a = answer(ask(T, cues={"weather": "rain"}), world_at("Boise"))
    assert jobs(a)
    assert not any(job.startswith("Sow") and job.endswith("outdoors") for job in jobs(a))
    assert any("rain puts it off" in d for d in a.details)


def test_before_the_rain_the_other_way_round() -> None:
    a = answer(ask(T, cues={"jobs": "before-rain", "weather": "rain"}), world_at("Boise"))
    assert jobs(a)[0].endswith("outdoors")


def test_waiting_until_saturday_costs_nothing_or_names_the_loss() -> None:
    windows = windows_of(FACTS.crop("leek"), world_at("Boise").site, world_at("Boise"), TODAY)  # type: ignore[arg-type]
    closes = next(w for w in windows if w.activity == "set-out" and w.latest >= TODAY).latest
    world = world_at("Boise", closes - timedelta(days=3), Garden(wanted=("leek",)))
    short = ask(T, cues={"hold": "until"}, date=closes - timedelta(days=1))
    long = ask(T, cues={"hold": "until"}, date=closes + timedelta(days=2))
    assert answer(short, world).headline.startswith("Nothing is lost by waiting")
    lost = answer(long, world)
    assert lost.headline.startswith("Before ")
    assert "waiting loses it" in lost.headline


def test_not_before_as_a_plain_date() -> None:
    assert held_until(ask(T, cues={"not_before": "2027-04-24"}), world_at()) == date(2027, 4, 24)
    assert held_until(ask(T, cues={"hold": "until"}, date=date(2027, 4, 1)), world_at()) is None
    assert held_until(ask(T, date=date(2027, 4, 24)), world_at()) is None


def test_a_week_off_is_judged() -> None:
    quiet = answer(ask(T, cues={"jobs": "rest"}), world_at("Duluth, MN", date(2027, 12, 20)))
    assert quiet.verdict == "yes"
    book = Book((date(2027, 3, 1), "sow", "sowed peppers on the mat", ["pepper"], 48))
    busy = answer(ask(T, cues={"jobs": "rest"}), world_at("Boise", garden=WANTED, journal=book))
    assert busy.verdict == "no"
    assert "peppers" in busy.headline


def test_missed_asks_for_the_late_and_the_lost() -> None:
    book = Book((date(2027, 3, 1), "sow", "sowed peppers", ["pepper"], 48))
    a = answer(
        ask(T, cues={"jobs": "missed"}), world_at("Boise", garden=Garden(wanted=("onion",)), journal=book)
    )
    assert "pot up the peppers" in a.headline
    none = answer(ask(T, cues={"jobs": "missed"}), world_at("Duluth, MN", date(2027, 12, 20)))
    assert none.headline.startswith("Nothing is overdue")


@pytest.mark.parametrize("only", ["indoors", "light", "quick", "frame"])
def test_only_some_jobs(only: str) -> None:
    book = Book((date(2027, 3, 1), "sow", "sowed peppers on the mat", ["pepper"], 48))
    world = world_at("Boise", garden=Garden(wanted=("pea", "tomato")), journal=book)
    a = answer(ask(T, cues={"jobs": only}), world)
    assert len(jobs(a)) < len(jobs(answer(ask(T), world)))
    if only == "indoors":
        assert not any("outdoors" in j for j in jobs(a))


def test_what_else_leaves_out_what_was_shown() -> None:
    world = world_at("Boise")
    first = answer(ask(T), world)
    from gardenmate.records import replace

    more = answer(ask(T, cues={"jobs": "more"}), replace(world, previous=first))
    assert jobs(more)
    assert not set(jobs(more)) & set(jobs(first))


# -- order ---------------------------------------------------------------------------------------------
def test_fewer_days_and_dearer_misses_weigh_more() -> None:
    soon = weight_of(0.6, "due", TODAY, TODAY + timedelta(days=2), None, ORDER)
    late = weight_of(0.6, "due", TODAY, TODAY + timedelta(days=9), None, ORDER)
    dear = weight_of(0.9, "due", TODAY, TODAY + timedelta(days=9), None, ORDER)
    waiting = weight_of(0.6, "overdue", TODAY, TODAY - timedelta(days=2), TODAY + timedelta(days=30), ORDER)
    assert soon > late
    assert dear > late
    assert waiting > soon


@given(st.integers(-60, 60), st.integers(0, 60), st.integers(0, 60), st.booleans())
def test_status_follows_the_days(opens: int, good: int, more: int, urgent: bool) -> None:
    a = TODAY + timedelta(days=opens)
    b, c = a + timedelta(days=good), a + timedelta(days=good + more)
    status = status_on(TODAY, a, b, c, week_of(TODAY), ORDER, urgent=urgent)
    if c < TODAY:
        assert status in ("missed", None)
    elif a > TODAY:
        assert status == ("coming" if a <= week_of(TODAY) else None)
    else:
        assert status in ("overdue", "closing", "late", "due", "open")
        assert (status == "overdue") == (urgent and b < TODAY)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 364), st.sampled_from(["Boise", "Leeds", "Hobart", "Duluth, MN"]))
def test_every_day_of_the_year_has_an_agenda(day: int, place: str) -> None:
    today = date(2027, 1, 1) + timedelta(days=day)
    a = answer(ask(T), world_at(place, today))
    assert a.headline.endswith(".")
    found = items(world_at(place, today), week_of(today))
    assert len({(i.job, i.crop, i.status == "missed") for i in found}) == len(found)
    for source in a.sources:
        assert FACTS.source(source).title


def test_long_past_its_best_nothing_presses_until_it_closes() -> None:
    far, near = TODAY + timedelta(days=100), TODAY + timedelta(days=5)
    long_ago = TODAY - timedelta(days=ORDER["long_past_days"] + 1)
    assert status_on(TODAY, long_ago, long_ago, far, week_of(TODAY), ORDER) == "open"
    assert status_on(TODAY, long_ago, long_ago, near, week_of(TODAY), ORDER) == "closing"
    yesterday = TODAY - timedelta(days=1)
    assert status_on(TODAY, yesterday, yesterday, far, week_of(TODAY), ORDER) == "late"


def test_every_job_of_the_file_is_complete() -> None:
    for name, job in FACTS.table("work")["job"].items():
        assert 0 < job["miss"] <= 1, name
        assert job["place"] in ("indoors", "outdoors", "bench"), name
        assert "{crop" in job["do"], name
        assert job["minutes"] > 0, name
        assert not job["cost"].endswith("."), name


@pytest.mark.parametrize("today", [date(2027, 3, 15), date(2027, 6, 20), date(2027, 9, 25)])
def test_a_best_day_gone_by_is_never_shown(today: date) -> None:
    from tests.topics.raising_bench import bare_world, continental_site

    told = answer(ask("agenda", []), bare_world(site=continental_site(), today=today))
    found = items(bare_world(site=continental_site(), today=today), week_of(today))
    gone = {i.do for i in found if i.best_by < today}
    assert told.table is not None
    for row in told.table.rows:
        job = row[0].partition(". ")[2]
        assert (row[2] == "past") == (job in gone)
        assert row[1] != "can wait" or job not in gone
    assert not any("best was" in line for line in told.steps)
