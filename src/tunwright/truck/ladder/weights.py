"""What weighs on the frame, and on which node it hangs.

The bare chassis is known by its axle loads alone. From each axle load its unsprung mass is taken off; what is left is
made of the rails, the parts that are listed, and a rest which is put where it weighs on that axle only. So the weighed
axle loads come back exactly, whatever is listed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.beams import FREEDOMS
from tunwright.handbook.grillage import Grillage
from tunwright.truck.ladder.running import RADIUS, Carrier
from tunwright.truck.ladder.sections import DENSITY, liner_size, rail, rail_size
from tunwright.truck.ladder.stations import shares
from tunwright.truck.ladder.structure import SIDES, TANK, Structure
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
    found = np.zeros((frame.size, 3))
    mass, (x, y, z) = np.array([one.mass for one in lumps]), np.array([one.at for one in lumps]).T
    ends, parts = shares(structure.rails, x)
    for side, sign in zip(SIDES, (-1.0, 1.0), strict=True):
        nodes = np.array([frame.number[structure.rail_node(side, float(p))] for p in structure.rails])
        at = np.stack([x, np.full_like(x, structure.y(side)), z], axis=-1)[:, None].repeat(3, axis=1)
        at[:, 1, 2] = structure.rail_z
        force = np.eye(3) * (0.5 + sign * y / (2.0 * structure.half))[:, None, None]
        force[:, 1, 2] = -sign * (z - structure.rail_z) / (2.0 * structure.half)
        for end, part in zip(ends, parts, strict=True):
            found += pulled(frame, nodes[end], at, (mass * part)[:, None, None] * force)
    return found


def pulled(frame: Grillage, nodes: NDArray[np.intp], at: Floats, force: Floats) -> Floats:
    """Generalised forces (freedoms, columns) of forces on nodes: the force itself, and its moment about the node.

    frame: the frame as assembled
    nodes: numbers of the nodes (n,)
    at: points the forces go through (n, columns, 3) [m]
    force: forces (n, columns, 3) [N], or lumps [kg] pulled by 1 m/s2
    """
    found = np.zeros((frame.size, force.shape[1]))
    whole = np.concatenate([force, np.cross(at - frame.place[nodes][:, None], force)], axis=-1)
    np.add.at(found, (FREEDOMS * nodes[:, None, None] + np.arange(6), np.arange(force.shape[1])[:, None]), whole)
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
    found, x = np.zeros((frame.size, 3)), structure.members
    steps = np.diff(x)
    reach = 0.5 * (np.append(steps, 0.0) + np.insert(steps, 0, 0.0)) / steps.sum()
    force = 0.5 * lump.mass.mass * reach[:, None, None] * np.eye(3)
    for side in SIDES:
        nodes = np.array([frame.number[f"{side} subframe at {p:.3f} m"] for p in x])
        at = np.column_stack([x, np.full_like(x, structure.y(side)), np.full_like(x, lump.mass.centre[2])])
        found += pulled(frame, nodes, at[:, None].repeat(3, axis=1), force)
    return found


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
