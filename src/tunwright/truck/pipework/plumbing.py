"""The links of the pipework for a duty: what is open, how fast the pump turns, and how full the tank is."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import cached_property

import numpy as np

from tunwright.build.pipework import Device, Duty, Pipework, Valve
from tunwright.build.pipework import PipeRun as Run
from tunwright.handbook import water
from tunwright.handbook.pipe_fittings import gradual_reducer
from tunwright.handbook.pipe_friction import turbulent_factor
from tunwright.handbook.pipe_network import Link, Loss
from tunwright.handbook.pipe_parts import OneWay, PipeRun, PumpPart, Resistance, Row, nozzle
from tunwright.handbook.pump import PumpCurve
from tunwright.tables.fittings import fitting, throttling
from tunwright.tables.pipes import PipeSize, pipe_size, roughnesses
from tunwright.truck.pipework.liquid import Liquid
from tunwright.truck.pipework.names import air, fall, hydrant, main
from tunwright.truck.pipework.tankwater import TankWater
from tunwright.truck.truck import Truck

ONE_WAY = ("swing check", "lift check", "foot valve with strainer", "backflow preventer")
"""Valves that open by themselves, one way."""

_SAME = 1e-6  # heights that differ by less are one [m]
_FALL = 1.0  # next to no resistance, for water that falls freely [s2/m5]
_CONE = math.radians(30.0)  # of a reducer, both sides together; those of ASME B16.9 have 12 to 30 degrees, from memory
_ANY_FACTOR = 0.02  # a friction factor, where only whether a valve is shut matters [-]


def rough_factor(inside: float) -> float:
    """Friction factor in complete turbulence of clean steel pipe of a size, which fittings are told by [-].

    inside: inside diameter [m]
    """
    return turbulent_factor(relative_roughness=roughnesses()["steel"].value / inside)


def fittings_loss(names: Iterable[str], inside: float) -> float:
    """Sum of the loss coefficients of fittings [-].

    names: the fittings
    inside: inside diameter of their pipe [m]
    """
    factor = rough_factor(inside)
    return sum(fitting(name).coefficient(factor) for name in names)


class Plumbing:
    """The pipework of a truck.

    truck: a truck whose build has pipework
    work: the pipework
    dirty: strainers and filters are about to be cleaned
    """

    def __init__(self, truck: Truck, work: Pipework, *, dirty: bool = False) -> None:
        self.truck, self.work, self.dirty = truck, work, dirty
        self.tank = TankWater(truck)
        self.points = {one.name: one for one in work.point}
        self.runs = {one.name: one for one in work.run}
        self.sprays = {one.name: one for one in work.spray}

    @cached_property
    def liquid(self) -> Liquid:
        """The water at its temperature and place."""
        at = float(self.work.water)
        density = water.density(at)
        return Liquid(
            density,
            water.viscosity(at) / density,
            water.vapour_pressure(at),
            water.air_pressure(float(self.work.altitude)),
        )

    @cached_property
    def curve(self) -> PumpCurve | None:
        """The pump's curve."""
        pump = self.work.pump
        if pump is None:
            return None
        rows = pump.curve

        def column(name: str) -> np.ndarray[tuple[int], np.dtype[np.float64]] | None:
            told = [getattr(row, name) for row in rows]
            if len(told) > 1 and told[0] is None:  # makers say it where water flows; at none the next one's is near
                told[0] = told[1]
            return None if any(one is None for one in told) else np.array(told, dtype=float)

        flow, head = (np.array([float(getattr(row, name)) for row in rows]) for name in ("flow", "adds"))
        return PumpCurve(flow, head, float(pump.speed), column("efficiency"), column("npsh"))

    def speed(self, duty: Duty) -> float:
        """Speed of the pump in a duty [rad/s]; 0 where it stands still.

        duty: the duty
        """
        pump = self.work.pump
        return 0.0 if pump is None or duty.engine is None else float(duty.engine) * pump.drive.ratio

    def size(self, run: Run) -> PipeSize:
        """The pipe of a run.

        run: the run
        """
        return pipe_size(run.series, run.size)

    def height(self, name: str) -> float:
        """Height of a point above the ground [m].

        name: its name
        """
        return self.tank.height(self.points[name])

    # what is open

    def opening(self, valve: str, duty: Duty) -> float:
        """How far a valve is open in a duty [-].

        valve: its name
        duty: the duty
        """
        part = next((one.open for one in duty.throttled if one.valve == valve), None)
        if part is not None:
            return float(part)
        return 1.0 if valve in duty.open else 0.0

    def is_open(self, run: Run, duty: Duty) -> bool:
        """Whether water can pass a run in a duty.

        run: the run
        duty: the duty
        """
        valves = [one for one in self.work.valve if one.on == run.name]
        return all(math.isfinite(self._valve(one, duty, _ANY_FACTOR)) for one in valves)

    # links

    def given(self, fill: float) -> dict[str, float]:
        """Heads that are given [m]: tank, hydrant, open water, free air.

        An outlet above the water gives none. A mouth above it lets water fall out freely, see `links`.

        fill: water over net volume [-]
        """
        found: dict[str, float] = {}
        for one in self.work.point:
            if one.outlet is not None or one.mouth:
                surface, height = self.tank.surface(one, fill), self.height(one.name)
                if surface >= height - _SAME:
                    found[one.name] = surface
                elif one.mouth:
                    found[fall(one.name)] = height
            elif one.open_water:
                found[one.name] = float(one.height or 0.0)
            elif one.hydrant is not None:
                found[main(one.name)] = float(one.height or 0.0) + self.liquid.head(float(one.hydrant.static))
        return found | {air(one.name): self.height(one.on) for one in self.work.spray}

    def links(self, duty: Duty, fill: float) -> list[Link]:
        """What water can flow through in a duty.

        duty: the duty
        fill: water over net volume [-]
        """
        own = [*self._runs(duty), *self._pump(duty), *self._reliefs(), *self._hydrants(), *self._sprays(duty)]
        return [*own, *self._falls(fill)]

    def _falls(self, fill: float) -> Iterator[Link]:
        """Mouths above the water: out of them, and nothing back."""
        for one in self.work.point:
            if one.mouth and self.tank.surface(one, fill) < float(one.height or 0.0) - _SAME:
                yield Link(f"out of {one.name}", one.name, fall(one.name), OneWay(Resistance(_FALL)))

    def _runs(self, duty: Duty) -> Iterator[Link]:
        sets = {one.on: float(one.sets) for one in self.work.regulator}
        for one in self.work.run:
            if self.is_open(one, duty):
                head = None
                if one.name in sets:
                    head = self.height(one.end) + self.liquid.head(sets[one.name])
                yield Link(one.name, one.start, one.end, self._run(one, duty), head)

    def _run(self, one: Run, duty: Duty) -> Loss:
        size, valves = self.size(one), [valve for valve in self.work.valve if valve.on == one.name]
        k = fittings_loss(one.fittings, size.inside)
        k += sum(self._valve(valve, duty, rough_factor(size.inside)) for valve in valves) + self._reducers[one.name]
        pipe = self.pipe(size, float(one.length), k)
        devices = [each for each in self.work.device if each.on == one.name]
        parts = [self._square(self._lost(each), float(each.flow)) for each in devices]
        whole: Loss = Row((pipe, *parts)) if parts else pipe
        return OneWay(whole) if any(valve.kind in ONE_WAY for valve in valves) else whole

    def pipe(self, size: PipeSize, length: float, k: float) -> Loss:
        """A pipe with its fittings: friction by roughness, or by a coefficient where its size has one.

        size: the pipe
        length: [m]
        k: sum of the loss coefficients of its fittings [-]
        """
        if size.resistance is None:
            return PipeRun(length, size.inside, size.roughness, k, self.liquid.viscosity)
        hose = Resistance(self.liquid.head(size.resistance) * length)
        return Row((hose, PipeRun(0.0, size.inside, size.roughness, k, self.liquid.viscosity)))

    @cached_property
    def _reducers(self) -> dict[str, float]:
        """Loss coefficient of each run where it meets one wider run and nothing else [-]: a cone, the worse way."""
        work, found = self.work, dict.fromkeys(self.runs, 0.0)
        others = [one.on for one in work.spray] + [end for one in work.relief for end in (one.start, one.end)]
        others += [] if work.pump is None else [work.pump.start, work.pump.end]
        for point in set(self.points) - set(others):
            beside = sorted((self.size(run).inside, run.name) for run in work.run if point in (run.start, run.end))
            if len(beside) == 2 and beside[0][0] < beside[1][0]:
                (narrow, name), (wide, _) = beside
                ways = ((narrow, wide), (wide, narrow))
                found[name] += max(gradual_reducer(inlet=a, outlet=b, angle=_CONE) for a, b in ways)
        return found

    def _lost(self, device: Device) -> float:
        return float(device.dirty if self.dirty and device.dirty is not None else device.loses)

    def _valve(self, valve: Valve, duty: Duty, rough: float) -> float:
        """Loss coefficient of a valve as far as it is open [-]."""
        k = fitting(valve.kind).coefficient(rough)
        share = 1.0 if valve.kind in ONE_WAY else self.opening(valve.name, duty)
        return k if share >= 1.0 else throttling(valve.kind).coefficient(open_loss=k, share=share)

    def _square(self, pressure: float, flow: float) -> Resistance:
        return Resistance(self.liquid.head(pressure) / flow**2)

    def _pump(self, duty: Duty) -> Iterator[Link]:
        pump, speed = self.work.pump, self.speed(duty)
        if pump is not None and self.curve is not None and speed > 0.0:
            yield Link(pump.name, pump.start, pump.end, PumpPart(self.curve, speed))
        elif pump is not None and pump.rest is not None:
            yield Link(pump.name, pump.start, pump.end, self._square(float(pump.rest.loses), float(pump.rest.flow)))

    def _reliefs(self) -> Iterator[Link]:
        for one in self.work.relief:
            spare = self._square(float(one.full) - float(one.opens), float(one.flow))
            yield Link(one.name, one.start, one.end, OneWay(spare, self.liquid.head(float(one.opens))))

    def _hydrants(self) -> Iterator[Link]:
        for one in self.work.point:
            if one.hydrant is not None:
                lost = float(one.hydrant.static) - float(one.hydrant.residual)
                part = OneWay(self._square(lost, float(one.hydrant.flow)))
                yield Link(hydrant(one.name), main(one.name), one.name, part)

    def _sprays(self, duty: Duty) -> Iterator[Link]:
        for one in self.work.spray:
            share = 1.0 if one.valve is None else self.opening(one.valve, duty)
            if share > 0.0:
                k = one.count * float(one.flow) / math.sqrt(float(one.pressure)) * share
                yield Link(one.name, one.on, air(one.name), OneWay(nozzle(k, self.liquid.density)))
