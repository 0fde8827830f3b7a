"""Shared by the journal's tests: an invented garden's decisions."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from gardenmate.core.effects import LogDecision
from gardenmate.core.world import Decision
from gardenmate.journal.store import Journal

KEEP: dict[str, Any] = {"place": "Larch Hollow", "answer": None, "knowledge_version": "test"}


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A journal's path whose folder does not exist yet."""
    return tmp_path / "home" / "journal.db"


@pytest.fixture
def journal(path: Path) -> Journal:
    """An empty journal."""
    return Journal(path)


@pytest.fixture
def log(journal: Journal) -> Callable[..., Decision]:
    """Records one decision: log("planted 12 leeks", "leek", count=12)."""

    def record(
        text: str,
        *crops: str,
        on: date = date(2027, 4, 18),
        action: str = "plant",
        count: float | None = None,
    ) -> Decision:
        kept = journal.apply(LogDecision(action, text, on, crops, count), **KEEP)
        assert kept is not None
        return kept

    return record
