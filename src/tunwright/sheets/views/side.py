"""The side view: u = x rearwards from the first axle, v = z up from the road, seen from the left."""

from __future__ import annotations

import math
from itertools import pairwise

from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Entity, Group, Line, LinearDimension, Polyline, chain_dimension
from tunwright.sheets.views.cab import cab_side, wheel_side
from tunwright.sheets.views.items import item_boxes
from tunwright.sheets.views.labels import Board, Label
from tunwright.sheets.views.loads import carried, gauges
from tunwright.sheets.views.marks import centre_marks, gravity_arrow, lean_along, middle_mark, window_marks
from tunwright.sheets.views.shapes import box
from tunwright.sheets.views.surfaces import full_state, surfaces
from tunwright.sheets.views.tank_shape import TankShape
from tunwright.sheets.views.tank_side import fitting_labels, tank_side
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.states import LoadState

ROAD = 0.45  # how far the road runs past the vehicle [m]
LIFTED = 0.12  # how far a raised axle hangs above the road [m]
_TAPER = 3.0  # front of a subframe, in its heights (common practice, no source)
_CHAIN_MM, _FIRST_MM, _ROW_MM = -9.0, 8.0, 7.5
_REACH_MM = 3.0


def side_view(
    assessment: Assessment, *, state: LoadState | None = None, scale: float = 40.0, window: bool = True
) -> list[Entity]:
    """The vehicle from the side, true to scale, in a load state: full, crew aboard and level where none is given.

    scale: 1:scale, for which the names are placed
    window: with the permitted window, which takes longer to find than all the rest to draw
    """
    vehicle, state = Vehicle(assessment), state or full_state(assessment.truck)
    shape, found = TankShape(vehicle.truck), surfaces(vehicle.truck, state)
    table, permitted = vehicle.truck.loading.table([state]), vehicle.window if window else None
    loads = carried(vehicle, table)
    boxes, names = item_boxes(vehicle, "side")
    centres, centre_names = centre_marks(table, 0)
    entities: list[Entity] = [
        Line((vehicle.front - ROAD, 0.0), (vehicle.rear + ROAD, 0.0), "ground"),
        *frame_side(vehicle),
        *(window_marks(vehicle, permitted, scale, _FIRST_MM + _ROW_MM) if permitted else []),
        tank_side(shape, found),
        *boxes,
        cab_side(vehicle),
        *_wheels(vehicle, state),
        middle_mark(vehicle, permitted, scale),
        *centres,
        *_gravity(vehicle, state, scale),
        *gauges(vehicle, loads, scale),
        *_dimensions(vehicle, shape),
    ]
    fittings = fitting_labels(shape, found, vehicle.wording)
    labels = [*names, *fittings, *centre_names, *_raised_labels(vehicle, state)]
    return [*entities, Group("names", tuple(Board(entities, scale).place(labels)))]


def frame_side(vehicle: Vehicle) -> list[Entity]:
    """Rails and subframe; the subframe rises from nothing at its front."""
    frame = vehicle.frame
    top, start, end = (frame[name].value for name in ("top", "front", "rear"))
    known = all(frame[name].known for name in ("top", "front", "rear", "rail height"))
    layer, fill = ("steel", "steel") if known else ("hidden", None)
    found: list[Entity] = [Group("frame", (box(start, top - frame["rail height"].value, end, top, layer, fill),))]
    sub = vehicle.build.subframe
    if sub is not None:
        one, two, height = float(sub.start), float(sub.end), float(sub.height)
        taper = min(_TAPER * height, 0.5 * (two - one))
        corners = ((one, top), (two, top), (two, top + height), (one + taper, top + height))
        layer = "steel" if frame["top"].known else "hidden"
        found.append(Group("subframe", (Polyline(corners, layer, closed=True, fill="steel"),)))
    return found


def _wheels(vehicle: Vehicle, state: LoadState) -> list[Group]:
    raised = vehicle.raised(state)
    return [wheel_side(vehicle, i, lifted=LIFTED if i in raised else 0.0) for i in range(vehicle.truck.axles.count)]


def _raised_labels(vehicle: Vehicle, state: LoadState) -> list[Label]:
    axles = vehicle.chassis.axle
    return [Label((float(axles[i].at), 0.5 * LIFTED), "raised", sides=(-1,)) for i in vehicle.raised(state)]


def _gravity(vehicle: Vehicle, state: LoadState, scale: float) -> list[Group]:
    """The arrow of gravity over the cab where it does not act straight down."""
    lean = lean_along(state)
    if not lean:
        return []
    words = f"{abs(100.0 * state.grade):.3g} % {'uphill' if state.grade > 0 else 'downhill'}" if state.grade else ""
    words += (", " if words and state.braking else "") + (f"braking {state.braking:g} g" if state.braking else "")
    tail = (vehicle.front - 14.0 * scale / 1000.0, vehicle.cab["roof"].value)
    return [gravity_arrow(tail, lean, words, scale)]


def _dimensions(vehicle: Vehicle, shape: TankShape) -> list[Entity]:
    return [*_chain(vehicle), *_over(vehicle, shape), *_heights(vehicle, shape)]


def _chain(vehicle: Vehicle) -> list[Entity]:
    """Front overhang, wheelbases and rear overhang in one run under the road."""
    figure = vehicle.wording.length
    places = [float(axle.at) for axle in vehicle.chassis.axle]
    points = [(x, 0.0) for x in places]
    if vehicle.cab["front"].known:
        points.insert(0, (vehicle.cab["front"].value, 0.38))
    points.append((vehicle.size.rear, _rear_low(vehicle)))
    texts = [figure(q[0] - p[0]) for p, q in pairwise(points)]
    return list(chain_dimension(points, texts, offset_mm=_CHAIN_MM, base=0.0))


def _rear_low(vehicle: Vehicle) -> float:
    return max(0.0, vehicle.frame["top"].value - vehicle.frame["rail height"].value)


def _over(vehicle: Vehicle, shape: TankShape) -> list[Entity]:
    """Over the vehicle: gap behind the cab and length of the tank; place of its middle; overall length."""
    figure, top, size = vehicle.wording.length, vehicle.top, vehicle.size
    front, rear = (shape.side_point(x, shape.solid.height) for x in (0.0, shape.length))
    found = [LinearDimension(front, rear, _FIRST_MM, f"tank {figure(shape.length)}", base=top)]
    cab = vehicle.cab["back"]
    if cab.known:
        gap = size.tank_front - cab.value
        at = (cab.value, vehicle.cab["roof"].value), (size.tank_front, shape.side_point(0.0, shape.solid.seat)[1])
        found.append(LinearDimension(*at, _FIRST_MM, figure(gap), base=top))
    middle = float(vehicle.tank.middle)
    row = _FIRST_MM + _ROW_MM
    words = f"middle of tank {figure(middle)}"
    if middle > 0.0:
        found.append(LinearDimension((0.0, top), (middle, top), row, words, base=top, reach_mm=_REACH_MM))
    if math.isfinite(size.front):
        ends = (size.front, top), (size.rear, top)
        row += _ROW_MM
        found.append(
            LinearDimension(*ends, row, f"overall {figure(size.rear - size.front)}", base=top, reach_mm=_REACH_MM)
        )
    return list(found)


def _heights(vehicle: Vehicle, shape: TankShape) -> list[Entity]:
    """Overall height before the cab; bottom of the tank in the gap; frame and top of the tank at the rear."""
    figure, size, frame = vehicle.wording.length, vehicle.size, vehicle.frame
    found: list[Entity] = []

    def upright(x: float, z: float, offset: float, base: float) -> LinearDimension:
        return LinearDimension((x, 0.0), (x, z), offset, figure(z), "v", base)

    if math.isfinite(size.height):
        found.append(upright(vehicle.front, size.height, -9.0, vehicle.front))
    bottom = shape.side_point(0.0, 0.0)
    before = min(size.tank_front - 0.12, bottom[0] - 0.2)
    found.append(LinearDimension((before, 0.0), bottom, 0.0, figure(bottom[1]), "v", before))
    if frame["top"].known:
        found.append(upright(frame["rear"].value, frame["top"].value, 9.0, vehicle.rear))
    top = shape.side_point(shape.length, shape.solid.height + shape.shell)
    found.append(LinearDimension((top[0], 0.0), top, 9.0 + _ROW_MM, figure(top[1]), "v", vehicle.rear))
    return found
