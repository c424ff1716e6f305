"""One diagram under a side view: on the same x scale, values up and down to a round scale, curves with their limits."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.build.kind import System
from tunwright.sheets.drawing import Entity, Group, Line, Point, Polyline, Text
from tunwright.sheets.frame.quantities import Quantity
from tunwright.sheets.lettering import SPARE, text_width
from tunwright.sheets.placing import spread
from tunwright.sheets.ticks import THIN, decimals, figure, round_step, ticks

Floats = NDArray[np.float64]
_HEAD_MM, _SECOND_MM = 5.0, 3.4  # room for the heading over a diagram, and for a second line of it
_TICK_MM = 4.0  # least distance of ticks
_STROKE_MM, _PITCH_MM = 1.1, 3.0  # strokes on a limit
_FIGURE_MM, _BOLD_MM = 2.0, 2.5
_BESIDE_MM = 2.0  # words on limits stand this far to the right
_ROW_MM = 3.2
_LEAST = 1.0  # span of a diagram in which nothing happens, in its unit


@dataclass(frozen=True)
class Curve:
    """A line of a diagram.

    name: of what
    layer: how it is drawn
    x: places [m]
    y: values [SI]
    """

    name: str
    layer: str
    x: Floats
    y: Floats

    @property
    def greatest(self) -> int:
        """Where the value is greatest, either way."""
        return int(np.abs(self.y).argmax())


@dataclass(frozen=True)
class Bound:
    """A limit of a diagram.

    value: [SI]
    words: what it is
    layer: how it is drawn
    """

    value: float
    words: str
    layer: str = "thin"


class Panel:
    """One diagram.

    quantity: what it shows
    curves: its lines
    bounds: its limits
    ends: where the diagram begins and ends [m]
    top: height of its upper edge on the drawing [m]
    tall: most height of the diagram itself on paper [mm]
    scale: 1:scale
    system: metric or us
    """

    def __init__(
        self,
        quantity: Quantity,
        curves: Sequence[Curve],
        bounds: Sequence[Bound] = (),
        *,
        ends: tuple[float, float],
        top: float,
        tall: float,
        scale: float,
        system: System,
    ) -> None:
        self.quantity, self.curves, self.bounds, self.ends = quantity, curves, bounds, ends
        self.mm, self.system, self.top = scale / 1000.0, system, top
        low, high = self._range()
        self.per_mm = round_step(high - low, math.floor(tall))
        self.step = round_step(high - low, max(1, int((high - low) / self.per_mm / _TICK_MM)))
        self.low = self.per_mm * math.floor(low / self.per_mm + 1e-9)
        self.high = self.per_mm * math.ceil(high / self.per_mm - 1e-9 + (_STROKE_MM if bounds else 0.0))
        self.zero = self.head - self.high / self.per_mm * self.mm

    @property
    def bottom(self) -> float:
        """Lower edge [m]."""
        return self.v(self.low * self.quantity.units[self.system][0])

    def _range(self) -> tuple[float, float]:
        """Least and greatest value, with the zero line, in the unit."""
        values = [0.0, *(float(v) for curve in self.curves for v in (curve.y.min(), curve.y.max()))]
        values += [bound.value for bound in self.bounds]
        low, high = (self.quantity.number(pick(values), self.system) for pick in (min, max))
        return (low, high) if high - low > _LEAST else (low, low + _LEAST)

    def v(self, value: float) -> float:
        """Height on the drawing of a value [SI]."""
        return self.zero + self.quantity.number(value, self.system) / self.per_mm * self.mm

    @property
    def head(self) -> float:
        """Upper edge under the heading [m]."""
        return self.top - (_HEAD_MM + (0.0 if self._one_line else _SECOND_MM)) * self.mm

    @property
    def _way(self) -> str:
        """Unit, what is up, and the scale."""
        unit = self.quantity.unit(self.system)
        return f"{unit}, {self.quantity.way}, 1 mm = {figure(self.per_mm, decimals(self.per_mm))}{THIN}{unit}"

    @property
    def _one_line(self) -> bool:
        """Whether heading and words stand on one line."""
        wide = text_width(self.quantity.heading, _BOLD_MM, bold=True) + text_width(self._way, _FIGURE_MM)
        return SPARE * wide + 6.0 <= (self.ends[1] - self.ends[0]) / self.mm

    def point(self, curve: Curve, i: int) -> Point:
        """A point of a curve on the drawing."""
        return (float(curve.x[i]), self.v(float(curve.y[i])))

    def entities(self) -> list[Entity]:
        """The diagram without the names of its curves."""
        found = [*self._heading(), *self._grid()]
        found += [part for bound in self.bounds for part in self._bound(bound)]
        found += self._bound_words()
        return [*found, *(self._curve(curve) for curve in self.curves)]

    def _heading(self) -> list[Entity]:
        left, right = (self.ends[0], self.top), (self.ends[1], self.top)
        heading = Text(left, self.quantity.heading, "text", _BOLD_MM, bold=True, shift_mm=(0.0, -3.2))
        if self._one_line:
            return [heading, Text(right, self._way, "note", _FIGURE_MM, "end", shift_mm=(0.0, -3.2))]
        return [heading, Text(left, self._way, "note", _FIGURE_MM, shift_mm=(0.0, -3.2 - _SECOND_MM))]

    def _grid(self) -> list[Entity]:
        (left, right), found = self.ends, []
        for value in ticks(self.low, self.high, self.step):
            v = self.zero + value / self.per_mm * self.mm
            layer = "thin" if abs(value) < 0.5 * self.step else "grid"
            found.append(Line((left, v), (right, v), layer))
        for value in ticks(self.low, self.high, self.step):
            v = self.zero + value / self.per_mm * self.mm
            words = figure(value, decimals(self.step))
            found.append(Text((left, v), words, "note", _FIGURE_MM, "end", shift_mm=(-1.5, -0.5 * _FIGURE_MM)))  # type: ignore[arg-type]
        return list(found)

    def _bound(self, bound: Bound) -> list[Entity]:
        """A line with short oblique strokes on the side that is not allowed."""
        v, (left, right) = self.v(bound.value), self.ends
        count = int((right - left) / self.mm // _PITCH_MM)
        reach = _STROKE_MM * self.mm
        starts = [left + i * _PITCH_MM * self.mm for i in range(count)]
        layer = "thin" if bound.layer in ("thin", "hidden") else "hatch"
        strokes = [Line((x, v), (x + reach, v + reach), layer) for x in starts]
        return [Line((left, v), (right, v), bound.layer), *strokes]

    def _bound_words(self) -> list[Entity]:
        """Words on the limits to the right of the diagram, none over another."""
        found: list[Entity] = []
        sorted_bounds = sorted(self.bounds, key=lambda bound: bound.value)
        wanted = [self.v(bound.value) / self.mm for bound in sorted_bounds]
        places = spread(wanted, [_ROW_MM] * (len(wanted) - 1), -1e6, 1e6)
        right = self.ends[1]
        for bound, want, place in zip(sorted_bounds, wanted, places, strict=True):
            v, start = place * self.mm, right + 0.6 * _BESIDE_MM * self.mm
            if abs(want - place) > 0.2:
                found.append(Line((right, want * self.mm), (start, v), "dimension"))
            value = self.quantity.words(bound.value, self.system)
            shift = (_BESIDE_MM, -0.5 * _FIGURE_MM)
            found.append(Text((right, v), f"{bound.words} ≤ {value}", "dimension", _FIGURE_MM, shift_mm=shift))
        return found

    def _curve(self, curve: Curve) -> Group:
        points = tuple((float(x), self.v(float(y))) for x, y in zip(curve.x, curve.y, strict=True))
        data = {
            "quantity": self.quantity.key,
            "of": curve.name.replace(" ", "-"),
            "zero": f"{self.zero:.6f}",
            "per-mm": f"{self.per_mm:g}",
        }
        return Group("diagram", (Polyline(points, curve.layer),), data)
