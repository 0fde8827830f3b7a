"""May one plant be cut on one day: the verdict, its window in dates, and why.

The order of evidence: the stage the grower sees, else the dates of the plant's own pruning seasons, else the
stage it is likely in. Where the spread of the estimate straddles two answers the buds decide, and both
answers are given.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from gardenmate.core.answer import Verdict
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.woody import Season, Woody
from gardenmate.topics.shared.woody_phase import (
    PLAIN,
    SEEN_STAGES,
    WINTER_PHASES,
    Phase,
    Spring,
    phase_on,
    spans,
)
from gardenmate.topics.shared.woody_text import clause

_JUST_OVER_DAYS = 30
_SAME_WINTER_WEEKS = 20  # a season further off belongs to the next winter: this one's may still be used
_SUMMER_PHASES = ("after-bloom", "after-harvest", "summer", "summer-dry")
_RANK: dict[str, int] = {"yes": 0, "tight": 1, "no": 2}


@dataclass(frozen=True, slots=True)
class Cut:
    """A pruning season laid out in dates; ``lesser`` when it is a smaller job or may not suit the place."""

    season: Season
    start: date
    end: date
    lesser: bool = False

    def holds(self, day: date) -> bool:
        """True when ``day`` lies inside."""
        return self.start <= day <= self.end


@dataclass(frozen=True, slots=True)
class Advice:
    """What one plant's rules say for one day.

    ``now`` is the season the day falls in, ``coming`` the next main one, ``gone`` the last main one of this
    cycle when it has passed. ``mixed`` holds (stage, verdict, text) when the buds decide. ``year`` has each
    main season once: the one at hand or the next. ``still`` is the span in which its stage alone allows the
    cut, outside every season of its own; ``near``: its window opens no further off than the dates are known;
    ``renewal``: it is to be cut right down, flowers or not.
    """

    plant: Woody
    verdict: Verdict
    text: str
    phase: Phase
    seen: str | None
    now: Cut | None
    coming: Cut | None
    gone: Cut | None
    mixed: tuple[tuple[str, str, str], ...] = ()
    name: str = ""
    year: tuple[Cut, ...] = ()
    still: Cut | None = None
    near: bool = False
    renewal: bool = False

    @property
    def cut(self) -> Cut | None:
        """The one window that headline, table and verdict speak of: the one the day is in, else the next."""
        if self.now is not None and not self.costly:
            return self.now
        return self.still or self.coming

    @property
    def costly(self) -> bool:
        """A winter cut of a plant that carries its flowers by then: possible, but no time to prune it."""
        if (
            self.renewal
            or self.now is None
            or not self.now.lesser
            or self.now.season.phase not in WINTER_PHASES
        ):
            return False
        return self.seen is None and self.plant.stage(self.phase.stage).verdict == "no"

    @property
    def early(self) -> bool:
        """The plant's time this cycle is still ahead."""
        return self.now is None and self.coming is not None and self.phase.stage in ("dormant", "leaf_fall")


def seasons_here(plant: Woody, spring: Spring) -> tuple[Season, ...]:
    """The pruning seasons that suit the place: wet winters rule some out, dry ones others."""
    barred = {True: "dry-winter", False: "wet-winter", None: ""}[spring.wet_winter]
    return tuple(s for s in plant.seasons if not s.where or s.where != barred)


def cuts(plant: Woody, spring: Spring) -> tuple[Cut, ...]:
    """Every pruning season from the last cycle to the next, in order of its start."""
    found = [
        Cut(season, start, end, season.lesser or (spring.wet_winter is None and season.where == "dry-winter"))
        for frame in (spring.shifted(-1), spring, spring.shifted(1))
        for season in seasons_here(plant, spring)
        for start, end in spans(plant, season, frame)
    ]
    return tuple(sorted(found, key=lambda c: c.start))


def advise(
    plant: Woody,
    spring: Spring,
    facts: Facts,
    day: date,
    bud_stage: str | None = None,
    name: str = "",
    *,
    renewal: bool = False,
) -> Advice:
    """The advice for pruning ``plant`` on ``day``; ``bud_stage`` is what the grower sees, if said, ``name``
    what to call it, ``renewal`` that it is to be cut right down."""
    advice = replace(_advise(plant, spring, facts, day, bud_stage), renewal=renewal)
    if advice.costly:
        advice = replace(advice, verdict="no", text=plant.stage(advice.phase.stage).text)
    waits = advice.coming is not None and (advice.coming.start - day).days <= spring.spread_days
    near = waits and advice.verdict == "tight" and advice.now is None and advice.seen is None
    return replace(advice, name=name or plant.name, year=_year(plant, spring, day), near=near)


def _year(plant: Woody, spring: Spring, day: date) -> tuple[Cut, ...]:
    """Each main season once: the one that is on or has just ended, else the next."""
    every = [c for c in cuts(plant, spring) if not c.season.lesser and (day - c.end).days < _JUST_OVER_DAYS]
    first = {c.season.window: c for c in reversed(every)}
    return tuple(first[s.window] for s in seasons_here(plant, spring) if s.window in first)


def _advise(plant: Woody, spring: Spring, facts: Facts, day: date, bud_stage: str | None) -> Advice:
    every = cuts(plant, spring)
    inside = sorted((c for c in every if c.holds(day)), key=lambda c: (c.lesser, c.start))
    main = [c for c in every if not c.lesser]
    now = inside[0] if inside else None
    coming = next((c for c in main if c.start > day), None)
    gone = next((c for c in reversed(main) if c.end < day and (day - c.end).days < 200), None)
    phase = phase_on(plant, spring, facts, day)
    if bud_stage is not None:
        stage = SEEN_STAGES[bud_stage]
        verdict, text = _seen(plant, bud_stage, now, coming, day)
        return Advice(plant, verdict, text, Phase(stage, day, day), bud_stage, now, coming, gone)
    if now is not None:
        verdict = "tight" if now.lesser else "yes"
        return Advice(plant, verdict, now.season.window, phase, None, now, coming, gone)
    if phase.stage in ("dormant", "leaf_fall"):
        verdict, text = _resting(plant, phase.stage, coming, day)
        if verdict == "no" and coming is not None and (coming.start - day).days <= spring.spread_days:
            verdict = "tight"  # no nearer than the dates themselves are known
        return Advice(plant, verdict, text, phase, None, None, coming, gone)
    return _growing(plant, spring, facts, day, phase, coming, gone)


def _seen(
    plant: Woody, bud_stage: str, now: Cut | None, coming: Cut | None, day: date
) -> tuple[Verdict, str]:
    stage = SEEN_STAGES[bud_stage]
    advice = plant.stage(stage)
    verdict = verdict_of(advice.verdict)
    if stage == "dormant" and now is None and verdict == "yes" and _weeks_off(coming, day) > 1:
        return "tight", "it is safe while fully dormant, but the better time is later: " + clause(
            plant.seasons[0].window
        )
    if bud_stage == "pink" and verdict == "yes" and plant.stage("bloom").verdict == "no":
        return "tight", "the flowers are about to open: small cuts only, and go gently"
    return verdict, advice.text


def _weeks_off(coming: Cut | None, day: date) -> float:
    weeks = 0.0 if coming is None else (coming.start - day).days / 7.0
    return weeks if weeks < _SAME_WINTER_WEEKS else 0.0


def _resting(plant: Woody, stage: str, coming: Cut | None, day: date) -> tuple[Verdict, str]:
    """Leafless or nearly, and outside its season: wait, or go ahead where dormancy alone is enough."""
    advice = plant.stage(stage)
    verdict = verdict_of(advice.verdict)
    if coming is not None and verdict != "no":
        verdict = "tight" if coming.season.phase == "dormant" else "no"
    if verdict == "tight" and coming is not None and not _weeks_off(coming, day):
        return verdict, "small cuts only: its time is past until " + clause(plant.seasons[0].window)
    return verdict, advice.text


def _growing(
    plant: Woody, spring: Spring, facts: Facts, day: date, phase: Phase, coming: Cut | None, gone: Cut | None
) -> Advice:
    """In growth and outside its seasons: the stage decides, and the estimate's spread is looked at."""
    spread = timedelta(days=spring.spread_days)
    near = (phase_on(plant, spring, facts, day - spread), phase, phase_on(plant, spring, facts, day + spread))
    stages = list(dict.fromkeys(p.stage for p in near))
    views = [_view(plant, s, day, gone, spring) for s in stages]
    verdicts = {v for _, v, _ in views}
    advice = plant.stage(phase.stage)
    if advice.verdict == "yes" and _in_summer(plant, spring):
        return _outside_summer(plant, advice.text, day, phase, spread, coming, gone)
    if len(verdicts) > 1:
        just = gone if gone is not None and (day - gone.end).days <= _JUST_OVER_DAYS else None
        views_now = tuple(views)
        return Advice(plant, "tight", advice.text, phase, None, None, coming, gone, views_now, still=just)
    verdict = verdict_of(advice.verdict)
    still = _while_allowed(plant, phase, gone) if verdict == "yes" else None
    return Advice(plant, verdict, advice.text, phase, None, None, coming, gone, still=still)


def _in_summer(plant: Woody, spring: Spring) -> bool:
    """A main season of the plant lies in growth: it then decides, not the stage alone."""
    return any(not s.lesser and s.phase in _SUMMER_PHASES for s in seasons_here(plant, spring))


def _outside_summer(
    plant: Woody, text: str, day: date, phase: Phase, spread: timedelta, coming: Cut | None, gone: Cut | None
) -> Advice:
    """In leaf, before or after the season in growth: tight within the spread of its edge, else not now."""
    near = (coming is not None and coming.start - day <= spread) or (
        gone is not None and gone.season.phase in _SUMMER_PHASES and day - gone.end <= spread
    )
    if near:
        return Advice(plant, "tight", text, phase, None, None, coming, gone)
    after = gone is not None and gone.season.phase in _SUMMER_PHASES
    if after and plant.fruit.wood == "old":
        said = "too late this year: next spring's flower buds are set"
    else:
        said = f"its time is {clause(coming.season.window)}" if coming is not None else text
    return Advice(plant, "no", said, phase, None, None, coming, gone)


def _while_allowed(plant: Woody, phase: Phase, gone: Cut | None) -> Cut:
    """The days the stage allows the cut: from the season just left where it runs on, else the stage's own."""
    end = phase.until - timedelta(days=1)
    if gone is not None and (phase.since - gone.end).days <= _JUST_OVER_DAYS:
        return Cut(gone.season, gone.start, max(end, gone.end))
    return Cut(plant.seasons[0], phase.since, end)


def _view(plant: Woody, stage: str, day: date, gone: Cut | None, spring: Spring) -> tuple[str, str, str]:
    """Stage, verdict and text; a plant still asleep well after its season closed is not cut (kiwi bleeds)."""
    advice = plant.stage(stage)
    closed = gone is None or (day - gone.end).days > 2 * spring.spread_days
    if stage == "dormant" and closed:
        return (
            stage,
            "no",
            "its season is over: " + clause(plant.limits.not_when[0] if plant.limits.not_when else ""),
        )
    return stage, advice.verdict, advice.text


def verdict_of(text: str) -> Verdict:
    """A verdict word of the fact files as the answer's type."""
    return "yes" if text == "yes" else "no" if text == "no" else "tight"


def common(verdicts: list[Verdict]) -> Verdict | None:
    """The verdict all share, else None."""
    return verdicts[0] if verdicts and len(set(verdicts)) == 1 else None


def worst(*verdicts: Verdict) -> Verdict:
    """The most cautious of several verdicts."""
    return max(verdicts, key=lambda v: _RANK[v])


def stage_words(stage: str) -> str:
    """A stage as a grower says it ("in bloom")."""
    return PLAIN[stage]
