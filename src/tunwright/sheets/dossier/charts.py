"""A chart as a picture of a page."""

from __future__ import annotations

from collections.abc import Callable

from tunwright.sheets.chart import Chart, chart_svg
from tunwright.sheets.dossier.blocks import Block, picture, unknown

WIDE, HIGH = 176.0, 82.0  # on paper [mm]


def chart_block(chart_of: Callable[[], Chart], *, high: float = HIGH) -> Block:
    """A chart as wide as the page, or why there is none.

    chart_of: makes the chart; may raise ValueError
    high: height on paper [mm]
    """
    try:
        chart = chart_of()
        svg = chart_svg(chart, width_mm=WIDE, height_mm=high, theme="paper")
    except ValueError as error:
        return unknown(f"This chart cannot be drawn: {error}.")
    return picture(svg, chart.description or chart.title, width_mm=WIDE)
