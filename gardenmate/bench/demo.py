"""Demo conversations played: every turn answered as the program answers it now."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from textwrap import wrap

from gardenmate.bench.transcripts import TranscriptPiece, read
from gardenmate.bench.turn import Bench
from gardenmate.core.errors import DamagedFileError
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Line, Look, Piece, line_text
from gardenmate.records import dataclass, field

WIDTH = 80  # columns a demo is played in where none are given


@dataclass(slots=True)
class Scene:
    """What the scene lines have set so far."""

    today: date = date(2027, 4, 18)
    options: PlaceOptions = field(default_factory=PlaceOptions)
    units: str | None = None
    width: int = WIDTH
    full: bool = False


@dataclass(frozen=True, slots=True)
class Played:
    """A piece as it is played: what the program says to it now (no lines for notes and scenes)."""

    piece: TranscriptPiece
    lines: tuple[Line, ...]
    width: int

    @property
    def said(self) -> str:
        """The lines as plain text."""
        return "\n".join(line_text(line) for line in self.lines)


def play(path: Path, home: Path) -> Iterator[Played]:
    """Each piece with what the program answers now.

    Garden and journal are kept in ``home``, so a conversation may store and use them.
    """
    scene = Scene()
    journal = Journal(journal_path(home))
    conversation = Conversation(
        facts=Facts(),
        clock=lambda: scene.today,
        garden_file=GardenFile(garden_path(home)),
        journal=journal,
    )
    bench = Bench(conversation)
    bench.screen.hints = 0
    try:
        for piece in read(path):
            if piece.kind == "scene":
                _set(scene, piece.text, conversation, path)
                bench.screen.full = scene.full
            lines: list[Line] = []
            if piece.kind == "turn":
                look = Look(scene.width, conversation.shown_units(), scene.today)
                lines = bench.turn(piece.text, look)
            yield Played(piece, tuple(lines), scene.width)
    finally:
        journal.close()


def _set(scene: Scene, text: str, conversation: Conversation, path: Path) -> None:
    for part in text.split("|"):
        name, _, value = part.strip().partition(" ")
        if name == "today":
            scene.today = date.fromisoformat(value)
        elif name == "place":
            conversation.options = PlaceOptions(place=value)
        elif name == "units" and value in ("us", "metric"):
            conversation.units = "us" if value == "us" else "metric"
        elif name == "full":
            scene.full = value != "off"
        elif name == "width":
            scene.width = int(value)
        else:
            raise DamagedFileError(f"{path}: the scene '{part.strip()}' is not known.")


def shown(path: Path) -> list[Line]:
    """A whole conversation as lines: what is typed, and the answers of today."""
    lines: list[Line] = []
    with tempfile.TemporaryDirectory() as home:
        for played in play(path, Path(home)):
            if played.piece.kind == "note":
                lines += [(Piece(part),) for part in wrap(played.piece.text, WIDTH)]
            elif played.piece.kind == "turn":
                lines += [(), (Piece(f"> {played.piece.text}", "strong"),), *played.lines]
    return lines
