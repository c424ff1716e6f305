"""The three capacities of a tank, kept apart: gross to the roof, net to the fill line, usable above what stays."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.build.tank import Outlet
from tunwright.handbook.bodies import Slice
from tunwright.handbook.liquid import wet_volume
from tunwright.truck.frame import TankFrame
from tunwright.truck.solid import Compartment, TankSolid

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Volumes:
    """Capacities of each compartment, standing level.

    solid: the tank
    frame: where it stands, for its pitch
    ullage: air space where there is no overflow lip, as part of the gross volume [-]
    heel: what stays where no outlet is stated, as part of the net volume [-]
    """

    solid: TankSolid
    frame: TankFrame
    ullage: float
    heel: float

    @property
    def level_slope(self) -> float:
        """Slope of a level surface in the tank's frame [-]."""
        return float(np.tan(self.frame.pitch))

    @cached_property
    def gross(self) -> Floats:
        """Volume of each compartment to the roof [m3]."""
        return np.array([part.whole.gross for part in self.solid.compartments])

    @cached_property
    def net(self) -> Floats:
        """Volume of each compartment to the overflow lip, or less the ullage [m3]."""
        lip = self.solid.tank.overflow_lip
        if lip is None:
            return self.gross * (1.0 - self.ullage)
        middle = 0.5 * float(self.solid.tank.length)
        return np.array([part.whole.below(middle, float(lip), self.level_slope) for part in self.solid.compartments])

    @cached_property
    def usable(self) -> Floats:
        """Net volume of each compartment above the lowest point it is drawn from [m3]."""
        return np.array([self._usable(part, net) for part, net in zip(self.solid.compartments, self.net, strict=True)])

    def _usable(self, part: Compartment, net: float) -> float:
        stays = [self._stays(part, outlet) for outlet in self._outlets(part)]
        left = net - min(stays) if stays else net * (1.0 - self.heel)
        return float(max(0.0, left))

    def _stays(self, part: Compartment, outlet: Outlet) -> float:
        """Water an outlet leaves [m3].

        All below it stays, and for one in a sump all that lies below the sump's rim elsewhere: it cannot climb there.
        """
        at, height = float(outlet.at), float(outlet.height)
        rim = max(height, self.solid.floor(at))
        sump = [body for body in part.whole.bodies if isinstance(body, Slice) and body.sign > 0]
        drains = self._below(sump, at, rim) - self._below(sump, at, height) if sump else 0.0
        return part.whole.below(at, rim, self.level_slope) - drains

    def _below(self, bodies: list[Slice], x: float, height: float) -> float:
        slope = self.level_slope
        return float(wet_volume(bodies, c=np.array([height - slope * x]), a=np.array([slope]))[0][0])

    def _outlets(self, part: Compartment) -> list[Outlet]:
        """Outlets that draw from a compartment: named for it, or standing in it."""
        inside = part.whole
        return [
            o
            for o in self.solid.tank.outlet
            if (o.compartment == part.name if o.compartment else inside.start <= o.at <= inside.end)
        ]

    def dip(self, levels: Floats, *, grade: float = 0.0) -> Floats:
        """Litres in the whole tank for levels read at the dip point [m3]; one compartment holds one level.

        levels: heights above the floor at the dip point [m]
        grade: slope of the road, + nose up [-]
        """
        x, _, floor = self.dip_point()
        a = self.frame.along(np.array(grade))
        c = floor + levels - float(a) * x
        slopes = np.full(len(levels), float(a))
        parts = [wet_volume(part.whole.bodies, c=c, a=slopes)[0] for part in self.solid.compartments]
        held: Floats = np.array(parts).sum(axis=0)
        return held

    def dip_point(self) -> tuple[float, float, float]:
        """Where the level is dipped: x, y and the floor's height there, in the tank's frame [m]."""
        tank = self.solid.tank
        x = 0.5 * float(tank.length) if tank.dip_at is None else float(tank.dip_at)
        return x, float(tank.dip_y), self.solid.floor(x, float(tank.dip_y))
