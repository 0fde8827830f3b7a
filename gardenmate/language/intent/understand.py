"""Text to `Request`: the door to language. Total: any text gives a Request, never an exception.

draft_of  what the words alone say
read      everything about one reading: the request, what came second, what else could be asked
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from gardenmate.core.question import Request
from gardenmate.core.units import Units
from gardenmate.language.intent import dangers
from gardenmate.language.intent.acts import choose
from gardenmate.language.intent.followups import choice_of, resolve
from gardenmate.language.intent.reading import Context, Draft, Reading
from gardenmate.language.intent.salience import asked_crops
from gardenmate.language.intent.topics import hear, look
from gardenmate.language.text import spelling, tokens
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values import (
    amounts,
    crops,
    dates,
    heights,
    money,
    month_before,
    people,
    places,
    temperatures,
    thermometer,
    times,
    zones,
)
from gardenmate.language.values.kinds import with_kinds
from gardenmate.language.values.slots import fill_cues, fill_slots

__all__ = ["Context", "Reading", "draft_of", "read", "split_questions", "weighed"]

LONGEST = 10_000  # characters that are read of a line; design value


def read(
    text: str, *, today: date, units: Units, lexicon: Lexicon, context: Context | None = None
) -> Reading:
    """The whole reading of ``text``: best and second question, and what speaks for them."""
    context = context or Context(units=units, today=today)
    draft = draft_of(text[:LONGEST], today, units, lexicon, context)
    offered = choice_of(draft, context)
    if offered is not None:
        return Reading(offered, None, tuple(draft.ranked))
    chosen = choose(draft.found, draft.heard)
    return resolve(draft, lexicon, context, chosen.act, chosen.topic)


def board_of(text: str, today: date, units: Units, lexicon: Lexicon, context: Context | None) -> Board:
    """The text annotated: its tokens and the values found on them."""
    cut = tokens.cut(text, lexicon.spoken, lexicon.joined)
    board = Board(cut, spelling.mend(cut.tokens, lexicon))
    places.find_led_places(board, lexicon)
    crops.find_crops(board, lexicon)
    places.find_codes(board)
    heights.find_heights(board)
    zones.find_zones(board)
    money.find_money(board)
    times.find_ages(board, today)
    times.find_stated_ages(board)
    dates.find_dates(board, today, day_first=units == "metric")
    before = context.previous if context is not None else None
    month_before.take_month_of(
        board, before.ask.date if before is not None and before.topic != "garden" else None, today
    )
    times.find_spans_of_time(board)
    spoken_of = before is not None and (
        bool(before.ask.temps) or thermometer.speaks_of_temperature(before.text)
    )
    weather = context.weather if context is not None else None
    if before is not None and _leans(board) and _unit_before(before) is not None:
        weather = None  # a turn that leans on the one before has its unit
    temperatures.find_temperatures(board, _thermometer(board, units, lexicon, context), spoken_of, weather)
    people.find_people(board, _about_amounts(board))
    amounts.find_counts(board)
    places.find_places(board, lexicon)
    return board


def draft_of(text: str, today: date, units: Units, lexicon: Lexicon, context: Context | None) -> Draft:
    """What the words alone say, before the conversation is taken into account."""
    board = board_of(text, today, units, lexicon, context)
    found = look(board, lexicon)
    heard = hear(found, lexicon, context.said) if context is not None else hear(found, lexicon)
    ranked = heard.ranked()
    cues = fill_cues(found, board, lexicon)
    unknown = spelling.unknown_plant(board, lexicon)
    if unknown is not None:
        cues = frozen({**cues, "unknown": unknown})
    said_before = context.previous.text if context is not None and context.previous is not None else None
    cues = frozen({**cues, **dangers.cues_of(board, found, lexicon, said_before, ranked[0])})
    slots = fill_slots(board, found, lexicon, cues)
    named = with_kinds(asked_crops(board, found), board, lexicon)
    return Draft(text, board, found, heard, ranked, named, slots, cues, _reading(board))


def _thermometer(board: Board, units: Units, lexicon: Lexicon, context: Context | None) -> Units:
    """The units a bare temperature is in: in a turn that leans on the one before those typed or read there; else the
    garden's, where it or its place settles them; else what the grower's own words suggest."""
    if context is not None and context.previous is not None and _leans(board):
        unit = _unit_before(context.previous)
        if unit is not None:
            return "metric" if unit == "C" else "us"
    if context is not None and context.units_known:
        return units
    raw = {t.raw.lower() for t in board.tokens}
    if context is not None and context.previous is not None:  # the same grower, with the same words
        raw |= set(_WORD.findall(context.previous.text.lower()))
    if raw & lexicon.metric_words:
        return "metric"
    return units


def _unit_before(before: Request) -> str | None:
    """The unit the turn before typed, else the one its own temperatures were read in: "40 tonight", "and at 28?"."""
    read = {t.unit for t in before.slots.temps}
    return temperatures.unit_typed(before.text) or (read.pop() if len(read) == 1 else None)


_WORD = re.compile(r"[a-z]+")
_LEANING = words("and but or what if then so ok even at with how")
_FEW_WORDS = 4  # words of a line that leans on the one before; design value


def _leans(board: Board) -> bool:
    return len(board.tokens) <= _FEW_WORDS or board.word(0) in _LEANING


_AMOUNTS = words(
    "many much enough feed feeds family household eat eats amount amounts number quantity serve plenty keeps "
    "supply us alone eating jars jar quarts pints"
)


def _about_amounts(board: Board) -> bool:
    said = {t.word for t in board.tokens}
    return bool(said & _AMOUNTS) or len(said) <= 6


def _reading(board: Board) -> str | None:
    said = [
        f"reading '{s.value.typed}' as {s.value.refs[0].id.replace('-', ' ')}"
        for s in board.of("crop")
        if s.value.misspelled
    ]
    return "; ".join(dict.fromkeys(said)) or None


def weighed(draft: Draft) -> tuple[str, ...]:
    """The three topics the words speak for most, a line each, with the words that did."""
    return tuple(
        f"words speak for {r.topic} {r.share:.0%}: "
        + ", ".join(f"'{w}' {weight:+g}" for w, weight in r.spoke)
        for r in draft.ranked[:3]
    )


def split_questions(text: str) -> list[str]:
    """The questions of a pasted block, one per line or per question mark; a story stays with its question."""
    out: list[str] = []
    for line in text.splitlines():
        story = ""
        for part in (piece.strip() for piece in line.replace("?", "?\n").splitlines()):
            if not part:
                continue
            if part.endswith("?"):
                out.append(f"{story} {part}".strip())
                story = ""
            else:
                story = f"{story} {part}".strip()
        if story:
            out.append(story)
    return out


def frozen(cues: Mapping[str, str]) -> Mapping[str, str]:
    """Cues that nobody can change."""
    return MappingProxyType(dict(cues))
