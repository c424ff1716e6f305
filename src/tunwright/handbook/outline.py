"""Closed plane outlines: the inside cross-section of a tank, of a sump, of a plate.

An outline lies in the y-z plane (y to the right, z up) and runs anticlockwise. Curves are replaced by chords whose
corners stand a hair outside the curve, so that every arc keeps its exact area; with the default fineness the area
under any level is right to about 1e-7 of the whole.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

CHORDS = 512
"""Chords in a full turn of a curve."""

LEAST = 96
"""Fewest chords in one arc: shallow arcs of a large radius need them."""

CORNER = math.radians(4.0)
"""A vertex that turns by more than this is a corner, not part of a curve [rad]."""


_kept = lru_cache(maxsize=64)  # a section asked for again is the same outline, and keeps its level tables


class OutlineError(ValueError):
    """An outline that cannot exist; the message says which measure is wrong."""


@dataclass(frozen=True, eq=False)
class Outline:
    """A closed outline.

    points: vertices (n, 2), columns y and z [m], anticlockwise, the first not repeated
    drawn: vertices (m, 3) for drawings, columns y, z [m] and bulge (tan of a quarter of the arc's angle)
    """

    points: Floats
    drawn: Floats = field(repr=False)

    @property
    def area(self) -> float:
        """Enclosed area [m2], by the surveyor's formula."""
        y, z = self.points.T
        return float(0.5 * np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z))

    @property
    def centroid(self) -> tuple[float, float]:
        """Centroid (y, z) of the enclosed area [m]."""
        y, z = self.points.T
        y2, z2 = np.roll(y, -1), np.roll(z, -1)
        cross = y * z2 - y2 * z
        six_areas = 3.0 * float(np.sum(cross))
        return float(np.sum((y + y2) * cross)) / six_areas, float(np.sum((z + z2) * cross)) / six_areas

    @property
    def perimeter(self) -> float:
        """Length of the outline [m]."""
        return float(np.sum(np.hypot(*(np.roll(self.points, -1, axis=0) - self.points).T)))

    @property
    def lowest(self) -> float:
        """Lowest z [m]."""
        return float(self.points[:, 1].min())

    @property
    def highest(self) -> float:
        """Highest z [m]."""
        return float(self.points[:, 1].max())

    @property
    def left(self) -> float:
        """Leftmost y [m]."""
        return float(self.points[:, 0].min())

    @property
    def right(self) -> float:
        """Rightmost y [m]."""
        return float(self.points[:, 0].max())

    def joints(self) -> Floats:
        """Points where lines and arcs join or the outline turns sharply, (k, 2) [m]: no smooth functions of the level
        go through them.
        """
        if np.any(self.drawn[:, 2]):
            return self.drawn[:, :2]
        ahead = np.roll(self.points, -1, axis=0) - self.points
        heading = np.arctan2(ahead[:, 1], ahead[:, 0])
        turn = np.abs((heading - np.roll(heading, 1) + math.pi) % (2 * math.pi) - math.pi)
        return self.points[turn > CORNER]

    def chord_at(self, y: float) -> tuple[float, float] | None:
        """Lowest and highest z of the outline on a vertical line [m], or None where the line misses it.

        y: where the line stands [m]
        """
        low, high = self.chords(np.array([y]))[0].tolist()
        return None if math.isnan(low) else (low, high)

    def chords(self, y: Floats) -> Floats:
        """Lowest and highest z on vertical lines (n, 2) [m]; NaN where a line misses the outline.

        y: where the lines stand (n,) [m]
        """
        one = self.points
        two = np.roll(one, -1, axis=0)
        line, edge = np.nonzero((one[:, 0] <= y[:, None]) != (two[:, 0] <= y[:, None]))
        share = (y[line] - one[edge, 0]) / (two[edge, 0] - one[edge, 0])
        z = one[edge, 1] + share * (two[edge, 1] - one[edge, 1])
        found = np.tile([np.inf, -np.inf], (len(y), 1))
        np.minimum.at(found[:, 0], line, z)
        np.maximum.at(found[:, 1], line, z)
        found[found[:, 0] > found[:, 1]] = np.nan
        return found


@_kept
def ellipse(*, width: float, height: float) -> Outline:
    """An ellipse standing on z = 0; a circle where width equals height.

    width: overall width [m], above 0
    height: overall height [m], above 0
    """
    _positive(width=width, height=height)
    step = 2 * math.pi / CHORDS
    swell = math.sqrt(step / math.sin(step))
    turn = np.arange(CHORDS) * step
    points = np.column_stack([0.5 * width * swell * np.cos(turn), 0.5 * height * (1 + swell * np.sin(turn))])
    if width == height:
        right, left = [0.5 * width, 0.5 * height, 1.0], [-0.5 * width, 0.5 * height, 1.0]
        return Outline(points, np.array([right, left]))
    return Outline(points, _thinned(points))


@_kept
def super_ellipse(*, width: float, height: float, exponent: float) -> Outline:
    """The curve |2y/w|^n + |2z/h|^n = 1, standing on z = 0 (Lame's curve; n = 2 is the ellipse).

    width: overall width [m], above 0
    height: overall height [m], above 0
    exponent: n, from 2 (ellipse) to 10 (nearly a rectangle) [-]
    """
    _positive(width=width, height=height)
    if not 2 <= exponent <= 10:
        raise OutlineError(f"a super-ellipse needs an exponent from 2 to 10, not {exponent:g}")
    turn = np.arange(4 * CHORDS) * 2 * math.pi / (4 * CHORDS)
    cos, sin = np.cos(turn), np.sin(turn)
    y = 0.5 * width * np.sign(cos) * np.abs(cos) ** (2 / exponent)
    z = 0.5 * height * np.sign(sin) * np.abs(sin) ** (2 / exponent)
    exact = width * height * math.gamma(1 + 1 / exponent) ** 2 / math.gamma(1 + 2 / exponent)
    swell = math.sqrt(exact / polygon(np.column_stack([y, z])).area)
    points = np.column_stack([y * swell, 0.5 * height + z * swell])
    return Outline(points, _thinned(points))


@_kept
def rectangle(*, width: float, height: float, corner_radius: float = 0.0) -> Outline:
    """A rectangle standing on z = 0 with equal rounded corners.

    width: overall width [m], above 0
    height: overall height [m], above 0
    corner_radius: radius of the four corners [m], 0 to half the shorter side
    """
    return rounded_box(width=width, height=height, top_corner=corner_radius, bottom_corner=corner_radius)


@_kept
def rounded_box(
    *,
    width: float,
    height: float,
    top_radius: float = math.inf,
    side_radius: float = math.inf,
    bottom_radius: float = math.inf,
    top_corner: float = 0.0,
    bottom_corner: float = 0.0,
) -> Outline:
    """A box of arcs: crowned top, sides and bottom joined by tangent corner arcs; widest at half height.

    width: overall width [m], above 0
    height: overall height [m], above 0
    top_radius: radius of the top arc [m], at least half the width; infinite is flat
    side_radius: radius of the side arcs [m], at least half the height; infinite is flat
    bottom_radius: radius of the bottom arc [m], at least half the width; infinite is flat
    top_corner: radius of the two upper corner arcs [m], 0 is a sharp corner
    bottom_corner: radius of the two lower corner arcs [m], 0 is a sharp corner
    """
    _positive(width=width, height=height)
    half = (0.5 * width, 0.5 * height)
    up, up_bulge = _quarter(half, top_radius, side_radius, top_corner, "top")
    down, down_bulge = _quarter(half, bottom_radius, side_radius, bottom_corner, "bottom")
    points = [*up[:0:-1], *up[:3] * (-1, 1), *down[:0:-1] * (-1, -1), *down[:3] * (1, -1)]
    bulges = [*up_bulge[::-1], *up_bulge, *down_bulge[::-1], *down_bulge]
    drawn = np.column_stack([np.array(points) + np.array([0.0, half[1]]), bulges])
    return _from_bulges(drawn[~_repeated(drawn)])


def _quarter(half: tuple[float, float], end: float, side: float, corner: float, name: str) -> tuple[Floats, Floats]:
    """Upper right quarter from the middle of the top (0, H/2) to the widest point (W/2, 0): 4 vertices, 3 bulges."""
    (a, b) = half
    for radius, least, what in ((end, a, f"{name} radius"), (side, b, "side radius")):
        if radius < least:
            raise OutlineError(f"the {what} of {radius:g} m is less than half the box, {least:g} m: it cannot span it")
    if corner < 0 or corner > min(a, b):
        raise OutlineError(f"the {name} corner radius of {corner:g} m must lie between 0 and {min(a, b):g} m")
    centre = _corner_centre(a, b, end, side, corner)
    on_end = _foot(centre, (0.0, b), end, corner, vertical=True)
    on_side = _foot(centre, (a, 0.0), side, corner, vertical=False)
    if min(on_end[0], on_side[1], *centre) < -1e-12:
        raise OutlineError(f"the {name} corner radius of {corner:g} m does not fit between the arcs of the box")
    vertices = np.array([(0.0, b), on_end, on_side, (a, 0.0)])
    radii = (end, corner, side)
    return vertices, np.array([_bulge(vertices[i], vertices[i + 1], radii[i]) for i in range(3)])


def _corner_centre(a: float, b: float, end: float, side: float, corner: float) -> tuple[float, float]:
    """Centre of the corner arc that touches the end arc and the side arc from inside."""
    if math.isinf(end) and math.isinf(side):
        return a - corner, b - corner
    if math.isinf(end):
        z = b - corner
        return a - side + math.sqrt((side - corner) ** 2 - z * z), z
    if math.isinf(side):
        y = a - corner
        return y, b - end + math.sqrt((end - corner) ** 2 - y * y)
    return _circles_meet((0.0, b - end), end - corner, (a - side, 0.0), side - corner)


def _circles_meet(p: tuple[float, float], r: float, q: tuple[float, float], s: float) -> tuple[float, float]:
    """The right-hand upper intersection of two circles."""
    dy, dz = q[0] - p[0], q[1] - p[1]
    apart = math.hypot(dy, dz)
    along = (apart * apart + r * r - s * s) / (2 * apart) if apart else 0.0
    across = r * r - along * along
    if not apart or across < 0:
        raise OutlineError("the arcs of the box do not meet: enlarge the corner radius or the side radius")
    reach = math.sqrt(across)
    foot = (p[0] + along * dy / apart, p[1] + along * dz / apart)
    both = [(foot[0] + k * reach * dz / apart, foot[1] - k * reach * dy / apart) for k in (1, -1)]
    return max(both, key=lambda point: point[0] + point[1])


def _foot(
    centre: tuple[float, float], apex: tuple[float, float], radius: float, corner: float, *, vertical: bool
) -> tuple[float, float]:
    """Where the corner arc touches the end arc (vertical) or the side arc."""
    if math.isinf(radius):
        return (centre[0], apex[1]) if vertical else (apex[0], centre[1])
    middle = (0.0, apex[1] - radius) if vertical else (apex[0] - radius, 0.0)
    reach = math.hypot(centre[0] - middle[0], centre[1] - middle[1])
    if corner == 0:
        return centre
    return middle[0] + (centre[0] - middle[0]) * radius / reach, middle[1] + (centre[1] - middle[1]) * radius / reach


def _bulge(one: Floats, two: Floats, radius: float) -> float:
    """Bulge of a convex arc between two points: tan of a quarter of its angle."""
    chord = math.hypot(two[0] - one[0], two[1] - one[1])
    if chord < 1e-12 or math.isinf(radius) or radius == 0:
        return 0.0
    return math.tan(0.5 * math.asin(min(1.0, 0.5 * chord / radius)))


def _repeated(drawn: Floats) -> NDArray[np.bool_]:
    """Vertices that stand on the next one."""
    gap = np.hypot(*(np.roll(drawn[:, :2], -1, axis=0) - drawn[:, :2]).T)
    return np.asarray(gap < 1e-12)


def _from_bulges(drawn: Floats) -> Outline:
    """Turn lines and arcs into the fine outline."""
    pieces = [_arc_points(drawn[i], drawn[(i + 1) % len(drawn)]) for i in range(len(drawn))]
    return Outline(np.vstack(pieces), drawn)


def _arc_points(one: Floats, two: Floats) -> Floats:
    """Points of one line or arc, without its last; the inner ones set out so that the arc keeps its area."""
    angle = 4 * math.atan(one[2])
    if abs(angle) < 1e-9:
        return one[None, :2]
    count = max(LEAST, math.ceil(abs(angle) / (2 * math.pi / CHORDS)))
    chord = two[:2] - one[:2]
    radius = math.hypot(*chord) / (2 * math.sin(angle / 2))
    middle = one[:2] + 0.5 * chord + radius * math.cos(angle / 2) * np.array([-chord[1], chord[0]]) / math.hypot(*chord)
    step = angle / count
    # inner corners at a radius R' with 2 R R' sin(d) + (n - 2) R'^2 sin(d) = n R^2 d: the exact sector area
    inner = _inner_radius(abs(radius), count, abs(step))
    start = math.atan2(one[1] - middle[1], one[0] - middle[0])
    turn = start + step * np.arange(1, count)
    ring = middle + inner * np.column_stack([np.cos(turn), np.sin(turn)])
    return np.vstack([one[None, :2], ring])


def _inner_radius(radius: float, count: int, step: float) -> float:
    """Radius of the inner corners of a chord chain that keeps the area of its arc."""
    a, b, c = (count - 2) * math.sin(step), 2 * radius * math.sin(step), -count * radius * radius * step
    return (-b + math.sqrt(b * b - 4 * a * c)) / (2 * a) if count > 2 else -c / b


def polygon(points: Any) -> Outline:
    """A free outline through given points, turned anticlockwise; it is kept where it is given.

    points: vertices (n, 2), columns y and z [m], at least three, not crossing itself
    """
    array = np.asarray(points, dtype=float)
    if array.ndim != 2 or array.shape[1] != 2 or len(array) < 3:
        raise OutlineError("a free outline needs at least three points of two coordinates each")
    if not np.isfinite(array).all():
        raise OutlineError("a free outline needs finite coordinates")
    if np.hypot(*(array[0] - array[-1])) < 1e-9:
        array = array[:-1]
    array = array[np.hypot(*(np.roll(array, -1, axis=0) - array).T) > 1e-9]
    if len(array) < 3:
        raise OutlineError("a free outline needs at least three different points")
    y, z = array.T
    doubled = float(np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z))
    if abs(doubled) < 1e-9:
        raise OutlineError("the free outline encloses no area")
    if doubled < 0:
        array = array[::-1]
    return Outline(np.ascontiguousarray(array), np.column_stack([array, np.zeros(len(array))]))


def crossing_edges(points: Floats) -> tuple[int, int] | None:
    """The first pair of edges of a closed polygon that cross or touch, counted from 0; None for a simple one.

    points: vertices (n, 2), columns y and z [m]
    """
    count = len(points)
    one, two = points, np.roll(points, -1, axis=0)
    for i in range(count - 1):
        j = np.arange(i + 2, count if i else count - 1)
        if j.size:
            hit = _segments_cross(one[i], two[i], one[j], two[j])
            if hit.any():
                return i, int(j[np.argmax(hit)])
    return None


def _segments_cross(p: Floats, q: Floats, r: Floats, s: Floats) -> NDArray[np.bool_]:
    """Whether the segment p-q meets each segment r-s."""

    def side(a: Floats, b: Floats, c: Floats) -> Floats:
        turned: Floats = (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (
            c[..., 0] - a[..., 0]
        )
        return turned

    apart = (side(p, q, r) * side(p, q, s) > 0) | (side(r, s, p) * side(r, s, q) > 0)
    low, high = np.minimum(p, q), np.maximum(p, q)
    boxes = (np.maximum(r, s) >= low).all(axis=-1) & (np.minimum(r, s) <= high).all(axis=-1)
    return np.asarray(~apart & boxes)


def clip_to_box(outline: Outline, *, y_from: float, y_to: float, z_from: float, z_to: float) -> Outline | None:
    """The part of an outline inside a rectangle (Sutherland-Hodgman clipping), None where nothing is left.

    outline: the outline
    y_from: left edge of the rectangle [m]
    y_to: right edge of the rectangle [m]
    z_from: lower edge of the rectangle [m]
    z_to: upper edge of the rectangle [m]
    """
    points = outline.points
    for axis, bound, keep in ((0, y_from, 1.0), (0, y_to, -1.0), (1, z_from, 1.0), (1, z_to, -1.0)):
        points = _clip(points, axis, bound, keep)
        if len(points) < 3:
            return None
    try:
        return polygon(points)
    except OutlineError:
        return None


def _clip(points: Floats, axis: int, bound: float, keep: float) -> Floats:
    """The side of a polygon where keep * (coordinate - bound) is not negative."""
    if not math.isfinite(bound) or not len(points):
        return points
    depth = keep * (points[:, axis] - bound)
    ahead, ahead_depth = np.roll(points, -1, axis=0), np.roll(depth, -1)
    kept: list[Floats] = []
    for here, there, d, e in zip(points, ahead, depth, ahead_depth, strict=True):
        if d >= 0:
            kept.append(here)
        if (d >= 0) != (e >= 0):
            kept.append(here + (there - here) * d / (d - e))
    return np.array(kept).reshape(-1, 2)


def _thinned(points: Floats) -> Floats:
    """About 128 of the vertices, for drawings, with no bulges."""
    few = points[:: max(1, len(points) // 128)]
    return np.column_stack([few, np.zeros(len(few))])


def _positive(**measures: float) -> None:
    """Refuse measures that are not above zero."""
    for name, value in measures.items():
        if not (value > 0 and math.isfinite(value)):
            raise OutlineError(f"the {name} must be above 0, not {value:g} m")
