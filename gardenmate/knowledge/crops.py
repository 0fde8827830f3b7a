"""Crop facts as rules see them: knowledge/crops/<id>.toml, one file per crop.

Temperatures in degrees C, lengths in cm, times in days or weeks; a Range is (low, high); weeks are counted
from the average (50%) last 32 F frost, negative before it. Every section names its sources.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import Any

from gardenmate.knowledge.crop_uses import (
    TRAITS,
    Amounts,
    BestAge,
    Calendar,
    Cuttings,
    FrostWords,
    Germination,
    Groups,
    Lamp,
    StageLimit,
    Stock,
    TuberJobs,
    VarietyRow,
    Warmth,
    WinteredKind,
    WinterMulch,
)
from gardenmate.knowledge.reader import Curve, Range, Sources, build, fault, read_toml
from gardenmate.records import NamedTuple


class Timing(NamedTuple):
    """When it is raised, set out and sown, in weeks; ``weeks_indoors`` is the age of a good transplant."""

    sources: Sources
    weeks_indoors: Range | None = None
    set_out_weeks_from_last_frost: Range | None = None
    direct_sow_weeks_from_last_frost: Range | None = None
    direct_sow_supersweet_weeks_from_last_frost: Range | None = None
    direct_sow_note: str = ""
    weeks_indoors_note: str = ""
    weeks_indoors_seedless: Range | None = None
    succession_weeks: Range | None = None
    succession_note: str = ""
    british_note: str = ""


class Soil(NamedTuple):
    """Soil temperatures for sowing, degrees C; ``practical`` is when sowing makes sense, not the minimum."""

    sources: Sources
    min_soil_sow_c: Range | None = None
    practical_soil_sow_c: Range | None = None
    opt_soil_sow_c: Range | None = None
    best_soil_sow_c: Range | None = None
    max_soil_sow_c: float | None = None
    min_soil_sow_supersweet_c: float | None = None
    min_soil_sow_note: str = ""


class SetOut(NamedTuple):
    """What set-out needs: soil and night temperatures, degrees C."""

    sources: Sources
    min_soil_set_out_c: float | None = None
    min_soil_set_out_conservative_c: float | None = None
    min_night_set_out_c: float | None = None
    chill_note: str = ""
    min_mean_note: str = ""


class Emergence(NamedTuple):
    """Days and percent of emergence by soil temperature (degrees C, value), sorted by temperature.

    ``germination_standard_pct`` is the legal minimum for packeted seed.
    """

    sources: Sources
    emergence_days_by_soil_f: Curve = ()
    emergence_pct_by_soil_f: Curve = ()
    days_to_emerge: Range | None = None
    germination_standard_pct: Range | None = None
    light_to_germinate: bool | str | None = None

    @property
    def days_by_soil_c(self) -> Curve:
        """(soil temperature in degrees C, days to emerge), coldest first."""
        return self.emergence_days_by_soil_f

    @property
    def pct_by_soil_c(self) -> Curve:
        """(soil temperature in degrees C, percent emerging), coldest first."""
        return self.emergence_pct_by_soil_f


class Growth(NamedTuple):
    """Degree-day base and upper cut-off, and the monthly mean temperatures it grows in, degrees C."""

    sources: Sources
    growth_base_c: float | None = None
    growth_upper_c: float | None = None
    growth_mean_min_c: float | None = None
    growth_opt_c: Range | None = None
    growth_mean_max_c: float | None = None
    growth_base_note: str = ""
    heat_or_bolting_note: str = ""


class Frost(NamedTuple):
    """Air temperatures that hurt and kill growing, hardened plants, degrees C."""

    sources: Sources
    damage_below_c: float
    killed_below_c: float
    note: str = ""
    killed_note: str = ""
    hardiness_note: str = ""


class DaysToMaturity(NamedTuple):
    """Days to first picking of an early, middling and late variety."""

    mid: float
    early: float | None = None
    late: float | None = None


class Maturity(NamedTuple):
    """Days from sowing, transplant or planting (``maturity_from``) to first picking; how long it lasts."""

    sources: Sources
    days: DaysToMaturity
    maturity_from: str
    dtm_sourced_range: Range | None = None
    dtm_classes: Mapping[str, Any] = MappingProxyType({})
    dtm_from_sowing: Range | None = None
    fruit_age_days: Range | None = None
    fruit_age_note: str = ""
    dtm_note: str = ""
    picking_days: float | None = None
    harvest_note: str = ""
    ripening_note: str = ""


class Autumn(NamedTuple):
    """Whether it makes an autumn crop, and when that is sown, in weeks from the first autumn frost."""

    sources: Sources
    possible: bool
    sow_weeks_from_first_frost: Range | None = None
    method: str = ""
    note: str = ""


class Space(NamedTuple):
    """Depth and distances, cm."""

    sources: Sources
    sow_depth_cm: Range | None = None
    spacing_in_row_cm: Range | None = None
    row_spacing_cm: Range | None = None
    hill_spacing_cm: Range | None = None


class Yields(NamedTuple):
    """Yields as ranges, and plants or row per person. Feet are kept as published (``row_ft_...``)."""

    sources: Sources
    yield_kg_per_m: Range | None = None
    yield_kg_per_plant: Range | None = None
    yield_fruits_per_plant: Range | None = None
    yield_fruits_per_m: Range | None = None
    yield_ears_per_m: Range | None = None
    yield_note: str = ""
    plants_per_person_fresh: Range | None = None
    plants_per_person_preserve: Range | None = None
    row_ft_per_person_fresh: Range | None = None
    row_ft_per_person_preserve: Range | None = None
    hills_per_person_fresh: Range | None = None
    hills_per_person_preserve: Range | None = None


class Seed(NamedTuple):
    """Seed life and seed count."""

    sources: Sources
    seed_life_years: Range | None = None
    seed_longevity_class: str = ""
    seeds_per_g: Range | None = None


class Raising(NamedTuple):
    """Potting up and hardening off."""

    sources: Sources
    potting_up: str = ""
    hardening_days: Range | None = None
    hardening_min_c: Range | None = None
    hardening_note: str = ""


class Crop(NamedTuple):
    """Everything known of one crop. ``base`` is the machine contract's id, ``kind`` narrows it."""

    id: str
    base: str
    kind: str | None
    default: bool
    names: tuple[str, ...]
    generic_names: tuple[str, ...]
    misspelled: tuple[str, ...]
    botanical: str
    family: str
    season: str  # warm | cool
    hardiness: str  # hardy | half-hardy | tender | very-tender
    methods: tuple[str, ...]  # direct, indoors, starts, sets, cloves, seed-potatoes, crowns, slips, ...
    cautions: tuple[str, ...]
    words: str  # in running text: the plural where it is usual ("peppers", "garlic", "onions from seed")
    traits: frozenset[str]  # see TRAITS
    groups: Groups
    caution_keys: Mapping[str, tuple[str, ...]]  # by topic: keys of cautions.toml that belong to this crop
    timing: Timing
    soil: Soil
    set_out: SetOut
    emergence: Emergence
    growth: Growth
    frost: Frost
    maturity: Maturity
    autumn: Autumn
    space: Space
    yields: Yields
    seed: Seed
    raising: Raising
    germination: Germination
    calendar: Calendar
    amounts: Amounts
    warmth: Warmth | None
    lamp: Lamp | None
    best_age: BestAge | None
    frost_words: FrostWords | None
    winter_mulch: WinterMulch | None
    stock: Stock | None
    cuttings: Cuttings | None
    tuber_jobs: TuberJobs | None
    picked_after: Mapping[str, Range]  # stage seen -> days to the first picking
    picked_after_sources: Sources
    stage_limits: tuple[StageLimit, ...]
    wintered_kinds: tuple[WinteredKind, ...]
    varieties: tuple[VarietyRow, ...]
    degree_days: tuple[Mapping[str, Any], ...]
    reference: Mapping[str, Any]

    @property
    def name(self) -> str:
        """The plain trade name, plural where it is usual ("peppers", "garlic")."""
        return self.names[0]

    @property
    def warm(self) -> bool:
        """True for the warm-season crops."""
        return self.season == "warm"


_TOP = {
    "id", "base", "kind", "default", "names", "generic_names", "misspelled", "botanical", "family", "season",
    "hardiness", "methods", "cautions", "words", "traits", "familiar", "groups", "lists", "caution_keys",
    "also_called", "also_called_of_any_kind", "picked_after", "propagation", "not_propagated", "degree_days",
    "reference",
}  # fmt: skip
_SECTIONS: dict[str, type] = {
    "timing": Timing,
    "soil": Soil,
    "set_out": SetOut,
    "emergence": Emergence,
    "growth": Growth,
    "frost": Frost,
    "maturity": Maturity,
    "autumn": Autumn,
    "space": Space,
    "yields": Yields,
    "seed": Seed,
    "raising": Raising,
    "germination": Germination,
    "calendar": Calendar,
    "amounts": Amounts,
}
_MAYBE: dict[str, type] = {
    "warmth": Warmth,
    "lamp": Lamp,
    "best_age": BestAge,
    "frost_words": FrostWords,
    "winter_mulch": WinterMulch,
    "stock": Stock,
    "cuttings": Cuttings,
    "tuber_jobs": TuberJobs,
}
_SEVERAL: dict[str, tuple[str, type]] = {
    "stage_limit": ("stage_limits", StageLimit),
    "wintered_kind": ("wintered_kinds", WinteredKind),
    "variety": ("varieties", VarietyRow),
}


def read_crop(path: Path, table: Mapping[str, Any] | None = None) -> Crop:
    """The crop of one file (``table``: as parsed before). Raises DamagedFileError naming file and key."""
    data = read_toml(path) if table is None else table
    for key in ("id", "base", "names", "botanical", "family", "season", "hardiness", "methods", "groups"):
        if key not in data:
            raise fault(path, key, "is missing")
    unknown = set(data) - _TOP - set(_SECTIONS) - set(_MAYBE) - set(_SEVERAL)
    if unknown:
        raise fault(path, sorted(unknown)[0], "is not a key this file may have")
    traits = frozenset(data.get("traits", ()))
    if traits - TRAITS:
        raise fault(path, "traits", f"has {sorted(traits - TRAITS)[0]!r}, which no rule knows")
    after = dict(data.get("picked_after", {}))
    return Crop(
        id=data["id"],
        base=data["base"],
        kind=data.get("kind"),
        default=bool(data.get("default", False)),
        names=tuple(data["names"]),
        generic_names=tuple(data.get("generic_names", ())),
        misspelled=tuple(data.get("misspelled", ())),
        botanical=data["botanical"],
        family=data["family"],
        season=data["season"],
        hardiness=data["hardiness"],
        methods=tuple(data["methods"]),
        cautions=tuple(data.get("cautions", ())),
        words=data.get("words") or _words(data["names"], "mass-noun" in traits),
        traits=traits,
        groups=build(Groups, data["groups"], path, "groups."),
        caution_keys={topic: tuple(keys) for topic, keys in data.get("caution_keys", {}).items()},
        picked_after_sources=Sources.read(after.pop("sources", ())),
        picked_after={stage: (float(days[0]), float(days[1])) for stage, days in after.items()},
        degree_days=tuple(data.get("degree_days", ())),
        reference=data.get("reference", {}),
        **_sections(data, path),
    )


def _sections(data: Mapping[str, Any], path: Path) -> dict[str, Any]:
    """Every section that is a record of its own, by its field of `Crop`."""
    found: dict[str, Any] = {}
    for name, cls in _SECTIONS.items():
        table = dict(data.get(name, {"sources": []}))
        if name == "maturity" and "days_to_maturity" in table:
            table["days"] = build(DaysToMaturity, table.pop("days_to_maturity"), path, "maturity.days.")
            if by := getattr(Sources.read(table["sources"]), "by_figure", None):
                renamed = {("days" if k == "days_to_maturity" else k): v for k, v in by.items()}
                table["sources"] = Sources(Sources.read(table["sources"]), renamed)
        found[name] = build(cls, table, path, f"{name}.")
    for name, cls in _MAYBE.items():
        found[name] = build(cls, data[name], path, f"{name}.") if name in data else None
    for name, (field, cls) in _SEVERAL.items():
        found[field] = tuple(build(cls, row, path, f"{name}.") for row in data.get(name, ()))
    return found


def _words(names: Sequence[str], mass: bool) -> str:
    """The crop in running text: the plural where its names have one ("peppers"), else the name ("garlic")."""
    first = names[0]
    if not mass:
        for plural in (f"{first}s", f"{first}es", f"{first[:-1]}ies", f"{first[:-1]}ves"):
            if plural in names:
                return plural
    return first
