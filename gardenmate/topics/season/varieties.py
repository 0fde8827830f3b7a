"""Kinds and varieties growers call by name ("first earlies"), with their own days to maturity."""

from __future__ import annotations

from gardenmate.core.question import Request
from gardenmate.topics.season.terms import Terms


def as_named(terms: Terms, question: Request) -> Terms:
    """The terms of the variety named in the question; as they are where none is, or its days were told."""
    if question.ask.days_to_maturity:
        return terms
    said = {str(t.value) for t in question.all("sort", terms.crop.base)}
    told = [(n, row) for row in terms.crop.varieties for n in row.names if n in said]
    if not told:
        return terms
    name, row = told[0]
    note = f"{name.capitalize()}: about {row.days:.0f} days to maturity."
    sources = (*terms.own_sources, *row.sources)
    return terms._replace(dtm=row.days, notes=(note,), variety_said=True, own_sources=sources)
