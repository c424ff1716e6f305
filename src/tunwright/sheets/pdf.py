"""Drawings as a PDF: one page a drawing, as large as the drawing, true to scale, the letters as text."""

from __future__ import annotations

import json
from collections.abc import Sequence

import typst

from tunwright.sheets.drawing import Drawing
from tunwright.sheets.svg import write_svg

_TEMPLATE = b"""
#let d = json(bytes(sys.inputs.data))
#set document(title: d.title, date: none)
#set text(lang: "en", region: "gb")
#for p in d.pages {
  page(width: p.width * 1mm, height: p.height * 1mm, margin: 0mm,
    image(bytes(p.svg), format: "svg", width: p.width * 1mm, height: p.height * 1mm, alt: p.words))
}
"""


def drawings_pdf(drawings: Sequence[Drawing]) -> bytes:
    """The drawings as one PDF; the same drawings give the same bytes.

    drawings: one or more, each on a page of its own size
    Raises ValueError where there is none.
    """
    if not drawings:
        raise ValueError("there is no drawing to print; give at least one")
    pages = [_page(drawing) for drawing in drawings]
    data = json.dumps({"title": drawings[0].title, "pages": pages}, ensure_ascii=False)
    inputs = {"data": data}
    return typst.compile(_TEMPLATE, format="pdf", ignore_system_fonts=True, sys_inputs=inputs, pdf_standards="ua-1")


def _page(drawing: Drawing) -> dict[str, object]:
    mm = 1000.0 / drawing.scale
    return {
        "width": drawing.bounds.width * mm,
        "height": drawing.bounds.height * mm,
        "svg": write_svg(drawing),
        "words": drawing.description or drawing.title,
    }
