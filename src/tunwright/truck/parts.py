"""The parts of the tank and its subframe: one list that weighing, cutting, welding, coating and pricing share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tunwright.build.tank import Baffle, Tank
from tunwright.handbook.heads import Head
from tunwright.handbook.inertia import Mass, from_moments, plate_moments, point, sheet_moments, together
from tunwright.handbook.levels import level_table
from tunwright.handbook.outline import Outline, polygon
from tunwright.tables.read import materials
from tunwright.truck.solid import TankSolid

Floats = NDArray[np.float64]
Kind = Literal["sheet", "plate", "section", "lump"]


@dataclass(frozen=True, eq=False)
class Opening:
    """A round opening in a part.

    diameter: its diameter [m]
    centre: its centre in the tank's frame [m]
    """

    diameter: float
    centre: tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Part:
    """A part to be made or bought.

    key: stable key, such as "tank.baffle.2"
    name: what it is called
    kind: sheet (curved), plate (flat), section (rolled or folded bar) or lump
    material: key in the table of materials, empty for a lump
    thickness: plate thickness [m], 0 for a lump
    area: of its mid-surface [m2], 0 for a lump
    mass: mass, centre and spread in the frame it belongs to
    frame: "tank" for the tank's own frame, "vehicle" for the vehicle's
    surface: mid-surface as a grid of points (m, n, 3) or an outline (n, 3), None for a lump [m]
    openings: openings cut into it
    joins: keys of the parts it is welded or bolted to
    """

    key: str
    name: str
    kind: Kind
    material: str
    thickness: float
    area: float
    mass: Mass
    frame: Literal["tank", "vehicle"] = "tank"
    surface: Floats | None = field(default=None, repr=False)
    openings: tuple[Opening, ...] = ()
    joins: tuple[str, ...] = ()


@lru_cache(maxsize=16)
def tank_parts(solid: TankSolid) -> tuple[Part, ...]:
    """The parts of the tank, front to rear within each sort.

    solid: the tank
    """
    return (
        _shell(solid),
        *_heads(solid),
        *_bulkheads(solid),
        *_baffles(solid),
        *_long_baffles(solid),
        *_rings(solid),
        *_manholes(solid),
        *_sumps(solid),
        *_recesses(solid),
        *_pipes(solid.tank),
    )


def density(material: str) -> float:
    """Density of a material of the table [kg/m3].

    material: its key
    """
    return materials()[material].density


def grown(outline: Outline, by: float) -> Floats:
    """An outline set outwards: its points, (n, 2) [m].

    by: how far [m]
    """
    ahead = np.roll(outline.points, -1, axis=0) - outline.points
    ahead = ahead / np.hypot(*ahead.T)[:, None]
    normal = np.column_stack([ahead[:, 1], -ahead[:, 0]])
    before = np.roll(normal, 1, axis=0)
    bisector = normal + before
    moved: Floats = outline.points + by * bisector * (2.0 / np.sum(bisector**2, axis=1))[:, None]
    return moved


def _ring_at(solid: TankSolid, yz: Floats, x: float) -> Floats:
    """A section outline in space at x, closed, its lower half stretched where the floor falls."""
    ring = _stretched(yz, solid.seat, solid.stretch(solid.growth, x))
    return _along(np.vstack([ring, ring[:1]]), x)


def _along(points: Floats, x: float) -> Floats:
    """Points moved along the tank."""
    moved: Floats = points + np.array([x, 0.0, 0.0])
    return moved


def _stretched(yz: Floats, seat: float, k: float) -> Floats:
    """A section outline in space at x = 0, its part below the seat stretched."""
    z = np.where(yz[:, 1] < seat, seat + k * (yz[:, 1] - seat), yz[:, 1])
    return np.column_stack([np.zeros(len(yz)), yz[:, 0], z])


def _sheet(key: str, name: str, material: str, thickness: float, grid: Floats, **more: tuple[str, ...]) -> Part:
    moments = sheet_moments(grid)
    mass = from_moments(moments, density(material) * thickness)
    return Part(key, name, "sheet", material, thickness, float(moments[0]), mass, surface=grid, **more)  # type: ignore[arg-type]


def _shell(solid: TankSolid) -> Part:
    tank = solid.tank
    t = float(tank.shell)
    yz = grown(solid.outline, t / 2)
    grid = np.stack([_ring_at(solid, yz, 0.0), _ring_at(solid, yz, float(tank.length))])
    whole = _sheet("tank.shell", "shell", tank.material, t, grid, joins=("tank.head.front", "tank.head.rear"))
    holes = tuple(Opening(float(m.diameter), (float(m.at), float(m.y), solid.roof(float(m.y)))) for m in tank.manhole)
    cut = [point(-np.pi / 4 * h.diameter**2 * t * density(tank.material), *h.centre) for h in holes]
    mass = together([whole.mass, *cut])
    area = whole.area - sum(np.pi / 4 * h.diameter**2 for h in holes)
    return Part(
        whole.key, whole.name, "sheet", tank.material, t, area, mass, surface=grid, openings=holes, joins=whole.joins
    )


def _heads(solid: TankSolid) -> Iterator[Part]:
    tank = solid.tank
    for word, head, table, x, outward in (
        ("front", solid.front, tank.front_head or tank.head, 0.0, -1.0),
        ("rear", solid.rear, tank.rear_head or tank.head, float(tank.length), 1.0),
    ):
        t = float(table.thickness or tank.shell)
        key, name = f"tank.head.{word}", f"{word} head"
        if not head.arcs:
            yield _plate(solid, key, name, t, x, grown_by=float(tank.shell), joins=("tank.shell",))
        else:
            at_seam = solid.outline, solid.seat, solid.stretch(solid.growth, x), solid.middle_of_section(x)
            grid, moments = _head_sheet(head, outward, t, *at_seam)
            mass = from_moments(moments, density(tank.material) * t).moved(np.array([x, 0.0, 0.0]))
            area, grid = float(moments[0]), _along(grid, x)
            yield Part(key, name, "sheet", tank.material, t, area, mass, surface=grid, joins=("tank.shell",))


@lru_cache(maxsize=64)
def _head_sheet(
    head: Head, outward: float, t: float, outline: Outline, seat: float, stretch: float, middle: tuple[float, float]
) -> tuple[Floats, Floats]:
    """Mid-surface of a head with its seam at x = 0, and its moments: sections half a thickness larger, as is its depth.

    Kept: a tank that is lengthened has the heads it had.
    """
    distance, scale = head.meridian()
    ring = _stretched(grown(outline, t / 2), seat, stretch)
    ring = np.vstack([ring, ring[:1]])
    swell = outward * (1.0 + t / 2 / head.depth)
    centre = np.array([0.0, *middle])
    grid = np.stack(
        [centre + k * (ring - centre) + (d * swell, 0.0, 0.0) for d, k in zip(distance, scale, strict=True)]
    )
    return grid, sheet_moments(grid)


def _plate(
    solid: TankSolid,
    key: str,
    name: str,
    t: float,
    x: float,
    *,
    grown_by: float = 0.0,
    solid_share: float = 1.0,
    openings: tuple[Opening, ...] = (),
    joins: tuple[str, ...] = (),
) -> Part:
    """A flat plate across the tank, less its openings."""
    ring, section = _plate_section(solid.outline, grown_by, solid.seat, solid.stretch(solid.growth, x))
    moments = plate_moments(x, section) * solid_share
    weight = density(solid.tank.material) * t
    lumps = [from_moments(moments, weight)]
    lumps += [point(-np.pi / 4 * o.diameter**2 * weight, *o.centre) for o in openings]
    area = float(moments[0]) - sum(np.pi / 4 * o.diameter**2 for o in openings)
    return Part(
        key,
        name,
        "plate",
        solid.tank.material,
        t,
        area,
        together(lumps),
        surface=_along(ring, x),
        openings=openings,
        joins=joins,
    )


@lru_cache(maxsize=64)
def _plate_section(outline: Outline, grown_by: float, seat: float, stretch: float) -> tuple[Floats, Floats]:
    """Outline in space at x = 0 and section moments of a plate across the tank; kept, as several are of one size."""
    ring = _stretched(grown(outline, grown_by) if grown_by else outline.points, seat, stretch)
    return ring, level_table(polygon(ring[:, 1:])).full


def _bulkheads(solid: TankSolid) -> Iterator[Part]:
    tank = solid.tank
    places = sorted({round(float(x), 6) for c in tank.compartment for x in (c.start, c.end)})
    inner = [x for x in places if 1e-6 < x < tank.length - 1e-6]
    for i, x in enumerate(inner):
        t = float(tank.bulkhead or tank.shell)
        yield _plate(solid, f"tank.bulkhead.{i + 1}", f"bulkhead {i + 1}", t, x, joins=("tank.shell",))


def _baffles(solid: TankSolid) -> Iterator[Part]:
    for i, baffle in enumerate(solid.tank.baffle):
        t, x = float(baffle.thickness or solid.tank.shell), float(baffle.at)
        yield _plate(
            solid,
            f"tank.baffle.{i + 1}",
            f"baffle {i + 1}",
            t,
            x,
            solid_share=1.0 - float(baffle.open or 0.0),
            openings=_holes(baffle, x),
            joins=("tank.shell",),
        )


def _holes(baffle: Baffle, x: float) -> tuple[Opening, ...]:
    return tuple(Opening(float(h.diameter), (x, float(h.y), float(h.height))) for h in baffle.opening)


def _long_baffles(solid: TankSolid) -> Iterator[Part]:
    tank = solid.tank
    for i, plate in enumerate(tank.long_baffle):
        y, t = float(plate.y), float(plate.thickness or tank.shell)
        one, two = float(plate.start or 0.0), float(tank.length if plate.end is None else plate.end)
        corners = [[(x, y, z) for z in (solid.floor(x, y), solid.roof(y))] for x in (one, two)]
        moments = sheet_moments(np.array(corners)) * (1.0 - float(plate.open))
        mass = from_moments(moments, density(tank.material) * t)
        yield Part(
            f"tank.long_baffle.{i + 1}",
            f"lengthwise baffle {i + 1}",
            "plate",
            tank.material,
            t,
            float(moments[0]),
            mass,
            surface=np.array(corners).reshape(-1, 3)[[0, 1, 3, 2]],
            joins=("tank.shell",),
        )


def _rings(solid: TankSolid) -> Iterator[Part]:
    for i, ring in enumerate(solid.tank.ring):
        t, x = float(ring.thickness), float(ring.at)
        inner, outer = (grown(solid.outline, float(solid.tank.shell) + out) for out in (0.0, float(ring.height)))
        grid = np.stack([_ring_at(solid, inner, x), _ring_at(solid, outer, x)])
        made = _sheet(f"tank.ring.{i + 1}", f"ring {i + 1}", solid.tank.material, t, grid, joins=("tank.shell",))
        yield Part(
            made.key, made.name, "section", made.material, t, made.area, made.mass, surface=grid, joins=made.joins
        )


def _manholes(solid: TankSolid) -> Iterator[Part]:
    for i, hole in enumerate(solid.tank.manhole):
        z = solid.roof(float(hole.y)) + float(hole.neck) / 2
        mass = point(float(hole.mass), float(hole.at), float(hole.y), z)
        yield Part(f"tank.manhole.{i + 1}", f"manhole {i + 1}", "lump", "", 0.0, 0.0, mass, joins=("tank.shell",))


def _boxed(key: str, name: str, material: str, t: float, area: float, centre: tuple[float, float, float]) -> Part:
    """Folded plates around a box, weighed as a lump at its middle."""
    mass = point(area * t * density(material), *centre)
    return Part(key, name, "lump", material, t, area, mass, joins=("tank.shell",))


def _sumps(solid: TankSolid) -> Iterator[Part]:
    tank = solid.tank
    for i, sump in enumerate(tank.sump):
        if sump.diameter:
            around, floor = np.pi * sump.diameter, np.pi / 4 * sump.diameter**2
        else:
            length, width = float(sump.length or 0.0), float(sump.width or 0.0)
            around, floor = 2 * (length + width), length * width
        z = solid.floor(float(sump.at), float(sump.y)) - float(sump.depth)
        area = float(around * sump.depth + floor)
        drop = float(around * sump.depth * sump.depth / 2) / area
        yield _boxed(
            f"tank.sump.{i + 1}",
            f"sump {i + 1}",
            tank.material,
            float(tank.shell),
            area,
            (float(sump.at), float(sump.y), z + drop),
        )


def _recesses(solid: TankSolid) -> Iterator[Part]:
    """Walls of a recess; the shell cut away is left in the shell."""
    tank = solid.tank
    for i, box in enumerate(tank.recess):
        length, tall, wide = box.end - box.start, box.top - box.height, float(box.width)
        area = float(length * wide + 2 * tall * (length + wide))
        yield _boxed(
            f"tank.recess.{i + 1}",
            f"recess {i + 1}",
            tank.material,
            float(tank.shell),
            area,
            (float(box.start + box.end) / 2, float(box.y), float(box.height + box.top) / 2),
        )


def _pipes(tank: Tank) -> Iterator[Part]:
    """Pipes inside, their wall taken as thick as the shell."""
    for i, pipe in enumerate(tank.pipe):
        d = float(pipe.diameter)
        if pipe.run == "along":
            run, centre = (
                float((pipe.end or 0.0) - pipe.start),
                (float(pipe.start + (pipe.end or 0.0)) / 2, float(pipe.y), float(pipe.height)),
            )
        else:
            run, centre = (
                float((pipe.top or 0.0) - pipe.height),
                (float(pipe.start), float(pipe.y), float((pipe.top or 0.0) + pipe.height) / 2),
            )
        yield _boxed(
            f"tank.pipe.{i + 1}", f"inner pipe {i + 1}", tank.material, float(tank.shell), np.pi * d * run, centre
        )
