"""Critical bud temperatures in full, against the published tables they were taken from."""

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.plants import bud_kills

FACTS = Facts()
EVERY_BUD_KILL = [
    table
    for base in sorted({FACTS.table(f"woody/{i}")["base"] for i in FACTS.ids("woody")})
    for table in bud_kills(FACTS, base)
]

# Old standard, 10% kill, 90% kill (F; None where the table has a dash). Washington State University bulletins
# EB0913 (apple), EB0978 (pear), EB0914 (peach), EB1240 (apricot), EB1128 (sweet cherry) and Michigan State
# University Research Report 220 (tart cherry), as compiled by Michigan State University Extension (Picture
# Table of Critical Spring Temperatures, 2021), Penn State Extension (Orchard Frost) and Utah State
# (IPM-012-11).
N = None
TABLES = {
    "apple": [(16, 15, 2), (16, 18, 10), (22, 23, 15), (27, 27, 21), (27, 28, 24), (28, 28, 25), (28, 28, 25),
              (29, 28, 25), (29, 28, 25)],
    "pear": [(18, 15, 0), (23, 20, 6), (24, 24, 15), (28, 25, 19), (29, 26, 22), (29, 27, 23), (29, 28, 24),
             (30, 28, 24)],
    "peach": [(23, 18, 1), (N, 21, 5), (N, 23, 9), (25, 25, 15), (N, 26, 21), (27, 27, 24), (30, 28, 25)],
    "apricot": [(N, 15, N), (23, 20, 0), (N, 22, 9), (25, 24, 14), (N, 25, 19), (28, 27, 22), (N, 27, 24),
                (31, 28, 25)],
    "plum": [(N, 14, 0), (N, 17, 3), (N, 20, 7), (N, 24, 16), (23, 26, 22), (27, 27, 23),
                      (27, 28, 23), (30, 28, 23)],
    "sweet-cherry": [(23, 17, 5), (23, 22, 9), (25, 25, 14), (28, 26, 17), (28, 27, 21), (29, 27, 24),
                     (29, 28, 25), (29, 28, 25), (30, 28, 25)],
    "tart-cherry": [(N, 15, 0), (N, 24, 10), (N, 26, 22), (N, 26, 24), (N, 28, 24), (N, 28, 24), (N, 28, 24),
                    (N, 28, 24), (N, 28, 25)],
}  # fmt: skip
# FAO, Frost Protection: fundamentals, practice and economics (2005), table 4.8, Concord grape, degrees C.
GRAPE_C = [
    (-10.6, -19.4),
    (-6.1, -12.2),
    (-3.9, -8.9),
    (-2.8, -6.1),
    (-2.2, -5.6),
    (-2.2, -3.3),
    (-2.2, -2.8),
]


def fruit(name: str) -> list[dict[str, float]]:
    return next(f for f in EVERY_BUD_KILL if f["id"] == name)["stage"]


@pytest.mark.parametrize("name", sorted(TABLES))
def test_kill_temperatures(name: str) -> None:
    keys = ("old_standard_f", "kill10_f", "kill90_f")
    assert [tuple(stage.get(k) for k in keys) for stage in fruit(name)] == TABLES[name]


def test_grape_agrees_with_the_celsius_table() -> None:
    for stage, (ten, ninety) in zip(fruit("grape"), GRAPE_C, strict=True):
        assert (stage["kill10_f"] - 32) / 1.8 == pytest.approx(ten, abs=0.35)
        assert (stage["kill90_f"] - 32) / 1.8 == pytest.approx(ninety, abs=0.35)


def test_blueberry_tolerances() -> None:
    """Michigan State University Extension, Critical Spring Temperatures (blueberry stages), degrees F."""
    ranges = [tuple(s["tolerates_f"]) for s in fruit("highbush-blueberry") if "tolerates_f" in s]
    assert ranges == [(-30, -20), (10, 15), (20, 23), (23, 25), (24, 27), (28, 28)]


@pytest.mark.parametrize("name", sorted([*TABLES, "grape"]))
def test_buds_grow_more_tender_with_every_stage(name: str) -> None:
    """Ten percent die before ninety do, and no later stage is hardier (true of the published tables too)."""
    stages = fruit(name)
    for stage in stages:
        assert stage.get("kill90_f", -99) < stage["kill10_f"]
    tens = [s["kill10_f"] for s in stages]
    assert tens == sorted(tens)


def test_every_table_names_sources_that_resolve() -> None:
    for table in EVERY_BUD_KILL:
        assert table["sources"]
        for source in table["sources"]:
            assert FACTS.source(source).title
