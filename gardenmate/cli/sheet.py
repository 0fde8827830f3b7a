"""`gardenmate sheet`: one printable page of the grower's own season, as HTML or SVG."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from gardenmate.dialogue.home import needs_garden
from gardenmate.dialogue.season_sheet import DEFAULT_NAME, default_paper, season_sheet, write_sheet
from gardenmate.dialogue.session import make_conversation
from gardenmate.present.sheet import PAPERS, html, svg


def run(options: argparse.Namespace) -> int:
    """Write the sheet to a file, or to the output for `--out -`. Raises NeedPlaceError, UsageError."""
    needs_garden(options)
    conversation = make_conversation(options)
    form = "svg" if options.svg else "html"
    paper = PAPERS[options.paper] if options.paper else default_paper(conversation)
    if options.out == "-":
        sheet = season_sheet(conversation, options.crop, paper)
        sys.stdout.buffer.write((svg(sheet) if form == "svg" else html(sheet)).encode("utf-8"))
        return 0
    path = Path(options.out).expanduser() if options.out else Path(f"{DEFAULT_NAME}.{form}")
    write_sheet(conversation, path, "svg" if options.svg else "html", options.crop, paper)
    print(f"Your season is in {path}. Open it in a browser and print it: one page of {paper.name}.")
    return 0
