"""Whether what was answered is what was read: act, topic, crops and parts, over the labelled questions.

    python tests/bench/second_decisions.py [EVERY]

Every line is read, as `--explain-reading` prints it, and answered; one whose answer is of another act, topic or crops
than the trace says was decided a second time behind language, and is printed. EVERY: only each so-many-th line.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from itertools import islice

from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from tests.bench.freeze import asked


def decided_again(every: int = 1) -> Iterator[tuple[str, str, object, object]]:
    """(question, what differs, as read, as answered) of each question decided a second time."""
    facts, talks = Facts(), dict[str, Conversation]()
    for place, day, text in islice(asked(), 0, None, every):
        if place not in talks:
            talks[place] = Conversation(
                facts, lambda day=day: day, PlaceOptions(place=place), remembers=False
            )  # type: ignore[misc]
        parts, answer = talks[place].read(text).parts, talks[place].ask(text)
        first = parts[0]
        for what, read, done in (
            ("act", first.act, answer.act),
            ("topic", first.request.topic, answer.question.topic),
            ("crops", first.request.crops, answer.question.crops),
            ("parts", len(parts), 1 + len(answer.also)),
        ):
            if what == "parts" and first.request.cue("danger"):
                continue  # the harmless part of a question stands beside the danger's card
            if read != done:
                yield text, what, read, done


def main() -> None:
    """Print what was decided again, and how often."""
    found = list(decided_again(int(sys.argv[1]) if len(sys.argv) > 1 else 1))
    for text, what, read, done in found:
        print(f"{what}: {read} -> {done}  {text[:120]}")
    print(f"{len(found)} decided a second time")


if __name__ == "__main__":
    main()
