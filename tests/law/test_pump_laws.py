"""A pump's curve: affinity, monotony and continuity on random curves, power and torque, other interpolation."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.pump import PumpCurve

CURVES = 80
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
    head = slope = 0.0
    for curve in (c for c in map(random_curve, range(CURVES)) if len(c.flow) > 2):
        line, x = PchipInterpolator(curve.flow, curve.head), np.linspace(curve.flow[0], curve.flow[-1], 300)[:-1]
        rate = line.derivative()(x)
        head = max(head, np.abs(curve.head_at(x) - line(x)).max())
        slope = max(slope, np.abs(curve.slope_at(x) - rate).max() / (1 + np.abs(rate).max()))
    check("head between the points", source=PCHIP, expected=0, ours=head, tol=1e-10, unit="m")
    check("slope between the points, relative", source=PCHIP, expected=0, ours=slope, tol=1e-10)


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
        assert curve.slope_at(2 * curve.runout(speed), speed) < 0
    check("rise of the head with the flow", source="never, inside the points and outside", expected=0, tol=1e-12,
          ours=max(rise, 0.0))
    check("jump of the head", source="none: over 2e-9 of the flow", expected=0, ours=jump, tol=1e-7)


def test_slope_is_the_rate_of_the_head(check) -> None:
    worst = 0.0
    for seed in range(CURVES):
        curve, step = random_curve(seed), 1e-7
        x, ends = random_flows(curve, seed), curve.flow * 190.0 / curve.speed
        x = x[np.abs(x[:, None] - ends).min(axis=1) > 2 * step]
        rate = (curve.head_at(x + step, 190.0) - curve.head_at(x - step, 190.0)) / (2 * step)
        worst = max(worst, (np.abs(rate - curve.slope_at(x, 190.0)) / (1 + np.abs(rate))).max())
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
        lifted = [998.0 * GRAVITY * q * curve.head_at(q, speed) for q in x.tolist()]
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


def test_two_points_are_a_parabola(check) -> None:
    curve, x = PumpCurve(np.array([0, 0.025]), np.array([72.0, 55.0]), 209.0), np.linspace(0, 0.025, 40)
    off = np.abs(curve.head_at(x) - (72 - 17 * (x / 0.025) ** 2)).max()
    check("head through two points", source="H0 - k Q2", expected=0, ours=off, tol=1e-12, unit="m")
    late = PumpCurve(np.array([0.01, 0.03]), np.array([60.0, 50.0]), 209.0)
    check("head before the first of two points", source="straight line", expected=65, ours=late.dead_head(), tol=1e-12)
    assert (late.within(0.01), late.within(0.0099), late.within(0.031)) == (True, False, False)
    assert all(late.within(late.runout(speed), speed) for speed in np.linspace(50, 300, 77))
    with pytest.raises(ValueError, match="tells no efficiency"):
        late.best()


@pytest.mark.parametrize(
    ("head", "slope"),
    [([50, 46, 40], -700.0), ([50, 41, 40], -100.0), ([50, 40, 40], -500.0), ([40, 40, 40], -2000.0)],
)
def test_the_head_goes_on_falling(check, head: list[float], slope: float) -> None:
    """Behind a bent curve with the parabola's end slope, else with the last chord, the whole chord, or to 0 at 2 Q."""
    curve = PumpCurve(np.array([0, 0.01, 0.02]), np.array(head), 150.0)
    check(f"head at twice the last flow of {head}", source="straight on", expected=40 + 0.02 * slope,
          ours=curve.head_at(0.04), tol=1e-9, unit="m")


def test_npsh_goes_on_rising(check) -> None:
    curve = PumpCurve(np.array([0.01, 0.02, 0.03]), np.array([50, 45, 38]), 150.0, npsh=np.array([2.0, 2.5, 3.5]))
    check("NPSH before the first point", source="level", expected=2, ours=curve.npsh_at(0.0), tol=1e-12, unit="m")
    check("NPSH behind the last point", source="straight on, 125 m/(m3/s)", expected=4.75, ours=curve.npsh_at(0.04),
          tol=1e-9, unit="m")


def test_a_curve_is_not_changed_from_outside() -> None:
    heads = np.array([50.0, 40.0])
    curve = PumpCurve(np.array([0, 0.02]), heads, 150.0)
    heads[:] = 0
    assert curve.dead_head() == 50
    with pytest.raises(ValueError, match="read-only"):
        curve.head[0] = 1


def test_arrays_and_single_numbers_agree() -> None:
    curve, x = random_curve(5), np.array([[0.0, 0.004], [0.012, 0.2]])
    for ask in (curve.head_at, curve.slope_at, curve.npsh_at, curve.efficiency_at, lambda q: curve.power_at(q, 998.0)):
        assert np.array_equal(ask(x), [[ask(one) for one in row] for row in x.tolist()])
    assert isinstance(curve.head_at(0.004, 170.0), float)
