"""Days of the year growers plant by: Good Friday, Mother's Day, Memorial Day, solstices ..."""

from __future__ import annotations

from datetime import date, timedelta

_FIXED = {  # (month, day)
    "st patrick day": (3, 17), "saint patrick day": (3, 17), "st patricks day": (3, 17),
    "patricks day": (3, 17),
    "valentine day": (2, 14), "valentines day": (2, 14), "christmas day": (12, 25),
    "christmas": (12, 25),
    "xmas": (12, 25), "boxing day": (12, 26), "new year day": (1, 1), "new years day": (1, 1),
    "canada day": (7, 1),
    "july fourth": (7, 4), "anzac day": (4, 25), "australia day": (1, 26), "waitangi day": (2, 6),
    "summer solstice": (6, 21), "winter solstice": (12, 21), "solstice": (6, 21),
    "spring equinox": (3, 20),
    "autumn equinox": (9, 22), "fall equinox": (9, 22), "earth day": (4, 22), "halloween": (10, 31),
    "groundhog day": (2, 2), "juneteenth": (6, 19), "st george day": (4, 23),
    "may day": (5, 1), "independence day": (7, 4), "bonfire night": (11, 5), "midsummer": (6, 24),
    "midsummer day": (6, 24), "candlemas": (2, 2), "michaelmas": (9, 29), "veterans day": (11, 11),
    "remembrance day": (11, 11), "st david day": (3, 1), "st davids day": (3, 1), "christmas eve": (12, 24),
    "new years eve": (12, 31), "new year eve": (12, 31), "burns night": (1, 25), "flag day": (6, 14),
}  # fmt: skip
_MOVING = {  # (month, weekday, which of the month; -1 is the last)
    "mother day": (5, 6, 2), "mothers day": (5, 6, 2), "father day": (6, 6, 3),
    "fathers day": (6, 6, 3),
    "memorial day": (5, 0, -1), "labor day": (9, 0, 1), "labour day": (9, 0, 1),
    "columbus day": (10, 0, 2),
    "early may bank holiday": (5, 0, 1), "may bank holiday": (5, 0, 1), "spring bank holiday": (5, 0, -1),
    "august bank holiday": (8, 0, -1), "presidents day": (2, 0, 3), "canadian thanksgiving": (10, 0, 2),
    "thanksgiving": (11, 3, 4), "melbourne cup day": (11, 1, 1), "melbourne cup": (11, 1, 1),
}  # fmt: skip
_FROM_EASTER = {
    "good friday": -2,
    "easter": 0,
    "easter sunday": 0,
    "easter monday": 1,
    "palm sunday": -7,
    "mothering sunday": -21,
    "shrove tuesday": -47,
    "pancake day": -47,
    "ash wednesday": -46,
    "whitsun": 49,
}


def _nth(year: int, month: int, weekday: int, nth: int) -> date:
    """The nth weekday of a month; -1 is the last."""
    if nth > 0:
        first = date(year, month, 1)
        return first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (nth - 1))
    last = date(year + (month == 12), month % 12 + 1, 1) - timedelta(days=1)
    return last - timedelta(days=(last.weekday() - weekday) % 7)


def holiday(name: str, year: int) -> date | None:
    """The date of a day growers plant by, None when ``name`` is none."""
    fixed = _FIXED.get(name)
    if fixed is not None:
        return date(year, *fixed)
    moving = _MOVING.get(name)
    if moving is not None:
        return _nth(year, *moving)
    if name == "victoria day":  # the Monday before 25 May
        return date(year, 5, 24) - timedelta(days=date(year, 5, 24).weekday())
    back = _FROM_EASTER.get(name)
    if back is not None:
        from dateutil.easter import easter

        return easter(year) + timedelta(days=back)
    return None
