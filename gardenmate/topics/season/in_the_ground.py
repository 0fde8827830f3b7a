"""Seed already sown outdoors and the cold that came after: is it lost? And what the season asked is then."""

from __future__ import annotations

from gardenmate.core.answer import Number, Verdict
from gardenmate.topics.season.case import Case, Reply, assumed
from gardenmate.topics.season.site_year import YEAR


def sown_already(case: Case) -> Reply:
    """What becomes of seed in the ground on ``case.day``: hardy seed waits, tender seed rots in cold soil."""
    _, number = case.year.day_number(case.day)
    soil = case.year.soil_c[number % YEAR]
    least, name = case.season.wanted_soil_c("outdoors"), case.name
    hurt = case.temp(case.terms.crop.frost.damage_below_c)
    again = next(iter(case.season.of("outdoors", case.day)), None)
    verdict: Verdict
    if not case.terms.crop.warm:
        verdict = "yes"
        head = (
            f"Not lost: seed of {name} waits in cold soil and comes up as it warms; seedlings that are up "
            f"survive frost to about {hurt}"
        )
    elif least is not None and soil < least - 2.0:
        verdict = "no"
        head = (
            f"Probably lost: seed of {name} rots in cold wet soil, and the usual soil now is about "
            f"{case.temp(soil)} where it wants {case.temp(least)}"
        )
    else:
        verdict = "tight"
        head = f"Not lost yet: seed of {name} comes up in soil this warm, but seedlings are hurt at {hurt}"
    changes = () if verdict == "yes" or again is None else (
        f"Sow again {case.on(max(again.best_from, case.today))} to {case.on(again.best_to)}.",
    )  # fmt: skip
    us = case.units == "us"
    crop, label = case.terms.base, "usual soil now"
    return Reply(
        case=case,
        told=True,
        verdict=verdict,
        headline=f"{head}.",
        numbers=(
            Number("soil_f", round(soil * 1.8 + 32), "F", label, crop, shown=us),
            Number("soil_c", round(soil), "C", label, crop, shown=not us),
        ),
        details=("Scratch up a few seeds: firm ones are alive, soft or hollow ones are not.",),
        changes=changes,
        assumptions=assumed(case, variety=False),
        working=(f"Usual soil {case.temp(soil)}; hurt at {hurt}.",),
        do="wait" if verdict == "yes" else "look, and sow again",
        sources=(*case.terms.sources, *case.terms.crop.frost.sources.of("damage_below_c", "killed_below_c")),
    )
