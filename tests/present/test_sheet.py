"""The season sheet: well-formed, inside its paper, in black and white, everything of mine on it, nothing typed run."""

from __future__ import annotations

import re
from datetime import date, timedelta
from pathlib import Path
from xml.etree import ElementTree

import pytest

from gardenmate.cli.main import main
from gardenmate.core.answer import Window
from gardenmate.present.sheet import PAPERS, Planting, Sheet, SheetRow, html, svg, weeks_of

START = date(2027, 1, 1)
TODAY = date(2027, 4, 18)
SVG = "{http://www.w3.org/2000/svg}"


def window(first: date, days: int = 30) -> Window:
    last = first + timedelta(days=days)
    return Window("pepper", "sow-indoors", first, first, last, last)


def sheet(rows: int = 3, name: str = "pepper", paper: str = "a4", jobs: int = 12) -> Sheet:
    plantings = (Planting(date(2027, 4, 2), "24 sown 2 Apr"),)
    row = SheetRow(name, (window(date(2027, 3, 11)),), ((date(2027, 8, 1), date(2027, 9, 20)),), plantings)
    return Sheet(
        title=f"{name}: my season 2027",
        start=START,
        today=TODAY,
        frost_odds=tuple(1.0 if day < 150 or day > 260 else 0.0 for day in range(365)),
        frost_marks=((date(2027, 5, 17), "last frost 17 May"),),
        rows=(row,) * rows,
        weeks=weeks_of(
            [(TODAY + timedelta(days=5 * n), f"Sow {name} number {n}") for n in range(jobs)], TODAY
        ),
        paper=PAPERS[paper],
    )


@pytest.mark.parametrize("rows", [1, 8, 30])
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("jobs", [0, 12, 300])
def test_everything_stands_inside_the_paper(rows: int, paper: str, jobs: int) -> None:
    root = ElementTree.fromstring(svg(sheet(rows, paper=paper, jobs=jobs)))
    width, height = PAPERS[paper].width, PAPERS[paper].height
    boxes = [e for e in root.iter(f"{SVG}rect") if e.get("x")]
    assert boxes
    for box in boxes:
        assert 0 <= float(box.get("x", "-1")) <= width - float(box.get("width", "0"))
        assert 0 <= float(box.get("y", "-1")) <= height - float(box.get("height", "0"))
    for text in root.iter(f"{SVG}text"):
        letters = (
            0 if text.get("text-anchor") else 0.45 * float(text.get("font-size", "0")) * len(text.text or "")
        )
        assert 0 <= float(text.get("x", "-1")) <= width - letters
        assert 0 < float(text.get("y", "-1")) <= height - 3


def test_it_is_black_and_white() -> None:
    colours = set(re.findall(r'(?:fill|stroke)="(#[0-9a-f]+)"', svg(sheet())))
    for colour in colours:
        digits = colour.lstrip("#")
        parts = {digits[n * len(digits) // 3 : (n + 1) * len(digits) // 3] for n in range(3)}
        assert len(parts) == 1, colour  # a grey


def test_what_was_typed_is_text_and_nothing_else() -> None:
    typed = '<script>alert(1)</script>"&\x1b[31m'
    for page in (svg(sheet(name=typed)), html(sheet(name=typed))):
        assert "<script" not in page
        assert "\x1b" not in page
    root = ElementTree.fromstring(svg(sheet(name=typed)))
    assert any((e.text or "").startswith("<script>") for e in root.iter(f"{SVG}text"))


def test_nothing_is_fetched() -> None:
    page = html(sheet())
    assert not re.findall(r"(?:href|src|url|@import)\s*[=(]", page)


def test_my_plantings_are_marked() -> None:
    root = ElementTree.fromstring(svg(sheet(rows=1)))
    texts = [e.text for e in root.iter(f"{SVG}text")]
    assert "24 sown 2 Apr" in texts
    assert len(list(root.iter(f"{SVG}polygon"))) == 3  # the hill of the frost odds, the key, and the mark


def test_a_bar_past_the_end_of_the_year_comes_round() -> None:
    row = SheetRow("garlic", (window(date(2027, 12, 10), 60),))
    root = ElementTree.fromstring(svg(Sheet("s", START, TODAY, (), (), (row,), ())))
    xs = sorted(float(e.get("x", "0")) for e in root.iter(f"{SVG}rect") if float(e.get("y") or 0) > 35)
    assert xs[0] < 50 < 150 < xs[-1]


def test_jobs_stand_by_the_week_and_overdue_ones_in_this_week() -> None:
    weeks = weeks_of(
        [(date(2027, 4, 2), "late"), (date(2027, 4, 19), "next"), (date(2027, 4, 25), "next too")], TODAY
    )
    assert [(w.begins, w.jobs) for w in weeks] == [
        (date(2027, 4, 12), ("late",)),
        (date(2027, 4, 19), ("next", "next too")),
    ]


def test_jobs_that_do_not_fit_are_said_to_be_missing() -> None:
    assert "Later jobs" in svg(sheet(rows=30, jobs=300))
    assert "Later jobs" not in svg(sheet(rows=8, jobs=12))


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("GARDENMATE_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def texts(path: Path) -> list[str]:
    return [e.text or "" for e in ElementTree.fromstring(path.read_text("utf-8")).iter(f"{SVG}text")]


def test_the_command_writes_my_crops_with_what_was_sown(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    day = ["--today", "2027-04-18"]
    for said in ("I garden in Duluth", "I want peppers, tomatoes, leeks", "sowed 24 peppers on April 2"):
        assert main([*day, "ask", said]) == 0
    assert main([*day, "sheet", "--svg", "--out", str(home / "s.svg")]) == 0
    assert "one page of Letter" in capsys.readouterr().out
    found = texts(home / "s.svg")
    assert {"Peppers", "Tomatoes", "Leeks"} <= set(found)
    assert "Kale" not in found
    assert any(text.startswith("24 sown 2 Apr") for text in found)
    assert not any("Sow peppers indoors" in text for text in found)  # done
    assert any("Set out tomatoes" in text for text in found)


def test_without_own_crops_the_usual_ones_and_a_word_about_it(home: Path) -> None:
    assert main(["--place", "Norwich", "--no-garden", "--today", "2027-04-18", "sheet"]) == 0
    page = (home / "my-season.html").read_text("utf-8")
    assert "Usual crops" in page
    assert "courgette" in page or "autumn" in page
    assert " fall" not in page


def test_named_crops_may_be_misspelled(home: Path) -> None:
    out = home / "n.svg"
    words = ["--place", "Duluth", "--no-garden", "--today", "2027-04-18", "sheet", "--svg", "--out", str(out)]
    assert main([*words, "--crop", "tomatos", "--crop", "brocoli"]) == 0
    assert {"Tomatoes", "Broccoli"} <= set(texts(out))


def test_a_sheet_without_a_place_says_what_is_missing(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--no-garden", "sheet"]) == 3
    assert "needs a place" in capsys.readouterr().err


def test_a_variety_with_its_days_has_a_row_of_its_own(home: Path) -> None:
    garden = home / "garden.toml"
    garden.write_text(
        '[place]\nname = "Duluth"\n[crops]\nwanted = ["tomato"]\n'
        '[varieties.glacier]\nname = "Glacier"\ncrop = "tomato"\ndays = 55\n'
        '[varieties.brandywine]\nname = "Late <b>One</b>"\ncrop = "tomato"\ndays = 90\n',
        "utf-8",
    )
    out = home / "v.svg"
    day = ["--today", "2027-04-18", "--garden", str(garden)]
    assert main([*day, "ask", "sowed 12 Glacier tomatoes on April 10"]) == 0
    assert main([*day, "sheet", "--svg", "--out", str(out)]) == 0
    found = texts(out)
    assert "Tomatoes: Glacier" in found
    assert any(text.startswith("Tomatoes: Late <b>") for text in found)
    assert "12 sown 10 Apr" in found
