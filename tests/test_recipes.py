"""The recipes of DEVELOPERS.md, carried out on a copy: a topic joins the others and costs them nothing.

The recipe for a crop is carried out by tests/knowledge/test_cloned_plants.py.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
HELD_OUT = ROOT / "tests" / "language" / "held_out.jsonl"
READ = """
import json, sys
from datetime import date
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
talk = Conversation(Facts(), lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"), "us", remembers=False)
print(json.dumps([talk.understand(text).topic for text in json.load(sys.stdin)]))
"""
RULE = """
from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World


def answer(question: Request, world: World) -> Answer:
    return Answer(question, None, "Bees fly from about 50 F.")
"""
LINE = """
[[line]]
act = "ask"
verb = ""
topic = "bees"
phrases = ["^ when do bees fly"]
examples = ["when do bees fly"]
"""


def replaced(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert text.count(old) == 1, path
    path.write_text(text.replace(old, new), "utf-8")


def topics(root: Path, texts: list[str]) -> list[str]:
    done = subprocess.run(
        [sys.executable, "-c", READ], input=json.dumps(texts), cwd=root, capture_output=True, text=True, check=True,
        timeout=120,
    )  # fmt: skip
    found: list[str] = json.loads(done.stdout)
    return found


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A checkout with the topic "bees" added by the recipe."""
    root = tmp_path_factory.mktemp("checkout")
    unwanted = shutil.ignore_patterns("__pycache__", "_compiled")
    shutil.copytree(ROOT / "gardenmate", root / "gardenmate", ignore=unwanted)
    shutil.copytree(ROOT / "knowledge", root / "knowledge")
    room = root / "gardenmate" / "topics" / "bees"
    room.mkdir()
    (room / "__init__.py").write_text("")
    (room / "answer.py").write_text(RULE)
    replaced(
        root / "gardenmate" / "core" / "question.py", '    "explain",\n', '    "explain",\n    "bees",\n'
    )
    registry = root / "gardenmate" / "topics" / "registry.py"
    replaced(
        registry,
        '    "explain": "explain.answer",\n',
        '    "explain": "explain.answer",\n    "bees": "bees.answer",\n',
    )
    decisive = root / "knowledge" / "language" / "decisive.toml"
    decisive.write_text(decisive.read_text("utf-8") + LINE, "utf-8")
    return root


def test_the_new_topic_is_read_and_answered(copy: Path) -> None:
    assert topics(copy, ["when do bees fly?"]) == ["bees"]
    done = subprocess.run(
        [sys.executable, "-m", "gardenmate", "ask", "--no-garden", "when do bees fly?"],
        cwd=copy, capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert done.stdout.startswith("Bees fly from about 50 F.")


def test_the_other_topics_are_read_as_before(copy: Path) -> None:
    rows = [json.loads(line) for line in HELD_OUT.read_text("utf-8").splitlines()]
    texts = [row["q"] for row in rows if not row.get("prev")]
    assert topics(copy, texts) == topics(ROOT, texts)
