"""Light arithmetic: round trips, limits, and refusal of impossible input."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.science import light

ppfds = st.floats(1, 2000)
day_hours = st.floats(0.5, 24)


@given(ppfds, day_hours)
def test_hours_and_ppfd_undo_dli(ppfd: float, hours: float) -> None:
    target = light.dli(ppfd, hours)
    assert light.hours_for(target, ppfd) == pytest.approx(hours)
    assert light.ppfd_for(target, hours) == pytest.approx(ppfd)


@given(st.floats(1, 500), st.floats(0.5, 3), st.floats(0.2, 1), st.floats(0.05, 5))
def test_lamp_round_trip(watts: float, efficacy: float, share: float, area: float) -> None:
    ppfd = light.lamp_ppfd(watts, efficacy, share, area)
    assert light.lamp_watts(ppfd, efficacy, share, area) == pytest.approx(watts)


def test_a_thermostat_halves_the_energy() -> None:
    assert light.energy_kwh(20, 24, 14, duty=0.5) == pytest.approx(light.energy_kwh(20, 24, 14) / 2)


@pytest.mark.parametrize(
    "call",
    [
        lambda: light.dli(-1, 12),
        lambda: light.hours_for(10, 0),
        lambda: light.ppfd_for(10, 0),
        lambda: light.ppfd_from_illuminance(1000, 0),
        lambda: light.lamp_ppfd(40, 2.3, 0.7, 0),
        lambda: light.energy_kwh(-5, 24, 14),
    ],
)
def test_impossible_input_is_named(call: object) -> None:
    with pytest.raises(ValueError, match=r"must (not be negative|be above zero)"):
        call()  # type: ignore[operator]


def test_a_mat_on_its_thermostat_for_two_weeks() -> None:
    assert light.energy_kwh(20, 24, 14, duty=0.5) == pytest.approx(3.36, abs=0.005)


def test_leds_over_a_shelf_for_six_weeks() -> None:
    """A 4 x 2 ft shelf at 200 umol/m2/s, 2.3 umol/J, seven tenths of the light on the plants, 16 hours."""
    watts = light.lamp_watts(200, 2.3, 0.7, 0.743)
    assert watts == pytest.approx(92.3, abs=0.1)
    assert light.energy_kwh(watts, 16, 42) == pytest.approx(62.0, abs=0.1)
    assert light.dli(200, 16) == pytest.approx(11.52)
