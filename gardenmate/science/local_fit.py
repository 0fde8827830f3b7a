"""A value at a point from values round it: a weighted plane, its slopes drawn towards usual ones (ridge regression).

Source of the method: Hoerl and Kennard, Ridge Regression: Biased Estimation for Nonorthogonal Problems, Technometrics
12 (1970), with a prior mean for each slope (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.records import NamedTuple


class Sample(NamedTuple):
    """A value, its weight (> 0) and how far from the point it lies along each axis (in the axis' own unit)."""

    value: float
    weight: float
    away: tuple[float, ...]


class Slope(NamedTuple):
    """The usual change of the value per unit of an axis, and how firmly the fit is held to it (unit of the axis
    squared: the variance along the axis at which samples and usual slope count alike)."""

    usual: float
    firmness: float


class LocalFit(NamedTuple):
    """The value at the point, and the weighted variance of the samples about the fitted plane."""

    value: float
    variance: float


def local_fit(samples: Sequence[Sample], slopes: Sequence[Slope]) -> LocalFit:
    """The plane through ``samples`` (at least one), read at the point itself. Every axis has one of ``slopes``, with
    a firmness above 0, so that a single sample is enough."""
    total = sum(s.weight for s in samples)
    shares = [s.weight / total for s in samples]
    rests = [s.value - sum(a * slope.usual for a, slope in zip(s.away, slopes, strict=True)) for s in samples]
    rows = [(1.0, *s.away) for s in samples]
    size = len(slopes) + 1
    matrix = [
        [sum(w * row[i] * row[j] for w, row in zip(shares, rows, strict=True)) for j in range(size)]
        for i in range(size)
    ]
    for axis, slope in enumerate(slopes, 1):
        matrix[axis][axis] += slope.firmness
    found = _solved(
        matrix,
        [sum(w * row[i] * r for w, row, r in zip(shares, rows, rests, strict=True)) for i in range(size)],
    )
    off = [
        r - sum(f * x for f, x in zip(found, row, strict=True)) for row, r in zip(rows, rests, strict=True)
    ]
    return LocalFit(found[0], sum(w * o * o for w, o in zip(shares, off, strict=True)))


def _solved(matrix: list[list[float]], right: list[float]) -> list[float]:
    """The solution of a positive definite system, by elimination (no pivots are needed)."""
    size = len(right)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for i in range(size):
        for below in rows[i + 1 :]:
            factor = below[i] / rows[i][i]
            below[i:] = [b - factor * a for a, b in zip(rows[i][i:], below[i:], strict=True)]
    found = [0.0] * size
    for i in reversed(range(size)):
        found[i] = (rows[i][size] - sum(rows[i][j] * found[j] for j in range(i + 1, size))) / rows[i][i]
    return found
