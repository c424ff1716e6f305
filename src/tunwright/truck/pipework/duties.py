"""What the pipework does in a duty: flows, pressures, the pump's point at a filling, and the time over all of them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.build.pipework import Duty
from tunwright.handbook.pipe_friction import mean_velocity
from tunwright.handbook.pipe_network import Flowing, flowing
from tunwright.handbook.pump import available_npsh
from tunwright.truck.pipework.names import air, hydrant
from tunwright.truck.pipework.plumbing import Plumbing

Floats = NDArray[np.float64]
INWARD = ("fill", "draw")
"""Kinds of duty that fill the tank."""

_STEPS = 16  # fillings a duty is solved at over its time
_STILL = 1e-7  # flow that counts as none [m3/s]


@dataclass(frozen=True)
class PumpPoint:
    """Where a pump works.

    flow: [m3/s]
    head: added [m]
    speed: of its shaft [rad/s]
    power: at its shaft [W], NaN where its efficiency is not known
    torque: at its shaft [N m], NaN where its efficiency is not known
    drive_torque: at the shaft of what turns it, its power take-off say [N m], NaN where that is not known
    has: net positive suction head there is [m], NaN where no water goes through
    needs: net positive suction head it requires [m], NaN where not known
    within: its curve reaches that far
    runout: last flow of the curve [m3/s]
    """

    flow: float
    head: float
    speed: float
    power: float
    torque: float
    drive_torque: float
    has: float
    needs: float
    within: bool
    runout: float


class DutyState:
    """A duty at one filling of the tank. Raises NoFlow where the network cannot be solved.

    plumbing: the pipework
    duty: the duty
    fill: water over net volume [-]
    near: the same duty at a filling not far away, to begin with
    """

    def __init__(self, plumbing: Plumbing, duty: Duty, fill: float, near: DutyState | None = None) -> None:
        self.plumbing, self.duty, self.fill = plumbing, duty, fill
        start = None if near is None else near.flowing.flow
        self.flowing: Flowing = flowing(plumbing.links(duty, fill), plumbing.given(fill), start)

    def flow(self, name: str) -> float:
        """Flow through a run, pump, spray or relief valve [m3/s]; 0 where it is shut.

        name: its name
        """
        return self.flowing.flow.get(name, 0.0)

    def pressure(self, point: str) -> float:
        """Pressure at a point over that of the air [Pa]; NaN where it is cut off.

        point: its name
        """
        head = self.flowing.head.get(point, math.nan)
        return self.plumbing.liquid.pressure(head - self.plumbing.height(point))

    def velocity(self, run: str) -> float:
        """Mean velocity in a run [m/s].

        run: its name
        """
        return mean_velocity(flow=self.flow(run), diameter=self.plumbing.size(self.plumbing.runs[run]).inside)

    def before(self, run: str) -> str:
        """The point the water of a run comes from; its start where it stands.

        run: its name
        """
        one = self.plumbing.runs[run]
        return one.start if self.flow(run) >= 0.0 else one.end

    def behind(self, run: str) -> str:
        """The point the water of a run goes to; its end where it stands.

        run: its name
        """
        one = self.plumbing.runs[run]
        return one.end if self.flow(run) >= 0.0 else one.start

    def drawn(self, point: str) -> float:
        """Flow drawn from the hydrant at a point [m3/s]; 0 where there is none.

        point: its name
        """
        return self.flow(hydrant(point))

    def leaves(self, point: str) -> float:
        """Flow that leaves a point through runs, pump, relief valves and sprays [m3/s]; negative where it comes in.

        point: its name
        """
        work = self.plumbing.work
        ends = [(run.name, run.start, run.end) for run in work.run]
        ends += [(relief.name, relief.start, relief.end) for relief in work.relief]
        ends += [(work.pump.name, work.pump.start, work.pump.end)] if work.pump is not None else []
        ends += [(one.name, one.on, air(one.name)) for one in work.spray]
        out = sum(self.flow(name) for name, start, _ in ends if start == point)
        return out - sum(self.flow(name) for name, _, end in ends if end == point)

    def of_part(self, part: int) -> float:
        """Flow out of a compartment [m3/s]; negative where it is filled.

        part: its number, from 0
        """
        points = [one for one in self.plumbing.work.point if one.outlet is not None or one.mouth]
        return sum(self.leaves(one.name) for one in points if self.plumbing.tank.compartment(one) == part)

    @cached_property
    def from_tank(self) -> float:
        """Flow out of the tank [m3/s]; negative where it is filled."""
        return sum(self.leaves(one.name) for one in self.plumbing.work.point if one.outlet is not None or one.mouth)

    @cached_property
    def to_sprays(self) -> dict[str, float]:
        """Flow of each spray that works [m3/s]."""
        found = {one.name: self.flow(one.name) for one in self.plumbing.work.spray}
        return {name: flow for name, flow in found.items() if flow > _STILL}

    @cached_property
    def pump(self) -> PumpPoint | None:
        """Where the pump works, None where it stands still."""
        pump, curve, speed = self.plumbing.work.pump, self.plumbing.curve, self.plumbing.speed(self.duty)
        if pump is None or curve is None or speed <= 0.0:
            return None
        flow, liquid = max(0.0, self.flow(pump.name)), self.plumbing.liquid
        known, tells = curve.efficiency is not None and flow > _STILL, curve.npsh is not None and flow > _STILL
        power = curve.power_at(flow, liquid.density, speed) if known else math.nan
        torque = curve.torque_at(flow, liquid.density, speed) if known else math.nan
        has = math.nan if flow <= _STILL else available_npsh(
            air_pressure=liquid.air,
            vapour_pressure=liquid.vapour,
            density=liquid.density,
            level=liquid.head(self.pressure(pump.start)),
            loss=0.0,
        )
        return PumpPoint(
            flow,
            curve.head_at(flow, speed),
            speed,
            power,
            torque,
            torque * pump.drive.ratio / pump.drive.shaft_ratio,
            has,
            curve.npsh_at(flow, speed) if tells else math.nan,
            curve.within(flow, speed),
            curve.runout(speed),
        )


@dataclass(frozen=True, eq=False)
class OverTime:
    """A duty from its first filling to its last.

    states: the duty at fillings, from the first to the last
    time: from the first to the last filling, of the compartment that takes longest [s]; infinite where nothing flows,
        NaN where the water comes back to where it came from
    volume: water that has moved [m3]
    ends: filling at which it ends [-]
    parts: time of each compartment by name [s]
    """

    states: tuple[DutyState, ...]
    time: float
    volume: float
    ends: float
    parts: Mapping[str, float] = field(default_factory=dict)


def at_filling(plumbing: Plumbing, duty: Duty, fill: float) -> OverTime:
    """A duty at one filling alone; its time is not known.

    plumbing: the pipework
    duty: the duty
    fill: water over net volume [-]
    """
    return OverTime((DutyState(plumbing, duty, fill),), math.nan, 0.0, fill)


def over_time(plumbing: Plumbing, duty: Duty, *, full: float = 1.0) -> OverTime:
    """A duty over the tank: from full down to what no outlet takes, or from empty up to full.

    The network is solved with all compartments filled alike; each then takes its own time by its own flow, and the last
    one counts. The time is the integral of dV / Q. With V = V1 + (V0 - V1) s^2 it is smooth also where Q falls with the
    root of the level, and is summed at Gauss points in s.

    plumbing: the pipework
    duty: the duty
    full: the filling that counts as full, above the one it ends at [-]: 1 to net, less where the axles allow less
    """
    volumes, parts = plumbing.truck.volumes, _parts(plumbing, duty)
    among = parts or list(range(len(volumes.net)))
    last = 1.0 - float((volumes.usable[among] / volumes.net[among]).min())  # where the first would draw air
    if full <= last:
        raise ValueError(f"The tank counts as full above {last:.3f}; {full:.3f} was given, for example 1.")
    begin, end = (last, full) if duty.kind in INWARD else (full, last)
    nodes, weights = np.polynomial.legendre.leggauss(_STEPS)
    s = 0.5 * (1.0 - nodes)  # from near 1, the beginning, to near 0, the end
    fills = [begin, *(end + (begin - end) * s**2).tolist()]
    plumbing.tank.look(fills)
    states: list[DutyState] = []
    for fill in fills:
        states.append(DutyState(plumbing, duty, fill, states[-1] if states else None))
    moves = abs(begin - end) * volumes.net
    times = {}
    for part in parts:
        rate = np.array([_sign(duty) * one.of_part(part) for one in states[1:]])
        own = float((weights * moves[part] * s / rate).sum()) if (rate > _STILL).all() else math.inf
        times[plumbing.truck.solid.compartments[part].name] = own
    return OverTime(tuple(states), max(times.values(), default=math.nan), float(moves[parts].sum()), end, times)


def _sign(duty: Duty) -> float:
    return -1.0 if duty.kind in INWARD else 1.0


def _parts(plumbing: Plumbing, duty: Duty) -> list[int]:
    """Numbers of the compartments a duty empties, or fills; none where the water comes back."""
    state = DutyState(plumbing, duty, 0.5)
    count = range(len(plumbing.truck.solid.compartments))
    return [part for part in count if _sign(duty) * state.of_part(part) > _STILL]
