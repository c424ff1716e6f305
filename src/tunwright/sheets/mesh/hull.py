"""The inside of a tank as rings of points: the shell between the tangent lines, and both heads."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.heads import Head
from tunwright.handbook.outline import Outline, polygon
from tunwright.sheets.mesh.shapes import SHARP, Shape, grid, joined, plate, turns
from tunwright.truck.parts import grown
from tunwright.truck.solid import TankSolid

Floats = NDArray[np.float64]


def thinned(outline: Outline, count: int) -> Floats:
    """About as many points of an outline, closest where it bends, its corners kept, set out to keep its area: (n, 2).

    outline: the outline
    count: points wanted [-]
    """
    points = outline.points
    if len(points) <= count:
        return points
    turn = np.abs(turns(points))
    step = np.hypot(*(points - np.roll(points, 1, axis=0)).T)
    measure = np.cumsum(turn / turn.sum() + step / step.sum())
    chosen = np.searchsorted(measure, np.linspace(0.0, measure[-1], count, endpoint=False) + 1e-12)
    few = points[np.union1d(chosen, np.flatnonzero(turn > SHARP))]
    y, z = polygon(few).centroid
    swell = np.sqrt(outline.area / polygon(few).area)
    wider: Floats = (y, z) + swell * (few - (y, z))
    return wider


@dataclass(frozen=True, eq=False)
class Hull:
    """A tank's inside in the tank's own frame.

    solid: the tank
    count: points around it [-]
    """

    solid: TankSolid
    count: int

    @cached_property
    def ring(self) -> Floats:
        """The section (n, 2), with points on the line it is stretched from where the floor falls."""
        ring, seat = thinned(self.solid.outline, self.count), self.solid.seat
        if not self.solid.growth:
            return ring
        ahead = np.roll(ring, -1, axis=0)
        crosses = np.flatnonzero((ring[:, 1] - seat) * (ahead[:, 1] - seat) < -1e-12)
        share = (seat - ring[crosses, 1]) / (ahead[crosses, 1] - ring[crosses, 1])
        return np.insert(ring, crosses + 1, ring[crosses] + share[:, None] * (ahead[crosses] - ring[crosses]), axis=0)

    @cached_property
    def sharp(self) -> NDArray[np.bool_]:
        """Where the ring has an edge, (n,)."""
        return np.asarray(np.abs(turns(self.ring)) > SHARP)

    def section(self, x: float, by: float = 0.0) -> Floats:
        """The section at a place (n, 2).

        x: the place [m]
        by: how far it is set out [m]
        """
        y, z = (grown(polygon(self.ring), by) if by else self.ring).T
        k, seat = self.solid.stretch(self.solid.growth, x), self.solid.seat
        return np.column_stack([y, np.where(z < seat, seat + k * (z - seat), z)])

    def at(self, x: float, by: float = 0.0) -> Floats:
        """The section at a place in space (n, 3).

        x: the place [m]
        by: how far it is set out [m]
        """
        section = self.section(x, by)
        return np.column_stack([np.full(len(section), x), section])

    @cached_property
    def shell(self) -> Shape:
        """What lies between the tangent lines."""
        return grid(np.stack([self.at(0.0), self.at(float(self.solid.tank.length))]), self.sharp)

    @cached_property
    def front(self) -> Shape:
        """The front head."""
        return self._head(self.solid.front, 0.0, -1.0)

    @cached_property
    def rear(self) -> Shape:
        """The rear head."""
        return self._head(self.solid.rear, float(self.solid.tank.length), 1.0)

    def _head(self, head: Head, x: float, outward: float) -> Shape:
        section, middle = self.section(x), np.array(self.solid.middle_of_section(x))
        distance, scale = head.meridian(points=16 if self.count > 80 else 12)
        if not head.arcs:
            if not _star(section - middle):  # its triangles do not share every point of the shell's edge
                flat = plate([section], axis=0, at=x)
                return flat if outward > 0 else Shape(flat.points, flat.triangles[:, ::-1], flat.edges)
            distance, scale = np.zeros(2), np.array([1.0, 0.0])
        rows = [
            np.column_stack([np.full(len(section), x + outward * d), middle + k * (section - middle)])
            for d, k in zip(distance, scale, strict=True)
        ]
        return grid(np.stack(rows if outward > 0 else rows[::-1]), self.sharp, [0 if outward > 0 else -1])

    @cached_property
    def whole(self) -> Shape:
        """Shell and heads, closed."""
        return joined([self.front, self.shell, self.rear])


def _star(ring: Floats) -> bool:
    """Whether every point of a closed line is seen from the origin."""
    y, z = ring.T
    return bool(np.all(y * np.roll(z, -1) > np.roll(y, -1) * z))
