"""Crops and plants named in a text: whole names first, family words, and names spelled in a hurry."""

from __future__ import annotations

from gardenmate.core.question import CropRef
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import Board, Span, words
from gardenmate.records import NamedTuple


class CropNamed(NamedTuple):
    """What one crop span means: the crops (several for a family word), as typed, and whether to say so; ``variety``
    is the name of one as written in seed lists, where a crop is called by it."""

    refs: tuple[CropRef, ...]
    typed: str
    misspelled: bool = False
    family: bool = False
    variety: str = ""


def find_crops(board: Board, lexicon: Lexicon) -> None:
    """Lay a `crop` (or `family`) span on every crop, plant and family word of the text, a `variety` span on the name
    of a variety beside its crop, and a `stranger` span on the name of a plant nothing is known of."""
    i = 0
    while i < len(board.tokens):
        end, named, tag = _longest(board, i, lexicon)
        longer, _ = _variety(board, i, lexicon)
        if longer > max(end, i + 1):  # "Peaches and Cream", "Cherry Belle": a name that holds that of a crop
            i = longer
        else:
            i = end if named is not None and board.lay(i, end, tag, named) else i + 1
    _find_varieties(board, lexicon)
    _find_other_ones(board, lexicon)
    if not any(span.tag in ("crop", "family") for span in board.spans):
        _find_implied(board, lexicon)


_CALLED = words("are is were was called named some the and")
_LEADS_TO = words("in near at from around outside to")
_NO_COUNT = words("tonight degrees degree f c pm am percent % °")


def _find_varieties(board: Board, lexicon: Lexicon) -> None:
    """Names of varieties: beside a crop that has such a one its variety, elsewhere the crop called by that name."""
    if not lexicon.varieties:
        return
    i = 0
    while i < len(board.tokens):
        end, entry = _variety(board, i, lexicon)
        if entry is not None and _laid(board, i, end, entry, lexicon):
            i = end
        else:
            i += 1


def _variety(board: Board, i: int, lexicon: Lexicon) -> tuple[int, str | None]:
    """Where the longest name of a variety that begins at token ``i`` ends, and its entry."""
    begins = board.word(i) in lexicon.name_starts
    for end in range(min(i + lexicon.longest_name, len(board.tokens)) if begins else i + 1, i, -1):
        if board.tokens[end - 1].sentence != board.tokens[i].sentence:
            continue
        typed = " ".join(t.raw.lower().replace("'", "") for t in board.tokens[i:end])
        for name in (
            board.words(i, end),
            typed,
        ):  # as typed too: "wonder" is read as another form of the verb
            entry = lexicon.varieties.get(name) or lexicon.varieties.get(name.removesuffix("s"))
            if entry is not None:
                return end, entry
    return i, None


def _laid(board: Board, start: int, end: int, entry: str, lexicon: Lexicon) -> bool:
    """True when a span was laid on the name of a variety."""
    plants, name, stands = entry.split("\t")
    if stands == "beside" and board.word(start - 1) in _LEADS_TO:
        return False  # "here in Lincoln peas go in when?"
    typed = board.text.typed[board.tokens[start].start : board.tokens[end - 1].end]
    refs = tuple(_ref(plant, typed) for plant in plants.split(","))
    named = CropNamed(refs, typed, variety=name)
    near = [s for s in board.of("crop") if _stand_together(board, s, start, end)]
    if {ref.id for ref in refs} & {ref.id for s in near for ref in s.value.refs}:
        return board.lay(start, end, "variety", named)
    behind = next((s for s in near if s.start == end and "," not in board.tokens[end].gap), None)
    of_another = behind is not None
    if behind is not None and (sort := _sort_of(behind, refs)) is not None:
        board.spans[board.spans.index(behind)] = behind._replace(value=behind.value._replace(refs=(sort,)))
        return board.lay(start, end, "variety", named)
    if of_another or len(refs) > 1 or stands == "beside":
        return (
            False  # of a crop the list does not have it under, of several, or a word that is mostly another
        )
    if stands == "counted" and not _counted(board, start, end):
        return False
    return _meant(board, start, end, name.lower(), lexicon) and board.lay(start, end, "crop", named)


def _sort_of(crop: Span, refs: tuple[CropRef, ...]) -> CropRef | None:
    """The one crop of ``refs`` that the word typed names in short: the beans of "Cobra beans" are pole beans."""
    word = crop.value.typed.lower().removesuffix("s").removesuffix("e")
    found = [ref for ref in refs if ref.id.rsplit("-", 1)[-1].removesuffix("e") == word]
    return found[0]._replace(typed=crop.value.typed) if len(found) == 1 else None


def _stand_together(board: Board, crop: Span, start: int, end: int) -> bool:
    """True for a crop right before or behind the tokens, with nothing between that tells of anything else."""
    low, high = (crop.end, start) if crop.end <= start else (end, crop.start)
    same = board.tokens[crop.start].sentence == board.tokens[start].sentence
    return same and high - low <= 1 and all(board.word(i) in _CALLED for i in range(low, high))


def _counted(board: Board, start: int, end: int) -> bool:
    """True beside a number that counts: "60 celebrity", "patterson, 150"; not "ace 38 tonight"."""
    before = board.tokens[start - 1] if start else None
    after = board.tokens[end] if end < len(board.tokens) else None
    if before is not None and before.number is not None and before.sentence == board.tokens[start].sentence:
        return "," not in board.tokens[start].gap
    return after is not None and after.number is not None and board.word(end + 1) not in _NO_COUNT


_OF_ONES = frozenset({"sort", "sorts", "kind", "kinds", "type", "types", "one", "ones", "variety"})
_LINKS = frozenset({"or", "and"})


def _find_other_ones(board: Board, lexicon: Lexicon) -> None:
    """A crop that a word beside it turns into another, or into both.

    "Peas (the black-eyed sort)", "peppers, sweet or hot", "sweet and hot peppers".
    """
    for n, span in enumerate(board.spans):
        if span.tag != "crop":
            continue
        base = span.value.refs[0].id
        others = {**lexicon.ones.get(base, {}), **_own_words(base, lexicon)}
        if not others:
            continue
        refs = _other_ones(board, span, others)
        if refs:
            board.spans[n] = span._replace(value=span.value._replace(refs=refs))


def _own_words(base: str, lexicon: Lexicon) -> dict[str, str]:
    """The words by which others name this crop: "sweet" turns a hot pepper into a pepper."""
    return {word: base for ones in lexicon.ones.values() for word, to in ones.items() if to == base}


def _other_ones(board: Board, span: Span, others: dict[str, str]) -> tuple[CropRef, ...]:
    typed: str = span.value.typed
    own: CropRef = span.value.refs[0]
    before, link = board.word(span.start - 2), board.word(span.start - 1)
    if link in _LINKS and others.get(before, own.id) != own.id:
        return _ref(others[before], typed), own
    i = span.end + (board.word(span.end) == "the")
    for length in (2, 1):
        said = board.words(i, i + length)
        if said not in others:
            continue
        second = board.word(i + length + 1)
        if board.word(i + length) in _LINKS and second in others and others[second] != others[said]:
            return _ref(others[said], typed), _ref(others[second], typed)
        if board.word(i + length) in _OF_ONES and others[said] != own.id:
            return (_ref(others[said], typed),)
    return ()


def _find_implied(board: Board, lexicon: Lexicon) -> None:
    """Words that mean a crop while no other is named: "how many slips for a row"."""
    for i in range(len(board.tokens)):
        for length in (2, 1):
            target = lexicon.implied.get(board.words(i, i + length))
            if (
                target is not None
                and i + length <= len(board.tokens)
                and _meant(board, i, i + length, board.words(i, i + length), lexicon, implied=True)
            ):
                typed = " ".join(t.raw for t in board.tokens[i : i + length])
                board.lay(i, i + length, "implied", CropNamed((_ref(target, typed),), typed))


def _longest(board: Board, i: int, lexicon: Lexicon) -> tuple[int, CropNamed | None, str]:
    """Where the longest name that begins at token ``i`` ends, what it names, and the tag of its span."""
    tokens = board.tokens
    begins = not lexicon.name_starts.isdisjoint((tokens[i].word, tokens[i].raw.lower()))
    for length in range(min(lexicon.longest_name, len(tokens) - i) if begins else 1, 0, -1):
        last = tokens[i + length - 1]
        if last.sentence != tokens[i].sentence or last.number is not None:
            continue
        if any("," in t.gap for t in tokens[i + 1 : i + length]):
            continue  # "five toms black, beans flat"
        name = board.words(i, i + length)
        typed = " ".join(t.raw for t in tokens[i : i + length])
        found = _known(name, lexicon) or (_known(typed.lower(), lexicon) if length > 1 else None)
        if found is not None:
            name, (base, kind, wrong) = found
            if not _meant(board, i, i + length, name, lexicon):
                continue
            mended = any(t.word != t.raw.lower() and t.raw.lower().replace("'s", "") != t.word
                         for t in tokens[i : i + length]) and _is_respelled(board, i, i + length)  # fmt: skip
            return i + length, CropNamed((CropRef(base, kind, typed),), typed, wrong or mended), "crop"
        family = lexicon.families.get(name)
        if family is not None and _meant(board, i, i + length, name, lexicon):
            refs = tuple(_ref(member, typed) for member in family)
            return i + length, CropNamed(refs, typed, family=True), "family"
        stranger = lexicon.strangers.get(name) or lexicon.strangers.get(name.removesuffix("s"))
        if stranger is not None and _meant(board, i, i + length, name, lexicon):
            return i + length, CropNamed((CropRef(stranger, None, typed),), typed), "stranger"
    return i, None, ""


def _is_respelled(board: Board, start: int, end: int) -> bool:
    """True when the words read differ from the letters typed (not only in number words or hyphens)."""
    typed = "".join(c for t in board.tokens[start:end] for c in t.raw.lower() if c.isalnum())
    read = "".join(c for t in board.tokens[start:end] for c in t.word if c.isalnum())
    return typed.rstrip("s") != read.rstrip("s") and not typed.startswith(read)


def _ref(member: str, typed: str) -> CropRef:
    base, _, kind = member.partition("/")
    return CropRef(base, kind or None, typed)


def _known(name: str, lexicon: Lexicon) -> tuple[str, tuple[str, str | None, bool]] | None:
    """The entry of a name, also in its plural or singular."""
    tries = [name]
    if name.endswith("ies"):
        tries.append(name[:-3] + "y")
    if name.endswith("oes"):
        tries.append(name[:-2])
    if name.endswith("es"):
        tries.append(name[:-2])
    if name.endswith("s"):
        tries.append(name[:-1])
    else:
        tries.append(name + "s")
    for key in tries:
        entry = lexicon.names.get(key)
        if entry is None or len(key) < 3:
            continue
        if key != name and (entry[2] or key in lexicon.ambiguous) and name in lexicon.ordinary:
            continue  # "been" is no misspelling of beans
        return key, entry
    return None


def _is_number(board: Board, i: int) -> bool:
    return 0 <= i < len(board.tokens) and board.tokens[i].number is not None


def _meant(board: Board, start: int, end: int, name: str, lexicon: Lexicon, *, implied: bool = False) -> bool:
    """False when a name that is also a common word is not meant as a crop here.

    ``implied``: no other crop is named, so nothing need speak for it.
    """
    said = board.words(start, end)
    rule = (
        lexicon.ambiguous.get(said) or lexicon.ambiguous.get(name) or lexicon.ambiguous.get(name.rstrip("s"))
    )
    if rule is None:
        return True
    before, after = board.word(start - 1), board.word(end)
    if after in ("and", "or") and lexicon.names.get(board.word(end + 1), ("", None, True))[2] is False:
        return True  # "sprouts and kale"
    if before in rule.get("not_after", ()) or after in rule.get("not_before", ()):
        return False
    if any(t.word in rule.get("not_with", ()) for t in board.tokens):
        return False
    needs_before, needs_after = rule.get("after"), rule.get("before")
    needs_any = rule.get("with")
    if implied or (needs_before is None and needs_after is None and needs_any is None):
        return True
    if needs_before and (before in needs_before or ("#" in needs_before and _is_number(board, start - 1))):
        return True
    if needs_after and (after in needs_after or ("#" in needs_after and _is_number(board, end))):
        return True
    return any(
        t.word in (needs_any or ()) or lexicon.lemma(t.word) in (needs_any or ()) for t in board.tokens
    )
