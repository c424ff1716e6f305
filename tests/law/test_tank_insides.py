"""What stands in a tank takes room from the water: baffles, bulkheads, recesses, pipes, sumps."""

from __future__ import annotations

import math

import numpy as np
import pytest

CLOSED = "closed form of the body"

TANK = '[tank]\nmiddle = "3 m"\nlength = "4 m"\nbottom = "1.2 m"\nshell = "4 mm"\n'
BOX = '[tank.section]\nshape = "rectangle"\nwidth = "2 m"\nheight = "1 m"\n'
ROUND = '[tank.section]\nshape = "circle"\ndiameter = "2 m"\n'
BAFFLES = """
[[tank.baffle]]
at = "1 m"
thickness = "5 mm"
open = "20 %"
[[tank.baffle]]
at = "2.5 m"
opening = [{ diameter = "400 mm", height = "500 mm" }, { diameter = "100 mm", height = "80 mm", y = "300 mm" }]
"""
TWO = """
[[tank.compartment]]
name = "front"
from = "0 m"
to = "1.5 m"
[[tank.compartment]]
name = "rear"
from = "1.5 m"
to = "4 m"
"""


def whole(truck):
    return truck.solid.compartments[0].whole


def displaced(tank_of, section: str, more: str, levels=(9.0,), slope: float = 0.0) -> np.ndarray:
    """What a fitting takes from the tank below levels at its front end."""
    bare, fitted = whole(tank_of(section)), whole(tank_of(section, more))
    return np.array([bare.below(0.0, h, slope) - fitted.below(0.0, h, slope) for h in levels])


def test_baffles(check, tank_of) -> None:
    """Each plate takes thickness times its solid area, and below a level that part of it."""
    share = math.pi / 4 * (0.4**2 + 0.1**2) / 2.0
    solid = 0.005 * 0.8 + 0.004 * (1 - share)
    for level in (0.25, 0.7, 1.0):
        ours = displaced(tank_of, BOX, BAFFLES, (level,))
        check(
            f"two baffles in a box of 2 m, below {level:g} m",
            source=CLOSED,
            expected=2.0 * level * solid,
            ours=ours[0],
            tol=1e-9,
            unit="m3",
        )


def test_baffles_on_a_slope_are_wet_to_their_own_level(check, tank_of) -> None:
    share = math.pi / 4 * (0.4**2 + 0.1**2) / 2.0
    exact = 2.0 * (0.4 + 0.1 * 1.0) * 0.005 * 0.8 + 2.0 * (0.4 + 0.1 * 2.5) * 0.004 * (1 - share)
    ours = displaced(tank_of, BOX, BAFFLES, (0.4,), 0.1)
    check("two baffles in a box on a slope of 10 %", source=CLOSED, expected=exact, ours=ours[0], tol=1e-9, unit="m3")


def test_bulkhead(check, tank_of) -> None:
    parts = tank_of(BOX, TWO).solid.compartments
    for part, long in zip(parts, (1.5, 2.5), strict=True):
        check(
            f"{part.name} compartment, half of a bulkhead of 4 mm taken off",
            source=CLOSED,
            expected=2 * (long - 0.002),
            ours=part.whole.gross,
            tol=1e-9,
            unit="m3",
        )


def test_lengthwise_baffle(check, tank_of) -> None:
    more = '[[tank.long_baffle]]\ny = "200 mm"\nfrom = "0.5 m"\nto = "3 m"\nthickness = "6 mm"\nopen = "25 %"\n'
    ours = displaced(tank_of, BOX, more, (0.6, 9.0))
    check(
        "lengthwise baffle, below 0.6 m",
        source=CLOSED,
        expected=2.5 * 0.006 * 0.75 * 0.6,
        ours=ours[0],
        tol=1e-9,
        unit="m3",
    )
    check("lengthwise baffle", source=CLOSED, expected=2.5 * 0.006 * 0.75, ours=ours[1], tol=1e-9, unit="m3")


def test_recess(check, tank_of) -> None:
    """From the floor, and hung in the middle of the tank."""
    low = '[[tank.recess]]\nfrom = "0.5 m"\nto = "1.7 m"\ntop = "400 mm"\nwidth = "800 mm"\n'
    ours = displaced(tank_of, BOX, low, (0.3, 9.0))
    check(
        "recess from the floor, below 0.3 m", source=CLOSED, expected=1.2 * 0.8 * 0.3, ours=ours[0], tol=1e-9, unit="m3"
    )
    check("recess from the floor", source=CLOSED, expected=1.2 * 0.8 * 0.4, ours=ours[1], tol=1e-9, unit="m3")
    hung = low.replace('top = "400 mm"', 'height = "200 mm"\ntop = "500 mm"\ny = "300 mm"')
    ours = displaced(tank_of, BOX, hung, (0.2, 0.35, 9.0))
    check("recess above the floor", source=CLOSED, expected=1.2 * 0.8 * 0.3, ours=ours[2], tol=1e-9, unit="m3")
    assert ours[:2] == pytest.approx([0.0, 1.2 * 0.8 * 0.15], abs=1e-9)


def test_recess_is_cut_by_a_round_floor(check, tank_of) -> None:
    """In a round tank only what lies inside the section is missing: a strip of the circle below the box's top."""
    more = '[[tank.recess]]\nfrom = "0.5 m"\nto = "1.7 m"\ntop = "500 mm"\nwidth = "800 mm"\n'
    strip = 0.8 * 0.5 - (0.8 - 0.4 * math.sqrt(1 - 0.16) - math.asin(0.4))
    ours = displaced(tank_of, ROUND, more)[0]
    check("recess in a round tank", source=CLOSED, expected=1.2 * strip, ours=ours, tol=1e-6, unit="m3")


def test_pipe_along(check, tank_of) -> None:
    more = '[[tank.pipe]]\nrun = "along"\ndiameter = "150 mm"\nfrom = "0.5 m"\nto = "3.5 m"\nheight = "400 mm"\n'
    ours = displaced(tank_of, BOX, more, (0.4, 9.0))
    check(
        "pipe along, half under water",
        source=CLOSED,
        expected=3 * math.pi * 0.075**2 / 2,
        ours=ours[0],
        tol=1e-8,
        unit="m3",
    )
    check("pipe along", source=CLOSED, expected=3 * math.pi * 0.075**2, ours=ours[1], tol=1e-9, unit="m3")


def test_pipe_up(check, tank_of) -> None:
    more = '[[tank.pipe]]\nrun = "up"\ndiameter = "150 mm"\nfrom = "1.5 m"\nheight = "100 mm"\ntop = "900 mm"\n'
    ours = displaced(tank_of, BOX, more, (0.5, 9.0))
    check("pipe up, below 0.5 m", source=CLOSED, expected=0.4 * math.pi * 0.075**2, ours=ours[0], tol=1e-9, unit="m3")
    check("pipe up", source=CLOSED, expected=0.8 * math.pi * 0.075**2, ours=ours[1], tol=1e-9, unit="m3")
    slanting = displaced(tank_of, BOX, more, (0.35,), 0.1)[0]
    check(
        "pipe up, cut by a slope of 10 %",
        source=CLOSED,
        expected=0.4 * math.pi * 0.075**2,
        ours=slanting,
        tol=1e-9,
        unit="m3",
    )


def test_pipe_from_floor_to_roof_of_a_round_tank(check, tank_of) -> None:
    """Its flat ends stand out by the bend of floor and roof over its width, r^2 / 4 R of its length."""
    more = '[[tank.pipe]]\nrun = "up"\ndiameter = "100 mm"\nfrom = "2 m"\nheight = "0 m"\ntop = "2 m"\n'
    ours = displaced(tank_of, ROUND, more)[0]
    inside = math.pi * 0.05**2 * (2.0 - 0.05**2 / 4)
    check("pipe from floor to roof", source=CLOSED, expected=inside, ours=ours, tol=1e-3 * inside, unit="m3")


@pytest.mark.parametrize(("where", "exact"), [('height = "200 mm"\n', 0.1), ("", 0.2625)])
def test_recess_over_a_falling_floor(tank_of, where: str, exact: float) -> None:
    """A box keeps its size, and one from the floor reaches down to where the floor is: 0.125 m lower on the average."""
    falls = TANK + 'fall = "5 %"\nfall_by = "floor"\n'
    more = f'[[tank.recess]]\nfrom = "2 m"\nto = "3 m"\n{where}top = "400 mm"\nwidth = "500 mm"\n'
    bare, fitted = whole(tank_of(BOX, tank=falls)).gross, whole(tank_of(BOX, more, tank=falls)).gross
    assert bare - fitted == pytest.approx(exact, rel=1e-6)


def test_sump(check, tank_of) -> None:
    """Below a flat floor a sump is a box or a drum; on a slope its surface is cut at its own middle."""
    box = '[[tank.sump]]\nat = "3.5 m"\ndepth = "120 mm"\nlength = "400 mm"\nwidth = "300 mm"\n'
    drum = '[[tank.sump]]\nat = "3.5 m"\ndepth = "120 mm"\ndiameter = "300 mm"\n'
    for name, more, floor in (("square", box, 0.12), ("round", drum, math.pi * 0.15**2)):
        ours = -displaced(tank_of, BOX, more, (-0.05, 9.0))
        check(
            f"{name} sump, filled to 50 mm below the floor",
            source=CLOSED,
            expected=0.07 * floor,
            ours=ours[0],
            tol=1e-9,
            unit="m3",
        )
        check(f"{name} sump", source=CLOSED, expected=0.12 * floor, ours=ours[1], tol=1e-9, unit="m3")
        leaning = -displaced(tank_of, BOX, more, (0.35 - 0.06,), -0.1)
        check(
            f"{name} sump, surface leaning 10 % at half its depth",
            source=CLOSED,
            expected=0.06 * floor,
            ours=leaning[0],
            tol=1e-9,
            unit="m3",
        )


def test_sump_under_a_round_floor(check, tank_of) -> None:
    """The floor rises to both sides by 1 - sqrt(1 - y^2); its chords of 1/512 turn stand off by R d^2 / 8 at most."""
    drum = '[[tank.sump]]\nat = "3.5 m"\ndepth = "120 mm"\ndiameter = "300 mm"\n'
    ours = -displaced(tank_of, ROUND, drum)[0]
    chord = (2 * math.pi / 512) ** 2 / 8
    check(
        "round sump under a round floor",
        source="integral of 2 sqrt(r^2 - y^2) (0.12 + 1 - sqrt(1 - y^2)) over the disc, by SciPy's quad",
        expected=0.008681667181,
        ours=ours,
        tol=chord * math.pi * 0.15**2,
        unit="m3",
    )
