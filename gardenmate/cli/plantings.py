"""`gardenmate plantings`: every batch that is growing, with its stage and next step."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import date

from gardenmate.core.text import encodable, harmless
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.dialogue.home import needs_garden
from gardenmate.dialogue.session import make_conversation
from gardenmate.plantings.batches import Batch
from gardenmate.plantings.current import batches_of
from gardenmate.topics.log.settle import named
from gardenmate.topics.plantings.steps import Step, next_step
from gardenmate.topics.shared.plant_names import plant_name


def run(options: argparse.Namespace) -> int:
    """Print the living batches, one line each, or one JSON list of all of them."""
    needs_garden(options)
    conversation = make_conversation(options)
    world = conversation.world()
    batches = batches_of(world.journal)
    if options.json:
        sys.stdout.write(json.dumps([_row(b, world) for b in batches]) + "\n")
        return 0
    living = [b for b in batches if b.alive]
    for batch in living:
        sys.stdout.write(encodable(harmless(_line(batch, world)), sys.stdout.encoding or "utf-8") + "\n")
    if not living:
        print("Nothing is growing that I know of. Tell me what you sow: 'sowed 12 tomatoes in tray 1'.")
    return 0


def _row(batch: Batch, world: World) -> dict[str, object]:
    step = next_step(batch, world)
    return {
        "id": batch.id,
        "crop": batch.crop,
        "variety": batch.variety,
        "count": batch.count,
        "where": batch.where or batch.garden or None,
        "stage": batch.stage,
        "since": batch.since.isoformat(),
        "next": step.do if step is not None else None,
        "next_on": step.on.isoformat() if step is not None and step.on is not None else None,
    }


def _line(batch: Batch, world: World) -> str:
    today = world.today
    name = plant_name(named(batch.crop, world), world.facts)
    count = "" if batch.count is None else f"{batch.count:g} {batch.unit} ".replace("  ", " ")
    variety = f" ({batch.variety})" if batch.variety else ""
    where = f", {batch.where}" if batch.where else ""
    said = (
        f"{batch.id:>4}  {count}{name}{variety}{where}: {batch.stage} since {show_date(batch.since, today)}"
    )
    return said + _then(next_step(batch, world), today)


def _then(step: Step | None, today: date) -> str:
    if step is None:
        return ""
    return f"; {step.do}" + ("" if step.on is None else f" about {show_date(step.on, today)}")
