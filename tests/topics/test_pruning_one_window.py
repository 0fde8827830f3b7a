"""Headline, verdict and window of a pruning answer agree, for every plant, all year, everywhere."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from gardenmate.core.units import show_date
from gardenmate.knowledge.woody import woody
from tests.topics.woody_bench import FACTS, ask

OPENINGS = {
    "yes": ("Yes, prune", "Yes, you can still prune", "Not too late"),
    "tight": ("You can", "It depends on the buds", "Almost time", "Only "),
    "no": ("Not ", "Too late this year", "No hard cut", "Don't prune"),
}


@pytest.mark.parametrize("where", [None, "Burlington, VT", "Portland, OR", "Atlanta", "Hobart", "Leeds"])
def test_one_window_decides_headline_verdict_and_dates(where: str | None) -> None:
    faults = []
    for plant_id in FACTS.ids("woody"):
        plant = woody(FACTS, plant_id)
        for step in range(0, 365, 10):
            today = date(2027, 1, 1) + timedelta(days=step)
            name = f"{plant.base}/{plant.kind}" if plant.kind else plant.base
            answer = ask("pruning", name, today=today.isoformat(), where=where)
            if answer.verdict is None:  # clematis of no known group
                continue
            dates = {n.name: n.value for n in answer.numbers}
            start, end = dates["prune_from"], dates["prune_to"]
            assert isinstance(start, date)
            assert isinstance(end, date)
            inside = start <= today <= end
            wrong = (
                (answer.verdict == "yes" and not inside)
                or (answer.verdict == "no" and inside)
                or not answer.headline.startswith(OPENINGS[answer.verdict])
                or ("from about" in answer.headline and show_date(start, today) not in answer.headline)
                or ("until about" in answer.headline and show_date(end, today) not in answer.headline)
                or ("from about" in answer.headline and answer.verdict == "yes")
            )
            if wrong:
                faults.append((plant_id, today.isoformat(), answer.verdict, start, end, answer.headline))
            marks = {m.label: m.on for m in answer.marks}
            assert marks["prune from"] == start
            assert marks["until"] == end
    assert not faults, faults[:5]


@pytest.mark.parametrize("plant", ["lilac", "forsythia"])
def test_a_winter_cut_of_a_spring_bloomer_waits_for_the_flowers_to_fade(plant: str) -> None:
    now = ask("pruning", plant, today="2027-03-28", where="Burlington, VT")
    when = ask("pruning", plant, today="2027-03-28", where="Burlington, VT", cues={"asks_when": "yes"})
    for answer in (now, when):
        assert answer.verdict == "no"
        start = next(n.value for n in answer.numbers if n.name == "prune_from")
        assert isinstance(start, date)
        assert start > date(2027, 4, 20)
        assert show_date(start) in answer.headline
    low = ask("pruning", plant, today="2027-03-28", where="Burlington, VT", cues={"cut_low": "yes"})
    assert low.verdict == "tight"  # renewal gives up the bloom, and this is its time


@pytest.mark.parametrize(("where", "today"), [("Portland, OR", "2027-09-20"), ("Hobart", "2027-03-10")])
@pytest.mark.parametrize("plant", ["lilac", "forsythia"])
def test_once_next_springs_buds_are_set_it_is_too_late(plant: str, where: str, today: str) -> None:
    answer = ask("pruning", plant, today=today, where=where)
    assert answer.verdict == "no"
    assert "buds are set" in answer.headline


def test_a_smaller_job_of_the_day_does_not_hide_the_main_season() -> None:
    answer = ask("pruning", "apple", today="2027-07-20", where="Burlington, VT", cues={"asks_when": "yes"})
    dates = {n.name: n.value for n in answer.numbers}
    start = dates["prune_from"]
    assert isinstance(start, date)
    assert start.year == 2028
    assert answer.headline.count(show_date(start, start)) == 1
