"""Places named in a text."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.reading import Reading

Read = Callable[..., Reading]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("I garden in Truro, Nova Scotia", "Truro"),
        ("Leeds, UK", "Leeds"),
        ("when do peas go in in North Dakota", "North Dakota"),
        ("spring is hot here in NC, sow lettuce when?", "NC"),
        ("brand new western Washington gardener, when do I sow beans", "western Washington"),
        ("i live in boyzee idaho", "Boise"),
        ("i live in boise", "Boise"),
        ("when to plant okra in Georgia", "Georgia"),
        ("when do peas go in in New England", "New England"),
        ("I live in Wibbleton, when do I sow peas", "Wibbleton"),
        ("moved from Kent to Inverness, when do I sow peas", "Inverness"),
        ("dunedin nz, when do I sow peas", "Dunedin"),
        ("too late for tomatoes in hobart?", "Hobart"),
        ("I live in Bath", "Bath"),
    ],
)
def test_place(reading: Read, text: str, place: str) -> None:
    assert reading(text).question.slots.place == place


@pytest.mark.parametrize(
    "text",
    [
        "zone 6b, when do I sow peas",
        "can I sow peas in March",
        "reading about peas, when to sow",
        "peas or beans now?",
        "how warm in Celsius should soil be for peas",
        "is it ok to sow peas in Spring",
        "the sale had peas, sow now?",
    ],
)
def test_no_place(reading: Read, text: str) -> None:
    assert reading(text).question.slots.place is None


@pytest.mark.parametrize(
    "text",
    [
        "Too late for Florence fennel?",
        "is it too late to sow Charleston Gray watermelon?",
        "Madison says it's too late for peas, is it?",
        "when do I start Anaheim peppers?",
        "my neighbour Austin grows peas, should I?",
        "Charlotte potatoes, when do they go in?",
        "should I sow Lincoln peas now?",
        "will Georgia collards live at 20 F?",
        "Savannah asked if beans are too late",
        "when to plant Detroit Dark Red beets",
        "Boston pickling cucumbers too late?",
        "I bought Marmande tomatoes, start when?",
        "Houston told me to cover the tomatoes tonight",
        "peppers: Carmen or Fresno?",
        "Sow Waltham butternut now?",
        "Brandywine tomatoes indoors when?",
        "is Jersey Knight asparagus ready",
        "can I plant Kennebec potatoes now",
        "Yukon Gold potatoes when?",
        "when do I sow Danvers carrots",
        "Roma tomatoes too late?",
        "Vidalia onions from seed now?",
        "Sugar Snap and Oregon Sugar Pod peas, too late?",
        "Logan and I want to plant beans",
        "Victoria rhubarb: can I pull it?",
        "Tyler's beans look bad. Too late to resow?",
        "Amish Paste or San Marzano, which to start now?",
        "Dakota Black popcorn too late?",
        "Tell Carson the peas are up",
        "Nantes carrots in July?",
        "Cheyenne wants to start peppers",
        "the Bristol onions are up",
        "Cortland onions, when do they go out",
        "Blue Lake beans too late?",
        "York cabbage when",
        "Walla Walla onions start when",
        "Sun Gold tomatoes when?",
        "Early Jersey Wakefield cabbage set out when",
        "Moskvich tomato start date?",
        "Ask Sydney about the beans",
        "Corno di Toro peppers too late?",
        "Fordhook limas too late?",
        "Georgia Jet sweet potatoes too late?",
        "Hidcote lavender prune now?",
        "tomatoes Siletz too late?",
        "beans for Charlotte, too late?",
        "Arkansas Traveler tomatoes when",
        "Buttercrunch now in May?",
        "florence fennel too late?",
        "is it too late for boston lettuce",
        "georgia collards in august?",
        "charleston gray watermelon start when",
        "My friend Savannah grows okra, can I?",
        "Charlotte's beans are up, mine aren't. Too late to sow?",
        "Dallas wants to know if peas are ok now",
        "Jackson and Carson planted corn, should I?",
        "I got Jackson Wonder limas, when do they go in",
        "start Denver broccoli? no, Belstar broccoli now?",
        "Marion blackberries, prune now?",
        "Ozark Beauty strawberries too late",
        "Cascade hops plant when",
        "Willamette raspberries prune?",
        "Heritage raspberries prune now",
        "Tulameen raspberry cut when",
        "Aurora spinach? or Bloomsdale?",
        "Paul Robeson tomatoes too late?",
        "Cherokee Purple, start now?",
        "Black Krim and Cherokee Purple: when to start",
        "Mortgage Lifter too late?",
        "Is Early Girl too late",
        "Celebrity or Better Boy now?",
        "Juliet tomatoes from seed now?",
        "Clemson Spineless okra too late",
        "Kentucky Wonder pole beans when",
        "Provider beans now?",
        "Contender beans in June?",
        "Roma II beans too late?",
        "Dixie Queen watermelon",
        "Crimson Sweet melons too late",
        "Ambrosia corn sow when",
        "Silver Queen corn too late?",
        "Peaches and Cream corn now?",
        "Hale's Best cantaloupe start when",
        "Minnesota Midget melons too late?",
        "Waltham 29 broccoli set out?",
        "De Cicco broccoli",
        "Packman broccoli too late",
        "Rutgers tomatoes when",
        "Should I trust Wayne about the frost?",
        "Tyler, too late for peas?",
        "Ask Troy when he sows",
        "Logan's peppers look great, mine not. Too late?",
        "My wife Florence wants dahlias out. Too early?",
        "grandma Beulah sowed peas on Good Friday, ok?",
        "Ithaca lettuce in summer?",
        "Salinas lettuce now?",
        "Marathon broccoli in fall?",
        "Lincoln peas or Wando peas for summer?",
        "King Richard leeks too late",
        "Lancelot leeks now",
        "Giant Musselburgh leeks",
        "Bandit leeks start",
        "Boothby's Blonde cucumbers",
        "Suyo Long too late?",
        "Armenian cucumber now?",
        "Calypso cucumbers too late",
        "Jersey Giant asparagus",
        "Mary Washington asparagus crowns now?",
        "Oregon Spring tomatoes too late?",
        "Siberian kale now?",
        "Red Russian kale too late?",
        "Toscano kale when",
        "Stockton Red onions",
        "Walla Walla onion sets now",
        "Texas Grano too late?",
        "Copra onions start when",
        "Alaska peas sow?",
        "Boston Marrow squash",
        "Seminole pumpkins too late",
        "Long Island Cheese pumpkins when",
        "Connecticut Field pumpkins too late?",
        "Rouge Vif d'Etampes pumpkin",
        "Montana Jack pumpkins",
    ],
)
def test_a_variety_or_a_person_is_no_place(reading: Read, text: str) -> None:
    """Varieties as seed catalogues print them, and first names."""
    assert reading(text).question.slots.place is None


@pytest.mark.parametrize(
    ("text", "place", "within"),
    [
        ("too late for peppers in telluride?", "Telluride", None),
        ("too late for tomatoes in gunnison, co?", "Gunnison", "CO"),
        ("When should I sow peas near Truckee, California?", "Truckee", "California"),
        ("I garden in Jackson, Wyoming", "Jackson", "Wyoming"),
        ("peppers in leadville co", "Leadville", "CO"),
        ("frost dates for Duluth", "Duluth", None),
        ("frost dates for bozeman mt", "Bozeman", "MT"),
        ("my garden is at 59715", "59715", None),
        ("I live in K1A 0B1", "K1A", None),
        ("Duluth", "Duluth", None),
        ("Burlington, VT", "Burlington", "VT"),
        ("okra, Tulsa?", "Tulsa", None),
        ("last frost in cedar city utah", "Cedar City", "utah"),
        ("is it too late for beans in Pagosa Springs?", "Pagosa Springs", None),
        ("tomatoes from seed in Ely, Minnesota - too late?", "Ely", "Minnesota"),
        ("I'm in sandpoint, when peas", "Sandpoint", None),
        ("Sow peas in nyc now?", "NYC", None),
        ("twin cities last frost", "Twin Cities", None),
        ("zip 81435 last frost?", "81435", None),
        ("frost dates for Glen Rose, TX", "Glen Rose", "TX"),
        ("last frost Coulee Dam WA", "Coulee Dam", "WA"),
        ("peppers in walnut creek, ca?", "Walnut Creek", "CA"),
        ("I garden in Lexington Park, Maryland", "Lexington Park", "Maryland"),
    ],
)
def test_a_town_keeps_the_region_typed_with_it(
    reading: Read, text: str, place: str, within: str | None
) -> None:
    slots = reading(text).question.slots
    assert slots.place is not None
    assert slots.place.lower() == place.lower()
    assert (slots.place_within or "").lower() == (within or "").lower()


@pytest.mark.parametrize(
    "text", ["too late for fall carrots? 65 day Nantes", "sow squash now? 100 day Waltham"]
)
def test_a_name_behind_days_to_maturity_is_a_sort(text: str) -> None:
    talk = Conversation(Facts(), lambda: date(2027, 8, 5), PlaceOptions(place="Madison, WI"), remembers=False)
    assert talk.understand(text).ask.place is None
