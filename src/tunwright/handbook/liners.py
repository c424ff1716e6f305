"""Liners of a frame rail: what lies on the rail, where, and where the two touch.

Used by `rail_sections`; axes as in `thin_section`, origin at the back of the rail's web at half its height.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.midlines import SAME, Place, channel_path, need_positive, need_room, outer_radius, path
from tunwright.handbook.thin_section import SectionError

Floats = NDArray[np.float64]
End = Literal["bottom", "top"]


@dataclass(frozen=True, kw_only=True)
class ChannelLiner:
    """A channel nested in the rail, or around it, web on web.

    thickness: [m]
    flange: width over its web and flange [m]
    inner_radius: of its corners [m], 0 for square ones
    outside: it lies around the rail, not in it
    """

    thickness: float
    flange: float
    inner_radius: float = 0.0
    outside: bool = False


@dataclass(frozen=True, kw_only=True)
class AngleLiner:
    """An angle nested in the rail, one leg on the web, the other on a flange.

    thickness: [m]
    upright: length of the leg on the web, over its corner [m]
    flange: width of the leg on the flange, over its corner [m]
    inner_radius: of its corner [m], 0 for a square one
    at: the flange it lies on
    """

    thickness: float
    upright: float
    flange: float
    inner_radius: float = 0.0
    at: End = "bottom"


@dataclass(frozen=True, kw_only=True)
class StripLiner:
    """A flat strip on a flange. Where it reaches out over the rail's rounded corner, J comes out some 3 % high.

    thickness: [m]
    width: [m]
    from_back: distance of its near edge from the back of the rail's web [m]
    at: the flange it lies on
    inside: it lies on the inner face of the flange
    """

    thickness: float
    width: float
    from_back: float = 0.0
    at: End = "bottom"
    inside: bool = False


Liner = ChannelLiner | AngleLiner | StripLiner


@dataclass(frozen=True)
class Contact:
    """Where rail and liner lie on each other along a straight wall.

    upright: in the web; otherwise on a flange
    rail: y of the web's midline, or z of the flange's [m]
    liner: the same of the liner [m]
    span: from where to where along the wall, z or y [m]
    """

    upright: bool
    rail: float
    liner: float
    span: Place

    def tie(self, at: float) -> tuple[Place, Place]:
        """The two midline points that face each other.

        at: place along the wall [m], within the span
        """
        first, last = self.span
        if not first - SAME <= at <= last + SAME:
            raise SectionError(
                f"a row of fasteners must lie where rail and liner are both straight, from {first:.4f} to "
                f"{last:.4f} m, not at {at:g} m"
            )
        return ((self.rail, at), (self.liner, at)) if self.upright else ((at, self.rail), (at, self.liner))


def contacts(rail: Floats, liner: Floats, *, gap: float) -> list[Contact]:
    """Where two midlines run beside each other at the distance of touching walls, webs first.

    rail: midline of the rail (n, 2) [m]
    liner: midline of the liner (m, 2) [m]
    gap: half of both thicknesses [m]
    """
    found = []
    for axis in (0, 1):
        for a, (a1, a2) in _straight(rail, axis):
            for b, (b1, b2) in _straight(liner, axis):
                span = max(a1, b1), min(a2, b2)
                if abs(abs(a - b) - gap) < SAME and span[1] - span[0] > SAME:
                    found.append(Contact(axis == 0, a, b, span))
    if not found:
        raise SectionError("the liner touches the rail nowhere along a straight wall; check its width and its place")
    return found


def ties(touching: Sequence[Contact], rows: Sequence[float] | None) -> list[tuple[Place, Place]]:
    """The midline points that are joined: at all edges of contact, or where the rows are.

    touching: where the two touch
    rows: places along the first contact [m]; none for all edges
    """
    if rows is None:
        return [contact.tie(at) for contact in touching for at in contact.span]
    if not rows:
        raise SectionError("a liner needs one row of fasteners or more, for example rows=(-0.05, 0.05)")
    return [touching[0].tie(at) for at in rows]


def liner_path(liner: Liner, *, height: float, thickness: float, inner_radius: float) -> Floats:
    """Midline of a liner where it lies on the rail.

    liner: what it is
    height: of the rail [m]
    thickness: of the rail [m]
    inner_radius: of the rail's corners [m]
    """
    if isinstance(liner, StripLiner):
        return _strip(liner, height / 2, thickness, inner_radius)
    rail_out = outer_radius(thickness=thickness, inner_radius=inner_radius)
    if isinstance(liner, ChannelLiner) and liner.outside:
        if liner.inner_radius > rail_out + SAME:
            raise SectionError(
                f"the liner does not go around the rail's corners: its inner radius is {liner.inner_radius:g} m, the "
                f"rail's outer radius {rail_out:g} m"
            )
        return _channel(liner, height + 2 * liner.thickness, -liner.thickness)
    liner_out = outer_radius(thickness=liner.thickness, inner_radius=liner.inner_radius)
    if liner_out < inner_radius - SAME:
        raise SectionError(
            f"the liner does not go into the rail's corners: its outer radius is {liner_out:g} m, the rail's inner "
            f"radius {inner_radius:g} m"
        )
    if isinstance(liner, ChannelLiner):
        return _channel(liner, height - 2 * thickness, thickness)
    return _angle(liner, height - 2 * thickness, thickness)


def _channel(liner: ChannelLiner, height: float, back: float) -> Floats:
    line = channel_path(height=height, flange=liner.flange, thickness=liner.thickness, inner_radius=liner.inner_radius)
    return np.add(line, (back, 0.0))


def _angle(liner: AngleLiner, room: float, back: float) -> Floats:
    if liner.upright > room + SAME:
        raise SectionError(f"the liner's upright leg is {liner.upright:g} m, the rail inside only {room:g} m high")
    t, radius = liner.thickness, liner.inner_radius
    need_positive(liner_upright=liner.upright)
    need_room(height=2 * liner.upright, flange=liner.flange, thickness=t, inner_radius=radius)
    y, z = back + t / 2, (t - room) / 2
    corners = [(back + liner.flange, z), (y, z), (y, liner.upright - room / 2)]
    return _turned(path(corners, thickness=t, inner_radius=radius), liner.at)


def _strip(liner: StripLiner, half: float, thickness: float, inner_radius: float) -> Floats:
    need_positive(liner_thickness=liner.thickness, liner_width=liner.width)
    least = thickness + inner_radius
    if liner.inside and liner.from_back < least - SAME:
        raise SectionError(
            f"a strip in the rail must start {least:g} m or more from its back, not {liner.from_back:g} m"
        )
    z = thickness + liner.thickness / 2 - half if liner.inside else -half - liner.thickness / 2
    return _turned(np.array([[liner.from_back + liner.width, z], [liner.from_back, z]]), liner.at)


def _turned(line: Floats, at: End) -> Floats:
    return line * (1.0, -1.0) if at == "top" else line


def _straight(line: Floats, axis: int) -> Iterator[tuple[float, Place]]:
    """Walls on which y (axis 0) or z (1) stays the same: its value, and from where to where in the other."""
    for one, two in pairwise(line):
        if abs(one[axis] - two[axis]) < SAME:
            span = sorted((float(one[1 - axis]), float(two[1 - axis])))
            yield float(one[axis]), (span[0], span[1])
