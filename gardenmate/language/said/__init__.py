"""What the words of one topic say beyond the values every topic shares: one file a topic.

Each file has ``read(said) -> Iterable[Typed]``: it looks for what only that topic asks about (spacings, shoot
lengths, which cover, what went wrong ...) and names it as `Typed` values with ids, never phrases. It is read
once, after the topic is decided; the topic's own rules see the values and not the text. A new topic with words
of its own adds a file and a line to READERS.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from importlib import import_module
from types import MappingProxyType
from typing import Protocol, cast

from gardenmate.core.question import Request, Typed
from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple, replace

READERS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "explain": ("explain", "profile", "agenda"),
        "pruning": ("plants", "mulch"),
        **dict.fromkeys(("out-of-scope", "unclear"), ("mulch",)),
        "propagation": ("plants",),
        "how-many": ("amounts",),
        "buy-or-sow": ("amounts", "costs"),
        "germination": ("seed",),
        **dict.fromkeys(
            (
                "hardening-off",
                "potting-up",
            ),
            ("young", "mulch", "lows"),
        ),
        **dict.fromkeys(
            ("early-start", "late-start", "when-start", "harvest-date"), ("young", "mulch", "season", "lows")
        ),
        "frost": ("young", "cold", "mulch", "compared", "lows"),
        "cold-frame": ("young", "cold", "lows"),
        "heat-and-light": ("young", "lamps"),
        "log": ("log", "profile", "agenda"),
        "agenda": ("agenda", "profile"),
        "garden": ("garden", "garden_facts", "own_frosts", "compared", "profile", "agenda"),
    }
)
"""Topic -> the files of this folder that read its words."""


class Said(NamedTuple):
    """What a reader is given: the text as typed and ``plain`` (lower case, one line, straight quotes), the
    request as far as it is decided, the day and the facts; ``metric`` where bare figures are metric."""

    text: str
    plain: str
    request: Request
    today: date
    facts: Facts
    metric: bool = False


class WordReader(Protocol):
    """A file of this folder."""

    def read(self, said: Said) -> Iterable[Typed]:
        """What these words say of the topic; pure."""
        ...


def plain(text: str) -> str:
    """The text in lower case, on one line, with straight quotes."""
    return " ".join(text.replace("\u2019", "'").replace("\u2018", "'").split()).lower()


def said_of(topic: str, said: Said) -> tuple[Typed, ...]:
    """Everything the readers of a topic find, in the order of READERS."""
    found: list[Typed] = []
    for name in READERS.get(topic, ()):
        found += cast(WordReader, import_module(f"{__name__}.{name}")).read(said)
    return tuple(found)


def read_under(topic: str, request: Request, today: date, facts: Facts, metric: bool) -> Request:
    """The request under another topic, with what that topic's readers find in its words."""
    if request.topic == topic:
        return request
    request = replace(request, topic=topic)
    said = Said(request.text, plain(request.text), request, today, facts, metric)
    return replace(request, typed=(*request.typed, *said_of(topic, said)))
