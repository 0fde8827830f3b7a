"""One season question narrowed to one crop in one place, and the words its parts are told in."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.climate.site import Site
from gardenmate.core.answer import Mark, Number, Table, Verdict, Window
from gardenmate.core.units import Units, show_date, show_temp
from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple
from gardenmate.topics.season.season import ACTIVITIES, Season
from gardenmate.topics.season.site_year import SiteYear
from gardenmate.topics.season.terms import HOUSE, OPEN_GROUND, Shelter, Terms
from gardenmate.topics.season.windows import spans
from gardenmate.topics.shared.subjects import Plants


class Case(NamedTuple):
    """A crop, a way to start it, a day and a place. ``day`` is the day asked about, ``today`` the clock."""

    terms: Terms
    site: Site
    year: SiteYear
    method: str
    day: date
    today: date
    units: Units
    facts: Facts
    method_said: bool = False
    day_said: bool = False
    cover: Shelter = OPEN_GROUND
    mat: bool = True
    soil_said_c: float | None = None
    air_said_c: float | None = None
    wanted_by: date | None = None
    cover_said: Shelter = OPEN_GROUND
    asked_early: bool = False
    """It was asked whether it is too early, of what is late rather than early."""

    @property
    def season(self) -> Season:
        """The crop and variety here, with the cover and the mat: the source of every date."""
        return Season(self.terms, self.year, self.cover, self.mat)

    def resting_on(self, season: Season) -> Case:
        """The same question of the variety and under the cover of another season."""
        return self._replace(terms=season.terms, cover=season.cover)

    @property
    def name(self) -> str:
        """The crop as a grower names it."""
        return self.terms.words

    def on(self, day: date) -> str:
        """A date in words, with the year when it is not this one."""
        return show_date(day, self.today)

    @property
    def doing(self) -> str:
        """What the grower does, under the cover they named: "set out peppers in a polytunnel"."""
        job = act(self.terms, self.method, self.cover)
        if self.cover_said is OPEN_GROUND or self.cover != self.cover_said or self.cover.name in job:
            return job
        if self.method == "indoors":
            return f"{job} for {self.cover.name}"
        return f"{job} {self.cover.where}"

    def between(self, first: date, last: date) -> str:
        """Two dates in words; a year that holds for both is said once."""
        if first == last:
            return f"on {self.on(last)}"
        start = show_date(first, last) if first.year == last.year else self.on(first)
        return f"{start} to {self.on(last)}"

    @property
    def plants(self) -> Plants:
        """The crop as a sentence names it, with its verb and pronoun."""
        return Plants(self.name, "mass-noun" not in self.terms.crop.traits)

    def temp(self, temp_c: float) -> str:
        """A temperature in the grower's units."""
        return show_temp(temp_c, self.units)


class Reply(NamedTuple):
    """What the engine says of one case, ready to become an answer, a table row or a region's share."""

    case: Case
    verdict: Verdict | None
    headline: str
    numbers: tuple[Number, ...] = ()
    details: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    chance: float | None = None
    windows: tuple[Window, ...] = ()
    marks: tuple[Mark, ...] = ()
    assumptions: tuple[str, ...] = ()
    working: tuple[str, ...] = ()
    do: str = ""
    pick: str = ""
    sources: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    answer: str = ""
    """The table's word where it says more than the verdict ("not yet")."""
    table: Table | None = None
    brief: str = ""
    """The headline without its place, for one that names the place before it."""
    told: bool = False
    """Its headline says what no common sentence for several crops can."""


def act(terms: Terms, method: str, cover: Shelter = OPEN_GROUND) -> str:
    """What the grower does: "sow peppers indoors", "set out tomato plants", "plant garlic"."""
    m, name = terms.crop.methods, terms.words
    if method == "indoors":
        return f"sow {name} indoors"
    if method == "outdoors":
        if "seed-potatoes" in m or "cloves" in m:
            return f"plant {name}"
        return f"sow {name} {cover.where if cover.id == HOUSE else 'outdoors'}"
    if terms.rule == "crown":
        return f"plant {name}"
    if {"sets", "crowns", "slips", "divisions", "bare-root"} & set(m) and "indoors" not in m:
        return f"plant {name}"
    return f"set out {name}"


def done(terms: Terms, method: str) -> str:
    """The same as a participle: "sown indoors", "planted", "set out"."""
    words = act(terms, method).split(" ")[0]
    past = {"sow": "sown", "plant": "planted", "set": "set out"}[words]
    return f"{past} indoors" if method == "indoors" else past


ACTIVITY_WORDS: dict[str, str] = {
    "sow-indoors": "sow indoors",
    "sow-outdoors": "sow outdoors",
    "set-out": "set out",
    "fall-sow": "sow for autumn",
    "fall-set-out": "set out for autumn",
}


def activity_words(terms: Terms, activity: str) -> str:
    """An activity in words for this crop: cloves, tubers, sets and crowns are planted."""
    planted = (not terms.can_raise or terms.rule == "crown") and "direct" not in terms.crop.methods
    if planted and activity in ("sow-outdoors", "set-out"):
        return "plant"
    if planted and activity.startswith("fall"):
        return "plant in autumn"
    if activity.startswith("fall") and terms.rule in ("overwinter", "crown", "perennial"):
        return {"fall-sow": "sow in autumn", "fall-set-out": "set out in autumn"}[activity]
    return ACTIVITY_WORDS[activity]


VERDICT_LIMITS = (0.5, 0.8)
"""The chances from which an answer is tight, and yes (knowledge/season.toml)."""


def percent(chance: float) -> str:
    """A chance in words that do not promise: "about 85%", "under 5%", "over 95%"; rounded to no other verdict's side
    of a limit."""
    if chance < 0.05:
        return "under 5%"
    if chance > 0.95:
        return "over 95%"
    told = round(chance * 20) * 5
    short = any(chance < limit and told == round(100 * limit) for limit in VERDICT_LIMITS)
    return f"{'nearly' if short else 'about'} {told}%"


def an(number: float) -> str:
    """ "a 65", "an 80": a number with its article."""
    shown = f"{number:.0f}"
    return f"{'an' if shown[0] == '8' or shown in ('11', '18') else 'a'} {shown}"


def days_word(days: int) -> str:
    """ "1 day", "12 days"; long spans in weeks or years."""
    if days > 400:
        years = round(days / 365)
        return "1 year" if years == 1 else f"{years} years"
    if days > 60:
        return f"{round(days / 7)} weeks"
    return "1 day" if days == 1 else f"{days} days"


def default_method(terms: Terms, topic: str, year: SiteYear, day: date) -> str:
    """How a crop is usually begun when the grower did not say: in place where it is sown in place, else as a
    plant; and, when it is a matter of starting at all, indoors, unless seed in place is open on the day."""
    methods = terms.crop.methods
    if methods[0] in ("direct", "seed-potatoes", "cloves"):
        return "outdoors"
    if topic in ("early-start", "harvest-date"):
        return "setout"
    if "direct" in methods and not terms.crop.warm:
        _, number = year.day_number(day)
        if any(
            s.activity in ACTIVITIES["outdoors"] and s.earliest <= number <= s.latest
            for s in spans(terms, year)
        ):
            return "outdoors"
    return "indoors" if "indoors" in methods and methods[0] in ("indoors", "starts") else "setout"


def method_asked(terms: Terms, said: str | None) -> str | None:
    """The grower's method, where the crop can be begun that way; bought starts are set out."""
    if said in ("setout", "starts"):
        return "setout" if terms.can_set_out or not terms.can_sow_outdoors else "outdoors"
    if said == "indoors":
        return "indoors"
    if said == "outdoors":
        return "outdoors" if terms.can_sow_outdoors else ("setout" if terms.can_set_out else "outdoors")
    return None


def frost_dates(case: Case) -> tuple[date | None, date | None, date | None]:
    """(average last spring frost, date by which nine in ten are over, average first autumn frost) of the
    season ``case.day`` falls in."""
    origin = case.year.origin(case.day)
    last, first = case.year.last_spring(0.0), case.year.first_autumn(0.0)
    spring = None if last is None else last.day(origin)
    safe = None if last is None else last.day_at(0.9, origin)
    autumn = None if first is None else first.day(origin)
    return spring, safe, autumn


def later(day: date, days: float) -> date:
    """A date some days on."""
    return day + timedelta(days=round(days))


def assumed(case: Case, *, variety: bool = True) -> tuple[str, ...]:
    """What was taken for granted: the variety, the way of starting, the place's own notes."""
    found: list[str] = []
    if variety and case.terms.rule not in ("crown", "perennial"):
        found += list(case.terms.notes)
    if not case.method_said:
        found.append(f"You would {case.doing}.")
    if case.method == "indoors":
        warm = "warm indoors (on a mat or somewhere as warm)" if case.mat else "in a warm room without a mat"
        found.append(f"You raise the plants {warm} and harden them off.")
    return (*found, *case.site.notes)
