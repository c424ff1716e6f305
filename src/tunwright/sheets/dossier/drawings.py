"""Drawings on pages of their own: a framed sheet fills its page, any other drawing stands on a landscape page."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass

from tunwright.checks.assess import Assessment
from tunwright.sheets.dossier.blocks import Block, Part, unknown
from tunwright.sheets.drawing import Drawing
from tunwright.sheets.frame.chosen import FrameNotKnown
from tunwright.sheets.frame.hole_sheets import hole_sheets
from tunwright.sheets.frame.mounting import mounting_sheet
from tunwright.sheets.svg import write_svg
from tunwright.sheets.views import general_arrangement

_SIZE = re.compile(r'<svg[^>]*?\swidth="([\d.]+)mm"[^>]*?\sheight="([\d.]+)mm"')
_PAPERS = ((297.0, 210.0), (420.0, 297.0), (594.0, 420.0), (841.0, 594.0))  # A4 to A1, lying [mm]
_SHEETS = ("A3", "A2", "A1")  # papers a general arrangement is tried on
_BESIDE, _ABOVE = 32.0, 48.0  # what the margins and the heading of a page take [mm]
_LARGEST = 2  # papers that an office prints: A4 and A3; what is larger is made smaller


@dataclass(frozen=True)
class Sheet:
    """A drawing on its page.

    title: what it shows
    svg: the drawing
    page: width and height of the paper [mm]
    size: width and height of the drawing as printed [mm]
    shrunk: it had to be made smaller than its scale says
    """

    title: str
    svg: str
    page: tuple[float, float]
    size: tuple[float, float]
    shrunk: bool = False

    def data(self) -> dict[str, object]:
        """The sheet as plain data."""
        return {**vars(self), "page": list(self.page), "size": list(self.size), "full": self.page == self.size}


def drawings_part(assessment: Assessment, drawings: Mapping[str, str] | None, build_hash: str) -> Block:
    """The part with the drawings, as plain data: those given, else the general arrangement, or why there is none.

    assessment: the assessment
    drawings: title to SVG with its true size; None draws the general arrangement and the mounting sheets
    build_hash: SHA-256 of the build file, for the title block
    """
    title = "Drawings"
    try:
        given = _usual(assessment, build_hash) if drawings is None else drawings
    except ValueError as error:
        return Part(title, [unknown(f"The general arrangement cannot be drawn: {error}.")]).data()
    return {"title": title, "sheets": [_sheet(name, svg).data() for name, svg in given.items()]}


def _usual(assessment: Assessment, build_hash: str) -> dict[str, str]:
    """The general arrangement, and the sheets for the shop where frame and mounts are known."""
    found = _arrangement(assessment, build_hash)
    with suppress(FrameNotKnown):
        found |= _drawn(mounting_sheet(assessment, build_hash=build_hash))
        for i, drawing in enumerate(hole_sheets(assessment, build_hash=build_hash), start=1):
            found |= {f"{drawing.title}, sheet {i}": write_svg(drawing, theme="paper")}
    return found


def _arrangement(assessment: Assessment, build_hash: str) -> dict[str, str]:
    """The general arrangement on the smallest paper that takes it, from A3 on."""
    for paper in _SHEETS[:-1]:
        with suppress(ValueError):
            return _drawn(general_arrangement(assessment, paper=paper, build_hash=build_hash))
    return _drawn(general_arrangement(assessment, paper=_SHEETS[-1], build_hash=build_hash))


def _drawn(drawing: Drawing) -> dict[str, str]:
    return {drawing.title: write_svg(drawing, theme="paper")}


def _sheet(title: str, svg: str) -> Sheet:
    """A drawing on the paper it is a sheet of, else on the smallest that holds it, else shrunk to the largest."""
    found = _SIZE.search(svg)
    size = (float(found.group(1)), float(found.group(2))) if found else _room(_PAPERS[0])
    largest = _PAPERS[_LARGEST - 1]
    if size in _PAPERS:
        paper = min(size, largest)
        return Sheet(title, svg, paper, paper, shrunk=size != paper)
    for paper in _PAPERS[:_LARGEST]:
        if size[0] <= _room(paper)[0] and size[1] <= _room(paper)[1]:
            return Sheet(title, svg, paper, size)
    part = min(room / side for room, side in zip(_room(largest), size, strict=True))
    return Sheet(title, svg, largest, (size[0] * part, size[1] * part), shrunk=True)


def _room(paper: tuple[float, float]) -> tuple[float, float]:
    return paper[0] - _BESIDE, paper[1] - _ABOVE
