"""Whether a bare number is a reading of a thermometer, by the words around it."""

from __future__ import annotations

from gardenmate.core.pattern import Pattern
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.near_days import DAYS

BELOW = frozenset({"minus", "negative"})
# Words before a bare number that make it a reading of a thermometer, if the sentence is about one.
_LEADS = words(
    "at hit hits hitting be is was are were to of forecast forecasting low lows high highs says said say "
    "below under above over get gets got getting around about near touch touching touched reach reached "
    "reaches reading reads dropped drop drops dropping down dip dips dipped went go goes going only just "
    "maybe and or predicted expecting expected calling for so warm cold hot survive survives handle take "
    "takes stand tolerate minimum min max maximum temps temperature temp currently like between from "
    "lowest than past nearly almost frame outside inside out tunnel greenhouse overnight tonight night "
    "nights if a saw seen stays stay sits sitting holds hold keeps runs dirt soil ground bed room bedroom "
    "mudroom water plus beyond approaching point dewpoint read saying giving gives gave showing shows showed "
    "been promising threatening bottomed always steady reckons reckon floor registered registers "
    "hovering hover warned due"
)
# Who or what tells the weather: "the news said 29", "the app has 33".
_TELLERS = words(
    "news radio app telly tv paper bureau bom weatherman forecaster station probe sensor phone met noaa "
    "alexa report advisory"
)
_INSTRUMENTS = words("board thermometer gauge dial display sign probe sensor clock phone app radio news")
_WEATHER = words(
    "tonight forecast forecasting overnight low lows high highs degree degrees cold colder coldest warm "
    "warmer soil ground frost frosty freeze freezing frozen survive outside out outdoors inside temp "
    "temps temperature temperatures thermometer thermostat mat heat heated heating predicted predicting "
    "dawn night nights tomorrow morning vent vented venting lid frame coldframe tunnel greenhouse "
    "polytunnel hoop hazy sunny cloudy clear dip dips drop drops dropping dropped hit hits cover fleece "
    "below above covering covered cool germinate germinated germination sprout sprouts emerge hoophouse protect bring "
    "coming tender hardening harden hardened indoors blanket windowsill sill weather come up survived "
    "lost killed handle hot bright overcast sheet sheets cloth bucket buckets quilt towel towels tarp "
    "room bedroom kitchen mudroom basement den house garage porch sunroom conservatory dirt bench ambient "
    "gauge zero nippy chilly breezy windy still outing hardening sprouting emergence fridge bloom blossom "
    "dew dewpoint sunset sunup sunrise daybreak sundown news radio app telly weatherman bureau bom "
    "noaa probe sensor thermometers frosts freezes blossoms airport"
)
NOT_TEMPERATURE = words(
    "day days week weeks month months year years yr hour hours hrs minute minutes plant plants seed seeds "
    "seedling seedlings start starts cell cells tray trays pot pots packet packets pack packs lb lbs "
    "pound pounds kg g oz inch inches in cm mm m foot feet ft x percent % people person kids adults "
    "dollar dollars buck bucks quid cents p pence each am pm o clock cloves bulbs heads row rows bed beds "
    "true proper night nights way ways bucks quarts foot "
    "litre liter l gallon gallons jar jars dozen times of st nd rd th watt watts w mph lux ppfd umol old "
    "ish square sq more per zone cuttings canes sets slips crowns tubers stems leaves sprouted germinated"
)
TIMERS = words("timer timers")
_CLOCK_LEADS = words("at by before after until around from till about")
_CLOCK_SAYS = words("clock am pm morning evening afternoon work working works shift hour hours oclock")


_SPOKEN_OF = Pattern(
    r"\b(?:temp|temps|temperatures?|degrees?|thermostat|thermometer|how (?:cold|warm|hot|cool|low)|"
    r"frost|freeze|freezing)\b|°|\b\d+ ?[cf]\b",
    ignore_case=True,
)


def speaks_of_temperature(text: str) -> bool:
    """True for a turn after which a bare number is a temperature: "what should the mat be set to?"."""
    return _SPOKEN_OF.search(text) is not None


def reads_as_degrees(
    board: Board, start: int, end: int, negative: bool, after_temperature: bool, spoken_of: bool = False
) -> bool:
    """True when a bare number reads as a temperature from the words around it.

    ``spoken_of``: the turn before was about a temperature, so that the words need not say so again.
    """
    token = board.tokens[start]
    if after_temperature or (negative and board.word(start) in BELOW):
        return True
    if (
        len(board.tokens) <= 7 and end == len(board.tokens) and board.word(start - 1) == "at"
    ):  # "lettuce at 25?"
        return negative or (token.number or 0) >= 4
    crop_before = any(s.end == start and s.tag == "crop" for s in board.spans)
    if crop_before and end == len(board.tokens):  # "peas 24?"
        return negative or (token.number or 0) >= 8
    if any(s.start == end and s.tag == "crop" for s in board.spans) and not _parted(board, end):
        return False
    blossom = (
        any(s.end == start - 1 and s.tag == "crop" for s in board.spans) and board.word(start - 1) in _SHOWN
    )
    if blossom and end == len(board.tokens) and (token.number or 0) >= 8:  # "apple blossom 27?"
        return True
    if _hours_spoken(board, start) or _small_and_counted(board, start, end, negative):
        return False
    before = board.word(start - 1)
    if (
        before == "at" and (token.number or 0) > 12 and len(board.tokens) <= 12 and _plants_named(board)
    ):  # "enough for tomatoes at 30"
        return True
    follow = board.word(end)
    if _parted(board, start) and follow == "and" and board.word(end + 1) in _SKY:
        return True
    leads = before in _LEADS or follow in (
        "tonight",
        "overnight",
        "outside",
        "out",
        "inside",
        "forecast",
        "predicted",
        "coming",
        "last",
        "too",
        "they",
        "down",
        "by",
        "with",
    )
    leads = leads or (before == "of" and board.word(start - 2) in ("low", "lows", "high", "highs"))
    leads = (
        leads
        or _told_by(board, start)
        or _shown_on(board, end)
        or _for_hours(board, end)
        or _on_a_day(board, end)
    )
    leads = leads or (
        spoken_of and len(board.tokens) <= SHORT_TURN and before in ("on", "set", "had", "with")
    )
    tells = before == "of" and board.word(start - 2) in ("low", "lows", "high", "highs")
    if before in _WEAK_LEADS and not negative and not tells:
        leads = _parted(board, end) or follow in _AFTER_READING
    opens = _parted(board, start) and (_parted(board, end) or follow in POINTS or leads)
    told = about_weather(board, start) or (spoken_of and len(board.tokens) <= SHORT_TURN)
    told = told or (
        negative and bool(board.of("crop"))
    )  # below zero nothing is counted: "is -5 going to kill my chard"
    return (negative or leads or opens or start == 0) and told


SHORT_TURN = 10  # words; a longer turn says itself what its numbers are
_LIGHT_ON = words("on for get gets give do does them need")
_DEGREES_SAID = words(
    "degree degrees temperature temperatures temp thermometer thermostat warm cold heat mat frost"
)


def _hours_spoken(board: Board, start: int) -> bool:
    """True for "mine are on sixteen" where hours of light are spoken of, not degrees."""
    sentence = board.tokens[start].sentence
    before = [t for t in board.tokens[max(0, start - 30) : start] if sentence - t.sentence <= 2]
    hours = any(t.word in ("hour", "hours") for t in before)
    own = {t.word for t in board.tokens if t.sentence == sentence}
    return hours and board.word(start - 1) in _LIGHT_ON and not own & _DEGREES_SAID


def _small_and_counted(board: Board, start: int, end: int, negative: bool) -> bool:
    """True for "about three places", "out of seven": a few of something, said in words or not."""
    if board.words(start - 2, start) == "out of" or board.word(end) == "odd":
        return True
    if board.word(start - 1) == "of" and board.word(start - 2) in _HOUSEHOLDS:
        return True
    token = board.tokens[start]
    said = token.raw[:1].isalpha() and token.number is not None and token.number <= 12
    if not said or negative or _parted(board, end):
        return False
    return board.word(end) not in _AFTER_READING


_HOUSEHOLDS = words("family household house crew pair party group gang")


def _told_by(board: Board, start: int) -> bool:
    """True when who tells the weather stands shortly before: "the app has 33", "radio: 29"."""
    sentence = board.tokens[start].sentence
    near = board.tokens[max(0, start - 4) : start]
    return any(t.word in _TELLERS and t.sentence == sentence for t in near)


def _shown_on(board: Board, end: int) -> bool:
    """ "28 on the board", "38 by the thermometer"."""
    shown = board.word(end + 2) in _INSTRUMENTS or board.word(end + 3) in _INSTRUMENTS
    return board.word(end) in ("on", "by") and board.word(end + 1) in ("the", "my", "our", "a") and shown


def _on_a_day(board: Board, end: int) -> bool:
    """ "29 on Sunday": the day of the forecast."""
    return board.word(end + (board.word(end) == "on")) in DAYS


def _for_hours(board: Board, end: int) -> bool:
    """ "26 for four hours": how long a temperature lasts."""
    return board.word(end) == "for" and bool(
        {board.word(end + 2), board.word(end + 3)} & {"hour", "hours", "night"}
    )


POINTS = frozenset({"in", "inside", "under", "out", "outside", "at"})  # "82 in the frame", "45 out"
_WEAK_LEADS = words("and a or of only just maybe around if between like")
_AFTER_READING = words(
    "tonight overnight outside out inside in at and or to for forecast predicted coming last too they "
    "by with this all now on but so when is was should do can will under below above"
)
_SKY = words(
    "clear calm cloudy windy breezy overcast starry frosty sunny bright hazy blowing"
)  # "31 and clear"
_SHOWN = words("blossom blossoms bloom blooms buds bud flowers outside out tonight outdoors leaves")
FIRM_LEADS = words(
    "plus hit hits hitting to touch touching about low lows forecast says reads read below under of"
)


def _parted(board: Board, i: int) -> bool:
    """True when a clause begins at token ``i``: the start or end of the text, a comma, a new sentence."""
    if not 0 < i < len(board.tokens):
        return True
    return "," in board.tokens[i].gap or board.tokens[i].sentence != board.tokens[i - 1].sentence


def ends_clause(board: Board, i: int) -> bool:
    return _parted(board, i + 1) or board.word(i + 1) in ("on", "in", "at", "and", "last", "tonight", "the")


def _plants_named(board: Board) -> bool:
    return any(s.tag in ("crop", "family") for s in board.spans) or any(
        t.word in ("seedlings", "seeds", "plants", "seed", "starts") for t in board.tokens
    )


def _number_beside(board: Board, i: int, end: int, link: str) -> bool:
    """True when ``link`` joins the number at token ``i`` to another: "6 to 9", "4 by 6"."""
    tokens = board.tokens
    before = i >= 2 and board.word(i - 1) == link and tokens[i - 2].number is not None
    return before or (
        board.word(end) == link and end + 1 < len(tokens) and tokens[end + 1].number is not None
    )


def by_number(board: Board, i: int, end: int) -> bool:
    """True for "4 by 6", not for "25 by ten in the morning"."""
    if board.word(end) == "by" and board.words(end + 2, end + 4) in ("in the", "at night"):
        return False
    return _number_beside(board, i, end, "by") or _number_beside(board, i, end, "x")


def clock_hour(board: Board, i: int, end: int) -> bool:
    """True for an hour of the day: "at 5 in the morning", "from 6 to 9 at night", "I work 8 to 5"."""
    value = board.tokens[i].number or 0.0
    if value > 12 or value != int(value) or value < 1:
        return False
    before, after = board.word(i - 1), board.word(end)
    beside = {board.word(k) for k in range(max(0, i - 4), min(len(board.tokens), end + 4))}
    if beside & _CLOCK_SAYS and (before in _CLOCK_LEADS or _number_beside(board, i, end, "to")):
        return True
    return before in ("by", "until", "till", "after", "before") and after not in ("degrees", "c", "f", "°")


def about_weather(board: Board, i: int) -> bool:
    """True when the sentence, or a neighbouring one, speaks of the weather, the soil or the room."""
    sentence = board.tokens[i].sentence
    return any(
        board.tokens[j].word in _WEATHER and abs(board.tokens[j].sentence - sentence) <= 1 and j != i
        for j in range(max(0, i - 25), min(len(board.tokens), i + 15))
    )
