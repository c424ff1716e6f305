"""Where the water of the tank stands, seen from the pipework: heights above the ground, on level ground."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.build.pipework import Point
from tunwright.build.tank import Outlet
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class TankWater:
    """The water of a tank as it is filled or emptied, all compartments alike.

    truck: the truck
    """

    truck: Truck

    @cached_property
    def net(self) -> float:
        """Volume to the overflow lip [m3]."""
        return float(self.truck.volumes.net.sum())

    def surface(self, point: Point, fill: float) -> float:
        """Height above the ground of the water an outlet or a mouth stands in [m].

        point: the point; one that is no outlet sees the first compartment
        fill: water over net volume [-]
        """
        if fill not in self._surfaces:
            self.look([fill])
        return self._surfaces[fill][self.compartment(point)]

    def look(self, fills: Sequence[float]) -> None:
        """Work the surfaces of several fillings out at once; they are kept.

        fills: water over net volume [-]
        """
        new = [fill for fill in fills if fill not in self._surfaces]
        if not new:
            return
        slope, heights = np.full(len(new), self.truck.volumes.level_slope), []
        for part, net in zip(self.truck.solid.compartments, self.truck.volumes.net, strict=True):
            c = part.whole.levels(np.maximum(new, 0.0) * net, slope, 0.0)
            heights.append(self.truck.frame.point(np.column_stack([0.0 * c, 0.0 * c, c]))[:, 2])
        self._surfaces.update(zip(new, np.array(heights).T.tolist(), strict=True))

    @cached_property
    def _surfaces(self) -> dict[float, list[float]]:
        return {}

    def height(self, point: Point) -> float:
        """Height of a point above the ground [m]; of an outlet its own where none is stated.

        point: the point
        """
        if point.height is not None:
            return float(point.height)
        outlet = self.outlet(point)
        return float(self.truck.frame.point(np.array([float(outlet.at), 0.0, float(outlet.height)]))[2])

    def lip(self) -> float | None:
        """Height of the overflow lip above the ground [m], None where there is none."""
        tank = self.truck.build.tank
        if tank.overflow_lip is None:
            return None
        middle = np.array([0.5 * float(tank.length), 0.0, float(tank.overflow_lip)])
        return float(self.truck.frame.point(middle)[2])

    def roof(self) -> float:
        """Height of the highest point of the tank's inside above the ground [m]."""
        length, top = float(self.truck.build.tank.length), self.truck.solid.height
        ends = self.truck.frame.point(np.array([[0.0, 0.0, top], [length, 0.0, top]]))
        return float(ends[:, 2].max())

    def outlet(self, point: Point) -> Outlet:
        """The outlet of the tank that a point is.

        point: a point with an outlet's number
        """
        return self.truck.build.tank.outlet[(point.outlet or 1) - 1]

    def compartment(self, point: Point) -> int:
        """Number of the compartment a point draws from or fills, from 0.

        point: the point
        """
        parts = self.truck.solid.compartments
        if point.outlet is None:
            return next((i for i, part in enumerate(parts) if part.name == point.compartment), 0)
        outlet = self.outlet(point)
        for i, part in enumerate(parts):
            inside = part.whole.start <= outlet.at <= part.whole.end
            if part.name == outlet.compartment or (outlet.compartment is None and inside):
                return i
        return 0
