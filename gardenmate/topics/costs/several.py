"""Buy or sow for several crops at once, and in general when no crop was named."""

from __future__ import annotations

from statistics import median

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import NO_SLOTS, CropRef, Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.records import replace
from gardenmate.topics.costs.bill import Comparison, compare, currency, money
from gardenmate.topics.costs.decide import BuyTiming, Doing, asked_for, plants_asked, timing, verdict_on
from gardenmate.topics.costs.stock import stock_lead, stock_sentence
from gardenmate.topics.costs.words import about, numbers_of, table_of, time_words, way_words, working_of
from gardenmate.topics.quantities.packets import decide_packets
from gardenmate.topics.season.season_dates import one_site
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.raising import Named, spoken_name
from gardenmate.topics.shared.raising_plan import sensible
from gardenmate.topics.shared.subjects import plants


def several(question: Request, world: World, crops: list[tuple[Crop, str]], stocks: list[CropRef]) -> Answer:
    """Several crops: which to sow and which to buy, with a row each."""
    rows = [
        compare(crop, name, plants_asked(question, world, crop)[0], question, world) for crop, name in crops
    ]
    reckoned = listed(f"{c.plants} x {c.name}" for c in rows)
    times = [timing(c.crop, world) for c in rows]
    doing = asked_for(question)
    verdicts = [verdict_on(c, t, doing) for c, t in zip(rows, times, strict=True)]
    same: Verdict | None = verdicts[0] if len(set(verdicts)) == 1 and not stocks else None
    _, region_note = one_site(world)
    leads = [stock_lead(ref, question, world) for ref in stocks]
    details = [
        sentence(f"{c.name}: {w}") for c, t in zip(rows, times, strict=True) for w in time_words(c, t, world)
    ]
    details += [w for c in rows for w in way_words(c, world)[:1] if c.crop.groups.way != "none"]
    details += [stock_sentence(ref, world) for ref in stocks]
    shared = [a for a in rows[0].prices.assumed if all(a in c.prices.assumed for c in rows)]
    own = [f"{sentence(c.name)}: {a}" for c in rows for a in c.prices.assumed if a not in shared]
    return Answer(
        question=question,
        verdict=same,
        headline=" ".join(
            [_several_headline(rows, times, verdicts, doing, of_each=_of_each(question)), *leads]
        ),
        numbers=tuple(n for c, t in zip(rows, times, strict=True) for n in numbers_of(c, t, c.crop.base)),
        details=unique(details),
        table=table_of(rows),
        changes=()
        if question.ask.price is not None
        else ("Tell me the price of a plant and I'll use that.",),
        cautions=cautions(world.facts, "buy-or-sow", "electricity").texts
        if any(c.lacking for c in rows)
        else (),
        assumptions=unique(
            (f"Worked out for {reckoned}.",),
            shared,
            own,
            (region_note,) if region_note else (),
        ),
        sources=unique(*(c.prices.sources for c in rows)),
        working=tuple(f"{c.name}: {line}" for c in rows for line in working_of(c, world.units)),
    )


def _of_each(question: Request) -> bool:
    """True for "6 plants of each"."""
    return question.ask.count is not None and question.cue("price_for") == "each"


def _several_headline(
    rows: list[Comparison], times: list[BuyTiming], verdicts: list[Verdict], doing: Doing, *, of_each: bool
) -> str:
    def sow(c: Comparison, t: BuyTiming, v: Verdict) -> bool:
        return (v != "no") if doing == "sow" else (v != "yes" and not t.sowing_lost)

    pairs = list(zip(rows, times, verdicts, strict=True))
    cut = [c.name for c in rows if c.not_from_seed]
    raise_them = [c.many for c, t, v in pairs if sow(c, t, v) and not c.not_from_seed]
    buy_them = [c.many for c, t, v in pairs if not sow(c, t, v) and not c.not_from_seed]
    sign = rows[0].prices.sign
    parts = []
    if raise_them:
        parts.append(f"sow {listed(raise_them)}")
    if buy_them:
        parts.append(f"buy {listed(buy_them)}")
    if cut:
        parts.append(f"buy one plant of {listed(cut)} and take cuttings or divide it")
    seeded = [c for c in rows if not c.not_from_seed] or rows
    each = f"{rows[0].plants} of each " if of_each and len({c.plants for c in rows}) == 1 else ""
    total = (
        f"{each}from seed {money(sign, sum(c.raised.total for c in seeded))}, bought "
        f"{money(sign, sum(c.bought.total for c in seeded))}"
    )
    return sentence(f"{'; '.join(parts)} ({total}).")


def in_general(question: Request, world: World) -> Answer:
    """No crop named: the same sums for the usual ones, and what they have in common."""
    plain = replace(
        question, crops=(), slots=NO_SLOTS, carried=NO_SLOTS
    )  # a price for "a tray" is no plant's price
    rows = [
        compare(crop, spoken_name(crop), plants_asked(plain, world, crop)[0], plain, world)
        for crop in (world.facts.crop(i) for i in world.facts.examples("buy_or_sow_table"))
    ]
    from_counts = [c.from_count for c in rows if c.from_count is not None]
    sign = currency(question, world)
    saved = sum(c.saves for c in rows)
    said = question.ask.price
    lot = _for_so_many(question, world, sign)
    notes = (
        []
        if said is None
        else [
            f"You named {money(sign, said)}: a mixed tray of plants gives few of each kind, where "
            "seed is weakest."
        ]
    )
    doing = asked_for(question)
    usual_lot = f"The usual number of {len(rows)} common crops"
    many = (
        f"{usual_lot} saves about {about(sign, saved)} in all."
        if saved > 0
        else f"{usual_lot} costs about {about(sign, -saved)} more in all."
    )
    if from_counts:
        usual = sorted(from_counts)[len(from_counts) // 2]
        few = "for one or two of a kind, buy plants"
        said_first = f"Seed is cheaper once you grow about {usual} or more of a kind; {few}. {many}"
    else:  # at these prices no number of plants pays for the packet
        said_first = (
            f"Buy: at these prices plants cost no more than seed for any of {len(rows)} common crops."
        )
    return Answer(
        question=question,
        verdict=("yes" if doing == "sow" else "tight")
        if from_counts
        else ("no" if doing == "sow" else "yes"),
        headline=f"{lot} {said_first}" if lot else said_first,
        numbers=(
            Number("saved", round(saved, 2), sign, f"saved on a usual number of each of {len(rows)} crops"),
            *(
                Number(
                    "break_even_count",
                    c.from_count,
                    "plants",
                    f"{c.name}: seed pays from",
                    c.crop.base,
                    shown=False,
                )
                for c in rows
            ),
        ),
        details=(
            *notes,
            *_in_month(question, world),
            "Carrots, beans, peas, corn and other crops sown where they grow never pay as plants.",
            "Plants win where the seed needs two months indoors (celery, peppers, onions) and you "
            "have no lamp, and where you want one each of many kinds.",
        ),
        table=table_of(rows),
        changes=(
            "If you had to buy a lamp and a mat, add about "
            f"{money(sign, rows[0].prices.lamp_season + rows[0].prices.mat_season)} a season over "
            "their life.",
            "Name the crop, how many and the price, and I'll work out yours.",
        ),
        cautions=cautions(world.facts, "buy-or-sow", "electricity").texts
        if any(c.lacking for c in rows)
        else (),
        assumptions=unique(
            rows[0].prices.assumed[-2:], ("Prices are usual ones; packets and plants differ by shop.",)
        ),
        sources=unique(*(c.prices.sources for c in rows)),
        working=tuple(f"{c.name}: {line}" for c in rows for line in working_of(c, world.units)),
    )


def _for_so_many(question: Request, world: World, sign: str) -> str:
    """The two bills for the number of plants typed, at usual prices, and whether a packet told holds enough; "" where
    no plants are counted."""
    packed = decide_packets(question, world, ())
    wanted, unit = question.first("plants-wanted"), question.cue("count_unit")
    count = wanted.number if wanted is not None else question.ask.count
    if packed is None and (count is None or unit != "plant"):
        return ""
    many = packed.plants if packed is not None else sensible(count or 1)
    plain = replace(question, crops=(), slots=NO_SLOTS, carried=NO_SLOTS, typed=())
    crops = [world.facts.crop(i) for i in world.facts.examples("buy_or_sow_table")]
    bills = [compare(crop, spoken_name(crop), many, plain, world) for crop in crops]
    bought, raised = (
        about(sign, median(b)) for b in ([c.bought.total for c in bills], [c.raised.total for c in bills])
    )
    line = (
        f"For {plural(many, 'plant')}: bought about {bought}, from seed about {raised} where they are of one kind; "
        "every further kind is another packet."
    )
    if packed is None:
        return line
    enough = {"yes": "more than enough", "tight": "just enough", "no": "not enough"}[packed.verdict]
    return f"{packed.seeds} seeds are {enough} for that: sow about {packed.needed}. {line}"


def _in_month(question: Request, world: World) -> tuple[str, ...]:
    """What of the usual crops is too late to sow in the month named, so that plants are the only way; () without one,
    or without a place."""
    told = [
        d for t in question.all("date", "stretch") if not question.in_story(t) and (d := t.days) is not None
    ]
    if len(told) != 1 or world.site is None:
        return ()
    first, last = told[0]
    middle = first + (last - first) / 2
    day = middle if last >= world.today else middle.replace(year=middle.year + 1)
    then = replace(world, today=max(day, world.today))
    crops = [world.facts.crop(i) for i in world.facts.examples("buy_or_sow_table")]
    times = [(plants(Named(crop, crop.base, spoken_name(crop))).word, timing(crop, then)) for crop in crops]
    late = [name for name, at in times if at.sowing_lost or at.plants_instead]
    if not late:
        return (f"In {day:%B} there is still time to sow all of these.",)
    return (f"In {day:%B} it is too late to sow {listed(late)}: buy those as plants.",)
