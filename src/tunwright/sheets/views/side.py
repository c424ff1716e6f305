"""The side view: u = x rearwards from the first axle, v = z up from the road, seen from the left."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from tunwright.checks.assess import Assessment
from tunwright.checks.window import Window
from tunwright.sheets.annotate import TEXT_GAP_MM
from tunwright.sheets.drawing import Entity, Group, Line, LinearDimension, Polyline, chain_dimension
from tunwright.sheets.lettering import SPARE, text_width
from tunwright.sheets.views.cab import cab_side, wheel_side
from tunwright.sheets.views.items import item_boxes
from tunwright.sheets.views.labels import Board, Label
from tunwright.sheets.views.loads import carried, gauges
from tunwright.sheets.views.marks import centre_marks, gravity_arrow, lean_along, middle_mark, unit_note, window_marks
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
_CLEAR_MM = 1.0  # beside a figure that was put in a clear place


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
        *_dimensions(vehicle, shape, permitted, scale / 1000.0),
    ]
    fittings = fitting_labels(shape, found, vehicle.wording)
    labels = [*names, *fittings, *centre_names, *_raised_labels(vehicle, state)]
    unit = unit_note(vehicle, (vehicle.front, vehicle.top), _FIRST_MM + TEXT_GAP_MM)
    return [*entities, Group("names", (unit, *Board([*entities, unit], scale).place(labels)))]


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


def _dimensions(vehicle: Vehicle, shape: TankShape, permitted: Window | None, mm: float) -> list[Entity]:
    return [
        *_chain(vehicle),
        *_over(vehicle, shape, permitted, mm),
        *_heights(vehicle, shape),
        _bottom(vehicle, shape, mm),
    ]


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


def _over(vehicle: Vehicle, shape: TankShape, permitted: Window | None, mm: float) -> list[Entity]:
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
    if middle > 0.0:
        words = f"middle of tank {figure(middle)}"
        to_middle = LinearDimension((0.0, top), (middle, top), row, words, base=top, reach_mm=_REACH_MM)
        found.append(_beside_window(to_middle, permitted, mm))
    if math.isfinite(size.front):
        ends = (size.front, top), (size.rear, top)
        row += _ROW_MM
        found.append(
            LinearDimension(*ends, row, f"overall {figure(size.rear - size.front)}", base=top, reach_mm=_REACH_MM)
        )
    return list(found)


def _beside_window(dim: LinearDimension, permitted: Window | None, mm: float) -> LinearDimension:
    """The dimension to the tank's middle; its figure stands in the longer part that the bar of the window leaves."""
    middle, half = dim.p2[0], (0.5 * SPARE * text_width(dim.text, dim.height_mm) + _CLEAR_MM) * mm
    if permitted is None or permitted.empty:
        return dim
    low, high = max(permitted.low, 0.0), min(permitted.high, middle)
    if low >= 0.5 * middle + half or high <= 0.5 * middle - half:
        return dim
    start, end = max((0.0, low), (high, middle), key=lambda part: part[1] - part[0])
    if end - start < 2.0 * half:
        return dim
    return replace(dim, text_shift_mm=((0.5 * (start + end) - 0.5 * middle) / mm, 0.0))


def _heights(vehicle: Vehicle, shape: TankShape) -> list[Entity]:
    """Overall height before the cab; frame and top of the tank at the rear."""
    figure, size, frame = vehicle.wording.length, vehicle.size, vehicle.frame
    found: list[Entity] = []

    def upright(x: float, z: float, offset: float, base: float) -> LinearDimension:
        return LinearDimension((x, 0.0), (x, z), offset, figure(z), "v", base)

    if math.isfinite(size.height):
        found.append(upright(vehicle.front, size.height, -9.0, vehicle.front))
    if frame["top"].known:
        found.append(upright(frame["rear"].value, frame["top"].value, 9.0, vehicle.rear))
    top = shape.side_point(shape.length, shape.solid.height + shape.shell)
    found.append(LinearDimension((top[0], 0.0), top, 9.0 + _ROW_MM, figure(top[1]), "v", vehicle.rear))
    return found


def _bottom(vehicle: Vehicle, shape: TankShape, mm: float) -> LinearDimension:
    """Bottom of the tank before its front; the figure stands under the frame where no wheel is, else over the frame.

    mm: a millimetre of paper [m]
    """
    at = shape.side_point(0.0, 0.0)
    x, height = min(vehicle.size.tank_front - 0.12, at[0] - 0.2), at[1]
    words = vehicle.wording.length(height)
    dim = LinearDimension((x, 0.0), at, 0.0, words, "v", x)
    half = 0.5 * SPARE * text_width(words, dim.height_mm) * mm + _CLEAR_MM * mm
    deep = (TEXT_GAP_MM + 1.1 * dim.height_mm) * mm
    under, over = _rear_low(vehicle), height + half
    if 2.0 * half < under and not _by_a_wheel(vehicle, x - deep, x):
        middle = 0.5 * under
    elif over - half >= vehicle.bed and x - deep > vehicle.cab["back"].value:
        middle = over
    else:
        return dim
    return replace(dim, text_shift_mm=((middle - 0.5 * height) / mm, 0.0))


def _by_a_wheel(vehicle: Vehicle, low: float, high: float) -> bool:
    """Whether a wheel stands anywhere between two places."""
    wheels = ((float(axle.at), vehicle.tyre(axle)["radius"].value) for axle in vehicle.chassis.axle)
    return any(at - radius < high and low < at + radius for at, radius in wheels)
