"""Mounts as seen from the side and from above, each kind with a mark of its own, true to size where sizes are known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tunwright.build.mounting import BoltSet, Mount
from tunwright.build.mounting_sense import hole
from tunwright.sheets.drawing import Circle, Entity, Group, Line, Point, Polyline
from tunwright.sheets.views.shapes import box
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.fastening.pattern import first_row, places

HALF = 0.10  # of a mount of unknown size [m]
_PLATE, _LEG = 0.012, 0.045
_TURNS = 5

WORDS: dict[str, str] = {
    "plate": "bolted plate",
    "bracket": "bracket",
    "clamp": "clamp",
    "spring": "spring mount",
    "rubber": "rubber mount",
    "pivot": "pivot",
}
"""Kinds of mounts in words."""


@dataclass(frozen=True)
class Levels:
    """Heights on the side view [m].

    low, top: lower and upper edge of the rail
    bed: upper edge of the subframe, of the rail where there is none
    """

    low: float
    top: float
    bed: float

    @property
    def rail(self) -> float:
        """Height of the rail."""
        return self.top - self.low

    @property
    def above(self) -> float:
        """Where a mount ends above the rail."""
        return self.top + max(0.6 * (self.bed - self.top), 0.06)


def levels(vehicle: Vehicle) -> Levels:
    """Heights of rail and subframe.

    vehicle: the vehicle
    """
    top = vehicle.frame["top"].value
    return Levels(top - vehicle.frame["rail height"].value, top, vehicle.bed)


def bolt_places(at: float, bolts: BoltSet, rail: float) -> list[tuple[float, float]]:
    """Where the bolts of one side stand: from the first axle and below the rail's upper flange [m], row by row.

    at: place of the mount [m]
    bolts: its bolts
    rail: height of the rail [m]
    """
    found = places(bolts, first_row(bolts, rail) or 0.0)
    return [(at + float(x), -float(y)) for x, y in found]


def half_length(mount: Mount) -> float:
    """Half the length of a mount along the rail [m]; a usual one where no bolts are given.

    mount: the mount
    """
    bolts = mount.bolts
    if bolts is None:
        return HALF
    return 0.5 * (bolts.columns - 1) * float(bolts.spacing or 0.0) + float(bolts.edge)


def mount_side(mount: Mount, at: Levels) -> Group:
    """A mount from the side.

    mount: the mount
    at: heights of rail and subframe
    """
    draw = _KINDS[mount.kind]
    return Group("mount", tuple(draw(mount, at)), {"mount": mount.name, "kind": mount.kind})


def _web_plate(mount: Mount, at: Levels, high: float) -> list[Entity]:
    """The plate on the web, with its bolts where they are known."""
    x, half = float(mount.at), half_length(mount)
    low = at.low + 0.25 * at.rail
    holes: list[Entity] = []
    if mount.bolts is not None:
        spots = bolt_places(x, mount.bolts, at.rail)
        low = max(at.top - max(down for _, down in spots) - float(mount.bolts.edge), at.low)
        holes = [Circle((u, at.top - down), 0.5 * hole(mount.bolts), "thin", "sheet") for u, down in spots]
    return [box(x - half, low, x + half, high, "thin", "sheet"), *holes]


def _plate(mount: Mount, at: Levels) -> list[Entity]:
    return _web_plate(mount, at, at.above)


def _bracket(mount: Mount, at: Levels) -> list[Entity]:
    """Two brackets, one over the other, and the bolt that holds them together."""
    x, half = float(mount.at), min(half_length(mount), HALF)
    gap = 0.015
    lower = _web_plate(mount, at, at.top - gap)
    upper = box(x - half, at.top + gap, x + half, at.above, "thin", "sheet")
    bolt = Line((x, at.top - 0.06), (x, at.top + 0.06), "outline")
    return [*lower, upper, bolt]


def _clamp(mount: Mount, at: Levels) -> list[Entity]:
    """Two legs round rail and subframe with a bar at each end."""
    x, over, under = float(mount.at), at.bed + 0.02, at.low - 0.02
    legs: list[Entity] = [Line((x + s * _LEG, under - 0.02), (x + s * _LEG, over + 0.02), "outline") for s in (-1, 1)]
    bars = [box(x - 1.6 * _LEG, v - _PLATE, x + 1.6 * _LEG, v + _PLATE, "thin", "steel") for v in (over, under)]
    return [*legs, *bars]


def _spring(mount: Mount, at: Levels) -> list[Entity]:
    """A plate on the web and the spring over it that pulls the subframe down."""
    x, high = float(mount.at), at.above + 0.06
    foot = at.top - 0.02
    pitch = (high - foot) / (2 * _TURNS)
    turns = [(x + (-1) ** i * 0.035, foot + (i + 0.5) * pitch) for i in range(2 * _TURNS)]
    coil = Polyline(((x, foot), *turns, (x, high)), "steel")
    caps = [Line((x - 0.05, v), (x + 0.05, v), "outline") for v in (foot, high)]
    return [*_web_plate(mount, at, foot), coil, *caps]


def _rubber(mount: Mount, at: Levels) -> list[Entity]:
    x = float(mount.at)
    block = box(x - 0.06, at.top - 0.01, x + 0.06, at.top + 0.05, "thin", "hatch")
    return [*_web_plate(mount, at, at.top - 0.01), block]


def _pivot(mount: Mount, at: Levels) -> list[Entity]:
    """A bearing in the middle of the frame."""
    x = float(mount.at)
    centre: Point = (x, float(mount.height or at.top))
    foot = Polyline((centre, (x + 0.09, at.low + 0.02), (x - 0.09, at.low + 0.02)), "hidden", closed=True)
    return [foot, Circle(centre, 0.04, "outline", "sheet"), Circle(centre, 0.012, "thin", "ink")]


_KINDS: dict[str, Callable[[Mount, Levels], list[Entity]]] = {
    "plate": _plate,
    "bracket": _bracket,
    "clamp": _clamp,
    "spring": _spring,
    "rubber": _rubber,
    "pivot": _pivot,
}


def mount_plan(mount: Mount, half_width: float, flange: float) -> Group:
    """A mount from above: a mark on each rail, or on the middle line.

    mount: the mount
    half_width: from the middle of the vehicle to the back of a rail's web [m]
    flange: width of the rail's flange [m]
    """
    x, half = float(mount.at), half_length(mount)
    parts: list[Entity] = []
    if mount.kind == "pivot":
        parts = [Circle((x, 0.0), 0.05, "outline", "sheet"), Circle((x, 0.0), 0.015, "thin", "ink")]
    else:
        for side in (-1.0, 1.0):
            inner, outer = half_width - (flange if mount.kind == "clamp" else 0.0), half_width + 0.03
            low, high = sorted((side * inner, side * outer))
            parts.append(box(x - half, low, x + half, high, "thin", "ink" if mount.kind != "rubber" else "hatch"))
    return Group("mount", tuple(parts), {"mount": mount.name, "kind": mount.kind})
