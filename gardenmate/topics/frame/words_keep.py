"""Living in the frame or house, in words."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.topics.frame.decide_keep import Keep
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.protection import frost_span, frost_temp, stage_of
from gardenmate.topics.shared.subjects import plants, together
from gardenmate.topics.shared.wording import numbers

LABELS = {
    "outside_limit": "safe inside while outside is above",
    "frost_odds": "chance of a colder night to come",
    "usual_low_inside": "usual low inside then",
    "chill_limit": "set back by nights below",
    "house_from": "into the greenhouse from (some chilly nights)",
    "house_best": "into the greenhouse, better from",
    "open_from": "into open ground from",
    "nights_from": "nights inside are warm enough from",
}
_NEARLY_ALL = 95
"""Winters in 100 from which it is called nearly every winter (design value)."""
_FLEECE = (
    "With fleece over the plants inside on frosty nights hardened plants often survive more; they hardly grow before "
    "late winter."
)
_HELPS = {
    "second-cover": "With fleece over the plants inside, a dry blanket on the lid in hard cold, leaves or straw "
    "against the sides and the snow left lying, hardened plants often survive more; they hardly grow before late "
    "winter.",
    "house-cover": _FLEECE,
    "fleece-inside": _FLEECE,
    "take-in": "Pick or bring in what is in it before the hard cold.",
}


def frame_keep(question: Request, world: World, found: Keep) -> Answer:
    """The finding as an answer."""
    care = cautions(world.facts, "cold-frame", "heat", *(() if found.house else ("lid",)))
    units, site = world.units, found.site
    keeps = frost_span(found.gain_c, units)
    return Answer(
        question=question,
        verdict=found.verdict,
        headline=_headline(found, world),
        numbers=numbers(found.figures, LABELS),
        details=(
            f"Shut and unheated it stays about {keeps} warmer than outside at night; air it by day in sun.",
            *_help(found, world),
        ),
        chance=found.chance,
        changes=(
            "Type tonight's low for an answer about tonight.",
            *(("Heat on cold nights, or bringing them in, lets them start sooner.",) if found.chill else ()),
            *(("Tell me the place for the odds.",) if site is None else ()),
        ),
        cautions=care.texts,
        assumptions=unique(
            () if found.house else found.frame.assumptions,
            () if stage_of(question) else ("Hardened, growing plants.",),
            site.notes if site else (),
        ),
        sources=unique(found.sources, care.sources),
        working=(
            f"Hurt at {frost_temp(found.edge_c + found.gain_c, units)} less {keeps} held by the {_place(found)} = "
            f"{frost_temp(found.edge_c, units)} outside.",
        ),
        key_figures=found.key,
    )


def _place(found: Keep) -> str:
    return "greenhouse" if found.house else "frame"


def _headline(found: Keep, world: World) -> str:
    names = together(plants(n) for n in found.crops)
    edge = frost_temp(found.edge_c, world.units)
    if found.reason == "unplaced" or found.site is None or found.chance is None:
        start = f"{sentence(names.word)} {names.are} safe in the {_place(found)}"
        return f"{start} while nights outside stay above about {edge}."
    percent = round(100 * found.chance)
    if found.reason == "winter":
        often = "nearly every winter" if percent >= _NEARLY_ALL else f"in about {percent} winters in 100"
        cold = f"a night below {edge}, too cold for {names.them}, comes {found.site.where} {often}"
        return f"{_all_winter(found, names.word)}: {cold}."
    if percent < 1 and found.reason != "chill":
        return f"{_from_now(found, names.word, world)}: a night below {edge} hardly ever comes now {found.site.where}."
    if found.reason == "chill":
        end = _chilled(found, names.they, names.are, world)
    else:
        end = (
            f"in about {percent} years in 100 a night below {edge}, too cold for {names.them}, still comes "
            f"{found.site.where} after {show_date(found.day or world.today, world.today)}"
        )
    return f"{_from_now(found, names.word, world)}: {end}."


def _all_winter(found: Keep, names: str) -> str:
    if found.helps == "fleece-inside":
        return f"{sentence(names)} can stay in the {_place(found)} only with fleece over the plants as well"
    return {
        "yes": f"Yes, {names} can stay in the {_place(found)} all winter",
        "tight": f"{sentence(names)} can stay in the {_place(found)} all winter, at some risk",
        "no": f"{sentence(names)} can't stay in a plain {_place(found)} all winter",
    }[found.verdict or "no"]


def _from_now(found: Keep, names: str, world: World) -> str:
    later = f", from about {show_date(found.from_day, world.today)}" if found.from_day else ""
    return {
        "yes": f"Yes, {names} can live in the {_place(found)}",
        "tight": f"{sentence(names)} can live in the {_place(found)}, at some risk",
        "no": f"Not yet for {names}{later}",
    }[found.verdict or "no"]


def _chilled(found: Keep, they: str, are: str, world: World) -> str:
    """Why not yet: the usual nights inside against the chill limit, and when that is over."""
    chill, dates, units, today = found.chill, found.dates, world.units, world.today
    day = found.day or today
    assert chill is not None
    assert found.site is not None
    inside, limit = frost_temp(chill.inside_c, units), frost_temp(chill.limit_c, units)
    if dates is not None and dates.best > day:
        reached = f". Best from about {show_date(dates.best, today)}"
    elif chill.from_day is not None:
        reached = f". Nights are usually warm enough from about {show_date(chill.from_day, today)}"
    else:
        reached = ". Usual nights there never get that warm"
    return (
        f"on usual nights about {show_date(day, today)} it is {inside} inside an unheated {_place(found)} "
        f"{found.site.where}, and below about {limit} {they} {are} chilled and set back{reached}"
    )


def _help(found: Keep, world: World) -> tuple[str, ...]:
    if found.helps is None:
        return ()
    if found.helps != "shut-early":
        return (_HELPS[found.helps],)
    assert found.chill is not None
    inside, limit = (frost_temp(t, world.units) for t in (found.chill.inside_c, found.chill.limit_c))
    return (
        f"Nights inside are usually still {inside}; below about {limit} growth is slow, so shut it early in the "
        "evening.",
    )
