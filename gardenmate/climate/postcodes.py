"""US ZIP codes and Canadian postal prefixes, from knowledge/postcodes.csv: opened only when one is typed."""

from __future__ import annotations

from gardenmate.climate.site import Site
from gardenmate.climate.sorted_lines import lines_between
from gardenmate.climate.spot import spot_site
from gardenmate.core.errors import DamagedFileError, UsageError
from gardenmate.core.pattern import Pattern
from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple

_CODE = Pattern(
    r"^\W{0,12}(?:(?:zip|postal|post)?\s{0,3}-?\s{0,3}code\s{1,3}|zip\s{1,3})?(?:(\d{5})(?:-\d{4})?|([a-z]\d[a-z])(?:\s{0,3}\d[a-z]\d)?)\W{0,12}$",
    ignore_case=True,
)


class AtCode(NamedTuple):
    """The site at a postal code, and how the code was read (the other fields as in places.Place)."""

    site: Site
    region: None
    sites: tuple[Site, ...]
    reading: str


def code_place(typed: str, elev_m: float | None, facts: Facts) -> AtCode | None:
    """The climate at a postal code; None when ``typed`` is none. Raises UsageError for a code that is not known."""
    match = _CODE.search(typed)
    if match is None:
        return None
    code = (match[1] or match[2]).lower()
    path = facts.root / "postcodes.csv"
    lines = lines_between(path, f"{code}|", f"{code}}}")
    if not lines:
        raise UsageError(f"I don't know the postal code {code.upper()}. Name the town instead.")
    try:
        _, lat, lon, town, region, country, height = lines[0].split("|")
        site = spot_site(
            float(lat),
            float(lon),
            facts,
            elev_m=elev_m,
            map_m=float(height) if height else None,
            name=town or code.upper(),
            region=region,
            country=country,
        )
    except ValueError as error:
        raise DamagedFileError(f"{path}: not a postal code ({error}): {lines[0][:60]}") from error
    return AtCode(site, None, (), f"reading {code.upper()} as {site.label}")
