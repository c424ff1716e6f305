"""Water, nozzles and water hammer: balances, numerical integration, other formulas and libraries."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from tunwright.handbook import nozzle, water, water_hammer


def test_energy_and_momentum_of_a_jet(check) -> None:
    for pressure in (1e5, 4e5, 1.2e6):
        flow = nozzle.flow(diameter=0.025, pressure=pressure, coefficient=1, density=998.0)
        speed = flow / (math.pi / 4 * 0.025**2)
        check("power of a jet", source="pressure times flow", expected=pressure * flow, unit="W", tol=1e-6,
              ours=998.0 * flow * speed**2 / 2)
        check("force of a jet", source="rho Q v", expected=998.0 * flow * speed, unit="N", tol=1e-9,
              ours=nozzle.reaction(diameter=0.025, pressure=pressure))
        check("force of a spray without loss", source="a smooth bore with its flow and pressure", unit="N", tol=1e-9,
              expected=nozzle.reaction(diameter=0.025, pressure=pressure),
              ours=nozzle.fog_reaction(flow=flow, pressure=pressure, density=998.0))


@pytest.mark.parametrize("angle", [-0.4, 0.0, 0.6, 1.2])
def test_flight_by_steps(check, angle: float) -> None:
    def down(_, y):
        return y[1]

    down.terminal, down.direction = True, -1
    speed = math.sqrt(2 * 3e5 / 998)
    start = [0.0, 1.5, speed * math.cos(angle), speed * math.sin(angle)]
    path = solve_ivp(lambda _, y: [y[2], y[3], 0, -water.GRAVITY], (0, 20), start, events=down, rtol=1e-10, atol=1e-10,
                     max_step=0.01)  # fmt: skip
    ours = nozzle.reach(pressure=3e5, density=998, angle=angle, allowance=1, above=1.5)
    source = "flight stepped by SciPy's solve_ivp"
    check(f"distance of a jet at {angle} rad", source=source, expected=path.y_events[0][0][0], ours=ours.distance,
          tol=1e-6, unit="m")
    check(f"height of a jet at {angle} rad", source=source, expected=path.y[1].max(), ours=ours.height, tol=5e-4,
          unit="m")
    half = nozzle.reach(pressure=3e5, density=998, angle=angle, allowance=0.5, above=1.5)
    assert half.distance == pytest.approx(ours.distance / 2)


def hammer_by_characteristics(*, length: float, speed: float, closing: float, parts: int = 200) -> float:
    """Greatest pressure at a valve where 1 m/s falls evenly to 0, water of 1000 kg/m3: waves on a grid."""
    step, z = length / parts / speed, 1000.0 * speed
    p, v, peak = np.zeros(parts + 1), np.ones(parts + 1), 0.0
    for turn in range(1, int((closing + 4 * length / speed) / step) + 1):
        right, left = p[:-1] + z * v[:-1], p[1:] - z * v[1:]
        p[1:-1], v[1:-1] = (right[:-1] + left[1:]) / 2, (right[:-1] - left[1:]) / (2 * z)
        p[0], v[0] = 0.0, -left[0] / z
        v[-1] = max(1 - turn * step / closing, 0.0)
        p[-1] = right[-1] - z * v[-1]
        peak = max(peak, p[-1])
    return peak


@pytest.mark.parametrize("closing", [0.005, 0.04, 0.1, 0.37])
def test_hammer_by_characteristics(check, closing: float) -> None:
    """60 m of pipe, the wave back after 0.1 s."""
    ours = water_hammer.slow_closing(density=1000, wave_speed=1200, velocity_change=1, length=60, closing_time=closing)
    check(f"hammer, closing in {closing} s", source="method of characteristics, no friction", ours=ours, unit="Pa",
          expected=hammer_by_characteristics(length=60, speed=1200, closing=closing), tol=1e-6 * ours)


def test_hammer_between_its_ends(check) -> None:
    pipe = {"density": 1000, "wave_speed": 1200, "velocity_change": 1.5, "length": 60}
    slow = water_hammer.slow_closing(**pipe, closing_time=30)
    check("slow closing", source="twice a stiff column of water, rho L dv / t", expected=2 * 1000 * 60 * 1.5 / 30,
          ours=slow, tol=1e-9, unit="Pa")
    at_once = water_hammer.joukowsky(density=1000, wave_speed=1200, velocity_change=1.5)
    check("closing just as the wave comes back", source="closing at once", expected=at_once, tol=1e-6, unit="Pa",
          ours=water_hammer.slow_closing(**pipe, closing_time=0.1))
    wall = {"bulk_modulus": 2.2e9, "density": 998, "diameter": 0.1, "young": 3e9}
    held = water_hammer.wave_speed(**wall, thickness=0.008, support=0.8)
    check("wave in a pipe held along its axis", source="a wall thicker by as much", tol=1e-9, unit="m/s", ours=held,
          expected=water_hammer.wave_speed(**wall, thickness=0.01))
    sound = water_hammer.wave_speed(**{**wall, "young": math.inf}, thickness=0.004)
    check("wave in a stiff pipe", source="sqrt(K/rho)", expected=math.sqrt(2.2e9 / 998), ours=sound, tol=1e-9,
          unit="m/s")


def test_density_of_water_by_another_formula(check) -> None:
    """At 0.1 MPa instead of 101.325 kPa water is 0.7 g/m3 lighter."""
    t = np.linspace(0, 40, 81)
    wanted = 999.97495 * (1 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))
    check("density of water, 0 to 40 C", source="Tanaka et al. 2001 (CIPM formula, 1 ppm), from memory", expected=0,
          ours=np.abs(water.density(t + 273.15) - wanted).max(), tol=0.0017, unit="kg/m3")


def test_air_rests(check) -> None:
    h = np.linspace(-400, 4900, 60)
    weight = water.air_density(288.15 - 0.0065 * h, water.air_pressure(h)) * water.GRAVITY
    fall = (water.air_pressure(h - 1) - water.air_pressure(h + 1)) / 2
    check("fall of the air's pressure with the height", source="rho g", expected=0, tol=1e-7,
          ours=np.abs(fall / weight - 1).max())


def test_air_by_another_library(check) -> None:
    """The library counts surveyed heights and an earth of 6356766 m."""
    from fluids.atmosphere import ATMOSPHERE_1976

    worst = 0.0
    for height in (-400.0, 0.0, 700.0, 2500.0, 4900.0):
        air = ATMOSPHERE_1976(height * 6356766 / (6356766 - height))
        worst = max(worst, abs(water.air_pressure(height) / air.P - 1))
    check("air pressure, relative", source="fluids, U.S. Standard Atmosphere 1976", expected=0, ours=worst, tol=1e-5)


def test_arrays_and_single_numbers_agree() -> None:
    t = np.array([[280.0, 300.0], [320.0, 340.0]])
    for function in (water.density, water.viscosity, water.vapour_pressure):
        assert function(t) == pytest.approx(np.array([[function(one) for one in row] for row in t.tolist()]), rel=1e-14)
    assert isinstance(water.vapour_pressure(300.0), float)
