"""Standard tank heads: volume, depth and area of one head without its straight flange, in powers of the diameter."""

from __future__ import annotations

import numpy as np
import pytest

from tunwright.handbook.bodies import Cap
from tunwright.handbook.heads import Head, ellipsoidal, torispherical
from tunwright.handbook.inertia import sheet_moments
from tunwright.handbook.liquid import wet_volume
from tunwright.handbook.outline import ellipse

DIN = "ASME VIII-1 / DIN 28011 head constants; from memory, exact by integrating the profile"
# The handbook figures of the 10 % head, 0.1 D^3 and 0.1935 D (of the outside diameter), are rounded: 1 % and 0.1 % off.
HEADS = {
    "ASME flanged and dished, L = D, r = 6 % D": torispherical(radius=0.5, crown=1.0, knuckle=0.06),
    "torispherical, R = D, r = 10 % D": torispherical(radius=0.5),
    "2:1 half ellipsoid": ellipsoidal(radius=0.5),
}


def volume(head: Head) -> float:
    cap = Cap(ellipse(width=1.0, height=1.0), head, 0.0, 1.0, (0.0, 0.5))
    return float(wet_volume([cap], c=np.array([2.0]), a=np.zeros(1))[0][0])


def area(head: Head) -> float:
    """Area of the head as a sheet of flat cells, taken to infinitely fine ones: the error falls with their square."""
    return (4 * cells(head, 301) - cells(head, 151)) / 3


def cells(head: Head, points: int) -> float:
    """A quarter of the head as a sheet of flat cells, four times."""
    distance, scale = head.meridian(points=points)
    turn = np.linspace(0.0, np.pi / 2, points)
    x = np.broadcast_to(distance[:, None], (len(distance), len(turn)))
    grid = np.stack([x, 0.5 * scale[:, None] * np.cos(turn), 0.5 * scale[:, None] * np.sin(turn)], axis=-1)
    return 4 * float(sheet_moments(grid)[0])


@pytest.mark.parametrize(
    ("name", "constant"),
    [
        ("ASME flanged and dished, L = D, r = 6 % D", 0.080999),
        ("torispherical, R = D, r = 10 % D", 0.098966),
        ("2:1 half ellipsoid", 0.130900),
    ],
)
def test_volume(check, name: str, constant: float) -> None:
    check(f"volume / D^3, {name}", source=DIN, expected=constant, ours=volume(HEADS[name]), tol=5e-7)


@pytest.mark.parametrize(
    ("name", "constant"),
    [
        ("ASME flanged and dished, L = D, r = 6 % D", 0.169338),
        ("torispherical, R = D, r = 10 % D", 0.193774),
        ("2:1 half ellipsoid", 0.25),
    ],
)
def test_depth(check, name: str, constant: float) -> None:
    check(f"depth / D, {name}", source=DIN, expected=constant, ours=HEADS[name].depth, tol=5e-7)


@pytest.mark.parametrize(
    ("name", "constant", "tol"),
    [
        ("ASME flanged and dished, L = D, r = 6 % D", 0.93058, 5e-6),
        ("torispherical, R = D, r = 10 % D", 0.98999, 5e-6),
        ("2:1 half ellipsoid", 1.083985, 5e-7),
    ],
)
def test_area(check, name: str, constant: float, tol: float) -> None:
    check(f"area / D^2, {name}", source=DIN, expected=constant, ours=area(HEADS[name]), tol=tol)
