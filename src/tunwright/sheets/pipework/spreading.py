"""Water on the road: what a spray duty lays at each speed, and how far a load goes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from tunwright.build.kind import System
from tunwright.build.pipework import Spray
from tunwright.checks.pipework.ways import middles, spread
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.spreading import application_depth, area_per_load, distance_per_load, speed_for
from tunwright.sheets.pipework.flows import half
from tunwright.sheets.pipework.listing import MEASURES, Column, Listing, Value

_SPEEDS: dict[System, tuple[float, ...]] = {"metric": (5, 10, 15, 20, 25, 30), "us": (3, 6, 9, 12, 15, 18)}
_DEPTHS: dict[System, tuple[float, ...]] = {"metric": (0.3, 0.5, 1.0), "us": (0.07, 0.11, 0.22)}


def wetted(sprays: Iterable[Spray]) -> float:
    """Width of road that is wet, where strips overlap counted once [m].

    sprays: those that work and have a width
    """
    wide = [(middle, float(one.width or 0.0)) for one in sprays for middle in middles(one)]
    strips = sorted((middle - 0.5 * width, width) for middle, width in wide)
    whole, reached = 0.0, -math.inf
    for left, width in strips:
        whole += max(0.0, left + width - max(left, reached))
        reached = max(reached, left + width)
    return whole


def spreading(worked: Worked) -> tuple[float, float, float] | None:
    """Flow on the road [m3/s], width [m] and water of a load [m3]; None for what lays none or has no width.

    worked: the duty
    """
    if worked.duty.kind != "spray" or worked.over is None or worked.over.volume <= 0.0:
        return None
    state = half(worked)
    found = spread(state)
    if not found:
        return None
    flow = sum(flow for _, flow in found)
    return flow, wetted(spray for spray, _ in found), worked.over.volume * min(1.0, flow / state.from_tank)


def spreading_list(duties: Sequence[Worked], system: System) -> Listing:
    """Depth at each speed, speed for each depth, area and way of a load, for every spray duty with a width.

    duties: the duties
    system: "metric" or "us", which also says what speeds and depths are round
    """
    columns = (
        Column("duty", "duty"), Column("flow", "flow", "flow"), Column("width", "width", "run"),
        Column("given", "given"), Column("speed", "speed", "road"), Column("depth", "water laid", "depth"),
        Column("area", "area of a load", "area"), Column("way", "way of a load", "way"),
    )  # fmt: skip
    rows: list[list[Value]] = []
    for one in duties:
        found = spreading(one)
        if found is not None:
            flow, width, volume = found
            for given, speed, depth in _lines(one, flow, width, system):
                load = [float(area_per_load(volume=volume, depth=depth))]
                load.append(float(distance_per_load(volume=volume, depth=depth, width=width)))
                rows.append([one.duty.name, flow, width, given, speed, depth, *load])
    foot = (
        "Water laid = flow over speed and width, with the tank half full; where strips overlap the road counts once. "
        "Reckoned, not measured: wind and worn heads change it, so try it with trays on the road. A load is the usable "
        "water of the tank."
    )
    return Listing("spreading", "Water on the road", columns, rows, foot)


def _lines(one: Worked, flow: float, width: float, system: System) -> Iterator[tuple[str, float, float]]:
    """What is given, the speed and the depth: for round speeds and the duty's own, then for round depths."""
    unit, laid = MEASURES["road"][system], MEASURES["depth"][system]
    speeds = {round(unit.size * speed, 9) for speed in _SPEEDS[system]}
    own = None if one.duty.road_speed is None else float(one.duty.road_speed)
    if own and not any(abs(own - speed) < 1e-3 for speed in speeds):
        speeds.add(own)
    for speed in sorted(speeds):
        yield "speed", speed, float(application_depth(flow=flow, speed=speed, width=width))
    for depth in (laid.size * depth for depth in _DEPTHS[system]):
        yield "water", float(speed_for(flow=flow, depth=depth, width=width)), depth
