"""The outer size of the vehicle: its ends, its sides, its top."""

from __future__ import annotations

import math

import pytest

from tunwright.truck.size import outer_size, rear_group_centre

BOX = '[tank.section]\nshape = "rectangle"\nwidth = "2 m"\nheight = "1 m"\n'
TANK = '[tank]\nmiddle = "3 m"\nlength = "4 m"\nbottom = "1.2 m"\nshell = "4 mm"\n'


def test_tank_with_dished_heads(check, tank_of) -> None:
    size = outer_size(tank_of(BOX, '[tank.head]\nshape = "dish"\ndepth = "150 mm"\n', tank=TANK))
    by_hand = "ends of the shell, depth of the dish and a plate"
    check("front end of the tank", source=by_hand, expected=1.0 - 0.154, ours=size.tank_front, tol=1e-6, unit="m")
    check("rear end of the tank", source=by_hand, expected=5.0 + 0.154, ours=size.tank_rear, tol=1e-6, unit="m")
    check("top of the tank", source=by_hand, expected=1.2 + 1.004, ours=size.tank_top, tol=1e-6, unit="m")
    assert size.rear == size.tank_rear
    assert math.isnan(size.front)
    assert size.of("length")[2] == ("chassis.cab.front",)


def test_a_pitched_tank_is_longer_at_its_foot(check, tank_of) -> None:
    """A box of 4 x 1 m turned by 5 %: its corners by the turn about its middle."""
    size = outer_size(tank_of(BOX, tank=TANK + 'fall = "5 %"\n'))
    turn = math.atan(0.05)
    c, s = math.cos(turn), math.sin(turn)
    check(
        "front end of a pitched box",
        source="turned corners",
        expected=3 - 2 * c - 0.5 * s - 0.004,
        ours=size.tank_front,
        tol=1e-9,
        unit="m",
    )
    check(
        "rear end of a pitched box",
        source="turned corners",
        expected=3 + 2 * c + 0.5 * s + 0.004,
        ours=size.tank_rear,
        tol=1e-9,
        unit="m",
    )
    check(
        "top of a pitched box",
        source="turned corners",
        expected=1.2 + c + 0.004,
        ours=size.tank_top,
        tol=1e-9,
        unit="m",
    )


def test_cab_items_and_manholes(tank_of) -> None:
    more = """
[[tank.manhole]]
at = "1 m"
diameter = "450 mm"
neck = "120 mm"
[[item]]
name = "bar"
mass = "80 kg"
at = "5.6 m"
height = "0.8 m"
on = "frame"
length = "200 mm"
width = "2.4 m"
"""
    truck = tank_of(BOX, more, tank='[chassis.cab]\nfront = "-1.3 m"\nroof = "2.2 m"\nwidth = "2.3 m"\n' + TANK)
    size = outer_size(truck)
    assert (size.front, size.rear) == pytest.approx((-1.3, 5.7))
    assert size.of("length")[0] == pytest.approx(7.0)
    assert size.width == pytest.approx(2.4)
    assert size.height == pytest.approx(1.2 + 1.0 + 0.12, abs=0.005)
    assert rear_group_centre(truck) == pytest.approx(4.0)
