"""Too late, too early, when, and when is it ready: the four season topics, answered by one engine."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.answer import Answer
from gardenmate.climate.site import Site
from gardenmate.errors import NeedPlaceError
from gardenmate.knowledge.crops import Crop
from gardenmate.question import CropRef, Question
from gardenmate.rules.plant_names import spoken_words
from gardenmate.rules.regions import MOST_PLACES, MOST_PLACES_FOR_A_LIST, spread_out
from gardenmate.rules.season.case import OUTDOOR, Case, Finding, default_method, method_asked
from gardenmate.rules.season.choose import best_way, ways_of_starting
from gardenmate.rules.season.early import early
from gardenmate.rules.season.late import late
from gardenmate.rules.season.plan import season_windows
from gardenmate.rules.season.several import answer_for_region, answer_for_several, answer_of
from gardenmate.rules.season.site_year import site_year
from gardenmate.rules.season.standing import standing_now
from gardenmate.rules.season.terms import OPEN_GROUND, Cover, cover_named, terms_for, with_dtm
from gardenmate.rules.season.when import harvest, when
from gardenmate.rules.season.wintered import wintered, wintered_kind
from gardenmate.world import World

OFTEN_ASKED = (
    "tomato", "pepper", "cucumber", "summer-squash", "winter-squash", "bush-bean", "sweet-corn", "melon",
    "basil", "pea", "lettuce-leaf", "spinach", "radish", "carrot", "beet", "chard", "kale", "broccoli",
    "cabbage", "onion-sets", "potato", "turnip",
)  # fmt: skip
_LONGEST_AGO_DAYS = 3650
COVERS = ("fleece", "heavy-fleece", "cloche", "tunnel", "frame", "greenhouse")


def answer(question: Question, world: World) -> Answer:
    """The reply to a season question. Raises NeedPlaceError when no place is known."""
    crops, strangers = _crops(question, world)
    if strangers and not crops:
        names = ", ".join(r.typed or r.id for r in strangers)
        return Answer(
            question=question,
            verdict=None,
            headline=f"No season figures for {names}; ask when to prune it or how to multiply it.",
        )
    sites = (world.site,) if world.site is not None else world.sites
    if not sites:
        raise NeedPlaceError(
            "Where is the garden? Name a place, or give your average last and first frost dates."
        )
    listed = not crops
    if listed:
        crops = _wanted(world)
    if len(sites) > 1:
        sites = tuple(spread_out(sites, MOST_PLACES_FOR_A_LIST if len(crops) > 2 else MOST_PLACES))
    found = [[_find(question, world, crop, site, listed) for crop in crops] for site in sites]
    if len(sites) > 1:
        return answer_for_region(question, world, found, listed=listed)
    if len(crops) == 1:
        return answer_of(found[0][0], question)
    return answer_for_several(question, world, found[0], listed=listed)


def _crops(question: Question, world: World) -> tuple[list[Crop], list[CropRef]]:
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
    ids = [i for i in world.garden.wanted if i in world.facts.crop_ids] or list(OFTEN_ASKED)
    return [world.facts.crop(i) for i in ids if i in world.facts.crop_ids]


def _find(question: Question, world: World, crop: Crop, site: Site, listed: bool) -> Finding:
    case, started_as = _case(question, world, crop, site)
    if listed and question.topic != "harvest-date":
        return standing_now(case)
    kind = wintered_kind(crop, question.crops, world.facts)
    if kind is not None:
        return wintered(_as_sown(case, question), kind)
    if question.topic in ("late-start", "early-start"):
        judge = late if question.topic == "late-start" else early
        ways: tuple[str, ...] = (case.method,)
        if not case.method_said:
            ways = ways_of_starting(case.terms, question.cue("start_verb"), question.topic, case.method)
        return best_way(case, ways, judge)
    if question.topic == "when-start":
        return when(case)
    return harvest(case, started_as=started_as)


def _case(question: Question, world: World, crop: Crop, site: Site) -> tuple[Case, str | None]:
    ask = question.ask
    risk = world.garden.frost_risk
    terms = terms_for(crop, world.facts, ask, risk)
    terms = terms._replace(words=spoken_words(crop, question.crops, terms.words))
    said = method_asked(terms, ask.method or _implied_method(question))
    wanted_by = _wanted_by(question)
    day = (
        (None if wanted_by else ask.date)
        or _not_before(question)
        or _asked_month(question, world)
        or world.today
    )
    method = said or default_method(terms, question.topic, site_year(site), day)
    case = Case(
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
        cover=_cover(question, world),
        mat=_mat(question, world),
        soil_said_c=_soil(question),
        wanted_by=wanted_by,
    )
    if question.topic != "harvest-date":
        return case, None
    return _started(case, question, world)


def _wanted_by(question: Question) -> date | None:
    """The day the harvest is wanted for ("for Halloween"), where a start is asked about."""
    wanted = question.cue("wanted_for") == "yes" and question.topic in ("late-start", "early-start")
    return question.ask.date if wanted else None


def _as_sown(case: Case, question: Question) -> Case:
    """The case as seed, unless plants were named."""
    plants = question.ask.method in ("setout", "starts") or question.cue("start_verb") == "setout"
    return case._replace(method="setout" if plants else "outdoors")


def _implied_method(question: Question) -> str | None:
    """ "Transplant", "move out": plants are set out."""
    return "setout" if question.cue("asks") == "move" else None


def _not_before(question: Question) -> date | None:
    """ "Nothing until Saturday": the day it can be done."""
    said = question.cue("not_before")
    try:
        return date.fromisoformat(said) if said else None
    except ValueError:
        return None


def _asked_month(question: Question, world: World) -> date | None:
    """The middle of a month named without a day, the nearest one to today; None for what is picked then."""
    month = question.cue("asked_month")
    if (
        month is None
        or question.topic == "harvest-date"
        or (question.topic == "when-start" and question.crops)
    ):
        return None
    if question.ask.method in ("setout", "starts") and question.topic != "when-start":
        months_ago = (world.today.month - int(month)) % 12
        if 1 <= months_ago <= 6:
            return None  # "plant out leeks sown in March": when they were sown
    near = [date(world.today.year + k, int(month), 15) for k in (-1, 0, 1)]
    day = min((d for d in near if (world.today - d).days < 45), key=lambda d: abs((d - world.today).days))
    return None if (day.year, day.month) == (world.today.year, world.today.month) else day


def _cover(question: Question, world: World) -> Cover:
    """The cover said to stand over the plants; one merely owned is not counted unless it was named."""
    said = [question.cue("cover") or "", *(question.cue("gear") or "").split(",")]
    named = next((c for c in said if c in COVERS), None)
    return cover_named(world.facts, named) if named is not None else OPEN_GROUND


def _soil(question: Question) -> float | None:
    """The soil temperature the grower read, degrees C."""
    for reading in question.ask.temps:
        if reading.role == "soil":
            return reading.celsius
    return None


def _mat(question: Question, world: World) -> bool:
    """Whether seed stands on a mat: said, owned, or, where the gear is not known, taken for granted."""
    said = "mat" in (question.cue("gear") or "").split(",")
    return said or not world.garden.gear or world.garden.has("mat")


def _started(case: Case, question: Question, world: World) -> tuple[Case, str | None]:
    """The start a harvest question is about: said, logged, or the usual one of this season."""
    ask = question.ask
    if ask.date is not None:
        return case, None
    back = (ask.weeks or 0) * 7 + (ask.days or 0)
    if 0 < back <= _LONGEST_AGO_DAYS:
        day = world.today - timedelta(days=round(back))
        if _plausible(case, day):
            return case._replace(day=day, day_said=True), None
        maturity = case.terms.crop.maturity.days
        if 0.75 * (maturity.early or maturity.mid) <= back <= 1.25 * (maturity.late or maturity.mid):
            # "It says 105 days": the packet's figure, not how long ago
            case = case._replace(terms=with_dtm(case.terms, back))
    if not case.method_said and world.journal is not None:
        for action, method in (("set-out", "setout"), ("sow", None)):
            logged = world.journal.search(
                crop=case.terms.base, action=action, since=world.today - timedelta(days=250), limit=1
            )
            if logged:
                chosen = method or ("indoors" if case.terms.crop.methods[0] == "indoors" else "outdoors")
                return case._replace(day=logged[0].on, day_said=True, method=chosen, method_said=True), None
    return case._replace(day=_usual_start(case)), None


def _plausible(case: Case, day: date) -> bool:
    """True when a start on that day is near one of the crop's windows."""
    since = day - timedelta(days=30)
    mine = [w for w in season_windows(case.terms, case.year, since) if w.activity in OUTDOOR[case.method]]
    return any(w.earliest - timedelta(days=30) <= day <= w.latest + timedelta(days=30) for w in mine)


def _usual_start(case: Case) -> date:
    """The start meant when none was told: what was planted last autumn where the crop stands winter; today
    when the window is open; else the good start of the window nearest before, or next."""
    since = case.today - timedelta(days=300 if case.terms.rule == "overwinter" else 200)
    mine = [w for w in season_windows(case.terms, case.year, since) if w.activity in OUTDOOR[case.method]]
    stood = [w for w in mine if w.activity.startswith("fall") and w.best_from <= case.today]
    if case.terms.rule == "overwinter" and stood:
        return stood[-1].best_from
    open_now = next((w for w in mine if w.earliest <= case.today <= w.latest), None)
    if open_now is not None:
        growing = timedelta(days=0) < case.today - open_now.best_from < timedelta(days=case.terms.dtm)
        return open_now.best_from if growing else case.today
    past = [w for w in mine if w.best_from <= case.today]
    if past:
        return past[-1].best_from
    return mine[0].best_from if mine else case.today
