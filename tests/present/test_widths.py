"""Real answers of every topic at 40, 60, 80 and 120 columns: same figures, no escape, no line too wide."""

from __future__ import annotations

import re
from datetime import date

import pytest

from gardenmate.core.answer import Answer, Mark, Number, Table
from gardenmate.core.question import Request, Sense
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Look, plain

FACTS = Facts()
TODAY = date(2027, 4, 18)
WIDTHS = (40, 60, 80, 120)
QUESTIONS = [entry["ask"][0] for entry in FACTS.table("help").values()]


@pytest.fixture(scope="module", params=["Duluth", "Christchurch"])
def answers(request: pytest.FixtureRequest) -> list[Answer]:
    conversation = Conversation(FACTS, lambda: TODAY, PlaceOptions(place=request.param), remembers=False)
    return [conversation.ask(question) for question in QUESTIONS]


@pytest.mark.parametrize("units", ["us", "metric"])
def test_every_width_shows_the_same_figures(answers: list[Answer], units: str) -> None:
    for answer in answers:
        texts = [plain(answer, Look(width, units, TODAY)) for width in WIDTHS]  # type: ignore[arg-type]
        figures = [set(re.findall(r"\d+(?:[.,]\d+)*", text)) for text in texts]
        assert all(found == figures[0] for found in figures), answer.headline
        for width, text in zip(WIDTHS, texts, strict=True):
            assert "\x1b" not in text
            assert max(map(len, text.splitlines())) <= width, answer.headline


def test_read_out_line_by_line_every_width_says_the_same_words(answers: list[Answer]) -> None:
    for answer in answers:
        texts = [plain(answer, Look(width, "us", TODAY, linear=True)) for width in WIDTHS]
        words = [text.split() for text in texts]
        assert all(said == words[0] for said in words), answer.headline
        assert all(max(map(len, t.splitlines())) <= w for w, t in zip(WIDTHS, texts, strict=True))


DRAWN = Answer(
    question=Request(
        "is it too late to start pepers?",
        "late-start",
        reading="reading 'pepers' as peppers",
        sense=Sense(polar=True, turned=True),
    ),
    verdict="tight",
    headline="Not too late to sow peppers, but tight: first picking about 4 Sep.",
    numbers=(
        Number("set_out", date(2027, 6, 6), "date", "set out"),
        Number("chance", 80, "%", "chance"),
        Number("soil_f", 64.6, "F", "soil"),
        Number("soil_c", 18.1, "C", "soil"),
    ),
    marks=(Mark("today", TODAY), Mark("set out", date(2027, 6, 6)), Mark("first pick", date(2027, 9, 4))),
    table=Table(("when", "do"), (("18 Apr", "sow on the mat"), ("6 Jun", "set out, water in")), "In short"),
    steps=("Sow on the mat.", "Harden off ten days."),
    details=("Peppers stand still below 50 F.",),
    changes=("A tunnel buys ten days.",),
    cautions=("Mats near water go on a protected outlet.",),
    assumptions=("A middling variety",),
)

NARROW = """\
TIGHT  Not too late to sow peppers, but
tight: first picking about 4 Sep.
(reading 'pepers' as peppers)

  set out  6 Jun
  chance   80%
  soil     65 F

  Apr May     Jun     Jul    Aug     Sep
  -1--|-------|2------|------|-------|3-
  1 today 18 Apr   2 set out 6 Jun
  3 first pick 4 Sep

"""
WIDE = """\
TIGHT  Not too late to sow peppers, but tight: first picking about 4 Sep.
(reading 'pepers' as peppers)

  set out  6 Jun
  chance   80%
  soil     65 F

  Apr      May            Jun             Jul             Aug            Sep
  --1------|--------------|--2------------|---------------|--------------|-3--
  1 today 18 Apr   2 set out 6 Jun   3 first pick 4 Sep

In short
  when    do
  18 Apr  sow on the mat
  6 Jun   set out, water in

1. Sow on the mat.
2. Harden off ten days.

Peppers stand still below 50 F.
What would change it: A tunnel buys ten days.
Take care: Mats near water go on a protected outlet.
Assumed: A middling variety.
"""
READ_OUT = """\
TIGHT  Not too late to sow peppers, but tight: first picking about 4 Sep.
(reading 'pepers' as peppers)
  set out: 6 Jun
  chance: 80%
  soil: 18 C
In short
  18 Apr - do: sow on the mat
  6 Jun - do: set out, water in
1. Sow on the mat.
2. Harden off ten days.
Peppers stand still below 50 F.
What would change it: A tunnel buys ten days.
Take care: Mats near water go on a protected outlet.
Assumed: A middling variety.
"""


def test_the_drawing_word_for_word() -> None:
    assert plain(DRAWN, Look(80, "us", TODAY)) == WIDE
    assert plain(DRAWN, Look(80, "metric", TODAY, linear=True)) == READ_OUT
    assert plain(DRAWN, Look(40, "us", TODAY)).startswith(NARROW)
