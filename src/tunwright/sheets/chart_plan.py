"""Where everything in a chart stands [mm]: the plot, its ticks, and every text, none over another."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from tunwright.sheets.chart_model import Chart, Limit, Series
from tunwright.sheets.lettering import SPARE, text_width
from tunwright.sheets.placing import Numbers, crosses, four_wide, overlaps, spread
from tunwright.sheets.ticks import decimals, figure, round_step, ticks

LETTER = 2.2  # height of capitals [mm]
ROW = 4.0  # distance of rows of text [mm]
END_GAP = 3.5  # from the end of a line to its name [mm]
_LEAST_PLOT = 20.0


@dataclass(frozen=True)
class Label:
    """A text standing on its base line at (x, y) [mm from the upper left]."""

    x: float
    y: float
    text: str
    anchor: str = "start"
    role: str = "soft"
    bold: bool = False
    halo: bool = False

    @property
    def width(self) -> float:
        """Room for the text [mm], wide enough for any face."""
        return SPARE * text_width(self.text, LETTER, bold=self.bold)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, upper, right and lower edge [mm]."""
        left = self.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * self.width
        return (left, self.y - LETTER * 1.1, left + self.width, self.y + LETTER * 0.32)


@dataclass(frozen=True)
class Plot:
    """The rectangle of the curves [mm] and the ranges it shows."""

    left: float
    top: float
    right: float
    bottom: float
    x_range: tuple[float, float]
    y_range: tuple[float, float]

    def px(self, x: float) -> float:
        """Place of a value of x [mm]."""
        low, high = self.x_range
        return self.left + (x - low) / (high - low) * (self.right - self.left)

    def py(self, y: float) -> float:
        """Place of a value of y [mm]."""
        low, high = self.y_range
        return self.bottom - (y - low) / (high - low) * (self.bottom - self.top)

    def inside(self, y: float) -> float:
        """The place of y, kept within the plot [mm]."""
        return min(max(self.py(y), self.top), self.bottom)


@dataclass(frozen=True)
class Plan:
    """A chart ready to be drawn. ends: per series the end of its line and the middle of its name's left edge [mm]."""

    plot: Plot
    x_ticks: tuple[float, ...]
    y_ticks: tuple[float, ...]
    labels: tuple[Label, ...]
    ends: tuple[tuple[float, float, float, float], ...]


def plan_chart(chart: Chart, *, width: float, height: float) -> Plan:
    """Places everything for a chart of width by height [mm].

    Raises ValueError when the labels leave no room for the curves.
    """
    y_low, y_high, step = _y_scale(chart, height)
    y_ticks, places = tuple(ticks(y_low, y_high, step)), decimals(step)
    left = max(SPARE * text_width(figure(value, places), LETTER) for value in y_ticks) + 1.8
    right = width - END_GAP - max(Label(0.0, 0.0, line.name).width for line in chart.series)
    rows, heads = _heads(chart, left, right, width)
    plot = Plot(left, rows * ROW + 1.8, right, height - 2.0 * ROW - 1.4, _x_range(chart), (y_low, y_high))
    if right - left < _LEAST_PLOT or plot.bottom - plot.top < _LEAST_PLOT:
        raise ValueError(
            f"chart {chart.title!r}: {width:g} x {height:g} mm leaves no room for the curves beside the labels; "
            f"give a larger size, for example 160 x 80 mm, or shorter names"
        )
    x_ticks, x_labels = _x_labels(chart, plot)
    y_labels = [Label(left - 1.2, plot.py(v) + LETTER / 2.0, figure(v, places), "end") for v in y_ticks]
    names, ends = _end_names(chart, plot)
    labels = [*heads, *x_labels, *y_labels, *names]
    drawn = _drawn(chart, plot)
    for limit in chart.limits:
        labels.append(_limit_label(limit, drawn, plot, labels))
    return Plan(plot, x_ticks, y_ticks, tuple(labels), ends)


def _finite(values: Iterable[float]) -> list[float]:
    return [value for value in values if math.isfinite(value)]


def _x_range(chart: Chart) -> tuple[float, float]:
    every = [x for line in chart.series for x in line.x]
    low = min(every) if chart.x.low is None else chart.x.low
    high = max(every) if chart.x.high is None else chart.x.high
    return (low, high) if high > low else (low - 0.5, low + 0.5)


def _y_scale(chart: Chart, height: float) -> tuple[float, float, float]:
    """Range of y, widened to whole steps where it is free, and the step."""
    every = _finite([y for line in chart.series for y in line.y] + [limit.value for limit in chart.limits])
    low = min(every) if chart.y.low is None else chart.y.low
    high = max(every) if chart.y.high is None else chart.y.high
    if not high > low:
        low, high = low - 0.5 * (abs(low) or 1.0), low + 0.5 * (abs(low) or 1.0)
    step = round_step(high - low, max(2, min(6, int(height // 10.0))))
    if chart.y.low is None:
        low = math.floor(low / step + 1e-9) * step
    if chart.y.high is None:
        high = math.ceil(high / step - 1e-9) * step
    return low, high, step


def _heads(chart: Chart, left: float, right: float, width: float) -> tuple[int, list[Label]]:
    """Labels over the plot (marks, bands, heading of y), in as few rows as they need."""
    low, high = _x_range(chart)

    def at(x: float) -> float:
        return left + (x - low) / (high - low) * (right - left)

    wanted = [Label(at(mark.x), 0.0, mark.label, "middle", "ink", bold=True) for mark in chart.marks]
    wanted += [Label(at((band.low + band.high) / 2.0), 0.0, band.label, "middle", "accent") for band in chart.bands]
    wanted = [_kept_in(label, width) for label in wanted]
    wanted.append(Label(0.0, 0.0, chart.y.heading))
    rows: list[list[Label]] = []
    for label in wanted:
        free = (row for row in rows if all(_apart(label, other) for other in row))
        row = next(free, None)
        if row is None:
            row = []
            rows.append(row)
        row.append(label)
    count = len(rows)
    return count, [
        Label(label.x, (count - i) * ROW - 0.9, label.text, label.anchor, label.role, label.bold)
        for i, row in enumerate(rows)
        for label in row
    ]


def _kept_in(label: Label, width: float) -> Label:
    half = label.width / 2.0
    return Label(min(max(label.x, half), max(width - half, half)), 0.0, label.text, "middle", label.role, label.bold)


def _apart(one: Label, other: Label) -> bool:
    return one.box[2] + 1.5 <= other.box[0] or other.box[2] + 1.5 <= one.box[0]


def _x_labels(chart: Chart, plot: Plot) -> tuple[tuple[float, ...], list[Label]]:
    """As many ticks of x as their figures leave room for, and the heading of the axis below them."""
    low, high = plot.x_range
    heading = Label((plot.left + plot.right) / 2.0, plot.bottom + 2.0 * ROW, chart.x.heading, "middle")
    for most in (10, 8, 6, 5, 4, 3, 2):
        step = round_step(high - low, most)
        found = ticks(low, high, step)
        labels = [Label(plot.px(x), plot.bottom + ROW, figure(x, decimals(step)), "middle") for x in found]
        if all(_apart(a, b) for a, b in pairwise(labels)):
            return tuple(found), [*labels, heading]
    return (), [heading]


def _end_names(chart: Chart, plot: Plot) -> tuple[list[Label], tuple[tuple[float, float, float, float], ...]]:
    """The names at the ends of the lines, moved apart up and down, in the order of the ends."""
    tips = [_tip(line, plot) for line in chart.series]
    order = sorted(range(len(tips)), key=lambda i: (tips[i][1], i))
    gap = LETTER * 1.6
    heights = spread([tips[i][1] for i in order], [gap] * (len(order) - 1), plot.top, plot.bottom)
    at = dict(zip(order, heights, strict=True))
    x = plot.right + END_GAP
    names = [Label(x, at[i] + LETTER / 2.0, line.name, role=line.colour) for i, line in enumerate(chart.series)]
    return names, tuple((*tips[i], x - 0.6, at[i]) for i in range(len(tips)))


def _tip(line: Series, plot: Plot) -> tuple[float, float]:
    inside = [(x, y) for x, y in zip(line.x, line.y, strict=True) if math.isfinite(y) and x <= plot.x_range[1]]
    x, y = inside[-1] if inside else (plot.x_range[0], plot.y_range[0])
    return (max(plot.px(x), plot.left), plot.inside(y))


def _limit_label(limit: Limit, drawn: Numbers, plot: Plot, placed: list[Label]) -> Label:
    """The label on its line where it covers neither text nor curve, as far left as that allows."""
    level = plot.inside(limit.value)
    width = Label(0.0, 0.0, limit.label).width
    over, under = level - 1.0, level + LETTER + 1.2
    sides = (under, over) if limit.sense == "at most" else (over, under)  # away from the strokes first
    room = max(plot.right - plot.left - width - 2.0, 0.0)
    places = [(plot.left + 1.5 + room * i / 15.0, y) for y in sides for i in range(16)]
    choices = [Label(x, y, limit.label, role="ink", halo=True) for x, y in places]
    boxes = four_wide([choice.box for choice in choices])
    taken = overlaps(boxes[:, None, :], four_wide([label.box for label in placed])[None, :, :]).sum(axis=1)
    covered = crosses(drawn[None, :, :], boxes[:, None, :]).sum(axis=1)
    outside = (boxes[:, 1] < plot.top) | (boxes[:, 3] > plot.bottom)
    cost = 1000.0 * taken + 50.0 * outside + 10.0 * np.minimum(covered, 4) + 0.02 * np.arange(len(choices))
    return choices[int(np.argmin(cost))]


def _drawn(chart: Chart, plot: Plot) -> Numbers:
    """Curves, limits and marks as segments (n, 4) [mm]."""
    found = [(plot.px(mark.x), plot.top, plot.px(mark.x), plot.bottom) for mark in chart.marks]
    found += [(plot.left, plot.py(limit.value), plot.right, plot.py(limit.value)) for limit in chart.limits]
    for line in chart.series:
        points = [(plot.px(x), plot.py(y)) for x, y in zip(line.x, line.y, strict=True)]
        found += [(*a, *b) for a, b in pairwise(points) if math.isfinite(a[1]) and math.isfinite(b[1])]
    return four_wide(found)
