"""Lines and curves of a DXF drawing as fine chains of points."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Any

import numpy as np
from ezdxf.entities.dxfentity import DXFEntity
from numpy.typing import NDArray

Floats = NDArray[np.float64]

FLAT = 0.05
"""Greatest distance between a curve and its chords that is kept in the end [mm]."""

FINE = 2e-4
"""Distance between a curve and the chords it is read with, so that its area is right to 1e-6 [mm]."""

COARSE = 1e-8
"""The same as a part of a curve's size, for curves so large that the former would give points without end."""

JOIN = 0.1
"""Ends that stand this near to each other meet [mm]."""


@dataclass(frozen=True, eq=False)
class Piece:
    """A line or curve.

    layer: layer it is drawn on
    points: chain of points (n, 3); a closed one does not repeat its first [mm]
    closed: it ends where it began
    """

    layer: str
    points: Floats
    closed: bool


def chains(curves: list[DXFEntity], scale: float, most: int) -> Iterator[Piece]:
    """Curves as chains of points [mm].

    curves: lines and curves of the drawing
    scale: length of its unit [mm]
    most: vertices of one curve that are read; one more is read where there are more
    """
    for entity in curves:
        vertices = islice(_vertices(entity, FINE / scale), most + 1)
        points = scale * np.array([tuple(vertex) for vertex in vertices], dtype=float).reshape(-1, 3)
        if len(points) and not np.isfinite(points).all():
            raise ValueError("not finite")
        points = _without_repeats(points)
        if len(points) < 2:
            continue
        closed = _said_closed(entity) or (len(points) > 2 and bool(np.linalg.norm(points[0] - points[-1]) <= JOIN))
        if closed and np.linalg.norm(points[0] - points[-1]) <= JOIN:
            points = points[:-1]
        yield Piece(entity.dxf.get("layer", "0"), points, closed)


def _without_repeats(points: Floats) -> Floats:
    if len(points) < 2:
        return points
    kept = np.linalg.norm(np.diff(points, axis=0), axis=1) > 1e-9
    apart: Floats = points[np.concatenate([[True], kept])]
    return apart


def _said_closed(entity: Any) -> bool:
    """Whether a polyline or spline is marked as closed."""
    if entity.dxftype() == "LWPOLYLINE":
        return bool(entity.closed)
    return entity.dxftype() in ("POLYLINE", "SPLINE") and bool(
        entity.is_closed if entity.dxftype() == "POLYLINE" else entity.closed
    )


def _vertices(entity: Any, fine: float) -> Iterator[Any]:
    """Points of a curve, in the drawing's own unit and coordinates."""
    kind = entity.dxftype()
    if kind == "LINE":
        yield from (entity.dxf.start, entity.dxf.end)
    elif kind in ("ARC", "CIRCLE"):
        yield from entity.flattening(_no_finer(fine, entity.dxf.radius))
    elif kind == "ELLIPSE":
        yield from entity.flattening(_no_finer(fine, entity.dxf.major_axis.magnitude), 8)
    elif kind == "SPLINE":
        frame = np.array([tuple(p) for p in (*entity.control_points, *entity.fit_points)], dtype=float)
        yield from entity.flattening(_no_finer(fine, float(np.ptp(frame, axis=0).max())), 8)
    elif kind == "POLYLINE" and entity.is_3d_polyline:
        yield from entity.points()
    else:
        yield from _polyline(entity, fine)


def _no_finer(fine: float, size: float) -> float:
    """The fineness for a curve of a size: a giant one gets no more points than it needs for its area."""
    if not math.isfinite(size):
        raise ValueError("not finite")
    return max(fine, COARSE * size) if size > 0 else fine


def _polyline(entity: Any, fine: float) -> Iterator[Any]:
    """Points of a flat polyline: its corners, and between them the points of its arcs."""
    if entity.dxftype() == "LWPOLYLINE":
        corners, z = [tuple(one) for one in entity.get_points("xyb")], float(entity.dxf.elevation)
    else:
        corners = [(*v.dxf.location.xyz[:2], v.dxf.get("bulge", 0.0)) for v in entity.vertices]
        z = float(entity.dxf.elevation.z)
    flat: list[tuple[float, float, float]] = []
    for one, two in zip(corners, [*corners[1:], *corners[:1]], strict=True):
        flat.append((one[0], one[1], z))
        if one[2] and (two is not corners[0] or _said_closed(entity)):
            flat.extend((x, y, z) for x, y in _arc(one, two, fine))
    yield from entity.ocs().points_to_wcs(flat)


def _arc(one: tuple[float, ...], two: tuple[float, ...], fine: float) -> Iterator[tuple[float, float]]:
    """Inner points of the arc between two corners; the bulge of the first is the tangent of a quarter of its angle."""
    angle, (dx, dy) = 4 * math.atan(one[2]), (two[0] - one[0], two[1] - one[1])
    chord = math.hypot(dx, dy)
    if chord == 0 or angle == 0:
        return
    radius = chord / (2 * math.sin(angle / 2))
    away = radius * math.cos(angle / 2) / chord
    x, y = one[0] + dx / 2 - away * dy, one[1] + dy / 2 + away * dx
    step = 2 * math.acos(max(-1.0, 1 - _no_finer(fine, abs(radius)) / abs(radius)))
    count = max(2, math.ceil(abs(angle) / step))
    start = math.atan2(one[1] - y, one[0] - x)
    for i in range(1, count):
        turn = start + angle * i / count
        yield x + abs(radius) * math.cos(turn), y + abs(radius) * math.sin(turn)
