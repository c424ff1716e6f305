"""Searches the place of one dimension figure among the texts and lines already on the sheet.

All work is done in the dimension's own axes: t along the reading direction, n upwards of it, from the middle of its
line, in millimetres of paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from tunwright.sheets.annotate import ARROW_MM, TEXT_GAP_MM, DimensionFrame, dimension_frame, leader_path
from tunwright.sheets.drawing import LinearDimension, Point
from tunwright.sheets.lettering import SPARE, text_width
from tunwright.sheets.placing import Numbers, Truths, crosses, four_wide, meet, overlaps

_ROW = 1.75  # distance of rows of moved figures, in letter heights
_SIDE_MM = 1.0
_STEP_MM = 2.0
_UNDER_MM = 1.2  # further down, so that a figure under its line clears the ends of the extension lines
_CLEAR_MM = 0.4  # room kept between boxes
_CROSSING = 4.0  # what crossing a line costs, in letter heights of distance


@dataclass
class Obstacles:
    """What is on the sheet [m]: corners of text boxes, lines of the drawing, leaders of figures already moved."""

    boxes: list[tuple[Point, ...]] = field(default_factory=list)
    lines: list[tuple[Point, Point]] = field(default_factory=list)
    leaders: list[tuple[Point, Point]] = field(default_factory=list)


@dataclass(frozen=True)
class _Local:
    """Obstacles in the dimension's axes [mm]: boxes (n, 4), lines and leaders (n, 4)."""

    boxes: Numbers
    lines: Numbers
    leaders: Numbers


def span_mm(dim: LinearDimension, scale: float) -> float:
    """Length of the dimension line on paper [mm]."""
    return dimension_frame(dim, scale).span * 1000.0 / scale


def figure_fits(dim: LinearDimension, scale: float) -> bool:
    """Whether the figure is narrower than its line."""
    return 2.0 * _half_width(dim) <= span_mm(dim, scale)


def figure_shift(dim: LinearDimension, obstacles: Obstacles, scale: float) -> Point:
    """The shift [mm] that brings the figure to a free place; (0, 0) when the usual place is free."""
    frame = dimension_frame(dim, scale)
    boxes = _rectangles(obstacles.boxes, frame, scale)
    usual = _figure_boxes(dim, np.zeros((1, 2)))
    if not dim.text or (figure_fits(dim, scale) and not overlaps(usual, boxes).any()):
        return (0.0, 0.0)
    lines, leaders = (_segments(found, frame, scale) for found in (obstacles.lines, obstacles.leaders))
    return _cheapest(dim, _Local(boxes, lines, leaders), scale)


def _axes(points: Sequence[tuple[Point, ...]], frame: DimensionFrame, scale: float) -> Numbers:
    """Points of shape (n, k, 2) [m] as (t, n), each of shape (n, k) [mm]."""
    offset = np.asarray(points, dtype=float) - np.asarray(frame.place(0.0, 0.0))
    return np.stack((offset @ np.asarray(frame.along), offset @ np.asarray(frame.up))) * (1000.0 / scale)


def _segments(lines: Sequence[tuple[Point, ...]], frame: DimensionFrame, scale: float) -> Numbers:
    if not lines:
        return four_wide([])
    t, n = _axes(lines, frame, scale)
    return np.stack((t[:, 0], n[:, 0], t[:, 1], n[:, 1]), axis=-1)


def _rectangles(boxes: Sequence[tuple[Point, ...]], frame: DimensionFrame, scale: float) -> Numbers:
    if not boxes:
        return four_wide([])
    t, n = _axes(boxes, frame, scale)
    return np.stack((t.min(axis=1), n.min(axis=1), t.max(axis=1), n.max(axis=1)), axis=-1)


def _half_width(dim: LinearDimension) -> float:
    return SPARE * text_width(dim.text, dim.height_mm) / 2.0 + _CLEAR_MM


def _figure_boxes(dim: LinearDimension, shifts: Numbers) -> Numbers:
    """Boxes (c, 4) for the figure moved by each of the shifts (c, 2)."""
    half = _half_width(dim)
    low, high = TEXT_GAP_MM - 0.33 * dim.height_mm, TEXT_GAP_MM + 1.1 * dim.height_mm
    t, n = shifts[:, 0], shifts[:, 1]
    return np.stack((t - half, n + low, t + half, n + high), axis=-1)


def _candidates(dim: LinearDimension, scale: float, outward: float) -> Numbers:
    """Shifts to try: beside the line, then rows further out and further in, over the line or to either side."""
    half = _half_width(dim)
    beside = span_mm(dim, scale) / 2.0 + half + _SIDE_MM + (2.0 * ARROW_MM if "out" in dim.ends else 0.0)
    away = [half + _SIDE_MM + _STEP_MM * i for i in range(8)]
    rows = [outward * _ROW * dim.height_mm * k for k in (1, 2, 3, 4, 5, -1, -2, -3)]
    rows = [row if row > 0.0 else row - _UNDER_MM for row in rows]
    places = [(beside, 0.0), (-beside, 0.0)]
    places += [(t, n) for n in rows for t in (0.0, *away, *(-x for x in away))]
    return np.asarray(places, dtype=float)


def _cheapest(dim: LinearDimension, on_sheet: _Local, scale: float) -> Point:
    """The cheapest place free of texts, its leader free of them too if possible; else a row beyond all texts."""
    outward = dimension_frame(dim, scale).outward
    shifts = _candidates(dim, scale, outward)
    rects = _figure_boxes(dim, shifts)
    cost = np.abs(shifts[:, 1]) + 0.35 * np.abs(shifts[:, 0])
    cost += np.where(shifts[:, 1] * outward < 0.0, dim.height_mm, 0.0)
    drawn = np.concatenate((on_sheet.lines, on_sheet.leaders))
    cost += _CROSSING * dim.height_mm * crosses(drawn[None, :, :], rects[:, None, :]).sum(axis=1)
    taken = overlaps(rects[:, None, :], on_sheet.boxes[None, :, :]).any(axis=1)
    taken |= (shifts[:, 1] == 0.0) & _runs_into(rects, shifts, on_sheet.lines)
    order = [i for i in np.argsort(cost, kind="stable") if not taken[i]]
    if order:
        paths = [leader_path(dim, span_mm(dim, scale), (t, n))[:2] for t, n in shifts[order].tolist()]
        clear = _free_leaders(np.asarray(paths).reshape(-1, 4), on_sheet)
        best = shifts[order][int(np.argmax(clear))]  # the first with a free leader, or the first of all
        return (float(best[0]), float(best[1]))
    return (0.0, max(0.0, float(on_sheet.boxes[:, 3].max())) + dim.height_mm)


def _runs_into(rects: Numbers, shifts: Numbers, lines: Numbers) -> Truths:
    """Whether a figure beside its line would stand on another line, for instance on the next dimension of a run."""
    feet = rects - np.asarray([0.0, 1.0, 0.0, 0.0])
    on_line = np.abs(lines[:, [1, 3]]).max(axis=1) < 1e-6
    reach = float(np.abs(shifts[shifts[:, 1] == 0.0, 0]).min())
    others = lines[~(on_line & (np.abs(lines[:, [0, 2]]).max(axis=1) <= reach))]
    return np.asarray(crosses(others[None, :, :], feet[:, None, :]).any(axis=1))


def _free_leaders(leaders: Numbers, on_sheet: _Local) -> Truths:
    """Which leaders (c, 4), shelves left out, meet no text and no leader of another figure."""
    texts = crosses(leaders[:, None, :], on_sheet.boxes[None, :, :]).any(axis=1)
    return np.asarray(~texts & ~meet(leaders[:, None, :], on_sheet.leaders[None, :, :]).any(axis=1))
