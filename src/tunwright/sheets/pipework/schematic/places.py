"""Points and sprays on the schematic: headers, what stands at their ends, and their words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from tunwright.build.pipework import Point, Spray
from tunwright.sheets.drawing import Anchor, Entity, Group, Line, Text
from tunwright.sheets.pipework.schematic.arranged import Arranged, Room
from tunwright.sheets.pipework.schematic.figures import Figures
from tunwright.sheets.pipework.schematic.network import neighbours
from tunwright.sheets.pipework.schematic.planned import Plan
from tunwright.sheets.pipework.schematic.rows import TANK_ROW
from tunwright.sheets.pipework.schematic.spot import STROKE, Entities, Spot
from tunwright.sheets.pipework.schematic.symbols import (
    END,
    SOURCE,
    dot_symbol,
    end_symbol,
    hydrant_symbol,
    open_water_symbol,
)
from tunwright.sheets.pipework.words_beside import CLEAR, PITCH, Words, named, over, tall, widest

CARRIES, CUT_OFF = "outline", "hidden"
"""Layers of what carries water, and of what no water reaches; what is still is drawn as a symbol is."""
_STUB, _BESIDE, _LIFT = 3.0, 2.0, 0.6
_SOURCE_HALF = 7.0
_CORNER = 0.25  # half the weight of a heavy line, so that corners are full


class Places:
    """Points and sprays.

    plan: columns and rows
    figures: how the pipework stands, in figures
    """

    def __init__(self, plan: Plan, figures: Figures) -> None:
        self.plan, self.network = plan, plan.network
        self.figures, self.standing = figures, figures.standing

    def words(self, place: int, *, held: bool = False) -> tuple[Words, ...]:
        """What is said of a place: its name and its figure.

        place: its number
        held: with the room of a figure where there is none
        """
        one = self.network.at(place)
        if isinstance(one, Point):
            figure = self.figures.point(one.name) or (self.figures.held("pressure") if held else ())
            return (*named(one.name, bold=self._on_tank(place)), *figure)
        several = f"{one.count} × {one.kind}" if one.count > 1 else one.kind
        told = one.count == 1 and one.kind.split()[-1] in one.name.lower()
        figure = self.figures.passes(one) or (self.figures.held("flow") if held else ())
        return (*named(one.name), *(() if told else named(several, quiet=True)), *figure)

    def _way(self, spray: int) -> int:
        """Which way the water of a spray leaves: 1 to the right, -1 to the left."""
        return -1 if self.plan.mirrored(neighbours(self.network.ways, spray)[0]) else 1

    def _on_tank(self, place: int) -> bool:
        return place in self.network.outlets or place in self.network.mouths

    def head(self, place: int) -> Room:
        """Room of a place in its first row.

        place: its number
        """
        words = self.words(place, held=True)
        wide, high = widest(words), PITCH * len(words)
        if isinstance(self.network.at(place), Spray):
            half = max(0.5 * high + 0.5, 5.0)
            left, right = (0.0, END + _BESIDE + wide)[:: self._way(place)]
            return Room(left, right, half, half)
        if self._on_tank(place):
            return Room(1.0, _BESIDE + wide, high + 2.0 * CLEAR, 0.0)
        return Room(0.5 * wide, 0.5 * wide, _LIFT + tall(words), 0.0)

    def foot(self, place: int) -> Room:
        """Room of a place in its last row: a hydrant or open water hangs under it.

        place: its number
        """
        one = self.network.at(place)
        if isinstance(one, Point) and (one.hydrant or one.open_water):
            return Room(_SOURCE_HALF, _SOURCE_HALF, 0.0, _STUB + SOURCE)
        return Room()

    def drawn(self, place: int, where: Arranged, top: float | None = None) -> Group:
        """A place with its words.

        place: its number
        where: where everything stands
        top: upper end of its header, where it reaches up to the tank [mm]
        """
        one = self.network.at(place)
        if isinstance(one, Spray):
            return self._spray(one, place, where)
        header = _Header(self, place, where, top)
        x, y = where.x[place], where.y[max(0, where.plan.rows.own[place])] if where.y else 0.0
        parts = [*header.lines(), *header.dots(), *self._source(one, header.low, x)]
        state = "flows" if header.flows else "still" if self.standing.reaches(one.name) else "cut-off"
        return Group("point", (*parts, *self._beside(place, x, y)), {"name": one.name, "state": state})

    def _source(self, one: Point, low: float, x: float) -> Entities:
        spot = Spot((x, low))
        return hydrant_symbol(spot) if one.hydrant else open_water_symbol(spot) if one.open_water else ()

    def _beside(self, place: int, x: float, y: float) -> list[Text]:
        """The words of a point: over it, or beside the line that leads from or to the tank."""
        words = self.words(place)
        if place in self.network.outlets:
            y = -2.0 * CLEAR - PITCH * len(words)
        elif place not in self.network.mouths:
            return over(words, (x, y + _LIFT))
        return over(words, (x + _BESIDE, y), "start")

    def _spray(self, one: Spray, place: int, where: Arranged) -> Group:
        x, y = where.x[place], where.y[where.plan.rows.own[place]]
        words = self.words(place)
        way = self._way(place)
        anchor: Anchor = "start" if way == 1 else "end"
        foot = (x + way * (END + _BESIDE), y - 0.5 * PITCH * len(words) - CLEAR)
        data = {"name": one.name, "kind": one.kind, "state": "flows" if self.standing.flow(one) else "still"}
        return Group("spray", (*end_symbol(Spot((x, y), way), one.kind), *over(words, foot, anchor)), data)

    def layer(self, place: int) -> str:
        """How the line of a point is drawn.

        place: its number
        """
        reached = self.standing.reaches(self.network.at(place).name)
        return CARRIES if self.flows_at(place) else STROKE if reached else CUT_OFF

    def flows_at(self, place: int) -> list[int]:
        """Ways at a place through which water flows.

        place: its number
        """
        ways = self.network.ways
        return [i for i in neighbours(ways, place) if self.standing.flow(ways[i].item)]


class _Header:
    """The vertical line of a point over the rows of its ways."""

    def __init__(self, places: Places, place: int, where: Arranged, top: float | None) -> None:
        self.places, self.place, self.where, self.top = places, place, where, top
        rows = where.plan.rows
        self.x, self.network = where.x[place], places.network
        self.rows = [rows.of_way[i] for i in neighbours(self.network.ways, place)]
        levels = [where.y[row] for row in self.rows]
        levels += [] if top is None else [top]
        if not self.rows and rows.own[place] > TANK_ROW:
            levels.append(where.y[rows.own[place]])
        self.high, self.low = max(levels), min(levels)
        if self._hangs():
            self.low -= _STUB
        self.flows = bool(places.flows_at(place))

    def _hangs(self) -> bool:
        one = self.network.at(self.place)
        return isinstance(one, Point) and bool(one.hydrant or one.open_water)

    def lines(self) -> Iterator[Entity]:
        """The line: heavy where it carries water, dashed where none reaches it."""
        one = self.network.at(self.place)
        still = STROKE if self.places.standing.reaches(one.name) else CUT_OFF
        if self.high > self.low:
            yield Line((self.x, self.high), (self.x, self.low), still)
        wet = [self.where.y[self.where.plan.rows.of_way[i]] for i in self.places.flows_at(self.place)]
        if wet and self.top is not None:
            wet.append(self.top)
        if wet and self._hangs():
            wet.append(self.low)
        if wet and max(wet) > min(wet):
            yield Line((self.x, max(wet) + _CORNER), (self.x, min(wet) - _CORNER), CARRIES)

    def dots(self) -> Iterator[Entity]:
        """A dot wherever three lines or more meet, and where the point would not be seen without one."""
        for row, count in sorted(Counter(self.rows).items()):
            y = self.where.y[row]
            arms = count + (y < self.high) + (y > self.low)
            if arms > 2 or self.high == self.low:
                yield from dot_symbol(Spot((self.x, y)))
        if not self.rows and self.where.plan.rows.own[self.place] > TANK_ROW and self.top is None:
            yield from dot_symbol(Spot((self.x, self.high)))
