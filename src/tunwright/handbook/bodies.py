"""The bodies a tank is made of, and where each is cut to measure what is wet.

Every body is an outline carried along x under y' = y0 + ky y, z' = z0 + kz z. A run carries it straight (a shell, a
box, a lengthwise pipe), evenly stretched downwards where a floor falls. A cap shrinks it along the meridian of a head.
Plates are thin slabs at given places; slices have an outline each. A body may count negative: a baffle, a recess, a
pipe inside.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.heads import Arc, Head
from tunwright.handbook.levels import LevelTable, level_table
from tunwright.handbook.outline import Outline

Floats = NDArray[np.float64]


@lru_cache(maxsize=8)
def _gauss(count: int) -> tuple[Floats, Floats]:
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return nodes, weights


def _eased(count: int) -> tuple[Floats, Floats]:
    """Gauss points in an angle: x = -cos(pi (1 + u) / 2). Wet areas start and end as (distance)^1.5; in the angle
    that is smooth, so few points give many digits.
    """
    nodes, weights = np.polynomial.legendre.leggauss(count)
    angle = 0.5 * math.pi * (1 + nodes)
    return -np.cos(angle), 0.5 * math.pi * weights * np.sin(angle)


_MANY = _eased(12)
_SOME = np.polynomial.legendre.leggauss(6)
_FEW = np.polynomial.legendre.leggauss(2)
_ONE = np.ones((1, 1))
LEVEL = 1e-7
"""Slopes below this are taken as level [-]."""


class Stations(NamedTuple):
    """Cuts through a body: arrays (surfaces, cuts) or broadcastable to it.

    x: place [m]; weight: length it stands for [m]; ky, kz: scales [-]; y0, z0: offsets [m]
    """

    x: Floats
    weight: Floats
    ky: Floats
    kz: Floats
    y0: Floats
    z0: Floats

    def level(self, c: Floats, a: Floats, b: float) -> Floats:
        """The surface z = c + a x + b y seen in the outline's own scale, on its line y = 0 [m].

        c: height of the surface at x = y = 0 [m], (n,)
        a: slope of the surface along x [-], (n,)
        b: slope of the surface along y [-]
        """
        level: Floats = (c[:, None] + a[:, None] * self.x + b * self.y0 - self.z0) / self.kz
        return level


Pieces = list[tuple[LevelTable, Stations]]


class Body(Protocol):
    """Anything with water in it."""

    def volume(self, c: Floats, a: Floats, b: float) -> tuple[Floats, Floats]:
        """Wetted volume [m3] and area of the surface in plan [m2], unsigned.

        c: height of the surface at x = y = 0 [m], (n,)
        a: slope of the surface along x [-], (n,)
        b: slope of the surface along y [-]
        """

    @property
    def sign(self) -> float:
        """+1 holds water, less than 0 displaces it (a plate with openings by its solid share)."""

    def pieces(self, c: Floats, a: Floats, b: float) -> Pieces:
        """Cuts for each surface, with the level table each cut reads.

        c: height of the surface at x = y = 0 [m], (n,)
        a: slope of the surface along x [-], (n,)
        b: slope of the surface along y [-]
        """

    @property
    def extremes(self) -> Floats:
        """Points (n, 3) whose hull holds the body [m]."""


def _cuts(breaks: Floats, rules: list[tuple[Floats, Floats]]) -> tuple[Floats, Floats]:
    """Gauss points between neighbouring breaks (n, k + 1), each gap with a rule of its own."""
    half = 0.5 * np.diff(breaks, axis=1)
    middle = 0.5 * (breaks[:, 1:] + breaks[:, :-1])
    at = [middle[:, i, None] + half[:, i, None] * rule[0] for i, rule in enumerate(rules)]
    weight = [half[:, i, None] * rule[1] for i, rule in enumerate(rules)]
    return np.concatenate(at, axis=1), np.concatenate(weight, axis=1)


class Cut:
    """A body whose volume is summed over its cuts."""

    def pieces(self, c: Floats, a: Floats, b: float) -> Pieces:
        """Cuts for each surface; see `Body`."""
        raise NotImplementedError

    def volume(self, c: Floats, a: Floats, b: float) -> tuple[Floats, Floats]:
        """Wetted volume [m3] and area of the surface in plan [m2]; see `Body`."""
        volume, plan = np.zeros(len(c)), np.zeros(len(c))
        for table, s in self.pieces(c, a, b):
            area, width = table.area_and_width(s.level(c, a, b))
            reach = s.weight * s.ky
            volume += np.sum(reach * s.kz * area, axis=1)
            plan += np.sum(reach * width, axis=1)
        return volume, plan


@dataclass(frozen=True, eq=False)
class Run(Cut):
    """An outline carried straight along x.

    outline: the section
    start: first x [m]
    end: last x [m]
    growth: rate of the stretch in z about `seat`, counted from x = `origin` [1/m]
    seat: height that stays where it is [m]
    origin: x where the stretch is 1 [m]
    sign: +1 holds water, -1 displaces it
    """

    outline: Outline
    start: float
    end: float
    growth: float = 0.0
    seat: float = 0.0
    origin: float = 0.0
    sign: float = 1.0

    def stretch(self, x: Floats) -> Floats:
        """Stretch of the section in z at x [-].

        x: place along the tank [m]
        """
        return 1.0 + self.growth * (x - self.origin)

    def volume(self, c: Floats, a: Floats, b: float) -> tuple[Floats, Floats]:
        """Wetted volume [m3] and area of the surface in plan [m2].

        A run that does not stretch needs no cuts: with S the integral of the wet area over the level, V = (S(end) -
        S(start)) / a, and the area in plan is (A(end) - A(start)) / a. Both are exact for the outline.
        """
        if self.growth:
            return super().volume(c, a, b)
        table, run = level_table(self.outline, b), self.end - self.start
        tilted = np.abs(a) > LEVEL
        middle = c + a * 0.5 * (self.start + self.end)
        area, width = table.area_and_width(middle)
        volume, plan = run * area, run * width
        if tilted.any():
            slope = np.where(tilted, a, 1.0)
            ends = c + a * self.start, c + a * self.end
            summed = [table.area_summed(level) for level in ends]
            areas = [table.area_and_width(level)[0] for level in ends]
            volume = np.where(tilted, (summed[1] - summed[0]) / slope, volume)
            plan = np.where(tilted, (areas[1] - areas[0]) / slope, plan)
        return volume, plan

    def pieces(self, c: Floats, a: Floats, b: float) -> Pieces:
        """Gauss points between the places where the surface meets the floor, a corner or the roof."""
        if self.growth and b:
            return self._sheared(b)
        table = level_table(self.outline, b)
        kink = table.kinks[None, :] - self.seat
        slope = a[:, None] - self.growth * kink
        rise = kink - (c[:, None] - self.seat) - self.growth * self.origin * kink
        with np.errstate(divide="ignore", invalid="ignore"):
            meets = np.where(np.abs(slope) > 1e-12, rise / slope, self.end)
        meets = np.sort(np.clip(meets, self.start, self.end), axis=1)
        ends = np.full((len(c), 1), self.start), np.full((len(c), 1), self.end)
        inner = [_MANY] * (meets.shape[1] - 1)
        x, weight = _cuts(np.concatenate([ends[0], meets, ends[1]], axis=1), [_FEW, *inner, _FEW])
        return [(table, self._stations(x, weight))]

    def _stations(self, x: Floats, weight: Floats) -> Stations:
        kz = self.stretch(x) if self.growth else _ONE
        return Stations(x, weight, _ONE, kz, 0 * _ONE, self.seat * (1 - kz))

    def _sheared(self, b: float) -> Pieces:
        """A stretched run under a side slope: each cut reads a table of its own."""
        nodes, weights = _gauss(10)
        half = 0.5 * (self.end - self.start)
        out: Pieces = []
        for node, weight in zip(nodes, weights, strict=True):
            x = (self.start + half * (1 + node)) * _ONE
            table = level_table(self.outline, b / float(self.stretch(x)[0, 0]))
            out.append((table, self._stations(x, half * weight * _ONE)))
        return out

    @cached_property
    def extremes(self) -> Floats:
        """Both end sections."""
        return np.vstack(
            [
                _section(self.outline, x, 1.0, k, 0.0, self.seat * (1 - k))
                for x in (self.start, self.end)
                for k in (float(self.stretch(np.array(x))),)
            ]
        )


@dataclass(frozen=True, eq=False)
class Cap(Cut):
    """A head: the outline shrunk along a meridian.

    outline: the section at the tangent plane, before its stretch
    head: the meridian
    base: x of the tangent plane [m]
    outward: -1 for a front head, +1 for a rear head
    middle: point (y, z) about which the sections shrink [m]
    stretch: stretch in z of the tangent section about `seat` [-]
    seat: height that stays where it is under the stretch [m]
    """

    outline: Outline
    head: Head
    base: float
    outward: float
    middle: tuple[float, float]
    stretch: float = 1.0
    seat: float = 0.0
    sign: float = 1.0

    def pieces(self, c: Floats, a: Floats, b: float) -> Pieces:
        """Gauss points along the meridian, parted where the surface meets the top or bottom of a section."""
        table = level_table(self.outline, b / self.stretch)
        return [(table, self._along(arc, table, c, a, b)) for arc in self.head.arcs]

    def _along(self, arc: Arc, table: LevelTable, c: Floats, a: Floats, b: float) -> Stations:
        (y, z) = self.middle
        reach = np.array([table.lowest, table.highest]) * self.stretch + self.seat * (1 - self.stretch) - (z - b * y)
        cut = np.full((len(c), 2), 0.5 * (arc.start + arc.end))
        for _ in range(2 if a.any() else 1):  # on the level the cut is exact at once
            x = self.base + self.outward * arc.point(cut)[0]
            cut = arc.cut((c[:, None] + a[:, None] * x - (z - b * y)) / np.where(reach == 0, 1e-9, reach))
        ends = np.full((len(c), 1), arc.start), np.full((len(c), 1), arc.end)
        breaks = np.concatenate([ends[0], np.sort(cut, axis=1), ends[1]], axis=1)
        at, weight = _cuts(breaks, [_MANY, _SOME, _SOME])
        distance, k, rate = arc.point(at)
        k = np.maximum(k, 1e-9)
        kz = k * self.stretch
        z0 = z * (1 - k) + k * self.seat * (1 - self.stretch)
        return Stations(self.base + self.outward * distance, weight * rate, k, kz, y * (1 - k), z0)

    @cached_property
    def extremes(self) -> Floats:
        """Sections along the meridian."""
        distance, scale = self.head.meridian(points=8)
        return np.vstack(
            [
                _section(
                    self.outline,
                    self.base + self.outward * d,
                    k,
                    k * self.stretch,
                    self.middle[0] * (1 - k),
                    self.middle[1] * (1 - k) + k * self.seat * (1 - self.stretch),
                )
                for d, k in zip(distance, scale, strict=True)
            ]
        )


@dataclass(frozen=True, eq=False)
class Slice(Cut):
    """A slice with an outline of its own: a body that has no common section is a row of them.

    outline: its section
    at: place [m]
    length: length it stands for [m]
    sign: +1 holds water, -1 displaces it
    """

    outline: Outline
    at: float
    length: float
    sign: float = 1.0

    def pieces(self, c: Floats, a: Floats, b: float) -> Pieces:
        """One cut."""
        s = Stations(self.at * _ONE, self.length * _ONE, _ONE, _ONE, 0 * _ONE, 0 * _ONE)
        return [(level_table(self.outline, b), s)]

    @cached_property
    def extremes(self) -> Floats:
        """Its section."""
        return _section(self.outline, self.at, 1.0, 1.0, 0.0, 0.0)


def round_slices(centre: float, radius: float, *, count: int = 5) -> list[tuple[float, float, float]]:
    """Slices across an upright round drum: place [m], length [m] and half width [m] of each.

    Gauss-Chebyshev points of the second kind: heights that are polynomials of the place to the degree 2 count - 1 are
    summed exactly over the circle.

    centre: place of its axis [m]
    radius: its radius [m], above 0
    count: number of slices [-], 1 or more
    """
    turn = math.pi * np.arange(1, count + 1) / (count + 1)
    return [
        (centre + radius * math.cos(t), math.pi * radius / (count + 1) * math.sin(t), radius * math.sin(t))
        for t in turn
    ]


@dataclass(frozen=True, eq=False)
class Plates(Cut):
    """Thin plates across the tank, displacing water with their solid part.

    outline: the section they fill
    at: places [m], (n,)
    solid: thickness times solid share of each [m], (n,)
    stretch: x -> stretch in z about `seat` [-]
    seat: height that stays where it is under the stretch [m]
    """

    outline: Outline
    at: Floats
    solid: Floats
    stretch: Callable[[Floats], Floats] = field(default=np.ones_like)
    seat: float = 0.0
    sign: float = -1.0

    def pieces(self, c: Floats, a: Floats, b: float) -> Pieces:
        """One cut a plate."""
        if not len(self.at):
            return []
        k = self.stretch(self.at)
        out: Pieces = []
        for value in np.unique((b / k).round(12)):
            pick = (b / k).round(12) == value
            kz = k[None, pick]
            s = Stations(self.at[None, pick], self.solid[None, pick], _ONE, kz, 0 * _ONE, self.seat * (1 - kz))
            out.append((level_table(self.outline, float(value)), s))
        return out

    @cached_property
    def extremes(self) -> Floats:
        """Nothing: plates stand inside the tank."""
        return np.empty((0, 3))


def _section(outline: Outline, x: float, ky: float, kz: float, y0: float, z0: float) -> Floats:
    """A section of a body as points in space."""
    y, z = outline.points.T
    return np.column_stack([np.full(len(y), x), y0 + ky * y, z0 + kz * z])
