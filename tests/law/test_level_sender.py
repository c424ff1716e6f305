"""A level sender's straight pieces are the best there are, and a meter's calibration is the least-squares line."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from scipy.optimize import curve_fit

from tunwright.handbook.instruments import calibrated_k, deviations, linearised, pulse_frequency

CURVES = 40


def lying_cylinder(count: int) -> tuple[np.ndarray, np.ndarray]:
    """Dip curve of a round tank, 1.6 m across and 4 m long."""
    level, r = np.linspace(0, 1.6, count), 0.8
    half_width = np.sqrt(np.maximum(2 * r * level - level**2, 0))
    return level, 4 * (r**2 * np.arccos((r - level) / r) - (r - level) * half_width)


def random_curve(rng: np.random.Generator, count: int) -> tuple[np.ndarray, np.ndarray]:
    return np.cumsum(rng.uniform(0.01, 0.2, count)), np.cumsum(rng.exponential(1.0, count))


def strayed(levels: np.ndarray, volumes: np.ndarray, kept: tuple[np.ndarray, np.ndarray]) -> float:
    """Greatest error on a fine grid that has the curve's own points."""
    fine = np.union1d(np.linspace(levels[0], levels[-1], 5001), levels)
    return float(np.abs(np.interp(fine, *kept) - np.interp(fine, levels, volumes)).max())


@pytest.mark.parametrize("points", [2, 5, 9, 16])
def test_the_error_is_the_true_one(check, points: int) -> None:
    worst = 0.0
    for seed in range(CURVES):
        levels, volumes = random_curve(np.random.default_rng(seed), 60)
        kept = linearised(levels, volumes, points=points)
        assert len(kept.levels) <= points
        assert {kept.levels[0], kept.levels[-1]} == {levels[0], levels[-1]}
        assert np.isin(kept.levels, levels).all()
        worst = max(worst, abs(kept.error - strayed(levels, volumes, kept[:2])))
    check(f"error of {points} points", source="straight lines against the curve on a fine grid", expected=0, ours=worst,
          tol=1e-12, unit="m3")


@pytest.mark.parametrize("points", [2, 3, 4, 5])
def test_no_other_choice_is_better(check, points: int) -> None:
    worst = 0.0
    for seed in range(CURVES):
        levels, volumes = random_curve(np.random.default_rng(seed), 9)
        least = np.inf
        for count in range(points - 1):
            for inside in combinations(range(1, 8), count):
                rows = [0, *inside, 8]
                least = min(least, strayed(levels, volumes, (levels[rows], volumes[rows])))
        worst = max(worst, abs(linearised(levels, volumes, points=points).error - least))
    check(f"error of {points} points of 9 over the least", source="all choices tried", expected=0, ours=worst,
          tol=1e-12, unit="m3")


def test_the_error_falls_with_more_points() -> None:
    for (levels, volumes), least in ((lying_cylinder(161), 0.01), (random_curve(np.random.default_rng(7), 80), 0.3)):
        errors = np.array([linearised(levels, volumes, points=points).error for points in range(2, 30)])
        assert (np.diff(errors) <= 1e-15).all()
        assert errors[-1] < least * errors[0]


def test_all_points_leave_no_error() -> None:
    levels, volumes = random_curve(np.random.default_rng(1), 25)
    assert linearised(levels, volumes, points=25).error == 0
    assert linearised(levels, volumes, points=40).error == 0


def test_a_straight_curve_needs_two_points() -> None:
    levels = np.linspace(0, 1.5, 31)
    for points in (2, 6):
        assert linearised(levels, 8 * levels, points=points).error == pytest.approx(0, abs=1e-14)


@pytest.mark.parametrize("points", [3, 5, 9])
def test_a_parabola(check, points: int) -> None:
    """The best pieces of y = x^2 are equally long; each strays by a quarter of its length squared."""
    levels = np.linspace(0, 1, 129)
    check(f"error of {points} points on a parabola", source="closed form, (L / (n - 1))^2 / 4", tol=1e-14, unit="m3",
          expected=(1 / (points - 1)) ** 2 / 4, ours=linearised(levels, levels**2, points=points).error)


def test_a_round_tank_is_read_alike_from_above_and_below(check) -> None:
    levels, volumes = lying_cylinder(121)
    kept = linearised(levels, volumes, points=8)
    turned = linearised(levels, volumes[-1] - volumes[::-1], points=8)
    check("error of 8 points, tank turned over", source="the same tank", expected=kept.error, ours=turned.error,
          tol=1e-12, unit="m3")


def test_calibration_against_a_fit(check) -> None:
    rng = np.random.default_rng(5)
    volumes = rng.uniform(0.1, 0.5, 12)
    counts = np.round(120e3 * volumes * rng.normal(1, 0.004, 12))
    best, covariance = curve_fit(lambda v, k: k * v, volumes, counts, p0=[1e5])
    ours = calibrated_k(counts=counts, volumes=volumes)
    check("pulses for each m3", source="scipy.optimize.curve_fit", expected=best[0], ours=ours.k_factor, tol=1e-2,
          unit="1/m3")
    check("standard error", source="scipy.optimize.curve_fit", expected=covariance[0, 0] ** 0.5, tol=1e-3,
          ours=ours.standard_error, unit="1/m3")


def test_residuals_weigh_nothing_against_the_volumes() -> None:
    """What makes the line the least-squares one."""
    counts, volumes = [24010.0, 47880.0, 36100.0], [0.2, 0.4, 0.3]
    k = calibrated_k(counts=counts, volumes=volumes).k_factor
    assert np.dot(np.array(counts) - k * np.array(volumes), volumes) == pytest.approx(0, abs=1e-9)


def test_a_perfect_meter() -> None:
    volumes = np.array([0.1, 0.2, 0.7])
    ours = calibrated_k(counts=5000 * volumes, volumes=volumes)
    assert ours == pytest.approx((5000, 0), abs=1e-9)
    assert deviations(counts=5000 * volumes, volumes=volumes, k_factor=5000.0) == pytest.approx(0, abs=1e-15)
    assert deviations(counts=5100 * volumes, volumes=volumes, k_factor=5000.0) == pytest.approx(0.02)


def test_pulses_add_up_to_the_volume() -> None:
    flow = np.array([0.005, 0.02])
    assert pulse_frequency(k_factor=4000.0, flow=flow) * 60 / 4000 == pytest.approx(flow * 60, rel=1e-13)


@pytest.mark.parametrize(("call", "words"), [
    (lambda: linearised([0, 1, 1], [0, 1, 2], points=2), "above the last"),
    (lambda: linearised([0, 1, 2], [0, 2, 1], points=2), "no volume below"),
    (lambda: linearised([0, 1], [0, 1, 2], points=2), "as many levels as volumes"),
    (lambda: linearised(range(700), range(700), points=2), "every second"),
    (lambda: linearised([0, 1], [0, 1], points=1), "for example 10"),
    (lambda: calibrated_k(counts=[100], volumes=[1]), "two runs"),
    (lambda: calibrated_k(counts=[100, 200], volumes=[1]), "a count and a volume"),
    (lambda: deviations(counts=[100], volumes=[0], k_factor=100.0), "0.2 m3"),
    (lambda: pulse_frequency(k_factor=-1.0, flow=0.02), "120e3"),
])
def test_what_is_no_instrument_is_refused(call, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        call()
