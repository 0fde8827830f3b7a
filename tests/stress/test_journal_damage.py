"""Three hundred damages of a journal: whatever is whole in the bytes is shown, kept and listed again.

What is whole is told without the program: a short entry when its line, read before the damage, still stands in
the file in one piece; a long one when no page is changed in which any of its words stood.
"""

from __future__ import annotations

import os
import random
import re
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing, suppress
from datetime import date
from pathlib import Path
from typing import NamedTuple

import pytest

from gardenmate.core.effects import CorrectDecision, LogDecision, RedoDecision, UndoDecision
from gardenmate.core.errors import DamagedFileError
from gardenmate.journal.store import Journal

DAY = date(2027, 4, 18)
PAGE = 4096
TIMES = 300
BOUND_S = 10.0  # design value: a second or less here; only time without bound should fail


class Sound(NamedTuple):
    data: bytes
    texts: dict[int, str]
    lines: dict[int, bytes]
    pages: dict[int, frozenset[int]]


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Sound:
    path = tmp_path_factory.mktemp("sound") / "journal.db"
    chance = random.Random(1)
    with Journal(path) as journal:
        for ten in range(12):
            journal.keep([_entry(10 * ten + n, chance) for n in range(10)])
        journal.keep([UndoDecision(17), UndoDecision(19), RedoDecision(), CorrectDecision(30, count=3)])
        texts = {d.id: d.text for d in journal.everything()}
    data = path.read_bytes()
    with closing(sqlite3.connect(path)) as db:
        rows = db.execute("SELECT id, line FROM entry WHERE kind = 'record'").fetchall()
    pages = {
        n: frozenset(m.start() // PAGE for m in re.finditer(rb"tray%dx" % (n - 1), data)) for n, _ in rows
    }
    return Sound(data, texts, {n: line.encode() for n, line in rows}, pages)


def _entry(number: int, chance: random.Random) -> LogDecision:
    words = f"tray{number}x of {chance.choice(('leeks', 'peas', 'kale'))}"
    if number % 10 == 7:
        words = " ".join([words] * chance.choice((300, 700)))
    day = date(2027, chance.randint(1, 12), chance.randint(1, 28))
    return LogDecision(chance.choice(("sow", "note")), words, day, ("leek",), number)


def bits(data: bytearray, chance: random.Random) -> None:
    for _ in range(chance.randint(1, 4)):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)


def stretch(data: bytearray, chance: random.Random) -> None:
    at = chance.randrange(len(data))
    data[at : at + 20_000] = bytes([chance.choice((0, 255))]) * len(data[at : at + 20_000])


def truncated(data: bytearray, chance: random.Random) -> None:
    del data[chance.randrange(1, len(data)) :]


def header(data: bytearray, chance: random.Random) -> None:
    data[chance.randrange(100)] = chance.randrange(256)


def schema(data: bytearray, chance: random.Random) -> None:
    data[chance.randrange(100, PAGE)] = chance.randrange(256)


def tree(data: bytearray, chance: random.Random) -> None:
    data[chance.randrange(len(data) // PAGE) * PAGE + chance.randrange(12)] = chance.randrange(256)


def page(data: bytearray, chance: random.Random) -> None:
    at = chance.randrange(1, len(data) // PAGE) * PAGE
    data[at : at + PAGE] = chance.randbytes(PAGE)


def swapped(data: bytearray, chance: random.Random) -> None:
    a, b = (chance.randrange(1, len(data) // PAGE) * PAGE for _ in range(2))
    data[a : a + PAGE], data[b : b + PAGE] = data[b : b + PAGE], data[a : a + PAGE]


KINDS: tuple[Callable[[bytearray, random.Random], None], ...] = (
    bits, stretch, truncated, header, schema, tree, page, swapped,
)  # fmt: skip


@pytest.mark.parametrize("kind", KINDS, ids=[k.__name__ for k in KINDS])
def test_everything_whole_is_shown_and_kept(
    tmp_path: Path, sound: Sound, kind: Callable[[bytearray, random.Random], None]
) -> None:
    chance = random.Random(kind.__name__)
    told: list[str] = []
    for number in range(TIMES // len(KINDS) + 1):
        path = tmp_path / f"{number}" / "journal.db"
        path.parent.mkdir()
        damaged = bytearray(sound.data)
        kind(damaged, chance)
        path.write_bytes(damaged)
        whole = _whole(sound, bytes(damaged))
        start = time.monotonic()
        with Journal(path, warn=told.append) as journal:
            shown: dict[int, str] = {}
            with suppress(DamagedFileError):  # said where nothing at all is whole
                shown = {d.id: d.text for d in journal.everything()}
            assert {n: shown.get(n) for n in whole} == whole
        assert path.read_bytes() == damaged
        with Journal(path, warn=told.append) as journal:
            (after,) = journal.keep([LogDecision("note", "after the fault", DAY)])
        with Journal(path, warn=told.append) as journal:
            listed = {d.id: d.text for d in journal.everything()}
            assert {n: listed.get(n) for n in (*whole, after.id)} == whole | {after.id: "after the fault"}
            assert all("holds no decision" in problem for problem in journal.check())
        assert time.monotonic() - start < BOUND_S
    assert told or kind is header


def _whole(sound: Sound, damaged: bytes) -> dict[int, str]:
    changed = {
        at // PAGE
        for at in range(0, len(sound.data), PAGE)
        if sound.data[at : at + PAGE] != damaged[at : at + PAGE]
    }
    return {
        number: text
        for number, text in sound.texts.items()
        if sound.lines[number] in damaged
        or (len(sound.lines[number]) > PAGE and not sound.pages[number] & changed)
    }


@pytest.mark.parametrize("shape", ["marks", "marks that go on", "noise", "zeros", "carriage returns"])
def test_salvage_takes_time_in_step_with_the_bytes(tmp_path: Path, shape: str) -> None:
    """Eight megabytes made to mislead the search."""
    size = 8_000_000
    line = {
        "marks": b"gdnj2 00000000 9 ",
        "marks that go on": b"gdnj2 00000000 9000000 " + (5).to_bytes(4, "big") * 20,
        "noise": os.urandom(4096),
        "zeros": bytes(4096),
        "carriage returns": b"\r\x00\x00\x01\xff" * 800,
    }[shape]
    path = tmp_path / "journal.db"
    path.write_bytes((line * (size // len(line) + 1))[:size])
    start = time.monotonic()
    with Journal(path, warn=lambda _: None) as journal:
        journal.keep([LogDecision("note", "after the fault", DAY)])
        assert [d.text for d in journal.everything()] == ["after the fault"]
    assert time.monotonic() - start < 6 * BOUND_S
