"""Log and garden in whole conversations: kept before it is shown, used by the next answer, faults told."""

from __future__ import annotations

import json
import os
import sqlite3
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from gardenmate.climate.places import resolve_site
from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.conversation import SUPPOSED_PLACE, Conversation
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.faults import JournalError
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts
from gardenmate.records import replace

REPO = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def facts() -> Facts:
    return Facts()


def talk(home: Path, facts: Facts, today: date = date(2027, 4, 18)) -> Conversation:
    """A conversation that keeps garden and log in ``home``."""
    return Conversation(
        facts=facts,
        clock=lambda: today,
        garden_file=GardenFile(garden_path(home)),
        journal=Journal(journal_path(home), wait_s=0.2),
    )


def test_what_was_told_is_used_by_the_next_answer_and_the_next_day(tmp_path: Path, facts: Facts) -> None:
    first = talk(tmp_path, facts)
    first.ask("we garden in Duluth")
    first.ask("my last frost is May 12")
    world = first.world()
    assert world.site is not None
    assert world.site.label == "Duluth, MN"
    assert world.site.basis == "own"
    again = talk(tmp_path, facts, date(2027, 4, 19))
    assert again.garden.last_frost == (5, 12)
    site = again.world().site
    assert site == resolve_site(garden=again.garden, facts=facts).site


def test_an_entry_is_on_the_disk_before_the_answer_is_shown(tmp_path: Path, facts: Facts) -> None:
    conversation = talk(tmp_path, facts)
    conversation.ask("we garden in Duluth")
    reply = conversation.ask("note that I sowed 48 peppers today")
    assert reply.headline == "Noted: sowed 48 peppers, 18 Apr."
    with Journal(journal_path(tmp_path)) as other:  # another process would see the same
        (kept,) = other.latest()
    assert (kept.text, kept.count, kept.crops, kept.place) == (
        "sowed 48 peppers",
        48,
        ("pepper",),
        "Duluth, MN",
    )
    assert kept.knowledge_version == facts.version


def test_correcting_undoing_and_redoing_by_talking(tmp_path: Path, facts: Facts) -> None:
    conversation = talk(tmp_path, facts)
    said = [
        conversation.ask(text).headline
        for text in (
            "log that I planted 12 leeks",
            "no, make it 14",
            "undo",
            "redo",
            "what did I note about leeks",
        )
    ]
    assert said == [
        "Noted: planted 12 leeks, 18 Apr.",
        "Corrected: planted 14 leeks, 18 Apr.",
        "The entry reads 'planted 12 leeks' of 18 Apr 2027 again.",
        "Put back: planted 14 leeks, 18 Apr 2027.",
        "In the log: planted 14 leeks, 18 Apr 2027.",
    ]


@pytest.mark.parametrize(
    ("asked", "replied", "action", "said"),
    [
        ("is it too late to start peppers indoors?", "did it", "sow", "Noted: sowed peppers indoors"),
        ("is it too late to start peppers indoors?", "yes, log that", "sow", "Noted: sowed peppers indoors"),
        ("is it too late to start peppers indoors?", "skip that", "drop", "Noted: decided to skip peppers"),
        ("can I divide rhubarb now?", "done that", "divide", "Noted: divided rhubarb"),
        ("28 tonight, tomatoes", "we did it", "cover", "Noted: covered tomatoes"),
    ],
)
def test_did_it_and_skip_that_keep_what_was_advised(
    tmp_path: Path, facts: Facts, asked: str, replied: str, action: str, said: str
) -> None:
    conversation = talk(tmp_path, facts)
    conversation.ask("we garden in Duluth")
    before = conversation.ask(asked)
    assert conversation.ask(replied).headline.startswith(said)
    assert conversation.journal is not None
    (kept,) = conversation.journal.latest()
    assert (kept.action, kept.question, kept.verdict) == (action, asked, before.verdict)
    assert kept.headline == before.headline


def test_a_job_done_leaves_the_weeks_list(tmp_path: Path, facts: Facts) -> None:
    conversation = talk(tmp_path, facts)
    conversation.ask("we garden in Duluth")
    first = conversation.ask("what should I do this week?")
    job = next(n for n in first.numbers if n.name == "best_by")
    assert conversation.ask("did it").headline.startswith("Noted: ")
    again = conversation.ask("what should I do this week?")
    assert (job.label, job.crop) not in {(n.label, n.crop) for n in again.numbers}


def test_a_question_leaves_the_log_alone(tmp_path: Path, facts: Facts) -> None:
    conversation = talk(tmp_path, facts)
    conversation.ask("when is the last frost in Duluth?")
    conversation.ask("show my log")
    assert not journal_path(tmp_path).exists()


def test_an_entry_that_cannot_be_kept_is_not_answered(tmp_path: Path, facts: Facts) -> None:
    conversation = talk(tmp_path, facts)
    conversation.ask("note that I sowed leeks")
    lock = sqlite3.connect(journal_path(tmp_path), isolation_level=None)
    lock.execute("BEGIN IMMEDIATE")
    with pytest.raises(JournalError, match="Another program is writing"):
        conversation.ask("note that I sowed kale")
    lock.execute("ROLLBACK")
    lock.close()
    conversation.ask("note that I sowed peas")
    assert [d.text for d in Journal(journal_path(tmp_path)).latest()] == ["sowed peas", "sowed leeks"]


class TestCommandLine:
    """The program as it is run: one line for each fault, its exit code, and nothing lost."""

    def run(self, home: Path, *words: str, given: bytes | None = None) -> subprocess.CompletedProcess[bytes]:
        env = {k: v for k, v in os.environ.items() if not k.startswith(("GARDENMATE", "PYTHON"))}
        env |= {"GARDENMATE_HOME": str(home), "LC_ALL": "C", "PYTHONPATH": str(REPO)}
        command = [sys.executable, "-m", "gardenmate", "--today", "2027-04-18", *words]
        return subprocess.run(command, input=given, capture_output=True, env=env, timeout=120, check=False)

    def fault(self, done: subprocess.CompletedProcess[bytes], code: int) -> str:
        """The one line on standard error."""
        assert done.returncode == code, done.stderr
        (line,) = done.stderr.decode().splitlines()
        assert line.startswith("gardenmate: ")
        return line

    def test_a_damaged_garden_file(self, tmp_path: Path) -> None:
        broken = '[place]\nname = "Dulu'
        garden_path(tmp_path).write_text(broken)
        for text in ("frost tonight at 28, tomatoes", "we garden in Duluth"):
            assert "garden.toml is damaged" in self.fault(self.run(tmp_path, "ask", text), 5)
        assert garden_path(tmp_path).read_text() == broken
        done = self.run(tmp_path, "--no-garden", "ask", "--place", "Duluth", "when is the last frost?")
        assert done.returncode == 0

    def test_a_damaged_journal_is_set_aside_once_and_told(self, tmp_path: Path) -> None:
        journal_path(tmp_path).write_bytes(b"leeks " * 2000)
        assert "is damaged" in self.fault(self.run(tmp_path, "log"), 5)
        done = self.run(tmp_path, "ask", "note that I sowed 48 peppers today")
        assert done.returncode == 0
        assert done.stdout.decode().startswith("Noted: sowed 48 peppers")
        told = done.stderr.decode()
        assert "The journal was damaged; I set it aside as" in told
        (aside,) = tmp_path.glob("journal.damaged-*-1.db")
        assert aside.name in told
        assert aside.read_bytes() == b"leeks " * 2000
        again = self.run(tmp_path, "ask", "note that I sowed kale today")
        assert (again.returncode, again.stderr) == (0, b"")

    def test_a_home_that_is_a_file(self, tmp_path: Path) -> None:
        home = tmp_path / "file"
        home.touch()
        for text in ("note that I sowed leeks", "we garden in Duluth"):
            done = self.run(home, "ask", text)
            line = self.fault(done, done.returncode)
            assert done.returncode in (1, 5)
            assert "annot" in line
            assert str(home) in line
            assert done.stdout == b""

    def test_bytes_that_are_no_text_come_back_as_text(self, tmp_path: Path) -> None:
        given = b"note that I sowed leeks by the \xff\xfe shed\nshow my log\n"
        done = self.run(tmp_path, "ask", "--conversation", "--json", "-", given=given)
        assert (done.returncode, done.stderr) == (0, b"")
        first, second = (json.loads(line) for line in done.stdout.splitlines())
        assert first["topic"] == second["topic"] == "log"
        assert "leeks by the" in second["headline"]

    def test_what_was_acknowledged_is_there_when_the_reader_goes_away(self, tmp_path: Path) -> None:
        """`| head -1`: the pipe closes after the first answer."""
        env = os.environ | {"GARDENMATE_HOME": str(tmp_path), "PYTHONPATH": str(REPO)}
        command = [sys.executable, "-m", "gardenmate", "ask", "--json", "-"]
        with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=env) as process:
            assert process.stdin is not None
            assert process.stdout is not None
            process.stdin.write(b"note that I sowed leeks today\n" * 40)
            process.stdin.close()
            told = json.loads(process.stdout.readline())
            process.stdout.close()
        assert told["headline"].startswith("Noted: sowed leeks")
        with Journal(journal_path(tmp_path)) as journal:
            assert len(journal.everything()) >= 1
            assert journal.check() == []


@pytest.mark.parametrize("day", ["30 February", "31 June", "April 31", "2027-02-30", "32 May"])
def test_a_day_no_calendar_has_is_asked_back(tmp_path: Path, facts: Facts, day: str) -> None:
    spoken = talk(tmp_path, facts)
    reply = spoken.ask(f"log that I planted out 12 leeks on {day}")
    assert reply.effects == ()
    assert "noted nothing" in reply.headline
    assert day.lower() in reply.headline.lower()


@pytest.mark.parametrize(
    ("told", "deed", "crop"),
    [
        ("done potting up the tomatoes", "pot-up", "tomato"),
        ("done tomatoes potted up", "pot-up", "tomato"),
        ("I have finished pruning the apple", "prune", "apple"),
        ("finished sowing the leeks", "sow", "leek"),
    ],
)
def test_a_job_told_as_done_is_an_entry(
    tmp_path: Path, facts: Facts, told: str, deed: str, crop: str
) -> None:
    spoken = talk(tmp_path, facts)
    reply = spoken.ask(told)
    assert reply.question.topic == "log"
    entry = spoken.journal.latest(1)[0]  # type: ignore[union-attr]
    assert (entry.action, entry.crops) == (deed, (crop,))


@pytest.mark.parametrize("asked", ["did I sow leeks", "did I sow leeks?", "have I planted the garlic yet?"])
def test_a_question_about_the_past_changes_nothing(tmp_path: Path, facts: Facts, asked: str) -> None:
    spoken = talk(tmp_path, facts)
    reply = spoken.ask(asked)
    assert reply.effects == ()
    assert spoken.garden.wanted == ()
    assert not spoken.journal.latest(1)  # type: ignore[union-attr]


def test_a_deed_told_with_a_day_ahead_was_done_last_year(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts, date(2027, 5, 20))
    spoken.ask("log that I planted garlic on October 3")
    entry = spoken.journal.latest(1)[0]  # type: ignore[union-attr]
    assert entry.on == date(2026, 10, 3)
    assert entry.action != "plan"
    spoken.ask("note that I will plant garlic on October 3")
    assert spoken.journal.latest(1)[0].on == date(2027, 10, 3)  # type: ignore[union-attr]


def test_everything_is_not_taken_back_at_once(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    spoken.ask("log that I sowed leeks")
    assert spoken.ask("delete everything").effects == ()
    assert spoken.journal.latest(1)  # type: ignore[union-attr]


@pytest.mark.parametrize("told", ["set household to 5", "our household is 5", "household: 5"])
def test_the_household_may_be_set_by_name(tmp_path: Path, facts: Facts, told: str) -> None:
    spoken = talk(tmp_path, facts)
    reply = spoken.answer(replace(spoken.understand(told), topic="garden"))
    assert [e.value for e in reply.effects if isinstance(e, GardenChange)] == [5]


def said_in_turn(conversation: Conversation, *turns: str) -> list[str]:
    """The headlines of one conversation."""
    return [conversation.ask(text).headline for text in turns]


def test_a_mistake_to_be_undone_is_undone(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    said_in_turn(spoken, "note that I sowed 10 leeks", "oops, that was a mistake, undo that")
    assert not spoken.journal.latest(5)  # type: ignore[union-attr]


@pytest.mark.parametrize("text", ["that was wrong", "no that's wrong", "oops, my mistake"])
def test_a_wrong_entry_is_asked_about(tmp_path: Path, facts: Facts, text: str) -> None:
    spoken = talk(tmp_path, facts)
    said = said_in_turn(spoken, "note that I sowed 10 leeks", text)
    assert said[-1].startswith("What is wrong with 'sowed 10 leeks'")
    assert [d.text for d in spoken.journal.latest(5)] == ["sowed 10 leeks"]  # type: ignore[union-attr]


def test_a_correction_of_one_crop_leaves_the_entry_of_another(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    said_in_turn(
        spoken, "log that I sowed 10 leeks", "log that I sowed 5 peas", "undo", "actually it was 12 peas"
    )
    assert [d.text for d in spoken.journal.latest(5)] == ["sowed 10 leeks"]  # type: ignore[union-attr]


@pytest.mark.parametrize("text", ["log", "show my log", "what have I sown so far"])
def test_looking_up_does_not_sound_like_noting(tmp_path: Path, facts: Facts, text: str) -> None:
    spoken = talk(tmp_path, facts)
    said = said_in_turn(spoken, "note that I sowed 10 leeks", text)
    assert said[-1] == "In the log: sowed 10 leeks, 18 Apr 2027."


def test_a_misspelt_place_is_kept_as_it_is_written(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    assert spoken.ask("I garden in Duluht").reading == "reading 'Duluht' as Duluth, MN"
    assert spoken.garden.place == "Duluth, MN"
    assert spoken.ask("28 tonight, peas?").reading is None
    spoken.garden_file.apply(GardenChange("preferences.first_questions", "asked"))  # type: ignore[union-attr]
    table = spoken.ask("what do you know about my garden").table
    assert table is not None
    assert [row[0] for row in table.rows] == ["Place"]


DULUTH = "we garden in Duluth"


def test_a_turn_in_celsius_does_not_turn_the_next_ones(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    spoken.ask(DULUTH)
    assert {t.unit for t in spoken.ask("20 C outside and 31 in the frame").question.slots.temps} == {"C"}
    lows = spoken.ask("lows 38 41 33 45, harden peppers?")
    assert {t.unit for t in lows.question.slots.temps} == {"F"}
    assert lows.verdict != "yes"
    assert spoken.ask("28 tonight, strawberries in flower under fleece").question.slots.temp_f == 28


def test_nights_no_thermometer_shows_in_celsius_are_fahrenheit(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    spoken.ask("I use Celsius")
    lows = spoken.ask("lows 38 41 29 45, harden peppers?")
    assert {t.unit for t in lows.question.slots.temps} == {"F"}


def test_a_frost_date_told_in_a_question_is_no_day_of_sowing(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    spoken.ask(DULUTH)
    answer = spoken.ask("my last frost is June 12, too late for peppers?")
    assert answer.question.slots.date is None
    assert spoken.garden.last_frost is None
    plain = spoken.ask("too late for peppers?")
    assert [n.value for n in answer.numbers] != [n.value for n in plain.numbers]
    again = spoken.understand("my last frost is May 12, can I sow peas on April 20?")
    assert again.slots.date == date(2027, 4, 20)


def test_a_purchase_told_is_logged_and_one_asked_about_is_not(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    spoken.ask(DULUTH)
    assert spoken.ask("today I bought 6 pepper plants for $21").question.topic == "log"
    (kept,) = spoken.journal.latest(5)  # type: ignore[union-attr]
    assert (kept.action, kept.count) == ("buy", 6)
    asked = spoken.ask("I bought 6 pepper plants for $21, was it worth it?")
    assert asked.question.topic == "buy-or-sow"


def test_gear_never_shrinks_without_a_word(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    said = said_in_turn(spoken, "I have two lamps", "we have one shop light", "I have another lamp")
    assert "not 2 any more" in said[1]
    assert spoken.garden.gear["lamp"] == 2


def test_sowing_a_week_later_moves_the_sowing_and_why_is_about_it(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    said_in_turn(spoken, DULUTH, "too late for leeks?")
    assert "25 Apr" in spoken.ask("what if I sow a week later").headline
    assert "2 May" in spoken.ask("what about a week later").headline
    why = spoken.ask("why")
    assert why.verdict is None
    assert "what about a week later" in why.headline
    assert spoken.ask("what if frost is a week later").headline.startswith("If fall frosts come 7 days later")
    assert "what if frost is a week later" in spoken.ask("why").headline
    assert spoken.ask("where does that number come from").headline.startswith("The figures come from")


def test_a_supposed_place_is_let_go_at_the_next_question(tmp_path: Path, facts: Facts) -> None:
    spoken = talk(tmp_path, facts)
    said_in_turn(spoken, DULUTH, "too late for leeks?")
    assert SUPPOSED_PLACE in spoken.ask("what if I lived in Minneapolis").assumptions
    assert spoken.ask("what about carrots").question.ask.place is None
    said_in_turn(spoken, "elderberry planted 2022", "what if I lived in Minneapolis")
    assert spoken.garden.place == "Duluth, MN"


@pytest.mark.parametrize("text", ["how deep do I bury a leek", "when can i take lavender cuttings"])
def test_how_and_when_get_no_yes_or_no(tmp_path: Path, facts: Facts, text: str) -> None:
    spoken = talk(tmp_path, facts)
    spoken.ask(DULUTH)
    answer = spoken.ask(text)
    assert answer.verdict is None
    assert not answer.headline.startswith(("Yes", "No"))


@pytest.mark.parametrize("text", ["I only have an hour", "nothing until Saturday"])
def test_time_to_spare_alone_asks_for_the_agenda(tmp_path: Path, facts: Facts, text: str) -> None:
    assert talk(tmp_path, facts).understand(text).topic == "agenda"
