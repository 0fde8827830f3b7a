"""What the raising topics share: the crops named, what exactly is asked, the gear named."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.climate.site import Site
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.records import NamedTuple
from gardenmate.topics.shared.plant_names import proper


class Named(NamedTuple):
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


def seed_crops(question: Request, world: World) -> tuple[Named, ...]:
    """As `named_crops`, where seed is spoken of: "onion seed" is a crop's name, and its seed no "onion seed seed"."""
    return tuple(n._replace(name=n.name.removesuffix(" seed")) for n in named_crops(question, world))


def day_and_night_c(question: Request) -> tuple[float, float] | None:
    """The day's and the night's temperature where a question names both, degrees C; None where it does not."""
    temps = question.ask.temps
    days, nights = ([t.celsius for t in temps if t.role == role] for role in ("high", "low"))
    return (max(days), min(nights)) if days and nights else None


def spoken_name(crop: Crop, ref: CropRef | None = None) -> str:
    """The singular trade name: the grower's own word when it is one ("courgette"), else the usual one."""
    typed = ref.typed.lower().strip() if ref is not None else ""
    known = (*crop.names, *crop.generic_names)
    singular = [typed[: -len(end)] for end in ("es", "s") if typed.endswith(end)]
    for word in (*singular, typed):
        if word in known:
            return proper(word)
    return proper(crop.generic_names[0] if crop.generic_names else crop.names[0])


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


def range_c(pair_f: Sequence[float]) -> tuple[float, float]:
    """A published range in F as degrees C."""
    return f_to_c(pair_f[0]), f_to_c(pair_f[1])


def place_name(site: Site) -> str:
    """The place inside a sentence: "Duluth, MN", "your garden, near Duluth"."""
    label = site.label
    return label[0].lower() + label[1:] if label.startswith("Your ") else label
