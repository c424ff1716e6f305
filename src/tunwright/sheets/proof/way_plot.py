"""The way that was driven, to scale, without a map: the more water on each metre, the thicker the line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from tunwright.build.factors import FOOT
from tunwright.build.kind import System
from tunwright.build.shown import show_number
from tunwright.proof.along import Segment
from tunwright.proof.delivery_log import Deliveries
from tunwright.sheets.drawing import Circle, Drawing, Entity, Line, Point, Polyline, Text
from tunwright.sheets.layout import compose
from tunwright.sheets.proof.delivery_figures import PER_METRE
from tunwright.sheets.ticks import decimals, round_step

WIDE, HIGH = 176.0, 190.0  # of paper [mm]
POOLS = 12
"""Most pools that are numbered."""

_THICK = (0.5, 1.0, 1.6, 2.4)  # of the lines, least water to most [mm]
_SCALES = tuple(step * 10.0**power for power in range(2, 8) for step in (1.0, 2.0, 2.5, 5.0))
_NEAR = 0.4  # points nearer than this on paper are one [mm]
_POOL = 2.0  # radius of the mark of a pool [mm]
_TINY = 1e-9


@dataclass(frozen=True)
class _Classes:
    """Which thickness stands for how much water: `step` wide each [m3/m]."""

    step: float

    def of(self, segment: Segment) -> int:
        """-1 for no water, else the thickness."""
        if segment.volume <= _TINY:
            return -1
        return min(int(segment.per_metre / self.step * (1.0 - 1e-9)), len(_THICK) - 1)


def way_drawing(one: Deliveries, system: System) -> Drawing:
    """The way, its water and its pools, at the largest round scale that fits the page.

    one: a log with places
    system: "metric" or "us"
    Raises ValueError where there are no places, or the vehicle never moved.
    """
    segments = one.along.segments()
    if not one.log.has_places or not segments:
        raise ValueError("the log has no places, or the vehicle did not move")
    for scale in _SCALES:
        if _reach(one) * 1000.0 / scale > 2.0 * max(WIDE, HIGH):
            continue
        drawing = _drawn(one, segments, scale, system)
        mm = 1000.0 / scale
        if drawing.bounds.width * mm <= WIDE and drawing.bounds.height * mm <= HIGH:
            return drawing
    raise ValueError("the way is too long for a page")


def _reach(one: Deliveries) -> float:
    """Greatest extent of the way [m]."""
    return max(float(np.nanmax(axis) - np.nanmin(axis)) for axis in (one.log.east, one.log.north))


def _drawn(one: Deliveries, segments: Sequence[Segment], scale: float, system: System) -> Drawing:
    classes = _Classes(_step(segments, system))
    road = list(_road(one, segments, classes, scale))
    marks = list(_marks(one, scale))
    foot = list(_foot(one, classes, scale, system))
    said = f"The way that was driven, at 1:{scale:g}, north up; the thicker the line, the more water on each metre"
    return compose("The way and the water on it", [*road, *marks, *foot], scale=scale, description=said)


def _step(segments: Sequence[Segment], system: System) -> float:
    """Round width of a class [m3/m]."""
    size = PER_METRE[system][1]
    most = max(segment.per_metre for segment in segments) / size
    return size * round_step(most, len(_THICK)) if most > 0.0 else size


def _road(one: Deliveries, segments: Sequence[Segment], classes: _Classes, scale: float) -> Iterator[Entity]:
    """The way in its thicknesses, thin ones first, so that the others lie over them."""
    along, mm = one.along, scale / 1000.0
    runs = _runs(one, segments, classes)
    for step in np.flatnonzero(~along.placed & np.isfinite(one.log.gone) & (one.log.gone > _NEAR * mm)):
        if not along.jumps[step]:
            yield Line(_at(one, int(step)), _at(one, int(step) + 1), "centre")
    for kind in range(-1, len(_THICK)):
        for rows in (rows for which, rows in runs if which == kind):
            points = _thinned([_at(one, row) for row in rows], _NEAR * mm)
            if kind < 0:
                yield Polyline(tuple(points), "hidden")
            else:
                yield from _ribbon(points, 0.5 * _THICK[kind] * mm)


def _runs(one: Deliveries, segments: Sequence[Segment], classes: _Classes) -> list[tuple[int, list[int]]]:
    """Rows in an unbroken line of one thickness, with that thickness."""
    along = one.along
    edges = np.array([segment.end for segment in segments])
    middle = 0.5 * (along.driven[:-1] + along.driven[1:])
    kinds = np.array([classes.of(segment) for segment in segments])[
        np.minimum(np.searchsorted(edges, middle), len(segments) - 1)
    ]
    moves = along.placed & (along.driven[1:] > along.driven[:-1])
    found: list[tuple[int, list[int]]] = []
    last = -2
    for step in np.flatnonzero(moves).tolist():
        stood = along.stands[last + 1 : step].all() if found else False
        if found and found[-1][0] == kinds[step] and stood:
            found[-1][1].append(step + 1)
        else:
            found.append((int(kinds[step]), [step, step + 1]))
        last = step
    return found


def _at(one: Deliveries, row: int) -> Point:
    return float(one.log.east[row]), float(one.log.north[row])


def _thinned(points: Sequence[Point], near: float) -> list[Point]:
    """The points without those that lie closer than can be seen; both ends stay."""
    kept = [points[0]]
    for point in points[1:-1]:
        if math.dist(point, kept[-1]) >= near:
            kept.append(point)
    return [*kept, points[-1]]


def _ribbon(points: Sequence[Point], half: float) -> Iterator[Entity]:
    """A line of a thickness with round corners."""
    for a, b in pairwise(points):
        reach = math.dist(a, b)
        if reach > 0.0:
            u, v = -half * (b[1] - a[1]) / reach, half * (b[0] - a[0]) / reach
            corners = ((a[0] + u, a[1] + v), (b[0] + u, b[1] + v), (b[0] - u, b[1] - v), (a[0] - u, a[1] - v))
            yield Polyline(corners, "area", closed=True, fill="accent")
    for point in points:
        yield Circle(point, half, "area", fill="accent")


def _marks(one: Deliveries, scale: float) -> Iterator[Entity]:
    """Where the log begins and ends, and its pools."""
    mm, known = scale / 1000.0, np.flatnonzero(np.isfinite(one.log.east))
    ends = [("start", _at(one, int(known[0]))), ("end", _at(one, int(known[-1])))]
    together = math.dist(ends[0][1], ends[1][1]) < 6.0 * mm
    for i, (name, point) in enumerate([("start and end", ends[0][1])] if together else ends):
        yield Circle(point, 0.9 * mm, "outline", fill="sheet")
        yield Text(point, name, shift_mm=(2.0, 1.8 if i == 0 else -4.0), bold=True, halo=True)
    for i, pool in enumerate(one.along.pools[:POOLS], start=1):
        if math.isfinite(pool.east):
            yield Circle((pool.east, pool.north), _POOL * mm, "thin", fill="sheet")
            yield Text((pool.east, pool.north), str(i), anchor="middle", bold=True, shift_mm=(0.0, -1.1), height_mm=2.2)


def _foot(one: Deliveries, classes: _Classes, scale: float, system: System) -> Iterator[Entity]:
    """North arrow, scale bar and legend under the way."""
    mm = scale / 1000.0
    left, top = float(np.nanmin(one.log.east)), float(np.nanmin(one.log.north)) - 9.0 * mm
    yield from _arrow((left + 4.0 * mm, top - 14.0 * mm), mm)
    yield from _bar((left + 14.0 * mm, top - 14.0 * mm), scale, system)
    yield from _legend(one, classes, (left, top - 25.0 * mm), mm, system)


def _arrow(at: Point, mm: float) -> Iterator[Entity]:
    u, v = at
    tip, foot, wing = (u, v + 10.0 * mm), (u, v + 2.0 * mm), 2.6 * mm
    yield Polyline((tip, (u - wing, v), foot), "thin", closed=True, fill="ink")
    yield Polyline((tip, (u + wing, v), foot), "thin", closed=True, fill="sheet")
    yield Text(tip, "N", anchor="middle", bold=True, shift_mm=(0.0, 1.2))


def _bar(at: Point, scale: float, system: System) -> Iterator[Entity]:
    """Four pieces, black and white, of a round length."""
    unit, size = ("m", 1.0) if system == "metric" else ("ft", float(FOOT))
    mm = scale / 1000.0
    piece = round_step(40.0 * mm / size, 4) * size
    piece = piece if piece * 4 <= 60.0 * mm else 0.5 * piece
    u, v = at
    for i in range(4):
        a, b = u + i * piece, u + (i + 1) * piece
        corners = ((a, v), (b, v), (b, v + 1.4 * mm), (a, v + 1.4 * mm))
        yield Polyline(corners, "thin", closed=True, fill="ink" if i % 2 == 0 else "sheet")
    for i in (0, 2, 4):
        value = i * piece / size
        unit_too = f" {unit}" if i == 4 else ""
        text = show_number(value, decimals(piece / size)) + unit_too
        yield Text((u + i * piece, v), text, anchor="middle", shift_mm=(0.0, 2.6))
    yield Text((u, v), f"scale 1:{show_number(scale)}", "note", shift_mm=(0.0, -4.0))


def _legend(one: Deliveries, classes: _Classes, at: Point, mm: float, system: System) -> Iterator[Entity]:
    """A piece of every line that is drawn, with what it stands for, in two columns."""
    symbol, size = PER_METRE[system]
    places = decimals(classes.step / size)
    rows: list[tuple[int | str, str]] = []
    wet = one.along.on_the_way > _TINY
    for thick in range(len(_THICK) if wet else 0):
        low, high = (show_number((thick + i) * classes.step / size, places) for i in (0, 1))
        rows.append((thick, f"{low} to {high} {symbol}" if thick else f"up to {high} {symbol}"))
    rows.append(("hidden", "driven, no water"))
    if one.log.gaps.any() or one.along.nowhere > _TINY:
        rows.append(("centre", "not logged: straight, not driven so"))
    if one.along.pools:
        rows.append(("pool", "water while the vehicle stood, see the table"))
    for i, (kind, words) in enumerate(rows):
        u, v = at[0] + (i % 2) * 62.0 * mm, at[1] - (i // 2) * 6.0 * mm
        a, b = (u, v), (u + 12.0 * mm, v)
        if isinstance(kind, int):
            yield from _ribbon((a, b), 0.5 * _THICK[kind] * mm)
        elif kind == "pool":
            yield Circle((u + 6.0 * mm, v), _POOL * mm, "thin", fill="sheet")
        else:
            yield Line(a, b, kind)
        yield Text(b, words, shift_mm=(3.0, -1.1))
