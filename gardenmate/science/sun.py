"""Where the sun stands, how long the day is, and how much light a clear sky gives.

Positions follow the low-precision formulas of the Astronomical Almanac (good to 0.01 degrees from 1950 to
2050). Sunrise and sunset are the moments the sun's upper edge meets a flat horizon (centre at -0.833
degrees: refraction and half the sun's width). Radiation follows FAO Irrigation and Drainage Paper 56 (1998,
equations 21-25 and 37) by the day, and the zenith-only model of Sandia report SAND2012-2389 by the moment.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from math import acos, asin, atan2, cos, degrees, exp, pi, radians, sin

SUNRISE_DEG = -0.833  # refraction and half the width of the sun
SOLAR_CONSTANT_MJ_M2_MIN = 0.0820  # FAO-56, equation 21
_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)


def declination_deg(day: date) -> float:
    """The sun's declination at noon (Greenwich) of a day, degrees north."""
    return _sun(_days_since_2000(day))[0]


def day_length_hours(lat_deg: float, day: date) -> float:
    """Sunrise to sunset, hours: 0 in the polar night, 24 under the midnight sun."""
    return _half_day_deg(lat_deg, declination_deg(day), SUNRISE_DEG) * 2.0 / 15.0


def sunset_hour(lat_deg: float, day: date) -> float:
    """Sunset as hours of solar time (noon = 12)."""
    return 12.0 + day_length_hours(lat_deg, day) / 2.0


def elevation_at_hour_deg(lat_deg: float, day: date, solar_hour: float) -> float:
    """Height of the sun's centre above the horizon at an hour of solar time (noon = 12), no refraction."""
    return _elevation_deg(lat_deg, declination_deg(day), 15.0 * (solar_hour - 12.0))


def noon_elevation_deg(lat_deg: float, day: date) -> float:
    """Height of the sun at solar noon, degrees."""
    return elevation_at_hour_deg(lat_deg, day, 12.0)


def solar_hour(lon_deg: float, utc: datetime) -> float:
    """Solar time at a longitude, hours 0-24. ``utc`` must carry a time zone (any)."""
    moment = utc.astimezone(UTC)
    offset_min = _sun(_days_between(moment))[1]
    clock = moment.hour + moment.minute / 60.0 + moment.second / 3600.0
    return (clock + lon_deg / 15.0 + offset_min / 60.0) % 24.0


def clear_sky_w_m2(elevation_deg: float, elev_m: float = 0.0) -> float:
    """Clear-sky sun on flat ground, W/m2, for the sun at this height; 0 below the horizon.

    1098 cos z exp(-0.059 / cos z), SAND2012-2389. Thinner air higher up: raised in the proportion that
    equation 37 of FAO-56 gives. Hazy lowland air takes 5-15 percent off (common practice).
    """
    cos_zenith = sin(radians(elevation_deg))
    if cos_zenith <= 1e-3:
        return 0.0
    return 1098.0 * cos_zenith * exp(-0.059 / cos_zenith) * _clearness(elev_m) / _clearness(0.0)


def extraterrestrial_daily_mj(lat_deg: float, day: date) -> float:
    """Sun on flat ground outside the atmosphere, MJ/m2 per day. FAO-56 equation 21."""
    angle = 2.0 * pi * day.timetuple().tm_yday / 365.0
    distance = 1.0 + 0.033 * cos(angle)
    declination = 0.409 * sin(angle - 1.39)
    lat = radians(lat_deg)
    half_day = radians(_half_day_deg(lat_deg, degrees(declination), 0.0))
    beam = half_day * sin(lat) * sin(declination) + cos(lat) * cos(declination) * sin(half_day)
    return max(0.0, 24.0 * 60.0 / pi * SOLAR_CONSTANT_MJ_M2_MIN * distance * beam)


def clear_sky_daily_mj(lat_deg: float, day: date, elev_m: float = 0.0) -> float:
    """Clear-sky sun on flat ground, MJ/m2 per day: (0.75 + 2e-5 elev_m) Ra, FAO-56 equation 37."""
    return _clearness(elev_m) * extraterrestrial_daily_mj(lat_deg, day)


def _clearness(elev_m: float) -> float:
    return 0.75 + 2e-5 * max(0.0, elev_m)


def _half_day_deg(lat_deg: float, declination: float, horizon_deg: float) -> float:
    """Hour angle of sunset, degrees 0-180."""
    lat, dec = radians(lat_deg), radians(declination)
    scale = cos(lat) * cos(dec)
    rise = sin(radians(horizon_deg)) - sin(lat) * sin(dec)
    if scale < 1e-12:  # at a pole the sun stands at one height all day
        return 0.0 if rise > 0 else 180.0
    return degrees(acos(min(1.0, max(-1.0, rise / scale))))


def _elevation_deg(lat_deg: float, declination: float, hour_angle_deg: float) -> float:
    lat, dec = radians(lat_deg), radians(declination)
    height = sin(lat) * sin(dec) + cos(lat) * cos(dec) * cos(radians(hour_angle_deg))
    return degrees(asin(min(1.0, max(-1.0, height))))


def _days_since_2000(day: date) -> float:
    return float((day - date(2000, 1, 1)).days)


def _days_between(moment: datetime) -> float:
    return (moment - _J2000).total_seconds() / 86400.0


def _sun(days: float) -> tuple[float, float]:
    """Declination (degrees) and equation of time (minutes), days after noon of 1 January 2000."""
    mean_longitude = (280.460 + 0.9856474 * days) % 360.0
    anomaly = radians((357.528 + 0.9856003 * days) % 360.0)
    longitude = radians(mean_longitude + 1.915 * sin(anomaly) + 0.020 * sin(2.0 * anomaly))
    tilt = radians(23.439 - 4e-7 * days)
    declination = degrees(asin(sin(tilt) * sin(longitude)))
    right_ascension = degrees(atan2(cos(tilt) * sin(longitude), cos(longitude)))
    ahead = (mean_longitude - right_ascension + 180.0) % 360.0 - 180.0
    return declination, 4.0 * ahead
