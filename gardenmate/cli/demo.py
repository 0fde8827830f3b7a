"""Demo conversations: reads, plays and replays the files of transcripts_demo.

A file holds, line by line:
    # words for the reader                     (shown when it is played)
    @ today 2027-04-18 | place Duluth | units metric | width 50
                                               (sets the scene, also between turns)
    > what the grower types
    the answer, word for word, up to the next line that starts with one of the three signs
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Literal

from gardenmate.core.errors import DamagedFileError, UsageError
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.reader import data_root
from gardenmate.present.layout import Line, Look, line_text

WIDTH = 80


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a transcript: a word to the reader, a scene, or a turn with its expected answer."""

    kind: Literal["note", "scene", "turn"]
    text: str
    answer: str = ""


@dataclass(slots=True)
class Scene:
    """What the scene lines have set so far."""

    today: date = date(2027, 4, 18)
    options: PlaceOptions = field(default_factory=PlaceOptions)
    units: str | None = None
    width: int = WIDTH


def transcripts() -> list[Path]:
    """Every demo conversation, in the order of its name."""
    return sorted((data_root() / "transcripts_demo").glob("*.txt"))


def read(path: Path) -> list[Piece]:
    """The pieces of one transcript. Raises DamagedFileError for an answer before any turn."""
    pieces: list[Piece] = []
    answer: list[str] = []

    def close() -> None:
        if pieces and pieces[-1].kind == "turn":
            last = pieces.pop()
            pieces.append(Piece("turn", last.text, "\n".join(answer).strip("\n")))
        answer.clear()

    for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1):
        sign, text = line[:2], line[2:]
        if sign in ("# ", "#"):
            close()
            pieces.append(Piece("note", text))
        elif sign == "@ ":
            close()
            pieces.append(Piece("scene", text))
        elif sign == "> ":
            close()
            pieces.append(Piece("turn", text))
        elif pieces and pieces[-1].kind == "turn":
            answer.append(line)
        elif line.strip():
            raise DamagedFileError(f"{path}, line {number}: an answer stands before any question.")
    close()
    return pieces


@dataclass(frozen=True, slots=True)
class Played:
    """A piece as it is played: what the program says to it now (no lines for notes and scenes)."""

    piece: Piece
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
    from gardenmate.bench.turn import turn
    from gardenmate.garden.store import GardenFile, garden_path, journal_path
    from gardenmate.journal.store import Journal

    scene = Scene()
    journal = Journal(journal_path(home))
    conversation = Conversation(
        facts=Facts(),
        clock=lambda: scene.today,
        garden_file=GardenFile(garden_path(home)),
        journal=journal,
    )
    try:
        for piece in read(path):
            if piece.kind == "scene":
                _set(scene, piece.text, conversation, path)
            lines: list[Line] = []
            if piece.kind == "turn":
                look = Look(scene.width, conversation.shown_units(), scene.today)
                lines = turn(conversation, piece.text, look)
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
        elif name == "width":
            scene.width = int(value)
        else:
            raise DamagedFileError(f"{path}: the scene '{part.strip()}' is not known.")


def refreshed(path: Path, home: Path) -> str:
    """The transcript with every answer as the program gives it now."""
    lines: list[str] = []
    signs = {"note": "# ", "scene": "@ ", "turn": "> "}
    for played in play(path, home):
        piece = played.piece
        text = f"{signs[piece.kind]}{piece.text}".rstrip()
        if lines and (piece.kind == "turn" or not lines[-1].startswith(("#", "@"))):
            lines.append("")
        lines.append(text)
        if piece.kind == "turn":
            lines.append(played.said)
    return "\n".join(lines).strip("\n") + "\n"


def refresh(paths: Sequence[Path]) -> list[Path]:
    """Write the answers of today's program into the transcripts; the ones that changed."""
    import tempfile

    changed = []
    for path in paths:
        with tempfile.TemporaryDirectory() as home:
            text = refreshed(path, Path(home))
        if text != path.read_text("utf-8"):
            path.write_text(text, "utf-8")
            changed.append(path)
    return changed


def run(options: argparse.Namespace) -> int:
    """`gardenmate demo`: list the conversations, or play the one named."""
    import tempfile

    from gardenmate.cli.main import colourful
    from gardenmate.present.screen import write_lines

    if not options.name:
        for path in transcripts():
            print(f"{path.stem}: {_title(path)}")
        print("gardenmate demo NAME plays one.")
        return 0
    colour = colourful(sys.stdout, options)
    with tempfile.TemporaryDirectory() as home:
        for played in play(chosen(options.name), Path(home)):
            if played.piece.kind == "note":
                print(played.piece.text)
            elif played.piece.kind == "turn":
                print(f"\n> {played.piece.text}")
                write_lines(played.lines, played.width, sys.stdout, colour=colour)
            sys.stdout.flush()
    return 0


def _title(path: Path) -> str:
    return next((p.text for p in read(path) if p.kind == "note"), "")


def chosen(name: str) -> Path:
    """The one conversation that ``name`` or a part of it names. Raises UsageError, listing them."""
    found = transcripts()
    wanted = name.lower().strip()
    exact = [p for p in found if p.stem == wanted]
    near = exact or [p for p in found if wanted in p.stem]
    if len(near) == 1:
        return near[0]
    names = ", ".join(p.stem for p in near or found)
    raise UsageError(f"'{name}' is not one demo conversation; there are: {names}.")


def main(words: Sequence[str]) -> int:
    """`python -m gardenmate.cli.demo refresh [NAME]...`: take today's answers into the transcripts."""
    if not words or words[0] != "refresh":
        print("python -m gardenmate.cli.demo refresh [NAME]...", file=sys.stderr)
        return UsageError.exit_code
    paths = [chosen(name) for name in words[1:]] or transcripts()
    for path in refresh(paths):
        print(f"refreshed {path.name}; read it before you keep it")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
