"""A town spelled by its sound: "boyzee idaho", "shyenne wyoming". The state that is named must agree."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from gardenmate.knowledge.reader import data_root, read_text, read_toml
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.sound import sound


def town_meant(raw: str, mended: str, region: str, last: bool, lexicon: Lexicon) -> tuple[str, bool] | None:
    """(town or region meant by the letters ``raw``, True for a region); None when none is near enough.

    ``mended``: an ordinary word the letters may stand for; ``region``: the state or country that follows,
    lower case, empty when none does; ``last``: nothing of the sentence follows.
    """
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    state = state_code(region, lexicon)
    if state is not None:
        near = _instate_code(raw, state, _root(lexicon))
        if near is not None:
            return near, False
    by_sound = bool(region) or (last and not lexicon.is_rare_word(raw))
    town = lexicon.place_sounds.get(sound(raw)) if by_sound else None
    if town is not None and (state is None or OSA.distance(raw, town.lower()) <= 2):
        return town, False
    if not (region or last):
        return None
    allowed = 1 + (len(raw) > 6)
    other = OSA.distance(raw, mended) if mended != raw else allowed + 1
    pool = [*lexicon.places, *(k for k in lexicon.regions if len(k) > 4)]
    best = process.extractOne(raw, pool, scorer=OSA.distance, score_cutoff=allowed)
    if best is None or best[0][0] != raw[0] or not (region or best[1] <= other):
        return None
    if best[0] in lexicon.regions:
        return lexicon.regions[best[0]], True
    return lexicon.places[best[0]], False


def knowledge_root(lexicon: Lexicon) -> Path:
    """The folder of the knowledge the lexicon was read from."""
    return _root(lexicon).parent


def _root(lexicon: Lexicon) -> Path:
    """The folder of the language's knowledge."""
    return data_root() / "language" if lexicon.rare_file is None else lexicon.rare_file.parent


def state_code(region: str, lexicon: Lexicon) -> str | None:
    """The code by which the records know a state or province ("WY"); None for any other region."""
    codes = _codes(_root(lexicon))
    code = codes.get(region) or region.upper()
    return code if code in codes.values() else None


@lru_cache(maxsize=4)
def _codes(language: Path) -> dict[str, str]:
    return dict(read_toml(language / "places.toml")["codes"])


@lru_cache(maxsize=4)
def _towns(language: Path) -> tuple[tuple[str, str], ...]:
    """(town, state) of every bundled place."""
    rows = [line.split(",") for line in read_text(language.parent / "places.csv").splitlines()[1:]]
    return tuple((row[0].strip('"'), row[1]) for row in rows)


def _instate_code(raw: str, state: str, language: Path) -> str | None:
    """The bundled town of a state that sounds or is written most like ``raw``."""
    from rapidfuzz.distance import OSA

    heard = _said(raw)
    best: tuple[int, str] | None = None
    for town, of in _towns(language):
        if of != state or town[:1].lower() not in (raw[0], {"s": "c", "c": "s", "k": "c"}.get(raw[0], "")):
            continue
        far = min(OSA.distance(heard, _said(town.lower())), OSA.distance(raw, town.lower()))
        if far <= len(raw) // 4 and (best is None or far < best[0]):
            best = far, town
    return best[1] if best is not None else None


def _said(word: str) -> str:
    return sound(word.replace("ch", "sh"))
