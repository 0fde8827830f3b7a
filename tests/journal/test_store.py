from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gardenmate.core.answer import Answer, Number
from gardenmate.core.effects import CorrectDecision, LogDecision, RedoDecision, UndoDecision
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import Decision
from gardenmate.journal.store import Journal

KEEP = {"place": "Larch Hollow", "answer": None, "knowledge_version": "test"}
Log = Callable[..., Decision]


def texts(journal: Journal) -> list[str]:
    return [d.text for d in journal.latest()]


def test_a_journal_that_was_never_written_is_empty_and_makes_no_file(journal: Journal, path: Path) -> None:
    assert list(journal.latest()) == []
    assert journal.would_undo() == []
    assert journal.would_redo() is None
    assert journal.check() == []
    assert not path.parent.exists()


def test_a_decision_is_kept_with_what_it_rests_on(journal: Journal, path: Path) -> None:
    question = Request("too late for peppers?", "late-start", (CropRef("pepper"),))
    basis = Answer(
        question=question,
        verdict="yes",
        headline="Not too late for peppers.",
        numbers=(
            Number("first_pick", date(2027, 8, 20), "date"),
            Number("margin", 12, "days", crop="pepper"),
        ),
    )
    effect = LogDecision(
        "sow",
        "sowed 48 peppers",
        date(2027, 4, 18),
        ("pepper",),
        48,
        {"temp_c": "21.5", "rests_on": "previous"},
    )
    journal.apply(effect, place="Duluth, MN", answer=basis, knowledge_version="2026-11")
    journal.close()
    (kept,) = Journal(path).latest()
    assert (kept.action, kept.on, kept.crops, kept.count) == ("sow", date(2027, 4, 18), ("pepper",), 48.0)
    assert (kept.place, kept.temp_c, kept.knowledge_version) == ("Duluth, MN", 21.5, "2026-11")
    assert (kept.question, kept.verdict, kept.headline) == (question.text, "yes", basis.headline)
    assert kept.numbers == (
        {"name": "first_pick", "value": "2027-08-20", "unit": "date"},
        {"name": "margin", "value": 12, "unit": "days", "crop": "pepper"},
    )


def test_the_answer_before_is_not_kept_with_a_decision_that_does_not_rest_on_it(journal: Journal) -> None:
    basis = Answer(Request("frost tonight?", "frost"), "no", "Bring them in.")
    journal.apply(LogDecision("buy", "bought twine", date(2027, 4, 1)), **KEEP | {"answer": basis})
    assert journal.latest()[0].verdict is None


def test_newest_day_first_whenever_it_was_written(journal: Journal, log: Log) -> None:
    log("b", on=date(2027, 4, 2))
    log("c", on=date(2027, 4, 3))
    log("a", on=date(2026, 12, 31))
    log("b later", on=date(2027, 4, 2))
    assert texts(journal) == ["c", "b later", "b", "a"]
    assert [d.text for d in journal.latest(2)] == ["c", "b later"]
    assert [d.text for d in journal.everything()] == ["a", "b", "b later", "c"]


def test_first_and_last_day_of_the_calendar(journal: Journal, log: Log) -> None:
    log("oldest", on=date.min)
    log("newest", on=date.max)
    assert texts(journal) == ["newest", "oldest"]
    assert [d.text for d in journal.search(since=date.max)] == ["newest"]
    assert [d.text for d in journal.search(until=date.min)] == ["oldest"]


class TestSearch:
    @pytest.fixture(autouse=True)
    def _entries(self, log: Log) -> None:
        log("sowed 48 peppers under the lamp", "pepper", on=date(2027, 3, 1), action="sow")
        log("sowed hot ones", "hot-pepper", on=date(2027, 3, 2), action="sow")
        log("potted up peppers", "pepper", on=date(2027, 4, 10), action="pot-up")
        log("planted leeks and onions", "leek", "onion", on=date(2027, 4, 12))

    def test_by_crop_and_a_crop_is_not_another_that_ends_alike(self, journal: Journal) -> None:
        assert [d.on.day for d in journal.search(crop="pepper")] == [10, 1]
        assert [d.text for d in journal.search(crop="hot-pepper")] == ["sowed hot ones"]
        assert [d.text for d in journal.search(crop="onion")] == ["planted leeks and onions"]

    def test_by_action_days_and_all_together(self, journal: Journal) -> None:
        assert len(journal.search(action="sow")) == 2
        assert [d.on.day for d in journal.search(since=date(2027, 3, 2), until=date(2027, 4, 10))] == [10, 2]
        found = journal.search(crop="pepper", action="sow", since=date(2027, 1, 1), until=date(2027, 12, 31))
        assert [d.on for d in found] == [date(2027, 3, 1)]
        assert journal.search(since=date(2028, 1, 1)) == []

    @pytest.mark.parametrize(
        "text", ["leek", "LEEKS", "planted onion", "plant leeks", "onions  leeks", "lee"]
    )
    def test_by_words_in_any_form_and_by_beginnings(self, journal: Journal, text: str) -> None:
        assert [d.text for d in journal.search(text=text)] == ["planted leeks and onions"]

    @pytest.mark.parametrize(
        "text", ['"', "leek OR pepper", "NEAR(", "text:leek", "* -", "'; DROP TABLE entry"]
    )
    def test_signs_of_a_query_language_mean_nothing(self, journal: Journal, text: str) -> None:
        assert journal.search(text=text) == []
        assert len(journal.latest()) == 4

    def test_signs_alone_are_found_as_they_stand(self, journal: Journal, log: Log) -> None:
        log("🌱🌱 up!")
        assert [d.text for d in journal.search(text="🌱")] == ["🌱🌱 up!"]

    def test_blank_text_is_no_filter(self, journal: Journal) -> None:
        assert len(journal.search(text="  ")) == 4

    def test_place_is_searched_too(self, journal: Journal) -> None:
        assert len(journal.search(text="larch")) == 4


class TestUndo:
    def test_the_latest_goes_and_comes_back(self, journal: Journal, log: Log) -> None:
        log("first", on=date(2027, 5, 1))
        log("second", on=date(2027, 4, 1))  # the day does not matter, when it was written does
        assert [r.before.text for r in journal.would_undo(5)] == ["second", "first"]
        gone = journal.apply(UndoDecision(), **KEEP)
        assert gone is not None
        assert gone.text == "second"
        assert texts(journal) == ["first"]
        back = journal.would_redo()
        assert back is not None
        assert back.text == "second"
        journal.apply(UndoDecision(), **KEEP)
        assert texts(journal) == []
        assert journal.apply(UndoDecision(), **KEEP) is None
        journal.apply(RedoDecision(), **KEEP)
        journal.apply(RedoDecision(), **KEEP)
        assert texts(journal) == ["first", "second"]
        assert journal.apply(RedoDecision(), **KEEP) is None

    def test_a_correction_is_taken_back_before_its_decision(self, journal: Journal, log: Log) -> None:
        kept = log("planted 12 leeks", "leek", count=12)
        journal.apply(CorrectDecision(kept.id, "planted 14 leeks", count=14), **KEEP)
        (step,) = journal.would_undo()
        assert step.after is not None
        assert (step.before.text, step.after.text) == ("planted 14 leeks", "planted 12 leeks")
        journal.apply(UndoDecision(), **KEEP)
        assert texts(journal) == ["planted 12 leeks"]
        journal.apply(RedoDecision(), **KEEP)
        assert texts(journal) == ["planted 14 leeks"]

    def test_one_decision_by_number_with_its_corrections(self, journal: Journal, log: Log) -> None:
        leeks = log("12 leeks", "leek")
        log("kale", "kale")
        journal.apply(CorrectDecision(leeks.id, "14 leeks"), **KEEP)
        gone = journal.apply(UndoDecision(leeks.id), **KEEP)
        assert gone is not None
        assert gone.text == "14 leeks"
        assert texts(journal) == ["kale"]
        # its correction is no longer a change that counts: the next undo takes the kale
        assert [r.before.text for r in journal.would_undo(9)] == ["kale"]
        journal.apply(RedoDecision(), **KEEP)
        assert sorted(texts(journal)) == ["14 leeks", "kale"]
        assert journal.apply(UndoDecision(999), **KEEP) is None

    def test_what_was_taken_back_is_not_found(self, journal: Journal, log: Log) -> None:
        log("planted leeks", "leek")
        journal.apply(UndoDecision(), **KEEP)
        assert journal.search(text="leeks") == []
        assert journal.search(crop="leek") == []


class TestCorrect:
    def test_replaces_what_is_given_and_keeps_the_rest(self, journal: Journal, log: Log) -> None:
        kept = log("planted 12 leeks", "leek", count=12, on=date(2027, 4, 10))
        journal.apply(CorrectDecision(kept.id, count=14), **KEEP)
        journal.apply(CorrectDecision(kept.id, on=date(2027, 4, 9), crops=("onion",)), **KEEP)
        (now,) = journal.latest()
        assert (now.id, now.text, now.count) == (kept.id, "planted 12 leeks", 14)
        assert (now.on, now.crops) == (date(2027, 4, 9), ("onion",))
        assert journal.search(crop="leek") == []
        assert len(journal.search(crop="onion")) == 1

    def test_of_nothing_is_nothing(self, journal: Journal, log: Log) -> None:
        assert journal.apply(CorrectDecision(7, count=14), **KEEP) is None
        kept = log("leeks")
        journal.apply(UndoDecision(), **KEEP)
        assert journal.apply(CorrectDecision(kept.id, count=14), **KEEP) is None

    def test_entries_are_never_changed(self, journal: Journal, log: Log, path: Path) -> None:
        import sqlite3

        log("planted 12 leeks")
        journal.close()
        db = sqlite3.connect(path)
        for statement in ("UPDATE entry SET line = ''", "DELETE FROM entry"):
            with pytest.raises(sqlite3.IntegrityError, match="never"):
                db.execute(statement)
        db.close()


def paired(text: str) -> str:
    """The text with every two halves of a surrogate pair that stand together joined to the sign they mean."""
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "surrogatepass")


any_text = st.text(
    alphabet=st.one_of(
        st.characters(),  # no lone surrogates
        st.characters(categories=("Cc", "Cf", "Cs", "Co")),
        st.sampled_from("\0\x1b\u202e\u2066\ud800\udcff🌶️'\"=;-,\r\n\t"),
    ),
    max_size=200,
).map(paired)


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=any_text, place=any_text, crops=st.lists(any_text, max_size=3), count=st.floats(0, 1e9))
def test_any_text_comes_back_exactly(
    tmp_path: Path, text: str, place: str, crops: list[str], count: float
) -> None:
    path = tmp_path / "any.db"
    with Journal(path) as journal:
        effect = LogDecision("note", text, date(2027, 4, 18), tuple(crops), count, {"variety": text})
        kept = journal.apply(effect, place=place, answer=None, knowledge_version="")
        assert kept is not None
        journal.search(text=text)  # any text may also be searched for
    with Journal(path) as journal:
        (again,) = [d for d in journal.latest(100_000) if d.id == kept.id]
    assert again == kept
    assert (again.text, again.place, again.crops, again.count) == (text, place, tuple(crops), count)


def test_ten_thousand_signs_come_back(journal: Journal, log: Log) -> None:
    long = "leek 🌱 " * 1500
    log(long)
    assert texts(journal) == [long]
    assert journal.check() == []


effects = st.lists(
    st.one_of(
        st.builds(
            LogDecision,
            action=st.sampled_from(["sow", "plant"]),
            text=st.sampled_from(["a leek", "b kale", "c pea"]),
            on=st.dates(date(2026, 1, 1), date(2027, 12, 31)),
            crops=st.sampled_from([(), ("leek",), ("leek", "kale")]),
        ),
        st.builds(
            CorrectDecision,
            decision_id=st.integers(1, 12),
            text=st.none() | st.sampled_from(["d", "e pea"]),
            on=st.none() | st.dates(date(2026, 1, 1), date(2027, 12, 31)),
            crops=st.none() | st.just(("pea",)),
        ),
        st.just(UndoDecision()),
        st.builds(UndoDecision, decision_id=st.integers(1, 12)),
        st.just(RedoDecision()),
    ),
    max_size=14,
)


@settings(max_examples=80, deadline=None)
@given(changes=effects)
def test_undoing_everything_and_redoing_it_restores_everything(
    tmp_path_factory: pytest.TempPathFactory, changes: list[LogDecision]
) -> None:
    """Whatever was done: the lists agree with the entries, and as many redos as undos lead back."""
    with Journal(tmp_path_factory.mktemp("j") / "j.db") as journal:
        for change in changes:
            journal.apply(change, **KEEP)
        assert journal.check() == []
        before = journal.everything()
        undone = 0
        while journal.would_undo():
            journal.apply(UndoDecision(), **KEEP)
            undone += 1
        assert journal.everything() == []
        for _ in range(undone):
            journal.apply(RedoDecision(), **KEEP)
        assert [(d.id, d.on, d.text, d.crops) for d in journal.everything()] == [
            (d.id, d.on, d.text, d.crops) for d in before
        ]
        assert journal.check() == []


def test_two_journals_on_one_file_see_each_other(path: Path) -> None:
    with Journal(path) as one, Journal(path) as other:
        one.apply(LogDecision("note", "from one", date(2027, 4, 1)), **KEEP)
        other.apply(LogDecision("note", "from the other", date(2027, 4, 2)), **KEEP)
        assert texts(one) == texts(other) == ["from the other", "from one"]


def test_a_file_deleted_meanwhile_is_begun_anew_and_nothing_acknowledged_after_is_lost(
    journal: Journal, log: Log, path: Path
) -> None:
    log("before")
    for each in path.parent.iterdir():
        each.unlink()
    log("after")
    assert [d.text for d in Journal(path).latest()] == ["after"]
