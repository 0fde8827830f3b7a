"""The first line about one crop on a night, by outcome and by what turns it."""

from __future__ import annotations

from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.topics.frost.decide import CropNight
from gardenmate.topics.frost.night_words import low_and_night, night_name
from gardenmate.topics.frost.outlook import Outlook
from gardenmate.topics.shared.grammar import sentence
from gardenmate.topics.shared.protection import frost_span, frost_temp
from gardenmate.topics.shared.subjects import plants

FREEZING_C = f_to_c(30.0)  # design value: a crop hurt only below this is picked, not carried in


class CropLine:
    """The first line of one crop, by outcome."""

    def __init__(self, o: Outlook, found: CropNight, world: World) -> None:
        self.o, self.found, self.world, self.units = o, found, world, world.units
        self.p = plants(o.named)
        self.cover = found.cover
        self.under = f" {found.cover.where}" if found.cover is not None else ""
        self.low = low_and_night(found.night, world)
        self.hurt, self.killed = (frost_temp(t, world.units) for t in (o.limits.hurt_c, o.limits.killed_c))
        self.met = frost_temp(o.worst_c, world.units)

    def fine(self) -> str:
        o, p = self.o, self.p
        above = f"{frost_span(o.margin_c, self.units)} above {self.hurt}, where damage begins"
        start = f"{sentence(p.word)}{self.under} {p.are} fine at {self.low}"
        if o.basis == "leaf" and self.cover is None and self.found.night.sky != "cloudy":
            return (
                f"{start}: even if it drops to {self.met} at leaf height on a clear night, that is {above}."
            )
        return f"{start}: that is {above}."

    def cool(self) -> str:
        p, chill = self.p, frost_temp(self.o.chill_c or 0.0, self.units)
        rest = f"lay fleece over {p.them} inside" if self.cover is not None else "cover what is planted out"
        do = f"cover {p.them}" if self.found.planted and self.cover is None else f"bring pots in, or {rest}"
        back = f"{p.word} {p.are} chilled and set back below about {chill}"
        return f"No frost{self.under} at {self.low}, but {back}: {do}."

    def chilled(self) -> str:
        p = self.p
        do = f"Cover the {p.word}" if self.found.planted else f"Bring the {p.word} in or cover {p.them}"
        return (
            f"{do}: {self.low} doesn't freeze {p.them}, but below {self.hurt} "
            f"{p.they} {p.are} chilled and set back."
        )

    def tips(self) -> str:
        return (
            f"{sentence(self.p.word)}{self.under} should survive {self.low}, but a clear, calm night may mark the "
            f"leaves: the air stays {frost_span(self.o.margin_c, self.units)} above {self.hurt}, where damage "
            f"begins{self._saves()}."
        )

    def burnt(self) -> str:
        p = self.p
        if self.o.exemption == "crown":
            return (
                f"{self.low} hurts the tops of {p.word}{self.under} (damage begins below {self.hurt}), but the plant "
                f"lives on and sprouts again{self._saves()}."
            )
        return (
            f"{sentence(p.word)}{self.under} should survive {self.low} with marked leaves. Damage begins near "
            f"{self.hurt}, and {p.they} {p.does('die')} near {self.killed}{self._saves()}."
        )

    def covered(self) -> str:
        """Under a cover that is not quite enough."""
        p, o = self.p, self.o
        sky = "" if self.found.night.sky == "cloudy" else " on a clear night"
        start, harm = (
            ("Not enough by itself", f"{self.killed} kills {p.them}")
            if o.beaten
            else ("Borderline", f"{self.hurt} begins to hurt {p.them}")
        )
        use = f"use {o.remedy.name} or " if o.remedy else ""
        return f"{start}{sky}: {p.word}{self.under} may meet {self.met} at leaf height, and {harm}; {use}{_rescue(o)}."

    def to_cover(self) -> str:
        p, o = self.p, self.o
        own = o.named.crop.frost_words
        do = f"Cover the {p.word}" if own is None else own.cover.format(word=p.word, them=p.them)
        return f"{do} {night_name(self.found.night, self.world)}{self._using()}: {self._at_leaf()}."

    def lost(self) -> str:
        p, o = self.p, self.o
        save = f"use {o.remedy.name}" if o.remedy else ""
        in_place = (o.named.crop.groups.way == "in-place" or self.found.planted) and not o.blossom
        if self.cover is None and in_place:
            no = f"no cover laid over {p.them} is enough, so"
            do = f"{f'{save}, or' if save else no} count on losing {p.them}"
            return f"{sentence(p.word)} won't survive {self.low} uncovered: {self._why()}. {sentence(do)}."
        if self.cover is not None:
            do = f"{save}, or {_rescue(o)}" if save else _rescue(o)
            return f"{sentence(p.word)}{self.under} won't survive {self.low}; {do}."
        return (
            f"{sentence(p.word)} won't survive {self.low} uncovered: {self._why()}. {sentence(_rescue(o))}, or "
            f"{save or f'count on losing {p.them}'}."
        )

    def regrows(self) -> str:
        """The tops may go, but it grows again from below ground."""
        p, o = self.p, self.o
        assert o.regrowth is not None
        own = o.named.crop.frost_words
        rescue = own.rescue if own is not None else f"cover {p.them}{self._using()}"
        first, last = o.regrowth.look_days
        small = "at that height " if self.found.tall else "while small " if o.regrowth.young else ""
        if o.outcome == "cover":
            return (
                f"{sentence(rescue)} {night_name(self.found.night, self.world)}: {self._at_leaf()}. If the tops "
                f"go, {small}{p.they} still {p.does('grow')} back from below ground: wait and look in {first} to "
                f"{last} days."
            )
        return (
            f"Expect to lose the tops of {p.word}{self.under} at {self.low}, but {small}{p.they} {p.does('grow')} back "
            f"from below ground: {rescue} tonight, or wait and look in {first} to {last} days."
        )

    def below_ground(self) -> str:
        """What is eaten lies in the soil, where a night of frost does not reach."""
        p, tops = self.p, "; the tops will be killed" if self.o.outcome == "lost" else ""
        return (
            f"Yes, {p.word} in the soil {p.are} safe at {self.low}: a night of frost doesn't reach {p.them}{tops}. Dig "
            f"{p.them} within a few days, before the ground itself gets cold."
        )

    def flowers(self) -> str:
        """It is the open flowers or young fruit that are at risk; the plant lives."""
        p, o = self.p, self.o
        what = "open flowers" if o.blossom else "flower buds and small fruit"
        lives = "the plants live, and so may buds still closed"
        if o.outcome == "lost":
            use = (
                f"use {o.remedy.name} to save some" if o.remedy else "no cover laid over them will save those"
            )
            start = f"The {what} of {p.word}{self.under} are likely lost at {self.low}: {self._why()}"
            return f"{start}. {sentence(use)}, but {lives}."
        if o.outcome == "cover" and self.cover is None:
            do = f"Cover the {p.word} {night_name(self.found.night, self.world)}{self._using()}"
            return f"{do}: {self._at_leaf()}; {lives}."
        if o.outcome == "cover":
            return f"{self.covered()} It is the {what} that are at risk; {lives}."
        lost = f"damage begins near {self.hurt} and most are gone near {self.killed}{self._saves()}"
        return f"{self.low} may kill some {what} of {p.word}{self.under}: {lost}; {lives}."

    def snow(self) -> str:
        p, good = self.p, self.o.outcome in ("fine", "cool", "tips")
        end = "leave the snow where it lies" if good else f"lay fleece or straw on {p.them} before it melts"
        start = f"{sentence(p.word)} {p.are} safe at {self.low} under that snow" if good else (
            f"{sentence(p.word)} may still be hurt at {self.low} under that snow"
        )  # fmt: skip
        keeps = f"it keeps the cold at the ground to about {self.met}, and damage begins near {self.hurt}"
        return f"{start}: {keeps}; {end}."

    def if_in_flower(self) -> str:
        bloom = next(row for row in self.o.named.crop.stage_limits if "bloom" in row.stage)
        return (
            f"If {self.p.they} {self.p.are} in flower, cover {self.p.them}: open flowers are killed near "
            f"{frost_temp(bloom.killed_c, self.units)}, though the plants live."
        )

    def _at_leaf(self) -> str:
        """What is forecast, what it may be at the leaf, and what that does there."""
        o, p = self.o, self.p
        falls = {"clear": "drops to", "cloudy": "is about", "unknown": "may drop to"}[self.found.night.sky]
        what = "the flowers" if o.blossom else p.them
        harm = f"{self.killed} kills {what}" if o.beaten else f"{self.hurt} hurts {what}"
        low = self.found.night.low_text(self.units)
        return f"{low} is forecast, but at leaf height it {falls} {self.met}, and {harm}"

    def _why(self) -> str:
        o = self.o
        them = "them" if o.blossom else self.p.them
        if o.basis == "leaf":
            falls = "is about" if self.found.night.sky == "cloudy" else "may drop to"
            return f"at leaf height it {falls} {self.met}, and {self.killed} kills {them}"
        return f"{self.killed} kills {them}"

    def _using(self) -> str:
        o = self.o
        if o.remedy is None:
            return ""
        mark = "" if o.unhurt else f" (some {'flowers' if o.blossom else 'leaves'} may still be hurt)"
        return f" with {o.remedy.name}{mark}"

    def _saves(self) -> str:
        o = self.o
        return f"; {o.remedy.name} would {'spare' if o.unhurt else 'help'} {self.p.them}" if o.remedy else ""


def _rescue(o: Outlook) -> str:
    """What else can be done tonight: its own way, hardy crops picked, tender pots carried in."""
    if o.named.crop.frost_words is not None:
        return o.named.crop.frost_words.rescue
    p = plants(o.named)
    if o.blossom:
        return f"bring {p.them} in if in pots"
    return f"pick {p.them} now" if o.limits.hurt_c < FREEZING_C else "bring pots in"
