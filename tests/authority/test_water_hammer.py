"""Water hammer against worked examples of textbooks, each with the book's own g.

The textbook numbers were read in public companions that re-work the books' examples.
"""

from __future__ import annotations

import math

import pytest

from tunwright.handbook import water_hammer

DAUGHERTY = "R. L. Daugherty, J. B. Franzini, Fluid Mechanics with Engineering Applications, example 13.4"
SUBRAMANYA = "K. Subramanya, 1000 Solved Problems in Fluid Mechanics, example {}"
FOOT, PSI, SLUG_FT3 = 0.3048, 6894.757293168, 14.593902937206 / 0.3048**3


def disc(diameter: float) -> float:
    return math.pi / 4 * diameter**2


def test_hammer_of_daugherty(check) -> None:
    """30 ft3/s in a pipe 4 ft wide, wave 3200 ft/s, shut at once, in 4 s, to 10 ft3/s, and part way in 1 s.

    The companion works the second as (4000/3200)/4 of the first. By its last line, 2 x 300/3200 over 1 s at 300 ft
    from the tank, that 4000 ft is twice the pipe's length: the pipe is 2000 ft long. With 4000 ft it would be 64.3 psi.
    """
    velocity, at = 30 / disc(4) * FOOT, {"density": 1.94 * SLUG_FT3, "wave_speed": 3200 * FOOT}
    once = water_hammer.joukowsky(**at, velocity_change=velocity) / PSI
    slow = water_hammer.slow_closing(**at, velocity_change=velocity, length=2000 * FOOT, closing_time=4) / PSI
    part = water_hammer.joukowsky(**at, velocity_change=velocity * 2 / 3) / PSI
    near = water_hammer.slow_closing(**at, velocity_change=velocity / 3, length=300 * FOOT, closing_time=1) / PSI
    check("shut at once", source=DAUGHERTY, expected=102.9, ours=once, tol=0.05, unit="psi")
    check("shut in 4 s", source=DAUGHERTY, expected=32.2, ours=slow, tol=0.05, unit="psi")
    check("shut to a third", source=DAUGHERTY, expected=68.6, ours=part, tol=0.05, unit="psi")
    check("300 ft from the tank, a third shut in 1 s", source=DAUGHERTY, expected=6.43, ours=near, tol=0.005,
          unit="psi")


@pytest.mark.parametrize(
    ("number", "case", "expected", "tol"),
    [("14.11", {"bulk_modulus": 2.22e9, "density": 998, "young": math.inf}, 1491.5, 0.05),
     ("14.11, oil", {"bulk_modulus": 1.5e9, "density": 798.4, "young": math.inf}, 1370.7, 0.05),
     ("14.12", {"bulk_modulus": 1.43e9, "density": 798.4, "diameter": 2.5, "thickness": 0.02, "young": 207e9}, 980.4,
      0.05)],
)  # fmt: skip
def test_wave_speeds(check, number: str, case: dict, expected: float, tol: float) -> None:
    ours = water_hammer.wave_speed(**{"diameter": 1.0, "thickness": 0.01, **case})
    check("speed of the wave", source=SUBRAMANYA.format(number), expected=expected, ours=ours, tol=tol, unit="m/s")


def test_hammer_of_subramanya(check) -> None:
    """Its 2.394 MPa for the slow closing goes on from 1.48 s, rounded; unrounded it is 2.395 MPa."""
    stiff = water_hammer.wave_speed(bulk_modulus=2.2e9, density=998, diameter=1, thickness=0.01, young=math.inf)
    rise = water_hammer.joukowsky(density=998, wave_speed=stiff, velocity_change=3) / 1e6
    check("4 m/s to 1 m/s", source=SUBRAMANYA.format("14.13"), expected=4.445, ours=rise, tol=0.0005, unit="MPa")
    speed = water_hammer.wave_speed(bulk_modulus=2e9, density=998, diameter=0.9, thickness=0.0125, young=1e11)
    check("2.6 m/s shut, in head", source=SUBRAMANYA.format("14.14"), expected=240.2, ours=speed * 2.6 / 9.81, tol=0.05,
          unit="m")
    speed = water_hammer.wave_speed(bulk_modulus=2.1e9, density=998, diameter=0.6, thickness=0.012, young=2.1e11)
    rise = water_hammer.joukowsky(density=998, wave_speed=speed, velocity_change=2.1) / 1e6
    check("2.1 m/s shut", source=SUBRAMANYA.format("14.15"), expected=2.482, ours=rise, tol=0.0005, unit="MPa")
    speed = water_hammer.wave_speed(bulk_modulus=1.43e9, density=798.4, diameter=0.8, thickness=0.08, young=2.1e11)
    check("longest time that is sudden, 1000 m", source=SUBRAMANYA.format("14.16"), expected=1.544, tol=0.0005,
          ours=water_hammer.reflection_time(length=1000, wave_speed=speed), unit="s")
    speed = water_hammer.wave_speed(bulk_modulus=2.11e9, density=998, diameter=0.6, thickness=0.015, young=1.041e11)
    moving = {"density": 998, "wave_speed": speed, "velocity_change": 3}
    check("3 m/s shut", source=SUBRAMANYA.format("14.18"), expected=3.235, tol=0.0005, unit="MPa",
          ours=water_hammer.joukowsky(**moving) / 1e6)
    check("3 m/s shut in 2 s, the wave back in 1.48 s", source=SUBRAMANYA.format("14.18"), expected=2.394, tol=0.0005,
          ours=water_hammer.slow_closing(**moving, length=1.48 * speed / 2, closing_time=2) / 1e6, unit="MPa")


PIPE = {"bulk_modulus": 2.2e9, "density": 1e3, "diameter": 0.1, "thickness": 0.004, "young": 2e11}


@pytest.mark.parametrize(
    ("ask", "words"),
    [(lambda: water_hammer.wave_speed(**{**PIPE, "young": 0}), "Young's modulus"),
     (lambda: water_hammer.wave_speed(**PIPE, support=0), "support"),
     (lambda: water_hammer.joukowsky(density=1e3, wave_speed=1e3, velocity_change=-1), "fall of the velocity"),
     (lambda: water_hammer.slow_closing(density=1e3, wave_speed=1e3, velocity_change=1, length=9, closing_time=-1),
      "closing time")],
)  # fmt: skip
def test_what_cannot_be_is_refused(ask, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        ask()
