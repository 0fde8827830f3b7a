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
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Literal

from gardenmate.conversation import Conversation, PlaceOptions
from gardenmate.errors import DamagedFileError, UsageError
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.reader import data_root
from gardenmate.present.layout import Look, plain

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


def play(path: Path, home: Path) -> Iterator[tuple[Piece, str]]:
    """Each piece with what the program answers now ("" for notes and scenes).

    Garden and journal are kept in ``home``, so a conversation may store and use them.
    """
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
            said = ""
            if piece.kind == "turn":
                answer = conversation.ask(piece.text)
                look = Look(scene.width, conversation.shown_units(), scene.today)
                said = plain(answer, look).strip("\n")
            yield piece, said
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
    for piece, said in play(path, home):
        if piece.kind == "turn":
            lines += ["", f"> {piece.text}", said]
        else:
            if piece.kind == "scene" and lines and lines[-1] and not lines[-1].startswith("#"):
                lines.append("")
            lines.append(f"{signs[piece.kind]}{piece.text}".rstrip())
    return "\n".join(lines).strip("\n") + "\n"


def run(options: argparse.Namespace) -> int:
    """`gardenmate demo`: list the conversations, or play the one named."""
    import tempfile

    found = transcripts()
    if not options.name:
        for path in found:
            first = next((p.text for p in read(path) if p.kind == "note"), "")
            print(f"{path.stem}: {first}")
        print("gardenmate demo NAME plays one.")
        return 0
    chosen = [p for p in found if options.name.lower() in p.stem]
    if len(chosen) != 1:
        names = ", ".join(p.stem for p in chosen or found)
        raise UsageError(f"'{options.name}' is not one demo conversation; there are: {names}.")
    with tempfile.TemporaryDirectory() as home:
        for piece, said in play(chosen[0], Path(home)):
            if piece.kind == "note":
                print(piece.text)
            elif piece.kind == "turn":
                print(f"\n> {piece.text}")
                print(said)
            sys.stdout.flush()
    return 0
