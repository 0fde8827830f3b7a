"""Which way of making new plants is meant, and may it be done on the day. No sentence is made here."""

from __future__ import annotations

from gardenmate.core.answer import Verdict
from gardenmate.core.finding import Finding
from gardenmate.records import dataclass, replace
from gardenmate.topics.propagation.ways import Chance, Subject, way_asked
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_phase import SEEN_STAGES, seen_stage

_NAMED_WAYS = ("cuttings", "divide", "layer")
_AWAKE = ("green_tip", "bloom", "petal_fall", "leafed_out")


@dataclass(frozen=True, slots=True, kw_only=True)
class Propagation(Finding):
    """The way to take for one plant, and whether the day suits it.

    ``subject`` keeps the ways that answer what was asked; ``another_way``: the way asked for is none of the plant's.
    ``early``: its time opens no further off than the dates are known. ``seen`` is the stage the grower sees.
    """

    subject: Subject
    verdict: Verdict
    best: Chance
    another_way: bool
    early: bool
    seen: str | None

    @property
    def job(self) -> str:
        """What is to be done with what: "take hardwood cuttings of elders"."""
        return f"{self.best.way.do} {self.subject.many}"


def decide(subject: Subject, case: WoodyCase) -> Propagation:
    """The way and the verdict for one plant."""
    asked = asked_way(case)
    wanted = way_asked(asked, subject.ways)
    if wanted:
        named = (c for c in subject.chances if c.way.method in wanted)
        subject = replace(subject, chances=tuple(sorted(named, key=lambda c: wanted.index(c.way.method))))
    another = asked in _NAMED_WAYS and not wanted
    best, day = subject.best, case.world.today
    seen = seen_stage(case.question)
    if seen is None and case.question.has("look", "in-leaf"):
        seen = "leafed_out"
    verdict: Verdict = "yes" if case.question.cue("can_be") and not another else _verdict(best, seen, case)
    early = verdict == "tight" and best.start > day and seen is None
    return Propagation(
        subject=subject, verdict=verdict, best=best, another_way=another, early=early, seen=seen
    )


def asked_way(case: WoodyCase) -> str | None:
    """The way asked for, as a word of `way_asked`; None when none is."""
    for way in ("graft", "cuttings"):
        if case.question.has("way", way):
            return way
    return case.question.cue("asks")


def _verdict(best: Chance, seen: str | None, case: WoodyCase) -> Verdict:
    """Now, soon (within what the dates are good for), or not now; a plant seen awake is too late for dormant work,
    seen dormant it is in time."""
    by_leaf = best.way.phase in ("early-spring", "dormant-spring")
    if seen == "leafed_out" and best.inside and best.way.rooted and by_leaf:
        return "tight"  # its roots come with it, but its time was before the leaves opened
    if seen is not None and best.way.dormant:
        return _by_stage(SEEN_STAGES[seen])
    if best.inside:
        return "yes"
    day = case.world.today
    near = best.nearly(day, case.spring.spread_days)
    return "tight" if near or (best.way.rooted and best.just_over(day)) else "no"


def _by_stage(stage: str) -> Verdict:
    if stage in _AWAKE:
        return "tight" if stage == "green_tip" else "no"
    return "yes" if stage in ("dormant", "bud_swell") else "no"
