"""The tank from the side: water, plates, fittings and shell, everything carried through the tank's own frame."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from tunwright.sheets.drawing import Circle, Entity, Group, Line, Point
from tunwright.sheets.views.labels import Label
from tunwright.sheets.views.shapes import polyline
from tunwright.sheets.views.surfaces import Surface, at_station, surface_line, wet_side
from tunwright.sheets.views.tank_shape import TankShape
from tunwright.sheets.views.wording import Wording

Floats = NDArray[np.float64]
_COLLAR = 0.03  # lid of a manhole past its neck, each side [m]
_VALVE = 0.05  # radius of the mark of an outlet [m]


def tank_side(shape: TankShape, found: list[Surface]) -> Group:
    """The whole tank."""
    shell = shape.side_on_vehicle(shape.outer(shape.side))
    parts = [
        *_sumps(shape, found),
        polyline(shell, "area", fill="sheet"),
        *_water(shape, found),
        *_plates(shape),
        *_boxes(shape),
        *_rings(shape),
        *_manholes(shape),
        polyline(shell, "outline"),
        *_outlets(shape),
        *_dip_line(shape),
    ]
    return Group("tank", tuple(parts), {"drag": "u"})


def _water(shape: TankShape, found: list[Surface]) -> list[Entity]:
    parts: list[Entity] = []
    for water in found:
        wet = wet_side(shape.side, water)
        if len(wet):
            parts.append(polyline(shape.side_on_vehicle(wet), "area", fill="water"))
            line = surface_line(wet, water)
            if len(line):
                parts.append(polyline(shape.side_on_vehicle(line), "water", closed=False))
    return [Group("water", tuple(parts))] if parts else []


def _plate(shape: TankShape, x: float, layer: str) -> Line:
    return Line(shape.side_point(x, shape.lowest(x)), shape.side_point(x, shape.solid.height), layer)


def bulkheads(shape: TankShape) -> list[float]:
    """Places of the plates that close compartments, those at the tangent lines left out [m]."""
    ends = {float(end) for part in shape.tank.compartment for end in (part.start, part.end)}
    return sorted(end for end in ends if 1e-6 < end < shape.length - 1e-6)


def _plates(shape: TankShape) -> list[Entity]:
    baffles = [
        Group("baffle", (_plate(shape, float(baffle.at), "hidden"),), {"baffle": str(i)})
        for i, baffle in enumerate(shape.tank.baffle)
    ]
    return [*baffles, *(_plate(shape, x, "outline") for x in bulkheads(shape))]


def _quad(start: float, end: float, low: float, high: float) -> Floats:
    return np.array([(start, low), (end, low), (end, high), (start, high)])


def _boxes(shape: TankShape) -> list[Entity]:
    """Recesses and pipes inside, as hidden edges."""
    quads = [(float(r.start), float(r.end), float(r.height), float(r.top)) for r in shape.tank.recess]
    for pipe in shape.tank.pipe:
        r = 0.5 * float(pipe.diameter)
        if pipe.run == "along":
            quads.append((float(pipe.start), float(pipe.end or 0.0), pipe.height - r, pipe.height + r))
        else:
            quads.append((pipe.start - r, pipe.start + r, float(pipe.height), float(pipe.top or 0.0)))
    return [polyline(shape.side_on_vehicle(_quad(*quad)), "hidden") for quad in quads]


def _rings(shape: TankShape) -> list[Entity]:
    out = []
    for ring in shape.tank.ring:
        x, half, reach = float(ring.at), 0.5 * float(ring.thickness), float(ring.height) + shape.shell
        quad = _quad(x - half, x + half, shape.lowest(x) - reach, shape.solid.height + reach)
        out.append(polyline(shape.side_on_vehicle(quad), "thin"))
    return list(out)


def _manholes(shape: TankShape) -> list[Entity]:
    """A neck on the roof and its lid; the lid ends where the neck does."""
    parts: list[Entity] = []
    for i, manhole in enumerate(shape.tank.manhole):
        x, r, neck = float(manhole.at), 0.5 * float(manhole.diameter), float(manhole.neck)
        roof = shape.solid.roof(float(manhole.y))
        neck_quad = _quad(x - r, x + r, roof, roof + 0.7 * neck)
        lid_quad = _quad(x - r - _COLLAR, x + r + _COLLAR, roof + 0.7 * neck, roof + neck)
        quads = [polyline(shape.side_on_vehicle(quad), "steel", fill="steel") for quad in (neck_quad, lid_quad) if neck]
        parts.append(Group("manhole", tuple(quads), {"manhole": str(i)}))
    return parts


def _sumps(shape: TankShape, found: list[Surface]) -> list[Entity]:
    """Sumps below the floor, wet up to the surface above them."""
    parts: list[Entity] = []
    for i, sump in enumerate(shape.tank.sump):
        x, reach = float(sump.at), 0.5 * float(sump.diameter or sump.length or 0.0)
        floor = shape.solid.floor(x, float(sump.y))
        quad = _quad(x - reach, x + reach, floor - sump.depth, floor + 0.05)
        mine: list[Entity] = [polyline(shape.side_on_vehicle(quad), "area", fill="sheet")]
        water = at_station(found, x)
        wet = wet_side(quad, Surface(x - reach, x + reach, water.c, water.a, water.b)) if water else quad[:0]
        if len(wet):
            mine.append(polyline(shape.side_on_vehicle(wet), "area", fill="water"))
        mine.append(polyline(shape.side_on_vehicle(quad), "steel"))
        parts.append(Group("sump", tuple(mine), {"sump": str(i)}))
    return parts


def _outlets(shape: TankShape) -> list[Entity]:
    places = [shape.side_point(float(o.at), float(o.height)) for o in shape.tank.outlet]
    return [
        Group("outlet", (Circle(at, _VALVE, "thin", "sheet"), Circle(at, 0.4 * _VALVE, "thin", "ink"))) for at in places
    ]


def _dip_ends(shape: TankShape) -> tuple[Point, Point]:
    x, y, floor = shape.truck.volumes.dip_point()
    return shape.side_point(x, floor), shape.side_point(x, shape.solid.roof(y) + 0.06)


def _dip_line(shape: TankShape) -> list[Entity]:
    low, high = _dip_ends(shape)
    bar = ((high[0] - 0.05, high[1]), (high[0] + 0.05, high[1]))
    return [Group("dip", (Line(low, high, "centre"), Line(*bar, "thin")))]


def fitting_labels(shape: TankShape, found: list[Surface], wording: Wording) -> list[Label]:
    """Names of manholes, sumps, outlets and the dip point with its depth."""
    labels = [
        Label(shape.side_point(float(m.at), shape.solid.roof(float(m.y)) + 0.5 * m.neck), "manhole", sides=(1,))
        for m in shape.tank.manhole
    ]
    labels += [
        Label(shape.side_point(float(s.at), shape.solid.floor(float(s.at)) - s.depth), "sump", sides=(-1,))
        for s in shape.tank.sump
    ]
    labels += [Label(shape.side_point(float(o.at), float(o.height)), "outlet") for o in shape.tank.outlet]
    x, y, floor = shape.truck.volumes.dip_point()
    water = at_station(found, x)
    depth = max(0.0, water.height(x, y) - floor) if water else 0.0
    reading = "dry" if depth == 0.0 else wording.length(min(depth, shape.solid.roof(y) - floor))
    labels.append(Label(_dip_ends(shape)[1], f"dip {reading}", sides=(1,)))
    if shape.tank.fall:
        x = _roomiest(shape)
        at = shape.side_point(x, shape.lowest(x))
        labels.append(Label(at, f"fall {100.0 * shape.tank.fall:.3g} %", sides=(1,)))
    return labels


def _roomiest(shape: TankShape) -> float:
    """The middle of the widest bay between plates [m], the rearmost of equals."""
    plates = sorted({0.0, shape.length, *(float(baffle.at) for baffle in shape.tank.baffle), *bulkheads(shape)})
    start, end = max(pairwise(plates), key=lambda bay: (round(bay[1] - bay[0], 3), bay[0]))
    return 0.5 * (start + end)
