"""Speeds of the engine at which a duty may be run: pressure enough before its sprays, pump and drive not overloaded."""

from __future__ import annotations

from dataclasses import dataclass

from tunwright.handbook.pipe_network import NoFlow
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.holding import EngineRange

SLOWEST, FASTEST = "the slowest the engine is run at", "the fastest the engine is run at"
_HALVINGS = 12


@dataclass(frozen=True)
class Running:
    """Speeds of the engine a duty may be run at.

    low: slowest [rad/s]
    high: fastest [rad/s]
    below: what forbids a slower one, in words
    above: what forbids a faster one, in words
    """

    low: float
    high: float
    below: str
    above: str


def barred(state: DutyState) -> str:
    """What forbids a duty as it runs, in words; nothing where it may run.

    state: the duty at a filling and a speed of its engine
    """
    for name in state.to_sprays:
        spray = state.plumbing.sprays[name]
        if spray.least is not None and state.pressure(spray.on) < float(spray.least):
            return f"too little pressure before {name}"
    if not state.to_sprays:
        return "nothing is sprayed"
    return _overloaded(state)


def _overloaded(state: DutyState) -> str:
    """What of the pump or its drive is overloaded, in words."""
    pump, point = state.plumbing.work.pump, state.pump
    if pump is None or point is None:
        return ""
    drive = pump.drive
    if not point.within:
        return "the pump runs off its curve"
    if point.has - point.needs < shop_value("npsh_margin"):
        return "too little suction head"
    if drive.torque is not None and point.drive_torque > float(drive.torque):
        return "too much torque for the drive"
    return "too much power for the drive" if drive.power is not None and point.power > float(drive.power) else ""


def running(turning: EngineRange) -> Running | None:
    """The speeds of the engine a duty may be run at, None where there are none.

    turning: the duty at a filling
    """
    words = [_words(turning, one) for one in turning.steps]
    free = [i for i, one in enumerate(words) if not one]
    if not free:
        return None
    first, last, steps = free[0], free[-1], turning.steps
    low = (steps[0], SLOWEST) if first == 0 else _edge(turning, steps[first], steps[first - 1])
    high = (steps[-1], FASTEST) if last == len(steps) - 1 else _edge(turning, steps[last], steps[last + 1])
    return Running(low[0], high[0], low[1], high[1])


def in_common(found: list[Running | None]) -> Running | None:
    """The speeds that serve every filling, None where there are none.

    found: what serves each filling
    """
    known = [one for one in found if one is not None]
    if not known or len(known) < len(found):
        return None
    low, high = max(known, key=lambda one: one.low), min(known, key=lambda one: one.high)
    return Running(low.low, high.high, low.below, high.above) if low.low <= high.high else None


def _words(turning: EngineRange, engine: float) -> str:
    try:
        return barred(turning.at(engine))
    except NoFlow:
        return "no flow is found"


def _edge(turning: EngineRange, free: float, shut: float) -> tuple[float, str]:
    """The last speed towards a barred one that is free, and what bars the next."""
    words = _words(turning, shut)
    for _ in range(_HALVINGS):
        middle = 0.5 * (free + shut)
        found = _words(turning, middle)
        free, shut, words = (free, middle, found) if found else (middle, shut, words)
    return free, words
