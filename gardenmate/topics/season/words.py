"""The sentences of a decided start: nothing is decided here, and every date and chance is the finding's own."""

from __future__ import annotations

from gardenmate.topics.season.case import (
    Case,
    Reply,
)
from gardenmate.topics.season.early_words import early_reply
from gardenmate.topics.season.finding import Read, StartFinding
from gardenmate.topics.season.late_reply import late_reply


def reply(case: Case, found: StartFinding, *, asked_early: bool = False) -> Reply:
    """The finding in words. ``asked_early``: the question was whether it is too early."""
    case = told_of(case, found)
    if found.of_spring:
        return early_reply(case, found)
    still_open = asked_early and found.verdict != "no" and found.standing.open is not None
    return late_reply(case._replace(asked_early=still_open), found)


def told_of(case: Case, found: StartFinding) -> Case:
    """The case with the variety and the cover the finding rests on, so that every figure is of that one season."""
    middling, mine = case.terms.dtm, found.season.terms.dtm
    case = case.resting_on(found.season)
    if mine >= middling:
        return case
    note = f"An early variety of {case.name}, {mine:.0f} days to maturity (a mid-season one takes {middling:.0f})."
    return case._replace(terms=case.terms._replace(notes=(note,)))


def read_of(case: Case) -> Read:
    """What the grower read on a thermometer."""
    return Read(case.soil_said_c, case.air_said_c)
