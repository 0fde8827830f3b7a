"""The opening sentence of a propagation answer: what was asked, then the dates."""

from __future__ import annotations

from gardenmate.core.units import show_date
from gardenmate.topics.propagation.decide import Propagation
from gardenmate.topics.shared.woody_case import NOW, WoodyCase
from gardenmate.topics.shared.woody_text import clause, sentence

_DISTANCE = ("spacing", "close", "depth", "distance")
_WAY_WORDS = {"cuttings": "cuttings", "divide": "division", "layer": "layering", "suckers": "suckers"}


def headline_for(found: Propagation, case: WoodyCase) -> str:
    """The opening sentence, by what was asked: how far, whether at all, when or how, may I now."""
    return sentence(_other(found, case) + _asked(found, case))


def _other(found: Propagation, case: WoodyCase) -> str:
    if not found.another_way:
        return ""
    way = _WAY_WORDS.get(case.question.cue("asks") or "", "that way")
    return f"Don't use {way} for {found.subject.many}. "


def _asked(found: Propagation, case: WoodyCase) -> str:
    best, job, span = found.best, found.job, between(found, case)
    if case.asks(*_DISTANCE) and best.way.note:
        return f"{job} between {span}; {clause(best.way.note.partition(';')[0])}"
    if case.question.cue("can_be") and not found.another_way:
        return f"Yes, you can {clause(job)}: between {span}"
    if case.asks_when or case.asks("how"):
        return f"{job} between {span}; {_now(found, case)}"
    if found.another_way:
        return f"{sentence(job)[:-1]} instead, between {span}; {_now(found, case)}"
    return {"yes": _yes, "tight": _tight, "no": _no}[found.verdict](found, case)


def between(found: Propagation, case: WoodyCase) -> str:
    """ "about 31 Mar and 30 Jun"."""
    start, end = found.best.start, found.best.end
    first = show_date(start, end) if start.year == end.year else show_date(start, case.world.today)
    return f"about {first} and {show_date(end, case.world.today)}"


def _now(found: Propagation, case: WoodyCase) -> str:
    if found.verdict == "tight":
        return f"{case.day} is {'a little early' if found.early else 'late but possible'}"
    return f"{case.day} is fine" if found.verdict == "yes" else f"not {case.day}"


def _yes(found: Propagation, case: WoodyCase) -> str:
    until = "" if found.seen else f", until about {show_date(found.best.end, case.world.today)}"
    opening = f"{case.in_time}: you can" if case.too_late else "Yes, you can"
    return f"{opening} {clause(found.job)} {case.day}{until}"


def _tight(found: Propagation, case: WoodyCase) -> str:
    if found.early:
        opens = show_date(found.best.start, case.world.today)
        return f"Almost time: {clause(found.job)} from about {opens}; a few days early is fine"
    care = (
        "keep a ball of soil on the roots, shade and water it"
        if found.best.way.rooted
        else "rub off open leaves, keep them shaded and damp, and expect most to fail"
    )
    return f"Late, but you can still {clause(found.job)}: {care}"


def _no(found: Propagation, case: WoodyCase) -> str:
    if found.seen in ("green_tip", "bloom", "petal_fall", "leafed_out"):
        season = f"between {between(found, case)} ({clause(found.best.way.when)})"
        return f"Too late {case.day}: {clause(found.job)} {season}"
    opening = "Not yet" if case.day == NOW and found.best.start > case.world.today else f"Not {case.day}"
    return f"{opening}: {clause(found.job)} between {between(found, case)} ({clause(found.best.way.when)})"
