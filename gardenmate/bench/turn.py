"""One turn of the bench as lines to show: help, a word about the bench itself, or an answer in short form."""

from __future__ import annotations

import re
from pathlib import Path
from textwrap import wrap

from gardenmate.bench.help import help_lines, how_to_leave
from gardenmate.bench.transcripts import asked_for, listing
from gardenmate.dialogue.conversation import Conversation
from gardenmate.dialogue.season_sheet import DEFAULT_NAME, default_paper, write_sheet
from gardenmate.present.layout import Line, Look, Piece
from gardenmate.present.so_far import HINTS, SoFar, asks_more
from gardenmate.records import dataclass, field

_SHEET = re.compile(
    r"\s{0,3}/?(?:please )?(?:(?:print|make|write|save)(?: me| out)*(?: my| the| a)? "
    r"(?:season(?: sheet| calendar)?|calendar|sheet)|(?:my |the )?season sheet|sheet)\s{0,3}[.!?]{0,8}\s{0,3}",
    re.IGNORECASE,
)
NOTHING_DUE = "Tell me where you garden ('I garden in Duluth'), or just ask. 'help' has examples."
NOTHING_MORE = "That was all of it."
WIDTH = 80  # columns; only whether something is shown is asked


@dataclass(slots=True, eq=False, repr=False)
class Bench:
    """A conversation, and what its screen has shown so far."""

    conversation: Conversation
    screen: SoFar = field(init=False)

    def __post_init__(self) -> None:
        self.screen = SoFar(self.conversation.facts, hints=HINTS)

    def turn(self, text: str, look: Look) -> list[Line]:
        """What is shown for ``text``, in lines no wider than the look. An empty line gets the rest of the last
        answer, else the first thing due. Raises GardenmateError for faults of files."""
        about = about_bench(text, self, look.width)
        if about is not None:
            return _lines(about, look)
        if asks_sheet(text):
            return _lines([print_sheet(self.conversation)], look)
        if asks_more(text) or (not text.strip() and self.screen.waits):
            look = look._replace(units=self.conversation.shown_units())
            return self.screen.rest(look) or _lines([NOTHING_MORE], look)
        answer = self.conversation.ask(text) if text.strip() else self.conversation.first_due()
        if answer is None:
            return _lines([NOTHING_DUE], look)
        # Asked again: the answer may have been that the garden uses other units.
        look = look._replace(units=self.conversation.shown_units())
        lines = self.screen.first(answer, look)
        told_place = answer.question.topic == "garden" and answer.effects
        resumed = self.conversation.resumed() if told_place else None
        return lines if resumed is None else [*lines, (), *self.screen.first(resumed, look)]


def about_bench(text: str, bench: Bench, width: int) -> list[str] | None:
    """What is said to a line about the bench itself (help, leaving, demos); None for every other line."""
    return how_to_leave(text) or help_lines(text, bench.conversation.facts, width) or listing(text)


def print_sheet(conversation: Conversation) -> str:
    """Write the season sheet beside the garden file, and say where it is. Raises GardenmateError."""
    kept = conversation.garden_file
    folder = kept.path.parent if kept is not None else Path()
    path = write_sheet(conversation, folder / f"{DEFAULT_NAME}.html", paper=default_paper(conversation))
    return f"Your season is in {path}. Open it in a browser and print it: one page."


def asks_sheet(text: str) -> bool:
    """True when a line asks for one's printed season and for nothing else."""
    return _SHEET.fullmatch(text) is not None


def is_about_bench(text: str, bench: Bench) -> bool:
    """True for a line that asks for help, how to leave or the demos; it answers no question put."""
    return bool(text.strip()) and (about_bench(text, bench, WIDTH) is not None or asked_for(text) is not None)


def _lines(texts: list[str], look: Look) -> list[Line]:
    """Ready lines, folded where they are too long; what is not indented stands out."""
    folded = [
        part for text in texts for part in (wrap(text, look.width) if len(text) > look.width else [text])
    ]
    return [(Piece(line, "" if line.startswith(" ") else "head"),) for line in folded]
