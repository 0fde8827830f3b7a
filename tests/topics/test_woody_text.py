"""Sentences and clauses of the woody topics."""

from gardenmate.topics.shared.woody_text import clause, joined, sentence


def test_sentences_and_clauses() -> None:
    assert sentence("wait until spring") == "Wait until spring."
    assert sentence("") == ""
    assert clause("Wait.") == "wait"
    assert clause("Group 3 fine.") == "Group 3 fine"
    assert joined(["a", "b", "c"]) == "a, b and c"
    assert joined(["a"], "or") == "a"
