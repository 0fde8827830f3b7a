"""Frost dates of a station left out, blended from those round it: the error on stations not fitted to.

    python tests/bench/station_fit.py [--fit]

Every second station (by its place in knowledge/stations.csv) is the fitted half: the slopes and weights of
knowledge/climate.toml, [blend], were chosen there, ``--fit`` prints the grid they were chosen from. The table is of the
other half, each station left out in turn and blended from all others as a town without a record of its own would be.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from statistics import median
from typing import Any, NamedTuple

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from gardenmate.climate.blend import Spot, Used, choose, day_at, slopes, usual_error
from gardenmate.climate.stations import Station, StationLine, lines_near, read_station
from gardenmate.knowledge.facts import Facts

WEST = frozenset({"WA", "OR", "CA", "NV", "ID", "MT", "WY", "UT", "CO", "AZ", "NM"})
SPRING, FALL = 0, 2


class LeftOut(NamedTuple):
    """A station left out and the lines of those round it."""

    station: Station
    others: tuple[StationLine, ...]

    @property
    def west(self) -> bool:
        return self.station.region in WEST


class Error(NamedTuple):
    """Days the blend is later than the station, and its own estimate of its error (sd)."""

    days: float
    usual: float


def left_out(path: Path, fitted: bool) -> list[LeftOut]:
    """The stations of one half that have frost dates, US ones."""
    texts = [t for t in path.read_text("utf-8").splitlines() if not t.startswith("#")]
    found = []
    for number, text in enumerate(texts):
        cells = text.split(",")
        if cells[6] != "US" or cells[8] not in ("d", "a") or (number % 2 == 0) != fitted:
            continue
        line = StationLine(float(cells[1]), float(cells[2]), float(cells[3]), cells[7], text)
        others = tuple(o for o in lines_near(path, line.lat, line.lon) if o.text != text)
        found.append(LeftOut(read_station(line, path), others))
    return found


def error(
    case: LeftOut, which: int, table: Mapping[str, Any], read: dict[str, Station], path: Path
) -> Error | None:
    """The error of one blended date; None where no neighbour has one."""
    here = case.station
    spot = Spot(here.lat, here.lon, here.elev_m)
    used = []
    for chosen in choose(case.others, spot, table):
        text = chosen.item.text
        if text not in read:
            read[text] = read_station(chosen.item, path)
        used.append(Used(read[text], chosen.km, chosen.share))
    rate = slopes(here.lon, here.country, table)
    slope = rate.spring if which == SPRING else rate.fall
    found, truth = day_at(used, spot, which, slope, table), here.dates[which]
    if found is None or truth is None:
        return None
    return Error(found.value - truth, usual_error(used, spot, which, found, table))


def told(errors: Iterable[Error | None]) -> str:
    """ "4.2 / 13.5" days at the median and at nine in ten, and how many lie within their own usual error."""
    known = [e for e in errors if e is not None]
    days = sorted(abs(e.days) for e in known)
    inside = sum(abs(e.days) <= e.usual for e in known) / len(known)
    return f"{median(days):.1f} / {days[int(0.9 * len(days))]:.1f} | {inside:.0%} | {len(known)}"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--fit", action="store_true")
    facts = Facts()
    path, table = facts.root / "stations.csv", facts.table("climate")["blend"]
    read: dict[str, Station] = {}
    if parser.parse_args().fit:
        cases = left_out(path, fitted=True)
        for near_km in (3.0, 5.0, 8.0, 12.0):
            for climb_m in (100.0, 200.0, 400.0):
                for west, rest in ((3.0, 1.0), (3.9, 1.8), (5.2, 2.6)):
                    tried = {
                        **table,
                        "near_km": near_km,
                        "climb_m": climb_m,
                        "slopes_west": {"spring": west, "fall": table["slopes_west"]["fall"]},
                        "slopes_elsewhere": {"spring": rest, "fall": table["slopes_elsewhere"]["fall"]},
                    }
                    print(
                        near_km, climb_m, west, rest, told(error(c, SPRING, tried, read, path) for c in cases)
                    )
    cases = left_out(path, fitted=False)
    print(
        "| stations left out (the half not fitted to) | median / nine in ten, days | within own error | stations |"
    )
    print("|---|---|---|---|")
    for name, kept in (("all", cases), ("11 western states", [c for c in cases if c.west]),
                       ("elsewhere", [c for c in cases if not c.west])):  # fmt: skip
        for side, which in (("last 32 F", SPRING), ("first 32 F", FALL)):
            print(f"| {name}, {side} | {told(error(c, which, table, read, path) for c in kept)} |")


if __name__ == "__main__":
    main()
