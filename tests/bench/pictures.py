"""Draws the README's pictures of the terminal from real runs: `python tests/bench/pictures.py`.

They are written as SVG to transcripts_demo/pictures/, with no font or other file fetched from anywhere.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

from rich.console import Console
from rich.terminal_theme import TerminalTheme
from rich.text import Text

from gardenmate.bench.turn import Bench
from gardenmate.cli.calendar import drawn
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Look
from gardenmate.present.screen import STYLES

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "transcripts_demo" / "pictures"
TODAY = date(2027, 4, 18)
CROPS = ("pepper", "tomato", "leek", "broccoli", "pea", "kale", "bush-bean", "carrot", "garlic")
# Paper, ink and eight dull colours of a seed packet, of our own mixing.
THEME = TerminalTheme(
    (250, 247, 239),
    (58, 54, 47),
    [(58, 54, 47), (158, 52, 40), (64, 112, 52), (150, 98, 20), (62, 92, 122), (120, 76, 108), (40, 108, 104),
     (196, 188, 172)],
)  # fmt: skip
# A sheet of paper with the text on it: no window frame, no font from elsewhere.
_SHEET = """\
<svg viewBox="0 28 {width} {height}" xmlns="http://www.w3.org/2000/svg">
    <style>
    .{unique_id}-matrix {{
        font-family: ui-monospace, Menlo, Consolas, "DejaVu Sans Mono", monospace;
        font-size: {char_height}px;
        line-height: {line_height}px;
        font-variant-east-asian: full-width;
    }}
    {styles}
    </style>
    <defs>{lines}</defs>
    <rect y="28" width="100%" height="100%" fill="#faf7ef" stroke="#c4bcac"/>
    <g transform="translate({terminal_x}, {terminal_y})">
    {backgrounds}
    <g class="{unique_id}-matrix">
    {matrix}
    </g>
    </g>
</svg>
"""


def _conversation() -> Conversation:
    return Conversation(Facts(), lambda: TODAY, PlaceOptions(place="Duluth"))


def _answers(console: Console, questions: tuple[str, ...]) -> None:
    bench = Bench(_conversation())
    bench.screen.hints = 0
    for question in questions:
        console.print(Text(f"> {question}", style="bold"))
        for line in bench.turn(question, Look(console.width, "us", TODAY)):
            text = Text()
            for piece in line:
                text.append(piece.text, style=STYLES.get(piece.style, ""))
            console.print(text)
        console.print()


def late_peppers(console: Console) -> None:
    """The main question, with its date line."""
    _answers(console, ("is it too late to start peppers from seed?", "more"))


def frost_tonight(console: Console) -> None:
    """A cold night in May."""
    _answers(console, ("28 tonight, are my peas all right?", "and the kale?"))


def calendar(console: Console) -> None:
    """The drawn calendar of a few crops."""
    conversation = _conversation()
    place = conversation.place()
    if place is None or place.site is None:
        raise SystemExit("The demo place is missing from the places.")
    console.print(Text("$ gardenmate --place Duluth calendar --crop pepper --crop tomato ...", style="bold"))
    crops = [conversation.facts.crop(crop) for crop in CROPS]
    for line in drawn(place.site, conversation.facts, TODAY, crops, console.width):
        console.print(Text(line))


PICTURES: dict[str, Callable[[Console], None]] = {
    "late-peppers": late_peppers,
    "frost-tonight": frost_tonight,
    "calendar": calendar,
}


def picture(draw: Callable[[Console], None]) -> str:
    """One picture as SVG text; the same run gives the same text."""
    console = Console(
        record=True, width=84, file=io.StringIO(), force_terminal=True, color_system="truecolor",
        highlight=False, legacy_windows=False,
    )  # fmt: skip
    draw(console)
    return console.export_svg(theme=THEME, code_format=_SHEET, unique_id="picture")


def main() -> int:
    """Write every picture."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, draw in PICTURES.items():
        path = FOLDER / f"{name}.svg"
        path.write_text(picture(draw), "utf-8")
        print(path.relative_to(ROOT))
    return 0


if __name__ == "__main__":
    sys.exit(main())
