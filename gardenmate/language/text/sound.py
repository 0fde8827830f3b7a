"""How a word sounds: what is spelled by ear and its right spelling have one key."""

from __future__ import annotations

from gardenmate.core.pattern import Pattern

_SOUNDS = (
    (Pattern(r"ph"), "f"),
    (Pattern(r"gh|(?<=[aeiou])h"), ""),
    (Pattern(r"ck|q|c(?![eiyh])"), "k"),
    (Pattern(r"c(?=[eiy])|z"), "s"),
    (Pattern(r"y"), "i"),
    (Pattern(r"e$|es$"), ""),
    (Pattern(r"[aeiou]+"), "a"),
    (Pattern(r"(.)\1+"), r"\1"),
)


def sound(word: str) -> str:
    """A rough key of how a word sounds: "kail" and "kale", "boyzee" and "Boise" share one."""
    for pattern, instead in _SOUNDS:
        word = pattern.sub(instead, word)
    return word.rstrip("a") or word
