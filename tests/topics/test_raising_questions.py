"""Questions as growers type them, through the language, to an answer a gardener would sign.

Which topic a text belongs to is tested with the language; here the topic is given, and the crops, slots and
cues come from the text.
"""

import pytest

from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef
from gardenmate.language.intent.turn import understand
from gardenmate.language.intent.understand import Context
from gardenmate.language.text.lexicon import Lexicon, load_lexicon
from gardenmate.records import replace
from gardenmate.topics.registry import rule_for
from tests.topics.raising_bench import FACTS, TODAY, bare_world

G, H, P, O = "germination", "heat-and-light", "potting-up", "hardening-off"  # noqa: E741


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load_lexicon(FACTS)


def reply_to(lexicon: Lexicon, topic: str, text: str, prev: str = "", crops: tuple[str, ...] = ()) -> Answer:
    context = None
    if prev:
        before = understand(prev, today=TODAY, units="us", facts=FACTS, lexicon=lexicon)
        context = Context(previous=before, pending=(), units="us", today=TODAY)
    question = understand(text, today=TODAY, units="us", facts=FACTS, lexicon=lexicon, context=context)
    named = question.crops or tuple(CropRef(c) for c in crops)
    return rule_for(topic).answer(replace(question, topic=topic, crops=named), bare_world())


@pytest.mark.parametrize(
    ("topic", "text", "prev", "verdict", "opening"),
    [
        (H, "do eggplints need botom heat", "", "yes", "Yes: eggplant seed needs bottom heat"),
        (H, "kale PPFD", "", None, "Kale seedlings want 100 to 200 umol/m2/s"),
        (G, "how manny days til beats come up", "", None, "Beet seed comes up in about 17 days at 50 F"),
        (
            O,
            "had a freak 70 degree day so I set the tomato seedlings in the sun. they are 6 inches tall. "
            "was that ok for their first time out?",
            "",
            "tight",
            "70 F is warm enough, but the sun is the risk",
        ),
        (
            H,
            "was about to slide my electric blanket under the hot peppers. do they really need heat that bad",
            "",
            "yes",
            "Yes: hot pepper seed needs bottom heat",
        ),
        (
            H,
            "My windowsill gets 5 hours of sun. Is that enough for seedlings?",
            "",
            "no",
            "No, too little: 5 hours of sun on a sill",
        ),
        (
            G,
            "does spinach germinate at 45 degrees?",
            "",
            "yes",
            "Yes: spinach seed comes up in about 16",
        ),
        (H, "How many hours a day should leeks be lit?", "", None, "Leek seedlings want 14 to 16 hours"),
        (O, "what about tonight at 42", "how do I harden off tomatoes?", "no", "Bring them in: 42 F"),
        (
            P,
            "leggy kale seedlings: will burying the stems when I repot make them rot?",
            "",
            "yes",
            "Yes: set kale up to the first true leaves",
        ),
        (P, "wat size pot for bazil seedlins", "", None, "Use a 3 in pot for basil"),
        (
            P,
            "my courgettes are running wild on the sill and I've run out of pots. what size is big enough",
            "",
            None,
            "A 4 in pot is big enough for courgette",
        ),
        (
            G,
            "A lot of my tomato and chilli seed just never came up this year and I can't tell if it's the "
            "soil or the lights",
            "",
            None,
            "Not the lights: tomato and chilli seed",
        ),
        (
            P,
            "plants are weeks ahead and really need moving to final pots but frost isn't over till mid june "
            "here. Pot on anyway?",
            "",
            "yes",
            "Yes, pot on",
        ),
        (O, "melons hardening days", "", None, "Harden off melons for 5 to 14 days"),
        (
            H,
            "wondered if the grow lights were hurting my tomatoes so I carry them to the greenhouse by day. "
            "how much light do they want really",
            "",
            None,
            "Tomato seedlings want 13 to 15 mol/m2",
        ),
        (
            O,
            "do i got to hardin off letuce",
            "",
            "yes",
            "Yes, if you raised the lettuce indoors: give the plants 7 to 10",
        ),
        (
            P,
            "How long can cauliflower stay in cells?",
            "",
            None,
            "Cauliflower can stay in a 72-cell tray",
        ),
        (
            G,
            "four weeks and nothing, is it ok to dig one up to check whether the pepper seed rotted",
            "",
            "yes",
            "Yes, look now: 4 weeks is overdue for pepper seed",
        ),
        (G, "cilantro sprouting time", "", None, "Cilantro seed comes up in 7 to 14 days"),
        (
            O,
            "Onion starts are outside getting tough, forecast is 35, bring in?",
            "",
            "tight",
            "Borderline at 35 F: onion plants",
        ),
        (P, "tomatoes, 2nd potting?", "", "yes", "Yes, "),
        (
            H,
            "for how many hours",
            "do my seedlings need a grow light?",
            None,
            "Seedlings want 14 to 16 hours",
        ),
        (
            O,
            "French beans are in big pots now, started putting them out. how many days of that before "
            "they're planted",
            "",
            None,
            "Harden off French beans for 7 to 14 days",
        ),
        (
            H,
            "cheap propagator with no thermostat, I cooked the cayenne seedlings. how warm should they "
            "be kept",
            "",
            None,
            "Keep cayenne seedlings at 70 to 75 F by day",
        ),
        (
            O,
            "Sick of carrying pots in every night and back out again. How low a night can peppers finally "
            "stay out in?",
            "",
            None,
            "Pepper plants can stay out at night from 50 F once hardened",
        ),
        (G, "Will onions sprout in 5C soil?", "", "tight", "Slowly: at 41 F onion seed comes up in about 31"),
        (H, "Do I leave the heat mat on after seeds sprout?", "", "yes", "Take the tray off"),
        (H, "How close should LED lights sit above seedlings?", "", None, "Hang fluorescent tubes 2 to 3 in"),
        (H, "Do cabbage seedlings need a grow light?", "", "yes", "Yes, in most homes"),
        (
            P,
            "When should eggplants go into bigger pots?",
            "",
            None,
            "Pot eggplants on at two or three true",
        ),
        (P, "pottin up tomotos how deap", "", "yes", "Yes: set tomatoes up to the lowest"),
        (
            O,
            "Can basil stay outside on a 48 degree night while hardening off?",
            "",
            "no",
            "Bring them in: 48 F",
        ),
        (G, "Will lettuce sprout in 85 degree soil?", "", "no", "No: at 85 F only about 22 in 100"),
    ],
)
def test_a_gardener_would_sign_it(
    lexicon: Lexicon, topic: str, text: str, prev: str, verdict: str | None, opening: str
) -> None:
    reply = reply_to(lexicon, topic, text, prev)
    assert reply.headline.startswith(opening), reply.headline
    assert reply.verdict == verdict
