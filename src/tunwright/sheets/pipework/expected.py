"""What a duty brings, in sentences for a driver: flow, pressures to read off gauges, time."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from tunwright.build.kind import System
from tunwright.build.shown import show
from tunwright.build.typed import listed
from tunwright.checks.pipework.road.laid import laid
from tunwright.checks.pipework.worked import STILL, Worked
from tunwright.sheets.pipework.flows import range_of
from tunwright.sheets.pipework.listing import said
from tunwright.sheets.pipework.road.load import Permitted, permitted_time
from tunwright.sheets.pipework.road.spreading import width_words
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing

_DROP = 0.5e-3  # water that is not worth a word [m3]


def expected(one: Worked, plumbing: Plumbing, system: System, allowed: Permitted | None = None) -> Iterator[str]:
    """What a duty brings, in sentences: flow, water on the road, pressures, time.

    one: the duty
    plumbing: the pipework
    system: "metric" or "us"
    allowed: how full the truck may drive; nothing is said of it where left out
    """
    if one.over is None:
        yield f"What to expect is not known: {one.trouble}"
        return
    if one.duty.kind == "recirculate":
        yield f"Expect {_between(range_of(one, _pumped), 'flow', system)} through the pump."
    else:
        into = "into the tank" if one.inward else "in all"
        yield f"Expect {_between(range_of(one, one.delivered), 'flow', system)} {into}."
    yield from _laid(one, system)
    if pressures := list(_pressures(one, plumbing, system)):
        yield f"Pressure: {listed(pressures, 'and')}."
    yield _time(one, system)
    if allowed is not None:
        yield from _permitted(one, plumbing, system, allowed)


def _laid(one: Worked, system: System) -> Iterator[str]:
    """Water on the road of a spray duty with a speed, and a word where it is too much."""
    found = laid(one) if one.duty.kind == "spray" else None
    if found is None:
        return
    speed, width = show(found.speed, "speed", system=system), width_words(found.width, system)
    yield f"Lays {_between((found.least, found.most), 'depth', system)} on {width} at {speed}."
    most = shop_value("lays_most")
    if found.most > most:
        yield f"More than {said(most, 'depth', system)} at one pass may stand in pools: drive faster."


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
    if one.over is None or max(map(one.delivered, one.states)) < STILL:
        return "Nothing flows."
    if not one.over.parts:
        return "The tank takes no part in it: it stays as full as it is."
    if not math.isfinite(one.over.time):
        return "It does not go on to the end: at some level of the tank nothing flows any more."
    way = "From empty to full" if one.inward else "From full to empty"
    left = stays(one)
    moved = f"{way}: {show(one.over.time, 'time')}, {show(one.over.volume, 'volume', system=system)}"
    if one.inward or left < _DROP:
        return f"{moved}."
    return f"{moved}; {show(left, 'volume', system=system)} stay in it. Drawn fast, air comes in earlier."


def stays(one: Worked) -> float:
    """Water that stays in the compartments a duty empties [m3]; NaN where it empties none.

    one: the duty
    """
    if one.over is None or one.inward or not one.over.parts or one.over.ends >= 1.0:
        return math.nan
    return one.over.volume * one.over.ends / (1.0 - one.over.ends)


def _permitted(one: Worked, plumbing: Plumbing, system: System, allowed: Permitted) -> Iterator[str]:
    """The time with the water the axles allow, where that is less than net."""
    if not allowed.less or one.over is None or not one.over.parts:
        return
    water = show(allowed.water, "volume", system=system)
    found = permitted_time(one, plumbing, allowed)
    if found is None:
        yield f"The axles allow {water} in the tank: no load for this."
    elif math.isfinite(found.time):
        time = show(found.time, "time")
        yield f"Fill no more than the {water} the axles allow: {time}." if one.inward else (
            f"With the {water} the axles allow: {time}."
        )


def _between(ends: tuple[float, float], kind: str, system: System) -> str:
    """A range in words; one figure where both look alike."""
    least, most = (said(value, kind, system) for value in ends)
    return most if least == most else f"{least.split(' ')[0]} to {most}"
