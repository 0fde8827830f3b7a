"""First run: four short questions, each skippable with Enter, each with the reason it is asked."""

from __future__ import annotations

import argparse
import re
import sys

from rapidfuzz import fuzz, process

from gardenmate.bench.exchange import (
    one_turn,
    say,
)
from gardenmate.bench.help import LEAVE
from gardenmate.bench.names import place_names
from gardenmate.bench.readers import Reader, Wanted
from gardenmate.bench.turn import Bench, is_about_bench
from gardenmate.core.answer import Answer
from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.session import colourful, look_for
from gardenmate.knowledge.facts import Facts
from gardenmate.present.screen import write_lines
from gardenmate.records import dataclass


@dataclass(frozen=True, slots=True)
class FirstQuestion:
    """A first question: what is asked and why, the prompt, what is completed, the statement it becomes.

    ``lead`` is what people put before the answer itself ("I live in ...").
    """

    why: str
    prompt: str
    wanted: Wanted
    statement: str
    lead: str


FIRST_QUESTIONS = (
    FirstQuestion(
        "Where is your garden? A town, ZIP or postal code sets the climate. (Press Enter to skip a question.)",
        "where> ",
        "place",
        "I garden in {}",
        r"(?:(?:i|we)(?:'m| am| are|'re)?\s+)?(?:(?:live|garden|grow|based)\s+)?"
        r"(?:(?:in|at|near|around|from)\s+)?",
    ),
    FirstQuestion(
        "What do you grow, or want to? For example: tomatoes, peppers, leeks.",
        "crops> ",
        "text",
        "I want {}",
        r"(?:(?:i|we)(?:'d| would)?\s+(?:grow|want|like|plant|have|sow)(?:\s+to\s+grow)?\s+)?",
    ),
    FirstQuestion(
        "Which of these do you have? Heat mat, lamp, cold frame, tunnel, row cover (fleece), greenhouse.",
        "gear> ",
        "gear",
        "I have {}",
        r"(?:(?:(?:i|we)\s+(?:have|own|use)(?:\s+got)?|(?:i|we)'ve(?:\s+got)?)\s+)?",
    ),
    FirstQuestion(
        "Your own average last frost, such as May 12? If you give it, I use it instead of the weather station's.",
        "last frost> ",
        "text",
        "my last frost is {}",
        r"(?:(?:my|our|the|it'?s|its)\s+)?(?:average\s+)?(?:last\s+(?:spring\s+)?frost\s+)?(?:is\s+)?",
    ),
)
HEIGHT_QUESTION = FirstQuestion(
    "How high is your garden, in feet or metres? Stations nearby lie at very different heights.",
    "height> ",
    "text",
    "my garden is at {}",
    r"(?:(?:it|my garden|we|i)(?:'s|'re|'m| is| are| am)?\s+)?(?:at|about|around|up|roughly)?\s*",
)
TRIES = 3  # times one question of the setup is asked; design value
NEAR_NAME = 80
"""A place this like what was typed (percent) is offered. Design value."""
_UNKNOWN = re.compile(
    r"\W*(?:|no|nope|none|nothing|neither|unknown|skip|pass|later|idk|dunno|\?+|n/?a|"
    r"(?:i\s+)?(?:do\s+not|don'?t|dont)\s+(?:know|have\s+any|remember)(?:\s+\w+)*|"
    r"(?:i'?m\s+)?not\s+(?:sure|yet)|(?:i\s+have\s+)?no\s+(?:idea|clue)|not\s+really|none\s+of\s+(?:them|these))\W*",
    re.IGNORECASE,
)
_BARE = re.compile(r"[\d,. ]+")
_A_QUESTION = re.compile(
    r"\?\s*$|^(?:is|can|when|how|should|what|will|too|do|does|am)(?:\s+\S+){3}", re.IGNORECASE
)


def first_questions(bench: Bench, reader: Reader, options: argparse.Namespace) -> None:
    """Ask the first questions when the garden is still unknown. Nothing is asked twice.

    Somebody who asks something at once is answered at once, and asked the rest another day. Raises EOFError
    or KeyboardInterrupt when the grower leaves the questions.
    """
    conversation = bench.conversation
    garden_file = conversation.garden_file
    if garden_file is None or conversation.options.given or garden_file.path.exists():
        return
    for number, first in enumerate(FIRST_QUESTIONS, start=1):
        say(f"{number}/{len(FIRST_QUESTIONS)} {first.why}")
        if not _settled(first, bench, reader, options):
            return
        if first.wanted == "place" and _height_matters(bench):
            say(HEIGHT_QUESTION.why)
            if not _settled(HEIGHT_QUESTION, bench, reader, options):
                return
    garden_file.apply(GardenChange("preferences.first_questions", "asked"))


def _height_matters(bench: Bench) -> bool:
    """True when the stations round the garden differ so much in height that its own is worth a question."""
    place = bench.conversation.place()
    return place is not None and place.site is not None and place.site.asks_height


def _settled(first: FirstQuestion, bench: Bench, reader: Reader, options: argparse.Namespace) -> bool:
    """Ask one first question until it is kept, skipped or tried often enough. False: something else was asked."""
    tries = 0
    while tries < TRIES:
        typed = reader.read(first.prompt, first.wanted).strip()
        if typed.lower().lstrip("/") in LEAVE:
            raise EOFError
        if is_about_bench(typed, bench):
            one_turn(bench, typed, reader, options)
            continue
        tries += 1
        if _UNKNOWN.fullmatch(typed):
            return True
        if _A_QUESTION.search(typed):
            one_turn(bench, typed, reader, options)
            if not bench.conversation.waits_for_place:
                return False
            continue  # the place was missing: asked again, and the question is answered then
        if bench.conversation.tells_a_deed(typed):  # "sowed 24 kale in tray 2" answers no first question
            one_turn(bench, typed, reader, options)
            continue
        if _kept(first, typed, bench, options):
            return True
    return True


def _kept(first: FirstQuestion, typed: str, bench: Bench, options: argparse.Namespace) -> bool:
    """Take an answer, and say what was made of it. False: it was not understood, or could be several."""
    conversation = bench.conversation
    said = re.sub(f"^{first.lead}", "", typed, count=1, flags=re.IGNORECASE)
    if first is HEIGHT_QUESTION and _BARE.fullmatch(said):
        said += " feet" if conversation.shown_units() == "us" else " m"
    answer = conversation.tell(first.statement.format(said))
    if first.wanted == "place" and not answer.effects and not answer.asks:
        say(_not_known(said, conversation.facts))
        return False
    _show(answer, bench, options)
    resumed = conversation.resumed() if answer.effects else None
    if resumed is not None:
        _show(resumed, bench, options)
    return bool(answer.effects)


def _not_known(said: str, facts: Facts) -> str:
    """What is said of a place nobody knows: the names most like it, and what to type instead."""
    names = [name.text for name in place_names(facts)]
    near = [
        text
        for text, _, _ in process.extract(said, names, scorer=fuzz.ratio, limit=3, score_cutoff=NEAR_NAME)
    ]
    hint = f" Did you mean {', '.join(near)}?" if near else ""
    return f"I don't know a place called '{said}'.{hint} Try the nearest town, with its state or country."


def _show(answer: Answer, bench: Bench, options: argparse.Namespace) -> None:
    look = look_for(bench.conversation, options)
    write_lines(
        bench.screen.first(answer, look), look.width, sys.stdout, colour=colourful(sys.stdout, options)
    )
    say("")
