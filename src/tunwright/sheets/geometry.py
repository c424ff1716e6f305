"""Arcs, extents of primitives, and moving entities."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from tunwright.sheets.drawing import (
    Arc,
    Circle,
    Entity,
    Group,
    Line,
    LinearDimension,
    Point,
    Polyline,
    Primitive,
    Text,
)
from tunwright.sheets.lettering import text_corners

_TURN = 2.0 * math.pi


class ArcPiece(NamedTuple):
    """An arc: centre and radius [m], angles from start to end [rad]; end below start runs clockwise."""

    centre: Point
    radius: float
    start: float
    end: float


def arc_of_bulge(p: Point, q: Point, bulge: float) -> ArcPiece:
    """The arc from p to q [m] with bulge = tan(angle/4), positive counter-clockwise; bulge must not be 0."""
    half_u, half_v = (q[0] - p[0]) / 2.0, (q[1] - p[1]) / 2.0
    lift = (1.0 - bulge * bulge) / (2.0 * bulge)  # distance of the centre from the chord, in half chords
    centre = (p[0] + half_u - lift * half_v, p[1] + half_v + lift * half_u)
    start = math.atan2(p[1] - centre[1], p[0] - centre[0])
    return ArcPiece(centre, math.dist(centre, p), start, start + 4.0 * math.atan(bulge))


def arc_points(arc: ArcPiece, *, step: float = math.pi / 18.0) -> list[Point]:
    """Points along the arc, ends included, at most `step` [rad] apart."""
    sweep = arc.end - arc.start
    count = max(1, math.ceil(abs(sweep) / step - 1e-9))
    return [_on(arc, arc.start + sweep * i / count) for i in range(count + 1)]


def flat_points(line: Polyline) -> list[Point]:
    """The polyline as straight pieces (arcs in steps of 10 degrees); a closed one ends where it starts."""
    flat = [line.points[0]]
    for p, q, bulge in pieces(line):
        flat.extend(arc_points(arc_of_bulge(p, q, bulge))[1:] if bulge and p != q else [q])
    return flat


def pieces(line: Polyline) -> Iterator[tuple[Point, Point, float]]:
    """The pieces of a polyline as (from, to, bulge)."""
    bulges = line.bulges or (0.0,) * len(line.points)
    following = line.points[1:] + (line.points[:1] if line.closed else ())
    yield from zip(line.points, following, bulges, strict=False)


def extreme_points(entity: Primitive, scale: float) -> list[Point]:
    """Points whose bounding box is the exact extent of the primitive at 1:scale (texts by their estimated box)."""
    match entity:
        case Line():
            return [entity.start, entity.end]
        case Circle():
            return _arc_extremes(ArcPiece(entity.centre, entity.radius, 0.0, _TURN))
        case Arc():
            sweep = (entity.end - entity.start) % _TURN or _TURN
            return _arc_extremes(ArcPiece(entity.centre, entity.radius, entity.start, entity.start + sweep))
        case Text():
            return list(text_corners(entity, scale))
        case Polyline():
            found = list(entity.points)
            for p, q, bulge in pieces(entity):
                found.extend(_arc_extremes(arc_of_bulge(p, q, bulge)) if bulge and p != q else [])
            return found


def moved(entity: Entity, du: float, dv: float) -> Entity:
    """The entity moved by (du, dv) [m]."""
    match entity:
        case Line():
            return replace(entity, start=_add(entity.start, du, dv), end=_add(entity.end, du, dv))
        case Polyline():
            return replace(entity, points=tuple(_add(p, du, dv) for p in entity.points))
        case Circle() | Arc():
            return replace(entity, centre=_add(entity.centre, du, dv))
        case LinearDimension():
            base = None if entity.base is None else entity.base + (dv if entity.along == "u" else du)
            return replace(entity, p1=_add(entity.p1, du, dv), p2=_add(entity.p2, du, dv), base=base)
        case Group():
            return moved_group(entity, du, dv)
        case _:
            return replace(entity, at=_add(entity.at, du, dv))


def moved_group(group: Group, du: float, dv: float) -> Group:
    """The group with all it holds moved by (du, dv) [m]."""
    return replace(group, entities=tuple(moved(part, du, dv) for part in group.entities))


def _add(p: Point, du: float, dv: float) -> Point:
    return (p[0] + du, p[1] + dv)


def _on(arc: ArcPiece, angle: float) -> Point:
    return (arc.centre[0] + arc.radius * math.cos(angle), arc.centre[1] + arc.radius * math.sin(angle))


def _arc_extremes(arc: ArcPiece) -> list[Point]:
    low, high = sorted((arc.start, arc.end))
    quarter = math.pi / 2.0
    inner = range(math.ceil(low / quarter), math.floor(high / quarter) + 1)
    return [_on(arc, low), _on(arc, high), *(_on(arc, i * quarter) for i in inner)]
