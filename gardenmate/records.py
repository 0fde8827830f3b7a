"""`dataclass` and `NamedTuple` of the standard library, made cheaply.

The library writes and compiles some six functions for every dataclass and checks every annotation of a named
tuple, which together was a third of the time of a one-shot question. Here the methods are shared, and a
constructor is compiled when the first record is made. To a type checker they are the library's own; at run time
they do what the package uses of them: no class variables, no order, no pickling.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import MISSING, asdict, dataclass, field, fields, replace
    from typing import NamedTuple

    __all__ = ["MISSING", "NamedTuple", "asdict", "dataclass", "field", "fields", "replace"]
else:
    from collections import _tuplegetter
    from functools import cache
    from operator import attrgetter
    from types import FunctionType

    class FrozenInstanceError(AttributeError):
        """A field of a frozen record was set or deleted."""

    class MISSING:
        """Stands where a field has no default."""

    class field:  # noqa: N801 (the library's name)
        """One field of a dataclass: its default, or what makes it, and what it takes part in."""

        name, kw_only, _field_type = "", False, None  # the last: the library's ``replace`` asks for it

        def __init__(
            self, *, default=MISSING, default_factory=MISSING, init=True, repr=True, hash=True, compare=True
        ):
            self.default, self.default_factory, self.init = default, default_factory, init
            self.repr, self.hash, self.compare = repr, hash and compare, compare

    def dataclass(cls=None, /, *, frozen=False, slots=False, kw_only=False, eq=True, repr=True):
        """The class as a dataclass; with ``slots`` a new class takes its place."""
        if cls is None:
            return lambda cls: dataclass(cls, frozen=frozen, slots=slots, kw_only=kw_only, eq=eq, repr=repr)
        body = {k: v for k, v in vars(cls).items() if k not in ("__dict__", "__weakref__")}
        own = {name: _field(name, body.pop(name, MISSING), kw_only) for name in cls.__annotations__}
        kept = getattr(cls.__base__, "__dataclass_fields__", {})
        every = kept | own
        if slots:
            body["__slots__"] = tuple(name for name in own if name not in kept)
        else:
            body |= {k: f.default for k, f in own.items() if f.default is not MISSING}
        body |= {"__dataclass_fields__": every, "_frozen": frozen, "__init__": _first_init}
        body["__qualname__"] = cls.__qualname__
        body["__match_args__"] = tuple(k for k, f in every.items() if f.init and not f.kw_only)
        if repr:
            body.setdefault("__repr__", _repr)
        if eq:
            body["_compared"] = _values(k for k, f in every.items() if f.compare)
            body.setdefault("__eq__", _eq)
            body.setdefault("__hash__", _hash if frozen else None)
        if frozen:
            body["_hashed"] = _values(k for k, f in every.items() if f.hash)
            body["__setattr__"] = body["__delattr__"] = _refuse
        return type(cls)(cls.__name__, cls.__bases__, body)

    def _field(name, value, kw_only):
        made = value if isinstance(value, field) else field(default=value)
        made.name, made.kw_only = name, kw_only
        return made

    def _values(names):
        """What reads these fields of a record, at the speed of C; records without any are alike."""
        return staticmethod(attrgetter(*(tuple(names) or ("__class__",))))

    def _first_init(self, *given, **named):
        """The constructor until the first record is made: it puts the real one in its place."""
        cls = next(c for c in type(self).__mro__ if vars(c).get("__init__") is _first_init)
        head, keyword, lines, names = ["self"], [], [], {"_set": object.__setattr__, "_missing": MISSING}
        for name, f in cls.__dataclass_fields__.items():
            made = f.default_factory is not MISSING
            names |= {f"_{name}_made": f.default_factory} if made else {f"_{name}": f.default}
            value = name
            if f.init:
                default = "_missing" if made else "" if f.default is MISSING else f"_{name}"
                (keyword if f.kw_only else head).append(f"{name}={default}" if default else name)
                value = f"_{name}_made() if {name} is _missing else {name}" if made else name
            elif made:
                value = f"_{name}_made()"
            elif f.default is MISSING:
                continue
            lines.append(f"_set(self, {name!r}, {value})" if cls._frozen else f"self.{name} = {value}")
        if hasattr(cls, "__post_init__"):
            lines.append("self.__post_init__()")
        head += ["*", *keyword] if keyword else []
        cls.__init__ = _compiled(
            f"def __init__({', '.join(head)}):\n " + "\n ".join(lines or ["pass"]), names
        )
        cls.__init__(self, *given, **named)

    def _compiled(text, names):
        exec(text, names)
        return names["__init__"]

    def _repr(self):
        shown = ", ".join(f"{k}={getattr(self, k)!r}" for k, f in self.__dataclass_fields__.items() if f.repr)
        return f"{type(self).__qualname__}({shown})"

    def _eq(self, other):
        if other.__class__ is not self.__class__:
            return NotImplemented
        return self._compared(self) == self._compared(other)

    def _hash(self):
        return hash(self._hashed(self))

    def _refuse(_self, name, *_value):
        raise FrozenInstanceError(f"field {name!r} of a frozen record")

    def fields(record):
        """The fields of a dataclass or of one of its records, in order."""
        return tuple(record.__dataclass_fields__.values())

    def replace(record, /, **changes):
        """The record with other values in some fields."""
        for name, f in record.__dataclass_fields__.items():
            if f.init and name not in changes:
                changes[name] = getattr(record, name)
        return record.__class__(**changes)

    def asdict(record):
        """The fields of a record by name; what stands in them is not taken apart."""
        return {name: getattr(record, name) for name in record.__dataclass_fields__}

    @cache
    def _tuple_code(count):
        """The code of a constructor of so many fields, whatever they are called."""
        names = "".join(f"_{n}, " for n in range(count))
        return eval(f"lambda _cls, {names}: _new(_cls, ({names}))").__code__

    class _Tuple(tuple):
        """What all named tuples share."""

        __slots__ = ()
        _fields, _field_defaults = (), {}

        def __new__(cls, *given, **named):
            """The constructor until the first is made: it puts the real one in its place."""
            owner = next(c for c in cls.__mro__ if "_fields" in vars(c))
            code = _tuple_code(len(owner._fields)).replace(co_varnames=("_cls", *owner._fields))
            made = FunctionType(
                code, {"_new": tuple.__new__}, "__new__", tuple(owner._field_defaults.values())
            )
            owner.__new__ = staticmethod(made)
            return made(cls, *given, **named)

        @classmethod
        def _make(cls, values):
            return tuple.__new__(cls, values)

        def _replace(self, /, **changes):
            made = self._make(map(changes.pop, self._fields, self))
            if changes:
                raise ValueError(f"Got unexpected field names: {list(changes)!r}")
            return made

        def _asdict(self):
            return dict(zip(self._fields, self, strict=True))

        def __repr__(self):
            shown = ", ".join(f"{k}={v!r}" for k, v in zip(self._fields, self, strict=True))
            return f"{type(self).__name__}({shown})"

        def __getnewargs__(self):
            return tuple(self)

    class _NamedTuples(type):
        """Makes a class of the fields annotated in its body."""

        def __new__(mcls, name, bases, body):
            if not bases:
                return super().__new__(mcls, name, bases, body)
            names = tuple(body["__annotations__"])
            body["_field_defaults"] = {n: body.pop(n) for n in names if n in body}
            body |= {n: _tuplegetter(i, f"field {n}") for i, n in enumerate(names)}
            body |= {"_fields": names, "__match_args__": names, "__slots__": ()}
            return type(name, (_Tuple,), body)

    class NamedTuple(metaclass=_NamedTuples):
        """The base a named tuple names; none of them has it as a base."""
