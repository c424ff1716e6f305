"""What has to fit into the section of a tank: openings, pipes, manholes, sumps, rings, recesses.

A check ends where it needs a value that is not known; the others go on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from tunwright.build.base import Wrong, as_far_as_known
from tunwright.build.typed import metres
from tunwright.build.units import Quantity
from tunwright.handbook.outline import Outline, clip_to_box

if TYPE_CHECKING:
    from tunwright.build.tank import Baffle, LongBaffle, Manhole, Pipe, Recess, Ring, Sump, Tank

Path = tuple[str | int, ...]

SLACK = 1e-3
"""How far a round part may reach over the section, whose floor and roof are curved [m]."""

MOST_OF_SECTION = 0.9
"""Greatest part of the section that a recess may take away."""


def openings(tank: Tank, outline: Outline) -> Iterator[Wrong]:
    """Openings of baffles that reach outside the section or into each other."""
    yield from as_far_as_known(*(_openings_of(outline, tank.baffle[i], i) for i in range(len(tank.baffle))))


def _openings_of(outline: Outline, baffle: Baffle, i: int) -> Iterator[Wrong]:
    for j in range(len(baffle.opening)):
        checks = [_opening(outline, baffle, (i, j)), *(_two_openings(baffle, (i, j), k) for k in range(j))]
        yield from as_far_as_known(*checks)


def _opening(outline: Outline, baffle: Baffle, at: tuple[int, int]) -> Iterator[Wrong]:
    hole = baffle.opening[at[1]]
    path: Path = ("baffle", at[0], "opening", at[1])
    if hole.diameter >= min(outline.highest, outline.right - outline.left):
        most = min(outline.highest, outline.right - outline.left)
        message = "The opening is larger than the section."
        yield Wrong((*path, "diameter"), message, hole.diameter.text, f"less than {most:.3f} m", metres(most / 4))
    elif not inside(outline, float(hole.y), float(hole.height), hole.diameter / 2):
        allowed = f"a circle inside the section, which is {outline.highest:.3f} m high"
        message = "The opening reaches outside the section."
        yield Wrong((*path, "height"), message, hole.height.text, allowed)


def _two_openings(baffle: Baffle, at: tuple[int, int], k: int) -> Iterator[Wrong]:
    one, two = baffle.opening[at[1]], baffle.opening[k]
    apart = ((one.y - two.y) ** 2 + (one.height - two.height) ** 2) ** 0.5
    if apart < (one.diameter + two.diameter) / 2:
        message = f"The opening runs into opening {k + 1} of the same baffle."
        allowed = f"{(one.diameter + two.diameter) / 2:.3f} m or more between the two centres"
        yield Wrong(("baffle", at[0], "opening", at[1], "height"), message, one.height.text, allowed)


def inside(outline: Outline, y: float, z: float, radius: float) -> bool:
    """Whether a circle lies in the section: its centre does, and no edge comes nearer than its radius.

    outline: the section
    y: its centre across [m]
    z: its centre above the bottom [m]
    radius: its radius [m]
    """
    chord = outline.chord_at(y)
    if chord is None or not chord[0] <= z <= chord[1]:
        return False
    one = outline.points - (y, z)
    edge = np.roll(one, -1, axis=0) - one
    along = np.clip(-np.sum(one * edge, axis=1) / np.maximum(np.sum(edge * edge, axis=1), 1e-18), 0.0, 1.0)
    return bool(np.hypot(*(one + along[:, None] * edge).T).min() >= radius - SLACK)


def pipes(tank: Tank, outline: Outline) -> Iterator[Wrong]:
    """Pipes inside that leave the section or the tank."""
    yield from as_far_as_known(*(_pipe(tank, outline, i) for i in range(len(tank.pipe))))


def _pipe(tank: Tank, outline: Outline, i: int) -> Iterator[Wrong]:
    pipe = tank.pipe[i]
    path: Path = ("pipe", i)
    if pipe.run == "along":
        if not inside(outline, float(pipe.y), float(pipe.height), pipe.diameter / 2):
            allowed = f"a circle inside the section, which is {outline.highest:.3f} m high"
            message = "The pipe reaches outside the section."
            yield Wrong((*path, "height"), message, pipe.height.text, allowed)
        return
    chord = outline.chord_at(float(pipe.y))
    if chord is None:
        yield _beside(outline, (*path, "y"), "The pipe stands beside the section.", pipe.y)
        return
    yield from as_far_as_known(_below_floor(tank, pipe, chord[0], path), _above_roof(pipe, chord[1], path))


def _below_floor(tank: Tank, pipe: Pipe, floor: float, path: Path) -> Iterator[Wrong]:
    low = floor - (float(tank.fall * pipe.start) if tank.fall_by == "floor" else 0.0)
    if pipe.height < low - SLACK:
        example = metres(max(floor, 0.0) + 0.01)
        allowed = f"from {low:.3f} m, the floor there"
        yield Wrong((*path, "height"), "The pipe begins below the floor.", pipe.height.text, allowed, example)


def _above_roof(pipe: Pipe, roof: float, path: Path) -> Iterator[Wrong]:
    if pipe.top is not None and pipe.top > roof + SLACK:
        allowed = f"up to {roof:.3f} m, the roof there"
        yield Wrong((*path, "top"), "The pipe ends above the roof.", pipe.top.text, allowed, metres(roof - 0.01))


def _beside(outline: Outline, path: Path, message: str, y: Quantity) -> Wrong:
    return Wrong(path, message, y.text, f"{outline.left:.3f} m to {outline.right:.3f} m", '"0 m"')


def across(tank: Tank, outline: Outline) -> Iterator[Wrong]:
    """Parts beside the section, and a tank beside the vehicle."""
    checks = [_parts_within(tank, outline, name) for name in ("manhole", "sump", "long_baffle")]
    checks.append(_within(outline, ("dip_y",), "The level is dipped beside the section.", tank.dip_y))
    checks.append(_within(outline, ("y",), "The tank stands beside the vehicle.", tank.y))
    yield from as_far_as_known(*checks)


def _parts_within(tank: Tank, outline: Outline, name: str) -> Iterator[Wrong]:
    yield from as_far_as_known(*(_part_within(outline, name, i, part) for i, part in enumerate(getattr(tank, name))))


def _part_within(outline: Outline, name: str, i: int, part: Manhole | Sump | LongBaffle) -> Iterator[Wrong]:
    message = f"The {name.replace('_', ' ')} stands beside the section."
    yield from _within(outline, (name, i, "y"), message, part.y)


def _within(outline: Outline, path: Path, message: str, y: Quantity) -> Iterator[Wrong]:
    if not outline.left < y < outline.right:
        yield _beside(outline, path, message, y)


def manholes(tank: Tank, outline: Outline) -> Iterator[Wrong]:
    """Manholes larger than the roof, or that are chimneys."""
    yield from as_far_as_known(*(_manhole(tank, outline, i) for i in range(len(tank.manhole))))


def _manhole(tank: Tank, outline: Outline, i: int) -> Iterator[Wrong]:
    hole: Manhole = tank.manhole[i]
    most = min(float(tank.length), outline.right - outline.left)
    if hole.diameter >= most:
        message = "The manhole is larger than the roof."
        yield Wrong(
            ("manhole", i, "diameter"), message, hole.diameter.text, f"less than {most:.3f} m", metres(most / 5)
        )
    if hole.neck > 1.0:
        message = "The neck is higher than a person can climb over."
        yield Wrong(("manhole", i, "neck"), message, hole.neck.text, "up to 1 m", '"90 mm"')


def sumps(tank: Tank, outline: Outline) -> Iterator[Wrong]:
    """Sumps that reach beyond the tank."""
    yield from as_far_as_known(*(_sump(tank, outline, i) for i in range(len(tank.sump))))


def _sump(tank: Tank, outline: Outline, i: int) -> Iterator[Wrong]:
    sump: Sump = tank.sump[i]
    if sump.depth > outline.highest:
        message = "The sump is deeper than the tank is high."
        allowed = f"up to {outline.highest:.3f} m"
        yield Wrong(("sump", i, "depth"), message, sump.depth.text, allowed, '"90 mm"')
    for name, low, high, at in (
        ("width", outline.left, outline.right, sump.y),
        ("length", 0.0, float(tank.length), sump.at),
    ):
        side: Quantity | None = sump.diameter if sump.diameter is not None else getattr(sump, name)
        if side is not None and not low - 1e-9 <= at - side / 2 <= at + side / 2 <= high + 1e-9:
            path: Path = ("sump", i, "diameter" if sump.diameter is not None else name)
            room = 2 * min(at - low, high - at)
            if room <= 0:
                return  # it stands outside, which is told
            message, allowed = "The sump reaches beyond the tank.", f"up to {room:.3f} m here"
            yield Wrong(path, message, side.text, allowed, metres(room / 2))
            return


def rings(parts: Sequence[Ring]) -> Iterator[Wrong]:
    """Rings thicker than high, or as high as a wall."""
    yield from as_far_as_known(*(_ring(parts[i], i) for i in range(len(parts))))


def _ring(ring: Ring, i: int) -> Iterator[Wrong]:
    if ring.height > 0.5:
        message = "The ring is higher than a stiffener can be."
        yield Wrong(("ring", i, "height"), message, ring.height.text, "up to 500 mm", '"60 mm"')
    elif ring.thickness >= ring.height:
        message = "The ring is thicker than it is high."
        allowed = f"less than {ring.height.text}"
        yield Wrong(("ring", i, "thickness"), message, ring.thickness.text, allowed, metres(min(0.02, ring.height / 8)))


def recesses(tank: Tank, outline: Outline) -> Iterator[Wrong]:
    """Recesses that miss the tank, leave nothing of it, or run into each other."""
    checks = [_recess(outline, tank.recess[i], i) for i in range(len(tank.recess))]
    checks += [_two_recesses(tank.recess, i, j) for i in range(len(tank.recess)) for j in range(i)]
    yield from as_far_as_known(*checks)


def _recess(outline: Outline, box: Recess, i: int) -> Iterator[Wrong]:
    cut = clip_to_box(
        outline,
        y_from=box.y - box.width / 2,
        y_to=box.y + box.width / 2,
        z_from=float(box.height) if box.height > 0 else -np.inf,
        z_to=float(box.top),
    )
    if cut is None:
        message = "The recess does not touch the tank."
        allowed = f"an upper edge above 0 m, and a middle from {outline.left:.3f} m to {outline.right:.3f} m"
        yield Wrong(("recess", i), message, "", allowed)
    elif cut.area > MOST_OF_SECTION * outline.area:
        message = "The recess leaves next to nothing of the section."
        allowed = f"at most {100 * MOST_OF_SECTION:.0f} % of the section"
        yield Wrong(("recess", i, "top"), message, box.top.text, allowed, metres(outline.highest / 4))


def _two_recesses(boxes: Sequence[Recess], i: int, j: int) -> Iterator[Wrong]:
    one, two = boxes[i], boxes[j]
    if (
        one.start < two.end
        and two.start < one.end
        and one.height < two.top
        and two.height < one.top
        and abs(one.y - two.y) < (one.width + two.width) / 2
    ):
        yield Wrong(("recess", i), f"The recess runs into recess {j + 1}.", "", "recesses beside each other")
