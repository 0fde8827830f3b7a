"""One verdict for several plants."""

from __future__ import annotations

from collections.abc import Iterable

from gardenmate.core.answer import Verdict


def of_all(verdicts: Iterable[Verdict | None]) -> Verdict | None:
    """The verdict for all together: the one they share; "tight" where some are a yes and some a risk; else None, and
    the first line says which is which."""
    found = set(verdicts)
    if len(found) == 1:
        return found.pop()
    return "tight" if found == {"yes", "tight"} else None
