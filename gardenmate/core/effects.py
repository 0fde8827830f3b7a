"""What an answer asks to be remembered. Rules return these; only the conversation carries them out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from gardenmate.records import NamedTuple, dataclass, field


@dataclass(frozen=True, slots=True)
class LogDecision:
    """Record a decision: what was done or decided (``action``: sow, set-out, pot-up, prune, harvest, buy,
    skip, note ...), on which date, for which crops and count, in the grower's words."""

    action: str
    text: str
    on: date
    crops: tuple[str, ...] = ()
    count: float | None = None
    detail: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class CorrectDecision:
    """Replace fields of an earlier decision (``decision_id``); the old version stays in the journal.

    ``detail`` is laid over the detail there was: what it does not name stays, a value "" takes a name away.
    """

    decision_id: int
    text: str | None = None
    on: date | None = None
    count: float | None = None
    crops: tuple[str, ...] | None = None
    action: str | None = None
    detail: Mapping[str, str] | None = None


@dataclass(frozen=True, slots=True)
class UndoDecision:
    """Take back the latest change still standing (a decision, or a correction of one), or, with
    ``decision_id``, that decision whenever it was recorded."""

    decision_id: int | None = None


@dataclass(frozen=True, slots=True)
class RedoDecision:
    """Put back the change taken back last, or, with ``decision_id``, that decision or its latest correction
    that was taken back."""

    decision_id: int | None = None


Value = str | int | float | bool | date | list[str] | dict[str, "Value"] | None
"""What a key of the garden file may hold; a whole section is a dict."""


@dataclass(frozen=True, slots=True)
class GardenChange:
    """Set one key of the garden file, dotted ("frost.last", "gear.mat", "plants.elderberry.planted").

    ``value`` None removes the key.
    """

    key: str
    value: Value


class Changed(NamedTuple):
    """One key of the garden file that was changed, and its values before and after (None: not there)."""

    key: str
    old: Value
    new: Value


Effect = LogDecision | CorrectDecision | UndoDecision | RedoDecision | GardenChange
