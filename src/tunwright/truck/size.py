"""The outer size of the vehicle, and where its ends are."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tunwright.truck.truck import Truck

NOWHERE = float("nan")


@dataclass(frozen=True)
class OuterSize:
    """Ends and sides of the vehicle.

    tank_front, tank_rear: ends of the tank with its heads and plates [m]
    tank_top: highest point of the shell, manholes not counted [m]
    front: foremost point [m], NaN where not known
    rear: rearmost point [m]
    width: widest point [m], NaN where not known
    height: highest point [m], NaN where not known
    """

    tank_front: float
    tank_rear: float
    tank_top: float
    front: float
    rear: float
    width: float
    height: float

    def of(self, dimension: str) -> tuple[float, str, tuple[str, ...]]:
        """Length, width or height [m], how it is made up, and what is missing for it.

        dimension: length | width | height
        """
        if dimension == "length":
            missing = ("chassis.cab.front",) if np.isnan(self.front) else ()
            return self.rear - self.front, "rearmost point − foremost point", missing
        if dimension == "width":
            return (
                self.width,
                "widest of chassis, cab, tank and fittings",
                ("chassis.width",) if np.isnan(self.width) else (),
            )
        return (
            self.height,
            "highest of cab, tank, manholes and fittings",
            ("chassis.cab.roof",) if np.isnan(self.height) else (),
        )


def rear_group_centre(truck: Truck) -> float:
    """Place of the centre of the rearmost axle or group [m].

    truck: the truck
    """
    return truck.axles.supports(())[-1].centre


def floor_over(truck: Truck, y: float) -> float:
    """Lowest height of the tank's inside floor over the rails [m].

    y: distance of the rails from the middle [m]
    """
    length, across = float(truck.build.tank.length), (y - float(truck.build.tank.y), -y - float(truck.build.tank.y))
    corners = [(x, a, truck.solid.floor(x, a)) for x in (0.0, length) for a in across]
    return float(truck.frame.point(np.array(corners))[:, 2].min())


def outer_size(truck: Truck) -> OuterSize:
    """Ends and sides of the vehicle.

    truck: the truck
    """
    tank, chassis = truck.build.tank, truck.build.chassis
    t = float(tank.shell)
    cloud = np.vstack(
        [
            truck.frame.point(body.extremes)
            for part in truck.solid.compartments
            for body in part.whole.bodies
            if body.sign > 0
        ]
    )
    front, rear, top = float(cloud[:, 0].min()) - t, float(cloud[:, 0].max()) + t, float(cloud[:, 2].max()) + t
    items = [
        (lump.mass.centre, item)
        for lump, item in zip(truck.weights.lumps[_first_item(truck) :], truck.build.item, strict=False)
    ]
    rears = [rear, *(float(c[0]) + float(i.length or 0.0) / 2 for c, i in items)]
    rears += [float(chassis.frame.rear)] if chassis.frame.rear is not None else []
    heights = [top, *(_manhole_tops(truck)), *(float(c[2]) + float(i.tall or 0.0) / 2 for c, i in items)]
    widths = [2 * (max(abs(truck.solid.outline.left), truck.solid.outline.right) + t + abs(float(tank.y)))]
    widths += [2 * (abs(float(c[1])) + float(i.width or 0.0) / 2) for c, i in items]
    widths += _over_tyres(truck)
    own = [w for w in (chassis.width, chassis.cab.width) if w is not None]
    roof = chassis.cab.roof
    return OuterSize(
        front,
        rear,
        top,
        NOWHERE if chassis.cab.front is None else float(chassis.cab.front),
        max(rears),
        max(*widths, *map(float, own)) if own else NOWHERE,
        max(*heights, float(roof)) if roof is not None else NOWHERE,
    )


def _over_tyres(truck: Truck) -> list[float]:
    """Width over the tyres of each axle whose track and tyres are known [m]."""
    return [
        float(a.track) + float(a.pair_spacing or 0.0) + float(a.tyre_width)
        for a in truck.axles.axle
        if a.track is not None and a.tyre_width is not None and (a.tyres == 2 or a.pair_spacing is not None)
    ]


def _first_item(truck: Truck) -> int:
    return next(
        (i for i, lump in enumerate(truck.weights.lumps) if lump.key.startswith("item.")), len(truck.weights.lumps)
    )


def _manhole_tops(truck: Truck) -> list[float]:
    return [
        float(truck.frame.point(np.array([float(m.at), float(m.y), truck.solid.roof(float(m.y)) + float(m.neck)]))[2])
        for m in truck.build.tank.manhole
    ]
