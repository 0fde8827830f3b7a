"""How a germination reply opens: by what was asked, which may be the other way round than the sowing."""

from __future__ import annotations

from gardenmate.answer import Verdict
from gardenmate.question import Question
from gardenmate.rules.emergence_facts import Outlook
from gardenmate.rules.pattern import Pattern

_TOO = Pattern(r"\btoo (?:cold|cool|hot|warm)\b|\brot(?:s|ted|ting)?\b", ignore_case=True)
_HOW_LONG = Pattern(r"\bhow (?:long|many days|soon|quick\w*|fast)\b", ignore_case=True)


def opening(question: Question, seen: Outlook) -> tuple[str, Verdict | None]:
    """How the reply opens, and its verdict, which judges the sowing: "will it rot?" and "is it too cold?" are
    answered yes where sowing is a no, and "how long?" by the days."""
    feared = _TOO.search(question.text)
    if feared is not None:
        said = feared[0].lower()
        yes, part = (
            ("Yes, most of it rots", "Some of it may")
            if "rot" in said
            else (f"Yes, {said}", f"Rather {said[4:]}")
        )
        return {"yes": "No", "tight": part, "no": yes, None: ""}[seen.verdict], seen.verdict
    if _HOW_LONG.search(question.text) is not None and seen.verdict != "no":
        return "", None
    slow = "Poorly" if seen.kind == "poor" else "Slowly"
    return {"yes": "Yes", "tight": slow, "no": "No", None: ""}[seen.verdict], seen.verdict
