"""The grower's cold frame for the heat balance: its size, lid and leaks, and what it has taught us.

What is not known is taken from the common 3 x 6 ft frame, and said.
"""

from __future__ import annotations

from typing import Any

from gardenmate.core.question import Request, Temperature
from gardenmate.core.units import (
    F_DEGREE,
    FT_M,
    INCH_CM,
    f_to_c,
)
from gardenmate.core.world import World
from gardenmate.records import dataclass
from gardenmate.science.frame_heat import FrameBox, covered_u, night_rise_k, sun_rise_k
from gardenmate.science.sun import clear_sky_w_m2, noon_elevation_deg, sunset_hour
from gardenmate.topics.shared.protection import frame_asks
from gardenmate.topics.shared.raising import gear

_INSIDE_FROM_F = 80.0  # design value: an unlabelled reading this hot is taken in the frame
_NIGHT_TO_F = 45.0  # design value: an unlabelled reading this cold is taken as tonight's low outside
_LAT_ASSUMED = 45.0  # degrees north (design value)
_FULL_SUN_W_M2 = 700.0  # design value: an open lid in such sun gains the most published


@dataclass(frozen=True, slots=True)
class FrameFacts:
    """The frame of one question: its box, what was assumed of it, and the sources of its figures."""

    box: FrameBox
    lid_name: str
    table: dict[str, Any]
    gain_factor: float
    night_offset_c: float
    insulated: bool
    assumptions: tuple[str, ...]
    sources: tuple[str, ...]

    def loss_w_k(self, vent: str, blanket: bool = False) -> float:
        """Heat lost per degree with the lid closed, ajar or propped, W/K."""
        u_lid = covered_u(self.box.u_lid, self.table["frame"]["blanket_r_m2k_w"]) if blanket else None
        return self.box.loss_w_k(float(self.table["air"][vent]), u_lid)

    def day_rise_c(self, sun_w_m2: float, vent: str) -> float:
        """How much warmer than outside it gets in this sun, C degrees."""
        if vent == "open":
            low, high = (float(f) for f in self.table["frame"]["open_over_outside_f"])
            share = min(1.0, sun_w_m2 / _FULL_SUN_W_M2)
            return float(low + (high - low) * share) * F_DEGREE if sun_w_m2 > 0 else 0.0
        rise = sun_rise_k(
            sun_w_m2,
            self.box.transmittance,
            float(self.table["frame"]["heat_share"]),
            self.box.lid_m2,
            self.loss_w_k(vent),
        )
        return rise * self.gain_factor

    def night_rise_c(self, bright_day: bool = True, blanket: bool = False) -> float:
        """How much warmer than outside it stays at night, shut, C degrees; never past the published gains."""
        frame = self.table["frame"]
        ground = frame["ground_w_m2"] if bright_day else frame["ground_dull_w_m2"]
        rise = night_rise_k(ground, self.box.lid_m2, self.loss_w_k("closed", blanket))
        wide = self.insulated or blanket
        most = frame["night_gain_insulated_most_f"] if wide else frame["night_gain_most_f"]
        return min(rise + self.night_offset_c, float(most) * F_DEGREE)


_FRAME_FIGURES = ("u_wall_w_m2k", "heat_share", "ground_w_m2", "night_gain_most_f")


def frame_facts(question: Request, world: World) -> FrameFacts:
    """The frame asked about: what the question says of it, then the garden's own, then the common one."""
    table = world.facts.table("protection")
    common, own = table["frame"], world.garden.frame
    glazing_id = question.cue("glazing") or own.glazing
    lids = {row["id"]: row for row in table["glazing"]}
    lid = lids.get(glazing_id or "", lids["glass"])
    assumed = []
    if glazing_id not in lids:
        assumed.append(f"A lid of {lid['name']}.")
    if own.width_m is None or own.length_m is None:
        assumed.append("A 3 x 6 ft (0.9 x 1.8 m) frame with board sides.")
    u_wall = common["u_wall_insulated_w_m2k"] if own.insulated else common["u_wall_w_m2k"]
    box = FrameBox(
        width_m=own.width_m or common["width_ft"] * FT_M,
        length_m=own.length_m or common["length_ft"] * FT_M,
        height_m=own.height_m or common["height_in"] * INCH_CM / 100.0,
        u_lid=lid["u_w_m2k"],
        u_wall=u_wall,
        transmittance=lid["light"],
    )
    return FrameFacts(
        box=box,
        lid_name=lid["name"],
        table=table,
        gain_factor=own.gain_factor,
        night_offset_c=own.night_offset_c,
        insulated=bool(own.insulated),
        assumptions=tuple(assumed),
        sources=(*lid["sources"], *common["sources"].of(*_FRAME_FIGURES)),
    )


@dataclass(frozen=True, slots=True)
class Readings:
    """Temperatures of a frame question, degrees C. ``night`` True when they are about the night."""

    inside_c: float | None
    outside_c: float | None
    setting_c: float | None
    night: bool
    assumed: tuple[str, ...] = ()


def readings(question: Request) -> Readings:
    """Which typed temperature is inside, which outside, and whether it is about the night."""
    by_role: dict[str | None, list[float]] = {}
    for temp in question.ask.temps:
        by_role.setdefault(temp.role, []).append(temp.celsius)
    inside = by_role.get("inside", [None])[-1]
    setting = by_role.get("setting", [None])[-1]
    lows = by_role.get("low", [])
    outsides = [*by_role.get("outside", []), *by_role.get("air", [])]
    outside = min(lows) if lows else (outsides[0] if outsides else None)
    night = bool(lows) or question.ask.when == "tonight" or frame_asks(question) == "tonight"
    night = night or question.cue("cover") == "blanket" or frame_asks(question) == "blanket"
    row = [t.celsius for t in rows_of_lows(question)]
    if row or not question.ask.temps:
        lows = row or [t.celsius for t in typed_lows(question)]
        outside, night = (min(lows), True) if lows else (outside, night)
    plain = [*by_role.get(None, []), *by_role.get("high", [])]
    if not question.ask.temps:
        taken = question.ask.temperature_c
        alone = [Temperature(t.number, t.unit).celsius for t in question.all("temperature", "low")]
        plain = [taken] if taken is not None else alone if len(alone) == 1 else plain
    assumed: list[str] = []
    if outside is not None and inside is None and not night and _cold_night(outside, question):
        night = True
        assumed.append("I read the temperature outside as tonight's low.")
    for value_c in plain:
        if inside is None and _looks_inside(value_c, question, night, outside is not None):
            inside = value_c
            assumed.append("I read the temperature you gave as the one inside.")
        elif outside is None:
            outside = value_c
            if not night and _cold_night(value_c, question):
                night = True
                assumed.append("I read the temperature you gave as tonight's low outside.")
    return Readings(inside, outside, setting, night, tuple(assumed))


def rows_of_lows(question: Request) -> tuple[Temperature, ...]:
    """Lows typed night by night, the first of them tonight's."""
    return tuple(Temperature(t.number, t.unit, "low") for t in question.all("night-low"))


def typed_lows(question: Request) -> tuple[Temperature, ...]:
    """Lows typed in a row, which stand in no slot."""
    found = question.all("temperature", "low")
    return tuple(Temperature(t.number, t.unit, "low") for t in found) if len(found) > 1 else ()


def _cold_night(outside_c: float, question: Request) -> bool:
    """A cold figure outside, with nothing said of the sky, is about the night."""
    said = question.cue("sky")
    return outside_c <= f_to_c(_NIGHT_TO_F) and (said is None or frame_asks(question) == "store")


def _looks_inside(value_c: float, question: Request, night: bool, outside_known: bool) -> bool:
    if night:
        return False
    if value_c >= f_to_c(_INSIDE_FROM_F) or outside_known:
        return True
    return value_c > f_to_c(_NIGHT_TO_F) and question.cue("sky") is None


def has_heat(question: Request) -> bool:
    """True when a heater, lamp or mat is said to warm it: then it teaches nothing about the frame itself."""
    return bool(gear(question) & {"heater", "lamp", "mat", "thermostat"})


def in_greenhouse(question: Request) -> bool:
    """True when it is a greenhouse or walk-in tunnel that is asked about, not the frame."""
    if "frame" in gear(question):
        return False
    return question.cue("place_kind") == "greenhouse" or question.cue("cover") in ("greenhouse", "tunnel")


def noon_sun_w_m2(question: Request, world: World) -> tuple[float, tuple[str, ...]]:
    """Clear-sky sun at noon on the day asked about, W/m2, and what was assumed for it."""
    day = question.ask.date or world.today
    site = world.site
    if site is not None:
        return clear_sky_w_m2(noon_elevation_deg(site.lat, day), site.elev_m or 0.0), ()
    sun = clear_sky_w_m2(noon_elevation_deg(_LAT_ASSUMED, day))
    return sun, ("I don't know your place, so I used the sun at 45 degrees north today.",)


def sky_share(question: Request, world: World) -> tuple[float, str]:
    """Share of the clear-sky sun under the sky named (clear when none was), and the word."""
    sky = question.cue("sky") or "clear"
    shares = world.facts.table("protection")["sky"]
    return float(shares.get(sky, 1.0)), sky


def shut_time(question: Request, world: World) -> str:
    """When to shut on a sunny day: "about 3 pm"; from sunset when the place is known."""
    if world.site is None:
        return "about 3 pm"
    before_h = world.facts.table("protection")["venting"]["shut_before_sunset_h"]
    hour = sunset_hour(world.site.lat, question.ask.date or world.today) - before_h
    half = round(min(17.0, max(13.0, hour)) * 2.0) / 2.0
    minutes = "" if half == int(half) else ":30"
    return f"about {int(half) - 12}{minutes} pm" if half >= 13.0 else "about 1 pm"
