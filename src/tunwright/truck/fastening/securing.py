"""The brim-full tank as a stiff body on its mounts, thrown forwards, sideways, up and down.

The mounts have the stiffness of the frame model, the frame is taken as rigid, springs' seats only press. The hard cases
are those of tanks for dangerous goods; the daily ones, those of the states the build is tried in.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.grillage import Grillage, Link, Touch
from tunwright.handbook.inertia import Mass, point, together
from tunwright.handbook.one_sided import push_only
from tunwright.tables.read import shop_value
from tunwright.truck.fastening.held import by_friction, holds, sides
from tunwright.truck.states import LoadState
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
BODY = "tank"


@dataclass(frozen=True)
class Throw:
    """One way in which the tank presses on its mounts.

    words: what happens
    along, across, up: force on the tank over its weight: rearwards, to the right, upwards [-]
    daily: it comes in daily use; else it must be borne once
    """

    words: str
    along: float
    across: float
    up: float
    daily: bool = False


def throws(truck: Truck) -> tuple[Throw, ...]:
    """The hard cases, each alone and with gravity beside it, and the daily ones.

    Upwards gravity is not taken off, and downwards it is within the value.

    truck: the truck
    """
    forward, side = shop_value("securing_forward"), shop_value("securing_sideways")
    found = []
    for tail, down in (("", 0.0), (" and 1 g down", -1.0)):
        found.append(Throw(f"{forward:g} g forward{tail}", -forward, 0.0, down))
        found += [Throw(f"{side:g} g to the {to}{tail}", 0.0, way * side, down) for to, way in _WAYS]
    up, down = shop_value("securing_up"), shop_value("securing_down")
    found += [Throw(f"{up:g} g up", 0.0, 0.0, up), Throw(f"{down:g} g down", 0.0, 0.0, -down)]
    return (*found, *_daily(truck))


_WAYS = (("left", -1.0), ("right", 1.0))


def _daily(truck: Truck) -> Iterator[Throw]:
    roads = truck.tried
    yield Throw(f"braking at {roads.braking:g} g", -roads.braking, 0.0, -1.0, daily=True)
    for to, way in _WAYS:
        yield Throw(f"a curve, {roads.cornering:g} g to the {to}", 0.0, way * roads.cornering, -1.0, daily=True)
    yield Throw(f"rough ground, {roads.bump:g} g", 0.0, 0.0, -roads.bump, daily=True)


class Securing:
    """The tank on its mounts.

    truck: the truck
    """

    def __init__(self, truck: Truck) -> None:
        self.truck, self.mounts = truck, truck.build.mount

    @property
    def missing(self) -> tuple[str, ...]:
        """What has to be known before forces can be given."""
        frame = self.truck.build.chassis.frame
        return tuple(f"chassis.frame.{name}" for name in ("top", "width") if getattr(frame, name) is None)

    @cached_property
    def parts(self) -> tuple[tuple[str, Mass], ...]:
        """What the mounts hold: the tank with what stands on it, its water to the brim, the subframe."""
        count = len(self.truck.solid.compartments)
        brim = self.truck.loading.table([LoadState("even", 1.0, (1.0,) * count, brim=True)])
        water = point(float(brim.water_mass[0]), *(float(v) for v in brim.water_at[0]))
        found = [("tank and what stands on it", self.truck.weights.on_tank), ("water to the brim", water)]
        sub = self.truck.weights.subframe
        return (*found, *(() if sub is None else (("subframe", sub.mass),)))

    @cached_property
    def body(self) -> Mass:
        """All of it as one."""
        return together(mass for _, mass in self.parts)

    @cached_property
    def throws(self) -> tuple[Throw, ...]:
        """The cases."""
        return throws(self.truck)

    @cached_property
    def frame(self) -> Grillage:
        """The body on its mounts."""
        x, y, z = (float(v) for v in self.body.centre)
        return Grillage({BODY: (x, y, z)}, (), [link for link, _, _ in self._links])

    @cached_property
    def _links(self) -> list[tuple[Link, tuple[str, str, str], float]]:
        """Each link with its mount, side and word, and the force in it before anything moves."""
        friction, found = by_friction(self.mounts), []
        for mount in self.mounts:
            for side in sides(mount):
                at = self.place(mount.name, side)
                for hold in holds(mount, friction=friction):
                    touch = Touch(BODY, at, hold.way)
                    key = (mount.name, side, hold.word)
                    link = Link(", ".join(key), (touch,), hold.stiffness, pushes=hold.pushes)
                    found.append((link, key, hold.preset))
        return found

    def place(self, name: str, side: str) -> tuple[float, float, float]:
        """Where one side of a mount takes the force [m]: over the rail's web at the upper flange.

        name: of the mount
        side: left, right or middle
        """
        mount = next(one for one in self.mounts if one.name == name)
        frame = self.truck.build.chassis.frame
        y = 0.5 * float(frame.width or 0.0) * {"left": -1.0, "right": 1.0}.get(side, 0.0)
        z = float(mount.height if side == "middle" and mount.height is not None else frame.top or 0.0)
        return (float(mount.at), y, z)

    @cached_property
    def loads(self) -> Floats:
        """Force on the body in each case (cases, 3) [N]."""
        ways = np.array([(t.along, t.across, t.up) for t in self.throws])
        return GRAVITY * self.body.mass * ways

    @cached_property
    def forces(self) -> dict[tuple[str, str, str], Floats]:
        """Force of the body on each mount by name, side and word, in each case (cases,) [N].

        Raises Mechanism where the mounts do not hold it every way, Lifted where springs alone would have to.
        """
        pushed = np.zeros((self.frame.size, len(self.loads)))
        pushed[:3] = self.loads.T
        before = np.array([preset for _, _, preset in self._links])[:, None] * np.ones(len(self.loads))
        force = push_only(self.frame, before, pushed)[1]
        return {key: force[i] for i, (_, key, _) in enumerate(self._links)}
