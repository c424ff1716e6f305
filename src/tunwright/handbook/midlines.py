"""Midlines of rolled and pressed profiles: paths through corners, and several paths joined to one section.

Used by `rail_sections` and `liners`; axes as in `thin_section`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.thin_section import SectionError, ThinSection, thin_section

Floats = NDArray[np.float64]
Place = tuple[float, float]

ARC = 6
"""Chords in a corner of a quarter turn."""

SAME = 1e-9
"""Two places nearer than this are one [m]."""


def need_positive(**measures: float) -> None:
    """Refuses what is not above 0.

    measures: name -> size [m]
    """
    for name, value in measures.items():
        if not (value > 0 and math.isfinite(value)):
            raise SectionError(f"the {name.replace('_', ' ')} of a section must be above 0, not {value:g} m")


def need_room(*, height: float, flange: float, thickness: float, inner_radius: float) -> None:
    """Refuses a profile whose walls and corners do not fit into its size.

    height: over both flanges [m]
    flange: width over web and flange [m]
    thickness: [m]
    inner_radius: of the corners [m], 0 or more
    """
    need_positive(height=height, flange=flange, thickness=thickness)
    if not (inner_radius >= 0 and math.isfinite(inner_radius)):
        raise SectionError(f"the inner radius of a corner must be 0 or more, not {inner_radius:g} m")
    corner = inner_radius + thickness
    if not (height > 2 * corner and flange > corner):
        raise SectionError(
            f"walls of {thickness:g} m with an inner radius of {inner_radius:g} m do not fit into a height of "
            f"{height:g} m and a width of {flange:g} m"
        )


def outer_radius(*, thickness: float, inner_radius: float) -> float:
    """Outer radius of a corner [m]: of a pressed one the inner one and the thickness, of a square one 0.

    thickness: [m]
    inner_radius: [m], 0 for a square corner
    """
    return inner_radius + thickness if inner_radius else 0.0


def path(corners: Sequence[Place], *, thickness: float, inner_radius: float) -> Floats:
    """A midline through square corners, each rounded.

    corners: from end to end [m]; where the walls' midlines would meet
    thickness: [m]
    inner_radius: [m], 0 for square corners
    """
    p = np.array(corners)
    if not inner_radius:
        return p
    radius = inner_radius + thickness / 2
    half, turn = math.pi / (4 * ARC), np.arange(ARC + 1)[:, None] * math.pi / (2 * ARC)
    reach = np.full((ARC + 1, 1), radius * (1.0 + ARC / (ARC - 1) * (half / math.sin(half) - 1.0)))
    reach[[0, -1]] = radius  # the chords between are as much longer as the arc is longer than chords on it
    pieces = [p[:1]]
    for before, corner, after in zip(p[:-2], p[1:-1], p[2:], strict=True):
        come, go = ((b - a) / np.hypot(*(b - a)) for a, b in ((before, corner), (corner, after)))
        pieces.append(corner + radius * (go - come) + reach * (come * np.sin(turn) - go * np.cos(turn)))
    return np.concatenate([*pieces, p[-1:]])


def channel_path(*, height: float, flange: float, thickness: float, inner_radius: float) -> Floats:
    """Midline of a channel, back of its web at y = 0, from the tip of the lower flange to that of the upper.

    height: over both flanges [m]
    flange: width over web and flange [m]
    thickness: [m]
    inner_radius: [m], 0 for square corners
    """
    need_room(height=height, flange=flange, thickness=thickness, inner_radius=inner_radius)
    y, z = thickness / 2, (height - thickness) / 2
    corners = [(flange, -z), (y, -z), (y, z), (flange, z)]
    return path(corners, thickness=thickness, inner_radius=inner_radius)


def joined(paths: Sequence[Floats], thickness: Sequence[float], ties: Sequence[tuple[Place, ...]] = ()) -> ThinSection:
    """Paths as one section; one that ends where it starts is closed.

    paths: midlines (n, 2) [m]
    thickness: of each path [m]
    ties: places that are joined without slip, one on each path [m]
    """
    points: list[Floats] = []
    walls, first = [], 0
    for which, one in enumerate(paths):
        for tie in ties:
            one = _with_point(one, np.array(tie[which]))  # noqa: PLW2901 -- the path grows
        numbers = first + np.arange(len(one))
        closed = bool(np.hypot(*(one[0] - one[-1])) < SAME)
        if closed:
            numbers[-1] = first
        walls.append(np.stack([numbers[:-1], numbers[1:]], axis=1))
        points.append(one[: len(one) - closed])
        first += len(points[-1])
    every = np.concatenate(points)
    links = [[int(np.hypot(*(every - place).T).argmin()) for place in tie] for tie in ties]
    thick = np.repeat(thickness, [len(wall) for wall in walls])
    return thin_section(every, np.concatenate(walls), thick, links)


def _with_point(line: Floats, place: Floats) -> Floats:
    """The path with a point at a place on it."""
    if np.hypot(*(line - place).T).min() < SAME:
        return line
    a, b = line[:-1], line[1:]
    detour = np.hypot(*(a - place).T) + np.hypot(*(b - place).T) - np.hypot(*(b - a).T)
    return np.insert(line, int(detour.argmin()) + 1, place, axis=0)
