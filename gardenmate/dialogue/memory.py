"""What turns before leave for those after: deeds just kept, varieties known, and what they mean for a question."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from gardenmate.core.answer import Answer
from gardenmate.core.effects import LogDecision
from gardenmate.core.errors import DamagedFileError
from gardenmate.core.question import CropRef, Deed, Request
from gardenmate.core.world import JournalView
from gardenmate.garden.profile import Garden, Variety
from gardenmate.plantings.current import batches_of
from gardenmate.records import replace

_TIMED = frozenset({"late-start", "early-start", "when-start", "harvest-date", "buy-or-sow"})


def deeds_kept(answer: Answer) -> tuple[Deed, ...]:
    """The deeds an answer keeps, as the next turn may lean on them."""
    return tuple(
        Deed(
            e.action,
            e.text,
            tuple(CropRef(c) for c in e.crops),
            e.detail.get("variety"),
            e.count,
            e.detail.get("unit", ""),
            e.detail.get("where"),
            e.on,
            of=e.detail.get("of"),
        )
        for e in answer.effects
        if isinstance(e, LogDecision)
    )


def known_varieties(garden: Garden, journal: JournalView | None) -> Mapping[str, str]:
    """The names of varieties told of the garden or named in the log, with the crop of each."""
    try:
        found = {b.variety: b.crop for b in batches_of(journal) if b.variety}
    except DamagedFileError:  # told by whoever lists or writes the journal; a name less is known
        found = {}
    return {**found, **{v.name: v.crop for v in garden.varieties.values()}}


def varieties_meant(question: Request, garden: Garden) -> tuple[Variety, ...]:
    """The varieties a question about one crop is about: those it names, else those told of the crop that have days."""
    if len(question.crops) != 1 or question.topic not in _TIMED:
        return ()
    kept = garden.varieties_of(question.crops[0].id)
    named = {str(t.value).casefold() for t in question.all("variety")}
    chosen = tuple(v for v in kept if v.name.casefold() in named)
    return tuple(v for v in chosen or kept if v.days is not None)


def with_variety(question: Request, garden: Garden) -> tuple[Request, str | None]:
    """The question with the days of the grower's own variety, and the words that say so; unchanged where days were
    typed, no variety fits, or several do."""
    meant = varieties_meant(question, garden)
    if len(meant) != 1 or question.ask.days_to_maturity is not None:
        return question, None
    variety = meant[0]
    carried = replace(question.carried, days_to_maturity=variety.days)
    return replace(question, carried=carried), f"your {variety.name}, {variety.days} days"


def named_for(headline: str, variety: str) -> str:
    """The first line, saying which of the grower's varieties it is for."""
    end = headline[-1:] if headline[-1:] in ".!" else ""
    return f"{headline.removesuffix(end) if end else headline} ({variety}){end}"


def which_variety(question: Request, garden: Garden) -> Sequence[Variety]:
    """The varieties of a crop a question leaves open: several have days and none is named."""
    meant = varieties_meant(question, garden)
    return meant if len(meant) > 1 and question.ask.days_to_maturity is None else ()
