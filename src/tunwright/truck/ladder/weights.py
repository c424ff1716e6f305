"""What weighs on the frame, and on which node it hangs.

The bare chassis is known by its axle loads alone. From each axle load its unsprung mass is taken off; what is left is
made of the rails, the parts that are listed, and a rest which is put where it weighs on that axle only. So the weighed
axle loads come back exactly, whatever is listed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.beams import FREEDOMS
from tunwright.handbook.grillage import Grillage
from tunwright.truck.ladder.running import RADIUS, Carrier
from tunwright.truck.ladder.sections import DENSITY, liner_size, rail, rail_size
from tunwright.truck.ladder.stations import between
from tunwright.truck.ladder.structure import LONG, RIGHT, SIDES, TANK, UP, Point, Structure
from tunwright.truck.liners import linings
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
CAB_HEIGHT = 0.9  # of the rest of the chassis above the ground, where its centre is not known [m]


@dataclass(frozen=True)
class Hung:
    """A lump on the rails.

    mass: [kg]
    at: its centre [m]
    """

    mass: float
    at: tuple[float, float, float]


def chassis_lumps(truck: Truck, structure: Structure, carriers: list[Carrier], unsprung: Floats) -> list[Hung]:
    """The sprung bare chassis as lumps that give the weighed axle loads back.

    truck: the truck
    structure: its frame
    carriers: what stands on the ground
    unsprung: mass of each axle [kg]
    """
    stance = truck.axles.stances[0]
    listed = [Hung(float(p.mass), (float(p.at), float(p.y), float(p.height))) for p in truck.build.chassis.part]
    known = [*_rails(structure), *_cross_members(structure), *listed]
    carried = sum((stance.shared.of_force(one.mass, one.at[0]) for one in known), np.zeros(truck.axles.count))
    sprung = stance.kerb - unsprung
    height = _rest_height(truck, carriers, unsprung, known)
    rest = []
    for one in carriers:
        axles = list(one.axles)
        x = float(truck.axles.places[axles] @ np.array(one.shares))
        rest.append(Hung(float(sprung[axles].sum() - carried[axles].sum()), (x, 0.0, height)))
    return [*known, *rest]


def _rest_height(truck: Truck, carriers: list[Carrier], unsprung: Floats, known: list[Hung]) -> float:
    """Height of the rest, so that the whole bare chassis has the height of its centre that is stated [m]."""
    whole = truck.build.chassis.cg_height
    if whole is None:
        return CAB_HEIGHT
    axles = [i for one in carriers for i in one.axles]
    low = sum(float(unsprung[i]) * float(truck.build.chassis.axle[i].tyre_radius or RADIUS) for i in axles)
    low += sum(one.mass * one.at[2] for one in known)
    left = truck.axles.kerb_mass - float(unsprung[axles].sum()) - sum(one.mass for one in known)
    return (truck.axles.kerb_mass * float(whole) - low) / left if left > 0.0 else float(whole)


def _rails(structure: Structure) -> Iterator[Hung]:
    """Rails as they were weighed, piece by piece: with what lined them then."""
    frame = structure.build.chassis.frame
    size = rail_size(frame)
    for one in (s for s in structure.stretches if s.member.endswith("rail")):
        middle = 0.5 * (one.start + one.end)
        liner = next((x for x in frame.liner if x.weighed and float(x.start) <= middle <= float(x.end)), None)
        walls = rail(size, None if liner is None else liner_size(frame, liner), right=False)
        side = "left" if one.member.startswith("left") else "right"
        mass = walls.thin.area * DENSITY * (one.end - one.start)
        yield Hung(mass, (middle, structure.y(side), structure.rail_z))


def _cross_members(structure: Structure) -> Iterator[Hung]:
    for beam in structure.beams:
        a, b = structure.nodes[beam.start], structure.nodes[beam.end]
        if beam.warping == "free" and beam.start.startswith(("left rail", "cross")):
            mass = beam.section.area * DENSITY * abs(b[1] - a[1])
            yield Hung(mass, (a[0], 0.5 * (a[1] + b[1]), structure.rail_z))


def added_lumps(truck: Truck, *, crew: bool) -> list[Hung]:
    """What is added to the frame in one place: fittings, fuel, persons.

    truck: the truck
    crew: all seats taken
    """
    along = ("subframe", "liner.")  # these lie along the frame and are hung piece by piece
    own = [one.mass for one in truck.weights.lumps if one.of != "tank" and not one.key.startswith(along)]
    own.append(truck.weights.crew_aboard if crew else truck.weights.crew_away)
    return [Hung(m.mass, (float(m.centre[0]), float(m.centre[1]), float(m.centre[2]))) for m in own if m.mass]


def lining_lumps(structure: Structure) -> Iterator[Hung]:
    """Reinforcements that were not weighed with the chassis, piece by piece between the nodes of the rails.

    structure: the frame
    """
    places = structure.rails
    for _, one in linings(structure.build.chassis.frame, top=structure.top):
        ends = np.unique(np.clip(places, one.start, one.end))
        ends[0], ends[-1] = one.start, one.end
        for a, b in pairwise(ends):
            for side in SIDES:
                at = (0.5 * float(a + b), structure.y(side), one.height)
                yield Hung(0.5 * one.per_metre * float(b - a), at)


def hang(frame: Grillage, structure: Structure, lumps: list[Hung]) -> Floats:
    """Generalised forces (freedoms, 3) of lumps pulled by 1 m/s2 along x, y and z.

    A lump hangs on both rails by the lever, also one that stands out beside them, as if a cross-member were at hand:
    no rail is twisted by what hangs on it. Pulled sideways above or below the rails it presses one and lifts the other.

    frame: the frame as assembled
    structure: its rails
    lumps: what hangs on them
    """
    pulls: list[Pull] = []
    places = structure.rails
    nodes = {side: [structure.rail_node(side, float(x)) for x in places] for side in SIDES}
    for one in lumps:
        x, y, z = one.at
        for i, along in between(places, float(np.clip(x, places[0], places[-1]))):
            for side, sign in zip(SIDES, (-1.0, 1.0), strict=True):
                across = 0.5 + sign * y / (2.0 * structure.half)
                at, node = (x, structure.y(side), z), nodes[side][i]
                mass = one.mass * along * across
                roll = one.mass * along * (z - structure.rail_z) / (2.0 * structure.half)
                pulls += [
                    Pull(0, node, at, LONG, mass),
                    Pull(1, node, (x, at[1], structure.rail_z), RIGHT, mass),
                    Pull(2, node, at, UP, mass),
                    Pull(1, node, at, UP, -sign * roll),
                ]
    return pulled(frame, pulls)


class Pull(NamedTuple):
    """A pull on a node through a point.

    column: number of the load it belongs to
    node: name of the node
    at: the point [m]
    way: direction, a unit vector
    size: [kg] for a lump pulled by 1 m/s2, [N] for a force
    """

    column: int
    node: str
    at: Point
    way: Point
    size: float


def pulled(frame: Grillage, pulls: Sequence[Pull], columns: int = 3) -> Floats:
    """Generalised forces (freedoms, columns) of pulls: the force on the node, and its moment about the node.

    frame: the frame as assembled
    pulls: the pulls
    columns: how many loads there are
    """
    found = np.zeros((frame.size, columns))
    if pulls:
        column, names, at, way, size = zip(*pulls, strict=True)
        number = np.array([frame.number[name] for name in names])
        force = np.array(way) * np.array(size)[:, None]
        whole = np.hstack([force, np.cross(np.array(at) - frame.place[number], force)])
        np.add.at(found, (FREEDOMS * number[:, None] + np.arange(6), np.array(column)[:, None]), whole)
    return found


def hang_subframe(frame: Grillage, truck: Truck, structure: Structure) -> Floats:
    """Generalised forces (freedoms, 3) of the subframe pulled by 1 m/s2 along x, y and z.

    frame: the frame as assembled
    truck: the truck
    structure: its members
    """
    lump = truck.weights.subframe
    if lump is None or not len(structure.members):
        return np.zeros((frame.size, 3))
    pulls: list[Pull] = []
    steps = np.diff(structure.members)
    reach = 0.5 * (np.append(steps, 0.0) + np.insert(steps, 0, 0.0)) / steps.sum()
    for side in SIDES:
        for x, part in zip(structure.members, reach, strict=True):
            at = (float(x), structure.y(side), float(lump.mass.centre[2]))
            node, mass = f"{side} subframe at {x:.3f} m", 0.5 * float(part) * lump.mass.mass
            pulls += [Pull(column, node, at, way, mass) for column, way in enumerate((LONG, RIGHT, UP))]
    return pulled(frame, pulls)


def hang_on_tank(frame: Grillage) -> Floats:
    """Generalised forces (freedoms, 6) of a unit force along x, y, z and a unit moment about them on the tank.

    Forces act at the tank's node; a lump elsewhere adds its moment.

    frame: the frame as assembled
    """
    found = np.zeros((frame.size, 6))
    first = FREEDOMS * frame.number[TANK]
    found[first : first + 6] = np.eye(6)
    return found


def wrench(at: Floats, about: Floats, force: Floats) -> Floats:
    """Force and moment about a point (..., 6) of a force at a place.

    at: places (..., 3) [m]
    about: the point (3,) [m]
    force: forces (..., 3) [N]
    """
    return np.concatenate([force, np.cross(at - about, force)], axis=-1)
