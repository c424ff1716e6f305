"""Axles, springs and tyres: what carries the frame.

An axle is a rigid bar on its tyres. Its springs stand between it and the rails; axles that share their load do so
through one spring a side whose force is parted among them. What is not known and does not matter on level ground
(two supports) is taken as stiff; a lifted wheel asks for the true rates, see `known.missing_for_twist`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from tunwright.build.chassis import Axle
from tunwright.handbook.grillage import Link, Touch
from tunwright.tables.read import shop_value
from tunwright.truck.ladder.structure import LONG, RIGHT, SIDES, STIFF, UP, Structure
from tunwright.truck.truck import Truck

SPRING, TYRE = 4e5, 1e6  # where the rate is not known and only the level road is looked at [N/m]
_WOUND = 1e7  # an axle against turning about its own line [N m/rad]
RADIUS = 0.5
"""Of a wheel whose radius is not known [m]."""

_TRACK = 1.9  # of an axle whose track is not known [m]


@dataclass(frozen=True)
class Carrier:
    """Axles that stand on the ground together: one, or a group that shares.

    axles: their indexes
    shares: part of the sprung load each carries
    rate: of one side [N/m]
    """

    axles: tuple[int, ...]
    shares: tuple[float, ...]
    rate: float


def spring_places(truck: Truck) -> list[float]:
    """Places along the rails where springs are fixed [m].

    truck: the truck
    """
    found: list[float] = []
    for axle in truck.build.chassis.axle:
        half = 0.5 * float(axle.spring_span or 0.0)
        found += [float(axle.at) - half, float(axle.at) + half] if half else [float(axle.at)]
    for group, members in truck.axles.groups:
        if group.kind == "walking-beam":
            found.append(float(truck.axles.places[list(members)].mean()))
    return found


def carriers(truck: Truck, lifted: tuple[int, ...]) -> list[Carrier]:
    """What stands on the ground, front to rear.

    truck: the truck
    lifted: indexes of lifted axles
    """
    found = []
    for support in truck.axles.supports(lifted):
        axles = [truck.build.chassis.axle[i] for i in support.axles]
        rate = sum(float(axle.spring_rate or SPRING) for axle in axles)
        for group, members in truck.axles.groups:
            if set(support.axles) == set(members) and group.spring_rate is not None:
                rate = float(group.spring_rate)
        found.append(Carrier(tuple(support.axles), tuple(support.shares), rate))
    return found


def unsprung(truck: Truck, carriers_: list[Carrier]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Mass of each axle with wheels and brakes [kg]; parted in a group as its load is.

    truck: the truck
    carriers_: what stands on the ground
    """
    own = np.array([_own(axle) for axle in truck.build.chassis.axle])
    for carrier in carriers_:
        own[list(carrier.axles)] = own[list(carrier.axles)].sum() * np.array(carrier.shares)
    return own


def _own(axle: Axle) -> float:
    if axle.unsprung is not None:
        return float(axle.unsprung)
    return float(axle.rating) * shop_value("unsprung_steered" if axle.steered else "unsprung_other")


class Running:
    """Axles, springs and tyres of a truck as nodes and links.

    truck: the truck
    structure: its frame
    lifted: indexes of lifted axles
    """

    def __init__(self, truck: Truck, structure: Structure, lifted: tuple[int, ...]) -> None:
        self.truck, self.structure, self.lifted = truck, structure, lifted
        self.axle = truck.build.chassis.axle
        self.carriers = carriers(truck, lifted)
        self.standing = [i for one in self.carriers for i in one.axles]
        self.nodes = {
            _node(i): (float(self.axle[i].at), 0.0, float(self.axle[i].tyre_radius or RADIUS)) for i in self.standing
        }
        self.springs = [link for i, one in enumerate(self.carriers) for link in self._springs(i, one)]
        self.tyres = [link for i in self.standing for link in self._tyres(i)]
        self.guides = [link for i in self.standing for link in self._guides(i)]

    @property
    def links(self) -> list[Link]:
        """All links."""
        return [*self.springs, *self.tyres, *self.guides]

    def _springs(self, number: int, one: Carrier) -> Iterator[Link]:
        members = [self.axle[i] for i in one.axles]
        for side in SIDES:
            touches: list[Touch] = []
            for i, axle, share in zip(one.axles, members, one.shares, strict=True):
                y = self._spring_y(axle, side)
                touches += [self._rail(side, x, share * part) for x, part in self._hung(one, axle)]
                touches.append(Touch(_node(i), (float(axle.at), y, self.nodes[_node(i)][2]), UP, -share))
            yield Link(f"spring {number + 1}, {side}", tuple(touches), one.rate)

    def _hung(self, one: Carrier, axle: Axle) -> list[tuple[float, float]]:
        """Where on the rail an axle's springs hang, and their parts."""
        for group, members in self.truck.axles.groups:
            if group.kind == "walking-beam" and set(one.axles) <= set(members):
                return [(float(self.truck.axles.places[list(members)].mean()), 1.0)]
        half = 0.5 * float(axle.spring_span or 0.0)
        return [(float(axle.at) - half, 0.5), (float(axle.at) + half, 0.5)] if half else [(float(axle.at), 1.0)]

    def _rail(self, side: str, x: float, weight: float) -> Touch:
        name = self.structure.rail_node(side, x)
        at = self.structure.nodes[name]
        return Touch(name, at, UP, weight)

    def _spring_y(self, axle: Axle, side: str) -> float:
        half = self.structure.half if axle.spring_track is None else 0.5 * float(axle.spring_track)
        return -half if side == "left" else half

    def _tyres(self, i: int) -> Iterator[Link]:
        axle = self.axle[i]
        half = 0.5 * float(axle.track or _TRACK)
        for side in SIDES:
            point = (float(axle.at), -half if side == "left" else half, 0.0)
            rate = 0.5 * axle.tyres * float(axle.tyre_rate or TYRE)
            yield Link(f"{axle.name}, {side} tyres", (Touch(_node(i), point, UP),), rate, pushes=True)

    def _guides(self, i: int) -> Iterator[Link]:
        """What keeps an axle in its place under the frame, and the wheels from sliding."""
        axle, name = self.axle[i], _node(i)
        x, z = float(axle.at), self.structure.rail_z
        for side in SIDES:
            point = (x, self._spring_y(axle, side), z)
            rail = Touch(self.structure.rail_node(side, x), point, LONG, -1.0)
            yield Link(f"{axle.name}, {side} guide along", (Touch(name, point, LONG), rail), STIFF)
        rails = tuple(Touch(self.structure.rail_node(s, x), (x, self.structure.y(s), z), RIGHT, -0.5) for s in SIDES)
        yield Link(f"{axle.name}, guide across", (Touch(name, (x, 0.0, z), RIGHT), *rails), STIFF)
        yield Link(f"{axle.name}, against winding up", (*self._turn(name), *self._wound(axle)), _WOUND)
        sideways = shop_value("tyre_sideways") * axle.tyres * float(axle.tyre_rate or TYRE)
        yield Link(f"{axle.name}, tyres across", (Touch(name, (x, 0.0, 0.0), RIGHT),), sideways)
        if i == self.standing[0]:
            yield Link(f"{axle.name}, tyres along", (Touch(name, (x, 0.0, 0.0), LONG),), STIFF)

    def _turn(self, name: str) -> tuple[Touch, Touch]:
        x, y, z = self.nodes[name]
        return Touch(name, (x, y, z + 1.0), LONG), Touch(name, (x, y, z), LONG, -1.0)

    def _wound(self, axle: Axle) -> Iterator[Touch]:
        """The rails' turn that winds an axle's springs: the slope between the ends of its springs."""
        span, x = float(axle.spring_span or 0.0), float(axle.at)
        for side in SIDES:
            if span:
                front, rear = self._rail(side, x - span / 2, -0.5 / span), self._rail(side, x + span / 2, 0.5 / span)
                yield from (front, rear)
            else:
                name = self.structure.rail_node(side, x)
                at = self.structure.nodes[name]
                yield Touch(name, (at[0], at[1], at[2] + 1.0), LONG, -0.5)
                yield Touch(name, at, LONG, 0.5)


def _node(i: int) -> str:
    return f"axle {i + 1}"
