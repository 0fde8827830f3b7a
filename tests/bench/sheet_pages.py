"""Season sheets printed by a headless browser: each must be one page of its paper.

    python tests/bench/sheet_pages.py [FOLDER]

Needs Chromium. Writes HTML, PDF and a picture of each sheet into FOLDER (default: a temporary one) to be looked at.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
from datetime import date
from pathlib import Path

from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.dialogue.season_sheet import MOST_ROWS, write_sheet
from gardenmate.knowledge.facts import Facts
from gardenmate.present.sheet import PAPERS

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking")
POINTS_A_MM = 72 / 25.4
FEW = ("pepper", "tomato", "leek", "kale")


def pages(pdf: bytes) -> tuple[int, tuple[float, float]]:
    """How many pages a PDF has, and how large the first is in millimetres."""
    boxes = re.findall(rb"/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)", pdf)
    count = len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))
    return count, (float(boxes[0][0]) / POINTS_A_MM, float(boxes[0][1]) / POINTS_A_MM)


def main(words: list[str]) -> int:
    """Print one line a sheet; the exit code is the number of sheets that are not one page."""
    browser = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    if browser is None:
        print("no Chromium here")
        return 1
    folder = Path(words[0]) if words else Path(tempfile.mkdtemp())
    folder.mkdir(parents=True, exist_ok=True)
    facts, wrong = Facts(), 0
    for place, day in (
        ("Duluth", date(2027, 4, 18)),
        ("Norwich", date(2027, 3, 1)),
        ("Hobart", date(2027, 9, 1)),
    ):
        talk = Conversation(facts, lambda day=day: day, PlaceOptions(place=place))  # type: ignore[misc]
        for names in (FEW, facts.crop_ids[:MOST_ROWS]):
            for paper in PAPERS.values():
                path = write_sheet(
                    talk, folder / f"{place}-{len(names)}-{paper.name}.html", names=names, paper=paper
                )
                pdf, picture = path.with_suffix(".pdf"), path.with_suffix(".png")
                subprocess.run(
                    [browser, *FLAGS, f"--print-to-pdf={pdf}", "--no-pdf-header-footer", path], check=True
                )
                subprocess.run(
                    [browser, *FLAGS, f"--screenshot={picture}", "--window-size=830,1140", path], check=True
                )
                count, (width, height) = pages(pdf.read_bytes())
                right = count == 1 and abs(width - paper.width) < 1 and abs(height - paper.height) < 1
                wrong += not right
                print(
                    f"{path.stem}: {count} page, {width:.0f} x {height:.0f} mm, {pdf.stat().st_size // 1024} kB"
                )
    return wrong


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
