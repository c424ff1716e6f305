"""The torque sheet: every bolt of every connection with its torque, in the order in which it is tightened."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tunwright.build.model import Build
from tunwright.build.mounting import BoltSet, Mount
from tunwright.truck.fastening.held import SIDES
from tunwright.truck.fastening.pattern import places
from tunwright.truck.fastening.tightening import Tightening, tightening


@dataclass(frozen=True)
class BoltLine:
    """One bolt.

    number: its place in the order of tightening, from 1
    place: where it is in the pattern, in words
    """

    number: int
    place: str


@dataclass(frozen=True)
class Connection:
    """The bolts of one side of a mount.

    name: mount and side
    mount: the mount
    bolts: its bolts
    how: torque and preload of each
    lines: every bolt, in the order of tightening
    """

    name: str
    mount: Mount
    bolts: BoltSet
    how: Tightening
    lines: tuple[BoltLine, ...]


def connections(build: Build) -> tuple[Connection, ...]:
    """All bolted connections of a build, front to rear, left before right.

    build: the build
    """
    found = []
    for mount in sorted(build.mount, key=lambda one: float(one.at)):
        if mount.bolts is not None:
            how, lines = tightening(mount.bolts), _lines(mount.bolts, legs=mount.kind == "clamp")
            found += [Connection(f"{mount.name}, {side}", mount, mount.bolts, how, lines) for side in SIDES]
    return tuple(found)


def _lines(bolts: BoltSet, *, legs: bool) -> tuple[BoltLine, ...]:
    at = [(float(x), float(y)) for x, y in places(bolts, 0.0)]
    return tuple(BoltLine(i + 1, _place(bolts, k, legs=legs)) for i, k in enumerate(crosswise(at)))


def crosswise(at: Sequence[tuple[float, float]]) -> list[int]:
    """Numbers of bolts from the middle outwards, each time the farthest from the one before.

    at: places of the bolts [m]
    """
    middle = (sum(x for x, _ in at) / len(at), sum(y for _, y in at) / len(at))
    rings = [round(1e4 * math.dist(place, middle)) for place in at]
    left, order = set(range(len(at))), list[int]()
    while left:
        ring = [i for i in sorted(left) if rings[i] == min(rings[k] for k in left)]
        last = at[order[-1]] if order else None
        chosen = ring[0] if last is None else max(ring, key=lambda i: (round(1e4 * math.dist(at[i], last)), -i))
        order.append(chosen)
        left.remove(chosen)
    return order


def _place(bolts: BoltSet, number: int, *, legs: bool) -> str:
    if legs:
        return f"leg {number + 1}"
    row, column = divmod(number, bolts.columns)
    if bolts.rows == 1:
        return f"{column + 1} from the front"
    level = {0: "upper row", bolts.rows - 1: "lower row"}.get(row, f"row {row + 1}")
    return level if bolts.columns == 1 else f"{level}, {column + 1} from the front"
