"""The neutral drawing: entities in metres of the real thing, written later as SVG or DXF.

Coordinates are (u, v): u to the right, v up, in metres. What belongs to the sheet and not to the thing (letter heights,
offsets of dimension lines, sizes of marks) is in millimetres of paper, `..._mm`, and stays the same at every scale.
Entities are drawn in the order given, later ones over earlier ones; the layer (see `layers`) only says how.

    >>> from tunwright.sheets.drawing import Gauge, Group, Line, Polyline, Text, chain_dimension
    >>> from tunwright.sheets.layout import compose
    >>> from tunwright.sheets.svg import write_svg
    >>> axles = (0.0, 3.9, 5.27)
    >>> shell = Polyline(((0.9, 1.3), (6.3, 1.3), (6.3, 2.7), (0.9, 2.7)), "outline", closed=True, fill="sheet")
    >>> water = Polyline(((0.9, 1.3), (6.3, 1.3), (6.3, 2.1), (0.9, 2.1)), "area", closed=True, fill="water")
    >>> entities = [
    ...     Line((-1.5, 0.0), (7.0, 0.0), "ground"),
    ...     Group("tank", (shell, water), {"drag": "u"}),
    ...     Gauge((0.0, 0.0), 0.82, value="6 601 kg", note="of 8 000", shift_mm=(0.0, -5.0)),
    ...     Text((3.6, 2.0), "12 000 L", anchor="middle", bold=True),
    ...     *chain_dimension([(x, 2.7) for x in axles], ["3 900", "1 370"], offset_mm=8.0),
    ... ]
    >>> drawing = compose("Side view", entities, width_mm=250.0, height_mm=120.0)
    >>> drawing.scale
    40.0
    >>> write_svg(drawing).startswith("<svg")
    True

The same drawing goes to `tunwright.sheets.dxf.write_dxf(drawing, path)`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from tunwright.sheets.entity_check import check_entity

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Along = Literal["u", "v", "slope"]
End = Literal["arrow", "dot", "out"]

TEXT_MM = 2.5  # letter height on paper, cap height (common practice, ISO 3098 series 1.8, 2.5, 3.5, 5; from memory)


class Drawn:
    """What all entities share: the layer is known, every number is finite, texts are one line."""

    def __post_init__(self) -> None:
        check_entity(self)


@dataclass(frozen=True)
class Line(Drawn):
    """A straight line from start to end [m]."""

    start: Point
    end: Point
    layer: str = "thin"


@dataclass(frozen=True)
class Polyline(Drawn):
    """Straight and arc pieces through points [m].

    bulges: one per point, tan(a/4) of the arc of angle a towards the next point, positive counter-clockwise, 0 straight
    closed: joins the last point with the first
    fill: a key of `layers.FILLS`, or None
    """

    points: tuple[Point, ...]
    layer: str = "thin"
    bulges: tuple[float, ...] | None = None
    closed: bool = False
    fill: str | None = None


@dataclass(frozen=True)
class Circle(Drawn):
    """A circle about centre with radius [m], optionally filled."""

    centre: Point
    radius: float
    layer: str = "thin"
    fill: str | None = None


@dataclass(frozen=True)
class Arc(Drawn):
    """An arc about centre [m], counter-clockwise from angle start to angle end [rad, from the u axis]."""

    centre: Point
    radius: float
    start: float
    end: float
    layer: str = "thin"


@dataclass(frozen=True)
class Text(Drawn):
    """One line of lettering standing on its base line at `at` [m] + `shift_mm` [mm of paper].

    height_mm: height of capitals on paper [mm]
    height_m: height of capitals on the thing itself [m]; replaces height_mm (lettering painted on a tank)
    turn: rotation counter-clockwise [rad]
    halo: a border in the colour of the sheet, for a text that lies over lines
    """

    at: Point
    text: str
    layer: str = "text"
    height_mm: float = TEXT_MM
    anchor: Anchor = "start"
    bold: bool = False
    shift_mm: Point = (0.0, 0.0)
    turn: float = 0.0
    height_m: float | None = None
    halo: bool = False


@dataclass(frozen=True)
class LinearDimension(Drawn):
    """A dimension between two points [m]; the caller formats the figure.

    offset_mm: distance of the dimension line from `base` on paper [mm]; positive is up (along u), right (along v),
        left of p1 to p2 (slope)
    along: "u" measures horizontally, "v" vertically, "slope" along p1 to p2
    base: coordinate the offset counts from [m]; None takes the outer one of the two points (not for "slope")
    text_shift_mm: how far the text stands from its usual place (along the reading direction, upwards of it) [mm];
        None leaves that to `settle`
    reach_mm: length of the extension lines on paper [mm]; None draws them from the points
    ends: how each end is marked: "arrow", "dot" (narrow, in a run), "out" (arrow from outside)
    """

    p1: Point
    p2: Point
    offset_mm: float
    text: str
    along: Along = "u"
    base: float | None = None
    height_mm: float = TEXT_MM
    layer: str = "dimension"
    text_shift_mm: Point | None = None
    reach_mm: float | None = None
    ends: tuple[End, End] = ("arrow", "arrow")


@dataclass(frozen=True)
class Leader(Drawn):
    """A text with a line pointing at `at` [m]: up or down to the elbow [mm of paper away], then a short shelf."""

    at: Point
    text: str
    elbow_mm: Point = (6.0, 8.0)
    end: End = "dot"
    height_mm: float = TEXT_MM
    layer: str = "dimension"


@dataclass(frozen=True)
class CentreMark(Drawn):
    """The mark of a centre of gravity: a quartered circle with two quarters filled; radius on paper [mm]."""

    at: Point
    radius_mm: float = 1.7
    layer: str = "thin"


@dataclass(frozen=True)
class Gauge(Drawn):
    """A small bar: how much of a limit is used, the figure under it.

    at: middle of the bar's upper edge [m], moved by shift_mm [mm of paper]
    part: used part of the limit [1]; above 1 the bar runs past its frame; None (not known) leaves a dashed frame
    value, note: a bold figure and a quiet line under the bar, each may be empty
    """

    at: Point
    part: float | None
    value: str = ""
    note: str = ""
    shift_mm: Point = (0.0, 0.0)
    width_mm: float = 24.0
    height_mm: float = 1.5
    layer: str = "thin"


@dataclass(frozen=True)
class Group(Drawn):
    """Entities that belong together; in a page `name` and `data` become data attributes, for hover and drag.

    name, keys of data: lower-case letters, digits and hyphens ("tank", "drag")
    """

    name: str
    entities: tuple[Entity, ...]
    data: Mapping[str, str] = field(default_factory=dict)


Primitive = Line | Polyline | Circle | Arc | Text
Annotation = LinearDimension | Leader | CentreMark | Gauge
Entity = Primitive | Annotation | Group


@dataclass(frozen=True)
class Bounds:
    """A rectangle [m]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Extent along u [m]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent along v [m]."""
        return self.top - self.bottom

    def grown(self, by: float) -> Bounds:
        """The rectangle with a margin [m] on every side."""
        return Bounds(self.left - by, self.bottom - by, self.right + by, self.top + by)


@dataclass(frozen=True)
class Drawing:
    """Entities with the part of the plane they occupy.

    bounds: what the sheet shows [m]
    scale: 1:scale, 40.0 means 40 mm of the thing in 1 mm of paper
    description: one sentence for those who cannot see the drawing
    """

    title: str
    entities: tuple[Entity, ...]
    bounds: Bounds
    scale: float
    description: str = ""

    def __post_init__(self) -> None:
        if not self.scale > 0.0:
            raise ValueError(f"scale is {self.scale}; it must be positive, for example 40.0 for 1:40")
        if not (self.bounds.width > 0.0 and self.bounds.height > 0.0):
            raise ValueError(f"bounds {self.bounds} are empty; right must exceed left and top must exceed bottom")


def chain_dimension(
    points: Sequence[Point],
    texts: Sequence[str],
    *,
    offset_mm: float,
    along: Literal["u", "v"] = "u",
    base: float | None = None,
    height_mm: float = TEXT_MM,
    reach_mm: float | None = None,
) -> tuple[LinearDimension, ...]:
    """A run of dimensions from point to point [m] on one line, `offset_mm` outside the outermost point (or `base`).

    points, texts: n points and the n - 1 figures between them
    offset_mm, along, base, height_mm, reach_mm: as in `LinearDimension`
    """
    if len(points) < 2 or len(texts) != len(points) - 1:
        raise ValueError(f"{len(points)} points and {len(texts)} texts; n points take n - 1 texts, for example 3 and 2")
    if base is None:
        across = [p[1] if along == "u" else p[0] for p in points]
        base = max(across) if offset_mm >= 0.0 else min(across)
    first = LinearDimension(points[0], points[1], offset_mm, texts[0], along, base, height_mm, reach_mm=reach_mm)
    rest = (replace(first, p1=a, p2=b, text=t) for a, b, t in zip(points[1:], points[2:], texts[1:], strict=False))
    return (first, *rest)
