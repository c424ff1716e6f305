"""The water of many load states at once: its mass, its centre and its moments, in vehicle coordinates."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.liquid import WET
from tunwright.truck.frame import TankFrame
from tunwright.truck.solid import Region, TankSolid

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Water:
    """Water in a tank.

    solid: the tank
    frame: where it stands
    density: of the liquid [kg/m3]
    """

    solid: TankSolid
    frame: TankFrame
    density: float

    def settled(self, volumes: Floats, slope: Floats, across: float) -> Floats:
        """Moments (n, 10) in the tank's frame of water with one surface through all bays of each compartment.

        volumes: volume in each compartment (n, compartments) [m3]
        slope: slope of the surface along the vehicle (n,) [-]
        across: slope of the surface across the vehicle [-]
        """
        total = np.zeros((len(volumes), WET))
        for i, part in enumerate(self.solid.compartments):
            total += self._in(part.whole, volumes[:, i], slope, across)
        return total

    def _in(self, region: Region, volume: Floats, slope: Floats, across: float) -> Floats:
        """Moments in one region; equal rows are solved once, slopes at a time so that `across` turns with them."""
        rows, where = np.unique(np.column_stack([volume, slope]), axis=0, return_inverse=True)
        out = np.zeros((len(rows), WET))
        for value in np.unique(rows[:, 1]) if across else (None,):
            mine = slice(None) if value is None else rows[:, 1] == value
            a = self.frame.along(rows[mine, 1])
            b = self.frame.across(float(rows[mine, 1][0]), across) if across else 0.0
            c = region.levels(rows[mine, 0], a, b)
            out[mine] = region.moments(c, a, b)
        return out[where.ravel()]

    def braked(self, volumes: Floats, slope: float) -> Floats:
        """Moments (n, 10) with each bay keeping the water it holds on the level and its surface tilted.

        volumes: volume in each compartment (n, compartments) [m3]
        slope: slope of the surface in each bay [-], minus deceleration over g
        """
        total = np.zeros((len(volumes), WET))
        level = self.frame.along(np.zeros(len(volumes)))
        tilted = self.frame.along(np.full(len(volumes), slope))
        for i, part in enumerate(self.solid.compartments):
            c = part.whole.levels(volumes[:, i], level, 0.0)
            for bay in part.bays:
                held = bay.moments(c, level, 0.0)[:, 0]
                total += bay.moments(bay.levels(held, tilted, 0.0), tilted, 0.0)
        return total

    def centres(self, moments: Floats) -> tuple[Floats, Floats]:
        """Mass (n,) [kg] and centre (n, 3) in vehicle coordinates [m] of water from its moments.

        moments: moments (n, 10) in the tank's frame
        """
        volume = moments[:, 0]
        safe = np.where(volume > 1e-12, volume, 1.0)
        centre = np.where(volume[:, None] > 1e-12, moments[:, 1:4] / safe[:, None], 0.0)
        return volume * self.density, self.frame.point(centre)
