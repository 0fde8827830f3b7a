"""Whether a plant is meant by a name that may be a dish or a story."""

from __future__ import annotations

from gardenmate.language.intent.reading import Draft
from gardenmate.language.text.spans import words

# Words of the kitchen and the world: with them a crop's name is no plant in a garden.
_ELSEWHERE = words(
    "recipe recipes cook cooking cooked bake baking pickle pickles pickled pickling jam jelly casserole "
    "braised roast roasted fry fried chutney juice wine freezer can canning tin sport tennis legal law "
    "police movie film song app restaurant takeaway toast sandwich poisonous poison calories vitamin "
    "shares stock smoothie historically history invented umbrella cocktail"
) - {"can"}
_OF_THE_PLANT = words("my our their do does are will all on")


def elsewhere(draft: Draft) -> bool:
    return any(t.word in _ELSEWHERE for t in draft.board.tokens)


_KEPT_OFF = words("nets net netting mesh scarecrow blackbirds pigeons cellar clamp storage greening")


def plant_meant(draft: Draft) -> bool:
    """False when a crop's name is no plant: "is squash the sport harder than tennis", "pickling beetroot"."""
    board = draft.board
    if elsewhere(draft):
        return False
    if draft.found.signals & {"plot", "care", "pest"} or any(t.word in _KEPT_OFF for t in board.tokens):
        return True
    crops = board.of("crop")
    named = sum(s.end - s.start for s in crops)
    return 2 * named >= len(board.tokens) or any(board.word(s.start - 1) in _OF_THE_PLANT for s in crops)
