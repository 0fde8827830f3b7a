"""Every demo conversation is replayed word for word, and together they show what the README promises."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest

from gardenmate.bench.demo import play
from gardenmate.bench.transcripts import read, transcripts
from gardenmate.cli import demo

PATHS = transcripts()
LEAST = 10


@pytest.mark.parametrize("path", PATHS, ids=lambda p: p.stem)
def test_the_program_still_says_this_word_for_word(path: Path, tmp_path: Path) -> None:
    kept, now = path.read_text("utf-8"), demo.refreshed(path, tmp_path)
    if kept != now:
        lines = difflib.unified_diff(kept.splitlines(), now.splitlines(), "kept", "now", lineterm="", n=2)
        pytest.fail(
            "\n".join(lines) + f"\n\n{path.name} is answered differently now. If that is meant, take it in "
            f"with 'python -m gardenmate.cli.demo refresh {path.stem}' and read it before you keep it.",
            pytrace=False,
        )


def test_there_are_conversations_enough_over_spring_and_autumn() -> None:
    assert len(PATHS) >= LEAST
    scenes = [p.text for path in PATHS for p in read(path) if p.kind == "scene"]
    days = {part.split()[1] for text in scenes for part in text.split(" | ") if part.startswith("today ")}
    months = {int(day[5:7]) for day in days}
    assert {3, 4, 5, 9} <= months


def test_no_answer_is_empty_or_wider_than_its_scene(tmp_path: Path) -> None:
    for path in PATHS:
        for played in play(path, tmp_path / path.stem):
            if played.piece.kind == "turn":
                assert played.said.strip(), f"{path.name}: {played.piece.text}"
                assert max(map(len, played.said.splitlines())) <= played.width
