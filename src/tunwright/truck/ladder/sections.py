"""Sections of the frame: how a build's words become thin-walled sections and beams."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from tunwright.build.frame import CrossMember, Frame, Liner
from tunwright.build.model import Subframe
from tunwright.handbook.beams import BeamSection
from tunwright.handbook.rail_sections import (
    AngleLiner,
    ChannelLiner,
    StripLiner,
    box,
    channel,
    channel_with_liner,
    mirrored,
)
from tunwright.handbook.thin_section import ThinSection

YOUNG, SHEAR = 210e9, 81e9
"""Moduli of structural steel [Pa]: EN 1993-1-1, 3.2.6."""

DENSITY = 7850.0
"""Of steel [kg/m3]."""


@dataclass(frozen=True, eq=False)
class Walls:
    """A section with its walls, and the beam it makes; the origin is the back of the web at half height.

    thin: the section, from which stresses follow
    beam: what the frame needs of it
    """

    thin: ThinSection
    beam: BeamSection


@dataclass(frozen=True)
class RailSize:
    """Measures of a rail [m]."""

    height: float
    flange: float
    thickness: float
    radius: float


@dataclass(frozen=True)
class LinerSize:
    """Measures of a reinforcement [m]."""

    shape: str
    thickness: float
    flange: float
    upright: float


@lru_cache(maxsize=256)
def rail(frame: RailSize, liner: LinerSize | None, *, right: bool) -> Walls:
    """A rail, with what is fitted to it.

    frame: measures of the rail
    liner: measures of a reinforcement, None for none
    right: the right rail, which opens to the left
    """
    if liner is None:
        found = channel(height=frame.height, flange=frame.flange, thickness=frame.thickness, inner_radius=frame.radius)
    else:
        found = channel_with_liner(
            height=frame.height,
            flange=frame.flange,
            thickness=frame.thickness,
            inner_radius=frame.radius,
            liner=_lining(frame, liner),
        )
    return _walls(found, right=right)


def rail_size(frame: Frame) -> RailSize:
    """Measures of the rails; all must be known.

    frame: the frame of the build
    """
    return RailSize(
        float(frame.rail_height or 0.0),
        float(frame.rail_flange or 0.0),
        float(frame.rail_thickness or 0.0),
        float(frame.rail_radius or 0.0),
    )


def liner_size(frame: Frame, liner: Liner) -> LinerSize:
    """Measures of a reinforcement, those left out taken from the rail.

    frame: the frame of the build
    liner: the reinforcement
    """
    size = rail_size(frame)
    fits = size.flange - size.thickness if liner.shape != "strip" else size.flange
    return LinerSize(
        liner.shape,
        float(liner.thickness),
        fits if liner.flange is None else min(float(liner.flange), fits),
        0.5 * size.height if liner.upright is None else float(liner.upright),
    )


def _lining(frame: RailSize, liner: LinerSize) -> ChannelLiner | AngleLiner | StripLiner:
    radius = max(frame.radius - liner.thickness, 0.0)
    if liner.shape == "channel":
        return ChannelLiner(thickness=liner.thickness, flange=liner.flange, inner_radius=radius)
    if liner.shape == "angle":
        return AngleLiner(thickness=liner.thickness, upright=liner.upright, flange=liner.flange, inner_radius=radius)
    return StripLiner(thickness=liner.thickness, width=liner.flange)


@lru_cache(maxsize=64)
def member(height: float, flange: float, thickness: float, shape: str, *, right: bool) -> Walls:
    """A member of the subframe: a channel open inwards, or a box.

    height, flange, thickness: measures [m]
    shape: channel or box
    right: the right one
    """
    if shape == "box":
        return _walls(box(height=height, width=flange, thickness=thickness), right=right)
    return _walls(channel(height=height, flange=flange, thickness=thickness), right=right)


def subframe_walls(sub: Subframe, *, right: bool) -> Walls:
    """A member of a build's subframe.

    sub: the subframe
    right: the right one
    """
    return member(float(sub.height), float(sub.flange), float(sub.thickness), sub.shape, right=right)


def cross_beam(one: CrossMember) -> BeamSection:
    """A cross-member, about the middle of its height.

    one: the cross-member
    """
    return _cross(one.shape, float(one.height), float(one.flange or 0.0), float(one.thickness))


@lru_cache(maxsize=128)
def _cross(shape: str, height: float, flange: float, thickness: float) -> BeamSection:
    if shape == "tube":
        outer, inner = height / 2, height / 2 - thickness
        second = np.pi / 4 * (outer**4 - inner**4)
        return BeamSection(np.pi * (outer**2 - inner**2), second, second, 2 * second, young=YOUNG, shear=SHEAR)
    make = box(height=height, width=flange, thickness=thickness) if shape == "box" else channel(
        height=height, flange=flange, thickness=thickness
    )  # fmt: skip
    return _beam(make, centred=True)


def _walls(section: ThinSection, *, right: bool) -> Walls:
    turned = mirrored(section) if right else section
    return Walls(turned, _beam(turned))


def _beam(section: ThinSection, *, centred: bool = False) -> BeamSection:
    """The beam of a section; about its origin, or about its centroid."""
    y, z = section.centroid if centred else (0.0, 0.0)
    return BeamSection(
        area=section.area,
        iy=section.Iy,
        iz=section.Iz,
        iyz=section.Iyz,
        torsion=section.J,
        warping=section.Iw,
        centroid=(section.centroid[0] - y, section.centroid[1] - z),
        shear_centre=(section.shear_centre[0] - y, section.shear_centre[1] - z),
        warped=-_omega(section),
        young=YOUNG,
        shear=SHEAR,
    )


def _omega(section: ThinSection) -> float:
    """Sectorial coordinate at the back of the web, half-way up [m2]: 0 where top and bottom are alike."""
    points, ends = section.points, section.segments
    one, two = points[ends[:, 0]], points[ends[:, 1]]
    upright = (one[:, 1] * two[:, 1] <= 0.0) & (np.abs(one[:, 1] - two[:, 1]) > 0.0)
    near = np.where(upright, np.abs(one[:, 0]), np.inf)
    i = int(near.argmin())
    if not np.isfinite(near[i]):
        return 0.0
    share = -one[i, 1] / (two[i, 1] - one[i, 1])
    w = section.omega[ends[i]]
    return float(w[0] + share * (w[1] - w[0]))
