"""Text that came from outside, made harmless for a terminal: it comes back as text, never as code."""

from __future__ import annotations

import unicodedata

# Signs that redirect or hide what stands around them: bidirectional controls, zero-width signs, line and
# paragraph separators, interlinear marks, tags. (Unicode categories Cf, Zl, Zp cover them all.)
_HIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


def harmless(text: str, keep_lines: bool = False) -> str:
    """``text`` with every control, escape, bidi and zero-width sign dropped; tabs and breaks become blanks.

    ``keep_lines`` leaves line feeds in place.
    """
    if text.isascii() and text.isprintable():
        return text
    kept = []
    for sign in text:
        if sign == "\n" and keep_lines:
            kept.append(sign)
        elif sign in "\t\n\r\x0b\x0c" or unicodedata.category(sign) == "Zs":
            kept.append(" ")
        elif unicodedata.category(sign) not in _HIDDEN:
            kept.append(sign)
    return "".join(kept)


def encodable(text: str, encoding: str) -> str:
    """``text`` with what ``encoding`` cannot carry replaced by '?'."""
    return text.encode(encoding, errors="replace").decode(encoding, errors="replace")
