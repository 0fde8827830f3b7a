"""How the uncertainty of a place is said: one sentence for the first lines of every answer that uses its dates."""

from __future__ import annotations

from gardenmate.climate.site import Doubt, Site
from gardenmate.core.units import (
    FT_M,
    MILE_KM,
    Units,
)


def doubt_sentence(site: Site, units: Units) -> str | None:
    """Why the dates of this place are uncertain and what would help; None where they are not."""
    doubt = site.doubt()
    if doubt is None:
        return None
    off = f"may be off by about {round(doubt.days)} days"
    why = _why(doubt, units)
    said = f"{why}, so dates {off}" if why else f"Frost dates {site.where} {off}"
    return f"{said}; tell me your elevation." if doubt.asks_height else f"{said}."


def _why(doubt: Doubt, units: Units) -> str:
    """The distance and the height between the place and its station, where these are large."""
    parts = []
    if "far" in doubt.reasons:
        parts.append(f"{shown_km(doubt.km, units)} away")
    if "height" in doubt.reasons:
        parts.append(
            f"{shown_height(abs(doubt.climb_m), units)} {'lower' if doubt.climb_m > 0 else 'higher'}"
        )
    return f"The nearest weather station is {' and '.join(parts)}" if parts else ""


def units_there(site: Site) -> Units:
    """The units distances are told in where nothing is known of the grower: those of the country."""
    return "us" if site.country == "US" else "metric"


def shown_km(km: float, units: Units) -> str:
    """A distance in the grower's units: "12 miles", "20 km"."""
    if units == "us":
        miles = round(km / MILE_KM)
        return "1 mile" if miles == 1 else f"{miles} miles"
    return f"{round(km)} km"


def shown_height(metres: float, units: Units) -> str:
    """A height in the grower's units, as a person would say it: "1,250 ft", "380 m"."""
    if units == "us":
        return f"{round(metres / FT_M / 10) * 10:,} ft"
    return f"{round(metres / 5) * 5:,} m"
