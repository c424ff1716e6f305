"""Nodes and beams of the frame, and what holds tank and subframe on it.

The tank is a rigid body. Where there is a subframe the tank sits on it stiffly at its saddles (its ends, baffles and
bulkheads where none are said). Cross-members join the subframe there, at its mounts and at its ends. The subframe's
mounts hold both; without a subframe they hold the tank itself. Behind its taper a subframe may press on the rail
between its mounts, not pull (its bearing). A spring mount is a stiff seat that only presses, and beside it the spring
that pulls it down: up to its preload nothing moves. Flanges touch over the webs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.build.mounting import Mount
from tunwright.handbook.beams import BeamSection
from tunwright.handbook.grillage import Beam, Link, Touch
from tunwright.tables.read import shop_value
from tunwright.truck.ladder import sections
from tunwright.truck.ladder.sections import Walls
from tunwright.truck.ladder.stations import nearest, rail_places, subframe_places
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
Point = tuple[float, float, float]
SIDES = ("left", "right")
UP, RIGHT, LONG = (0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)
TANK = "tank"
STIFF = 1e9
"""Stiffness of what is taken as rigid [N/m]; some ten times a bolted mount."""

_BY_PIVOT = 0.15  # a pivot stands on a cross-member no farther away than this [m]


class NoPlace(ValueError):
    """A mount that cannot stand where it is said to; the message says why."""


@dataclass(frozen=True)
class Stretch:
    """A beam of a rail or of the subframe and where to read its stress.

    member: left rail, right rail, left subframe or right subframe
    start, end: places of its ends [m]
    walls: its section
    index: number of its beam
    """

    member: str
    start: float
    end: float
    walls: Walls
    index: int


def saddle_places(truck: Truck) -> list[float]:
    """Where the tank sits on the subframe, those within its ends; none without a subframe [m].

    truck: the truck
    """
    tank, sub = truck.build.tank, truck.build.subframe
    if sub is None:
        return []
    own = [float(one.at) for one in tank.saddle]
    if not own:
        own = [0.0, float(tank.length), *(float(one.at) for one in tank.baffle)]
        own += [float(x) for one in tank.compartment for x in (one.start, one.end)]
    places = truck.frame.point(np.array([[x, 0.0, 0.0] for x in own]))[:, 0]
    return [float(x) for x in places if float(sub.start) - 1e-6 <= x <= float(sub.end) + 1e-6]


class Structure:
    """Rails, cross-members, subframe, tank and mounts of a truck; everything the frame model needs must be known.

    truck: the truck
    extra: places along the rails where springs are fixed [m]
    """

    def __init__(self, truck: Truck, extra: Sequence[float]) -> None:
        self.truck, self.build = truck, truck.build
        frame, sub = self.build.chassis.frame, self.build.subframe
        self.half = 0.5 * float(frame.width or 0.0)
        self.top = float(frame.top or 0.0)
        self.rail_z = self.top - 0.5 * float(frame.rail_height or 0.0)
        self.sub_z = self.top + (0.0 if sub is None else 0.5 * float(sub.height))
        self.saddles = saddle_places(truck)
        self.rails = rail_places(self.build, [*extra, *self.saddles])
        self.members = subframe_places(self.build, self.rails)
        self.nodes: dict[str, Point] = {}
        self.beams: list[Beam] = []
        self.links: list[Link] = []
        self.stretches: list[Stretch] = []
        self.mounted: dict[str, tuple[int, ...]] = {}
        self.preset: dict[int, float] = {}
        self._rails()
        self._cross_members()
        self._subframe()
        self._tank()
        for mount in self.build.mount:
            self._mount(mount)

    def rail_node(self, side: str, x: float) -> str:
        """Name of the node of a rail nearest to a place.

        side: left or right
        x: the place [m]
        """
        return _rail(side, float(self.rails[nearest(self.rails, x)]))

    def y(self, side: str) -> float:
        """Where the back of a rail's web stands [m].

        side: left or right
        """
        return -self.half if side == "left" else self.half

    def rail_walls(self, x: float, side: str) -> Walls:
        """The section of a rail at a place.

        x: the place [m]
        side: left or right
        """
        frame = self.build.chassis.frame
        liner = next((one for one in frame.liner if float(one.start) <= x <= float(one.end)), None)
        size = sections.rail_size(frame)
        lining = None if liner is None else sections.liner_size(frame, liner)
        return sections.rail(size, lining, right=side == "right")

    def _rails(self) -> None:
        for side in SIDES:
            self._run(f"{side} rail", self.rails, self.y(side), self.rail_z, side)

    def _run(self, member: str, places: Floats, y: float, z: float, side: str) -> None:
        names = [f"{member} at {x:.3f} m" for x in places]
        self.nodes |= {name: (float(x), y, z) for name, x in zip(names, places, strict=True)}
        for i in range(len(places) - 1):
            a, b = float(places[i]), float(places[i + 1])
            sub = self.build.subframe
            if member.endswith("rail") or sub is None:
                walls = self.rail_walls(0.5 * (a + b), side)
            else:
                walls = sections.subframe_walls(sub, right=side == "right")
            self.stretches.append(Stretch(member, a, b, walls, len(self.beams)))
            self.beams.append(Beam(names[i], names[i + 1], walls.beam))

    def _cross_members(self) -> None:
        pivots = [one for one in self.build.mount if one.kind == "pivot"]
        places = [float(one.at) for one in self.build.chassis.frame.cross_member]
        carries = {self._under(pivot, places): pivot for pivot in pivots}
        for i, one in enumerate(self.build.chassis.frame.cross_member):
            ends = [_rail(side, float(self.rails[nearest(self.rails, float(one.at))])) for side in SIDES]
            section = sections.cross_beam(one)
            if i in carries:
                middle = f"cross-member under {carries[i].name}"
                self.nodes[middle] = (self.nodes[ends[0]][0], 0.0, self.rail_z)
                self.beams += [Beam(ends[0], middle, section, "free"), Beam(middle, ends[1], section, "free")]
            else:
                self.beams.append(Beam(ends[0], ends[1], section, "free"))

    def _under(self, pivot: Mount, places: Sequence[float]) -> int:
        """The cross-member a pivot stands on."""
        found = min(range(len(places)), key=lambda i: abs(places[i] - float(pivot.at)))
        if abs(places[found] - float(pivot.at)) > _BY_PIVOT:
            raise NoPlace(
                f"the pivot {pivot.name} at {float(pivot.at):.2f} m stands on no cross-member: the nearest is at "
                f"{places[found]:.2f} m; put one under it"
            )
        return found

    def _subframe(self) -> None:
        sub = self.build.subframe
        if sub is None:
            return
        for side in SIDES:
            self._run(f"{side} subframe", self.members, self.y(side), self.sub_z, side)
        crossed = [float(sub.start), float(sub.end), *self.saddles, *(float(one.at) for one in self.build.mount)]
        joins = sorted({nearest(self.members, x) for x in crossed})
        across = BeamSection(**vars(sections.subframe_walls(sub, right=False).beam) | {"centroid": (0.0, 0.0),
            "shear_centre": (0.0, 0.0), "warped": 0.0})  # fmt: skip
        for i in joins:
            x = float(self.members[i])
            self.beams.append(Beam(_sub("left", x), _sub("right", x), across, "free"))
        self.links += self._bearing(sub.bearing, float(sub.start) + float(sub.taper or 0.0))

    def _bearing(self, kind: str, start: float) -> Iterator[Link]:
        """The subframe lying on the rails behind its taper, which is eased off them: it presses and does not pull."""
        if kind == "none":
            return
        per_metre = shop_value(f"bearing_{'steel' if kind == 'plastic' else kind}")
        taken = {nearest(self.members, float(one.at)) for one in self.build.mount if one.kind != "pivot"}
        reach = np.gradient(self.members) if len(self.members) > 1 else np.ones(1)
        for side in SIDES:
            for i, x in enumerate(self.members):
                if i not in taken and x >= start - 1e-6:
                    point = (float(x), self.y(side), self.top)
                    rail = Touch(self.rail_node(side, float(x)), point, UP, -1.0)
                    touches = (Touch(_sub(side, float(x)), point, UP), rail)
                    yield Link(f"bearing {side} at {x:.2f} m", touches, per_metre * float(reach[i]), pushes=True)

    def _tank(self) -> None:
        centre = self.truck.frame.point(np.array([0.5 * float(self.build.tank.length), 0.0, self.truck.solid.seat]))
        self.nodes[TANK] = (float(centre[0]), float(centre[1]), float(centre[2]))
        sits = self.saddles if len(self.members) else []
        under = sorted({float(self.members[nearest(self.members, x)]) for x in sits})
        z = self.top + 2.0 * (self.sub_z - self.top)
        for side in SIDES:
            for x in under:
                point = (float(x), self.y(side), z)
                for way, word in ((UP, "up"), (RIGHT, "across"), (LONG, "along")):
                    touches = (Touch(TANK, point, way), Touch(_sub(side, float(x)), point, way, -1.0))
                    self.links.append(Link(f"tank on {side} subframe at {x:.2f} m, {word}", touches, STIFF))

    def _mount(self, mount: Mount) -> None:
        first = len(self.links)
        for side in ("middle",) if mount.kind == "pivot" else SIDES:
            for link in self._held(mount, side):
                self.links.append(link)
        self.mounted[mount.name] = tuple(range(first, len(self.links)))

    def _held(self, mount: Mount, side: str) -> Iterator[Link]:
        x = float(self.rails[nearest(self.rails, float(mount.at))])
        if side == "middle":
            below = f"cross-member under {mount.name}"
            x = self.nodes[below][0]
            point = (x, 0.0, float(mount.height or self.top))
            above = TANK
        else:
            below, point = _rail(side, x), (x, self.y(side), self.top)
            above = _sub(side, x) if len(self.members) else TANK
        stiff = shop_value("mount_stiffness")
        if mount.kind == "spring":
            yield self._link(mount, side, "seat", above, below, point, UP, stiff)
            yield self._link(mount, side, "spring", above, below, point, UP, float(mount.rate or 0.0))
            yield self._link(mount, side, "across", above, below, point, RIGHT, stiff)
            return
        upright = float(mount.rate) if mount.rate is not None and mount.kind == "rubber" else stiff
        yield self._link(mount, side, "up", above, below, point, UP, upright)
        sideways = 0.3 * upright if mount.kind == "rubber" else stiff
        yield self._link(mount, side, "across", above, below, point, RIGHT, sideways)
        if mount.kind in ("plate", "pivot", "rubber"):
            yield self._link(mount, side, "along", above, below, point, LONG, sideways)

    def _link(
        self, mount: Mount, side: str, word: str, above: str, below: str, point: Point, way: Point, stiffness: float
    ) -> Link:
        touches = (Touch(above, point, way), Touch(below, point, way, -1.0))
        preset = float(mount.preload or 0.0) * {"seat": -1.0, "spring": 1.0}.get(word, 0.0)
        if preset:
            self.preset[len(self.links)] = preset
        return Link(f"{mount.name}, {side}, {word}", touches, stiffness, pushes=word == "seat")


def _rail(side: str, x: float) -> str:
    return f"{side} rail at {x:.3f} m"


def _sub(side: str, x: float) -> str:
    return f"{side} subframe at {x:.3f} m"
