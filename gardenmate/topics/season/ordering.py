"""When to order seed and planting stock: counted back from the day it is wanted."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.core.answer import Answer, Mark, Number, Verdict, Window
from gardenmate.core.question import Request
from gardenmate.records import replace
from gardenmate.topics.season.case import Case, Reply, activity_words
from gardenmate.topics.season.several import answer_of

SEED_AHEAD_DAYS, STOCK_AHEAD_DAYS = 28, 56
"""Seed is ordered so long before it is sown, tubers, bulbs, slips and crowns before they are planted: they are sent
when they can be planted, and sell out (common practice)."""
SHIPPED_IN_DAYS = 14
"""An order arrives within about so long (common practice)."""
PIECES = frozenset({"seed-potatoes", "cloves", "sets", "crowns", "slips", "divisions", "bare-root"})


def order_by(case: Case, *, too_late: bool) -> Reply:
    """When to order for the next planting; with ``too_late`` whether an order made now still comes in time."""
    season, today, crop = case.season, case.today, case.terms.base
    here = today + timedelta(days=SHIPPED_IN_DAYS)
    windows = season.windows(today)
    stock = _stock(case)
    usable = [w for w in windows if w.latest >= here and not (stock and w.activity == "sow-indoors")]
    window = min(usable, key=lambda w: max(w.best_from, today), default=None)
    if window is None:
        return Reply(
            case, "no" if too_late else None, f"There is no season for {case.plants.word} {case.site.where}."
        )
    ahead = STOCK_AHEAD_DAYS if stock else SEED_AHEAD_DAYS
    day = window.best_from - timedelta(days=ahead)
    verdict = _verdict(window, here, _missed(case, window)) if too_late else None
    return Reply(
        case=case,
        told=True,
        verdict=verdict,
        headline=_headline(case, window, day, verdict),
        numbers=(
            Number("order_by", max(day, today), "date", "order by", crop),
            Number(
                "start_from",
                window.best_from,
                "date",
                f"{activity_words(case.terms, window.activity)} from",
                crop,
            ),
            Number("start_latest", window.latest, "date", "at the latest", crop),
        ),
        details=_chitting(case),
        windows=windows,
        marks=(
            Mark("today", today),
            Mark("order", max(day, today)),
            Mark("start", max(window.best_from, today)),
        ),
        working=(f"{case.on(window.best_from)} less {ahead // 7} weeks is {case.on(day)}.",),
        do=f"order by {case.on(max(day, today))}",
        sources=("common-practice", *case.terms.sources),
    )


def _stock(case: Case) -> str:
    """What is ordered of a crop that is not sown: "seed potatoes", "garlic to plant"; "" for seed."""
    methods = case.terms.crop.methods
    if methods[0] not in PIECES and (case.terms.can_raise or not PIECES & set(methods)):
        return ""
    if "seed-potatoes" in case.terms.crop.methods:
        return f"seed {case.name}"
    piece = case.terms.crop.stock.piece if case.terms.crop.stock is not None else ""
    return (
        case.name
        if not piece or piece in case.name or piece == "clove"
        else f"{case.terms.base.replace('-', ' ')} {piece}s"
    )


def _missed(case: Case, window: Window) -> date | None:
    """The last day of the season that closed lately, where the next is far; else None."""
    if window.earliest <= case.today + timedelta(days=STOCK_AHEAD_DAYS):
        return None
    closed = [
        c.latest
        for way in ("outdoors", "setout", "indoors")
        if (c := case.season.just_closed(way, case.today))
    ]
    still = [w.latest for w in case.season.windows(case.today) if w.earliest <= case.today]
    return max((*closed, *still), default=None)


def _verdict(window: Window, here: date, missed: date | None) -> Verdict:
    """Whether what comes with the next order still goes in well, at all, or not this season."""
    if missed is not None:
        return "no"
    return "yes" if here <= window.best_to else "tight"


def _headline(case: Case, window: Window, day: date, verdict: Verdict | None) -> str:
    on, what = case.on, _stock(case) or f"{case.terms.base.replace('-', ' ')} seed"
    job = activity_words(case.terms, window.activity)
    start = (
        f"from about {on(window.best_from)}"
        if window.best_from > case.today
        else f"now to {on(window.best_to)}"
    )
    if window.best_to < case.today:
        start = f"by {on(window.latest)} at the latest"
    if verdict == "no":
        missed = _missed(case, window)
        gone = "" if missed is None else f" (the last date was {on(missed)})" if missed < case.today else ""
        near = ""
        if missed is not None and missed > case.today:
            near = f" What you can buy near you may still go in until {on(missed)}."
        return f"Too late to order {what} for this season{gone}.{near} Order by {on(day)} for the next: {job} {start}."
    if verdict is not None and window.best_from > case.today + timedelta(days=SHIPPED_IN_DAYS):
        return f"Not too late to order {what}: {job} {start}, so order by about {on(max(day, case.today))}."
    if verdict is not None:
        soon = f"if it comes within about {SHIPPED_IN_DAYS // 7} weeks"
        last = "" if window.best_to < case.today else f", {on(window.latest)} at the latest"
        return f"Not too late to order {what}, {soon}: {job} {start}{last}."
    if day <= case.today:
        return f"Order {what} now: {job} {start}."
    return f"Order {what} by about {on(day)}: {job} {start}."


def _chitting(case: Case) -> tuple[str, ...]:
    """What has to be done between the parcel and the planting."""
    if "seed-potatoes" in case.terms.crop.methods:
        return ("Have them about 4 weeks before planting, to chit them in the light.",)
    return ()


def order_first(question: Request, found: Sequence[Reply]) -> Answer:
    """No crop named: when to order for the first of the usual crops to be started."""

    def starts(reply: Reply) -> date:
        return next((n.value for n in reply.numbers if n.name == "start_from"), date.max)  # type: ignore[return-value]

    ranked = sorted((r for r in found if r.windows), key=lambda r: max(starts(r), r.case.today))
    if not ranked:
        return answer_of(found[0], question)
    first, case = ranked[0], ranked[0].case
    ahead = [r for r in ranked if starts(r) > case.today][:3] or ranked[:3]
    soon, day = ahead[0], starts(ahead[0]) - timedelta(days=SEED_AHEAD_DAYS)
    when = "now" if day <= case.today else f"by about {case.on(day)}"
    jobs = ", ".join(f"{r.case.name} from {r.case.on(starts(r))}" for r in ahead)
    told = soon._replace(
        verdict=None,
        headline=f"Order seed {when}: the next to start here are {jobs}.",
        details=(
            "Seed potatoes, garlic, onion sets and bare-root plants sell out: order those two months ahead.",
        ),
        numbers=(Number("order_by", max(day, case.today), "date", "order by"),),
        windows=tuple(w for r in ahead for w in r.windows),
        sources=("common-practice", *first.sources),
    )
    return replace(answer_of(told, question), question=question)
