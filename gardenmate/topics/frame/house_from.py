"""From when tender plants may stand in an unheated house: never later than in the open ground."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.climate.site import Site, last_frost_odds
from gardenmate.core.answer import Answer, Mark, Number
from gardenmate.core.question import Request
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.records import NamedTuple
from gardenmate.topics.frame.box import frame_facts
from gardenmate.topics.frame.house import night_gain_c, usual_chill
from gardenmate.topics.season.set_out import set_out_window
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import cover_for, frost_span, frost_temp, limits
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants

_RISK = 0.5  # odds of a night too cold for the house, above which planting in it is only a gamble


class HouseDates(NamedTuple):
    """``first``: at some risk of chilled nights; ``best``: usual nights suit; ``open_from``: outdoors."""

    first: date
    best: date
    open_from: date
    edge_c: float


def leaves_the_house(question: Request) -> bool:
    """True when the house is where the plants come from, not where they go."""
    return question.cue("origin") is not None or question.has("come-from", "house")


def house_dates(question: Request, world: World, site: Site, named: Named) -> HouseDates | None:
    """When a crop may be planted in an unheated house this season; None when it has no set-out window."""
    window = set_out_window(named.crop, world)
    if window is None:
        return None
    gain_c = night_gain_c(question, world, frame_facts(question, world))
    edge_c = limits(world.facts, named.crop, question.cue("stage"), world.units).hurt_c - gain_c
    least, most = world.facts.table("protection")["house"]["weeks_earlier"]
    first = min(window.earliest, window.best_from - timedelta(weeks=most))
    while first < window.earliest and last_frost_odds(site, first, edge_c) > _RISK:
        first += timedelta(days=1)
    chill = usual_chill(question, world, site, first, named.crop, gain_c)
    best = window.best_from - timedelta(weeks=least)
    if chill is not None and chill.from_day is not None:
        best = min(best, chill.from_day)
    return HouseDates(first, max(first, best), window.best_from, edge_c)


def answer_when(question: Request, world: World, site: Site, crops: Sequence[Named]) -> Answer | None:
    """The day from which each crop may be planted in the unheated house; None when none has dates."""
    found = [(n, d) for n in crops if (d := house_dates(question, world, site, n)) is not None]
    if not found:
        return None
    today, units = world.today, world.units
    gain_c = night_gain_c(question, world, frame_facts(question, world))
    parts = [
        f"{plants(n).word} "
        + (f"from about {show_date(d.first, today)}" if d.first > today else "from now on")
        + (f", better from {show_date(d.best, today)}" if d.best > max(d.first, today) else "")
        for n, d in found
    ]
    numbers: list[Number] = []
    for n, d in found:
        crop = n.id if len(found) > 1 else None
        numbers += [
            Number("house_from", d.first, "date", "into the greenhouse from (some chilly nights)", crop),
            Number("house_best", d.best, "date", "into the greenhouse, better from", crop),
            Number("open_from", d.open_from, "date", "into open ground from", crop),
        ]
    care = cautions(world.facts, "cold-frame", "heat")
    house = cover_for(world.facts, "greenhouse")
    return Answer(
        question=question,
        verdict=None,
        headline=sentence(f"{listed(parts)}, in an unheated greenhouse {site.where}."),
        numbers=tuple(numbers),
        details=(
            f"Shut and unheated it stays about {frost_span(gain_c, units)} warmer than outside at night; on frosty "
            "nights lay fleece over the plants as well.",
        ),
        changes=("Heat on cold nights lets them start sooner; type tonight's low for tonight.",),
        cautions=care.texts,
        assumptions=unique(("Hardened, growing plants.",), site.notes),
        sources=unique(house.sources if house else (), ("common-practice",), site.source_ids, care.sources),
        working=tuple(
            f"{sentence(plants(n).word)}: a night under {frost_temp(d.edge_c, units)} outside is likelier "
            f"than not until {show_date(d.first, today)}; in the open from {show_date(d.open_from, today)}."
            for n, d in found
        ),
        marks=tuple(Mark(f"{plants(n).word} in the greenhouse", d.first) for n, d in found),
    )
