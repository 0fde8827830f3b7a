"""What is answered: the one type that travels from rules to the screen, the JSON line and the journal.

Texts are already in the grower's units; ``numbers`` carry machine names and both units where it matters.
Rules fill it; nothing that draws it computes anything.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Literal

from gardenmate.core.place import PlaceNote
from gardenmate.core.question import Act, Request, Typed
from gardenmate.records import NamedTuple, dataclass, field

if TYPE_CHECKING:
    from gardenmate.core.effects import Effect

Verdict = Literal["yes", "tight", "no"]
Activity = Literal["sow-indoors", "sow-outdoors", "set-out", "fall-sow", "fall-set-out"]


class Number(NamedTuple):
    """One figure of an answer.

    ``name`` is the machine name (listed in the README), ``label`` what a grower reads, ``unit`` one of
    "date", "days", "weeks", "F", "C", "%", "hours", "W", "kWh", "plants", ... or "" for a plain count.
    ``crop`` tells whose figure it is when several crops are answered. ``shown`` False keeps it to the JSON.
    """

    name: str
    value: float | int | str | date | None
    unit: str = ""
    label: str = ""
    crop: str | None = None
    shown: bool = True


class Window(NamedTuple):
    """When an activity may be done: earliest and latest bound it, best_from..best_to is the good part.

    ``sure_to`` is the last day that is more than tight; None: every day of it is tight. ``days_to_maturity`` and
    ``cover`` are those it rests on where a middling variety does not ripen in the open (None and "" else).
    """

    crop: str
    activity: Activity
    earliest: date
    best_from: date
    best_to: date
    latest: date
    kind: str | None = None
    sure_to: date | None = None
    days_to_maturity: float | None = None
    cover: str = ""


class Mark(NamedTuple):
    """A point on the drawn date line, such as ("set out", 12 June)."""

    label: str
    on: date


class Kept(NamedTuple):
    """What a turn wrote: the ``store`` (journal or garden), the number or key it is kept under, and its text."""

    store: Literal["journal", "garden"]
    id: int | str
    text: str


class JobRef(NamedTuple):
    """A job of a list shown, by the number it had there: its key in knowledge/work.toml, its crop ("" none), the logged
    sowing it follows from, the reminder it is (entry numbers), and its words."""

    number: int
    job: str
    crop: str = ""
    batch: int | None = None
    reminder: int | None = None
    do: str = ""


class Table(NamedTuple):
    """A small table: column heads and rows of ready-made text; numbers are already formatted."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """The reply to one question, in the order a grower reads it.

    verdict (yes = go ahead, works, is fine, is needed | tight = possible at a stated risk | no | None),
    headline (one sentence), ``numbers`` (the aligned block), ``details`` (reasoning sentences), ``table``,
    ``steps`` (things to do, in order), ``changes`` (what would change the answer), ``cautions``,
    ``assumptions``, then on request ``working`` (the arithmetic, line by line) and ``sources`` (ids of
    knowledge/sources.toml). ``asks`` holds the choices of a clarifying question. ``effects`` are what the
    conversation must make durable before the answer is shown.

    ``key_figures`` names the (at most three) numbers that would change the decision, for the short form;
    empty leaves the choice to the general rule of knowledge/present.toml. ``polar`` says whether yes or no
    answers what was asked; None leaves it to how the question reads (`Request.sense`).

    ``place`` is the place it was worked for, ``place_note`` the sentence which garden that is, ``place_doubt`` that its
    dates are uncertain there, ``place_reading`` how its name was read; they are shown right under the headline, the
    last two once a session. The dialogue fills them in for every answer that uses dates. ``jobs`` are the
    numbered jobs a list shows, so that "done 2" is understood after it.
    """

    question: Request
    verdict: Verdict | None
    headline: str
    numbers: tuple[Number, ...] = ()
    details: tuple[str, ...] = ()
    table: Table | None = None
    steps: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    chance: float | None = None
    windows: tuple[Window, ...] = ()
    marks: tuple[Mark, ...] = ()
    cautions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    working: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    effects: tuple[Effect, ...] = field(default=())
    reading: str | None = None
    key_figures: tuple[str, ...] = ()
    polar: bool | None = None
    act: Act = "ask"
    also: tuple[Answer, ...] = ()
    kept: tuple[Kept, ...] = ()
    unused: tuple[Typed, ...] = ()
    place: PlaceNote | None = None
    place_note: str | None = None
    place_doubt: str | None = None
    place_reading: str | None = None
    jobs: tuple[JobRef, ...] = ()
