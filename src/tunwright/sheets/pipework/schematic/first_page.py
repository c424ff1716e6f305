"""The schematic as a page of the sheets: as large as it goes on lying A4 or A3; it is not to scale."""

from __future__ import annotations

from tunwright.checks.assess import Assessment
from tunwright.sheets.dossier.blocks import Block
from tunwright.sheets.dossier.drawings import Sheet
from tunwright.sheets.pipework.schematic.drawing import schematic_drawing
from tunwright.sheets.svg import write_svg

_PAPERS = ((297.0, 210.0), (420.0, 297.0))  # A4 and A3, lying [mm]
_BESIDE, _ABOVE = 30.0, 54.0  # what margins, head, heading and foot take [mm]
_SMALLEST = 0.85  # of its own size, at which its letters still read well


def schematic_part(assessment: Assessment) -> Block:
    """The schematic, valves in their normal position, as a part of the sheets.

    assessment: the assessment; of a build with pipework
    """
    drawing = schematic_drawing(assessment)
    mm = 1000.0 / drawing.scale
    wide, high = drawing.bounds.width * mm, drawing.bounds.height * mm
    for paper in _PAPERS:
        part = min(1.0, (paper[0] - _BESIDE) / wide, (paper[1] - _ABOVE) / high)
        if part >= _SMALLEST:
            break
    sheet = Sheet(drawing.title, write_svg(drawing, theme="paper"), paper, (part * wide, part * high))
    return {"title": "Schematic", "sheets": [sheet.data()]}
