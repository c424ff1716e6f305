"""Where the hook of a sling stands: over which point legs of one length meet, and how far inside its eyes a load hangs.

All points in the load's own axes, z up while it stands. See `sling` for tensions and tilt.
"""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]

SLACK = 0.02
"""How much the fourth of four legs may miss the hook in which the other three meet [m]."""

_FLAT = 1e-9


def shortest_leg(eyes: ArrayLike) -> float:
    """Length with which legs of one length would lie flat between their eyes [m]; they must be longer.

    Half the distance of two eyes; the radius of the circle through three, of four the first three.

    eyes: where the legs hold the load, (2 to 4, 3) [m]
    ValueError: eyes on one line

    Source: derived, geometry.
    """
    points = _eyes(eyes)
    return float(np.linalg.norm(points[0] - _round(points)[0]))


def meeting_point(*, eyes: ArrayLike, length: float) -> Floats:
    """The hook in which legs of one length meet over their eyes, (3,) [m].

    On the line square to the plane of the eyes through the middle of the circle about them, as far up as the legs
    reach; of two eyes in the upright plane through both.

    eyes: where the legs hold the load, (2 to 4, 3) [m]
    length: of each leg, from eye to hook [m], above `shortest_leg`
    ValueError: legs too short, eyes on one line, or four eyes of which the legs meet in no point

    Source: derived, geometry.
    """
    positive(length=(length, "2.5 m"))
    points = _eyes(eyes)
    middle, up = _round(points)
    radius = float(np.linalg.norm(points[0] - middle))
    if length <= radius:
        raise ValueError(
            f"Legs of {length:g} m do not meet over these eyes; they must be longer than {radius:.3f} m, "
            f"for example {math.ceil(radius / math.sin(math.pi / 4) * 10) / 10:g} m."
        )
    hook: Floats = middle + math.sqrt(length**2 - radius**2) * up
    if len(points) == 4 and abs(float(np.linalg.norm(points[3] - hook)) - length) > SLACK:
        reach = float(np.linalg.norm(points[3] - hook))
        raise ValueError(
            f"Four legs of {length:g} m do not meet over these eyes: the fourth would have to be "
            f"{reach:.3f} m long. Place the eyes on a circle, for example as a rectangle."
        )
    return hook


def _eyes(eyes: ArrayLike) -> Floats:
    points = np.asarray(eyes, dtype=float)
    if points.ndim != 2 or points.shape[1] != 3 or not 2 <= len(points) <= 4:
        raise ValueError("A sling has two, three or four eyes x, y, z, for example [(0, -0.5, 1), (0, 0.5, 1)].")
    return points


def _round(points: Floats) -> tuple[Floats, Floats]:
    """Middle of the circle about the eyes, and the upward direction square to it."""
    one, two = points[0], points[1]
    along = two - one
    if len(points) == 2:
        square = np.array([0.0, 0.0, 1.0]) - along[2] / max(float(along @ along), _FLAT) * along
        return (one + two) / 2, _unit(square)
    other = points[2] - one
    normal = np.cross(along, other)
    size = float(normal @ normal)
    if size <= _FLAT or abs(normal[2]) <= 1e-6 * math.sqrt(size):
        raise ValueError(
            "Three or four eyes must not stand on one line as seen from above; place them, for example, "
            "at the corners of a rectangle."
        )
    towards = np.cross(float(along @ along) * other - float(other @ other) * along, normal)
    return one + towards / (2 * size), _unit(normal) * math.copysign(1.0, normal[2])


def _unit(direction: Floats) -> Floats:
    size = float(np.linalg.norm(direction))
    if size <= _FLAT:
        raise ValueError("Two eyes must not stand over each other; place them, for example, 1 m apart.")
    unit: Floats = direction / size
    return unit


def room_inside(*, eyes: ArrayLike, hook: ArrayLike, centre: ArrayLike) -> float:
    """How far inside its eyes the line from the hook to the centre of gravity passes [m]; below 0 it hangs not so.

    Three and four eyes are seen from the hook and measured at their mean depth under it. Two eyes: how far from either
    end that line crosses the line of the eyes, or how far the centre lies below it, whichever is less.

    eyes: where the legs hold the load, (2 to 4, 3) [m]
    hook: where the legs meet, (3,) [m]
    centre: centre of gravity of the load, (3,) [m]

    Source: derived, statics: legs only pull, so the weight must act between them.
    """
    points, top, middle = _eyes(eyes), np.asarray(hook, dtype=float), np.asarray(centre, dtype=float)
    if len(points) == 2:
        return _room_of_two(points, top, middle)
    if top[2] <= middle[2]:
        return float(top[2] - middle[2])
    up = _unit(top - middle)
    depth = (top - points) @ up
    if depth.min() <= 0:
        return float(depth.min())
    seen = (points - top + depth[:, None] * up) / depth[:, None] * depth.mean()
    across = _unit(np.cross(up, [1.0, 0.0, 0.0] if abs(up[0]) < 0.9 else [0.0, 1.0, 0.0]))
    return _inside(np.column_stack([seen @ across, seen @ np.cross(up, across)]))


def _inside(flat: Floats) -> float:
    """Distance of the origin from the nearest side of the hull of some points, below 0 outside."""
    room = math.inf
    for one, two in combinations(flat, 2):
        side = two - one
        normal = np.array([-side[1], side[0]]) / max(float(np.linalg.norm(side)), _FLAT)
        beside = (flat - one) @ normal
        if beside.min() >= -_FLAT:
            room = min(room, float(-(one @ normal)))
        if beside.max() <= _FLAT:
            room = min(room, float(one @ normal))
    return room


def _room_of_two(points: Floats, hook: Floats, centre: Floats) -> float:
    axis = _unit(points[1] - points[0])
    span = float(np.linalg.norm(points[1] - points[0]))
    stands, lies = float((hook - points[0]) @ axis), float((centre - points[0]) @ axis)
    height = float(np.linalg.norm(hook - points[0] - stands * axis))
    aside = centre - points[0] - lies * axis
    upright = _unit(np.array([0.0, 0.0, 1.0]) - axis[2] * axis)
    below = float(np.linalg.norm(aside))
    if float(aside @ upright) > 0:
        return -float(aside @ upright)
    crosses = stands + (lies - stands) * height / max(height + below, _FLAT)
    to_hook, to_centre = np.array([stands, height]), np.array([lies, -below])  # along the eyes, and up from them
    plumb = _unit(to_hook - to_centre)
    depth = min(float(to_hook @ plumb), float((to_hook - (span, 0.0)) @ plumb))
    if below > _FLAT:  # rolled by more than a right angle it would lie on its side
        depth = min(depth, float((plumb[0] * axis - plumb[1] * aside / below)[2]))
    return depth if depth <= 0 else min(crosses, span - crosses, below)
