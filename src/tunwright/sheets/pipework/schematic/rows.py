"""Which ways share a row of the drawing, and in which order the rows follow from top to bottom.

Every way is a straight horizontal line in a row of its own or in one with what leads on from it; every point is a
vertical line over the rows of its ways, as a header is. The rows are moved about until few lines cross and the
headers are short.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tunwright.sheets.pipework.schematic.network import Network, neighbours

Ints = NDArray[np.int16]
TANK_ROW = -1
_CROSSING = 8  # what a crossing costs, in rows of length of a header
_SWEEPS = 6
_STEP = 100  # between layers, so that columns of one can be told apart


@dataclass(frozen=True)
class Rows:
    """Rows of a network, counted from 0 at the top.

    of_way: row of each way
    first: first row of each place, `TANK_ROW` where it reaches up to the tank
    last: last row of each place
    own: first row of each place in which one of its ways begins or ends
    count: number of rows
    """

    of_way: tuple[int, ...]
    first: tuple[int, ...]
    last: tuple[int, ...]
    own: tuple[int, ...]
    count: int


def rows(network: Network, layer: Sequence[int]) -> Rows:
    """The rows of a network.

    network: the network
    layer: layer of each place
    """
    lines = _lines(network, layer)
    trial = _Trial(network, layer, lines)
    of_way = trial.row([_improved(trial, len(lines))])
    low, high = (dict(zip(trial.met, map(int, ends[0]), strict=True)) for ends in trial.spans(of_way))
    lone = [i for i in range(network.count) if i not in low]
    low |= {i: TANK_ROW if i in network.outlets else row for row, i in enumerate(lone, start=len(lines))}
    first = low | dict.fromkeys(network.outlets | network.mouths, TANK_ROW)
    count = range(network.count)
    whole = (tuple(first[i] for i in count), tuple(high.get(i, low[i]) for i in count), tuple(low[i] for i in count))
    return Rows(tuple(map(int, of_way[0])), *whole, len(lines) + len(lone))


def _lines(network: Network, layer: Sequence[int]) -> list[list[int]]:
    """Ways in lines: what comes to a place leads straight on, first into first, the pump before all."""
    before: dict[int, int] = {}
    for place in range(network.count):
        if place in network.outlets | network.mouths:
            continue
        found = neighbours(network.ways, place)
        other = {i: network.ways[i].start + network.ways[i].end - place for i in found}
        found.sort(key=lambda i: network.ways[i].turn)
        comes = [i for i in found if layer[other[i]] < layer[place]]
        leads = [i for i in found if layer[other[i]] > layer[place]]
        before.update(zip(leads, comes, strict=False))
    behind = {one: i for i, one in before.items()}
    lines = []
    for i in range(len(network.ways)):
        if i not in before:
            line = [i]
            while line[-1] in behind:
                line.append(behind[line[-1]])
            lines.append(line)
    return lines


class _Trial:
    """Judges orders of the lines, many at once."""

    def __init__(self, network: Network, layer: Sequence[int], lines: Sequence[Sequence[int]]) -> None:
        line_of = {way: number for number, line in enumerate(lines) for way in line}
        self.line_of = [line_of[i] for i in range(len(network.ways))]
        self.met = [i for i in range(network.count) if neighbours(network.ways, i)]
        place = {one: i for i, one in enumerate(self.met)}
        touching = [neighbours(network.ways, i) for i in self.met]
        self.touching = [way for ways in touching for way in ways]
        self.begins = np.cumsum([0, *(len(ways) for ways in touching[:-1])])
        self.ends = np.array([(place[way.start], place[way.end]) for way in network.ways])
        self.layer = np.array([_STEP * layer[i] for i in self.met], dtype=np.int16)
        hung = (sorted(place[i] for i in some if i in place) for some in (network.outlets, network.mouths))
        self.outlets, self.mouths = hung

    def spans(self, row: Ints) -> tuple[Ints, Ints]:
        """First and last row of every place that has ways; one order in each row of the arrays."""
        there = row[:, self.touching]
        return np.minimum.reduceat(there, self.begins, axis=1), np.maximum.reduceat(there, self.begins, axis=1)

    def row(self, orders: Sequence[Sequence[int]]) -> Ints:
        """Row of every way in each of the orders."""
        return np.argsort(np.array(orders), axis=1).astype(np.int16)[:, self.line_of]

    def costs(self, orders: Sequence[Sequence[int]]) -> Ints:
        """Crossings and the length of the headers in each of the orders."""
        row = self.row(orders)
        low, high = self.spans(row)
        at = self._columns(low)
        for hung in (self.outlets, self.mouths):
            low[:, hung] = TANK_ROW
        ends = at[:, self.ends]
        left, right, row = ends.min(axis=2)[..., None], ends.max(axis=2)[..., None], row[..., None]
        at, first, last = at[:, None], low[:, None], high[:, None]
        crossing = (left < at) & (at < right) & (first < row) & (row < last)
        return np.asarray(_CROSSING * crossing.sum(axis=(1, 2)) + (high - low).sum(axis=1))

    def _columns(self, low: Ints) -> Ints:
        """Layers, with what hangs on the tank side by side: nearest to its end what goes down least."""
        at = np.repeat(self.layer[None], len(low), axis=0)
        for hung, way in ((self.outlets, -1), (self.mouths, 1)):
            at[:, hung] += way * np.argsort(np.argsort(low[:, hung], axis=1, kind="stable"), axis=1).astype(np.int16)
        return at


def _improved(trial: _Trial, count: int) -> list[int]:
    """The order after every line was tried in every place, until none of them is better elsewhere."""
    order = list(range(count))
    best = int(trial.costs([order])[0])
    for _ in range(_SWEEPS):
        before = best
        for line in range(count):
            rest = [one for one in order if one != line]
            tried = [[*rest[:i], line, *rest[i:]] for i in range(count)]
            costs = trial.costs(tried)
            if costs.min() < best:
                best, order = int(costs.min()), tried[int(costs.argmin())]
        if best >= before:
            break
    return order
