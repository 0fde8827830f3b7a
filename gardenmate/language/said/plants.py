"""What is said of woody and lasting plants: how they look, a cut already made, what is asked of their season."""

from __future__ import annotations

import re
from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said
from gardenmate.language.values.sizes import SPELLED, number_of

_PICK = r"(?:cut|cutting|pick|picking|pull|pulling|harvest|harvesting)"
_LAST_PICKING = Pattern(
    rf"\b(?:stop|quit|finish|last|end|until when|till when|how (?:long|late)|how many weeks)\b.*\b{_PICK}\b",
    rf"\b{_PICK}\b.*\b(?:stop|until|till|end|last)\b",
)
_UNCOVER = Pattern(
    r"\b(?:take|pull|rake|get|remove|lift|move|comes?)\b.*\b(?:mulch|straw|covers?)\b",
    r"\buncover(?:ing|ed)?\b",
    r"\b(?:mulch|straw)\b.*\b(?:off|away|back)\b",
)
_IN_LEAF = Pattern(
    r"\b(?:ha(?:ve|s) (?:got )?leaves|in (?:full )?leaf|leaf(?:ed)? out|leaves are (?:out|open))\b"
)
_HARM = Pattern(
    r"\b(?:hurt|kill(?:ed)?|harm(?:ed)?|ruin(?:ed)?|damaged?|wreck(?:ed)?|dead|die|survive|recover"
    r"|forgive|live through|it live|they live|make it)\b"
)
_BLEEDS = Pattern(r"\b(?:drip|dripping|bleeds?|bleeding|weeps?|weeping)\b")
_HARD = Pattern(r"\b(?:hard|down|ground|stumps?|bare|short|low)\b")
_SEASON = r"(?:fall|autumn|winter|spring|summer)"
_BEARS_IN = Pattern(
    r"\b(?:fruit|bear|crop|ripen|pick|flower|bloom|berr(?:y|ie))\w*(?:\W+\w+){0,2}?\W+in\W+(?:the\W+)?"
    rf"(?P<season>{_SEASON})"
)
_ANY_SEASON = Pattern(rf"\b{_SEASON}\b")
# -- the stage the grower sees -----------------------------------------------------------------------------
_BE = r"(?:is|are|it's|its|they're|was|were|still|all|quite|completely|fully|totally)"
# The later in the year the further down; of several told of one plant the last holds ("buds were swelling, now
# it's at green tip").
_STAGES: tuple[tuple[str, Pattern], ...] = (
    (
        "dormant",
        Pattern(
            r"\b(?:dormant|leafless|sound asleep|still asleep)\b",
            rf"\b{_BE} (?:still |all |completely |totally )?(?:bare|naked|asleep)\b(?! root)",
            r"\b(?:no (?:leaves|buds|green|sign of life)|not? (?:started|woken|budded)"
            r"|hasn't (?:started|budded|woken))\b",
        ),
    ),
    (
        "bud_swell",
        Pattern(
            r"\bbuds? (?:\w+ ){0,3}?(?:swell\w*|swollen|fat|fattening|plump\w*|getting big|moving)\b",
            r"\b(?:swelling|swollen|fat|plump) buds?\b",
            r"\bbud ?swell\b|\bsilver tips?\b",
        ),
    ),
    (
        "green_tip",
        Pattern(
            r"\bgreen ?tips?\b|\b(?:quarter|half|1/4|1/2)[- ]?(?:an? )?inch(?: of)? green\b",
            r"\bbuds? (?:\w+ ){0,3}?(?:break\w*|broke\w*|burst\w*|pop\w*|crack\w*|opening|opened"
            r"|unfurl\w*|leafing|green|showing green)\b(?! into (?:bloom|flower))",
            r"\bbud ?(?:burst|break)\b|\bbreaking bud\b|\bmouse[- ]?ears?\b",
            r"\b(?:tiny|small|little|baby|first|new|bit of|some) (?:green )?leaves\b|\b(?:bit of|some) green\b",
            r"\b(?:starting|beginning|begun|started|about|just) (?:to )?(?:leaf|leafing)(?: out)?\b"
            r"|\bgreen(?:ing)? up\b",
        ),
    ),
    ("tight_cluster", Pattern(r"\btight clusters?\b")),
    (
        "pink",
        Pattern(
            r"\b(?:early|full|first|tight|showing|shows|at|in|the|is|are|turning|going) pink\b(?! lady"
            r"| lemonade| \w+ (?:apple|blueberr))",
            r"\bpink (?:buds?|stage|tips?)\b|\bpopcorn\b|\b(?:first )?white (?:buds?|stage)\b",
        ),
    ),
    (
        "bloom",
        Pattern(
            r"\b(?:in|full) (?:full )?(?:bloom|flower|blossom)\b|\b(?:blooming|blossoming"
            r"|flowering) (?:now|already)\b",
            rf"\b{_BE} (?:blooming|blossoming|flowering)\b|\b(?:flowers|blossoms) (?:are )?open\b",
        ),
    ),
    ("petal_fall", Pattern(r"\bpetal ?fall\b|\bpetals? (?:are |have )?(?:fall\w*|fell|drop\w*)\b")),
    (
        "leafed_out",
        Pattern(
            r"\b(?:in|full) (?:full )?leaf\b|\b(?:fully |all )?leaf(?:ed)? out\b|\bleaves are (?:out|open)\b",
            r"\b(?:ha(?:ve|s) (?:got )?|full of |covered in )leaves\b",
        ),
    ),
)
_JUST_LEAFING = Pattern(r"\b(?:starting|beginning|begun|started|about|just) (?:to )?leaf")
_COUNT = r"(?:\d{1,3}(?:\.\d{1,2})?(?: ?(?:-|to|or) ?\d{1,3})?|\d/\d)"
_COUNT_WORD = rf"(?:half an?|quarter|{SPELLED})"
_LENGTH_UNIT = r"(?:inch(?:es)?|cm|centimet(?:er|re)s?|mm|f(?:oo|ee)t|ft|m|met(?:er|re)s?)\b"
# A sign, or "in", is a unit only behind figures, and "in" only before what is measured: "thirty in class" is none.
_SIGN = r"\"|'(?![a-z])|in\b(?=[- ](?:tall|high|long|big|across|wide|shoots?|lea|growth|sprouts?|green))"
_LENGTH = (
    rf"(?:(?P<n>{_COUNT})[- ]?(?:of )?(?P<unit>{_LENGTH_UNIT}|{_SIGN})"
    rf"|(?P<word>{_COUNT_WORD})[- ](?:of )?(?P<word_unit>{_LENGTH_UNIT}))"
)
_GROWTH = r"(?P<what>shoots?|lea(?:f|ves)|growth|sprouts?|green|sideshoots?)"
_GROWN = Pattern(
    rf"{_LENGTH}[- ]?(?:long |of |tall |high |new |green |or so )*{_GROWTH}",
)
_GROWN_AFTER = Pattern(
    rf"{_GROWTH} (?:\w+ ){{0,4}}?(?:an? )?{_LENGTH}",
)
# Behind a length: how far off, how deep, or the size of a pot and not of a plant.
_NO_HEIGHT = (
    r"(?!(?:apart|away|off|out|deep|down|from|to|of|in|at|for|and|or|pots?|cells?|containers?|modules?)\b)"
)
_TALL = Pattern(rf"(?<![\w.]){_LENGTH}[- ]?(?:tall|high|big|across|wide|round|{_NO_HEIGHT}[a-z]+\b)")
_UNIT_OF = {"i": "in", '"': "in", "c": "cm", "f": "ft", "'": "ft"}
_FRACTIONS = {
    "half": 0.5,
    "half a": 0.5,
    "half an": 0.5,
    "quarter": 0.25,
    "1/2": 0.5,
    "1/4": 0.25,
    "3/4": 0.75,
}
# -- the job -----------------------------------------------------------------------------------------------
_JOBS: tuple[tuple[str, str, Pattern], ...] = (
    ("cut", "mow", Pattern(r"\bmow(?:ing|ed|n|s)?\b|\bbrush ?hog\w*")),
    ("cut", "down", Pattern(
        r"\bcut(?:ting)? (?:\w+ ){0,4}?(?:right |all the way |clean |back )?down\b(?! (?:by|a|some|to \d|to an?))"
        r"|\b(?:coppic|pollard)\w*"
    )),
    ("cut", "made", Pattern(
        r"(?<!should have )\b(?:was|were|got|has been|have been) (?:\w+ )?(?:cut|pruned|hacked|chopped"
        r"|sheared|mown|mowed|topped)\b"
        r"|(?<!be )(?<!get )(?<!if )\bpruned (?:\w+ ){0,4}?(?:in|last|this|back in|yesterday|too)\b"
    )),
    ("way", "graft", Pattern(r"\bgraft\w*|\bbudding\b|\bscions?\b|\bscionwood\b")),
    ("way", "cuttings", Pattern(r"\b(?:twigs?|sticks?|sprigs?)\b")),
    ("asks", "keep", Pattern(
        r"\b(?:came|come|arrived|arrive|turned up|here|delivered)\b.{0,40}\b(?:early|too soon)\b"
        r"|\bheel(?:ed|ing)? (?:\w+ )?in\b|\bhow long\b.{0,30}\b(?:keep|last|hold|wait)\b|\bstore\b"
    )),
    ("look", "broken", Pattern(
        r"\b(?:broken?|tore|torn|snapped|split|cracked|storm[- ]damaged|dead) (?:\w+ ){0,2}?(?:limbs?"
        r"|branch(?:es)?|boughs?|stems?|wood|canes?)\b"
        r"|\b(?:limbs?|branch(?:es)?|boughs?) (?:\w+ ){0,2}?(?:broken?|tore|torn|snapped|split|cracked|dead)\b"
    )),
    ("way", "root-ball", Pattern(r"\broot[- ]?balls?\b")),
    ("weather", "too-cold", Pattern(r"\btoo (?:cold|chilly|frosty|icy)\b|\bcold enough to hurt\b")),
    ("subject", "hedge", Pattern(r"\bhedg(?:e|es|ing|erow|erows)\b")),
    ("asks", "how-much", Pattern(
        r"\bhow (?:much|hard|far (?:back|down)|low|severely|many (?:canes|stems|buds|shoots|branches|spurs))\b"
    )),
    ("asks", "how", Pattern(
        r"\bhow (?:do|to|should|would|can|does) (?!\w+ (?:know|tell))|\bhow do (?:i|you|we)\b"
        r"|\bbest way to\b|\bhow to\b"
    )),
    ("asks", "when", Pattern(
        r"\bwhen (?:do|to|should|can|is|are|would|could|will|does)\b|\bwhat (?:month|time of year|time)\b"
        r"|\b(?:best|right|proper|ideal|what|which) (?:time|month|season)\b|\bhow (?:early|late|soon)\b|^when\b"
    )),
)  # fmt: skip


def sees_growth(text: str) -> bool:
    """True when a stage of bud or leaf, or the length of new growth, is told (``text`` as `plain` makes it)."""
    patterns = (_GROWN, _GROWN_AFTER, *(pattern for _, pattern in _STAGES))
    return any(pattern.search(text) is not None for pattern in patterns)


def _seen(said: Said) -> Iterator[Typed]:
    """The stage the grower sees: the last one told; words of stages from the cues where none is told so."""
    found = [(m.start(), stage, m) for stage, p in _STAGES for m in p.finditer(said.plain)]
    if found:
        begun = _JUST_LEAFING.search(said.plain) is not None
        plain = [row for row in found if not (begun and row[1] == "leafed_out")]
        _, stage, match = max(plain or found, key=lambda row: row[:2])
        yield Typed("stage", stage, "", "seen", match.group(), match.start(), match.end())
    elif (cue := said.request.cue("bud_stage")) is not None:
        yield Typed("stage", cue, role="seen")


def _sizes(said: Said) -> Iterator[Typed]:
    """How long the new growth is (role shoots, leaves), how big the plant (role plant)."""
    grown = _GROWN.search(said.plain) or _GROWN_AFTER.search(said.plain)
    if grown is not None:
        role = "leaves" if grown["what"].startswith("lea") else "shoots"
        yield from _size(grown, role)
        return
    tall = _TALL.search(said.plain)
    if tall is not None:
        yield from _size(tall, "plant")


def _size(match: re.Match[str], role: str) -> Iterator[Typed]:
    """One size; of a range ("2-3 inches") the longer end."""
    number, unit = match["n"] or match["word"], match["unit"] or match["word_unit"]
    last = number.replace(" or ", "-").replace(" to ", "-").replace("to", "-").split("-")[-1].strip()
    value = _FRACTIONS.get(last) or number_of(last) or number_of(number)
    if value is not None:
        named = "mm" if unit == "mm" else _UNIT_OF.get(unit[0], "m")
        yield Typed("size", value, named, role, match.group(), match.start(), match.end())


def read(said: Said) -> Iterator[Typed]:
    """stage (seen), size (shoots, leaves, plant), cut (hard, mow), way (graft, root-ball), weather (too-cold), subject
    (hedge), asks (when, how, how-much, last-picking, uncover, harm), look (in-leaf, bleeding), season (of: fruit)."""
    yield from _seen(said)
    yield from _sizes(said)
    for kind, value, pattern in _JOBS:
        match = pattern.search(said.plain)
        if match is not None:
            yield Typed(kind, value, text=match.group())
    last = _LAST_PICKING.search(said.plain)
    if last is not None:
        yield Typed("asks", "last-picking", text=last.group())
    off = _UNCOVER.search(said.plain)
    if off is not None and last is None:
        yield Typed("asks", "uncover", text=off.group())
    for kind, value, pattern in (
        ("look", "in-leaf", _IN_LEAF),
        ("look", "bleeding", _BLEEDS),
        ("asks", "harm", _HARM),
        ("cut", "hard", _HARD),
    ):
        match = pattern.search(said.plain)
        if match is not None:
            yield Typed(kind, value, text=match.group())
    bears = _BEARS_IN.search(said.plain)
    if bears is not None and sum(1 for _ in _ANY_SEASON.finditer(said.plain)) == 1:
        yield Typed("season", bears["season"], role="fruit", text=bears.group())
