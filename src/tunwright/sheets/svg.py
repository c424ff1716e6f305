"""A drawing as SVG, one unit of the view box being one millimetre of paper.

Theme "paper" stands alone with fixed colours and carries its true size in millimetres. Theme "css" is for a page: the
colours are variables (see `layers.css_variables`), every layer has its class, groups carry `data-part` and their data,
and the root tells how to come back from picture to thing: u = data-left + x data-scale / 1000, v = data-top - y
data-scale / 1000 (x, y in view box units, u, v in metres).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import groupby

from tunwright.sheets.annotate import flatten
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
from tunwright.sheets.geometry import pieces
from tunwright.sheets.layers import FILLS, LAYERS
from tunwright.sheets.lettering import font_size, text_height, text_origin
from tunwright.sheets.pen import Pen, Theme, clean, number, numbers, picture_key
from tunwright.sheets.settle import settle


def write_svg(drawing: Drawing, *, theme: Theme = "paper", width_mm: float | None = None) -> str:
    """The drawing as one SVG element; the same drawing gives the same text.

    theme: "paper" for print, "css" for a page that recolours it
    width_mm: width shown [mm]; None shows "paper" true to scale and lets a page size "css"
    """
    writer = _Writer(drawing, theme)
    mm = 1000.0 / drawing.scale
    size = (drawing.bounds.width * mm, drawing.bounds.height * mm)
    shown = size if theme == "paper" else None
    if width_mm is not None:
        shown = (width_mm, size[1] * width_mm / size[0])
    return writer.pen.picture(
        writer.entities(settle(drawing.entities, drawing.scale)),
        size=size,
        title=drawing.title,
        description=drawing.description,
        shown=shown,
        extra=writer.way_back() if theme == "css" else "",
    )


def _kind(entity: Entity) -> type | None:
    return type(entity) if isinstance(entity, Group | LinearDimension) else None


class _Writer:
    def __init__(self, drawing: Drawing, theme: Theme) -> None:
        self.pen = Pen(theme, picture_key(drawing.title, drawing.scale, drawing.bounds))
        self.scale = drawing.scale
        self.left, self.top = drawing.bounds.left, drawing.bounds.top

    def way_back(self) -> str:
        """Attributes from which a page finds the metres under the pointer."""
        values = (("scale", self.scale), ("left", self.left), ("top", self.top))
        return "".join(f' data-{name}="{number(value, 4)}"' for name, value in values)

    def entities(self, entities: Iterable[Entity]) -> str:
        """Groups as they are nested; runs of plain entities gathered by layer."""
        out: list[str] = []
        for kind, run in groupby(entities, key=_kind):
            if kind is Group:
                out.extend(self._group(group) for group in run if isinstance(group, Group))
                continue
            parts = list(flatten(run, self.scale))
            if kind is LinearDimension:
                parts.sort(key=lambda part: isinstance(part, Text))  # the figures of a run over all its lines
            out.append(self._run(parts))
        return "".join(out)

    def _group(self, group: Group) -> str:
        inner = self.entities(group.entities)
        if self.pen.theme == "paper":
            return inner
        data = "".join(f' data-{key}="{clean(value)}"' for key, value in sorted(group.data.items()))
        return f'<g class="part" data-part="{group.name}"{data}>{inner}</g>'

    def _run(self, parts: Iterable[Primitive]) -> str:
        out = []
        for (layer, is_text), run in groupby(parts, key=lambda part: (part.layer, isinstance(part, Text))):
            look = LAYERS[layer]
            if is_text:
                head = self.pen.fill(look.role)
            else:
                head = ' fill="none"' + self.pen.stroke(look.role, look.weight_mm, look.dash_mm)
            drawn = "".join(dict.fromkeys(self._primitive(part) for part in run))  # a shared line once
            out.append(f"<g{self.pen.group(layer)}{head}>{drawn}</g>")
        return "".join(out)

    def _primitive(self, part: Primitive) -> str:
        match part:
            case Text():
                return self._text(part)
            case Circle():
                (x, y), r = self._xy(part.centre), self._mm(part.radius)
                where = f'cx="{number(x)}" cy="{number(y)}" r="{number(r)}"'
                return f"<circle {where}{self._fill(part.fill)}/>"
            case Line():
                return f'<path d="M{numbers((*self._xy(part.start), *self._xy(part.end)))}"/>'
            case Arc():
                return f'<path d="{self._arc(part)}"/>'
            case Polyline():
                return f'<path d="{self._path(part)}"{self._fill(part.fill)}/>'

    def _text(self, text: Text) -> str:
        x, y = self._xy(text_origin(text, self.scale))
        return self.pen.text(
            x,
            y,
            text.text,
            size=font_size(text_height(text, self.scale)),
            anchor=text.anchor,
            bold=text.bold,
            halo=text.halo,
            turn=-math.degrees(text.turn),
        )

    def _fill(self, name: str | None) -> str:
        return self.pen.fill("hatch" if name == "hatch" else FILLS[name]) if name else ""

    def _path(self, line: Polyline) -> str:
        out = "M" + numbers(self._xy(line.points[0]))
        straight: list[float] = []
        for p, q, bulge in pieces(line):
            if bulge and p != q:
                out += ("L" + numbers(straight) if straight else "") + self._bulge(p, q, bulge)
                straight = []
            elif not (line.closed and q is line.points[0]):
                straight.extend(self._xy(q))
        return out + ("L" + numbers(straight) if straight else "") + ("Z" if line.closed else "")

    def _bulge(self, p: Point, q: Point, bulge: float) -> str:
        radius = self._mm(math.dist(p, q) * (1.0 + bulge * bulge) / (4.0 * abs(bulge)))
        return f"A{numbers((radius, radius))} 0 {int(abs(bulge) > 1.0)} {int(bulge < 0.0)} {numbers(self._xy(q))}"

    def _arc(self, arc: Arc) -> str:
        sweep = (arc.end - arc.start) % (2.0 * math.pi)
        ends = [
            (arc.centre[0] + arc.radius * math.cos(angle), arc.centre[1] + arc.radius * math.sin(angle))
            for angle in (arc.start, arc.end)
        ]
        radius = self._mm(arc.radius)
        return (
            f"M{numbers(self._xy(ends[0]))}A{numbers((radius, radius))} 0 {int(sweep > math.pi)} 0 "
            f"{numbers(self._xy(ends[1]))}"
        )

    def _mm(self, length: float) -> float:
        return length * 1000.0 / self.scale

    def _xy(self, point: Point) -> Point:
        return (self._mm(point[0] - self.left), self._mm(self.top - point[1]))
