"""Prices named in a text: with a sign, in coins and notes, or as bare figures said of something sold."""

from __future__ import annotations

import re

from gardenmate.language.text.spans import Board, Span, words

_BUCKS = {"dollar": 1.0, "dollars": 1.0, "buck": 1.0, "bucks": 1.0, "quid": 1.0, "euro": 1.0, "euros": 1.0,
          "usd": 1.0, "cad": 1.0, "aud": 1.0, "nzd": 1.0,
          "cent": 0.01, "cents": 0.01, "pence": 0.01, "p": 0.01, "€": 1.0, "£": 1.0}  # fmt: skip
_NOTES = {"fiver": 5.0, "tenner": 10.0}
_SIGNS = frozenset({"$", "£", "€"})
_EACH = frozenset({"each", "apiece", "ea", "per", "a"})


def find_money(board: Board) -> None:
    """Lay a `money` span (value: the amount) on every price."""
    tokens = board.tokens
    for i, token in enumerate(tokens):
        if token.word in _NOTES:
            board.lay(i, i + 1, "money", _NOTES[token.word])
        if token.number is None:
            continue
        cents = _said_cents(board, i)
        if cents is not None:
            board.lay(i, i + 2, "money", token.number + cents)
            continue
        asked = board.word(i - 1) in _ASKED and board.words(i + 1, i + 3) in ("for it", "for one", "for them")
        if asked:  # "they want forty five for it"
            board.lay(i, i + 1, "money", token.number)
            continue
        if _spent(board, i) or _listed_price(board, i):
            board.lay(i, i + 1 + (board.word(i + 1) in _POUNDS), "money", token.number)
            continue
        if i and tokens[i - 1].word in _SIGNS and token.gap.strip() == "":
            board.lay(i - 1, i + 1, "money", token.number)
        elif board.word(i + 1) in _BUCKS and not (
            board.word(i + 1) == "p" and tokens[i + 1].gap not in ("", " ")
        ):
            end = i + 2
            value = token.number * _BUCKS[board.word(i + 1)]
            if (
                value >= 1
                and end < len(tokens)
                and tokens[end].gap == " "
                and (tokens[end].number or 0.0) >= 50
            ):
                value, end = value + (tokens[end].number or 0.0) / 100, end + 1  # "three dollars fifty"
            board.lay(i, end, "money", value)
        elif "." in token.raw and (
            board.word(i + 1) in ("each", "apiece", "ea", "for", "a")
            or board.word(i - 1) in _PAID
            or (re.fullmatch(r"[0-9]*\.[0-9]{2}", token.raw) and board.word(i - 1) in _BEFORE_PRICE)
        ):
            board.lay(i, i + 1, "money", token.number)
        elif _deal(board, i):
            first = i - 2 if _dear_pieces(board, i) else i
            pounds = first == i and board.word(i + 1) in ("pound", "pounds")
            end = first + (2 if pounds else 1)
            board.lay(first, end, "money", tokens[first].number)
        elif (
            board.word(i + 1) in ("pound", "pounds")
            and (
                (board.word(i + 2) in ("for", "each", "a", "the") and not board.near(i, _WEIGHED, 6, 6))
                or board.word(i - 1) in _PAID
            )
        ) or (
            board.word(i + 1) == "pounds"
            and board.near(i, words("each cost price buy garden nursery charge"), 8, 6)
            and not board.near(i, frozenset({"of", "harvest", "yield"}), 0, 3)
        ):
            board.lay(i, i + 2, "money", token.number)


_SPENT = words("spend spending spent budget")
_POUNDS = words("pound pounds quid dollars bucks euro euros")
_SORTS = words("packet packets seed seeds sets transplants starts plants plugs bulbs slips")


def _spent(board: Board, i: int) -> bool:
    """True for a sum to be spent: "spending 80 on starts", "the budget is fifty pounds"."""
    at = i - 1 - (board.word(i - 1) in ("is", "of", "about", "only"))
    counted = board.word(i + 1) in ("days", "weeks", "hours", "minutes", "months")
    return board.word(at) in _SPENT and not counted


def _listed_price(board: Board, i: int) -> bool:
    """True for the next of several prices: "sets are 6 bucks, a packet of seed is 4, plants are 20 the bunch"."""
    led = board.word(i - 1) in ("is", "are") and board.near(i, _SORTS, 6, 0)
    ended = _parted(board, i + 1) or board.word(i + 1) in ("the", "a", "per", "each")
    return led and ended and bool(board.of("money"))


def _deal(board: Board, i: int) -> bool:
    """True for the price of so many: "a pack of 10 for 25", "ten slips for 12 pounds", "canes 25 for ten"."""
    pounds = board.word(i + 1) in ("pound", "pounds")
    ended = pounds or _parted(board, i + 1) or board.word(i + 1) in ("or", "and", "at", "from", "is")
    if board.word(i - 1) != "for" or not ended or any(s.end == i - 1 for s in board.of("money")):
        return False
    counted = [k for k in range(max(0, i - 5), i - 1) if board.tokens[k].number is not None]
    return bool(counted) and (pounds or counted[-1] == i - 2) and board.near(i, _IN_LOTS, 6, 0)


def _dear_pieces(board: Board, i: int) -> bool:
    """True for "canes 25 for ten": plants cost more than one apiece, so that the larger figure is the price."""
    first = board.tokens[i - 2].number
    second = board.tokens[i].number
    if first is None or second is None or board.word(i + 1) in ("pound", "pounds"):
        return False
    return (
        first > second
        and board.near(i, words("canes plants crowns bushes slips"), 6, 0)
        and not _packed(board, i)
    )


def _packed(board: Board, i: int) -> bool:
    return board.word(i - 3) == "of"


def _parted(board: Board, i: int) -> bool:
    """True when a clause ends before token ``i``."""
    if i >= len(board.tokens):
        return True
    return "," in board.tokens[i].gap or board.tokens[i].sentence != board.tokens[i - 1].sentence


_IN_LOTS = words(
    "pack packs bag bags bunch bunches box bundle bundles plants slips canes sets plugs crowns cuttings runners bulbs "
    "cloves starts seedlings tubers"
)


def _said_cents(board: Board, i: int) -> float | None:
    """The cents of "five fifty", said of a plant or a shop; None when that is no price."""
    if i + 1 >= len(board.tokens):
        return None
    token, after = board.tokens[i], board.tokens[i + 1]
    said = token.raw.isalpha() and after.raw.isalpha() and (token.number or 0) <= 20
    if not said or after.number not in (25, 50, 75, 95, 99) or not board.near(i, _PRICED, 6, 8):
        return None
    return after.number / 100


_PAID = words("paid pay wants want costs cost charge charging paying")
_BEFORE_PRICE = words("are is was at for packet packets pack seed seeds plants starts sachet")
_ASKED = words("want wants asking asks charge charges charging paid pay paying")
_WEIGHED = words("harvest yield eat store per head potatoes beans")
_PRICED = words("plant plants pack packs nursery grocery shop store each bunch tray pot price costs buy pay")


_SEED = words("seed seeds packet packets sachet")
_PLANT = words(
    "plant plants starts start transplants transplant seedlings seedling plug plugs each apiece pot pots"
)
_GEAR = {"light": "lamp", "lights": "lamp", "lamp": "lamp", "lamps": "lamp", "mat": "mat", "mats": "mat"}
_SOLD = dict.fromkeys(_SEED, "seed") | dict.fromkeys(_PLANT, "plant") | _GEAR
_BREAKS = words("and or but vs versus while against")
_FAR = 6  # words before a price that say what it buys; design value


def _sold(board: Board, span: Span) -> str | None:
    """What a price is said of: "seed", "plant", "lamp", "mat", or None; the nearer noun counts ("packet 4.99,
    plants 5.49"), of two as near the one after it."""
    own = board.tokens[span.start].sentence
    after = _named(board, range(span.end, min(len(board.tokens), span.end + 4)), own, joined=True)
    ahead = _named(board, range(span.start - 1, max(-1, span.start - 1 - _FAR), -1), own)
    found = [named for named in (after, ahead) if named is not None]
    return min(found, key=lambda named: named[0])[1] if found else None


def _named(board: Board, where: range, sentence: int, joined: bool = False) -> tuple[int, str] | None:
    """How far the first noun there stands that is seed, a plant or gear, and which; up to another price, and where
    ``joined`` up to a break as well."""
    for far, j in enumerate(where):
        if board.tokens[j].sentence != sentence:
            return None
        if joined and (board.tokens[j].word in _BREAKS or not set(board.tokens[j].gap) <= {" "}):
            return None
        if any(s.start <= j < s.end for s in board.of("money")):
            return None
        if board.tokens[j].word in _SOLD:
            return far, _SOLD[board.tokens[j].word]
    return None


def packet_price(board: Board) -> float | None:
    """The price said of a packet of seed; None where none is, or where all prices are said of seed."""
    spans = [s for s in board.of("money") if s.value > 0]
    sold = [_sold(board, s) for s in spans]
    if "seed" not in sold or (len(spans) > 1 and all(s == "seed" for s in sold)):
        return None
    return float(spans[sold.index("seed")].value)


def gear_prices(board: Board) -> dict[str, float]:
    """Prices said of a lamp or a mat, by piece: {"lamp": 30.0}."""
    sold = [(_sold(board, s), float(s.value)) for s in board.of("money") if s.value > 0]
    return {piece: value for piece, value in sold if piece in ("lamp", "mat")}


def price(board: Board) -> float | None:
    """The price that counts: the one said to be for each, else the first; that of a packet only alone, that of gear
    never."""
    spans = [s for s in board.of("money") if s.value > 0 and _sold(board, s) not in ("lamp", "mat")]
    if packet_price(board) is not None and len(spans) > 1:
        spans = [s for s in spans if _sold(board, s) != "seed"]
    for span in spans:
        if board.word(span.end) in _EACH or (board.word(span.end), board.word(span.end + 1)) == (
            "a",
            "plant",
        ):
            return float(span.value)
    return float(spans[0].value) if spans else None


_CURRENCIES = {
    "£": "pound", "p": "pound", "quid": "pound", "pence": "pound", "pounds": "pound", "fiver": "pound",
    "tenner": "pound", "€": "euro", "euro": "euro", "euros": "euro", "$": "dollar", "dollar": "dollar",
    "dollars": "dollar", "buck": "dollar", "bucks": "dollar",
}  # fmt: skip


def currency(board: Board) -> str | None:
    """The currency of the first price typed with a sign, or in pence; None where none is."""
    for span in board.of("money"):
        for i in range(span.start, span.end):
            if board.word(i) in _CURRENCIES and board.tokens[i].number is None:
                return _CURRENCIES[board.word(i)]
    return None
