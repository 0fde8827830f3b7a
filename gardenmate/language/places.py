"""Places named in a text: known names anywhere, unknown capital words after "in", "near", "from" ..."""

from __future__ import annotations

from gardenmate.language.lexicon import Lexicon
from gardenmate.language.spans import Board, words

_BEFORE = words("in near at from around outside for here to over up down of")
_FIRM = frozenset(["in", "near", "from", "around", "outside", "here"])
_SIDES = words(
    "north northern south southern east eastern west western central upstate coastal interior rural "
    "northeast northwest southeast southwest northeastern northwestern southeastern southwestern inland "
    "mid lower upper"
)
_ZONES = frozenset({"zone", "usda", "hardiness", "rhs"})
_NEVER = words(
    "i celsius fahrenheit spring summer fall autumn winter monday tuesday wednesday thursday friday "
    "saturday sunday january february march april may june july august september october november "
    "december led usda rhs dtm dli ppfd par uk us god tv facebook youtube google"
)
# Region codes that are no English word: taken in lower case right after a town.
_SAFE_CODES = words(
    "nz nsw bc uk usa pei qld vic tas ny nj nc sc tx tn va vt wv wi wy mn mt nd sd nh nm nv ks ky ia fl ga"
)
MOST_WORDS = 4


def find_places(board: Board, lexicon: Lexicon) -> None:
    """Lay `place` spans (value: the name as a grower writes it)."""
    tokens = board.tokens
    i = 0
    while i < len(tokens):
        end, name = _known(board, i, lexicon)
        if name is None:
            end, name = _unknown(board, i, lexicon)
        if name is not None and board.lay(i, end, "place", name):
            i = end
        else:
            i += 1


def the_place(board: Board) -> str | None:
    """The place that counts: where the grower is, not where they come from or where an aunt lives."""
    spans = board.of("place")
    if not spans:
        return None
    return str(max(spans, key=lambda s: (_here(board, s.start), -s.start)).value)


def _here(board: Board, start: int) -> int:
    """How surely the grower is at the place that starts at token ``start``."""
    if start == 0:
        return 2
    before = board.words(start - 4, start).split()
    if before[-1] == "from" and "am" not in before:
        return -2
    if set(before) & _RELATIVES:
        return -1
    if set(before) & {"am", "are", "live", "here", "garden", "to", "we", "plot"}:
        return 2
    return 0


_RELATIVES = words(
    "sister brother aunt aunty uncle mother mum mom dad friend cousin son daughter month week visiting"
)


def _known(board: Board, i: int, lexicon: Lexicon) -> tuple[int, str | None]:
    tokens = board.tokens
    for length in range(min(MOST_WORDS, len(tokens) - i), 0, -1):
        run = tokens[i : i + length]
        if run[-1].sentence != run[0].sentence or any("," in t.gap for t in run[1:]):
            continue
        if any(k in board.taken for k in range(i, i + length)):
            continue
        key = " ".join(t.raw.lower().replace("'", "") for t in run)
        if length > 1 and run[0].word in _SIDES and key not in lexicon.regions:
            rest = " ".join(t.raw.lower().replace("'", "") for t in run[1:])
            if rest in lexicon.regions or (rest in lexicon.places and rest not in lexicon.shy_places):
                name = lexicon.regions.get(rest) or lexicon.places[rest]
                return i + length, f"{run[0].raw if run[0].capital else run[0].raw.lower()} {name}"
        if key in lexicon.regions and _region_meant(board, i, i + length, key):
            return i + length, lexicon.regions[key]
        town = lexicon.places.get(key)
        if town is not None and _town_meant(board, i, i + length, key, lexicon):
            return _skip_region(board, i + length, lexicon), town
    return i, None


_WORDS_FIRST = words("or in me hi ok oh pa la ma us id al co de mo")


def _region_meant(board: Board, start: int, end: int, key: str) -> bool:
    """Short codes (NC, OR, IN) need capitals; "or", "in", "me", "hi", "ok" are words first."""
    run = board.tokens[start:end]
    if len(key) <= 3 and end - start == 1:
        after_town = start > 0 and (board.tokens[start - 1].capital or "," in run[0].gap)
        return run[0].raw.isupper() and (
            key not in _WORDS_FIRST or board.word(start - 1) in _BEFORE or after_town
        )
    if key in (
        "south",
        "north",
        "midwest",
        "coast",
        "east",
        "west",
        "prairies",
        "prairie",
        "the south",
        "deep south",
        "tropics",
    ):
        return board.word(start - 1) in ("the", "in", "from") or key in ("midwest", "prairies")
    return not (key == "washington" and board.word(end) in ("navel", "hawthorn"))


def _town_meant(board: Board, start: int, end: int, key: str, lexicon: Lexicon) -> bool:
    run = board.tokens[start:end]
    before = board.word(start - 1)
    if board.word(start - 1) in _ZONES or key in _NEVER:
        return False
    followed = _skip_region(board, end, lexicon) > end
    if (key in lexicon.shy_places and before == "near") or board.words(start - 2, start) in (
        "live in",
        "am in",
        "here in",
        "are in",
    ):
        return True
    if key in lexicon.shy_places and start == 0 and followed:
        return True
    if key in lexicon.shy_places:
        return (
            run[0].capital
            and (before in _FIRM | {"at"} or followed)
            and not board.tokens[start].raw.isupper()
        )
    if end - start > 1 or followed:
        return True
    opens = (
        start == 0
        and end < len(board.tokens)
        and ("," in board.tokens[end].gap or board.tokens[end].sentence != run[0].sentence)
    )
    if opens or board.word(end) in ("allotment", "area", "here"):
        return True
    if key in lexicon.ordinary:
        return (run[0].capital and (start > 0 or len(board.tokens) <= 4)) or before in _FIRM
    return run[0].capital or before in _BEFORE or len(board.tokens) <= 4


def _skip_region(board: Board, end: int, lexicon: Lexicon) -> int:
    """Past ", Idaho" or "UK" after a town: part of the name, not another place."""
    for length in (3, 2, 1):
        if end + length <= len(board.tokens):
            run = board.tokens[end : end + length]
            key = " ".join(t.raw.lower().replace("'", "") for t in run)
            known = key in lexicon.regions and run[0].sentence == board.tokens[end - 1].sentence
            if (
                known
                and (len(key) > 3 or run[0].raw.isupper() or "," in run[0].gap)
                and key not in ("or", "in", "me")
            ):
                return end + length
            if known and (
                run[0].raw.isupper() or (key in _SAFE_CODES and length == 1 and run[0].gap in (" ", ", "))
            ):
                return end + length
    return end


def _unknown(board: Board, i: int, lexicon: Lexicon) -> tuple[int, str | None]:
    """A capitalised word that nothing else explains, after "in", "near" ...: a town to be looked up later."""
    tokens = board.tokens
    token = tokens[i]
    if (
        i == 0
        or i in board.taken
        or token.number is not None
        or token.word in _NEVER
        or token.raw.lower() in _NEVER
    ):
        return i, None
    arrived = tokens[i - 1].word == "to" and any(
        t.word in ("moved", "move", "came", "relocated", "moving") and t.sentence == token.sentence
        for t in tokens[:i]
    )
    if not (arrived or tokens[i - 1].word in _FIRM | {"at"}) or (len(token.raw) < 3 and token.raw != "St"):
        return _spelled_town(board, i, lexicon)
    if (
        not token.capital
        or token.raw.isupper()
        or all(t.capital for t in tokens if t.number is None and t.raw.isalpha())
    ):
        return _spelled_town(board, i, lexicon)
    if token.word in lexicon.name_words or (
        token.raw.lower() in lexicon.ordinary and tokens[i - 1].word == "at"
    ):
        return i, None
    end = i + 1
    while (
        end < len(tokens)
        and end < i + 3
        and tokens[end].capital
        and tokens[end].gap in (" ", "-", ". ")
        and end not in board.taken
    ):
        if tokens[end].word in _NEVER or len(tokens[end].raw) < 3:
            break
        end += 1
    name = " ".join(t.raw for t in tokens[i:end])
    return _skip_region(board, end, lexicon), name


def _spelled_town(board: Board, i: int, lexicon: Lexicon) -> tuple[int, str | None]:
    """ "boyzee idaho": an unknown word before a region is the town of that sound."""
    end = _skip_region(board, i + 1, lexicon)
    raw = board.tokens[i].raw.lower()
    if end == i + 1 or board.word(i - 1) not in _FIRM or len(raw) < 4 or raw in lexicon.ordinary:
        return i, None
    from gardenmate.language.spelling import sound

    town = lexicon.place_sounds.get(sound(raw))
    if town is None:
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        best = process.extractOne(
            raw, list(lexicon.places), scorer=OSA.distance, score_cutoff=1 + (len(raw) > 6)
        )
        town = lexicon.places[best[0]] if best else None
    return (end, town) if town else (i, None)
