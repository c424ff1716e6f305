"""The plan: u = x rearwards from the first axle, v = y to the right, seen from above, the front to the left."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from tunwright.checks.assess import Assessment
from tunwright.sheets.annotate import TEXT_GAP_MM
from tunwright.sheets.drawing import Circle, Entity, Group, Line, LinearDimension, Point, Polyline, chain_dimension
from tunwright.sheets.views.items import item_boxes
from tunwright.sheets.views.labels import Board, Label
from tunwright.sheets.views.marks import unit_note
from tunwright.sheets.views.rear import half_width, tyre_places
from tunwright.sheets.views.shapes import box, polyline, rounded
from tunwright.sheets.views.surfaces import full_state
from tunwright.sheets.views.tank_shape import TankShape
from tunwright.sheets.views.tank_side import bulkheads
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.states import LoadState

_OVER_MM, _UNDER_MM = 8.0, -9.0


def plan_view(assessment: Assessment, *, state: LoadState | None = None, scale: float = 40.0) -> list[Entity]:
    """The vehicle from above, true to scale; v = +y, so the vehicle's right side is the upper one.

    state: says which axles are raised; the water is seen in the other views
    scale: 1:scale, for which the names are placed
    """
    vehicle, state = Vehicle(assessment), state or full_state(assessment.truck)
    shape = TankShape(vehicle.truck)
    boxes, names = item_boxes(vehicle, "plan")
    low = [group for group in boxes if _under_tank(vehicle, group)]
    tank = shape.plan_on_vehicle(shape.outer(shape.plan))
    tyres, rails = _axles(vehicle), _rails(vehicle)
    entities: list[Entity] = [
        *rails,
        *tyres,
        *low,
        polyline(tank, "area", fill="sheet"),
        _cab(vehicle),
        *(_as_hidden(group) for group in (*rails, *tyres, *low)),
        Group("tank", (*_plates(shape), *_fittings(shape), polyline(tank, "outline")), {"drag": "u"}),
        *(group for group in boxes if group not in low),
        Line((vehicle.front - 0.25, 0.0), (vehicle.rear + 0.25, 0.0), "centre"),
        *_axle_lines(vehicle),
        *_dimensions(vehicle, shape),
    ]
    raised = [Label((float(vehicle.chassis.axle[i].at), half_width(vehicle)), "raised") for i in vehicle.raised(state)]
    labels = [*names, *_labels(shape), *raised]
    unit = unit_note(vehicle, (vehicle.front, -half_width(vehicle)), _UNDER_MM + TEXT_GAP_MM)
    return [*entities, Group("names", (unit, *Board([*entities, unit], scale).place(labels)))]


def _under_tank(vehicle: Vehicle, group: Group) -> bool:
    item = vehicle.build.item[int(group.data["item"].removeprefix("item.")) - 1]
    before = item.at + 0.5 * (item.length or 0.0) < vehicle.size.tank_front
    behind = item.at - 0.5 * (item.length or 0.0) > vehicle.size.tank_rear
    return item.on == "frame" and item.height < vehicle.tank.bottom and not (before or behind)


def _as_hidden(group: Group) -> Group:
    """The same edges as seen through what lies over them."""
    edges = tuple(replace(part, layer="hidden", fill=None) for part in group.entities if isinstance(part, Polyline))
    return Group("hidden", edges)


def _axles(vehicle: Vehicle) -> list[Group]:
    """Tyres from above."""
    found = []
    for index, axle in enumerate(vehicle.chassis.axle):
        tyre = vehicle.tyre(axle)
        known = tyre["radius"].known and tyre["width"].known and tyre["track"].known
        r, half, x = tyre["radius"].value, 0.5 * tyre["width"].value, float(axle.at)
        tyres = []
        for v in tyre_places(vehicle, index):
            corners = ((x - r, v - half), (x + r, v - half), (x + r, v + half), (x - r, v + half))
            layer, fill = ("tyre", "tyre") if known else ("hidden", "sheet")
            tyres.append(rounded([(corner, 0.06) for corner in corners], layer, fill=fill))
        found.append(Group("axle", tuple(tyres), {"axle": str(index), "name": axle.name, "tyres": str(axle.tyres)}))
    return found


def _axle_lines(vehicle: Vehicle) -> list[Entity]:
    reach = half_width(vehicle) + 0.1
    return [Line((float(a.at), -reach), (float(a.at), reach), "centre") for a in vehicle.chassis.axle]


def _rails(vehicle: Vehicle) -> list[Group]:
    """Both rails from above."""
    frame = vehicle.frame
    start, end = frame["front"].value, frame["rear"].value
    back, flange = 0.5 * frame["width"].value, frame["rail flange"].value
    known = all(frame[name].known for name in ("front", "rear", "width", "rail flange"))
    layer, fill = ("steel", "steel") if known else ("hidden", None)
    ends = sorted((back - flange, back))
    return [Group("frame", tuple(box(start, side * ends[0], end, side * ends[1], layer, fill) for side in (-1.0, 1.0)))]


def _cab(vehicle: Vehicle) -> Group:
    """The cab from above: contour, windscreen, roof."""
    front, back, half = (vehicle.cab[name].value for name in ("front", "back", "width"))
    half *= 0.5
    known = all(vehicle.cab[name].known for name in ("front", "back", "width"))
    layer = "thin" if known else "hidden"
    corners = [((front, -half), 0.28), ((back, -half), 0.06), ((back, half), 0.06), ((front, half), 0.28)]
    nose = max(0.0, back - front - 2.3)
    at = (front + nose + 0.10, front + nose + 0.36)
    glass = ((at[0], -half + 0.22), (at[1], -half + 0.16), (at[1], half - 0.16), (at[0], half - 0.22))
    roof = box(at[1] + 0.06, -half + 0.12, back - 0.10, half - 0.12, layer)
    body = rounded(corners, "outline" if known else "hidden", fill="sheet")
    return Group("cab", (body, rounded([(corner, 0.05) for corner in glass], layer), roof))


def _across(shape: TankShape, x: float, layer: str) -> Line:
    outline = shape.solid.outline
    return Line(shape.plan_point(x, outline.left), shape.plan_point(x, outline.right), layer)


def _plates(shape: TankShape) -> list[Entity]:
    found: list[Entity] = [
        Group("baffle", (_across(shape, float(baffle.at), "hidden"),), {"baffle": str(i)})
        for i, baffle in enumerate(shape.tank.baffle)
    ]
    found += [_across(shape, x, "outline") for x in bulkheads(shape)]
    for plate in shape.tank.long_baffle:
        start, end = float(plate.start or 0.0), float(shape.length if plate.end is None else plate.end)
        one, two = (shape.plan_point(x, float(plate.y)) for x in (start, end))
        found.append(Line(one, two, "hidden"))
    return found


def _fittings(shape: TankShape) -> list[Entity]:
    """Manholes with their lids, sumps as hidden edges, outlets and the dip point."""
    found: list[Entity] = []
    for i, manhole in enumerate(shape.tank.manhole):
        centre, r = shape.plan_point(float(manhole.at), float(manhole.y)), 0.5 * float(manhole.diameter)
        rings = (Circle(centre, r + 0.03, "steel", "sheet"), Circle(centre, r, "thin", "steel"))
        found.append(Group("manhole", rings, {"manhole": str(i)}))
    for i, sump in enumerate(shape.tank.sump):
        centre = shape.plan_point(float(sump.at), float(sump.y))
        if sump.diameter:
            edge: Entity = Circle(centre, 0.5 * float(sump.diameter), "hidden")
        else:
            (u, v), (a, b) = centre, (0.5 * float(sump.length or 0.0), 0.5 * float(sump.width or 0.0))
            edge = box(u - a, v - b, u + a, v + b, "hidden")
        found.append(Group("sump", (edge,), {"sump": str(i)}))
    found.append(Group("dip", _cross(_dip(shape))))
    return found


def _dip(shape: TankShape) -> Point:
    x, y, _ = shape.truck.volumes.dip_point()
    return shape.plan_point(x, y)


def _cross(at: Point) -> tuple[Entity, ...]:
    (u, v), r = at, 0.05
    return (Circle(at, r, "thin", "sheet"), Line((u - 2 * r, v), (u + 2 * r, v)), Line((u, v - 2 * r), (u, v + 2 * r)))


def _labels(shape: TankShape) -> list[Label]:
    found = [
        Label(shape.plan_point(float(m.at), float(m.y)), "manhole", (float(m.diameter),) * 2)
        for m in shape.tank.manhole
    ]
    found += [Label(shape.plan_point(float(s.at), float(s.y)), "sump") for s in shape.tank.sump]
    return [*found, Label(_dip(shape), "dip")]


def _dimensions(vehicle: Vehicle, shape: TankShape) -> list[Entity]:
    """Plates along the tank under the plan, manholes over it, both from the front tangent line; frame width."""
    figure, half = vehicle.wording.length, half_width(vehicle)
    outline, frame = shape.solid.outline, vehicle.frame
    plates = sorted({0.0, shape.length, *(float(b.at) for b in shape.tank.baffle), *bulkheads(shape)})
    points = [shape.plan_point(x, outline.left) for x in plates]
    texts = [figure(b - a) for a, b in pairwise(plates)]
    found: list[Entity] = list(chain_dimension(points, texts, offset_mm=_UNDER_MM, base=-half))
    manholes = {float(m.at): float(m.y) + 0.5 * float(m.diameter) for m in shape.tank.manhole}
    openings = sorted({0.0: outline.right, **manholes}.items())
    if manholes:
        texts = [figure(b[0] - a[0]) for a, b in pairwise(openings)]
        found += chain_dimension([shape.plan_point(*at) for at in openings], texts, offset_mm=_OVER_MM, base=half)
    if frame["width"].known:
        wide = 0.5 * frame["width"].value
        ends = (frame["rear"].value, -wide), (frame["rear"].value, wide)
        found.append(LinearDimension(*ends, 9.0, figure(2.0 * wide), "v", vehicle.rear))
    return found
