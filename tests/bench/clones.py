"""How alike a copied plant is answered: every crop and woody plant under a made-up name and id.

    python tests/bench/clones.py

Copies every plant whose name is regular into a scratch copy of the facts, asks each copy what its plant is
asked, and prints the answers that differ by more than the name, then how many did, and how many questions were
read otherwise (which is a matter of language, not of facts). tests/knowledge/test_cloned_plants.py holds four
plants to it in the suite.
"""

from __future__ import annotations

import contextlib
import io
import json
import re
import shutil
import sys
import tempfile
import tomllib
from itertools import product
from pathlib import Path
from typing import Any, NamedTuple
from unittest.mock import patch

from gardenmate.cli.main import main
from gardenmate.knowledge import facts as facts_module
from gardenmate.knowledge.reader import data_root
from tests.knowledge.test_cloned_plants import CROP_QUESTIONS, WOODY_QUESTIONS

SYLLABLES = product(
    ("bben", "dden", "ffen", "ggin", "llum", "mmet", "nnip", "ppon", "rrel", "ssup"),
    ("blo", "cra", "dri", "flu", "gre", "klo", "pla", "sna", "tri", "vro", "wha", "zli"),
)
NAME_LISTS = ("names", "generic_names", "misspelled", "also_called", "also_called_of_any_kind")


class Copy(NamedTuple):
    """A plant, its copy, and what each is called: one and several."""

    folder: str
    old: str
    new: str
    said: tuple[str, str]
    said_of_copy: tuple[str, str]


def copy_all(knowledge: Path) -> list[Copy]:
    """Copies into ``knowledge``: plants of one kind whose plural is regular, with both files where there are two."""
    made: list[Copy] = []
    for folder in ("crops", "woody"):
        for path in sorted((knowledge / folder).glob("*.toml")):
            text = path.read_text("utf-8")
            plant = tomllib.loads(text)
            said = _said(plant)
            twice = folder == "woody" and (knowledge / "crops" / path.name).exists()
            if plant["base"] != plant["id"] or "words" in plant or said is None or twice:
                continue
            end, start = next(SYLLABLES)
            name = start + end
            called = (name, name if said[0] == said[1] else f"{name}s")
            made.append(Copy(folder, plant["id"], f"q-{name}", said, called))
            for file in (path, knowledge / "woody" / path.name):
                if file.exists():
                    copied = _renamed(file.read_text("utf-8"), made[-1])
                    (file.parent / f"{made[-1].new}.toml").write_text(copied, "utf-8")
    return made


def _renamed(text: str, c: Copy) -> str:
    """A plant's file under the id of its copy, with every name made of the plant's own ("rose bush") in the copy's."""
    plant = tomllib.loads(text)
    head, rest = text.split("\n[", 1)
    new = dict(zip(c.said, c.said_of_copy, strict=True))
    for key in NAME_LISTS:
        split = (name.rsplit(" ", 1) for name in plant.get(key, ()))
        own = [f"{new[words[0]]} {words[1]}" for words in split if len(words) == 2 and words[0] in new]
        own = [*dict.fromkeys(c.said_of_copy), *own] if key == "names" else own
        line = f"{key} = {json.dumps(own)}\n" if own else ""
        head = re.sub(rf"^{key} = \[[^\]]*\]\n", line, head, flags=re.M)
    head = re.sub("^(id|base) = .*$", rf'\1 = "{c.new}"', head, flags=re.M)
    return f"{head}\n[{rest}"


def _said(plant: dict[str, Any]) -> tuple[str, str] | None:
    first = plant["names"][0]
    plural = next((p for p in (f"{first}s", f"{first}es", f"{first[:-1]}ies") if p in plant["names"]), None)
    if plural is None and "mass-noun" not in plant.get("traits", ()):
        return None
    return first, plural or first


def answers(questions: list[str]) -> list[dict[str, Any]]:
    """What the program answers in Duluth on 18 April 2027."""
    told = io.StringIO()
    with (
        patch.object(sys, "stdin", io.StringIO("\n".join(questions) + "\n")),
        contextlib.redirect_stdout(told),
    ):
        main(["ask", "--json", "--no-garden", "--place", "Duluth", "--today", "2027-04-18", "-"])
    return [json.loads(line) for line in told.getvalue().splitlines()]


def nameless(answer: dict[str, Any], c: Copy) -> dict[str, Any]:
    """The answer with every name of plant and copy replaced by one word."""
    plain = {**answer, "sources": [source["id"] for source in answer["sources"]]}
    text = json.dumps(plain)
    words = {c.new, c.old, c.old.replace("-", " "), *c.said, *c.said_of_copy}
    for word in sorted(words, key=len, reverse=True):
        text = re.sub(re.escape(word), "P", text, flags=re.I)
    found: dict[str, Any] = json.loads(text)
    return found


def run() -> None:
    """Prints what differs, and the counts."""
    with tempfile.TemporaryDirectory() as scratch:
        root = Path(scratch)
        shutil.copytree(data_root() / "knowledge", root / "knowledge")
        copies = copy_all(root / "knowledge")
        asked = [(c, q) for c in copies for q in (CROP_QUESTIONS if c.folder == "crops" else WOODY_QUESTIONS)]
        with patch.object(facts_module, "data_root", lambda: root):
            ours = answers([q.replace("{s}", c.said[1]).replace("{}", c.said[0]) for c, q in asked])
            theirs = answers(
                [q.replace("{s}", c.said_of_copy[1]).replace("{}", c.said_of_copy[0]) for c, q in asked]
            )
    differ = otherwise = 0
    for (c, _), one, two in zip(asked, ours, theirs, strict=True):
        if (one["act"], one["topic"]) != (two["act"], two["topic"]):
            otherwise += 1
            continue
        a, b = nameless(one, c), nameless(two, c)
        if a != b:
            differ += 1
            print(f"{one['question']}: {', '.join(key for key in a if a[key] != b[key])}")
    print(f"{len(copies)} plants, {len(asked)} questions: {differ} differ, {otherwise} read otherwise")


if __name__ == "__main__":
    run()
