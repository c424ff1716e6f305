"""Pipe that turns corners: legs, angles, planes, take-offs, and the marks along a straight tube that is bent.

A way is a row of points on the middle line, both ends among them. A bend is known by three numbers: the straight length
before it, the rotation of its plane against that of the bend before, and its angle. The rotation is about the direction
in which the tube runs, by the right hand: from the first to the last point, clockwise as seen along it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

STRAIGHT = 1e-3
"""A corner that turns by less is none [rad]."""
_TOUCH = 1e-6  # how far bends may overlap by rounding [m]


def take_off(*, radius: float, angle: float) -> float:
    """How far before a corner its bend begins, R tan(a/2) [m].

    radius: of the middle line [m]
    angle: by which the pipe turns [rad], from 0 to below pi

    Source: geometry of the circle that touches both legs.
    """
    return radius * math.tan(0.5 * angle)


def mitre_cut(*, angle: float, welds: int) -> float:
    """By how much each cut of a segment bend is off square [rad]: the angle over twice the number of welds.

    angle: by which the pipe turns [rad]
    welds: seams between its segments and legs, 1 for a plain mitre
    """
    return angle / (2.0 * welds)


def legs(points: ArrayLike) -> Floats:
    """Lengths from corner to corner [m].

    points: x, y, z of the ends and corners (n, 3) [m]
    """
    found: Floats = np.linalg.norm(np.diff(np.asarray(points, dtype=float), axis=0), axis=1)
    return found


def corner_angles(points: ArrayLike) -> Floats:
    """By how much the pipe turns at each corner [rad], 0 where it runs straight on (n - 2).

    points: x, y, z of the ends and corners (n, 3) [m]
    """
    along = _directions(points)
    sine = np.linalg.norm(np.cross(along[:-1], along[1:]), axis=1)
    cosine = (along[:-1] * along[1:]).sum(axis=1)
    found: Floats = np.arctan2(sine, cosine)
    return found


def plane_turns(points: ArrayLike) -> Floats:
    """Rotation from the plane of each bend to that of the next, right-hand about the leg between them [rad] (n - 3).

    points: x, y, z of the ends and corners (n, 3) [m]; no corner straight
    """
    along = _directions(points)
    normal = np.cross(along[:-1], along[1:])
    sine = (along[1:-1] * np.cross(normal[:-1], normal[1:])).sum(axis=1)
    cosine = (normal[:-1] * normal[1:]).sum(axis=1)
    found: Floats = np.arctan2(sine, cosine)
    return found


def without_straight(points: ArrayLike) -> Floats:
    """The way without corners at which it runs straight on.

    points: x, y, z of the ends and corners (n, 3) [m]
    """
    kept = np.asarray(points, dtype=float)
    straight = np.flatnonzero(corner_angles(kept) < STRAIGHT) if len(kept) > 2 else np.array([], dtype=int)
    return np.delete(kept, straight + 1, axis=0)


def _directions(points: ArrayLike) -> Floats:
    steps = np.diff(np.asarray(points, dtype=float), axis=0)
    found: Floats = steps / np.linalg.norm(steps, axis=1)[:, None]
    return found


@dataclass(frozen=True)
class BentTube:
    """A tube bent with one radius.

    radius: of its middle line [m]
    legs: from corner to corner [m]
    angles: of its bends [rad]
    turns: rotation of each bend's plane against that of the bend before, 0 for the first [rad]
    straights: straight lengths: before each bend, and after the last [m]
    """

    radius: float
    legs: tuple[float, ...]
    angles: tuple[float, ...]
    turns: tuple[float, ...]
    straights: tuple[float, ...]

    @property
    def arcs(self) -> tuple[float, ...]:
        """Length of the middle line in each bend, R a [m]."""
        return tuple(self.radius * angle for angle in self.angles)

    @property
    def starts(self) -> tuple[float, ...]:
        """Where each bend begins, from the first end along the straight tube [m]."""
        before = (0.0, *np.cumsum(self.arcs)[:-1].tolist()) if self.angles else ()
        return tuple(sum(self.straights[: i + 1]) + arc for i, arc in enumerate(before))

    @property
    def developed(self) -> float:
        """Length of the straight tube it is bent from, on its middle line [m]."""
        return sum(self.straights) + sum(self.arcs)


def bent_tube(points: ArrayLike, *, radius: float) -> BentTube:
    """A tube bent along a way, straight corners left out.

    points: x, y, z of the ends and corners (n, 3) [m]
    radius: of its middle line in the bends [m], above 0
    ValueError: a corner turns straight back, or a leg is shorter than what its bends take of it
    """
    way = without_straight(points)
    angles, lengths = corner_angles(way), legs(way)
    if angles.size and float(angles.max()) > math.pi - STRAIGHT:
        raise ValueError(f"Corner {int(angles.argmax()) + 2} turns straight back; a bend turns by less than that.")
    offs = [0.0, *(take_off(radius=radius, angle=float(one)) for one in angles), 0.0]
    straights = [float(leg) - offs[i] - offs[i + 1] for i, leg in enumerate(lengths)]
    short = next((i for i, one in enumerate(straights) if one < -_TOUCH), None)
    if short is not None:
        raise ValueError(
            f"Leg {short + 1} is {1000 * lengths[short]:.0f} mm long, and its bends, of radius {1000 * radius:.0f} mm, "
            f"take {1000 * (offs[short] + offs[short + 1]):.0f} mm of it."
        )
    turns = [0.0, *plane_turns(way).tolist()] if angles.size else []
    spare = [max(0.0, one) for one in straights]
    return BentTube(radius, tuple(lengths.tolist()), tuple(angles.tolist()), tuple(turns), tuple(spare))
