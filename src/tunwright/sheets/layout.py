"""From entities to a drawing: extents, a standard scale that fits, several views on one sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Literal

from tunwright.sheets.annotate import flatten
from tunwright.sheets.drawing import Bounds, Drawing, Entity, Group
from tunwright.sheets.geometry import extreme_points, moved_group
from tunwright.sheets.settle import settle

SCALES = (1.0, 2.0, 5.0, 10.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0)
MARGIN_MM = 3.0


def extents(entities: Iterable[Entity], scale: float) -> Bounds:
    """The smallest rectangle [m] around all entities at 1:scale, lettering included (line weights are not)."""
    points = [point for part in flatten(entities, scale) for point in extreme_points(part, scale)]
    if not points:
        raise ValueError("there is nothing to draw; give at least one entity, for example Line((0, 0), (1, 0))")
    us, vs = [p[0] for p in points], [p[1] for p in points]
    return Bounds(min(us), min(vs), max(us), max(vs))


def compose(
    title: str,
    entities: Iterable[Entity],
    *,
    scale: float | None = None,
    width_mm: float = 270.0,
    height_mm: float = 180.0,
    margin_mm: float = MARGIN_MM,
    description: str = "",
) -> Drawing:
    """A finished drawing: scale chosen (or given), dimension figures settled, bounds with a margin around.

    scale: 1:scale; None takes the largest of `SCALES` that fits width_mm by height_mm of paper
    Raises ValueError when none fits.
    """
    tree = tuple(entities)
    if scale is None:
        scale = fitting_scale(tree, width_mm=width_mm, height_mm=height_mm, margin_mm=margin_mm)
    settled = settle(tree, scale)
    bounds = extents(settled, scale).grown(margin_mm * scale / 1000.0)
    return Drawing(title, settled, bounds, scale, description)


def fitting_scale(
    entities: Iterable[Entity],
    *,
    width_mm: float,
    height_mm: float,
    margin_mm: float = MARGIN_MM,
    scales: Sequence[float] = SCALES,
) -> float:
    """The largest picture among standard scales that fits the paper, texts and margins included.

    Raises ValueError when even the last of `scales` does not fit.
    """
    tree = tuple(entities)
    for scale in scales:
        needed = _paper_size(extents(tree, scale), scale, margin_mm)
        if needed[0] > width_mm or needed[1] > height_mm:
            continue  # too large already: no need to settle the figures
        needed = _paper_size(extents(settle(tree, scale), scale), scale, margin_mm)
        if needed[0] <= width_mm and needed[1] <= height_mm:
            return scale
    raise ValueError(
        f"the drawing needs {needed[0]:.0f} x {needed[1]:.0f} mm at 1:{scales[-1]:g} but the paper has "
        f"{width_mm:g} x {height_mm:g} mm; use larger paper, for example 420 x 297 mm, or fewer views"
    )


def arrange(
    views: Sequence[Group],
    *,
    scale: float,
    gap_mm: float = 12.0,
    direction: Literal["right", "down"] = "right",
) -> tuple[Group, ...]:
    """Views on one sheet, each moved past the one before it by its own extents plus a gap on paper [mm].

    "right" keeps v (a side and a rear view stand on one road), "down" keeps u (a plan under its side view). The
    dimension figures are settled at 1:scale, so give the same scale to `compose`.
    """
    placed: list[Group] = []
    edge: float | None = None
    for view in views:
        settled = replace(view, entities=settle(view.entities, scale))
        room = extents([settled], scale)
        step = 0.0
        if edge is not None:
            gap = gap_mm * scale / 1000.0
            step = edge + gap - room.left if direction == "right" else edge - gap - room.top
        placed.append(moved_group(settled, *((step, 0.0) if direction == "right" else (0.0, step))))
        edge = (room.right if direction == "right" else room.bottom) + step
    return tuple(placed)


def _paper_size(room: Bounds, scale: float, margin_mm: float) -> tuple[float, float]:
    return (room.width * 1000.0 / scale + 2.0 * margin_mm, room.height * 1000.0 / scale + 2.0 * margin_mm)
