"""Part-filled tanks: fractions, centroids, tanks with heads, and the cylinder cut by a slanting plane."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.handbook.bodies import Body, Cap, Run
from tunwright.handbook.heads import Head, conical, ellipsoidal, flat, torispherical
from tunwright.handbook.liquid import wet_moments, wet_volume
from tunwright.handbook.outline import ellipse

PERRY = "Perry's Chemical Engineers' Handbook, volume of partially filled horizontal cylinders; from memory"
SEGMENT = "CRC / Roark Table A.1, circular segment, 4 R sin^3(t/2) / (3 (t - sin t)); from memory"
JONES = "D. Jones, Computing Fluid Tank Volumes, Chemical Processing: worked example, read in a public copy"
HOOF = "Archimedes, cylindrical wedge cut through a diameter of its end, V = 2/3 R^2 h; exact, from memory"
INCH = 0.0254
GALLON = 231 * INCH**3


def lying(diameter: float, length: float, head: Head) -> list[Body]:
    section = ellipse(width=diameter, height=diameter)
    middle = (0.0, diameter / 2)
    caps = [Cap(section, head, 0.0, -1.0, middle), Cap(section, head, length, 1.0, middle)]
    return [Run(section, 0.0, length), *(caps if head.arcs else [])]


def held(tank: list[Body], level: float) -> float:
    return float(wet_volume(tank, c=np.array([level]), a=np.zeros(1))[0][0])


@pytest.mark.parametrize(
    ("level", "fraction"),
    [
        (0.05, 0.01869),
        (0.10, 0.05204),
        (0.20, 0.14238),
        (0.25, 0.19550),
        (0.30, 0.25232),
        (0.40, 0.37353),
        (0.50, 0.5),
        (0.60, 0.62647),
        (0.80, 0.85762),
        (0.90, 0.94796),
    ],
)
def test_fraction_of_a_lying_cylinder(check, level: float, fraction: float) -> None:
    tank = lying(1.0, 1.0, flat())
    ours = held(tank, level) / held(tank, 1.0)
    check(
        f"part of the volume of a lying cylinder, h/D = {level:.2f}",
        source=PERRY,
        expected=fraction,
        ours=ours,
        tol=5e-6,
    )


def test_centroid_of_a_circular_segment(check) -> None:
    half, quarter = wet_moments(lying(1.0, 3.0, flat()), c=np.array([0.5, 0.25]), a=np.zeros(2))
    source = SEGMENT
    depth = (0.5 - half[3] / half[0]) / 0.5
    check("semicircle: centroid below the centre, in radii", source=source, expected=0.424413, ours=depth, tol=5e-7)
    check(
        "semicircle: centroid above the bottom, in diameters",
        source=source,
        expected=0.287793,
        ours=half[3] / half[0],
        tol=5e-7,
    )
    depth = (0.5 - quarter[3] / quarter[0]) / 0.5
    check("h/D = 0.25: centroid below the centre, in radii", source=source, expected=0.70502, ours=depth, tol=5e-6)
    check(
        "h/D = 0.25: centroid above the bottom, in diameters",
        source=source,
        expected=0.14749,
        ours=quarter[3] / quarter[0],
        tol=5e-6,
    )


HEADS = {
    "ellipsoidal, 42 in deep": ellipsoidal(radius=54 * INCH, depth=42 * INCH),
    "torispherical, L = D, r = 6 % D": torispherical(radius=54 * INCH, crown=108 * INCH, knuckle=0.06 * 108 * INCH),
    "conical, 42 in deep": conical(depth=42 * INCH),
}


@pytest.mark.parametrize(
    ("head", "inches", "gallons", "tol"),
    [
        ("ellipsoidal, 42 in deep", 36, 2380.96, 0.005),
        ("ellipsoidal, 42 in deep", 84, 7103.45, 0.005),
        ("ellipsoidal, 42 in deep", 108, 8407.39, 0.005),
        ("torispherical, L = D, r = 6 % D", 1, 9.580, 0.0005),
        ("torispherical, L = D, r = 6 % D", 36, 2028.63, 0.005),
        ("torispherical, L = D, r = 6 % D", 84, 5939.90, 0.005),
        ("torispherical, L = D, r = 6 % D", 108, 7069.99, 0.005),
        ("conical, 42 in deep", 36, 2041.19, 0.005),
        ("conical, 42 in deep", 84, 6180.54, 0.005),
        ("conical, 42 in deep", 108, 7296.98, 0.005),
    ],
)
def test_lying_tank_with_heads(check, head: str, inches: int, gallons: float, tol: float) -> None:
    ours = held(lying(108 * INCH, 156 * INCH, HEADS[head]), inches * INCH) / GALLON
    check(
        f"lying tank 108 x 156 in, heads {head}, level {inches} in",
        source=JONES,
        expected=gallons,
        ours=ours,
        tol=tol,
        unit="US gal",
    )


def test_hoof_cut_from_a_cylinder(check) -> None:
    tank = lying(2.0, 3.0, flat())
    ours = wet_volume(tank, c=np.array([1.0]), a=np.array([-1.0]))[0][0]
    check("hoof, R = 1 m, h = 1 m", source=HOOF, expected=0.66667, ours=ours, tol=5e-6, unit="m3")
    long = wet_volume(tank, c=np.array([1.0]), a=np.array([-1 / 2.5]))[0][0]
    check("hoof, R = 1 m, h = 2.5 m", source=HOOF, expected=2 / 3 * 2.5, ours=long, tol=5e-6, unit="m3")
    assert math.isclose(long / ours, 2.5, rel_tol=1e-6)
