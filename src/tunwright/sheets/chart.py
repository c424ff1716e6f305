"""Charts: one description for browser and paper, no legend, no chart program.

    >>> from tunwright.sheets.chart import Axis, Chart, Limit, Mark, Series, chart_svg, chart_table
    >>> fill = (0.0, 50.0, 100.0)
    >>> chart = Chart(
    ...     "Axle loads over fill",
    ...     Axis("fill", "%"),
    ...     Axis("load", "kg", low=0.0),
    ...     (
    ...         Series("drive", fill, (6516.0, 11292.0, 16069.0), "accent"),
    ...         Series("front", fill, (5084.0, 6307.0, 7531.0)),
    ...     ),
    ...     limits=(Limit(15500.0, "drive group 15 500"), Limit(8000.0, "front axle 8 000")),
    ...     marks=(Mark(62.0, "62 %"),),
    ... )
    >>> chart_svg(chart, width_mm=180.0, height_mm=80.0).startswith("<svg")
    True
    >>> chart_table(chart)[1][0]
    (0.0, 6516.0, 5084.0)

Lines are told apart by dash or marker besides colour, and named at their ends. In theme "css" the root carries what a
page needs to find the value under the pointer (`data-plot`: left, top, right, bottom in view box units; `data-x`,
`data-y`: the ranges), every series its name, and every point its figures as a hover text.
"""

from __future__ import annotations

import math
from itertools import groupby

from tunwright.sheets.chart_model import (
    Axis,
    Band,
    Chart,
    Limit,
    Mark,
    Marker,
    Series,
    Style,
    chart_table,
    told_apart,
    value_at,
)
from tunwright.sheets.chart_plan import LETTER, Label, Plan, Plot, plan_chart
from tunwright.sheets.layers import CHAIN, DASHED, DOTTED
from tunwright.sheets.lettering import font_size
from tunwright.sheets.pen import Pen, Theme, clean, number, numbers, picture_key
from tunwright.sheets.ticks import figure

__all__ = ["Axis", "Band", "Chart", "Limit", "Mark", "Series", "chart_svg", "chart_table"]

_DASHES: dict[Style | None, tuple[float, ...]] = {"dashed": DASHED, "chain": CHAIN, "dotted": (0.6, 1.1)}
_STROKE_PITCH = 3.0  # of the strokes on a limit [mm]
_MOST_MARKERS = 12
_MOST_HOVERS = 60
_MARKER_PATHS: dict[Marker, str] = {
    "square": "m-.8-.8h1.6v1.6h-1.6z",
    "triangle": "m0-1 .95 1.7h-1.9z",
    "diamond": "m0-1.1 1.1 1.1-1.1 1.1-1.1-1.1z",
    "circle": "m-.85 0a.85.85 0 1 0 1.7 0a.85.85 0 1 0-1.7 0z",
}


def chart_svg(chart: Chart, *, width_mm: float, height_mm: float, theme: Theme = "paper") -> str:
    """The chart as one SVG element of width_mm by height_mm; the same chart gives the same text.

    theme: "paper" for print, "css" for a page that recolours it and shows values on hover
    Raises ValueError when the size leaves no room for the curves.
    """
    plan = plan_chart(chart, width=width_mm, height=height_mm)
    pen = Pen(theme, picture_key(chart.title, width_mm, height_mm, plan.plot))
    parts = [_bands(chart, plan.plot, pen), _grid(plan, pen)]
    parts += [_limit(limit, plan.plot, pen) for limit in chart.limits]
    lines = told_apart(chart.series)
    parts += [_series(line, end, chart, plan.plot, pen) for line, end in zip(lines, plan.ends, strict=True)]
    parts += [_mark(mark, chart, plan.plot, pen) for mark in chart.marks]
    parts.append(_labels(plan.labels, pen))
    size = (width_mm, height_mm)
    return pen.picture(
        _clip(plan.plot, pen) + "".join(parts),
        size=size,
        title=chart.title,
        description=chart.description,
        shown=size if theme == "paper" else None,
        extra=_way_back(plan.plot) if theme == "css" else "",
    )


def _way_back(plot: Plot) -> str:
    edges = numbers((plot.left, plot.top, plot.right, plot.bottom))
    ranges = (
        f'data-{name}="{low:.10g} {high:.10g}"' for name, (low, high) in (("x", plot.x_range), ("y", plot.y_range))
    )
    return f' data-plot="{edges}" ' + " ".join(ranges)


def _box(plot: Plot, left: float, right: float) -> str:
    where = (("x", left), ("y", plot.top), ("width", right - left), ("height", plot.bottom - plot.top))
    return "".join(f' {name}="{number(value)}"' for name, value in where)


def _clip(plot: Plot, pen: Pen) -> str:
    return f'<clipPath id="{pen.key}-clip"><rect{_box(plot, plot.left, plot.right)}/></clipPath>'


def _grid(plan: Plan, pen: Pen) -> str:
    plot = plan.plot
    across = "".join(f"M{numbers((plot.left, plot.py(y)))}H{number(plot.right)}" for y in plan.y_ticks)
    down = "".join(f"M{numbers((plot.px(x), plot.bottom))}v1" for x in plan.x_ticks)
    foot = f"M{numbers((plot.left, plot.bottom))}H{number(plot.right)}"
    return (
        f'<path d="{across}" fill="none"{pen.stroke("rule", 0.18)}/>'
        f'<path d="{foot}{down}" fill="none"{pen.stroke("ink", 0.25)}/>'
    )


def _bands(chart: Chart, plot: Plot, pen: Pen) -> str:
    out = ""
    for band in chart.bands:
        left, right = (min(max(plot.px(x), plot.left), plot.right) for x in (band.low, band.high))
        out += f"<rect{_box(plot, left, right)}{pen.fill('hatch')}{pen.stroke('accent', 0.13)}/>"
    return out


def _limit(limit: Limit, plot: Plot, pen: Pen) -> str:
    """A line with short oblique strokes on the side that is not allowed."""
    if not plot.y_range[0] <= limit.value <= plot.y_range[1]:
        return ""
    y, rise = plot.py(limit.value), -1.1 if limit.sense == "at most" else 1.1
    count = int((plot.right - plot.left) // _STROKE_PITCH)
    strokes = "".join(f"M{numbers((plot.left + i * _STROKE_PITCH, y))}l{numbers((1.1, rise))}" for i in range(count))
    line = f"M{numbers((plot.left, y))}H{number(plot.right)}"
    return (
        f'<g{pen.group("limit")} fill="none"{pen.stroke("ink", 0.25)}>'
        f'<path d="{line}"/><path d="{strokes}" stroke-width=".13"/></g>'
    )


def _mark(mark: Mark, chart: Chart, plot: Plot, pen: Pen) -> str:
    if not plot.x_range[0] <= mark.x <= plot.x_range[1]:
        return ""
    x = plot.px(mark.x)
    line = f'<path d="M{numbers((x, plot.top))}V{number(plot.bottom)}" fill="none"{pen.stroke("ink", 0.25, DOTTED)}/>'
    dots = ""
    for series in chart.series:
        y = value_at(series, mark.x)
        if y is not None and plot.y_range[0] <= y <= plot.y_range[1]:
            dots += f'<circle cx="{number(x)}" cy="{number(plot.py(y))}" r=".9"{pen.fill(series.colour)}/>'
    return f"<g{pen.group('mark')}>{line}{dots}</g>"


def _series(line: Series, end: tuple[float, float, float, float], chart: Chart, plot: Plot, pen: Pen) -> str:
    points = [(plot.px(x), plot.py(y)) for x, y in zip(line.x, line.y, strict=True)]
    path = ""
    for drawn, run in groupby(points, key=lambda point: math.isfinite(point[1])):
        if drawn:
            path += "M" + numbers(value for point in run for value in point)
    stroke = pen.stroke(line.colour, 0.5, _DASHES.get(line.style, ()))
    parts = [f'<path d="{path}" clip-path="url(#{pen.key}-clip)"{stroke}/>', _leader(line, end, pen)]
    shown = [p for p in points if math.isfinite(p[1]) and plot.left <= p[0] <= plot.right]
    shown = [p for p in shown if plot.top <= p[1] <= plot.bottom]
    marker = line.marker or ("circle" if len(points) == 1 else None)
    if marker:
        parts.append(_markers(marker, shown, line, pen))
    if pen.theme == "css":
        parts.append(_hovers(line, chart, plot))
        return f'<g class="series" data-series="{clean(line.name)}" fill="none">{"".join(parts)}</g>'
    return f'<g fill="none">{"".join(parts)}</g>'


def _leader(line: Series, end: tuple[float, float, float, float], pen: Pen) -> str:
    """From the end of a line to its name, when the name could not stand right there."""
    x, y, name_x, name_y = end
    if abs(y - name_y) < 0.3 and name_x - x < 4.0:
        return ""
    return f'<path d="M{numbers((x + 0.4, y, name_x - 0.9, name_y, name_x, name_y))}"{pen.stroke(line.colour, 0.18)}/>'


def _markers(marker: Marker, points: list[tuple[float, float]], line: Series, pen: Pen) -> str:
    pick = max(1, math.ceil(len(points) / _MOST_MARKERS))
    drawn = "".join(f"M{numbers(point)}{_MARKER_PATHS[marker]}" for point in points[::pick])
    return f'<path d="{drawn}"{pen.fill("sheet")}{pen.stroke(line.colour, 0.3)}/>'


def _hovers(line: Series, chart: Chart, plot: Plot) -> str:
    """Invisible spots whose hover text gives the point's figures."""
    every = [(x, y) for x, y in zip(line.x, line.y, strict=True) if math.isfinite(y)]
    pick = max(1, math.ceil(len(every) / _MOST_HOVERS))
    out = ""
    for x, y in every[::pick]:
        words = f"{line.name}: {_words(y, chart.y)} at {_words(x, chart.x)}"
        spot = f'cx="{number(plot.px(x))}" cy="{number(plot.inside(y))}" r="1.6"'
        out += f'<circle {spot} fill="transparent"><title>{clean(words)}</title></circle>'
    return out


def _words(value: float, axis: Axis) -> str:
    places = max(0, 3 - math.floor(math.log10(abs(value)))) if value else 0
    text = figure(value, min(places, 6))
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{text} {axis.unit}".rstrip()


def _labels(labels: tuple[Label, ...], pen: Pen) -> str:
    out = []
    for role, run in groupby(labels, key=lambda label: label.role):
        words = (
            pen.text(
                label.x,
                label.y,
                label.text,
                size=font_size(LETTER),
                anchor=label.anchor,
                bold=label.bold,
                halo=label.halo,
            )
            for label in run
        )
        out.append(f"<g{pen.fill(role)}>{''.join(words)}</g>")
    return "".join(out)
