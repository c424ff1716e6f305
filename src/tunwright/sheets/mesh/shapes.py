"""Triangles: grids of points, plane areas, prisms, turned shapes, and cutting along a plane.

Closed shapes have their triangles anticlockwise as seen from outside. Points stand twice where a shape has a sharp
edge, so that a surface smooth over shared points is smooth in the picture and sharp where the thing is sharp.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

SHARP = np.radians(25.0)
"""A turn from here on is an edge, below it a curve [rad]."""


@dataclass(frozen=True, eq=False)
class Shape:
    """A surface.

    points: (n, 3) [m]
    triangles: (m, 3) numbers of points
    edges: (k, 2) numbers of points, the lines that are drawn
    """

    points: Floats
    triangles: Ints
    edges: Ints

    def moved(self, points: Floats) -> Shape:
        """The same triangles on other points.

        points: (n, 3) [m]
        """
        return Shape(points, self.triangles, self.edges)


class Clipped(NamedTuple):
    """A shape cut along a plane.

    shape: what is left, open at the plane
    cut: both ends of each line it was cut along (k, 2, 3) [m]
    """

    shape: Shape
    cut: Floats


def joined(shapes: Iterable[Shape]) -> Shape:
    """Several shapes as one.

    shapes: at least one
    """
    found = list(shapes)
    first = np.cumsum([0, *(len(s.points) for s in found)])
    return Shape(
        np.vstack([s.points for s in found]),
        np.vstack([s.triangles + at for s, at in zip(found, first, strict=False)]),
        np.vstack([s.edges + at for s, at in zip(found, first, strict=False)]),
    )


def _ints(rows: object, width: int) -> Ints:
    return np.asarray(rows, dtype=np.intp).reshape(-1, width)


def turns(loop: Floats) -> Floats:
    """Angle by which a closed line turns at each of its points, (n,) [rad].

    loop: points (n, 2) [m]
    """
    ahead = np.roll(loop, -1, axis=0) - loop
    heading = np.arctan2(ahead[:, 1], ahead[:, 0])
    turned: Floats = (heading - np.roll(heading, 1) + np.pi) % (2 * np.pi) - np.pi
    return turned


def grid(rows: Floats, sharp: NDArray[np.bool_], lines: Iterable[int] = (0, -1)) -> Shape:
    """Closed rings joined by quadrilaterals.

    rows: rings (r, n, 3), the first point not repeated [m]
    sharp: (n,) where each ring has an edge
    lines: numbers of the rings that are drawn as lines
    """
    columns = np.repeat(np.arange(rows.shape[1]), 1 + sharp)
    points, count = rows[:, columns], len(columns)
    here = np.arange(count)
    here = here[columns != np.roll(columns, -1)]
    there = (here + 1) % count
    start = (np.arange(len(rows) - 1) * count)[:, None]
    a, b, c, d = (start + one for one in (here, there, there + count, here + count))
    triangles = np.stack([np.stack([a, b, c], -1), np.stack([a, c, d], -1)], axis=2).reshape(-1, 3)
    rings = [np.column_stack([here, there]) + (at % len(rows)) * count for at in lines]
    marked = np.flatnonzero(sharp[columns] & (columns == np.roll(columns, -1)))
    along = np.stack([start + marked, start + count + marked], -1).reshape(-1, 2)
    return _sound(Shape(points.reshape(-1, 3), triangles, _ints(np.vstack([*rings, along]), 2)))


def _sound(shape: Shape) -> Shape:
    """Without triangles of no area."""
    one, two, three = (shape.points[shape.triangles[:, i]] for i in range(3))
    area = np.linalg.norm(np.cross(two - one, three - one), axis=1)
    return Shape(shape.points, shape.triangles[area > 1e-12], shape.edges)


def fill(lines: Floats) -> tuple[Floats, Ints]:
    """A plane area between lines, inside where a crossing line meets an odd number of them: points (n, 2), triangles.

    lines: both ends of each line (k, 2, 2), in any order, together closed [m]
    """
    one, two = lines[:, 0], lines[:, 1]
    low, high = np.minimum(one[:, 0], two[:, 0]), np.maximum(one[:, 0], two[:, 0])
    run = two[:, 0] - one[:, 0]
    slope = np.divide(two[:, 1] - one[:, 1], run, out=np.zeros_like(run), where=run != 0.0)
    steps = np.unique(np.round(lines[:, :, 0], 7))
    points = [np.empty((0, 2))]
    for u, w in pairwise(steps.tolist()):
        hit = (low < 0.5 * (u + w)) & (high > 0.5 * (u + w))
        at = np.stack([one[hit, 1] + slope[hit] * (x - one[hit, 0]) for x in (u, w)], axis=1)
        at = at[np.argsort(at.sum(axis=1), kind="stable")]
        for (p, q), (r, s) in zip(at[0::2].tolist(), at[1::2].tolist(), strict=False):
            points.append(np.array([(u, p), (w, q), (w, max(q, s)), (u, max(p, r))]))  # never turned over by rounding
    corners = np.vstack(points)
    first = 4 * np.arange(len(corners) // 4)[:, None]
    flat = np.column_stack([corners, np.zeros(len(corners))])
    triangles = (first[:, None] + np.array([(0, 1, 2), (0, 2, 3)])).reshape(-1, 3)
    return corners, _sound(Shape(flat, triangles, _ints((), 2))).triangles


def lines_of(loop: Floats) -> Floats:
    """A closed line as lines with two ends, (n, 2, 2).

    loop: points (n, 2) [m]
    """
    return np.stack([loop, np.roll(loop, -1, axis=0)], axis=1)


def plate(loops: Iterable[Floats], *, axis: int, at: float) -> Shape:
    """A flat plate square to an axis, facing along it; a loop inside another is a hole.

    loops: closed lines (n, 2), in the two axes that follow [m]
    axis: 0, 1 or 2
    at: its place along the axis [m]
    """
    lines = np.vstack([lines_of(loop) for loop in loops])
    flat, triangles = fill(lines)
    ends = lines.reshape(-1, 2)
    edges = len(flat) + np.arange(len(ends)).reshape(-1, 2)
    return _sound(Shape(_stood(np.vstack([flat, ends]), axis, at), triangles, edges))


def _stood(flat: Floats, axis: int, at: float) -> Floats:
    """Points of a plane in space."""
    points = np.empty((len(flat), 3))
    points[:, axis] = at
    points[:, (axis + 1) % 3], points[:, (axis + 2) % 3] = flat.T
    return points


def prism(loop: Floats, *, axis: int, start: float, end: float) -> Shape:
    """A closed line carried along an axis, with both ends closed.

    loop: points (n, 2), in the two axes that follow [m]
    axis: 0, 1 or 2
    start, end: from where to where [m], end above start
    """
    u, w = loop.T
    if np.sum(u * np.roll(w, -1) - np.roll(u, -1) * w) < 0:
        loop = loop[::-1]
    sides = grid(np.stack([_stood(loop, axis, at) for at in (start, end)]), np.abs(turns(loop)) > SHARP)
    near, far = (plate([loop], axis=axis, at=at) for at in (start, end))
    near = Shape(near.points, near.triangles[:, ::-1], near.edges[:0])
    return joined([sides, near, Shape(far.points, far.triangles, far.edges[:0])])


def block(low: tuple[float, float, float], high: tuple[float, float, float]) -> Shape:
    """A box.

    low, high: opposite corners [m]
    """
    (y, z), (w, v) = low[1:], high[1:]
    return prism(np.array([(y, z), (w, z), (w, v), (y, v)]), axis=0, start=low[0], end=high[0])


def turned(
    profile: list[tuple[float, float]], *, axis: int, centre: tuple[float, float, float], count: int = 32
) -> Shape:
    """A profile turned about an axis; a point that stands twice makes an edge.

    profile: (radius, place along the axis from the centre) in the sense that leaves the inside on its left [m]
    axis: 0, 1 or 2
    centre: a point on the axis [m]
    count: points around [-]
    """
    angle = np.arange(count) * 2 * np.pi / count
    circle = np.column_stack([np.cos(angle), np.sin(angle)])
    rows = np.stack([_stood(r * circle, axis, along) for r, along in profile]) + np.asarray(centre)
    doubled = [i for i in range(1, len(profile)) if profile[i] == profile[i - 1] and profile[i][0] > 0.0]
    return grid(rows, np.zeros(count, dtype=bool), doubled)


def clip(shape: Shape, normal: Floats, bound: float) -> Clipped:
    """The part of a shape where normal . p <= bound.

    shape: the shape
    normal: (3,)
    bound: [m]
    """
    depth = bound - shape.points @ normal
    inside = depth[shape.triangles] > 0.0
    count = inside.sum(axis=1)
    points, kept, cut = [shape.points], [shape.triangles[count == 3]], [np.empty((0, 2, 3))]
    first = len(shape.points)
    for held in (1, 2):
        mine = count == held
        lone = (inside[mine] if held == 1 else ~inside[mine]).argmax(axis=1)
        order = (lone[:, None] + np.arange(3)) % 3
        a, b, c = np.take_along_axis(shape.triangles[mine], order, axis=1).T
        ab, ac = (_crossing(shape.points, depth, a, other) for other in (b, c))
        p = first + np.arange(len(a))
        q = p + len(a)
        points += [ab, ac]
        first += 2 * len(a)
        kept += [np.column_stack([a, p, q])] if held == 1 else [np.column_stack([p, b, c]), np.column_stack([p, c, q])]
        cut.append(np.stack([ab, ac], axis=1))
    return Clipped(_sound(Shape(np.vstack(points), np.vstack(kept), shape.edges[:0])), np.vstack(cut))


def _crossing(points: Floats, depth: Floats, a: Ints, b: Ints) -> Floats:
    """Where the edges from a to b meet the plane; each is worked out from the same end whichever triangle asks."""
    a, b = np.minimum(a, b), np.maximum(a, b)
    share = depth[a] / (depth[a] - depth[b])
    met: Floats = points[a] + share[:, None] * (points[b] - points[a])
    return met


def volume(shape: Shape) -> float:
    """Volume inside a closed shape, or its share of one [m3]: the sum of det(p, q, r) / 6 (divergence theorem).

    shape: the shape
    """
    p, q, r = (shape.points[shape.triangles[:, i]] for i in range(3))
    return float(np.sum(p * np.cross(q, r))) / 6.0


def area(shape: Shape) -> float:
    """Area of a shape [m2].

    shape: the shape
    """
    p, q, r = (shape.points[shape.triangles[:, i]] for i in range(3))
    return 0.5 * float(np.linalg.norm(np.cross(q - p, r - p), axis=1).sum())
