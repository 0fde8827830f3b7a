"""The package's own dataclasses and named tuples do what those of the standard library do."""

from __future__ import annotations

import dataclasses
import typing
from types import SimpleNamespace

import pytest

from gardenmate import records

LIBRARY = SimpleNamespace(
    dataclass=dataclasses.dataclass,
    field=dataclasses.field,
    fields=dataclasses.fields,
    replace=dataclasses.replace,
    asdict=dataclasses.asdict,
    MISSING=dataclasses.MISSING,
    NamedTuple=typing.NamedTuple,
)


def classes(of: typing.Any) -> SimpleNamespace:
    """One class of every kind the package has."""

    @of.dataclass(frozen=True, slots=True)
    class Plain:
        crop: str
        days: tuple[int, ...] = ()
        seen: dict[str, int] = of.field(default_factory=dict, hash=False)
        note: str = of.field(default="", compare=False, repr=False)

    @of.dataclass(frozen=True, slots=True)
    class More(Plain):
        bed: str = "A"

    @of.dataclass(frozen=True, slots=True, kw_only=True)
    class Named:
        low_c: float
        high_c: float | None = None

    @of.dataclass(slots=True)
    class Draft:
        crop: str
        marks: list[int] = of.field(default_factory=list)
        length: int = of.field(init=False)
        later: list[str] = of.field(default_factory=list, init=False)

        def __post_init__(self) -> None:
            self.length = len(self.marks)

    @of.dataclass(eq=False, repr=False)
    class Table:
        name: str = "x"

    class Pair(of.NamedTuple):
        low: float
        high: float = 2.0

        @property
        def width(self) -> float:
            return self.high - self.low

    return SimpleNamespace(
        Plain=Plain, More=More, Named=Named, Draft=Draft, Table=Table, Pair=Pair, **vars(of)
    )


def refused(work: typing.Callable[[], object]) -> str:
    """The kind of error, by the class that both kinds of records raise or inherit."""
    with pytest.raises((TypeError, AttributeError, ValueError)) as caught:
        work()
    return next(
        kind.__name__ for kind in (TypeError, AttributeError, ValueError) if caught.errisinstance(kind)
    )


SAME = {
    "made by place": lambda c: c.Plain("leek", (1, 2)),
    "made by name": lambda c: c.Plain(days=(1,), crop="kale", note="n"),
    "inherits": lambda c: c.More("leek", bed="B"),
    "replaced": lambda c: c.replace(c.More("leek", note="kept"), crop="kale").note,
    "by name only": lambda c: c.Named(low_c=1.0),
    "mutable": lambda c: c.Draft("leek", [1, 2]),
    "equal": lambda c: c.Plain("leek", note="a") == c.Plain("leek", note="b"),
    "unequal": lambda c: c.Plain("leek") == c.Plain("kale"),
    "of another class": lambda c: c.Plain("leek") == c.More("leek"),
    "no equality": lambda c: c.Table() == c.Table(),
    "one hash": lambda c: len({c.Plain("leek", seen={"a": 1}, note="x"), c.Plain("leek", note="y")}),
    "defaults apart": lambda c: c.Draft("a").later is c.Draft("b").later,
    "default of a class": lambda c: c.Table.name,
    "fields": lambda c: [(f.name, f.default is c.MISSING, f.init) for f in c.fields(c.More)],
    "as a dictionary": lambda c: c.asdict(c.Draft("leek", [1])),
    "matched": lambda c: c.More.__match_args__ + c.Named.__match_args__ + c.Pair.__match_args__,
    "no other name": lambda c: refused(lambda: setattr(c.Draft("leek"), "colour", 1)),
    "too few": lambda c: refused(c.Plain),
    "too many": lambda c: refused(lambda: c.Plain("a", (), {}, "", 5)),
    "by place only by name": lambda c: refused(lambda: c.Named(1.0)),
    "unknown": lambda c: refused(lambda: c.replace(c.Plain("a"), colour=1)),
    "frozen": lambda c: refused(lambda: setattr(c.Plain("leek"), "crop", "kale")),
    "not deleted": lambda c: refused(lambda: delattr(c.Plain("leek"), "crop")),
    "no hash": lambda c: refused(lambda: hash(c.Draft("leek"))),
    "tuple": lambda c: (c.Pair(1.0), c.Pair(high=3.0, low=2.0).width, tuple(c.Pair(1.0))),
    "tuple's fields": lambda c: (c.Pair._fields, c.Pair._field_defaults),
    "tuple replaced": lambda c: c.Pair(1.0)._replace(high=5.0),
    "tuple as a dictionary": lambda c: c.Pair._make([1, 2])._asdict(),
    "tuple unknown": lambda c: refused(lambda: c.Pair(1.0)._replace(wide=1)),
    "tuple short": lambda c: refused(c.Pair),
    "tuple set": lambda c: refused(lambda: setattr(c.Pair(1.0), "low", 2.0)),
}


@pytest.mark.parametrize("what", SAME)
def test_records_do_as_the_library_does(what: str) -> None:
    ours, theirs = SAME[what](classes(records)), SAME[what](classes(LIBRARY))
    assert str(ours) == str(theirs)
