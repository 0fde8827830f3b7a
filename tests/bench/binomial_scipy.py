"""Recompute the table of tests/published/binomial_scipy.csv with scipy (optional extra `bench`).

Run: python tests/bench/binomial_scipy.py > tests/published/binomial_scipy.csv
"""

from __future__ import annotations

import scipy
from scipy.stats import binom

WANTED = (1, 2, 3, 6, 12, 18, 24, 48, 72, 144, 300)
CHANCES = (0.2, 0.35, 0.5, 0.675, 0.75, 0.84375, 0.9, 0.98)
SURE = (0.8, 0.9, 0.95, 0.99)


def fewest(wanted: int, chance: float, sure: float) -> int:
    """The smallest n with P(X >= wanted) >= sure, by stepping through scipy's survival function."""
    n = wanted
    while binom.sf(wanted - 1, n, chance) < sure:
        n += 1
    return n


def main() -> None:
    """Print the table."""
    print(f"# scipy {scipy.__version__}, scipy.stats.binom.sf")
    print("wanted,chance,confidence,tries,chance_at_tries,chance_one_less")
    for wanted in WANTED:
        for chance in CHANCES:
            for sure in SURE:
                n = fewest(wanted, chance, sure)
                at, less = binom.sf(wanted - 1, n, chance), binom.sf(wanted - 1, n - 1, chance)
                print(f"{wanted},{chance},{sure},{n},{at:.12g},{less:.12g}")


if __name__ == "__main__":
    main()
