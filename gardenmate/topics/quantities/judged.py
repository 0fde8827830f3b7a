"""Is that many right for so many people? By what a household eats fresh, and what it can keep."""

from __future__ import annotations

from typing import Literal

from gardenmate.core.answer import Answer, Verdict
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.knowledge.reader import Range
from gardenmate.plantings.current import batches_of
from gardenmate.records import dataclass, replace
from gardenmate.topics.quantities.household import Wanted, household_answer, need_of, people_of, round_range
from gardenmate.topics.shared.grammar import listed, sentence

_NEARLY = 0.85  # of the lower end: a plant or two short is no shortage (design value)
_FAR_OVER = 1.5  # times the upper end, where nothing is published of keeping it (design value)
Fit = Literal["too-few", "rather-few", "right", "some-to-keep", "too-many"]
VERDICTS: dict[Fit, Verdict] = {
    "too-few": "no", "rather-few": "tight", "right": "yes", "some-to-keep": "yes", "too-many": "no",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class CountFinding:
    """A number of plants against what ``people`` want of them, fresh and to keep."""

    fit: Fit
    plants: float
    people: int
    fresh: Range
    keep: Range | None


def judged_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer | None:
    """Whether a number is right for the household: the number typed, else the plants the log has; None when that is
    not what is asked, or nobody told for how many."""
    guesses = question.all("guess")
    if len(guesses) > 1 and len(crops) == 1:
        return _of_guesses(question, world, crops, [t.number for t in guesses])
    asked = question.has("asks", "right-number") and question.cue("count_unit") in (None, "plant", "seed")
    people, _, told = people_of(question, world)
    if not asked or not told or len(crops) != 1:
        return None
    count = question.ask.count if question.ask.count is not None else _standing(crops[0], world)
    found = None if count is None else judge(crops[0], count, people, world)
    if found is None:
        return None
    base = household_answer(question, world, crops)
    return replace(base, verdict=VERDICTS[found.fit], headline=_headline(found, crops[0].name), polar=False)


def _standing(wanted: Wanted, world: World) -> float | None:
    """How many plants of a crop the log has; None where it tells none."""
    counts = [
        b.count for b in batches_of(world.journal) if b.alive and b.crop == wanted.id and b.count is not None
    ]
    return sum(counts) if counts else None


def _of_guesses(
    question: Request, world: World, crops: tuple[Wanted, ...], guesses: list[float]
) -> Answer | None:
    """Which of the numbers put to choose from is the better one: the nearest to what the people eat fresh."""
    tried = [judge(crops[0], n, people_of(question, world)[0], world) for n in guesses]
    found = [f for f in tried if f is not None]
    if not found:
        return None
    best = min(found, key=lambda f: max(f.fresh[0] - f.plants, f.plants - f.fresh[1], 0.0))
    others = listed((f"{f.plants:g}" for f in found if f is not best), "or")
    base = household_answer(question, world, crops)
    lead = f"{best.plants:g} rather than {others}." if others else f"{best.plants:g}."
    return replace(base, headline=f"{lead} {_headline(best, crops[0].name)}", polar=False)


def judge(w: Wanted, plants: float, people: int, world: World) -> CountFinding | None:
    """How a number of plants fits a household; None where no figure is known."""
    need = need_of(w, people, world.facts)
    fresh = None if need is None else need.fresh or need.keep
    if need is None or fresh is None:
        return None
    most = need.keep[1] if need.keep is not None else fresh[1] * _FAR_OVER
    fit: Fit = "right"
    if plants < fresh[0]:
        fit = "rather-few" if plants >= fresh[0] * _NEARLY else "too-few"
    elif plants > fresh[1]:
        fit = "some-to-keep" if plants <= max(most, fresh[1]) else "too-many"
    return CountFinding(fit, plants, people, fresh, need.keep)


def _headline(found: CountFinding, name: str) -> str:
    people = "one person" if found.people == 1 else f"{found.people} people"
    fresh = (max(1.0, found.fresh[0]), max(1.0, found.fresh[1]))
    want = f"{round_range(fresh)} {name} plants feed them fresh"
    keep = "" if found.keep is None else f", {round_range(found.keep)} give some to keep for the year"
    opens = {
        "too-few": f"too few for {people}",
        "rather-few": f"a little short for {people}",
        "right": f"about right for {people}",
        "some-to-keep": f"more than {people} {'eats' if found.people == 1 else 'eat'} fresh, so there is some to keep",
        "too-many": f"more than {people} {'needs' if found.people == 1 else 'need'}",
    }[found.fit]
    return sentence(f"{opens}: {want}{keep}.")
