"""Axle loads by statics: a load between two axles, the centre of gravity found by raising, braking."""

from __future__ import annotations

import math

import numpy as np

from tunwright.handbook.axle_statics import Support, sharing
from tunwright.handbook.linear_window import interval

MANUAL = "a truck maker's operator's manual, appendix on weight distribution, worked example; read"
HOMEWORK = "statics exercise from a public homework forum, read; the answer recomputed by hand"
RAISED = "raising one axle, h = r + (R' - R) WB / (W tan t), as in makers' body guidelines; recomputed by hand"
GILLESPIE = "Gillespie, Fundamentals of Vehicle Dynamics, eq. 1-7, dW = W (a/g) h / L; from memory, recomputed by hand"


def two_axles(base: float):
    return sharing([Support((0,), (1.0,), (0.0,)), Support((1,), (1.0,), (base,))], 2)


def test_a_load_between_two_axles(check) -> None:
    """The manual prints 62.14 lb on the rear axle and 38.86 lb on the front: the first is cut off, not rounded, and
    the second is a slip, as 62.14 and 38.86 make 101. The right figures, 62.15 and 37.85, follow from its own method.
    """
    front, rear = two_axles(214 * 0.0254).of_force(100.0, 133 * 0.0254)
    check(
        "rear part of 100 lb, 133 in behind the front axle of 214 in",
        source=MANUAL,
        expected=62.15,
        ours=rear,
        tol=5e-3,
    )
    check("front part of 100 lb; printed with a slip as 38.86", source=MANUAL, expected=37.85, ours=front, tol=5e-3)


def test_largest_load_on_the_centre_of_gravity(check) -> None:
    """Empty axles 18 and 12 kN on 5 m, each up to 40 kN: the centre of gravity lies 2 m behind the front axle."""
    axles = two_axles(5.0)
    place = 5.0 * 12 / (18 + 12)
    found = interval(slope=axles.of_force(1.0, place), start=np.array([18.0, 12.0]), limit=np.array([40.0, 40.0]))
    check(
        "largest load at the centre of gravity", source=HOMEWORK, expected=36.67, ours=found.high, tol=5e-3, unit="kN"
    )
    assert found.above == 0
    assert found.low == -math.inf


def test_height_of_the_centre_of_gravity_by_raising(check) -> None:
    """W = 60 kN on 4.2 m, 38 kN on the rear axle, wheels of 0.48 m, the front axle raised by 12 degrees, h = 1.150 m.

    The wheels stand on level supports, so the axle line is the line of our statics and the reactions are upright.
    """
    axles, tilt = two_axles(4.2), math.radians(12)
    x, above_axles = 38 / 60 * 4.2, 1.150 - 0.48
    square = axles.of_force(60 * math.cos(tilt), x) + axles.of_couple(60 * math.sin(tilt) * above_axles)
    check(
        "rear load with the front axle raised by 12 degrees",
        source=RAISED,
        expected=40.0345,
        ours=square[1] / math.cos(tilt),
        tol=5e-5,
        unit="kN",
    )
    per_metre = 60 * math.tan(tilt) * float(axles.of_couple(1.0)[1])
    height = 0.48 + (40.0345 - 38) / per_metre
    check("height of the centre of gravity by raising", source=RAISED, expected=1.150, ours=height, tol=5e-4, unit="m")


def test_braking(check) -> None:
    """W = 160 kN on 4.5 m, centre 2.9 m behind the front axle and 1.6 m high, braked at 0.5 g."""
    axles = two_axles(4.5)
    front, rear = axles.of_force(160.0, 2.9)
    moved = axles.of_couple(-160 * 0.5 * 1.6)
    check("front axle standing", source=GILLESPIE, expected=56.89, ours=front, tol=5e-3, unit="kN")
    check("rear axle standing", source=GILLESPIE, expected=103.11, ours=rear, tol=5e-3, unit="kN")
    check(
        "load moved to the front by braking at 0.5 g",
        source=GILLESPIE,
        expected=28.44,
        ours=moved[0],
        tol=5e-3,
        unit="kN",
    )
    assert moved[1] == -moved[0]
