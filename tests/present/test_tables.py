"""Tables: columns where they fit, the widest column folded, else a labelled sentence for each row."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from gardenmate.core.answer import Table
from gardenmate.present.tables import table_lines

BILL = Table(("", "bought", "seed"), (("plants", "$13.50", ""), ("each", "$0.75", "$0.52")))
WAYS = Table(
    ("way", "best for", "from year"),
    (("coppice", "least labour, large easily picked heads, one late harvest", "2"),),
)
_WORDS = st.text(st.sampled_from("abc 12"), max_size=30).map(str.strip)


def test_columns_line_up_and_figures_stand_right() -> None:
    assert table_lines(BILL, 60) == [
        "        bought   seed",
        "plants  $13.50",
        "each     $0.75  $0.52",
    ]


def test_the_widest_column_is_folded_before_a_table_is_given_up() -> None:
    assert table_lines(WAYS, 44) == [
        "way      best for                  from year",
        "coppice  least labour, large               2",
        "         easily picked heads, one",
        "         late harvest",
    ]


def test_a_table_too_wide_is_read_row_by_row() -> None:
    assert " ".join(line.strip() for line in table_lines(WAYS, 26)) == (
        "coppice - best for: least labour, large easily picked heads, one late harvest; from year: 2"
    )
    assert table_lines(BILL, 60, stacked=True)[0] == "plants - bought: $13.50"


def test_an_empty_column_is_left_out() -> None:
    assert table_lines(Table(("a", "b", "c"), (("1", "", "3"),)), 60) == ["a  c", "1  3"]


@given(
    st.integers(1, 5).flatmap(
        lambda n: st.lists(st.tuples(*[_WORDS.filter(bool)] * n), min_size=1, max_size=5)
    ),
    st.integers(min_value=32, max_value=100),
)
def test_no_line_is_wider_and_no_word_is_lost(rows: list[tuple[str, ...]], width: int) -> None:
    heads = tuple(f"h{i}" for i in range(len(rows[0])))
    lines = table_lines(Table(heads, tuple(rows)), width)
    assert max(map(len, lines)) <= width
    said = "".join("".join(lines).split())
    for row in rows:
        for cell in row:
            for word in cell.split():
                assert word in said
