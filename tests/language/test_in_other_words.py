"""The same things said in many ways: crops and slots exactly, by idea. Invented questions, common practice.

A row: earlier turn >> text | crops | slot=value ...
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from gardenmate.core.question import Slots
from gardenmate.language.intent.reading import Reading

Read = Callable[..., Reading]

TEMPERATURES = """
radio reckons 26 by daybreak, will my plum blossom make it | plum | temp_f=26
my app has 31 for tonight, cover the potatoes? | potato | temp_f=31 when=tonight
the probe in the bed reads 48, can peas go in | pea | temp_f=48
it bottomed out at 25 last night and my kale looks like glass | kale | temp_f=25
bom is giving -3 tonight, are my lemons ok | citrus | temp_c=-3 when=tonight
cover my fig? 18 on the thermometer | fig | temp_f=18
26 for five hours, are the cherries done for in full bloom | cherry | temp_f=26
the thermometer touched zero and the lettuces are flat | lettuce | temp_c=0
calling for plus one tonight, tomatoes in tubs | tomato | temp_c=1 when=tonight
how warm should the propagator be for aubergines? >> ours is on 24 | eggplant | temp_c=24
will kale take 20 tonight? >> sorry, make it 17 | kale | temp_f=17
does spinach sprout at 45? >> why 45 | spinach | temp_f=45
should I vent the frame at 60? >> it gets to 75 by noon | | temp_f=75
frame got to 40 by ten in the morning with the lid down and everything has wilted, prop it? | | temp_c=40
"""

NO_TEMPERATURES = """
seedlings are on fourteen hours a day of light, the basil too. too much? | basil |
spinach came up in about four places, is the soil too warm | spinach |
we eat kale five nights out of nine, when do I sow it | kale |
"""

AMOUNTS = """
I've got 25 cabbages in modules, when can they go out | cabbage | count=25
took a dozen gooseberry cuttings last week, how long to root | gooseberry | count=12
there are 60 leeks in a clump, do I prick them out | leek | count=60
I want thirty celery plants and the nursery asks 2 dollars each, or sow? | celery | count=30 price=2
log that I planted 8 cabbages >> sorry, 9 not 8 | cabbage | count=9
should I buy kale starts or sow seed? >> just eight though | kale | count=8
last summer six courgettes buried us. how many should I plant? | summer-squash |
are we talking a dozen plants or thirty for salsa, there's four of us, tomatoes | tomato | people=4
"""

PEOPLE = """
five of us here, two boys and three girls, how many potatoes | potato | people=5
family of six, four kids among them, how many tomato plants | tomato | people=6
two adults and three kids, how many carrots | carrot | people=5
how many onions for three? | onion | people=3
me and the husband eat a lot of kale, how many plants is enough | kale | people=2
I live alone, how many tomatoes are enough | tomato | people=1
two of us at home, how many peas? >> make that four with the grandkids | pea | people=4
"""

TIMES = """
carrots went in two weeks back and there's nothing | carrot | weeks=2
sowed parsnips 16 days ago, is that too long | parsnip | days=16
note that I sowed carrots 3 days ago | carrot | date=2027-04-15
how many lettuces for two people for six weeks | lettuce | people=2 weeks=6
nothing colder than 45 for the next 8 days, can sweet corn go in | sweet-corn | temp_f=45 days=8
hardening off onion seedlings for ten days, enough? | onion | days=10
I've gardened forty years and never grown celery, when do I start it | celery |
kept a notebook twenty years and now the plum is sulking, when do I prune | plum |
planted the plum four years ago, how hard can I prune | plum | plant_age_years=4
the asparagus was crowns three years ago, when can I start picking | asparagus | plant_age_years=3
is it too late for beans? >> it's a 55 day sort | bush-bean | days_to_maturity=55
packet says 90 days for the leeks, sown May 1, ready when? | leek | days_to_maturity=90 date=2027-05-01
blizzard one week and sun the next, can I still sow peas | pea |
"""

DAYS = """
we want squash by the tenth of September like last year, when do seeds go in | winter-squash |
I'm away until Friday and frost is forecast at 30, will the tomatoes cope | tomato | temp_f=30
opened the shed yesterday, found beetroot seed behind the paint tins, is it worth sowing that now | beet |
if the cabbages go out on June 3, will I be cutting before we leave on August 20 | cabbage | date=2027-06-03
broccoli in on May 2, am I picking by July | broccoli | date=2027-05-02
wat can i sow this weak | | when=this week
log that I sowed kale today >> it was yesterday, not today | kale | date=2027-04-17
"""

PLACES = """
not one pepper seed is in. Seedlings at the shop cost a bomb. too late to sow? | pepper |
we sowed peas around St David's and they are up, when do we pick | pea |
cold soil here. Will peas rot if I sow them | pea |
I never had time this spring. Brisbane. Can I still sow beans | bush-bean | place=Brisbane
when do I sow peas in Perth? >> no, Perth in Scotland | pea | place=Perth
coastal Maine, can tomatoes go out yet | tomato | method=setout place=Maine
western Oregon, can tomatoes go out yet | tomato | method=setout place=western Oregon
we're in shyenne wyoming | | place=Cheyenne
moved to misoula montana, when do I sow peas | pea | place=Missoula
"""

CROPS = """
sweet potatoe slips arrived, too cold to plant? | sweet-potato |
sweat corn an beatroot, sow now? | sweet-corn beet |
can the peas, the black-eyed kind, go in yet | southern-pea |
when do I start peppers, hot and sweet | hot-pepper pepper |
sweet and hot peppers, when do I sow | pepper hot-pepper |
is my lime tree safe at 30 tonight | citrus | temp_f=30 when=tonight
the kale is in an old strawberry punnet, loads of it, do I prick them out or wait for the ground? | kale |
would I get anything but spring onions if I sowed onion seed this late in our year | onion | kind=seed
what do I do about pigeons on the cabbages | cabbage |
how many leeks for 4? >> how deep | leek |
can I root figs? >> with rooting powder? | fig |
"""

KINDS = """
my bigleaf hydrangea never flowers, when do I prune | hydrangea |
thornless blackberries, what do I cut out | blackberry |
raspberries, not sure if summer or autumn ones, when do I cut | raspberry |
summer bearing raspberries, when do I cut them down | raspberry | kind=summer
autumn raspberries, cut them now? | raspberry | kind=fall
onion sets in now? | onion | kind=sets
when should blackcurrants be pruned? >> and the red ones | currant | kind=red
"""


def rows(text: str) -> list[str]:
    return [line for line in text.strip().splitlines() if line]


def value_of(text: str) -> Any:
    if text[:1].isdigit() or text[:1] == "-":
        return date.fromisoformat(text) if text.count("-") == 2 else float(text)
    return text


def wanted_slots(text: str) -> dict[str, Any]:
    """ "count=30 place=western Oregon" as a mapping: a value may hold blanks."""
    out: dict[str, Any] = {}
    name = ""
    for part in text.split():
        if "=" in part:
            name, _, said = part.partition("=")
            out[name] = said
        else:
            out[name] += " " + part
    return {name: value_of(said) for name, said in out.items()}


def said_slots(slots: Slots) -> dict[str, Any]:
    names = [name for name in Slots.__annotations__ if name not in ("temps", "place_within", "height_m")]
    return {name: getattr(slots, name) for name in names if getattr(slots, name) is not None}


ALL = (TEMPERATURES, NO_TEMPERATURES, AMOUNTS, PEOPLE, TIMES, DAYS, PLACES, CROPS, KINDS)


@pytest.mark.parametrize("row", [row for text in ALL for row in rows(text)])
def test_crops_and_slots(reading: Read, row: str) -> None:
    turns, crops, slots = (part.strip() for part in row.split("|"))
    *before, text = turns.split(" >> ")
    question = reading(text, *before).question
    assert {c.id for c in question.crops} == set(crops.split())
    assert said_slots(question.slots) == wanted_slots(slots)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("when do I prune my oakleaf hydrangea", "old-wood"),
        ("my two-crop raspberries are done, what do I cut", "fall"),
        ("prune the thornless blackberry now?", "erect"),
    ],
)
def test_a_kind_told_by_its_look_goes_with_the_crop(reading: Read, text: str, kind: str) -> None:
    question = reading(text).question
    assert question.crops[0].kind == kind
    assert question.slots.kind is None


def test_a_week_later_moves_the_job_or_the_frost(reading: Read) -> None:
    job = reading("what if it's a week later", "is it too late to sow beans?").question
    assert job.topic == "late-start"
    assert job.cue("shift_days") is None
    assert job.ask.date == date(2027, 4, 25)
    frost = reading("what if the frost is a week later", "is it too late to sow beans?").question
    assert (frost.topic, frost.cue("shift_days")) == ("explain", "7")
