"""Do the published checks notice wrong facts? Each mutation spoils one kind of figure; a check must turn red.

    python tests/bench/mutations.py            all of them, then the table of DEVELOPERS.md
    python tests/bench/mutations.py spacing    some of them

Nothing on disk is touched: this file is also a pytest plugin (-p tests.bench.mutations --mutation NAME) that alters
the facts as they are parsed, wherever they stand. A mutation names figures by their key, so moving a row from one
file to another does not silence it; one that meets no figure at all is an error.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

ROOT = Path(__file__).parents[2]
Change = Callable[[float], float]


class Mutation(NamedTuple):
    """What is spoilt: in files whose path holds ``where``, figures whose dotted key fits ``key`` are changed."""

    what: str
    where: str
    key: str
    change: Change
    pair: tuple[float, float] | None = None


def times(factor: float) -> Change:
    """Multiplied."""
    return lambda value: value * factor


def plus(step: float) -> Change:
    """Shifted."""
    return lambda value: value + step


def _same(value: float) -> float:
    return value


MUTATIONS: dict[str, Mutation] = {
    "prune-window": Mutation(
        "pruning windows 26 weeks before to 12 after bud break",
        "woody/",
        r"season\.\[\]\.(mild_)?weeks_from_bud_break",
        _same,
        (-26, 12),
    ),
    "spacing": Mutation("1 to 200 in between plants", "", r"(^|\.)spacing_in_row_in", _same, (1, 200)),
    "rows": Mutation("rows 2.5 times as far apart", "", r"row_spacing_in", times(2.5)),
    "person": Mutation(
        "1 to 60 plants or feet a person", "", r"(plants|row_ft)_(per_person_)?fresh$", _same, (1, 60)
    ),
    "container-short": Mutation("weeks a container lasts x0.4", "", r"size\.\[\]\.weeks", times(0.4)),
    "container-long": Mutation("weeks a container lasts x2.5", "", r"size\.\[\]\.weeks", times(2.5)),
    "cells": Mutation("cells hold twice the mix", "", r"size\.\[\]\.cm3", times(2.0)),
    "kill": Mutation("killed 10 F lower", "", r"frost\.killed_below_f", plus(-10)),
    "hurt": Mutation("hurt 6 F lower", "", r"frost\.damage_below_f", plus(-6)),
    "base": Mutation("growth base 5 F higher", "", r"growth_base_f", plus(5)),
    "mat": Mutation("mat settings 10 F higher", "", r"germinate_f", plus(10)),
    "chill": Mutation("chill hours x1.6", "woody/", r"chill\.hours", times(1.6)),
    "green-tip": Mutation("green tip at twice the warmth", "", r"green_tip\.sum_dd_f", times(2.0)),
    "bloom": Mutation("bloom 25 days later", "woody/", r"bud_break\.days_to_bloom", plus(25)),
    "bud-kill": Mutation("buds die 3 F lower", "", r"stage\.\[\]\.kill(10|90)_f", plus(-3)),
    "winter": Mutation("dormant wood hurt 15 F higher", "", r"winter(\.\[\])?\.(hurt_f|kinds)", plus(15)),
    "cover": Mutation("covers count double", "protection", r"cover\.\[\]\.(gain_f|plan_f)", times(2.0)),
    "radiation": Mutation(
        "clear nights 6 F colder still", "protection", r"radiation\.ground_colder", plus(6)
    ),
    "night-rule": Mutation("minimum rule 3 C warmer", "protection", r"minimum_rule\.constant_c", plus(3)),
    "glazing": Mutation("lids lose twice the heat", "protection", r"glazing\.\[\]\.u_w_m2k", times(2.0)),
    "vent": Mutation("frames opened 15 F later", "protection", r"venting\.(cool|warm)_open_f", plus(15)),
    "maturity": Mutation("days to maturity x1.5", "crops/", r"days_to_maturity\.", times(1.5)),
    "set-out": Mutation("set out five weeks earlier", "", r"start\..*(earliest|best)_mean_c", plus(-5)),
    "weeks-indoors": Mutation(
        "raised twice as long indoors", "crops/", r"timing\.weeks_indoors$", times(2.0)
    ),
    "heat": Mutation("heat stops cool crops 8 F later", "", r"growth_mean_max_f", plus(8)),
    "picking": Mutation("picked three times as long", "crops/", r"maturity\.picking_days", times(3.0)),
    "risk": Mutation("frost risk taken x0.1", "season", r"start\..*(earliest|best)_risk", times(0.1)),
    "yield-row": Mutation("yield of a row x2.2", "", r"yield_lb_per_10ft", times(2.2)),
    "yield-plant": Mutation("yield of a plant x2", "", r"yield_lb_per_plant", times(2.0)),
    "quarts": Mutation("pounds a quart x1.5", "", r"(lb_per_quart|lb_a_quart)", times(1.5)),
    "seed-life": Mutation("seed keeps three times as long", "", r"seed_life_years", times(3.0)),
    "legal-seed": Mutation("germination standard x0.7", "", r"germination_standard_pct", times(0.7)),
    "emergence": Mutation("emergence takes twice as long", "", r"emergence_days_by_soil_f", times(2.0)),
    "soil": Mutation("coldest soil 10 F colder", "", r"soil\.min_soil_sow_f", plus(-10)),
    "hardening": Mutation(
        "hardening x2.5", "", r"(hardening_days|hardening\.(days|usual_days|soft_days))", times(2.5)
    ),
    "harden-night": Mutation(
        "night limits of hardening 8 F lower",
        "",
        r"(hardening_min_f|hardening\.(night_f\.|never_below_f))",
        plus(-8),
    ),
    "hours": Mutation("lamps 5 hours longer", "raising", r"light\.hours", plus(5)),
    "lux": Mutation("lux of lamps x1.3", "raising", r"lux_per_umol\.", times(1.3)),
    "prices": Mutation(
        "prices of gear x3", "prices", r"defaults\.(mix_per_litre|tray|lamp|mat)$", times(3.0)
    ),
    "depth": Mutation("sown three times as deep", "crops/", r"sow_depth_in", times(3.0)),
    "ounce": Mutation("half the seeds in an ounce", "crops/", r"seeds_per_oz", times(0.5)),
    "tubes": Mutation("tubes hung three times as high", "", r"fluorescent_in", times(3.0)),
    "woody-spacing": Mutation("bushes twice as far apart", "", r"spacing_ft", times(2.0)),
    "cutting-months": Mutation(
        "cuttings taken half a year off", "", r"(way|propagation)\.\[\]\.months", lambda m: (m + 5) % 12 + 1
    ),
    "frost-dates": Mutation(
        "estimated frost dates: nights 4 C warmer", "climate", r"freeze_fit\..*at_40", plus(4)
    ),
}
_met: list[str] = []


def spoilt(found: dict[str, Any], mutation: Mutation) -> dict[str, Any]:
    """A parsed fact file with the figures of one mutation changed."""
    pattern = re.compile(mutation.key)

    def walk(value: Any, key: str) -> Any:
        if isinstance(value, dict):
            return {k: walk(v, f"{key}.{k}" if key else k) for k, v in value.items()}
        if isinstance(value, list) and value and isinstance(value[0], dict):
            return [walk(v, f"{key}.[]") for v in value]
        if not pattern.search(key):
            return value
        return changed(value, key)

    def changed(value: Any, key: str) -> Any:
        many = isinstance(value, list)
        numbers = value if many else [value]
        if not all(isinstance(v, int | float) and not isinstance(v, bool) for v in numbers):
            return value
        _met.append(key)
        if mutation.pair is not None:
            return list(mutation.pair)
        new = [round(mutation.change(v), 4) for v in numbers]
        return new if many else new[0]

    out: dict[str, Any] = walk(found, "")
    return out


def pytest_addoption(parser: pytest.Parser) -> None:
    """--mutation NAME."""
    parser.addoption("--mutation", choices=sorted(MUTATIONS))


def pytest_configure(config: pytest.Config) -> None:
    """Spoil what is parsed from here on: before any test module is imported."""
    name = config.getoption("--mutation")
    if name is None:
        return
    from gardenmate.knowledge import compiled

    mutation, plain = MUTATIONS[name], compiled.lookup

    def lookup(path: Path, raw: bytes) -> dict[str, Any] | None:
        found = plain(path, raw)
        if mutation.where not in path.as_posix() or path.name == "sources.toml":
            return found
        return spoilt(found if found is not None else tomllib.loads(raw.decode("utf-8")), mutation)

    compiled.lookup = lookup


def pytest_sessionfinish(session: pytest.Session) -> None:
    """A mutation that met no figure proves nothing."""
    if session.config.getoption("--mutation") and not _met:
        session.exitstatus = pytest.ExitCode.INTERNAL_ERROR


def run(name: str | None) -> tuple[bool, str]:
    """Whether a published check turned red under a mutation (None: under none), and which ones.

    The checks of calendar files are left out: they rest on no fact.
    """
    command = [sys.executable, "-m", "pytest", "-q", "-p", "tests.bench.mutations"]
    command += [] if name is None else [f"--mutation={name}"]
    done = subprocess.run(
        [*command, "-p", "no:cacheprovider", "--ignore=tests/published/test_icalendar.py", "tests/published"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    failed = re.findall(
        r"^(?:FAILED|ERROR) tests/published/(test_\w+)\.py(?:::(\w+))?", done.stdout, re.MULTILINE
    )
    if done.returncode == int(pytest.ExitCode.INTERNAL_ERROR):
        return False, "met no figure"
    files = sorted({file for file, _ in failed})
    return done.returncode == int(pytest.ExitCode.TESTS_FAILED), f"{len(failed)} in {', '.join(files)}"


def main() -> int:
    """Print the table; 1 when a mutation went unseen."""
    names = sys.argv[1:] or list(MUTATIONS)
    unseen = 0
    red, where = run(None)
    if red:
        print(f"Red without any mutation: {where}. Mend that first.")
        return 2
    print("| mutation | checks that turned red |\n|---|---|", flush=True)
    for name in names:
        red, where = run(name)
        unseen += not red
        print(f"| {MUTATIONS[name].what} | {where if red else f'**none** ({where})'} |", flush=True)
    print(f"\n{len(names) - unseen} of {len(names)} were seen.")
    return 1 if unseen else 0


if __name__ == "__main__":
    sys.exit(main())
