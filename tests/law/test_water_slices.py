"""Volume of water below a tilted surface against slices of the tank clipped by shapely, more and more of them.

The slices are measured in their middles, so their own error falls with the square of their number: the table of checks
shows it falling until the two ways agree. Differences are shares of the whole volume of the tank.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely import affinity

from tunwright.handbook.bodies import Cap, Run
from tunwright.handbook.heads import conical, dish, ellipsoidal, torispherical
from tunwright.handbook.liquid import span, wet_volume
from tunwright.handbook.outline import ellipse, rounded_box, super_ellipse

SHAPELY = "slices across the tank clipped by shapely"
SHAPES = ("circle", "ellipse", "free", "super-ellipse", "rounded box")


def planes(tank, rng: np.random.Generator, count: int) -> list[tuple[float, float, float]]:
    """Surfaces that leave the tank neither empty nor full; every other one level from side to side."""
    found = []
    for i in range(count):
        a, b = rng.uniform(-0.3, 0.3), rng.uniform(-0.3, 0.3) * (i % 2)
        low, high = span(tank, a=np.array([a]), b=b)
        found.append((float(low[0] + (high[0] - low[0]) * rng.uniform(0.1, 0.9)), float(a), float(b)))
    return found


def ours(tank, plane: tuple[float, float, float]) -> float:
    c, a, b = plane
    return float(wet_volume(tank, c=np.array([c]), a=np.array([a]), b=b)[0][0])


def worst_shell(slicer, random_outline, shape: str, slices: tuple[int, ...]) -> np.ndarray:
    """Largest difference over random tanks without heads, for each number of slices."""
    rng = np.random.default_rng(SHAPES.index(shape))
    worst = np.zeros(len(slices))
    for _ in range(4):
        outline, length = random_outline(shape, rng), rng.uniform(2.0, 6.0)
        polygon, tank = shapely.Polygon(outline.points), [Run(outline, 0.0, length)]
        for plane in planes(tank, rng, 2):
            sliced = [slicer.volume(lambda x, p=polygon: np.full(len(x), p), 0.0, length, plane, n) for n in slices]
            worst = np.maximum(worst, np.abs(np.array(sliced) - ours(tank, plane)) / (outline.area * length))
    return worst


@pytest.mark.parametrize("shape", SHAPES)
def test_shell_converges(check, slicer, random_outline, shape: str) -> None:
    worst = worst_shell(slicer, random_outline, shape, (25, 100, 400))
    for slices, off, tol in zip((25, 100, 400), worst, (2e-3, 1.3e-4, 5e-5), strict=True):
        check(
            f"{shape}: worst difference of wet volume with {slices} slices",
            source=SHAPELY,
            expected=0.0,
            ours=off,
            tol=tol,
        )
    assert worst[1] < worst[0] / 4


@pytest.mark.parametrize("shape", SHAPES)
def test_shell_agrees_to_a_millionth(check, slicer, random_outline, shape: str) -> None:
    worst = worst_shell(slicer, random_outline, shape, (1600,))
    check(
        f"{shape}: worst difference of wet volume with 1600 slices",
        source=SHAPELY,
        expected=0.0,
        ours=worst[0],
        tol=1e-6,
    )


@pytest.mark.parametrize(
    ("name", "outline", "plane", "length"),
    [
        (
            "box of arcs on a grade",
            rounded_box(
                width=2.3,
                height=1.3,
                top_radius=4.0,
                side_radius=2.2,
                bottom_radius=4.0,
                top_corner=0.35,
                bottom_corner=0.35,
            ),
            (0.7162, 0.12, 0.0),
            4.9,
        ),
        (
            "super-ellipse, n = 8, steep both ways",
            super_ellipse(width=2.3, height=1.3, exponent=8.0),
            (1.43, -0.5, -0.2),
            2.5,
        ),
    ],
)
def test_curvature_that_jumps(check, slicer, name: str, outline, plane, length: float) -> None:
    """Surfaces that meet the section where an arc joins the next one: worst of many levels for a rule of a few cuts."""
    polygon = shapely.Polygon(outline.points)
    sliced = slicer.volume(lambda x: np.full(len(x), polygon), 0.0, length, plane, 1600)
    ours_ = ours([Run(outline, 0.0, length)], plane)
    check(name, source=SHAPELY, expected=sliced, ours=ours_, tol=1e-6 * outline.area * length, unit="m3")


def round_head(form: str, rng: np.random.Generator):
    """A head on a circle: its outline, the head, and its scale at a distance by the textbook form of the meridian."""
    radius = rng.uniform(0.7, 1.1)
    outline = ellipse(width=2 * radius, height=2 * radius)
    if form == "torispherical":
        crown, knuckle = radius * rng.uniform(1.2, 2.5), radius * rng.uniform(0.1, 0.3)
        rise = math.sqrt((crown - knuckle) ** 2 - (radius - knuckle) ** 2)
        joint = knuckle * rise / (crown - knuckle)

        def scale(u):
            ball = np.sqrt(np.maximum(crown**2 - (u + rise) ** 2, 0.0))
            ring = radius - knuckle + np.sqrt(np.maximum(knuckle**2 - u * u, 0.0))
            return np.where(u <= joint, ring, ball) / radius

        return outline, torispherical(radius=radius, crown=crown, knuckle=knuckle), scale
    depth = rng.uniform(0.15, 0.6)
    if form == "conical":
        return outline, conical(depth=depth), lambda u: 1 - u / depth
    return outline, ellipsoidal(radius=radius, depth=depth), lambda u: np.sqrt(1 - (u / depth) ** 2)


def dished(random_outline, shape: str, rng: np.random.Generator):
    """A dish on any section, its scale that of the ball over the circle of equal area."""
    outline, depth = random_outline(shape, rng), rng.uniform(0.1, 0.35)
    flat = math.sqrt(outline.area / math.pi)
    ball = (flat**2 + depth**2) / (2 * depth)
    return outline, dish(area=outline.area, depth=depth), lambda u: np.sqrt(ball**2 - (ball - depth + u) ** 2) / flat


@pytest.mark.parametrize("form", ["ellipsoidal", "torispherical", "conical", "dish"])
def test_head_converges(check, slicer, random_outline, form: str) -> None:
    rng = np.random.default_rng(len(form))
    numbers = (25, 100, 400)
    worst = np.zeros(3)
    for shape in SHAPES:
        outline, head, scale = dished(random_outline, shape, rng) if form == "dish" else round_head(form, rng)
        polygon, way = shapely.Polygon(outline.points), rng.choice([-1.0, 1.0])
        cap = Cap(outline, head, 1.0, way, outline.centroid)

        def sections(x, p=polygon, f=scale, out=way):
            return np.array([affinity.scale(p, k, k, origin="centroid") for k in f(out * (x - 1.0))])

        whole = ours([cap], (50.0, 0.0, 0.0))
        for plane in planes([cap], rng, 2):
            ends = sorted((1.0, 1.0 + way * head.depth))
            sliced = np.array([slicer.volume(sections, *ends, plane, n) for n in numbers])
            worst = np.maximum(worst, np.abs(sliced - ours([cap], plane)) / whole)
    for slices, off, tol in zip(numbers, worst, (1e-3, 1e-4, 1e-5), strict=True):
        check(
            f"{form} head: worst difference of wet volume with {slices} slices",
            source=SHAPELY,
            expected=0.0,
            ours=off,
            tol=tol,
        )
    assert worst[1] < worst[0] / 4
