"""What a DXF drawing holds: its lines and curves as fine chains of points in millimetres."""

from __future__ import annotations

import math
import struct
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Any

import numpy as np
from ezdxf.document import Drawing
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.filemanagement import readfile
from ezdxf.lldxf.const import DXFError
from numpy.typing import NDArray

from tunwright.build.dxf_refused import OutlineRefused
from tunwright.build.typed import listed, quoted

Floats = NDArray[np.float64]

FLAT = 0.05
"""Greatest distance between a curve and its chords that is kept in the end [mm]."""

FINE = 2e-4
"""Distance between a curve and the chords it is read with, so that its area is right to 1e-6 [mm]."""

COARSE = 1e-8
"""The same as a part of a curve's size, for curves so large that the former would give points without end."""

JOIN = 0.1
"""Ends that stand this near to each other meet [mm]."""

MOST_ENTITIES, MOST_VERTICES = 20_000, 400_000
"""Entities and vertices of a drawing that are looked at."""

UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}
"""Units that may be asked for [mm]."""

_HEADER_UNITS = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m", 14: "dm"}  # values of $INSUNITS
_HEADER_SCALES = {**UNITS, "ft": 304.8, "dm": 100.0}
_CURVES = ("LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE")
_SOLIDS = ("3DFACE", "3DSOLID", "BODY", "REGION", "MESH", "HELIX", "PLANESURFACE", "NURBSURFACE")
_SURFACE = "SURFACE"  # the end of the names of all others
_DAMAGED = (  # what a damaged drawing makes its reader stumble over
    DXFError,
    OSError,
    ValueError,
    LookupError,
    TypeError,
    AttributeError,
    ArithmeticError,
    AssertionError,
    RuntimeError,
    StopIteration,
    struct.error,
)


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


@dataclass
class Pieces:
    """What was found in a drawing.

    unit: unit of the drawing
    scale: length of that unit [mm]
    found: the lines and curves
    seen: what else was seen, in words
    warnings: what a person should know
    """

    unit: str
    scale: float
    found: list[Piece] = field(default_factory=list)
    seen: str = ""
    warnings: list[str] = field(default_factory=list)


def read_pieces(path: Path, *, unit: str | None, layer: str | None) -> Pieces:
    """The lines and curves of a drawing. Raises OutlineRefused.

    path: the DXF file
    unit: mm, cm, m or in, None for the unit the drawing states
    layer: look at this layer only
    """
    drawing = _opened(path)
    pieces = _in_unit(drawing, unit)
    try:
        entities = _visible(drawing, layer)
    except _DAMAGED as error:
        if isinstance(error, OutlineRefused):
            raise
        raise _damaged(path) from None
    solid = Counter(entity.dxftype() for entity in entities if _is_solid(entity))
    if solid:
        raise OutlineRefused(
            f"The drawing holds things of three dimensions: {_counted(solid)}. Allowed is a flat outline; draw the "
            "inside of the section with lines, arcs or a polyline in the x-y plane."
        )
    curves = [entity for entity in entities if entity.dxftype() in _CURVES]
    others = Counter(entity.dxftype() for entity in entities if entity.dxftype() not in _CURVES)
    pieces.seen = f"it holds {_counted(others)}" if others else ""
    try:
        pieces.found.extend(_limited(_chains(curves, pieces.scale)))
    except _DAMAGED as error:
        if isinstance(error, OutlineRefused):
            raise
        raise _damaged(path) from None
    return pieces


def _opened(path: Path) -> Drawing:
    try:
        return readfile(path)
    except _DAMAGED:
        raise OutlineRefused(
            f"{path.name} cannot be read as a DXF drawing. Allowed are DXF files of any year, as text or binary: save "
            "the drawing as DXF once more."
        ) from None


def _damaged(path: Path) -> OutlineRefused:
    return OutlineRefused(f"{path.name} is damaged: a line or curve in it cannot be read. Save the drawing once more.")


def _in_unit(drawing: Drawing, unit: str | None) -> Pieces:
    """The unit to read a drawing in: the one asked for, or its own."""
    number = drawing.header.get("$INSUNITS", 0)
    own = _HEADER_UNITS.get(number)
    if unit is not None:
        if unit not in UNITS:
            raise OutlineRefused(f"{quoted(unit)} is no unit for a drawing. Allowed are {listed(list(UNITS))}.")
        pieces = Pieces(unit, UNITS[unit])
        if own not in (None, unit):
            pieces.warnings.append(f"The drawing says it is drawn in {own}; it was read in {unit}, as asked.")
        return pieces
    if own is None:
        what = "does not say its unit" if not number else "is drawn in a unit no tank is measured in"
        raise OutlineRefused(f"The drawing {what}. Say the unit it is drawn in with --unit mm, cm, m or in.")
    return Pieces(own, _HEADER_SCALES[own])


def _visible(drawing: Drawing, layer: str | None) -> list[DXFEntity]:
    """The entities of the drawing, those in blocks too: of one layer, or of all that are shown."""
    every = list(_unblocked(drawing.modelspace(), 0))
    if len(every) > MOST_ENTITIES:
        raise OutlineRefused(
            f"The drawing holds {len(every)} things or more; at most {MOST_ENTITIES} are looked at. Save the section "
            "alone."
        )
    if layer is not None:
        names = sorted({entity.dxf.get("layer", "0") for entity in every})
        if layer.casefold() not in [name.casefold() for name in names]:
            there = f"Something is drawn on {listed(list(map(quoted, names)), 'and')}." if names else "It is empty."
            raise OutlineRefused(f"Nothing in the drawing stands on the layer {quoted(layer)}. {there}")
        return [entity for entity in every if entity.dxf.get("layer", "0").casefold() == layer.casefold()]
    hidden = {one.dxf.name.casefold() for one in drawing.layers if one.is_off() or one.is_frozen()}
    return [entity for entity in every if entity.dxf.get("layer", "0").casefold() not in hidden]


def _unblocked(entities: Iterable[DXFEntity], depth: int) -> Iterator[DXFEntity]:
    """Entities, those of inserted blocks in place of the insertion."""
    count = 0
    for entity in entities:
        if entity.dxftype() == "INSERT" and depth < 8:
            yield from _unblocked(_inserted(entity), depth + 1)
        else:
            yield entity
        count += 1
        if count > MOST_ENTITIES:
            return


def _inserted(insert: Any) -> Iterator[DXFEntity]:
    """The entities of a block where it is inserted; those on layer 0 stand on the layer of the insertion."""
    for entity in insert.virtual_entities():
        if entity.dxf.get("layer", "0") == "0":
            entity.dxf.layer = insert.dxf.get("layer", "0")
        yield entity


def _is_solid(entity: DXFEntity) -> bool:
    if entity.dxftype() == "POLYLINE":
        polyline: Any = entity
        return bool(polyline.is_polygon_mesh or polyline.is_poly_face_mesh)
    return entity.dxftype() in _SOLIDS or entity.dxftype().endswith(_SURFACE)


def _counted(kinds: Counter[str]) -> str:
    return listed([f"{count} {name}" for name, count in sorted(kinds.items())], "and")


def _chains(curves: list[DXFEntity], scale: float) -> Iterator[Piece]:
    """Curves as chains of points [mm]."""
    for entity in curves:
        vertices = islice(_vertices(entity, FINE / scale), MOST_VERTICES + 1)
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


def _limited(pieces: Iterable[Piece]) -> Iterator[Piece]:
    """The same pieces, as long as they have not too many points."""
    count = 0
    for piece in pieces:
        count += len(piece.points)
        if count > MOST_VERTICES:
            raise OutlineRefused(
                f"The lines of the drawing have more than {MOST_VERTICES} points. Draw the section with lines and arcs, "
                "or choose its layer with --layer."
            )
        yield piece
