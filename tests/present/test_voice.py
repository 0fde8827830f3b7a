"""What an editor would strike out does not stand in answers: a sample of the labelled questions, at three places.

The words stand in not_said.txt, from an editor's reading; `tests/bench/voice.py` walks every question and says where.
"""

from __future__ import annotations

import pytest

from tests.bench.voice import DEFAULT, patterns, shown

EACH = 5
WORDS = patterns()


@pytest.fixture(scope="module")
def answers() -> list[tuple[str, str]]:
    return list(shown(DEFAULT, EACH))


@pytest.mark.parametrize("name", sorted(WORDS))
def test_no_answer_says(name: str, answers: list[tuple[str, str]]) -> None:
    found = [(question, match[0]) for question, text in answers for match in WORDS[name].finditer(text)]
    assert not found


def test_the_sample_is_of_answers(answers: list[tuple[str, str]]) -> None:
    assert len(answers) >= 80
    assert all(len(text) > 10 for _, text in answers)
