"""What everything weighs: one list of lumps in vehicle coordinates, and what it adds up to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np

from tunwright.build.model import Build, Item, Seat, Subframe
from tunwright.handbook.inertia import Mass, point, sheet_moments, together
from tunwright.tables.read import shop_value
from tunwright.truck.frame import TankFrame
from tunwright.truck.liners import linings
from tunwright.truck.parts import Part, density, tank_parts
from tunwright.truck.solid import TankSolid

Of = Literal["tank", "frame", "cab", "crew", "fuel"]
_MEMBER_HALF_GAP = 0.38  # half the usual distance between rail middles [m]; common practice, no source


@dataclass(frozen=True, eq=False)
class Lump:
    """Something that weighs.

    key: stable key
    name: what it is called
    of: tank and what stands on it move with the tank; crew are the persons not aboard at the weighing
    mass: in vehicle coordinates
    """

    key: str
    name: str
    of: Of
    mass: Mass


@dataclass(frozen=True)
class Replaced:
    """A calculated mass replaced by a measured one.

    key: of what
    calculated: the mass as calculated [kg]
    given: the mass used [kg]
    """

    key: str
    calculated: float
    given: float


class Weights:
    """The masses of a build but for the water.

    build: the build
    solid: its tank
    frame: where the tank stands
    """

    def __init__(self, build: Build, solid: TankSolid, frame: TankFrame) -> None:
        self.build, self.solid, self.frame = build, solid, frame

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """All parts to be made, of tank and subframe."""
        return (*tank_parts(self.solid), *self._subframe_parts)

    @cached_property
    def _subframe_parts(self) -> tuple[Part, ...]:
        sub = self.build.subframe
        return () if sub is None else (_subframe(sub, self.build),)

    @cached_property
    def tank_dry(self) -> Mass:
        """The empty tank with coating and allowance, in vehicle coordinates; a measured mass takes over."""
        tank = self.build.tank
        lumps = [*self._tank_steel, self._allowance, *self._coating]
        own = together(lumps)
        if tank.dry_centre is not None:
            own = replace(own, centre=np.array([float(tank.dry_centre), *own.centre[1:]]))
        return self.frame.lump(own if tank.dry_mass is None else own.scaled(float(tank.dry_mass)))

    @cached_property
    def _tank_steel(self) -> list[Mass]:
        return [part.mass for part in self.parts if part.frame == "tank"]

    @cached_property
    def _allowance(self) -> Mass:
        """Welds and small parts, where the steel is."""
        share = self.build.tank.allowance
        return together(self._tank_steel).scaled(
            self.tank_steel * (shop_value("weld_allowance") if share is None else float(share))
        )

    @property
    def tank_steel(self) -> float:
        """Calculated mass of the parts of the tank [kg]."""
        return sum(mass.mass for mass in self._tank_steel)

    @cached_property
    def _coating(self) -> list[Mass]:
        """Coating in and out, where the plates are."""
        coating, layers = self.build.tank.coating, []
        plates = [part for part in self.parts if part.frame == "tank" and part.area]
        skin = [part for part in plates if part.key.startswith(("tank.shell", "tank.head"))]
        per_metre = shop_value("coating_mass") / 100e-6
        for film, where, sides in ((coating.inside, plates, 1), (coating.outside, skin, 1)):
            for part in where if film else ():
                both = 2 if part not in skin and film is coating.inside else sides
                layers.append(part.mass.scaled(part.area * both * per_metre * float(film or 0.0)))
        return layers

    @cached_property
    def tank_calculated(self) -> dict[str, float]:
        """Calculated mass of the empty tank by what it is made of [kg]."""
        return {
            "plates and sections": self.tank_steel,
            "welds and small parts": self._allowance.mass,
            "coating": sum(layer.mass for layer in self._coating),
        }

    @cached_property
    def replaced(self) -> tuple[Replaced, ...]:
        """Calculated masses that measured ones replace."""
        found = []
        if self.build.tank.dry_mass is not None:
            calculated = sum(self.tank_calculated.values())
            found.append(Replaced("tank.dry_mass", calculated, float(self.build.tank.dry_mass)))
        sub = self.build.subframe
        if sub is not None and sub.mass is not None:
            found.append(Replaced("subframe.mass", subframe_mass(sub), float(sub.mass)))
        return tuple(found)

    @cached_property
    def lumps(self) -> tuple[Lump, ...]:
        """Everything added to the bare chassis but water and persons."""
        found = [Lump("tank", "tank, empty", "tank", self.tank_dry)]
        found += [Lump(part.key, part.name, "frame", part.mass) for part in self._subframe_parts]
        found += self._liners
        found += [_item(i, item, self.frame) for i, item in enumerate(self.build.item)]
        fuel = self._missing_fuel
        return tuple(found + ([fuel] if fuel else []))

    @property
    def _liners(self) -> list[Lump]:
        """Reinforcements of the rails that were not weighed with the chassis."""
        frame = self.build.chassis.frame
        if not frame.liner:
            return []
        top, half = _rail_top(self.build), _rail_half(self.build)
        found = [one.lump(half) for _, one in linings(frame, top=top)]
        return [Lump(f"liner.{i + 1}", "reinforcement of the rails", "frame", mass) for i, mass in enumerate(found)]

    @cached_property
    def _missing_fuel(self) -> Lump | None:
        fuel = self.build.chassis.fuel
        if fuel is None:
            return None
        mass = (1.0 - fuel.level) * fuel.capacity * shop_value("fuel_density")
        return Lump("fuel", "fuel to full", "fuel", point(mass, float(fuel.at), float(fuel.y), float(fuel.height)))

    @cached_property
    def crew_aboard(self) -> Mass:
        """Persons to be added to the bare chassis with all seats taken."""
        return together(self._persons(self.build.crew[self.build.chassis.persons_weighed :]))

    @cached_property
    def crew_away(self) -> Mass:
        """Persons to be added with nobody aboard: those on the scale, counted negative."""
        return together(
            [m.scaled(-m.mass) for m in self._persons(self.build.crew[: self.build.chassis.persons_weighed])]
        )

    def _persons(self, seats: Sequence[Seat]) -> list[Mass]:
        usual = shop_value("crew_mass") if self.build.states.crew_mass is None else float(self.build.states.crew_mass)
        return [point(float(s.mass or usual), float(s.at), float(s.y), float(s.height)) for s in seats]

    @cached_property
    def added(self) -> Mass:
        """All lumps as one: what is added to the bare chassis but water and persons."""
        return together(lump.mass for lump in self.lumps)

    @cached_property
    def on_tank(self) -> Mass:
        """What moves with the tank, empty."""
        return together(lump.mass for lump in self.lumps if lump.of == "tank")

    @cached_property
    def subframe(self) -> Lump | None:
        """The subframe, None where there is none."""
        return next((lump for lump in self.lumps if lump.key == "subframe"), None)

    @property
    def on_mounts(self) -> float:
        """What the mounts carry, empty: what moves with the tank, and the subframe [kg]."""
        return self.on_tank.mass + (0.0 if self.subframe is None else self.subframe.mass.mass)


def _item(index: int, item: Item, frame: TankFrame) -> Lump:
    at = np.array([float(item.at), float(item.y), float(item.height)])
    place = frame.point(at) if item.on == "tank" else at
    return Lump(f"item.{index + 1}", item.name, item.on, Mass(float(item.mass), place, _box_spread(item)))


def _box_spread(item: Item) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """Spread of an even box of the item's size; zero for sizes left out."""
    sides = np.array([float(item.length or 0.0), float(item.width or 0.0), float(item.tall or 0.0)])
    return np.diag(float(item.mass) * sides**2 / 12.0)


def _rail_top(build: Build) -> float:
    """Height of the rails' upper flange; where it is not known, as if the tank stood on subframe or rails [m]."""
    top, sub = build.chassis.frame.top, build.subframe
    return float(top) if top is not None else float(build.tank.bottom) - (0.0 if sub is None else float(sub.height))


def _rail_half(build: Build) -> float:
    """From the middle of the vehicle to a rail's web [m]."""
    width = build.chassis.frame.width
    return 0.5 * float(width) if width else _MEMBER_HALF_GAP


def subframe_mass(sub: Subframe) -> float:
    """Both members and what joins them [kg]."""
    run = float(sub.end - sub.start)
    if sub.mass_per_length is not None:
        return run * float(sub.mass_per_length)
    walls = 2 if sub.shape == "box" else 1
    section = (walls * (sub.height - 2 * sub.thickness) + 2 * sub.flange) * sub.thickness
    return float(2 * run * section * density(sub.material) * (1 + sub.cross_members))


def _subframe(sub: Subframe, build: Build) -> Part:
    """The subframe: two members on the rails."""
    mass = float(sub.mass) if sub.mass is not None else subframe_mass(sub)
    base, width = _rail_top(build), build.chassis.frame.width
    half = 0.5 * float(width) - 0.5 * float(sub.flange) if width else _MEMBER_HALF_GAP
    webs = [
        np.array([[(x, y, z) for z in (base, base + sub.height)] for x in (sub.start, sub.end)]) for y in (-half, half)
    ]
    moments = sum((sheet_moments(web) for web in webs), np.zeros(10))
    centre = moments[1:4] / moments[0]
    second = np.array(
        [
            [moments[4], moments[7], moments[8]],
            [moments[7], moments[5], moments[9]],
            [moments[8], moments[9], moments[6]],
        ]
    )
    spread = mass * (second / moments[0] - np.outer(centre, centre))
    return Part(
        "subframe",
        "subframe",
        "section",
        sub.material,
        float(sub.thickness),
        float(moments[0]),
        Mass(mass, centre, spread),
        frame="vehicle",
        surface=webs[0],
        joins=("tank.shell",),
    )
