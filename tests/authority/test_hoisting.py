"""A tank on a sling of equal legs against the factors of EN 13414-1."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.build.reading import read_text
from tunwright.handbook.gravity import GRAVITY
from tunwright.truck.hoisting import Hoisting
from tunwright.truck.truck import Truck

EN = "EN 13414-1:2003, Table 4, leg factor (copy of the table)"
TANK = """
format = 1
[order]
title = "a tank on its sling"
[chassis]
gross_rating = "30 t"
[[chassis.axle]]
name = "front"
at = "0 m"
kerb_load = "4000 kg"
rating = "8 t"
steered = true
[[chassis.axle]]
name = "rear"
at = "4 m"
kerb_load = "3000 kg"
rating = "20 t"
driven = true
[tank]
middle = "3 m"
length = "4 m"
bottom = "1.2 m"
shell = "4 mm"
dry_mass = "1000 kg"
dry_centre = "2 m"
[tank.section]
shape = "rectangle"
width = "2 m"
height = "1 m"
[lifting]
"""


@pytest.mark.parametrize(("legs", "degrees", "factor"), [(2, 45, 1.4), (2, 60, 1.0), (3, 45, 2.1), (3, 60, 1.5)])
def test_leg_factors(check, legs: int, degrees: float, factor: float) -> None:
    turn = 2 * math.pi * np.arange(legs) / legs
    reach, length = 0.8, 0.8 / math.sin(math.radians(degrees))
    places = [(2 + reach * math.cos(a), reach * math.sin(a)) for a in turn]
    eyes = "".join(f'[[lifting.eye]]\nat = "{x:.12f} m"\ny = "{y:.12f} m"\nheight = "1 m"\n' for x, y in places)
    build = read_text(f'{TANK}leg_length = "{length:.12f} m"\n{eyes}').build
    assert build.lifting is not None
    (hung,) = Hoisting(Truck(build), build.lifting).hung
    ours = 1000 * GRAVITY / hung.hanging.tension.max()
    check(f"tank on {legs} legs at {degrees} deg", source=EN, expected=factor, ours=ours, tol=0.05)
