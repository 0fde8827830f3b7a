"""First run: four questions, each skippable; what people really type is taken; nothing is asked twice."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from gardenmate.bench.setup import FIRST_QUESTIONS, TRIES, first_questions
from gardenmate.bench.turn import Bench as Talk

from .conftest import Made, Typed

Bench = Callable[..., Made]


def run(bench: Bench, *lines: str | BaseException) -> tuple[Made, Typed]:
    made, reader = bench(), Typed(*lines)
    first_questions(Talk(made[0]), reader, made[1])
    return made, reader


def test_four_questions_are_asked_told_why_and_kept(bench: Bench, capsys: pytest.CaptureFixture[str]) -> None:
    (conversation, _), reader = run(
        bench, "Duluth", "peppers and leeks", "a heat mat and two lamps", "May 20"
    )
    assert [wanted for _, wanted in reader.asked] == ["place", "text", "gear", "text"]
    garden = conversation.garden
    assert garden.place is not None
    assert garden.place.startswith("Duluth")
    assert garden.last_frost == (5, 20)
    assert garden.has("mat")
    assert garden.gear["lamp"] == 2
    out = capsys.readouterr().out
    assert "1/4 Where is your garden?" in out
    assert "sets the climate" in out


@pytest.mark.parametrize(
    "unknown",
    [
        "",
        "I don't know",
        "dont know",
        "no idea",
        "not sure",
        "none",
        "No.",
        "skip",
        "none of these",
        "idk",
    ],
)
def test_i_do_not_know_is_an_answer(bench: Bench, unknown: str) -> None:
    (conversation, _), reader = run(bench, unknown, unknown, unknown, unknown)
    assert len(reader.asked) == len(FIRST_QUESTIONS)
    assert conversation.garden.place is None
    assert conversation.garden.last_frost is None
    assert conversation.garden.gear == {}


@pytest.mark.parametrize(
    "typed", ["Duluth", "I live in Duluth", "in Duluth", "we garden near Duluth", "duluth, mn"]
)
def test_a_place_may_be_typed_in_a_sentence(bench: Bench, typed: str) -> None:
    (conversation, _), _ = run(bench, typed, "", "", "")
    place = conversation.place()
    assert place is not None
    assert place.site is not None
    assert place.site.label == "Duluth, MN"


@pytest.mark.parametrize("typed", ["12 May", "may 12", "my last frost is May 12", "about May 12"])
def test_a_frost_date_may_be_typed_in_a_sentence(bench: Bench, typed: str) -> None:
    (conversation, _), _ = run(bench, "Duluth", "", "", typed)
    assert conversation.garden.last_frost == (5, 12)


def test_an_unknown_place_is_named_and_asked_again(bench: Bench, capsys: pytest.CaptureFixture[str]) -> None:
    (conversation, _), reader = run(bench, *["Qwxyzville"] * TRIES, "", "", "")
    assert [wanted for _, wanted in reader.asked] == [*["place"] * TRIES, "text", "gear", "text"]
    assert "Qwxyzville" in capsys.readouterr().out
    assert conversation.garden.place is None


def test_one_of_two_towns_of_a_name_is_chosen_by_its_region(
    bench: Bench, capsys: pytest.CaptureFixture[str]
) -> None:
    (conversation, _), _ = run(bench, "Portland", "Portland, OR", "", "", "")
    assert "Portland, ME" in capsys.readouterr().out
    place = conversation.place()
    assert place is not None
    assert place.site is not None
    assert place.site.label == "Portland, OR"


def test_who_asks_at_once_is_answered_at_once(bench: Bench, capsys: pytest.CaptureFixture[str]) -> None:
    (conversation, _), reader = run(bench, "how long do peppers take to come up at 70F?")
    assert "11 days" in capsys.readouterr().out
    assert len(reader.asked) == 1
    assert not conversation.garden.prefs  # the rest is asked another day


def test_nothing_is_asked_twice_or_when_the_place_is_given(bench: Bench) -> None:
    run(bench, "", "", "", "")
    _, again = run(bench, "Duluth")
    assert again.asked == []
    conversation, options = bench("--place", "Duluth", "--garden", "elsewhere.toml")
    given = Typed("Duluth")
    first_questions(Talk(conversation), given, options)
    assert given.asked == []


def test_leaving_the_questions_leaves_them_for_the_next_time(bench: Bench) -> None:
    conversation, options = bench()
    with pytest.raises(KeyboardInterrupt):
        first_questions(Talk(conversation), Typed(KeyboardInterrupt()), options)
    _, reader = run(bench, "", "", "", "")
    assert len(reader.asked) == len(FIRST_QUESTIONS)


def test_a_question_typed_for_the_place_waits_for_it(
    bench: Bench, capsys: pytest.CaptureFixture[str]
) -> None:
    (conversation, _), reader = run(bench, "is it too late for leeks?", "Duluth", "", "", "")
    out = capsys.readouterr().out
    assert "Not too late" in out
    assert conversation.garden.place == "Duluth, MN"
    assert [wanted for _, wanted in reader.asked] == ["place", "place", "text", "gear", "text"]


@pytest.mark.parametrize("asked", ["help", "/help", "?", "demo", "demo log-and-undo", "how do i quit"])
def test_help_in_a_first_question_helps_and_the_question_stands(bench: Bench, asked: str) -> None:
    (conversation, _), reader = run(bench, asked, "Duluth", "", "", "")
    assert [wanted for _, wanted in reader.asked] == ["place", "place", "text", "gear", "text"]
    assert conversation.garden.place is not None


@pytest.mark.parametrize("typed", ["6,800", "6800 feet", "about 6,800 ft", "2073 m", "it's at 6800 feet"])
def test_the_height_is_asked_where_the_stations_nearby_lie_at_very_different_ones(
    bench: Bench, typed: str
) -> None:
    (conversation, _), reader = run(bench, "Jackson, WY", typed, "", "", "")
    assert len(reader.asked) == len(FIRST_QUESTIONS) + 1
    assert conversation.garden.elevation_m == pytest.approx(2073, abs=1)
    place = conversation.place()
    assert place is not None
    assert place.site is not None
    assert place.site.elev_m == pytest.approx(2073, abs=1)
    assert not place.site.asks_height


def test_the_height_is_not_asked_in_the_plains(bench: Bench) -> None:
    _, plain = run(bench, "Burlington, CO", "", "", "")
    assert len(plain.asked) == len(FIRST_QUESTIONS)


def test_the_height_may_be_skipped(bench: Bench) -> None:
    (conversation, _), reader = run(bench, "Jackson, WY", "no idea", "", "", "")
    assert len(reader.asked) == len(FIRST_QUESTIONS) + 1
    assert conversation.garden.elevation_m is None


def test_quit_leaves_the_first_questions(bench: Bench) -> None:
    with pytest.raises(EOFError):
        run(bench, "quit")


def test_a_deed_typed_at_a_first_question_is_kept_and_the_question_stands(
    bench: Bench, capsys: pytest.CaptureFixture[str]
) -> None:
    (conversation, _), reader = run(bench, "Duluth", "sowed 24 kale in tray 2", "leeks", "a mat", "")
    assert [wanted for _, wanted in reader.asked] == ["place", "text", "text", "gear", "text"]
    assert "Noted: sowed 24 kale in tray 2" in capsys.readouterr().out
    assert conversation.garden.wanted == ("leek",)
