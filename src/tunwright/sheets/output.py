"""The drawings of a build as files: every view alone and the general arrangement, as SVG and as DXF."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from tunwright.checks.assess import Assessment
from tunwright.sheets.drawing import Drawing, Entity
from tunwright.sheets.dxf import write_dxf
from tunwright.sheets.layout import SCALES, compose, extents
from tunwright.sheets.svg import write_svg
from tunwright.sheets.views import general_arrangement, plan_view, rear_view, side_view
from tunwright.sheets.views.lifting import lifting_drawing
from tunwright.sheets.whole_file import written
from tunwright.truck.states import LoadState

VIEWS: dict[str, tuple[str, Callable[..., list[Entity]]]] = {
    "side": ("side view", side_view),
    "rear": ("rear view", rear_view),
    "plan": ("plan", plan_view),
}
"""File name -> what it shows and who draws it."""

_ROOM = (400.0, 277.0)  # what a view alone may take [mm]
_MARGIN = 5.0


def view_drawing(assessment: Assessment, name: str, *, state: LoadState | None = None) -> Drawing:
    """One view as a finished drawing at the largest standard scale that fits an A3 sheet.

    name: side, rear or plan
    Raises KeyError when there is no such view, ValueError when it fits at no scale.
    """
    words, draw = VIEWS[name]
    title = f"{assessment.build.order.title}, {words}"
    for scale in SCALES:
        entities = draw(assessment, state=state, scale=scale)
        room = extents(entities, scale)
        mm = 1000.0 / scale
        if room.width * mm + 2.0 * _MARGIN <= _ROOM[0] and room.height * mm + 2.0 * _MARGIN <= _ROOM[1]:
            return compose(title, entities, scale=scale, margin_mm=_MARGIN, description=f"{title} at 1:{scale:g}.")
    raise ValueError(f"the {words} does not fit {_ROOM[0]:g} x {_ROOM[1]:g} mm even at 1:{SCALES[-1]:g}")


def lifting_view(assessment: Assessment) -> Drawing:
    """The tank on the hook from two sides, at the largest standard scale that fits an A3 sheet.

    Raises ValueError where the build says nothing of a lift, or where it fits at no scale.
    """
    return lifting_drawing(assessment, width_mm=_ROOM[0] - 2.0 * _MARGIN, height_mm=_ROOM[1] - 2.0 * _MARGIN)


def write_drawings(
    assessment: Assessment, folder: Path, *, state: LoadState | None = None, build_hash: str | None = None
) -> list[Path]:
    """Writes side, rear, plan, arrangement and, where the build has one, lifting, as .svg and .dxf; gives the files.

    folder: made where it does not exist
    state: load state shown; full, crew aboard and level where none is given
    build_hash: SHA-256 of the build file, for the title block
    Raises OSError when the folder cannot be written to.
    """
    folder.mkdir(parents=True, exist_ok=True)
    drawings = {name: view_drawing(assessment, name, state=state) for name in VIEWS}
    drawings["arrangement"] = general_arrangement(assessment, state=state, build_hash=build_hash)
    if assessment.build.lifting is not None:
        drawings["lifting"] = lifting_view(assessment)
    files: list[Path] = []
    for name, drawing in drawings.items():
        files.append(written(folder / f"{name}.svg", write_svg(drawing).encode()))
        files.append(write_dxf(drawing, folder / f"{name}.dxf"))
    return files
