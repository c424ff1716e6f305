"""The truck: a build turned into physics, each part worked out once when it is asked for."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from tunwright.build.model import Build
from tunwright.handbook.inertia import Mass, from_moments, together
from tunwright.tables.read import shop_value
from tunwright.truck.axles import Axles
from tunwright.truck.frame import TankFrame, tank_frame
from tunwright.truck.loads import Loading, LoadTable
from tunwright.truck.solid import TankSolid, tank_solid
from tunwright.truck.states import Tried, everything, tried
from tunwright.truck.volumes import Volumes
from tunwright.truck.water import Water
from tunwright.truck.weights import Weights


class Truck:
    """A build as a physical thing.

    build: the build
    cap: volume it is filled to at most [m3], None for the brim
    """

    def __init__(self, build: Build, *, cap: float | None = None) -> None:
        self.build, self.cap = build, cap

    @cached_property
    def solid(self) -> TankSolid:
        """The tank as a solid."""
        return tank_solid(self.build.tank)

    @cached_property
    def frame(self) -> TankFrame:
        """Where the tank stands."""
        return tank_frame(self.build.tank, self.solid.height)

    @cached_property
    def axles(self) -> Axles:
        """The axles."""
        return Axles(self.build.chassis)

    @cached_property
    def weights(self) -> Weights:
        """What everything but water weighs."""
        return Weights(self.build, self.solid, self.frame)

    @cached_property
    def volumes(self) -> Volumes:
        """The three capacities."""
        own = self.build.states
        ullage = shop_value("ullage") if own.ullage is None else float(own.ullage)
        heel = shop_value("heel") if own.heel is None else float(own.heel)
        return Volumes(self.solid, self.frame, ullage, heel)

    @cached_property
    def water(self) -> Water:
        """Water in the tank."""
        return Water(self.solid, self.frame, float(self.build.states.liquid_density))

    @cached_property
    def loading(self) -> Loading:
        """What loads the axles."""
        height = self.build.chassis.cg_height
        return Loading(self.axles, self.weights, self.volumes, self.water, None if height is None else float(height))

    @cached_property
    def tried(self) -> Tried:
        """The roads it is tried on."""
        return tried(self.build)

    @cached_property
    def table(self) -> LoadTable:
        """Axle loads in every state the checks read."""
        net = self.volumes.net
        top = None if self.cap is None else min(1.0, self.cap / float(net.sum()))
        states = list(everything(self.build, net, [bool(s.lifted) for s in self.axles.stances], top=top))
        found = self.loading.table(states)
        self.solid.tabled = True
        return found

    @property
    def at_hand(self) -> bool:
        """Whether the water of the table is known already, from this truck or another with a tank of this shape."""
        return self.solid.tabled

    @cached_property
    def sweep(self) -> LoadTable:
        """The part of the table in which every compartment is filled alike, level and on grades."""
        return self.table.only(
            np.array([s.sort == "even" and not s.slope and not s.braking for s in self.table.states])
        )

    def body(self, fill: float) -> Mass:
        """Tank, fittings and water as one lump, without the bare chassis and persons; water taken as still.

        fill: water over net volume [-]
        """
        slope = self.frame.along(np.zeros(1))
        lumps = [lump.mass for lump in self.weights.lumps if lump.of in ("tank", "frame", "cab")]
        for part, net in zip(self.solid.compartments, self.volumes.net, strict=True):
            c = part.whole.levels(np.array([fill * net]), slope, 0.0)
            lumps.append(self.frame.lump(from_moments(part.whole.moments(c, slope, 0.0)[0], self.water.density)))
        return together(lumps)
