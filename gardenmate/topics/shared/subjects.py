"""Crops named in a sentence about several plants: "the tomatoes are", "the kale is"."""

from __future__ import annotations

from collections.abc import Iterable

from gardenmate.core.question import CropRef
from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple
from gardenmate.topics.shared.grammar import listed
from gardenmate.topics.shared.plant_names import plant_name, proper
from gardenmate.topics.shared.raising import Named


class Plants(NamedTuple):
    """A crop as a sentence names it, with the verb and pronoun that go with it."""

    word: str
    plural: bool

    @property
    def are(self) -> str:
        """ "are" or "is"."""
        return "are" if self.plural else "is"

    @property
    def have(self) -> str:
        """ "have" or "has"."""
        return "have" if self.plural else "has"

    @property
    def them(self) -> str:
        """ "them" or "it"."""
        return "them" if self.plural else "it"

    @property
    def they(self) -> str:
        """ "they" or "it"."""
        return "they" if self.plural else "it"

    def does(self, verb: str) -> str:
        """A verb in the present: "live" or "lives"."""
        return verb if self.plural else f"{verb}s"


def plants(named: Named) -> Plants:
    """The crop of a question as plants: "tomatoes", "kale", "chillies"."""
    if "mass-noun" in named.crop.traits:
        return Plants(named.name, False)
    known = (*named.crop.names, *named.crop.generic_names)
    return Plants(proper(plural_of(named.name.lower(), known)), True)


def plants_named(ref: CropRef, facts: Facts) -> Plants:
    """A crop or plant of the question as a sentence names it: "tomatoes", "kale", "figs"."""
    crop, name = facts.crop_for(ref), plant_name(ref, facts)
    mass = crop is not None and "mass-noun" in crop.traits
    return Plants(name, False) if mass else Plants(plural_of(name), True)


def many_named(ref: CropRef, facts: Facts) -> str:
    """The same in one word, in the plural where it has one."""
    return plants_named(ref, facts).word


def plural_of(word: str, known: tuple[str, ...] = ()) -> str:
    """The plural of a plant name, preferring one that is among the known names."""
    if word.endswith(("s", "squash", "root", "zucchini")):
        return word
    for plural in (f"{word}s", f"{word}es", f"{word[:-1]}ies"):
        if plural in known:
            return plural
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return f"{word[:-1]}ies"
    if word.endswith(("ch", "sh", "x", "tato", "mato")):
        return f"{word}es"
    return f"{word}s"


def together(found: Iterable[Plants]) -> Plants:
    """Several crops as one subject: "tomatoes and kale", which "are"."""
    each = list(found)
    return each[0] if len(each) == 1 else Plants(listed(p.word for p in each), True)
