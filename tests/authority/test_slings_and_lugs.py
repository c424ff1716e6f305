"""Slings and pad eyes against EN 13414-1, a statics example, and public worksheets of ASME BTH-1.

One worksheet (edition 2014) gives 25.994 kip of tear-out from an area of 2.305 in2; the formula it prints gives 1.774
in2, as our number does, so that line is left out. It also lists the bearing stress of 15.0 ksi as if it were a load.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.handbook.lifting_lug import Lug, capacities, effective_side
from tunwright.handbook.sling import hang, leg_factor

EN = "EN 13414-1:2003, Table 4, leg factor (copy of the table)"
INCH, KSI, KIP = 0.0254, 6894757.293168, 4448.2216152605


@pytest.mark.parametrize(("legs", "degrees", "factor"), [(2, 45, 1.4), (2, 60, 1.0), (3, 45, 2.1), (3, 60, 1.5)])
def test_leg_factors(check, legs: int, degrees: float, factor: float) -> None:
    """Equal legs around the load: a load of 1 over the tension of a leg."""
    turn = 2 * math.pi * np.arange(legs) / legs
    reach = math.tan(math.radians(degrees))
    eyes = np.column_stack([reach * np.cos(turn), reach * np.sin(turn), np.zeros(legs)])
    hung = hang(eyes=eyes, hook=(0, 0, 1), centre=(0, 0, -1), weight=1.0)
    check(f"{legs} legs at {degrees} deg", source=EN, expected=factor, ours=1 / hung.tension.max(), tol=0.05)
    assert leg_factor(legs=legs, angle=math.radians(degrees)) == factor


def test_three_cords(check) -> None:
    """The example hangs a mass from three points above it; here the same cords pull from below on one hook.

    It prints 273.7968, 267.8866 and 281.0092 from coefficients of five digits. Each cord carries a third of the weight,
    784/3 L/0.8 N exactly: 273.79656, 267.88658, 281.00929. So the print is good for two decimals.
    """
    source = "public statics example: 80 kg on three cords, 80 cm below the ceiling, g = 9.8"
    eyes = [(0.2, -0.15, -0.8), (-0.1, -0.15, -0.8), (-0.1, 0.3, -0.8)]
    hung = hang(eyes=eyes, hook=(0, 0, 0), centre=(0, 0, -1.5), weight=784)
    for cord, (expected, ours) in enumerate(zip((273.80, 267.89, 281.01), hung.tension, strict=True), 1):
        check(f"tension of cord {cord}", source=source, expected=expected, ours=ours, tol=0.005, unit="N")


def test_leg_factors_end_at_60_degrees() -> None:
    with pytest.raises(ValueError, match="45"):
        leg_factor(legs=2, angle=math.radians(61))
    with pytest.raises(ValueError, match="for example 2"):
        leg_factor(legs=5, angle=0.0)


def inches(**lengths: float) -> Lug:
    return Lug(**{name: length * INCH for name, length in lengths.items()})


def kips(lug: Lug, factor: float) -> dict[str, float]:
    loads = capacities(lug, yield_strength=36 * KSI, tensile_strength=58 * KSI, design_factor=factor)
    return {name: load / KIP for name, load in loads.items()}


def test_lug_of_2014(check) -> None:
    source = "public worksheet of ASME BTH-1-2014, 3-3.3: t 0.75, Dp 0.75, Dh 0.875, a = be = 1.0625 in, A36, Nd 3"
    lug = inches(thickness=0.75, hole=0.875, pin=0.75, end=1.0625, side=1.0625)
    ours = kips(lug, 3.0)
    side = effective_side(lug, yield_strength=36 * KSI, tensile_strength=58 * KSI) / INCH
    check("looseness Cr", source=source, expected=0.8583533, ours=lug.looseness, tol=5e-8)
    check("effective width", source=source, expected=0.9321, ours=side, tol=0.00005, unit="in")
    check("net tension", source=source, expected=19.3343, ours=ours["net tension"], tol=0.00005, unit="kip")
    check("end fracture", source=source, expected=17.0312, ours=ours["end fracture"], tol=0.00005, unit="kip")
    check("bearing stress", source=source, expected=15.0, ours=ours["pin bearing"] / 0.75**2, tol=5e-5, unit="ksi")


def test_lug_with_a_rounded_end(check) -> None:
    source = "public worksheet after ASME BTH-1: t 0.75, Dp 1.375, Dh 1.6875, a 3.3125, be 1.66 in, A36, Nd 2"
    lug = inches(thickness=0.75, hole=1.6875, pin=1.375, end=3.3125, side=1.66, rounding=4.15625)
    ours = kips(lug, 2.0)
    check("looseness Cr", source=source, expected=0.841, ours=lug.looseness, tol=0.0005)
    check("net tension", source=source, expected=49.30, ours=ours["net tension"], tol=0.005, unit="kip")
    check("end fracture", source=source, expected=68.76, ours=ours["end fracture"], tol=0.005, unit="kip")
    check("tear-out", source=source, expected=88.41, ours=ours["tear-out"], tol=0.005, unit="kip")
    check("pin bearing", source=source, expected=23.20, ours=ours["pin bearing"], tol=0.005, unit="kip")


def test_lug_of_2005(check) -> None:
    """That edition takes nothing off for a pin down to Dh/1.1: its lines follow with the pin as wide as the hole."""
    source = "public worksheet of ASME BTH-1-2005: t 1.25, Dp 2.75, Dh 3, a = be = 3 in, A36, Nd 2"
    tight = kips(inches(thickness=1.25, hole=3, pin=3, end=3, side=3), 2.0)
    check("net tension", source=source, expected=175.21, ours=tight["net tension"], tol=0.005, unit="kip")
    check("end fracture", source=source, expected=144.09, ours=tight["end fracture"], tol=0.005, unit="kip")
    check("pin bearing", source=source, expected=77.34, tol=0.005, unit="kip",
          ours=kips(inches(thickness=1.25, hole=3, pin=2.75, end=3, side=3), 2.0)["pin bearing"])


def test_a_pin_wider_than_its_hole_is_refused() -> None:
    with pytest.raises(ValueError, match="fit the hole"):
        Lug(thickness=0.02, hole=0.03, pin=0.031, end=0.03, side=0.03)
