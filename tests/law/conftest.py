"""What the law tests share: builds made of TOML, and a second way to measure water, by slicing with shapely."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray

from tunwright.build.reading import read_text
from tunwright.handbook.outline import Outline, ellipse, polygon, rounded_box, super_ellipse
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]

TANK = """
[tank]
middle = "3 m"
length = "4 m"
bottom = "1.2 m"
shell = "4 mm"
dry_mass = "1000 kg"
dry_centre = "2 m"
"""
TWO_AXLES = """
format = 1
[order]
title = "made for a test"
[chassis]
gross_rating = "60 t"
cg_height = "1.0 m"
[[chassis.axle]]
name = "front"
at = "0 m"
kerb_load = "4000 kg"
rating = "20 t"
steered = true
[[chassis.axle]]
name = "rear"
at = "4 m"
kerb_load = "3000 kg"
rating = "40 t"
driven = true
"""
BOX = """
[tank.section]
shape = "rectangle"
width = "2 m"
height = "1 m"
"""


@pytest.fixture(scope="session")
def truck_of() -> Callable[[str], Truck]:
    """The truck of a whole build file."""
    return lambda text: Truck(read_text(text).build)


@pytest.fixture(scope="session")
def tank_of() -> Callable[..., Truck]:
    """A truck on two axles with a tank; the tank's keys and tables may be changed."""

    def make(section: str = BOX, more: str = "", *, tank: str = TANK) -> Truck:
        return Truck(read_text(TWO_AXLES + tank + section + more).build)

    return make


@dataclass(frozen=True)
class Slicer:
    """Water by slices across the tank, each slice clipped by shapely."""

    def below(self, sections: Floats, x: Floats, c: float, a: float, b: float) -> Floats:
        """The wet part of each section below z = c + a x + b y."""
        wide, deep = 9.0, -60.0
        at = np.broadcast_to(c + a * x, x.shape)
        corners = [(-wide, deep + 0 * at), (wide, deep + 0 * at), (wide, at + wide * b), (-wide, at - wide * b)]
        half = np.stack([np.stack([np.full_like(at, y), z], axis=-1) for y, z in corners], axis=1)
        wet: Floats = shapely.intersection(sections, shapely.polygons(half))
        return wet

    def volume(
        self,
        section_at: Callable[[Floats], Floats],
        start: float,
        end: float,
        plane: tuple[float, float, float],
        slices: int,
    ) -> float:
        """Volume below a plane (c, a, b) by slices of equal thickness, each measured at its middle."""
        thick = (end - start) / slices
        x = start + thick * (np.arange(slices) + 0.5)
        return float(shapely.area(self.below(section_at(x), x, *plane)).sum() * thick)

    def moments(
        self,
        section_at: Callable[[Floats], Floats],
        start: float,
        end: float,
        plane: tuple[float, float, float],
        slices: int,
    ) -> Floats:
        """Moments 1, x, y, z, xx, yy, zz, xy, xz, yz of the water, slice by slice."""
        thick = (end - start) / slices
        x = start + thick * (np.arange(slices) + 0.5)
        rows = np.array([self.section_moments(wet) for wet in self.below(section_at(x), x, *plane)])
        one, y, z, yy, yz, zz = rows.T
        xx = x * x + thick * thick / 12
        ten: Floats = thick * np.stack([one, x * one, y, z, xx * one, yy, zz, x * y, x * z, yz], axis=1).sum(axis=0)
        return ten

    @staticmethod
    def section_moments(shape: shapely.Geometry) -> Floats:
        """1, y, z, yy, yz, zz over a polygon: each edge's triangle with the origin, exact to the second degree."""
        total = np.zeros(6)
        for part in shapely.get_parts(shape):
            if not part.area:
                continue
            p = np.asarray(shapely.get_exterior_ring(part).coords)[:-1]
            q = np.roll(p, -1, axis=0)
            area = 0.5 * (p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1])
            area = area * np.sign(area.sum())
            for middle in (p / 2, q / 2, (p + q) / 2):
                y, z = middle.T
                total += (area / 3 * np.stack([np.ones_like(y), y, z, y * y, y * z, z * z])).sum(axis=1)
        return total


@pytest.fixture(scope="session")
def slicer() -> Slicer:
    """Water by slicing with shapely."""
    return Slicer()


def _free(u: Callable[..., Floats]) -> Outline:
    count = int(u(5, 12))
    turn = (np.arange(count) + u(0, 0.5, count)) * 2 * math.pi / count
    reach = u(0.6, 1.1, count)
    return polygon(np.column_stack([reach * np.cos(turn), 1.2 + reach * np.sin(turn)]))


@pytest.fixture(scope="session")
def random_outline() -> Callable[[str, np.random.Generator], Outline]:
    """An outline of a shape with random measures."""

    def make(shape: str, rng: np.random.Generator) -> Outline:
        u = rng.uniform
        if shape == "circle":
            size = u(1.2, 2.4)
            return ellipse(width=size, height=size)
        if shape == "free":
            return _free(u)
        wide, high = u(1.8, 2.5), u(1.1, 1.6)
        if shape == "ellipse":
            return ellipse(width=wide, height=high)
        if shape == "super-ellipse":
            return super_ellipse(width=wide, height=high, exponent=u(2, 8))
        return rounded_box(
            width=wide,
            height=high,
            top_radius=u(3, 6),
            side_radius=u(2, 4),
            bottom_radius=u(3, 6),
            top_corner=u(0.2, 0.4),
            bottom_corner=u(0.2, 0.4),
        )

    return make
