"""What a day named in a text is the day of: the job, the harvest wanted, plants going out, a trip, a sight.

"Sow today" is the day of the job. "Set out June 1, when do I start the seed?" is when the plants go out,
"for Halloween" when the harvest is wanted, "away May 20 to June 10" a stretch when nobody is there, "sown in
May" a start already made, "scapes curled 10 days ago" what was seen on the plant, "frost on May 20" a story.
The word nearest before the day decides, then the nearest after it.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from gardenmate.core.pattern import Pattern
from gardenmate.language.text.spans import Board, Span, words
from gardenmate.language.values.dates import Stretch
from gardenmate.language.values.day_words import AWAY, PAST, SEED, Role, is_past, role_at
from gardenmate.language.values.own_frost import own_frost
from gardenmate.language.values.story_days import of_the_story

_FEAST_LEADS = words("by for before")
_SKIP = words(
    "the a an about around roughly approximately this next coming say early mid late middle end of week on"
)
_HARVEST = words("pick picking picked harvest harvesting ready ripe ripen eat fruit")
_ON = words("just now today")
_REACH, _AHEAD = 9, 6  # words before and behind a day that may say what it is of; design value
_SHORT = 12  # words of a line whose days belong together; design value
SLIP_DAYS = 60
"""A start told as past whose day lies no further ahead than this is a slip of tense, not last year's."""


def cues(board: Board, weights: Mapping[int, float]) -> dict[str, str]:
    """Cues that say what the days named are: ISO dates, stretches as two of them with a slash between.

    wanted_on  the harvest is wanted by then     out_on    the plants go out then, seed is asked about
    away       nobody is there                   begun_on  a start already made (begun_by: sow|plant|setout)
    seen_on    the stage `seen` was seen then    told_on   a day that only belongs to the story
    job_on     the day of the job, where it is not the first day named, or is today
    job_in     the month or part of a month the job is in, where it is the one day in a short question
    job_in_of  start: its words say that something is begun then
    begun_by   alone: a start already made, its day not told
    going_out  yes: setting plants out is asked about, and no harvest
    about      yes: one of them is the middle of a month or other stretch
    from_frost "-8/-6:last": so many weeks from the last or first frost, or from setting out (":out")

    ``weights``: token -> weight of its clause; a day wanted in the question goes before one of the story.
    """
    if board.today is None:
        return {}
    found: dict[str, str] = {}
    plain: list[date] = []
    away_until = -1
    days = _asked_for(board, weights)
    for span in days:
        if span.start < away_until:
            continue
        role = role_of(board, span)
        day = _day_of(board, span, role)
        if role.name == "away":
            first, last, away_until = _stay(board, span)
            found.setdefault("away", f"{first}/{last}")
        elif role.name in ("wanted", "out", "begun", "seen", "told"):
            later = role.name == "begun" and role.kind != "sow" and found.get("begun_by") == "sow"
            if f"{role.name}_on" in found and not later:
                continue  # of sowing and setting out the plants' own day counts
            found[f"{role.name}_on"] = day.isoformat()
            if role.kind:
                found["seen" if role.name == "seen" else "begun_by"] = role.kind
            if isinstance(span.value, Stretch) and role.name != "told":
                found["about"] = "yes"
        elif not isinstance(span.value, Stretch):
            plain.append(day)
    found = _so_long(board) | found | _job_in(board, days)
    if plain and len(found) > 0:
        found["job_on"] = plain[0].isoformat()
    found.update(_today(board, found, bool(plain)))
    if "begun_by" not in found:
        told = next(
            (r for i in range(len(board.tokens)) if (r := role_at(board, i)) and r.kind == "past"), None
        )
        if told is not None and _own_doing(board):
            found["begun_by"] = told.name
    if _asks_of_going_out(board):
        found["going_out"] = "yes"
    frost = _from_frost(board)
    if frost is not None:
        found["from_frost"] = frost
    return found


def _asked_for(board: Board, weights: Mapping[int, float]) -> list[Span]:
    """The days named; where the question wants a harvest by one, no day it is wanted by in the story."""
    days = _days(board)
    story = [s for s in days if weights.get(s.start, 1.0) < 1.0 and role_of(board, s).name == "wanted"]
    asked = any(s not in story and role_of(board, s).name == "wanted" for s in days) if story else False
    return [s for s in days if s not in story] if asked else days


def _job_in(board: Board, days: list[Span]) -> dict[str, str]:
    """The one month, or part of it, that is of the job, and not of the story around it; "it's the end of June" beside
    "now" as well."""
    jobs = [s for s in days if role_of(board, s).name == "job"]
    started = [s for s in jobs if (near := _nearest(board, _lead(board, s))) and near.name in _STARTS]
    beside = any(
        o is not s and abs(o.start - s.end) <= _BESIDE for s in started for o in jobs
    )  # "May or June"
    started = [] if len(started) != 1 or beside else started
    jobs = started or jobs  # "a mad hot June ... any chance sown at the start of July"
    if len(jobs) != 1 or not isinstance(jobs[0].value, Stretch):
        return {}
    here = board.near(jobs[0].start, _IT_IS, 4, 0)
    now = any(t.word == "now" for t in board.tokens)
    if (
        (now and not here)
        or (len(days) > 1 and len(board.tokens) <= _SHORT and not started)
        or (len(board.tokens) > _STORY and not here)
    ):
        return {}
    found = {"job_in": f"{jobs[0].value.first}/{jobs[0].value.last}"}
    if started:
        found["job_in_of"] = "start"  # "if I put melons in in the middle of May"
    return found


_BESIDE = 2  # words between days that are put to choose from
_STARTS = frozenset({"sow", "plant", "setout"})
_IT_IS = words("it's its it")
_STORY = 45  # words; in a longer text a month is mostly of the story


def _so_long(board: Board) -> dict[str, str]:
    """ "The peas have been up five weeks", "sown, it's been five weeks": the day it came up, or was begun."""
    for span in board.of("span"):
        unit, amount = span.value
        per = {"days": 1.0, "weeks": 7.0}.get(unit)
        at = span.start - 1 - (board.word(span.start - 1) in ("for", "about", "only", "nearly"))
        if (
            per is None
            or board.today is None
            or amount * per >= _LONGEST_GROWING
            or board.word(span.end) == "ago"
        ):
            continue
        day = (board.today - timedelta(days=round(amount * per))).isoformat()
        if board.word(at) == "up" and board.word(at - 1) in ("been", "are", "is"):
            return {"seen_on": day, "seen": "up"}
        if board.word(at) == "been" and board.word(at - 1) in ("it", "its", "it's", "has", "is"):
            return {"begun_on": day, "begun_by": "sow"}
    return {}


_LONGEST_GROWING = 200.0  # days; longer is no wait for a first picking


def _days(board: Board) -> list[Span]:
    """The days named, and what was so many weeks ago."""
    own = own_frost(board)
    named = [s for s in board.of("date") if own is None or s is not own[1]]
    for span in board.of("span"):
        unit, amount = span.value
        per = {"days": 1.0, "weeks": 7.0}.get(unit)
        if per and board.word(span.end) == "ago" and board.today is not None and amount * per < 3650:
            named.append(
                Span(span.start, span.end + 1, "ago", board.today - timedelta(days=round(amount * per)))
            )
    for i, token in enumerate(board.tokens):
        months = 1.0 if token.word == "a" else token.number
        if months and board.word(i + 1) in ("month", "months") and board.word(i + 2) == "ago":
            back = timedelta(days=round(30.4 * min(months, 60.0)))
            if board.today is not None:
                named.append(Span(i, i + 3, "ago", board.today - back))
    return sorted(named, key=lambda s: s.start)


def role_of(board: Board, span: Span) -> Role:
    """What the day of ``span`` is the day of; "job" where nothing says otherwise."""
    lead = _lead(board, span)
    prep = _preposition(board, span.start)
    found = _nearest(board, lead) or _nearest(board, _tail(board, span))
    name = found.name if found is not None else ""
    if name == "away" or _names_trip(board, span):
        return Role("away")
    if any(board.word(i) in ("wait", "waiting", "hold") and board.word(i + 1) == prep for i in lead[:5]):
        return Role("job")
    if name == "frost":
        return Role("told")
    if prep == "since":
        found = next((r for i in lead if (r := role_at(board, i)) is not None and r.name == "seen"), found)
    if found is not None and found.name == "seen":
        return found
    starting = name in ("sow", "plant", "setout")
    if starting and "today" in board.words(span.start - 2, span.start).split():
        return Role("job")  # "sown today on August 2nd": the day it is done
    if prep == "for" and board.word(span.end) in ("planting", "transplanting", "setting"):
        return Role("out" if _asks_of_seed(board, Role("setout")) else "job")
    if prep == "for" and not (starting and board.word(span.end) in SEED) and span.tag != "ago":
        return Role("wanted")
    if board.near(span.start, frozenset({"gap"}), 3, 0):
        return Role("wanted")  # "so there's no gap in August"
    if name == "want":
        return Role("wanted") if span.tag != "ago" else Role("told")
    if prep in ("by", "before") and not starting:
        return Role("wanted") if name == "have" or board.of("crop") else Role("job")
    if name == "setout" and (_asks_of_seed(board, found) or _sown_now(board)):
        return Role("out")
    if prep == "by" and _asks_when(board):
        return Role("wanted")
    if starting and found is not None and found.kind == "past":
        supposed = "would" in {t.word for t in board.tokens} or not _is_told_of(board, lead)
        return Role("job") if supposed and _to_come(board, span) else Role("begun", name)
    return Role("told" if of_the_story(board, span) else "job")


_TOLD_OF = words("i we he she they who have has had having been was were got my our already just")


def _is_told_of(board: Board, lead: list[int]) -> bool:
    """True where somebody did it or it has been done; a bare "sown at Michaelmas" may be still to do."""
    return any(board.word(i) in _TOLD_OF or board.word(i) in ("sowed", "began", "went") for i in lead)


def _to_come(board: Board, span: Span) -> bool:
    first = span.value.first if isinstance(span.value, Stretch) else span.value
    return board.today is not None and bool(first > board.today)


def _preposition(board: Board, start: int) -> str:
    i = start - 1
    while i >= 0 and board.word(i) in _SKIP and board.word(i) not in _FEAST_LEADS:
        i -= 1
    return board.word(i)


def _lead(board: Board, span: Span) -> list[int]:
    """The tokens before the day, nearest first, back to the day before it or the end of the sentence."""
    stop = max((s.end for s in board.of("date") if s.end <= span.start), default=0)
    sentence = board.tokens[span.start].sentence if span.start < len(board.tokens) else 0
    first = max(stop, span.start - _REACH)
    return [i for i in range(span.start - 1, first - 1, -1) if board.tokens[i].sentence == sentence]


def _tail(board: Board, span: Span) -> list[int]:
    """The tokens after the day, as far as the next comma, question or day."""
    stop = min((s.start for s in board.of("date") if s.start >= span.end), default=len(board.tokens))
    found: list[int] = []
    for i in range(span.end, min(stop, span.end + _AHEAD)):
        token = board.tokens[i]
        if token.sentence != board.tokens[span.start].sentence or "," in token.gap:
            break
        if token.word in ("when", "and", "but", "how", "is", "can", "should", "do", "will", "what"):
            break
        found.append(i)
    return found


def _nearest(board: Board, indices: list[int]) -> Role | None:
    for i in indices:
        found = role_at(board, i)
        if found is not None:
            return found
    return None


_SEED_ASKED = words("sow sowing seed seeds start starting begin")


def _asks_of_going_out(board: Board) -> bool:
    said = {t.word for t in board.tokens}
    if said & _HARVEST:
        return False
    roles = (role_at(board, i) for i in range(len(board.tokens)))
    return any(r is not None and r.name == "setout" and r.kind != "past" for r in roles)


def _own_doing(board: Board) -> bool:
    """True for "I already sowed", "we planted", "my peas are sown": a start of the grower's own, undated."""
    for i, token in enumerate(board.tokens):
        if token.word in PAST or token.word in ("set", "put"):
            lead = {board.word(i - k) for k in (1, 2, 3)}
            if lead & {"i", "we", "already", "have", "my"} and is_past(board, i):
                return True
    return False


def _asks_when(board: Board) -> bool:
    said = {t.word for t in board.tokens}
    return "when" in said or ("how" in said and bool(said & {"early", "late", "soon"}))


def _asks_of_seed(board: Board, found: Role | None) -> bool:
    """True when the plants go out that day and it is sowing, still to be done, that is asked about."""
    if found is None or found.kind == "past":
        return False
    return any(
        board.word(i - 1) not in ("from", "head", "the", "out")
        and (t.word in _SEED_ASKED or (t.word in ("sown", "sowed") and not is_past(board, i)))
        for i, t in enumerate(board.tokens)
    )


def _sown_now(board: Board) -> bool:
    """True for "if peppers are sown now and go in the ground June 1": the seed is of today, the day the plants'."""
    return any(
        t.word in SEED and {"now", "today"} & {board.word(i + 1), board.word(i + 2)}
        for i, t in enumerate(board.tokens)
    )


def _names_trip(board: Board, span: Span) -> bool:
    """True for "vacation June 1 to June 14" and "June 1 to 14 we are away": the trip word close by."""
    near = range(max(0, span.start - 4), min(len(board.tokens), span.end + 8))
    return any(board.word(i) in AWAY and (role_at(board, i) or Role("")).name == "away" for i in near) and (
        _last_day(board, span) is not None
    )


def _last_day(board: Board, span: Span) -> Span | None:
    """The day a stretch that begins with ``span`` ends, None when none is told."""
    if board.word(span.end) not in ("to", "until", "till", "through", "thru") and not (
        span.end < len(board.tokens) and "-" in board.tokens[span.end].gap
    ):
        return None
    for other in board.of("date"):
        if other.start in (span.end, span.end + 1) and isinstance(other.value, date):
            return other
    at = span.end if board.tokens[span.end].number is not None else span.end + 1
    token = board.tokens[at] if at < len(board.tokens) else None
    if token is None or token.number is None or not isinstance(span.value, date):
        return None
    try:
        day = span.value.replace(day=int(token.number))
    except ValueError:
        return None
    return Span(at, at + 1, "date", day)


def _stay(board: Board, span: Span) -> tuple[date, date, int]:
    """(first day, last day, token after) of a time away; two weeks where only its first day is told."""
    first = span.value.first if isinstance(span.value, Stretch) else span.value
    last = _last_day(board, span)
    if last is not None:
        until = last.value
        if until < first:
            until = until.replace(year=until.year + 1)
        return first, until, last.end
    if isinstance(span.value, Stretch):
        return first, span.value.last, span.end
    if board.word(span.start - 1) in ("until", "till", "through") and board.today is not None:
        return min(board.today, first), first, span.end
    sentence = board.tokens[span.start].sentence
    told = [s.value for s in board.of("span") if board.tokens[s.start].sentence == sentence]
    long = next((n * per for unit, n in told if (per := {"days": 1, "weeks": 7}.get(unit))), 14.0)
    return first, first + timedelta(days=round(min(long, 200.0)) - 1), span.end


def _day_of(board: Board, span: Span, role: Role) -> date:
    """The day itself: a stretch's middle (its first day for "by"), the year put where its role belongs."""
    assert board.today is not None
    stretch = span.value if isinstance(span.value, Stretch) else Stretch(span.value, span.value)
    value = stretch.first if _preposition(board, span.start) in ("by", "before") else stretch.middle
    typed_year = any(1990 <= (t.number or 0) <= 2100 for t in board.tokens[span.start : span.end])
    if typed_year or span.tag == "ago":
        return value
    if role.name in ("begun", "seen") and value > board.today + timedelta(days=SLIP_DAYS):
        return _same_day(value, -1)
    if role.name in ("wanted", "out") and value < board.today:
        return _same_day(value, 1)
    return value


def _same_day(day: date, years: int) -> date:
    try:
        return day.replace(year=day.year + years)
    except ValueError:  # 29 February
        return day.replace(year=day.year + years, day=28)


def _today(board: Board, found: dict[str, str], dated: bool) -> dict[str, str]:
    """ "I sowed beans today", "just planted", "if I sow now": today is a day too."""
    assert board.today is not None
    here = board.today.isoformat()
    if any(board.near(s.start, _IT_IS, 4, 0) for s in board.of("date")):
        return {}  # "it's nearly August ... planting now": the day told is the now
    for i, token in enumerate(board.tokens):
        this = token.word == "this" and board.word(i + 1) in ("morning", "afternoon", "evening")
        if token.word not in _ON and not this:
            continue
        beside = Span(i, i + 1 + this, "today", board.today)
        role = _nearest(board, _lead(board, beside)) if token.word != "just" else None
        role = role or _nearest(board, _tail(board, beside)[:3])
        if role is None or (token.word == "just" and role.kind != "past" and role.name != "seen"):
            continue
        if role.name == "seen" and "seen_on" not in found:
            return {"seen_on": here, "seen": role.kind}
        if role.name in ("sow", "plant", "setout") and "begun_on" not in found and not dated:
            if role.kind == "past":
                return {"begun_on": here, "begun_by": role.name}
            return {"job_on": here}
    return {} if "seen_on" in found else _seen_undated(board, here)


_GOING_ON = words("falling curling silking flowering blooming blossoming tasseling tasselling toppling")


def _seen_undated(board: Board, here: str) -> dict[str, str]:
    """ "My onions are falling over" is today's sight; "how long after the scapes" a stage without a day."""
    for i, token in enumerate(board.tokens):
        role = role_at(board, i)
        if role is None or role.name != "seen":
            continue
        now = {token.word, board.word(i - 1)} & _GOING_ON and "after" not in {t.word for t in board.tokens}
        return {"seen_on": here, "seen": role.kind} if now else {"seen": role.kind}
    return {}


_WEEKS = Pattern(
    r"\b([\d.]+)(?: (?:to |or )?([\d.]+))? weeks? (before|after|ahead of|prior to|past) "
    r"(?:the |my |our |your |average )*(?:(last|first) (?:spring |fall |autumn |average )*)?"
    r"(frost|freeze|planting out|plant out|setting out|set out|transplanting|transplant)"
)


def _from_frost(board: Board) -> str | None:
    """ "6-8 weeks before last frost": "-8/-6:last"; from setting out: ":out"."""
    text = " ".join(t.word if t.number is None else f"{t.number:g}" for t in board.tokens)
    match = _WEEKS.search(text)
    if match is None:
        return None
    low = float(match[1])
    high = float(match[2] or low)
    sign = 1 if match[3] in ("after", "past") else -1
    first, last = sorted((sign * low, sign * high))
    end = (match[4] or "last") if match[5] in ("frost", "freeze") else "out"
    return f"{first:g}/{last:g}:{end}"
