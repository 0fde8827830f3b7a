"""Plants that are being hardened already: how many days are left, and the day they may be planted out."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Answer, Mark, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import plural, show_date, show_temp
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.season.set_out import set_out_window
from gardenmate.topics.seedlings.hardening_facts import Hardening, hardening_of
from gardenmate.topics.seedlings.hardening_reply import reply
from gardenmate.topics.shared.grammar import listed, sentence, span
from gardenmate.topics.shared.raising import Named, named_crops
from gardenmate.topics.shared.subjects import plants

_NEARLY = 2 / 3  # of the least days: plants live, and stand still for a week (common practice)
_LONGEST = 28.0  # days; longer is no hardening but the age of the plants (design value)
_NEXT_SEASON_DAYS = 150  # a set-out window that far ahead is the next season's


def days_done(question: Request, today: date) -> int | None:
    """Days of hardening behind the plants that are to be planted out; None when that is not what is said."""
    going_out = question.cue("going_out") == "yes" or question.has("doing", "going-out")
    if not question.has("plants", "hardening-begun") or not going_out:
        return None
    if question.ask.days is not None:
        return round(question.ask.days)
    if question.ask.weeks is not None:
        return round(7 * question.ask.weeks)
    began = question.ask.date
    return (today - began).days if began is not None and began < today else None


def too_short(question: Request, world: World) -> Answer | None:
    """The answer when the days of hardening said are fewer than the crop needs; None when they are enough."""
    done = days_done(question, world.today)
    crops = named_crops(question, world) if done is not None else ()
    kept = tuple(hardening_of(n, world) for n in crops if "not-hardened" not in n.crop.traits)
    if done is None or not kept or all(done >= k.days[0] for k in kept):
        return None
    return answer(question, world, kept, done)


def enough(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer | None:
    """Are so many days enough? yes from the crop's least, tight from two thirds of it; None when not asked."""
    ask = question.ask
    days = ask.days if ask.days is not None else ask.weeks and 7 * ask.weeks
    if not kept or not days or not question.has("asks", "enough"):
        return None
    least, usual = max(k.days[0] for k in kept), max(k.usual_days for k in kept)
    had = plural(round(days), "day")
    names = listed(k.plants if k.named is None else plants(k.named).word for k in kept)
    span_text = span(least, max(k.days[1] for k in kept))
    verdict: Verdict = "yes" if days >= least else "tight" if days >= _NEARLY * least else "no"
    headline = {
        "yes": f"Yes, {had} is enough for {names} if the last two or three nights were out.",
        "tight": f"Only just: {had} is short for {names}: {span_text} days is better. Plant on a dull, still day.",
        "no": f"No, {had} is not long enough for {names}: allow {span_text} days, usually {usual}.",
    }[verdict]
    return reply(
        question, world, kept, verdict, headline,
        numbers=(Number("days_left", max(0, round(least - days)), "days", "more days of hardening, at least"),),
    )  # fmt: skip


def with_days_said(found: Answer, question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """An answer about something else, with a word on the days said: long enough, or how many more it takes.

    So many weeks that no hardening lasts as long are how old the plants are, and that settles nothing here.
    """
    days_c = [t.celsius for t in question.slots.temps if t.role == "high"]
    if days_c and any(t.role == "low" for t in question.slots.temps):
        line = f"Days of {show_temp(max(days_c), world.units)} are for hardening; the nights decide where they sleep."
        found = replace(found, headline=f"{found.headline} {line}")
    span_said = question.first("span")
    days = (
        0.0 if span_said is None else span_said.number * {"days": 1.0, "weeks": 7.0}.get(span_said.unit, 0.0)
    )
    if span_said is None or span_said.told or not 0 < days <= _LONGEST:
        return found
    kept = kept or (hardening_of(None, world),)
    least, most = max(k.days[0] for k in kept), max(k.days[1] for k in kept)
    had = sentence(plural(round(span_said.number), span_said.unit.removesuffix("s")))
    if days >= least:
        line = f"{had} is long enough, if the last two or three nights are out too."
    else:
        line = f"{had} is not enough: allow {span(least, most)} days."
    return replace(found, headline=f"{found.headline} {line}")


def answer(question: Request, world: World, kept: tuple[Hardening, ...], done: int) -> Answer:
    """May they be planted out after ``done`` days? yes, or no with the days left and the day."""
    today = world.today
    least = max(max(0, round(k.days[0]) - done) for k in kept)
    most = max(max(0, round(k.days[1]) - done) for k in kept)
    hard = today + timedelta(days=least)
    window_from = _window_from(kept, world)
    late = window_from is not None and (window_from - today).days > _NEXT_SEASON_DAYS
    window_from = None if late else window_from
    out = max(hard, window_from) if window_from is not None else hard
    names = listed(k.name for k in kept)
    had = plural(done, "day")
    verdict: Verdict = ("tight" if late else "yes") if out <= today else "no"
    if verdict == "tight":
        headline = f"Hard enough after {had}, but the usual time to set out {names} has gone by: expect less."
    elif verdict == "yes":
        headline = f"Yes: after {had} of hardening {names} can be planted out when the nights allow."
    elif least:
        more = plural(least, "more day", "more days") if most == least else f"{span(least, most)} more days"
        headline = (
            f"Not yet: after {had} of hardening {names} needs {more}, so plant it out "
            f"{show_date(out, today)} or later."
        )
    else:
        headline = (
            f"Not yet: {had} of hardening is enough for {names}, but planting out begins about "
            f"{show_date(out, today)}."
        )
    extra = (
        (f"{sentence(names)} is usually planted out from about {show_date(window_from, today)}.",)
        if least and window_from is not None and window_from > hard
        else ()
    )
    return reply(
        question,
        world,
        kept,
        verdict,
        headline,
        numbers=(
            Number("days_left", least, "days", "more days of hardening, at least"),
            Number("set_out", out, "date", "plant out"),
        ),
        marks=(Mark("plant out", out),),
        extra=extra,
    )


def _window_from(kept: tuple[Hardening, ...], world: World) -> date | None:
    """The first day the season allows planting all of them out; None when no place or window is known."""
    named: tuple[Named, ...] = tuple(k.named for k in kept if k.named is not None)
    windows = [w for n in named if (w := set_out_window(n.crop, world)) is not None]
    return max((w.earliest for w in windows), default=None)
