"""A chart for a page: drawn at several widths, so that its letters can be read on a phone as on a wide screen."""

from __future__ import annotations

from contextlib import suppress

from tunwright.sheets.chart import chart_svg
from tunwright.sheets.chart_model import Chart

SIZES = ((84.0, 70.0), (98.0, 70.0), (116.0, 70.0), (140.0, 70.0), (190.0, 76.0))
"""Widths and heights a page may choose from [mm]."""


def screen_charts(chart: Chart) -> dict[str, str]:
    """The chart in theme "css" by its width in whole millimetres; a width too narrow for its labels is left out.

    The page takes the widest that leaves its letters large enough.
    Raises ValueError when the chart fits at no width.
    """
    found: dict[str, str] = {}
    for width, height in SIZES[:-1]:
        with suppress(ValueError):
            found[f"{width:.0f}"] = chart_svg(chart, width_mm=width, height_mm=height, theme="css")
    width, height = SIZES[-1]
    return {**found, f"{width:.0f}": chart_svg(chart, width_mm=width, height_mm=height, theme="css")}
