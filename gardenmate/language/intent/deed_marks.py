"""What a line tells of deeds, word by word: marks on its tokens, from which the deeds are put together."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import Literal, NamedTuple

from gardenmate.core.question import CropRef, Typed
from gardenmate.knowledge.facts import Facts
from gardenmate.language.text.spans import Board, Span, words
from gardenmate.language.values.calendar_days import MONTHS, Stretch
from gardenmate.language.values.deeds import longest_deed_at

Kind = Literal["action", "crop", "count", "date", "where", "variety", "days", "not", "which", "all"]


class Mark(NamedTuple):
    """One thing told: its kind, what it is, and the tokens it stands on. ``unit`` belongs to a count; ``weak``: an
    action that is only one where no other is told ("in", "out", "up"). The ``unit`` of a crop called by the name of a
    variety is that name."""

    kind: Kind
    value: object
    start: int
    end: int
    unit: str = ""
    weak: bool = False


_UNITS: Mapping[str, str] = {
    **dict.fromkeys(("row", "rows", "drill", "drills"), "rows"),
    **dict.fromkeys(("tray", "trays", "flat", "flats"), "trays"),
    **dict.fromkeys(("pot", "pots"), "pots"),
    **dict.fromkeys(("cell", "cells", "module", "modules", "plugs"), "cells"),
    **dict.fromkeys(("packet", "packets", "pack", "packs"), "packets"),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("kg", "kilo", "kilos"), "kg"),
    **dict.fromkeys(("oz", "ounce", "ounces"), "oz"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("ft", "foot", "feet"), "ft"),
    **dict.fromkeys(("quart", "quarts", "jar", "jars", "pint", "pints"), "jars"),
    **dict.fromkeys(("plant", "plants", "seedling", "seedlings", "starts"), "plants"),
    **dict.fromkeys(
        ("seed", "seeds", "cloves", "clove", "sets", "tubers", "slips", "crowns", "bulbs"), "pieces"
    ),
}
_NO_COUNT = words(
    "day days week weeks month months year years yr yrs hour hours minute minutes inch inches cm mm degree degrees "
    "percent % st nd rd th am pm x wide deep long apart old mph hrs to leaves leaf brown per"
)
_NUMBERED = words(
    "bed tray mat row frame shelf job number note entry zone box tunnel # light lamp "
    "change edit amend correct fix"
)
_SPOTS = words(
    "bed beds tray trays frame frames tunnel polytunnel hoophouse greenhouse glasshouse sill windowsill sills window "
    "kitchen bedroom bathroom basement cellar garage shed porch fridge mat pad lights light lamp shelf rack "
    "conservatory camp home allotment plot border trough troughs tub tubs pots modules cells barrel hotbed ground "
    "garden field yard patio deck balcony bucket buckets box boxes flats closet attic barn orchard hedge cottage"
)
_LEADS = words("in on at under into onto inside behind beside by near up out half along across")
_BESIDE = words(
    "the my our a that this back front top bottom left right south north east west big small "
    "cold heat old new raised first second"
)
_PLAIN_SPOTS = words("bed tray mat frame tunnel greenhouse sill windowsill shelf trough")
_ORDINALS = {"first": 1, "former": 1, "second": 2, "latter": 2, "third": 3}
_NOT = words("not no without neither aren isn weren wasn haven havent arent isnt")
_WEAK: Mapping[str, str] = {
    "up": "up",
    "in": "plant",
    "out": "set-out",
    "gone": "lost",
    "done": "done",
    "did": "done",
    "finished": "done",
}
_BEFORE_WEAK = words(
    "are is all now finally both just been went well went go nearly most already half too were was them"
)
_AFTER_UP = words("to at by on in here there for against")


def marks_on(board: Board, facts: Facts, varieties: Mapping[str, str], gardens: frozenset[str]) -> list[Mark]:
    """Every mark of a line, in order; no two share a token."""
    taken: set[int] = set()
    found: list[Mark] = []

    def lay(mark: Mark) -> None:
        places = set(range(mark.start, mark.end))
        if places and not places & taken:
            taken.update(places)
            found.append(mark)

    wheres = _wheres(board, gardens)
    for mark in (*_dates(board), *wheres, *_varieties(board, varieties), *_crops(board)):
        lay(mark)
    if not any(m.kind == "crop" for m in found):  # "the pepper tray": the place tells the crop
        found += [c for c in _crops(board) for w in wheres if w.start <= c.start < w.end][:1]
    named = {m.end for m in found if m.kind == "variety" or (m.kind == "crop" and m.unit)}
    for mark in (
        *_days(board, named),
        *_counts(board, taken),
        *_actions(board, facts, taken),
        *_others(board),
    ):
        lay(mark)
    return sorted(found, key=lambda m: m.start)


def names_and_places(board: Board, varieties: Mapping[str, str], gardens: frozenset[str]) -> Iterator[Typed]:
    """Where (a bed, tray or other part of the garden), garden (one told by name), crop and variety, as named in the
    line itself: what comes from the conversation is not among them."""
    for mark in _wheres(board, gardens):
        yield Typed("where", str(mark.value), start=mark.start, end=mark.end)
        named = next((name for name in gardens if name in str(mark.value).split()), None)
        if named is not None:
            yield Typed("garden", named)
    for mark in _crops(board):
        if isinstance(mark.value, CropRef):
            yield Typed("crop", mark.value.id)
    for mark in _varieties(board, varieties):
        beside = _names_crop(board, mark)
        yield Typed(
            "variety", str(mark.value), varieties.get(str(mark.value), ""), "beside" if beside else None
        )


def names_known_variety(board: Board, varieties: Mapping[str, str]) -> bool:
    """True when a variety told before is named."""
    return bool(_known_varieties(board, varieties))


def _tells_days(board: Board) -> bool:
    """True when days to maturity are told: "Siberia tomatoes, 50 days"."""
    pairs = zip(board.tokens, board.tokens[1:], strict=False)
    return any(t.number is not None and 30 <= t.number <= 200 and n.word in ("day", "days") for t, n in pairs)


def _names_crop(board: Board, mark: Mark) -> bool:
    """True for a name that can be nothing else: right before its crop, or told of it ("are", "is", "called")."""
    crops = [s for s in board.spans if s.tag in ("crop", "family")]
    before = board.word(mark.start - 1)
    return any(s.start == mark.end for s in crops) or before in ("are", "is", "called", "was", "were")


def _dates(board: Board) -> list[Mark]:
    found: list[Mark] = []
    for span in board.of("date"):
        day = span.value if isinstance(span.value, date) else _of_stretch(board, span)
        mark = Mark("date", day, span.start, span.end, weak=not isinstance(span.value, date))
        if found and found[-1].end == span.start and not mark.weak:
            found[-1] = mark._replace(start=found[-1].start)  # "Saturday March 29": the date says it
        else:
            found.append(mark)
    held = {i for m in found for i in range(m.start, m.end)}
    for i, token in enumerate(board.tokens):
        if i in held or board.today is None:
            continue
        if token.word in ("today", "tonight", "arvo"):
            found.append(Mark("date", board.today, i, i + 1))
        elif token.number is not None and board.word(i + 1) in _TH and 1 <= token.number <= 31:
            next_day = _next_day(int(token.number), board.today)
            if next_day is not None:
                found.append(Mark("date", next_day, i, i + 2))
        elif token.word in MONTHS and token.word != "may" and not token.raw[:1].isdigit():
            found.append(Mark("date", _next_month(MONTHS[token.word], board.today), i, i + 1, weak=True))
    return found


_TH = words("st nd rd th")


def _of_stretch(board: Board, span: Span) -> date:
    """The day a stretch stands for: the 5th of "early", the 15th of "mid", the last of "end of" or "late"."""
    stretch: Stretch = span.value
    said = set(board.words(span.start - 1, span.end).split())
    if said & {"mid", "middle"}:
        return stretch.first.replace(day=15)
    if said & {"end", "late"}:
        return stretch.last
    if said & {"early", "start", "beginning"}:
        return stretch.first.replace(day=5)
    return stretch.first


def _next_day(number: int, today: date) -> date | None:
    """The next day of that number, today counted."""
    for ahead in range(62):
        day = today + timedelta(days=ahead)
        if day.day == number:
            return day
    return None


def _next_month(month: int, today: date) -> date:
    return date(today.year + (month < today.month), month, 1)


def _crops(board: Board) -> list[Mark]:
    return [
        Mark("crop", ref, s.start, s.end, _as_variety(board, s))
        for tag in ("crop", "family", "implied")
        for s in board.of(tag)
        for ref in s.value.refs[:1]
    ]


def _as_variety(board: Board, span: Span) -> str:
    """The name where a crop is called by that of a variety ("Black Krim", "Yukon Gold"); "" for a plain name."""
    tokens = board.tokens[span.start : span.end]
    first = span.start == 0 or board.tokens[span.start - 1].sentence != tokens[0].sentence
    if not all(t.capital for t in tokens) or (first and len(tokens) == 1):
        return ""
    return board.text.typed[tokens[0].start : tokens[-1].end]


def _wheres(board: Board, gardens: frozenset[str]) -> list[Mark]:
    """ "in tray 1", "bed 3", "under the lights", "bed by the shed", "at camp"."""
    tokens, found = board.tokens, []
    for i in range(len(tokens)):
        word = board.word(i)
        if word in _NUMBERED and word in _SPOTS and _numbers(board, i + 1):
            start = i - 1 if board.word(i - 1) in _LEADS else i
            found.append(_where(board, start, i + 2, i))
        elif word in _LEADS and i + 1 < len(tokens):
            end = _spot_end(board, i + 1, gardens)
            if end:
                named = i + 1
                while board.word(named) in ("the", "my", "our", "a") and named + 1 < end:
                    named += 1
                found.append(_where(board, i, end, named))
        elif word in _PLAIN_SPOTS and board.word(i + 1) in ("by", "behind", "beside", "under"):
            end = i + 2 + (board.word(i + 2) in ("the", "my", "our"))
            if end < len(tokens):
                found.append(_where(board, i, end + 1, i))
        elif word == "same" and board.word(i + 1) in _PLAIN_SPOTS:
            found.append(Mark("where", "same", i, i + 2))
        elif word == "home" and board.word(i - 1) in ("one", "some", "rest", "at"):
            found.append(Mark("where", "home", i, i + 1))
    return found


def _spot_end(board: Board, i: int, gardens: frozenset[str]) -> int:
    """Where a place of the garden that begins at ``i`` ends; 0 when none does. At most three words lead to it."""
    at = i
    while at < i + 4 and at < len(board.tokens):
        word = board.word(at)
        if word in _SPOTS or word in gardens:
            end = at + 1
            if word in _NUMBERED and _numbers(board, end):
                return end + 1
            if board.word(end) in ("by", "behind", "beside") and board.word(end + 1) in ("the", "my"):
                return min(end + 3, len(board.tokens))
            if board.word(end) == "in" and board.word(end + 1) == "the" and board.word(end + 2) in _SPOTS:
                return end + 3
            return end
        span = next((s for s in board.spans if s.start <= at < s.end and s.tag == "crop"), None)
        if (
            word not in _BESIDE
            and word not in _LEADS
            and (span is None or board.word(span.end) not in _SPOTS)
        ):
            return 0
        at += 1
    return 0


def _where(board: Board, start: int, end: int, named: int) -> Mark:
    first, last = board.tokens[named], board.tokens[end - 1]
    text = board.text.typed[first.start : last.end].lower()
    return Mark("where", re.sub(r"^(?:the|my|our|a)\s+", "", text), start, end)


def _numbers(board: Board, i: int) -> bool:
    """True when token ``i`` is the number of the bed or tray before it."""
    token = board.tokens[i] if 0 < i < len(board.tokens) else None
    if token is None or token.number is None or token.number != int(token.number) or token.number > 40:
        return False
    same = token.sentence == board.tokens[i - 1].sentence and "," not in token.gap
    return same and board.word(i + 1) not in ("of", "is", *_UNITS)


def _days(board: Board, behind_names: set[int]) -> list[Mark]:
    """Days to maturity: "55 days", "Glacier 55", also as the board has it."""
    found = [Mark("days", int(s.value), s.start, s.end) for s in board.of("dtm")]
    for i, token in enumerate(board.tokens):
        n = token.number
        if n is None or not 20 <= n <= 200:
            continue
        if i in behind_names and n >= _LEAST_DAYS and board.word(i + 1) not in _UNITS:  # "Earlivee 63"
            found.append(Mark("days", int(n), i, i + 1))
            continue
        if board.word(i + 1) not in ("day", "days"):
            continue
        if board.word(i + 2) not in ("ago", "later", "old", "since", "before", "after", "to"):
            found.append(Mark("days", int(n), i, i + 2))
    return found


_LEAST_DAYS = 35  # a bare number behind a variety's name is its days from this on (design value)
_NO_NUMBERS = words("money span age people dtm place cells")


def _counts(board: Board, taken: set[int]) -> list[Mark]:
    """Numbers that count something; those of sizes, times, temperatures and numbered beds do not."""
    other = {i for s in board.spans if s.tag in _NO_NUMBERS for i in range(s.start, s.end)}
    degrees = {s.start for s in board.of("temp") if _of_degrees(board, s.start, s.end)}
    found = [Mark("count", float(s.value), s.start, s.end, "cells") for s in board.of("cells")]
    for i, token in enumerate(board.tokens):
        n = token.number
        if n is None or i in taken or i in other or i in degrees or n <= 0:
            continue
        if token.raw.lower() == "one" and board.word(i + 1) not in ("at", "in", "row", "tray", "on"):
            continue
        after, before = board.word(i + 1), board.word(i - 1)
        numbered = before in _NUMBERED and board.tokens[i - 1].sentence == token.sentence
        if after in _NO_COUNT or numbered or "#" in token.gap or token.gap == "/":
            continue
        if i + 1 < len(board.tokens) and board.tokens[i + 1].gap == "/":
            continue
        if (
            board.tokens[i - 1].sentence == token.sentence
            and before == "of"
            and i >= 2
            and board.tokens[i - 2].number
        ):
            continue  # "12 of 12": the first counts
        unit = _UNITS.get(after, "")
        found.append(Mark("count", n, i, i + 1 + bool(unit), unit))
    return found


_COLD = words(
    "frost froze low tonight night lows degrees degree f c forecast hit dropped temp freeze freezing"
)


def _of_degrees(board: Board, start: int, end: int) -> bool:
    said = board.text.typed[board.tokens[start].start : board.tokens[end - 1].end + 2].lower()
    return bool(re.search(r"[°]|\d\s*[fc]\b|deg", said)) or board.near(start, _COLD, 4, 4)


def _actions(board: Board, facts: Facts, taken: set[int]) -> list[Mark]:
    said = [t.word for t in board.tokens]
    raw = [t.raw.lower() for t in board.tokens]
    found: list[Mark] = []
    i = 0
    while i < len(said):
        hit = longest_deed_at(said, i, facts) or longest_deed_at(raw, i, facts)
        if hit is not None and i not in taken:
            head = i + 1
            found.append(Mark("action", hit[1].id, i, head))
            i = head if hit[0] > head + 2 else max(head, min(hit[0], head + 2))
            continue
        weak = _WEAK.get(said[i])
        if weak is not None and _weak_meant(board, i, said[i]):
            found.append(Mark("action", weak, i, i + 1, weak=True))
        i += 1
    return found


def _weak_meant(board: Board, i: int, word: str) -> bool:
    """ "Peppers are up", "13 up", "spuds in", "leeks out": the word stands behind what it is about."""
    if word in ("done", "did", "finished"):
        return True
    after = board.word(i + 1)
    same = i + 1 < len(board.tokens) and board.tokens[i + 1].sentence == board.tokens[i].sentence
    behind = any(s.end == i and s.tag in ("crop", "family", "cells", "count") for s in board.spans)
    behind = behind or (
        i > 0 and (board.tokens[i - 1].number is not None or board.word(i - 1) in _BEFORE_WEAK)
    )
    behind = behind or board.word(i - 1) in (
        "cloves",
        "sets",
        "beans",
        "seeds",
        "plants",
        "more",
        "one",
        "some",
    )
    if not behind:
        return False
    if word == "up":
        return not (same and after in _AFTER_UP and board.word(i + 2) in ("the", "sale", "it"))
    closes = (
        not same
        or "," in board.tokens[i + 1].gap
        or after in ("today", "yesterday", "and", "this", "now", "to")
    )
    month = any(s.start == i + 1 and s.tag == "date" and board.word(i + 1) in MONTHS for s in board.spans)
    return not month and (closes or any(s.start == i + 1 and s.tag in ("date", "count") for s in board.spans))


def _others(board: Board) -> list[Mark]:
    found = []
    for i, token in enumerate(board.tokens):
        if token.word in _NOT:
            found.append(Mark("not", True, i, i + 1))
        elif token.word in ("all", "whole", "lot"):
            found.append(Mark("all", True, i, i + 1))
        elif token.word in _ORDINALS:
            found.append(Mark("which", _ORDINALS[token.word], i, i + 1))
    return found


# -- varieties ----------------------------------------------------------------------------------------
_SMALL = words("of de the du di von la le")
_NO_NAME = words("i no ok yes so and the my our it we a hi hello thanks")
_MOST_WORDS = 4


def _varieties(board: Board, known: Mapping[str, str]) -> list[Mark]:
    """Names of varieties: those told before, in any case; new ones by their capitals, beside a crop or a number."""
    found = _known_varieties(board, known)
    held = {i for m in found for i in range(m.start, m.end)}
    tokens = board.tokens
    if sum(t.capital for t in tokens) > 0.7 * len(tokens) and len(tokens) > 3:
        return found  # all capitals: they tell nothing
    i = 0
    while i < len(tokens):
        end = _capitals_end(board, i, held)
        if end > i and _beside_crop(board, i, end):
            text = board.text.typed[tokens[i].start : tokens[end - 1].end]
            found.append(Mark("variety", text, i, end))
        i = max(end, i + 1)
    return found


def _known_varieties(board: Board, known: Mapping[str, str]) -> list[Mark]:
    found: list[Mark] = []
    low = {" ".join(re.findall(r"\w+", name.lower())): name for name in known}
    raws = [re.sub(r"\W", "", t.raw.lower().replace("'s", "s")) for t in board.tokens]
    for i in range(len(raws)):
        for length in range(_MOST_WORDS, 0, -1):
            said = " ".join(raws[i : i + length])
            name = low.get(said) or low.get(said.replace("s ", " s ", 1))
            if name is not None and i + length <= len(raws):
                found.append(Mark("variety", name, i, i + length))
                break
    return found


def _capitals_end(board: Board, i: int, held: set[int]) -> int:
    """Where a run of words with capitals that begins at ``i`` ends (``i`` when none does)."""
    tokens, at = board.tokens, i
    laid = {k for s in board.spans if s.tag in ("crop", "date", "family") for k in range(s.start, s.end)}
    while at < len(tokens) and at - i < _MOST_WORDS:
        token = tokens[at]
        if at > i and (token.sentence != tokens[i].sentence or "," in token.gap):
            break
        small = at > i and token.word in _SMALL and any(t.capital for t in tokens[at + 1 : at + 3])
        if at in held or at in laid or (token.word in _NO_NAME and not small) or not (token.capital or small):
            break
        at += 1
    return at


def _beside_crop(board: Board, start: int, end: int) -> bool:
    """A name stands right before a crop, or behind it (after "are", "is" or a comma), or behind a number."""
    tokens = board.tokens
    first = start == 0 or tokens[start - 1].sentence != tokens[start].sentence
    if board.word(start - 1) in ("in", "at", "near", "from", "on", "for", "to"):
        return False
    spans = [s for s in board.spans if s.tag in ("crop", "family")]
    if any(s.start == end for s in spans):
        return not first or end - start > 1 or _tells_days(board)
    if first:
        return board.word(end) in ("both", "all", "ones", "the") or (
            end - start > 1 and board.word(end) in ("", "both")
        )
    if any(s.end == start for s in spans):
        return True
    before = tokens[start - 1]
    if before.number is not None:
        return True
    if board.word(start - 1) in ("are", "is", "called", "were") and board.word(start - 2) in (
        "ones",
        "they",
        "those",
        "it",
    ):
        return True
    near = [s for s in spans if s.end <= start and tokens[s.start].sentence == tokens[start].sentence]
    return bool(near) and (
        board.word(start - 1) in ("are", "is", "called", "and", "was", "were") or "," in tokens[start].gap
    )
