"""Woody and perennial plants as rules see them: knowledge/woody/<id>.toml, one file per kind.

Lengths in cm, temperatures in degrees C, months 1-12 as in the northern hemisphere; weeks are counted from
the opening of the plant's buds, negative before it. Every section names its sources.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from gardenmate.knowledge.marked import PLAIN, Manner, told
from gardenmate.knowledge.reader import Range, Sources, build, fault, read_toml
from gardenmate.records import dataclass

if TYPE_CHECKING:
    from gardenmate.core.question import CropRef
    from gardenmate.knowledge.facts import Facts

T = TypeVar("T")
STAGES = (
    "dormant",
    "bud_swell",
    "green_tip",
    "bloom",
    "petal_fall",
    "leafed_out",
    "after_harvest",
    "leaf_fall",
)


@dataclass(frozen=True, slots=True)
class Fruit:
    """What it fruits or flowers on, and what cutting it hard or at the wrong time costs.

    ``wood``: new | one-year | two-year-canes | young-wood | spurs | tips | old | crown | group.
    """

    sources: Sources
    wood: str
    cost: str
    on: str = ""


@dataclass(frozen=True, slots=True)
class CuttingSeason:
    """One time of year it is cut; ``say`` completes "prune them ...".

    ``where`` limits it to places with dry or wet winters; ``dry`` asks for
    dry weather, with ``dry_weeks_after`` rain-free weeks to follow; ``lesser`` is a smaller job than the main
    one. ``finish_by`` is "MM-DD" (north)."""

    sources: Sources
    phase: str
    window: str
    say: str
    months: tuple[int, ...]
    weeks_from_bud_break: Range | None = None
    mild_weeks_from_bud_break: Range | None = None
    finish_by: str = ""
    dry_weeks_after: int | None = None
    dry: bool = False
    where: str = ""
    lesser: bool = False


@dataclass(frozen=True, slots=True)
class CutLimits:
    """When not, the age in years from which it takes a hard cut, and whether it may be cut to the ground
    (``ground_cut``: yes | tight, at the cost told under fruit | no). ``bare_in_wet_winter``: where winters fall as
    rain a cut on the leafless plant lets in this disease, so that it is not cut then."""

    sources: Sources
    min_age_years: int
    ground_cut: str
    not_when: tuple[str, ...] = ()
    wet_winter: str = ""
    bare_in_wet_winter: str = ""
    establishment: str = ""


@dataclass(frozen=True, slots=True)
class Amount:
    """How much comes off in a year."""

    sources: Sources
    text: str
    flower_bud_fraction: Range | None = None
    cane_height_cm: Range | None = None
    lateral_cm: Range | None = None


@dataclass(frozen=True, slots=True)
class Method:
    """One way of doing it, in at most six steps."""

    sources: Sources
    id: str
    steps: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    best_for: str = ""
    keep: str = ""
    remove: str = ""
    note: str = ""
    min_age_years: int | None = None
    cut_height_cm: Range | None = None
    leave_above_bare_wood_cm: Range | None = None
    row_width_cm: Range | None = None
    plant_spacing_cm: Range | None = None
    canker_margin_cm: float | None = None


@dataclass(frozen=True, slots=True)
class StageAdvice:
    """Verdict on pruning while the plant shows one stage, and what to say beside it, if anything.
    ``shoots_up_to_cm``: the new growth still counts as this stage up to that length."""

    sources: Sources
    verdict: str
    text: str = ""
    shoots_up_to_cm: float | None = None


@dataclass(frozen=True, slots=True)
class ChillHours:
    """Hours at or below 45 F its kinds need: the spread over cultivars, and the usual part of it."""

    sources: Sources
    hours: Range | None = None
    typical_hours: Range | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class BudBreak:
    """First green and bloom against the green tip of a midseason apple, days; both may be degree-day sums
    (C, same base and start as the green tip) as well."""

    sources: Sources
    days_from_apple_green_tip: float
    days_to_bloom: float | None = None
    budburst_dd_c: float | None = None
    bloom_dd_c: float | None = None


@dataclass(frozen=True, slots=True)
class PruningTrial:
    """A published pruning trial: fruit per plant in grams by system."""

    sources: Sources
    selective_g_per_plant: float
    ground_every_year_g_per_plant: float
    ground_every_second_year_g_per_plant: float
    ripens_later_days_after_ground_cut: Range


@dataclass(frozen=True, slots=True)
class PruningGroup:
    """A group of kinds cut alike (clematis 1, 2, 3)."""

    sources: Sources
    id: int
    names: tuple[str, ...]
    blooms: str
    when: str
    cut: str
    late: str
    verdicts: Mapping[str, str]
    cut_height_cm: Range | None = None


@dataclass(frozen=True, slots=True)
class Overview:
    """Its row of the table given when no plant is named: place in it, and the plants it stands for."""

    place: int
    name: str


@dataclass(frozen=True, slots=True)
class Care:
    """What else is said of it: suckers, sap, harm. Dangers are keys of cautions.toml (``caution_keys`` of the file)."""

    sources: Sources
    notes: tuple[str, ...] = ()
    suckers: str = ""
    bleeding: str = ""
    harvest_stop: str = ""
    damage_below_c: float | None = None
    bed_life_years: Range | None = None


@dataclass(frozen=True, slots=True)
class Woody:
    """Everything known of one woody or perennial plant. ``base`` is the machine contract's id."""

    id: str
    base: str
    kind: str | None
    default: bool
    names: tuple[str, ...]
    generic_names: tuple[str, ...]
    botanical: str
    group: str
    confidence: str  # high | medium | low: how much of it was published
    bleeds: bool
    cut_differently: bool  # from the other kinds of its base: which one it is has to be asked
    usual_where: str  # see USUAL_WHERE: gardens there usually grow this kind
    overview: Overview | None
    fruit: Fruit
    seasons: tuple[CuttingSeason, ...]  # the main one first
    limits: CutLimits
    amount: Amount
    methods: tuple[Method, ...]
    stages: Mapping[str, StageAdvice]
    care: Care
    chill: ChillHours | None
    bud_break: BudBreak | None
    trial: PruningTrial | None
    pruning_groups: tuple[PruningGroup, ...]

    @property
    def name(self) -> str:
        """The plain trade name of this kind ("sweet cherry", "apple")."""
        return self.names[0]

    def stage(self, stage: str) -> StageAdvice:
        """Advice for a stage; the end of bloom falls back on the leafed-out plant."""
        found = self.stages.get(stage)
        return found if found is not None else self.stages["leafed_out"]

    @property
    def source_ids(self) -> Sources:
        """Every source its pruning advice rests on, in order, once."""
        parts: list[Sources] = [s.sources for s in self.seasons]
        parts += [m.sources for m in self.methods]
        parts += [self.amount.sources, self.limits.sources, self.fruit.sources]
        return Sources(source for part in parts for source in part)


_TOP = ("id", "base", "names", "botanical", "group", "confidence", "fruit", "season", "limits", "amount")
_MAY = {"kind", "default", "generic_names", "misspelled", "bleeds", "method", "stage", "care", "chill"}
_MAY |= {"bud_break", "trial", "pruning_group", "cut_differently", "usual_where", "overview", "bud_kill"}
_MAY |= {
    "bloom_check",
    "winter",
    "stop_cutting",
    "uncover",
    "propagation",
    "not_propagated",
    "amounts",
    "stock",
}
_MAY |= {"caution_keys"}
_MAY |= {"also_called", "also_called_of_any_kind"}
USUAL_WHERE = ("", "outside-north-america", "mild-winters")


def read_woody(path: Path, table: Mapping[str, Any] | None = None) -> Woody:
    """The plant of one file (``table``: as parsed before). Raises DamagedFileError naming file and key."""
    data = read_toml(path) if table is None else table
    for key in (*_TOP, "method", "stage", "care"):
        if key not in data:
            raise fault(path, key, "is missing")
    unknown = set(data) - set(_TOP) - _MAY
    if unknown:
        raise fault(path, sorted(unknown)[0], "is not a key this file may have")
    stages = {name: build(StageAdvice, t, path, f"stage.{name}.") for name, t in data["stage"].items()}
    for name, advice in stages.items():
        if name not in STAGES or advice.verdict not in ("yes", "tight", "no"):
            raise fault(path, f"stage.{name}", "is not a stage with a verdict yes, tight or no")
    if missing := [s for s in STAGES if s not in stages and s != "petal_fall"]:
        raise fault(path, f"stage.{missing[0]}", "is missing")
    return Woody(
        id=data["id"],
        base=data["base"],
        kind=data.get("kind"),
        default=bool(data.get("default", False)),
        names=tuple(data["names"]),
        generic_names=tuple(data.get("generic_names", ())),
        botanical=data["botanical"],
        group=data["group"],
        confidence=data["confidence"],
        bleeds=bool(data.get("bleeds", False)),
        cut_differently=bool(data.get("cut_differently", False)),
        usual_where=_one_of(USUAL_WHERE, data, "usual_where", path),
        overview=_maybe(Overview, data, "overview", path),
        fruit=build(Fruit, data["fruit"], path, "fruit."),
        seasons=_many(CuttingSeason, data["season"], path, "season."),
        limits=build(CutLimits, data["limits"], path, "limits."),
        amount=build(Amount, data["amount"], path, "amount."),
        methods=_many(Method, data["method"], path, "method."),
        stages=stages,
        care=build(Care, data["care"], path, "care."),
        chill=_maybe(ChillHours, data, "chill", path),
        bud_break=_maybe(BudBreak, data, "bud_break", path),
        trial=_maybe(PruningTrial, data, "trial", path),
        pruning_groups=_many(PruningGroup, data.get("pruning_group", ()), path, "pruning_group."),
    )


def _one_of(allowed: tuple[str, ...], data: Mapping[str, Any], key: str, path: Path) -> str:
    value = str(data.get(key, ""))
    if value not in allowed:
        raise fault(path, key, f"is none of {', '.join(a for a in allowed if a)}")
    return value


def _many(cls: type[T], tables: Any, path: Path, prefix: str) -> tuple[T, ...]:
    return tuple(build(cls, table, path, prefix) for table in tables)


def _maybe(cls: type[T], data: Mapping[str, Any], key: str, path: Path) -> T | None:
    return build(cls, data[key], path, f"{key}.") if key in data else None


def woody(facts: Facts, woody_id: str, manner: Manner = PLAIN) -> Woody:
    """A plant by file id ("cherry-sweet"), its texts in a manner. Raises KeyError when there is none."""
    if woody_id not in facts.ids("woody"):
        raise KeyError(woody_id)
    path = facts.root / "woody" / f"{woody_id}.toml"
    return facts.kept(
        ("woody", woody_id, manner), lambda: read_woody(path, told(facts.table(f"woody/{woody_id}"), manner))
    )


def woody_kinds(facts: Facts, base: str, manner: Manner = PLAIN) -> tuple[Woody, ...]:
    """Every kind of a base name ("raspberry": summer, fall, black), the default first; empty if unknown."""
    ids = [i for i in facts.ids("woody") if i == base or i.startswith(f"{base}-")]
    kinds = [w for w in (woody(facts, i, manner) for i in ids) if w.base == base]
    return tuple(sorted(kinds, key=lambda w: (not w.default, w.id)))


def woody_for(facts: Facts, ref: CropRef, manner: Manner = PLAIN) -> Woody | None:
    """The plant a reference stands for: its kind when said and known, else the default kind."""
    kinds = woody_kinds(facts, ref.id, manner)
    return next((w for w in kinds if ref.kind and w.kind == ref.kind), kinds[0] if kinds else None)


def in_overview(facts: Facts, manner: Manner = PLAIN) -> tuple[tuple[Overview, Woody], ...]:
    """The plants that stand for their like in the table given when no plant is named, in its order."""
    ids = (i for i in facts.ids("woody") if "overview" in facts.table(f"woody/{i}"))
    rows = [(w.overview, w) for w in (woody(facts, i, manner) for i in ids) if w.overview is not None]
    return tuple(sorted(rows, key=lambda row: (row[0].place, row[1].id)))
