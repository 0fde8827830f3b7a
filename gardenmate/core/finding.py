"""What a topic has decided, before a word is written: verdict, quantities and where they come from."""

from __future__ import annotations

from gardenmate.core.answer import Verdict
from gardenmate.core.quantity import Quantity
from gardenmate.records import NamedTuple, dataclass


class Figure(NamedTuple):
    """One quantity of a finding under its machine name; ``crop`` tells whose it is when there are several,
    ``shown`` False keeps it to the machine."""

    name: str
    quantity: Quantity
    crop: str | None = None
    shown: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """The decision of one question; topics add their reasons and exceptions as enumerations, never a sentence.

    ``figures`` in the order they are read, ``key`` names the at most three that decide, ``chance`` is 0-1,
    ``sources`` the ids of knowledge/sources.toml.
    """

    verdict: Verdict | None = None
    figures: tuple[Figure, ...] = ()
    key: tuple[str, ...] = ()
    chance: float | None = None
    sources: tuple[str, ...] = ()
