from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.core.answer import Answer, Number
from gardenmate.core.effects import CorrectDecision, LogDecision, UndoDecision
from gardenmate.core.errors import UsageError
from gardenmate.core.question import Request
from gardenmate.core.world import Decision
from gardenmate.journal.decision import KeptDecision
from gardenmate.journal.export import export
from gardenmate.journal.imports import read_export
from gardenmate.journal.store import Journal, Merged

KEEP = {"place": "Larch Hollow", "answer": None, "knowledge_version": "test"}
Log = Callable[..., Decision]
STAMP = "2027-04-18T09:30:00.000000+00:00"


def kept(text: str, **more: object) -> KeptDecision:
    fields = {
        "id": 1,
        "on": date(2027, 4, 18),
        "action": "sow",
        "text": text,
        "uid": "ab12",
        "written_at": STAMP,
    }
    return KeptDecision(**(fields | more))  # type: ignore[arg-type]


NASTY = (
    '=HYPERLINK("http://example.org")', "+1", "-2+3", "@SUM(A1)", "\t=1+1", " =1+1", "a\nb",
    "a\r\nBEGIN:VEVENT\r\nX:1", "\x1b[31mred\x1b[0m", "\u202egnitirw\u202c", "zero\u200bwidth",
    "[link](http://example.org)", "<b>bold</b>", "`code`", "# head", "| cell |", "\x00", "a,b;c\"d'e",
    "\ud800",
)  # fmt: skip


class TestCsv:
    def rows(self, *decisions: KeptDecision) -> list[list[str]]:
        return list(csv.reader(io.StringIO(export(decisions, "csv").decode("utf-8"), newline="")))

    def test_one_row_each_under_named_columns(self) -> None:
        head, row = self.rows(
            kept('sowed "leeks", two trays', crops=("leek", "onion"), count=24.0, temp_c=21.5)
        )
        assert head[:7] == ["date", "action", "entry", "crops", "count", "place", "temp_c"]
        assert row[:7] == ["2027-04-18", "sow", 'sowed "leeks", two trays', "leek onion", "24", "", "21.5"]

    @pytest.mark.parametrize("text", NASTY)
    def test_no_cell_starts_a_formula_or_breaks_the_row(self, text: str) -> None:
        rows = self.rows(
            kept(text, place=text, question=text, verdict="yes", headline=text, detail={"note": text})
        )
        assert len(rows) == 2
        assert len(rows[1]) == len(rows[0])
        for cell in rows[1]:
            assert not cell.lstrip(" ").startswith(("=", "+", "-", "@", "\t", "\r"))
            assert "\x1b" not in cell
            assert "\n" not in cell

    def test_the_apostrophe_is_only_put_where_it_is_needed(self) -> None:
        assert self.rows(kept("leeks = onions - 2"))[1][2] == "leeks = onions - 2"
        assert self.rows(kept("=2+3"))[1][2] == "'=2+3"


class TestMarkdown:
    def test_reads_day_by_day(self) -> None:
        text = export(
            [
                kept("sowed peppers", verdict="yes", question="too late?", headline="Not too late."),
                kept("watered"),
                kept("planted", on=date(2027, 4, 20)),
            ],
            "md",
        ).decode()
        assert text == (
            "# Garden log\n\n## 18 Apr 2027\n\n- sowed peppers\n  - asked: too late? (yes)\n"
            "  - answer: Not too late.\n- watered\n\n## 20 Apr 2027\n\n- planted\n"
        )

    @pytest.mark.parametrize("text", NASTY)
    def test_an_entry_stays_one_line_of_plain_text(self, text: str) -> None:
        lines = export([kept(text)], "md").decode().splitlines()
        assert len([line for line in lines if line]) == 3
        entry = lines[-1].removeprefix("- ")
        for sign in "<>[]`#|*":
            assert entry.count(sign) == entry.count(f"\\{sign}")


class TestJson:
    @settings(max_examples=60, deadline=None)
    @given(
        text=st.text(st.characters() | st.characters(categories=("Cs", "Cc"))),
        count=st.none() | st.integers(0, 10**6),
        crops=st.lists(st.sampled_from(["leek", "kale"]), max_size=2),
        day=st.dates(date(1900, 1, 1), date(2200, 12, 31)),
    )
    def test_carries_every_decision_exactly(
        self,
        tmp_path_factory: pytest.TempPathFactory,
        text: str,
        count: int | None,
        crops: list[str],
        day: date,
    ) -> None:
        folder = tmp_path_factory.mktemp("j")
        with Journal(folder / "a.db") as ours, Journal(folder / "b.db") as theirs:
            ours.apply(LogDecision("sow", text, day, tuple(crops), count, {"variety": text}), **KEEP)
            data = export(ours.everything(), "json").decode("ascii")
            assert theirs.add_all(read_export(data)) == Merged(1, 0, 0)
            assert theirs.everything() == ours.everything()

    def test_again_adds_nothing(self, journal: Journal, log: Log) -> None:
        log("a")
        log("b")
        data = export(journal.everything(), "json").decode()
        assert journal.add_all(read_export(data)) == Merged(0, 0, 2)
        assert len(journal.everything()) == 2

    def test_what_it_rests_on_goes_along(self, journal: Journal, tmp_path: Path) -> None:
        basis = Answer(Request("too late?", "late-start"), "tight", "Tight.", (Number("margin", 3, "days"),))
        effect = LogDecision("sow", "sowed", date(2027, 4, 18), detail={"rests_on": "previous"})
        journal.apply(effect, **KEEP | {"answer": basis})
        with Journal(tmp_path / "other.db") as other:
            other.add_all(read_export(export(journal.everything(), "json").decode()))
            (there,) = other.everything()
        assert (there.verdict, there.question, there.headline) == ("tight", "too late?", "Tight.")
        assert there.numbers == ({"name": "margin", "value": 3, "unit": "days"},)

    def test_a_correction_made_elsewhere_later_is_taken_over_an_older_one_is_not(
        self, journal: Journal, log: Log, tmp_path: Path
    ) -> None:
        first = log("12 leeks", "leek", count=12)
        old = export(journal.everything(), "json").decode()
        with Journal(tmp_path / "other.db") as other:
            other.add_all(read_export(old))
            (copy,) = other.everything()
            other.apply(CorrectDecision(copy.id, "14 leeks", count=14), **KEEP)
            new = export(other.everything(), "json").decode()
        assert journal.add_all(read_export(new)) == Merged(0, 1, 0)
        assert [(d.id, d.text, d.count) for d in journal.everything()] == [(first.id, "14 leeks", 14)]
        assert journal.add_all(read_export(old)) == Merged(0, 0, 1)
        assert journal.everything()[0].text == "14 leeks"

    def test_what_was_taken_back_here_stays_so(self, journal: Journal, log: Log) -> None:
        log("a")
        data = export(journal.everything(), "json").decode()
        journal.apply(UndoDecision(), **KEEP)
        assert journal.add_all(read_export(data)) == Merged(0, 0, 1)
        assert journal.everything() == []

    def test_an_entry_without_a_name_is_known_by_its_content(self, journal: Journal) -> None:
        one = {"on": "2027-04-18", "action": "sow", "text": "leeks"}
        data = json.dumps(
            {"kind": "gardenmate log", "version": 1, "decisions": [one, one, one | {"text": "kale"}]}
        )
        assert journal.add_all(read_export(data)) == Merged(2, 0, 1)

    @pytest.mark.parametrize(
        ("decisions", "told"),
        [
            ("x", "not an exported log"),
            ([1], "Entry 1 of that log is not an object"),
            ([{"on": "2027-04-18"}], "Entry 1 of that log cannot be read"),
            ([{"on": "April", "action": "sow"}], "Entry 1 of that log has no day"),
            ([{"on": "2027-04-18", "action": "sow", "count": "many"}], "'count' cannot be 'many'"),
            ([{"on": "2027-04-18", "action": "sow", "count": True}], "'count' cannot be True"),
            ([{"on": "2027-04-18", "action": "sow", "mood": "fine"}], "unknown field 'mood'"),
            ([{"on": "2027-04-18", "action": "sow", "crops": [1]}], "'crops' should be up to 200 names"),
            ([{"on": "2027-04-18", "action": "sow", "written_at": "noon"}], "cannot be read"),
        ],
    )
    def test_a_wrong_file_is_told_entry_by_entry(self, decisions: object, told: str) -> None:
        data = json.dumps({"kind": "gardenmate log", "version": 1, "decisions": decisions})
        with pytest.raises(UsageError, match=told):
            read_export(data)

    @pytest.mark.parametrize("data", ["", "leeks", "[]", "[" * 100_000, '{"kind": "other", "decisions": []}'])
    def test_a_file_that_is_no_log_is_refused(self, data: str) -> None:
        with pytest.raises(UsageError):
            read_export(data)

    def test_a_newer_format_is_refused(self) -> None:
        with pytest.raises(UsageError, match="format 2"):
            read_export('{"kind": "gardenmate log", "version": 2, "decisions": []}')

    def test_all_or_nothing(self, journal: Journal) -> None:
        good = {"on": "2027-04-18", "action": "sow", "text": "leeks"}
        with pytest.raises(UsageError, match="Entry 2"):
            journal.add_all(read_export(json.dumps(
                {"kind": "gardenmate log", "version": 1, "decisions": [good, {"on": "never"}]}
            )))  # fmt: skip
        assert journal.everything() == []


@pytest.mark.parametrize("fmt", ["md", "csv", "json", "ics"])
def test_an_empty_log_is_a_valid_file(fmt: str) -> None:
    assert export([], fmt)
