"""The chassis and what is fitted as triangles: rails, subframe, axles, wheels, cab, boxes, and the road under them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from tunwright.sheets.drawing import Polyline
from tunwright.sheets.geometry import flat_points
from tunwright.sheets.mesh.part import MeshPart, part
from tunwright.sheets.mesh.shapes import Shape, block, joined, prism, turned
from tunwright.sheets.views.cab import cab_side
from tunwright.sheets.views.rear import tyre_places
from tunwright.sheets.views.side import LIFTED, ROAD, frame_side
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.states import LoadState

Floats = NDArray[np.float64]
_BEAM, _DRUM = 0.065, 0.19  # radii of an axle beam and of the drum of a driven one (common practice, no source) [m]


def chassis_mesh(vehicle: Vehicle, state: LoadState, wheel: int) -> Iterator[MeshPart]:
    """Everything but the tank and the water.

    vehicle: the vehicle
    state: says which axles are raised
    wheel: points around a wheel [-]
    """
    yield _ground(vehicle)
    yield from _frame(vehicle)
    for i in range(vehicle.truck.axles.count):
        yield from _axle(vehicle, i, LIFTED if i in vehicle.raised(state) else 0.0, wheel)
    yield _cab(vehicle)
    yield from _items(vehicle)


def _ground(vehicle: Vehicle) -> MeshPart:
    """Lines on the road a metre apart, counted from the first axle."""
    start, end = np.floor(vehicle.front - ROAD), np.ceil(vehicle.rear + ROAD)
    side = 2.0
    ends = [((x, -side, 0.0), (x, side, 0.0)) for x in np.arange(start, end + 0.5)]
    ends += [((start, y, 0.0), (end, y, 0.0)) for y in np.arange(-side, side + 0.5)]
    points = np.array(ends).reshape(-1, 3)
    shape = Shape(points, np.empty((0, 3), dtype=np.intp), np.arange(len(points)).reshape(-1, 2))
    return part("ground", "road, lines a metre apart", "ground", shape)


def _channel(back: float, low: float, height: float, flange: float, thick: float) -> Floats:
    """A channel with its back outwards, columns y and z [m]; back is negative on the left."""
    side = np.sign(back)
    inner, web = back - side * flange, back - side * thick
    top = low + height
    corners = [(back, low), (back, top), (inner, top), (inner, top - thick), (web, top - thick), (web, low + thick),
               (inner, low + thick), (inner, low)]  # fmt: skip
    return np.array(corners)


def _frame(vehicle: Vehicle) -> Iterator[MeshPart]:
    """Both rails with cross members, and the subframe, its front cut to a taper."""
    size = {name: fact.value for name, fact in vehicle.frame.items()}
    high, flange, thick, half = (size[n] for n in ("rail height", "rail flange", "rail thickness", "width"))
    half, low = 0.5 * half, size["top"] - high
    inner = half - thick - 0.02  # clear of the web, so that its face hides them
    start, end = size["front"], size["rear"]
    rails = [
        prism(_channel(side * half, low, high, flange, thick), axis=0, start=start, end=end) for side in (-1.0, 1.0)
    ]
    across = [
        block((x - 0.05, -inner, low + 0.2 * high), (x + 0.05, inner, low + 0.75 * high))
        for x in np.linspace(start + 0.1, end - 0.1, 2 + int((end - start) / 1.4))
    ]
    yield part("chassis.frame", "frame rails and cross members", "frame", joined([*rails, *across]))
    sub = vehicle.build.subframe
    if sub is not None:
        side_on = np.array([p for group in frame_side(vehicle)[1:] for p in _outline(group)])[:, ::-1]
        bars = [prism(side_on, axis=1, start=y, end=y + float(sub.flange)) for y in (-half, half - float(sub.flange))]
        yield part("subframe", "subframe", "plate", joined(bars))


def _outline(group: object) -> list[tuple[float, float]]:
    """The corners of the only polyline of a group (x, z), the first not repeated."""
    body = next(one for one in getattr(group, "entities", ()) if isinstance(one, Polyline))
    return flat_points(body)[:-1]


def _axle(vehicle: Vehicle, index: int, lifted: float, count: int) -> Iterator[MeshPart]:
    axle = vehicle.chassis.axle[index]
    tyre = {name: fact.value for name, fact in vehicle.tyre(axle).items()}
    x, r, half = float(axle.at), tyre["radius"], 0.5 * tyre["width"]
    z, reach = r + lifted, 0.5 * tyre["track"]
    tube = [(0.0, -reach), *[(_BEAM, -reach)] * 2, *[(_BEAM, reach)] * 2, (0.0, reach)]
    beam = turned(tube, axis=1, centre=(x, 0.0, z), count=16)
    drum = [(0.0, -_DRUM), (0.7 * _DRUM, -0.8 * _DRUM), (_DRUM, 0.0), (0.7 * _DRUM, 0.8 * _DRUM), (0.0, _DRUM)]
    beams = [beam, turned(drum, axis=1, centre=(x, 0.0, z), count=20)] if axle.driven else [beam]
    key, name = f"chassis.axle.{index + 1}", axle.called
    yield part(key, name, "frame", joined(beams))
    places = tyre_places(vehicle, index)
    rubber = [turned(_tyre(r, half), axis=1, centre=(x, y, z), count=count) for y in places]
    yield part(f"{key}.tyres", f"tyres of {name}", "tyre", joined(rubber))
    rims = [turned(_rim(r, half, rightwards=y > 0), axis=1, centre=(x, y, z), count=count) for y in places]
    yield part(f"{key}.rims", f"wheels of {name}", "rim", joined(rims))


def _tyre(r: float, half: float) -> list[tuple[float, float]]:
    """Half a section of a tyre: from its left bead over the tread to its right, and back along its inside."""
    left = [(0.59 * r, -0.78 * half), (0.66 * r, -0.96 * half), (0.82 * r, -half), (0.95 * r, -0.93 * half)]
    tread = [(r, -0.78 * half)] * 2
    inner = [(0.92 * r, -0.68 * half), (0.82 * r, -0.88 * half), (0.68 * r, -0.84 * half), (0.59 * r, -0.66 * half)]
    right, back = ([(radius, -at) for radius, at in half_of] for half_of in ((*tread, *left[::-1]), inner[::-1]))
    return [*left, *tread, *right, *back, *inner, left[0]]


def _rim(r: float, half: float, *, rightwards: bool) -> list[tuple[float, float]]:
    """Half a section of a wheel: a disc with a hub, dished, its face to the outside of the vehicle."""
    well, hub = 0.58 * r, 0.22 * r
    back = [(0.0, -0.1 * half), *[(well, -0.1 * half)] * 2, (well, -0.78 * half)]
    face = [(well, 0.78 * half), *[(well, 0.3 * half)] * 2, *[(hub, 0.35 * half)] * 2, *[(hub, 0.62 * half)] * 2]
    profile = [*back, *face, (0.0, 0.62 * half)]
    return profile if rightwards else [(radius, -at) for radius, at in profile[::-1]]


def _cab(vehicle: Vehicle) -> MeshPart:
    """The cab's contour from the side carried over its width; the side windows as lines."""
    half = 0.5 * vehicle.cab["width"].value
    body, window = (
        np.array(flat_points(one)[:-1]) for one in cab_side(vehicle).entities[:2] if isinstance(one, Polyline)
    )
    numbers = np.arange(len(window))
    lines, none = np.column_stack([numbers, np.roll(numbers, -1)]), np.empty((0, 3), dtype=np.intp)
    panes = [
        Shape(np.column_stack([window[:, 0], np.full(len(window), y), window[:, 1]]), none, lines)
        for y in (-half - 0.003, half + 0.003)
    ]
    volume = prism(body[:, ::-1], axis=1, start=-half, end=half)
    return part("chassis.cab", "cab", "cab", joined([volume, *panes]))


def _items(vehicle: Vehicle) -> Iterator[MeshPart]:
    """What is fitted and has all three sizes."""
    lumps = {lump.key: lump for lump in vehicle.truck.weights.lumps}
    for i, item in enumerate(vehicle.build.item):
        if item.length and item.width and item.tall:
            key = f"item.{i + 1}"
            x, y, z = lumps[key].mass.centre.tolist()
            a, b, c = (0.5 * float(size) for size in (item.length, item.width, item.tall))
            yield part(key, item.name, "item", block((x - a, y - b, z - c), (x + a, y + b, z + c)))
