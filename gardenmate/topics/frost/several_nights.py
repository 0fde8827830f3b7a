"""Lows typed night by night: which nights to cover, and the night that is more than a cover."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal

from gardenmate.core.answer import Table
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.topics.frost.decide import CropNight
from gardenmate.topics.frost.night import Night
from gardenmate.topics.frost.night_words import night_label
from gardenmate.topics.frost.outlook import Outlook, laid_covers, late_in_year, no_cover_saves
from gardenmate.topics.shared.grammar import listed, sentence
from gardenmate.topics.shared.subjects import Plants, plants, together

Deed = Literal["cover", "doubtful", "beyond", ""]


def night_by_night(found: CropNight, world: World) -> str | None:
    """What to do on which night, crops with the same nights together; None where the nights have no dates, one of
    the crops has a line of its own, or nothing has to be done."""
    every = [o for night in found.by_night for o in night]
    dated = len(found.every) > 1 and all(n.on is not None for n in found.every)
    if not dated or found.cover is not None or any(o.exemption for o in every):
        return None
    groups: dict[tuple[Deed, ...], list[int]] = {}
    for crop in range(len(found.fate)):
        groups.setdefault(_deeds(crop, found, world), []).append(crop)
    if not any(any(deeds) for deeds in groups):
        return None
    unit = found.doubtful and found.night.typed is not None
    text = " ".join(_group(deeds, crops, found, world) for deeds, crops in groups.items())
    return f"If the lows are in F (tell me if they are in C): {text[:1].lower()}{text[1:]}" if unit else text


def _deeds(crop: int, found: CropNight, world: World) -> tuple[Deed, ...]:
    return tuple(_deed(each[crop], n, world) for n, each in zip(found.every, found.by_night, strict=True))


def nights_table(found: CropNight, world: World, fate: Callable[[Outlook], str]) -> Table | None:
    """Each night typed and what it does to each crop, None when there was one."""
    if len(found.every) < 2:
        return None
    bare = found.cover is None
    rows = tuple(
        (
            night_label(n, i, world),
            n.low_text(world.units),
            *(
                (_IN_TABLE.get(_deed(o, n, world)) if bare and not o.exemption else None) or fate(o)
                for o in each
            ),
        )
        for i, (n, each) in enumerate(zip(found.every, found.by_night, strict=True), 1)
    )
    return Table(("night", "low", *(plants(o.named).word for o in found.fate)), rows)


_IN_TABLE = {"cover": "cover", "doubtful": "cover, doubtful", "beyond": "too cold for a cover"}


def _deed(o: Outlook, night: Night, world: World) -> Deed:
    """What the night asks for; doubtful: the best cover holds only if the sky, of which nothing is said, is cloudy."""
    if o.outcome not in ("lost", "cover", "chilled"):
        return ""
    if o.outcome != "lost" or o.remedy is not None:
        return "cover"
    clouds_help = night.sky == "unknown" and not no_cover_saves(night.leaf_cloudy_c, o.limits.killed_c, world)
    return "doubtful" if clouds_help else "beyond"


def _group(deeds: Sequence[Deed], crops: Sequence[int], found: CropNight, world: World) -> str:
    """The crops that share their nights: covers first, then the first night that is more than a cover."""
    p = together(plants(found.fate[crop].named) for crop in crops)
    if not any(deeds):
        return f"{sentence(p.word)} {p.does('need')} no cover on any of them."
    last = deeds.index("beyond") if "beyond" in deeds else None
    before = [i for i, deed in enumerate(deeds[:last]) if deed]
    told = []
    if before:
        doubtful = [i for i in before if deeds[i] == "doubtful"]
        use = _best(doubtful, before, crops, found, world)
        nights = (f"{_name(n, world)} ({n.low_text(world.units)})" for n in (found.every[i] for i in before))
        told.append(f"cover the {p.word} {listed(nights)}{f' with {use}' if use else ''}")
        if doubtful:
            picked = ", so pick what is ripe before then" if late_in_year(world) and last is None else ""
            these = listed(_name(found.every[i], world) for i in doubtful)
            told.append(f"{these} that saves {p.them} only if it is cloudy or windy{picked}")
    if last is not None:
        told.append(_beyond(found.every[last], p, found, world, named=not before))
    return f"{sentence('; '.join(told))}."


def _best(
    doubtful: Sequence[int], before: Sequence[int], crops: Sequence[int], found: CropNight, world: World
) -> str | None:
    """The cover that is enough on all of these nights, the heaviest there is where one of them is doubtful."""
    if doubtful:
        return laid_covers(world)[-1].name
    remedies = [r for i in before for crop in crops if (r := found.by_night[i][crop].remedy) is not None]
    best = max(remedies, key=lambda r: r.plan_c, default=None)
    return best.name if best is not None else None


def _beyond(night: Night, p: Plants, found: CropNight, world: World, *, named: bool) -> str:
    low = f"{night.low_text(world.units)} {_name(night, world)}"
    start = f"{low} is too cold for any cover{f' laid over {p.word}' if named else ''}"
    if late_in_year(world):
        return f"{start}, so pick all you can before that night"
    carry = "" if found.planted else "carry in what is in pots, "
    return f"{start}: {carry}lay on all the covers you have, and expect losses"


def _name(night: Night, world: World) -> str:
    assert night.on is not None
    ahead = (night.on - world.today).days
    return {0: "tonight", 1: "tomorrow night"}.get(
        ahead, f"on {night.on:%a} {show_date(night.on, world.today)}"
    )
