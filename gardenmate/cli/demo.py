"""`gardenmate demo`: lists and plays the demo conversations; refreshes them after a change that is meant."""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from gardenmate.bench.demo import play
from gardenmate.bench.transcripts import chosen, listing, transcripts
from gardenmate.core.errors import UsageError
from gardenmate.dialogue.session import colourful
from gardenmate.present.screen import write_lines


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
    if not options.name:
        print("\n".join(listing("demo") or ()))
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
