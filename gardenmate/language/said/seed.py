"""What is said of seed: how old, how it was tested, where it lies, and what is feared of it."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said
from gardenmate.language.values.sizes import number_of

_NUMBER = (
    r"(\d{1,3}|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty|forty|fifty)"
)
_COUNTED = Pattern(
    rf"\b{_NUMBER} out of (?:the )?{_NUMBER}\b",
    r"\b(\d{1,3})\s?(?:out of|of|/|in)\s?(?:the\s{1,3})?(\d{1,3})\b(?=.{0,120}\b(?:came|come|sprout|germinat|up)\w*)",
    r"\b(?:test|germination)\w*\b.{0,80}?\b(\d{1,3})\s?(?:out of|of|/)\s?(\d{1,3})\b",
)
_FEWEST_TESTED = 5  # seeds: fewer say nothing
_TOO = Pattern(r"\btoo (cold|cool|hot|warm)\b|\b(rot)(?:s|ted|ting)?\b")
_BEEN_IN = Pattern(
    r"\bbeen (?:in|down|sown|planted)\b|\b(?:done|did|doing|does) nothing in\b|\bnothing (?:up )?in\b"
)
_HOW_LONG = Pattern(r"\bhow (?:long|many days|soon|quick\w*|fast)\b")
_DARK = Pattern(r"\bdark|\bcupboard|\bcloset|\bno light\b|\bunder (?:a )?(?:newspaper|foil|cardboard)")
_WARM_SPOT = Pattern(
    r"\bairing cupboard|\btop of (?:the |my )?(?:fridge|boiler|refrigerator)|\bboiler (?:room|cupboard)|"
    r"\bpropagator|\bhot press\b"
)
_OUTDOORS = Pattern(
    r"\bplanted\b|\b(?:garden|beds?|rows?|patch|ground|field|plot|allotment|hills?|outside|outdoors)\b"
)
_PACKED = Pattern(
    r"\b(?:from|of|packed|packaged|dated|for|in|since|year|bought|saved)\s+(?:the year\s+)?(20\d\d)\b",
    r"\b(20\d\d) (?:\w+ ){0,2}(?:seeds?|packets?)\b",
)
_OLD = Pattern(
    r"\b(\d{1,2}(?:\.5)?|one|two|three|four|five|six|seven|eight|nine|ten)[ -]?(?:years?|yrs?|seasons?)[ -]olds?\b"
)
_NUMBER_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_SEED = Pattern(r"\bseeds?\b|\bpackets?\b")


def read(said: Said) -> Iterator[Typed]:
    """count (tested: up, tried), fears (cold, cool, hot, warm, rot), asks (how-long), since (sown: the span is behind),
    age of seed in years (role seed; of its packet: year)."""
    tested = _COUNTED.search(said.plain)
    if tested is not None:
        up, tried = (round(number_of(group) or 0.0) for group in tested.groups() if group is not None)
        if 0 <= up <= tried and tried >= _FEWEST_TESTED:
            yield Typed("count", up, "seeds", "up", tested.group())
            yield Typed("count", tried, "seeds", "tried", tested.group())
    feared = _TOO.search(said.plain)
    if feared is not None:
        yield Typed("fears", feared[1] or feared[2], text=feared.group())
    for kind, value, pattern in (
        ("asks", "how-long", _HOW_LONG),
        ("since", "sown", _BEEN_IN),
        ("lies", "dark", _DARK),
        ("lies", "warm-spot", _WARM_SPOT),
        ("lies", "outdoors", _OUTDOORS),
    ):
        match = pattern.search(said.plain)
        if match is not None:
            yield Typed(kind, value, text=match.group())
    if _SEED.search(said.plain.replace("seedling", "")) is not None:
        yield from _age(said)


def _age(said: Said) -> Iterator[Typed]:
    old, packed = _OLD.search(said.plain), _PACKED.search(said.plain)
    if old is not None:
        years = _NUMBER_WORDS.index(old[1]) + 1 if old[1] in _NUMBER_WORDS else float(old[1])
        yield Typed("age", float(years), "years", "seed", old.group())
    elif packed is not None:
        year = int(packed[1] or packed[2])
        if year < said.today.year:
            yield Typed("age", float(said.today.year - year), "years", "seed", packed.group())
    elif said.request.ask.plant_age_years is not None:
        yield Typed("age", said.request.ask.plant_age_years, "years", "seed")
