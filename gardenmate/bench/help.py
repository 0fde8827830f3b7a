"""Help by example, from knowledge/help.toml."""

from __future__ import annotations

import re
from textwrap import wrap

from gardenmate.knowledge.facts import Facts

_ASKED = re.compile(
    r"\s*(?:\?+|(?:help|commands|usage|examples|"
    r"what (?:else )?(?:can|could) (?:you|i) (?:do|ask|help with)(?: you| here)?|"
    r"what do you (?:do|know about)|how do(?:es)? (?:this|it) work|how do i use (?:this|it))"
    r"(?:\s+(?:(?:me|with|about|on|for)\s+)*(?P<topic>[a-z][a-z -]*?))?)[?.!\s]*",
    re.IGNORECASE,
)
FOOT = "'help frost' shows more of one topic; 'why' shows the arithmetic of an answer. Tab completes words."


def help_lines(text: str, facts: Facts, width: int) -> list[str] | None:
    """The help asked for as lines no wider than ``width``, None when ``text`` does not ask for help.

    "help" lists every topic with one example; "help frost" all examples of one.
    """
    match = _ASKED.fullmatch(text)
    if match is None:
        return None
    wanted = (match.group("topic") or "").strip().lower().replace(" ", "-")
    topics = facts.table("help")
    if not wanted:
        lines = [line for topic, entry in topics.items() for line in _short(topic, entry, width)]
        return [*lines, "", *wrap(FOOT, width)]
    found = [topic for topic, entry in topics.items() if _means(wanted, topic, entry)]
    if not found:
        return None  # "help my peppers froze" is a question, not a call for help
    return [line for topic in found for line in _long(topic, topics[topic], width)]


def _means(wanted: str, topic: str, entry: dict[str, list[str]]) -> bool:
    return wanted in (topic, *entry.get("also", ())) or (len(wanted) > 3 and topic.startswith(wanted))


def _short(topic: str, entry: dict[str, list[str]], width: int) -> list[str]:
    says = wrap(f"{topic}: {entry['says']}", width, subsequent_indent="  ")
    return [*says, *wrap(entry["ask"][0], width, initial_indent="  > ", subsequent_indent="    ")]


def _long(topic: str, entry: dict[str, list[str]], width: int) -> list[str]:
    lines = wrap(f"{topic}: {entry['says']}", width, subsequent_indent="  ")
    for example in entry["ask"]:
        lines += wrap(example, width, initial_indent="  > ", subsequent_indent="    ")
    return lines
