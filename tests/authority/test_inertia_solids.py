"""Mass moments of inertia of standard bodies, against the closed forms printed in every text on mechanics."""

from __future__ import annotations

import numpy as np
import pytest

from tunwright.handbook.bodies import Body, Cap, Run
from tunwright.handbook.heads import conical, ellipsoidal
from tunwright.handbook.inertia import Mass, from_moments, plate_moments, point, sheet_moments, together
from tunwright.handbook.levels import level_table
from tunwright.handbook.liquid import wet_moments
from tunwright.handbook.outline import ellipse, rectangle

TEXT = "Meriam & Kraige, Engineering Mechanics: Dynamics, table of mass moments of inertia; from memory"
DENSITY = 1000.0


def whole(*bodies: Body) -> Mass:
    return from_moments(wet_moments(bodies, c=np.array([50.0]), a=np.zeros(1))[0], DENSITY)


def agrees(check, what: str, mass: Mass, expected: tuple[float, float, float], tol: float = 1e-6) -> None:
    """Principal moments, as a share of the closed form; the products vanish."""
    for axis, ours, closed in zip("xyz", np.diag(mass.inertia), expected, strict=True):
        check(f"{what}, about {axis}, over the closed form", source=TEXT, expected=1.0, ours=ours / closed, tol=tol)
    off = mass.inertia - np.diag(np.diag(mass.inertia))
    assert np.abs(off).max() < 1e-9 * np.trace(mass.inertia)


def test_box(check) -> None:
    box = whole(Run(rectangle(width=2.0, height=1.2), 0.5, 4.5))
    m = 1000 * 2 * 1.2 * 4
    assert box.mass == pytest.approx(m, rel=1e-12)
    assert box.centre == pytest.approx([2.5, 0.0, 0.6], abs=1e-12)
    agrees(check, "box", box, (m / 12 * (4 + 1.44), m / 12 * (16 + 1.44), m / 12 * (16 + 4)), tol=1e-9)


def test_round_cylinder(check) -> None:
    cylinder = whole(Run(ellipse(width=1.6, height=1.6), 0.0, 5.0))
    m, r = np.pi * 0.64 * 5000, 0.8
    across = m * (3 * r * r + 25) / 12
    agrees(check, "cylinder along x", cylinder, (m * r * r / 2, across, across))


def test_ball_and_half_ball(check) -> None:
    section, half = ellipse(width=1.8, height=1.8), ellipsoidal(radius=0.9, depth=0.9)
    front, rear = (Cap(section, half, 0.0, way, (0.0, 0.9)) for way in (-1.0, 1.0))
    m = DENSITY * 4 / 3 * np.pi * 0.9**3
    agrees(check, "ball", whole(front, rear), (0.4 * m * 0.81,) * 3, tol=1e-5)
    place = whole(rear).centre[0]
    check("half ball, centre from its flat side over R", source=TEXT, expected=3 / 8, ours=place / 0.9, tol=1e-6)


def test_cone(check) -> None:
    cone = whole(Cap(ellipse(width=1.8, height=1.8), conical(depth=1.2), 0.0, 1.0, (0.0, 0.9)))
    m = DENSITY * np.pi * 0.81 * 1.2 / 3
    across = 3 / 80 * m * (4 * 0.81 + 1.44)
    check("cone, centre from its base over its height", source=TEXT, expected=0.25, ours=cone.centre[0] / 1.2, tol=1e-6)
    agrees(check, "cone along x", cone, (0.3 * m * 0.81, across, across), tol=1e-5)


def test_slender_rod(check) -> None:
    """A thousand points in a row; the rod between them is an error of one part in a million."""
    x = 3.0 * (np.arange(1000) + 0.5) / 1000
    rod = together(point(0.02, place, 1.0, 2.0) for place in x)
    assert rod.centre == pytest.approx([1.5, 1.0, 2.0], abs=1e-9)
    ours = rod.inertia[1, 1] / (20 * 9 / 12)
    check("slender rod, across its length, over the closed form", source=TEXT, expected=1.0, ours=ours, tol=2e-6)
    assert rod.inertia[0, 0] == pytest.approx(0.0, abs=1e-9)


def test_rectangular_plate(check) -> None:
    table = level_table(rectangle(width=2.4, height=1.3))
    plate = from_moments(plate_moments(1.7, table.full), 31.4)
    m = 31.4 * 2.4 * 1.3
    agrees(
        check, "thin plate across x", plate, (m / 12 * (2.4**2 + 1.3**2), m / 12 * 1.3**2, m / 12 * 2.4**2), tol=1e-9
    )


def test_round_plate(check) -> None:
    table = level_table(ellipse(width=1.8, height=1.8))
    plate = from_moments(plate_moments(0.3, table.full), 31.4)
    m = 31.4 * np.pi * 0.81
    agrees(check, "thin disc across x", plate, (m * 0.81 / 2, m * 0.81 / 4, m * 0.81 / 4), tol=1e-6)


def ring(radius: float, length: float, points: int = 2001) -> np.ndarray:
    turn = np.linspace(0.0, 2 * np.pi, points)
    circle = np.stack([np.zeros_like(turn), radius * np.cos(turn), radius * np.sin(turn)], axis=-1)
    return np.stack([circle, circle + np.array([length, 0.0, 0.0])])


def test_thin_ring_and_tube(check) -> None:
    hoop = from_moments(sheet_moments(ring(0.9, 1e-4)), 31.4)
    m = 31.4 * 2 * np.pi * 0.9e-4
    assert hoop.mass == pytest.approx(m, rel=1e-5)
    agrees(check, "thin ring around x", hoop, (m * 0.81, m * 0.81 / 2, m * 0.81 / 2), tol=1e-5)
    tube = from_moments(sheet_moments(ring(0.9, 4.0)), 31.4)
    m = 31.4 * 2 * np.pi * 0.9 * 4
    across = m * 0.81 / 2 + m * 16 / 12
    agrees(check, "thin tube along x", tube, (m * 0.81, across, across), tol=1e-5)


def test_thin_half_ball_shell(check) -> None:
    distance, scale = ellipsoidal(radius=0.9, depth=0.9).meridian(points=200)
    turn = np.linspace(0.0, 2 * np.pi, 801)
    x = np.broadcast_to(distance[:, None], (len(distance), len(turn)))
    grid = np.stack([x, 0.9 * scale[:, None] * np.cos(turn), 0.9 * scale[:, None] * np.sin(turn)], axis=-1)
    shell = from_moments(sheet_moments(grid), 1.0)
    m = 2 * np.pi * 0.81
    check(
        "half-ball shell, centre from its rim over R", source=TEXT, expected=0.5, ours=shell.centre[0] / 0.9, tol=2e-5
    )
    agrees(check, "half-ball shell", shell, (2 / 3 * m * 0.81, 5 / 12 * m * 0.81, 5 / 12 * m * 0.81), tol=5e-5)
