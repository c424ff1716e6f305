"""What a DXF drawing holds: its lines and curves as fine chains of points in millimetres."""

from __future__ import annotations

import struct
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ezdxf.document import Drawing
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.filemanagement import readfile
from ezdxf.lldxf.const import DXFError

from tunwright.build.dxf_curves import Piece, chains
from tunwright.build.dxf_refused import OutlineRefused
from tunwright.build.typed import listed, quoted

MOST_ENTITIES, MOST_VERTICES = 20_000, 400_000
"""Entities and vertices of a drawing that are looked at."""

UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}
"""Units that may be asked for [mm]."""

_DEEPEST_BLOCK = 8  # blocks in blocks that are looked into
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
        pieces.found.extend(_limited(chains(curves, pieces.scale, MOST_VERTICES)))
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
    every = list(_unblocked(drawing.modelspace()))
    if layer is not None:
        names = sorted({entity.dxf.get("layer", "0") for entity in every})
        if layer.casefold() not in [name.casefold() for name in names]:
            there = f"Something is drawn on {listed(list(map(quoted, names)), 'and')}." if names else "It is empty."
            raise OutlineRefused(f"Nothing in the drawing stands on the layer {quoted(layer)}. {there}")
        return [entity for entity in every if entity.dxf.get("layer", "0").casefold() == layer.casefold()]
    hidden = {one.dxf.name.casefold() for one in drawing.layers if one.is_off() or one.is_frozen()}
    return [entity for entity in every if entity.dxf.get("layer", "0").casefold() not in hidden]


def _unblocked(drawn: Iterable[DXFEntity]) -> Iterator[DXFEntity]:
    """Entities, those of inserted blocks in place of the insertion."""
    seen, open_blocks = 0, [iter(drawn)]
    while open_blocks:
        entity = next(open_blocks[-1], None)
        if entity is None:
            open_blocks.pop()
            continue
        seen += 1
        if seen > MOST_ENTITIES:
            raise OutlineRefused(
                f"The drawing holds more than {MOST_ENTITIES} things, more than are looked at. Save the section alone "
                "in a drawing of its own."
            )
        if entity.dxftype() == "INSERT" and len(open_blocks) <= _DEEPEST_BLOCK:
            open_blocks.append(_inserted(entity))
        else:
            yield entity


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


def _limited(pieces: Iterable[Piece]) -> Iterator[Piece]:
    """The same pieces, as long as they have not too many points."""
    count = 0
    for piece in pieces:
        count += len(piece.points)
        if count > MOST_VERTICES:
            raise OutlineRefused(
                f"The lines of the drawing have more than {MOST_VERTICES} points. Draw the section with lines and "
                "arcs, or choose its layer with --layer."
            )
        yield piece
