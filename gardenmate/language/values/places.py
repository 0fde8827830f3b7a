"""Places named in a text: known names anywhere, unknown capital words after "in", "near", "from" ..."""

from __future__ import annotations

from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values import town_names
from gardenmate.language.values.place_or_name import in_longer_name, in_variety, set_off, somebody
from gardenmate.records import NamedTuple

_BEFORE = words("in near at from around outside for here to over up down of")
_FIRM = frozenset(["in", "near", "from", "around", "outside", "here"])
_SIDES = words(
    "north northern south southern east eastern west western central upstate coastal interior rural "
    "northeast northwest southeast southwest northeastern northwestern southeastern southwestern inland "
    "mid lower upper"
)
# A lie of the land is no part of the name ("coastal Oregon"); a point of the compass is ("west Cork").
_LIES = words("coastal interior rural inland mid lower upper")
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
_TIMES = words("january february march july september october november december winter summer autumn climate")
MOST_WORDS = 4


class PlaceTyped(NamedTuple):
    """A place as a grower writes it; ``region``: a state, county or country, not a town; ``within``: the region
    typed beside a town."""

    name: str
    region: bool = False
    within: str | None = None

    def __str__(self) -> str:
        return self.name


def find_places(board: Board, lexicon: Lexicon) -> None:
    """Lay `place` spans (value: the name as a grower writes it)."""
    tokens = board.tokens
    i = 0
    while i < len(tokens):
        end, name = _known(board, i, lexicon)
        past, longer = _listed(board, i, lexicon)
        if longer is not None and (name is None or past > end):
            end, name = past, longer
        if name is None:
            end, name = _unknown(board, i, lexicon)
        longer_name = in_longer_name(board, i, end) and board.word(end) not in _NEVER | _ZONES
        if name is not None and (longer_name or in_variety(board, i, end)):
            i = end
            continue
        start = i
        if name is not None and i and tokens[i - 1].capital and tokens[i - 1].word in _MOUNT:
            name, start = (
                PlaceTyped(f"{tokens[i - 1].raw} {name}"),
                i - 1,
            )  # Mount Washington is not Washington
        if name is not None and not name.region:
            name = name._replace(within=_region_beside(board, i, end, lexicon))
        if name is not None and board.lay(start, end, "place", name):
            i = end
        else:
            i += 1


def find_codes(board: Board) -> None:
    """Lay `place` spans over postal codes, before their digits are counted as something else."""
    for start, end, code in town_names.find_codes(board):
        board.lay(start, end, "place", PlaceTyped(code))


def find_led_places(board: Board, lexicon: Lexicon) -> None:
    """Lay `place` spans over towns with their region, before a crop is seen in their names: "in walnut creek, ca",
    "frost dates for Glen Rose, TX"."""
    for i, token in enumerate(board.tokens):
        led = i == 0 or board.word(i - 1) in _FIRM or board.word(i - 1) in ("at", "for")
        if not led and not (token.capital and token.raw.lower() not in lexicon.name_words):
            continue
        end, name = _listed(board, i, lexicon)
        region = _region_beside(board, i, end, lexicon) if name is not None else None
        if name is not None and region is not None:
            board.lay(i, end, "place", name._replace(within=region))


def _listed(board: Board, i: int, lexicon: Lexicon) -> tuple[int, PlaceTyped | None]:
    """A town of the gazetteer, in any case, where a region follows or "in", "near" ... leads to it."""
    tokens = board.tokens
    if tokens[i].word in _NEVER or tokens[i].word in _BEFORE:
        return i, None
    for length in range(min(town_names.MOST_WORDS, len(tokens) - i), 0, -1):
        run = tokens[i : i + length]
        if run[-1].sentence != run[0].sentence or any("," in t.gap or t.number is not None for t in run[1:]):
            continue
        if any(k in board.taken for k in range(i, i + length)):
            continue
        end = _skip_region(board, i + length, lexicon)
        if end == i + length and _small_code(board, i, end, lexicon):
            end += 1
        loose = i + length < len(tokens) and tokens[i + length].raw == "in"
        if not run[0].capital and loose:  # "a wee bungalow in Sligo" is no town of that name
            continue
        whole = i == 0 and end == len(tokens)
        if end == i + length and not whole and (board.word(i - 1) not in _FIRM or run[0].capital):
            continue
        region = _region_beside(board, i, end, lexicon) or ""
        town = town_names.listed(board, i, end if region else i + length, length, region, lexicon)
        if town is not None:
            return end, PlaceTyped(town)
    return i, None


def _small_code(board: Board, start: int, i: int, lexicon: Lexicon) -> bool:
    """A state's code in small letters: no word of its own, at the end of a sentence, or behind a name that opens the
    line and is no ordinary word: "in leadville co", "galion oh last frost"."""
    if i >= len(board.tokens) or len(board.tokens[i].raw) != 2 or board.tokens[i].gap not in (" ", ", "):
        return False
    last = i + 1 == len(board.tokens) or board.tokens[i + 1].sentence != board.tokens[i].sentence
    code = board.tokens[i].raw.lower()
    named = start == 0 and not any(t.word in lexicon.ordinary for t in board.tokens[:i])
    return code in lexicon.regions and (last or named or code not in _WORDS_FIRST)


def _region_beside(board: Board, start: int, end: int, lexicon: Lexicon) -> str | None:
    """The region typed behind a town, as it is written: the "ID" of "Boise, ID"."""
    for cut in range(start + 1, end):
        run = board.tokens[cut + (board.word(cut) == "in" and cut + 1 < end) : end]
        key = " ".join(t.raw.lower().replace("'", "") for t in run)
        if key in lexicon.regions:
            return lexicon.regions[key]
    return None


_MOUNT = words("mount mt")
_NO_PLACE = words("sort spinach type variety blanket style")


def _known(board: Board, i: int, lexicon: Lexicon) -> tuple[int, PlaceTyped | None]:
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
            if (rest in lexicon.regions and len(rest) > 3) or (
                rest in lexicon.places and rest not in lexicon.shy_places
            ):
                name = lexicon.regions.get(rest) or lexicon.places[rest]
                side = run[0].raw if run[0].capital else run[0].raw.lower()
                named = name if run[0].word in _LIES else f"{side} {name}"
                return i + length, PlaceTyped(named, rest in lexicon.regions)
        if key in lexicon.regions and _region_meant(board, i, i + length, key):
            if board.word(i + length) in _NO_PLACE:
                return i, None
            return i + length, PlaceTyped(lexicon.regions[key], True)
        town = lexicon.places.get(key)
        if town is not None and _town_meant(board, i, i + length, key, lexicon):
            return _skip_region(board, i + length, lexicon), PlaceTyped(town)
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
    if key in lexicon.shy_places and run[0].capital and _alone(board, start, end, lexicon):
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
        (start == 0 or run[0].sentence != board.tokens[start - 1].sentence)
        and end < len(board.tokens)
        and ("," in board.tokens[end].gap or board.tokens[end].sentence != run[0].sentence)
    )
    if (
        opens
        or board.word(end) in ("allotment", "area", "here")
        or (run[0].capital and board.word(end) in _TIMES)  # "through a Winnipeg January"
        or board.words(start - 2, start) == "place is"
    ):
        return True
    if somebody(board, start, end):
        return False
    if key in lexicon.ordinary:
        return (run[0].capital and (start > 0 or len(board.tokens) <= 4)) or before in _FIRM
    return before in _BEFORE or len(board.tokens) <= 4 or (run[0].capital and set_off(board, start, end))


def _alone(board: Board, start: int, end: int, lexicon: Lexicon) -> bool:
    """True for a name that is a sentence of a story: "flat out at work. Sydney. Are broccoli ..."."""
    tokens = board.tokens
    first = start == 0 or tokens[start - 1].sentence != tokens[start].sentence
    last = end >= len(tokens) or tokens[end].sentence != tokens[end - 1].sentence
    plain = tokens[start].word in lexicon.vocabulary or tokens[start].word in lexicon.names
    return first and last and len(tokens) > end - start and not plain


def _skip_region(board: Board, end: int, lexicon: Lexicon) -> int:
    """Past ", Idaho", "UK" or "in Australia" after a town: part of the name, not another place."""
    if board.word(end) == "in" and end + 1 < len(board.tokens):
        past = _skip_region(board, end + 1, lexicon)
        if past > end + 1 and board.tokens[end].sentence == board.tokens[end - 1].sentence:
            return past
    for length in (3, 2, 1):
        if end + length <= len(board.tokens):
            run = board.tokens[end : end + length]
            key = " ".join(t.raw.lower().replace("'", "") for t in run)
            known = key in lexicon.regions and run[-1].sentence == board.tokens[end - 1].sentence
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


def _unknown(board: Board, i: int, lexicon: Lexicon) -> tuple[int, PlaceTyped | None]:
    """A capitalised word that nothing else explains, after "in", "near" ...: a town to be looked up later."""
    tokens = board.tokens
    token = tokens[i]
    alone = _standing_alone(board, i, lexicon)
    if alone > i:
        return _skip_region(board, alone, lexicon), PlaceTyped(" ".join(t.raw for t in tokens[i:alone]))
    if (
        i == 0
        or i in board.taken
        or token.number is not None
        or token.word in _NEVER
        or token.raw.lower() in _NEVER
        or tokens[i - 1].sentence != token.sentence
        or _a_saints_day(board, i)
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
        if (
            tokens[end].word in _NEVER
            or len(tokens[end].raw) < 3
            or tokens[end].raw.lower() in lexicon.regions
        ):
            break
        end += 1
    name = " ".join(t.raw for t in tokens[i:end])
    return _skip_region(board, end, lexicon), PlaceTyped(name)


def _a_saints_day(board: Board, i: int) -> bool:
    """ "Around St Patrick's": a day of somebody, not where they live."""
    around = board.word(i - 1) in ("around", "about", "at", "from", "by", "near")
    owner = board.tokens[i + 1] if board.word(i) == "st" and i + 1 < len(board.tokens) else board.tokens[i]
    return around and owner.raw.lower().endswith("'s")


def _standing_alone(board: Board, i: int, lexicon: Lexicon) -> int:
    """End of a name that is no English word; ``i`` when none is there.

    It stands by itself ("Leadville, ten thousand feet"), before a region ("Natchez Mississippi") or "County",
    or after "above", "by", "out of".
    """
    tokens = board.tokens
    token = tokens[i]
    raw = token.raw.lower()
    if i in board.taken or not token.capital or token.raw[1:] != token.raw[1:].lower() or len(raw) < 4:
        return i
    if board.word(i + 1) == "county" and tokens[i + 1].capital and token.word not in _NEVER:
        return i + 2
    plain = raw in lexicon.ordinary or raw in lexicon.vocabulary or raw in lexicon.name_words
    if plain or token.word in _NEVER or raw in _NEVER or "'" in token.raw:
        return i
    if i and _skip_region(board, i + 1, lexicon) > i + 1:
        return i + 1
    if lexicon.is_rare_word(raw):
        return i
    if board.word(i - 1) in ("above", "by") or board.words(i - 2, i) in ("out of", "nearest is", "set to"):
        return i + 1
    if _skip_region(board, i + 1, lexicon) > i + 1:
        return i + 1
    opens = (
        i == 0
        or "," in token.gap
        or (board.words(i - 2, i) == "it is" and i <= 12)
        or token.sentence != tokens[i - 1].sentence
    )
    last = i + 1 >= len(tokens) or tokens[i + 1].sentence != token.sentence or "," in tokens[i + 1].gap
    return (
        i + 1
        if opens and (last or board.word(i + 1) in ("here", "say", "area", "end")) and len(tokens) > 4
        else i
    )


def _spelled_town(board: Board, i: int, lexicon: Lexicon) -> tuple[int, PlaceTyped | None]:
    """ "boyzee idaho": an unknown word before a region is the town of that sound."""
    end = _skip_region(board, i + 1, lexicon)
    token = board.tokens[i]
    raw = token.raw.lower()
    stated = board.words(i - 2, i) in ("garden to", "place to", "moved to", "move to", "to") and i <= 4
    if not (board.word(i - 1) in _FIRM or stated) or len(raw) < 4 or raw in lexicon.ordinary:
        return i, None
    if i in board.taken or token.number is not None or "'" in raw or raw in lexicon.vocabulary:
        return i, None
    # start-up seam: only for a name nobody spells so
    from gardenmate.language.text.town_sounds import town_meant

    last = i + 1 >= len(board.tokens) or board.tokens[i + 1].sentence != token.sentence
    region = " ".join(t.raw.lower() for t in board.tokens[i + 1 : end])
    found = town_meant(raw, token.word, region, last, lexicon)
    if found is None:
        return i, None
    name, is_region = found
    return (i + 1 if is_region else end), PlaceTyped(name, is_region)
