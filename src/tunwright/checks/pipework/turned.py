"""A duty with another speed of its engine, in the steps speeds are told in."""

from __future__ import annotations

import math
from collections.abc import Callable

from tunwright.build.pipework import Duty
from tunwright.build.units import Quantity
from tunwright.truck.pipework.plumbing import Plumbing

_STEP = 10.0 * math.pi / 30.0  # engine speeds are told in steps of 10 rpm [rad/s]
_SLACK = 1e-6  # of a step, rounding


def turned(duty: Duty, rpm: float) -> Duty:
    """A duty at another speed of its engine.

    duty: the duty
    rpm: the speed [rpm]
    """
    return duty.model_copy(update={"engine": Quantity(rpm * math.pi / 30.0, f"{rpm:g} rpm", "rotation")})


def engine_speed(plumbing: Plumbing, duty: Duty, good: Callable[[Duty], bool], *, faster: bool) -> int | None:
    """The engine speed nearest to that of a duty at which it is good [rpm], None where the drive reaches none.

    What is good at a speed is taken to be good beyond it, away from the duty's own.

    plumbing: the pipework
    duty: the duty
    good: whether a duty so turned will do
    faster: whether faster is better, or slower
    """
    pump, own = plumbing.work.pump, duty.engine
    if pump is None or own is None:
        return None
    low, high = (own, pump.drive.most) if faster else (pump.drive.least, own)
    steps = range(math.ceil(low / _STEP - _SLACK), math.floor(high / _STEP + _SLACK) + 1)
    surest = list(reversed(steps)) if faster else list(steps)
    if not surest or not good(turned(duty, 10 * surest[0])):
        return None
    first, last = 0, len(surest) - 1
    while first < last:
        middle = (first + last + 1) // 2
        first, last = (middle, last) if good(turned(duty, 10 * surest[middle])) else (first, middle - 1)
    return 10 * surest[first]
