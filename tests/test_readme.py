"""The README's commands run, and its output is what the program says now.

After a deliberate change ``python tests/test_readme.py refresh`` writes the output anew; read it.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import shlex
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def said(command: str, home: Path) -> tuple[int, str]:
    """Exit code and output of a `gardenmate ...` command run in this process, 80 columns, no colour."""
    from gardenmate.cli.main import main

    words = shlex.split(command)
    assert words[0] == "gardenmate", command
    out = io.StringIO()
    before = dict(os.environ)
    os.environ.update(GARDENMATE_HOME=str(home), COLUMNS="80", LINES="24", NO_COLOR="1")
    try:
        with contextlib.redirect_stdout(out):
            code = main(words[1:])
    finally:
        os.environ.clear()
        os.environ.update(before)
    return code, out.getvalue()


def turns(block: str) -> Iterator[tuple[str, str]]:
    """(command, output shown) of a console block; a command line starts with "$ "."""
    for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
        command, _, shown = part.partition("\n")
        yield command, shown


def refreshed(text: str, home: Path) -> str:
    """The README with the output of every command as it is now."""

    def renew(match: re.Match[str]) -> str:
        parts = []
        for command, _ in turns(match.group(1)):
            _, output = said(command, home)
            parts.append(f"$ {command}\n{output.rstrip()}\n")
        return "```console\n" + "\n".join(parts) + "```"

    return BLOCK.sub(renew, text)


def test_every_command_of_the_readme_runs_and_says_what_is_shown(tmp_path: Path) -> None:
    blocks = BLOCK.findall(README.read_text("utf-8"))
    assert blocks
    for block in blocks:
        for command, shown in turns(block):
            code, output = said(command, tmp_path)
            assert code in (0, 4), command
            assert output.rstrip() == shown.rstrip(), f"{command}: python tests/test_readme.py refresh"


def test_the_readme_opens_with_the_job() -> None:
    lines = README.read_text("utf-8").split("\n\n")
    assert lines[0].startswith("# gardenmate")
    assert 300 < len(lines[1]) < 1200
    assert not lines[1].startswith(("#", "```", "-"))


@pytest.mark.parametrize("topic", ["late-start", "frost", "cold-frame", "pruning", "log"])
def test_the_page_on_json_names_the_topics(topic: str, tmp_path: Path) -> None:
    code, page = said("gardenmate help json", tmp_path)
    assert code == 0
    assert topic in page


def test_the_page_on_json_names_every_key_of_an_answer(tmp_path: Path) -> None:
    _, page = said("gardenmate help json", tmp_path)
    _, line = said('gardenmate ask --no-garden --place Duluth --json "too late for peas?"', tmp_path)
    assert set(json.loads(line)) <= set(re.findall(r"[a-z]+", page))


def test_help_on_one_topic_and_on_none(tmp_path: Path) -> None:
    assert "28 tonight" in said("gardenmate help frost", tmp_path)[1]
    assert said("gardenmate help nonsense", tmp_path)[0] == 2


if __name__ == "__main__" and sys.argv[1:] == ["refresh"]:
    sys.path.insert(0, str(ROOT))
    with tempfile.TemporaryDirectory() as folder:
        README.write_text(refreshed(README.read_text("utf-8"), Path(folder)), "utf-8")
