"""Tank heads: the meridian of each form, its volume, depth and area.

A head is described by its meridian: how the section shrinks (scale k, 1 at the tangent plane, 0 at the crown) with
the distance from the tangent plane. On a circular shell that is the true head. On any other section the one form
allowed besides the flat head is the *dish*: a spherical cap of stated depth over the circle of equal area, whose
sections are the tank's own outline shrunk about its centroid by the cap's scale. The dish keeps the tank's outline at
the seam, and its volume is the closed form of the cap, pi d (3 a^2 + d^2) / 6 with a = sqrt(A / pi).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Form = Literal["flat", "torispherical", "ellipsoidal", "conical", "dish"]


_kept = lru_cache(maxsize=64)  # a head asked for again is the same head


class HeadError(ValueError):
    """A head that cannot exist; the message says why."""


@dataclass(frozen=True)
class Arc:
    """One smooth piece of a meridian, over a parameter from start to end.

    start: first parameter value [rad or -]
    end: last parameter value [rad or -]
    point: parameter -> (distance from the tangent plane [m], scale of the section [-], d(distance)/d(parameter))
    parameter: scale of the section [-] -> parameter, for scales within the piece
    """

    start: float
    end: float
    point: Callable[[Floats], tuple[Floats, Floats, Floats]]
    parameter: Callable[[Floats], Floats]

    def cut(self, scale: Floats) -> Floats:
        """Parameter at which the section has a scale, kept within the piece.

        scale: scale of the section [-]
        """
        return np.clip(self.parameter(np.clip(scale, 0.0, 1.0)), self.start, self.end)


@dataclass(frozen=True)
class Head:
    """A head over a shell section.

    form: flat, torispherical, ellipsoidal, conical or dish
    depth: inside depth from the tangent plane to the crown [m]
    arcs: the meridian, from the tangent plane to the crown
    """

    form: Form
    depth: float
    arcs: tuple[Arc, ...]

    def meridian(self, *, points: int = 24) -> tuple[Floats, Floats]:
        """Points along the meridian for drawing and for surfaces: distance [m] and scale [-].

        points: points on each piece [-], 2 or more
        """
        pieces = [arc.point(np.linspace(arc.start, arc.end, points))[:2] for arc in self.arcs]
        if not pieces:
            return np.zeros(1), np.ones(1)
        distance = np.concatenate([p[0] if i == 0 else p[0][1:] for i, p in enumerate(pieces)])
        scale = np.concatenate([p[1] if i == 0 else p[1][1:] for i, p in enumerate(pieces)])
        return distance, scale


def flat() -> Head:
    """A flat head: no volume beyond the tangent plane."""
    return Head("flat", 0.0, ())


@_kept
def ellipsoidal(*, radius: float, depth: float | None = None) -> Head:
    """Half an ellipsoid of revolution; 2:1 (depth = radius / 2) unless a depth is given. V = 2/3 pi R^2 d.

    radius: inside radius of the shell [m], above 0
    depth: inside depth [m], above 0
    """
    deep = _above_zero("depth", 0.5 * radius if depth is None else depth)
    _above_zero("radius", radius)
    arc = Arc(0.0, math.pi / 2, lambda t: (deep * np.sin(t), np.cos(t), deep * np.cos(t)), np.arccos)
    return Head("ellipsoidal", deep, (arc,))


@_kept
def torispherical(*, radius: float, crown: float | None = None, knuckle: float | None = None) -> Head:
    """A flanged and dished head: a spherical crown joined to the shell by a tangent knuckle.

    depth = L - sqrt((L - r)^2 - (R - r)^2), with L the crown and r the knuckle radius (ASME VIII-1 UG-32, DIN 28011).

    radius: inside radius of the shell R [m], above 0
    crown: inside crown radius L [m], R to 20 R; the diameter unless given
    knuckle: inside knuckle radius r [m], 0 to R; 10 % of the diameter unless given
    """
    _above_zero("radius", radius)
    big = 2 * radius if crown is None else crown
    small = 0.2 * radius if knuckle is None else knuckle
    if not radius <= big <= 20 * radius:
        raise HeadError(
            f"the crown radius must lie between the tank's radius {radius:g} m and 20 times it, not {big:g} m"
        )
    if not 0 <= small < radius:
        raise HeadError(f"the knuckle radius must lie between 0 and the tank's radius {radius:g} m, not {small:g} m")
    rise = math.sqrt((big - small) ** 2 - (radius - small) ** 2)
    deep = big - rise
    crown_angle = math.asin((radius - small) / (big - small))
    knuckle_angle = math.pi / 2 - crown_angle
    ring = radius - small

    def on_knuckle(t: Floats) -> tuple[Floats, Floats, Floats]:
        return small * np.sin(t), (ring + small * np.cos(t)) / radius, small * np.cos(t)

    def on_crown(t: Floats) -> tuple[Floats, Floats, Floats]:
        left = crown_angle - t
        return big * np.cos(left) - rise, big * np.sin(left) / radius, big * np.sin(left)

    knuckle_arc = Arc(0.0, knuckle_angle, on_knuckle, lambda k: np.arccos(np.clip((k * radius - ring) / small, -1, 1)))
    crown_arc = Arc(0.0, crown_angle, on_crown, lambda k: crown_angle - np.arcsin(np.clip(k * radius / big, 0, 1)))
    return Head("torispherical", deep, (knuckle_arc, crown_arc) if small else (crown_arc,))


@_kept
def conical(*, depth: float) -> Head:
    """A cone to a point: V = A d / 3 over a section of area A.

    depth: inside depth [m], above 0
    """
    _above_zero("depth", depth)
    arc = Arc(0.0, 1.0, lambda t: (depth * t, 1.0 - t, np.full_like(t, depth)), lambda k: 1.0 - k)
    return Head("conical", depth, (arc,))


@_kept
def dish(*, area: float, depth: float) -> Head:
    """A shallow dish on any section: a spherical cap of the stated depth over the circle of equal area.

    V = pi d (3 a^2 + d^2) / 6 with a = sqrt(area / pi).

    area: area of the tank's section [m2], above 0
    depth: inside depth of the dish [m], above 0 and at most a
    """
    _above_zero("area", area)
    _above_zero("depth", depth)
    a = math.sqrt(area / math.pi)
    if depth > a:
        raise HeadError(f"a dish of {depth:g} m is deeper than a half ball over the section, {a:.3f} m")
    sphere = (a * a + depth * depth) / (2 * depth)
    edge = math.asin(min(1.0, a / sphere))

    def point(t: Floats) -> tuple[Floats, Floats, Floats]:
        left = edge - t
        return sphere * np.cos(left) - (sphere - depth), sphere * np.sin(left) / a, sphere * np.sin(left)

    return Head("dish", depth, (Arc(0.0, edge, point, lambda k: edge - np.arcsin(np.clip(k * a / sphere, 0, 1))),))


def _above_zero(name: str, value: float) -> float:
    if not (value > 0 and math.isfinite(value)):
        raise HeadError(f"the {name} of a head must be above 0, not {value:g}")
    return value
