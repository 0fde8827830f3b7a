"""How long the grower's own plants took: to come up, to be potted up, to the first picking; and how far that counts
beside a table.

A mean of n own spans counts n/(n + k) beside the table's figure: the weight of a normal mean whose noise is k times as
wide (in variance) as what the table leaves open about this garden (the same update as of own frost years, see
gardenmate.climate.own_years).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import Literal

from gardenmate.plantings.batches import Batch
from gardenmate.records import NamedTuple

SpanKind = Literal["up", "pot-up", "pick"]
K_SPANS = 2.0
"""One own span counts a third, two a half, four two thirds. Design value."""
MOST_EACH = 12
"""So many newest spans of a kind, crop and variety are kept; more would change no answer. Design value."""
ODD_RATIO = 2.0
"""More than so many times the table, or less than that part of it, is asked about and not counted. Design value."""
_MOST_TOLD = 120  # letters
ODD_DAYS = (
    3.0  # never odd within so few days of the table: of three days two more is no wonder (design value)
)


class OwnSpan(NamedTuple):
    """One span of one batch: ``days`` from ``begun`` (sown; for a picking set out, or sown where it grows) to the
    step. ``raised``: it was set out as a plant; ``told``: the words of its sowing and place, in small letters;
    ``temp_c`` the warmth told with it; ``entry`` the number of the batch."""

    kind: SpanKind
    crop: str
    begun: date
    days: int
    variety: str = ""
    raised: bool = False
    told: str = ""
    temp_c: float | None = None
    entry: int = 0

    @property
    def mat(self) -> bool:
        """True when it was sown on a mat."""
        return " mat" in f" {self.told}"

    @property
    def year(self) -> int:
        """The year it began in."""
        return self.begun.year


class OwnMean(NamedTuple):
    """Own spans laid over a table's figure (days): ``mean`` of those ``counted``, the ``weight`` (0-1) they have, and
    the ``value`` that comes of both. ``odd`` are left out until the grower has said that they are right."""

    table: float
    mean: float
    weight: float
    value: float
    counted: tuple[OwnSpan, ...]
    odd: tuple[OwnSpan, ...] = ()


def spans_of(batches: Iterable[Batch]) -> tuple[OwnSpan, ...]:
    """Every span the batches tell."""
    return tuple(span for batch in batches for span in _of_batch(batch))


def _of_batch(batch: Batch) -> list[OwnSpan]:
    told = " ".join(f"{batch.text} {batch.sown_in or ''}".lower().split())[:_MOST_TOLD]

    def span(
        kind: SpanKind, begun: date | None, until: date | None, *, raised: bool = False
    ) -> list[OwnSpan]:
        if begun is None or until is None or until <= begun:
            return []
        days = (until - begun).days
        return [
            OwnSpan(
                kind, batch.crop, begun, days, batch.variety or "", raised, told, batch.temp_c, batch.began
            )
        ]

    sown = None if batch.bought else batch.begun
    return [
        *span("up", sown, batch.up),
        *span("pot-up", sown, batch.potted),
        *span("pick", batch.out or sown, batch.picked, raised=batch.out is not None),
    ]


def merged(before: Iterable[OwnSpan], after: Iterable[OwnSpan]) -> tuple[OwnSpan, ...]:
    """Spans known before and now: of one batch and kind the newest telling holds, of one variety the newest few."""
    found = {(s.kind, s.crop, s.entry, s.variety): s for s in before}
    found |= {(s.kind, s.crop, s.entry, s.variety): s for s in after}
    alike: dict[tuple[str, str, str], list[OwnSpan]] = {}
    for span in sorted(found.values(), key=lambda s: (s.begun, s.entry)):
        alike.setdefault((span.kind, span.crop, span.variety), []).append(span)
    return tuple(span for spans in alike.values() for span in spans[-MOST_EACH:])


def beside(
    table: float, spans: Sequence[OwnSpan], days: Callable[[OwnSpan], float] = lambda span: float(span.days)
) -> OwnMean | None:
    """Own spans beside a table's figure (days); None without any. ``days``: what a span counts as."""
    if not spans:
        return None
    odd = tuple(s for s in spans if is_odd(days(s), table))
    counted = tuple(s for s in spans if s not in odd)
    if not counted:
        return OwnMean(table, table, 0.0, table, (), odd)
    mean = sum(days(s) for s in counted) / len(counted)
    weight = len(counted) / (len(counted) + K_SPANS)
    return OwnMean(table, mean, weight, table + weight * (mean - table), counted, odd)


def is_odd(days: float, table: float) -> bool:
    """True for a span so unlike the table that a slip of the pen is likelier."""
    if abs(days - table) <= ODD_DAYS:
        return False
    return days > ODD_RATIO * table or days < table / ODD_RATIO
