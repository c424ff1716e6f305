"""Hydrants: the pressure that is left at a flow, and the flow that leaves a pressure."""

from __future__ import annotations

import math

from tunwright.build.pipework import Hydrant

_POWER = 1.0 / 0.54


def pressure_left(hydrant: Hydrant, flow: float) -> float:
    """Pressure left at a hydrant, by the parabola through its reading [Pa].

    hydrant: its reading
    flow: drawn from it [m3/s]
    """
    static, residual = float(hydrant.static), float(hydrant.residual)
    return static - (static - residual) * (flow / float(hydrant.flow)) ** 2


def flow_leaving(hydrant: Hydrant, pressure: float) -> float:
    """Flow that leaves a pressure at a hydrant, by the same parabola [m3/s]; 0 where it stands no higher at rest.

    hydrant: its reading
    pressure: that is to be left [Pa]
    """
    static, residual = float(hydrant.static), float(hydrant.residual)
    return float(hydrant.flow) * math.sqrt(max(0.0, static - pressure) / (static - residual))


def pressure_by_power(hydrant: Hydrant, flow: float) -> float:
    """Pressure left at a hydrant, where the flow goes with the drop to the power 0.54 [Pa].

    Source: NFPA 291 (read in copies).

    hydrant: its reading
    flow: drawn from it [m3/s]
    """
    fell = float(hydrant.static) - float(hydrant.residual)
    return float(float(hydrant.static) - fell * (flow / float(hydrant.flow)) ** _POWER)
