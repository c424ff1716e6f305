"""What a level cuts off a plane outline: area, first and second moments below it, and the width at it.

The outline is sorted once by height. Between two neighbouring vertex heights every edge is straight, so each moment
is a polynomial of the level there; the polynomials are integrated exactly, and any number of levels is then answered
by one look-up. Nothing is sliced.
"""

from __future__ import annotations

from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.outline import Outline

Floats = NDArray[np.float64]

MOMENTS = 6
"""Moments kept for each level, in this order: 1, y, z, yy, yz, zz, each integrated over the wet area."""

_MERGE = 1e-10
_made: WeakKeyDictionary[Outline, dict[float, LevelTable]] = WeakKeyDictionary()


def level_table(outline: Outline, shear: float = 0.0) -> LevelTable:
    """The level table of an outline for a side slope, made once for each.

    outline: the closed outline
    shear: side slope of the level line, dz/dy [-]
    """
    tables = _made.setdefault(outline, {})
    key = round(shear, 12)
    if key not in tables:
        tables[key] = LevelTable(outline, key)
    return tables[key]


class LevelTable:
    """The part of an outline below a sloping level line.

    outline: the closed outline
    shear: side slope of the level line, dz/dy [-]; the level is then z - shear * y, read on the line y = 0
    """

    def __init__(self, outline: Outline, shear: float = 0.0) -> None:
        points = outline.points.copy()
        points[:, 1] -= shear * points[:, 0]
        joints = outline.joints()
        self.shear = shear
        self.heights = _merged_heights(points[:, 1])
        self._polynomials = _interval_polynomials(points, self.heights)
        whole = self._polynomials.sum(axis=2)
        self._start = np.vstack([np.zeros(MOMENTS), np.cumsum(whole, axis=0)])
        steps = np.diff(self.heights)
        area = self._polynomials[:, 0]
        whole_steps = steps * (self._start[:-1, 0] + area[:, 0] / 2 + area[:, 1] / 3)
        self._summed = np.concatenate([[0.0], np.cumsum(whole_steps)])
        self._width = self._polynomials[:, 0, :] * (1.0, 2.0, 0, 0, 0) / steps[:, None]
        ends = np.array([self.lowest, self.highest])
        self.kinks = np.unique(np.concatenate([ends, joints[:, 1] - shear * joints[:, 0]]).round(9))

    @property
    def lowest(self) -> float:
        """Level at which the outline is empty [m]."""
        return float(self.heights[0])

    @property
    def highest(self) -> float:
        """Level at which the outline is full [m]."""
        return float(self.heights[-1])

    @property
    def full(self) -> Floats:
        """Moments of the whole outline (6,), in the sheared frame [m2, m3, m4]."""
        whole: Floats = self._start[-1]
        return whole

    def _find(self, level: Floats) -> tuple[NDArray[np.intp], Floats]:
        index = np.clip(np.searchsorted(self.heights, level, side="right") - 1, 0, len(self.heights) - 2)
        low = self.heights[index]
        return index, np.clip((level - low) / (self.heights[index + 1] - low), 0.0, 1.0)

    def area_and_width(self, level: Floats) -> tuple[Floats, Floats]:
        """Wet area [m2] and width of the level line [m] at each level.

        level: height of the level line at y = 0 [m], any shape
        """
        index, part = self._find(level)
        a = self._polynomials[index, 0]
        area = self._start[index, 0] + part * (a[..., 0] + part * a[..., 1])
        w = self._width[index]
        inside = (level > self.lowest) & (level < self.highest)
        return area, np.where(inside, w[..., 0] + part * w[..., 1], 0.0)

    def area_summed(self, level: Floats) -> Floats:
        """Integral of the wet area over the level, from where the outline is empty up to each level [m3].

        level: height of the level line at y = 0 [m], any shape
        """
        index, part = self._find(level)
        a, step = self._polynomials[index, 0], self.heights[index + 1] - self.heights[index]
        within = step * part * (self._start[index, 0] + part * (a[..., 0] / 2 + part * a[..., 1] / 3))
        above = self._start[-1, 0] * np.maximum(0.0, level - self.highest)
        summed: Floats = self._summed[index] + within + above
        return summed

    def moments(self, level: Floats) -> Floats:
        """Moments of the wet area below each level, (..., 6): 1, y, z, yy, yz, zz, in the true (unsheared) frame.

        level: height of the level line at y = 0 [m], any shape
        """
        index, part = self._find(level)
        terms = self._polynomials[index]
        part = part[..., None]
        value = terms[..., 4]
        for power in (3, 2, 1, 0):
            value = terms[..., power] + part * value
        return self._unsheared(self._start[index] + part * value)

    def _unsheared(self, m: Floats) -> Floats:
        """Moments with z = level + shear * y put back."""
        if self.shear == 0.0:
            return m
        s = self.shear
        area, y, z, yy, yz, zz = np.moveaxis(m, -1, 0)
        return np.stack([area, y, z + s * y, yy, yz + s * yy, zz + 2 * s * yz + s * s * yy], axis=-1)


def _merged_heights(z: Floats) -> Floats:
    """Sorted vertex heights, those closer than a hair merged."""
    ordered = np.sort(z)
    keep = np.concatenate([[True], np.diff(ordered) > _MERGE * max(1.0, float(np.ptp(z)))])
    heights: Floats = ordered[keep]
    return heights


def _interval_polynomials(points: Floats, heights: Floats) -> Floats:
    """Coefficients (intervals, moments, 5): moment(t) = sum c[k] t^(k+1), t from 0 to 1 over each interval."""
    edge, interval, sign = _edges_in_intervals(points, heights)
    one, two = points[edge], np.roll(points, -1, axis=0)[edge]
    low, step = heights[interval], np.diff(heights)[interval]
    slope = (two[:, 0] - one[:, 0]) / (two[:, 1] - one[:, 1])
    y0 = one[:, 0] + slope * (low - one[:, 1])
    dy = slope * step
    # the integrand y^k / k of each moment as a polynomial of t, before the factor z^j
    first = np.stack([y0, dy])
    second = np.stack([y0 * y0, 2 * y0 * dy, dy * dy]) / 2
    third = np.stack([y0**3, 3 * y0 * y0 * dy, 3 * y0 * dy * dy, dy**3]) / 3
    z = np.stack([low, step])
    integrands = [
        first, second, _times(first, z), third, _times(second, z), _times(_times(first, z), z)
    ]  # fmt: skip
    out = np.zeros((len(heights) - 1, MOMENTS, 5))
    for row, terms in enumerate(integrands):
        for power, term in enumerate(terms):
            weight = sign * term * step / (power + 1)
            out[:, row, power] = np.bincount(interval, weights=weight, minlength=len(heights) - 1)
    return out


def _times(p: Floats, q: Floats) -> Floats:
    """Product of two polynomials whose coefficients stand on the first axis."""
    out = np.zeros((len(p) + len(q) - 1, p.shape[1]))
    for i, a in enumerate(p):
        for j, b in enumerate(q):
            out[i + j] += a * b
    return out


def _edges_in_intervals(points: Floats, heights: Floats) -> tuple[NDArray[np.intp], NDArray[np.intp], Floats]:
    """Every (edge, interval) pair in which an edge is alive, with +1 where it rises (right-hand side) and -1 else."""
    mids = 0.5 * (heights[1:] + heights[:-1])
    place = np.searchsorted(mids, points[:, 1])
    ahead = np.roll(place, -1)
    low, high = np.minimum(place, ahead), np.maximum(place, ahead)
    alive = high - low
    edge = np.repeat(np.arange(len(points)), alive)
    first = np.repeat(np.cumsum(alive) - alive, alive)
    interval = low[edge] + (np.arange(len(edge)) - first)
    return edge, interval, np.where(ahead[edge] > place[edge], 1.0, -1.0)
