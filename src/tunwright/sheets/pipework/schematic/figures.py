"""The figures of a duty beside what they belong to, in the units of the order."""

from __future__ import annotations

import math

from tunwright.build.kind import System
from tunwright.build.pipework import PipeRun, Spray
from tunwright.build.shown import show
from tunwright.sheets.pipework.listing import said
from tunwright.sheets.pipework.lists import size_name
from tunwright.sheets.pipework.schematic.standing import Standing
from tunwright.sheets.pipework.words_beside import Words, named
from tunwright.tables.pipes import pipe_size

# figures as wide as they usually get [SI]
_USUAL = {"flow": 0.148, "velocity": 8.88, "pressure": 8.88e5, "head": 88.8, "power": 88.8e3, "rotation": 300.0}


class Figures:
    """What a standing is in figures.

    standing: how the pipework stands
    system: "metric" or "us"
    """

    def __init__(self, standing: Standing, system: System) -> None:
        self.standing, self.system = standing, system

    def said(self, value: float, kind: str) -> str:
        """A quantity with its unit.

        value: the quantity [SI]
        kind: kind of column, as in the lists
        """
        return said(value, kind, self.system)

    def held(self, *kinds: str) -> tuple[Words, ...]:
        """Figures of a usual width, whose room is kept, so that all duties of a build are drawn alike.

        kinds: kinds of column, as in the lists: "flow", "velocity", "pressure"
        """
        return tuple(Words(self.said(_USUAL[kind], kind), bold=True) for kind in kinds)

    def held_pump(self) -> tuple[Words, ...]:
        """The same for the lines under a pump."""
        first = f"{self.said(_USUAL['rotation'], 'rotation')}, {self.said(_USUAL['power'], 'power')}"
        return tuple(map(Words, (first, self._head(_USUAL["head"]), self._margin(-_USUAL["head"]))))

    def _head(self, value: float) -> str:
        return f"{self.said(value, 'head')} head"

    def _margin(self, value: float) -> str:
        return f"NPSH margin {self.said(value, 'head')}"

    def length(self, value: float) -> str:
        """A length with its unit, as it is usually written.

        value: the length [m]
        """
        return show(value, "length", system=self.system)

    def pipe(self, series: str, size: str) -> str:
        """A pipe by its series and size: "sch 40 DN100", "hose 127 mm"; in US units by its size in inches.

        series: its series
        size: its size
        """
        found = pipe_size(series, size)
        name = size_name(found, self.system)
        if self.system == "us" and not found.nps:
            name = self.said(found.inside, "bore")
        return f"{series} {name}"

    def run(self, run: PipeRun) -> tuple[Words, ...]:
        """Flow and velocity in a run, nothing where none flows.

        run: the run
        """
        flow, state = self.standing.flow(run), self.standing.state
        if not flow or state is None:
            return ()
        speed = self.said(abs(state.velocity(run.name)), "velocity")
        return (*named(self.said(abs(flow), "flow"), bold=True), *named(speed))

    def point(self, point: str) -> tuple[Words, ...]:
        """Pressure at a point, nothing where it is not known.

        point: its name
        """
        pressure = self.standing.pressure(point)
        return () if math.isnan(pressure) else named(self.said(pressure, "pressure"), bold=True)

    def passes(self, item: Spray) -> tuple[Words, ...]:
        """Flow of a spray, nothing where none flows.

        item: the spray
        """
        flow = self.standing.flow(item)
        return named(self.said(flow, "flow"), bold=True) if flow else ()

    def pump(self) -> tuple[Words, ...]:
        """Where the pump works: speed, head, power, and what is left of its suction head."""
        state = self.standing.state
        point = None if state is None else state.pump
        if point is None:
            return () if self.standing.duty is None else named("stands still", quiet=True)
        power = "" if math.isnan(point.power) else f", {self.said(point.power, 'power')}"
        lines = [self.said(point.speed, "rotation") + power, self._head(point.head)]
        if not math.isnan(point.needs):
            lines.append(self._margin(point.has - point.needs))
        return tuple(word for line in lines for word in named(line, signs=26))
