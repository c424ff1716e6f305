"""The tank's own frame and the vehicle's: carrying points, lumps and water surfaces from one to the other.

The tank's frame has its origin on the front tangent line at the lowest inside point of the section, x rearwards along
the tank, y right, z up. A pitched tank is turned about the y axis, its rear down.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.build.tank import Tank
from tunwright.handbook.inertia import Mass

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class TankFrame:
    """Where the tank's frame stands in the vehicle's.

    origin: the tank's origin in vehicle coordinates [m]
    pitch: angle by which the rear stands lower [rad]
    """

    origin: Floats
    pitch: float

    @property
    def turn(self) -> Floats:
        """Matrix whose columns are the tank's axes in vehicle coordinates."""
        c, s = math.cos(self.pitch), math.sin(self.pitch)
        return np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])

    def point(self, at: Floats) -> Floats:
        """A point or points (..., 3) of the tank in vehicle coordinates [m].

        at: points in the tank's frame [m]
        """
        moved: Floats = self.origin + np.asarray(at, dtype=float) @ self.turn.T
        return moved

    def lump(self, mass: Mass) -> Mass:
        """A lump of the tank in vehicle coordinates.

        mass: the lump in the tank's frame
        """
        return Mass(mass.mass, self.point(mass.centre), self.turn @ mass.spread @ self.turn.T)

    def along(self, a: Floats) -> Floats:
        """Slope along the tank of a surface [-].

        a: slope along the vehicle [-]
        """
        c, s = math.cos(self.pitch), math.sin(self.pitch)
        slope: Floats = (a * c + s) / (c - a * s)
        return slope

    def surface(self, a: Floats, b: float) -> tuple[Floats, Floats]:
        """Slopes of surfaces in the tank's frame, along and across [-].

        a: slopes along the vehicle [-]
        b: slope across the vehicle [-]
        """
        return self.along(a), b / (math.cos(self.pitch) - a * math.sin(self.pitch))

    def across(self, a: float, b: float) -> float:
        """Slope across the tank of a surface [-].

        a: slope along the vehicle [-]
        b: slope across the vehicle [-]
        """
        return b / (math.cos(self.pitch) - a * math.sin(self.pitch))


def tank_frame(tank: Tank, height: float) -> TankFrame:
    """The frame of a tank whose middle stands where the build says.

    tank: the tank of the build
    height: height of its section [m]
    """
    pitch = math.atan(tank.fall) if tank.fall_by == "pitch" else 0.0
    c, s = math.cos(pitch), math.sin(pitch)
    x = tank.middle - 0.5 * tank.length * c - 0.5 * height * s
    return TankFrame(np.array([x, tank.y, tank.bottom]), pitch)
