"""The tank as a solid: its section, heads, compartments and bays as bodies that hold or displace water."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.build.tank import Baffle, Pipe, Recess, Sump, Tank
from tunwright.handbook.bodies import Body, Cap, Plates, Run, Slice, round_slices
from tunwright.handbook.heads import Head
from tunwright.handbook.levels import level_table
from tunwright.handbook.liquid import Memo, level_for_volume, span, wet_moments, wet_volume
from tunwright.handbook.outline import Outline, clip_to_box, ellipse, polygon

Floats = NDArray[np.float64]
ZERO = np.zeros(1)
FOLLOWING = 41
"""Points with which a sump or a pipe follows the floor and the roof."""


@dataclass(frozen=True, eq=False)
class Half:
    """A part of the section that carries through the tank on its own: the whole, or the half above or below the seat.

    outline: its outline
    growth: rate of its stretch along the tank [1/m]
    """

    outline: Outline
    growth: float


@dataclass(frozen=True, eq=False)
class Region:
    """A closed part of the tank: a compartment, or one bay of it.

    name: what it is called
    start, end: where it begins and ends between the tangent lines [m]
    bodies: what holds and displaces water in it
    """

    name: str
    start: float
    end: float
    bodies: tuple[Body, ...]
    memo: Memo = field(default_factory=dict, repr=False)

    @cached_property
    def gross(self) -> float:
        """Volume to the roof [m3]."""
        top = span(self.bodies, a=ZERO)[1]
        return float(wet_volume(self.bodies, c=top + 1.0, a=ZERO)[0][0])

    def below(self, x: float, height: float, a: float) -> float:
        """Volume below a surface through a point [m3].

        x: place of the point [m]
        height: height of the point [m]
        a: slope of the surface along the tank [-]
        """
        return float(wet_volume(self.bodies, c=np.array([height - a * x]), a=np.array([a]))[0][0])

    def levels(self, volume: Floats, a: Floats, b: float) -> Floats:
        """Heights c of the surfaces that hold volumes; see `handbook.liquid`.

        volume: volumes [m3]
        a: slopes along the tank [-]
        b: slope across [-]
        """
        return level_for_volume(self.bodies, volume=volume, a=a, b=b, memo=self.memo)

    def moments(self, c: Floats, a: Floats, b: float) -> Floats:
        """Wet moments (n, 10) below surfaces.

        c: heights of the surfaces [m]
        a: slopes along the tank [-]
        b: slope across [-]
        """
        return wet_moments(self.bodies, c=c, a=a, b=b)


@dataclass(frozen=True, eq=False)
class Compartment:
    """A closed compartment and its bays between baffles.

    baffles: the baffles of the build that stand in it
    """

    whole: Region
    bays: tuple[Region, ...]
    baffles: tuple[Baffle, ...]

    @property
    def name(self) -> str:
        """What it is called."""
        return self.whole.name


WHERE = frozenset({"middle", "bottom", "y", "dry_mass", "dry_centre", "allowance", "coating", "saddle"})
"""Keys of a tank that say where it stands or what it weighs, but do not shape it."""


_kept: dict[str, TankSolid] = {}


def tank_solid(tank: Tank) -> TankSolid:
    """The solid of a tank; tanks of one shape share it, so that moving a tank keeps the water already worked out.

    tank: the tank of the build
    """
    shape = repr(tank.model_dump(exclude=set(WHERE)))
    if shape not in _kept:
        while len(_kept) >= 16:
            _kept.pop(next(iter(_kept)))
        _kept[shape] = TankSolid(tank)
    return _kept[shape]


class TankSolid:
    """The tank of a build as a solid.

    tank: the tank of the build; where it stands does not matter here

    `solved` keeps the moments of the water in every state worked out so far; `tabled` says that those of a whole table
    of load states are among them.
    """

    def __init__(self, tank: Tank) -> None:
        self.tank = tank
        self.solved: dict[tuple[object, ...], Floats] = {}
        self.tabled = False
        self.outline: Outline = tank.section.outline()
        self.height = self.outline.highest
        self.seat = 0.5 * self.height
        self.front: Head = (tank.front_head or tank.head).over(tank.section)
        self.rear: Head = (tank.rear_head or tank.head).over(tank.section)
        self.growth = tank.fall / self.seat if tank.fall_by == "floor" else 0.0

    def take(self, solved: dict[tuple[object, ...], Floats]) -> None:
        """Take over the water of a whole table of states, worked out elsewhere for a tank of this shape.

        solved: moments (10,) by state, as in `solved`
        """
        self.solved.update(solved)
        self.tabled = True

    @cached_property
    def halves(self) -> tuple[Half, ...]:
        """What the section is carried as."""
        if not self.growth:
            return (Half(self.outline, 0.0),)
        wide = {"y_from": -np.inf, "y_to": np.inf}
        upper = clip_to_box(self.outline, z_from=self.seat, z_to=np.inf, **wide)
        lower = clip_to_box(self.outline, z_from=-np.inf, z_to=self.seat, **wide)
        return tuple(Half(part, rate) for part, rate in ((upper, 0.0), (lower, self.growth)) if part is not None)

    def stretch(self, growth: float, x: float) -> float:
        """Stretch of a half in z at x [-].

        growth: its rate [1/m]
        x: place along the tank [m]
        """
        return 1.0 + growth * x

    def floor(self, x: float, y: float = 0.0) -> float:
        """Height of the floor at a place [m].

        x: place along the tank [m]
        y: place across [m]
        """
        return float(self.floors(x, np.array([y]))[0])

    def floors(self, x: float, y: Floats) -> Floats:
        """Heights of the floor across the tank (n,) [m]; that of the seat where the tank is not.

        x: place along the tank [m]
        y: places across (n,) [m]
        """
        return self.seat - (self.seat - self._chords(y)[:, 0]) * self.stretch(self.growth, x)

    def roofs(self, y: Floats) -> Floats:
        """Heights of the roof across the tank (n,) [m]; that of the seat where the tank is not.

        y: places across (n,) [m]
        """
        return self._chords(y)[:, 1]

    def _chords(self, y: Floats) -> Floats:
        chords = self.outline.chords(y)
        return np.where(np.isnan(chords), self.seat, chords)

    def roof(self, y: float = 0.0) -> float:
        """Height of the roof at a place across [m].

        y: place across [m]
        """
        return float(self.roofs(np.array([y]))[0])

    def middle_of_section(self, x: float) -> tuple[float, float]:
        """Centroid (y, z) of the section at x [m]: the point a head shrinks to.

        x: place along the tank [m]
        """
        area = first_y = first_z = 0.0
        for half in self.halves:
            k = self.stretch(half.growth, x)
            one, y, z = level_table(half.outline).full[:3]
            area, first_y = area + k * one, first_y + k * y
            first_z += k * (one * self.seat * (1 - k) + k * z)
        return first_y / area, first_z / area

    @cached_property
    def compartments(self) -> tuple[Compartment, ...]:
        """The compartments, front to rear."""
        listed = self.tank.compartment
        ranges = [(c.name, float(c.start), float(c.end)) for c in listed] or [("tank", 0.0, float(self.tank.length))]
        return tuple(self._compartment(name, start, end) for name, start, end in ranges)

    def _compartment(self, name: str, start: float, end: float) -> Compartment:
        inside = [b for b in self.tank.baffle if start < b.at < end]
        edges = [start, *(float(b.at) for b in inside), end]
        bays = tuple(self._region(f"{name} bay {i + 1}", edges[i], edges[i + 1]) for i in range(len(edges) - 1))
        return Compartment(self._region(name, start, end), bays, tuple(inside))

    def _region(self, name: str, start: float, end: float) -> Region:
        return Region(name, start, end, tuple(self._bodies(start, end)))

    def _bodies(self, start: float, end: float) -> Iterator[Body]:
        """Everything that holds or displaces water between two places."""
        for half in self.halves:
            yield Run(half.outline, start, end, growth=half.growth, seat=self.seat)
            yield from self._caps(half, start, end)
            yield self._plates(half, start, end)
            yield from self._long_baffles(half, start, end)
            yield from self._recesses(half, start, end)
        yield from self._pipes(start, end)
        for sump in self.tank.sump:
            if start <= sump.at < end or (sump.at == end == self.tank.length):
                yield from self._sump(sump)

    def _caps(self, half: Half, start: float, end: float) -> Iterator[Cap]:
        length = float(self.tank.length)
        for head, at, outward in ((self.front, 0.0, -1.0), (self.rear, length, 1.0)):
            touches = start <= 1e-6 if outward < 0 else end >= length - 1e-6
            if touches and head.arcs:
                yield Cap(
                    half.outline,
                    head,
                    at,
                    outward,
                    self.middle_of_section(at),
                    stretch=self.stretch(half.growth, at),
                    seat=self.seat,
                )

    def _plates(self, half: Half, start: float, end: float) -> Plates:
        """Half of each bulkhead and baffle that bounds the region, and the whole of those inside it."""
        found: list[tuple[float, float]] = []
        for baffle in self.tank.baffle:
            solid = float(baffle.thickness or self.tank.shell) * (1.0 - self.open_share(baffle))
            found.extend(_share(float(baffle.at), solid, start, end))
        wall = float(self.tank.bulkhead or self.tank.shell)
        ends = {float(x) for part in self.tank.compartment for x in (part.start, part.end)}
        inner = [x for x in ends if 1e-6 < x < self.tank.length - 1e-6 and x in (start, end)]
        found.extend((x, 0.5 * wall) for x in inner)
        at, solid_of = np.array([f[0] for f in found]), np.array([f[1] for f in found])
        growth = half.growth
        return Plates(half.outline, at, solid_of, stretch=lambda x: 1.0 + growth * x, seat=self.seat)

    def open_share(self, baffle: Baffle) -> float:
        """Open part of a baffle's section [-].

        baffle: a baffle of the build
        """
        if baffle.open is not None:
            return float(baffle.open)
        holes = sum(float(np.pi * hole.diameter**2 / 4) for hole in baffle.opening)
        return min(0.95, holes / self.outline.area)

    def _long_baffles(self, half: Half, start: float, end: float) -> Iterator[Run]:
        for plate in self.tank.long_baffle:
            t = 0.5 * float(plate.thickness or self.tank.shell)
            strip = clip_to_box(half.outline, y_from=plate.y - t, y_to=plate.y + t, z_from=-np.inf, z_to=np.inf)
            one = max(start, float(plate.start or 0.0))
            two = min(end, float(self.tank.length if plate.end is None else plate.end))
            if strip is not None and two > one:
                yield Run(strip, one, two, growth=half.growth, seat=self.seat, sign=-(1.0 - float(plate.open)))

    def _recesses(self, half: Half, start: float, end: float) -> Iterator[Body]:
        for box in self.tank.recess:
            one, two = max(start, float(box.start)), min(end, float(box.end))
            if two <= one:
                continue
            if not half.growth:
                cut = self._boxed(half, box, 0.5 * (one + two))
                if cut is not None:
                    yield Run(cut, one, two, sign=-1.0)
                continue
            for node, weight in zip(*np.polynomial.legendre.leggauss(6), strict=True):
                x = 0.5 * (one + two) + 0.5 * (two - one) * float(node)
                cut = self._boxed(half, box, x)
                if cut is not None:
                    yield Slice(cut, x, 0.5 * (two - one) * float(weight), sign=-1.0)

    def _boxed(self, half: Half, box: Recess, x: float) -> Outline | None:
        """What a recess takes of the section at x."""
        k = self.stretch(half.growth, x)
        y, z = half.outline.points.T
        section = polygon(np.column_stack([y, self.seat + k * (z - self.seat)])) if half.growth else half.outline
        low = float(box.height) if box.height > 0 else -np.inf
        y_from, y_to = box.y - box.width / 2, box.y + box.width / 2
        return clip_to_box(section, y_from=y_from, y_to=y_to, z_from=low, z_to=float(box.top))

    def _pipes(self, start: float, end: float) -> Iterator[Body]:
        for pipe in self.tank.pipe:
            if pipe.run == "up" and start <= pipe.start < end:
                yield from self._upright(pipe)
            elif pipe.run == "along":
                one, two = max(start, float(pipe.start)), min(end, float(pipe.end or 0.0))
                if two > one:
                    ring = ellipse(width=pipe.diameter, height=pipe.diameter).points
                    shift = np.array([pipe.y, pipe.height - pipe.diameter / 2])
                    yield Run(polygon(ring + shift), one, two, sign=-1.0)

    def _upright(self, pipe: Pipe) -> Iterator[Slice]:
        """A pipe that runs up, as far as it stands inside the tank."""
        for x, length, half in round_slices(float(pipe.start), 0.5 * float(pipe.diameter)):
            across = np.linspace(pipe.y - half, pipe.y + half, FOLLOWING)
            floor = np.maximum(float(pipe.height), self.floors(x, across))
            roof = np.minimum(float(pipe.top or 0.0), self.roofs(across))
            ring = np.vstack([np.column_stack([across, floor]), np.column_stack([across, roof])[::-1]])
            yield Slice(polygon(ring), x, length, sign=-1.0)

    def _sump(self, sump: Sump) -> Iterator[Slice]:
        """A box or drum below the floor, its top following the floor."""
        base = self.floor(float(sump.at), float(sump.y)) - float(sump.depth)
        if sump.diameter:
            slices = round_slices(float(sump.at), 0.5 * float(sump.diameter))
        else:
            reach, half = 0.5 * float(sump.length or 0.0), 0.5 * float(sump.width or 0.0)
            nodes, weights = np.polynomial.legendre.leggauss(3)
            slices = [
                (float(sump.at) + reach * float(n), reach * float(w), half) for n, w in zip(nodes, weights, strict=True)
            ]
        for x, length, half in slices:
            across = np.linspace(sump.y + half, sump.y - half, FOLLOWING)
            top = np.column_stack([across, self.floors(x, across)])
            yield Slice(polygon(np.vstack([[(sump.y - half, base), (sump.y + half, base)], top])), x, length)


def _share(at: float, solid: float, start: float, end: float) -> list[tuple[float, float]]:
    """The part of a plate that lies in a region: whole inside, half on its edge."""
    if start < at < end:
        return [(at, solid)]
    return [(at, 0.5 * solid)] if at in (start, end) else []
