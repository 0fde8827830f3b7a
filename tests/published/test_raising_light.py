"""Light and energy arithmetic against figures printed outside the project.

Every case names where both its inputs and its answer were printed.
"""

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.science import light
from tests.topics.raising_bench import ask, number

LUX = Facts().table("raising")["light"]["lux_per_umol"]
FOOT_CANDLES = Facts().table("raising")["light"]["foot_candles_per_umol"]


# Horticulturae 10(7):730, 2024, tomato plug seedlings: PPFD and hours of three treatments, and their DLI.
@pytest.mark.parametrize(("ppfd", "hours", "printed"), [(250, 12, 10.8), (250, 14, 12.6), (300, 12, 12.96)])
def test_dli_of_tomato_plug_treatments(ppfd: float, hours: float, printed: float) -> None:
    assert light.dli(ppfd, hours) == pytest.approx(printed, abs=0.005)


# Apogee Instruments, instantaneous-to-integrated PPFD conversion: 1 umol/m2/s round the clock.
def test_one_micromole_round_the_clock() -> None:
    assert light.dli(1, 24) == pytest.approx(0.0864, abs=5e-5)


# Spectrum Technologies support note on computing DLI from a quantum meter: 38.1 umol over 12 h, printed 1.6.
def test_dli_from_a_meter_reading() -> None:
    assert light.dli(38.1, 12) == pytest.approx(1.6, abs=0.06)


# Apogee Instruments conversion table PPFD to lux (based on HortScience 18(6):818-822, 1983).
@pytest.mark.parametrize(
    ("lamp", "ppfd", "printed_lux"),
    [("sun", 2000, 108_000), ("fluorescent", 300, 22_200), ("high-pressure-sodium", 600, 49_200)],
)
def test_lux_of_lamps(lamp: str, ppfd: float, printed_lux: float) -> None:
    assert light.ppfd_from_illuminance(printed_lux, LUX[lamp]) == pytest.approx(ppfd, abs=1)


# Apogee Instruments conversion table PPFD to foot-candles (same basis).
def test_foot_candles_of_full_sun() -> None:
    assert light.ppfd_from_illuminance(10_020, FOOT_CANDLES["sun"]) == pytest.approx(2000, abs=1)


# PARsource monthly light-map notes: 400 foot-candles of sodium light for 12 h, printed as 2.3 mol.
def test_foot_candle_hours_to_dli() -> None:
    ppfd = light.ppfd_from_illuminance(400, FOOT_CANDLES["high-pressure-sodium"])
    assert light.dli(ppfd, 12) == pytest.approx(2.3, abs=0.06)


# HortScience 53:1250-1257, 2018: constants 45 % and 4.48 umol/J, printed maps use 5000 Wh (18 MJ) -> 36.3 mol.
def test_sunlight_energy_to_dli() -> None:
    assert light.dli_from_sun_mj(18.0) == pytest.approx(36.3, abs=0.1)


# US Department of Energy appliance estimating method: window fan, 200 W, 4 h, 120 days, 8.5 cents a kWh.
def test_energy_of_a_fan() -> None:
    used = light.energy_kwh(200, 4, 120)
    assert used == pytest.approx(96.0, abs=0.005)
    assert used * 0.085 == pytest.approx(8.16, abs=0.005)


# Same method, two devices, 270 W, 4 h, 365 days: printed 394 kWh and 33.50.
def test_energy_of_two_devices() -> None:
    used = light.energy_kwh(270, 4, 365)
    assert used == pytest.approx(394.2, abs=0.5)
    assert used * 0.085 == pytest.approx(33.5, abs=0.02)


# Horticulture magazine, "Tips for healthy seedlings on a light stand": lamps 14 to 16 hours a day, then
# darkness.
@pytest.mark.parametrize("crop", ["tomato", "pepper", "cabbage", "lettuce/leaf"])
def test_hours_a_day_under_lamps(crop: str) -> None:
    """Within an hour at either end, the step of a timer."""
    reply = ask("heat-and-light", crop)
    assert number(reply, "lamp_hours_min") == pytest.approx(14, abs=1)
    assert number(reply, "lamp_hours_max") == pytest.approx(16, abs=1)


# Three distances printed for fluorescent tubes over seedlings: 2 to 3 in (Walnut Ridge), at most 4 in (Carolina
# Country), 3 to 5 in (Horticulture magazine).
def test_tubes_hang_a_hand_above_the_leaves() -> None:
    """Ours within an inch of the nearest and of the farthest of them."""
    low, high = Facts().table("raising")["light"]["fluorescent_in"]
    assert 1 <= low <= 4
    assert 2 <= high <= 6
    assert low <= high
