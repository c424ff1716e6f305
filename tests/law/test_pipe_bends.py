"""Bent pipe: the table of lengths, rotations and angles leads back to its points; its length is that of its curve."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from tunwright.handbook.pipe_bends import (
    bent_tube,
    corner_angles,
    legs,
    mitre_cut,
    plane_turns,
    take_off,
    without_straight,
)

Check = Callable[..., None]
DEG = math.pi / 180


def led_back(
    *, straights: tuple[float, ...], turns: tuple[float, ...], angles: tuple[float, ...], radius: float
) -> np.ndarray:
    """Ends and corners out of a table: from the origin along x, the first bend, of rotation 0, towards y."""
    along, normal = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
    offs = [0.0, *(radius * math.tan(angle / 2) for angle in angles), 0.0]
    points = [np.zeros(3)]
    for i, straight in enumerate(straights):
        points.append(points[-1] + along * (offs[i] + straight + offs[i + 1]))
        if i < len(angles):
            normal = Rotation.from_rotvec(turns[i] * along).apply(normal)
            along = Rotation.from_rotvec(angles[i] * normal).apply(along)
    return np.array(points)


def some_way(seed: int, corners: int) -> np.ndarray:
    """A way in space with legs of half a metre and more, no corner straight or turning back."""
    rng = np.random.default_rng(seed)
    while True:
        points = np.cumsum(np.vstack([np.zeros(3), rng.uniform(-1.5, 1.5, (corners + 1, 3))]), axis=0)
        angles = corner_angles(points)
        if legs(points).min() > 0.5 and angles.min() > 10 * DEG and angles.max() < 140 * DEG:
            return points


def moved(points: np.ndarray, onto: np.ndarray) -> np.ndarray:
    """Points moved and turned, never mirrored, so that they lie on others as well as they can."""
    middle, wanted = points.mean(axis=0), onto.mean(axis=0)
    turn, _ = Rotation.align_vectors(onto - wanted, points - middle)
    return turn.apply(points - middle) + wanted


@pytest.mark.parametrize("seed", range(12))
def test_the_table_leads_back_to_the_points(check: Check, seed: int) -> None:
    points, radius = some_way(seed, 2 + seed % 5), 0.05
    tube = bent_tube(points, radius=radius)
    back = led_back(straights=tube.straights, turns=tube.turns, angles=tube.angles, radius=radius)
    off = float(np.abs(moved(back, points) - points).max())
    check("points out of their own table, moved but not mirrored", source="round trip", expected=0.0, ours=1e3 * off,
          tol=1e-6, unit="mm")


@pytest.mark.parametrize("seed", [2, 3, 4])
def test_rotations_the_other_way_are_the_mirror_image(seed: int) -> None:
    points = some_way(seed, 3)
    tube = bent_tube(points, radius=0.05)
    mirror = bent_tube(points * np.array([1.0, -1.0, 1.0]), radius=0.05)
    assert mirror.turns == pytest.approx([-one for one in tube.turns])
    assert mirror.angles == pytest.approx(tube.angles)
    wrong = led_back(straights=tube.straights, turns=mirror.turns, angles=tube.angles, radius=0.05)
    assert np.abs(moved(wrong, points) - points).max() > 0.01


@pytest.mark.parametrize("seed", range(6))
def test_a_table_does_not_change_when_the_whole_pipe_is_turned(seed: int) -> None:
    points = some_way(seed, 4)
    turned = Rotation.random(random_state=seed).apply(points) + np.array([3.0, -1.0, 0.5])
    one, other = bent_tube(points, radius=0.06), bent_tube(turned, radius=0.06)
    assert other.straights == pytest.approx(one.straights)
    assert other.turns == pytest.approx(one.turns)


def curve(points: np.ndarray, radius: float, pieces: int) -> np.ndarray:
    """The middle line of a bent pipe, as a fine chain: straight to each bend, around its own centre, and on."""
    chain = [points[0]]
    for before, at, behind in zip(points, points[1:], points[2:], strict=False):
        a, b = (before - at) / np.linalg.norm(before - at), (behind - at) / np.linalg.norm(behind - at)
        between = math.acos(float(a @ b))  # angle inside the corner
        bisector = (a + b) / np.linalg.norm(a + b)
        centre = at + bisector * radius / math.sin(between / 2)
        first, last = (at + one * radius / math.tan(between / 2) - centre for one in (a, b))
        sweep = math.pi - between
        chain += [
            centre + (math.sin((1 - t) * sweep) * first + math.sin(t * sweep) * last) / math.sin(sweep)
            for t in np.linspace(0.0, 1.0, pieces)
        ]
    return np.array([*chain, points[-1]])


@pytest.mark.parametrize("seed", range(6))
def test_the_developed_length_is_that_of_the_curve(check: Check, seed: int) -> None:
    points, radius = some_way(seed, 4), 0.07
    found = [float(legs(curve(points, radius, pieces)).sum()) for pieces in (401, 801)]
    fine = found[1] + (found[1] - found[0]) / 3  # the error of chords falls with the square of their length
    ours = bent_tube(points, radius=radius).developed
    check("developed length of a bent pipe", source="chords along its curve, extrapolated", expected=1e3 * fine,
          ours=1e3 * ours, tol=1e-6, unit="mm")


def test_marks_along_the_tube(check: Check) -> None:
    """A pipe that goes 1 m along x, 0.8 m along y, 0.6 m along z, bent by 0.15 m: two quarter bends."""
    tube = bent_tube([(0, 0, 0), (1, 0, 0), (1, 0.8, 0), (1, 0.8, 0.6)], radius=0.15)
    quarter = 0.15 * math.pi / 2
    for what, expected, ours in (
        ("first bend begins at", 0.85, tube.starts[0]),
        ("second bend begins at", 0.85 + quarter + 0.5, tube.starts[1]),
        ("rotation between the bends", 90.0, math.degrees(tube.turns[1])),
        ("straight that is left", 0.45, tube.straights[2]),
        ("developed length", 0.85 + 0.5 + 0.45 + 2 * quarter, tube.developed),
    ):
        check(what, source="worked by hand", expected=expected, ours=ours, tol=1e-9)


@pytest.mark.parametrize(
    ("last", "degrees"),
    [((1, 1, 1), 90), ((1, 1, -1), -90), ((2, 1, 0), 180), ((0, 1, 0), 0), ((1, 1 + 1e-12, 1), 90)],
)
def test_rotation_is_right_handed_about_the_leg(last: tuple[float, float, float], degrees: float) -> None:
    """Seen along the leg from (1, 0, 0) to (1, 1, 0), the next bend turns clockwise from left over up to right."""
    turn = plane_turns([(0, 0, 0), (1, 0, 0), (1, 1, 0), last])[0]
    assert math.cos(turn) == pytest.approx(math.cos(degrees * DEG), abs=1e-9)
    assert math.sin(turn) == pytest.approx(math.sin(degrees * DEG), abs=1e-9)


def test_take_offs_of_known_angles(check: Check) -> None:
    for degrees, part in ((90, 1.0), (60, 1 / math.sqrt(3)), (45, math.sqrt(2) - 1), (120, math.sqrt(3))):
        check(f"take-off of {degrees} degrees over the radius", source="tangent of half the angle, closed form",
              expected=part, ours=take_off(radius=1.0, angle=degrees * DEG), tol=1e-12)


def test_segments_turn_as_far_as_the_corner(check: Check) -> None:
    """Each weld joins two cuts, and each cut turns the pipe by its own angle off square."""
    for welds in (1, 2, 3):
        cut = mitre_cut(angle=37 * DEG, welds=welds)
        check(f"{welds} welds", source="sum over the cuts", expected=37.0, ours=2 * welds * cut / DEG, tol=1e-12)


def test_straight_corners_are_left_out() -> None:
    points = [(0, 0, 0), (1, 0, 0), (2, 0, 0), (2, 1, 0), (2, 2, 0)]
    assert without_straight(points).tolist() == [[0, 0, 0], [2, 0, 0], [2, 2, 0]]
    tube = bent_tube(points, radius=0.2)
    assert (len(tube.angles), tube.legs) == (1, (2.0, 2.0))
    straight = bent_tube(points[:3], radius=0.2)
    assert (straight.angles, straight.starts, straight.developed) == ((), (), 2.0)


def test_bends_that_just_touch_are_bent_and_bends_that_overlap_are_refused() -> None:
    points = [(0, 0, 0), (1, 0, 0), (1, 0.3, 0), (2, 0.3, 0)]
    assert bent_tube(points, radius=0.15).straights[1] == pytest.approx(0.0, abs=1e-12)
    with pytest.raises(ValueError, match="Leg 2 is 300 mm long, and its bends, of radius 160 mm, take 320 mm of it"):
        bent_tube(points, radius=0.16)
    with pytest.raises(ValueError, match="Corner 2 turns straight back"):
        bent_tube([(0, 0, 0), (1, 0, 0), (0, 0, 0)], radius=0.1)
