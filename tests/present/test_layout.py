"""Layout: order, widths, units, and nothing typed ever reaches the terminal as a code."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.answer import Answer, Mark, Number, Table
from gardenmate.present.dateline import date_line
from gardenmate.present.layout import Look, plain
from gardenmate.present.text import encodable, harmless
from gardenmate.question import Question

TODAY = date(2027, 4, 18)


def example(headline: str = "Not too late: sow peppers now.") -> Answer:
    return Answer(
        question=Question(text="is it too late to start peppers?", topic="late-start"),
        verdict="tight",
        headline=headline,
        numbers=(
            Number("set_out", date(2027, 6, 10), "date", "set out"),
            Number("low_f", 50.0, "F", "nights above"),
            Number("low_c", 10.0, "C", "nights above"),
            Number("chance", 63, "%", "chance of a crop"),
        ),
        details=("Peppers need warm nights.",),
        table=Table(("crop", "set out"), (("pepper", "10 Jun"), ("tomato", "1 Jun"))),
        marks=(Mark("today", TODAY), Mark("set out", date(2027, 6, 10)), Mark("pick", date(2027, 8, 20))),
        steps=("Sow on a mat.", "Pot on."),
        changes=("A 60-day variety gains 10 days.", "A tunnel gains a week."),
        cautions=("Keep mains leads dry.",),
        assumptions=("10% frost risk",),
    )


@pytest.mark.parametrize("width", [40, 50, 60, 80, 120])
@pytest.mark.parametrize("linear", [True, False])
def test_no_line_is_wider_than_the_screen_and_no_figure_is_lost(width: int, linear: bool) -> None:
    text = plain(example(), Look(width, "us", TODAY, linear))
    assert max(len(line) for line in text.splitlines()) <= width
    for figure in ("10 Jun", "50 F", "63%", "TIGHT", "60-day", "tunnel"):
        assert figure in text
    assert "10 C" not in text


def test_order_is_verdict_numbers_reasons_changes_caution_assumed() -> None:
    text = plain(example(), Look(80, "metric", TODAY))
    spots = [text.index(s) for s in ("TIGHT", "10 C", "warm nights", "60-day", "mains", "10% frost")]
    assert spots == sorted(spots)


def test_linear_output_has_no_drawing() -> None:
    text = plain(example(), Look(80, "us", TODAY, linear=True))
    assert "---" not in text
    assert "|" not in text


@given(st.text(max_size=300))
def test_typed_text_never_carries_a_control_or_hidden_sign(typed: str) -> None:
    shown = plain(example(typed), Look(60, "us", TODAY))
    assert all(sign == "\n" or sign.isprintable() for sign in shown)


def test_escapes_bidi_and_zero_width_are_dropped() -> None:
    assert harmless("a\x1b[31mb\u202ec\u200bd\x00e") == "a[31mbcde"
    assert harmless("[bold]kale[/bold]") == "[bold]kale[/bold]"
    assert encodable("7 °C – ok", "ascii") == "7 ?C ? ok"


@given(
    st.lists(st.dates(date(2026, 1, 1), date(2028, 12, 31)), min_size=2, max_size=8),
    st.integers(min_value=20, max_value=120),
)
def test_the_date_line_fits_and_keeps_every_mark(days: list[date], width: int) -> None:
    marks = [Mark(f"m{i}", day) for i, day in enumerate(days)]
    lines = date_line(marks, TODAY, width)
    assert all(len(line) <= max(width, 26) for line in lines)
    for i in range(len(days)):
        assert f"m{i} " in " ".join(lines)
