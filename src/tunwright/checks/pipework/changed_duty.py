"""A duty changed for a trial: valves shut, part open or wide open, or another speed of its engine."""

from __future__ import annotations

import math
from collections.abc import Callable

from tunwright.build.factors import TURNS_A_MINUTE
from tunwright.build.pipework import Duty
from tunwright.build.pipework.duties import Throttled
from tunwright.build.units import Quantity
from tunwright.truck.pipework.plumbing import Plumbing

_STEP = 10.0 / TURNS_A_MINUTE  # engine speeds are told in steps of 10 rpm [rad/s]
_SLACK = 1e-6  # of a step, rounding


def valves_open(duty: Duty) -> list[str]:
    """Valves that are open in a duty, those part open last.

    duty: the duty
    """
    return [*duty.open, *(one.valve for one in duty.throttled)]


def with_shut(duty: Duty, valve: str) -> Duty:
    """A duty with a valve shut; the same one where that changes nothing.

    duty: the duty
    valve: its name
    """
    if valve not in valves_open(duty):
        return duty
    part = [one for one in duty.throttled if one.valve != valve]
    return duty.model_copy(update={"open": [name for name in duty.open if name != valve], "throttled": part})


def with_part_open(duty: Duty, valve: str, part: float) -> Duty:
    """A duty with a valve part open.

    duty: the duty
    valve: its name
    part: how far it is open [-]
    """
    shut = with_shut(duty, valve)
    told = Throttled(valve=valve, open=Quantity(part, f"{100 * part:.0f} %", "ratio"))
    return shut.model_copy(update={"throttled": [*shut.throttled, told]})


def with_all_wide(duty: Duty) -> Duty:
    """A duty with its throttled valves wide open, as somebody may leave them; the same one where none is.

    duty: the duty
    """
    return duty.model_copy(update={"open": valves_open(duty), "throttled": []}) if duty.throttled else duty


def with_engine(duty: Duty, rpm: float) -> Duty:
    """A duty at another speed of its engine.

    duty: the duty
    rpm: the speed [rpm]
    """
    return duty.model_copy(update={"engine": Quantity(rpm / TURNS_A_MINUTE, f"{rpm:g} rpm", "rotation")})


def engine_speed(plumbing: Plumbing, duty: Duty, good: Callable[[Duty], bool], *, faster: bool) -> int | None:
    """The engine speed nearest to that of a duty at which it is good [rpm], None where the drive reaches none.

    What is good at a speed is taken to be good beyond it, away from the duty's own.

    plumbing: the pipework
    duty: the duty
    good: whether a duty so changed will do
    faster: whether faster is better, or slower
    """
    pump, own = plumbing.work.pump, duty.engine
    if pump is None or own is None:
        return None
    low, high = (own, pump.drive.most) if faster else (pump.drive.least, own)
    steps = range(math.ceil(low / _STEP - _SLACK), math.floor(high / _STEP + _SLACK) + 1)
    surest = list(reversed(steps)) if faster else list(steps)
    if not surest or not good(with_engine(duty, 10 * surest[0])):
        return None
    first, last = 0, len(surest) - 1
    while first < last:
        middle = (first + last + 1) // 2
        first, last = (middle, last) if good(with_engine(duty, 10 * surest[middle])) else (first, middle - 1)
    return 10 * surest[first]
