"""Figures as a grower reads them: whole degrees, whole days, cents, the grower's own units."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Number
from gardenmate.present.figures import is_for, show_number

TODAY = date(2027, 4, 18)


@pytest.mark.parametrize(
    ("value", "unit", "us", "metric"),
    [
        (date(2027, 6, 6), "date", "6 Jun", "6 Jun"),
        (date(2028, 2, 29), "date", "29 Feb 2028", "29 Feb 2028"),
        (98.24, "F", "98 F", "98 F"),
        (-0.2, "C", "0 C", "0 C"),
        (-2.4, "C", "-2.5 C", "-2.5 C"),
        (27.8, "C", "28 C", "28 C"),
        (11.4, "days", "11 days", "11 days"),
        (8.0, "days", "8 days", "8 days"),
        (7.5, "days", "7.5 days", "7.5 days"),
        (1, "days", "1 day", "1 day"),
        (1.0, "weeks", "1 week", "1 week"),
        (80, "%", "80%", "80%"),
        (13.5, "money", "13.50 money", "13.50 money"),
        (1250, "seeds", "1,250 seeds", "1,250 seeds"),
        (0.14, "kWh", "0.14 kWh", "0.14 kWh"),
        # NIST Handbook 44, Appendix C: 1 ft = 0.3048 m, 1 in = 2.54 cm, 1 gal = 3.785 412 L.
        (12.192, "m", "40 ft", "12.2 m"),
        (45.72, "cm", "18 in", "45.7 cm"),
        (7.570824, "litres", "2 gal", "7.6 litres"),
        (0.946353, "l", "1 qt", "0.95 l"),
        ("14 to 16", "hours", "14 to 16 hours", "14 to 16 hours"),
        ("4 in pot", "", "4 in pot", "4 in pot"),
        (12, "", "12", "12"),
    ],
)  # fmt: skip
def test_figures_are_rounded_to_what_they_are_worth(value: object, unit: str, us: str, metric: str) -> None:
    number = Number("n", value, unit, "label")  # type: ignore[arg-type]
    assert show_number(number, "us", TODAY) == us
    assert show_number(number, "metric", TODAY) == metric


def test_a_temperature_is_shown_in_one_unit_only() -> None:
    assert is_for(Number("low_f", 50.0, "F", "low"), "us")
    assert not is_for(Number("low_f", 50.0, "F", "low"), "metric")
    assert is_for(Number("low_c", 10.0, "C", "low"), "metric")


def test_hidden_unlabelled_and_empty_figures_stay_out() -> None:
    assert not is_for(Number("n", 1, "", "label", shown=False), "us")
    assert not is_for(Number("n", 1, ""), "us")
    assert not is_for(Number("n", None, "date", "label"), "us")
