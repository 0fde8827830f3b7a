"""Whole conversations with the label of every turn, as plain text.

    ## A01 | 2027-04-12 | Marquette, Michigan
    act topic | crops | deeds | the line as typed
    >2027-04-19                                   the day of the turns that follow

A turn that does two things is "report+ask log+frost". A deed is action:crop:count:where:day, each part but the first
may be empty; several are kept apart by ";". "-" stands for none.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from gardenmate.language.intent.topics import NOTHING_SAID, Before

_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_DEED_PARTS = 5


def evenings(path: Path) -> list[dict[str, Any]]:
    """The conversations of a file, .txt or .jsonl: id, today, place, turns (say, act, topic, crops, logged, verdict,
    today)."""
    if path.suffix == ".jsonl":
        return [json.loads(line) for line in path.read_text("utf-8").splitlines() if line.strip()]
    found: list[dict[str, Any]] = []
    day = None
    for number, line in enumerate(path.read_text("utf-8").splitlines(), 1):
        if line.startswith("## "):
            name, today, place = (part.strip() for part in line[3:].split(" | "))
            found.append({"id": name, "today": today, "place": None if place == "-" else place, "turns": []})
            day = None
        elif line.startswith(">"):
            day = line[1:].strip()
        elif line.strip():
            try:
                does, crops, deeds, say = line.split(" | ", 3)
                act, topic = does.split()
            except ValueError as error:
                raise ValueError(f"{path.name}, line {number}: not a turn: {line!r}") from error
            turn = {
                "say": say.strip(),
                "act": act,
                "topic": topic,
                "crops": [] if crops.strip() == "-" else [c.strip() for c in crops.split(",")],
                "logged": [] if deeds.strip() == "-" else [_deed(d) for d in deeds.split(";")],
                "verdict": None,
            }
            found[-1]["turns"].append(turn | ({"today": day} if day else {}))
            day = None
    return found


def _deed(text: str) -> dict[str, Any]:
    action, crop, count, where, on = (*(p.strip() for p in text.split(":")), *[""] * _DEED_PARTS)[
        :_DEED_PARTS
    ]
    return {
        "action": action.partition("/")[0],
        "crop": crop or None,
        "count": float(count) if re.fullmatch(r"\d+(?:\.\d+)?", count) else None,
        "where": where or None,
        "on": on if _DAY.fullmatch(on) else None,
    }


def wanted(turn: Mapping[str, Any]) -> list[dict[str, Any]]:
    """What a turn was to keep, as a list."""
    logged = turn["logged"]
    return logged if isinstance(logged, list) else [] if logged is None else [logged]


def behind(turns: list[dict[str, Any]]) -> Iterator[tuple[dict[str, Any], Before]]:
    """Every turn with what was said before it."""
    before = NOTHING_SAID
    for turn in turns:
        yield turn, before
        act, topic = turn["act"].split("+")[-1], turn["topic"].split("+")[-1]
        deeds = wanted(turn)
        deed = deeds[-1]["action"] if deeds and act in ("report", "plan") else None
        before = before.then(f"{act}/{topic}", deed, turn["crops"])
