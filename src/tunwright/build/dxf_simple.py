"""A fine chain of points thinned out to few, with the area kept."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tunwright.build.dxf_refused import OutlineRefused
from tunwright.handbook.outline import CORNER

Floats = NDArray[np.float64]

MOST_POINTS = 400
"""Points an outline keeps at most."""

COARSEST = 1.0
"""Farthest a point may lie off the thinned outline before the drawing is refused [mm]."""

_FINEST = 1e-3  # no need to follow a curve closer than this [mm]
_STRAIGHT = 4.0  # an edge so many times longer than one beside it is a line of its own, not a bit of a curve
_LEVEL = 0.01  # an edge this level is flat [mm]


def simplified(points: Floats) -> tuple[Floats, float]:
    """The outline with few points and the same area, from the middle of its bottom, and how far it was smoothed [mm].

    points: a fine closed chain (n, 2), anticlockwise [mm]
    """
    fine = _from_bottom(points)
    corners = _corners(fine)
    if len(corners) > MOST_POINTS - 1:
        raise OutlineRefused(
            f"The outline has {len(corners)} corners; at most {MOST_POINTS} points are kept. Draw it with lines and "
            "arcs in place of very many short lines."
        )
    low, high = _FINEST, _FINEST
    kept = _kept(fine, corners, high)
    while len(kept) > MOST_POINTS:
        low, high = high, 2 * high
        if high > COARSEST:
            raise OutlineRefused(
                f"The outline has too many bends for {MOST_POINTS} points to follow within {COARSEST:g} mm. Draw it "
                "with lines and arcs."
            )
        kept = _kept(fine, corners, high)
    for _ in range(12):
        middle = math.sqrt(low * high)
        trial = _kept(fine, corners, middle)
        if len(trial) <= MOST_POINTS:
            kept, high = trial, middle
        else:
            low = middle
    return _with_area(fine, kept, corners), high


def _from_bottom(points: Floats) -> Floats:
    """The chain turned so that it starts at the middle of the bottom; a flat bottom gets a point there."""
    low, high = points.min(axis=0), points.max(axis=0)
    middle = 0.5 * (low[0] + high[0])
    after = np.roll(points, -1, axis=0)
    level = (points[:, 1] - low[1] < _LEVEL) & (after[:, 1] - low[1] < _LEVEL)
    spanning = np.flatnonzero(level & (points[:, 0] < middle - _LEVEL) & (after[:, 0] > middle + _LEVEL))
    if len(spanning):
        i = int(spanning[0])
        share = (middle - points[i, 0]) / (after[i, 0] - points[i, 0])
        height = points[i, 1] + share * (after[i, 1] - points[i, 1])
        begun: Floats = np.vstack([[[middle, height]], np.roll(points, -i - 1, axis=0)])
        return begun
    lowest = np.flatnonzero(points[:, 1] - low[1] < _LEVEL)
    start = int(lowest[np.argmin(np.abs(points[lowest, 0] - middle))])
    rolled: Floats = np.roll(points, -start, axis=0)
    return rolled


def _corners(points: Floats) -> list[int]:
    """Indexes of the points that must stay: the first, sharp turns, and the ends of straight stretches."""
    ahead = np.roll(points, -1, axis=0) - points
    heading, long = np.arctan2(ahead[:, 1], ahead[:, 0]), np.hypot(*ahead.T)
    turn = np.abs((heading - np.roll(heading, 1) + math.pi) % (2 * math.pi) - math.pi)
    shorter = np.minimum(np.roll(long, 1), np.roll(long, -1))
    straight = np.flatnonzero(long > _STRAIGHT * shorter)
    return sorted({0, *np.flatnonzero(turn > CORNER), *straight, *((straight + 1) % len(points))})


def _kept(points: Floats, corners: Sequence[int], most: float) -> list[int]:
    """Indexes of the points to keep, so that none of the others lies farther than `most` off its chord."""
    closed = np.vstack([points, points[:1]])
    kept: list[int] = []
    for one, two in zip(corners, [*corners[1:], len(points)], strict=True):
        at = one
        while at < two:
            kept.append(at)
            at = _farthest(closed, at, two, most)
    return kept


def _farthest(points: Floats, at: int, end: int, most: float) -> int:
    """The farthest point a chord may reach from a point, found by doubling and halving its length."""
    step = 1
    while at + step < end and _off(points, at, min(at + 2 * step, end)) <= most:
        step = min(2 * step, end - at)
    low, high = step, min(2 * step, end - at)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if _off(points, at, at + middle) <= most else (low, middle)
    return at + (high if _off(points, at, at + high) <= most else low)


def _off(points: Floats, one: int, two: int) -> float:
    """Greatest distance of the points between two from their chord [mm]."""
    if two - one < 2:
        return 0.0
    chord, inner = points[two] - points[one], points[one + 1 : two] - points[one]
    long = math.hypot(*chord)
    if long < 1e-9:
        return float(np.hypot(*inner.T).max())
    return float(np.abs(chord[0] * inner[:, 1] - chord[1] * inner[:, 0]).max() / long)


def _with_area(fine: Floats, kept: Sequence[int], corners: Sequence[int]) -> Floats:
    """The kept points, those on curves set out a hair, so that the area cut off beside them comes back."""
    points, wanted = fine[list(kept)], _area(fine)
    lost = np.array([_segment(fine, one, two) for one, two in zip(kept, [*kept[1:], len(fine)], strict=True)])
    free = (~np.isin(kept, corners)).astype(float)
    beside = np.maximum(free + np.roll(free, -1), 1.0)  # free ends of each chord, among which its area is shared
    mine = free * (lost / beside + np.roll(lost / beside, 1))
    across = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    width = np.maximum(np.hypot(*across.T), 1e-9)
    moved: Floats = points + np.column_stack([across[:, 1], -across[:, 0]]) * (2 * mine / width**2)[:, None]
    for _ in range(3):
        gained = _area(moved) - _area(points)
        if abs(gained) <= 1e-9 * abs(wanted):
            break
        moved = points + (moved - points) * (wanted - _area(points)) / gained
    return moved


def _segment(points: Floats, one: int, two: int) -> float:
    """Area between a stretch of the chain and its chord, above zero where the chain lies outside."""
    run = np.vstack([points[one:two], points[two % len(points)]])
    return _area(run)


def _area(points: Floats) -> float:
    """Signed area of a polygon [mm2]."""
    y, z = (points - points[0]).T
    return float(0.5 * np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z))
