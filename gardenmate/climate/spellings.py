"""Misspelled place names: what they clearly stand for, or what they may."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.climate.place_names import Area, Gazetteer, PlaceRow, normalise
from gardenmate.core.errors import AmbiguousPlaceError

SURE_SCORE, CLEAR_SCORE, NEAR_SCORE = 86.0, 82.0, 60.0  # of 100
CLEAR_LEAD = 6.0  # points of 100 before the next name; design value


class Spellings:
    """Bundled names spelled or sounding like a typed one, in every way it can be read."""

    def __init__(self, typed: str, names: Gazetteer) -> None:
        self.typed = typed
        self.names = names
        # a town misspelled beside its state is looked for there only: "Farson, WY" is not Fresno
        readings: list[tuple[str, tuple[Area, ...]]] = names.qualified(typed) or [(normalise(typed), ())]
        self.scored = [
            (town, areas, names.near_spellings(town, names.in_area(areas) if areas else None))
            for town, areas in readings
        ]

    def meant(self, least: float) -> str | None:
        """The name this one clearly stands for, as it may be typed; None without one.

        Raises AmbiguousPlaceError when several are about as near.
        """
        for town, areas, scored in self.scored:
            if len(town) < 4 or not scored or scored[0][0] < least:
                continue
            lead = scored[0][0] - (scored[1][0] if len(scored) > 1 else 0.0)
            if lead < CLEAR_LEAD:
                alike = [name for score, name in scored if score > scored[0][0] - CLEAR_LEAD]
                rows = [row for name in alike for row in self.names.towns[name] if _within(row, areas)]
                listed = tuple(dict.fromkeys(row.label for row in rows))
                if len(listed) > 1:
                    raise AmbiguousPlaceError(self.typed, listed)
            return f"{scored[0][1]}, {self.names.area_name(areas[0])}" if areas else scored[0][1]
        return None

    @property
    def hint(self) -> str:
        """ " Did you mean ...?", or nothing when no name is near."""
        near = [name for _, _, scored in self.scored for score, name in scored[:4] if score >= NEAR_SCORE]
        labels = dict.fromkeys(row.label for name in near for row in self.names.towns[name])
        return f" Did you mean {'; '.join(list(labels)[:4])}?" if labels else ""


def _within(row: PlaceRow, areas: Sequence[Area]) -> bool:
    return not areas or any(row.country == c and r in (None, row.region) for c, r in areas)
