"""Usual frost dates and the odds on a date, in an invented place whose distribution is known."""

from array import array
from datetime import date, timedelta

import pytest

from gardenmate.climate.freezes import Freeze
from gardenmate.climate.history import History, leap_index
from gardenmate.core.errors import NeedPlaceError
from gardenmate.garden.profile import Garden
from gardenmate.records import replace
from tests.topics.raising_bench import ask, bare_world, continental_site, number

F = "frost"
SITE = continental_site()  # last 32 F night 15 January + 120 days, spread 11 days


def test_usual_dates() -> None:
    reply = ask(F, cues={"frosting": "dates"}, world=bare_world(site=SITE))
    assert number(reply, "last_frost_50") == date(2027, 5, 15)
    assert number(reply, "last_frost_10") == date(2027, 5, 29)
    assert number(reply, "first_frost_50") == date(2027, 9, 27)
    assert "15 May" in reply.headline
    assert [m.on for m in reply.marks] == [date(2027, 5, 15), date(2027, 5, 29)]


def test_next_years_spring_once_this_one_is_past() -> None:
    reply = ask(F, cues={"frosting": "dates"}, world=bare_world(site=SITE, today=date(2027, 10, 20)))
    assert number(reply, "last_frost_50") == date(2028, 5, 14)


@pytest.mark.parametrize(
    ("day", "verdict", "percent"),
    [(date(2027, 6, 12), "yes", 1), (date(2027, 5, 22), "tight", 28), (date(2027, 5, 1), "no", 91),
     (date(2027, 9, 10), "yes", 7), (date(2027, 10, 10), "no", 89)],
)  # fmt: skip
def test_odds_on_a_date(day: date, verdict: str, percent: int) -> None:
    reply = ask(F, cues={"frosting": "odds"}, world=bare_world(site=SITE), date=day)
    assert reply.verdict == verdict
    assert number(reply, "frost_odds") == pytest.approx(percent, abs=2)
    assert reply.chance == pytest.approx(percent / 100, abs=0.02)


def test_odds_for_a_crop_use_what_hurts_it() -> None:
    world = bare_world(site=SITE)
    hardy = ask(F, "lettuce/leaf", world=world, date=date(2027, 5, 15))
    tender = ask(F, "tomato", world=world, date=date(2027, 5, 15))
    assert hardy.chance is not None
    assert tender.chance is not None
    assert hardy.chance < tender.chance
    assert "tomatoes" in tender.headline


def test_own_threshold() -> None:
    reply = ask(F, f=28, cues={"frosting": "dates"}, world=bare_world(site=SITE))
    assert number(reply, "last_frost_50") == date(2027, 5, 3)
    assert "28 F" in reply.headline


def test_dates_without_a_place_ask_for_it() -> None:
    with pytest.raises(NeedPlaceError):
        ask(F, cues={"frosting": "dates"})


def test_frost_free_and_any_month_places() -> None:
    none = {f: Freeze(None, None, 0.0) for f in (36, 32, 28)}
    free = replace(SITE, regime="frost-free", freezes=none)
    assert "hardly ever" in ask(F, cues={"frosting": "dates"}, world=bare_world(site=free)).headline
    always = replace(SITE, regime="any-month", freezes=none)
    assert "any month" in ask(F, cues={"frosting": "dates"}, world=bare_world(site=always)).headline


def test_a_region_gets_a_row_per_place() -> None:
    later = replace(SITE, name="Upper Bracken")
    world = replace(bare_world(), sites=(SITE, later), region="Bracken Vale")
    reply = ask(F, cues={"frosting": "dates"}, world=world)
    assert reply.table is not None
    assert len(reply.table.rows) == 2
    assert reply.table.heads[1:] == ("last frost", "nine in ten by", "first frost")
    assert "Bracken Vale" in reply.headline
    assert "15 May" in reply.headline  # both ends of the season
    assert "27 Sep" in reply.headline


def test_southern_hemisphere_last_frost_falls_in_spring() -> None:
    south = replace(SITE, lat=-43.0)
    reply = ask(F, cues={"frosting": "dates"}, world=bare_world(site=south, today=date(2027, 8, 1)))
    assert number(reply, "last_frost_50") == date(2027, 11, 12)


def test_tonight_without_a_low_gives_the_odds_of_the_date() -> None:
    """The chance is that of one night, not that of a frost by or after the date; without a low no verdict."""
    reply = ask(F, world=bare_world(site=SITE), when="tonight")
    assert reply.verdict is None
    assert reply.chance is not None
    assert 0.05 < reply.chance < 0.95  # 18 April
    summer = ask(F, world=bare_world(site=SITE, today=date(2027, 7, 15)), when="tonight")
    assert summer.headline.startswith("Don't expect frost tonight")
    assert any("tonight's low" in c for c in reply.changes)


def test_the_growers_own_risk_counts() -> None:
    bold = bare_world(site=SITE, garden=Garden(frost_risk=0.4))
    day = date(2027, 5, 22)  # 28% odds
    assert ask(F, cues={"frosting": "odds"}, world=bold, date=day).verdict == "yes"
    assert ask(F, cues={"frosting": "odds"}, world=bare_world(site=SITE), date=day).verdict == "tight"


def record(moves_days: float = 0.0) -> History:
    """Forty invented years: last 0 C night on 10 + (year % 10) May, moved by so many days a year."""
    cells = array("h")
    for year in range(1987, 2027):
        row = [100] * 366
        last = date(year, 5, 10) + timedelta(days=year % 10 + round(moves_days * (year - 1987)))
        for day in range(366):
            if day <= leap_index(last) or day >= 270:
                row[day] = -20
        cells.extend(row)
    return History("X", 1987, cells, array("h", cells), "Bracken station")


def test_an_imported_record_is_counted() -> None:
    world = bare_world(site=replace(SITE, history=record()))
    reply = ask(F, cues={"frosting": "odds"}, world=world, date=date(2027, 5, 15))
    # 20 years, and two leap years whose 14 May is as many days from 15 January as 15 May in others
    assert reply.details == ("On record at Bracken station: 32 F on or after 15 May in 22 of 40 years.",)
    usual = ask(F, cues={"frosting": "dates"}, world=world)
    assert any("Latest on record at Bracken station: 19 May" in d for d in usual.details)
    assert not any("each decade" in d for d in usual.details)


def test_a_moving_record_tells_its_trend() -> None:
    world = bare_world(site=replace(SITE, history=record(-0.5)))
    usual = ask(F, cues={"frosting": "dates"}, world=world)
    assert any("days earlier each decade" in d for d in usual.details)
