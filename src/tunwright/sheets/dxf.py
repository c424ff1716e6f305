"""A drawing as DXF (R2010): millimetres, 1:1, every layer with its line weight, dimensions as DIMENSION entities.

Letter heights, dashes and arrows are sized for the scale of the drawing. The figure of a dimension is the caller's
text; what CAD measures at the same dimension is the true distance. Areas filled with the colour of the sheet become
WIPEOUT entities, other fills HATCH entities.
"""

from __future__ import annotations

import math
import os
from pathlib import Path

from ezdxf.colors import RGB
from ezdxf.document import Drawing as Document
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.layout import Modelspace

from tunwright.sheets.annotate import TEXT_GAP_MM, dimension_frame, figure_leader, primitives
from tunwright.sheets.drawing import (
    Arc,
    Circle,
    Drawing,
    Entity,
    Group,
    Line,
    LinearDimension,
    Point,
    Polyline,
    Primitive,
    Text,
)
from tunwright.sheets.dxf_tables import BOLD_STYLE, DIMENSION_STYLE, STYLE, layer_name, new_document
from tunwright.sheets.geometry import flat_points
from tunwright.sheets.layers import FILLS, LIGHT
from tunwright.sheets.lettering import text_height, text_origin
from tunwright.sheets.settle import settle
from tunwright.sheets.whole_file import whole_file

_ALIGN = {"start": TextEntityAlignment.LEFT, "middle": TextEntityAlignment.CENTER, "end": TextEntityAlignment.RIGHT}
_HALF_CIRCLE = 1.0  # bulge


def write_dxf(drawing: Drawing, path: str | os.PathLike[str]) -> Path:
    """Writes the drawing to `path`, by way of a file beside it, so that a half-written file is never seen.

    Raises OSError when it cannot be written.
    """
    target = Path(path)
    with whole_file(target, ".dxf") as part:
        dxf_document(drawing).saveas(part)
    return target


def dxf_document(drawing: Drawing) -> Document:
    """The drawing as an ezdxf document."""
    doc = new_document(drawing.scale)
    writer = _Writer(doc.modelspace(), drawing.scale)
    for entity in settle(drawing.entities, drawing.scale):
        writer.add(entity)
    room = drawing.bounds
    doc.header["$EXTMIN"] = (*_mm((room.left, room.bottom)), 0.0)
    doc.header["$EXTMAX"] = (*_mm((room.right, room.top)), 0.0)
    middle = _mm(((room.left + room.right) / 2.0, (room.bottom + room.top) / 2.0))
    doc.set_modelspace_vport(height=max(room.height, room.width / 1.6) * 1000.0, center=middle)
    doc.set_wipeout_variables(frame=0)  # type: ignore[no-untyped-call]
    return doc


def _mm(point: Point) -> Point:
    return (point[0] * 1000.0, point[1] * 1000.0)


class _Writer:
    def __init__(self, space: Modelspace, scale: float) -> None:
        self.space = space
        self.scale = scale

    def add(self, entity: Entity) -> None:
        """Adds an entity, group or annotation."""
        if isinstance(entity, Group):
            for part in entity.entities:
                self.add(part)
        elif isinstance(entity, LinearDimension):
            self._dimension(entity)
        else:
            for part in primitives(entity, self.scale):
                self._primitive(part)

    def _primitive(self, part: Primitive) -> None:
        on = {"layer": layer_name(part.layer)}
        match part:
            case Line():
                self.space.add_line(_mm(part.start), _mm(part.end), dxfattribs=on)
            case Arc():
                start, end = math.degrees(part.start), math.degrees(part.end)
                self.space.add_arc(_mm(part.centre), part.radius * 1000.0, start, end, dxfattribs=on)
            case Circle():
                (u, v), r = part.centre, part.radius
                round_ = Polyline(
                    ((u - r, v), (u + r, v)), part.layer, (_HALF_CIRCLE,) * 2, closed=True, fill=part.fill
                )
                self._fill(round_)
                self.space.add_circle(_mm(part.centre), r * 1000.0, dxfattribs=on)
            case Polyline():
                self._fill(part)
                if part.layer != "area":
                    self.space.add_lwpolyline(_vertices(part), format="xyb", close=part.closed, dxfattribs=on)
            case Text():
                self._text(part)

    def _text(self, text: Text) -> None:
        attributes = {"layer": layer_name(text.layer), "style": BOLD_STYLE if text.bold else STYLE}
        height, turn = text_height(text, self.scale) * self.scale, math.degrees(text.turn)
        made = self.space.add_text(text.text, height=height, rotation=turn, dxfattribs=attributes)
        made.set_placement(_mm(text_origin(text, self.scale)), align=_ALIGN[text.anchor])

    def _fill(self, line: Polyline) -> None:
        if line.fill is None:
            return
        on = {"layer": layer_name(line.layer)}
        if line.fill == "sheet":
            self.space.add_wipeout([_mm(point) for point in flat_points(line)]).dxf.layer = on["layer"]
            return
        hatch = self.space.add_hatch(color=7, dxfattribs=on)
        hatch.paths.add_polyline_path(_vertices(line), is_closed=True)
        if line.fill == "hatch":
            pitch = 1.5 * self.scale / math.sqrt(2.0)
            hatch.set_pattern_fill("OBLIQUE", color=256, definition=[[45.0, (0.0, 0.0), (-pitch, pitch), []]])
        elif line.fill != "ink":
            hatch.rgb = RGB.from_hex(LIGHT[FILLS[line.fill]])

    def _dimension(self, dim: LinearDimension) -> None:
        frame = dimension_frame(dim, self.scale)
        made = self.space.add_linear_dim(
            base=_mm(frame.start),
            p1=_mm(dim.p1),
            p2=_mm(dim.p2),
            angle=math.degrees(math.atan2(frame.along[1], frame.along[0])),
            text=_dimension_text(dim.text),
            dimstyle=DIMENSION_STYLE,
            override={"dimtxt": dim.height_mm},
            dxfattribs={"layer": layer_name(dim.layer)},
        )
        if "dot" in dim.ends:
            marks = ["DOTSMALL" if end == "dot" else "" for end in dim.ends]
            made.set_arrows(blk1=marks[0], blk2=marks[1])
        if dim.reach_mm is not None:
            made.set_extline_format(fixed_length=dim.reach_mm)
        dt, dn = dim.text_shift_mm or (0.0, 0.0)
        if dt or dn:
            middle = dn + TEXT_GAP_MM + dim.height_mm / 2.0
            made.set_location(_mm(frame.place(dt * self.scale / 1000.0, middle * self.scale / 1000.0)))
            leader = Polyline(figure_leader(dim, self.scale), dim.layer)
            self._primitive(leader)
        made.render()


def _vertices(line: Polyline) -> list[tuple[float, float, float]]:
    bulges = line.bulges or (0.0,) * len(line.points)
    return [(*_mm(point), bulge) for point, bulge in zip(line.points, bulges, strict=True)]


def _dimension_text(text: str) -> str:
    """The figure as dimension text: signs with a meaning there escaped, none at all as a blank."""
    for sign in "\\{}":
        text = text.replace(sign, f"\\{sign}")
    return text or " "
