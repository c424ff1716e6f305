"""The chart of water across the width: what each spray lays where, and all of them together."""

from __future__ import annotations

from tunwright.build.kind import System
from tunwright.build.shown import show, show_number
from tunwright.checks.pipework.road.across import evenness, nozzles, wetted
from tunwright.checks.pipework.road.laid import depth
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.spreading import Nozzle, profile
from tunwright.sheets.chart_model import Axis, Chart, Limit, Series
from tunwright.sheets.pipework.flows import half
from tunwright.sheets.pipework.listing import MEASURES, said
from tunwright.sheets.pipework.road.spreading import width_words
from tunwright.truck.pipework.holding import on_the_road, road_flow

_MOST = 5  # sprays that are drawn one by one
_SAME = 1e-6  # places that differ by less are one [m]
_ALL = "all together"


def across_chart(worked: Worked, system: System) -> Chart | None:
    """Water over the width at the duty's speed on the road, half full; None without a speed or a known width.

    worked: the duty
    system: "metric" or "us"
    """
    found = on_the_road(half(worked)) if worked.states else []
    if worked.duty.road_speed is None or not found:
        return None
    speed, whole = float(worked.duty.road_speed), nozzles(found)
    ends = (min(one.place - one.half_width for one in whole), max(one.place + one.half_width for one in whole))
    lines = [_line(_ALL, whole, speed, ends, system)]
    if 1 < len(found) <= _MOST:
        lines += [_line(spray.name, nozzles([(spray, flow)]), speed, ends, system) for spray, flow in found]
    laid, wanted = MEASURES["depth"][system], worked.duty.lays
    limit = () if wanted is None else (_wanted(float(wanted), system),)
    return Chart(
        f"Water across the width: {worked.duty.name}",
        Axis("to the right of the middle of the truck", MEASURES["run"][system].symbol),
        Axis("water laid", laid.symbol, low=0.0),
        tuple(lines),
        limit,
        description=across_words(worked, system),
    )


def _line(name: str, bar: list[Nozzle], speed: float, ends: tuple[float, float], system: System) -> Series:
    """The water of some nozzles over the whole width, on the ground where they lay none."""
    places, part = profile(bar)
    before, behind = places[0] > ends[0] + _SAME, places[-1] < ends[1] - _SAME
    x = [*([ends[0], places[0]] if before else []), *places, *([places[-1], ends[1]] if behind else [])]
    flow = sum(one.flow for one in bar)
    depths = [*([0.0, 0.0] if before else []), *(part * flow / speed), *([0.0, 0.0] if behind else [])]
    along, up = MEASURES["run"][system].size, MEASURES["depth"][system].size
    drawn = tuple(float(each) / along for each in x), tuple(float(each) / up for each in depths)
    return Series(name, *drawn, "accent" if name == _ALL else "soft")


def _wanted(value: float, system: System) -> Limit:
    """The least water that is wanted."""
    measure = MEASURES["depth"][system]
    words = f"wanted in the mean {show_number(measure.number(value), measure.digits)}"
    return Limit(value / measure.size, words, "at least")


def across_words(worked: Worked, system: System) -> str:
    """Mean and evenness across the width, in a sentence.

    worked: the duty, with a speed on the road and sprays of a known width
    system: "metric" or "us"
    """
    state = half(worked)
    found, speed = on_the_road(state), float(worked.duty.road_speed or 0.0)
    width = wetted(spray for spray, _ in found)
    mean = said(depth(road_flow(state), speed=speed, width=width), "depth", system)
    even, driest = (show_number(100.0 * each) for each in evenness(found))
    return (
        f"Half full at {show(speed, 'speed', system=system)}: {mean} in the mean on {width_words(width, system)}, "
        f"{even} % even (Christiansen's coefficient), {driest} % of the mean on the driest quarter of the width."
    )
