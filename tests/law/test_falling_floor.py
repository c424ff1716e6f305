"""A floor that falls to the rear: the lower half of the section stretched down along the tank."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from scipy.integrate import quad

from tunwright.handbook.liquid import wet_volume

PRISMATOID = "prismatoid, L (A0 + 4 Am + A1) / 6"
WEDGE = "closed form of a box on a wedge"
SHAPELY = "slices across the tank clipped by shapely"

TANK = """
[tank]
middle = "3 m"
length = "4 m"
bottom = "1.2 m"
shell = "4 mm"
dry_mass = "1000 kg"
dry_centre = "2 m"
"""
BOX = '[tank.section]\nshape = "rectangle"\nwidth = "2 m"\nheight = "1 m"\n'
ROUND = '[tank.section]\nshape = "circle"\ndiameter = "2 m"\n'
ARCS = """
[tank.section]
shape = "rounded box"
width = "2300 mm"
height = "1300 mm"
top_radius = "4 m"
side_radius = "2.2 m"
bottom_radius = "4 m"
top_corner = "350 mm"
bottom_corner = "300 mm"
"""


def test_falling_floor_in_a_box(check, tank_of) -> None:
    """A box of 2 x 1 m whose floor falls 3 % on 4 m is a box on a wedge, at every level."""
    part = tank_of(BOX, tank=TANK + 'fall = "3 %"\nfall_by = "floor"\n').solid.compartments[0].whole
    check(
        "falling floor in a box: gross", source=WEDGE, expected=2 * 4 * (1 + 0.06), ours=part.gross, tol=1e-9, unit="m3"
    )
    for level in (-0.09, -0.03, 0.0, 0.2, 0.7):
        wet = min(4.0, 4.0 + level / 0.03)
        exact = 2 * (0.03 * wet * wet / 2 if level <= 0 else 4 * level + 0.03 * 16 / 2)
        check(
            f"falling floor in a box: below {level:g} m",
            source=WEDGE,
            expected=exact,
            ours=part.below(0.0, level, 0.0),
            tol=1e-8,
            unit="m3",
        )


def test_falling_floor_in_a_round_tank(check, tank_of) -> None:
    truck = tank_of(ROUND, tank=TANK + 'fall = "2.5 %"\nfall_by = "floor"\n')
    part = truck.solid.compartments[0].whole
    ends = [math.pi / 2 * (1 + k) for k in (1.0, 1.05, 1.1)]
    closed = 4 * (ends[0] + 4 * ends[1] + ends[2]) / 6
    check(
        "falling floor in a round tank: gross", source=PRISMATOID, expected=closed, ours=part.gross, tol=1e-6, unit="m3"
    )
    assert [truck.solid.floor(x) for x in (0.0, 2.0, 4.0)] == pytest.approx([0.0, -0.05, -0.1], abs=1e-4)

    def wet(x: float) -> float:
        half = 1 + 0.025 * x
        depth = np.clip((0.3 - (1 - half)) / half, 0.0, 1.0)
        return half * (math.acos(1 - depth) - (1 - depth) * math.sqrt(2 * depth - depth * depth))

    exact = quad(wet, 0.0, 4.0)[0]
    check(
        "falling floor in a round tank: below 0.3 m",
        source="closed form of each section, integrated",
        expected=exact,
        ours=part.below(0.0, 0.3, 0.0),
        tol=1e-6,
        unit="m3",
    )


@pytest.mark.parametrize(("name", "section"), [("box", BOX), ("round tank", ROUND), ("box of arcs", ARCS)])
def test_falling_floor_by_slices(check, tank_of, slicer, name: str, section: str) -> None:
    """Each slice is the section with its lower half stretched. Surfaces that lean along and across at once are summed
    over a few cuts only; no load state asks for them.
    """
    truck = tank_of(section, tank=TANK + 'fall = "3 %"\nfall_by = "floor"\n')
    part, outline, seat = truck.solid.compartments[0].whole, truck.solid.outline, truck.solid.height / 2

    def sections(x: np.ndarray) -> np.ndarray:
        y, z = outline.points.T
        down = [np.where(z < seat, seat - (seat - z) * (1 + 0.03 * at / seat), z) for at in x]
        return np.array([shapely.Polygon(np.column_stack([y, low])) for low in down])

    for words, along, across, tol in (
        ("along", 0.12, 0.0, 5e-6),
        ("across", 0.0, 0.05, 5e-6),
        ("both ways", 0.12, 0.05, 1e-4),
    ):
        worst = 0.0
        for level in (0.05, 0.2, 0.4, 0.7):
            sliced = slicer.volume(sections, 0.0, 4.0, (level, along, across), 500)
            ours = wet_volume(part.bodies, c=np.array([level]), a=np.array([along]), b=across)[0][0]
            worst = max(worst, abs(ours - sliced) / part.gross)
        what = f"falling floor in a {name}, surface leaning {words}: worst volume, of the whole"
        check(what, source=SHAPELY, expected=0.0, ours=worst, tol=tol)
