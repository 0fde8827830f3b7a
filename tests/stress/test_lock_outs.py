"""Nothing the grower says, or writes into the garden file, locks the program."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from gardenmate.core.errors import DamagedFileError
from gardenmate.garden.store import load_garden

Run = Callable[..., subprocess.CompletedProcess[bytes]]
DAY = ("--today", "2027-04-18")
DOUBTS: dict[str, tuple[str, ...]] = {
    "a first frost in April": ("my first frost is April 17", "I garden in Duluth"),
    "the dates the wrong way round": (
        "my last frost is September 20",
        "my first frost is May 12",
        "I garden in Duluth",
    ),
}
FILES = {
    "a place that is none": '[place]\nname = "Qqqzzzxx"\n',
    "a place that is several": '[place]\nname = "Springfield"\n',
    "only a latitude": "[place]\nlat = 46.8\n",
    "a region with own dates": '[place]\nname = "Minnesota"\n[frost]\nlast = "05-12"\n',
    "dates the wrong way round": '[place]\nname = "Duluth"\n[frost]\nlast = "09-20"\nfirst = "05-12"\n',
    "far from any record": "[place]\nlat = -60.0\nlon = 0.0\n",
}


def told(run: Run, text: str) -> tuple[int, dict[str, object]]:
    done = run("ask", *DAY, "--json", text)
    assert done.stderr == b"", done.stderr
    return done.returncode, json.loads(done.stdout)


def no_lock(run: Run) -> None:
    """Notes, corrections, undo and what is known work; a question that needs the place asks for it."""
    assert told(run, "note that I sowed 20 leeks")[0] == 0
    assert "30" in str(told(run, "no, 30")[1]["headline"])
    assert told(run, "what do you know about my garden?")[0] == 0
    assert told(run, "undo")[0] == 0
    assert run("log").stdout.count(b"20 leeks") == 1
    code, answer = told(run, "is it too late to start peppers?")
    assert code in (0, 3)
    if code:
        assert any("I garden in" in str(each) for each in answer["changes"])  # type: ignore[attr-defined]
        for mend in ("my last frost is May 17", "my first frost is September 27", "I garden in Duluth, MN"):
            assert told(run, mend)[0] == 0
        code, answer = told(run, "is it too late to start peppers?")
        assert (code, answer["verdict"]) != (3, None)


@pytest.mark.parametrize("said", DOUBTS.values(), ids=DOUBTS.keys())
def test_by_what_is_said(run: Run, said: tuple[str, ...]) -> None:
    for line in said:
        assert told(run, line)[0] == 0
    no_lock(run)


@pytest.mark.parametrize("text", FILES.values(), ids=FILES.keys())
def test_by_what_is_written(run: Run, environment: dict[str, str], text: str) -> None:
    home = Path(environment["GARDENMATE_HOME"])
    home.mkdir()
    (home / "garden.toml").write_text(text)
    no_lock(run)


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("[place]\nname = 3\n", "line 2: 'name'"),
        (f"[place]\nlat = {'9' * 400}\n", "line 2: 'lat'"),
        (f"[household]\npeople = {'9' * 400}\n", "line 2: 'people'"),
        ('[frost]\n\nlast = "99999999999999999999-01"\n', "line 3: 'last'"),
        ("[frost]\nlast = 13-40\n", "line 2"),
        ("[gear]\nmat = nan\n", "line 2: 'mat'"),
        ("[gear]\nmat = 1e999\n", "line 2: 'mat'"),
        ("[what]\nx = 1\n", "line 1: 'what'"),
        (f"x = {'[' * 20_000}\n", "damaged"),
        (f"x = {'{a = ' * 5_000}\n", "damaged"),
        (f"lat = {'9' * 5_000}\n", "damaged"),
        ("[place]\nname = \"\udcff\"\n", "line 2 is not UTF-8"),
        ("#" * 2_000_000, "larger than"),
    ],
)  # fmt: skip
def test_a_fault_of_the_garden_file_names_file_line_and_key(tmp_path: Path, text: str, where: str) -> None:
    path = tmp_path / "garden.toml"
    path.write_bytes(text.encode("utf-8", "surrogateescape"))
    with pytest.raises(DamagedFileError) as caught:
        load_garden(path)
    assert str(path) in str(caught.value)
    assert where in str(caught.value)
    assert len(str(caught.value)) < 400


def test_a_garden_named_wrongly_is_told(run: Run, tmp_path: Path) -> None:
    missing = tmp_path / "gardn.toml"
    for words in (["log"], ["agenda"], ["calendar"], ["log", "check"], ["backup", str(tmp_path / "b")]):
        done = run(words[0], "--garden", str(missing), *words[1:])
        assert done.returncode == 2
        assert b"gardn.toml" in done.stderr
    for named in (missing, tmp_path / "nowhere" / "garden.toml", tmp_path):
        done = run("ask", *DAY, "--garden", str(named), "--place", "Duluth", "too late for peppers?")
        assert done.returncode == 2
        assert named.name.encode() in done.stderr
    assert list(tmp_path.iterdir()) == []
    assert run("ask", "--garden", str(missing), "I garden in Duluth").returncode == 0
    assert missing.exists()


def test_a_fault_in_one_line_of_a_list_is_its_answer(run: Run, environment: dict[str, str]) -> None:
    """The stored weather record is damaged: what needs it is a fault, what does not is answered."""
    home = Path(environment["GARDENMATE_HOME"])
    home.mkdir()
    (home / "garden.toml").write_text('[place]\nname = "Duluth"\n')
    (home / "garden.weather").write_text("leeks")
    lines = ["note that I sowed leeks", "is it too late to start peppers?", "hello"]
    done = run("ask", *DAY, "--json", "-", given="\n".join(lines).encode())
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    assert [a["question"] for a in answers] == lines
    assert len({frozenset(a) for a in answers}) == 1  # every key of the contract, whatever it is
    assert "garden.weather" in answers[1]["headline"]
    assert done.returncode == 1
