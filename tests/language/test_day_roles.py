"""What a day in a sentence is the day of. Today is 18 April 2027."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from gardenmate.language.intent.reading import Reading

Read = Callable[..., Reading]
ROLES = [
    # the harvest is wanted by then
    ("I would like marrows for Halloween, when do I sow?", {"wanted_on": "2027-10-31"}),
    ("beets by Thanksgiving: sow when?", {"wanted_on": "2027-11-25"}),
    ("when do I plant potatoes to have them ready by August 1", {"wanted_on": "2027-08-01"}),
    ("is it too late to sow kale for Christmas?", {"wanted_on": "2027-12-25"}),
    ("we want cucumbers by July 20, when do they go out?", {"wanted_on": "2027-07-20"}),
    # the plants go out then, and seed is asked about
    ("cabbages go out on May 12, when do I sow the seed?", {"out_on": "2027-05-12"}),
    ("when should I start eggplant to transplant June 5?", {"out_on": "2027-06-05"}),
    ("sow leeks when for planting out June 10?", {"out_on": "2027-06-10"}),
    # nobody is there
    ("we are on vacation June 20 to July 4, when should I sow beets?", {"away": "2027-06-20/2027-07-04"}),
    ("I will be away May 5-19, when do I set out kale?", {"away": "2027-05-05/2027-05-19"}),
    # a start already made
    ("I sowed radishes on April 2, when can I pull them?", {"begun_on": "2027-04-02", "begun_by": "sow"}),
    ("we planted garlic October 20, when is it ready?", {"begun_on": "2026-10-20", "begun_by": "plant"}),
    ("when will leeks sown in March be ready?", {"begun_on": "2027-03-16", "about": "yes"}),
    ("When will the leeks be ready? Sown in March", {"begun_on": "2027-03-16", "begun_by": "sow"}),
    ("I just set out my broccoli, when do I cut it?", {"begun_on": "2027-04-18", "begun_by": "setout"}),
    ("I planted peas today, when can I pick?", {"begun_on": "2027-04-18", "begun_by": "plant"}),
    # what was seen
    ("the scapes on my garlic curled a week ago, when do I dig?", {"seen_on": "2027-04-11", "seen": "scape"}),
    ("sweet corn silked on April 10, when do I pick it?", {"seen_on": "2027-04-10", "seen": "silk"}),
    # a story
    ("frost on April 12 took my beans, too late to sow?", {"told_on": "2027-04-12"}),
    # weeks from a frost
    ("is 8 weeks before the last frost right for eggplant?", {"from_frost": "-8/-8:last"}),
    ("sow kale 3 to 4 weeks after last frost?", {"from_frost": "3/4:last"}),
]


@pytest.mark.parametrize(("text", "cues"), ROLES)
def test_the_day_is_that_of(reading: Read, text: str, cues: dict[str, str]) -> None:
    found = reading(text).question.cues
    assert {k: found.get(k) for k in cues} == cues


@pytest.mark.parametrize(
    "text",
    [
        "can I sow beets May 25?",
        "is May 10 too early to set out peppers?",
        "too late for beans on July 20?",
        "can I plant garlic by Thanksgiving?",
        "should I set out tomatoes by May 20?",
        "what if I sow carrots June 1",
        "should I wait for Memorial Day to set out peppers?",
        "I need to plant potatoes by May 1, too early?",
    ],
)
def test_the_day_is_that_of_the_job(reading: Read, text: str) -> None:
    question = reading(text).question
    assert question.slots.date is not None
    assert not {"wanted_on", "out_on", "away", "begun_on", "seen_on", "told_on"} & set(question.cues)


def test_two_days_of_two_kinds(reading: Read) -> None:
    question = reading("If I sow beets on June 10 will they be ready by September 1?").question
    assert question.cues["job_on"] == "2027-06-10"
    assert question.cues["wanted_on"] == "2027-09-01"


def test_a_start_told_without_its_day(reading: Read) -> None:
    assert (
        reading("It snowed and I already sowed radishes. Are they lost?").question.cues["begun_by"] == "sow"
    )
