"""May one plant be cut on one day: the verdict, why, and its seasons in dates. No sentence is made here.

The order of evidence: the stage the grower sees, else the dates of the plant's own pruning seasons, else the stage it
is likely in. Where the spread of the estimate straddles two answers the buds decide, and both answers are given. Wet
winters, the weather, the plant's age and a cut right down may overrule all of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Literal

from gardenmate.core.answer import Verdict
from gardenmate.core.finding import Finding
from gardenmate.core.units import f_to_c
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.woody import Woody
from gardenmate.records import dataclass, replace
from gardenmate.topics.pruning.seasons import (
    JUST_OVER_DAYS,
    Around,
    Cut,
    around,
    bare_barred,
    cuts,
    seasons_here,
    year,
)
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_phase import (
    SEEN_STAGES,
    WINTER_PHASES,
    Phase,
    Spring,
    phase_on,
    seen_stage,
)

Why = Literal[
    "season", "lesser", "costly", "stage", "better-later", "about-to-open", "near", "past", "closed", "buds-set",
    "its-season", "buds-decide", "bare-wet",
]  # fmt: skip
"""season: inside a main season. lesser: only a smaller job's. costly: a winter cut takes the flowers it carries.
stage: by what the plant shows. better-later: safe, but its time comes. about-to-open: flowers about to open. near: its
season opens no further off than the dates are known. past: leafless, its time gone. closed: still asleep, season long
over. buds-set: next year's flowers are set. its-season: waits for a season in growth. buds-decide: the estimate
straddles two answers. bare-wet: leafless where winters are wet."""
Stop = Literal["rain", "cold-snap", "heat"]
View = tuple[str, Verdict, Why]

_SAME_WINTER_WEEKS = (
    20  # design value: a season further off belongs to the next winter; this one's may be used
)
_SUMMER_PHASES = ("after-bloom", "after-harvest", "summer", "summer-dry")
_LEAFLESS = ("dormant", "leaf_fall", "bud_swell", "green_tip")
_RANK: dict[str, int] = {"yes": 0, "tight": 1, "no": 2}


@dataclass(frozen=True, slots=True)
class Asked:
    """What of a question bears on the decision: the day, the stage the grower sees, a cut right down, the plant's age
    in years, weather to come (degrees C; ``raining``), and the usual night then where it is feared to be too cold."""

    day: date
    seen: str | None = None
    right_down: bool = False
    age: float | None = None
    forecast_c: float | None = None
    raining: bool = False
    usual_night_c: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pruning(Finding):
    """What one plant's rules say for one day.

    ``now`` is the season the day falls in, ``coming`` the next main one, ``gone`` the last main one of this cycle.
    ``views`` holds (stage, verdict, why) where the buds decide. ``year`` has each main season once: the one at hand or
    the next. ``still`` is the span in which its stage alone allows the cut, outside every season of its own. ``stop``
    is the weather that forbids the job, ``too_young`` a plant under the age of its first hard cut.
    """

    plant: Woody
    verdict: Verdict
    asked: Asked
    why: Why
    phase: Phase
    now: Cut | None
    coming: Cut | None
    gone: Cut | None
    views: tuple[View, ...] = ()
    year: tuple[Cut, ...] = ()
    still: Cut | None = None
    stop: Stop | None = None
    too_young: bool = False

    @property
    def seen(self) -> str | None:
        """The stage the grower sees."""
        return self.asked.seen

    @property
    def cut(self) -> Cut | None:
        """The one window that headline, table and verdict speak of: the one the day is in, else the next."""
        if self.now is not None and self.why not in ("costly", "bare-wet"):
            return self.now
        return self.still or self.coming

    @property
    def early(self) -> bool:
        """The plant's time this cycle is still ahead."""
        return self.now is None and self.coming is not None and self.phase.stage in ("dormant", "leaf_fall")

    @property
    def over(self) -> bool:
        """The winter season of this cycle has gone by and the plant is past it."""
        if self.seen in ("dormant", "bud_swell") or self.gone is None:
            return False
        growing = self.phase.stage in ("green_tip", "bloom", "petal_fall", "leafed_out")
        return growing and self.gone.season.phase in ("dormant", "late-dormant")


def asked_of(case: WoodyCase, plant: Woody, age: float | None = None) -> Asked:
    """What of the question bears on the decision about ``plant``."""
    question, site = case.question, case.world.site
    cold = question.has("weather", "too-cold") and question.ask.temperature_c is None
    return Asked(
        day=case.world.today,
        seen=seen_stage(question, plant),
        right_down=case.right_down,
        age=age,
        forecast_c=question.ask.temperature_c if case.is_forecast else None,
        raining=question.cue("weather") in ("rain", "snow"),
        usual_night_c=site.min_c(case.world.today) if cold and site is not None else None,
    )


def decide(plant: Woody, spring: Spring, facts: Facts, asked: Asked) -> Pruning:
    """The decision for ``plant``; every rule that overrules another comes after it."""
    every = cuts(plant, spring)
    found = _by_evidence(plant, spring, facts, asked, around(every, asked.day))
    found = replace(found, year=year(every, seasons_here(plant, spring), asked.day))
    found = _bare_in_wet_winter(found, spring)
    if asked.right_down:
        found = replace(found, verdict=low_verdict(found))
    found = _stopped(found, facts)
    young = asked.age is not None and asked.age < plant.limits.min_age_years
    return replace(found, verdict="no", too_young=True) if young else found


def _by_evidence(plant: Woody, spring: Spring, facts: Facts, asked: Asked, near: Around) -> Pruning:
    day = asked.day
    phase = phase_on(plant, spring, facts, day)
    if asked.seen is not None:
        phase = Phase(SEEN_STAGES[asked.seen], day, day)
        return _finding(plant, asked, phase, near, *_seen(plant, asked, near))
    if near.now is not None and _costly(plant, asked, phase, near.now):
        return _finding(plant, asked, phase, near, "no", "costly")
    if near.now is not None:
        small = near.now.lesser
        return _finding(
            plant, asked, phase, near, "tight" if small else "yes", "lesser" if small else "season"
        )
    if phase.stage in ("dormant", "leaf_fall"):
        return _resting(plant, spring, asked, phase, near)
    return _growing(plant, spring, facts, asked, phase, near)


def _finding(plant: Woody, asked: Asked, phase: Phase, near: Around, verdict: Verdict, why: Why) -> Pruning:
    return Pruning(
        plant=plant,
        verdict=verdict,
        asked=asked,
        why=why,
        phase=phase,
        now=near.now,
        coming=near.coming,
        gone=near.gone,
    )


def _seen(plant: Woody, asked: Asked, near: Around) -> tuple[Verdict, Why]:
    stage = SEEN_STAGES[asked.seen or ""]
    verdict = verdict_of(plant.stage(stage).verdict)
    main = near.now if near.now is not None and not near.now.lesser else None
    if (
        verdict == "tight"
        and stage in ("dormant", "bud_swell")
        and main
        and main.season.phase in WINTER_PHASES
    ):
        return "yes", "season"  # asleep as it should be, and its time here
    if stage == "dormant" and near.now is None and verdict == "yes" and _weeks_off(near, asked.day) > 1:
        return "tight", "better-later"
    if asked.seen == "pink" and verdict == "yes" and plant.stage("bloom").verdict == "no":
        return "tight", "about-to-open"
    return verdict, "stage"


def _costly(plant: Woody, asked: Asked, phase: Phase, now: Cut) -> bool:
    """A winter cut of a plant that carries its flowers by then: possible, but no time to prune it."""
    carries = now.lesser and now.season.phase in WINTER_PHASES
    return carries and not asked.right_down and plant.stage(phase.stage).verdict == "no"


def _weeks_off(near: Around, day: date) -> float:
    weeks = 0.0 if near.coming is None else (near.coming.start - day).days / 7.0
    return weeks if weeks < _SAME_WINTER_WEEKS else 0.0


def _resting(plant: Woody, spring: Spring, asked: Asked, phase: Phase, near: Around) -> Pruning:
    """Leafless or nearly, and outside its season: wait, or go ahead where dormancy alone is enough."""
    verdict = verdict_of(plant.stage(phase.stage).verdict)
    coming = near.coming
    if coming is not None and verdict != "no":
        verdict = "tight" if coming.season.phase == "dormant" else "no"
    if verdict == "tight" and coming is not None and not _weeks_off(near, asked.day):
        return _finding(plant, asked, phase, near, "tight", "past")
    if coming is not None and (coming.start - asked.day).days <= spring.spread_days:
        return _finding(plant, asked, phase, near, "tight", "near")
    return _finding(plant, asked, phase, near, verdict, "stage")


def _growing(plant: Woody, spring: Spring, facts: Facts, asked: Asked, phase: Phase, near: Around) -> Pruning:
    """In growth and outside its seasons: the stage decides, and the estimate's spread is looked at."""
    spread = timedelta(days=spring.spread_days)
    around_it = (
        phase_on(plant, spring, facts, asked.day - spread),
        phase,
        phase_on(plant, spring, facts, asked.day + spread),
    )
    views = tuple(_view(plant, s, asked.day, near, spring) for s in dict.fromkeys(p.stage for p in around_it))
    advice = plant.stage(phase.stage)
    if (
        advice.verdict == "yes"
        and phase.stage != "green_tip"
        and any(not s.lesser and s.phase in _SUMMER_PHASES for s in seasons_here(plant, spring))
    ):
        return _outside_summer(plant, asked, phase, spread, near)
    if len({verdict for _, verdict, _ in views}) > 1:
        just = (
            near.gone if near.gone is not None and _days_since(near.gone, asked) <= JUST_OVER_DAYS else None
        )
        found = _finding(plant, asked, phase, near, "tight", "buds-decide")
        return replace(found, views=views, still=just)
    verdict = verdict_of(advice.verdict)
    found = _finding(plant, asked, phase, near, verdict, "stage")
    return replace(found, still=_while_allowed(plant, phase, near.gone)) if verdict == "yes" else found


def _days_since(cut: Cut, asked: Asked) -> int:
    return (asked.day - cut.end).days


def _outside_summer(plant: Woody, asked: Asked, phase: Phase, spread: timedelta, near: Around) -> Pruning:
    """In leaf, before or after the season in growth: tight within the spread of its edge, else not now."""
    coming, gone = near.coming, near.gone
    after = gone is not None and gone.season.phase in _SUMMER_PHASES
    if coming is not None and coming.start - asked.day <= spread:
        return _finding(plant, asked, phase, near, "tight", "near")
    if gone is not None and after and asked.day - gone.end <= spread:
        return _finding(plant, asked, phase, near, "tight", "stage")
    set_by_now = after and plant.fruit.wood == "old"
    why: Why = "buds-set" if set_by_now else "its-season" if coming is not None else "stage"
    return _finding(plant, asked, phase, near, "no", why)


def _while_allowed(plant: Woody, phase: Phase, gone: Cut | None) -> Cut:
    """The days the stage allows the cut: from the season just left where it runs on, else the stage's own."""
    end = phase.until - timedelta(days=1)
    if gone is not None and (phase.since - gone.end).days <= JUST_OVER_DAYS:
        return Cut(gone.season, gone.start, max(end, gone.end))
    return Cut(plant.seasons[0], phase.since, end)


def _view(plant: Woody, stage: str, day: date, near: Around, spring: Spring) -> View:
    """A stage the plant may be in; one still asleep well after its season closed is not cut (kiwi bleeds)."""
    closed = near.gone is None or (day - near.gone.end).days > 2 * spring.spread_days
    if stage == "dormant" and closed:
        return stage, "no", "closed"
    return stage, verdict_of(plant.stage(stage).verdict), "stage"


# -- what overrules ---------------------------------------------------------------------------------
def _bare_in_wet_winter(found: Pruning, spring: Spring) -> Pruning:
    """Where winters fall as rain, plums and their like are not cut while bare, whatever else would allow it."""
    if not bare_barred(found.plant, spring) or found.phase.stage not in _LEAFLESS:
        return found
    inside = found.seen is None and found.now is not None
    return found if inside else replace(found, verdict="no", why="bare-wet", views=(), still=None)


def low_verdict(found: Pruning) -> Verdict:
    """May it be cut to the ground: as its file says, and never better than pruning it now is."""
    allowed = verdict_of(found.plant.limits.ground_cut)
    return allowed if allowed == "no" else worst(found.verdict, allowed)


def _stopped(found: Pruning, facts: Facts) -> Pruning:
    """Rain on plants cut in dry weather only, deep cold and great heat forbid the job."""
    rules, asked = facts.table("pruning")["general"], found.asked
    stop: Stop | None = None
    if asked.raining and any(s.dry for s in found.plant.seasons):
        stop = "rain"
    elif asked.forecast_c is not None and asked.forecast_c < f_to_c(rules["cold_snap"]["below_f"]):
        stop = "cold-snap"
    elif asked.forecast_c is not None and asked.forecast_c >= f_to_c(rules["heat_stop"]["above_f"]):
        stop = "heat"
    return found if stop is None else replace(found, verdict="no", stop=stop)


# -- verdicts ---------------------------------------------------------------------------------------
def verdict_of(text: str) -> Verdict:
    """A verdict word of the fact files as the answer's type."""
    return "yes" if text == "yes" else "no" if text == "no" else "tight"


def common(verdicts: Iterable[Verdict]) -> Verdict | None:
    """The verdict all share, else None."""
    found = set(verdicts)
    return found.pop() if len(found) == 1 else None


def worst(*verdicts: Verdict) -> Verdict:
    """The most cautious of several verdicts."""
    return max(verdicts, key=lambda v: _RANK[v])
