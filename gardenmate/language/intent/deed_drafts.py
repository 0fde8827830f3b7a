"""Deeds in the making: what each clause of a line tells of them, and what it leaves to its neighbours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from gardenmate.core.question import CropRef
from gardenmate.knowledge.deeds import NOTE
from gardenmate.language.intent.clauses_told import Clause, day_of, where_of
from gardenmate.language.intent.name_marks import NameMark
from gardenmate.language.intent.reading import Context
from gardenmate.language.text.spans import Board, words
from gardenmate.records import dataclass, replace


@dataclass(slots=True)
class DeedDraft:
    """A deed in the making."""

    action: str | None
    crop: CropRef | None = None
    count: float | None = None
    unit: str = ""
    where: str | None = None
    on: date | None = None
    variety: str | None = None
    days: int | None = None
    sentence: int = 0
    own: bool = True  # told with a deed of its own
    which: int | None = None
    goes_on: bool = False  # the line opens with "and"
    has: bool = False  # the line tells what there is: "I have 24 of them"
    verb: bool = False  # it has a verb of its own that is no deed known: "staked 12 tomatoes"
    lent: bool = False  # its crop comes from the conversation
    plan: str = ""


def drafts_of(
    clauses: Sequence[Clause], context: Context, carried: tuple[CropRef, ...], planned: bool, of_those: bool
) -> list[DeedDraft]:
    """The deeds in the making, clause by clause. ``of_those``: a note is about the plants spoken of."""
    drafts: list[DeedDraft] = []
    day: date | None = None
    spot: str | None = None
    for clause in clauses:
        found = _in_clause(clause, context.varieties)
        if not found and not drafts and _tells(clause, planned or bool(context.deeds)):
            found = [DeedDraft(None, ref, lent=True) for ref in carried]
            found = found or ([DeedDraft(None)] if _tells(clause, planned) else [])
            _share(found, clause)
        if not found:
            spot = where_of(clause) if not drafts else spot
            day = _add_to(drafts, clause) or day
            continue
        action, on, where = clause.action, day_of(clause), where_of(clause)
        if drafts and not planned and clause.tells_otherwise(drafts[-1].sentence):
            action = NOTE
        if len(found) == 1 and clause.action is None and len(drafts) > 1 and all(d.lent for d in drafts):
            count = next((d.count for d in drafts if d.count is not None), None)
            drafts = [replace(d, count=count) for d in drafts if d.crop == found[0].crop][:1] or drafts
        last = drafts[-1] if drafts else None
        if _completes(last, found, clause):
            assert last is not None
            last.crop, last.count = found[0].crop, found[0].count if last.count is None else last.count
            last.unit, last.variety = last.unit or found[0].unit, last.variety or found[0].variety
            last.where, last.on = last.where or where, last.on or on
            continue
        for draft in found:
            draft.action = draft.action or action or (last.action if last is not None else None)
            draft.on = draft.on or on or day
            draft.where = draft.where or (where if where != "same" or last is None else last.where) or spot
            draft.sentence, draft.own, draft.plan = clause.sentence, action is not None, clause.plan
            draft.verb = clause.has_a_verb
            draft.which = next((int(str(m.value)) for m in clause.of("which")), None) if draft.lent else None
            if draft.crop is None and last is not None:
                draft.crop = last.crop
            elif draft.crop is None and carried:
                draft.crop = carried[0]
        drafts += found
    if not drafts:
        drafts = [DeedDraft(None, ref) for ref in carried if planned or of_those] or [DeedDraft(None)]
    for draft in drafts:
        if draft.crop is None and carried and (draft.count is not None or draft.variety):
            draft.crop = carried[0]
    return _dealt(_levelled(drafts))


def _dealt(drafts: list[DeedDraft]) -> list[DeedDraft]:
    """Places told together go to the crops in their order: "peas and turnips, bed 1 and 2"."""
    places = (drafts[0].where or "").split(" and ")
    if len(drafts) < 2 or len(places) != len(drafts) or len({d.where for d in drafts}) > 1:
        return drafts
    return [replace(draft, where=where) for draft, where in zip(drafts, places, strict=True)]


def _tells(clause: Clause, planned: bool) -> bool:
    """True for a clause that tells a deed though it names no crop."""
    kinds = {m.kind for m in clause.marks}
    return bool(kinds & {"action", "count", "variety"}) or (planned and bool(kinds & {"date", "where"}))


def _share(drafts: list[DeedDraft], clause: Clause) -> None:
    """The counts of a clause that names no crop, dealt to the crops spoken of: "24 and 24"; one is for all."""
    counts = clause.of("count")
    for draft, count in zip(drafts, counts, strict=False):
        draft.count, draft.unit = float(str(count.value)), count.unit
    for draft in drafts:
        draft.variety = next((str(m.value) for m in clause.of("variety")), None)
        draft.days = next((int(str(m.value)) for m in clause.of("days")), None)


def _completes(last: DeedDraft | None, found: list[DeedDraft], clause: Clause) -> bool:
    """True for a clause that only says more of the deed before: "3 sown. Delicata", "spuds in. 20 Yukon Gold"."""
    if last is None or clause.action is not None or len(found) != 1 or clause.plan:
        return False
    if last.variety is not None and found[0].variety not in (None, last.variety):
        return False
    if last.crop is None:
        return found[0].count is None or last.count is None
    same = found[0].crop is not None and found[0].crop.id == last.crop.id
    return same and (last.count is None or found[0].count is None)


def _in_clause(clause: Clause, varieties: Mapping[str, str]) -> list[DeedDraft]:
    """The crops of one clause, each with the count, day, deed and variety told with it."""
    crops = clause.of("crop")
    named = clause.of("variety")
    if not crops and named:
        refs = {varieties.get(str(m.value)) for m in named} - {None}
        if len(refs) == 1:
            crops = [named[0]._replace(kind="crop", value=CropRef(str(refs.pop())))]
    first = next((m.kind for m in clause.marks if m.kind in ("crop", "count")), "crop")
    found = []
    for n, crop in enumerate(crops):
        before = crops[n - 1].start if n else -1
        after = crops[n + 1].start if n + 1 < len(crops) else _FAR
        low, high = (before, crop.start) if first == "count" else (crop.start, after)
        counts = [m for m in clause.of("count") if low < m.start < high]
        if not counts and len(crops) == 1:
            counts = clause.of("count")
        draft = DeedDraft(None, crop.value if isinstance(crop.value, CropRef) else None)
        if counts:
            chosen = next((m for m in counts if m.unit in PLANTS_COUNTED), counts[0])
            draft.count, draft.unit = float(str(chosen.value)), chosen.unit
        draft.variety = next((str(m.value) for m in named if before <= m.start < after), crop.unit or None)
        draft.days = next(
            (int(str(m.value)) for m in clause.of("days") if crop.start < m.start < after), None
        )
        _apart(draft, clause, before if n else -1, crop.start, after)
        found.append(draft)
    return found


_FAR = 10**6
PLANTS_COUNTED = frozenset({"", "plants", "cells", "pieces"})


def _apart(draft: DeedDraft, clause: Clause, before: int, here: int, after: int) -> None:
    """Where a clause tells several days, places or deeds, those of this crop: the day and place behind it, the deed
    before it ("buy the peppers sow the tomatoes")."""
    days, wheres = clause.of("date"), clause.of("where")
    if len(days) > 1:
        draft.on = next((m.value for m in days if here < m.start < after and isinstance(m.value, date)), None)
    if len(wheres) > 1:
        draft.where = next((str(m.value) for m in wheres if here < m.start < after), None)
    deeds = [m for m in clause.of("action") if not m.weak]
    if len(deeds) > 1:
        draft.action = next((str(m.value) for m in reversed(deeds) if before < m.start < here), None)


_THEM = words("them em those these")


def _add_to(drafts: list[DeedDraft], clause: Clause) -> date | None:
    """A clause without a crop: a further deed of the crop before, or more about the deeds before. Returns the day it
    tells where no deed came before."""
    on, where, action = day_of(clause), where_of(clause), clause.action
    if not drafts:
        return on
    counts = clause.of("count")
    count = float(str(counts[0].value)) if counts else None
    unit = counts[0].unit if counts else ""
    which = next((int(str(m.value)) for m in clause.of("which")), None)
    about = drafts[which - 1] if which is not None and which <= len(drafts) else drafts[-1]
    if which is None and count is not None:
        here = [d for d in drafts if d.sentence == drafts[-1].sentence]
        about = next((d for d in here if d.count is None), drafts[-1])
    last = drafts[-1]
    names = clause.of("variety")
    if names and last.variety is not None and action is None:
        days = next((int(str(m.value)) for m in clause.of("days")), None)
        drafts.append(replace(last, variety=str(names[0].value), days=days, count=count, own=False))
        return None
    if (action is not None and last.action is not None and action != last.action) or (
        count is not None and about.count is not None and which is None
    ):
        told_all = count is None and (bool(clause.of("all")) or bool(_THEM & set(clause.unmarked)))
        drafts.append(
            DeedDraft(
                action or last.action,
                last.crop,
                last.count if told_all else count,
                unit,
                where,
                on,
                sentence=clause.sentence,
                own=action is not None,
            )
        )
        return None
    for draft in drafts:
        draft.action = draft.action or action
        draft.where = draft.where or where
        draft.on = draft.on or on
    if count is not None and about.count is None:
        about.count, about.unit = count, unit
    about.variety = about.variety or next((str(m.value) for m in clause.of("variety")), None)
    about.days = about.days or next((int(str(m.value)) for m in clause.of("days")), None)
    return None


def _levelled(drafts: list[DeedDraft]) -> list[DeedDraft]:
    """What only a later deed tells holds for those before it that leave it open, within a sentence for place and
    day: "18 peppers and 12 tomatoes on the mat today", "48 onions, 24 cabbages, all in the ground"."""
    for later, draft in zip(reversed(drafts[1:]), reversed(drafts[:-1]), strict=True):
        draft.action = draft.action or later.action
        if (
            draft.action == "buy"
            and later.action == "plant"
            and draft.crop == later.crop
            and draft.unit in PLANTS_COUNTED
        ):
            later.action = "set-out"  # plants bought and planted in one breath
        if draft.sentence == later.sentence and not (later.own and draft.own):
            draft.where = draft.where or later.where
            draft.on = draft.on or later.on
    return drafts


def without_denied(drafts: list[DeedDraft], marks: Sequence[NameMark], board: Board) -> list[DeedDraft]:
    """Without the crops that were not done: "did the kale, not the mooli"."""
    denied = set()
    for m in marks:
        crop = next((c for c in marks if c.kind == "crop" and m.start < c.start <= m.start + 2), None)
        same = crop is not None and board.tokens[crop.start].sentence == board.tokens[m.start].sentence
        if m.kind == "not" and crop is not None and same:
            denied.add(crop.value)
    left = [d for d in drafts if d.crop not in denied or d.plan == "drop"]
    return left or drafts


def parts_only(drafts: list[DeedDraft]) -> list[DeedDraft]:
    """Without a whole that is told again in its parts: "12 tomatoes, 6 on the sill and 6 in the bedroom"."""
    if len(drafts) < 3 or drafts[0].count is None:
        return drafts
    whole, parts = drafts[0], drafts[1:]
    same = all(d.crop == whole.crop and d.action == whole.action and d.where for d in parts)
    if not same or sum(d.count or 0.0 for d in parts) != whole.count:
        return drafts
    return [replace(d, variety=d.variety or whole.variety, days=d.days or whole.days) for d in parts]
