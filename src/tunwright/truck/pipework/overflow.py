"""The overflow: what it passes, and how high the water can stand over its lip."""

from __future__ import annotations

import math

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.pipe_parts import PipeRun
from tunwright.tables.pipes import PipeSize
from tunwright.truck.pipework.plumbing import Plumbing, fittings_loss

_WEIR, _ORIFICE = 1.7, 0.6
"""Flow over a rim, Q = 1.7 b h^1.5 (broad crest) [m0.5/s], and coefficient of a drowned mouth [-]; from memory."""


def overflow_flow(plumbing: Plumbing, size: PipeSize, head: float) -> float:
    """What an overflow passes [m3/s]: over its rim, through its drowned mouth, or the pipe full, whichever is least.

    Its pipe is not counted on to suck: no more fall drives it than from the lip to its end.

    plumbing: the pipework; it has an overflow
    size: the pipe
    head: water over the lip [m]
    """
    return min(overflow_ways(plumbing, size, head))


def overflow_ways(plumbing: Plumbing, size: PipeSize, head: float) -> tuple[float, float, float]:
    """What the rim, the drowned mouth and the pipe of an overflow each pass [m3/s].

    plumbing: the pipework; it has an overflow
    size: the pipe
    head: water over the lip [m]
    """
    pipe = plumbing.work.overflow
    if pipe is None:
        return 0.0, 0.0, 0.0
    over_rim = _WEIR * math.pi * size.inside * head**1.5
    drowned = _ORIFICE * 0.25 * math.pi * size.inside**2 * math.sqrt(2.0 * GRAVITY * head)
    k = 1.5 + fittings_loss(pipe.fittings, size.inside)
    run = PipeRun(float(pipe.length), size.inside, size.roughness, k, plumbing.liquid.viscosity)
    drop = min(float(pipe.length), float(pipe.drop or pipe.length)) + head
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if run.loss(middle)[0] < drop else (low, middle)
    return float(over_rim), float(drowned), float(low)


def highest_water(plumbing: Plumbing) -> float:
    """Height above the ground of the highest water there can be: over the lip, or the roof where there is no lip [m].

    plumbing: the pipework
    """
    lip = plumbing.tank.lip()
    if lip is None:
        return plumbing.tank.roof()
    return lip + (0.0 if plumbing.work.overflow is None else float(plumbing.work.overflow.head))
