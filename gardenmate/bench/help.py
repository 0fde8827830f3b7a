"""Help by example: one screen from knowledge/help_screen.toml, each topic from knowledge/help.toml."""

from __future__ import annotations

import re
from textwrap import wrap

from gardenmate.knowledge.facts import Facts

_ASKED = re.compile(
    r"\s{0,3}/?(?:\?+|(?:help|commands|usage|examples|"
    r"what (?:else )?(?:can|could) (?:you|i) (?:do|ask|say|type|help with)(?: you| here)?|"
    r"what do you (?:do|know about)|how do(?:es)? (?:this|it) work|how do i use (?:this|it))"
    r"(?:\s{1,3}(?:(?:me|with|about|on|for)\s{1,3})*(?P<topic>[a-z][a-z -]*?))?)[?.!\s]*",
    re.IGNORECASE,
)
_FIRST = re.compile(r".+?(?:[?;.](?=\s)|$)|")
_LEAVING = re.compile(
    r"\s{0,3}(?:how (?:do|can|would) (?:i|you|one) |i want to |let me )"
    r"(?:quit|exit|leave|stop|close|end|get out)"
    r"(?: (?:of )?(?:this|it|here|the (?:program|bench)|gardenmate))?[?.!\s]*",
    re.IGNORECASE,
)
LEAVE = ("quit", "exit", "bye", "goodbye", "q")
"""The lines that leave the bench."""
LEAVING = "Type 'quit', or press Ctrl-D. Everything you told me is already saved."


def how_to_leave(text: str) -> list[str] | None:
    """How to leave, when that is asked; else None."""
    return [LEAVING] if _LEAVING.fullmatch(text) else None


def help_lines(text: str, facts: Facts, width: int) -> list[str] | None:
    """The help asked for as lines no wider than ``width``, None when ``text`` does not ask for help.

    "help" is one screen; "help frost" shows all examples of one topic, "help json" the names in the JSON.
    """
    match = _ASKED.fullmatch(text)
    if match is None:
        return None
    wanted = (match.group("topic") or "").strip().lower().replace(" ", "-")
    if not wanted:
        return _screen(facts, width)
    if wanted == "json":
        page = (facts.root / "help_json.txt").read_text("utf-8").splitlines()
        return [part for line in page for part in (_narrow(line, width) if len(line) > width else [line])]
    topics = facts.table("help")
    found = [topic for topic, entry in topics.items() if _means(wanted, topic, entry)]
    if not found:
        return None  # "help my peppers froze" is a question, not a call for help
    return [line for topic in found for line in _topic(topic, topics[topic], width)]


def _screen(facts: Facts, width: int) -> list[str]:
    """The first help: groups of lines, each group under its head."""
    lines: list[str] = []
    for group in facts.table("help_screen")["group"]:
        lines += wrap(group["head"], width)
        pad = max((len(name) for name, _ in group["lines"]), default=0) + 2
        for name, text in group["lines"]:
            lead = f"  {name.ljust(pad)}" if name else "  "
            fits = not name or len(lead) + len(text) <= width
            says = text if fits else _FIRST.findall(text)[0].rstrip(";")  # one example, so that all lines fit
            lines += wrap(
                says, width, initial_indent=lead, subsequent_indent=" " * min(len(lead), width // 3)
            )
    return lines


def _narrow(line: str, width: int) -> list[str]:
    lead = line[: len(line) - len(line.lstrip())]
    return wrap(line.strip(), width, initial_indent=lead, subsequent_indent=lead + "    ")


def _means(wanted: str, topic: str, entry: dict[str, list[str]]) -> bool:
    return wanted in (topic, *entry.get("also", ())) or (len(wanted) > 3 and topic.startswith(wanted))


def _topic(topic: str, entry: dict[str, list[str]], width: int) -> list[str]:
    lines = wrap(f"{topic}: {entry['says']}", width, subsequent_indent="  ")
    for example in entry["ask"]:
        lines += wrap(example, width, initial_indent="  > ", subsequent_indent="    ")
    return lines
