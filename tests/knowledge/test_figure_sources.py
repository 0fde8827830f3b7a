"""Figure by figure: every figure of the facts names its own source, and none hides behind a list of others."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from gardenmate.knowledge.crop_uses import Amounts
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.reader import Sources

FACTS = Facts()
TABLES = ("season", "raising", "protection", "pruning", "chilling", "stages", "prices", "amounts", "work")
FILES = [
    *TABLES,
    "propagation",
    *(f"{folder}/{i}" for folder in ("crops", "woody") for i in FACTS.ids(folder)),
]
# Not figures of the garden: groups, places in a list, and what depends on the country.
NO_FIGURES = {"groups", "lists", "caution_keys", "overview", "currency", "sown", "night_default", "reference"}


def weak(source: str) -> bool:
    """Not a publication that was read: the program's own, common practice, or recalled."""
    return (
        source in ("common-practice", "design-value")
        or source.startswith("own-")
        or FACTS.source(source).from_memory
    )


def figures(table: dict[str, Any]) -> set[str]:
    """The keys of a section that hold numbers."""
    return {key for key, value in table.items() if key != "sources" and _numeric(value)}


def _numeric(value: Any) -> bool:
    if isinstance(value, bool):
        return False
    if isinstance(value, int | float):
        return True
    if isinstance(value, list):
        return bool(value) and all(_numeric(item) for item in value)
    return isinstance(value, dict) and bool(value) and all(_numeric(item) for item in value.values())


def sections(
    node: Any, path: str, above: Sources | None = None
) -> Iterator[tuple[str, dict[str, Any], Sources]]:
    """Every section with figures and the sources it names, or that name it (rows of a table, inline tables)."""
    if isinstance(node, list):
        for i, item in enumerate(node):
            yield from sections(item, f"{path}[{i}]", above)
    if not isinstance(node, dict):
        return
    own = node.get("sources")
    held = own if own is not None else above
    if figures(node) and "." in path:
        yield path, node, held if held is not None else Sources()
    for key, value in node.items():
        if key not in NO_FIGURES and key != "sources" and not (_numeric(value) and isinstance(value, dict)):
            inner = held.of(key) if held is not None and key in held.by_figure else None
            inner = held if inner is None and held is not None and not held.by_figure else inner
            yield from sections(value, f"{path}.{key}", inner)


@pytest.mark.parametrize("file", FILES)
def test_every_figure_has_its_own_source(file: str) -> None:
    for path, section, sources in sections(FACTS.table(file), file):
        if sources.by_figure:
            assert figures(section) <= set(sources.by_figure), path
        else:
            assert len(sources) >= 1, path
            told_of_rows = "sources" not in section
            assert len(sources) == 1 or told_of_rows, path


@pytest.mark.parametrize("file", FILES)
def test_no_figure_mixes_a_publication_with_what_is_none(file: str) -> None:
    def lists(node: Any, path: str) -> Iterator[tuple[str, tuple[str, ...]]]:
        if isinstance(node, list):
            for i, item in enumerate(node):
                yield from lists(item, f"{path}[{i}]")
        if isinstance(node, dict):
            for key, value in node.items():
                if isinstance(value, Sources):
                    by = value.by_figure or {"": tuple(value)}
                    yield from ((f"{path}.{figure}", ids) for figure, ids in by.items())
                else:
                    yield from lists(value, f"{path}.{key}")

    for path, ids in lists(FACTS.table(file), file):
        assert ids, path
        assert len({weak(i) for i in ids}) == 1, (path, ids)
        assert len(ids) == len(set(ids)), path


def test_records_tell_the_source_of_a_figure() -> None:
    """A record knows which ids stand behind which of its fields, by the field's name or the file's key."""
    made = Amounts(Sources(("a", "b"), {"again_weeks": ("a",), "lb_per_quart": ("b",)}))
    assert made.sources.of("again_weeks") == ("a",)
    assert made.sources.of("lb_per_quart", "again_weeks") == ("b", "a")
    frost = FACTS.crop("broccoli").frost
    assert frost.sources.of("damage_below_c") == frost.sources.of("damage_below_f")
    assert set(frost.sources.of("killed_below_c")) < set(frost.sources)


def test_a_publication_has_one_id() -> None:
    """No two entries read the same page (the front page of a site is no page)."""
    pages: dict[str, str] = {}
    for source_id, entry in FACTS.table("sources").items():
        page = (
            str(entry.get("url", ""))
            .rstrip("/")
            .removeprefix("https://")
            .removeprefix("http://")
            .removeprefix("www.")
        )
        if page.count("/") >= 1:
            assert pages.setdefault(page.lower(), source_id) == source_id, (pages[page.lower()], source_id)


def test_every_source_is_named_somewhere() -> None:
    """An entry that no figure, no rule and no published check cites is a leftover."""
    files = [p for p in FACTS.root.rglob("*.toml") if p.name != "sources.toml"]
    files += [p for folder in ("gardenmate", "tests") for p in (FACTS.root.parent / folder).rglob("*.py")]
    named = {word for path in files for word in path.read_text("utf-8").split('"')}
    assert [i for i in FACTS.table("sources") if i not in named] == []
