"""Frost and frame questions as typed: topic, verdict, and how the answer opens."""

from datetime import timedelta

import pytest

from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.units import Units
from gardenmate.language.intent.turn import understand
from gardenmate.language.intent.understand import Context
from gardenmate.language.text.lexicon import load_lexicon
from gardenmate.topics.registry import rule_for
from tests.topics.raising_bench import FACTS, TODAY, bare_world, continental_site

LEXICON = load_lexicon(FACTS)


def reply_to(*turns: str, units: Units = "us", site: Site | None = None) -> Answer:
    """The answer to the last of the turns of one conversation."""
    question: Request | None = None
    for text in turns:
        context = Context(previous=question, pending=(), units=units, today=TODAY) if question else None
        question = understand(text, today=TODAY, units=units, facts=FACTS, lexicon=LEXICON, context=context)
    assert question is not None
    return rule_for(question.topic).answer(question, bare_world(units=units, site=site))


@pytest.mark.parametrize(
    ("turns", "topic", "verdict", "opens"),
    [
        (("peas 24?",), "frost", "tight", "Peas should survive 24 F"),
        (
            ("It's May and 39 is predicted tonight, no frost warning out though. is my garden in danger",),
            "frost", "yes", "Probably no danger at 39 F",
        ),
        (
            ("found the tomatoes droopy and dark after frost this morning. Dead or will they regrow",),
            "frost", "tight", "Perhaps not dead",
        ),
        (
            ("My cherries are at full bloom and 28 is coming. How bad?",),
            "frost", "tight", "Expect some loss at 28 F",
        ),
        (
            ("are broccoli and kale in the ground hardy through a winter freeze?",),
            "frost", None, "Broccoli is hurt below 26 F",
        ),
        (
            ("we got -1 at dawn and lost cukes and zucchini. anything else that can't take that, "
             "or will the rest be ok",),
            "frost", "tight", "Like cucumbers and",
        ),
        (
            ("should I cover tomatoes at 35 tonight?", "same with the peppers?"),
            "frost", "yes", "Yes, cover the peppers",
        ),
        (
            ("shud i shut the coldfram now its clowding over",),
            "cold-frame", "yes", "Yes, shut it while there is warmth",
        ),
        (("55 out and hazy, frame at 72. Vent?",), "cold-frame", "yes", "Open it"),
        (("Spinach in the frame, 18 tonight, okay?",), "cold-frame", "yes", "Spinach should come through"),
        (
            ("is a cold frame only about 3C above ambient at night or should I expect more",),
            "cold-frame", "yes", "Yes, 3 degrees C is about right",
        ),
        (
            ("outside was 4C this morning and 10C in the greenhouse with the heater. "
             "will the tomatoes and chillies "
             "be happy with that?",),
            "cold-frame", "tight", "At 50 F they are unharmed but growing little",
        ),
        (
            ("how cold will the frame get if it's 20 tonight?", "and with a blanket on"),
            "cold-frame", None, "With 20 F outside, expect about 28 F in the shut frame with the blanket on",
        ),
        (("frame 101 help",), "cold-frame", "yes", "Open it right now"),
    ],
)  # fmt: skip
def test_public_questions(turns: tuple[str, ...], topic: str, verdict: str | None, opens: str) -> None:
    reply = reply_to(*turns)
    assert reply.question.topic == topic
    assert reply.verdict == verdict
    assert reply.headline.startswith(opens), reply.headline


def test_usual_last_frost_as_typed() -> None:
    reply = reply_to("wen is the larst frost usaly", site=continental_site())
    assert reply.question.topic == "frost"
    assert "15 May" in reply.headline


@pytest.mark.parametrize(
    ("text", "verdict", "word"),
    [
        ("will tomatoes survive 33 tonight", "tight", "Cover the tomatoes"),
        ("tomatoes under fleece, 27 tonight, ok?", "no", "won't survive"),
        ("basil 40 tonight", "tight", "Bring the basil in"),
        ("my potatoes got frosted, will they come back", "yes", "Not dead yet"),
        ("frost warning tonight, 31 and windy, are my lettuces ok", "yes", "fine"),
        ("will kale survive 15F?", "tight", "Kale should survive"),
        ("what temp kills pepper plants", "no", "Peppers are hurt below 32 F"),
        ("garlic is up 3 inches and it's going to 12", "tight", "but the plant lives on"),
        ("how cold can I let the greenhouse get with tomatoes in it", None, "Tomatoes stop growing"),
        ("cold frame 45 outside sunny should I open the lid", "yes", "Open it"),
        ("lettuce in cold frame 25F outside", "yes", "Lettuce should come through"),
    ],
)
def test_other_ways_of_asking(text: str, verdict: str | None, word: str) -> None:
    reply = reply_to(text)
    assert reply.question.topic in ("frost", "cold-frame")
    assert reply.verdict == verdict
    assert word in reply.headline


def test_metric_gardener_reads_celsius() -> None:
    reply = reply_to("will -2 kill my courgettes tonight", units="metric")
    assert reply.headline.startswith("Courgettes won't survive -2 C")


@pytest.mark.parametrize(
    ("text", "units", "opens"),
    [
        (
            "29 tonight, our first frost, and the tomatoes are unpicked",
            "us",
            "Tomatoes won't survive",
        ),
        (
            "beans just up and the first frost of the season tonight, 30",
            "us",
            "Bush beans won't survive",
        ),
        (
            "first autumn frost tonight, -2, squash still in the ground",
            "metric",
            "Winter squash won't survive",
        ),
        ("first frost tonight, 30", "us", "Danger at 30 F"),
        ("when is the first frost usually? 36 tonight", "us", "The first 36 F night in Bracken Hollow"),
    ],
)
def test_a_low_typed_for_tonight_wins_over_the_average_dates(text: str, units: Units, opens: str) -> None:
    assert reply_to(text, units=units, site=continental_site()).headline.startswith(opens)


@pytest.mark.parametrize(
    ("turns", "verdict", "opens"),
    [
        (
            ("must I cover the peas? 20 tonight and they are in flower",),
            "yes",
            "Yes: the open flowers of peas",
        ),
        (("is it worth covering the spinach at 26",), "no", "No need: spinach is fine"),
        (("do my squash need protecting, 34 tonight",), "yes", "Yes, cover the winter squash"),
        (
            ("low of 31, do the potatoes need to be covered",),
            "yes",
            "Yes: expect to lose the tops of potatoes",
        ),
        (("28 tonight, should I cover the broccoli?",), "tight", "Only if it stays clear: broccoli"),
        (("28 and clear tonight, should I cover the broccoli?",), "tight", "Worth it, but not a must"),
        (("must I take my pots of peppers inside, 33 tonight",), "yes", "Yes, or cover the peppers"),
        (("33 tonight, do kale and tomatoes need a cover",), None, "At 33 F: cover tomatoes"),
        (("38 tonight, do I really have to cover the cabbage",), "no", "No need: cabbage is fine"),
        (("34 tonight, should I cover the beans with a blanket?",), "yes", "Yes, cover the bush beans"),
        (("should I cover the beans? 36 tonight", "and the kale?"), "no", "No need: kale is fine"),
        (("should I cover the beans? 36 tonight", "will kale survive 25?"), "yes", "Kale is fine at 25 F"),
        (("31 tonight, can the spinach stay uncovered?",), "yes", "Spinach is fine"),
        (("38 tonight, dew point 25, should I cover the beans",), "yes", "Yes, cover the bush beans"),
    ],
)
def test_need_it_covering_is_yes_when_it_does(
    turns: tuple[str, ...], verdict: str | None, opens: str
) -> None:
    """Asked whether a cover is needed, yes = needed; asked whether they live, yes = they do."""
    reply = reply_to(*turns, site=continental_site())
    assert reply.question.topic == "frost"
    assert (reply.verdict, reply.headline[: len(opens)]) == (verdict, opens)


@pytest.mark.parametrize(
    "text",
    [
        "lows this week 4, 2, -1, -4, 1. which nights do I need to cover tomatoes and when should I give up",
        "forecast lows 4, 2, -1, -4, 1: which nights do I cover the tomatoes",
        "lows this week are 4, 2, -1, -4, 1, tomatoes in the garden",
        "which nights do I cover tomatoes: nights of 4 2 -1 -4 1 C coming",
    ],
)
def test_every_low_of_a_row_is_a_night_from_tonight_and_the_worst_decides(text: str) -> None:
    """A cover is worth 2 to 6 F at most (colorado-cmg-gardennotes-722-frost-protection), so 25 F ends the crop."""
    reply = reply_to(text, units="metric")
    assert reply.question.topic == "frost"
    assert next(n.value for n in reply.numbers if n.name == "low_c") == -4
    assert reply.table is not None
    assert [row[1] for row in reply.table.rows] == ["4 C", "2 C", "-1 C", "-4 C", "1 C"]
    nights = [f"{TODAY + timedelta(days=i):%a}" for i in range(5)]
    assert [row[0].split()[0] for row in reply.table.rows] == nights
    assert f"-4 C on {nights[3]}" in reply.headline
    assert "too cold for any cover" in reply.headline
    assert "tomorrow night (2 C)" in reply.headline


@pytest.mark.parametrize(
    "text",
    [
        "lows next 5 nights: 6, 3, 0, -1, 4. capsicum and zucchini seedlings are in the ground",
        "lows next 5 nights: 6, 3, 0, -1, 4. peppers planted in the garden bed, which nights do I cover",
        "-2 tonight, my peppers and beans are in the garden bed, what do I do",
        "tonight 2, cucumbers planted out yesterday. cover?",
    ],
)
def test_what_stands_in_the_ground_is_covered_never_carried_in(text: str) -> None:
    """A planted bed cannot be carried indoors."""
    reply = reply_to(text, units="metric")
    assert reply.question.topic == "frost"
    rows = reply.table.rows if reply.table is not None else ()
    for line in (reply.headline, *(cell for row in rows for cell in row)):
        assert "bring" not in line.lower(), line
        assert "carry" not in line.lower(), line
    assert "cover" in reply.headline.lower()
    assert any(n.name == "low_c" for n in reply.numbers)


def test_plants_in_pots_may_still_be_carried_in() -> None:
    """The other side of it: nothing was said of the ground."""
    assert "bring in" in reply_to("peppers and beans in pots, -2 tonight", units="metric").headline


@pytest.mark.parametrize("when", ["yesterday", "on Sunday", "last week"])
def test_the_day_of_planting_is_not_the_night_of_the_frost(when: str) -> None:
    """The night is tonight, and plants just set out are taken as such; asked "cover?", yes is to cover."""
    reply = reply_to(f"tonight 34F clear and calm, tomatoes planted {when}. cover?")
    assert reply.verdict == "yes"
    assert "tonight" in reply.headline
    assert not any("tell me if yours are" in c for c in reply.changes)


@pytest.mark.parametrize(
    ("text", "least", "most"),
    [
        ("fleece 17gsm - how many degrees does it protect", 2, 4),
        ("how many degrees of frost does 30gsm fleece protect against", 4, 6),
        ("how much frost will 60 g/m2 fleece keep off", 6, 8),
        ("how many degrees does horticultural fleece keep off", 2, 4),
    ],
)
def test_fleece_by_its_weight(text: str, least: int, most: int) -> None:
    """Light row cover 2-4 F (colorado-cmg-gardennotes-722-frost-protection); heavier weights by common practice."""
    reply = reply_to(text, site=continental_site())
    assert reply.question.topic == "frost"
    gains = {n.name: n.value for n in reply.numbers}
    assert gains["cover_gain_min_f"] == least
    assert gains["cover_gain_max_f"] == most
    assert "fleece" in reply.headline


def test_a_weight_typed_is_used_on_the_night_too() -> None:
    """The same tray at 33 F: a heavy fleece is worth more than a light one."""
    light, heavy = (reply_to(f"will tomatoes be ok under {g} gsm fleece, 33 tonight") for g in (17, 60))
    assert (light.verdict, heavy.verdict) == ("tight", "yes")


@pytest.mark.parametrize("cover", ["a bedsheet", "an old blanket", "fleece"])
def test_a_cover_in_the_question_counts_for_several_crops_too(cover: str) -> None:
    """A sheet keeps 2-5 F (colorado-cmg-gardennotes-722-frost-protection): 30 F on a clear night is too much."""
    both = reply_to(f"30F for three hours before dawn. will {cover} save my beans and squash")
    bare = reply_to("30F for three hours before dawn. will my beans and squash live")
    assert "under" in both.headline
    assert "if the sky stays clear" in both.headline
    assert "under" not in bare.headline
    assert both.table is not None
    assert bare.table is not None
    assert both.table.rows[0][2] != bare.table.rows[0][2]
    assert "bring in or lose bush beans" not in both.headline
