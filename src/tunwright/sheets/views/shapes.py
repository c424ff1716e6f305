"""Plain shapes the views share: boxes, rounded corners, and a polygon cut along a line."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tunwright.sheets.drawing import Point, Polyline
from tunwright.sheets.geometry import arc_of_bulge, arc_points, pieces

Floats = NDArray[np.float64]
Corner = tuple[Point, float]
_MOST_POINTS = 48  # of a curve, where it only has to be kept clear of


def box(left: float, bottom: float, right: float, top: float, layer: str = "thin", fill: str | None = None) -> Polyline:
    """A rectangle [m]."""
    return Polyline(((left, bottom), (right, bottom), (right, top), (left, top)), layer, closed=True, fill=fill)


def polyline(points: Floats, layer: str = "thin", *, closed: bool = True, fill: str | None = None) -> Polyline:
    """A polyline through the rows of an array (n, 2) [m]."""
    return Polyline(tuple((u, v) for u, v in points.tolist()), layer, closed=closed, fill=fill)


def rounded(corners: Sequence[Corner], layer: str = "thin", *, fill: str | None = None) -> Polyline:
    """A closed polygon whose corners are rounded, each (point, radius) [m]; a radius too large is made smaller."""
    points: list[Point] = []
    bulges: list[float] = []
    for i, (corner, radius) in enumerate(corners):
        before, after = corners[i - 1][0], corners[(i + 1) % len(corners)][0]
        arc = _fillet(before, corner, after, radius)
        points.extend(arc[0])
        bulges.extend(arc[1])
    return Polyline(tuple(points), layer, tuple(bulges), closed=True, fill=fill)


def _fillet(before: Point, corner: Point, after: Point, radius: float) -> tuple[list[Point], list[float]]:
    """The points and bulges that take the place of a corner."""
    into = (corner[0] - before[0], corner[1] - before[1])
    out = (after[0] - corner[0], after[1] - corner[1])
    one, two = math.hypot(*into), math.hypot(*out)
    turn = math.atan2(into[0] * out[1] - into[1] * out[0], into[0] * out[0] + into[1] * out[1])
    if radius <= 0.0 or abs(turn) < 1e-6 or min(one, two) == 0.0:
        return [corner], [0.0]
    set_back = min(radius * abs(math.tan(turn / 2.0)), 0.45 * one, 0.45 * two)
    first = (corner[0] - into[0] / one * set_back, corner[1] - into[1] / one * set_back)
    last = (corner[0] + out[0] / two * set_back, corner[1] + out[1] / two * set_back)
    return [first, last], [math.tan(turn / 4.0), 0.0]


def cut(points: Floats, normal: tuple[float, float], bound: float) -> Floats:
    """The part of a closed polygon (n, 2) where normal . p <= bound; empty (0, 2) where nothing is left.

    Parts of a hollow polygon stay joined along the cutting line; the area is right all the same.
    """
    depth = bound - points @ np.asarray(normal)
    ahead, ahead_depth = np.roll(points, -1, axis=0), np.roll(depth, -1)
    crossing = (depth >= 0.0) != (ahead_depth >= 0.0)
    share = np.divide(depth, depth - ahead_depth, out=np.zeros_like(depth), where=crossing)
    both = np.stack([points, points + share[:, None] * (ahead - points)], axis=1).reshape(-1, 2)
    kept: Floats = both[np.stack([depth >= 0.0, crossing], axis=1).ravel()]
    return kept if len(kept) > 2 else np.empty((0, 2))


def coarse(part: Polyline) -> list[Point]:
    """The polyline in as few straight pieces as placing a text needs."""
    if part.bulges is None:
        points = [*part.points, *(part.points[:1] if part.closed else ())]
        return points if len(points) <= _MOST_POINTS else [*points[:: len(points) // _MOST_POINTS], points[-1]]
    found = [part.points[0]]
    for p, q, bulge in pieces(part):
        found.extend(arc_points(arc_of_bulge(p, q, bulge), step=math.pi / 4.0)[1:] if bulge and p != q else [q])
    return found
