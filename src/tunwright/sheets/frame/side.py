"""Frame, axles and tank as seen from the left, the tank and the wheels light, for what stands under or on it."""

from __future__ import annotations

from tunwright.build.frame import Liner
from tunwright.build.model import Subframe
from tunwright.sheets.drawing import Circle, Entity, Group, Line, Polyline
from tunwright.sheets.frame.mount_marks import Levels, levels, mount_side
from tunwright.sheets.views.shapes import box, polyline
from tunwright.sheets.views.tank_shape import TankShape
from tunwright.sheets.views.vehicle import Vehicle

ROAD = 0.3  # how far the road runs past the vehicle [m]
_TAPER = 3.0  # front of a subframe whose taper is not known, in its heights
_LIP = 0.02  # what is seen of a cross-member's end [m]


def ends(vehicle: Vehicle) -> tuple[float, float]:
    """Front and rear end of all that is drawn along the frame [m].

    vehicle: the vehicle
    """
    frame, axles = vehicle.frame, vehicle.chassis.axle
    radii = [vehicle.tyre(axle)["radius"].value for axle in axles]
    left = min(frame["front"].value, float(axles[0].at) - radii[0])
    return left, max(frame["rear"].value, float(axles[-1].at) + radii[-1])


def light_side(vehicle: Vehicle) -> list[Entity]:
    """Road, wheels and tank light; rails, subframe and mounts as steel.

    vehicle: the vehicle
    """
    left, right = ends(vehicle)
    shape = TankShape(vehicle.truck)
    shell = polyline(shape.side_on_vehicle(shape.outer(shape.side)), "note")
    return [
        Line((left - ROAD, 0.0), (right + ROAD, 0.0), "ground"),
        Group("tank", (shell,)),
        *steel(vehicle),
        *(Group("axle", wheel(vehicle, i), {"axle": str(i)}) for i in range(len(vehicle.chassis.axle))),
        *(mount_side(mount, levels(vehicle)) for mount in vehicle.build.mount),
    ]


def wheel(vehicle: Vehicle, index: int) -> tuple[Entity, ...]:
    """A wheel as two light rings.

    vehicle: the vehicle
    index: of the axle
    """
    axle = vehicle.chassis.axle[index]
    radius = vehicle.tyre(axle)["radius"].value
    centre = (float(axle.at), radius)
    return (Circle(centre, radius, "note"), Circle(centre, 0.55 * radius, "note"), Circle(centre, 0.03, "note", "soft"))


def steel(vehicle: Vehicle) -> list[Entity]:
    """Rails with reinforcements and the ends of cross-members, and the subframe with its taper.

    vehicle: the vehicle
    """
    at = levels(vehicle)
    start, end = vehicle.frame["front"].value, vehicle.frame["rear"].value
    rail: list[Entity] = [box(start, at.low, end, at.top, "steel", "steel")]
    rail += [_liner(vehicle, one, at) for one in vehicle.chassis.frame.liner]
    for one in vehicle.chassis.frame.cross_member:
        half, deep = 0.5 * float(one.flange or one.height), min(0.5 * float(one.height), 0.5 * at.rail - _LIP)
        x, middle = float(one.at), 0.5 * (at.low + at.top)
        rail.append(box(x - half, middle - deep, x + half, middle + deep, "hidden"))
    found: list[Entity] = [Group("frame", tuple(rail))]
    if vehicle.build.subframe is not None:
        found.append(Group("subframe", (_subframe(vehicle.build.subframe, at),)))
    return found


def _liner(vehicle: Vehicle, one: Liner, at: Levels) -> Entity:
    """A reinforcement: along the web, an angle's leg on it, or a strip under the lower flange."""
    thick = float(vehicle.chassis.frame.rail_thickness or 0.0) + float(one.thickness)
    if one.shape == "strip":
        low, high = at.low - float(one.thickness), at.low
    elif one.shape == "angle":
        low, high = at.low, at.low + float(one.upright or 0.5 * at.rail)
    else:
        low, high = at.low + thick, at.top - thick
    return box(float(one.start), low, float(one.end), high, "hatch", "hatch")


def taper(sub: Subframe) -> float:
    """Length of the taper at the front of a subframe [m], a usual one where it is not given.

    sub: the subframe
    """
    usual = _TAPER * float(sub.height) if sub.taper is None else float(sub.taper)
    return min(usual, 0.5 * (float(sub.end) - float(sub.start)))


def _subframe(sub: Subframe, at: Levels) -> Polyline:
    one, two = float(sub.start), float(sub.end)
    corners = ((one, at.top), (two, at.top), (two, at.bed), (one + taper(sub), at.bed))
    return Polyline(corners, "steel", closed=True, fill="steel")
