"""No crop named: how much of each keeper feeds a household through the winter."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.topics.quantities.amounts import show_area, show_row_range, spacing_of
from gardenmate.topics.quantities.household import (
    changes_for,
    need_of,
    noun_of,
    people_of,
    round_range,
    wanted,
)
from gardenmate.topics.shared.grammar import unique


def winter_answer(question: Request, world: World) -> Answer:
    """No crop named: how much of each keeper feeds the people through the winter, and the ground it takes."""
    people, who, said = people_of(question, world)
    table = world.facts.table("amounts")["winter"]
    crops = [wanted(_ref(world, i), world) for i in world.facts.examples("winter_keepers")]
    rows, numbers, sources, area = [], [], list(table["sources"]), 0.0
    for w in crops:
        need = need_of(w, people, world.facts)
        plants = None if need is None else need.keep or need.fresh
        spacing = spacing_of(w.crop) if w.crop is not None else None
        if need is None or plants is None or spacing is None:
            continue
        middle = 0.5 * (plants[0] + plants[1])
        ground = middle * spacing.usual * spacing.usual_rows / 1e4
        area += ground
        rows.append(
            (
                noun_of(w, 2),
                round_range(plants),
                show_row_range(plants[0] * spacing.usual, plants[1] * spacing.usual, world.units),
                w.crop.amounts.winter_store if w.crop is not None else "",
            )
        )
        numbers.append(
            Number("plants_preserve_min", round(plants[0]), "plants", f"{w.name}, least", w.id, shown=False)
        )
        numbers.append(
            Number("plants_preserve_max", round(plants[1]), "plants", f"{w.name}, most", w.id, shown=False)
        )
        sources += need.sources
    return Answer(
        question=question,
        verdict=None,
        headline=(
            f"To feed {plural(people, 'person', 'people')} through the winter, grow the {len(rows)} crops in the "
            f"table on about {show_area(round(area, -1), world.units)}, paths included."
        ),
        numbers=(
            Number("people", people, "people", "people", shown=False),
            Number("area_m2", round(area, 1), "m2", "ground in rows", shown=False),
            *numbers,
        ),
        details=(
            "Potatoes, onions, carrots, cabbage and winter squash carry most of a winter; grow "
            "what you eat and leave the rest.",
            "Those are amounts for a year's store; grow the upper figure only with a cellar or a cold "
            "room to put it in.",
        ),
        table=Table(("", "plants", "row", "keeps"), tuple(rows), title=f"Winter keepers for {people}"),
        changes=changes_for(said)[:1]
        if not said
        else ("Ask for one crop ('potatoes for six') to get its seed and yield too.",),
        assumptions=unique(
            (who,) if who else (),
            ("Rows at the middle of the published spacing; intensive beds need about half the ground.",),
        ),
        sources=unique(sources),
    )


def _ref(world: World, crop_id: str) -> CropRef:
    crop = world.facts.crop(crop_id)
    return CropRef(crop.base, crop.kind)
