"""Layout: order, widths, units, and nothing typed ever reaches the terminal as a code."""

from __future__ import annotations

import re
from datetime import date
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.core.answer import Answer, Mark, Number, Table
from gardenmate.core.question import Request, Sense
from gardenmate.core.text import encodable, harmless
from gardenmate.present.layout import Look, layout, plain
from gardenmate.present.screen import STYLES, write_lines

TODAY = date(2027, 4, 18)


def example(headline: str = "Not too late: sow peppers now.") -> Answer:
    return Answer(
        question=Request(
            "is it too late to start peppers?", "late-start", sense=Sense(polar=True, turned=True)
        ),
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


def test_one_line_blocks_stand_close_and_larger_ones_free() -> None:
    bare = Answer(question=Request("q", "log"), verdict=None, headline="Noted: sowed 48 peppers.")
    assert plain(bare, Look(80, "us", TODAY)) == "Noted: sowed 48 peppers.\n"
    lines = plain(example(), Look(80, "us", TODAY)).splitlines()
    assert lines[lines.index("Peppers need warm nights.") - 1] == ""
    assert "" not in plain(example(), Look(80, "us", TODAY, linear=True)).splitlines()


def test_an_average_frost_is_told_once_by_the_block_or_by_the_date_line() -> None:
    frost = date(2027, 5, 17)
    answer = Answer(
        question=Request("q", "late-start"),
        verdict="yes",
        headline="Not too late.",
        numbers=(Number("last_frost", frost, "date", "average last frost"), Number("n", 1, "", "one")),
        marks=(Mark("today", TODAY), Mark("last frost", frost)),
    )
    drawn = plain(answer, Look(80, "us", TODAY))
    read_out = plain(answer, Look(80, "us", TODAY, linear=True))
    assert "average last frost" not in drawn
    assert "last frost 17 May" in drawn
    assert "average last frost: 17 May" in read_out


def test_figures_of_one_crop_of_several_stay_out_of_the_common_block() -> None:
    answer = Answer(
        question=Request("q", "how-many"),
        verdict=None,
        headline="Two crops.",
        numbers=(
            Number("seeds", 40, "seeds", "seeds", crop="leek"),
            Number("seeds", 60, "seeds", "seeds", crop="kale"),
            Number("trays", 2, "trays", "trays in all"),
        ),
    )
    shown = plain(answer, Look(80, "us", TODAY))
    assert "trays in all  2 trays" in shown
    assert "40 seeds" not in shown


def test_colour_adds_escape_codes_only_and_plain_has_none() -> None:
    coloured, bare = StringIO(), StringIO()
    look = Look(60, "us", TODAY)
    write_lines(layout(example(), look), 60, coloured, colour=True)
    write_lines(layout(example(), look), 60, bare, colour=False)
    assert "\x1b" not in bare.getvalue()
    stripped = re.sub(r"\x1b\[[0-9;]*m", "", coloured.getvalue())
    assert [line.rstrip() for line in stripped.splitlines()] == bare.getvalue().splitlines()


def test_every_style_of_a_layout_has_a_look() -> None:
    styles = {piece.style for line in layout(example(), Look(80, "us", TODAY)) for piece in line}
    assert styles - {""} <= set(STYLES)


def test_markup_in_a_text_is_shown_as_it_is() -> None:
    stream = StringIO()
    lines = layout(example("No place called '[red]Bath[/red]'."), Look(80, "us", TODAY))
    write_lines(lines, 80, stream, colour=True)
    assert "[red]Bath[/red]" in stream.getvalue()
