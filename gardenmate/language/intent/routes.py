"""Topics that what was typed decides over what the words lean to: the last step before a request is answered."""

from __future__ import annotations

from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts

_STARTS = ("hardening-off", "early-start", "late-start", "when-start")
_HOUSES = ("frame", "greenhouse", "tunnel", "cloche", "plastic")
_HOUSE_GEAR = frozenset({*_HOUSES, "opener", "heater"})
_DOME_FROM = ("pruning", "cold-frame", "frost", "unclear", "out-of-scope")
_WARMERS = frozenset({"mat", "lamp", "thermostat"})
_HOUSE_CUES = ("glazing", "vent", "framing")
_HOT_C = 25.0  # design value: a planting day this warm is hot; the rule looks at the crop's own figures
_NOT_BY_NIGHT = ("germination", "late-start", "when-start", "harvest-date", "how-many", "unclear")
_MULCH_FROM = ("pruning", "out-of-scope", "unclear", "garden", "when-start", "late-start", "early-start")


def by_values(request: Request, facts: Facts) -> tuple[str, str] | None:
    """(topic, why) where the values typed decide the topic, None where they leave it as it is."""
    sprouting = request.topic == "germination"  # seed stands warm by day and cooler by night
    low = bool(request.crops) and not sprouting and any(t.role == "low" for t in request.slots.temps)
    tonight = request.slots.when == "tonight" and bool(request.slots.temps)
    if request.topic in _NOT_BY_NIGHT and (tonight or low) and not request.has("plants", "seed"):
        return "frost", "the cold of this night is told"
    if request.topic in _MULCH_FROM and request.has("mulch") and _winter_mulch(request, facts):
        return "frost", "the winter mulch of a crop is asked about"
    in_rows = request.has("night-low") and request.has("stand", "planted")
    if request.topic in _STARTS and request.crops and in_rows:
        return "frost", "nights in a row, and plants that stand in the ground already"
    if request.topic == "frost" and _under_glass(request):
        return "cold-frame", "a night is told, and what it does under glass or plastic asked"
    if request.topic == "frost" and request.crops and request.has("start", "ground-seen"):
        return "early-start", "a start in frozen or wet ground is asked about, not a frost on plants"
    if request.topic == "cold-frame" and not _house_named(request):
        if request.has("asks", "cover-gain") and request.cue("cover") is not None:
            return "frost", "what a cover laid over plants keeps is asked"
        if _planting_in_heat(request):
            return "early-start", "planting out on a hot day, with no frame or house named"
        if request.cue("origin") is not None and request.ask.temps:
            return "frost", "the plants came from a house, and stand outside"
    return _raising(request)


def _under_glass(request: Request) -> bool:
    """True when plants stand in a frame or house on a night told; not those just taken out of one."""
    return request.cue("cover") in _HOUSES and bool(request.slots.temps) and request.cue("origin") is None


def _raising(request: Request) -> tuple[str, str] | None:
    """Among the topics of young plants: bringing them in is hardening off, a mat on a cold night is heat."""
    gear = _gear(request)
    if request.topic == "heat-and-light" and request.cue("hardening") == "bring-in" and not gear & _WARMERS:
        return "hardening-off", "plants are to be brought in"
    if request.topic in _DOME_FROM and "dome" in gear and not gear & _HOUSE_GEAR:
        return "heat-and-light", "the dome of a seed tray is asked about"
    potted = request.ask.container is not None or request.has("plants", "young")
    at_night = request.has("hour", "night") or request.has("stand", "house")
    cold = potted and at_night and request.ask.temperature_c is not None and not request.has("plants", "seed")
    if request.topic == "potting-up" and request.crops and "mat" in gear and cold:
        return "heat-and-light", "a mat for plants in pots on a cold night"
    return None


def _gear(request: Request) -> frozenset[str]:
    """The gear named."""
    return frozenset(word.strip() for word in (request.cue("gear") or "").split(","))


def _winter_mulch(request: Request, facts: Facts) -> bool:
    """True when the first crop named has a winter mulch of its own."""
    crop = facts.crop_for(request.crops[0]) if request.crops else None
    return crop is not None and crop.winter_mulch is not None


def _house_named(request: Request) -> bool:
    """True when something that could be opened or shut is named, now or earlier."""
    named = request.cue("cover") in _HOUSES or request.cue("place_kind") == "greenhouse"
    return named or bool(_gear(request) & _HOUSE_GEAR) or any(request.cue(name) for name in _HOUSE_CUES)


def _planting_in_heat(request: Request) -> bool:
    """True when planting out is asked about on a hot day, or in the middle of the day."""
    if request.cue("method") != "setout" and not request.has("doing", "planting"):
        return False
    temp_c = request.ask.temperature_c
    return request.has("hour", "noon") if temp_c is None else temp_c >= _HOT_C
