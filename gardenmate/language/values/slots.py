"""Slots and cues from what was found: only what this turn said."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from gardenmate.core.question import Slots
from gardenmate.language.intent.topics import Found, weights_at
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.phrases import Hit
from gardenmate.language.text.spans import Board, Span, words
from gardenmate.language.values import (
    amounts,
    dates,
    day_roles,
    money,
    people,
    spare,
    temperatures,
    whose_place,
)
from gardenmate.language.values.kinds import said_kind
from gardenmate.language.values.own_frost import own_frost
from gardenmate.language.values.story_days import of_the_story

# Where plants stand: where they came from is not that, and the longer name says more ("high tunnel").
_WHERE = frozenset({"cover", "place_kind", "gear"})


def fill_cues(found: Found, board: Board, lexicon: Lexicon) -> Mapping[str, str]:
    """Cue name -> value. Said twice, the later wins; gear is a list."""
    values: dict[str, str] = {}
    gear: list[str] = []
    hits: list[tuple[Hit, str, str]] = []
    for found_hit in found.cue_hits:
        cue, _, said = lexicon.phrase(found_hit.phrase).target.partition("=")
        hits.append((found_hit, cue, said))
    for hit, name, value in sorted(hits, key=lambda h: (h[0].start, h[0].end)):
        if name in _WHERE and any(_inside(hit, h) for h, n, _ in hits if n == "origin"):
            continue
        if name == "cover" and any(_inside(hit, h) for h, n, _ in hits if n == "cover"):
            continue
        if name == "gear":
            if value not in gear:
                gear.append(value)
        elif name == "method" and name in values and found.units[hit.start].weight < 1.0:
            continue
        else:
            values[name] = value
    if gear:
        values["gear"] = ",".join(gear)
    values.update(_numbers_with_units(board))
    shift = _shift_days(board)
    if shift is not None:
        values["shift_days"] = f"{shift:g}"
    anomaly = _anomaly(board)
    if anomaly is not None:
        values["anomaly"] = anomaly
    values.update(spare.cues(board, values))
    sign = money.currency(board)
    if sign is not None:
        values["currency"] = sign
    packet = money.packet_price(board)
    if packet is not None:
        values["packet_price"] = f"{packet:g}"
    values.update({f"{piece}_price": f"{cost:g}" for piece, cost in money.gear_prices(board).items()})
    values.update(_part_of_year(board, values, weights_at(board, found)))
    if whose_place.the_place(board) and (
        whose_place.anothers_place(board) or " ".join(t.word for t in board.tokens[:4]).startswith(_SUPPOSED)
    ):
        values["supposed"] = "place"
    frost = own_frost(board)
    if frost is not None:
        values[f"own_{frost[0]}_frost"] = f"{frost[1].value:%m-%d}"
    values.update(day_roles.cues(board, weights_at(board, found)))
    return MappingProxyType(values)


def _inside(hit: Hit, longer: Hit) -> bool:
    """True when a phrase is part of a longer one: "greenhouse" of "from the greenhouse"."""
    return longer.start <= hit.start and hit.end <= longer.end and longer[1:] != hit[1:]


_MEANT_BEFORE = words("in during for until till this next early mid late come of is its or")
_HERE = frozenset({"now", "already", "here"})
_IT_IS = frozenset({"it's", "its", "it"})
_SHORT, _FEW = 18, 6  # words of a short line and of a very short one; design value


def _part_of_year(board: Board, values: Mapping[str, str], weights: Mapping[int, float]) -> dict[str, str]:
    """The month the job is asked for ("in November? should I"), not one of the story around it.

    A season cue (fall, winter ...) is blanked when the text says the job is for now or only tells of it.
    ``weights``: token -> weight of its clause.
    """
    count = len(board.tokens)
    now = any(t.word == "now" for t in board.tokens)
    out: dict[str, str] = {}
    for span in board.of("date"):
        if not isinstance(span.value, dates.Stretch):
            continue
        beside = {board.word(span.start - 1), board.word(span.start)} & _MEANT_BEFORE
        asked = weights.get(span.start, 1.0) == 1.0 and not of_the_story(board, span)
        or_then = board.word(span.end) == "or"
        here = board.near(span.start, _IT_IS, 4, 0)
        meant = asked and (not now or here) and (beside or or_then or count <= _FEW)
        if board.word(span.end) in _HERE or meant:
            out["asked_month"] = str(span.value.first.month)
    if "asked_season" in values and (now or count > 2 * _SHORT):
        out["asked_season"] = ""
    return out


_METERS = {
    "lux": "lux",
    "lumens": "lumens",
    "lumen": "lumens",
    "ppfd": "ppfd",
    "umol": "ppfd",
    "watt": "lamp_watts",
    "watts": "lamp_watts",
    "w": "lamp_watts",
}


def _numbers_with_units(board: Board) -> dict[str, str]:
    """Cues that are a number: lux, watts, lamp hours, minutes to spare."""
    out: dict[str, str] = {}
    for i, token in enumerate(board.tokens):
        if token.number is None:
            continue
        shown = f"{token.number:g}"
        follow = board.word(i + 1)
        if follow == "with" and board.tokens[i + 1].raw.lower() == "w":  # "60W bulb", not "60 with ..."
            follow = "w"
        if follow in _METERS:
            out[_METERS[follow]] = shown
        elif board.word(i - 1) == "ppfd" or board.words(i - 2, i) == "ppfd of":
            out["ppfd"] = shown
        elif follow in ("minutes", "minute", "min", "mins"):
            out["limit_minutes"] = shown
        elif follow in ("hours", "hour", "hrs", "hr") and board.near(i, _LIGHT_WORDS, 8, 8):
            out["lamp_hours"] = shown
        elif follow == "an" and board.word(i + 2) == "hour" and "limit_minutes" not in out:
            continue
    for span in board.of("temp"):
        cue = _air_cue(board, span)
        if cue is not None:
            out[cue] = f"{span.value.celsius:.1f}"
    for i in range(len(board.tokens)):
        if board.words(i, i + 3) in ("half an hour", "half hour to"):
            out["limit_minutes"] = "30"
        elif board.words(i, i + 2) == "an hour" and board.word(i - 1) in (
            "have",
            "only",
            "about",
            "got",
            "just",
            "for",
        ):
            out["limit_minutes"] = "60"
    return out


def _air_cue(board: Board, span: Span) -> str | None:
    """Which reading of the air a temperature is, when it is not the night's low: the dew point, or that at
    sunset."""
    before = board.words(span.start - 4, span.start)
    if "dew point" in before or "dewpoint" in before:
        return "dew_point_c"
    after = board.words(span.end, span.end + 3)
    at_sunset = after.startswith(("at sunset", "at dusk", "at sundown")) or (
        before.endswith(
            ("sunset", "dusk", "sundown", "sunset is", "sunset was", "sunset temperature", "sunset at")
        )
    )
    return "sunset_c" if at_sunset else None


_LIGHT_WORDS = words("light lights lamp lamps lit led sun sunlight window windowsill sill grow")


def _shift_days(board: Board) -> float | None:
    """Days of "a week later", "two weeks earlier": later counts up, earlier down."""
    for span in board.of("span"):
        unit, amount = span.value
        per_day = {"days": 1.0, "weeks": 7.0}.get(unit)
        after = board.word(span.end)
        if per_day and after in ("later", "late", "earlier", "early", "sooner"):
            return float(amount) * per_day * (1 if after in ("later", "late") else -1)
    return None


_SUPPOSED = (
    "what if",
    "what about if",
    "suppose",
    "supposing",
    "say it is",
    "if it is",
    "if we get",
    "if we have",
)
_WARMER = words("warm warmer hot hotter mild milder")
_COLDER = words("cold colder cool cooler chilly")
_WEATHER_OF = words("spring summer autumn fall year season than")


def _anomaly(board: Board) -> str | None:
    """ "what if it is a cold spring": warmer or colder than usual throughout, supposed."""
    said = [t.word for t in board.tokens]
    if not " ".join(said).startswith(_SUPPOSED) or not _WEATHER_OF & set(said):
        return None
    if _WARMER & set(said):
        return "warmer"
    return "colder" if _COLDER & set(said) else None


_PLAINLY = 10  # words; what is said of going out in a longer text may be its story (design value)


def fill_slots(board: Board, found: Found, lexicon: Lexicon, cues: Mapping[str, str]) -> Slots:
    """The contract's slots."""
    temps = tuple(s.value for s in board.of("temp"))
    governs = temperatures.governing(tuple(s.value for s in board.of("temp") if _air_cue(board, s) is None))
    values: dict[str, Any] = {"temps": temps}
    if governs is not None:
        values["temp_f" if governs.unit == "F" else "temp_c"] = governs.value
    going_out = "setout" if cues.get("going_out") == "yes" and len(board.tokens) <= _PLAINLY else None
    values["method"] = cues.get("method") or going_out
    values["when"] = _when(board)
    values["date"] = dates.a_day(board, weights_at(board, found))
    values["price"] = money.price(board)
    values["place"] = whose_place.the_place(board)
    values["place_within"] = whose_place.place_within(board)
    heights = board.of("height")
    values["height_m"] = heights[0].value if heights else None
    values["container"] = amounts.vessel(board)
    counts = board.of("count")
    if counts:
        values["count"] = counts[0].value
    values["people"] = people.the_household(board)
    ages = board.of("age")
    if ages:
        values["plant_age_years"] = ages[0].value
    dtm = board.of("dtm")
    if dtm:
        values["days_to_maturity"] = dtm[0].value
    for span in board.of("span"):
        unit, amount = span.value
        if unit == "days" and board.word(span.start) == "day":
            values[unit] = amount  # "7 to 14 days, and I'm on day 13": the day it is goes before the packet's
        elif unit in ("days", "weeks"):
            values.setdefault(unit, amount)
    values["cultivar_class"] = _cultivar_class(board, lexicon)
    values["kind"] = said_kind(board, lexicon)
    return Slots(**values)


def _when(board: Board) -> str | None:
    """Today, tonight or this week, as typed; a week only told of ("they came home this week") yields."""
    week = None
    for i, token in enumerate(board.tokens):
        if token.word in ("tonight", "today") and board.word(i - 1) != "not":
            return token.word
        if token.word == "this" and board.word(i + 1) == "week" and not _week_told(board, i):
            week = "this week"
    return week


_TOLD_OF = words("had came went was were got did")


def _week_told(board: Board, i: int) -> bool:
    """True in a story when what happened stands before "this week" in its clause."""
    return len(board.tokens) > _SHORT and board.near(i, _TOLD_OF, 6, 0)


def _cultivar_class(board: Board, lexicon: Lexicon) -> str | None:
    for span in board.of("crop"):
        for length in (3, 2, 1):
            before = board.words(span.start - length, span.start)
            if before in lexicon.cultivars:
                return lexicon.cultivars[before]
        typed = span.value.typed.lower().replace("-", " ")
        if typed in lexicon.cultivars and typed != span.value.refs[0].id:  # a variety alone: "my Brandywine"
            return lexicon.cultivars[typed]
        for said, cls in lexicon.cultivars.items():
            if typed.startswith(said + " ") and said in ("cherry", "paste", "beefsteak", "plum"):
                return cls
    for i in range(len(board.tokens)):
        for length in (2, 1):
            if board.words(i, i + length) in lexicon.cultivars and board.word(i + length) in (
                "variety",
                "varieties",
                "type",
                "types",
                "one",
                "ones",
                "kind",
            ):
                return lexicon.cultivars[board.words(i, i + length)]
    return None
