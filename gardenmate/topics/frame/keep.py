"""Living in the frame: from when, down to what, and what water jugs, insulation and the right slope add."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import Units, f_to_c, show_date
from gardenmate.core.world import World
from gardenmate.topics.frame.box import FrameFacts, frame_facts, in_greenhouse
from gardenmate.topics.frame.comfort import night_row
from gardenmate.topics.frame.house import Chill, limit_of, night_gain_c, usual_chill
from gardenmate.topics.frame.house_from import HouseDates, house_dates
from gardenmate.topics.frost.groups import group_limits
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import F_DEGREE, frost_span, frost_temp, limits
from gardenmate.topics.shared.raising import Named, gear, named_crops
from gardenmate.topics.shared.subjects import plants

_LOW_RISK, _HIGH_RISK = 0.10, 0.50  # odds accepted, common practice
_FREEZING_C = f_to_c(34.0)  # a crop hurt at more than this is chilled, not frozen: the usual nights decide
_HARDY_C = f_to_c(15.0)  # killed only below this: a winter under cover is worth trying
_SEASON = timedelta(days=90)
_SECOND_COVER = (
    "With fleece over the plants inside, a dry blanket on the lid in hard cold, leaves or straw against the "
    "sides and the snow left lying, hardened plants often live through more; they hardly grow before "
    "late winter.",
)
_HOUSE_COVER = (
    "With fleece over the plants inside on frosty nights hardened plants often live through more; they "
    "hardly grow before late winter.",
)
_RANK: dict[Verdict, int] = {"no": 0, "tight": 1, "yes": 2}
_TAKEN_IN = ("Pick or bring in what stands in it before the hard cold.",)
_WINTER_AHEAD_DAYS = 225  # from the coldest time of year: late summer, when the next cold is a winter's
_GALLON_L = 3.785
_WATER_WH_PER_LITRE_K = 1.163  # heat a litre of water gives back per C degree it cools


def about_living_in_a_house(question: Request, world: World) -> bool:
    """True when tender plants are to go into an unheated house now: the nights inside decide."""
    if question.cue("cover") != "greenhouse" or question.ask.method in ("indoors", "outdoors"):
        return False
    crops = named_crops(question, world)
    tender = bool(crops) and all(limit_of(question, world, n.crop) is not None for n in crops)
    return tender and not gear(question) & {"heater", "mat"} and not question.has("doing", "sowing")


def answer_keep(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """Can these crops live in the shut frame or house from now on: odds of a night too cold for it still to
    come, and whether the usual nights inside are warm enough for tender ones."""
    frame = frame_facts(question, world)
    gain_c = night_gain_c(question, world, frame)
    house = in_greenhouse(question)
    place = "greenhouse" if house else "frame"
    units = world.units
    bounds = [(n, limits(world.facts, n.crop, question.cue("stage"), units)) for n in crops]
    edge_c = max(b.hurt_c if b.hurt_c <= _FREEZING_C else b.killed_c for _, b in bounds) - gain_c
    names = listed(plants(n).word for n in crops)
    edge = frost_temp(edge_c, units)
    verdict: Verdict | None = None
    chance = None
    more: tuple[str, ...] = ()
    end = f"they are unhurt in it while nights outside stay above about {edge}"
    start = sentence(names)
    chill: Chill | None = None
    dates: HouseDates | None = None
    site = world.site
    if site is not None:
        day = max(question.ask.date or world.today, world.today)
        wintering = question.cue("freeze") == "winter" or _winter_ahead(site, day)
        chance = cold_ahead(site, day, edge_c, winter=wintering)
        low_risk = world.garden.frost_risk or _LOW_RISK
        verdict = "yes" if chance <= low_risk else ("tight" if chance <= _HIGH_RISK else "no")
        chill = None if wintering else _worst_chill(question, world, site, day, crops, gain_c)
        dates = None if wintering or not house else _latest_dates(question, world, site, crops)
        in_time = dates is not None and dates.first <= day <= dates.open_from + _SEASON
        by_now = in_time and dates is not None and day >= dates.best
        if verdict == "no" and by_now:
            verdict = "tight"
        chilled = chill is not None and not by_now and _RANK[chill.verdict] < _RANK[verdict]
        verdict = chill.verdict if chill is not None and chilled else verdict
        if verdict == "no" and in_time:
            verdict = "tight"  # chilled nights, but no worse off than in the open ground
        start = {"yes": f"Yes, {names} can live in it", "tight": f"At some risk {names} can live in it",
                 "no": f"Not yet for {names}"}[verdict]  # fmt: skip
        end = (
            f"a night under {edge}, too cold for it, still comes at {site.label} after "
            f"{show_date(day, world.today)} in about {round(100 * chance)} of 100 years"
        )
        if chill is not None and chilled:
            many = len(crops) > 1 or plants(crops[0]).plural
            end = _chilled_text(chill, dates, site, day, place, "they are" if many else "it is", world)
            if verdict == "no" and dates is not None and dates.first > day:
                start = f"{start}, from about {show_date(dates.first, world.today)}"
        if by_now and chill is not None and chill.verdict != "yes":
            more = (
                f"Nights inside are usually still {frost_temp(chill.inside_c, units)}; below about "
                f"{frost_temp(chill.limit_c, units)} growth is slow, so shut it early in the evening.",
            )
        if wintering:
            start = {
                "yes": f"Yes, {names} can stay in it all winter",
                "tight": f"At some risk {names} can stay in it all winter",
                "no": f"Not all winter in the plain {place} for {names}",
            }[verdict]
            end = (
                f"a night under {edge}, too cold for it, comes at {site.label} in about "
                f"{round(100 * chance)} of 100 winters"
            )
            if verdict != "yes":
                hardy = all(b.killed_c <= _HARDY_C for _, b in bounds)
                if hardy and house and verdict == "no":
                    verdict, start = "tight", f"Only with fleece over the plants as well, for {names}"
                more = (_HOUSE_COVER if house else _SECOND_COVER) if hardy else _TAKEN_IN
    care = cautions(world.facts, "cold-frame", "heat", *(() if house else ("lid",)))
    numbers = [*temp_numbers("outside_limit", "unhurt inside down to, outside", edge_c)]
    if chance is not None:
        numbers.append(Number("frost_odds", round(100 * chance), "%", "odds of a colder night still to come"))
    if chill is not None:
        numbers += temp_numbers("usual_low_inside", "usual low inside then", chill.inside_c)
        numbers += temp_numbers("chill_limit", "set back by nights below", chill.limit_c)
        if dates is not None:
            numbers.append(Number("house_from", dates.first, "date", "in the house from, some nights chilly"))
            numbers.append(Number("house_best", dates.best, "date", "in the house, best from"))
        elif chill.from_day is not None:
            numbers.append(Number("nights_from", chill.from_day, "date", "usual nights inside warm enough"))
    return Answer(
        question=question,
        verdict=verdict,
        headline=f"{start}: {end}.",
        numbers=tuple(numbers),
        details=(
            f"Shut and unheated it stays about {frost_span(gain_c, units)} warmer than outside at night; by day in "
            "sun it must be aired.",
            *more,
        ),
        chance=chance,
        changes=(
            "Type tonight's low for an answer about tonight.",
            *(("Heat on cold nights, or bringing them in, lets them start sooner.",) if chill else ()),
            *(("Tell me the place for the odds.",) if site is None else ()),
        ),
        cautions=care.texts,
        assumptions=unique(
            () if house else frame.assumptions,
            () if question.cue("stage") else ("Hardened, growing plants.",),
            site.notes if site else (),
        ),
        sources=unique(
            ("common-practice",) if house else frame.sources,
            *(b.sources for _, b in bounds),
            site.source_ids if site else (),
            care.sources,
        ),
        working=(
            f"Hurt at {frost_temp(edge_c + gain_c, units)} less {frost_span(gain_c, units)} held by "
            f"the {place} = {edge} "
            "outside.",
        ),
    )


def _worst_chill(
    question: Request, world: World, site: Site, day: date, crops: Sequence[Named], gain_c: float
) -> Chill | None:
    """The tender crop the usual nights suit least; None when none of them minds a cool night."""
    found = [usual_chill(question, world, site, day, n.crop, gain_c) for n in crops]
    return min(
        (c for c in found if c is not None), key=lambda c: (_RANK[c.verdict], -c.limit_c), default=None
    )


def _latest_dates(question: Request, world: World, site: Site, crops: Sequence[Named]) -> HouseDates | None:
    """The dates of the crop that goes into the house last; None unless all of them have dates."""
    found = [house_dates(question, world, site, n) for n in crops]
    known = [d for d in found if d is not None]
    return max(known, key=lambda d: d.first) if known and len(known) == len(found) else None


def _chilled_text(
    chill: Chill, dates: HouseDates | None, site: Site, day: date, place: str, they: str, world: World
) -> str:
    """Why not yet: the usual nights inside against the chill limit, and when that is over."""
    units = world.units
    inside, limit = frost_temp(chill.inside_c, units), frost_temp(chill.limit_c, units)
    reached = (
        f"; best from about {show_date(dates.best, world.today)}"
        if dates is not None and dates.best > day
        else f", usually reached about {show_date(chill.from_day, world.today)}"
        if chill.from_day is not None
        else ", which usual nights there never reach"
    )
    return (
        f"usual nights about {show_date(day, world.today)} leave {inside} inside an unheated {place} at "
        f"{site.label}, and below about {limit} {they} chilled and set back{reached}"
    )


def _winter_ahead(site: Site, day: date) -> bool:
    """True from late summer on: what lies ahead is a whole winter, not the end of one."""
    return (day - site.anchor(day)).days >= _WINTER_AHEAD_DAYS


def cold_ahead(site: Site, day: date, edge_c: float, *, winter: bool) -> float:
    """Chance (0-1) of a night at or under ``edge_c`` after ``day``: in the whole winter ahead, or, with the
    winter behind, before summer."""
    from gardenmate.climate.freezes import last_frost_odds

    return site.freeze_at(edge_c).share if winter else last_frost_odds(site, day, edge_c)


def answer_floor(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """How cold may it get in there: where each crop grows on, stands still, is hurt."""
    units = world.units
    care = cautions(world.facts, "cold-frame", "heater", "electricity")
    if not crops:
        stall = frost_temp(f_to_c(50.0), units)
        return Answer(
            question=question,
            verdict=None,
            headline=f"It depends on what is in it: tender crops stop growing below about {stall} and "
            "die near "
            f"{frost_temp(f_to_c(30.0), units)}; hardy salads only mind hard frost.",
            table=group_limits(world),
            changes=("Name the crops for their own figures.",),
            cautions=care.texts,
            sources=unique(("hill", "common-practice"), care.sources),
        )
    rows = [
        (n, night_row(world, n), limits(world.facts, n.crop, question.cue("stage"), units)) for n in crops
    ]
    one = len(rows) == 1
    numbers: list[Number] = []
    parts = []
    for named, row, bound in rows:
        crop = None if one else named.id
        stall_c = max(f_to_c(row["stall_f"]), bound.hurt_c)
        numbers += temp_numbers("comfort_low", "grows on nights of", f_to_c(row["comfort_f"][0]), crop)
        numbers += temp_numbers("stall_below", "stops growing below", stall_c, crop)
        numbers += temp_numbers("hurt_below", "hurt below", bound.hurt_c, crop)
        p = plants(named)
        parts.append(
            f"{p.word} {p.does('stop')} growing below about {frost_temp(stall_c, units)} and {p.are} "
            "hurt below "
            f"{frost_temp(bound.hurt_c, units)}"
        )
    table = Table(
        ("crop", "grows on nights of", "stops growing below", "hurt below"),
        tuple(
            (
                plants(n).word,
                frost_temp(f_to_c(row["comfort_f"][0]), units),
                frost_temp(max(f_to_c(row["stall_f"]), b.hurt_c), units),
                frost_temp(b.hurt_c, units),
            )
            for n, row, b in rows
        ),
    )
    return Answer(
        question=question,
        verdict=None,
        headline=f"{sentence('; '.join(parts))}.",
        numbers=tuple(numbers),
        table=None if one else table,
        changes=("Type the temperature inside, or tonight's low, for a verdict.",),
        cautions=care.texts,
        sources=unique(*(row["sources"] for _, row, _ in rows), *(b.sources for *_, b in rows), care.sources),
    )


def answer_store(question: Request, world: World) -> Answer:
    """What water jugs, a barrel, bricks or insulated sides add at night."""
    frame = frame_facts(question, world)
    units = world.units
    table = frame.table["store"]
    litres, cools_c, hours = table["litres"], table["cools_f"] * F_DEGREE, table["night_hours"]
    watts = _WATER_WH_PER_LITRE_K * litres * cools_c / hours
    water_c = watts / frame.loss_w_k("closed")
    walls_c = _insulated_gain_c(frame)
    care = cautions(world.facts, "cold-frame", "lid")
    return Answer(
        question=question,
        verdict="yes",
        headline=f"Yes, a little: {_water(litres, units)} of water in dark jugs adds about "
        f"{frost_span(water_c, units)} at night, insulated sides about {frost_span(walls_c, units)}.",
        numbers=(
            Number("water_gain_c", round(water_c, 1), "C", f"{_water(litres, units)} of water adds"),
            Number("water_gain_f", round(water_c * 1.8, 1), "F", f"{_water(litres, units)} of water adds"),
            Number("insulation_gain_c", round(walls_c, 1), "C", "insulated sides add"),
            Number("insulation_gain_f", round(walls_c * 1.8, 1), "F", "insulated sides add"),
        ),
        details=(
            "Water only gives back what a sunny day has put in: stand the jugs in full sun, dark, "
            "and full. After "
            "dull days they do little.",
            "Straw bales, leaves or earth banked against the sides work like insulation as long as "
            "they stay dry.",
        ),
        changes=("A dry blanket over the lid usually adds more than either.",),
        cautions=care.texts,
        assumptions=unique(
            frame.assumptions,
            (f"The water cools by {frost_span(cools_c, units)} over a night of {hours} hours.",),
        ),
        sources=unique(frame.sources, table["sources"], care.sources),
        working=(
            f"{litres} litres x {_WATER_WH_PER_LITRE_K} Wh x {cools_c:.1f} degrees C / {hours} h = "
            f"{watts:.0f} W; over "
            f"{frame.loss_w_k('closed'):.1f} W per C degree that is {water_c:.1f} degrees C.",
        ),
    )


def _water(litres: float, units: Units) -> str:
    """A lot of water: "19 litres" or "5 gallons"."""
    return f"{litres / _GALLON_L:.0f} gallons" if units == "us" else f"{litres:g} litres"


def _insulated_gain_c(frame: FrameFacts) -> float:
    """What foam sides would add to the night rise, C degrees."""
    from dataclasses import replace

    u_wall = float(frame.table["frame"]["u_wall_insulated_w_m2k"])
    better = replace(frame, box=replace(frame.box, u_wall=u_wall), insulated=True)
    return max(0.0, better.night_rise_c() - frame.night_rise_c())


def answer_siting(question: Request, world: World) -> Answer:
    """Which way it faces and how steep the lid stands."""
    table = world.facts.table("protection")["siting"]
    site = world.site
    care = cautions(world.facts, "cold-frame", "lid")
    low, high = table["slope_deg"]
    side = "north" if site is not None and site.southern else "south"
    if site is None:
        steep = f"{low} to {high} degrees from level"
    else:
        spring = min(high, max(low, round(abs(site.lat))))
        winter = min(high, max(low, round(abs(site.lat) + table["winter_adds_deg"])))
        steep = f"about {spring} degrees from level for spring use, {winter} for winter"
    return Answer(
        question=question,
        verdict=None,
        headline=f"Face it {side} with shelter behind, the lid at {steep}.",
        numbers=(
            Number("slope_min_deg", low, "degrees", "flattest useful slope"),
            Number("slope_max_deg", high, "degrees", "steepest useful slope"),
            Number("back_higher_in", table["back_higher_in"], "in", "back above the front, at least"),
        ),
        details=(
            f"At least the back stands {table['back_higher_in']} in "
            f"({table['back_higher_in'] * 2.54:.0f} cm) above the "
            "front, so that rain runs off and low sun comes in; brush wet snow off.",
        ),
        cautions=care.texts,
        assumptions=() if site else ("North of the equator.",),
        sources=unique(table["sources"], care.sources),
    )
