"""Typed text -> amount -> shown text: a grower sees the temperature and the length that were typed."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.core.units import INCH_CM, f_to_c, show_temp
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.reading import Reading
from gardenmate.topics.quantities.amounts import show_row
from gardenmate.topics.quantities.space import said_row_cm
from gardenmate.topics.shared.containers import container_asked

Read = Callable[..., Reading]

night_f = st.integers(-20, 60)
night_c = st.integers(-28, 16)
FAHRENHEIT = st.sampled_from(("F", " F", "°F", " degrees F", " fahrenheit"))
CELSIUS = st.sampled_from(("C", " C", "°C", " degrees C", " celsius"))
ASKED = st.sampled_from(
    ("will kale survive {}?", "frost tonight at {}, tomatoes?", "it goes down to {} tonight, cover the peas?")
)


@given(st.sampled_from(("us", "metric")), ASKED, night_f, FAHRENHEIT)
def test_degrees_f_come_back(reading: Read, units: str, asked: str, degrees: int, unit: str) -> None:
    slots = reading(asked.format(f"{degrees}{unit}"), units=units).question.slots
    assert slots.temp_f == degrees
    (typed,) = slots.temps
    assert show_temp(typed.celsius, "us") == f"{degrees} F"
    shown_c = float(show_temp(typed.celsius, "metric").removesuffix(" C"))
    assert shown_c == pytest.approx(f_to_c(degrees), abs=0.5)


@given(st.sampled_from(("us", "metric")), ASKED, night_c, CELSIUS)
def test_degrees_c_come_back(reading: Read, units: str, asked: str, degrees: int, unit: str) -> None:
    slots = reading(asked.format(f"{degrees}{unit}"), units=units).question.slots
    assert slots.temp_c == degrees
    (typed,) = slots.temps
    assert show_temp(typed.celsius, "metric") == f"{degrees} C"
    shown_f = float(show_temp(typed.celsius, "us").removesuffix(" F"))
    assert shown_f == pytest.approx(32 + 1.8 * degrees, abs=0.5)


@given(night_f, night_c)
def test_either_unit_may_be_typed_for_a_night(reading: Read, degrees_f: int, degrees_c: int) -> None:
    of_f = reading(f"frost tonight at {degrees_f} F, tomatoes?", units="metric").question.slots.temps[0]
    of_c = reading(f"frost tonight at {degrees_c} C, tomatoes?", units="us").question.slots.temps[0]
    assert (of_f.celsius < of_c.celsius) == (degrees_f < 32 + 1.8 * degrees_c)


@given(st.integers(2, 120), st.sampled_from((" ft", " foot", "-foot", "ft", " feet of")))
def test_a_row_in_feet_comes_back(reading: Read, length: int, unit: str) -> None:
    question = reading(f"how many carrots for a {length}{unit} row?").question
    row_cm = said_row_cm(question)
    assert row_cm is not None
    assert show_row(row_cm, "us") == f"{length} ft"
    assert row_cm == pytest.approx(length * 30.48)


@given(st.integers(2, 40), st.sampled_from((" m", "m", " metre", " meter")))
def test_a_row_in_metres_comes_back(reading: Read, length: int, unit: str) -> None:
    question = reading(f"how many carrots for a {length}{unit} row?", units="metric").question
    row_cm = said_row_cm(question)
    assert row_cm is not None
    assert show_row(row_cm, "metric") == f"{length} m"


@pytest.mark.parametrize("inches", [3, 4])
@pytest.mark.parametrize("unit", ["inch", "in"])
def test_a_pot_is_the_same_pot_in_both_units(reading: Read, facts: Facts, inches: int, unit: str) -> None:
    here = container_asked(reading(f"are {inches} {unit} pots right for peppers?").question, facts)
    size = f"{inches * INCH_CM:.1f} cm"
    there = container_asked(reading(f"are {size} pots right for peppers?", units="metric").question, facts)
    assert here is not None
    assert here == there
    assert here.across_in == pytest.approx(inches, abs=0.6)
    assert here.label("us").startswith(f"{here.across_in:.0f} in")
