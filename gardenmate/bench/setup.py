"""First run: three short questions, each skippable with Enter, each told why it is asked."""

from __future__ import annotations

import argparse
import re
import sys
from dataclasses import dataclass

from gardenmate.bench.loop import say
from gardenmate.bench.readers import Reader, Wanted
from gardenmate.core.effects import GardenChange
from gardenmate.dialogue.conversation import Conversation


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
        "Where is the garden? A town or region sets the climate. (Enter skips each of these.)",
        "where> ",
        "place",
        "I garden in {}",
        r"(?:(?:i|we)(?:'m| am| are|'re)?\s+)?(?:(?:live|garden|grow|based)\s+)?"
        r"(?:(?:in|at|near|around|from)\s+)?",
    ),
    FirstQuestion(
        "Your own average last frost, if you know it, such as May 12? It goes before the station's.",
        "last frost> ",
        "text",
        "my last frost is {}",
        r"(?:(?:my|our|the|it'?s|its)\s+)?(?:average\s+)?(?:last\s+(?:spring\s+)?frost\s+)?(?:is\s+)?",
    ),
    FirstQuestion(
        "Which of these have you: heat mat, lamp, cold frame, tunnel, fleece, greenhouse?",
        "gear> ",
        "gear",
        "I have {}",
        r"(?:(?:(?:i|we)\s+(?:have|own|use)(?:\s+got)?|(?:i|we)'ve(?:\s+got)?)\s+)?",
    ),
)
TRIES = 2
_HELP = ("help", "help me")
_UNKNOWN = re.compile(
    r"\W*(?:|no|nope|none|nothing|neither|unknown|skip|pass|later|idk|dunno|\?+|n/?a|"
    r"(?:i\s+)?(?:do\s+not|don'?t|dont)\s+(?:know|have\s+any|remember)(?:\s+\w+)*|"
    r"(?:i'?m\s+)?not\s+(?:sure|yet)|(?:i\s+have\s+)?no\s+(?:idea|clue)|not\s+really|none\s+of\s+(?:them|these))\W*",
    re.IGNORECASE,
)
_A_QUESTION = re.compile(
    r"\?\s*$|^(?:is|can|when|how|should|what|will|too|do|does|am)(?:\s+\S+){3}", re.IGNORECASE
)


def first_questions(conversation: Conversation, reader: Reader, options: argparse.Namespace) -> None:
    """Ask the first questions when the garden is still unknown. Nothing is asked twice.

    Somebody who asks something at once is answered at once, and asked the rest another day. Raises EOFError
    or KeyboardInterrupt when the grower leaves the questions.
    """
    garden_file = conversation.garden_file
    if garden_file is None or conversation.options.given or garden_file.path.exists():
        return
    for number, first in enumerate(FIRST_QUESTIONS, start=1):
        say(f"{number}/{len(FIRST_QUESTIONS)} {first.why}")
        if not _settled(first, conversation, reader, options):
            return
    garden_file.apply(GardenChange("preferences.first_questions", "asked"))


def _settled(
    first: FirstQuestion, conversation: Conversation, reader: Reader, options: argparse.Namespace
) -> bool:
    """Ask one first question until it is kept, skipped or tried twice. False: something else was asked."""
    from gardenmate.bench.loop import one_turn
    from gardenmate.cli.main import look_for, show

    tries = 0
    while tries < TRIES:
        typed = reader.read(first.prompt, first.wanted).strip()
        if typed.lower() in _HELP:
            one_turn(conversation, "help", reader, options)
            continue
        tries += 1
        if _UNKNOWN.fullmatch(typed):
            return True
        if _A_QUESTION.search(typed):
            one_turn(conversation, typed, reader, options)
            if not conversation.waits_for_place:
                return False
            continue  # the place was missing: asked again, and the question is answered then
        said = re.sub(f"^{first.lead}", "", typed, count=1, flags=re.IGNORECASE)
        answer = conversation.tell(first.statement.format(said))
        show(answer, look_for(conversation, options), sys.stdout, options)
        say("")
        resumed = conversation.resumed() if answer.effects else None
        if resumed is not None:
            show(resumed, look_for(conversation, options), sys.stdout, options)
            say("")
        if answer.effects:
            return True
    return True
