"""First and second moments of the water: corners of a box in closed form, everything else by slices."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely import affinity

from tunwright.handbook.bodies import Cap, Run
from tunwright.handbook.heads import dish
from tunwright.handbook.inertia import from_moments
from tunwright.handbook.liquid import span, wet_moments, wet_volume
from tunwright.handbook.outline import rectangle

NAMES = ("1", "x", "y", "z", "xx", "yy", "zz", "xy", "xz", "yz")
TETRAHEDRON = "closed form of a tetrahedron with three square edges"
SLICES = "slices clipped by shapely, moments of each polygon edge by edge"
SHAPES = ("circle", "ellipse", "free", "super-ellipse", "rounded box")


def corner(long: float, wide: float, deep: float) -> np.ndarray:
    """Moments of x/long + y/wide + z/deep < 1 about its square corner."""
    v = long * wide * deep / 6
    first = np.array([long, wide, deep]) / 4
    square, product = np.array([long, wide, deep]) ** 2 / 10, np.array([long * wide, long * deep, wide * deep]) / 20
    return v * np.concatenate([[1.0], first, square, product])


def carried(m: np.ndarray, y: float) -> np.ndarray:
    """Moments with the corner moved to y and its y axis turned round."""
    one, x, my, z, xx, yy, zz, xy, xz, yz = m
    return np.array([one, x, y * one - my, z, xx, y * y * one - 2 * y * my + yy, zz, y * x - xy, xz, y * z - yz])


@pytest.mark.parametrize("right", [False, True])
def test_water_in_a_corner_of_a_box(check, right: bool) -> None:
    """The surface leans both ways and wets one corner only; mirrored, it wets the other one."""
    tank, (long, wide, deep) = [Run(rectangle(width=2.0, height=1.2), 0.0, 4.0)], (2.6, 1.5, 0.5)
    b = deep / wide if right else -deep / wide
    ours = wet_moments(tank, c=np.array([deep - deep / wide]), a=np.array([-deep / long]), b=b)[0]
    exact = carried(corner(long, wide, deep), 1.0)
    if not right:
        exact = exact * np.array([1, 1, -1, 1, 1, 1, 1, -1, 1, -1])
    side = "right" if right else "left"
    for name, one, two in zip(NAMES, ours, exact, strict=True):
        check(
            f"water in the {side} corner of a box: moment {name}", source=TETRAHEDRON, expected=two, ours=one, tol=1e-9
        )


@pytest.mark.parametrize("shape", SHAPES)
def test_moments_by_slices(check, slicer, random_outline, shape: str) -> None:
    """A shell with a dish at its rear, every surface leaning both ways; differences as shares of the whole tank's."""
    rng = np.random.default_rng(11)
    worst = np.zeros(10)
    for _ in range(3):
        outline, length, depth = random_outline(shape, rng), rng.uniform(2.0, 5.0), rng.uniform(0.1, 0.3)
        polygon, flat = shapely.Polygon(outline.points), math.sqrt(outline.area / math.pi)
        ball = (flat**2 + depth**2) / (2 * depth)
        head = Cap(outline, dish(area=outline.area, depth=depth), length, 1.0, outline.centroid)
        tank = [Run(outline, 0.0, length), head]
        a, b = rng.uniform(-0.2, 0.2), rng.uniform(-0.25, 0.25)
        low, high = span(tank, a=np.array([a]), b=b)
        plane = (float(low[0] + (high[0] - low[0]) * rng.uniform(0.2, 0.8)), a, b)

        def sections(x, p=polygon, start=length, r=ball, d=depth, f=flat):
            scale = np.sqrt(r * r - (r - d + (x - start)) ** 2) / f
            return np.array([affinity.scale(p, k, k, origin="centroid") for k in scale])

        sliced = slicer.moments(lambda x, p=polygon: np.full(len(x), p), 0.0, length, plane, 300)
        sliced = sliced + slicer.moments(sections, length, length + depth, plane, 60)
        ours = wet_moments(tank, c=np.array(plane[:1]), a=np.array([a]), b=b)[0]
        whole = wet_volume(tank, c=np.array([50.0]), a=np.zeros(1))[0][0]
        size = whole * np.array([1, length, 1, 1, length**2, 1, 1, length, length, 1])
        worst = np.maximum(worst, np.abs(ours - sliced) / size)
    for name, off in zip(NAMES, worst, strict=True):
        check(f"{shape} with a dish: worst moment {name}", source=SLICES, expected=0.0, ours=off, tol=1e-5)


@pytest.mark.parametrize("shape", SHAPES)
def test_moments_and_volume_are_one(random_outline, shape: str) -> None:
    """The two ways to the volume agree, and the water's own spread is that of a real body: no negative inertia."""
    rng = np.random.default_rng(5)
    outline = random_outline(shape, rng)
    tank = [Run(outline, 0.0, 3.0), Cap(outline, dish(area=outline.area, depth=0.2), 0.0, -1.0, outline.centroid)]
    c = np.linspace(outline.lowest + 0.05, outline.highest, 9)
    moments = wet_moments(tank, c=c, a=np.full(9, 0.08), b=-0.05)
    volume = wet_volume(tank, c=c, a=np.full(9, 0.08), b=-0.05)[0]
    assert moments[:, 0] == pytest.approx(volume, abs=1e-6 * 3.0 * outline.area)
    for row in moments:
        lump = from_moments(row, 1000.0)
        principal = np.linalg.eigvalsh(lump.inertia)
        assert principal[0] > 0
        assert principal[0] + principal[1] >= principal[2] * (1 - 1e-12)


def test_slope_of_the_volume_is_the_surface(random_outline) -> None:
    """dV/dc is the area of the surface in plan."""
    rng = np.random.default_rng(2)
    for shape in SHAPES:
        outline = random_outline(shape, rng)
        tank = [Run(outline, 0.0, 3.0), Cap(outline, dish(area=outline.area, depth=0.2), 3.0, 1.0, outline.centroid)]
        c = np.linspace(outline.lowest + 0.2, outline.highest - 0.2, 7)
        a = np.full(7, -0.06)
        above, plan = wet_volume(tank, c=c + 1e-5, a=a, b=0.1)
        below = wet_volume(tank, c=c - 1e-5, a=a, b=0.1)[0]
        assert (above - below) / 2e-5 == pytest.approx(plan, rel=2e-3)


def test_no_water_weighs_nothing() -> None:
    tank = [Run(rectangle(width=2.0, height=1.2), 0.0, 4.0)]
    dry = wet_moments(tank, c=np.array([-0.5]), a=np.zeros(1))[0]
    assert dry == pytest.approx(np.zeros(10), abs=1e-15)
    assert from_moments(dry, 1000.0).mass == 0.0
