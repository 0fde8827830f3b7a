"""Shell completion: the scripts are asked in the shells themselves, and cannot drift from the parser."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from gardenmate.cli.completion import SHELLS, commands_of, script
from gardenmate.cli.main import main
from gardenmate.cli.parser import (
    COMMANDS,
    make_parser,
)
from gardenmate.knowledge.facts import Facts

_ASK_BASH = """
source "$1"; shift
COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _gardenmate; printf '%s\\n' "${COMPREPLY[@]}"
"""


@pytest.fixture(scope="module")
def scripts(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("completion")
    commands = commands_of(make_parser(), Facts())
    paths = {}
    for shell in SHELLS:
        paths[shell] = folder / shell
        paths[shell].write_text(script(shell, commands) + "\n", "utf-8")
    return paths


def ask_bash(scripts: dict[str, Path], *words: str) -> list[str]:
    command = ["bash", "-c", _ASK_BASH, "bash", str(scripts["bash"]), *words]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    return done.stdout.split("\n")[:-1]


def test_bash_completes_commands_options_and_values(scripts: dict[str, Path], tmp_path: Path) -> None:
    assert set(COMMANDS) <= set(ask_bash(scripts, "gardenmate", ""))
    assert ask_bash(scripts, "gardenmate", "ask", "--pla") == ["--place", "--plain"]
    assert ask_bash(scripts, "gardenmate", "--place", "Dul") == ["Duluth"]
    assert ask_bash(scripts, "gardenmate", "--units", "us", "calendar", "--crop", "kal") == ["kale"]
    assert ask_bash(scripts, "gardenmate", "calendar", "--format", "") == ["text", "md", "csv", "ics", "json"]
    assert ask_bash(scripts, "gardenmate", "ask", "--today", "") == [""]
    assert "Portland\\,\\ OR" in ask_bash(scripts, "gardenmate", "ask", "--place", "Portland\\,")
    (tmp_path / "station.dly").touch()
    weather = ask_bash(scripts, "gardenmate", "import-weather", f"{tmp_path}/sta")
    assert weather == [f"{tmp_path}/station.dly"]


@pytest.mark.parametrize("shell", sorted(SHELLS))
def test_every_shell_is_given_every_command_and_option(scripts: dict[str, Path], shell: str) -> None:
    text = scripts[shell].read_text("utf-8")
    for command in commands_of(make_parser(), Facts()):
        assert command.name in text
        for option in command.options:
            assert (f"-l {option.flag[2:]}" if shell == "fish" else option.flag) in text
    assert "Duluth" in text
    assert "tomato" in text


@pytest.mark.parametrize("shell", sorted(SHELLS))
def test_the_shell_itself_reads_the_script(scripts: dict[str, Path], shell: str) -> None:
    program = shutil.which(shell)
    if program is None:  # bash is on every machine the checks run on; the others where they are installed
        assert shell != "bash"
        return
    done = subprocess.run([program, "-n", str(scripts[shell])], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


def test_the_command_prints_the_script(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", "bash"]) == 0
    assert "complete -F _gardenmate gardenmate" in capsys.readouterr().out
