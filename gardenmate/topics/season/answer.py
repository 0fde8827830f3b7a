"""Too late, too early, when, and when is it ready: the four season topics, answered by one engine."""

from __future__ import annotations

from datetime import date

from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer
from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.records import replace
from gardenmate.topics.season.away import when_away
from gardenmate.topics.season.case import Case, Reply, default_method, method_asked
from gardenmate.topics.season.choose import best_way, ways_of_starting
from gardenmate.topics.season.days_meant import Days, days_meant, job_day
from gardenmate.topics.season.estimate import with_estimate
from gardenmate.topics.season.from_stage import after_stage, from_stage
from gardenmate.topics.season.going_out import for_going_out
from gardenmate.topics.season.ground_seen import in_ground_seen
from gardenmate.topics.season.in_the_ground import sown_already
from gardenmate.topics.season.indoors_or_not import indoors_or_not
from gardenmate.topics.season.months_named import (
    months_named,
    with_day_compared,
    with_harvest_months,
    with_months_named,
)
from gardenmate.topics.season.ordering import order_by, order_first
from gardenmate.topics.season.own_pickings import with_own_pickings
from gardenmate.topics.season.planned import as_planned
from gardenmate.topics.season.season_dates import own_variety
from gardenmate.topics.season.several import answer_for_region, answer_for_several, answer_of
from gardenmate.topics.season.site_year import site_year
from gardenmate.topics.season.standing import standing_now
from gardenmate.topics.season.started import started, with_packet
from gardenmate.topics.season.terms import OPEN_GROUND, Shelter, Terms, cover_named, terms_for
from gardenmate.topics.season.time_told import day_ahead_of_usual, with_time_told
from gardenmate.topics.season.tuber_jobs import tuber_job
from gardenmate.topics.season.under_glass import sown_under_glass
from gardenmate.topics.season.varieties import as_named
from gardenmate.topics.season.wanted import for_wanted
from gardenmate.topics.season.weather_told import with_low_beside, with_weather_told
from gardenmate.topics.season.weeks_from import weeks_from
from gardenmate.topics.season.when import harvest, when
from gardenmate.topics.season.wintered import wintered, wintered_kind
from gardenmate.topics.seedlings import planting_heat
from gardenmate.topics.shared.grammar import listed as joined
from gardenmate.topics.shared.plant_names import spoken_words
from gardenmate.topics.shared.regions import MOST_PLACES, MOST_PLACES_FOR_A_LIST, spread_out
from gardenmate.topics.shared.subjects import many_named

COVERS = ("fleece", "heavy-fleece", "cloche", "water-wall", "tunnel", "frame", "greenhouse")


def answer(question: Request, world: World) -> Answer:
    """The reply to a season question. Raises NeedPlaceError when no place is known."""
    elsewhere = _not_of_the_season(question, world)
    if elsewhere is not None:
        return elsewhere
    crops, strangers = _crops(_with_stock(question), world)
    if strangers and not crops:
        names = joined(dict.fromkeys(many_named(r, world.facts) for r in strangers))
        return Answer(
            question=question,
            verdict=None,
            headline=f"I have no planting dates for {names}. Ask me when to prune them or how to grow more.",
        )
    sites = (world.site,) if world.site is not None else world.sites
    if not sites:
        raise NeedPlaceError(
            "Where is the garden? Name a place, or give your average last and first frost dates."
        )
    listed = not crops
    if listed:
        crops = _wanted(world)
        if question.has("job", "order"):
            return order_first(question, [_find(question, world, crop, sites[0], False) for crop in crops])
        if days_meant(question, world.today).out is not None:
            crops = [c for c in crops if "indoors" in c.methods]
    if len(sites) > 1:
        sites = tuple(spread_out(sites, MOST_PLACES_FOR_A_LIST if len(crops) > 2 else MOST_PLACES))
    if listed and question.topic == "harvest-date":
        return _which_crop(question)
    found = [[_find(question, world, crop, site, listed) for crop in crops] for site in sites]
    if len(sites) > 1:
        return answer_for_region(question, world, found, listed=listed)
    if len(crops) == 1:
        return answer_of(found[0][0], question)
    return answer_for_several(question, world, found[0], listed=listed)


def _not_of_the_season(question: Request, world: World) -> Answer | None:
    """Asked in words of the season, but of the hour of planting, half-hardened plants or a cold house."""
    if planting_heat.asks_for_the_hour(question, world):
        return planting_heat.answer(question, world)
    if question.topic in ("early-start", "when-start") and question.has("doing", "hardening"):
        from gardenmate.topics.seedlings.hardening_begun import too_short  # start-up seam: told of by few

        short = too_short(question, world)
        if short is not None:
            return short
    asked = question.topic in ("early-start", "when-start")
    if asked and world.site is not None and question.cue("cover") == "greenhouse":
        from gardenmate.topics.frame.answer import lives_in_house  # start-up seam: few ask for a house

        return lives_in_house(question, world)
    return None


def _with_stock(question: Request) -> Request:
    """The question with the crop whose planting stock is ordered ("seed potatoes"), where it names no other."""
    if question.crops or not question.has("job", "order"):
        return question
    return replace(question, crops=tuple(CropRef(str(t.value)) for t in question.all("crop")))


def _which_crop(question: Request) -> Answer:
    """A harvest is asked about and no crop named: nothing to reckon with."""
    return Answer(
        question=question,
        verdict=None,
        headline="Which crop is it? Tell me when you sowed it or set it out, and I'll say when to pick it.",
    )


def _crops(question: Request, world: World) -> tuple[list[Crop], list[CropRef]]:
    """Crops named, each once, with the kind the slots give; and the plants that are not crops."""
    crops: list[Crop] = []
    strangers: list[CropRef] = []
    kind = question.ask.kind
    for ref in question.crops:
        wanted = ref if ref.kind or kind is None else ref._replace(kind=kind)
        crop = world.facts.crop_for(wanted)
        if crop is None:
            strangers.append(ref)
        elif crop not in crops:
            crops.append(crop)
    return crops, strangers


def _wanted(world: World) -> list[Crop]:
    """With no crop named: those the grower wants, else those most often asked about."""
    ids = [i for i in world.garden.wanted if i in world.facts.crop_ids] or list(
        world.facts.examples("often_asked")
    )
    return [world.facts.crop(i) for i in ids if i in world.facts.crop_ids]


def _find(question: Request, world: World, crop: Crop, site: Site, listed: bool) -> Reply:
    days = days_meant(question, world.today)
    topic = question.topic
    if topic == "harvest-date" and _counts_back(question, days):
        topic = "when-start"
    if _asks_of_plants(question, days):
        asks_when = topic == "harvest-date" or question.cue("asks_when") == "yes"
        topic = "when-start" if asks_when else topic
        question = replace(question, slots=replace(question.slots, method="setout"))
    if topic != "harvest-date":
        days = job_day(days, question, world.today)
    elif len(months_named(question)) > 1:
        days = days._replace(wanted=None)  # to choose from: "June or July?"
    case = _case(question, world, crop, site, days, topic)
    ahead = day_ahead_of_usual(case, question)
    if ahead is not None:
        case = case._replace(day=ahead, day_said=True)
    counted = days.out is not None or days.wanted is not None
    found = standing_now(case) if listed and not counted else _judged(question, world, case, days, topic)
    if topic in ("early-start", "late-start"):
        found = in_ground_seen(found, question)
        found = with_day_compared(with_weather_told(found, question), question)
    found = with_time_told(found, question)
    if topic == "harvest-date":
        found = with_low_beside(with_harvest_months(found, question, days), question)
        found = with_estimate(found, question, days)
    if days.past and topic == "early-start":
        found = found._replace(headline=f"{days.past} {found.headline}")
    elif days.past:
        found = found._replace(details=(f"{days.past} This is for today.", *found.details))
    return found._replace(assumptions=(*days.assumed, *found.assumptions)) if days.assumed else found


def _counts_back(question: Request, days: Days) -> bool:
    """True when a harvest by a day is asked for and the start is still to be made: "sow by when?"."""
    asks = question.cue("asks_when") == "yes" and question.cue("start_verb") is not None
    return asks and days.wanted is not None and days.begun is None and not days.begun_by and days.job is None


def _asks_of_plants(question: Request, days: Days) -> bool:
    """True for "sown 10 March, when do they go out?": plants to set out, no harvest."""
    return days.begun_by == "sow" and days.out is None and question.cue("going_out") == "yes"


def _judged(question: Request, world: World, case: Case, days: Days, topic: str) -> Reply:
    """The finding of the engine that fits what the days of the question mean."""
    kind = wintered_kind(case.terms.crop, question.crops)
    if kind is not None:
        return wintered(_as_sown(case, question), kind, begun=days.begun, topic=topic)
    if topic == "harvest-date":
        return _harvest(question, world, case, days)
    found = (
        sown_under_glass(case, question)
        or _job_beside(question, case)
        or _counted(question, case, days, topic)
    )
    if found is not None:
        return found
    if topic == "when-start":
        return _when_and_then(question, world, case, days)
    if _feared_for(question, days):
        return sown_already(case)
    return best_way(case, _ways(question, case, topic), "late" if topic == "late-start" else "early")


def _harvest(question: Request, world: World, case: Case, days: Days) -> Reply:
    """When what is in the ground is picked: from what was seen on it, else from its start."""
    weighed = question.has("weighs", "cold")
    if not days.stage:
        found = harvest(started(case, question, world, days), wanted=days.wanted)
        if weighed and found.verdict is None and found.chance is not None:
            head = f"{found.headline.rstrip('.')}, before frost."
            found = found._replace(verdict="yes", headline=head)
        return found
    if days.seen is not None:
        seen = from_stage(case, days.stage, days.seen, days.wanted, weighed=weighed)
        if seen is not None:
            return seen
    found = harvest(started(case, question, world, days), wanted=days.wanted)
    return after_stage(case, days.stage, found) if days.seen is None else found


def _job_beside(question: Request, case: Case) -> Reply | None:
    """Ordering, chitting and earthing up, and whether an indoor start makes sense; None where none is asked."""
    if question.has("job", "order"):
        return order_by(case, too_late=question.topic == "late-start")
    if "seed-potatoes" in case.terms.crop.methods:
        return tuber_job(case, question)
    if not case.method_said:
        return None
    if case.method == "outdoors" and question.has("asks", "which-way"):
        case = case._replace(method="indoors")
    return indoors_or_not(case, question)


def _counted(question: Request, case: Case, days: Days, topic: str) -> Reply | None:
    """What is counted from another day than that of the job; None where no such day was told."""
    if days.out is not None and case.terms.can_raise:
        return for_going_out(case, days.out, topic)
    if days.wanted is not None and not case.terms.rule:
        case = with_packet(case, question)
        if days.job is not None and days.job > case.today:
            return best_way(case._replace(wanted_by=days.wanted), _ways(question, case, topic), "late")
        found = for_wanted(case, _ways(question, case, "late-start"), days.wanted, topic)
        if found.verdict == "no" and question.cue("start_verb") in ("start", "sow") and _goes_out(case, days):
            return for_going_out(case, days.wanted, topic)
        return found
    if days.frost_weeks is not None and topic != "late-start":
        told = weeks_from(_of_plants_out(case, question), days.frost_weeks, days.frost_end)
        if told is not None:
            return told
    if days.away is not None and topic == "when-start":
        return when_away(case._replace(method=_ways(question, case, "late-start")[0]), days.away)
    return None


def _of_plants_out(case: Case, question: Request) -> Case:
    """The case as plants set out, where going out is what the words say of it."""
    out = question.cue("going_out") == "yes" and not case.method_said and case.terms.can_set_out
    return case._replace(method="setout", method_said=True) if out else case


def _goes_out(case: Case, days: Days) -> bool:
    """True when a day nothing can be ripe by is one to set plants out: "start tomatoes for 1 June"."""
    return case.terms.can_raise and any(
        days.wanted is not None and w.activity == "set-out" and w.earliest <= days.wanted <= w.best_to
        for w in case.season.windows(case.today)
    )


def _when_and_then(question: Request, world: World, case: Case, days: Days) -> Reply:
    """The windows as seen today; a day named, or planned before, is judged beside them, or alone where "when" was
    not said."""
    if days.job is None or days.job == case.today:
        planned = as_planned(question, world, case)
        return with_months_named(when(case), question) if planned is None else planned
    judged = best_way(case, _ways(question, case, "early-start"), "early")
    if question.cue("asks_when") != "yes":
        return judged
    usual = when(case._replace(day=case.today), of_now=False)
    headline = f"{usual.headline} {judged.headline}"
    return usual._replace(verdict=judged.verdict, headline=headline, changes=judged.changes)


def _ways(question: Request, case: Case, topic: str) -> tuple[str, ...]:
    """The ways of starting the question may mean."""
    if case.method_said:
        return (case.method,)
    ways = ways_of_starting(case.terms, question.cue("start_verb"), topic, case.method)
    if case.soil_said_c is not None:  # who measures the bed means the bed
        return tuple(w for w in ways if w != "indoors") or ways
    return ways


def _feared_for(question: Request, days: Days) -> bool:
    """True when what is sown already is feared for: "it is snowing and I sowed my peas, are they lost?"."""
    sown = days.begun_by in ("sow", "plant") and question.ask.method not in ("setout", "starts", "indoors")
    return sown and question.has("fears", "lost")


def _case(question: Request, world: World, crop: Crop, site: Site, days: Days, topic: str) -> Case:
    ask = question.ask
    terms = _terms(question, world, crop)
    terms = with_own_pickings(terms, question, world, site_year(site))
    terms = terms._replace(words=spoken_words(crop, question.crops, terms.words))
    cover = _cover(question, world)
    said = None if _both_ways(question) else method_asked(terms, ask.method or _implied_method(question))
    day = days.job or _not_before(question) or world.today
    method = said or default_method(terms, topic, site_year(site), day)
    return Case(
        terms=terms,
        site=site,
        year=site_year(site),
        method=method,
        day=day,
        today=world.today,
        units=world.units,
        facts=world.facts,
        method_said=said is not None,
        day_said=day != world.today,
        cover=cover,
        cover_said=cover,
        mat=_mat(question, world),
        soil_said_c=_read_at(question, "soil"),
        air_said_c=_read_at(question, "outside"),
    )


def _both_ways(question: Request) -> bool:
    """True when the start indoors and the setting out are asked about in one breath."""
    begun = question.cue("start_verb") in ("start", "sow") and question.cue("place_kind") == "indoors"
    return question.topic == "when-start" and begun and question.ask.method == "setout"


def _terms(question: Request, world: World, crop: Crop) -> Terms:
    """The crop in the variety asked about, else in the grower's own, else in a middling one."""
    ask, grown = question.ask, own_variety(crop, world)
    asked = ask.days_to_maturity is not None or ask.cultivar_class is not None
    if asked or grown is None or grown.days is None:
        return as_named(terms_for(crop, world.facts, ask, world.garden.frost_risk), question)
    mine = replace(ask, days_to_maturity=grown.days)
    note = f"Your {grown.name}, {grown.days} days to maturity."
    return terms_for(crop, world.facts, mine, world.garden.frost_risk)._replace(notes=(note,))


def _as_sown(case: Case, question: Request) -> Case:
    """The case as seed, unless plants were named."""
    plants = question.ask.method in ("setout", "starts") or question.cue("start_verb") == "setout"
    return case._replace(method="setout" if plants else "outdoors")


def _implied_method(question: Request) -> str | None:
    """ "Transplant", "move out": plants are set out; sown on the windowsill is sown indoors."""
    if question.cue("place_kind") in ("sill", "indoors") and question.cue("start_verb") in ("sow", "start"):
        return "indoors"
    return "setout" if question.cue("asks") == "move" else None


def _not_before(question: Request) -> date | None:
    """ "Nothing until Saturday": the day it can be done."""
    said = question.cue("not_before")
    try:
        return date.fromisoformat(said) if said else None
    except ValueError:
        return None


def _cover(question: Request, world: World) -> Shelter:
    """The cover said to stand over the plants; one merely owned is not counted unless it was named."""
    said = [question.cue("cover") or "", *(question.cue("gear") or "").split(",")]
    named = next((c for c in said if c in COVERS), None)
    if named is None:
        return OPEN_GROUND
    cover = cover_named(world.facts, named)
    return cover._replace(name="a polytunnel") if question.has("house", "polytunnel") else cover


def _read_at(question: Request, role: str) -> float | None:
    """The temperature the grower read in the soil or outside, degrees C."""
    for reading in question.ask.temps:
        if reading.role == role:
            return reading.celsius
    return None


def _mat(question: Request, world: World) -> bool:
    """Whether seed stands on a mat: said, owned, or, where the gear is not known, taken for granted."""
    said = "mat" in (question.cue("gear") or "").split(",")
    return said or not world.garden.gear or world.garden.has("mat")
