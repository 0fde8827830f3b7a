"""The words of an entry put right: one word or name exchanged for another, whatever its case."""

from __future__ import annotations

import re


def exchanged(text: str, old: str, new: str) -> str | None:
    """``text`` with the first ``old`` that stands as a word of its own exchanged for ``new``; None without one.

    A figure is not taken out of a longer one: "2" is no word of "2.5".
    """
    dot = "." if old.replace(".", "").isdigit() else ""
    return _first(rf"(?<![\w{dot}]){re.escape(old)}(?![\w{dot}])", new, text)


def put_before(text: str, name: str, new: str) -> str | None:
    """``text`` with ``new`` put before the first ``name``; None where it does not stand there."""
    return _first(rf"\b(?={re.escape(name)}\b)", f"{new} ", text)


def everywhere(text: str, old: str, new: str) -> str:
    """``text`` with every ``old`` exchanged for ``new``."""
    return re.sub(re.escape(old), lambda _: new, text, flags=re.IGNORECASE)


def _first(pattern: str, new: str, text: str) -> str | None:
    changed, times = re.subn(pattern, lambda _: new, text, count=1, flags=re.IGNORECASE)
    return changed if times else None
