"""The words gardenmate knows: knowledge/language/*.toml and the crop names, read once and kept compact.

The TOML files are what a gardener edits. Installing makes a compact copy (see knowledge.compiled) in the form
that loads fastest; it carries a digest of the files it was made from, and is passed over when they have changed.
"""

from __future__ import annotations

from functools import cached_property
from os import scandir
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zlib import crc32

from gardenmate.core.compiled import folder, read_made, write_made
from gardenmate.core.pattern import Pattern
from gardenmate.knowledge.reader import read_text
from gardenmate.language.intent import dangers
from gardenmate.language.text import phrases
from gardenmate.language.text.phrases import Element
from gardenmate.language.text.sound import sound
from gardenmate.language.text.weights import Weights, load_weights
from gardenmate.records import NamedTuple, dataclass, field

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from gardenmate.knowledge.facts import Facts

WEIGHTS = "weights"  # the folder of the linear weights
COMPACT = "lexicon.json"  # beside the parsed facts: made on install, passed over when the files have changed
RARE = "rare"  # rare.txt: English words that are no misspelling, but seldom seen


class Phrase(NamedTuple):
    """One phrase of the lexicon: ``kind`` cue | signal | act | unless | note | no-note, and what it stands for (of act
    and unless: the number of the decisive line)."""

    text: str
    kind: str
    target: str


@dataclass(eq=False, repr=False)
class Lexicon:
    """Everything language knows, as plain tables. Made by `load_lexicon`."""

    spoken: dict[str, str]
    joined: dict[str, tuple[str, ...]]
    forms: dict[str, str]
    misheard: list[tuple[tuple[str, ...], tuple[str, ...]]]
    ordinary: frozenset[str]
    groups: dict[str, list[str]]
    table: list[str]  # text, kind and target of every phrase, parted by tabs
    decisive: list[tuple[str, str, str]]  # act, verb and topic ("": as read) of every decisive line
    index: dict[str, str]  # word -> the numbers of phrases
    names: dict[str, tuple[str, str | None, bool]]
    varieties: dict[
        str, str
    ]  # name of a variety -> crop, the name as written, how it must stand; parted by tabs
    strangers: dict[str, str]  # name of a plant nothing is known of -> its trade name
    families: dict[str, list[str]]
    ambiguous: dict[str, dict[str, list[str]]]
    cultivars: dict[str, str]
    kinds: dict[str, dict[str, str]]
    ones: dict[str, dict[str, str]]
    implied: dict[str, str]
    places: dict[str, str]
    regions: dict[str, str]
    shy_places: frozenset[str]
    metric_words: frozenset[str]
    near_topics: dict[str, list[str]]
    weights: Path
    vocabulary: frozenset[str]
    danger_table: list[list[str]]
    danger_groups: dict[str, str]
    danger_index: dict[str, str]
    name_words: frozenset[str]  # every word of every crop and plant name that is not a misspelling
    name_starts: frozenset[str]  # the first word of every name of several words
    place_words: frozenset[str]  # every word of every place name
    longest_name: int  # words of the longest name of a crop, plant or variety
    rare_file: Path | None = None
    _phrases: dict[int, Phrase] = field(default_factory=dict)
    _parsed: dict[int, tuple[Element, ...]] = field(default_factory=dict)
    _lemmas: dict[str, str] = field(default_factory=dict)

    def elements(self, number: int) -> tuple[Element, ...]:
        """The elements of phrase ``number``, parsed when first wanted."""
        found = self._parsed.get(number)
        if found is None:
            found = self._parsed[number] = phrases.parse(self.phrase(number).text, self.groups)
        return found

    def phrase(self, number: int) -> Phrase:
        """Phrase ``number``."""
        found = self._phrases.get(number)
        if found is None:
            found = self._phrases[number] = Phrase(*self.table[number].split("\t"))
        return found

    @cached_property
    def turn_weights(self) -> Weights:
        """How words speak for an act with its topic: "ask/frost", "report/log"."""
        return load_weights(self.weights / "turn.txt")

    @cached_property
    def danger_weights(self) -> Weights:
        """How words speak for classes of danger, or for none."""
        return load_weights(self.weights / "danger.txt")

    @cached_property
    def scope_weights(self) -> Weights:
        """How pieces of words speak for a text being in or out of what is answered."""
        return load_weights(self.weights / "scope.txt")

    @cached_property
    def stays_weights(self) -> Weights:
        """How words speak for a turn that goes on with what was asked last."""
        return load_weights(self.weights / "stays.txt")

    @cached_property
    def about_weights(self) -> Weights:
        """How much words and turns before speak for the plants a turn is about that names none."""
        return load_weights(self.weights / "about.txt")

    @cached_property
    def doing_weights(self) -> Weights:
        """How words speak for the deed a report or a plan is about."""
        return load_weights(self.weights / "doing.txt")

    @cached_property
    def danger_lines(self) -> dangers.Lines:
        """The words that speak of a danger, the worst first."""
        return dangers.Lines(self.danger_table, self.danger_groups, self.danger_index)

    @cached_property
    def _rare(self) -> str:
        return f"\n{self.rare_file.read_text('utf-8')}\n" if self.rare_file is not None else ""

    def is_rare_word(self, word: str) -> bool:
        """True for a plain English word less common than those in ``ordinary``; the list is read when first
        asked for, as few texts need it."""
        return f"\n{word}\n" in self._rare

    def is_english(self, word: str) -> bool:
        """True for a plain English word, common or rare."""
        return word in self.ordinary or self.is_rare_word(word)

    @cached_property
    def variety_words(self) -> frozenset[str]:
        """Every word of the names of varieties and strangers: right as typed, and never what another is mended to."""
        return frozenset(
            word for names in (self.varieties, self.strangers) for name in names for word in name.split()
        )

    @cached_property
    def place_sounds(self) -> dict[str, str]:
        """How place names of one word sound -> the name as written."""
        return {sound(key): name for key, name in reversed(self.places.items()) if " " not in key}

    @cached_property
    def sounds(self) -> dict[str, str]:
        """How crop names and cue words of four letters and more sound -> the word; names win."""
        found: dict[str, str] = {}
        for word in (*sorted(self.name_words), *sorted(self.vocabulary)):
            if len(word) >= 4:
                found.setdefault(sound(word), word)
        return found

    @cached_property
    def _pool(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        slips = {w for name, (_, _, wrong) in self.names.items() if wrong for w in name.split()}
        for word in sorted(self.name_words | slips | self.vocabulary | frozenset(self.forms)):
            if len(word) >= 4:
                found.setdefault(word[0], []).append(word)
        return found

    def mending_pool(self, letter: str) -> list[str]:
        """Words an unknown word beginning with ``letter`` may have been meant as."""
        return self._pool.get(letter, [])

    def lemma(self, word: str) -> str:
        """The base form of a word, if it is one the phrases use; else the word itself."""
        found = self._lemmas.get(word)
        if found is None:
            found = self._lemmas[word] = self._base(word)
        return found

    def _base(self, word: str) -> str:
        irregular = self.forms.get(word)
        if irregular is not None:
            return irregular
        known = self.vocabulary
        for ending in ("ing", "ied", "ies", "ed", "es", "s", "d"):
            if word.endswith(ending) and len(word) - len(ending) >= 3:
                stem = word[: -len(ending)]
                tries = [stem, stem + "e"]
                if len(stem) > 3 and stem[-1] == stem[-2]:
                    tries.append(stem[:-1])
                if ending in ("ied", "ies"):
                    tries = [stem + "y"]
                for base in tries:
                    if base in known:
                        return base
        return word


def load_lexicon(facts: Facts, compiled: Path | None = None) -> Lexicon:
    """The lexicon of one knowledge folder: the compact copy when it is current, else the TOML files.

    ``compiled`` is the folder of the copy (the installed one when None). Raises DamagedFileError (through
    ``facts``) when a file cannot be read.
    """
    stamp = digest(facts.root)
    data = read_made((compiled or folder()) / COMPACT)
    if data.get("digest") != stamp:
        data = compact(facts)
    return _lexicon({name: _unpacked(value) for name, value in data.items()}, facts.root)


def write_compact(facts: Facts, target: Path) -> Path:
    """Write the compact copy into the folder ``target``; returns its path."""
    path = target / COMPACT
    write_made(path, {name: _packed(value) for name, value in compact(facts).items()})
    return path


def _packed(table: Any) -> Any:
    """A table of nothing but lines as one or two texts, which are read ten times as fast."""
    lines = [*table, *(table.values() if isinstance(table, dict) else ())]
    if isinstance(table, str) or not lines or not all(isinstance(x, str) and "\n" not in x for x in lines):
        return table
    several: list[Iterable[str]] = [table.keys(), table.values()] if isinstance(table, dict) else [table]
    return {"\n": ["\n".join(some) for some in several]}


def _unpacked(table: Any) -> Any:
    """What `_packed` was given."""
    if not isinstance(table, dict) or "\n" not in table:
        return table
    first, *second = (text.split("\n") for text in table["\n"])
    return dict(zip(first, second[0], strict=True)) if second else first


def digest(root: Path) -> str:
    """A checksum of every file the lexicon is made from: the content of the language files, name and size
    of the crop and plant files (of which only the names are taken) and of the places."""
    found = 0
    for path in sorted(
        p
        for p in (root / "language").rglob("*")
        if p.suffix in (".toml", ".txt") and p.stem not in ("examples", RARE) and p.parent.name != WEIGHTS
    ):
        found = crc32(path.read_bytes(), crc32(path.name.encode(), found))
    for named in ("crops", "woody"):
        if (root / named).is_dir():
            with scandir(root / named) as entries:
                sizes = sorted((e.name, e.stat().st_size) for e in entries if e.name.endswith(".toml"))
            found = crc32(repr(sizes).encode(), found)
    notes = root / "notes.toml"
    found = crc32(notes.read_bytes() if notes.exists() else b"", found)
    places = root / "places.csv"
    found = crc32(str(places.stat().st_size if places.exists() else 0).encode(), found)
    return f"{found:08x}"


def compact(facts: Facts) -> dict[str, Any]:
    """The lexicon as plain JSON values, built from the TOML files."""
    words = facts.table("language/words")
    crops = facts.table("language/crops")
    places = facts.table("language/places")
    heard = facts.table("language/dangers")
    danger_table = [[entry["kind"], line] for entry in heard["danger"] for line in entry["heard"]]
    groups: dict[str, list[str]] = facts.table("language/groups")
    table: list[list[str]] = []
    for cue, values in facts.table("language/cues").items():
        table += [[line, "cue", f"{cue}={value}"] for value, lines in values.items() for line in lines]
    for signal, lines in facts.table("language/signals").items():
        table += [[line, "signal", signal] for line in lines]
    decisive = facts.table("language/decisive")["line"]
    table += _notes(facts) if (facts.root / "notes.toml").exists() else []
    for number, line in enumerate(decisive):
        table += [[text, "act", str(number)] for text in line["phrases"]]
        table += [[text, "unless", str(number)] for text in line.get("unless", [])]
    index: dict[str, str] = {}
    for number, (text, *_) in enumerate(table):
        for word in sorted(phrases.anchor(phrases.parse(text, groups))):
            index[word] = f"{index.get(word, '')} {number}"
    names = {_key(n): [e.ref.id, e.ref.kind, e.misspelled] for n, e in facts.names.items()}
    names |= {name: [ref.id, ref.kind, False] for name, ref in facts.nicknames.items()}
    for name, target in crops["names"].items():
        base, _, kind = target.partition("/")
        names[name] = [base, kind or None, False]
    for name, target in crops["misspelled"].items():
        base, _, kind = target.partition("/")
        names.setdefault(name, [base, kind or None, True])
    for name in crops["not_names"]:
        names.pop(name, None)
    spots = _place_names(facts.root) | {name.lower(): name for name in places["short"]}
    regions = {name.lower(): name for name in places["regions"]} | places["abbreviations"]
    right = [name for name, (_, _, wrong) in names.items() if not wrong]
    varieties = _varieties(facts)
    strangers = {
        _key(name): plant for plant, called in crops["strangers"].items() for name in (plant, *called)
    }
    several = (*names, *varieties, *strangers, *crops["families"])
    return {
        "digest": digest(facts.root),
        "spoken": words["spoken"],
        "joined": {k: v.split() for k, v in words["joined"].items()},
        "forms": {form: base for base, forms in words["forms"].items() for form in forms.split()},
        "misheard": [[k.split(), v.split()] for k, v in words["misheard"].items()],
        "ordinary": " ".join(read_text(facts.root / "language" / "ordinary.txt").split()),
        "groups": groups,
        "table": ["\t".join(row) for row in table],
        "index": index,
        "decisive": [[line["act"], line["verb"], line.get("topic", "")] for line in decisive],
        "names": {
            name: f"{i}\t{kind or ''}\t{'wrong' if wrong else ''}" for name, (i, kind, wrong) in names.items()
        },
        "name_words": " ".join(sorted({w for name in right for w in name.replace("-", " ").split()})),
        "name_starts": " ".join(sorted({name.split()[0] for name in several if " " in name})),
        "longest_name": str(max((name.count(" ") + 1 for name in several), default=1)),
        "varieties": varieties,
        "strangers": strangers,
        "families": crops["families"],
        "ambiguous": crops["ambiguous"],
        "cultivars": {word: cls for cls, lines in crops["cultivars"].items() for word in lines},
        "kinds": crops["kinds"],
        "ones": crops["ones"],
        "implied": crops["implied"],
        "places": spots,
        "regions": regions,
        "place_words": " ".join(sorted({word for name in (*spots, *regions) for word in name.split()})),
        "shy": places["shy"],
        "metric": places["metric"],
        "near": facts.table("language/near")["topics"],
        "danger_table": danger_table,
        "danger_groups": heard["groups"],
        "danger_index": dangers.index_of(danger_table, heard["groups"]),
        "vocabulary": " ".join(sorted(_vocabulary(facts, [row[0] for row in table], groups))),
    }


def _varieties(facts: Facts) -> dict[str, str]:
    """Name of a variety -> its crop (and kind), the name as written, and how it must stand to be one: ``alone``
    anywhere, ``counted`` beside a number, ``beside`` its crop. Several crops have one name: parted by commas."""
    found: dict[str, str] = {}
    for plant, lists in facts.table("language/varieties").items():
        for stands in ("alone", "counted", "beside"):
            for name in lists.get(stands, ()):
                for key in {
                    _key(name),
                    _key(name.replace("'", "")),
                }:  # "Gardener's Delight", "gardeners delight"
                    others = found.get(key, "").split("\t")[0]
                    plants = f"{others},{plant}" if others else plant
                    found[key] = f"{plants}\t{name}\t{stands}"
    return found


def _notes(facts: Facts) -> list[list[str]]:
    """The phrases of knowledge/notes.toml, and those with which a note is not meant."""
    found = []
    for name, note in facts.table("notes").items():
        found += [[text, "note", name] for text in note["phrases"]]
        found += [[text, "no-note", name] for text in note.get("unless", [])]
    return found


def _vocabulary(facts: Facts, lines: list[str], groups: dict[str, list[str]]) -> set[str]:
    """The words that carry meaning: those of vocabulary.txt, and every word that stands in some phrase."""
    found = set(read_text(facts.root / "language" / "vocabulary.txt").split())
    found |= {w for words in groups.values() for w in words if w[0].isalpha()}
    for line in lines:
        for part in line.split():
            found.update(w for w in part.lstrip("?").split("|") if w and w[0].isalpha())
    return found


def _place_names(root: Path) -> dict[str, str]:
    """Lower-case place name -> the name as written: the bundled places and the larger towns."""
    found: dict[str, str] = {}
    names: list[str] = []
    if (root / "places.csv").exists():
        names = [line.split(",", 1)[0] for line in read_text(root / "places.csv").splitlines()[1:]]
    names += read_text(root / "language" / "towns.txt").splitlines()
    for name in names:
        for part in _STATION.sub("", name.strip('"')).replace(")", "").split(" ("):
            found.setdefault(_key(part), part)
    return {k: v for k, v in found.items() if len(k) > 2}


# What a weather station adds to the name of its town.
_STATION = Pattern(
    r" AP$| \d{1,7} [NSEW]+$| (City Centre|Airport|Citadel)$| ?[\w-]{0,40} Int'l.*$|[/-](City|Bergstrom|Orly).*$"
)


def _key(name: str) -> str:
    low = name.lower().replace("'s", "").replace("'", "")
    return " ".join(low.replace(".", " ").replace("-", " ").split())


_AS_THEY_STAND = (
    "spoken", "forms", "groups", "table", "index", "varieties", "strangers", "families", "ambiguous", "cultivars",
    "kinds", "ones", "implied", "places", "regions", "danger_table", "danger_groups", "danger_index",
)  # fmt: skip
"""What the compact copy holds as the lexicon does."""
_WORDS = ("ordinary", "vocabulary", "name_words", "name_starts", "place_words")
"""Sets of words, held as one text."""


def _lexicon(data: dict[str, Any], root: Path) -> Lexicon:
    def pairs(rows: Sequence[Sequence[Any]]) -> list[tuple[tuple[str, ...], tuple[str, ...]]]:
        return [(tuple(a), tuple(b)) for a, b in rows]

    names = ((name, entry.split("\t")) for name, entry in data["names"].items())
    tables: dict[str, Any] = {name: data[name] for name in _AS_THEY_STAND}
    tables |= {name: frozenset(data[name].split()) for name in _WORDS}
    return Lexicon(
        **tables,
        joined={k: tuple(v) for k, v in data["joined"].items()},
        misheard=pairs(data["misheard"]),
        decisive=[(act, verb, topic) for act, verb, topic in data["decisive"]],
        names={n: (i, kind or None, bool(wrong)) for n, (i, kind, wrong) in names},
        shy_places=frozenset(data["shy"]),
        metric_words=frozenset(data["metric"]),
        longest_name=int(data["longest_name"]),
        near_topics=data["near"],
        weights=root / "language" / WEIGHTS,
        rare_file=root / "language" / f"{RARE}.txt",
    )
