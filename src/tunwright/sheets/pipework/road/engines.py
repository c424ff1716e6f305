"""The engine speed that holds the water on the road at each speed, for the driver; and what a duty can lay at all."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tunwright.build.kind import System
from tunwright.checks.pipework.road.across import wetted
from tunwright.checks.pipework.road.laid import depth as depth_of
from tunwright.checks.pipework.road.running import FASTEST, SLOWEST, Running, in_common, running
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.pipe_network import NoFlow
from tunwright.handbook.spreading import flow_for
from tunwright.sheets.pipework.flows import half
from tunwright.sheets.pipework.listing import MEASURES, NONE, Column, Listing, Value
from tunwright.sheets.pipework.road.spreading import road_depths, road_speeds
from tunwright.truck.pipework.holding import EngineRange, Held, on_the_road
from tunwright.truck.pipework.plumbing import Plumbing

_COLUMNS = (
    Column("duty", "duty"), Column("speed", "speed", "road"), Column("depth", "water wanted", "depth"),
    Column("flow", "flow", "flow"), Column("engine", "engine, half full", "rotation"),
    Column("full", "engine, full", "rotation"), Column("empty", "engine, nearly empty", "rotation"),
    Column("why", "why none"), Column("least", "least it can lay", "depth"), Column("most", "most it can lay", "depth"),
    Column("slowest", "slowest engine", "rotation"), Column("below", "what forbids a slower one"),
    Column("fastest", "fastest engine", "rotation"), Column("above", "what forbids a faster one"),
)  # fmt: skip
_TURNS = 10.0  # steps a bound is told in [rpm]


@dataclass(frozen=True, eq=False)
class Turned:
    """A duty at the speeds its engine may be run at.

    worked: the duty
    fills: the duty half full, full and nearly empty
    free: speeds that serve all three, None where there are none
    width: of road that is wet [m]
    """

    worked: Worked
    fills: tuple[EngineRange, EngineRange, EngineRange]
    free: Running | None
    width: float


def turned(worked: Worked, plumbing: Plumbing) -> Turned | None:
    """A duty at all speeds of its engine; None for one that lays no water, has no width, or runs by gravity.

    worked: the duty
    plumbing: the pipework
    """
    duty = worked.duty
    if duty.kind != "spray" or not worked.states or duty.engine is None or plumbing.work.pump is None:
        return None
    state = half(worked)
    found = on_the_road(state)
    if not found:
        return None
    ends = (state.fill, worked.states[0].fill, worked.states[-1].fill)
    middle, full, empty = (EngineRange(plumbing, duty, fill) for fill in ends)
    try:
        free = in_common([running(one) for one in (middle, full, empty)])
    except NoFlow:
        free = None
    return Turned(worked, (middle, full, empty), free, wetted(spray for spray, _ in found))


def engine_list(duties: Sequence[Worked], plumbing: Plumbing, system: System) -> Listing:
    """For every duty, speed on the road and wanted water: the engine speed, or why there is none.

    duties: the duties
    plumbing: the pipework
    system: "metric" or "us", which also says what speeds and depths are round
    """
    found = (turned(one, plumbing) for one in duties)
    rows = [line for one in found if one is not None for line in _lines(one, system)]
    foot = (
        "Engine speeds with the tank half full; they leave pressure enough before the sprays, suction head enough, and "
        "pump and drive within what they bear. Least and most: at the slowest and the fastest of these."
    )
    return Listing("engine", "Engine speed for the water on the road", _COLUMNS, rows, foot)


def _lines(one: Turned, system: System) -> Iterator[list[Value]]:
    for speed in road_speeds(one.worked.duty, system):
        free = one.free
        bounds = [None] * 4 if free is None else [free.low, free.below, free.high, free.above]
        for depth in road_depths(one.worked.duty, system):
            flow = float(flow_for(depth=depth, speed=speed, width=one.width))
            yield [one.worked.duty.name, speed, depth, flow, *_found(one, flow), *_ends(one, speed), *bounds]


def _ends(one: Turned, speed: float) -> tuple[float | None, float | None]:
    """Least and greatest depth the engine can hold at a speed on the road [m]."""
    free = one.free
    if free is None:
        return None, None
    flows = (one.fills[0].flow(engine) for engine in (free.low, free.high))
    least, most = (depth_of(flow, speed=speed, width=one.width) for flow in flows)
    return least, most


def _found(one: Turned, flow: float) -> list[Value]:
    """The engine half full, full and nearly empty [rad/s], and why there is none."""
    free = one.free
    if free is None:
        return [None, None, None, "no engine speed serves this duty"]
    held = one.fills[0].engine_for(flow, low=free.low, high=free.high)
    if held.engine is None:
        return [None, None, None, _why(held, free)]
    beside = [fill.engine_for(flow).engine for fill in one.fills[1:]]
    return [held.engine, *beside, ""]


def _why(held: Held, free: Running) -> str:
    least, most = told_bounds(free)
    return f"under {least}: {free.below}" if held.end == "least" else f"over {most}: {free.above}"


def told_bounds(free: Running) -> tuple[str, str]:
    """Slowest and fastest speed of the engine as they are told, to the safe side [rpm].

    free: the speeds it may be run at
    """
    rotation, column = MEASURES["rotation"]["metric"], Column("engine", "engine", "rotation")
    low = _TURNS * math.ceil(free.low / rotation.size / _TURNS - 1e-6)
    high = _TURNS * math.floor(free.high / rotation.size / _TURNS + 1e-6)
    shown = [column.shown(each * rotation.size, "metric") for each in (low, high)]
    return shown[0], shown[1]


def cell_words(engine: Value, why: Value) -> str:
    """An engine speed as the driver reads it, to ten turns; or that there is none, and which bound is passed.

    engine: [rad/s], None where there is none
    why: why there is none, in words
    """
    if engine is None:
        return f"{NONE} {str(why).split(':', maxsplit=1)[0]}"
    rotation = MEASURES["rotation"]["metric"]
    tens = round(float(engine) / rotation.size / _TURNS) * _TURNS
    return _COLUMNS[4].shown(tens * rotation.size, "metric")


def bounds_words(listing: Listing, duty: str) -> str:
    """Between which speeds the engine may be run, and why, in a sentence; nothing where there are none.

    listing: the list of engine speeds
    duty: name of the duty
    """
    low, below, high, above = next((one[10:] for one in listing.rows if one[0] == duty), (None,) * 4)
    if low is None or high is None:
        return ""
    free = Running(float(low), float(high), str(below), str(above))
    least, most = told_bounds(free)
    slower = free.below if free.below == SLOWEST else f"slower: {free.below}"
    faster = free.above if free.above == FASTEST else f"faster: {free.above}"
    return f"The engine may run from {least} rpm ({slower}) to {most} rpm ({faster})."


def differs(listing: Listing, duty: str) -> float:
    """How much faster the engine has to turn nearly empty than full, at most [rad/s]; 0 where no cell has both.

    listing: the list of engine speeds
    duty: name of the duty
    """
    rows = [one for one in listing.rows if one[0] == duty and one[5] is not None and one[6] is not None]
    return max((abs(float(one[6] or 0.0) - float(one[5] or 0.0)) for one in rows), default=0.0)
