"""Crops and plants by the name a grower reads."""

from __future__ import annotations

from collections.abc import Iterable

from gardenmate.core.question import CropRef
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.plants import name_of, plant_files

_OF_A_PLACE = frozenset(
    [
        "brussels",
        "new",
        "french",
        "swiss",
        "chinese",
        "english",
        "welsh",
        "thai",
        "italian",
        "irish",
        "greek",
        "american",
        "european",
        "boston",
        "california",
        "russian",
        "zealand",
    ]
)


def proper(name: str) -> str:
    """A plant name with the capital a place or a people in it keeps: "French beans"."""
    new = "new" if "new zealand" not in name else ""
    return " ".join(w.title() if w in _OF_A_PLACE and w != new else w for w in name.split(" "))


def plant_name(ref: CropRef, facts: Facts) -> str:
    """A crop or woody plant as the grower called it, unless that was misspelled; else its plain name."""
    typed = ref.typed.strip().lower()
    return proper(typed if typed in names_of(ref.id, facts) else name_of(facts, ref.id))


def plant_names(refs: Iterable[CropRef], facts: Facts) -> str:
    """Several names joined for a sentence: "tomatoes, peppers and basil"; "" for none."""
    names = list(dict.fromkeys(plant_name(ref, facts) for ref in refs))
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


_PARTS = frozenset({"plants", "seedlings", "sets", "cloves", "clove", "slips", "crowns", "seed", "seeds"})


def spoken_words(crop: Crop, refs: Iterable[CropRef], usual: str) -> str:
    """The crop in running text by the grower's own word ("courgettes"), in the plural where it has one.

    ``usual`` stays where the grower's word is no name of the crop, or only another form of ``usual``.
    """
    for ref in refs:
        typed = ref.typed.strip().lower()
        if ref.id != crop.base or typed not in crop.names or _PARTS & set(typed.split()):
            continue
        if (
            typed.rstrip("s") in (usual.lower().rstrip("s"), crop.names[0].rstrip("s"))
            or typed in usual.lower()
        ):
            return usual
        plural = next(
            (p for p in (f"{typed}s", f"{typed}es") if p in crop.names and not typed.endswith("root")), typed
        )
        return proper(typed if typed.endswith("i") else plural)
    return usual


def names_of(base: str, facts: Facts, misspelled: bool = False) -> tuple[str, ...]:
    """Every name of a crop or plant of any kind, lower case, the longest first; reads only its own files."""
    found: set[str] = set()
    for head in plant_files(facts, base):
        found |= {*head["names"], *head.get("generic_names", ())}
        found |= set(head.get("misspelled", ())) if misspelled else set()
    return tuple(sorted((name.lower() for name in found), key=lambda name: (-len(name), name)))
