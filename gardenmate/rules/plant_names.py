"""Crops and plants by the name a grower reads."""

from __future__ import annotations

from collections.abc import Iterable

from gardenmate.knowledge.facts import Facts
from gardenmate.question import CropRef


def plant_name(ref: CropRef, facts: Facts) -> str:
    """A crop or woody plant as the grower called it, unless that was misspelled; else its plain name."""
    typed = ref.typed.strip().lower()
    entry = facts.names.get(typed)
    if entry is not None and not entry.misspelled:
        return typed
    return ref.id.replace("-", " ")


def plant_names(refs: Iterable[CropRef], facts: Facts) -> str:
    """Several names joined for a sentence: "tomatoes, peppers and basil"; "" for none."""
    names = list(dict.fromkeys(plant_name(ref, facts) for ref in refs))
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
