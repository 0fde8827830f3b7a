"""Is it too early? Decided by the opening of the window, the frost to come and the grower's own thermometer."""

from __future__ import annotations

from datetime import date

from gardenmate.core.answer import Verdict, Window
from gardenmate.records import replace
from gardenmate.science.frost_risk import chance_still_to_come
from gardenmate.topics.season.by_window import WAITS_DAYS, spring_planting
from gardenmate.topics.season.decide import late, waits_overgrown
from gardenmate.topics.season.finding import NOT_READ, Read, StartFinding, Why
from gardenmate.topics.season.heat import hot, soil_hot, soil_read_too_hot, too_hot
from gardenmate.topics.season.plan import Plan
from gardenmate.topics.season.scan import emergence_lag
from gardenmate.topics.season.season import Season, Standing
from gardenmate.topics.season.site_year import YEAR


def early(season: Season, method: str, day: date, read: Read = NOT_READ) -> StartFinding:
    """Whether a start on ``day`` is too early. Too early is a no with the day it becomes possible."""
    standing = season.standing(method, day)
    if standing.state == "none":
        return late(season, method, day, read)
    if soil_read_too_hot(season, method, read):
        return hot(season, method, day, standing)
    now = standing.open
    if now is None:
        return _before(season, method, day, standing, read)
    autumn = now.activity.startswith("fall") and not season.terms.rule
    measured = read.soil_c is not None and season.wanted_soil_c(method) is not None
    if not measured and (standing.state == "late" or (autumn and not soil_hot(season, method, day))):
        return late(season, method, day, read)
    rests = season.resting_on(now)
    frost = frost_still_to_come(rests, method, day)
    good = day >= now.best_from
    verdict: Verdict = "yes" if good and not now.cover else "tight"
    why = Why.EARLY if not good else Why.COVER if now.cover else Why.FITS
    plan = _as_put_out(rests, method, day)
    found = StartFinding(
        rests, method, day, verdict, why, standing, now, plan, frost=frost, of_spring=True, listed=season
    )
    return _by_thermometer(found, read)


def _as_put_out(season: Season, method: str, day: date) -> Plan:
    """The start as it stands from the day: raised plants wait for the season, what is put out does not."""
    return season.plan(method, day, wait=method == "indoors")


def _before(season: Season, method: str, day: date, standing: Standing, read: Read) -> StartFinding:
    """No window is open: too early for the next one, or an answer of another kind."""
    if not season.terms.rule and season.open_for_quick(method, day) is not None:
        return late(season, method, day, read)
    other = spring_planting(season, method, day) or too_hot(season, method, day, standing)
    if other is not None:
        return other
    soon = standing.coming
    if soon is None or _is_past(season, method, day, soon):
        return late(season, method, day, read)
    rests = season.resting_on(soon)
    frost = frost_still_to_come(rests, method, day)
    plan = _as_put_out(rests, method, soon.earliest)
    found = StartFinding(
        rests, method, day, "no", Why.TOO_EARLY, standing, soon, plan, frost=frost, of_spring=True,
        listed=season,
    )  # fmt: skip
    return _by_thermometer(found, read)


def _is_past(season: Season, method: str, day: date, soon: Window) -> bool:
    """True where the next window is another season's, and nothing about the day is too cold."""
    wait = (soon.earliest - day).days
    _, number = season.year.day_number(day)
    hottest = season.year.hottest
    frost = frost_still_to_come(season, method, day) or 0.0
    cold = season.year.mean_c[number % YEAR] < season.terms.start.earliest_mean_c or frost >= 0.1
    indoors = method == "indoors" and wait > 100 and number > hottest - 60
    if not (wait > 240 or indoors or (wait > 60 and (number > hottest or not cold))):
        return False
    if soon.activity.startswith("fall"):
        return False
    return not (method == "indoors" and wait <= WAITS_DAYS and waits_overgrown(season, method, day))


def frost_still_to_come(season: Season, method: str, day: date) -> float | None:
    """Chance that a freeze that hurts the crop is still to come once it is up; None when never, and for what goes
    in asleep."""
    terms = season.terms
    last = season.year.last_spring(terms.damage_c - season.cover.frost_c)
    asleep = terms.rule == "crown" or (terms.rule == "overwinter" and not terms.can_raise)
    _, number = season.year.day_number(day)
    if last is None or asleep or method == "indoors" or number > season.year.hottest:
        return None
    lag = emergence_lag(terms) if method == "outdoors" else 0.0
    return chance_still_to_come(number + lag, last.offset_days, last.sd_days)


def _by_thermometer(found: StartFinding, read: Read) -> StartFinding:
    """What the grower's own soil reading changes: their thermometer wins over the normals, but not over the frost
    still to come."""
    least = found.season.wanted_soil_c(found.method)
    if read.soil_c is None or least is None or found.method == "indoors":
        return found
    if read.soil_c < least - 0.3:
        return replace(found, verdict="no", why=Why.COLD_SOIL)
    terms, frost = found.season.terms, found.frost or 0.0
    if frost <= terms.safe_risk:
        return replace(found, verdict="yes", why=Why.WARM_SOIL)
    return replace(found, verdict="tight" if frost <= terms.start.earliest_risk else "no", why=Why.FROST)
