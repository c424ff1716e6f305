"""The tank on the hook, true to scale: from the left and from behind, as it stands on the chassis.

Eyes, legs, hook, the centre of gravity of the heaviest lift and the plumb line through it. Where it tilts it is drawn
before it does; the plumb line shows by how much.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import (
    Anchor,
    CentreMark,
    Circle,
    Drawing,
    Entity,
    Group,
    Line,
    LinearDimension,
    Point,
    Text,
    chain_dimension,
)
from tunwright.sheets.layout import SCALES, arrange, compose, extents
from tunwright.sheets.views.items import item_boxes
from tunwright.sheets.views.labels import LABEL_MM
from tunwright.sheets.views.shapes import polyline
from tunwright.sheets.views.side import frame_side
from tunwright.sheets.views.tank_shape import TankShape
from tunwright.sheets.views.tank_side import tank_side
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.hoisting import Hoisting, Hung, Lift

Floats = NDArray[np.float64]
_EYE, _HOOK = 0.035, 0.06  # radii of an eye and of the hook as drawn [m]
_ABOVE = 0.18  # the hoist rope over the hook [m]
_SAME = 0.02  # eyes this near in a view are seen as one [m]
_ROW_MM, _FIRST_MM = 7.5, 8.0
_GAP_MM = 10.0
_LINE_MM = 3.8
View = Literal["side", "rear"]
_TITLES = {"side": "From the left", "rear": "From behind"}


def lifting_drawing(assessment: Assessment, *, width_mm: float = 390.0, height_mm: float = 267.0) -> Drawing:
    """Both views of the lift at the largest standard scale that fits the paper.

    width_mm, height_mm: room on paper [mm]
    Raises ValueError where the build says nothing of a lift, or where it fits at no scale.
    """
    picture = _Picture(assessment)
    title = f"{assessment.build.order.title}, lifting plan"
    for scale in SCALES:
        views = arrange([picture.view("side", scale), picture.view("rear", scale)], scale=scale, gap_mm=_GAP_MM)
        room, mm = extents(views, scale), 1000.0 / scale
        if room.width * mm <= width_mm and room.height * mm <= height_mm:
            words = f"{title} at 1:{scale:g}: the tank on its sling from the left and from behind."
            return compose(title, views, scale=scale, margin_mm=1.0, description=words)
    raise ValueError(f"the lift does not fit {width_mm:g} x {height_mm:g} mm even at 1:{SCALES[-1]:g}")


class _Picture:
    """What both views draw."""

    def __init__(self, assessment: Assessment) -> None:
        lifting = assessment.build.lifting
        if lifting is None:
            raise ValueError("the build says nothing of a lift; give a table [lifting] with its eyes")
        self.vehicle = Vehicle(assessment)
        self.shape = TankShape(self.vehicle.truck)
        self.hoisting = Hoisting(self.vehicle.truck, lifting)
        self.lift: Lift = max(self.hoisting.lifts, key=lambda one: one.load.mass)
        self.middle = 0.5 * self.shape.length

    def view(self, name: View, scale: float) -> Group:
        """One view with its names and dimensions."""
        axis = 0 if name == "side" else 1
        body = self._side() if name == "side" else self._rear()
        entities = [*body, *self._sling(axis)]
        room = extents(entities, scale)
        entities += self._dimensions(name, room.left, room.bottom, room.right)
        heading = Text((room.left, room.top), _TITLES[name], "text", 2.5, bold=True, shift_mm=(0.0, 3.0))
        return Group(name, (*entities, Group("names", (heading, *self._names(name, axis)))))

    def _flat(self, at: Floats, axis: int) -> Point:
        return (float(at[axis]), float(at[2]))

    def _side(self) -> list[Entity]:
        parts = [part for part in frame_side(self.vehicle) if isinstance(part, Group) and part.name == "subframe"]
        return [
            *(parts if self.hoisting.lifting.with_subframe else []),
            tank_side(self.shape, []),
            *self._items("side"),
        ]

    def _rear(self) -> list[Entity]:
        section, offset = self.shape.section(self.middle), np.array(self.shape.rear_offset(self.middle))
        outline = polyline(self.shape.outer(section) + offset, "outline", fill="sheet")
        return [Group("tank", (outline, polyline(section + offset, "thin"))), *self._items("rear")]

    def _items(self, view: View) -> list[Entity]:
        """What stands on the tank."""
        on_tank = {f"item.{i + 1}" for i, item in enumerate(self.vehicle.build.item) if item.on == "tank"}
        return [group for group in item_boxes(self.vehicle, view)[0] if group.data["item"] in on_tank]

    def _sling(self, axis: int) -> Iterable[Entity]:
        """Legs, eyes, hook and the centre of gravity with its plumb line."""
        eyes = [self._flat(eye, axis) for eye in self.lift.eyes]
        centre = self._flat(self.lift.load.centre, axis)
        found: list[Entity] = []
        if self.hoisting.known:
            hook = self._flat(self.lift.hook, axis)
            found += [Line(eye, hook, "accent") for eye in eyes]
            found += [Line(hook, centre, "centre"), Line(hook, (hook[0], hook[1] + _ABOVE), "outline")]
            found.append(Circle(hook, _HOOK, "outline", "sheet"))
        found += [Circle(eye, _EYE, "outline", "sheet") for eye in eyes]
        return [Group("sling", tuple(found)), CentreMark(centre, 1.8)]

    def _names(self, view: View, axis: int) -> Iterable[Text]:
        """Length and true angle of the legs on either side of the hook; the hook and the centre of gravity by name."""
        if view == "side":
            centre = self._flat(self.lift.load.centre, axis)
            yield _text(centre, "centre of gravity", 1.0, (3.0, 1.2))
        if self.hoisting.known and view == "side":
            yield _text(self._flat(self.lift.hook, axis), "hook", 1.0, (2.5, 1.0))
        for hung in self.hoisting.hung:
            if hung.name == self.lift.name:
                yield from self._leg_names(hung, axis)

    def _leg_names(self, hung: Hung, axis: int) -> Iterable[Text]:
        hook = self._flat(hung.hook, axis)
        sides: dict[float, dict[str, Point]] = {}
        for eye, leg, angle in zip(hung.eyes, hung.legs, hung.hanging.angle, strict=True):
            at = self._flat(eye, axis)
            words = f"{self.vehicle.wording.length(float(leg))}, {math.degrees(float(angle)):.0f}°"
            middle = (0.5 * (at[0] + hook[0]), 0.5 * (at[1] + hook[1]))
            sides.setdefault(-1.0 if at[0] < hook[0] - _SAME else 1.0, {}).setdefault(words, middle)
        for side, said in sides.items():
            out = max((at for at in said.values()), key=lambda at, side=side: side * at[0])  # type: ignore[misc]
            for row, words in enumerate(said):
                yield _text(out, words, side, (side * 2.0, _LINE_MM * row))

    def _dimensions(self, view: View, left: float, bottom: float, right: float) -> list[Entity]:
        figure, axis = self.vehicle.wording.length, 0 if view == "side" else 1
        eyes = sorted({round(float(eye[axis]), 4): self._flat(eye, axis) for eye in self.lift.eyes}.values())
        points, row = eyes, -_FIRST_MM
        found: list[Entity] = []
        if view == "side":
            front = self.shape.side_point(0.0, 0.0)
            points = [front, *eyes] if eyes[0][0] > front[0] + _SAME else eyes
            found += self._centre_dimensions(front, row, bottom, right)
            row -= _ROW_MM
        if len(points) > 1:
            texts = [figure(q[0] - p[0]) for p, q in pairwise(points)]
            found += chain_dimension(points, texts, offset_mm=row, base=bottom)
        if self.hoisting.known and view == "side":
            top, hook = max(eyes, key=lambda eye: eye[1]), self._flat(self.lift.hook, axis)
            found.append(LinearDimension(top, hook, _FIRST_MM, figure(hook[1] - top[1]), "v", right))
        return found

    def _centre_dimensions(self, front: Point, row: float, bottom: float, right: float) -> list[Entity]:
        """The centre of gravity behind the front tangent line and above the tank's bottom."""
        figure, centre = self.vehicle.wording.length, self._flat(self.lift.load.centre, 0)
        x, _, z = self.hoisting.on_tank(self.lift.load.centre).tolist()
        low = (self.shape.side_point(self.shape.length, 0.0)[0], centre[1] - z)
        return [
            LinearDimension(front, centre, row, figure(x), base=bottom),
            LinearDimension(low, centre, _FIRST_MM, figure(z), "v", right),
        ]


def _text(at: Point, words: str, side: float, shift: Point) -> Text:
    """A name that begins or ends beside a place."""
    anchor: Anchor = "start" if side > 0 else "end"
    return Text(at, words, "dimension", LABEL_MM, anchor, shift_mm=shift, halo=True)
