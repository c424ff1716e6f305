"""A rotary pump by the points of its curve, at any speed.

Other speeds follow by the affinity laws: flow goes with n, head, NPSH and torque with n^2, shaft power with n^3, and
the efficiency stays (Crane TP-410, 8th ed., example 7.33, and any textbook on pumps). Far below the speed of the curve
the true efficiency is somewhat worse.

Between the points runs the line of `monotone_cubic`; through two points, the first at no flow, H = H0 - k Q^2. Outside
the points the head goes on straight: before the first with the slope it has there, behind the last at least as steeply
as it came, so that it never rises with the flow and a network with the pump in it has one solution.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.monotone_cubic import Line, line, slopes
from tunwright.handbook.positive import positive
from tunwright.handbook.pump_points import refuse_efficiencies, refuse_flows, refuse_heads, row

Floats = NDArray[np.float64]
Number = TypeVar("Number", float, Floats)
"""A number, or an array of them: what goes in comes out."""


@dataclass(frozen=True, eq=False)
class PumpCurve:
    """The curve of a pump.

    flow: of the points, rising, the first 0 or more, (n,) [m3/s], two or more
    head: added at these flows, never rising, (n,) [m]
    speed: of the shaft the curve was taken at [rad/s]
    efficiency: at these flows, (n,) [-], above 0 up to 1; at no flow it is 0 whatever is said. None where not known
    npsh: net positive suction head required at these flows, (n,) [m]. None where not known
    """

    flow: Floats
    head: Floats
    speed: float
    efficiency: Floats | None = None
    npsh: Floats | None = None

    def __post_init__(self) -> None:
        positive(speed=(self.speed, "209 rad/s"))
        count = len(np.atleast_1d(self.flow))
        for name in ("flow", "head", "efficiency", "npsh"):
            if (given := getattr(self, name)) is not None:
                object.__setattr__(self, name, row(name, given, count))
        refuse_flows(self.flow)
        refuse_heads(self.flow, self.head)
        if self.efficiency is not None:
            refuse_efficiencies(self.flow, self.efficiency)
        if self.npsh is not None and self.npsh.min() < 0.0:
            raise ValueError(f"The NPSH must be 0 or more; {self.npsh.min():g} m was given, for example 2.5 m.")

    @cached_property
    def _head(self) -> Line:
        x, y = self.flow, self.head
        chord = np.diff(y) / np.diff(x)
        slope = np.array([0.0, 2.0 * chord[0]]) if len(x) == 2 and x[0] == 0.0 else slopes(x, y)
        falls = min(slope[-1], chord[-1]), (y[-1] - y[0]) / (x[-1] - x[0]), -y[0] / x[-1]
        return line(x, y, slope, before=slope[0], behind=next(fall for fall in falls if fall < 0.0))

    @cached_property
    def _efficiency(self) -> Line:
        if self.efficiency is None:
            raise ValueError("The pump's curve tells no efficiency, so its shaft power is not known; give it at each "
                             "point, for example 0.62.")
        x, y = self.flow, np.where(self.flow == 0.0, 0.0, self.efficiency)
        slope = slopes(x, y)
        if x[0] == 0.0:
            slope[0] = max(slope[0], y[1] / x[1])
        return line(x, y, slope, before=0.0, behind=0.0)

    @cached_property
    def _npsh(self) -> Line:
        if self.npsh is None:
            raise ValueError("The pump's curve tells no NPSH; give it at each point, for example 2.5 m.")
        slope, last = slopes(self.flow, self.npsh), np.diff(self.npsh[-2:]) / np.diff(self.flow[-2:])
        return line(self.flow, self.npsh, slope, before=0.0, behind=max(slope[-1], last[0], 0.0))

    def _ratio(self, speed: float | None) -> float:
        """Speed over that of the curve."""
        if speed is None:
            return 1.0
        ratio = speed / self.speed
        if not 0.0 < ratio < math.inf:
            raise ValueError(f"A pump turns with more than 0; {speed:g} rad/s was given, for example 209 rad/s.")
        return ratio

    def head_at(self, flow: Number, speed: float | None = None) -> Number:
        """Head the pump adds [m], H = r^2 H0(Q/r) with r = n/n0; continuous, never rising with the flow.

        flow: through the pump [m3/s]
        speed: of its shaft [rad/s], above 0; that of the curve where left out
        """
        if isinstance(flow, np.ndarray):
            return _each(lambda one: self.head_at(one, speed), flow)
        ratio = self._ratio(speed)
        return ratio * ratio * self._head.at(flow / ratio)

    def slope_at(self, flow: Number, speed: float | None = None) -> Number:
        """How the head goes with the flow [s/m2], dH/dQ; 0 or less.

        flow: through the pump [m3/s]
        speed: of its shaft [rad/s], above 0; that of the curve where left out
        """
        if isinstance(flow, np.ndarray):
            return _each(lambda one: self.slope_at(one, speed), flow)
        ratio = self._ratio(speed)
        return ratio * self._head.slope(flow / ratio)

    def efficiency_at(self, flow: Number, speed: float | None = None) -> Number:
        """Efficiency [-]; outside the points what `power_at` leaves of it. Raises ValueError where none is known.

        flow: through the pump [m3/s]
        speed: of its shaft [rad/s], above 0; that of the curve where left out
        """
        if isinstance(flow, np.ndarray):
            return _each(lambda one: self.efficiency_at(one, speed), flow)
        x = flow / self._ratio(speed)
        if self._near(x) == x:
            return self._efficiency.at(x)
        gained, work = x * self._head.at(x), self._work(x)
        return gained / work if gained > 0.0 else 0.0

    def npsh_at(self, flow: Number, speed: float | None = None) -> Number:
        """Net positive suction head the pump requires [m]. Raises ValueError where none is known.

        flow: through the pump [m3/s]
        speed: of its shaft [rad/s], above 0; that of the curve where left out
        """
        if isinstance(flow, np.ndarray):
            return _each(lambda one: self.npsh_at(one, speed), flow)
        ratio = self._ratio(speed)
        return ratio * ratio * self._npsh.at(flow / ratio)

    def power_at(self, flow: Number, density: float, speed: float | None = None) -> Number:
        """Shaft power [W], rho g Q H / efficiency; at no flow its limit, outside the points at least the nearest one's.

        Raises ValueError where no efficiency is known.

        flow: through the pump [m3/s]
        density: of the liquid [kg/m3], above 0
        speed: of its shaft [rad/s], above 0; that of the curve where left out
        """
        if isinstance(flow, np.ndarray):
            return _each(lambda one: self.power_at(one, density, speed), flow)
        positive(density=(density, "1000 kg/m3"))
        ratio = self._ratio(speed)
        return density * GRAVITY * ratio**3 * self._work(flow / ratio)

    def torque_at(self, flow: Number, density: float, speed: float | None = None) -> Number:
        """Torque at the shaft [N m], shaft power over speed.

        flow: through the pump [m3/s]
        density: of the liquid [kg/m3], above 0
        speed: of its shaft [rad/s], above 0; that of the curve where left out
        """
        return self.power_at(flow, density, speed) / (self.speed if speed is None else speed)

    def _near(self, x: float) -> float:
        """A flow at the curve's speed, or the nearest the points tell of."""
        return min(max(x, self._head.knots[0]), self._head.knots[-1])

    def _work(self, x: float) -> float:
        """Shaft power over rho g at the curve's speed [m4/s]."""
        near = self._near(x)
        if near <= 0.0:
            return self._head.at(0.0) / self._efficiency.slope(0.0)
        return max(x * self._head.at(x), near * self._head.at(near)) / self._efficiency.at(near)

    def runout(self, speed: float | None = None) -> float:
        """Flow of the last point [m3/s].

        speed: of the shaft [rad/s], above 0; that of the curve where left out
        """
        return self._ratio(speed) * self._head.knots[-1]

    def dead_head(self, speed: float | None = None) -> float:
        """Head at no flow [m].

        speed: of the shaft [rad/s], above 0; that of the curve where left out
        """
        return self.head_at(0.0, speed)

    def best(self, speed: float | None = None) -> float:
        """Flow of the point with the best efficiency [m3/s]. Raises ValueError where no efficiency is known.

        speed: of the shaft [rad/s], above 0; that of the curve where left out
        """
        if self.efficiency is None:
            raise ValueError("The pump's curve tells no efficiency; give it at each point, for example 0.62.")
        return self._ratio(speed) * float(self.flow[np.argmax(self.efficiency)])

    def within(self, flow: float, speed: float | None = None) -> bool:
        """Whether the points tell of a flow: from the first to the last.

        flow: through the pump [m3/s]
        speed: of the shaft [rad/s], above 0; that of the curve where left out
        """
        x, slack = flow / self._ratio(speed), 1e-12 * self._head.knots[-1]
        return self._head.knots[0] - slack <= x <= self._head.knots[-1] + slack


def _each(one: Callable[[float], float], flow: Floats) -> Floats:
    """A function of one flow for each of an array."""
    return np.array([one(x) for x in flow.ravel().tolist()], dtype=float).reshape(flow.shape)


def available_npsh(
    *,
    air_pressure: float,
    vapour_pressure: float,
    density: float,
    level: float,
    loss: float,
    gravity: float = GRAVITY,
) -> float:
    """Net positive suction head at the pump's inlet [m], (pa - pv)/(rho g) + z - hl; below 0 the liquid boils there.

    air_pressure: absolute, on the liquid's surface [Pa], above 0
    vapour_pressure: of the liquid, absolute [Pa], above 0
    density: of the liquid [kg/m3], above 0
    level: surface of the liquid over the inlet, negative for a lift [m]
    loss: head lost from the surface to the inlet [m], 0 or more
    gravity: acceleration of free fall [m/s2], above 0

    Source: definition; C. Schaschke, Fluid Mechanics: Worked Examples for Engineers, example 9.6.
    """
    positive(air_pressure=(air_pressure, "101325 Pa"), vapour_pressure=(vapour_pressure, "1706 Pa"))
    positive(density=(density, "1000 kg/m3"), gravity=(gravity, "9.81 m/s2"))
    if not loss >= 0.0:
        raise ValueError(f"The head lost must be 0 or more; {loss:g} m was given, for example 0.5 m.")
    return (air_pressure - vapour_pressure) / (density * gravity) + level - loss
