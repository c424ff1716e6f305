"""Side and plan of the frame with its mounts: what stands where, from the first axle and from each other."""

from __future__ import annotations

from itertools import pairwise

from tunwright.build.frame import CrossMember
from tunwright.sheets.drawing import Circle, Entity, Group, Line, LinearDimension, Text, chain_dimension
from tunwright.sheets.frame.mount_marks import levels, mount_plan, mount_side
from tunwright.sheets.frame.ordinates import Ordinate, along
from tunwright.sheets.frame.side import steel, taper
from tunwright.sheets.layout import arrange
from tunwright.sheets.ticks import THIN
from tunwright.sheets.views.shapes import box
from tunwright.sheets.views.vehicle import Vehicle

_CHAIN_MM, _ORDINATES_MM, _TAPER_MM = -8.0, -17.0, 6.0
_OVER_MM = 14.0
_AXLE = 0.03


def mounting_view(vehicle: Vehicle, *, scale: float = 40.0) -> list[Entity]:
    """Side view over plan, with ordinates from the first axle.

    vehicle: the vehicle; its rails must be known
    scale: 1:scale, for which it is lettered
    """
    views = [Group("side", tuple(_side(vehicle, scale))), Group("plan", tuple(_plan(vehicle)))]
    return list(arrange(views, scale=scale, gap_mm=8.0, direction="down"))


def _side(vehicle: Vehicle, scale: float) -> list[Entity]:
    """The side; the dimensions stand last, so that their figures hide the lines under them."""
    at, build = levels(vehicle), vehicle.build
    places = sorted(float(mount.at) for mount in build.mount)
    found: list[Entity] = [*steel(vehicle), *_axle_marks(vehicle), *(mount_side(m, at) for m in build.mount)]
    over = [Ordinate(float(m.at), f"{m.name} {vehicle.wording.length(float(m.at))}", at.bed) for m in build.mount]
    found += along([*over, Ordinate(0.0, "0", at.top)], base=at.bed, offset_mm=_OVER_MM, scale=scale)
    found += along(_under(vehicle), base=at.low, offset_mm=_ORDINATES_MM, scale=scale)
    points = [(x, at.low) for x in places]
    if len(points) > 1:
        texts = [vehicle.wording.length(b - a) for a, b in pairwise(places)]
        found += chain_dimension(points, texts, offset_mm=_CHAIN_MM, base=at.low)
    if build.subframe is not None and build.subframe.taper is not None:
        start = float(build.subframe.start)
        ends = (start, at.top), (start + taper(build.subframe), at.bed)
        words = f"taper {vehicle.wording.length(taper(build.subframe))}"
        found.append(LinearDimension(*ends, _TAPER_MM, words, base=at.bed))
    left = vehicle.frame["front"].value
    found.append(Text((left, at.bed), "From the left", "text", 2.5, bold=True, shift_mm=(0.0, _OVER_MM + 6.0)))
    return found


def _axle_marks(vehicle: Vehicle) -> list[Entity]:
    """Centres of the axles at the height of the rails."""
    at = levels(vehicle)
    return [
        Line((float(axle.at), at.top + 0.04), (float(axle.at), at.low - 0.04), "centre")
        for axle in vehicle.chassis.axle
    ]


def _under(vehicle: Vehicle) -> list[Ordinate]:
    """Axles, cross-members, and ends of rails, reinforcements and subframe."""
    frame, sub, low = vehicle.chassis.frame, vehicle.build.subframe, levels(vehicle).low
    named = [(float(axle.at), f"axle {axle.name}") for axle in vehicle.chassis.axle]
    named += [(float(one.at), f"cross-member {i}") for i, one in enumerate(frame.cross_member, start=1)]
    named += [(vehicle.frame["front"].value, "rail, front end"), (vehicle.frame["rear"].value, "rail, rear end")]
    for one in frame.liner:
        named += [(float(one.start), "reinforcement from"), (float(one.end), "reinforcement to")]
    if sub is not None:
        named += [(float(sub.start), "subframe from"), (float(sub.end), "subframe to")]
    return [Ordinate(x, f"{words}{THIN}{THIN}{vehicle.wording.length(x)}", low) for x, words in named]


def _plan(vehicle: Vehicle) -> list[Entity]:
    frame, build = vehicle.frame, vehicle.build
    half, flange = 0.5 * frame["width"].value, frame["rail flange"].value
    left, right = frame["front"].value, frame["rear"].value
    found: list[Entity] = [_across(one, half, vehicle) for one in vehicle.chassis.frame.cross_member]
    for side in (-1.0, 1.0):
        low, high = sorted((side * (half - flange), side * half))
        found.append(box(left, low, right, high, "steel", "steel"))
        if build.subframe is not None:
            wide = float(build.subframe.flange)
            low, high = sorted((side * (half - wide), side * half))
            found.append(box(float(build.subframe.start), low, float(build.subframe.end), high, "hidden"))
    found += [mount_plan(mount, half, flange) for mount in build.mount]
    found.append(Line((left - 0.15, 0.0), (right + 0.05, 0.0), "centre"))
    found += [Circle((float(axle.at), 0.0), _AXLE, "thin", "ink") for axle in vehicle.chassis.axle]
    found += [Line((float(a.at), -half - 0.1), (float(a.at), half + 0.1), "centre") for a in vehicle.chassis.axle]
    words = vehicle.wording.length(2.0 * half)
    found.append(LinearDimension((right, -half), (right, half), 9.0, words, "v", right))
    found.append(Text((left, half), "From above", "text", 2.5, bold=True, shift_mm=(0.0, 5.0)))
    for v, side_words in ((-half, "left"), (half, "right")):
        found.append(Text((left, v), side_words, "note", 2.2, "end", shift_mm=(-2.0, -1.1)))
    return found


def _across(one: CrossMember, half: float, vehicle: Vehicle) -> Entity:
    """A cross-member from above, between the webs."""
    wide = 0.5 * float(one.flange or one.height)
    inner = half - float(vehicle.chassis.frame.rail_thickness or 0.0)
    return box(float(one.at) - wide, -inner, float(one.at) + wide, inner, "steel", "sheet")
