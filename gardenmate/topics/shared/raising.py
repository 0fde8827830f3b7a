"""What the four raising topics share: naming crops, both units of a temperature, crops by potting group."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import Units, c_to_f, f_to_c, show_date, show_span, show_temp
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop


@dataclass(frozen=True, slots=True)
class Named:
    """A crop as asked for: its facts, its contract id, and the name to call it by in this answer."""

    crop: Crop
    id: str
    name: str


def named_crops(question: Request, world: World) -> tuple[Named, ...]:
    """The crops of the question that can be raised from seed or starts, each once, in the order named."""
    found: dict[str, Named] = {}
    for ref in question.crops:
        crop = world.facts.crop_for(ref)
        if crop is not None:
            found.setdefault(crop.id, Named(crop, crop.base, spoken_name(crop, ref)))
    return tuple(found.values())


def spoken_name(crop: Crop, ref: CropRef | None = None) -> str:
    """The singular trade name: the grower's own word when it is one ("courgette"), else the usual one."""
    typed = ref.typed.lower().strip() if ref is not None else ""
    known = (*crop.names, *crop.generic_names)
    singular = [typed[: -len(end)] for end in ("es", "s") if typed.endswith(end)]
    for word in (*singular, typed):
        if word in known:
            return proper(word)
    return proper(crop.generic_names[0] if crop.generic_names else crop.names[0])


def proper(name: str) -> str:
    """A crop name with the capital a place name in it keeps."""
    for place in ("brussels", "new zealand"):
        name = name.replace(place, place.title())
    return name


def sentence(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def listed(words: Iterable[str], last: str = "and") -> str:
    """ "a", "a and b", "a, b and c"."""
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


# The cue that says what exactly is asked, for each topic, and what the general cue ``asks`` may add to it.
_OWN_CUE = {
    "germination": "germinating",
    "heat-and-light": "lighting",
    "potting-up": "potting",
    "hardening-off": "hardening",
}
_GENERAL = {
    "germination": {"overdue": "overdue", "depth": "depth", "age": "seed-age", "warm-enough": "warm-enough"},
    "heat-and-light": {"cost": "cost", "hours": "hours", "mat-off": "mat-off", "distance": "distance"},
    "potting-up": {"pot-size": "pot-size", "depth": "bury"},
    "hardening-off": {"tonight": "tonight", "bring-in": "bring-in"},
}


def asks(question: Request) -> frozenset[str]:
    """What exactly is asked inside the topic, possibly nothing.

    The topic's own cue decides; where it is silent, those values of the general cue ``asks`` count that mean
    the same in this topic.
    """
    own = question.cue(_OWN_CUE.get(question.topic, ""))
    if own:
        return frozenset({own})
    general = _GENERAL.get(question.topic, {}).get(question.cue("asks") or "")
    return frozenset({general} if general else ())


def gear(question: Request) -> frozenset[str]:
    """Gear named in the question (cue ``gear``)."""
    return frozenset(word.strip() for word in (question.cue("gear") or "").split(",") if word.strip())


def temp_numbers(name: str, label: str, temp_c: float, crop: str | None = None) -> tuple[Number, Number]:
    """One temperature as two numbers, ``name_f`` and ``name_c``."""
    return (
        Number(f"{name}_f", round(c_to_f(temp_c), 1), "F", label, crop),
        Number(f"{name}_c", round(temp_c, 1), "C", label, crop),
    )


def range_numbers(
    name: str, label: str, low: float, high: float, unit: str, crop: str | None = None
) -> tuple[Number, ...]:
    """A range: ``name_min`` and ``name_max`` for the machine, ``name`` as text for the grower."""
    return (
        Number(name, span(_tidy(low), _tidy(high)), unit, label, crop),
        Number(f"{name}_min", _tidy(low), unit, label, crop, shown=False),
        Number(f"{name}_max", _tidy(high), unit, label, crop, shown=False),
    )


def temp_range_numbers(
    name: str, label: str, low_c: float, high_c: float, crop: str | None = None
) -> tuple[Number, ...]:
    """A temperature range in both units: ``name_f`` / ``name_c`` as text, ``name_min_f`` ... as numbers."""
    made: list[Number] = []
    for unit, low, high in (("F", c_to_f(low_c), c_to_f(high_c)), ("C", low_c, high_c)):
        key = unit.lower()
        made += (
            Number(f"{name}_{key}", span(round(low), round(high)), unit, label, crop),
            Number(f"{name}_min_{key}", _tidy(round(low, 1)), unit, label, crop, shown=False),
            Number(f"{name}_max_{key}", _tidy(round(high, 1)), unit, label, crop, shown=False),
        )
    return tuple(made)


def finished(answer: Answer) -> Answer:
    """The answer with its figures drawn plainly: only answers about several crops tell whose each is."""
    if len({n.crop for n in answer.numbers if n.crop}) > 1:
        return answer
    return at_most_shown(replace(answer, numbers=tuple(n._replace(crop=None) for n in answer.numbers)))


_MOST_SHOWN = 7


def at_most_shown(answer: Answer, most: int = _MOST_SHOWN) -> Answer:
    """The answer with its first figures drawn and the rest kept for the JSON line: more only hides the one
    that matters. A temperature in F and in C, or a range's two ends, count by their label."""
    if len({n.crop for n in answer.numbers if n.crop}) > 1:
        return answer
    labels = list(dict.fromkeys(n.label for n in answer.numbers if n.shown and n.label))
    if len(labels) <= most:
        return answer
    drawn = set(labels[:most])
    return replace(
        answer, numbers=tuple(n._replace(shown=n.shown and n.label in drawn) for n in answer.numbers)
    )


def _tidy(value: float) -> float | int:
    rounded = round(value, 2)
    return int(rounded) if rounded == int(rounded) else rounded


def span(low: float, high: float) -> str:
    """A range of plain numbers: "7 to 14", or "7" when both ends agree."""
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def show_temp_range(low_c: float, high_c: float, units: Units) -> str:
    """A temperature range: "75 to 85 F"."""
    low, high = show_temp(low_c, units), show_temp(high_c, units)
    return high if low == high else f"{low.split()[0]} to {high}"


def range_c(pair_f: Sequence[float]) -> tuple[float, float]:
    """A published range in F as degrees C."""
    return f_to_c(pair_f[0]), f_to_c(pair_f[1])


def days_text(low: float, high: float) -> str:
    """A span of days in words: "about 8 days", "5 to 10 days"."""
    a, b = round(low), round(high)
    if a == b:
        return f"about {a} day{'' if a == 1 else 's'}"
    return f"{a} to {b} days"


def when(day: date, today: date) -> str:
    """A date near today in words: "today", "tomorrow", "Thursday", "18 Apr"."""
    ahead = (day - today).days
    if ahead == 0:
        return "today"
    if ahead == 1:
        return "tomorrow"
    if ahead == -1:
        return "yesterday"
    return f"{day:%A}" if 1 < ahead < 7 else show_date(day, today)


def place_name(site: Site) -> str:
    """The place inside a sentence: "Duluth, MN", "your garden, near Duluth"."""
    label = site.label
    return label[0].lower() + label[1:] if label.startswith("Your ") else label


def unique(*groups: Iterable[str]) -> tuple[str, ...]:
    """Everything in the groups, once, in order."""
    return tuple(dict.fromkeys(item for group in groups for item in group))


def show_span_range(low_c: float, high_c: float, units: Units) -> str:
    """A range of temperature differences: "10 to 20 degrees F"."""
    low, high = show_span(low_c, units), show_span(high_c, units)
    return f"{low.split()[0]} to {high}"
