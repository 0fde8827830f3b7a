"""Whose the data are: every licence named has its full text, every file that is no program has a row.

Opening and closing words of the texts are those their publishers gave them (as in the SPDX licence list);
the conditions of the word lists are those of the package wordfreq 3.1.1 (its README, "License").
"""

from __future__ import annotations

import re
import sys
from importlib import util
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[1]
LICENCES = ROOT / "knowledge" / "licences"


def load_audit() -> ModuleType:
    """The script .ci/audit.py as a module."""
    spec = util.spec_from_file_location("ci_audit_licences", ROOT / ".ci" / "audit.py")
    assert spec is not None
    assert spec.loader is not None
    module = util.module_from_spec(spec)
    sys.modules["ci_audit_licences"] = module
    spec.loader.exec_module(module)
    return module


audit = load_audit()


def text_of(name: str) -> str:
    """A licence text with its line breaks taken out."""
    return " ".join((LICENCES / f"{name}.txt").read_text("utf-8").split())


def test_every_licence_has_its_text_and_every_data_file_its_row() -> None:
    assert audit.licence_faults() == []


def test_a_file_without_a_row_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = [row for row in audit.data_rows() if "rare.txt" not in row[0]]
    assert len(rows) == len(audit.data_rows()) - 1
    monkeypatch.setattr(audit, "data_rows", lambda: rows)
    assert "knowledge/language/rare.txt: no row in DEVELOPERS.md" in audit.licence_faults()


def test_a_licence_without_a_text_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(audit, "own_terms", lambda: ["MIT", "BSD-3-Clause"])
    faults = audit.licence_faults()
    assert "BSD-3-Clause: no text in knowledge/licences" in faults
    assert "knowledge/licences/CC-BY-4.0.txt: pyproject.toml does not name it" in faults


@pytest.mark.parametrize(
    ("name", "opens", "closes"),
    [
        ("MIT", "MIT License Copyright (c) 2026 the gardenmate contributors", "DEALINGS IN THE SOFTWARE."),
        (
            "CC-BY-SA-4.0",
            "Attribution-ShareAlike 4.0 International",
            "may be contacted at creativecommons.org.",
        ),
        (
            "CC-BY-4.0",
            "Creative Commons Attribution 4.0 International",
            "may be contacted at creativecommons.org.",
        ),
        ("OGL-UK-3.0", "Open Government Licence v3.0", "section on The National Archives website."),
        (
            "LicenseRef-ECCC-Data-Servers-2.1",
            "Environment and Climate Change Canada Data Servers End-use Licence Version 2.1",
            "the date you accessed the Information.",
        ),
        ("Apache-2.0", "Apache License Version 2.0, January 2004", "limitations under the License."),
        ("CC0-1.0", "Creative Commons Legal Code CC0 1.0 Universal", "use of the Work."),
    ],
)
def test_a_text_is_whole(name: str, opens: str, closes: str) -> None:
    found = text_of(name)
    assert found.startswith(opens)
    assert closes in found[-420:]


@pytest.mark.parametrize(
    "credit",
    [
        "Robyn Speer",
        "https://creativecommons.org/licenses/by-sa/4.0/",
        "Marc Brysbaert",
        "SUBTLEX is freely available data",
        "OpenSubtitles",
        "Google Books Ngram Viewer",
        "http://books.google.com/ngrams",
        "Leeds Internet Corpus",
        "Wikipedia",
        "ParaCrawl",
        "GeoNames",
        "https://creativecommons.org/licenses/by/4.0/",
        "Contains public sector information licensed under the Open Government Licence v3.0",
        "Contains information licenced under the Data Server End-use Licence of Environment and",
        "Deutscher Wetterdienst, values averaged",
    ],
)
def test_the_notice_gives_the_credit_that_is_asked_for(credit: str) -> None:
    assert credit in " ".join((LICENCES / "NOTICE.md").read_text("utf-8").split())


def test_every_file_the_notice_names_is_there() -> None:
    names = re.findall(r"`([\w./*-]+\.(?:txt|json|csv|toml))`", (LICENCES / "NOTICE.md").read_text("utf-8"))
    assert len(names) > 8
    for name in names:
        assert any(any(folder.glob(name)) for folder in (ROOT, LICENCES, ROOT / "knowledge" / "language")), (
            name
        )


def test_a_pointer_lies_beside_the_word_lists() -> None:
    pointer = (ROOT / "knowledge" / "language" / "LICENCES.md").read_text("utf-8")
    for word in ("Robyn Speer", "CC BY-SA 4.0", "GeoNames", "CC BY 4.0", "../licences/NOTICE.md"):
        assert word in pointer
