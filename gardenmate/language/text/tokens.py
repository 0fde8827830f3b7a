"""Typed text cut into words: lower case, contractions opened, number words counted, sentences marked.

Nothing is lost: every token knows where it stood in the text as typed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

from gardenmate.records import NamedTuple

MOST_TOKENS = 500  # a pasted page is read from both ends; the middle adds nothing to the question
_PIECE = re.compile(
    r"[0-9]+(?:,[0-9]{3})+(?:\.[0-9]+)?|[0-9]*\.[0-9]+|[0-9]+|[^\W\d_]+(?:'[^\W\d_]+)*|[$£€%°?!.;:]|\n"
)
_ENDS = frozenset("?!.;:\n")
_QUOTES = str.maketrans({"’": "'", "‘": "'", "`": "'", "´": "'", "ʼ": "'", "“": '"', "”": '"',
    "º": "°", "˚": "°",
                         "–": "-", "—": "-", "−": "-", "‑": "-"})  # fmt: skip
UNITS_OF_SPEECH = {
    "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9,
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50,
    "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}  # fmt: skip
_TOO_LARGE = 1e12  # no count, weight or year of a gardener's: read as a word


class Token(NamedTuple):
    """One word, number or sign. ``gap`` is what stood between it and the token before.

    ``word`` is the reading (after contractions and spelling), ``raw`` what was typed; ``number`` its value
    when it is a number; ``lemma`` the base form the phrases are written in.
    """

    word: str
    raw: str
    start: int
    end: int
    gap: str = " "
    number: float | None = None
    lemma: str = ""
    sentence: int = 0

    @property
    def capital(self) -> bool:
        """True when typed with a capital first letter."""
        return self.raw[:1].isupper()


class Text(NamedTuple):
    """The text as typed and its tokens; ``questions`` are the sentences that end in a question mark."""

    typed: str
    tokens: tuple[Token, ...]
    questions: frozenset[int] = frozenset()


def cut(typed: str, spoken: Mapping[str, str], joined: Mapping[str, tuple[str, ...]]) -> Text:
    """Cut ``typed`` into tokens. ``spoken`` opens one typed word into the words meant ("dont" -> "do not");
    ``joined`` splits and mends runs ("coldframe" -> cold, frame)."""
    clean = _plain(typed)
    pieces = list(_PIECE.finditer(clean))
    if len(pieces) > MOST_TOKENS:
        half = MOST_TOKENS // 2
        pieces = pieces[:half] + pieces[-half:]
    tokens: list[Token] = []
    questions: set[int] = set()
    sentence, last_end = 0, 0
    for piece in pieces:
        raw, start, end = piece.group(), piece.start(), piece.end()
        gap = clean[last_end:start]
        last_end = end
        if raw in _ENDS:
            if (
                raw == "."
                and tokens
                and end < len(clean)
                and not clean[end].isspace()
                and clean[end] not in ".?!"
            ):
                continue  # "e.g", "a.m"
            if raw == ":" and end < len(clean) and clean[end].isdigit():
                continue
            if raw == "?":
                questions.add(sentence)
            if tokens and tokens[-1].sentence == sentence:
                sentence += 1
            continue
        if re.search(r"\s-+\s|\(|\)|\.{2,}|…", gap) and tokens and tokens[-1].sentence == sentence:
            sentence += 1
        tokens.extend(_tokens_of(raw, typed[start:end], start, end, gap, sentence, spoken, joined))
    return Text(typed, _say_numbers(tuple(tokens)), frozenset(questions))


def _plain(typed: str) -> str:
    """Lower case, plain quotes and dashes, accents off; as long as the text typed, so that places agree."""
    out = []
    for char in typed.translate(_QUOTES):
        low = char.lower()
        if not char.isascii():
            low = unicodedata.normalize("NFKD", low)[:1] or " "
        out.append(low if len(low) == 1 else " ")
    return "".join(out)


def _tokens_of(
    word: str,
    raw: str,
    start: int,
    end: int,
    gap: str,
    sentence: int,
    spoken: Mapping[str, str],
    joined: Mapping[str, tuple[str, ...]],
) -> list[Token]:
    if word[0] in ".0123456789":
        value = float(word.replace(",", ""))
        number = value if value < _TOO_LARGE else None
        return [Token(word, raw, start, end, gap, number, word, sentence)]
    opened = spoken.get(word)
    words: tuple[str, ...]
    if opened is not None:
        words = tuple(opened.split())
    else:
        words = joined.get(word) or _possessive(word)
    return [
        Token(w, raw, start, end, gap if i == 0 else "", None, w, sentence) for i, w in enumerate(words) if w
    ]


def _possessive(word: str) -> tuple[str, ...]:
    if "'" not in word:
        return (word,)
    base, _, tail = word.rpartition("'")
    if tail in ("s", ""):
        return (
            (base, "is")
            if base in ("it", "that", "what", "where", "there", "here", "he", "she", "who")
            else (base,)
        )
    opened = {"m": "am", "re": "are", "ve": "have", "ll": "will", "d": "would"}.get(tail)
    if opened:
        return (base, opened)
    if tail == "t" and base.endswith("n"):
        return ({"ca": "can", "wo": "will", "sha": "shall"}.get(base[:-1], base[:-1]), "not")
    return (base.replace("'", ""), tail)


def _say_numbers(tokens: tuple[Token, ...]) -> tuple[Token, ...]:
    """Number words as numbers: "four", "twenty five", "two dozen", "half a dozen", "a hundred"."""
    out: list[Token] = []
    i = 0
    while i < len(tokens):
        token = tokens[i]
        follow = tokens[i + 1].word if i + 1 < len(tokens) else ""
        third = tokens[i + 2].word if i + 2 < len(tokens) else ""
        if token.word == "half" and follow == "a" and third == "dozen":
            out.append(_joined_number(token, tokens[i + 2], 6.0))
            i += 3
            continue
        fourth = tokens[i + 3].word if i + 3 < len(tokens) else ""
        if (
            token.word == "a"
            and follow == "hundred"
            and third == "and"
            and UNITS_OF_SPEECH.get(fourth, 0) > 0
        ):
            out.append(_joined_number(token, tokens[i + 3], 100.0 + UNITS_OF_SPEECH[fourth]))
            i += 4
            continue
        if token.word == "a" and follow in ("dozen", "hundred"):
            out.append(_joined_number(token, tokens[i + 1], 12.0 if follow == "dozen" else 100.0))
            i += 2
            continue
        value = token.number if token.number is not None else UNITS_OF_SPEECH.get(token.word)
        if value is not None and value >= 0:
            last = token
            small = UNITS_OF_SPEECH.get(follow)
            if token.word in UNITS_OF_SPEECH and 20 <= value <= 90 and small is not None and 0 < small < 10:
                value += small
                i += 1
                last = tokens[i]
                follow = tokens[i + 1].word if i + 1 < len(tokens) else ""
            if follow in ("dozen", "hundred", "thousand") and value < 100:
                value *= {"dozen": 12, "hundred": 100, "thousand": 1000}[follow]
                i += 1
                last = tokens[i]
            out.append(_joined_number(token, last, float(value)))
        elif token.word == "dozen":
            out.append(token._replace(number=12.0))
        else:
            out.append(token)
        i += 1
    return tuple(out)


def _joined_number(first: Token, last: Token, value: float) -> Token:
    """One number token over the words it was said in; the first word stays readable for phrases."""
    word = first.word if last is first else f"{value:g}"
    return first._replace(word=word, lemma=word, end=last.end, number=value)
