"""Instruments of a tank: the straight pieces a level sender knows, and the pulses of a flow meter."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]

MOST_POINTS = 600
"""Most points a dip curve may have; all pairs of them are tried."""


class Linearised(NamedTuple):
    """Points of a dip curve with straight lines between: levels [m], volumes [m3], and the greatest error [m3]."""

    levels: Floats
    volumes: Floats
    error: float


class Calibration(NamedTuple):
    """A meter's pulses for each volume and the standard error of that, both [1/m3]."""

    k_factor: float
    standard_error: float


def linearised(levels: ArrayLike, volumes: ArrayLike, *, points: int) -> Linearised:
    """The points of a dip curve that a sender should know, so that its greatest error is as small as can be.

    Exact: of all choices of at most so many of the curve's own points, both ends among them, the one whose straight
    lines stray least; the curve itself is straight between its points.

    levels: each above the last, (n,) with n from 2 to 600 [m]
    volumes: at the levels, none below the last, (n,) [m3]
    points: how many points the sender holds [-], 2 or more

    Source: derived; least of the greatest errors by dynamic programming.
    """
    x, y = np.asarray(levels, dtype=float), np.asarray(volumes, dtype=float)
    _dip_curve(x, y)
    if points < 2 or points != int(points):
        raise ValueError(f"A sender holds 2 points or more; {points:g} was given, for example 10.")
    errors = _chord_errors(x, y)
    best, before = errors[0], []
    for _ in range(int(points) - 2):
        through = np.maximum(best[:, None], errors)
        before.append(through.argmin(axis=0))
        best = through.min(axis=0)
    chosen = [len(x) - 1]
    for step in reversed(before):
        chosen.append(int(step[chosen[-1]]))
    kept = sorted({0, *chosen})
    return Linearised(x[kept], y[kept], float(best[-1]))


def _chord_errors(x: Floats, y: Floats) -> Floats:
    """Greatest distance of the curve from the chord between two of its points, (n, n); inf where it would run back."""
    errors = np.full((len(x), len(x)), np.inf)
    np.fill_diagonal(errors, 0.0)
    for first in range(len(x) - 1):
        along, up = x[first + 1 :] - x[first], y[first + 1 :] - y[first]
        off = np.abs(up - (up / along)[:, None] * along)
        errors[first, first + 1 :] = np.tril(off, -1).max(axis=1)
    return errors


def _dip_curve(levels: Floats, volumes: Floats) -> None:
    if levels.shape != volumes.shape or levels.ndim != 1 or not 2 <= len(levels) <= MOST_POINTS:
        raise ValueError(f"A dip curve has as many levels as volumes, 2 to {MOST_POINTS}; {levels.size} and "
                         f"{volumes.size} were given. Leave out every second point, for example.")
    if not ((np.diff(levels) > 0).all() and (np.diff(volumes) >= 0).all()):
        raise ValueError("On a dip curve each level is above the last and no volume below the last, for example levels "
                         "[0, 0.5, 1] and volumes [0, 3, 10].")


def pulse_frequency(*, k_factor: ArrayLike, flow: ArrayLike) -> Floats:
    """Pulses of a flow meter in a second [Hz], f = K Q.

    k_factor: pulses for each volume K [1/m3], above 0
    flow: through the meter Q [m3/s], above 0
    """
    positive(k_factor=(np.min(k_factor), "120e3 1/m3"), flow=(np.min(flow), "0.02 m3/s"))
    frequency: Floats = np.asarray(k_factor, dtype=float) * np.asarray(flow)
    return frequency


def calibrated_k(*, counts: ArrayLike, volumes: ArrayLike) -> Calibration:
    """Pulses for each volume from several runs, the line through the origin, and its standard error.

    K = sum(N V) / sum(V^2), standard error s / sqrt(sum(V^2)) with s^2 = sum((N - K V)^2) / (runs - 1)

    counts: pulses of each run N, (runs,), two or more [-], above 0
    volumes: measured of each run V, (runs,) [m3], above 0

    Source: linear least squares, any textbook of statistics.
    """
    pulses, measured = _runs(counts, volumes)
    if len(pulses) < 2:
        raise ValueError("A standard error needs two runs or more; 1 was given. Make more runs, for example three.")
    squares = measured @ measured
    k_factor = pulses @ measured / squares
    scatter = np.sum((pulses - k_factor * measured) ** 2) / (len(pulses) - 1)
    return Calibration(float(k_factor), float(np.sqrt(scatter / squares)))


def deviations(*, counts: ArrayLike, volumes: ArrayLike, k_factor: float) -> Floats:
    """How much more each run read than was measured, relative, (runs,) [-], N / (K V) - 1.

    counts: pulses of each run N, (runs,) [-], above 0
    volumes: measured of each run V, (runs,) [m3], above 0
    k_factor: pulses for each volume K that the display uses [1/m3], above 0
    """
    positive(k_factor=(k_factor, "120e3 1/m3"))
    pulses, measured = _runs(counts, volumes)
    relative: Floats = pulses / (k_factor * measured) - 1
    return relative


def studentised(*, counts: ArrayLike, volumes: ArrayLike) -> Floats:
    """How far each run lies from the line through the origin of all the others, in their standard deviations, (runs,).

    t = r / (s' sqrt(1 - h)) with r = N - K V, h = V^2 / sum(V^2), s'^2 = (sum(r^2) - r^2 / (1 - h)) / (runs - 2); where
    chance alone is at work it follows Student's distribution with runs - 2 degrees of freedom. A run that is judged by
    a deviation it has widened itself would look better than it is: of ten runs none could be 3 deviations off.

    counts: pulses of each run N, (runs,), three or more [-], above 0
    volumes: measured of each run V, (runs,) [m3], above 0

    Source: externally studentised residuals, D. A. Belsley, E. Kuh and R. E. Welsch, Regression Diagnostics, 1980
    (from memory); held against fits without each run.
    """
    pulses, measured = _runs(counts, volumes)
    if len(pulses) < 3:
        raise ValueError(f"Runs are compared with the others; {len(pulses)} were given. Make three or more.")
    residual = pulses - calibrated_k(counts=pulses, volumes=measured).k_factor * measured
    free = 1.0 - measured**2 / (measured @ measured)
    others = (residual @ residual - residual**2 / free) / (len(pulses) - 2)
    rounding = (1e-12 * pulses.max()) ** 2  # runs that agree in all digits
    far: Floats = residual / np.sqrt(np.maximum(others, rounding) * free)
    return far


def _runs(counts: ArrayLike, volumes: ArrayLike) -> tuple[Floats, Floats]:
    pulses, measured = np.atleast_1d(counts).astype(float), np.atleast_1d(volumes).astype(float)
    if pulses.shape != measured.shape or pulses.ndim != 1 or not len(pulses):
        raise ValueError(f"Each run has a count and a volume; {pulses.size} and {measured.size} were given, for "
                         "example [24010, 23985] and [0.2, 0.2].")
    positive(least_count=(pulses.min(), "24010"), least_volume=(measured.min(), "0.2 m3"))
    return pulses, measured
