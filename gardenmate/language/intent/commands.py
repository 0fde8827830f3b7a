"""Corrections and commands: what is to be done, and what it points at."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from gardenmate.core.question import Command, CropRef, Request, Target
from gardenmate.language.text.spans import Board, words

# What a list shows, by the words that name it; the first found in the text counts.
_NOUNS: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        "varieties": words("variety varieties cultivar cultivars"),
        "reminders": words("reminder reminders reminded planned"),
        "beds": words("beds map"),
        "plantings": words(
            "tray trays bed sowing sowings planting plantings seedlings frame tunnel greenhouse mat lights indoors "
            "outside hardening shelf plants growing left alive"
        ),
        "seeds": words("seed seeds packets packet"),
        "jobs": words("job jobs agenda todo week due"),
        "calendar": words("calendar year windows"),
        "sheet": words("sheet season"),
        "place": words("where place town"),
        "gardens": words("gardens camp"),
        "garden": words("garden facts settings household gear profile prices price"),
        "losses": words("losses lost died dead"),
        "log": words("log notes note entries entry diary journal history decisions decision"),
    }
)
_NUMBERED = words("note notes entry entries number numbers job jobs line lines no nr")
_NEWEST = words("last latest newest that it this")
_DONE = words(
    "sow sowed sown plant planted pot potted prune pruned buy bought pick picked do did done say said note noted "
    "log logged decide decided drop dropped postpone postponed put set lose lost"
)
_ORDINALS: Mapping[str, int] = MappingProxyType(
    {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7}
)
_MOST = 50  # numbers one command may name ("notes 1 to 5")


def command_of(verb: str, board: Board, crops: tuple[CropRef, ...]) -> Command:
    """The command ``verb`` with what it shows and what it points at."""
    return Command(verb, _noun(board), _target(board, crops))


_OF_ME = words("us me know")
"""Words that mean the garden where nothing else is named: "what do you know about me"."""
_SHOW = frozenset({"", "show", "more", "repeat"})
_SHOWN_UNDER: Mapping[str, str] = MappingProxyType({"place": "garden", "jobs": "agenda"})


def topic_shown(command: Command, request: Request) -> str:
    """The topic that shows what a command is about, by its verb and noun. Without a verb of the decisive words
    "where" and "week" name nothing in a question about the log or an answer ("what did I do last week")."""
    if command.verb in ("why", "sources"):
        return "explain"
    if request.has("asks", "spent"):
        return "log"
    if command.verb not in _SHOW or (command.verb == "" and request.topic in ("log", "explain")):
        return request.topic
    if command.noun == "jobs" and request.has("where"):
        return request.topic  # what stands where is asked, not what is due
    return _SHOWN_UNDER.get(command.noun, request.topic)


def _noun(board: Board) -> str:
    said = [t.word for t in board.tokens]
    if said[:1] == ["which"] and board.of("crop") and _DONE & set(said):
        return "varieties"  # "which tomatoes did I say"
    first = next((name for word in said for name, named in _NOUNS.items() if word in named), "")
    first = "garden" if not first and _OF_ME & set(said) else first
    if (
        first in ("", "garden", "place", "plantings", "jobs")
        and said[:1] == ["what"]
        and _DONE & set(said)
        and "did" in said
    ):
        return "log"
    return first


def _target(board: Board, crops: tuple[CropRef, ...]) -> Target:
    numbers = _numbers(board)
    days = [s.value for s in board.of("date") if isinstance(s.value, date)]
    said = {t.word for t in board.tokens}
    return Target(
        numbers=numbers,
        crops=crops,
        on=days[0] if days else None,
        newest=not numbers and bool(_NEWEST & said),
        words=board.text.typed.strip(),
    )


def _numbers(board: Board) -> tuple[int, ...]:
    """Numbers of the list: behind "note", "job", "#"; alone after the verb; "1 to 5" means all between."""
    tokens = board.tokens
    dated = {i for s in board.of("date") for i in range(s.start, s.end)}
    found: list[int] = []
    naming = False
    for i, token in enumerate(tokens):
        if (token.word in _NUMBERED and not (i == 0 and token.word == "no")) or "#" in token.gap:
            naming = True
        if i in dated:
            naming = False
        elif token.number is not None and token.number == int(token.number) and 0 < token.number < 1e6:
            if naming or _alone(board, i):
                number = int(token.number)
                if (
                    found
                    and i
                    and tokens[i - 1].word in ("to", "through")
                    and 0 < number - found[-1] <= _MOST
                ):
                    found += range(found[-1] + 1, number)
                found.append(number)
        elif token.word in _ORDINALS and board.word(i + 1) in ("one", "entry", "note", "job"):
            found.append(_ORDINALS[token.word])
        elif naming and token.word not in ("and", "to", "through", "or", *_NUMBERED):
            naming = False
    return tuple(dict.fromkeys(found))


_VERBS = words(
    "drop skip scrap delete remove did done finish finished undo postpone snooze defer delay "
    "change edit amend correct fix"
)


def _alone(board: Board, i: int) -> bool:
    """A bare number right behind the verb, or the first word of a plan: "drop 3", "2 until Saturday"."""
    if i == 0:
        return board.word(1) in ("until", "till", "to", "done", "and")
    ends = i + 1 == len(board.tokens) or board.word(i + 1) in ("and", "until", "till", "to", "for", "please")
    return board.word(i - 1) in _VERBS and ends
