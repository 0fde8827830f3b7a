"""What the windows of a crop rest on where a middling variety does not ripen in the open."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Window
from gardenmate.topics.season.case import Case, an
from gardenmate.topics.season.terms import OPEN_GROUND
from gardenmate.topics.season.windows import way_that_ripens


def rests_on(case: Case, windows: Sequence[Window]) -> tuple[Case, str]:
    """The case with the variety and cover its windows rest on, and those in words; as it is, and "", where a
    middling variety ripens in the open."""
    if case.terms.rule or case.cover is not OPEN_GROUND:
        return case, ""
    out = [w for w in windows if w.activity in ("set-out", "sow-outdoors")]
    methods = dict.fromkeys("setout" if w.activity == "set-out" else "outdoors" for w in out)
    ways = [way_that_ripens(case.terms, case.year, m) for m in methods]
    if not ways or any(variety is case.terms and cover is OPEN_GROUND for variety, cover in ways):
        return case, ""
    variety, cover = min(ways, key=lambda way: (way[1].day_c, -way[0].dtm))
    under = "" if cover is OPEN_GROUND else f" under {cover.name}"
    words = f"with {an(variety.dtm)}-day variety{under}"
    note = f"An early variety of {case.name}, {variety.dtm:.0f} days to maturity{under}."
    return case._replace(terms=variety._replace(notes=(note,)), cover=cover), words
