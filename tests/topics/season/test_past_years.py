"""Past years on record: the strip, and what they do to the chance of a start."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from gardenmate.climate.history import YEAR_CELLS, History, history_site
from gardenmate.climate.import_weather import import_weather
from gardenmate.climate.places import resolve_site
from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Look, plain
from gardenmate.records import replace
from gardenmate.topics.season.plan import make_plan
from gardenmate.topics.season.replay import FAILED, MISSING, WORKED, Replay, YearRun, strip
from gardenmate.topics.season.site_year import site_year
from gardenmate.topics.season.terms import terms_for
from tests.published import calibration as c

FACTS = Facts()
RECORD = Path(__file__).parents[2] / "published" / "data" / "champion.csv.gz"


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, History]:
    folder = tmp_path_factory.mktemp("garden")
    return folder, import_weather(RECORD, folder / "garden.weather").history


def asked(record: tuple[Path, History], text: str, today: date) -> Answer:
    garden = GardenFile(record[0] / "garden.toml")
    talk = Conversation(facts=FACTS, clock=lambda: today, garden_file=garden)
    if garden.garden.place is None:
        talk.tell("I garden in North Platte")
    return talk.ask(text)


def test_the_strip_has_a_sign_for_every_year() -> None:
    runs = tuple(YearRun(y, 50, 60, 5 if y % 3 else -5) for y in (1998, 1999, 2000, 2003))
    found = strip(Replay(runs))
    assert found is not None
    assert found.rows == (
        ("1998-1999", f"{FAILED if 1998 % 3 == 0 else WORKED} {WORKED}"),
        ("2000-2003", f"{WORKED} {MISSING} {MISSING} {WORKED}"),
    )
    assert strip(Replay(())) is None


def test_the_strip_fits_a_narrow_screen_and_counts_as_the_sentence_does(record: tuple[Path, History]) -> None:
    told = asked(record, "is it too late to sow beans?", date(2027, 7, 18))
    assert told.table is not None
    signs = " ".join(cells for _, cells in told.table.rows).split()
    worked, years = signs.count(WORKED), len(signs) - signs.count(MISSING)
    assert any(f"In {worked} of the {years} years on record" in line for line in told.details)
    shown = plain(told, Look(50, "us", date(2027, 7, 18))).splitlines()
    rows = [line for line in shown if line.strip().startswith(("1982-", "1990-", "2000-", "2010-"))]
    assert len(rows) == 4
    assert all(len(line) <= 50 for line in rows)


@pytest.mark.parametrize("name", ["champion", "brussels"])
def test_the_years_on_record_make_the_chance_truer(name: str, tmp_path: Path) -> None:
    """Starts learnt on every other year of a record (tests/published/data/README.md) and tried on the years between:
    the squared error of the stated chance is smaller with the record's years than with averages alone."""
    history = import_weather(c.DATA / f"{name}.csv.gz", tmp_path / name).history
    base = resolve_site(place=c.NEAR[name], facts=FACTS).site
    assert base is not None

    def error(*, years: bool) -> float:
        total = outcomes = 0.0
        for half in (0, 1):
            site, unseen = history_site(c.every_other(history, half), base), c.every_other(history, 1 - half)
            year = site_year(site if years else replace(site, history=None))
            for crop, method in c.CROPS:
                terms = terms_for(FACTS.crop(crop), FACTS)
                for n in range(12):
                    day = date(2027, 5, 20) + timedelta(days=12 * n)
                    plan = make_plan(terms, year, method, day, wait=False)
                    if plan.binding == "frost" and 0.02 < plan.chance < 0.995:
                        tried = c._tried(name, plan, year, unseen)
                        total += tried.outcomes * (tried.stated - tried.succeeded) ** 2
                        outcomes += tried.outcomes
        return total / outcomes

    assert error(years=True) < error(years=False)


def test_a_record_of_few_years_changes_no_chance(record: tuple[Path, History]) -> None:
    whole = record[1]
    few = replace(
        whole,
        first_year=whole.last_year - 5,
        min_tenths=whole.min_tenths[-6 * YEAR_CELLS :],
        max_tenths=whole.max_tenths[-6 * YEAR_CELLS :],
    )
    base = resolve_site(place="North Platte", facts=FACTS).site
    assert base is not None
    terms = terms_for(FACTS.crop("bush-bean"), FACTS)
    chances = [
        make_plan(terms, site_year(site), "outdoors", date(2027, 7, 18)).chance
        for site in (replace(base, history=few), base)
    ]
    assert chances[0] == chances[1]
