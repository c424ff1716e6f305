"""The holes to be drilled into the web of a rail, and where none may be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tunwright.build.model import Build
from tunwright.build.mounting import Mount
from tunwright.build.mounting_sense import hole
from tunwright.sheets.frame.mount_marks import bolt_places
from tunwright.tables.read import shop_value


@dataclass(frozen=True)
class Hole:
    """A hole, the same on both rails.

    number: from front to rear, from above in each column
    x: behind the first axle [m]
    down: its middle below the outside of the upper flange [m]
    diameter: [m]
    mount: what it is for
    size: thread of the bolt
    barred: why it must not be there, empty where it may
    """

    number: int
    x: float
    down: float
    diameter: float
    mount: str
    size: str
    barred: str = ""


@dataclass(frozen=True)
class Zone:
    """A part of the web in which no hole may be.

    left, right: ends [m]
    upper, lower: below the outside of the upper flange [m]
    words: why
    brackets: brackets and plates are kept out of it, measured to their middle
    """

    left: float
    right: float
    upper: float
    lower: float
    words: str
    brackets: bool = False


def holes(build: Build) -> list[Hole]:
    """Holes of one rail, front to rear; those of clamps are none. The rail's height must be known.

    build: the build
    """
    rail = float(build.chassis.frame.rail_height or 0.0)
    found = [
        (x, down, hole(one.bolts), one)
        for one in build.mount
        if one.bolts is not None and one.kind not in ("clamp", "pivot")
        for x, down in bolt_places(float(one.at), one.bolts, rail)
    ]
    every, barred = sorted(found, key=lambda row: (round(row[0], 6), row[1])), zones(build)
    return [
        Hole(i, x, down, wide, mount.name, mount.bolts.size if mount.bolts else "", _barred(x, down, mount, barred))
        for i, (x, down, wide, mount) in enumerate(every, start=1)
    ]


def _barred(x: float, down: float, mount: Mount, found: Sequence[Zone]) -> str:
    """Words of the first zone a hole's middle lies in; of one for brackets, the middle of its mount."""
    tiny = 1e-9  # on the edge of a zone is outside it
    for zone in found:
        at = float(mount.at) if zone.brackets else x
        deep = zone.brackets or zone.upper + tiny < down < zone.lower - tiny
        if deep and zone.left + tiny < at < zone.right - tiny:
            return zone.words
    return ""


def zones(build: Build) -> list[Zone]:
    """Where no hole may be: near the flanges, and near the ends of cross-members. Rail and its ends must be known.

    build: the build
    """
    frame = build.chassis.frame
    high, start, end = (float(one or 0.0) for one in (frame.rail_height, frame.front, frame.rear))
    edge, aside = shop_value("hole_to_flange"), shop_value("mount_to_cross_member")
    found = [
        Zone(start, end, 0.0, edge, "near the upper flange"),
        Zone(start, end, high - edge, high, "near the lower flange"),
    ]
    for i, one in enumerate(frame.cross_member, start=1):
        x = float(one.at)
        left, right = max(x - aside, start), min(x + aside, end)
        found.append(Zone(left, right, edge, high - edge, f"near cross-member {i}", brackets=True))
    return found


def gathered_by_reason(found: Sequence[Hole]) -> dict[str, list[Hole]]:
    """Holes that must not be where they are, by reason.

    found: the holes
    """
    by: dict[str, list[Hole]] = {}
    for one in found:
        if one.barred:
            by.setdefault(one.barred, []).append(one)
    return by


def gathered(found: Sequence[Hole]) -> dict[str, list[Hole]]:
    """Holes by mount.

    found: the holes
    """
    by: dict[str, list[Hole]] = {}
    for one in found:
        by.setdefault(one.mount, []).append(one)
    return by
