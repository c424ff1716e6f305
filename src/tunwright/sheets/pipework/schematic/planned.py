"""Columns and rows of the schematic, before anything has a size.

    layers -> rows -> columns

The tank lies across the top: its outlets are the columns on the left, its mouths those on the right. In between every
layer has as many columns as its headers need not to meet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tunwright.sheets.pipework.schematic.network import Network
from tunwright.sheets.pipework.schematic.rows import Rows, rows


@dataclass(frozen=True)
class Plan:
    """Which column every place stands in, and which row every way lies in.

    network: the network
    rows: its rows
    column: column of each place, counted from the left
    """

    network: Network
    rows: Rows
    column: tuple[int, ...]

    def ends(self, way: int) -> tuple[int, int]:
        """The places of a way, the one on the left first.

        way: its number
        """
        one = self.network.ways[way]
        a, b = one.start, one.end
        return (a, b) if self.column[a] <= self.column[b] else (b, a)

    def mirrored(self, way: int) -> bool:
        """Whether a way leads to the left on the drawing.

        way: its number
        """
        return self.ends(way)[0] != self.network.ways[way].start

    def covering(self, row: int) -> list[int]:
        """Places whose header a row meets.

        row: the row
        """
        return [i for i in range(self.network.count) if self.rows.first[i] <= row <= self.rows.last[i]]


def planned(network: Network) -> Plan:
    """Columns and rows of a network.

    network: the network
    """
    layer = network.layers()
    found = rows(network, layer)
    tank = network.outlets | network.mouths
    columns = [[one] for one in sorted(network.outlets, key=lambda i: -found.own[i])]
    for value in sorted({layer[i] for i in range(network.count) if i not in tank}):
        columns += _parted([i for i in range(network.count) if layer[i] == value and i not in tank], found)
    columns += [[one] for one in sorted(network.mouths, key=lambda i: found.own[i])]
    column = {place: i for i, places in enumerate(columns) for place in places}
    return Plan(network, found, tuple(column[i] for i in range(network.count)))


def _parted(places: Sequence[int], found: Rows) -> list[list[int]]:
    """Places of a layer in as many columns as are needed for their headers not to meet."""
    columns: list[list[int]] = []
    for place in sorted(places, key=lambda i: found.first[i]):
        free = (one for one in columns if found.last[one[-1]] < found.first[place])
        column = next(free, None)
        if column is None:
            columns.append([place])
        else:
            column.append(place)
    return columns
