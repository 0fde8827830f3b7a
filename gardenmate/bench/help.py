"""Help by example, from knowledge/help.toml."""

from __future__ import annotations

import re

from gardenmate.knowledge.facts import Facts

_ASKED = re.compile(
    r"^\s*(?:\?|help|what can (?:you|i) (?:do|ask)(?: you)?|how do(?:es)? (?:this|it) work)"
    r"(?:\s+(?:(?:with|about|on)\s+)?(?P<topic>\S.*?))?[?.!\s]*$",
    re.IGNORECASE,
)


def help_lines(text: str, facts: Facts) -> list[str] | None:
    """The help asked for as lines, None when ``text`` does not ask for help.

    "help" lists every topic with one example; "help frost" all examples of one.
    """
    match = _ASKED.match(text)
    if match is None:
        return None
    topics = facts.table("help")
    wanted = (match.group("topic") or "").strip().lower().replace(" ", "-")
    found = [t for t in topics if wanted and (t == wanted or (len(wanted) > 2 and t.startswith(wanted)))]
    if wanted and not found:
        return None  # "help my peppers froze" is a question, not a call for help
    lines: list[str] = []
    for topic in found or topics:
        entry = topics[topic]
        lines.append(f"{topic}: {entry['says']}")
        lines += [f"  {example}" for example in (entry["ask"] if found else entry["ask"][:1])]
    if not found:
        lines.append("'help frost' shows more of one topic; 'why' shows the arithmetic of an answer.")
    return lines
