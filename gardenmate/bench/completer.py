"""As-you-type completion of questions, crops, plants and places, each with a one-line meaning."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import islice

from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document

from gardenmate.bench.names import (
    Completable,
    beginnings,
    crop_names,
    examples,
    gear_names,
    place_names,
    towns_starting,
)
from gardenmate.knowledge.facts import Facts

MOST = 10  # names offered at once; design value
SHORTEST_LINE = 2  # letters of a whole line from which names are offered; design value
SHORTEST_WORD = 3  # letters of a word within a line; design value
_LONGEST_NAME_WORDS = 3  # words of a name that is completed; design value
_PLACE_BEFORE = re.compile(r"\b(?:in|at|near|from|around|of|about)\s+$", re.IGNORECASE)


class BenchCompleter(Completer):
    """Completes a whole question from its beginning, or the name of a crop, plant or place being typed.

    The words are read on the first key, then kept; ``varieties`` tells those of the garden with their crops. Places
    are offered after "in", "near" and the like.
    """

    def __init__(self, facts: Facts, varieties: Callable[[], Mapping[str, str]] | None = None) -> None:
        self._facts = facts
        self._varieties = varieties
        self._crops: list[Completable] | None = None
        self._places: list[Completable] | None = None

    def get_completions(self, document: Document, complete_event: CompleteEvent) -> Iterable[Completion]:
        """At most ten completions of the text before the cursor; none after a blank."""
        line = document.text_before_cursor.rsplit("\n", 1)[-1]
        start = line.lower().lstrip()
        if not start or line.endswith(" ") or document.text_after_cursor.strip():
            return
        shortest = 1 if complete_event.completion_requested else SHORTEST_WORD
        yield from islice(_once(self._all(line, start, shortest), line), MOST)

    def _all(self, line: str, start: str, shortest: int) -> Iterator[Completion]:
        whole = len(start) >= min(shortest, SHORTEST_LINE)
        if whole:
            yield from _longer(beginnings(self._facts), start)
        words = line.split(" ")
        for take in range(min(_LONGEST_NAME_WORDS, len(words)), 0, -1):
            typed = " ".join(words[-take:])
            if len(typed.strip()) < shortest:
                continue
            names = [*_starting(self._own(), typed), *_starting(self._crop_names(), typed)]
            if _PLACE_BEFORE.search(line[: len(line) - len(typed)]):
                names += _places(self._place_names(), typed, self._facts)
            yield from (_completion(name, typed) for name in names if name.key != typed.lower())
        if whole:
            yield from _longer(examples(self._facts), start)

    def _own(self) -> list[Completable]:
        """The varieties the grower has told, each with its crop."""
        told = self._varieties() if self._varieties is not None else {}
        return sorted(
            (Completable(n.lower(), n, f"your {crop}") for n, crop in told.items()), key=lambda n: n.key
        )

    def _crop_names(self) -> list[Completable]:
        if self._crops is None:
            self._crops = crop_names(self._facts)
        return self._crops

    def _place_names(self) -> list[Completable]:
        if self._places is None:
            self._places = place_names(self._facts)
        return self._places


class NameCompleter(Completer):
    """Completes what is asked at first run: a place from the line's beginning, or gear word by word."""

    def __init__(self, facts: Facts, kind: str) -> None:
        self._facts = facts
        self._names = place_names(facts) if kind == "place" else gear_names(facts)
        self._whole = kind == "place"

    def get_completions(self, document: Document, complete_event: CompleteEvent) -> Iterable[Completion]:
        """Names that start with what is typed."""
        line = document.text_before_cursor
        typed = line if self._whole else re.split(r"[,\s]\s*", line)[-1]
        if typed:
            found = _places(self._names, typed, self._facts) if self._whole else _starting(self._names, typed)
            for name in found[:MOST]:
                yield _completion(name, typed)


def _places(names: Sequence[Completable], typed: str, facts: Facts) -> list[Completable]:
    """Bundled places that start with what is typed, then towns of the gazetteer, each once."""
    bundled = _starting(names, typed)
    towns = (t for t in towns_starting(facts, typed) if not any(_same_town(t, b) for b in bundled))
    return [*bundled, *islice(towns, MOST)]


def _same_town(town: Completable, bundled: Completable) -> bool:
    """True when a town is a bundled place: the same name in the same region."""
    name, _, region = town.text.rpartition(", ")
    return bundled.key.partition(",")[0] == name.lower() and f" {region}," in bundled.meaning


def _once(completions: Iterable[Completion], line: str) -> Iterator[Completion]:
    """The completions without those that make a line another one has made."""
    made: set[str] = set()
    for completion in completions:
        whole = (line[: len(line) + completion.start_position] + completion.text).lower()
        if whole not in made:
            made.add(whole)
            yield completion


def _longer(names: Iterable[Completable], start: str) -> Iterator[Completion]:
    """Completions of the whole line by the texts that start with it and go on."""
    for name in names:
        if name.key.startswith(start) and name.key != start:
            yield _completion(name, start)


def _starting(names: Sequence[Completable], typed: str) -> list[Completable]:
    """The names of a sorted list that start with ``typed``, whatever its case."""
    wanted = typed.lower()
    at = bisect_left(names, wanted, key=lambda n: n.key)
    found = []
    while at < len(names) and names[at].key.startswith(wanted):
        found.append(names[at])
        at += 1
    return found


def _completion(name: Completable, typed: str) -> Completion:
    return Completion(name.text, start_position=-len(typed), display_meta=name.meaning)
