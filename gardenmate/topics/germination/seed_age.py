"""Is old seed any good? By how long seed of the crop keeps, and a test in a damp towel."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.topics.germination.causes import plain_answer, years_text
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import range_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.raising import Named


def seed_age(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """Whether old seed is worth sowing. Yes within its usual life, tight to twice that."""
    years = seed_years(question) or question.ask.plant_age_years
    known = [(n, n.crop.seed.seed_life_years) for n in crops if n.crop.seed.seed_life_years]
    if not known:
        names = listed(n.name for n in crops)
        return plain_answer(
            question, world, crops, verdict=None, numbers=(), details=_towel_test(),
            headline=f"I have no figure for how long {names} seed keeps: test ten in a damp towel.",
            sources=("common-practice",),
        )  # fmt: skip
    named, life = known[0]
    assert life is not None, "only crops with a seed life are kept"
    keeps = f"{named.name} seed keeps about {years_text(life)}"
    verdict = None if years is None else _judge(years, life, world)
    if years is None:
        headline = f"{sentence(listed(f'{n.name} seed keeps about {years_text(y)}' for n, y in known if y))}."
    elif verdict == "yes":
        headline = f"Yes, sow it: {keeps}, and yours is {plural(years, 'year')} old."
    elif verdict == "tight":
        headline = (
            f"Perhaps: {keeps}, and at {plural(years, 'year')} fewer come up; test ten first, or sow thickly."
        )
    else:
        headline = f"No, buy fresh: {keeps}, and at {plural(years, 'year')} little of it will come up."
    return plain_answer(
        question,
        world,
        crops,
        verdict=verdict,
        headline=headline,
        numbers=tuple(
            number
            for n, y in known
            if y
            for number in range_numbers("seed_life", f"{n.name} seed keeps", y[0], y[1], "years", n.id)
        ),
        details=_towel_test(),
        sources=unique(*(n.crop.seed.sources.of("seed_life_years") for n, _ in known), ("common-practice",)),
    )


def seed_age_general(question: Request, world: World) -> Answer:
    """Old seed of no crop named: how long the staples keep, and which are worth sowing at that age."""
    years = seed_years(question) or question.ask.plant_age_years
    rows, short, sources = [], [], []
    for crop_id in world.facts.examples("old_seed_table"):
        crop = world.facts.crop(crop_id)
        life = crop.seed.seed_life_years
        if life is None:
            continue
        sources.append(crop.seed.sources.of("seed_life_years"))
        name = crop.generic_names[0] if crop.generic_names else crop.name
        short += [name] if sum(life) / 2 <= 2 else []
        rows.append(
            (sentence(name), years_text(life), "" if years is None else _WORDS[_judge(years, life, world)])
        )
    said = "" if years is None else f" At {plural(years, 'year')} see the table."
    return Answer(
        question=question,
        verdict=None,
        headline=f"It depends on the seed: {listed(short)} keep only a year or two, most others three to "
        f"five.{said}",
        table=Table(("seed", "keeps about", "now"), tuple(rows)),
        details=_towel_test(),
        changes=("Name the crop for its own answer.",),
        cautions=cautions(world.facts, "germination", "treated_seed").texts,
        sources=unique(*sources, ("common-practice",)),
        working=("Worth sowing up to the middle of the years it keeps, perhaps up to twice that.",),
    )


_WORDS: dict[Verdict, str] = {"yes": "sow it", "tight": "test it first", "no": "buy fresh"}


def _judge(years: float, life: tuple[float, float], world: World) -> Verdict:
    """yes within the usual life, tight to twice that, no beyond."""
    stretch = world.facts.table("raising")["germination"]["old_seed_stretch"]
    middle = sum(life) / 2
    return "yes" if years <= middle else "tight" if years <= middle * stretch else "no"


def seed_years(question: Request) -> float | None:
    """Age of the seed as said: "four year old seed", the year on its packet, or an age beside "seed"."""
    age = question.first("age", "seed")
    return None if age is None else age.number


def _towel_test() -> tuple[str, ...]:
    return (
        "To test it, keep ten seeds in a damp towel in a bag somewhere warm, and count the sprouts after the usual "
        "days. Six is fair.",
    )
