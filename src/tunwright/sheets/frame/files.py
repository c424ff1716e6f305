"""The drawings of the loaded frame and the mounting sheets as files: SVG, DXF and PDF."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Drawing
from tunwright.sheets.dxf import write_dxf
from tunwright.sheets.frame.chosen import FrameNotKnown
from tunwright.sheets.frame.hole_sheets import hole_drawing, hole_sheets
from tunwright.sheets.frame.mounting import mounting_sheet
from tunwright.sheets.frame.sheets import envelope_sheet, frame_sheet, twist_sheet
from tunwright.sheets.pdf import drawings_pdf
from tunwright.sheets.svg import write_svg
from tunwright.sheets.whole_file import written

Draw = Callable[[Assessment, str | None], Drawing]

DRAWINGS: dict[str, tuple[str, Draw]] = {
    "frame": ("frame, worst case", lambda a, mark: frame_sheet(a, build_hash=mark)),
    "frame-rest": ("frame, worst at rest", lambda a, mark: frame_sheet(a, build_hash=mark, static=True)),
    "frame-envelope": ("frame, all cases", lambda a, mark: envelope_sheet(a, build_hash=mark)),
    "twist": ("frame, worst twist", lambda a, mark: twist_sheet(a, build_hash=mark)),
    "mounting": ("mounting", lambda a, mark: mounting_sheet(a, build_hash=mark)),
    "holes": ("drilled holes of a rail, true to size", lambda a, _: hole_drawing(a)),
}
"""File name -> what it shows and who draws it; from an assessment and the SHA-256 of the build file."""

_ON_PAPER = ("frame", "frame-rest", "frame-envelope", "twist")


def frame_pdf(assessment: Assessment, *, build_hash: str | None = None) -> bytes:
    """Worst case, worst at rest, envelopes and twist as a PDF; without the twist where no wheel can be lifted.

    assessment: the assessment
    build_hash: SHA-256 of the build file, for the title blocks
    Raises FrameNotKnown where the frame cannot be loaded.
    """
    sheets = [DRAWINGS[name][1](assessment, build_hash) for name in _ON_PAPER[:-1]]
    with suppress(FrameNotKnown):
        sheets.append(DRAWINGS[_ON_PAPER[-1]][1](assessment, build_hash))
    return drawings_pdf(sheets)


def mounting_pdf(assessment: Assessment, *, build_hash: str | None = None) -> bytes:
    """The mounting sheet and, where mounts have bolts in the web, the sheets of the holes, as a PDF.

    assessment: the assessment
    build_hash: SHA-256 of the build file, for the title blocks
    Raises FrameNotKnown where frame or mounts are not known.
    """
    sheets = [mounting_sheet(assessment, build_hash=build_hash)]
    with suppress(FrameNotKnown):
        sheets += hole_sheets(assessment, build_hash=build_hash)
    return drawings_pdf(sheets)


def write_frame_drawings(
    assessment: Assessment, folder: Path, *, build_hash: str | None = None
) -> tuple[list[Path], list[str]]:
    """Writes what can be drawn of the frame and its mounting, and says why the rest is left out.

    assessment: the assessment
    folder: made where it does not exist
    build_hash: SHA-256 of the build file, for the title blocks
    Raises OSError when the folder cannot be written to.
    """
    files: list[Path] = []
    left_out: dict[str, None] = {}
    for name, (_, draw) in DRAWINGS.items():
        try:
            drawing = draw(assessment, build_hash)
        except FrameNotKnown as error:
            left_out[str(error)] = None
            continue
        files.append(written(folder / f"{name}.svg", write_svg(drawing).encode()))
        files.append(write_dxf(drawing, folder / f"{name}.dxf"))
    for name, make in (("frame", frame_pdf), ("mounting", mounting_pdf)):
        with suppress(FrameNotKnown):
            files.append(written(folder / f"{name}.pdf", make(assessment, build_hash=build_hash)))
    return files, list(left_out)
