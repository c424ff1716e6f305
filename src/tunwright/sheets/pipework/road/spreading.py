"""Water on the road: what a spray duty lays at each speed, and how far a load goes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tunwright.build.kind import System
from tunwright.build.pipework import Duty
from tunwright.build.shown import show_number
from tunwright.checks.pipework.road.across import wetted
from tunwright.checks.pipework.road.laid import depth as depth_of
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.spreading import area_per_load, distance_per_load, speed_for
from tunwright.sheets.pipework.flows import half, range_of
from tunwright.sheets.pipework.listing import MEASURES, Column, Listing, Value
from tunwright.sheets.pipework.road.load import Permitted, load, load_words
from tunwright.truck.pipework.holding import on_the_road, road_flow

_SPEEDS: dict[System, tuple[float, ...]] = {"metric": (5, 10, 15, 20, 25, 30), "us": (3, 6, 9, 12, 15, 18)}
_DEPTHS: dict[System, tuple[float, ...]] = {"metric": (0.3, 0.5, 1.0), "us": (0.07, 0.11, 0.22)}
_COLUMNS = (
    Column("duty", "duty"), Column("flow", "flow", "flow"), Column("width", "width", "run"), Column("given", "given"),
    Column("speed", "speed", "road"), Column("depth", "water laid", "depth"), Column("area", "area of a load", "area"),
    Column("way", "way of a load", "way"), Column("least", "least water", "depth"),
    Column("most", "most water", "depth"),
)  # fmt: skip


@dataclass(frozen=True)
class Spreading:
    """What a duty spreads.

    flow: on the road with the tank half full [m3/s]
    least: least flow on the road over all fillings [m3/s]
    most: greatest [m3/s]
    width: of road that is wet [m]
    volume: water of a load that comes onto the road [m3]
    """

    flow: float
    least: float
    most: float
    width: float
    volume: float


def spreading(worked: Worked, allowed: Permitted) -> Spreading | None:
    """What a duty spreads; None for one that lays no water or has no width.

    worked: the duty
    allowed: how full the truck may drive
    """
    if worked.duty.kind != "spray" or worked.over is None or worked.over.volume <= 0.0:
        return None
    state = half(worked)
    found = on_the_road(state)
    if not found:
        return None
    flow = road_flow(state)
    volume = load(worked, allowed) * min(1.0, flow / state.from_tank)
    return Spreading(flow, *range_of(worked, road_flow), wetted(spray for spray, _ in found), volume)


def spreading_list(duties: Sequence[Worked], allowed: Permitted, system: System) -> Listing:
    """Depth at each speed, speed for each depth, area and way of a load, for every spray duty with a width.

    duties: the duties
    allowed: how full the truck may drive
    system: "metric" or "us", which also says what speeds and depths are round
    """
    rows: list[list[Value]] = []
    for one in duties:
        found = spreading(one, allowed)
        if found is not None:
            rows += [_row(one.duty, found, *line) for line in _lines(one.duty, found, system)]
    foot = (
        "Water laid = flow over speed and width, with the tank half full; least and most over all its levels. Where "
        "strips overlap the road counts once. Reckoned, not measured: wind and worn heads change it, so try it with "
        f"trays on the road. {load_words(allowed, system)}"
    )
    return Listing("spreading", "Water on the road", _COLUMNS, rows, foot)


def _row(duty: Duty, found: Spreading, given: str, speed: float, depth: float) -> list[Value]:
    of_load: list[Value] = [None, None]
    if found.volume > 0.0:
        of_load = [
            float(area_per_load(volume=found.volume, depth=depth)),
            float(distance_per_load(volume=found.volume, depth=depth, width=found.width)),
        ]
    ends = [depth_of(flow, speed=speed, width=found.width) for flow in (found.least, found.most)]
    return [duty.name, found.flow, found.width, given, speed, depth, *of_load, *ends]


def _lines(duty: Duty, found: Spreading, system: System) -> Iterator[tuple[str, float, float]]:
    """What is given, the speed and the depth: for round speeds and the duty's own, then for round depths."""
    for speed in road_speeds(duty, system):
        yield "speed", speed, depth_of(found.flow, speed=speed, width=found.width)
    for depth in road_depths(duty, system):
        yield "water", float(speed_for(flow=found.flow, depth=depth, width=found.width)), depth


def width_words(width: float, system: System) -> str:
    """A width of road in words.

    width: [m]
    system: "metric" or "us"
    """
    measure = MEASURES["run"][system]
    return f"{show_number(width / measure.size, 1)} {measure.symbol}"


def road_speeds(duty: Duty, system: System) -> list[float]:
    """Round speeds on the road and the duty's own, rising [m/s].

    duty: the duty
    system: "metric" or "us"
    """
    size = MEASURES["road"][system].size
    own = None if duty.road_speed is None else float(duty.road_speed)
    return _with_own([size * speed for speed in _SPEEDS[system]], own, 1e-3)


def road_depths(duty: Duty, system: System) -> list[float]:
    """Round depths of water and the one the duty is wanted to lay, rising [m].

    duty: the duty
    system: "metric" or "us"
    """
    size = MEASURES["depth"][system].size
    return _with_own([size * depth for depth in _DEPTHS[system]], None if duty.lays is None else float(duty.lays), 1e-6)


def _with_own(values: Sequence[float], own: float | None, same: float) -> list[float]:
    """Values and one more unless it is among them, rising."""
    kept = {round(value, 9) for value in values}
    if own and not any(abs(own - value) < same for value in kept):
        kept.add(own)
    return sorted(kept)
