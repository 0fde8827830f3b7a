"""What a bed of the size told holds: at its distance both ways, as in a bed without paths, and in rows."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import Request
from gardenmate.core.units import plural, show_length_cm
from gardenmate.core.world import World
from gardenmate.science.seed_counts import plants_in_bed
from gardenmate.topics.quantities.amounts import SPACING, show_row, spacing_of
from gardenmate.topics.quantities.household import Wanted, piece_of
from gardenmate.topics.shared.grammar import sentence, unique

_ROUNDED_CM = 0.1  # sizes are kept to the millimetre: 4 ft must not miss its twelfth plant at 4 in
_SMALL_CM = 30.0  # up to this distance a crop is set both ways alike in a bed (common practice)
_LEAST_M = 0.5  # narrower is a tray, not a bed


def is_bed_size(question: Request) -> bool:
    """True when the count said is only a figure of the bed's size ("a 4x8 bed")."""
    size, count = bed_size(question), question.ask.count
    if size is None or size[0] < _LEAST_M or question.ask.people is not None:
        return False
    return count is None or count in [t.value for t in question.all("figure", "size")]


def bed_size(question: Request) -> tuple[float, float] | None:
    """Width and length in metres of the bed told, None without one."""
    width, length = question.first("size", "width"), question.first("size", "length")
    return None if width is None or length is None else (width.number, length.number)


def bed_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer | None:
    """What the bed told holds, when that is all that is asked; None without distances for the crop."""
    if not is_bed_size(question):
        return None
    notes, numbers = bed_notes(question, world, crops)
    if not notes:
        return None
    return Answer(
        question=question,
        verdict=None,
        headline=notes[0],
        numbers=tuple(n._replace(shown=True) for n in numbers),
        details=notes[1:],
        assumptions=(
            "No path through the bed."
            if question.first("size", "spacing") is not None
            else "Middle of the published distances in the row; rows at the narrowest; no path through the bed.",
        ),
        sources=unique(*(w.crop.space.sources.of(*SPACING) for w in crops if w.crop is not None)),
    )


def bed_notes(
    question: Request, world: World, crops: tuple[Wanted, ...]
) -> tuple[tuple[str, ...], tuple[Number, ...]]:
    """Sentences and figures for a bed whose size is in the words ("4 by 8 box"), shared by the crops."""
    size, wanted = bed_size(question), question.first("size", "spacing")
    known = [(w, s) for w in crops if w.crop is not None and (s := spacing_of(w.crop)) is not None]
    if size is None or not known or size[0] < _LEAST_M:
        return (), ()
    width, length = (side * 100.0 + _ROUNDED_CM for side in size[:2])
    length /= len(known)
    shown = f"{show_row(size[0] * 100.0, world.units).split()[0]} x {show_row(size[1] * 100.0, world.units)}"
    notes, numbers = [], []
    for w, s in known:
        # No path runs through a bed: small crops stand at their distance both ways.
        rows = max(1, plants_in_bed(width, length, s.usual, s.rows[0]))
        if wanted is not None:
            rows = plants_in_bed(width, length, 100.0 * wanted.number, 100.0 * wanted.number)
        small = s.usual <= _SMALL_CM
        gap = s.usual if small else s.in_row[1]
        if wanted is not None:
            gap, small = 100.0 * wanted.number, True
        close = plants_in_bed(width, length, gap, gap)
        if close <= rows and wanted is None:
            gap = s.in_row[0]
            close = max(rows, plants_in_bed(width, length, gap, gap))
        bed = f"a bed of {shown}"
        if len(known) > 1:
            bed = f"{show_row(length, world.units)} of {bed}"
        many, few = (
            plural(close, f"{w.name} {piece_of(w.crop)}"),
            plural(rows, f"{w.name} {piece_of(w.crop)}"),
        )
        both, apart = show_length_cm(gap, world.units), show_length_cm(s.rows[0], world.units)
        said = (
            f"about {many} {both} apart both ways"
            if wanted is not None
            else f"about {many} {both} apart both ways, or {rows} in rows {apart} apart"
            if small
            else f"about {few} in rows, or up to {close} set close in rich soil"
        )
        notes.append(sentence(f"{bed} holds {said}."))
        crop = w.id if len(known) > 1 else None
        numbers.append(Number("bed_holds", rows, "plants", "the bed holds, in rows", crop, shown=False))
        numbers.append(
            Number("bed_holds_most", close, "plants", "the bed holds, set close", crop, shown=False)
        )
    return tuple(notes), tuple(numbers)
