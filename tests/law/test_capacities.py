"""Gross, net and usable volume in closed form: ullage, overflow lip, heel, outlets, a pitched tank."""

from __future__ import annotations

import math

import pytest

BOX_FORM = "box, wedge and drum in closed form"
BOX = '[tank.section]\nshape = "rectangle"\nwidth = "2 m"\nheight = "1 m"\n'
TANK = '[tank]\nmiddle = "3 m"\nlength = "4 m"\nbottom = "1.2 m"\nshell = "4 mm"\n'
SUMP = '[[tank.sump]]\nat = "3.5 m"\ndepth = "100 mm"\ndiameter = "300 mm"\n'


def volumes(check, truck, name: str, gross: float, net: float, usable: float) -> None:
    v = truck.volumes
    for what, ours, closed in (("gross", v.gross, gross), ("net", v.net, net), ("usable", v.usable, usable)):
        check(f"{name}: {what}", source=BOX_FORM, expected=closed, ours=float(ours.sum()), tol=1e-8, unit="m3")


def test_ullage_and_heel(check, tank_of) -> None:
    volumes(check, tank_of(BOX, tank=TANK), "box, shop's ullage and heel", 8.0, 8 * 0.96, 8 * 0.96 * 0.99)
    own = tank_of(BOX, '[states]\nullage = "5 %"\nheel = "2 %"\n', tank=TANK)
    volumes(check, own, "box, own ullage and heel", 8.0, 7.6, 7.6 * 0.98)


def test_overflow_lip_and_outlet(check, tank_of) -> None:
    outlet = '[[tank.outlet]]\nat = "3.9 m"\nheight = "20 mm"\n'
    truck = tank_of(BOX, outlet, tank=TANK + 'overflow_lip = "950 mm"\n')
    volumes(check, truck, "box with a lip and an outlet", 8.0, 7.6, 7.6 - 0.16)


def test_the_lowest_outlet_counts(check, tank_of) -> None:
    two = "".join(f'[[tank.outlet]]\nat = "{at} m"\nheight = "{high} mm"\n' for at, high in ((1, 150), (3.9, 30)))
    volumes(check, tank_of(BOX, two, tank=TANK), "box with two outlets", 8.0, 7.68, 7.68 - 0.24)


def test_outlet_in_a_sump(check, tank_of) -> None:
    """Drawn 80 mm down in a drum of 100 mm: what stays is its last 20 mm."""
    truck = tank_of(BOX, SUMP + '[[tank.outlet]]\nat = "3.5 m"\nheight = "-80 mm"\n', tank=TANK)
    floor = math.pi * 0.15**2
    gross = 8 + 0.1 * floor
    volumes(check, truck, "box with a sump", gross, 0.96 * gross, 0.96 * gross - 0.02 * floor)


def test_pitched_tank(check, tank_of) -> None:
    """Pitched by 5 %: the lip stands at mid-length, and the outlet at the rear leaves a wedge."""
    outlet = '[[tank.outlet]]\nat = "4 m"\nheight = "60 mm"\n'
    truck = tank_of(BOX, outlet, tank=TANK + 'fall = "5 %"\noverflow_lip = "0.9 m"\n')
    # the surface is 0.9 m high at 2 m: 0.8 m at the front, 1.0 m at the rear; what stays is a wedge 0.06 m deep
    volumes(check, truck, "pitched box", 8.0, 2 * 4 * 0.9, 7.2 - 2 * 0.06 * (0.06 / 0.05) / 2)


def test_each_compartment_has_its_own(tank_of) -> None:
    parts = '[[tank.compartment]]\nname = "one"\nfrom = "0 m"\nto = "1 m"\n'
    parts += '[[tank.compartment]]\nname = "two"\nfrom = "1 m"\nto = "4 m"\n'
    outlets = '[[tank.outlet]]\nat = "3.9 m"\nheight = "50 mm"\ncompartment = "two"\n'
    v = tank_of(BOX, parts + outlets, tank=TANK).volumes
    assert v.gross == pytest.approx([2.0, 6.0], abs=0.02)  # bulkheads and all
    assert v.net == pytest.approx(0.96 * v.gross)
    assert v.usable[0] == pytest.approx(0.99 * v.net[0])
    assert v.usable[1] == pytest.approx(v.net[1] - 2 * 3 * 0.05, abs=1e-3)
