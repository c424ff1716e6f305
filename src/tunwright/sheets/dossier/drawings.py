"""Drawings on landscape pages of their own, true to scale where the paper is large enough."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from tunwright.checks.assess import Assessment
from tunwright.sheets.svg import write_svg

_SIZE = re.compile(r'<svg[^>]*?\swidth="([\d.]+)mm"[^>]*?\sheight="([\d.]+)mm"')
_PAPERS = (("a4", 265.0, 162.0), ("a3", 388.0, 249.0))  # name, room for a drawing [mm]


@dataclass(frozen=True)
class Sheet:
    """A drawing on its page.

    title: what it shows
    svg: the drawing
    paper: a4 or a3, lying
    width, height: as printed [mm]
    shrunk: it had to be made smaller than its scale says
    """

    title: str
    svg: str
    paper: str
    width: float
    height: float
    shrunk: bool

    def data(self) -> dict[str, object]:
        """The sheet as plain data."""
        return vars(self).copy()


def sheets_of(assessment: Assessment, drawings: Mapping[str, str] | None) -> list[Sheet]:
    """The drawings of a dossier: those given, else the general arrangement.

    assessment: the assessment
    drawings: title to SVG with its true size; None draws the general arrangement
    """
    if drawings is None:
        from tunwright.sheets.views import general_arrangement  # noqa: PLC0415

        drawing = general_arrangement(assessment)
        drawings = {drawing.title: write_svg(drawing, theme="paper")}
    return [_sheet(title, svg) for title, svg in drawings.items()]


def _sheet(title: str, svg: str) -> Sheet:
    """A drawing on the smallest paper that holds it, else shrunk to the largest."""
    found = _SIZE.search(svg)
    _, width, height = _PAPERS[0]
    if found is not None:
        width, height = float(found.group(1)), float(found.group(2))
    for paper, wide, high in _PAPERS:
        if width <= wide and height <= high:
            return Sheet(title, svg, paper, width, height, shrunk=False)
    paper, wide, high = _PAPERS[-1]
    part = min(wide / width, high / height)
    return Sheet(title, svg, paper, width * part, height * part, shrunk=True)
