"""What of a crop can be started on a day, by any method: one row of "what can I sow now"."""

from __future__ import annotations

from gardenmate.core.answer import Verdict
from gardenmate.topics.season.case import Case, Reply, activity_words
from gardenmate.topics.season.decide import late
from gardenmate.topics.season.phrases import only_with
from gardenmate.topics.season.season import method_of

NOT_YET_DAYS = 150
"""A window that opens within this time is this season's: nothing is late, it is only not time yet."""


def standing_now(case: Case) -> Reply:
    """What of this crop can be started on the day, by any method: one row of "what can I sow now"."""
    windows = case.season.windows(case.day)
    open_now = [w for w in windows if w.earliest <= case.day]
    good = [w for w in open_now if w.best_from <= case.day <= w.best_to]
    candidates = good or open_now or list(windows[:1])
    chosen = candidates[-1] if candidates else None
    verdict: Verdict = "yes" if good else ("tight" if open_now else "no")
    if chosen is None:
        return Reply(case=case, verdict="no", headline=f"No season for {case.name} here.", do="-")
    words = activity_words(case.terms, chosen.activity)
    begins = max(case.day, chosen.earliest if verdict != "no" else chosen.best_from)
    found = late(case.season, method_of(chosen.activity), begins)
    only, plan = only_with(found), found.plan
    if found.verdict != "yes" and verdict == "yes":
        verdict = "tight"
    until = (
        f"{words}, best by {case.on(chosen.best_to)}" if good else f"{words}, latest {case.on(chosen.latest)}"
    )
    if case.day < chosen.best_from:
        until = f"{words} from {case.on(chosen.best_from)}"
    ahead = verdict == "no" and 0 < (chosen.earliest - case.day).days <= NOT_YET_DAYS
    if only:
        until += f", only {only}"
    return Reply(
        case=case,
        verdict=verdict,
        answer="not yet" if ahead else "early" if verdict == "tight" and case.day < chosen.best_from else "",
        headline=f"{case.name.capitalize()}: {until}.",
        chance=found.chance if verdict != "no" else None,
        windows=windows,
        do=until,
        pick="" if plan is None or plan.first_pick is None else case.on(plan.first_pick),
        assumptions=case.site.notes,
        sources=case.terms.sources,
    )
