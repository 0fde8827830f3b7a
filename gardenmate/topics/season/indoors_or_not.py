"""Whether seed is worth starting indoors: not what is sown where it grows; else by the days it gains."""

from __future__ import annotations

from collections.abc import Mapping

from gardenmate.core.answer import Number, Verdict
from gardenmate.core.question import Request
from gardenmate.topics.season.case import Case, Reply, assumed, days_word
from gardenmate.topics.season.plan import Plan
from gardenmate.topics.season.season import ACTIVITIES

WORTH_DAYS, SOME_DAYS = 10, 4
"""Days by which an indoor start must be ahead to be worth the trouble, and to be worth naming."""
SAME_SEASON_DAYS = 75
"""Starts further apart than this are not two ways into the same season."""
_WORTH: Mapping[Verdict, str] = {"yes": "Yes, it makes sense", "tight": "A little", "no": "No, hardly"}
_WHICH: Mapping[Verdict, str] = {
    "yes": "Indoors",
    "tight": "Either way, indoors is a little ahead",
    "no": "In place, indoors gains too little",
}


def indoors_or_not(case: Case, question: Request) -> Reply | None:
    """The answer where sowing indoors was said of what is sown in place, or its sense is asked; else None."""
    if case.method != "indoors" or not case.method_said or not case.terms.can_sow_outdoors:
        return None
    if not case.terms.can_raise:
        return _sown_in_place(case)
    if question.has("asks", "which-way"):
        return _gain(case, leads=_WHICH)
    return _gain(case) if question.has("asks", "worth-it") else None


def _sown_in_place(case: Case) -> Reply:
    windows = case.season.windows(case.day)
    mine = [w for w in windows if w.activity in ACTIVITIES["outdoors"]]
    when = f": sow outdoors {case.on(mine[0].best_from)} to {case.on(mine[0].best_to)}" if mine else ""
    return Reply(
        case=case,
        told=True,
        verdict="no",
        headline=f"No, {case.name} are sown where they grow, not indoors{when}."
        if case.name.endswith("s")
        else f"No, {case.name} is sown where it grows, not indoors{when}.",
        numbers=tuple(
            Number("start_from", w.best_from, "date", "sow outdoors from", case.terms.base) for w in mine[:1]
        ),
        details=(
            "Its roots do not like being moved. Deep cells set out within three weeks gain a week or two "
            "where birds, slugs or cold wet soil take the seed.",
        ),
        windows=windows,
        assumptions=assumed(case._replace(method_said=True, method="outdoors"), variety=False),
        working=("It comes up fast in warm soil and is usually sown in place (common practice).",),
        do="sow outdoors",
        sources=case.terms.sources,
    )


def _gain(case: Case, leads: Mapping[Verdict, str] = _WORTH) -> Reply | None:
    """The first picking of both ways, each begun on its first good day."""
    indoors, outdoors = (_first(case, method) for method in ("indoors", "outdoors"))
    if indoors is None or outdoors is None or indoors.first_pick is None or outdoors.first_pick is None:
        return None
    if abs((outdoors.start - indoors.start).days) > SAME_SEASON_DAYS:
        return None  # one of the two belongs to another season
    gain = (outdoors.first_pick - indoors.first_pick).days
    verdict: Verdict = "yes" if gain >= WORTH_DAYS else "tight" if gain >= SOME_DAYS else "no"
    on, crop = case.on, case.terms.base
    sooner = f"{days_word(gain)} sooner" if gain > 0 else "no sooner"
    return Reply(
        case=case,
        told=True,
        verdict=verdict,
        headline=f"{leads[verdict]}: {case.name} sown indoors {on(indoors.start)} are first picked about "
        f"{on(indoors.first_pick)}, {sooner} than sown outdoors {on(outdoors.start)}.",
        numbers=(
            Number("sow", indoors.start, "date", "sow indoors", crop),
            Number("first_pick", indoors.first_pick, "date", "first picking", crop),
        ),
        windows=case.season.windows(case.day),
        assumptions=assumed(case),
        working=(f"Sown outdoors the first picking is about {on(outdoors.first_pick)}.",),
        do=f"sow indoors {on(indoors.start)}",
        pick=on(indoors.first_pick),
        sources=case.terms.sources,
    )


def _first(case: Case, method: str) -> Plan | None:
    """The start on the first good day still to come of the window open or next; None without a window. Both ways
    are of the variety and under the cover that seed in place takes here, so that like is compared with like."""
    mine, sown = case.season.of(method, case.day), case.season.of("outdoors", case.day)
    if not mine or not sown:
        return None
    return case.season.resting_on(sown[0]).plan(method, max(mine[0].best_from, case.day))
