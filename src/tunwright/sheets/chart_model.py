"""What a chart shows, as data: the same description serves browser, paper and table.

Values are in the unit the axis names, already converted for the reader (kg, L/min, %); a gap in a line is a NaN.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

Style = Literal["solid", "dashed", "chain", "dotted"]
Marker = Literal["circle", "square", "triangle", "diamond"]
Colour = Literal["ink", "accent", "soft", "near", "bad"]
Sense = Literal["at most", "at least"]

STYLES: tuple[Style, ...] = ("solid", "dashed", "chain", "dotted")
MARKERS: tuple[Marker, ...] = ("circle", "square", "triangle", "diamond")


@dataclass(frozen=True)
class Axis:
    """label and unit as printed ("axle load", "kg"); low and high fix the range, None takes it from the data."""

    label: str
    unit: str = ""
    low: float | None = None
    high: float | None = None

    @property
    def heading(self) -> str:
        """Label and unit together."""
        return f"{self.label}, {self.unit}" if self.unit else self.label


@dataclass(frozen=True)
class Series:
    """A line through (x, y), named at its end.

    style, marker: None lets the chart choose, so that no two lines differ by colour alone
    """

    name: str
    x: tuple[float, ...]
    y: tuple[float, ...]
    colour: Colour = "ink"
    style: Style | None = None
    marker: Marker | None = None

    def __post_init__(self) -> None:
        if len(self.x) != len(self.y):
            raise ValueError(f"series {self.name!r}: {len(self.x)} x and {len(self.y)} y values; give as many of each")
        if not all(map(math.isfinite, self.x)):
            raise ValueError(f"series {self.name!r}: every x must be finite; leave a gap by y = NaN")
        if not any(map(math.isfinite, self.y)):
            raise ValueError(f"series {self.name!r}: no finite y value; leave the series out")
        if any(b < a for a, b in zip(self.x, self.x[1:], strict=False)):
            raise ValueError(f"series {self.name!r}: x must not fall, for example (0, 50, 100)")


@dataclass(frozen=True)
class Limit:
    """A value of y with a label; strokes on the forbidden side show the sense."""

    value: float
    label: str
    sense: Sense = "at most"


@dataclass(frozen=True)
class Band:
    """A hatched range of x with a label over it."""

    low: float
    high: float
    label: str


@dataclass(frozen=True)
class Mark:
    """A marked x: a dotted line with a label over it and a dot on every series."""

    x: float
    label: str


@dataclass(frozen=True)
class Chart:
    """Series over a common x, with limits, bands and marks; description is for those who cannot see it."""

    title: str
    x: Axis
    y: Axis
    series: tuple[Series, ...]
    limits: tuple[Limit, ...] = ()
    bands: tuple[Band, ...] = ()
    marks: tuple[Mark, ...] = ()
    description: str = ""

    def __post_init__(self) -> None:
        if not self.series:
            raise ValueError(f"chart {self.title!r} has no series; give at least one")
        names = [line.name for line in self.series]
        if len(set(names)) < len(names):
            raise ValueError(f"chart {self.title!r}: names of series repeat: {', '.join(names)}")


def told_apart(series: tuple[Series, ...]) -> tuple[Series, ...]:
    """The series with styles and markers filled in so that no two share both; what is given stays when it can.

    Raises ValueError when there are more series than looks (20).
    """
    looks = [(style, marker) for marker in (None, *MARKERS) for style in STYLES]
    if len(series) > len(looks):
        raise ValueError(f"{len(series)} series cannot be told apart; at most {len(looks)}, better under six")
    used = {(line.style, line.marker) for line in series if line.style}
    seen: set[tuple[Style | None, Marker | None]] = set()
    done = []
    for line in series:
        look: tuple[Style | None, Marker | None] = (line.style, line.marker)
        if line.style is None or look in seen:
            fits = [new for new in looks if new not in used | seen]
            same_style = [new for new in fits if new[0] == line.style and line.style]
            same_marker = [new for new in fits if new[1] == line.marker and line.style is None]
            look = (same_style or same_marker or fits)[0]
        seen.add(look)
        done.append(replace(line, style=look[0], marker=look[1]))
    return tuple(done)


def chart_table(chart: Chart) -> tuple[tuple[str, ...], tuple[tuple[float | None, ...], ...]]:
    """The chart as a table: header, and one row for every x that occurs; None where a series has no value there."""
    header = (
        chart.x.heading,
        *(f"{line.name}, {chart.y.unit}" if chart.y.unit else line.name for line in chart.series),
    )
    found = [{x: y for x, y in zip(line.x, line.y, strict=True) if math.isfinite(y)} for line in chart.series]
    every = sorted({x for line in chart.series for x in line.x})
    return header, tuple((x, *(values.get(x) for values in found)) for x in every)


def value_at(series: Series, x: float) -> float | None:
    """The y of a series at x by straight lines between points; None outside its x or in a gap."""
    if not series.x[0] <= x <= series.x[-1]:
        return None
    y = float(np.interp(x, series.x, series.y))
    return y if math.isfinite(y) else None
