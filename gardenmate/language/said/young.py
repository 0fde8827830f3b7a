"""What is said of young plants: where they stand, how far they are, the hour, the ground, lamps and pots."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said
from gardenmate.language.values.sizes import SPELLED, number_of

_DAY = r"(?:today|tomorrow|mon|tue|wed|thu|fri|sat|sun|\d|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)"
# What stands there, as (kind, value, wording). A kind may hold several values.
_WORDS: tuple[tuple[str, str, Pattern], ...] = (
    ("hour", "noon", Pattern(r"\b(?:noon|mid-?day)\b|\b(?:middle|heat|hottest part) of the day\b")),
    ("hour", "sun", Pattern(r"\b(?:afternoon|full sun|blazing|sunny)\b")),
    ("hour", "evening", Pattern(r"\bevening\b|\bdusk\b|\bsundown\b|\bsunset\b")),
    ("hour", "night", Pattern(r"\bnights?\b|\btonight\b|\bovernight\b")),
    ("hour", "nights", Pattern(r"\bnights?\b|\bovernight\b")),
    ("heat", "too-hot", Pattern(r"\btoo (?:hot|warm)\b")),
    (
        "doing",
        "planting",
        Pattern(r"\b(?:re|trans)?plant(?:ed|ing|s)?\b|\b(?:set|setting|put|putting|go|going) (?:\w+ ){0,4}?out\b"),
    ),
    (
        "doing",
        "going-out",
        Pattern(r"\b(?:plant|set|put|transplant|go|move)\w*\b.{0,30}?\b(?:out|ground|garden|beds?|plot|them|these|it)\b"),
    ),
    ("doing", "going-out", Pattern(r"\bready\s?\?|\bready (?:now|yet|to go|to plant|for (?:the|their))\b")),
    ("doing", "sowing", Pattern(r"\bsow\w*|\bseeds?\b|\bstart(?:ing|ed)?\b")),
    ("doing", "may-sow", Pattern(
        r"\b(?:can|could|should|may|when (?:do|can|should)|too early to|time to)\b(?: \w+){0,2} sow"
    )),
    ("weather", "snow", Pattern(r"snow")),
    ("cover", "on-already", Pattern(
        r"\b(?:under|beneath|already|have on|are on|is on|got on|another|second|as well)\b"
    )),
    ("come-from", "house", Pattern(
        r"\b(?:out of|from|leave)\b.{0,20}\b(?:greenhouse|polytunnel|hoop ?house|tunnel)\b",
    )),
    ("stand", "house", Pattern(r"\bgreenhouse\b|\bpolytunnel\b|\bporch\b")),
    ("plants", "sown", Pattern(
        r"\b(?:sow|sows|sowed|sown|seeded|direct[- ]seeded|planted (?:\w+ ){0,3}seeds?)\b"
    )),
    ("plants", "up", Pattern(
        r"\b(?:seedlings?|sprouts|sprouted|(?:came|come|coming|are|is|just) up|set out|transplant\w*)\b"
    )),
    ("plants", "young", Pattern(r"\b(?:seedlings?|plants|pots|potted|starts|transplants)\b")),
    ("plants", "seed", Pattern(r"\b(?:seeds?|sow\w*|germinat\w*|sprout\w*|come up|comes up)\b")),
    ("plants", "root-bound", Pattern(
        r"\b(?:root|pot)s?[ -]?bound\b",
        r"\broots?\b.{0,40}\b(?:circl\w*|holes?|out the bottom|crowded|matted|hitting)\b",
        r"\b(?:circling|matted) roots?\b",
    )),
    ("plants", "hardening-begun", Pattern(
        r"\b(?:been|being|already) (?:outside )?harden|\b(?:started|began|begun)\b(?: to)? harden"
        r"|\bbeen at it\b|\b(?:going|gone|been|putting) (?:\w+ )?in and out\b"
        r"|\bhardening\b(?: off)? (?:them |it )?(?:for|since|\d)|\bharden\w*\b.*\b(?:yesterday|ago|since)\b",
    )),
    ("pot", "into", Pattern(r"\b(?:into|in to|to|use|using|up to)\s+(?:an?\s+|the\s+|my\s+|some\s+)?\d")),
    ("asks", "how-long", Pattern(r"how long")),
    (
        "asks",
        "enough",
        Pattern(r"\b(?:enough|enuff|long enough|sufficient)\b|\bwill (?:\w+ ){1,5}do\b(?! for (?:now|them to))",
        ),
    ),
    ("day", "from", Pattern(
        rf"\b(?:from|starting|beginning) (?:on |about |this |next |the )?{_DAY}",
    )),
    ("lamp", "led", Pattern(r"\bleds?\b")),
)  # fmt: skip
_LAMPS = Pattern(
    r"\b(\d{1,2}|two|three|four|five|six)(?: ?x ?| (?:of (?:the|these|those) )?)(?:\d+)[ -]?w(?:atts?)?\b"
)
_TRAYS = Pattern(r"\b(\d{1,2}|two|three|four|five|six)(?: \w+)?,? (?:trays|flats)\b")
_AGE = Pattern(
    rf"\b(?:(?P<at>at|after)(?: only| just| about)? )?(?P<n>\d{{1,2}}(?:\.5)?|{SPELLED})[ -]?"
    r"(?P<u>days?|weeks?|wks?|months?)(?(at)\b|[ -]old\b)"
)
_UNDER_LIGHTS = Pattern(
    rf"\b(?:under|beneath) (?:the |my |a )?(?:lights?|lamps?|leds?)(?: for)?(?: about)? (?P<n>\d{{1,2}}|{SPELLED})[ -]?"
    r"(?P<u>days?|weeks?|wks?|months?)\b"
)
_WEEKS_IN = {"d": 1.0 / 7.0, "w": 1.0, "m": 30.4 / 7.0}
_DAY_OF_PLAN = Pattern(r"\bday (\d{1,2})\b")
_COUNTED = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6}


def read(said: Said) -> Iterator[Typed]:
    """The kinds of _WORDS, counts of lamps and trays (role lamps, trays), seedling-age (weeks), and the day of a plan
    (role plan)."""
    for kind, value, pattern in _WORDS:
        match = pattern.search(said.plain)
        if match is not None:
            yield Typed(kind, value, text=match.group())
    for role, pattern in (("lamps", _LAMPS), ("trays", _TRAYS)):
        match = pattern.search(said.plain)
        if match is not None:
            yield Typed("count", _COUNTED.get(match[1]) or int(match[1]) or 1, role, role, match.group())
    age = _AGE.search(said.plain) or _UNDER_LIGHTS.search(said.plain)
    amount = None if age is None else number_of(age["n"])
    if age is not None and amount:
        weeks = amount * _WEEKS_IN[age["u"][0]]
        yield Typed("seedling-age", weeks, "weeks", None, age.group(), age.start("n"), age.end("u"))
    day = _DAY_OF_PLAN.search(said.plain)
    if day is not None:
        yield Typed("day", int(day[1]), "", "plan", day.group())
