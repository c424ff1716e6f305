"""The parts of the tank as triangles: shell, heads, plates across and along, and what is fitted to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from tunwright.build.tank import Baffle, Sump
from tunwright.sheets.mesh.hull import Hull
from tunwright.sheets.mesh.part import MeshPart, part
from tunwright.sheets.mesh.shapes import SHARP, Shape, block, grid, joined, plate, turned, turns
from tunwright.sheets.views.tank_shape import TankShape
from tunwright.sheets.views.tank_side import bulkheads
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
_RIM = 0.03  # how far a manhole's flange stands out (common practice, no source) [m]


@dataclass(frozen=True)
class Fineness:
    """How finely things are cut into triangles.

    around: points around the tank [-]
    wheel: points around a wheel [-]
    holes: openings are cut out; else a plate with openings is see-through
    """

    around: int
    wheel: int
    holes: bool


def tank_mesh(truck: Truck, fineness: Fineness) -> Iterator[MeshPart]:
    """The parts of the tank, in vehicle coordinates.

    truck: the truck
    fineness: how finely
    """
    hull = Hull(truck.solid, fineness.around)
    for made in _parts(truck, hull, fineness):
        placed = truck.frame.point(made.vertices.astype(float))
        yield replace(made, vertices=placed.astype(np.float32))


def _parts(truck: Truck, hull: Hull, fineness: Fineness) -> Iterator[MeshPart]:
    yield part("tank.shell", "shell", "shell", hull.shell, see_through=True, cut="line")
    yield part("tank.head.front", "front head", "shell", hull.front, see_through=True, cut="line")
    yield part("tank.head.rear", "rear head", "shell", hull.rear, see_through=True, cut="line")
    for i, x in enumerate(bulkheads(TankShape(truck))):
        shape = plate([hull.section(x)], axis=0, at=x)
        yield part(f"tank.bulkhead.{i + 1}", f"bulkhead {i + 1}", "plate", shape, cut="line")
    for i, baffle in enumerate(truck.build.tank.baffle):
        yield _baffle(hull, i, baffle, fineness)
    yield from _long_baffles(hull)
    yield from _rings(hull)
    yield from _manholes(hull)
    for i, sump in enumerate(truck.build.tank.sump):
        yield part(f"tank.sump.{i + 1}", f"sump {i + 1}", "fitting", sump_shape(hull, sump), cut="line")
    yield from _insides(hull)


def _baffle(hull: Hull, i: int, baffle: Baffle, fineness: Fineness) -> MeshPart:
    x, angle = float(baffle.at), np.arange(24) * 2 * np.pi / 24
    swell = np.sqrt(angle[1] / np.sin(angle[1]))  # a polygon of the circle's area
    holes = [
        (hole.y, hole.height) + 0.5 * hole.diameter * swell * np.column_stack([np.cos(angle), np.sin(angle)])
        for hole in baffle.opening
    ]
    shape = plate([hull.section(x), *(holes if fineness.holes else [])], axis=0, at=x)
    see_through = bool(baffle.open) or (bool(holes) and not fineness.holes)
    return part(f"tank.baffle.{i + 1}", f"baffle {i + 1}", "plate", shape, see_through=see_through, cut="line")


def _long_baffles(hull: Hull) -> Iterator[MeshPart]:
    """Plates along; what is open of them is not said where, so they are see-through."""
    solid = hull.solid
    for i, along in enumerate(solid.tank.long_baffle):
        y, end = float(along.y), float(solid.tank.length if along.end is None else along.end)
        start = float(along.start or 0.0)
        front, rear, roof = solid.floor(start, y), solid.floor(end, y), solid.roof(y)
        shape = plate([np.array([(front, start), (roof, start), (roof, end), (rear, end)])], axis=1, at=y)
        key, name = f"tank.long_baffle.{i + 1}", f"lengthwise baffle {i + 1}"
        yield part(key, name, "plate", shape, see_through=bool(along.open), cut="line")


def _rings(hull: Hull) -> Iterator[MeshPart]:
    shell = float(hull.solid.tank.shell)
    for i, ring in enumerate(hull.solid.tank.ring):
        x, half = float(ring.at), 0.5 * float(ring.thickness)
        inner, outer = shell, shell + float(ring.height)
        rows = [hull.at(x - half, inner), hull.at(x - half, outer), hull.at(x + half, outer), hull.at(x + half, inner)]
        shape = grid(np.stack([rows[i] for i in (0, 1, 1, 2, 2, 3, 3, 0)]), hull.sharp, (1, 3))
        yield part(f"tank.ring.{i + 1}", f"ring {i + 1}", "fitting", shape)


def _manholes(hull: Hull) -> Iterator[MeshPart]:
    for i, hole in enumerate(hull.solid.tank.manhole):
        r, neck = 0.5 * float(hole.diameter), max(float(hole.neck), 0.02)
        rim, lid = r + _RIM, neck - min(0.016, 0.5 * neck)
        low = hull.solid.roof(float(hole.y)) - hull.solid.roof(float(hole.y + r))
        corners = [(r, -abs(low)), (r, lid), (rim, lid), (rim, neck)]
        handle = [(0.3 * r, neck), (0.3 * r, neck + 0.012), (0.0, neck + 0.012)]
        profile = [corners[0], *(p for corner in (*corners[1:], *handle[:2]) for p in (corner, corner)), handle[2]]
        centre = (float(hole.at), float(hole.y), hull.solid.roof(float(hole.y)))
        shape = turned(profile, axis=2, centre=centre)
        yield part(f"tank.manhole.{i + 1}", f"manhole {i + 1}", "fitting", shape, cut="line")


def sump_shape(hull: Hull, sump: Sump) -> Shape:
    """A box or drum below the floor, closed by the floor.

    hull: the tank's inside
    sump: the sump
    """
    x, y = float(sump.at), float(sump.y)
    base = hull.solid.floor(x, y) - float(sump.depth)
    foot = np.array([x, y]) + _footprint(sump)
    sharp = np.abs(turns(foot)) > SHARP
    top = []
    for k in (1.0, 0.75, 0.5, 0.25, 0.0):
        ring = (x, y) + k * (foot - (x, y))
        top.append(np.column_stack([ring, [hull.solid.floor(*at) for at in ring.tolist()]]))
    low = np.column_stack([foot, np.full(len(foot), base)])
    middle = np.broadcast_to((x, y, base), low.shape)
    return joined([grid(np.stack([middle, low]), sharp, [1]), grid(np.stack([low, top[0]]), sharp),
                   grid(np.stack(top), sharp, [])])  # fmt: skip


def _footprint(sump: Sump) -> Floats:
    """The sump from above, about its middle, of its true area."""
    if sump.diameter:
        angle = np.arange(32) * 2 * np.pi / 32
        swell = np.sqrt(angle[1] / np.sin(angle[1]))
        return np.asarray(0.5 * sump.diameter * swell * np.column_stack([np.cos(angle), np.sin(angle)]))
    a, b = 0.5 * float(sump.length or 0.0), 0.5 * float(sump.width or 0.0)
    corners = np.array([(-a, -b), (a, -b), (a, b), (-a, b)])
    share = np.arange(8)[None, :, None] / 8
    sides: Floats = corners[:, None] + share * (np.roll(corners, -1, axis=0) - corners)[:, None]
    return sides.reshape(-1, 2)


def _insides(hull: Hull) -> Iterator[MeshPart]:
    """Recesses and pipes."""
    for i, box in enumerate(hull.solid.tank.recess):
        low = hull.solid.floor(float(box.end), float(box.y)) if box.height <= 0 else float(box.height)
        y, half = float(box.y), 0.5 * float(box.width)
        shape = block((float(box.start), y - half, low), (float(box.end), y + half, float(box.top)))
        yield part(f"tank.recess.{i + 1}", f"recess {i + 1}", "fitting", shape, cut="room")
    for i, pipe in enumerate(hull.solid.tank.pipe):
        r, start = 0.5 * float(pipe.diameter), float(pipe.start)
        along = pipe.run == "along"
        reach = float(pipe.end or 0.0) - start if along else float((pipe.top or 0.0) - pipe.height)
        profile = [(0.0, 0.0), (r, 0.0), (r, 0.0), (r, reach), (r, reach), (0.0, reach)]
        centre = (start, float(pipe.y), float(pipe.height))
        shape = turned(profile, axis=0 if along else 2, centre=centre, count=20)
        yield part(f"tank.pipe.{i + 1}", f"inner pipe {i + 1}", "fitting", shape, cut="room")
