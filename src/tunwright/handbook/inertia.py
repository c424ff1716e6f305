"""Mass, centre and inertia: of points, plates and curved sheets, and of many taken together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Mass:
    """A rigid lump.

    mass: mass [kg]
    centre: x, y, z of the centre of mass [m]
    spread: integral of (r - centre)(r - centre)^T dm, 3 x 3 [kg m2]; zero for a point
    """

    mass: float
    centre: Floats
    spread: Floats = field(default_factory=lambda: np.zeros((3, 3)))

    @property
    def inertia(self) -> Floats:
        """Inertia tensor about the centre, 3 x 3 [kg m2]: trace(S) 1 - S."""
        tensor: Floats = np.trace(self.spread) * np.eye(3) - self.spread
        return tensor

    def scaled(self, mass: float) -> Mass:
        """The same lump with another mass: the centre stays, the inertia scales.

        mass: the mass it shall have [kg]
        """
        share = mass / self.mass if self.mass else 0.0
        return Mass(mass, self.centre, self.spread * share)

    def moved(self, by: Floats) -> Mass:
        """The same lump elsewhere.

        by: displacement x, y, z [m]
        """
        return Mass(self.mass, self.centre + by, self.spread)


def point(mass: float, x: float, y: float, z: float) -> Mass:
    """A point mass.

    mass: mass [kg]
    x: place along the vehicle [m]
    y: place across [m]
    z: height [m]
    """
    return Mass(mass, np.array([x, y, z], dtype=float))


def together(lumps: Iterable[Mass]) -> Mass:
    """All lumps as one: sum of masses, common centre, spreads by the parallel-axis theorem (Steiner).

    lumps: the lumps; none give a lump of no mass at the origin
    """
    items = list(lumps)
    total = sum(item.mass for item in items)
    if not total:
        return Mass(0.0, np.zeros(3))
    centre = sum((item.mass * item.centre for item in items), np.zeros(3)) / total
    spread = np.zeros((3, 3))
    for item in items:
        arm = item.centre - centre
        spread = spread + item.spread + item.mass * np.outer(arm, arm)
    return Mass(total, centre, spread)


def from_moments(moments: Floats, density: float) -> Mass:
    """A lump from volume moments 1, x, y, z, xx, yy, zz, xy, xz, yz.

    moments: the ten moments [m3 .. m5]
    density: mass of a unit of volume [kg/m3], or of area where the moments are of an area [kg/m2]
    """
    volume = float(moments[0])
    if volume <= 0.0:
        return Mass(0.0, np.zeros(3))
    centre = np.asarray(moments[1:4]) / volume
    xx, yy, zz, xy, xz, yz = moments[4:10]
    about_origin = np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]])
    return Mass(density * volume, centre, density * (about_origin - volume * np.outer(centre, centre)))


def sheet_moments(grid: Floats) -> Floats:
    """Area moments (10,) of a curved sheet given as a grid of points, each cell as two flat triangles.

    grid: points (m, n, 3) [m]
    """
    p, q, r, s = (part.reshape(-1, 3) for part in (grid[:-1, :-1], grid[1:, :-1], grid[1:, 1:], grid[:-1, 1:]))
    one, two = _triangle_moments(p, q, r), _triangle_moments(p, r, s)
    return _ten(one[0] + two[0], one[1] + two[1], one[2] + two[2])


def _triangle_moments(p: Floats, q: Floats, r: Floats) -> tuple[float, Floats, Floats]:
    """Area, first (3,) and second (3, 3) moments of flat triangles: A (p + q + r) / 3, and
    A (p p + q q + r r + s s) / 12 with s = p + q + r.
    """
    u, v = (q - p).T, (r - p).T
    across = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
    area = 0.5 * np.sqrt(across[0] ** 2 + across[1] ** 2 + across[2] ** 2)
    total = p + q + r
    second = sum((area[:, None] * one).T @ one for one in (p, q, r, total)) / 12.0
    return float(area.sum()), area @ total / 3.0, second


def plate_moments(x: float, yz: Floats) -> Floats:
    """Area moments (10,) of a flat plate across the vehicle at x.

    x: place of the plate [m]
    yz: section moments 1, y, z, yy, yz, zz (6,) [m2 .. m4]
    """
    one, y, z, yy, y_z, zz = (float(v) for v in yz)
    return np.array([one, x * one, y, z, x * x * one, yy, zz, x * y, x * z, y_z])


def _ten(area: float, first: Floats, second: Floats) -> Floats:
    diagonal = (second[0, 0], second[1, 1], second[2, 2])
    return np.array([area, *first, *diagonal, second[0, 1], second[0, 2], second[1, 2]])
