"""A smooth line through points that rises and falls only where the points do, quick to evaluate for single numbers.

F. N. Fritsch and J. Butland, A method for constructing local monotone piecewise cubic interpolants (1984), with the
end slopes of C. Moler, Numerical Computing with MATLAB (2004), 3.6: the line that SciPy's PchipInterpolator draws,
without the 0.4 s that loading it takes.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Line:
    """Cubics joined at knots, straight outside them: c0 + c1 d + c2 d^2 + c3 d^3, d = x - start.

    knots: where they join
    rows: start, c0, c1, c2, c3 of each stretch, from the one before the first knot to the one behind the last
    """

    knots: tuple[float, ...]
    rows: tuple[tuple[float, ...], ...]

    def at(self, x: float) -> float:
        """Height of the line.

        x: where [-]
        """
        start, c0, c1, c2, c3 = self.rows[bisect_right(self.knots, x)]
        d = x - start
        return c0 + d * (c1 + d * (c2 + d * c3))

    def slope(self, x: float) -> float:
        """Slope of the line; at a knot, that of the stretch behind it.

        x: where [-]
        """
        start, _, c1, c2, c3 = self.rows[bisect_right(self.knots, x)]
        d = x - start
        return c1 + d * (2.0 * c2 + d * 3.0 * c3)


def slopes(x: Floats, y: Floats) -> Floats:
    """Slopes at points, (n,), with which the cubics between them stay within the heights of their ends.

    x: places of the points, rising, (n,) [-], 2 or more
    y: heights of the points, (n,) [-]

    Source: Fritsch and Butland 1984; at the ends Moler 2004, as SciPy's PchipInterpolator.
    """
    h = np.diff(x)
    chord = np.diff(y) / h
    if len(h) == 1:
        return np.repeat(chord, 2)
    inner = np.zeros(len(h) - 1)
    runs = chord[:-1] * chord[1:] > 0.0
    near, far = (h[:-1] + 2.0 * h[1:])[runs], (2.0 * h[:-1] + h[1:])[runs]
    inner[runs] = (near + far) / (near / chord[:-1][runs] + far / chord[1:][runs])
    return np.array([_end(h[0], h[1], chord[0], chord[1]), *inner, _end(h[-1], h[-2], chord[-1], chord[-2])])


def _end(h0: float, h1: float, chord0: float, chord1: float) -> float:
    """Slope at an end, by the parabola through three points, kept to the heights of the first two."""
    slope = ((2.0 * h0 + h1) * chord0 - h0 * chord1) / (h0 + h1)
    if slope * chord0 <= 0.0:
        return 0.0
    if chord0 * chord1 <= 0.0 and abs(slope) > 3.0 * abs(chord0):
        return 3.0 * chord0
    return slope


def line(x: Floats, y: Floats, slope: Floats, *, before: float, behind: float) -> Line:
    """The line through points with a slope at each of them.

    x: places of the points, rising, (n,) [-], 2 or more
    y: heights of the points, (n,) [-]
    slope: at the points, (n,) [-]
    before: slope of the straight line before the first point [-]
    behind: slope of the straight line behind the last point [-]
    """
    h = np.diff(x)
    chord = np.diff(y) / h
    second = (3.0 * chord - 2.0 * slope[:-1] - slope[1:]) / h
    third = (slope[:-1] + slope[1:] - 2.0 * chord) / h**2
    inside = np.column_stack([x[:-1], y[:-1], slope[:-1], second, third])
    rows = np.vstack([[x[0], y[0], before, 0.0, 0.0], inside, [x[-1], y[-1], behind, 0.0, 0.0]])
    return Line(tuple(x.tolist()), tuple(map(tuple, rows.tolist())))
