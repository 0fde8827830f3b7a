"""The light dataclasses against the standard ones: one meaning, two makers."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from collections.abc import Mapping
from typing import Any, ClassVar

import pytest

from gardenmate import record


def _same_classes(maker: Any) -> tuple[type, type, type]:
    @maker.dataclass(frozen=True, slots=True)
    class Bed:
        """A bed."""

        length_cm: float
        crop: str = "kale"
        notes: Mapping[str, str] = maker.field(default_factory=dict, hash=False)
        seen: int = maker.field(default=0, compare=False, repr=False)
        UNITS: ClassVar[str] = "cm"

        @property
        def length_m(self) -> float:
            return self.length_cm / 100

    @maker.dataclass(frozen=True, slots=True)
    class Covered(Bed):
        cover: str = "fleece"

    @maker.dataclass
    class Count:
        plants: int = 1
        rows: list[int] = maker.field(default_factory=list)
        cache: dict[int, int] = maker.field(default_factory=dict, init=False, compare=False, repr=False)

        def __post_init__(self) -> None:
            self.plants = max(self.plants, 0)

    return Bed, Covered, Count


LIGHT = _same_classes(record)
STANDARD = _same_classes(dataclasses)
CALLS: tuple[tuple[int, tuple[Any, ...], dict[str, Any]], ...] = (
    (0, (120.0,), {}),
    (0, (120.0, "leek"), {"notes": {"a": "b"}, "seen": 3}),
    (0, (), {"length_cm": 80}),
    (0, (), {}),
    (0, (1.0,), {"width": 2}),
    (1, (120.0,), {}),
    (1, (120.0, "leek", {}, 0, "tunnel"), {}),
    (2, (), {}),
    (2, (-4, [1, 2]), {}),
    (2, (), {"cache": {}}),
)


@pytest.mark.parametrize("call", CALLS)
def test_made_shown_and_refused_as_the_standard_does(
    call: tuple[int, tuple[Any, ...], dict[str, Any]],
) -> None:
    which, args, kwargs = call
    try:
        expected = STANDARD[which](*args, **kwargs)
    except TypeError:
        with pytest.raises(TypeError):
            LIGHT[which](*args, **kwargs)
        return
    made = LIGHT[which](*args, **kwargs)
    assert repr(made) == repr(expected)
    assert made == LIGHT[which](*args, **kwargs)
    assert made != expected
    assert dataclasses.asdict(made) == dataclasses.asdict(expected)
    assert [f.name for f in record.fields(made)] == [f.name for f in dataclasses.fields(expected)]
    assert type(made).__match_args__ == type(expected).__match_args__
    assert (type(made).__hash__ is None) == (type(expected).__hash__ is None)


def test_equality_and_hash_leave_out_what_the_fields_say() -> None:
    for bed in (LIGHT[0], STANDARD[0]):
        assert bed(1.0, seen=1) == bed(1.0, seen=2)
        assert hash(bed(1.0, notes={"a": "b"})) == hash(bed(1.0))
        assert bed(1.0, notes={"a": "b"}) != bed(1.0)
    assert LIGHT[0](1.0) != LIGHT[1](1.0)


def test_frozen_records_refuse_changes_and_strangers() -> None:
    bed = LIGHT[0](1.0)
    for name in ("length_cm", "unknown"):
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(bed, name, 2.0)
    with pytest.raises(dataclasses.FrozenInstanceError):
        del bed.crop
    assert not hasattr(bed, "__dict__")
    assert bed.length_m == 0.01


def test_replace_copies_with_changes() -> None:
    bed = LIGHT[1](1.0, cover="cloche")
    for replace in (record.replace, dataclasses.replace):
        changed = replace(bed, crop="leek")
        assert (changed.crop, changed.cover, bed.crop) == ("leek", "cloche", "kale")
        with pytest.raises(TypeError):
            replace(bed, width=3)
    assert dataclasses.is_dataclass(bed)


def test_copies_of_records_that_are_used() -> None:
    from gardenmate.question import CropRef

    ref = CropRef("onion", "sets")
    assert copy.copy(ref) == copy.deepcopy(ref) == pickle.loads(pickle.dumps(ref)) == ref


def test_factories_make_a_new_value_each_time() -> None:
    one, other = LIGHT[2](), LIGHT[2]()
    one.rows.append(1)
    assert other.rows == []
