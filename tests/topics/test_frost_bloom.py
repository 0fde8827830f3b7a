"""Blossom on a cold night, and woody plants in winter cold."""

import pytest

from gardenmate.core.units import f_to_c
from gardenmate.knowledge.plants import bud_kills
from gardenmate.topics.frost.buds import BudStage, killed_share, stages
from tests.topics.raising_bench import FACTS, ask, bare_world, number

F = "frost"


@pytest.mark.parametrize(
    ("crop", "stage", "low_f", "verdict"),
    [
        ("cherry/sweet", "bloom", 28, "tight"),
        ("cherry", "bloom", 28, "tight"),
        ("cherry/sweet", "bloom", 31, "yes"),
        ("cherry/sweet", "bloom", 25, "no"),
        ("apple", "tight_cluster", 24, "tight"),  # half the buds: an apple can spare them
        ("apple", "bloom", 25, "no"),
        ("apple", "bud_swell", 20, "yes"),
        ("peach", "pink", 25, "tight"),
        ("blueberry", "bloom", 30, "yes"),
        ("blueberry", "bloom", 27, "tight"),
        ("blueberry", "bloom", 22, "no"),
        ("grape", "leafed_out", 24, "no"),
    ],
)
def test_verdicts(crop: str, stage: str, low_f: float, verdict: str) -> None:
    assert ask(F, crop, f=low_f, cues={"bud_stage": stage}).verdict == verdict


def test_cherries_of_unsaid_kind_are_answered_for_both() -> None:
    reply = ask(F, "cherry", f=28, cues={"bud_stage": "bloom"})
    assert "sweet cherry at full bloom (about 10% killed)" in reply.headline
    assert "tart cherry at full bloom (about 10% killed)" in reply.headline
    assert {n.crop for n in reply.numbers if n.name == "kill_90_f"} == {"sweet-cherry", "tart-cherry"}


def test_without_a_stage_the_table_tells() -> None:
    reply = ask(F, "apple", f=24)
    assert reply.verdict is None
    assert reply.headline.startswith("It depends on the stage")
    assert reply.table is not None
    assert len(reply.table.rows) == 9
    assert any("Tell me the stage" in c for c in reply.changes)


def test_without_a_low_the_figures_are_given() -> None:
    reply = ask(F, "peach", cues={"bud_stage": "bloom"})
    assert reply.verdict is None
    assert number(reply, "kill_10_f") == 27
    assert number(reply, "kill_90_f") == 24


def test_no_table_no_guess() -> None:
    reply = ask(F, "currant", f=27, cues={"bud_stage": "bloom"})
    assert reply.verdict is None
    assert "won't guess" in reply.headline


def test_share_killed_between_and_beyond_the_two_figures() -> None:
    row = BudStage("x", "x", "bloom", f_to_c(28), f_to_c(24), None, "kill")
    assert killed_share(row, f_to_c(26)) == pytest.approx(0.5)
    assert killed_share(row, f_to_c(29)) == 0.0
    assert killed_share(row, f_to_c(20)) == 1.0
    assert killed_share(BudStage("x", "x", "bloom", None, None, None, "kill"), 0.0) is None


def test_every_stage_of_every_fruit_can_be_asked() -> None:
    for fruit in (t for i in FACTS.ids("woody") for t in bud_kills(FACTS, FACTS.table(f"woody/{i}")["base"])):
        crop = f"{fruit['base']}/{fruit['kind']}" if fruit["kind"] else fruit["base"]
        for stage in stages(fruit):
            if stage.phase == "dormant":
                continue
            reply = ask(F, crop, f=10, cues={"bud_stage": stage.phase})
            assert reply.verdict in ("yes", "tight", "no"), (fruit["id"], stage.phase)
            assert reply.headline.endswith(".")


# -- winter --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("plant", "low_c", "verdict"),
    [("fig", -15.0, "no"), ("fig", -8.0, "tight"), ("fig", -3.0, "yes"), ("apple", -20.0, "yes"),
     ("peach", -25.0, "no"), ("citrus", -8.0, "no"), ("raspberry", -20.0, "yes")],
)  # fmt: skip
def test_winter_cold(plant: str, low_c: float, verdict: str) -> None:
    assert ask(F, plant, c=low_c, world=bare_world(units="metric")).verdict == verdict


def test_fig_on_a_wall_at_minus_15() -> None:
    reply = ask(F, "fig", c=-15.0, world=bare_world(units="metric"))
    assert reply.headline.startswith("-15 C is colder than figs can take")
    assert any("roots" in d for d in reply.details)


def test_no_published_winter_figure_is_declined() -> None:
    reply = ask(F, "kiwi", c=-15.0)
    assert reply.verdict is None
    assert "no published figure" in reply.headline


def test_fruit_and_vegetables_together() -> None:
    reply = ask(F, "tomato", "apple", f=28, cues={"bud_stage": "bloom"})
    assert "Tomatoes won't survive" in reply.headline
    assert "apple at full bloom" in reply.headline


def test_a_stage_without_a_low_is_told_in_the_headline() -> None:
    reply = ask(F, "apple", cues={"bud_stage": "bloom"})
    assert "losses begin near 28 F and nearly all are gone near 25 F" in reply.headline


def test_two_fruits_at_one_named_stage_say_so() -> None:
    reply = ask(F, "apple", "pear", f=27, cues={"bud_stage": "bloom"})
    assert any("All of them are at the stage" in a for a in reply.assumptions)


def test_a_stage_is_named_as_it_is_said_and_no_kill_is_little_loss() -> None:
    for fruit in ("apricot", "peach", "plum"):
        reply = ask("frost", fruit, f=28.4, role="low", cues={"bud_stage": "petal_fall"})
        assert "at in the" not in reply.headline
        if number(reply, "killed_pct") == 0:
            assert not reply.headline.startswith("Expect some loss")
