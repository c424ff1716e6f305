"""What a duty brings, in sentences for a driver: flow, pressures to read off gauges, time."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from tunwright.build.kind import System
from tunwright.build.shown import show
from tunwright.build.typed import listed
from tunwright.checks.pipework.worked import Worked
from tunwright.sheets.pipework.flows import range_of
from tunwright.sheets.pipework.listing import said
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing


def expected(one: Worked, plumbing: Plumbing, system: System) -> Iterator[str]:
    """What a duty brings, in sentences: flow, pressures, time.

    one: the duty
    plumbing: the pipework
    system: "metric" or "us"
    """
    if one.over is None:
        yield f"What to expect is not known: {one.trouble}"
        return
    if one.duty.kind == "recirculate":
        yield f"Expect {_between(range_of(one, _pumped), 'flow', system)} through the pump."
    else:
        into = "into the tank" if one.inward else "in all"
        yield f"Expect {_between(range_of(one, one.delivered), 'flow', system)} {into}."
    if pressures := list(_pressures(one, plumbing, system)):
        yield f"Pressure: {listed(pressures, 'and')}."
    yield _time(one, system)


def _pressures(one: Worked, plumbing: Plumbing, system: System) -> Iterator[str]:
    """Pressure at the pump outlet and before what the water leaves by."""
    pump, first = plumbing.work.pump, one.states[0]
    if pump is not None and first.pump is not None:
        yield f"{_between(range_of(one, partial(_at, pump.end)), 'gauge', system)} at the pump outlet"
    for point in dict.fromkeys(spray.on for spray in plumbing.work.spray if spray.name in first.to_sprays):
        yield f"{_between(range_of(one, partial(_at, point)), 'gauge', system)} at {point}"


def _at(point: str, state: DutyState) -> float:
    return state.pressure(point)


def _pumped(state: DutyState) -> float:
    return 0.0 if state.pump is None else state.pump.flow


def _time(one: Worked, system: System) -> str:
    if one.duty.kind == "recirculate":
        return "The water goes round: the tank stays as full as it is."
    if one.over is None or not math.isfinite(one.over.time):
        return "It does not go on to the end: at some level of the tank nothing flows any more."
    way = "From empty to full" if one.inward else "From full to empty"
    return f"{way}: {show(one.over.time, 'time')}, {show(one.over.volume, 'volume', system=system)}."


def _between(ends: tuple[float, float], kind: str, system: System) -> str:
    """A range in words; one figure where both look alike."""
    least, most = (said(value, kind, system) for value in ends)
    return most if least == most else f"{least.split(' ')[0]} to {most}"
