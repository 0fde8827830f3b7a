"""How a germination reply opens: by what was asked, which may be the other way round than the sowing."""

from __future__ import annotations

from gardenmate.core.answer import Verdict
from gardenmate.core.question import Request
from gardenmate.topics.germination.emergence_facts import EmergenceOutlook

_MUCH_SLOWER, _LONG_DAYS = 2.5, 14.0  # times its best, and days, from which cold is felt (common practice)


def opening(question: Request, seen: EmergenceOutlook, best_days: float | None) -> tuple[str, Verdict | None]:
    """How the reply opens, and its verdict, which judges the sowing: "will it rot?" and "is it too cold?" are
    answered yes where sowing is a no, and "how long?" by the days."""
    feared = question.first("fears")
    if feared is not None:
        said = "rot" if feared.value == "rot" else f"too {feared.value}"
        yes, part = (
            ("Yes, most of it rots", "Some of it may")
            if "rot" in said
            else (f"Yes, {said}", f"Rather {said[4:]}")
        )
        dragging = seen.days is not None and seen.days >= max(_LONG_DAYS, _MUCH_SLOWER * (best_days or 0.0))
        if seen.verdict == "yes" and said in ("too cold", "too cool") and dragging:
            return part, "tight"
        return {"yes": "No", "tight": part, "no": yes, None: ""}[seen.verdict], seen.verdict
    if question.has("asks", "how-long") and seen.verdict != "no":
        return "", None
    slow = "Poorly" if seen.kind == "poor" else "Slowly"
    return {"yes": "Yes", "tight": slow, "no": "No", None: ""}[seen.verdict], seen.verdict
