"""After a frost: what is dead, what regrows, how long to wait, when to give up, what else it may have hit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, show_length_cm
from gardenmate.core.world import World
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.frost.buds import fruits_of, second_crop
from gardenmate.topics.frost.groups import group_rows
from gardenmate.topics.frost.night import Night
from gardenmate.topics.frost.night_words import night_working
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import days_text, listed, sentence, unique
from gardenmate.topics.shared.protection import frost_asks
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants


def answer_after(question: Request, world: World, crops: Sequence[Named], tonight: Night | None) -> Answer:
    """Dead or will they regrow; with a temperature, also what else in the garden it may have hurt."""
    facts = world.facts.table("protection")
    care = cautions(world.facts, "frost", "forecast", *(("no_flame",) if tonight else ()))
    rows = [(named, _row(named, world)) for named in crops]
    verdicts = {row["verdict"] for _, row in rows}
    verdict: Verdict | None = verdicts.pop() if len(verdicts) == 1 else None
    table = None
    others = tonight is not None and (frost_asks(question) == "others" or not rows)
    if tonight is not None and others:
        table = group_rows(question, world, tonight, leave_out=tuple(n.crop.id for n in crops))
    elif len(rows) > 1:
        table = Table(
            ("crop", "will it come back", "tell after"),
            tuple((plants(n).word, row["says"], days_text(*row["wait_days"])) for n, row in rows),
        )
    numbers = [
        Number(f"wait_days_{end}", row["wait_days"][i], "days", label, None if len(rows) == 1 else n.id)
        for n, row in rows
        for i, (end, label) in enumerate((("min", "wait at least"), ("max", "wait at most")))
    ]
    details = [worded(row["text"], Manner(world.units)) for row in _distinct(rows)]
    if not rows:
        details = [facts["woody_after"]["text"], facts["woody_after"]["blossom"]]
    return Answer(
        question=question,
        verdict="tight" if others else verdict,
        headline=_headline(rows, tonight if others else None, world),
        numbers=tuple(numbers),
        details=(*details, facts["after"]["signs"]),
        table=table,
        steps=(
            facts["after"]["wait"],
            facts["after"]["scratch"],
            *unique(row["give_up"] for _, row in rows),
        ),
        changes=() if rows else ("Name the plants and I'll tell you which of them may come back.",),
        cautions=care.texts,
        sources=unique(
            facts["after"]["sources"],
            *(row["sources"] for _, row in rows),
            () if rows else facts["woody_after"]["sources"].of("text", "blossom"),
            tonight.sources if tonight else (),
            care.sources,
        ),
        working=night_working(tonight, world) if tonight else (),
        polar=False if question.cue("asks") == "move" else None,  # "replant?": their yes is not that it lives
    )


def answer_woody_after(question: Request, world: World, tonight: Night | None) -> Answer:
    """A woody plant after a frost: wait, then cut to live wood."""
    facts = world.facts.table("protection")["woody_after"]
    care = cautions(world.facts, "frost", "forecast", *(("no_flame",) if tonight else ()))
    names = listed(ref.typed or ref.id for ref in question.crops)
    fruits = [
        fruit for ref in question.crops for fruit in fruits_of(ref, world.facts) if "second_crop" in fruit
    ]
    notes = (worded(fruit["second_crop_note"], Manner(world.units)) for fruit in fruits)
    return Answer(
        question=question,
        verdict="tight",
        headline=f"Wait and see: frosted {names} can shoot again from buds lower down, though this year's "
        f"blossom may be lost.{_what_cold_does(question, tonight, world)}"
        + "".join(second_crop(fruit) for fruit in fruits[:1]),
        details=(*notes, facts["text"], facts["blossom"]),
        cautions=care.texts,
        sources=unique(
            facts["sources"].of("text", "blossom", *_COLD_FIGURES),
            *(f["sources"] for f in fruits),
            care.sources,
        ),
    )


_COLD_FIGURES = ("shoots_killed_f", "wood_hurt_f")


def _what_cold_does(question: Request, tonight: Night | None, world: World) -> str:
    """What so cold a night does to new shoots and to the wood; nothing where no low was typed."""
    if tonight is None:
        return ""
    facts, low = world.facts.table("protection")["woody_after"], tonight.low_text(world.units)
    if tonight.low_c > f_to_c(facts[_COLD_FIGURES[0]]):
        return f" At {low} only the softest tips are marked."
    if tonight.low_c > f_to_c(facts[_COLD_FIGURES[1]]):
        size = question.first("size", "shoots")
        long = (
            "soft new growth"
            if size is None
            else f"the {show_length_cm(size.number, world.units)} of new growth"
        )
        return f" {low} kills {long}, not the wood behind it."
    return f" At {low} buds and young wood may be hurt too."


def _row(named: Named, world: World) -> Mapping[str, Any]:
    row = world.facts.group_of(named.crop, "aftermath")
    assert row is not None, "every crop has an aftermath group"
    return row


def _distinct(rows: Sequence[tuple[Named, Mapping[str, Any]]]) -> list[Mapping[str, Any]]:
    return list({n.crop.groups.aftermath: row for n, row in rows}.values())


def _headline(rows: Sequence[tuple[Named, Mapping[str, Any]]], tonight: Night | None, world: World) -> str:
    if tonight is not None:
        at = tonight.low_text(world.units)
        lost = listed(plants(n).word for n, _ in rows)
        like = f"Like {lost}, every" if rows else "Every"
        return f"{like} tender crop is at risk at {at}; the hardier ones in the table are all right."
    if not rows:
        return "Wait a few days before giving anything up: what is still green and firm can grow on."
    if len(rows) > 1:
        groups: dict[str, list[str]] = {}
        for named, row in rows:
            groups.setdefault(row["says"], []).append(plants(named).word)
        return f"{sentence('; '.join(f'{listed(names)}: {says}' for says, names in groups.items()))}."
    named, row = rows[0]
    p = plants(named)
    filled = {"word": p.word, "they": p.they, "grow": p.does("grow"), "live": p.does("live"), "have": p.have}
    opens = {
        "yes": f"Not dead yet: {row.get('line', '').format(**filled)}.",
        "tight": f"Perhaps not dead: {p.word} may regrow where the stem is still firm and green.",
        "no": f"Probably lost: {p.word} seldom {p.does('come')} back from a frost.",
    }
    return f"{opens[row['verdict']]} Wait {days_text(*row['wait_days'])} before you decide."
