"""How well degree-days date the budburst and bloom of highbush blueberry: error in days, fitted on half the
years of the Harvard Forest record and scored on the other half.

Run: python tests/bench/bud_break.py
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))


def main() -> None:
    """Print the table of errors."""
    from tests.published.test_chilling import observations, rms

    print(f"{'stage':10} {'fitted on':28} {'C-days':>6} {'rms fitted':>10} {'rms scored':>10}")
    for phenophase, name in (("371", "budburst"), ("501", "bloom")):
        seen = observations(phenophase)
        years = sorted(seen)
        for first in (0, 1):
            fitted, scored = years[first::2], years[1 - first :: 2]
            best = min(range(20, 300), key=lambda need: rms(fitted, need, seen))
            label = ", ".join(str(y % 100).zfill(2) for y in fitted)
            errors = f"{rms(fitted, best, seen):10.1f} {rms(scored, best, seen):10.1f}"
            print(f"{name:10} {label:28} {best:6d} {errors}")


if __name__ == "__main__":
    main()
