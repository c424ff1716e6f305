"""Annotations turned into lines, circles and texts at a given scale; the writers draw only these."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from tunwright.sheets.drawing import (
    Anchor,
    CentreMark,
    Circle,
    Entity,
    Gauge,
    Group,
    Leader,
    Line,
    LinearDimension,
    Point,
    Polyline,
    Primitive,
    Text,
)
from tunwright.sheets.lettering import text_width

ARROW_MM = 2.4  # length of an arrow head
_ARROW_HALF_MM = 0.42
_DOT_MM = 0.45
FOOT_MM = 0.8  # gap between the thing and its extension line
OVER_MM = 1.4  # extension line past the dimension line
_TAIL_MM = 3.0  # line behind an arrow that points from outside
TEXT_GAP_MM = 0.8  # base line of a figure over the dimension line
SHELF_MM = 0.7  # shelf under the base line of a moved figure
_QUARTER = math.tan(math.pi / 8.0)  # bulge of a quarter circle


class DimensionFrame(NamedTuple):
    """A dimension in place: line ends [m], reading direction and the upward normal of its figure (unit vectors).

    outward: +1 when the upward normal leads away from the thing, -1 when it leads back to it
    """

    start: Point
    end: Point
    along: Point
    up: Point
    outward: float

    def place(self, t: float, n: float) -> Point:
        """The point t along and n up [m] from the middle of the dimension line."""
        mid_u, mid_v = (self.start[0] + self.end[0]) / 2.0, (self.start[1] + self.end[1]) / 2.0
        return (mid_u + t * self.along[0] + n * self.up[0], mid_v + t * self.along[1] + n * self.up[1])

    @property
    def span(self) -> float:
        """Length of the dimension line [m]."""
        return math.dist(self.start, self.end)


def flatten(entities: Iterable[Entity], scale: float) -> Iterator[Primitive]:
    """Every primitive of the entities, groups opened, annotations expanded at 1:scale."""
    for entity in entities:
        if isinstance(entity, Group):
            yield from flatten(entity.entities, scale)
        else:
            yield from primitives(entity, scale)


def primitives(entity: Entity, scale: float) -> Iterator[Primitive]:
    """One entity (not a group) as primitives at 1:scale."""
    mm = scale / 1000.0
    match entity:
        case LinearDimension():
            yield from _drawn_dimension(entity, mm)
        case Leader():
            yield from _leader(entity, mm)
        case CentreMark():
            yield from _centre_mark(entity, mm)
        case Gauge():
            yield from _gauge(entity, mm)
        case Group():
            raise TypeError("a Group has no primitives of its own; use flatten")
        case _:
            yield entity


def dimension_frame(dim: LinearDimension, scale: float) -> DimensionFrame:
    """Where the dimension line and its figure stand at 1:scale; it reads from below or from the right."""
    offset = dim.offset_mm * scale / 1000.0
    p, q = dim.p1, dim.p2
    outer = max if offset >= 0.0 else min
    if dim.along == "u":
        level = (outer(p[1], q[1]) if dim.base is None else dim.base) + offset
        return DimensionFrame((p[0], level), (q[0], level), (1.0, 0.0), (0.0, 1.0), 1.0 if offset >= 0.0 else -1.0)
    if dim.along == "v":
        level = (outer(p[0], q[0]) if dim.base is None else dim.base) + offset
        return DimensionFrame((level, p[1]), (level, q[1]), (0.0, 1.0), (-1.0, 0.0), -1.0 if offset >= 0.0 else 1.0)
    return _sloping_frame(dim, offset)


def _sloping_frame(dim: LinearDimension, offset: float) -> DimensionFrame:
    p, q = dim.p1, dim.p2
    length = math.dist(p, q)
    cu, cv = (q[0] - p[0]) / length, (q[1] - p[1]) / length
    start, end = (p[0] - offset * cv, p[1] + offset * cu), (q[0] - offset * cv, q[1] + offset * cu)
    flip = -1.0 if cu < -1e-9 or (abs(cu) <= 1e-9 and cv < 0.0) else 1.0
    outward = flip if offset >= 0.0 else -flip
    return DimensionFrame(start, end, (cu * flip, cv * flip), (-cv * flip, cu * flip), outward)


def dimension_figure(dim: LinearDimension, scale: float) -> Text:
    """The figure of a dimension as a text, moved if `settle` has moved it."""
    mm = scale / 1000.0
    frame = dimension_frame(dim, scale)
    dt, dn = dim.text_shift_mm or (0.0, 0.0)
    at = frame.place(dt * mm, (dn + TEXT_GAP_MM) * mm)
    turn = math.atan2(frame.along[1], frame.along[0])
    return Text(at, dim.text, dim.layer, dim.height_mm, "middle", turn=turn, halo=True)


def figure_leader(dim: LinearDimension, scale: float) -> tuple[Point, ...]:
    """The line from the dimension line to a moved figure [m]; empty when the figure is in its usual place."""
    frame, mm = dimension_frame(dim, scale), scale / 1000.0
    path = leader_path(dim, frame.span / mm, dim.text_shift_mm or (0.0, 0.0))
    return tuple(frame.place(t * mm, n * mm) for t, n in path)


def leader_path(dim: LinearDimension, span_mm: float, shift_mm: Point) -> list[Point]:
    """The leader of a figure moved by shift_mm, in the dimension's axes [mm]: along, and up from the line's middle."""
    dt, dn = shift_mm
    half = text_width(dim.text, dim.height_mm) / 2.0
    near, far = (dt - half, dt + half) if dt >= 0.0 else (dt + half, dt - half)
    over = abs(dt) < half
    if not (dt or dn):
        return []
    if dn == 0.0:  # beside: the dimension line runs on under the figure
        return [(math.copysign(span_mm / 2.0, dt), 0.0), (far, 0.0)]
    if dn < 0.0:  # below: down to the figure, or obliquely to its nearer end
        tip = (0.0, dn + dim.height_mm + 1.6) if over else (near - math.copysign(0.6, dt), dn + dim.height_mm / 2.0)
        return [(0.0, 0.0), tip]
    shelf = dn + TEXT_GAP_MM - SHELF_MM
    return [(0.0, 0.0), *([(0.0, shelf)] if over else []), (near, shelf), (far, shelf)]


@lru_cache(maxsize=2048)
def _drawn_dimension(dim: LinearDimension, mm: float) -> tuple[Primitive, ...]:
    """Kept: one dimension is drawn several times for one picture, and again where something else is moved."""
    return tuple(_dimension(dim, mm))


def _dimension(dim: LinearDimension, mm: float) -> Iterator[Primitive]:
    scale = mm * 1000.0
    frame = dimension_frame(dim, scale)
    for foot, tip in ((dim.p1, frame.start), (dim.p2, frame.end)):
        yield from _extension(foot, tip, dim, mm)
    yield Line(frame.start, frame.end, dim.layer)
    yield from _end(frame.start, frame.end, dim.ends[0], dim.layer, mm)
    yield from _end(frame.end, frame.start, dim.ends[1], dim.layer, mm)
    leader = figure_leader(dim, scale)
    if leader:
        yield Polyline(leader, dim.layer)
    if dim.text:
        yield dimension_figure(dim, scale)


def _extension(foot: Point, tip: Point, dim: LinearDimension, mm: float) -> Iterator[Primitive]:
    length = math.dist(foot, tip)
    if length > FOOT_MM * mm:
        cu, cv = (tip[0] - foot[0]) / length, (tip[1] - foot[1]) / length
        reach = length if dim.reach_mm is None else dim.reach_mm * mm
        near, far = max(FOOT_MM * mm, length - reach), length + OVER_MM * mm
        yield Line((foot[0] + cu * near, foot[1] + cv * near), (foot[0] + cu * far, foot[1] + cv * far), dim.layer)


def _end(tip: Point, other: Point, end: str, layer: str, mm: float) -> Iterator[Primitive]:
    """The mark at the tip of a line that comes from `other`."""
    length = math.dist(tip, other)
    if end == "dot" or length == 0.0:
        yield Circle(tip, _DOT_MM * mm, layer, fill="ink")
        return
    towards = 1.0 if end == "arrow" else -1.0
    cu, cv = towards * (other[0] - tip[0]) / length, towards * (other[1] - tip[1]) / length
    back, side = ARROW_MM * mm, _ARROW_HALF_MM * mm
    root = (tip[0] + cu * back, tip[1] + cv * back)
    wings = ((root[0] - cv * side, root[1] + cu * side), (root[0] + cv * side, root[1] - cu * side))
    yield Polyline((tip, *wings), layer, closed=True, fill="ink")
    if end == "out":
        tail = back + _TAIL_MM * mm
        yield Line(tip, (tip[0] + cu * tail, tip[1] + cv * tail), layer)


def _leader(leader: Leader, mm: float) -> Iterator[Primitive]:
    elbow = (leader.at[0] + leader.elbow_mm[0] * mm, leader.at[1] + leader.elbow_mm[1] * mm)
    side = 1.0 if leader.elbow_mm[0] >= 0.0 else -1.0
    width = text_width(leader.text, leader.height_mm)
    shelf = (elbow[0] + side * (width + 1.0) * mm, elbow[1])
    yield Polyline((leader.at, elbow, shelf), leader.layer)
    yield from _end(leader.at, elbow, leader.end, leader.layer, mm)
    anchor: Anchor = "start" if side > 0.0 else "end"
    yield Text(elbow, leader.text, leader.layer, leader.height_mm, anchor, shift_mm=(side * 0.5, SHELF_MM), halo=True)


def _centre_mark(mark: CentreMark, mm: float) -> Iterator[Primitive]:
    (u, v), r = mark.at, mark.radius_mm * mm
    yield Circle(mark.at, r, mark.layer, fill="sheet")
    for side in (1.0, -1.0):
        corner = ((u, v), (u + side * r, v), (u, v + side * r))
        yield Polyline(corner, mark.layer, (0.0, _QUARTER, 0.0), closed=True, fill="ink")
    for du, dv in ((1.6 * r, 0.0), (0.0, 1.6 * r)):
        yield Line((u - du, v - dv), (u + du, v + dv), mark.layer)


def _gauge(gauge: Gauge, mm: float) -> Iterator[Primitive]:
    u, v = gauge.at[0] + gauge.shift_mm[0] * mm, gauge.at[1] + gauge.shift_mm[1] * mm
    left, right, low = u - gauge.width_mm * mm / 2.0, u + gauge.width_mm * mm / 2.0, v - gauge.height_mm * mm

    def bar(end: float, layer: str, fill: str | None) -> Polyline:
        return Polyline(((left, low), (end, low), (end, v), (left, v)), layer, closed=True, fill=fill)

    if gauge.part is None:
        yield bar(right, "hidden", "sheet")
    else:
        yield bar(right, "area", "sheet")
        used = left + min(max(gauge.part, 0.0), 1.2) * (right - left)
        if used > left:
            yield bar(used, "area", "ink" if gauge.part <= 1.0 else "bad")
        yield bar(right, gauge.layer, None)
        if gauge.part > 1.0:
            yield Line((right, low - 0.8 * mm), (right, v + 0.8 * mm), "outline")
    yield from _gauge_words(gauge, (u, low), mm)


def _gauge_words(gauge: Gauge, under: Point, mm: float) -> Iterator[Primitive]:
    drop = 1.2
    for text, layer, height, bold in ((gauge.value, "text", 3.0, True), (gauge.note, "note", 2.2, False)):
        if text:
            drop += height
            yield Text((under[0], under[1] - drop * mm), text, layer, height, "middle", bold)
            drop += 1.6
