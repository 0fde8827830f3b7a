"""Frost: will they live tonight, covers, blossom, winter cold, the usual dates, and the morning after."""

from __future__ import annotations

from dataclasses import replace

from gardenmate.core.answer import Answer
from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.knowledge.plants import name_of
from gardenmate.topics.frost.after import answer_after, answer_woody_after
from gardenmate.topics.frost.bloom import answer_bloom, has_table, phase_of
from gardenmate.topics.frost.covers import answer_covers
from gardenmate.topics.frost.crops import answer_crops
from gardenmate.topics.frost.dates import answer_dates
from gardenmate.topics.frost.groups import answer_garden, own_crops
from gardenmate.topics.frost.limits import answer_limits
from gardenmate.topics.frost.needed import as_needed, asks_need, without_cover_thought_of
from gardenmate.topics.frost.one_night import answer_one_night, answer_usual_night
from gardenmate.topics.frost.pick import answer_pick
from gardenmate.topics.frost.sky import Night, night, night_at, without_misreading
from gardenmate.topics.frost.sown import about_seed_in_the_ground, answer_sown
from gardenmate.topics.frost.winter import answer_winter
from gardenmate.topics.season.ground_seen import starts_in_ground_seen
from gardenmate.topics.shared.protection import frost_asks
from gardenmate.topics.shared.raising import named_crops

_AFTER = frozenset({"aftermath", "others"})
_DATES = frozenset({"odds", "dates"})
_LIGHT_FROST_C = 0.0  # taken for "frost is coming" without a figure
_IN_LEAF = ("after_harvest", "leaf_fall")


def answer(question: Request, world: World) -> Answer:
    """The answer to a frost question. verdict: yes = fine as it is, tight = cover or borderline, no = not
    without bringing in or a stronger cover; asked whether a cover is needed, yes = needed and no = no need.
    Raises NeedPlaceError only when dates are asked and no place is known."""
    if question.crops and starts_in_ground_seen(question.text):
        from gardenmate.topics.season import answer as season_questions

        season = season_questions.answer(replace(question, topic="early-start"), world)
        return replace(season, question=question)
    told = without_misreading(question)
    if asks_need(question):
        bare = without_cover_thought_of(question)
        found = replace(as_needed(bare, _answer(bare, world)), question=question)
    else:
        found = _answer(question, world)
    unknown = question.cue("unknown")
    if unknown and question.crops:
        line = f"I do not know '{unknown}' as a plant: treat it as tender and cover it or bring it in."
        found = replace(found, details=(line, *found.details))
    return found if told is question else replace(found, question=told)


def _answer(question: Request, world: World) -> Answer:
    asked = frost_asks(question)
    crops = named_crops(question, world)
    woody = _woody(question, world)
    tonight = night(question, world)
    if crops and not woody and asked != "covers" and about_seed_in_the_ground(question):
        return answer_sown(question, world, crops)
    if asked in _AFTER:
        if woody and not crops:
            return answer_woody_after(question, world)
        return answer_after(question, world, crops, tonight)
    if not asked and crops and tonight is None and _past(question, world):
        return answer_after(question, world, crops, None)
    dates = asked in _DATES and not _this_night(question, asked, tonight)
    if (dates or _when_frost(question, tonight)) and not woody:
        return answer_dates(question, world, crops)
    if asked == "covers" and tonight is None:
        return answer_covers(question, world)
    if woody and not crops:
        return _woody_answer(question, world, woody, tonight)
    if crops:
        main = _crops_answer(question, world, tonight)
        return _beside(main, _woody_answer(question, world, woody, tonight)) if woody else main
    if tonight is not None:
        return answer_garden(question, world, tonight)
    return _nothing_known(question, world)


def _past(question: Request, world: World) -> bool:
    """A day gone by and no temperature: the frost has been, and what is left of the crop is asked about."""
    day = question.ask.date
    return day is not None and day < world.today


def _when_frost(question: Request, tonight: Night | None) -> bool:
    """ "When does a hard freeze usually come": a kind of frost and "when", no temperature."""
    return tonight is None and question.cue("asks_when") is not None and question.cue("freeze") is not None


def _this_night(question: Request, asked: str | None, tonight: Night | None) -> bool:
    """ "First frost tonight, 30, what do I do": the low typed is tonight's, whatever the frost is called.

    "When is the first frost, tonight is 30" still asks for the date.
    """
    typed = tonight is not None and question.ask.when in ("tonight", "today")
    return asked == "dates" and typed and question.cue("asks_when") is None


def _woody(question: Request, world: World) -> tuple[CropRef, ...]:
    """Plants of the question that are no crop of the vegetable garden."""
    return tuple(ref for ref in question.crops if world.facts.crop_for(ref) is None)


def _woody_answer(
    question: Request, world: World, woody: tuple[CropRef, ...], tonight: Night | None
) -> Answer:
    """Blossom when a stage is said or the night is a spring frost; winter hardiness when it is dormant."""
    phase = phase_of(question)
    dormant = phase == "dormant" or phase in _IN_LEAF or question.cue("freeze") == "winter"
    with_table = [ref for ref in woody if has_table(ref, world.facts)]
    deep = tonight is not None and tonight.low_c < -9.5  # under 15 F: no spring frost, but winter cold
    if with_table and not dormant and not (phase is None and deep):
        return answer_bloom(question, world, woody, tonight)
    if phase is not None and not dormant and not with_table:
        return _no_table(question, world, woody, tonight)
    return answer_winter(question, world, woody, tonight)


def _no_table(question: Request, world: World, woody: tuple[CropRef, ...], tonight: Night | None) -> Answer:
    """In bloom, but no kill table is published for it: say so, whatever its winter figures are."""
    bare = answer_winter(
        question, world, tuple(ref._replace(id=f"no table: {ref.id}") for ref in woody), tonight
    )
    names = " and ".join((ref.typed or name_of(world.facts, ref.id)) for ref in woody)
    return replace(
        bare,
        headline=f"I have no published kill temperatures for {names} at that stage, so I will not guess.",
        details=(
            "Open blossom of most orchard fruit begins to be hurt near 28 F (-2 C), but that is not measured "
            "for this plant; cover what you can when frost is forecast.",
        ),
        sources=(*bare.sources, "msu-table"),
    )


def _crops_answer(question: Request, world: World, tonight: Night | None) -> Answer:
    crops = named_crops(question, world)
    if _picking(question) and question.ask.date is None:
        return answer_pick(question, world, crops, tonight or night_at(_LIGHT_FROST_C, question, world))
    if tonight is not None:
        return answer_crops(question, world, crops, tonight)
    if question.ask.date is not None and (world.site is not None or world.sites):
        return answer_dates(question, world, crops)
    if world.site is not None and _about_tonight(question):
        usual = answer_usual_night(question, world, crops)
        if usual is not None:
            return usual
    return answer_limits(question, world, crops)


def _picking(question: Request) -> bool:
    return frost_asks(question) == "pick" or question.cue("pick_or_cover") is not None


def _beside(main: Answer, other: Answer) -> Answer:
    """One answer for vegetables and fruit named together."""
    return replace(
        main,
        verdict=main.verdict if main.verdict == other.verdict else None,
        headline=f"{main.headline} {other.headline}",
        numbers=(*main.numbers, *(n for n in other.numbers if not n.name.startswith("low"))),
        details=(*main.details, *other.details),
        sources=tuple(dict.fromkeys((*main.sources, *other.sources))),
        working=(*main.working, *other.working),
    )


def _nothing_known(question: Request, world: World) -> Answer:
    """No crop, no temperature: the odds when the place is known, else what each group stands."""
    if world.site is not None or world.sites:
        if world.site is not None and _about_tonight(question):
            return answer_one_night(question, world)
        dated = question
        return replace(
            answer_dates(dated, world),
            question=question,
            changes=("Type tonight's low, and what you grow, for an answer about tonight.",),
        )
    own = own_crops(world)
    if own:
        limited = answer_limits(question, world, own)
        return replace(limited, changes=("Type tonight's low for an answer about tonight.",))
    if question.ask.date is not None:
        raise NeedPlaceError(
            "The odds of frost differ from place to place: I need to know where the garden is."
        )
    return _ask_for_low(question, world)


def _about_tonight(question: Request) -> bool:
    """Tonight is asked about, no other day, and no kind of frost is named."""
    tonight = question.ask.when in ("tonight", "today") or question.cue("asks") == "tonight"
    return tonight and question.ask.date is None and question.cue("freeze") is None


def _ask_for_low(question: Request, world: World) -> Answer:
    """What each group stands, and the question that is needed: tonight's low."""
    from gardenmate.topics.frost.groups import group_limits
    from gardenmate.topics.shared.cautions import cautions

    care = cautions(world.facts, "frost")
    return Answer(
        question=question,
        verdict=None,
        headline="What low is forecast for tonight? Here is what each group of crops survives.",
        table=group_limits(world),
        changes=(
            "Type the low ('31 tonight'), and the crops if you like ('peas 24?').",
            "Tell me the place, and I can give the usual frost dates and the odds.",
        ),
        cautions=care.texts,
        sources=("hill", "common-practice", *care.sources),
    )
