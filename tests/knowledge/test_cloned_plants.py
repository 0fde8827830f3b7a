"""A plant copied under a new id and a new name is answered like the one it was copied from, but for the name."""

from __future__ import annotations

import contextlib
import io
import json
import re
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from gardenmate.cli.main import main
from gardenmate.knowledge import facts as facts_module
from gardenmate.knowledge.reader import data_root

# The crop, its folder, the id of the copy and what it is called there. The names are made up.
COPIES = {
    "pepper": ("crops", "alpha-plant", {"pepper": "zorbel", "capsicum": "zorbicum"}),
    "leek": ("crops", "beta-plant", {"leek": "wimble"}),
    "kale": ("crops", "gamma-plant", {"kale": "thorv"}),
    "blueberry": ("woody", "delta-bush", {"blueberry": "glimberry", "blueberries": "glimberries"}),
}
MISREAD = 2
"""Questions of a copy that may be read otherwise: what is out of scope is told by characters, names among them."""
SAID = {
    "pepper": ("pepper", "peppers"),
    "leek": ("leek", "leeks"),
    "kale": ("kale", "kale"),
    "blueberry": ("blueberry", "blueberries"),
}
CROP_QUESTIONS = """is it too late to start {s} from seed?
can I sow {s} indoors now?
can I still sow {s} outdoors?
when do I sow {s}?
when can I set out {} plants?
when will {s} be ready if I sow today?
is it too early for {s}?
{s} for fall harvest, when do I sow?
how long do {s} take to come up at 60 F?
nothing has come up after three weeks, {s}, should I wait?
should I soak {} seed?
is three year old {} seed still good?
do {s} need a heat mat?
what temperature should the mat be for {s}?
how much light do {} seedlings need?
when do I pot up {} seedlings?
how long can {s} stay in a 72 cell tray?
how deep do I plant {} seedlings when potting up?
how do I harden off {s}?
how long will {} plants hold in the tray before they bolt?
will {s} survive 28 F tonight?
frost killed my {s}, will they come back?
should I cover {s} at 33 F?
should I pick the {s} before the frost at 26 F?
{s} in the cold frame at 38 F tonight, fine?
are {s} hurt by nights at 48 F in the greenhouse?
how far apart do I plant {s}?
how many {} plants for a family of four?
how many {} seeds for 20 plants?
how much do 10 {} plants yield?
is it cheaper to buy {} plants or sow {s}?
should I buy {} starts now?
can I take cuttings of {s}?""".splitlines()
WOODY_QUESTIONS = """when do I prune {s}?
can I prune my {} now?
how do I prune a {} bush?
is it too late to prune {s}?
can I cut my old {} to the ground?
how hard can I cut {s} back?
prune a 3 year old {}?
the buds of my {} are swelling, can I still prune?
my {} is in bloom, can I prune it?
{} leafed out, prune now?
what if I pruned the {s} too late?
how much of a {} bush may I take off?
can I take cuttings of {s}?
how do I propagate {s}?
hardwood cuttings of {} now?
softwood cuttings of {s} when?
how long until {} cuttings root?
can I move a {} bush now?
bare root {s}, when do I plant them?
will {} blossom survive 26 F tonight?
{} at early pink, 24 F tonight?
will my {s} survive -20 F this winter?
frost got the {} blossoms, is the crop lost?
should I cover {s} in bloom at 28 F?
when do {s} bloom here?
how far apart do I plant {s}?
how many {} bushes for a family of four?
is it cheaper to buy {} plants or grow them from seed?
should I buy {s}?""".splitlines()


@pytest.fixture(scope="module")
def knowledge(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A copy of the facts with the cloned plants in it, read in place of the program's own."""
    root = tmp_path_factory.mktemp("facts")
    shutil.copytree(data_root() / "knowledge", root / "knowledge")
    for old, (folder, new, words) in COPIES.items():
        for path in sorted((root / "knowledge" / folder).glob("*.toml")):
            text = path.read_text("utf-8")
            if f'\nbase = "{old}"\n' not in text:
                continue
            head, rest = text.split("\n[", 1)
            head = _renamed(head, words)
            head = re.sub('^id = ".*"$', f'id = "{path.stem.replace(old, new)}"', head, count=1, flags=re.M)
            head = re.sub('^base = ".*"$', f'base = "{new}"', head, count=1, flags=re.M)
            (path.parent / f"{path.stem.replace(old, new)}.toml").write_text(f"{head}\n[{rest}", "utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(facts_module, "data_root", lambda: root)
        yield root / "knowledge"


def _renamed(text: str, words: dict[str, str]) -> str:
    for old, new in sorted(words.items(), key=lambda pair: -len(pair[0])):
        text = text.replace(old, new).replace(old.capitalize(), new.capitalize())
    return text


def _answers(questions: list[str], place: str, today: str) -> list[dict[str, Any]]:
    told = io.StringIO()
    with pytest.MonkeyPatch.context() as patch, contextlib.redirect_stdout(told):
        patch.setattr(sys, "stdin", io.StringIO("\n".join(questions) + "\n"))
        main(["ask", "--json", "--no-garden", "--place", place, "--today", today, "-"])
    return [json.loads(line) for line in told.getvalue().splitlines()]


def _nameless(answer: dict[str, Any], old: str) -> dict[str, Any]:
    """The answer with every name and id of plant and copy replaced by one word, and its sources as ids."""
    _, new, words = COPIES[old]
    plain = {**answer, "sources": [source["id"] for source in answer["sources"]]}
    text = json.dumps(plain).replace(new, "plant").replace(new.replace("-", " "), "plant")
    text = _renamed(text, {**dict.fromkeys(words.values(), "plant"), **dict.fromkeys(words, "plant")})
    found: dict[str, Any] = json.loads(text.replace("Plant", "plant"))
    return found


@pytest.mark.parametrize(("place", "today"), [("Duluth", "2027-04-18"), ("Leeds", "2027-09-20")])
@pytest.mark.parametrize("old", list(COPIES))
def test_a_copy_is_answered_alike(knowledge: Path, old: str, place: str, today: str) -> None:
    folder, _, words = COPIES[old]
    questions = CROP_QUESTIONS if folder == "crops" else WOODY_QUESTIONS
    one, many = SAID[old]
    asked = [q.replace("{s}", many).replace("{}", one) for q in questions]
    misread = []
    for of_plant, of_copy in zip(
        _answers(asked, place, today),
        _answers([_renamed(q, words) for q in asked], place, today),
        strict=True,
    ):
        if (of_plant["act"], of_plant["topic"]) != (of_copy["act"], of_copy["topic"]):
            misread.append(of_plant["question"])
            continue
        assert of_plant["crops"] == [old], of_plant["question"]
        assert _nameless(of_copy, old) == _nameless(of_plant, old), of_plant["question"]
    assert len(misread) <= MISREAD, misread
