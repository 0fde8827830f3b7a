"""What was read is what is answered: no topic, act or crop is decided a second time behind language."""

from __future__ import annotations

import ast
from pathlib import Path

from tests.bench.second_decisions import decided_again

TOPICS = Path(__file__).resolve().parents[2] / "gardenmate" / "topics"
HANDED_ON = {
    ("agenda", "season.answer.answer"),  # what can still be started: the season's own verdict, crop by crop
    ("frame", "frost.covers.answer_covers"),
    ("frost", "garden.compare.season_asked"),
    ("garden", "frost.dates.answer_dates"),
    ("propagation", "pruning.perennial_care.care_answer"),
    ("safety", "pruning.answer.not_covered"),
    ("season", "frame.answer.lives_in_house"),
    ("season", "seedlings.planting_heat.answer"),
    ("season", "seedlings.hardening_begun.too_short"),
}
"""(room, the function of another room whose whole answer it gives): may only shrink. The topic read stays that of the
question; what differs is which of two rooms knows the answer."""


def test_trace_and_answer_agree() -> None:
    """Every twelfth of the labelled lines here; all 4,171 by tests/bench/second_decisions.py (0 on 1 December 2026)."""
    assert list(decided_again(every=12)) == []


def test_no_more_rooms_hand_their_question_on() -> None:
    found = set()
    for path in TOPICS.rglob("*.py"):
        room = path.relative_to(TOPICS).parts[0]
        tree = ast.parse(path.read_text("utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("gardenmate.topics."):
                other = str(node.module).removeprefix("gardenmate.topics.")
                if other.split(".")[0] not in (room, "shared", "registry"):
                    found |= {(room, name) for name in _answers(other, [a.name for a in node.names], tree)}
    assert found <= HANDED_ON


def _answers(module: str, names: list[str], user: ast.Module) -> set[str]:
    """The names imported from a module of topics, and the functions used of a module imported whole, that answer."""
    found = set()
    for name in names:
        whole = TOPICS / module.replace(".", "/") / f"{name}.py"
        if whole.exists():
            used = {
                n.attr
                for n in ast.walk(user)
                if isinstance(n, ast.Attribute) and isinstance(n.value, ast.Name) and n.value.id == name
            }
            found |= {f"{module}.{name}.{one}" for one in used & _answering(whole)}
        elif (file := TOPICS / f"{module.replace('.', '/')}.py").exists() and name in _answering(file):
            found.add(f"{module}.{name}")
    return found


def _answering(path: Path) -> set[str]:
    """The functions of a file that return an Answer."""
    tree = ast.parse(path.read_text("utf-8"))
    return {
        node.name
        for node in tree.body
        if isinstance(node, ast.FunctionDef)
        and node.returns is not None
        and "Answer" in ast.unparse(node.returns)
    }
