"""The year's windows at a place: for every crop, or those named. Drawing them is not done here."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from rapidfuzz import process

from gardenmate.climate.site import Site
from gardenmate.core.answer import Window
from gardenmate.core.errors import UsageError
from gardenmate.core.question import CropRef, Slots
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.season.season import season_for
from gardenmate.topics.season.site_year import site_year

SURE_SPELLING = 85
"""A name this like a known one (percent) is taken for it: "brocoli", "tomatos". Design value."""
NEXT_SEASON_DAYS = 40
"""So near its end (from about 10 November, 10 May in the south) a season gives way to the next one."""


def crops_named(names: Iterable[str], facts: Facts) -> tuple[Crop, ...]:
    """Crops by any name a grower may use, slightly misspelled too; a base name gives every kind (both lettuces).

    Raises UsageError naming what no crop is called, with near spellings.
    """
    found: list[Crop] = []
    for name in names:
        found += [c for c in _crops_of(name.strip().lower(), facts) if c not in found]
    return tuple(found)


def _crops_of(name: str, facts: Facts) -> list[Crop]:
    entry = facts.names.get(name) or facts.names.get(name.replace("-", " "))
    ref = entry.ref if entry is not None else CropRef(name)
    kinds = [c for c in map(facts.crop, facts.crop_ids) if ref.id in (c.id, c.base)]
    exact = [c for c in kinds if ref.kind is not None and c.kind == ref.kind]
    if exact or kinds:
        return exact or kinds
    found = process.extract(name, list(facts.names), limit=3, score_cutoff=70)
    near = [n for n, _, _ in found]
    if found and found[0][1] >= SURE_SPELLING:
        return _crops_of(near[0], facts)
    known = dict.fromkeys(
        facts.crop(c).names[0] for n in near for c in facts.crop_ids if _called(n, c, facts)
    )
    hint = f" Did you mean {', '.join(known)}?" if known else ""
    raise UsageError(f"The calendar has no crop called '{name}'.{hint}")


def _called(name: str, crop_id: str, facts: Facts) -> bool:
    return facts.names[name].ref.id == facts.crop(crop_id).base


def season_of(site: Site, today: date) -> date:
    """The origin (winter solstice) of the season a calendar printed on ``today`` is for."""
    return site_year(site).origin(today + timedelta(days=NEXT_SEASON_DAYS))


def calendar_windows(
    site: Site, facts: Facts, today: date, crops: Sequence[Crop] | None = None, variety: Slots | None = None
) -> tuple[Window, ...]:
    """Windows of the crops (all of them when None) in the season of ``today``, crop by crop; of a middling variety,
    or of the one whose days to maturity ``variety`` says."""
    origin = season_of(site, today)
    wanted = facts.crops() if crops is None else crops
    return tuple(w for crop in wanted for w in season_for(crop, site, facts, variety).of_season(origin))
