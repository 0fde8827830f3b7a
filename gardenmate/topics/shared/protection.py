"""Covers and stage limits, read from knowledge/protection.toml for the frost and frame rules."""

from __future__ import annotations

from typing import Any

from gardenmate.core.question import Request
from gardenmate.core.units import (
    F_DEGREE,
    Units,
    c_to_f,
    f_to_c,
    show_temp,
)
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.records import dataclass

_ROOMS = ("greenhouse", "frame")  # plants stand in them, not under them


@dataclass(frozen=True, slots=True)
class Cover:
    """Something laid over plants: degrees C it keeps the air inside above the air outside at night.

    ``plan_c`` is what to count on, ``least_c``..``most_c`` the published range.
    """

    id: str
    name: str
    least_c: float
    most_c: float
    plan_c: float
    sources: tuple[str, ...]

    @property
    def where(self) -> str:
        """ "under light fleece", "in an unheated greenhouse"."""
        return f"{'in' if self.id in _ROOMS else 'under'} {self.name}"


@dataclass(frozen=True, slots=True)
class Limits:
    """Air temperatures that hurt and kill a crop at a stage, degrees C; ``note`` says what is meant by it.
    ``plant_lives``: they are those of flowers or fruit, and the plant itself lives."""

    hurt_c: float
    killed_c: float
    note: str
    sources: tuple[str, ...]
    assumed: str = ""
    plant_lives: bool = False


_FROST_GENERAL = frozenset({"odds", "dates", "aftermath"})
_FRAME_GENERAL = frozenset({"tonight", "warm-enough"})


def frost_asks(question: Request) -> str | None:
    """What exactly is asked about frost: odds, dates, aftermath, others, covers; None for "will it live"."""
    general = question.cue("asks")
    return question.cue("frosting") or (general if general in _FROST_GENERAL else None)


def frame_asks(question: Request) -> str | None:
    """What exactly is asked about a frame: close, leave-shut, gain, opener, tonight, warm-enough."""
    general = question.cue("asks")
    return question.cue("framing") or (general if general in _FRAME_GENERAL else None)


def covers(facts: Facts) -> tuple[Cover, ...]:
    """Every cover, the one that keeps least first."""
    return tuple(_cover(row) for row in facts.table("protection")["cover"])


def cover_of(question: Request) -> str | None:
    """The cover the question names, fleece with its weight: "fleece", "heavy-fleece", "double-fleece"."""
    weighed = question.first("cover-by-weight")
    if weighed is not None and question.cue("cover") == "fleece":
        return str(weighed.value)
    cover, weight = question.cue("cover"), question.cue("cover_weight")
    return f"{weight}-{cover}" if weight and cover == "fleece" else cover


def stage_of(question: Request) -> str | None:
    """The stage the plants are said to be in (seedling, just-set-out, unhardened, established, bloom, fruit ...)."""
    typed = question.first("stage")
    return str(typed.value) if typed is not None else question.cue("stage")


def chill_limit_c(facts: Facts, crop: Crop) -> float | None:
    """The night air, degrees C, under which a crop is set back without any frost; None when it minds none."""
    row = facts.group_of(crop, "night")
    return f_to_c(row["chill_f"][1]) if row is not None and "chill_f" in row else None


def cover_for(facts: Facts, cue: str | None) -> Cover | None:
    """The cover of a cue word ("fleece", "heavy-fleece" ...); None for none, mulch and unknown words."""
    for row in facts.table("protection")["cover"]:
        if cue in row["cue"] or cue == row["id"]:
            return _cover(row)
    return None


def _cover(row: dict[str, Any]) -> Cover:
    least, most = row["gain_f"]
    return Cover(
        id=row["id"],
        name=row["name"],
        least_c=least * F_DEGREE,
        most_c=most * F_DEGREE,
        plan_c=row["plan_f"] * F_DEGREE,
        sources=tuple(row["sources"]),
    )


def limits(facts: Facts, crop: Crop, stage: str | None, units: Units) -> Limits:
    """What hurts and what kills this crop at this stage (a cue value; None = hardened and growing).

    ``units`` are those of the sentence that says what was assumed.
    """
    table = facts.table("protection")
    base = Limits(
        crop.frost.damage_below_c,
        crop.frost.killed_below_c,
        crop.frost.note,
        crop.frost.sources.of("damage_below_c", "killed_below_c", "note"),
    )
    for row in crop.stage_limits:
        if stage in row.stage:
            return Limits(
                row.hurt_c, row.killed_c, f"Figures for {row.note}.", row.sources, plant_lives=row.plant_lives
            )
    young = table["young"]
    if stage == "unhardened":
        hurt_c = max(base.hurt_c, f_to_c(young["unhardened_hurt_f"]))
        killed_c = max(base.killed_c, min(base.hurt_c, hurt_c - F_DEGREE))
        sources = (*base.sources, *young["sources"].of("unhardened_hurt_f"))
        return Limits(
            hurt_c, killed_c, base.note, sources,
            "Not hardened yet: freezing already hurts them, and what hurts a hardened plant kills them.",
        )  # fmt: skip
    if stage in ("just-set-out", "seedling") and base.hurt_c < f_to_c(young["unhardened_hurt_f"]):
        hurt_c = min(f_to_c(young["unhardened_hurt_f"]), base.hurt_c + young["just_set_out_f"] * F_DEGREE)
        killed_c = max(base.killed_c, base.hurt_c - young["just_set_out_most_f"] * F_DEGREE)
        sources = (*base.sources, *young["sources"].of("just_set_out_f", "just_set_out_most_f"))
        return Limits(
            hurt_c, killed_c, base.note, sources,
            f"Young plants are {frost_span(young['just_set_out_f'] * F_DEGREE, units)} less hardy than "
            "an established plant (common practice).",
        )  # fmt: skip
    return base


def is_freezing_limit(limit_c: float) -> bool:
    """True when a limit is the freezing of the leaf itself (30-33 F).

    Such a limit is met at leaf height, where a clear night is colder than the forecast. The limits of hardier
    crops were published as air temperatures at thermometer height, and those of chilled crops too.
    """
    return 29.9 <= c_to_f(limit_c) <= 33.1


def frost_temp(temp_c: float, units: Units) -> str:
    """A temperature for a frost answer: whole degrees F, half degrees C ("-1.5 C")."""
    if units == "us":
        return show_temp(temp_c, units)
    half = round(temp_c * 2.0) / 2.0
    return show_temp(half, units, 0 if half == int(half) else 1)


def frost_span(span_c: float, units: Units) -> str:
    """A difference of temperatures as text: "4 degrees F", "2.5 degrees C"."""
    if units == "us":
        value = f"{abs(span_c) * 1.8:.0f}"
        return f"{value} degree{'' if value == '1' else 's'} F"
    value = f"{round(abs(span_c) * 2.0) / 2.0:g}"
    return f"{value} degree{'' if value == '1' else 's'} C"


def gain_range(cover: Cover, units: Units) -> str:
    """What a cover keeps, as text: "2 to 4 degrees F"."""
    return f"{frost_span(cover.least_c, units).split()[0]} to {frost_span(cover.most_c, units)}"
