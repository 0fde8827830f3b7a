"""First pickings of the grower's own, beside the packet's or the table's days to maturity."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.question import Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.plantings.current import spans_told
from gardenmate.plantings.own_days import OwnMean, OwnSpan, beside
from gardenmate.science.thermal_time import degree_days_sine
from gardenmate.topics.season.site_year import SiteYear
from gardenmate.topics.season.terms import Terms

_MOST_FILLED = 15  # days missing in an imported record beyond which the place's normals are used instead
_MOST_DAYS = (
    400  # a first picking later than this belongs to another life (asparagus); it is no days to maturity
)


def with_own_pickings(terms: Terms, question: Request, world: World, year: SiteYear) -> Terms:
    """The terms with days to maturity that lean to the grower's own first pickings, and a note that says how far.

    As they are where nothing was picked, the question is about another place, or days were typed in it.
    """
    if world.home is not None or question.slots.days_to_maturity is not None or terms.rule:
        return terms
    spans = own_pickings(question, world, terms)
    found = beside(terms.dtm, spans, lambda span: counted_as(span, terms, year))
    if found is None:
        return terms
    told = terms.variety_said or question.carried.days_to_maturity is not None
    notes = (*terms.notes, *own_notes(found, terms, packet=told))
    if not found.counted:
        return terms._replace(notes=notes)
    return terms._replace(
        dtm=float(round(found.value)),
        notes=notes,
        variety_said=True,
        own_sources=(*terms.own_sources, "own-days"),
    )


def own_pickings(question: Request, world: World, terms: Terms) -> tuple[OwnSpan, ...]:
    """The own first pickings a question about one crop leans on: those of the variety it names or the garden grows,
    else all of the crop where they are of one variety."""
    base = terms.crop.base
    mine = [
        s for s in spans_told(world.journal) if s.kind == "pick" and s.crop == base and s.days <= _MOST_DAYS
    ]
    if not mine:
        return ()
    typed = question.first("variety")
    grown = world.garden.variety_for(base)
    name = str(typed.value) if typed is not None else grown.name if grown is not None else None
    if name is not None:
        return tuple(s for s in mine if s.variety.casefold() == name.casefold())
    return tuple(mine) if len({s.variety.casefold() for s in mine}) == 1 else ()


def counted_as(span: OwnSpan, terms: Terms, year: SiteYear) -> float:
    """The days to maturity, as a packet would print them, that an own first picking comes to.

    The warmth from setting out (or sowing) to the picking is divided by that of one printed day. A cool garden's
    sixty days are so no slower than a packet's fifty.
    """
    printed = _degree_days(span, terms, year) / terms.reference_rate()
    usual = terms.days_needed("setout" if span.raised else "outdoors") - terms.dtm
    return max(printed - usual, 1.0)


def _degree_days(span: OwnSpan, terms: Terms, year: SiteYear) -> float:
    history = year.site.history
    if history is not None:
        low, high, filled = history.span_c(span.begun, span.days, year.site)
        if filled <= _MOST_FILLED:
            most = terms.most_per_day()
            days = zip(low, high, strict=True)
            return sum(min(most, degree_days_sine(a, b, terms.base_c, terms.upper_c)) for a, b in days)
    total = terms.total(year)
    _, start = year.day_number(span.begun)
    return total[start + span.days] - total[start]


def own_notes(found: OwnMean, terms: Terms, *, packet: bool) -> tuple[str, ...]:
    """ "Your Glacier took 61 days from setting out in 2026; the packet says 55. With the warmth here I count 57." """
    lines = []
    printed = f"the {'packet' if packet else 'table'} says {found.table:.0f}"
    if found.counted:
        took = " and ".join(_took(s) for s in found.counted[-3:])
        more = f" ({plural(len(found.counted), 'picking')} in all)" if len(found.counted) > 3 else ""
        lines.append(
            f"Your {_name(found.counted, terms)} took {took}{more}; {printed}. Allowing for the warmth here I count "
            f"{round(found.value)}."
        )
    for span in found.odd:
        lines.append(
            f"Your log has {_name((span,), terms)} taking {_took(span)}, where {printed}: is that right? I left it out."
        )
    return tuple(lines)


def _took(span: OwnSpan) -> str:
    return f"{plural(span.days, 'day')} from {'setting out' if span.raised else 'sowing'} in {span.year}"


def _name(spans: Sequence[OwnSpan], terms: Terms) -> str:
    return spans[0].variety or terms.words
