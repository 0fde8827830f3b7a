#!/usr/bin/env python3
"""Audits the installed libraries without a network. Run it with the Python of the environment:

    python .ci/audit.py            what is installed, offline
    python .ci/audit.py --index    asks the package index too: has a release been withdrawn ("yanked")?

Everything gardenmate and its tests bring along is looked at: each fits what asks for it, came from the index,
has the files its RECORD lists (SHA-256), names a licence of a known kind, and is not given up by its authors.
Every requirement in pyproject.toml has a lower and an upper bound. Every licence that pyproject.toml names
has its full text in knowledge/licences, every data file its row in DEVELOPERS.md.

Known weaknesses are *not* looked up: that needs an advisory service, and no current list of advisories can be
had from the package index alone. With a network `pip-audit` does that.
"""

from __future__ import annotations

import argparse
import base64
import csv
import hashlib
import json
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

from packaging.markers import default_environment
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[1]
OWN = "gardenmate"
INSTALLED = ("dependencies", "test")
# How licences are named in the metadata of packages: as an SPDX expression, a classifier or a free text.
LICENCES = {
    "MIT": r"\bMIT\b",
    "BSD": r"\b0?BSD\b",
    "Apache-2.0": r"\bApache\b",
    "ISC": r"\bISC\b",
    "PSF-2.0": r"\bPSF\b|Python Software Foundation",
    "MPL-2.0": r"\bMPL\b|Mozilla Public",
    "LGPL-3.0": r"\bLGPL|Lesser General Public",
}
_LOWER, _UPPER = frozenset({">=", ">", "==", "~="}), frozenset({"<", "<=", "==", "~="})


def own_terms() -> list[str]:
    """SPDX names of the licences gardenmate and its data stand under, as pyproject.toml joins them."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    return re.split(r" (?:AND|OR) ", project["license"])


def data_rows() -> list[tuple[str, str]]:
    """(first cell, licence) of each row of the table of data in DEVELOPERS.md."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("Data that come with gardenmate")[2]
    rows = re.findall(r"^\| (.+?) \| .+ \| (.+?) \|$", text.partition("\n## ")[0], re.MULTILINE)
    return [(first, licence) for first, licence in rows if "`" in first]


def data_files() -> Iterator[Path]:
    """Every file that comes along and is no program: facts, words, records, questions, conversations."""
    for folder in ("knowledge", "tests", "transcripts_demo"):
        for path in sorted((ROOT / folder).rglob("*")):
            hidden = any(part.startswith((".", "__")) for part in path.relative_to(ROOT).parts)
            if path.is_file() and not hidden and path.suffix not in (".py", ".pyc", ".sh"):
                yield path.relative_to(ROOT)


def licence_faults() -> list[str]:
    """Licences without a text, texts nobody names, files without a row, rows naming no licence known here."""
    terms, texts = own_terms(), {path.stem for path in (ROOT / "knowledge" / "licences").glob("*.txt")}
    faults = [f"{name}: no text in knowledge/licences" for name in terms if name not in texts]
    faults += [
        f"knowledge/licences/{name}.txt: pyproject.toml does not name it" for name in texts - set(terms)
    ]
    known = (*terms, "public domain", "each its own")
    named: set[Path] = set()
    for first, licence in data_rows():
        if not any(name in licence for name in known):
            faults.append(f"DEVELOPERS.md, {first}: no known licence in {licence!r}")
        for pattern in re.findall(r"`([^`]+)`", first):
            named |= {path.relative_to(ROOT) for path in ROOT.glob(pattern)}
    faults += [f"{path}: no row in DEVELOPERS.md" for path in data_files() if path not in named]
    return faults


def requirements() -> dict[str, list[Requirement]]:
    """What pyproject.toml asks for: "dependencies", "build" and each extra by its name."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    lists = {
        "dependencies": project["project"]["dependencies"],
        **project["project"]["optional-dependencies"],
        "build": project["build-system"]["requires"],
    }
    return {name: [Requirement(line) for line in lines] for name, lines in lists.items()}


def unbounded(asked: Requirement) -> list[str]:
    """ "no lower bound", "no upper bound": what a requirement lacks."""
    signs = {part.operator for part in asked.specifier}
    lacks = []
    if not signs & _LOWER:
        lacks.append("no lower bound")
    if not signs & _UPPER:
        lacks.append("no upper bound")
    return lacks


def needed(asked: Requirement, extras: frozenset[str] = frozenset()) -> bool:
    """True when a requirement counts on this Python and system, given the extras asked of its parent."""
    if asked.marker is None:
        return True
    here = {**default_environment()}
    return any(asked.marker.evaluate({**here, "extra": extra}) for extra in extras | {""})


def closure(first: list[Requirement]) -> Iterator[tuple[str, Requirement, Distribution | None]]:
    """(who asks, what for, what is installed for it or None) for these and all they bring along."""
    waiting = [(OWN, asked) for asked in first]
    seen: set[tuple[str, frozenset[str], str]] = set()
    while waiting:
        who, asked = waiting.pop()
        key = (canonicalize_name(asked.name), frozenset(asked.extras), who)
        if key in seen or not needed(asked):
            continue
        seen.add(key)
        try:
            found = distribution(asked.name)
        except PackageNotFoundError:
            yield who, asked, None
            continue
        yield who, asked, found
        extras = frozenset(asked.extras)
        for line in found.requires or ():
            more = Requirement(line)
            if needed(more, extras):
                more.marker = None
                waiting.append((found.metadata["Name"], more))


def said_licences(found: Distribution) -> str:
    """The licence as the metadata of a package state it: expression, else classifiers, else text."""
    meta = found.metadata
    expression = meta.get("License-Expression")
    if expression:
        return str(expression)
    classifiers = [c for c in meta.get_all("Classifier") or [] if c.startswith("License ::")]
    if classifiers:
        return "; ".join(c.rpartition(" :: ")[2] for c in classifiers)
    return str(meta.get("License") or "").partition("\n")[0]


def licences(text: str) -> frozenset[str]:
    """Known licences named in a text; the BSD ones count as one."""
    return frozenset(name for name, pattern in LICENCES.items() if re.search(pattern, text))


def damaged(found: Distribution) -> list[str]:
    """Files of a package that are gone or not what its RECORD says."""
    record = found.read_text("RECORD")
    if record is None:
        return ["RECORD is missing"]
    faults = []
    for name, stated, _size in csv.reader(record.splitlines()):
        if not stated:  # RECORD itself, and compiled files
            continue
        kind, _, digest = stated.partition("=")
        path = Path(str(found.locate_file(name)))
        if not path.is_file():
            faults.append(f"{name} is missing")
            continue
        actual = base64.urlsafe_b64encode(hashlib.new(kind, path.read_bytes()).digest()).rstrip(b"=")
        if actual.decode() != digest:
            faults.append(f"{name} is not what was installed")
    return faults


def given_up(found: Distribution) -> bool:
    """True when the authors say a package is no longer cared for."""
    return "Development Status :: 7 - Inactive" in (found.metadata.get_all("Classifier") or [])


def faults_of(found: Distribution) -> list[str]:
    """Everything wrong with one installed package."""
    faults = damaged(found)
    if found.read_text("direct_url.json") is not None:
        faults.append("does not come from the package index")
    if not licences(said_licences(found)):
        faults.append(f"its licence is of no known kind: {said_licences(found) or 'none stated'}")
    if given_up(found):
        faults.append("is given up by its authors")
    return faults


def withdrawn(packages: list[Distribution]) -> list[str]:
    """Packages whose installed release the index says was withdrawn; asks the index through pip."""
    pins = [f"{p.metadata['Name']}=={p.version}" for p in packages]
    pip = [sys.executable, "-m", "pip", "install", "--quiet", "--dry-run", "--ignore-installed", "--no-deps"]
    done = subprocess.run([*pip, "--report", "-", *pins], capture_output=True, text=True, check=False)
    if done.returncode:
        return [f"the index was not asked: {done.stderr.strip().splitlines()[-1]}"]
    rows = json.loads(done.stdout)["install"]
    return [
        f"{row['metadata']['name']} {row['metadata']['version']} was withdrawn"
        for row in rows
        if row.get("is_yanked")
    ]


def main() -> int:
    """Print what is wrong, line by line, then a summary. 0 when nothing is."""
    parser = argparse.ArgumentParser(description="Audits the installed libraries.")
    parser.add_argument("--index", action="store_true", help="ask the index for withdrawn releases too")
    asked_index = parser.parse_args().index
    wanted = requirements()
    faults = [
        f"{asked.name} ({group}): {lack}"
        for group, group_asks in wanted.items()
        for asked in group_asks
        for lack in unbounded(asked)
    ]
    faults += licence_faults()
    packages: dict[str, Distribution] = {}
    for who, asked, found in closure([r for group in INSTALLED for r in wanted[group]]):
        if found is None:
            faults.append(f"{asked.name}: not installed, {who} asks for it")
            continue
        packages[canonicalize_name(asked.name)] = found
        if not asked.specifier.contains(found.version, prereleases=True):
            faults.append(f"{asked.name} {found.version}: {who} asks for {asked.specifier}")
    for name, found in sorted(packages.items()):
        faults += [f"{name} {found.version}: {fault}" for fault in faults_of(found)]
    if asked_index:
        faults += withdrawn(list(packages.values()))
    for fault in faults:
        print(f"audit: {fault}")
    kinds = sorted({kind for p in packages.values() for kind in licences(said_licences(p))})
    how = "offline and by the index" if asked_index else "offline"
    print(
        f"audit: {len(packages)} packages checked {how}, {len(faults)} faults; licences: {', '.join(kinds)}"
    )
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
