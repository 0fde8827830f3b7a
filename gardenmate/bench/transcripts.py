"""The files of transcripts_demo: demo conversations, read but not played.

A file holds, line by line:
    # words for the reader                     (shown when it is played)
    @ today 2027-04-18 | place Duluth | units metric | width 50
                                               (sets the scene, also between turns)
    > what the grower types
    the answer, word for word, up to the next line that starts with one of the three signs
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Literal

from gardenmate.core.errors import DamagedFileError, UsageError
from gardenmate.knowledge.reader import data_root
from gardenmate.records import dataclass

_LISTED = re.compile(
    r"\s{0,3}/?(?:demos?|(?:show|play|list)(?: me)?(?: a| the)? demos?)\s{0,3}[?.!]{0,8}\s{0,3}",
    re.IGNORECASE,
)
_PLAYED = re.compile(r"\s{0,3}/?(?:play )?demo ([\w-]+)\s{0,3}", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class TranscriptPiece:
    """One piece of a transcript: a word to the reader, a scene, or a turn with its expected answer."""

    kind: Literal["note", "scene", "turn"]
    text: str
    answer: str = ""


def transcripts() -> list[Path]:
    """Every demo conversation, in the order of its name."""
    return sorted((data_root() / "transcripts_demo").glob("*.txt"))


def read(path: Path) -> list[TranscriptPiece]:
    """The pieces of one transcript. Raises DamagedFileError for an answer before any turn."""
    pieces: list[TranscriptPiece] = []
    answer: list[str] = []

    def close() -> None:
        if pieces and pieces[-1].kind == "turn":
            last = pieces.pop()
            pieces.append(TranscriptPiece("turn", last.text, "\n".join(answer).strip("\n")))
        answer.clear()

    for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1):
        sign, text = line[:2], line[2:]
        if sign in ("# ", "#"):
            close()
            pieces.append(TranscriptPiece("note", text))
        elif sign == "@ ":
            close()
            pieces.append(TranscriptPiece("scene", text))
        elif sign == "> ":
            close()
            pieces.append(TranscriptPiece("turn", text))
        elif pieces and pieces[-1].kind == "turn":
            answer.append(line)
        elif line.strip():
            raise DamagedFileError(f"{path}, line {number}: an answer stands before any question.")
    close()
    return pieces


def title(path: Path) -> str:
    """What the reader is told of it first."""
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


def listing(text: str) -> list[str] | None:
    """The demo conversations by name, None when ``text`` does not ask for them."""
    if _LISTED.fullmatch(text) is None:
        return None
    return [*(f"{path.stem}: {title(path)}" for path in transcripts()), "'demo NAME' plays one."]


def asked_for(text: str) -> Path | None:
    """The conversation ``text`` asks to be played, None when it asks for something else."""
    match = _PLAYED.fullmatch(text)
    wanted = match[1].lower() if match is not None else ""
    near = [path for path in transcripts() if wanted in path.stem]
    return near[0] if wanted and len(near) == 1 else None
