"""How the pipework stands: its valves in their normal position, or as in a duty with what then flows."""

from __future__ import annotations

import math
from collections.abc import Iterator

from tunwright.build.pipework import PipeRun, Valve
from tunwright.checks.pipework.worked import Worked
from tunwright.sheets.pipework.flows import STILL, half
from tunwright.sheets.pipework.schematic.network import Item
from tunwright.sheets.pipework.schematic.valve_symbols import State
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing


class Standing:
    """Valves, flows and pressures.

    plumbing: the pipework
    worked: the duty, None for the normal position
    """

    def __init__(self, plumbing: Plumbing, worked: Worked | None = None) -> None:
        self.plumbing, self.worked = plumbing, worked
        self.duty = None if worked is None else worked.duty
        self.state = half(worked) if worked is not None and worked.states else None
        self.listed = {one.name: one for one in plumbing.work.valve}
        self.reached = frozenset(self._reached())

    def opening(self, valve: str) -> float:
        """How far a valve is open [-].

        valve: its name
        """
        if self.duty is not None:
            return self.plumbing.opening(valve, self.duty)
        return 1.0 if valve in self.listed and self.listed[valve].normal == "open" else 0.0

    def valve(self, name: str) -> State:
        """How a valve stands; one that opens by itself is open while water passes.

        name: its name
        """
        one = self.listed.get(name)
        if one is not None and one.kind in ONE_WAY:
            return "open" if self.flow(self.plumbing.runs[one.on]) else "shut"
        share = self.opening(name)
        return "open" if share >= 1.0 else "part" if share > 0.0 else "shut"

    def stops(self, valve: Valve) -> bool:
        """Whether a valve lets nothing pass, as it stands.

        valve: the valve
        """
        return self.valve(valve.name) == "shut"

    def flow(self, item: Item) -> float:
        """Flow [m3/s], negative from its end to its start; 0 where next to nothing flows, or it is not known.

        item: a run, pump, relief valve or spray
        """
        found = 0.0 if self.state is None else self.state.flow(item.name)
        return found if abs(found) > STILL else 0.0

    def pressure(self, point: str) -> float:
        """Pressure at a point [Pa]; NaN where no water under pressure reaches it, or it is not known.

        point: its name
        """
        there = self.state is not None and point in self.reached
        return self.state.pressure(point) if self.state is not None and there else math.nan

    @property
    def pump_turns(self) -> bool:
        """Whether the pump turns."""
        return self.duty is not None and self.plumbing.speed(self.duty) > 0.0

    def reaches(self, point: str) -> bool:
        """Whether water reaches a point from the tank, a hydrant or open water; all points in the normal position.

        point: its name
        """
        return self.duty is None or point in self.reached

    def _reached(self) -> set[str]:
        """Points with a way to a tank outlet, a hydrant or open water along which nothing is shut."""
        links = list(self._links())
        points = self.plumbing.work.point
        found = {one.name for one in points if one.outlet is not None or one.hydrant or one.open_water}
        while True:
            more = {end for start, end in links if start in found} - found
            if not more:
                return found
            found |= more

    def _links(self) -> Iterator[tuple[str, str]]:
        """Ways along which water can come, each from a point to a point."""
        work = self.plumbing.work
        for run in work.run:
            if all(self.opening(one.name) > 0.0 for one in self._in(run) if one.kind not in ONE_WAY):
                yield (run.start, run.end)
                if not any(one.kind in ONE_WAY for one in self._in(run)):
                    yield (run.end, run.start)
        yield from ((one.start, one.end) for one in work.relief if self.flow(one))
        if work.pump is not None and self.pump_turns:
            yield (work.pump.start, work.pump.end)

    def _in(self, run: PipeRun) -> list[Valve]:
        return [one for one in self.plumbing.work.valve if one.on == run.name]
