"""What is said of a start beside its crop and day: the ground as it is seen, what is feared, which way is meant."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said
from gardenmate.language.values.sizes import SPELLED, number_of

_GROUND = r"(?:ground|soil|earth|beds?|plots?|gardens?|allotment|fields?|dirt|yard|raised beds?)"
_STILL = (
    r"(?:is|are|was|'s|still|all|quite|too|so|very|completely|totally|rock|solid|full|of|in|with|under|a|bit"
    r"|has|have|got|some|deep|foot|feet|inch|inches|\d+)"
)
_LATER = Pattern(
    rf"\b(?:before|until|till|unless|once|when|after|if|as soon as) (?:the |my |our |all )*"
    rf"(?:{_GROUND}|snow|it|that)\b"
    r"|\b(?:not|isn't|no longer|never|no|nor|isnt|aren't|arent) (?:\w+ )?"
    r"(?:frozen|snow|soggy|sodden|muddy|wet|waterlogged)\b"
    r"|\bsnow (?:is|has|was|'s)? ?(?:all )?(?:gone|melted|off)\b|\b(?:thawed|has thawed|dried out)\b"
)
_STATES = (
    (
        "frozen",
        Pattern(
            rf"\b{_GROUND} (?:{_STILL} )*(?:frozen|frost in)\b|\bfrozen (?:solid )?{_GROUND}\b"
            rf"|\b(?:frost|ice) (?:is |still )*in the {_GROUND}\b",
        ),
    ),
    (
        "snow",
        Pattern(
            rf"\bsnow (?:is |still |lying |left |all )*(?:on|over|covering|across) (?:the |my |our )*{_GROUND}\b"
            rf"|\b{_GROUND} (?:{_STILL} )*(?:snow\b|snowy\b|snow-covered|covered (?:in|with|by) snow)"
            r"|\bsnow on the ground\b|\bthere(?:'s| is) still (?:some |a lot of |deep )?snow\b",
        ),
    ),
    (
        "wet",
        Pattern(
            rf"\b{_GROUND} (?:{_STILL} )*(?:sodden|soggy|waterlogged|water-logged|flooded|muddy|mud|sopping"
            r"|saturated|soaking(?: wet)?|standing water|under water|(?<=too )wet)\b"
            rf"|\b(?:sodden|soggy|waterlogged|flooded|saturated|muddy) {_GROUND}\b"
            rf"|\bstanding water (?:on|in) (?:the |my |our )*{_GROUND}\b",
        ),
    ),
)
_SPAN = rf"(?P<n>\d{{1,3}}(?:\.5)?|{SPELLED}|a)[- ](?P<u>days?|weeks?|wks?|months?|fortnights?)\b"
_TO_COLD = (
    r"(?:til|till|until|to|before) (?:the |our |my |it |first |fall |autumn |hard |killing |a )*"
    r"(?:frosts?|freez\w+|cold|snow)"
)
_OF_SEASON = (
    r"(?: (?:worth )?of (?:the |growing |good |warm |frost[- ]free )*(?:season|summer|weather|growing))?"
)
_USUAL = r"(?:everyone|everybody|anyone|the neighbou?rs?|the rest|others|usual|normal|the usual|most people)"
_SPANS = (
    (
        "time-left",
        Pattern(rf"\b{_SPAN}{_OF_SEASON} (?:left|to go|remaining|{_TO_COLD}|enough)\b"),
    ),
    (
        "time-left",
        Pattern(rf"\b(?:is|are|would|will) {_SPAN} (?:be )?(?:long )?(?:enough|plenty)\b"),
    ),
    ("ahead-of-usual", Pattern(rf"\b{_SPAN} (?:before|ahead of) {_USUAL}\b")),
    ("ahead-of-usual", Pattern(rf"\bjump(?:ing)? the gun\b[^.?!]{{0,40}}? by {_SPAN}")),
    ("raised-weeks", Pattern(rf"\b(?:want|need|raise|have) {_SPAN}[- ]old\b")),
)
_DAYS_OF = {"d": 1.0, "w": 7.0, "m": 30.4, "f": 14.0}
_INSIDE, _IN_PLACE = (
    r"\b(?:inside|indoors|in trays|in pots|under lights)\b",
    r"\b(?:direct|outside|outdoors|in place)\b",
)
# What else these questions turn on, as (kind, value, wording).
_WORDS: tuple[tuple[str, str, Pattern], ...] = (
    ("weighs", "cold", Pattern(r"\b(?:frosts?|freezes?|winter|cold|in time|time to|make it)\b")),
    ("fears", "lost", Pattern(
        r"\b(?:los[et]|dead|died?|kill(?:ed)?|surviv\w*|ruin\w*|rot(?:ted|ten)?|make it|okay|ok|hurt)\b"
    )),
    ("asks", "which-way", Pattern(rf"{_INSIDE}.*\bor\b.*{_IN_PLACE}", rf"{_IN_PLACE}.*\bor\b.*{_INSIDE}")),
    ("asks", "worth-it", Pattern(
        r"\b(?:make(?:s)? sense|worth|bother|any point|is there a point|do i (?:have|need) to|better)\b"
    )),
    ("asks", "list", Pattern(r"^\W*(?:what|which)\b")),
    ("again", "start", Pattern(r"\b(?:replant|resow|re-sow|again)")),
    ("after", "trip", Pattern(r"\b(?:then|back|return(?:ing)?|afterwards|get home|am home|are home)\b")),
    ("span-of", "past", Pattern(r"(?:^| )ago(?: |$)")),
    ("doing", "hardening", Pattern(r"harden")),
    ("house", "polytunnel", Pattern(r"\b(?:poly ?tunnels?|high tunnel|hoop ?house)\b")),
    ("stays", "house", Pattern(
        r"\b(?:stay|live|remain|keep|kept|stand|fruit|crop|grow|growing|grown)\b"
        r".*\b(?:greenhouse|glasshouse|polytunnel|tunnel|hoophouse|under glass|in there|in it)\b"
        r"|\b(?:greenhouse|polytunnel|tunnel|hoophouse) (?:crop|tomatoes|cucumbers|peppers)\b",
    )),
    ("job", "order", Pattern(r"\b(?:re)?order(?:ing)?\b")),
    ("job", "chit", Pattern(
        r"\bchits?\b|(?<!been )(?<!already )(?<!are )\bchitting\b|\bpre-?sprout(?:s|ing)?\b"
        r"|\bgreen[- ]sprout(?:s|ing)?\b"
    )),
    ("job", "earth-up", Pattern(
        r"\b(?:earth(?:ed|ing)?(?: them| it)?[- ]up|hill(?:ed|ing)? ?(?:them|it|up|my|the|potatoes))\b"
    )),
)  # fmt: skip


def read(said: Said) -> Iterator[Typed]:
    """ground (frozen | snow | wet), weighs (cold), fears (lost), asks (which-way | worth-it | list), again (start),
    after (trip), span-of (past), job (order | chit | earth-up), doing (hardening), house (polytunnel), stays (house),
    time-left and ahead-of-usual (days), raised-weeks (the age plants are to have), sort (a variety or kind of a
    named crop)."""
    state = next((state for state, pattern in _STATES if pattern.search(said.plain) is not None), None)
    if state is not None and _LATER.search(said.plain) is None:
        yield Typed("ground", state)
    for kind, value, pattern in _WORDS:
        found = pattern.search(said.plain)
        if found is not None:
            yield Typed(kind, value, text=found.group().strip())
    for kind, pattern in _SPANS:
        match = pattern.search(said.plain)
        amount = None if match is None else number_of(match["n"])
        if match is not None and amount:
            days = amount * _DAYS_OF[match["u"][0]]
            lasts, unit = (days / 7.0, "weeks") if kind == "raised-weeks" else (days, "days")
            yield Typed(kind, round(lasts, 1), unit, None, match.group(), match.start("n"), match.end("u"))
    yield from _sorts(said)


def _sorts(said: Said) -> Iterator[Typed]:
    """The varieties and kinds of the crops named that stand in the words, by the name of their row; the longest name
    of a crop only, for "second earlies" are no "earlies"."""
    words = f" {said.plain} {' '.join(ref.typed.lower() for ref in said.request.crops)} "
    words = "".join(c if c.isalnum() or c in "'-" else " " for c in words)
    for ref in said.request.crops:
        crop = said.facts.crop_for(ref)
        names = () if crop is None else (n for row in crop.varieties for n in row.names)
        told = [n for n in names if f" {n} " in words or f" {n}s " in words]
        if told:
            yield Typed("sort", max(told, key=len), role=ref.id)
