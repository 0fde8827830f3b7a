"""The garden rule: what a statement is understood as, kept as, told back, shown and forgotten."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.climate.places import resolve_site
from gardenmate.core.answer import Answer
from gardenmate.core.effects import GardenChange
from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import CropRef, Slots
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN, Garden, Plant
from gardenmate.garden.store import GardenFile
from gardenmate.knowledge.facts import Facts
from gardenmate.language.values.heights import height_told
from gardenmate.language.values.sizes import number_of, size_in
from gardenmate.records import replace
from gardenmate.topics.garden.answer import answer
from tests.topics.said import spoken

FACTS = Facts()
TODAY = date(2027, 4, 18)


def ref(name: str) -> CropRef:
    return FACTS.names[name].ref._replace(typed=name)


class Told:
    """A garden that is told things: each reply's changes go to a real garden file."""

    def __init__(self, path: Path) -> None:
        self.file = GardenFile(path)
        self.previous: Answer | None = None

    @property
    def garden(self) -> Garden:
        return self.file.garden

    def __call__(self, text: str, *crops: str, **slots: object) -> Answer:
        try:
            site = resolve_site(garden=self.garden, facts=FACTS).site
        except NeedPlaceError:
            site = None
        units = self.garden.units or "us"
        world = World(TODAY, FACTS, self.garden, units, site=site, previous=self.previous)
        question = spoken(text, "garden", tuple(ref(c) for c in crops), Slots(**slots))  # type: ignore[arg-type]
        reply = answer(question, world)
        assert reply.verdict is None
        for effect in reply.effects:
            assert isinstance(effect, GardenChange)
            self.file.apply(effect)
        self.previous = reply
        return reply


@pytest.fixture
def tell(tmp_path: Path) -> Told:
    return Told(tmp_path / "garden.toml")


class TestPlace:
    def test_is_kept_with_what_is_on_record_there(self, tell: Told) -> None:
        reply = tell("I garden in Duluth", place="Duluth")
        assert reply.headline == "Noted: your garden is in Duluth, MN."
        assert "Weather records there give an average last frost about 17 May" in reply.details[-1]
        assert tell.garden.place == "Duluth, MN"

    @pytest.mark.parametrize(
        ("text", "place", "label"),
        [
            ("Portland, Maine", "Portland", "Portland, ME"),
            ("we're in Portland OR", "Portland", "Portland, OR"),
            ("i live in boyzee idaho", "Boise", "Boise, ID"),
            ("I garden in Truro, Nova Scotia", "Truro", "Truro, NS"),
            ("Leeds, UK", "Leeds", "Leeds, England"),
            ("the garden is up in Invermere, out in BC", "Invermere", "Invermere, BC"),
        ],
    )
    def test_the_region_beside_it_tells_towns_apart(
        self, tell: Told, text: str, place: str, label: str
    ) -> None:
        assert tell(text, place=place).headline == f"Noted: your garden is in {label}."
        site = resolve_site(garden=tell.garden, facts=FACTS).site
        assert site is not None
        assert site.label == label

    def test_one_of_several_is_asked_back_and_the_answer_understood(self, tell: Told) -> None:
        reply = tell("I live in London", place="London")
        assert "There is more than one" in reply.headline
        assert len(reply.asks) >= 2
        assert tell.garden == NO_GARDEN
        tell("sorry, Ontario", place="Ontario")
        assert tell.garden.place == "London, Ontario"

    def test_an_unknown_place_is_not_kept_but_the_rest_is(self, tell: Told) -> None:
        reply = tell(
            "we're five up here in Xyzzyville, last frost June 5",
            place="Xyzzyville",
            people=5,
            date=date(2027, 6, 5),
        )
        assert "I don't know a place called 'Xyzzyville'" in reply.headline
        assert reply.details == ("Noted so far: your average last frost is 5 Jun; 5 people to feed.",)
        assert tell.garden.place is None
        assert (tell.garden.people, tell.garden.last_frost) == (5, (6, 5))

    def test_moving_lets_go_of_what_belonged_to_the_old_place(self, tell: Told) -> None:
        tell("I garden in Duluth", place="Duluth")
        tell("we're at 1,200 feet, last frost May 12", date=date(2027, 5, 12))
        tell("household of three", people=3)
        reply = tell("we moved to Bozeman, Montana", place="Bozeman")
        assert "that belonged to Duluth" in reply.headline
        garden = tell.garden
        assert (garden.place, garden.last_frost, garden.elevation_m) == ("Bozeman, Montana", None, None)
        assert garden.people == 3

    def test_naming_the_same_place_more_exactly_lets_go_of_nothing(self, tell: Told) -> None:
        tell("I garden in Duluth", place="Duluth")
        tell("my last frost is May 12", date=date(2027, 5, 12))
        tell("Duluth, Minnesota", place="Duluth")
        assert tell.garden.last_frost == (5, 12)

    def test_a_region_is_kept_and_a_town_asked_for(self, tell: Told) -> None:
        reply = tell("we garden in Minnesota", place="Minnesota")
        assert reply.headline == "Noted: your garden is in Minnesota."
        assert "name a town for closer dates" in reply.details[0]

    @pytest.mark.parametrize(
        ("text", "metres"),
        [
            ("we're at 2,100 feet", 640.1),
            ("up here at fifty two hundred feet", 1585.0),
            ("the plot sits at 640 m", 640.0),
            ("elevation 5000 ft", 1524.0),
            ("my bed is 40 feet long", None),
            ("a row 30 m from the house", None),
            ("the frame is 3 by 60 feet up the hill", None),
        ],
    )
    def test_height(self, text: str, metres: float | None) -> None:
        found = height_told(text)
        assert (found[0] if found else None) == metres

    @pytest.mark.parametrize(
        ("text", "lat", "lon"),
        [
            ("the garden is at 46.8, -92.1", 46.8, -92.1),
            ("46.8 N 92.1 W", 46.8, -92.1),
            ("43.5°S, 172.6°E", -43.5, 172.6),
            ("it cost 3.50 or 2.25", None, None),
        ],
    )
    def test_a_spot_in_degrees(self, tell: Told, text: str, lat: float | None, lon: float | None) -> None:
        tell(text)
        if lat is not None:
            assert (tell.garden.lat, tell.garden.lon) == (lat, lon)
        else:
            assert tell.garden.lat is None

    def test_the_risk_put_up_with(self, tell: Told) -> None:
        assert tell("I take a 30% frost risk").headline == "Noted: planting out at 30% frost risk."
        assert tell.garden.frost_risk == 0.3

    def test_a_low_spot_is_told_with_what_it_is_taken_as(self, tell: Told) -> None:
        reply = tell("we're in a frost pocket by the creek")
        assert "a low spot" in reply.headline
        assert "3.4 F (1.9 C)" in reply.assumptions[0]
        assert tell.garden.low_spot_c == 1.9
        tell("mum's plot is in a dip")
        tell("it's not a frost pocket after all")
        assert tell.garden.low_spot_c == 0.0


class TestFrostDates:
    @pytest.mark.parametrize(
        ("text", "day", "last", "first"),
        [
            ("my last frost is May 12", (5, 12), (5, 12), None),
            ("My first frost is usually September 30", (9, 30), None, (9, 30)),
            ("frost date aug 28", (8, 28), None, (8, 28)),
            ("our frost date is may 3", (5, 3), (5, 3), None),
            ("my first fall frost comes on the 28th of september", (9, 28), None, (9, 28)),
            ("last frost May 12, first frost Sept 20", (5, 12), (5, 12), (9, 20)),
            ("first frost is 20 September and the last one 12 May", (9, 20), (5, 12), (9, 20)),
        ],
    )
    def test_which_is_which(
        self,
        tell: Told,
        text: str,
        day: tuple[int, int],
        last: tuple[int, int] | None,
        first: tuple[int, int] | None,
    ) -> None:
        tell(text, date=date(2027, *day))
        assert (tell.garden.last_frost, tell.garden.first_frost) == (last, first)

    def test_south_of_the_equator(self, tell: Told) -> None:
        tell("we garden in Hobart", place="Hobart")
        tell("my last frost is October 10", date=date(2027, 10, 10))
        tell("frost date is may 5", date=date(2027, 5, 5))
        assert (tell.garden.last_frost, tell.garden.first_frost) == ((10, 10), (5, 5))

    def test_a_correction_is_of_the_same_frost(self, tell: Told) -> None:
        tell("my first frost is September 20", date=date(2027, 9, 20))
        reply = tell("actually it's October 3", date=date(2027, 10, 3))
        assert reply.headline == "Noted: your average first frost is 3 Oct."
        assert (tell.garden.last_frost, tell.garden.first_frost) == (None, (10, 3))

    def test_a_date_that_does_not_fit_the_seasons_is_asked_back(self, tell: Told) -> None:
        tell("we garden in Duluth", place="Duluth")
        reply = tell("my last frost is September 20", date=date(2027, 9, 20))
        assert "does not fit the seasons in Duluth, MN" in reply.headline
        assert "my first frost is 20 Sep" in reply.asks
        assert tell.garden.last_frost is None

    def test_a_part_of_a_month_is_a_day_and_that_is_said(self, tell: Told) -> None:
        reply = tell("my last frost is mid May")
        assert tell.garden.last_frost == (5, 15)
        assert reply.assumptions == ("I read 'mid May' as the 15th.",)
        assert tell("my last frost is in May").headline.startswith("Which day?")

    def test_for_a_whole_region_they_are_asked_back(self, tell: Told) -> None:
        tell("we garden in Minnesota", place="Minnesota")
        reply = tell("my last frost is May 20", date=date(2027, 5, 20))
        assert "name a town" in reply.headline
        assert tell.garden.last_frost is None


class TestGearAndFrame:
    @pytest.mark.parametrize(
        ("text", "gear"),
        [
            ("I have a heat mat and two LED shelves", {"mat": 1.0, "lamp": 2.0}),
            ("right so setup. two poly tunnels", {"tunnel": 2.0}),
            ("we built 3 cold frames", {"frame": 3.0}),
            ("a new greenhouse arrived, 8 by 6", {"greenhouse": 1.0}),
            ("it's got a polytunnel but no frame", {"tunnel": 1.0, "frame": 0.0}),
            ("I don't have a heat mat", {"mat": 0.0}),
            ("I sold the mat", {"mat": 0.0}),
            ("we no longer have the old greenhouse", {"greenhouse": 0.0}),
            ("the tunnel blew away", {"tunnel": 0.0}),
            ("got fleece, some cloches and a wax opener", {"fleece": 1.0, "cloche": 1.0, "opener": 1.0}),
        ],
    )
    def test_how_many_and_what_is_gone(self, tell: Told, text: str, gear: dict[str, float]) -> None:
        tell(text)
        assert tell.garden.gear == gear

    def test_the_frame_with_its_size_and_lid(self, tell: Told) -> None:
        reply = tell("my frame is under the south wall, glass lid, 3 by 6 feet, insulated")
        assert reply.headline.startswith(
            "Noted: a cold frame of 36 in by 72 in with a glass lid with insulated sides"
        )
        frame = tell.garden.frame
        assert (frame.width_m, frame.length_m, frame.glazing, frame.insulated) == (
            0.914,
            1.829,
            "glass",
            True,
        )
        tell("my cold frame has twin-wall now")
        assert tell.garden.frame.glazing == "twin-wall"
        assert tell.garden.frame.width_m == 0.914

    def test_a_size_without_a_unit_is_said_as_it_was_taken(self, tell: Told) -> None:
        reply = tell("My cold frame is 4 by 6 with twin-wall glazing")
        assert reply.assumptions == ("I read the size of the frame as 48 in by 72 in.",)

    @pytest.mark.parametrize(
        ("text", "metric", "size"),
        [
            ("4 by 6", False, (1.219, 1.829)),
            ("four foot by ten", False, (1.219, 3.048)),
            ("120 x 60", True, (0.6, 1.2)),
            ("1.2 x 0.6", True, (0.6, 1.2)),
            ("120 by 60 cm", False, (0.6, 1.2)),
            ("8 by 6", True, (1.829, 2.438)),
            ("6", False, None),
        ],
    )
    def test_sizes(self, text: str, metric: bool, size: tuple[float, float] | None) -> None:
        found = size_in(text, metric)
        assert (found[:2] if found else None) == size


class TestPeoplePlantsAndTheRest:
    def test_people(self, tell: Told) -> None:
        assert tell("household of three", people=3).headline == "Noted: 3 people to feed."
        assert tell.garden.people == 3

    def test_plants_by_year_and_by_age(self, tell: Told) -> None:
        assert tell("elderberry planted 2022", "elderberry").headline == "Noted: elderberry planted in 2022."
        tell("I have two apple trees, 5 years old", "apple", count=2, plant_age_years=5.0)
        assert tell.garden.plants == (Plant("elderberry", None, 2022), Plant("apple", None, 2022, 2))
        tell("we've got a fig", "fig")
        tell("we dug up the elderberry", "elderberry")
        assert [p.id for p in tell.garden.plants] == ["apple", "fig"]

    def test_what_is_grown(self, tell: Told) -> None:
        tell("we want to grow leeks and tomatoes", "leeks", "tomatoes")
        tell("we also grow kale", "kale")
        tell("we don't grow tomatoes any more", "tomatoes")
        assert tell.garden.wanted == ("leek", "kale")

    @pytest.mark.parametrize(
        ("text", "units"),
        [
            ("I use Celsius", "metric"),
            ("use celcius plese", "metric"),
            ("Fahrenheit please", "us"),
            ("we don't do feet and fahrenheit in this house, show everything in metric", "metric"),
            ("please stop using celsius", "us"),
        ],
    )
    def test_units(self, tell: Told, text: str, units: str) -> None:
        tell(text)
        assert tell.garden.units == units

    def test_prices_and_beds(self, tell: Told) -> None:
        tell("electricity is 15 cents per kWh", price=0.15)
        tell("my time is worth $12 an hour", price=12.0)
        tell("I've three raised beds, each four foot by ten", count=3)
        assert tell.garden.prefs == {"tariff": "0.15", "time_rate": "12", "beds": "3 beds of 48 in x 120 in"}

    def test_several_things_in_one_statement(self, tell: Told) -> None:
        reply = tell(
            "three of us near Moncton with a heat mat, last frost May 20",
            place="Moncton",
            people=3,
            date=date(2027, 5, 20),
        )
        assert reply.headline == (
            "Noted: your garden is in Moncton, NB; your average last frost is 20 May; 3 people to feed; "
            "heat mat."
        )

    def test_what_says_nothing_keeps_nothing(self, tell: Told) -> None:
        reply = tell("my garden, well")
        assert reply.headline == "Sorry, I couldn't tell what to note from that."
        assert reply.effects == ()


class TestForgetting:
    def test_frost_dates_together_and_alone(self, tell: Told) -> None:
        tell("last frost May 12, first frost Sept 20")
        tell("forget my first frost")
        assert (tell.garden.last_frost, tell.garden.first_frost) == ((5, 12), None)
        assert tell("forget my frost dates").headline == "Done: I've cleared your own frost dates."
        assert tell.garden == NO_GARDEN

    def test_everything_then_a_new_place(self, tell: Told) -> None:
        tell("we garden in Christchurch, New Zealand", place="Christchurch")
        tell("three of us, with a heat mat", people=3)
        tell("this is a new garden, forget the old one. we're at Twizel now", place="Twizel")
        assert tell.garden == replace(NO_GARDEN, place="Twizel, NZ")

    def test_before_i_forget_forgets_nothing(self, tell: Told) -> None:
        tell("before I forget, there are four in the household", people=4)
        assert tell.garden.people == 4


class TestShowing:
    def test_nothing_is_known(self, tell: Told) -> None:
        assert tell("what do you know about my garden").headline == "I know nothing about your garden yet."

    def test_everything_that_is_kept(self, tell: Told) -> None:
        tell("we garden in Duluth at 1,200 feet", place="Duluth")
        tell("last frost May 12", date=date(2027, 5, 12))
        tell("a heat mat but no lamp")
        tell("elderberry planted 2022", "elderberry")
        reply = tell("what do you know about my garden")
        assert reply.table is not None
        assert {row[0]: row[1] for row in reply.table.rows} == {
            "Place": "Duluth, MN",
            "Height": "1,200 ft",
            "Last frost": "12 May",
            "Gear": "heat mat, no grow light",
            "Plants": "elderberry (2022)",
        }
        assert reply.effects == ()
        here = tell("Do you know where I live?")
        assert here.headline.startswith(
            "Your garden is in Duluth, MN, 1,200 ft up (as you told me): last frost about 12 May"
        )
        assert here.table is not None
        assert here.table.heads == ("Station", "Away", "Height", "Weight")
        assert sum(int(row[3].rstrip("%")) for row in here.table.rows) == pytest.approx(100, abs=2)
        assert tell("what's my last frost").headline == "Your own average frost dates: last 12 May."
        assert tell("zone?").headline == "I go by frost dates, not by hardiness zones."

    def test_frost_dates_on_record_where_none_were_told(self, tell: Told) -> None:
        tell("we garden in Duluth", place="Duluth")
        reply = tell("what's my last frost")
        assert reply.headline.startswith(
            "Weather records for Duluth, MN give an average last frost about 17 May"
        )


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("2,100", 2100), ("1.5", 1.5), ("fifty two hundred", 5200), ("five thousand two hundred", 5200),
        ("a couple", 2), ("two dozen", 24), ("twenty-one", 21), ("a hundred and five", 105), ("leek", None),
        ("", None), ("and", None),
    ],
)  # fmt: skip
def test_numbers_in_figures_and_words(text: str, number: float | None) -> None:
    assert number_of(text) == number


@settings(max_examples=150, deadline=None)
@given(
    text=st.text(max_size=200)
    | st.sampled_from(["my last frost is ", "we have ", "forget ", "we're at ", "frame 900 by 700 "]).flatmap(
        lambda head: st.text(max_size=60).map(lambda rest: head + rest)
    ),
    today=st.dates(),
    people=st.none() | st.integers(1, 5000),
    age=st.none() | st.floats(0, 5000),
    count=st.none() | st.floats(0, 1e9),
    day=st.none() | st.dates(),
)
def test_any_text_has_an_answer_and_its_changes_fit_the_file(
    tmp_path_factory: pytest.TempPathFactory,
    text: str,
    today: date,
    people: int | None,
    age: float | None,
    count: float | None,
    day: date | None,
) -> None:
    world = World(today, FACTS, NO_GARDEN, "us")
    slots = Slots(people=people, date=day, plant_age_years=age, count=count)
    reply = answer(spoken(text, "garden", (ref("apple"),), slots), world)
    assert reply.headline
    file = GardenFile(tmp_path_factory.mktemp("g") / "garden.toml")
    for effect in reply.effects:
        assert isinstance(effect, GardenChange)
        file.apply(effect)
    assert file.garden.people in (people, None)


@pytest.mark.parametrize("piece", ["one ", "2 by ", "my last frost is may ", "no mat and ", "4 by 6 frame "])
def test_a_very_long_statement_is_answered(piece: str) -> None:
    """A pattern that runs away on such a line would not come back at all."""
    text = piece * (1_000_000 // len(piece))
    reply = answer(spoken(text, "garden"), World(TODAY, FACTS, NO_GARDEN, "us"))
    assert reply.question.text == text
