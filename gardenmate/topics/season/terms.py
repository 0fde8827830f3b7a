"""What the engine needs to know of a crop: knowledge/crops read through knowledge/season.toml."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from typing import Any

from gardenmate.core.question import Slots
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple
from gardenmate.science.emergence import Curve, days_to_emerge, from_range
from gardenmate.science.thermal_time import DAY_SD_C, degree_days_sine, usual_degree_days
from gardenmate.topics.season.site_year import SiteYear

COOL_BASE_C = (40.0 - 32.0) / 1.8  # degrees C, 40 F: growth base of cool crops (common practice)
WARM_BASE_C = 10.0  # degrees C, 50 F: growth base of warm crops (common practice)
LIGHT_FROST_C = (36.0 - 32.0) / 1.8
"""What chills above a light frost (basil, sweet potato) is kept in by warmth, not by frost odds."""
REFERENCE_SWING_C = 6.0
"""Half the daily range of the steady reference day at which a days-to-maturity figure is converted."""


class Start(NamedTuple):
    """When a group of crops may be started: daily means (degrees C) and accepted frost risk (0..1)."""

    earliest_mean_c: float
    best_mean_c: float
    earliest_risk: float
    best_risk: float
    sources: tuple[str, ...]


HOUSE = "greenhouse"
"""The cover one walks into."""


class Shelter(NamedTuple):
    """What a cover adds, degrees C: ``frost_c`` on a frosty night, ``day_c`` on the daily mean."""

    id: str
    name: str
    frost_c: float
    day_c: float

    @property
    def where(self) -> str:
        """ "in an unheated greenhouse", "under a plastic low tunnel"."""
        return f"{'in' if self.id == HOUSE else 'under'} {self.name}"


OPEN_GROUND = Shelter("none", "open ground", 0.0, 0.0)


class General(NamedTuple):
    """Terms that hold for every crop."""

    maturity_spread: float
    yes_from: float
    tight_from: float
    fall_factor_days: float
    frost_tender_days: float
    raising_gain: float
    heat_gain: float
    best_set_out_days: int
    warm_light_hours: float
    best_indoors_days: int
    mat_soil_c: float
    room_soil_c: float
    tunnel: Shelter
    greenhouse: Shelter


class Terms(NamedTuple):
    """One crop as the engine sees it. Temperatures degrees C, times days; ``dtm`` is in days as printed.

    ``rule`` is "" (an ordinary crop), "crown", "perennial" or "overwinter". ``emergence`` is the curve used
    and ``emergence_of`` the crop whose trial table it is (a nearest relative when the crop has none).
    """

    crop: Crop
    general: General
    start: Start
    rule: str
    base_c: float
    upper_c: float
    reference_c: float
    heat_c: float | None
    until_mean_c: float | None
    wanted_days: float
    damage_c: float
    dtm: float
    also_direct: bool
    emergence: Curve
    emergence_of: str
    notes: tuple[str, ...] = ()
    own_risk: float | None = None
    variety_said: bool = False
    words: str = ""
    spring_days: float | None = None
    autumn_means_c: tuple[float, ...] = ()
    autumn_coldest_c: float | None = None
    after_winter_degree_days: float | None = None
    bulbs: bool = False
    stands: bool = False
    winter_harvest: bool = False
    grown_by_dark: bool = False
    best_days: int | None = None
    picked_from_mean_c: float | None = None
    spring_ripe_from: int | None = None
    autumn_weeks_from_equinox: float = -8.0
    own_sources: tuple[str, ...] = ()

    @property
    def safe_risk(self) -> float:
        """The chance of a hurtful frost still to come up to which a start is good: one limit for every place."""
        return self.start.best_risk if self.own_risk is None else self.own_risk

    @property
    def key(self) -> Hashable:
        """All figures that decide a plan or a window: two terms with the same key plan alike."""
        figures = (self.base_c, self.upper_c, self.reference_c, self.heat_c, self.until_mean_c, self.damage_c)
        return (
            self.crop.id,
            self.dtm,
            self.wanted_days,
            self.start,
            self.own_risk,
            self.variety_said,
            self.also_direct,
            *figures,
        )

    @property
    def base(self) -> str:
        """Base id of the machine contract."""
        return self.crop.base

    @property
    def sources(self) -> tuple[str, ...]:
        """Where the season figures of this crop come from."""
        c = self.crop
        found: dict[str, None] = {}
        for s in (
            c.timing.sources.of("weeks_indoors"),
            c.growth.sources.of("growth_base_c", "growth_upper_c", "growth_opt_c", "growth_mean_max_c"),
            c.frost.sources.of("damage_below_c", "killed_below_c"),
            c.maturity.sources.of("days", "dtm_sourced_range", "picking_days"),
            self.own_sources,
            self.start.sources,
        ):
            found.update(dict.fromkeys(s))
        return tuple(found)

    @property
    def weeks_indoors(self) -> tuple[float, float]:
        """Age of a good transplant, weeks (youngest, oldest)."""
        return self.crop.timing.weeks_indoors or (4.0, 6.0)

    @property
    def raising_days(self) -> float:
        """Days under cover of an ordinary transplant."""
        low, high = self.weeks_indoors
        return 3.5 * (low + high)

    @property
    def ends_c(self) -> float:
        """The freeze that ends the crop, degrees C: the first that hurts it; half way to killing for what is
        picked in winter."""
        if not self.winter_harvest:
            return self.damage_c
        return 0.5 * (self.damage_c + self.crop.frost.killed_below_c)

    def reference_rate(self) -> float:
        """Degree-days of one reference day, on average weather: what one printed day stands for."""
        low, high = self.reference_c - REFERENCE_SWING_C, self.reference_c + REFERENCE_SWING_C
        return usual_degree_days(low, high, self.base_c, self.upper_c, self.most_per_day(), DAY_SD_C)

    def most_per_day(self) -> float:
        """Most degree-days one day may count: a printed figure is already that of good growing weather."""
        low, high = self.reference_c - REFERENCE_SWING_C, self.reference_c + REFERENCE_SWING_C
        rate = degree_days_sine(low, high, self.base_c, self.upper_c)
        return round(self.general.heat_gain * rate, 3)

    def total(self, year: SiteYear, cover: Shelter = OPEN_GROUND) -> list[float]:
        """Running degree-days of the place for this crop."""
        return year.total(self.base_c, self.upper_c, self.most_per_day(), cover.day_c)

    def days_needed(self, method: str, age_days: float | None = None) -> float:
        """Reference days from this start (indoors and setout: from setting out) to the first picking.

        A plant set out is ahead of seed by ``raising_gain`` of its days under cover (``age_days``, or the
        usual age); a figure counted from transplanting is lengthened by as much for seed sown in place.
        """
        usual = self.general.raising_gain * self.raising_days
        counted_from_plant = self.crop.maturity.maturity_from == "transplant"
        if method == "outdoors":
            return self.dtm + (usual if counted_from_plant else 0.0)
        if self.crop.maturity.maturity_from == "planting":
            return self.dtm
        ahead = usual if age_days is None else self.general.raising_gain * age_days
        need = self.dtm + usual - ahead if counted_from_plant else self.dtm - ahead
        return max(need, 0.3 * self.dtm)

    def need(self, method: str, age_days: float | None = None) -> float:
        """`days_needed` in degree-days C."""
        return self.days_needed(method, age_days) * self.reference_rate()

    def emergence_days(self, soil_c: float) -> float | None:
        """Days from sowing to emergence at a steady soil temperature."""
        return days_to_emerge(self.emergence, soil_c)

    @property
    def can_sow_outdoors(self) -> bool:
        """Sown, or planted as tubers or cloves, where it is to grow."""
        m = self.crop.methods
        return "direct" in m or self.also_direct or "seed-potatoes" in m or "cloves" in m

    @property
    def can_set_out(self) -> bool:
        """Set out as a plant, set, crown, slip or division."""
        return bool(
            {"indoors", "starts", "sets", "crowns", "slips", "divisions", "bare-root"}
            & set(self.crop.methods)
        )

    @property
    def can_raise(self) -> bool:
        """Sown indoors."""
        return "indoors" in self.crop.methods


def terms_for(crop: Crop, facts: Facts, ask: Slots | None = None, risk: float | None = None) -> Terms:
    """The terms of one crop, with the variety and the accepted risk the grower stated."""
    usual = facts.kept(("season terms", crop.id), lambda: _usual_terms(crop, facts))
    if usual.crop is not crop:
        usual = _usual_terms(crop, facts)
    dtm, notes = _variety(crop, ask, usual.words)
    return usual._replace(
        dtm=dtm,
        notes=notes,
        own_risk=risk,
        variety_said=ask is not None and bool(ask.days_to_maturity or ask.cultivar_class),
    )


def _usual_terms(crop: Crop, facts: Facts) -> Terms:
    table, own = facts.table("season"), crop.calendar
    general = _general(table, facts)
    growth, warm = crop.growth, crop.warm
    low, high = growth.growth_opt_c or ((18.0, 27.0) if warm else (15.5, 18.5))
    base = (
        growth.growth_base_c if growth.growth_base_c is not None else (WARM_BASE_C if warm else COOL_BASE_C)
    )
    upper = growth.growth_upper_c if growth.growth_upper_c is not None else (30.0 if warm else high)
    start = facts.group_of(crop, "start")
    assert start is not None, "every crop has a start group"
    heat = own.heat_c if own.heat_c is not None else growth.growth_mean_max_c
    if heat is None and not warm:
        heat = 24.0
    curve, curve_of = emergence_curve(crop, facts)
    picking = crop.maturity.picking_days or 10.0
    wanted = min(table["general"]["wanted_days_max"], max(5.0, picking * table["general"]["wanted_share"]))
    reference = table["general"]["reference_warm_c"] if warm else 0.5 * (low + high)
    return Terms(
        crop=crop,
        general=general,
        start=_start(start),
        rule=own.rule,
        base_c=base if own.base_c is None else own.base_c,
        upper_c=upper if own.upper_c is None else own.upper_c,
        reference_c=reference if own.reference_c is None else own.reference_c,
        heat_c=heat,
        until_mean_c=own.until_mean_c,
        wanted_days=wanted if own.wanted_days is None else own.wanted_days,
        damage_c=min(crop.frost.damage_below_c, LIGHT_FROST_C),
        dtm=crop.maturity.days.mid,
        also_direct=own.also_direct,
        emergence=curve,
        emergence_of=curve_of,
        spring_days=own.spring_days,
        autumn_means_c=own.autumn_means_c,
        autumn_coldest_c=own.autumn_coldest_c,
        autumn_weeks_from_equinox=own.autumn_weeks_from_equinox,
        after_winter_degree_days=own.after_winter_degree_days,
        bulbs=own.bulbs,
        stands=own.stands,
        winter_harvest=own.winter_harvest,
        grown_by_dark=own.grown_by_dark,
        best_days=own.best_days,
        picked_from_mean_c=own.picked_from_mean_c,
        spring_ripe_from=own.spring_ripe_from,
        own_sources=own.sources,
        words=crop.words,
    )


def cover_named(facts: Facts, gear: str) -> Shelter:
    """A cover by its id in knowledge/protection.toml: what it holds off at night and adds by day.

    Raises KeyError for a cover without season figures.
    """
    day_c = facts.table("season")["gear"]["day_gain_c"][gear]
    row = next(r for r in facts.table("protection")["cover"] if r["id"] == gear)
    return Shelter(gear, row["name"], row["plan_f"] / 1.8, day_c)


def early_variety(terms: Terms) -> Terms:
    """The same crop in its early varieties; as it is when the grower has a variety in mind."""
    early = terms.crop.maturity.days.early
    return terms if terms.variety_said or early is None or early >= terms.dtm else terms._replace(dtm=early)


def ways_to_help(terms: Terms, method: str) -> tuple[tuple[Terms, Shelter], ...]:
    """What growers turn to where a middling variety will not ripen in the open: an early one, then a low
    tunnel over it, then, for plants, an unheated greenhouse."""
    early = early_variety(terms)
    g = terms.general
    ways = ((early, OPEN_GROUND), (early, g.tunnel))
    return ways if method == "outdoors" else (*ways, (early, g.greenhouse))


def with_dtm(terms: Terms, dtm: float) -> Terms:
    """The same crop with another days-to-maturity figure."""
    return terms._replace(dtm=dtm)


def _general(table: Mapping[str, Any], facts: Facts) -> General:
    g = table["general"]
    return General(
        maturity_spread=g["maturity_spread"],
        yes_from=g["yes_from"],
        tight_from=g["tight_from"],
        fall_factor_days=g["fall_factor_days"],
        frost_tender_days=g["frost_tender_days"],
        raising_gain=g["raising_gain"],
        heat_gain=g["heat_gain"],
        best_set_out_days=g["best_set_out_days"],
        warm_light_hours=g["warm_light_hours"],
        best_indoors_days=g["best_indoors_days"],
        mat_soil_c=table["gear"]["mat_soil_c"],
        room_soil_c=table["gear"]["room_soil_c"],
        tunnel=cover_named(facts, "tunnel"),
        greenhouse=cover_named(facts, "greenhouse"),
    )


def _start(group: Mapping[str, Any]) -> Start:
    return Start(
        group["earliest_mean_c"],
        group["best_mean_c"],
        group["earliest_risk"],
        group["best_risk"],
        tuple(group["sources"]),
    )


def _variety(crop: Crop, ask: Slots | None, words: str) -> tuple[float, tuple[str, ...]]:
    """Days to maturity of the variety asked about, and what was assumed."""
    days = crop.maturity.days
    if ask is not None and ask.days_to_maturity:
        return float(ask.days_to_maturity), ()
    named = (ask.cultivar_class or "").lower() if ask is not None else ""
    if "early" in named:
        early = days.early if days.early is not None else days.mid
        return early, (f"An early variety of {words}, {early:.0f} days to maturity.",)
    if "late" in named or "beefsteak" in named or "main" in named:
        late = days.late if days.late is not None else days.mid
        return late, (f"A late variety of {words}, {late:.0f} days to maturity.",)
    for key, value in crop.maturity.dtm_classes.items():
        if named and named in key and isinstance(value, list):
            mid = 0.5 * (float(value[0]) + float(value[1]))
            return mid, (f"{named.capitalize()} {words}, about {mid:.0f} days to maturity.",)
    return days.mid, (f"A mid-season variety of {words}, {days.mid:.0f} days to maturity.",)


def emergence_curve(crop: Crop, facts: Facts) -> tuple[Curve, str]:
    """The crop's emergence table, else its nearest relative's, else one made from its range of days."""
    if crop.emergence.days_by_soil_c:
        return crop.emergence.days_by_soil_c, crop.id
    relative = crop.germination.season_relative or crop.germination.relative
    if relative:
        return facts.crop(relative).emergence.days_by_soil_c, relative
    fast, slow = crop.emergence.days_to_emerge or ((6.0, 12.0) if crop.warm else (7.0, 18.0))
    optimum = 25.0 if crop.warm else 20.0
    return from_range(fast, slow, optimum, 12.0 if crop.warm else 3.0), ""
