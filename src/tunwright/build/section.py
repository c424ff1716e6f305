"""The cross-section and the heads of the tank, as written in a build file."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Literal

import numpy as np
from pydantic import Discriminator

from tunwright.build.base import Table, Wrong, as_far_as_known, key
from tunwright.build.fields import Length, Size, SizeOrNone, Text, Thickness
from tunwright.build.points import Points
from tunwright.build.typed import listed
from tunwright.build.units import Quantity
from tunwright.handbook import heads
from tunwright.handbook.heads import Head, HeadError
from tunwright.handbook.outline import (
    Outline,
    OutlineError,
    crossing_edges,
    ellipse,
    polygon,
    rectangle,
    rounded_box,
    super_ellipse,
)

ZERO = Quantity(0.0, "0 mm", "length")
SCALES = {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254}
"""Units of the points of a free outline [m]."""


class _Section(Table):
    """A cross-section, inside measures."""

    def outline(self) -> Outline:
        """The inside outline, standing on z = 0."""
        raise NotImplementedError

    def wrongs(self) -> Iterator[Wrong]:
        """A section whose measures cannot be drawn."""
        try:
            self.outline()
        except OutlineError as error:
            path, given = self._at_fault(str(error))
            yield Wrong(path, f"The section cannot be drawn: {error}.", given, "measures that fit together")

    def _at_fault(self, said: str) -> tuple[tuple[str, ...], str]:
        """The key a sentence about the section speaks of, where it names one, and its value."""
        for name in sorted(self.model_fields_set, key=len, reverse=True):
            value = getattr(self, name)
            if name.replace("_", " ") in said and isinstance(value, Quantity):
                return (name,), value.text
        return (), ""

    @property
    def radius(self) -> float | None:
        """Radius of a circular section [m], None for any other."""
        return None


class Circle(_Section):
    """A circle."""

    shape: Literal["circle"] = key("shape of the section", example='"circle"')
    diameter: Size = key("inside diameter", example='"1.8 m"')

    def outline(self) -> Outline:
        """The circle."""
        return ellipse(width=self.diameter, height=self.diameter)

    @property
    def radius(self) -> float | None:
        """Radius [m]."""
        return float(0.5 * self.diameter)


class Ellipse(_Section):
    """An ellipse."""

    shape: Literal["ellipse"] = key("shape of the section", example='"ellipse"')
    width: Size = key("inside width", example='"2300 mm"')
    height: Size = key("inside height", example='"1300 mm"')

    def outline(self) -> Outline:
        """The ellipse."""
        return ellipse(width=self.width, height=self.height)


class SuperEllipse(_Section):
    """The curve |2y/w|^n + |2z/h|^n = 1."""

    shape: Literal["super-ellipse"] = key("shape of the section", example='"super-ellipse"')
    width: Size = key("inside width", example='"2300 mm"')
    height: Size = key("inside height", example='"1300 mm"')
    exponent: float = key("exponent n, from 2 (ellipse) to 10", example="3.0", ge=2, le=10, allow_inf_nan=False)

    def outline(self) -> Outline:
        """The super-ellipse."""
        return super_ellipse(width=self.width, height=self.height, exponent=self.exponent)


class Rectangle(_Section):
    """A rectangle with rounded corners."""

    shape: Literal["rectangle"] = key("shape of the section", example='"rectangle"')
    width: Size = key("inside width", example='"2300 mm"')
    height: Size = key("inside height", example='"1300 mm"')
    corner_radius: SizeOrNone = key("inside radius of the corners", ZERO, example='"150 mm"')

    def outline(self) -> Outline:
        """The rectangle."""
        return rectangle(width=self.width, height=self.height, corner_radius=self.corner_radius)


class RoundedBox(_Section):
    """A box of arcs."""

    shape: Literal["rounded box"] = key("shape of the section", example='"rounded box"')
    width: Size = key("inside width", example='"2300 mm"')
    height: Size = key("inside height", example='"1300 mm"')
    top_radius: Length | None = key("radius of the top arc; flat where left out", None, example='"3 m"')
    side_radius: Length | None = key("radius of the side arcs; flat where left out", None, example='"3 m"')
    bottom_radius: Length | None = key("radius of the bottom arc; flat where left out", None, example='"3 m"')
    top_corner: SizeOrNone = key("radius of the upper corners", ZERO, example='"150 mm"')
    bottom_corner: SizeOrNone = key("radius of the lower corners", ZERO, example='"150 mm"')

    def outline(self) -> Outline:
        """The box."""
        return rounded_box(
            width=self.width,
            height=self.height,
            top_radius=self.top_radius or math.inf,
            side_radius=self.side_radius or math.inf,
            bottom_radius=self.bottom_radius or math.inf,
            top_corner=self.top_corner,
            bottom_corner=self.bottom_corner,
        )


class FreeOutline(_Section):
    """A free outline through points."""

    shape: Literal["outline"] = key("shape of the section", example='"outline"')
    points: Points = key(
        "points [y, z] of the inside, in the unit named beside, z up", example="[[-1200, 0], [1200, 0], [0, 900]]"
    )
    unit: Literal["mm", "cm", "m", "in"] = key("unit of the points", example='"mm"')
    drawn_in: Text | None = key("name of the drawing the outline came from", None, example='"section.dxf"')
    sha256: Text | None = key("SHA-256 of that drawing", None, example='"9f2c..."')

    def wrongs(self) -> Iterator[Wrong]:
        """Points that make no outline."""
        metres = self._metres()
        size = float(np.ptp(metres, axis=0).max())
        if not 0.05 <= size <= 10.0:
            yield Wrong(*self._wrong_size(size))
            return
        crossed = crossing_edges(metres)
        if crossed:
            one, two = (edge + 1 for edge in crossed)
            yield Wrong(
                ("points",),
                f"The outline crosses itself: the edge after point {one} meets the edge after point {two}.",
                "",
                "an outline that does not cross or touch itself",
            )
            return
        yield from super().wrongs()

    def _wrong_size(self, size: float) -> tuple[tuple[str, ...], str, str, str, str]:
        """What is wrong with the size of the outline, and the unit that may be meant."""
        sizes = {unit: size / SCALES[self.unit] * SCALES[unit] for unit in ("mm", "in", "cm", "m")}
        meant = next((f'"{unit}"' for unit, one in sizes.items() if 0.5 <= one <= 4.0), "")
        message = f"The outline would be {size:.4g} m across."
        return ("unit",), message, f'"{self.unit}"', "a section of 0.05 m to 10 m", meant

    def _metres(self) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
        points = np.array(self.points, dtype=float) * SCALES[self.unit]
        if len(points) > 3 and np.allclose(points[0], points[-1], atol=1e-9):
            points = points[:-1]
        return points

    def outline(self) -> Outline:
        """The outline, set down on z = 0."""
        points = self._metres()
        return polygon(points - (0.0, points[:, 1].min()))


Section = Annotated[Circle | Ellipse | SuperEllipse | Rectangle | RoundedBox | FreeOutline, Discriminator("shape")]


class HeadTable(Table):
    """A head of the tank, inside measures."""

    shape: Literal["flat", "torispherical", "ellipsoidal", "conical", "dish"] = key(
        "form of the head", example='"dish"'
    )
    crown_radius: Length | None = key(
        "crown radius of a torispherical head; the diameter where left out", None, example='"1.8 m"'
    )
    knuckle_radius: Size | None = key("knuckle radius; 10 % of the diameter where left out", None, example='"180 mm"')
    depth: Size | None = key(
        "inside depth of a dish, a cone or an ellipsoidal head (2:1 where left out)", None, example='"150 mm"'
    )
    thickness: Thickness | None = key("thickness; that of the shell where left out", None)

    def wrongs(self) -> Iterator[Wrong]:
        """Measures that do not belong to the form, or are missing."""
        return as_far_as_known(*(self._measure(name) for name in ("crown_radius", "knuckle_radius", "depth")))

    def _measure(self, name: str) -> Iterator[Wrong]:
        allowed = {"torispherical": {"crown_radius", "knuckle_radius"}, "flat": set()}.get(self.shape, {"depth"})
        value = getattr(self, name)
        if value is not None and name not in allowed:
            message = f"A {self.shape} head has no {name.replace('_', ' ')}."
            yield Wrong((name,), message, value.text, f"only {listed(sorted(allowed))}" if allowed else "no measures")
        if value is None and name == "depth" and self.shape in ("conical", "dish"):
            message = f"A {self.shape} head needs its depth."
            yield Wrong(("depth",), message, "", "the inside depth, such as 150 mm", 'depth = "150 mm"')

    def over(self, section: _Section) -> Head:
        """The head on a section; raises HeadError where the two do not go together.

        section: the tank's cross-section
        """
        radius = section.radius
        if self.shape == "flat":
            return heads.flat()
        if self.shape == "dish":
            return heads.dish(area=section.outline().area, depth=self.depth or 0.0)
        if radius is None:
            raise HeadError(
                f"a {self.shape} head belongs to a circular section; here a head is flat or a dish of stated depth"
            )
        if self.shape == "torispherical":
            return heads.torispherical(radius=radius, crown=self.crown_radius, knuckle=self.knuckle_radius)
        if self.shape == "conical":
            return heads.conical(depth=self.depth or 0.0)
        return heads.ellipsoidal(radius=radius, depth=self.depth)
