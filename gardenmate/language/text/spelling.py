"""Words spelled in a hurry, mended only when they are no word at all: rapidfuzz on a miss, never before."""

from __future__ import annotations

from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.sound import sound
from gardenmate.language.text.spans import Board, words
from gardenmate.language.text.tokens import Token

MOST_MENDED = 40  # a text with more unknown words is not English; looking further helps nobody
SHORTEST = 4  # letters; shorter words are like too many others to be mended; design value


def mend(tokens: tuple[Token, ...], lexicon: Lexicon) -> tuple[Token, ...]:
    """The tokens with misheard phrases set right, and unknown words read as the known word they resemble."""
    tokens = _misheard(tokens, lexicon)
    tries = 0
    out: list[Token] = []
    for token in tokens:
        word = token.word
        if token.number is None and len(word) >= SHORTEST and word.isascii() and word.isalpha():
            place = token.capital and token.raw[1:].islower() and bool(out)
            if not known(word, lexicon) and tries < MOST_MENDED and not (place and _after_in(out)):
                tries += 1
                better = nearest(word, lexicon)
                if better is not None:
                    word = better
        out.append(token if word == token.word else token._replace(word=word))
    return tuple(t._replace(lemma=lexicon.lemma(t.word)) for t in out)


_PREPOSITIONS = words("in near at from around outside of")


def _after_in(out: list[Token]) -> bool:
    """True after "in", "near" ...: an unknown capital word there is a place, not a misspelling."""
    return out[-1].word in _PREPOSITIONS


def known(word: str, lexicon: Lexicon) -> bool:
    """True for a word that needs no mending: an ordinary word, a cue word or a name, in any usual form."""
    return (
        word in lexicon.ordinary
        or word in lexicon.vocabulary
        or word in lexicon.name_words
        or word in lexicon.forms
        or word in lexicon.names
        or word in lexicon.place_words
        or word in lexicon.variety_words
        or lexicon.lemma(word) != word
        or (word.endswith("s") and (word[:-1] in lexicon.name_words or word[:-1] in lexicon.ordinary))
        or (word.endswith("es") and word[:-2] in lexicon.name_words)
        or any(
            word[:cut] in lexicon.ordinary and word[cut:] in lexicon.ordinary
            for cut in range(4, len(word) - 3)
        )
        or (word[-1] == "y" and (word[:-1] in lexicon.ordinary or word[:-1] in lexicon.vocabulary))
        or lexicon.is_rare_word(word)
        or (word.endswith("s") and lexicon.is_rare_word(word[:-1]))
    )


_PLANT_AFTER = words("for sow sowing plant planting start starting grow growing prune pruning harden")
_PLANT_AFTER_THESE = words("the my some any a off out")
_OUT = words("out off")
_SEASONABLE = words("late early")
_NO_PLANT = words("now today tonight here yet outside outdoors indoors inside")


def _is_nearly(word: str, others: frozenset[str]) -> bool:
    from rapidfuzz.distance import OSA

    return any(OSA.distance(word, other, score_cutoff=1) <= 1 for other in others)


def unknown_plant(board: Board, lexicon: Lexicon) -> str | None:
    """A word that stands where a plant is named ("sow zinnias", "prune the feijoa") and is not known here.

    None when a crop or plant is named, or no such word stands there.
    """
    if board.of("crop"):
        return None
    for span in board.of("stranger"):
        return str(span.value.typed)
    for i, token in enumerate(board.tokens):
        before = board.tokens[i - 1] if i else token
        at = i - 2 if before.number is not None or before.word in _PLANT_AFTER_THESE else i - 1
        if 0 < at < i - 1 and board.word(at) in _OUT:  # "plant out my dahlias"
            at -= 1
        plain = token.number is None and len(token.word) >= SHORTEST and token.word.isascii()
        if at < 0 or not plain or not token.word.isalpha() or board.word(at) not in _PLANT_AFTER:
            continue
        read_otherwise = any(s.start <= i < s.end for s in board.spans) or _is_nearly(token.word, _NO_PLANT)
        # A rare word ("dahlias", "verandah") is a plant where only a plant can stand, not after any "for".
        plants_only = board.word(at) != "for" or bool(_SEASONABLE & {t.word for t in board.tokens})
        rare = lexicon.is_rare_word(token.word) or lexicon.is_rare_word(token.word.removesuffix("s"))
        if not read_otherwise and ((rare and plants_only) or not known(token.word, lexicon)):
            return token.raw
    return None


_JOINS = words("and or plus")


def strangers_in(board: Board, lexicon: Lexicon) -> tuple[tuple[str, str], ...]:
    """Plants nothing is known of, as typed and by their trade name (""  for a name that is no known one): those of the
    list of strangers, and words in a list with crops: "pansies and peas", "kale, dahlias"."""
    found = [(span.value.typed, span.value.refs[0].id) for span in board.of("stranger")]
    for span in board.of("crop"):
        for joint, at in ((span.start - 1, span.start - 2), (span.end, span.end + 1)):
            if 0 <= at < len(board.tokens) and board.word(joint) in _JOINS and _strange(board, at, lexicon):
                found.append((board.tokens[at].raw, ""))
    return tuple(dict.fromkeys(found))


def _strange(board: Board, at: int, lexicon: Lexicon) -> bool:
    """True for a plural that is a name of nothing known: a rare word, or one that is no word at all."""
    word = board.word(at)
    plain = len(word) >= SHORTEST and word.isascii() and word.isalpha() and word.endswith("s")
    if not plain or any(s.start <= at < s.end for s in board.spans):
        return False
    rare = any(lexicon.is_rare_word(form) for form in (word, word[:-1], f"{word[:-3]}y"))
    return rare or not known(word, lexicon)


def nearest(word: str, lexicon: Lexicon) -> str | None:
    """The one known word that ``word`` most likely is, or None.

    One slip in a short word, two in a longer one; the first letter is almost never the slip. Letters in the
    wrong order ("swete") are likelier than a letter missed.
    """
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    allowed = 1 if len(word) <= 6 else 2
    pool = lexicon.mending_pool(word[0])
    found = process.extract(word, pool, scorer=OSA.distance, score_cutoff=allowed, limit=6)
    if found:
        best = min(
            found,
            key=lambda row: (
                row[1] - (sorted(row[0]) == sorted(word)),
                row[0] not in lexicon.name_words,
                not _letters_missed(word, row[0]),
                abs(len(row[0]) - len(word)),
            ),
        )
        if best[1] == 1 and len(word) == SHORTEST and best[0][-1] != word[-1] and len(best[0]) <= len(word):
            return _alike(word, lexicon)
        return str(best[0])
    return _alike(word, lexicon)


def _letters_missed(word: str, full: str) -> bool:
    """True when ``word`` is ``full`` with letters left out: the commonest slip."""
    rest = iter(full)
    return all(letter in rest for letter in word)


def _alike(word: str, lexicon: Lexicon) -> str | None:
    """The known word of the same sound, if it is also written much the same."""
    from rapidfuzz.distance import OSA

    heard = lexicon.sounds.get(sound(word))
    return heard if heard is not None and OSA.distance(word, heard) <= max(1, len(word) // 2) else None


def _misheard(tokens: tuple[Token, ...], lexicon: Lexicon) -> tuple[Token, ...]:
    """Runs that dictation writes down wrong ("to late two start"), set right by their neighbours."""
    out = list(tokens)
    said = {t.word for t in tokens}
    for wrong, right in lexicon.misheard:
        first = wrong[0]
        if first not in said:
            continue
        for i in range(len(out) - len(wrong) + 1):
            if out[i].word == first and all(out[i + k].word == w for k, w in enumerate(wrong)):
                for k, word in enumerate(right):
                    number = None if word.isalpha() else out[i + k].number
                    out[i + k] = out[i + k]._replace(word=word, number=number)
    return tuple(out)
