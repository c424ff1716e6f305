"""What loses head in a network: runs of pipe, fittings and nozzles, pumps, one-way valves, relief valves.

Every part says what a flow loses in it and how fast that grows with the flow, see `pipe_network.Loss`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.pipe_friction import friction_factor
from tunwright.handbook.pipe_network import Loss
from tunwright.handbook.positive import positive
from tunwright.handbook.pump import PumpCurve

_LAMINAR, _TURBULENT = 2000.0, 4000.0
_AGAINST = 10.0  # head of a pump over its flow against water pressed backwards, in those of its curve [-]
_TIGHT = 1e3  # how much tighter a spring holds a valve shut than water alone, so that what is trapped before it stays
_BLOCKED = 1e9  # head lost by what goes the wrong way through a one-way valve over its flow [s/m2]
_COLEBROOK = 2.0 / math.log(10.0) * 2.51


@dataclass(frozen=True)
class PipeRun:
    """A straight length of pipe with its fittings: h = (f L / D + K) v^2 / 2 g, Darcy-Weisbach.

    length: of pipe [m], 0 or more
    inside: inside diameter [m], above 0
    roughness: of its wall [m], 0 or more
    fittings: sum of their loss coefficients K, referred to this diameter [-], 0 or more
    viscosity: kinematic [m2/s], above 0
    """

    length: float
    inside: float
    roughness: float
    fittings: float
    viscosity: float

    def __post_init__(self) -> None:
        positive(inside=(self.inside, "0.1 m"), viscosity=(self.viscosity, "1.1e-6 m2/s"))
        if min(self.length, self.roughness, self.fittings) < 0.0:
            raise ValueError("Length, roughness and fittings of a pipe are 0 or more, for example 2.5 m, 45e-6 m, 1.8.")

    @cached_property
    def area(self) -> float:
        """Open cross-section [m2]."""
        return 0.25 * math.pi * self.inside**2

    def loss(self, flow: float) -> tuple[float, float]:
        """Head lost and its rate with the flow [m], [s/m2].

        flow: the flow, negative backwards [m3/s]
        """
        size = abs(flow)
        if size < 1e-12:
            return 0.0, 32.0 * self.viscosity * self.length / (GRAVITY * self.inside**2 * self.area)
        reynolds = size * self.inside / (self.area * self.viscosity)
        f, bend = _factor(reynolds, self.roughness / self.inside)
        over, square = 2.0 * GRAVITY * self.area**2, size * size
        pipe, parts = f * self.length / self.inside * square / over, self.fittings * square / over
        rate = (pipe * (2.0 + bend) + 2.0 * parts) / size
        return math.copysign(pipe + parts, flow), rate


def _factor(reynolds: float, rough: float) -> tuple[float, float]:
    """Friction factor f and d ln f / d ln Re: laminar, Colebrook's, and a straight line between the two.

    In nature the flow jumps from one to the other somewhere on the way; a head must not have two flows, or none.
    """
    if reynolds <= _LAMINAR:
        return 64.0 / reynolds, -1.0
    f = friction_factor(reynolds=max(reynolds, _TURBULENT), relative_roughness=rough)
    if reynolds >= _TURBULENT:
        u = _COLEBROOK / (reynolds * (rough / 3.7 + 2.51 / (reynolds * math.sqrt(f))))
        return f, -2.0 * u / (1.0 + u)
    slope = (f - 64.0 / _LAMINAR) / (_TURBULENT - _LAMINAR)
    between = f - slope * (_TURBULENT - reynolds)
    return between, slope * reynolds / between


@dataclass(frozen=True)
class Resistance:
    """A part that loses head with the square of the flow: h = r q^2.

    factor: r [s2/m5], 0 or more
    """

    factor: float

    def loss(self, flow: float) -> tuple[float, float]:
        """Head lost and its rate with the flow [m], [s/m2].

        flow: the flow, negative backwards [m3/s]
        """
        return self.factor * flow * abs(flow), 2.0 * self.factor * abs(flow)


def fitting(k: float, inside: float) -> Resistance:
    """A fitting by its loss coefficient: h = K v^2 / 2 g.

    k: loss coefficient [-], 0 or more
    inside: diameter it is referred to [m], above 0
    """
    positive(inside=(inside, "0.1 m"))
    return Resistance(k / (2.0 * GRAVITY * (0.25 * math.pi * inside**2) ** 2))


def nozzle(k: float, density: float) -> Resistance:
    """Nozzles by their discharge Q = k sqrt(p): h = q^2 / (k^2 rho g).

    k: of all of them together [m3/s/sqrt(Pa)], above 0
    density: of the water [kg/m3], above 0
    """
    positive(k=(k, "2.1e-5 m3/s/sqrt(Pa)"), density=(density, "1000 kg/m3"))
    return Resistance(1.0 / (k * k * density * GRAVITY))


@dataclass(frozen=True)
class PumpPart:
    """A pump at a speed: it adds the head of its curve; what is pressed backwards through it meets ten times its curve.

    curve: its curve
    speed: speed of its shaft [rad/s]
    """

    curve: PumpCurve
    speed: float

    def loss(self, flow: float) -> tuple[float, float]:
        """Head lost, negative where it is added, and its rate with the flow [m], [s/m2].

        flow: the flow, negative backwards [m3/s]
        """
        if flow < 0.0:
            head = self.curve.head_at(0.0, self.speed)
            rate = _AGAINST * head / self.curve.runout(self.speed)
            return rate * flow - head, rate
        return -self.curve.head_at(flow, self.speed), -self.curve.slope_at(flow, self.speed)


@dataclass(frozen=True)
class OneWay:
    """A part behind a one-way valve: a non-return valve, a foot valve, an overflow.

    part: what it loses when it is open
    cracking: head it takes to open it [m], 0 or more; the set head of a relief valve
    """

    part: Loss
    cracking: float = 0.0
    one_way: ClassVar[bool] = True

    def loss(self, flow: float) -> tuple[float, float]:
        """Head lost and its rate with the flow [m], [s/m2].

        flow: the flow, negative backwards [m3/s]
        """
        if flow < 0.0:
            blocked = _BLOCKED * (_TIGHT if self.cracking else 1.0)
            return self.cracking + blocked * flow, blocked
        lost, rate = self.part.loss(flow)
        return self.cracking + lost, rate


@dataclass(frozen=True)
class Row:
    """Parts one behind the other, with the same flow.

    parts: the parts
    """

    parts: tuple[Loss, ...]

    def loss(self, flow: float) -> tuple[float, float]:
        """Head lost and its rate with the flow [m], [s/m2].

        flow: the flow, negative backwards [m3/s]
        """
        pairs = [part.loss(flow) for part in self.parts]
        return sum(lost for lost, _ in pairs), sum(rate for _, rate in pairs)
