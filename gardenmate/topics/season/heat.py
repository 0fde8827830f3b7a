"""Too hot for a start: days or soil warmer than the crop bears."""

from __future__ import annotations

from datetime import date

from gardenmate.topics.season.finding import Read, StartFinding, Why
from gardenmate.topics.season.ripening import HEAT_OVER_C
from gardenmate.topics.season.scan import HOT_SOIL_UNDER_C, hottest_soil_c
from gardenmate.topics.season.season import Season, Standing
from gardenmate.topics.season.site_year import YEAR
from gardenmate.topics.season.terms import Terms


def soil_read_too_hot(season: Season, method: str, read: Read) -> bool:
    """True where the grower's own thermometer shows soil the seed does not come up in."""
    return read.soil_c is not None and read.soil_c > hottest_soil_c(season.terms, method)


def heat_limit_c(terms: Terms, method: str) -> float | None:
    """The daily mean above which this start does not do well, degrees C; None indoors."""
    return None if method == "indoors" or terms.heat_c is None else terms.heat_c + HEAT_OVER_C


def too_hot(season: Season, method: str, day: date, standing: Standing) -> StartFinding | None:
    """No, for the heat: days or soil warmer than the crop bears now; None when it is not that hot."""
    _, number = season.year.day_number(day)
    limit = heat_limit_c(season.terms, method)
    hot_air = limit is not None and season.year.felt_c[number % YEAR] > limit
    hot_soil = season.year.soil_c[number % YEAR] > hottest_soil_c(season.terms, method)
    return hot(season, method, day, standing) if hot_air or hot_soil else None


def hot(season: Season, method: str, day: date, standing: Standing) -> StartFinding:
    return StartFinding(season, method, day, "no", Why.HOT, standing, standing.coming)


def soil_hot(season: Season, method: str, day: date) -> bool:
    """True where seed sown on the day comes up poorly for the heat of the usual soil."""
    _, number = season.year.day_number(day)
    return season.year.soil_c[number % YEAR] > hottest_soil_c(season.terms, method) - HOT_SOIL_UNDER_C
