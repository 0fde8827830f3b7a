"""The one door to the facts: reads only what is asked for, keeps what it has read."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from gardenmate.core.errors import DamagedFileError
from gardenmate.core.question import CropRef
from gardenmate.knowledge.crops import Crop, read_crop
from gardenmate.knowledge.marked import PLAIN, Manner, told
from gardenmate.knowledge.reader import data_root, fault, read_toml, with_sources
from gardenmate.records import NamedTuple

T = TypeVar("T")
# sort of group -> the table that holds its figures, and under which key
_GROUPS = {
    "start": ("season", "start"),
    "frost": ("protection", "group"),
    "aftermath": ("protection", "aftermath"),
    "pick": ("protection", "pick"),
    "night": ("protection", "night"),
    "potting": ("raising", "potting"),
    "price": ("prices", "group"),
    "way": ("prices", "way"),
}
_UNFAMILIAR = 1000
"""Place of a crop that claims none among the examples of its group: after those that do."""


class Source(NamedTuple):
    """Where a figure comes from."""

    id: str
    title: str
    url: str | None = None
    from_memory: bool = False


class NameEntry(NamedTuple):
    """One name a grower may type: what it stands for, and whether it is a spelling to be pointed out."""

    ref: CropRef
    misspelled: bool = False


class Facts:
    """Facts under one knowledge folder. Cheap to make; every file is read when first asked for.

    Raises DamagedFileError, naming file, line and key, from any method that reads a damaged file.
    """

    def __init__(self, root: Path | None = None) -> None:
        self.root = root if root is not None else data_root() / "knowledge"
        self._crops: dict[str, Crop] = {}
        self._tables: dict[str, dict[str, Any]] = {}
        self._ids: dict[str, tuple[str, ...]] = {}
        self._made: dict[Hashable, Any] = {}

    # -- crops -----------------------------------------------------------------------------------
    @cached_property
    def crop_ids(self) -> tuple[str, ...]:
        """File ids of every crop ("tomato", "lettuce-leaf"), sorted."""
        return self.ids("crops")

    def crop(self, crop_id: str) -> Crop:
        """A crop by file id ("lettuce-leaf"). Raises KeyError when there is no such crop."""
        found = self._crops.get(crop_id)
        if found is None:
            path = self.root / "crops" / f"{crop_id}.toml"
            if crop_id not in self.crop_ids:
                raise KeyError(crop_id)
            found = self._crops[crop_id] = read_crop(path, self.table(f"crops/{crop_id}"))
        return found

    def crop_for(self, ref: CropRef) -> Crop | None:
        """The crop a reference stands for: its kind when said, else the default kind; None for a plant
        that is not a crop of the season engine (a fruit tree)."""
        wanted = f"{ref.id}-{ref.kind}" if ref.kind else ref.id
        for candidate in (wanted, ref.id):
            if candidate in self.crop_ids:
                return self.crop(candidate)
        kinds = [self.crop(i) for i in self.crop_ids if i.startswith(f"{ref.id}-")]
        kinds = [c for c in kinds if c.base == ref.id]
        return next((c for c in kinds if c.default), kinds[0] if kinds else None)

    def crops(self) -> Iterable[Crop]:
        """Every crop, in the order of its id. Reads them all."""
        return (self.crop(i) for i in self.crop_ids)

    def members(self, sort: str, group: str) -> tuple[str, ...]:
        """Ids of the crops whose file names ``group`` (groups.<sort>), the most familiar first."""
        found = [
            (head.get("familiar", _UNFAMILIAR), i)
            for i, head in self._heads()
            if head["groups"].get(sort) == group
        ]
        return tuple(i for _, i in sorted(found))

    def examples(self, name: str) -> tuple[str, ...]:
        """Ids of the crops with a place in a list of examples ([lists] of their file), in that order."""
        found = [(lists[name], i) for i, head in self._heads() if name in (lists := head.get("lists", {}))]
        return tuple(i for _, i in sorted(found))

    def _heads(self) -> Iterable[tuple[str, dict[str, Any]]]:
        return ((i, self.table(f"crops/{i}")) for i in self.crop_ids)

    def group_of(self, crop: Crop, sort: str) -> Mapping[str, Any] | None:
        """The shared figures of the group the crop's file names; None where it says "none".

        Raises DamagedFileError when the table has no such group.
        """
        name: str = getattr(crop.groups, sort)
        if name == "none":
            return None
        file, key = _GROUPS[sort]
        groups: Mapping[str, Any] = self.table(file)[key]
        if name not in groups:
            raise fault(
                self.root / "crops" / f"{crop.id}.toml", sort, f"names no group of {file}.toml: {name!r}"
            )
        row: Mapping[str, Any] = groups[name]
        return row

    # -- any other table -------------------------------------------------------------------------
    def table(self, name: str) -> dict[str, Any]:
        """A fact file by its path under knowledge/ without the ending ("protection", "woody/apple")."""
        found = self._tables.get(name)
        if found is None:
            path = self.root / f"{name}.toml"
            found = read_toml(path)
            if not found:
                raise DamagedFileError(f"{path} is damaged: it is empty.")
            if not name.startswith("language/"):
                try:
                    found = with_sources(found)
                except TypeError as error:
                    raise fault(path, "sources", "is not a list of ids, nor one for each figure") from error
            self._tables[name] = found
        return found

    def told(self, name: str, manner: Manner = PLAIN) -> dict[str, Any]:
        """A fact file with its marked quantities and months worded in a manner."""
        return self.kept(("told", name, manner), lambda: told(self.table(name), manner))

    def ids(self, folder: str) -> tuple[str, ...]:
        """Sorted names of the TOML files of one folder under knowledge/, without the ending."""
        found = self._ids.get(folder)
        if found is None:
            found = self._ids[folder] = tuple(sorted(p.stem for p in (self.root / folder).glob("*.toml")))
        return found

    def kept(self, key: Hashable, make: Callable[[], T]) -> T:
        """What ``make`` builds from the facts, built once and kept under ``key``."""
        if key not in self._made:
            self._made[key] = make()
        made: T = self._made[key]
        return made

    @property
    def version(self) -> str:
        """The version of the facts, kept with every logged decision."""
        return str(self.table("version")["version"])

    # -- sources ---------------------------------------------------------------------------------
    def source(self, source_id: str) -> Source:
        """A source by id. Raises KeyError when it does not resolve."""
        entry = self.table("sources")[source_id]
        return Source(source_id, entry["title"], entry.get("url"), bool(entry.get("from_memory", False)))

    # -- names -----------------------------------------------------------------------------------
    @cached_property
    def names(self) -> dict[str, NameEntry]:
        """Every lower-case crop and plant name, and misspelling, and what it stands for.

        Crops come first: a plant that is both (asparagus, sage) has one base id, so either reading agrees.
        """
        found: dict[str, NameEntry] = {}
        for folder in ("crops", "woody"):
            for path in sorted((self.root / folder).glob("*.toml")):
                for name, entry in _names_of(path):
                    found.setdefault(name, entry)
        return found

    @cached_property
    def nicknames(self) -> dict[str, CropRef]:
        """Every name that is understood but not said back (``also_called``): sorts, short forms, parts."""
        found: dict[str, CropRef] = {}
        for folder in ("crops", "woody"):
            for plant in self.ids(folder):
                head = self.table(f"{folder}/{plant}")
                own, any_kind = CropRef(head["base"], head.get("kind")), CropRef(head["base"])
                for key, ref in (("also_called", own), ("also_called_of_any_kind", any_kind)):
                    for name in head.get(key, ()):
                        found.setdefault(name.lower(), ref)
        return found


def _names_of(path: Path) -> list[tuple[str, NameEntry]]:
    """The names a fact file gives its crop or plant."""
    head = read_toml(path)
    try:
        base, kind = head["base"], head.get("kind")
        many = CropRef(base, kind)
        generic = CropRef(base)
        rows = [(n.lower(), NameEntry(many)) for n in head["names"]]
        rows += [(n.lower(), NameEntry(generic)) for n in head.get("generic_names", ())]
        rows += [(n.lower(), NameEntry(generic if kind else many, True)) for n in head.get("misspelled", ())]
    except KeyError as error:
        raise fault(path, str(error.args[0]), "is missing") from error
    return rows
