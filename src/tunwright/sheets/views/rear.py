"""The rear view: u = y to the right, v = z up from the road, seen from behind; the tank cut across at its middle."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Circle, Entity, Group, Line, LinearDimension, Polyline
from tunwright.sheets.layout import extents
from tunwright.sheets.views.items import item_boxes
from tunwright.sheets.views.labels import Board
from tunwright.sheets.views.marks import centre_marks, gravity_arrow, unit_note
from tunwright.sheets.views.shapes import box, cut, polyline, rounded
from tunwright.sheets.views.surfaces import Surface, at_station, full_state, surfaces
from tunwright.sheets.views.tank_shape import TankShape
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.states import LoadState

Floats = NDArray[np.float64]
_ROAD = 0.35
_FIRST_MM, _ROW_MM = 8.0, 7.5
_UNIT_MM = 7.0  # the note on the unit under the road, or under the last dimension there
_WIDEST = 0.6
_BEAM = 0.07  # half the height of an axle beam [m]


def rear_view(assessment: Assessment, *, state: LoadState | None = None, scale: float = 40.0) -> list[Entity]:
    """The vehicle from behind, true to scale, in a load state: full, crew aboard and level where none is given.

    scale: 1:scale, for which the names are placed
    """
    vehicle, state = Vehicle(assessment), state or full_state(assessment.truck)
    shape = TankShape(vehicle.truck)
    station = 0.5 * shape.length
    water = at_station(surfaces(vehicle.truck, state), station)
    table = vehicle.truck.loading.table([state])
    marks, labels = centre_marks(table, 1)
    half = half_width(vehicle)
    entities: list[Entity] = [
        Line((-half - _ROAD, 0.0), (half + _ROAD, 0.0), "ground"),
        _cab(vehicle),
        *_wheels(vehicle, state),
        *_frame(vehicle),
        _tank(shape, station, water),
        *_manholes(shape),
        *_outermost_items(vehicle),
        Line((0.0, -0.12), (0.0, vehicle.top + 0.12), "centre"),
        *marks,
        *_gravity(vehicle, state, scale),
        *_dimensions(vehicle, shape, station),
    ]
    under = len(_tracks(vehicle)) * _ROW_MM
    unit = unit_note(vehicle, (0.0, 0.0), -_UNIT_MM - under, centred=True)
    return [*entities, Group("names", (unit, *Board([*entities, unit], scale).place(labels)))]


def _outermost_items(vehicle: Vehicle) -> list[Group]:
    """What is fitted and stands out furthest; the rest would only hide the section."""
    size, found = vehicle.size, []
    for group in item_boxes(vehicle, "rear", "hidden")[0]:
        room = extents([group], 1.0)
        wide = 2.0 * max(-room.left, room.right) > size.width - 1e-6
        found += [group] if wide or room.top > size.height - 1e-6 else []
    return found


def _manholes(shape: TankShape) -> list[Entity]:
    found: list[Entity] = []
    for i, manhole in enumerate(shape.tank.manhole):
        roof, r = shape.solid.roof(float(manhole.y)), 0.5 * float(manhole.diameter)
        ends = [(float(manhole.at), manhole.y + side * r, roof + up) for side in (-1, 1) for up in (0.0, manhole.neck)]
        (left, low), _, _, (right, high) = shape.frame.point(np.array(ends))[:, 1:].tolist()
        if high > low:
            found.append(Group("manhole", (box(left, low, right, high, "steel", "steel"),), {"manhole": str(i)}))
    return found


def half_width(vehicle: Vehicle) -> float:
    """Half the width drawn [m]."""
    outline = vehicle.truck.solid.outline
    tank = max(abs(outline.left), outline.right) + vehicle.tank.shell + abs(vehicle.tank.y)
    own = vehicle.size.width
    return 0.5 * own if math.isfinite(own) else max(tank, 0.5 * vehicle.cab["width"].value)


def _cab(vehicle: Vehicle) -> Group:
    """The cab behind the tank."""
    half, roof = 0.5 * vehicle.cab["width"].value, vehicle.cab["roof"].value
    known = vehicle.cab["width"].known and vehicle.cab["roof"].known
    sill = vehicle.frame["top"].value - 0.12
    corners = [((-half, sill), 0.0), ((half, sill), 0.0), ((half, roof), 0.2), ((-half, roof), 0.2)]
    return Group("cab", (rounded(corners, "thin" if known else "hidden", fill="sheet"),))


def _wheels(vehicle: Vehicle, state: LoadState) -> list[Entity]:
    """The tyres of the last axle on the road, and its beam."""
    raised = vehicle.raised(state)
    index = max(i for i in range(vehicle.truck.axles.count) if i not in raised)
    axle = vehicle.chassis.axle[index]
    tyre = vehicle.tyre(axle)
    radius, known = tyre["radius"].value, all(fact.known for fact in tyre.values())
    layer, fill = ("tyre", "tyre") if known else ("hidden", "sheet")
    half = 0.5 * tyre["track"].value
    beam = box(-half, radius - _BEAM, half, radius + _BEAM, "steel" if known else "hidden", "steel")
    drum = Circle((0.0, radius), 2.4 * _BEAM, "steel" if known else "hidden", "steel")
    tyres = [_tyre(u, tyre["width"].value, radius, layer, fill) for u in tyre_places(vehicle, index)]
    data = {"axle": str(index), "name": axle.name, "tyres": str(axle.tyres)}
    return [Group("axle", (beam, *([drum] if axle.driven else []), *tyres), data)]


def tyre_places(vehicle: Vehicle, index: int) -> list[float]:
    """Middles of the tyres of an axle, left to right [m]."""
    axle = vehicle.chassis.axle[index]
    tyre = vehicle.tyre(axle)
    half, pair = 0.5 * tyre["track"].value, 0.5 * tyre["pair spacing"].value
    if axle.tyres == 4:
        return [-half - pair, -half + pair, half - pair, half + pair]
    return [-half, half]


def _tyre(u: float, width: float, radius: float, layer: str, fill: str) -> Polyline:
    left, right = u - width / 2.0, u + width / 2.0
    corners = ((left, 0.0), (right, 0.0), (right, 2.0 * radius), (left, 2.0 * radius))
    return rounded([(corner, 0.06) for corner in corners], layer, fill=fill)


def _frame(vehicle: Vehicle) -> list[Entity]:
    """Both rails as channels with their backs outwards, and the subframe's members on them."""
    frame, sub = vehicle.frame, vehicle.build.subframe
    top, half = frame["top"].value, 0.5 * frame["width"].value
    names = ("top", "width", "rail height", "rail flange", "rail thickness")
    layer = "steel" if all(frame[name].known for name in names) else "hidden"
    size = (frame["rail height"].value, frame["rail flange"].value, frame["rail thickness"].value)
    found: list[Entity] = [
        Group("frame", tuple(_channel(side, half, top - size[0], *size, layer) for side in (-1.0, 1.0)))
    ]
    if sub is not None:
        size = (float(sub.height), float(sub.flange), float(sub.thickness))
        found.append(Group("subframe", tuple(_channel(side, half, top, *size, layer) for side in (-1.0, 1.0))))
    return found


def _channel(side: float, back: float, low: float, height: float, flange: float, plate: float, layer: str) -> Polyline:
    """A channel whose back stands at u = side * back."""
    across = (back, back, back - flange, back - flange, back - plate, back - plate, back - flange, back - flange)
    up = (0.0, height, height, height - plate, height - plate, plate, plate, 0.0)
    points = tuple((side * u, low + v) for u, v in zip(across, up, strict=True))
    return Polyline(points, layer, closed=True, fill="ink" if layer == "steel" else "steel")


def _tank(shape: TankShape, station: float, water: Surface | None) -> Group:
    """The section with its shell and water; plates along the tank as hidden edges."""
    offset, inside = np.asarray(shape.rear_offset(station)), shape.section(station)
    parts: list[Entity] = [polyline(shape.outer(inside) + offset, "outline", fill="sheet")]
    wet = wet_section(inside, station, water)
    if len(wet) and water is not None:
        parts.append(polyline(wet + offset, "area", fill="water"))
        on_it = wet[np.abs(wet[:, 1] - water.b * wet[:, 0] - water.height(station)) < 1e-9]
        if len(on_it) > 1 and np.ptp(on_it[:, 0]) > 1e-6:
            ends = on_it[[int(on_it[:, 0].argmin()), int(on_it[:, 0].argmax())]]
            parts.append(polyline(ends + offset, "water", closed=False))
    parts += [_section_line(shape, inside, offset), *_long_baffles(shape, offset)]
    return Group("tank", tuple(parts))


def wet_section(inside: Floats, x: float, water: Surface | None) -> Floats:
    """The part of a section at x under the water's surface, columns y and z in the tank's frame; empty where dry."""
    return inside[:0] if water is None else cut(inside, (-water.b, 1.0), water.height(x))


def _section_line(shape: TankShape, inside: Floats, offset: Floats) -> Polyline:
    """The inside of the shell: the section's own lines and arcs, or the points of a stretched one."""
    if shape.solid.growth:
        return polyline(inside + offset, "thin")
    drawn = shape.solid.outline.drawn
    points = tuple((u, v) for u, v in (drawn[:, :2] + offset).tolist())
    return Polyline(points, "thin", tuple(drawn[:, 2].tolist()), closed=True)


def _long_baffles(shape: TankShape, offset: Floats) -> list[Entity]:
    found: list[Entity] = []
    for plate in shape.tank.long_baffle:
        chord = shape.solid.outline.chord_at(float(plate.y))
        if chord is not None:
            u = float(plate.y) + float(offset[0])
            found.append(Line((u, chord[0] + float(offset[1])), (u, chord[1] + float(offset[1])), "hidden"))
    return found


def _gravity(vehicle: Vehicle, state: LoadState, scale: float) -> list[Group]:
    """The arrow of gravity beside the vehicle on a side slope."""
    if not state.slope:
        return []
    words = f"{abs(100.0 * state.slope):.3g} % side slope"
    tail = (half_width(vehicle) + 20.0 * scale / 1000.0, vehicle.top)
    return [gravity_arrow(tail, -state.slope, words, scale)]


def _dimensions(vehicle: Vehicle, shape: TankShape, station: float) -> list[Entity]:
    figure, size, half = vehicle.wording.length, vehicle.size, half_width(vehicle)
    outline, offset = vehicle.truck.solid.outline, shape.rear_offset(station)
    low, high = offset[1] + shape.lowest(station), offset[1] + shape.solid.height
    wide = outline.right - outline.left
    left, right = ((offset[0] + y, offset[1] + shape.solid.seat) for y in (outline.left, outline.right))
    found = [LinearDimension(left, right, _FIRST_MM, f"tank {figure(wide)}", base=vehicle.top)]
    found.append(LinearDimension((offset[0], low), (offset[0], high), _FIRST_MM, figure(high - low), "v", half))
    found.append(LinearDimension((half, 0.0), (offset[0], low), _FIRST_MM, figure(low), "v", half))
    if math.isfinite(size.width):
        ends = (-half, _WIDEST * vehicle.top), (half, _WIDEST * vehicle.top)
        row = _FIRST_MM + _ROW_MM
        found.append(LinearDimension(*ends, row, f"overall {figure(size.width)}", base=vehicle.top, reach_mm=3.0))
    if math.isfinite(size.height):
        found.append(LinearDimension((-half, 0.0), (0.2 - half, size.height), -9.0, figure(size.height), "v", -half))
    return [*found, *_tracks(vehicle)]


def _tracks(vehicle: Vehicle) -> list[Entity]:
    """Track of the last axle and width over its tyres, under the road."""
    index = vehicle.truck.axles.count - 1
    tyre, places = vehicle.tyre(vehicle.chassis.axle[index]), tyre_places(vehicle, index)
    figure, half = vehicle.wording.length, 0.5 * tyre["track"].value
    found: list[Entity] = []
    if tyre["track"].known:
        ends = (-half, 0.0), (half, 0.0)
        found.append(LinearDimension(*ends, -9.0, f"track {figure(2.0 * half)}", base=0.0))
    if tyre["track"].known and tyre["width"].known and (tyre["pair spacing"].known or len(places) == 2):
        reach = places[-1] + 0.5 * tyre["width"].value
        words = f"over tyres {figure(2.0 * reach)}"
        found.append(LinearDimension((-reach, 0.0), (reach, 0.0), -9.0 - _ROW_MM, words, base=0.0))
    return found
