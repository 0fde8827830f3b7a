"""Print how often starts succeed in years not used, by the chance the engine states (README table).

Usage: python tests/bench/reliability.py
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from gardenmate.knowledge.facts import Facts
from tests.published.calibration import NEAR, reliability, trials


def main() -> None:
    """Try every start and print the table."""
    with tempfile.TemporaryDirectory() as folder:
        found = list(trials(Path(folder), Facts()))
    print(f"{len(found)} starts, {sum(t.outcomes for t in found)} outcomes at {len(NEAR)} stations")
    print("| stated chance | starts | mean stated | succeeded |")
    print("|---|---|---|---|")
    for low, high, starts, stated, worked in reliability(found):
        band = f"{100 * low:.0f}-{min(100, 100 * high):.0f}%"
        print(f"| {band} | {starts} | {100 * stated:.0f}% | {100 * worked:.0f}% |")


if __name__ == "__main__":
    main()
