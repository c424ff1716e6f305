"""Pumps, nozzles, emptying tanks and water hammer: affinity, monotony, balances, and numerical integration."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.interpolate import PchipInterpolator

from tunwright.handbook import emptying, nozzle, water, water_hammer
from tunwright.handbook.pump import PumpCurve, available_npsh, hydraulic_power

CURVES = 80
OPENING = {"orifice_area": 0.004, "coefficient": 0.62}
PCHIP = "SciPy's PchipInterpolator through the same points"
AFFINITY = "affinity laws, 80 random curves"


def random_curve(seed: int) -> PumpCurve:
    """Two to nine points anywhere; some curves begin at no flow, some have level or steep stretches."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(2, 10))
    flow = np.cumsum(rng.uniform(0.0005, 0.01, count)) - (seed % 2) * 0.0005
    flow[0] *= seed % 3 > 0
    head = 60 + np.cumsum(rng.exponential(6, count)[::-1] * (rng.random(count) < 0.8))[::-1]
    return PumpCurve(flow, head, rng.uniform(80, 300), rng.uniform(0.2, 0.85, count), np.sort(rng.uniform(1, 6, count)))


def random_flows(curve: PumpCurve, seed: int) -> np.ndarray:
    return np.random.default_rng(seed).uniform(-0.1, 1.6, 200) * curve.runout()


def test_the_line_between_the_points(check) -> None:
    worst_head = worst_slope = 0.0
    for curve in (c for c in map(random_curve, range(CURVES)) if len(c.flow) > 2):
        line, x = PchipInterpolator(curve.flow, curve.head), np.linspace(curve.flow[0], curve.flow[-1], 300)[:-1]
        worst_head = max(worst_head, np.abs(curve.head_at(x) - line(x)).max())
        worst_slope = max(worst_slope, np.abs(curve.slope_at(x) / line.derivative()(x).clip(max=-1e-6) - 1).max()
                          if curve.slope_at(x).max() < -1e-6 else 0.0)
    check("head between the points", source=PCHIP, expected=0, ours=worst_head, tol=1e-10, unit="m")
    check("slope between the points, relative", source=PCHIP, expected=0, ours=worst_slope, tol=1e-8)


def test_head_falls_without_a_jump(check) -> None:
    rise = jump = 0.0
    for seed in range(CURVES):
        curve, speed = random_curve(seed), 40.0 + 5 * seed
        x = np.sort(np.concatenate([random_flows(curve, seed), curve.flow])) * speed / curve.speed
        scale = curve.dead_head(speed)
        rise = max(rise, np.diff(curve.head_at(x, speed)).max() / scale, curve.slope_at(x, speed).max())
        step = 1e-9 * curve.runout(speed)
        jumps = np.abs(curve.head_at(x + step, speed) - curve.head_at(x - step, speed))
        jump = max(jump, (jumps / (scale - curve.slope_at(x, speed) * curve.runout(speed))).max())
        assert curve.head_at(100 * curve.runout(speed), speed) < 0
    check("rise of the head with the flow", source="never, inside the points and outside", expected=0, tol=1e-12,
          ours=max(rise, 0.0))
    check("jump of the head", source="none: over 2e-9 of the flow", expected=0, ours=jump, tol=1e-7)


def test_slope_is_the_rate_of_the_head(check) -> None:
    worst = 0.0
    for seed in range(CURVES):
        curve, step = random_curve(seed), 1e-7
        x = random_flows(curve, seed)
        x = x[np.abs(x[:, None] - curve.flow).min(axis=1) > 2 * step]
        rate = (curve.head_at(x + step, 190.0) - curve.head_at(x - step, 190.0)) / (2 * step)
        apart = np.abs(x[:, None] * curve.speed / 190.0 - curve.flow).min(axis=1) > 2 * step
        off = np.abs(rate - curve.slope_at(x, 190.0)) / (1 + np.abs(rate))
        worst = max(worst, off[apart].max())
    check("slope of the head, relative", source="central difference", expected=0, ours=worst, tol=1e-5)


def test_affinity(check) -> None:
    worst = 0.0
    for seed in range(CURVES):
        curve, x = random_curve(seed), random_flows(random_curve(seed), seed)
        r = 0.3 + seed / 40
        speed = r * curve.speed
        pairs = [(curve.head_at(r * x, speed), r**2 * curve.head_at(x)),
                 (curve.npsh_at(r * x, speed), r**2 * curve.npsh_at(x)),
                 (curve.efficiency_at(r * x, speed), curve.efficiency_at(x)),
                 (curve.power_at(r * x, 998.0, speed), r**3 * curve.power_at(x, 998.0)),
                 (curve.torque_at(r * x, 998.0, speed), r**2 * curve.torque_at(x, 998.0)),
                 (curve.runout(speed), r * curve.runout()), (curve.best(speed), r * curve.best())]  # fmt: skip
        worst = max(worst, *(np.max(np.abs(ours - wanted) / (1e-3 + np.abs(wanted))) for ours, wanted in pairs))
    check("head, NPSH, efficiency, power, torque at another speed", source=AFFINITY, expected=0, ours=worst, tol=1e-9)


def test_power_is_torque_times_speed(check) -> None:
    turning = lifting = 0.0
    for seed in range(CURVES):
        curve, speed = random_curve(seed), 211.0
        x = np.linspace(curve.flow[0] + 1e-6, curve.flow[-1], 50) * speed / curve.speed
        power = curve.power_at(x, 998.0, speed)
        turning = max(turning, np.abs(curve.torque_at(x, 998.0, speed) * speed / power - 1).max())
        lifted = [hydraulic_power(flow=q, head=curve.head_at(q, speed), density=998.0) for q in x.tolist()]
        lifting = max(lifting, np.abs(power * curve.efficiency_at(x, speed) / lifted - 1).max())
    check("torque times speed over shaft power", source="1", expected=0, ours=turning, tol=1e-12)
    check("shaft power times efficiency over rho g Q H", source="1", expected=0, ours=lifting, tol=1e-9)


def test_power_at_no_flow_is_the_limit(check) -> None:
    worst = 0.0
    for seed in range(CURVES):
        curve = random_curve(seed)
        worst = max(worst, abs(curve.power_at(1e-12, 998.0) / curve.power_at(0.0, 998.0) - 1))
        powers = curve.power_at(np.linspace(0, 2, 101) * curve.runout(), 998.0)
        assert (powers > 0).all()
        assert (powers[51:] >= powers[50] * (1 - 1e-9)).all()
        etas = curve.efficiency_at(np.linspace(-0.5, 3, 101) * curve.runout())
        assert ((etas >= 0) & (etas <= 0.85)).all()
    check("shaft power at next to no flow over that at none", source="1", expected=0, ours=worst, tol=1e-6)


def test_speed_for_a_point(check) -> None:
    worst = 0.0
    for seed in range(CURVES):
        curve, speed = random_curve(seed), 60.0 + 4 * seed
        for share in (0.0, 0.03, 0.5, 0.97, 1.0):
            flow = share * curve.runout(speed)
            worst = max(worst, abs(curve.speed_for(flow, curve.head_at(flow, speed)) / speed - 1))
    check("speed found for a point of the curve", source="round trip, 80 random curves", expected=0, ours=worst, tol=1e-9)


def test_two_points_are_a_parabola(check) -> None:
    curve, x = PumpCurve(np.array([0, 0.025]), np.array([72.0, 55.0]), 209.0), np.linspace(0, 0.025, 40)
    off = np.abs(curve.head_at(x) - (72 - 17 * (x / 0.025) ** 2)).max()
    check("head through two points", source="H0 - k Q2", expected=0, ours=off, tol=1e-12, unit="m")
    late = PumpCurve(np.array([0.01, 0.03]), np.array([60.0, 50.0]), 209.0)
    check("head before the first of two points", source="straight line", expected=65, ours=late.dead_head(), tol=1e-12)
    assert (late.within(0.01), late.within(0.0099), late.within(0.031)) == (True, False, False)
    assert late.within(late.runout(77.7), 77.7)
    assert late.best() is None


def test_a_curve_is_not_changed_from_outside() -> None:
    heads = np.array([50.0, 40.0])
    curve = PumpCurve(np.array([0, 0.02]), heads, 150.0)
    heads[:] = 0
    assert curve.dead_head() == 50
    with pytest.raises(ValueError, match="read-only"):
        curve.head[0] = 1


def level_time(area, start: float, end: float, head=lambda h: h) -> float:
    """Time in which a surface sinks by dh/dt = -Q/A, stepped by SciPy."""
    def rate(_, h):
        return -emptying.orifice_flow(area=0.004, coefficient=0.62, head=max(head(h[0]), 0.0)) / area(h[0])

    def there(_, h):
        return h[0] - end

    there.terminal = True
    found = solve_ivp(rate, (0, 1e6), [start], events=there, rtol=1e-10, atol=1e-12)
    return float(found.t_events[0][0])


def test_emptying_by_steps(check) -> None:
    source = "dh/dt = -Q/A stepped by SciPy's solve_ivp"
    ours = emptying.emptying_time_prismatic(plan_area=3, head_from=1.4, head_to=0.2, **OPENING)
    check("upright tank", source=source, expected=level_time(lambda _: 3, 1.4, 0.2), ours=ours, tol=1e-4, unit="s")
    ours = emptying.equalising_time(area_1=5, area_2=2, difference_from=0.8, difference_to=0.1, **OPENING)
    wanted = level_time(lambda _: 5, 0.0, -0.7 * 2 / 7, head=lambda h: 0.8 + h * 7 / 2)
    check("two compartments", source=source, expected=wanted, ours=ours, tol=1e-4, unit="s")
    ours = emptying.emptying_time_horizontal_cylinder(radius=0.9, length=4, height_from=1.5, height_to=0.1, **OPENING)
    wanted = level_time(lambda h: 8 * math.sqrt(h * (1.8 - h)), 1.5, 0.1)
    check("lying tank", source=source, expected=wanted, ours=ours, tol=1e-4, unit="s")


@pytest.mark.parametrize("height", [0.3, 0.9, 1.8])
def test_lying_tank_by_integration(check, height: float) -> None:
    """The last of the water too, where the surface is narrow; the integral is taken over the root of the height."""
    def share(s: float) -> float:
        return 2 * 8 * s * math.sqrt(1.8 - s * s) * s / emptying.orifice_flow(area=0.004, coefficient=0.62, head=s * s)

    wanted = quad(share, 1e-12, math.sqrt(height), epsabs=1e-10, epsrel=1e-12)[0]
    ours = emptying.emptying_time_horizontal_cylinder(radius=0.9, length=4, height_from=height, **OPENING)
    check(f"lying tank, {height} m of water to none", source="integral of A/Q by SciPy's quad", expected=wanted,
          ours=ours, tol=1e-6, unit="s")


def test_siphon_and_lift_end_at_the_same_height(check) -> None:
    air = {"air_pressure": 95e3, "vapour_pressure": 3e3, "density": 996.0}
    crest = emptying.siphon_crest(**air, velocity=0.0, loss=0.4)
    check("NPSH at the greatest crest", source="0", expected=0, ours=available_npsh(**air, level=-crest, loss=0.4),
          tol=1e-12, unit="m")


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
        k = nozzle.k_factor(flow=flow, pressure=pressure)
        check("flow by the constant, pressure halved", source="flow over the root of 2", expected=flow / math.sqrt(2),
              ours=nozzle.flow_by_k(k, pressure=pressure / 2), tol=1e-15, unit="m3/s")


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
    check(f"height of a jet at {angle} rad", source=source, expected=path.y[1].max(), ours=ours.height, tol=5e-4, unit="m")
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
    check("slow closing", source="twice a stiff column of water, rho L dv / t", expected=2 * 1000 * 60 * 1.5 / 30, ours=slow,
          tol=1e-9, unit="Pa")
    at_once = water_hammer.joukowsky(density=1000, wave_speed=1200, velocity_change=1.5)
    check("closing just as the wave comes back", source="closing at once", expected=at_once, tol=1e-6, unit="Pa",
          ours=water_hammer.slow_closing(**pipe, closing_time=0.1))
    sound = water_hammer.wave_speed(bulk_modulus=2.2e9, density=998, diameter=0.1, thickness=0.004, young=math.inf)
    check("wave in a stiff pipe", source="sqrt(K/rho)", expected=math.sqrt(2.2e9 / 998), ours=sound, tol=1e-9, unit="m/s")


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
    check("fall of the air's pressure with the height", source="rho g", expected=0, ours=np.abs(fall / weight - 1).max(),
          tol=1e-7)


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
    curve = random_curve(5)
    assert curve.head_at(t / 1e5).shape == t.shape
    assert curve.head_at(t / 1e5)[1, 0] == curve.head_at(0.0032)
