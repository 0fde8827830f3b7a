"""Conversions both ways, and what is shown read back: nothing drifts between the two unit systems."""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.core.answer import Number
from gardenmate.core.units import (
    INCH_CM,
    Units,
    c_to_f,
    f_to_c,
    plural,
    show_date,
    show_length_cm,
    show_span,
    show_temp,
    span_c_to_f,
)
from gardenmate.language.values.sizes import size_in
from gardenmate.present.figures import show_number
from gardenmate.topics.quantities.amounts import show_inches, show_row

TODAY = date(2027, 4, 18)
temperatures = st.floats(-90, 150)
either = st.sampled_from(("us", "metric"))


def figure(text: str) -> float:
    """The number a shown amount opens with."""
    match = re.match(r"-?[\d,]+(?:\.\d+)?", text)
    assert match, text
    return float(match[0].replace(",", ""))


@pytest.mark.parametrize(("temp_c", "temp_f"), [(-40, -40), (0, 32), (100, 212), (37, 98.6), (-17.78, 0)])
def test_fixed_points_of_the_scales(temp_c: float, temp_f: float) -> None:
    """Source: F = 1.8 C + 32 defines the one scale by the other (NIST SP 811, B.8)."""
    assert c_to_f(temp_c) == pytest.approx(temp_f, abs=0.01)
    assert f_to_c(temp_f) == pytest.approx(temp_c, abs=0.01)


@given(temperatures)
def test_there_and_back_is_the_same_temperature(temp: float) -> None:
    assert f_to_c(c_to_f(temp)) == pytest.approx(temp, abs=1e-9)
    assert c_to_f(f_to_c(temp)) == pytest.approx(temp, abs=1e-9)


@given(temperatures, st.floats(0, 50))
def test_a_difference_is_the_difference_of_the_two(temp_c: float, span_c: float) -> None:
    assert c_to_f(temp_c + span_c) - c_to_f(temp_c) == pytest.approx(span_c_to_f(span_c), abs=1e-9)
    assert figure(show_span(span_c, "us")) == pytest.approx(span_c_to_f(span_c), abs=0.501)


@given(temperatures, either, st.integers(0, 2))
def test_a_temperature_shown_is_off_by_half_its_last_digit_at_most(
    temp_c: float, units: Units, decimals: int
) -> None:
    shown = show_temp(temp_c, units, decimals)
    back = f_to_c(figure(shown)) if units == "us" else figure(shown)
    most = 0.5 * 10**-decimals / (1.8 if units == "us" else 1.0)
    assert back == pytest.approx(temp_c, abs=most + 1e-9)
    assert shown.endswith(" F" if units == "us" else " C")
    assert not shown.startswith("-0 ")


@given(st.integers(-130, 300))
def test_whole_degrees_come_back_as_typed(degrees: int) -> None:
    assert show_temp(f_to_c(degrees), "us") == f"{degrees} F"
    assert show_temp(float(degrees), "metric") == f"{degrees} C"


@given(st.integers(1, 2000))
def test_whole_inches_and_centimetres_come_back(length: int) -> None:
    assert show_length_cm(length * INCH_CM, "us") == f"{length} in"
    assert show_inches(length * INCH_CM, "us") == f"{length} in"
    assert figure(show_length_cm(float(length), "metric")) == length
    assert show_inches(float(length), "metric") == f"{length} cm"


@given(st.floats(0.1, 3000), either)
def test_a_length_shown_is_the_length(length_cm: float, units: Units) -> None:
    text = show_length_cm(length_cm, units)
    shown = figure(text) * (INCH_CM if units == "us" else 0.1 if text.endswith("mm") else 1.0)
    coarsest = 0.5 * (INCH_CM if units == "us" else 1.0)
    assert shown == pytest.approx(length_cm, abs=coarsest + 1e-9)
    if length_cm < INCH_CM:  # seed depths: to a twentieth
        assert shown == pytest.approx(length_cm, rel=0.06, abs=0.0501)


@given(st.integers(1, 500))
def test_rows_come_back(length: int) -> None:
    assert show_row(length * 30.48, "us") == f"{length} ft"
    assert show_row(length * 100.0, "metric") == f"{length} m"


FEET = st.sampled_from(("feet", "foot", "ft", "'"))
METRES = st.sampled_from(("m", "metres", "meters"))


@given(st.integers(1, 99), st.integers(1, 99), FEET)
def test_a_bed_typed_in_feet_is_shown_in_the_same_feet(across: int, along: int, unit: str) -> None:
    size = size_in(f"the bed is {across} by {along} {unit}", metric=False)
    assert size is not None
    width, length, told = size[:3]
    assert told
    for metres, feet in zip((width, length), sorted((across, along)), strict=True):
        assert show_number(Number("x", metres, "m"), "us", TODAY) == f"{feet} ft"
        assert metres == pytest.approx(feet * 0.3048, abs=0.0005)


@given(st.integers(1, 99), st.integers(1, 99), METRES)
def test_a_bed_typed_in_metres_is_shown_in_the_same_metres(across: int, along: int, unit: str) -> None:
    size = size_in(f"the bed is {across} by {along} {unit}", metric=True)
    assert size is not None
    shown = [show_number(Number("x", metres, "m"), "metric", TODAY) for metres in size[:2]]
    assert shown == [f"{metres} m" for metres in sorted((across, along))]


@given(st.dates(date(1900, 1, 1), date(2200, 12, 31)), st.dates(date(1900, 1, 1), date(2200, 12, 31)))
def test_a_date_shown_has_its_year_unless_it_is_this_one(day: date, today: date) -> None:
    shown = show_date(day, today).split()
    assert int(shown[0]) == day.day
    assert shown[1] == day.strftime("%b")
    assert shown[2:] == ([] if day.year == today.year else [str(day.year)])


@pytest.mark.parametrize(("count", "text"), [(1, "1 day"), (0, "0 days"), (2, "2 days"), (1.5, "1.5 days")])
def test_a_count_with_its_noun(count: float, text: str) -> None:
    assert plural(count, "day") == text
