"""Outlines and what a level cuts off them, against closed forms, direct integration and shapely."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from scipy.integrate import quad

from tunwright.handbook.levels import level_table
from tunwright.handbook.outline import clip_to_box, ellipse, polygon, rectangle, rounded_box, super_ellipse

EXACT = "closed form of the circular segment"
LAME = "area of Lame's curve by adaptive integration of its equation"
TANGENT = "box as all places a ball of the corner's radius can reach, integrated over its height"
SHAPELY = "polygon clipped by shapely"
SHAPES = ("circle", "ellipse", "free", "super-ellipse", "rounded box")


def area_below(outline, level) -> np.ndarray:
    return level_table(outline).area_and_width(np.atleast_1d(level))[0]


def test_circle_below_every_level(check) -> None:
    """The outline promises the area under any level to a hundred-millionth of the whole."""
    level = np.linspace(0.0, 2.0, 2001)
    exact = np.arccos(1 - level) - (1 - level) * np.sqrt(np.maximum(2 * level - level * level, 0.0))
    worst = np.abs(area_below(ellipse(width=2.0, height=2.0), level) - exact).max() / np.pi
    check("circle: worst area below a level, of the whole", source=EXACT, expected=0.0, ours=worst, tol=1e-8)
    flat = np.abs(area_below(ellipse(width=2.4, height=1.4), 0.7 * level) - exact * 1.2 * 0.7).max() / (np.pi * 0.84)
    check("ellipse: worst area below a level, of the whole", source=EXACT, expected=0.0, ours=flat, tol=1e-8)


def test_width_of_a_circle(check) -> None:
    """A chord rises 0.02 mm above its arc at most; the width of the surface is off by some of that."""
    level = np.linspace(0.1, 1.9, 200)
    width = level_table(ellipse(width=2.0, height=2.0)).area_and_width(level)[1]
    worst = np.abs(width - 2 * np.sqrt(2 * level - level * level)).max()
    check("circle of 2 m: worst width of the surface", source=EXACT, expected=0.0, ours=worst, tol=1e-4, unit="m")


@pytest.mark.parametrize("exponent", [2.0, 2.5, 4.0, 10.0])
def test_super_ellipse_below_levels(check, exponent: float) -> None:
    outline = super_ellipse(width=2.4, height=1.4, exponent=exponent)
    levels = np.linspace(0.05, 1.35, 27)
    exact = [
        quad(lambda u: 1.68 * (1 - abs(u) ** exponent) ** (1 / exponent), -1, z / 0.7 - 1, epsabs=1e-12, limit=400)[0]
        for z in levels
    ]
    worst = np.abs(area_below(outline, levels) - exact).max() / outline.area
    check(
        f"super-ellipse n = {exponent:g}: worst area below a level, of the whole",
        source=LAME,
        expected=0.0,
        ours=worst,
        tol=2e-8,
    )


def reach(z: np.ndarray, box: dict[str, float]) -> np.ndarray:
    """Half the width of a box of arcs at heights z: the furthest reach of a ball of the corner's radius kept inside the
    two big arcs and the two sides, by golden section over the height of the ball's centre.
    """
    w, h, side = box["width"], box["height"], box["side_radius"]
    upper = z >= h / 2
    r = np.where(upper, box["top_corner"], box["bottom_corner"])
    end = np.where(upper, box["top_radius"], box["bottom_radius"])

    def ball(centre: np.ndarray) -> np.ndarray:
        up = np.where(upper, centre, h - centre)
        across = np.sqrt(np.maximum((side - r) ** 2 - (centre - h / 2) ** 2, 0.0)) + w / 2 - side
        under = np.sqrt(np.maximum((end - r) ** 2 - np.maximum(up - (h - end), 0.0) ** 2, 0.0))
        return np.minimum(across, under) + np.sqrt(np.maximum(r * r - (z - centre) ** 2, 0.0))

    low, high = np.maximum(z - r, r), np.minimum(z + r, h - r)
    golden = (math.sqrt(5) - 1) / 2
    for _ in range(60):
        one, two = high - golden * (high - low), low + golden * (high - low)
        better = ball(one) > ball(two)
        low, high = np.where(better, low, one), np.where(better, two, high)
    return ball((low + high) / 2)


BOXES = [
    {
        "width": 2.3,
        "height": 1.3,
        "top_radius": 4.0,
        "side_radius": 2.2,
        "bottom_radius": 4.0,
        "top_corner": 0.35,
        "bottom_corner": 0.35,
    },
    {
        "width": 2.4,
        "height": 1.5,
        "top_radius": 3.0,
        "side_radius": 4.0,
        "bottom_radius": 6.0,
        "top_corner": 0.2,
        "bottom_corner": 0.4,
    },
]


@pytest.mark.parametrize("box", BOXES, ids=["equal corners", "unequal corners"])
def test_rounded_box(check, box: dict[str, float]) -> None:
    """The whole area is exact. Below a level the chord that is being passed may stand off its arc, on each side by two
    thirds of its length times its rise; the greatest such gap is that of the largest arc.
    """
    outline = rounded_box(**box)
    turn = np.linspace(0.0, np.pi, 20001)
    z = box["height"] / 2 * (1 - np.cos(turn))
    slab = 2 * reach(z, box) * box["height"] / 2 * np.sin(turn)
    exact = np.concatenate([[0.0], np.cumsum(np.diff(turn) * (slab[1:] + slab[:-1]) / 2)])
    name = f"box of arcs with corners of {box['top_corner']:g} and {box['bottom_corner']:g} m"
    check(f"{name}: area", source=TANGENT, expected=exact[-1], ours=outline.area, tol=1e-8 * exact[-1], unit="m2")
    largest, step = max(box["top_radius"], box["bottom_radius"]), 2 * math.pi / 512
    gap = 2 * (2 / 3) * largest * (1 - math.cos(step / 2)) * largest * step
    worst = np.abs(area_below(outline, z) - exact).max()
    check(f"{name}: worst area below a level", source=TANGENT, expected=0.0, ours=worst, tol=gap, unit="m2")


def test_rounded_rectangle_closed_form(check) -> None:
    outline = rectangle(width=2.2, height=1.3, corner_radius=0.25)
    closed = 2.2 * 1.3 - (4 - np.pi) * 0.25**2
    check(
        "rectangle with round corners: area",
        source="closed form",
        expected=closed,
        ours=outline.area,
        tol=1e-9,
        unit="m2",
    )
    # a corner turns through 129 chords: its length is short of the arc by less than a hundred-thousandth
    around = 2 * (1.7 + 0.8) + 2 * np.pi * 0.25
    check(
        "rectangle with round corners: length of the outline",
        source="closed form",
        expected=around,
        ours=outline.perimeter,
        tol=3e-5,
        unit="m",
    )


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("side_slope", [0.0, -0.21])
def test_moments_below_levels(check, slicer, random_outline, shape: str, side_slope: float) -> None:
    """Area, first and second moments below a slanting line, and its width, all as parts of a one-metre square's."""
    rng = np.random.default_rng(7)
    worst = np.zeros(7)
    for _ in range(6):
        outline = random_outline(shape, rng)
        table = level_table(outline, side_slope)
        levels = table.lowest + (table.highest - table.lowest) * np.append(rng.uniform(0.02, 0.98, 12), [0.0, 1.0])
        wet = slicer.below(np.full(14, shapely.Polygon(outline.points)), np.zeros(14), levels, 0.0, side_slope)
        exact = np.array([slicer.section_moments(part) for part in wet])
        line = [shapely.LineString([(-9, z - 9 * side_slope), (9, z + 9 * side_slope)]) for z in levels[:12]]
        cut = shapely.length(shapely.intersection(shapely.Polygon(outline.points), line)) / math.hypot(1, side_slope)
        worst[:6] = np.maximum(worst[:6], np.abs(table.moments(levels) - exact).max(axis=0))
        worst[6] = max(worst[6], np.abs(table.area_and_width(levels)[1][:12] - cut).max())
    for name, off in zip(("1", "y", "z", "yy", "yz", "zz", "width of the surface"), worst, strict=True):
        check(
            f"{shape}, side slope {side_slope:g}: worst moment {name}", source=SHAPELY, expected=0.0, ours=off, tol=1e-8
        )


@pytest.mark.parametrize("shape", SHAPES)
def test_area_centroid_and_strip(check, random_outline, shape: str) -> None:
    rng = np.random.default_rng(3)
    for _ in range(4):
        outline = random_outline(shape, rng)
        ref = shapely.Polygon(outline.points)
        assert ref.is_valid
        check(f"{shape}: area", source=SHAPELY, expected=ref.area, ours=outline.area, tol=1e-12, unit="m2")
        assert outline.centroid == pytest.approx((ref.centroid.x, ref.centroid.y), abs=1e-9)
        sides = (outline.left, outline.lowest, outline.right, outline.highest)
        assert sides == pytest.approx(ref.bounds, abs=1e-12)
        strip = clip_to_box(outline, y_from=-0.2, y_to=0.35, z_from=0.4, z_to=np.inf)
        check(
            f"{shape}: area of a strip cut out",
            source=SHAPELY,
            tol=1e-9,
            unit="m2",
            expected=ref.intersection(shapely.box(-0.2, 0.4, 0.35, 9)).area,
            ours=strip.area,
        )
        low, high = outline.chord_at(0.1)
        chord = ref.intersection(shapely.LineString([(0.1, -9), (0.1, 9)])).bounds
        assert (low, high) == pytest.approx((chord[1], chord[3]), abs=1e-9)


def test_an_outline_given_clockwise_is_turned(slicer) -> None:
    points = np.array([(-1.0, 0.0), (-0.7, 1.1), (0.9, 1.2), (1.0, 0.1)])
    one, two = polygon(points), polygon(points[::-1])
    assert one.area == pytest.approx(two.area, rel=1e-12)
    assert one.area == pytest.approx(shapely.Polygon(points).area, rel=1e-12)
    assert level_table(one).moments(np.array([0.6])) == pytest.approx(
        level_table(two).moments(np.array([0.6])), rel=1e-9
    )
