"""Crowns, hardy herbs and what is planted in autumn: judged by the window, their chance being no matter of days."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Window
from gardenmate.topics.season.finding import StartFinding, Why
from gardenmate.topics.season.ripening import ripe_after
from gardenmate.topics.season.season import Season, Standing

WAITS_DAYS = 150
"""A season no further off than this is the one meant by who asks whether it is too early (design value)."""
WORKABLE_SOIL_C = 0.5  # degrees C: colder soil is frozen or about to be; design value
LATE_SPRING_C = 2.0
"""A forgotten planting is still worth making in spring this much past the mean up to which it is good."""


def by_windows(season: Season, method: str, day: date) -> StartFinding:
    """Crowns, hardy herbs, what is planted in autumn: judged by window, their chance being no matter of days."""
    second = spring_planting(season, method, day)
    if second is not None:
        return second
    standing = season.standing(method, day)
    if standing.state == "none":  # none by this way: any of its windows
        others = [season.standing(m, day) for m in ("setout", "outdoors", "indoors") if m != method]
        standing = next((s for s in others if s.state != "none"), standing)
    now, soon = standing.open, standing.coming
    if now is not None:
        return by_its_window(season, method, day, standing, now)
    if soon is not None and (soon.earliest - day).days <= WAITS_DAYS - 30 and standing.closed is None:
        return StartFinding(season, method, day, "yes", Why.AHEAD, standing, soon)
    return StartFinding(season, method, day, "no", Why.CLOSED, standing, soon)


def by_its_window(season: Season, method: str, day: date, standing: Standing, window: Window) -> StartFinding:
    """What stays for years or stands the winter: judged by its window, for its chance is no matter of days."""
    good = day <= window.best_to
    why = Why.FITS if good else Why.TIGHT
    return StartFinding(season, method, day, "yes" if good else "tight", why, standing, window)


def spring_planted_days(season: Season, number: int) -> float:
    """Days to the harvest of what belongs to autumn, planted on a day of spring: without its winter it is
    quicker, and smaller, but no quicker than the warmth and the long days allow."""
    ripe = ripe_after(season.terms, season.terms.total(season.year), number)
    return max(season.terms.spring_days or 0.0, 0.0 if ripe is None else float(ripe - number))


def spring_planting(season: Season, method: str, day: date) -> StartFinding | None:
    """Second best: what is planted in autumn, put in as soon as the soil can be worked; else None."""
    terms, year = season.terms, season.year
    _, number = year.day_number(day)
    if terms.spring_days is None or number >= year.hottest:
        return None
    mean, soil = year.mean_c[number], year.soil_c[number]
    too_warm = mean > (terms.until_mean_c or 99.0) + LATE_SPRING_C or number > year.hottest - 60
    if soil < WORKABLE_SOIL_C or too_warm:
        return None
    falls = [w for w in season.windows(day) if w.activity.startswith("fall")]
    if any(w.earliest <= day <= w.latest for w in falls):
        return None  # its own time still runs: a mild winter goes on into the new year
    ready = day + timedelta(days=round(spring_planted_days(season, number)))
    return StartFinding(
        season,
        method,
        day,
        "tight",
        Why.SECOND_BEST,
        season.standing(method, day),
        falls[0] if falls else None,
        ready=ready,
    )
