"""As-you-type completion of crops, plants, places and whole questions, each with a one-line meaning."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator

from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document

from gardenmate.knowledge.facts import Facts

MOST = 12
SHORTEST = 2


class BenchCompleter(Completer):
    """Completes the last words before the cursor. Everything is read on the first key, then kept."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        self._names: list[tuple[str, str]] | None = None

    def get_completions(self, document: Document, complete_event: CompleteEvent) -> Iterable[Completion]:
        """Names that start with the last one to three words, and questions that start with the whole line."""
        line = document.text_before_cursor.lower()
        if len(line.strip()) < SHORTEST or line.endswith(" "):
            return
        yield from self._questions(line)
        seen: set[str] = set()
        words = line.split(" ")
        for take in (3, 2, 1):
            if len(words) < take:
                continue
            typed = " ".join(words[-take:])
            if len(typed) < SHORTEST:
                continue
            for name, meaning in self._starting(typed):
                if name not in seen and name != typed and len(seen) < MOST:
                    seen.add(name)
                    yield Completion(name, start_position=-len(typed), display_meta=meaning)

    def _questions(self, line: str) -> Iterator[Completion]:
        if len(line) < 3:
            return
        for entry in self._facts.table("help").values():
            for question in entry["ask"]:
                if question.lower().startswith(line) and question.lower() != line:
                    yield Completion(question, start_position=-len(line), display_meta=entry["says"])

    def _starting(self, typed: str) -> Iterator[tuple[str, str]]:
        names = self._all_names()
        at = bisect_left(names, (typed, ""))
        while at < len(names) and names[at][0].startswith(typed):
            yield names[at]
            at += 1

    def _all_names(self) -> list[tuple[str, str]]:
        if self._names is None:
            from gardenmate.climate.places import gazetteer

            found = {
                name: f"crop or plant: {entry.ref.id}"
                for name, entry in self._facts.names.items()
                if not entry.misspelled
            }
            for row in gazetteer(self._facts).rows:
                found.setdefault(row.name.lower(), f"place: {row.name}, {row.region or row.country}")
            self._names = sorted(found.items())
        return self._names
