"""The engine speed that holds a flow on the road: a duty at one filling, at any speed its engine is run at."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from scipy.optimize import brentq

from tunwright.build.pipework import Duty, Spray
from tunwright.build.units import Quantity
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing

_STEPS = 9  # speeds of the engine looked at first
_CLOSE = 1e-5  # how closely a speed is found [rad/s]
_SAME = 1e-9  # a flow this near to that of an end of the range, as a share of it, is reached there


def on_the_road(state: DutyState) -> list[tuple[Spray, float]]:
    """Sprays of a duty that wet a known width, with their flows [m3/s].

    state: the duty at a filling
    """
    sprays = state.plumbing.sprays
    return [(sprays[name], flow) for name, flow in state.to_sprays.items() if sprays[name].width is not None]


def road_flow(state: DutyState) -> float:
    """Water that falls on the road, of all sprays of a known width [m3/s].

    state: the duty at a filling
    """
    return sum(flow for _, flow in on_the_road(state))


@dataclass(frozen=True)
class Held:
    """The engine speed that gives a flow.

    engine: [rad/s], None where no speed of the range gives it
    end: which end of the range is passed: "least" where even the slowest engine gives more, "most" where the fastest
        gives less
    """

    engine: float | None
    end: Literal["", "least", "most"] = ""


class EngineRange:
    """A duty at one filling at any speed of its engine; each speed is solved once. Raises NoFlow like a DutyState.

    plumbing: the pipework, with a pump
    duty: the duty, with the speed of its engine
    fill: water over net volume [-]
    """

    def __init__(self, plumbing: Plumbing, duty: Duty, fill: float) -> None:
        if plumbing.work.pump is None or duty.engine is None:
            raise ValueError(f"The pump turns in no part of “{duty.name}”: no speed of the engine holds its flow.")
        self.plumbing, self.duty, self.fill = plumbing, duty, fill
        self.least, self.most = float(plumbing.work.pump.drive.least), float(plumbing.work.pump.drive.most)
        self._states: dict[float, DutyState] = {}

    @cached_property
    def steps(self) -> list[float]:
        """Speeds of the engine that are looked at first, from the slowest to the fastest [rad/s]."""
        return [float(one) for one in np.linspace(self.least, self.most, _STEPS)]

    def at(self, engine: float) -> DutyState:
        """The duty at a speed of the engine.

        engine: [rad/s]
        """
        if engine not in self._states:
            turned = self.duty.model_copy(update={"engine": Quantity(engine, "", "rotation")})
            near = min(self._states, key=lambda one: abs(one - engine), default=None)
            start = None if near is None else self._states[near]
            self._states[engine] = DutyState(self.plumbing, turned, self.fill, start)
        return self._states[engine]

    def flow(self, engine: float) -> float:
        """Water on the road at a speed of the engine [m3/s].

        engine: [rad/s]
        """
        return road_flow(self.at(engine))

    def engine_for(self, flow: float, *, low: float | None = None, high: float | None = None) -> Held:
        """The engine speed that gives a flow on the road; a faster engine gives more.

        flow: wanted [m3/s]
        low: slowest speed to be thought of [rad/s]; that of the drive where left out
        high: fastest [rad/s]; that of the drive where left out
        """
        first, last = self.least if low is None else low, self.most if high is None else high
        speeds = [first, *(one for one in self.steps if first < one < last), last]
        flows = [self.flow(one) for one in speeds]
        if flow < flows[0] * (1.0 - _SAME):
            return Held(None, "least")
        if flow > flows[-1] * (1.0 + _SAME):
            return Held(None, "most")
        i = next((i for i, one in enumerate(flows) if one >= flow), len(flows) - 1)
        if i == 0 or flows[i] <= flow:
            return Held(speeds[i])
        found = brentq(lambda one: self.flow(one) - flow, speeds[i - 1], speeds[i], xtol=_CLOSE)
        return Held(float(found))
