"""Days and night limits of hardening off for one crop, from its file or its hardiness group."""

from __future__ import annotations

from gardenmate.core.units import Units, f_to_c, show_temp
from gardenmate.core.world import World
from gardenmate.records import dataclass
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants

_FREEZING_C = 0.0  # degrees C
_VERY_TENDER_C = f_to_c(55)  # hardened, even the tenderest stand this: lower end of the 55-60 F printed


@dataclass(frozen=True, slots=True)
class Hardening:
    """How one crop is hardened. Temperatures in degrees C.

    ``night_c``: lowest night outdoors while hardening. ``hard_night_c``: lowest night once hardened.
    ``by_group`` tells that the crop file gave no figure and its hardiness group stood in.
    """

    named: Named | None
    days: tuple[float, float]
    usual_days: int
    night_c: float
    hard_night_c: float
    by_group: str | None
    note: str
    sources: tuple[str, ...]

    @property
    def name(self) -> str:
        """What to call it; "seedlings" when no crop was named."""
        return self.named.name if self.named is not None else "seedlings"

    @property
    def many(self) -> str:
        """The crop in the plural where it has one: "French beans", "kale"; "seedlings" when none was named."""
        return plants(self.named).word if self.named is not None else "seedlings"

    @property
    def plants(self) -> str:
        """The plants in words: "tomato plants", or "seedlings" when no crop was named."""
        return f"{self.name} plants" if self.named is not None else self.name

    @property
    def crop_id(self) -> str:
        """The file id of the crop, empty when none was named."""
        return self.named.crop.id if self.named is not None else ""

    @property
    def contract_id(self) -> str | None:
        """The crop's id in the JSON numbers."""
        return self.named.id if self.named is not None else None

    @property
    def held(self) -> str:
        """What being held too long does to it (groups.held)."""
        return self.named.crop.groups.held if self.named is not None else "none"

    def assumption(self, units: Units) -> str | None:
        """What was assumed about the night limit, if anything."""
        if self.by_group is None or self.named is None:
            return None
        limit = show_temp(self.night_c, units)
        return f"I used {limit} as the lowest night for {self.many}, as for {self.by_group} crops in general."


def hardening_of(named: Named | None, world: World) -> Hardening:
    """The figures of a crop; without one, those that are safe for any tender seedling."""
    table = world.facts.table("raising")["hardening"]
    never = f_to_c(table["never_below_f"])
    general = table["sources"].of("days", "never_below_f", "day_worth_f")
    if named is None:
        days = (float(table["days"][0]), float(table["days"][1]))
        return Hardening(None, days, table["usual_days"], f_to_c(50), never, None, "", general)
    crop = named.crop
    raising = crop.raising
    days = raising.hardening_days or (float(table["days"][0]), float(table["days"][1]))
    usual = round(min(table["usual_days"], sum(days) / 2))
    group = None
    if raising.hardening_min_c is not None:
        night = raising.hardening_min_c[0]
    else:
        night, group = f_to_c(table["night_f"][crop.hardiness]), crop.hardiness
    return Hardening(
        named,
        days,
        usual,
        night,
        _once_hard_c(named, night, never, f_to_c(table["frost_margin_f"]) - f_to_c(0)),
        group,
        raising.hardening_note,
        (
            *raising.sources.of("hardening_days", "hardening_min_c", "hardening_note"),
            *general,
            *(table["night_f"]["sources"] if group else ()),
        ),
    )


def _once_hard_c(named: Named, night_c: float, never_c: float, margin_c: float) -> float:
    """Lowest night for hardened plants in pots: warm crops their set-out night, hardy ones near freezing.

    A hardened cool crop stands a light frost in the ground; in a pot, and by a forecast that is for air at
    head height, a margin is kept (common practice).
    """
    crop = named.crop
    if crop.warm:
        planted = crop.set_out.min_night_set_out_c
        return max(never_c, min(night_c, _VERY_TENDER_C, planted if planted is not None else night_c))
    hardy = max(crop.frost.damage_below_c, _FREEZING_C - margin_c)
    return min(night_c, hardy + margin_c)
