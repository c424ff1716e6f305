"""Do boxes and lines meet: the questions behind every placement of a text.

A rectangle is (left, low, right, high), a segment (x0, y0, x1, y1), in one unit; both may be arrays whose last axis
holds the four numbers, the other axes broadcast.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
Truths = NDArray[np.bool_]


def four_wide(rows: Any) -> Numbers:
    """Rows of four numbers as an array of shape (n, 4), also when there are none."""
    return np.asarray(rows, dtype=float).reshape(-1, 4)


def overlaps(one: Numbers, other: Numbers) -> Truths:
    """Whether rectangles share more than an edge."""
    apart = (
        (one[..., 2] <= other[..., 0])
        | (other[..., 2] <= one[..., 0])
        | (one[..., 3] <= other[..., 1])
        | (other[..., 3] <= one[..., 1])
    )
    return np.asarray(~apart)


def crosses(segments: Numbers, rects: Numbers) -> Truths:
    """Whether a part of the segment runs inside the rectangle: their own rectangles overlap, and the line through the
    segment passes nearer to the rectangle's middle than its corners stand off that line.
    """
    x0, y0, x1, y1 = (segments[..., i] for i in range(4))
    left, low, right, high = (rects[..., i] for i in range(4))
    du, dv = x1 - x0, y1 - y0
    off = np.abs(du * (0.5 * (low + high) - y0) - dv * (0.5 * (left + right) - x0))
    inside = (off < 0.5 * (np.abs(du) * (high - low) + np.abs(dv) * (right - left))) | ((du == 0.0) & (dv == 0.0))
    inside = inside & (np.maximum(x0, x1) > left) & (np.minimum(x0, x1) < right)
    return np.asarray(inside & (np.maximum(y0, y1) > low) & (np.minimum(y0, y1) < high))


def meet(one: Numbers, other: Numbers) -> Truths:
    """Whether segments cut each other (touching ends do not count)."""

    def side(a: Numbers, b: Numbers, end: int) -> Numbers:
        """On which side of segment a the end (0 or 2) of segment b lies."""
        du, dv = a[..., 2] - a[..., 0], a[..., 3] - a[..., 1]
        return np.asarray(du * (b[..., end + 1] - a[..., 1]) - dv * (b[..., end] - a[..., 0]))

    parted = side(one, other, 0) * side(one, other, 2) < 0.0
    return np.asarray(parted & (side(other, one, 0) * side(other, one, 2) < 0.0))


def spread(wanted: Sequence[float], gaps: Sequence[float], low: float, high: float) -> list[float]:
    """Positions nearest to those wanted, in the same order, with at least gaps[i] between the i-th and the next.

    wanted: ascending positions; gaps: one fewer than positions; low, high: range to stay in while it is wide enough
    Least squares under order constraints (pool adjacent violators) on the positions less the gaps summed up.
    """
    if not wanted:
        return []
    before = np.concatenate(([0.0], np.cumsum(np.asarray(gaps, dtype=float))))
    pools: list[list[float]] = []  # [sum, count]
    for value in np.asarray(wanted, dtype=float) - before:
        pools.append([float(value), 1.0])
        while len(pools) > 1 and pools[-2][0] / pools[-2][1] >= pools[-1][0] / pools[-1][1]:
            total, count = pools.pop()
            pools[-1] = [pools[-1][0] + total, pools[-1][1] + count]
    even = [total / count for total, count in pools for _ in range(int(count))]
    top = max(high - float(before[-1]), low)
    return [min(max(value, low), top) + float(shift) for value, shift in zip(even, before, strict=True)]
