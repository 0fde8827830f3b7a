"""Libraries: bounded both ways, installed within their bounds, their licences listed in DEVELOPERS.md."""

from __future__ import annotations

import base64
import hashlib
import re
import sys
from collections.abc import Iterator
from importlib import util
from importlib.metadata import Distribution, PathDistribution
from pathlib import Path
from types import ModuleType

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[1]
GROUPS = ("dependencies", "test", "bench", "peers", "build")


def load_audit() -> ModuleType:
    """The script .ci/audit.py as a module."""
    spec = util.spec_from_file_location("ci_audit", ROOT / ".ci" / "audit.py")
    assert spec is not None
    assert spec.loader is not None
    module = util.module_from_spec(spec)
    sys.modules["ci_audit"] = module
    spec.loader.exec_module(module)
    return module


audit = load_audit()
WANTED: dict[str, list[Requirement]] = audit.requirements()
EVERY = [pytest.param(asked, id=f"{group}-{asked.name}") for group in WANTED for asked in WANTED[group]]


def closure(*groups: str) -> Iterator[tuple[str, Requirement, Distribution | None]]:
    """What is installed for these groups of pyproject.toml, with all they bring along."""
    yield from audit.closure([asked for group in groups for asked in WANTED[group]])


def listed() -> dict[str, str]:
    """Library -> licence, of the table "Libraries and licences" in DEVELOPERS.md."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("## Libraries and licences\n")[2]
    rows = re.findall(r"^\| ([^|]+) \| ([^|]+) \|", text.partition("\n## ")[0], re.MULTILINE)
    return {canonicalize_name(name): licence for names, licence in rows for name in names.split(", ")}


def test_every_group_is_looked_at() -> None:
    assert set(WANTED) == set(GROUPS)


@pytest.mark.parametrize("asked", EVERY)
def test_both_bounds_are_stated(asked: Requirement) -> None:
    # .ci/versions reads the oldest allowed off this form.
    assert re.fullmatch(r">=[\d.]+", next(str(s) for s in sorted(asked.specifier, key=str, reverse=True)))
    assert audit.unbounded(asked) == []


@pytest.mark.parametrize(
    ("line", "lacks"),
    [
        ("rich", ["no lower bound", "no upper bound"]),
        ("rich>=13", ["no upper bound"]),
        ("rich<16", ["no lower bound"]),
        ("rich>=13,<16", []),
        ("rich~=13.7", []),
    ],
)
def test_a_missing_bound_is_seen(line: str, lacks: list[str]) -> None:
    assert audit.unbounded(Requirement(line)) == lacks


def test_what_is_installed_lies_within_the_bounds() -> None:
    seen = set()
    for who, asked, found in closure("dependencies", "test"):
        assert found is not None, f"{who} asks for {asked}"
        assert asked.specifier.contains(found.version, prereleases=True), (
            f"{who}: {asked}, not {found.version}"
        )
        seen.add(canonicalize_name(asked.name))
    assert {canonicalize_name(r.name) for group in ("dependencies", "test") for r in WANTED[group]} <= seen
    assert "wcwidth" in seen  # brought along by another


@pytest.mark.parametrize("asked", EVERY)
def test_a_library_has_its_licence_listed(asked: Requirement) -> None:
    assert audit.licences(listed()[canonicalize_name(asked.name)])


def test_the_licences_listed_are_those_the_libraries_state() -> None:
    rows = listed()
    direct = {canonicalize_name(asked.name) for asked in WANTED["test"]}
    packages = {canonicalize_name(asked.name): found for _, asked, found in closure("dependencies")}
    packages |= {
        name: found
        for _, asked, found in closure("test")
        if (name := canonicalize_name(asked.name)) in direct
    }
    assert len(packages) > 15
    for name, found in packages.items():
        assert found is not None
        assert name in rows, f"{name} is brought along: its licence belongs into DEVELOPERS.md"
        said = audit.licences(audit.said_licences(found))
        assert said, f"{name}: {audit.said_licences(found)}"
        assert said <= audit.licences(rows[name]), f"{name}: {audit.said_licences(found)}"


def test_the_readme_names_the_libraries_the_program_runs_on() -> None:
    told = (ROOT / "README.md").read_text("utf-8").partition("## Data and licences")[2]
    for asked in WANTED["dependencies"]:
        name = re.search(rf"{re.escape(asked.name)} \(([^)]+)\)", told)
        assert name, asked.name
        assert audit.licences(name[1]) <= audit.licences(listed()[canonicalize_name(asked.name)])


@pytest.mark.parametrize("text", ["", "UNKNOWN", "GPL-3.0-or-later", "GNU Affero General Public License v3"])
def test_other_licences_are_not_known(text: str) -> None:
    assert audit.licences(text) == frozenset()


def package(folder: Path, more: str = "") -> Distribution:
    """An invented package of one file, as an installer leaves it."""
    code = b"answer = 42\n"
    (folder / "trowel.py").write_bytes(code)
    info = folder / "trowel-1.0.dist-info"
    info.mkdir()
    info.joinpath("METADATA").write_text(
        f"Metadata-Version: 2.4\nName: trowel\nVersion: 1.0\n{more}", "utf-8"
    )
    digest = base64.urlsafe_b64encode(hashlib.sha256(code).digest()).rstrip(b"=").decode()
    record = f"trowel.py,sha256={digest},{len(code)}\ntrowel-1.0.dist-info/RECORD,,\n"
    info.joinpath("RECORD").write_text(record, "utf-8")
    return PathDistribution(info)


def test_a_sound_package_passes(tmp_path: Path) -> None:
    assert audit.faults_of(package(tmp_path, "License-Expression: MIT\n")) == []


def test_a_changed_and_a_missing_file_are_seen(tmp_path: Path) -> None:
    found = package(tmp_path, "License: MIT\n")
    (tmp_path / "trowel.py").write_text("answer = 43\n", "utf-8")
    assert audit.faults_of(found) == ["trowel.py is not what was installed"]
    (tmp_path / "trowel.py").unlink()
    assert audit.faults_of(found) == ["trowel.py is missing"]


def test_where_it_came_from_its_licence_and_its_end_are_seen(tmp_path: Path) -> None:
    found = package(tmp_path, "License: Proprietary\nClassifier: Development Status :: 7 - Inactive\n")
    (tmp_path / "trowel-1.0.dist-info" / "direct_url.json").write_text("{}", "utf-8")
    assert audit.faults_of(found) == [
        "does not come from the package index",
        "its licence is of no known kind: Proprietary",
        "is given up by its authors",
    ]
