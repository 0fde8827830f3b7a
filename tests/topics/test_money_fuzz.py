"""Money, amounts and agenda stand any question they may be handed: no exception, a sentence, sources."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import CropRef, Slots, Vessel
from gardenmate.garden.profile import Garden
from gardenmate.topics.registry import rule_for
from tests.topics.money_world import FACTS, TODAY, Book, world_at
from tests.topics.said import spoken

CROPS = [(c.base, c.kind) for c in FACTS.crops()] + [
    ("apple", None),
    ("raspberry", None),
    ("hydrangea", None),
]
CUES = {
    "amount": ["spacing", "trays", "seeds", "yield", "bed", "fit", "per-row"],
    "asks": ["spacing", "trays", "hold", "cost", "tonight"],
    "count_unit": [
        "lb",
        "kg",
        "oz",
        "ft",
        "m",
        "yd",
        "quart",
        "pint",
        "jar",
        "ear",
        "head",
        "tray",
        "pack",
        "seed",
    ],
    "count_each": ["person"],
    "wants": ["fresh", "preserve"],
    "way": ["buy", "sow"],
    "price_for": ["each", "total"],
    "pack": ["4", "6", "1"],
    "seed_in_hand": ["yes"],
    "currency": ["pound", "euro", "dollar"],
    "jobs": ["missed", "more", "indoors", "light", "quick", "frame", "rest", "before-rain"],
    "hold": ["until"],
    "horizon": ["today", "month", "next-week", "next-month"],
    "weather": ["rain", "dry", "snow"],
    "limit_minutes": ["5", "60", "0"],
    "asked_month": ["1", "4", "12"],
    "days": ["2027-04-24/2027-04-25", "2027-04-01/2027-04-30"],
}
cues = st.fixed_dictionaries({}, optional={k: st.sampled_from(v) for k, v in CUES.items()})
slots = st.builds(
    Slots,
    count=st.none() | st.floats(0, 1e9),
    people=st.none() | st.integers(0, 5000),
    price=st.none() | st.floats(0, 1e6),
    temp_f=st.none() | st.floats(-40, 110),
    method=st.none() | st.sampled_from(["indoors", "outdoors", "setout", "starts"]),
    date=st.none() | st.dates(date(2027, 1, 1), date(2028, 12, 31)),
    when=st.none() | st.sampled_from(["today", "tonight", "this week"]),
    container=st.none()
    | st.builds(
        Vessel, st.sampled_from([0.0, 4.0, 9.0, 72.0, 98.0]), st.sampled_from(["cells", "in", "cm", "l"])
    ),
)
GARDEN = Garden(
    wanted=("tomato", "garlic", "nonsense"), gear={"mat": 1.0}, prefs={"time_rate": "x", "tariff": "0.3"}
)
BOOK = Book(
    (date(2027, 3, 1), "sow", "sowed peppers", ["pepper"], 48),
    (date(2027, 4, 1), "sow", "carrots in the bed", ["carrot", "unknown-crop"]),
    (date(2027, 4, 2), "note", "cold", []),
)


@settings(max_examples=250, deadline=None)
@given(
    topic=st.sampled_from(["buy-or-sow", "how-many", "agenda"]),
    crops=st.lists(st.sampled_from(CROPS), max_size=3, unique=True),
    said=cues,
    values=slots,
    place=st.sampled_from([None, "Boise", "Hobart", "Minnesota", "Whitehorse"]),
    days=st.integers(0, 400),
    metric=st.booleans(),
)
def test_any_question_gets_a_sentence(
    topic: str,
    crops: list[tuple[str, str | None]],
    said: dict[str, str],
    values: Slots,
    place: str | None,
    days: int,
    metric: bool,
) -> None:
    question = spoken("a 4 by 8 bed", topic, tuple(CropRef(b, k) for b, k in crops), values, cues=said)
    world = world_at(
        place, TODAY + timedelta(days=days), GARDEN, journal=BOOK, units="metric" if metric else "us"
    )
    try:
        a = rule_for(topic).answer(question, world)
    except NeedPlaceError:
        assert place is None
        return
    assert a.headline
    assert a.headline.rstrip()[-1] in ".!"
    assert "None" not in a.headline
    assert "{" not in a.headline
    for source in a.sources:
        assert FACTS.source(source).title
    for text in (*a.details, *a.steps, *a.changes, *a.assumptions, *a.working):
        assert "None" not in text
        assert "{" not in text
