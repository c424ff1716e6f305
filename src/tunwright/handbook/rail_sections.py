"""Sections of frame rails and subframes: pressed channel, channel with a liner, box, angle, flat.

Axes and signs as in `thin_section`: drawn as seen from behind, y to the right, z up. Every section stands with its web
(its wall, its heel) against y = 0 and opens to the right, as a left rail does; y = 0 is the back of the web and z = 0
half the rail's height. `mirrored` gives the right rail, which opens to the left.

A corner with an inner radius is pressed: the wall keeps its thickness round the bend and the outer radius is the inner
one and the thickness. Its midline is an arc of six chords, with points a hair outside it, so that it keeps its length
and the section its area. A corner without one (inner radius 0) is square inside and outside, as of plates welded
together; the midline then runs to the corner, area is exact, and Iy of a common rail 0.1 % low.

A liner counts in full: plane sections stay plane across both (full composite). How the two are *joined* settles their
torsion alone. Joined all along (`rows` not given: both edges of every contact) they act as one wall of both
thicknesses; joined in rows of bolts or rivets, each wall twists for itself outside the rows, and `link_flow` gives what
the rows carry. Fasteners in flanges of a rail are not allowed by makers (common practice), so rows stand in the web.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tunwright.handbook.liners import AngleLiner, ChannelLiner, Liner, StripLiner, contacts, liner_path, ties
from tunwright.handbook.midlines import channel_path, joined, need_positive, need_room, path
from tunwright.handbook.thin_section import SectionError, ThinSection, mirrored

__all__ = [
    "AngleLiner",
    "ChannelLiner",
    "Liner",
    "SectionError",
    "StripLiner",
    "angle",
    "box",
    "channel",
    "channel_with_liner",
    "flat",
    "mirrored",
]


def channel(*, height: float, flange: float, thickness: float, inner_radius: float = 0.0) -> ThinSection:
    """A channel.

    height: over both flanges [m]
    flange: width over web and flange [m]
    thickness: [m]
    inner_radius: of both corners [m], 0 for square ones
    """
    line = channel_path(height=height, flange=flange, thickness=thickness, inner_radius=inner_radius)
    return joined([line], [thickness])


def channel_with_liner(
    *,
    height: float,
    flange: float,
    thickness: float,
    inner_radius: float = 0.0,
    liner: Liner,
    rows: Sequence[float] | None = None,
) -> ThinSection:
    """A channel with a liner; the origin is the rail's own, as without liner.

    height: over both flanges of the rail [m]
    flange: width over web and flange of the rail [m]
    thickness: of the rail [m]
    inner_radius: of the rail's corners [m], 0 for square ones
    liner: what lies on it
    rows: lines of fasteners [m]: heights from mid-height of the rail in the web, for a strip distances from the back of
        the rail's web; not given, both are joined along all edges of their contact
    """
    rail = channel_path(height=height, flange=flange, thickness=thickness, inner_radius=inner_radius)
    other = liner_path(liner, height=height, thickness=thickness, inner_radius=inner_radius)
    touching = contacts(rail, other, gap=(thickness + liner.thickness) / 2)
    return joined([rail, other], [thickness, liner.thickness], ties(touching, rows))


def box(*, height: float, width: float, thickness: float, inner_radius: float = 0.0) -> ThinSection:
    """A closed box, its left wall against y = 0.

    height: over both flanges [m]
    width: over both webs [m]
    thickness: [m]
    inner_radius: of the corners [m], 0 for square ones
    """
    need_room(height=height, flange=width / 2, thickness=thickness, inner_radius=inner_radius)
    left, right, z = thickness / 2, width - thickness / 2, (height - thickness) / 2
    seam = (width / 2, -z)
    corners = [seam, (right, -z), (right, z), (left, z), (left, -z), seam]
    return joined([path(corners, thickness=thickness, inner_radius=inner_radius)], [thickness])


def angle(*, height: float, width: float, thickness: float, inner_radius: float = 0.0) -> ThinSection:
    """An angle, its heel at the lower left: one leg up at y = 0, one to the right at z = -height / 2.

    height: of the upright leg, over the heel [m]
    width: of the level leg, over the heel [m]
    thickness: [m]
    inner_radius: of the corner [m], 0 for a square one
    """
    need_room(height=2 * height, flange=width, thickness=thickness, inner_radius=inner_radius)
    low, back = (thickness - height) / 2, thickness / 2
    corners = [(width, low), (back, low), (back, height / 2)]
    return joined([path(corners, thickness=thickness, inner_radius=inner_radius)], [thickness])


def flat(*, height: float, width: float) -> ThinSection:
    """A flat bar, upright or lying, its left side at y = 0; the lesser of the two is its thickness.

    height: [m]
    width: [m]
    """
    need_positive(height=height, width=width)
    if height >= width:
        return joined([np.array([[width / 2, -height / 2], [width / 2, height / 2]])], [width])
    return joined([np.array([[0.0, 0.0], [width, 0.0]])], [height])
