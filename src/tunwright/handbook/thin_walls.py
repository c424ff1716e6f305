"""The walls of a thin-walled section and the linear equations of their shear flow; used by `thin_section`.

A *field* is a quantity that is linear along and across every wall: an array (2, m, 2), first its midline values at the
two ends of each of m walls, then its slopes across the wall there, n to the left of the wall's direction.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

FREE_END = 0.105
"""What a free end takes from J, in t^4: half of 0.63 / 3, of the rectangle J = b t^3 / 3 (1 - 0.63 t / b)."""


class SectionError(ValueError):
    """A section that cannot exist; the message says why."""


@dataclass(frozen=True, eq=False)
class Walls:
    """The midline.

    points: (n, 2), y and z [m]
    ends: numbers of the two points of each wall (m, 2)
    thickness: of each wall (m,) [m]
    links: pairs of points joined without slip (k, 2)
    length: of each wall (m,) [m]
    along: unit vector of each wall (m, 2)
    """

    points: Floats
    ends: Ints
    thickness: Floats
    links: Ints
    length: Floats
    along: Floats

    @property
    def across(self) -> Floats:
        """Unit vector across each wall, to the left of its direction (m, 2)."""
        return np.stack([-self.along[:, 1], self.along[:, 0]], axis=1)

    @property
    def area(self) -> Floats:
        """Area of each wall (m,) [m2]."""
        return self.length * self.thickness

    def field(self, at_points: Floats, slopes: Floats) -> Floats:
        """A field (2, m, 2).

        at_points: midline value at each point (n,) [any]
        slopes: slope across the wall at both its ends (m, 2), or one a wall (m, 1) [any/m]
        """
        return np.stack([at_points[self.ends], np.broadcast_to(slopes, self.ends.shape)])

    def gram(self, fields: Floats) -> Floats:
        """Integrals over the area of every product of two fields (2, c, c): of midline values, of slopes.

        fields: the fields (c, 2, m, 2) [any]
        """
        weight = np.stack([self.area, self.area * self.thickness**2 / 12])[..., None] / 6
        sums = fields.sum(axis=-1, keepdims=True)
        parts = np.concatenate([fields, sums], axis=-1).swapaxes(0, 1)  # f g = (fi gi + fj gj + (fi + fj)(gi + gj)) / 6
        flat = parts.reshape(2, len(fields), -1)
        weighted = (parts * weight[:, None]).reshape(flat.shape)
        both: Floats = weighted @ flat.swapaxes(1, 2)
        return both

    def at_fibres(self, one: Floats) -> Floats:
        """A field at start, middle and end of each wall, there on the left face, then on the right (6 m,).

        one: the field (2, m, 2) [any]
        """
        three = np.stack([one[..., 0], one.mean(axis=-1), one[..., 1]], axis=-1)
        out = 0.5 * self.thickness[:, None] * three[1]
        return np.stack([three[0] + out, three[0] - out], axis=-1).ravel()

    def arms(self, r: Floats, pairs: Ints) -> Floats:
        """Torque about the origin of a flow of 1 from one point straight to another, twice the area swept [m2].

        r: points from the origin (n, 2) [m]
        pairs: numbers of points (k, 2)
        """
        (y1, z1), (y2, z2) = r[pairs[:, 0]].T, r[pairs[:, 1]].T
        swept: Floats = y1 * z2 - z1 * y2
        return swept

    def torsion_of_walls(self) -> float:
        """Sum of L t^3 / 3, less what ends take [m4]; where one of two linked walls ends, the step in their stack."""
        meet = np.bincount(self.ends.ravel(), minlength=len(self.points))
        thick = np.zeros(len(self.points))
        np.maximum.at(thick, self.ends, self.thickness[:, None])
        alone = meet == 1
        alone[self.links] = False
        pair, stops = thick[self.links], meet[self.links] == 1
        steps = pair.sum(axis=1) ** 4 - np.where(stops, 0.0, pair**4).sum(axis=1)
        taken = np.sum(thick[alone] ** 4) + np.sum(steps[stops.any(axis=1)])
        return float(np.sum(self.area * self.thickness**2) / 3 - FREE_END * taken)


def walls(
    points: ArrayLike, segments: Sequence[tuple[int, int]] | Ints, thickness: ArrayLike, links: ArrayLike
) -> Walls:
    """The walls, looked over.

    points: midline points (n, 2) [m]
    segments: walls (m, 2) as numbers of points
    thickness: of each wall, or one for all [m], above 0
    links: pairs of points (k, 2) that are joined without slip [-]
    """
    p = np.array(points, dtype=float)
    ends, ties = (np.array(pairs, dtype=np.intp).reshape(-1, 2) for pairs in (segments, links))
    t = np.array(np.broadcast_to(np.asarray(thickness, dtype=float), len(ends)))
    if p.ndim != 2 or p.shape[1] != 2 or not np.isfinite(p).all():
        raise SectionError("the points of a section are pairs of finite numbers y, z, for example [[0, 0], [0.1, 0]]")
    if not len(ends):
        raise SectionError("a section needs one wall or more, for example segments = [(0, 1)]")
    if min(ends.min(), ties.min(initial=0)) < 0 or max(ends.max(), ties.max(initial=0)) >= len(p):
        raise SectionError(f"walls and links go between points 0 to {len(p) - 1}; one of them names another point")
    if not (np.isfinite(t) & (t > 0)).all():
        raise SectionError(f"the thickness of a wall must be above 0, not {t.min():g} m")
    step = p[ends[:, 1]] - p[ends[:, 0]]
    length = np.hypot(step[:, 0], step[:, 1])
    if not length.min() > 0:
        first, last = ends[int(length.argmin())]
        raise SectionError(f"the wall from point {first} to point {last} has no length")
    _all_together(len(p), np.concatenate([ends, ties]).tolist())
    return Walls(p, ends, t, ties, length, step / length[:, None])


def _all_together(count: int, pairs: list[list[int]]) -> None:
    """Every point must be reached from the first; a point with no wall at all is not."""
    beside: list[list[int]] = [[] for _ in range(count)]
    for a, b in pairs:
        beside[a].append(b)
        beside[b].append(a)
    seen, waiting = {0}, [0]
    while waiting:
        fresh = set(beside[waiting.pop()]) - seen
        seen |= fresh
        waiting += fresh
    if len(seen) < count:
        missing = next(one for one in range(count) if one not in seen)
        raise SectionError(
            f"a section is one piece: no wall or link leads from point 0 to point {missing}; join them, "
            f"for example links = [(0, {missing})]"
        )


class Net:
    """Flows that add up to nothing at every point, and slip nowhere in a link: one set of equations.

    A wall carries g (u_j - u_i) and what is given, g = t / L; a link makes u_i - u_j as given and carries what it must.
    """

    def __init__(self, w: Walls) -> None:
        self.walls = w
        n, k, each = len(w.points), len(w.links), np.eye(len(w.points))
        self.start, self.end = each[w.ends[:, 0]], each[w.ends[:, 1]]  # (m, n): which point it is
        self.rise, self.g = self.end - self.start, w.thickness / w.length
        ties = each[w.links[:, 0]] - each[w.links[:, 1]]
        if k and np.linalg.matrix_rank(ties) < k:
            raise SectionError("links alone make a ring, so that what each carries is not settled; leave one out")
        whole = np.zeros((n + k + 1, n + k + 1))
        whole[:n, :n] = (self.rise.T * self.g) @ self.rise / self.g.max()
        whole[n:, :n] = np.concatenate([ties, np.ones((1, n))])  # no level of u is right or wrong: its sum is 0
        whole[:n, n:] = whole[n:, :n].T
        self.inverse = np.linalg.inv(whole)

    def warp(self, r: Floats) -> tuple[Floats, Floats, Floats]:
        """Warping w about the origin at each point, and Bredt's flow in walls and in links, per G d(twist)/dx [m2].

        r: points from the origin (n, 2) [m]
        """
        w = self.walls
        arms = w.arms(r, w.ends)
        u, in_links = self._solved(self.rise.T @ (self.g * arms), -w.arms(r, w.links))
        return u, self.g * (arms - self.rise @ u), in_links

    def shear(self, rates: Floats) -> tuple[Floats, Floats]:
        """Flow at start, middle and end of the walls (c, m, 3) and in the links (c, k) where ds/dx is given, no twist.

        rates: ds/dx at both ends of each wall (c, m, 2) [Pa/m]
        """
        area, (first, last) = self.walls.area, np.moveaxis(rates, -1, 0)
        at_start, at_end = area * (2 * first + last) / 6, area * (first + 2 * last) / 6
        pull = -(at_start @ self.start + at_end @ self.end).T
        u, in_links = self._solved(pull, np.zeros((len(self.walls.links), len(rates))))
        start = at_start - (self.rise @ u).T * self.g
        middle, end = start - area * (3 * first + last) / 8, start - area * (first + last) / 2
        return np.stack([start, middle, end], axis=-1), in_links.T

    def _solved(self, pull: Floats, jumps: Floats) -> tuple[Floats, Floats]:
        """Values at the points and flow in the links, from what flows into each point and the steps set in links."""
        n, most = len(pull), self.g.max()
        both = self.inverse[:-1, :-1] @ np.concatenate([pull / most, jumps])
        return both[:n], most * both[n:]
