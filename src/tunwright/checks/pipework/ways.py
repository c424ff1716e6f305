"""Where water stays or never comes: pockets that do not drain, legs no duty flows through; how evenly it is spread."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from tunwright.build.pipework import Spray
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, verdict
from tunwright.checks.pipework.worked import LITRES_A_MINUTE, Worked
from tunwright.handbook.spreading import Nozzle, application_depth, christiansen_uniformity, pattern
from tunwright.tables.read import shop_value, shop_values
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

DRAINS = Rule("every low point has an open end or runs on downhill", mark="derived")
_STRIP = 0.1  # width the water is averaged over [m]
_STILL = 1e-6


def way_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings on pockets, dead legs and evenness.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    yield _pockets(plumbing, assumed)
    if plumbing.truck.build.order.use == "potable":
        yield _dead_legs(plumbing, worked, assumed)
    for one in worked:
        yield from _even(one, assumed)


def pockets(plumbing: Plumbing) -> list[str]:
    """Points from which no water can leave by its own weight: none of their runs leads lower and nothing is open there.

    plumbing: the pipework
    """
    work, found = plumbing.work, []
    open_ends = {spray.on for spray in work.spray}
    for point in work.point:
        if point.outlet is not None or point.mouth or point.open_water or point.hydrant is not None:
            continue
        beside = [end for start, end in _ways(plumbing) if start == point.name]
        here = plumbing.height(point.name)
        if point.name not in open_ends and all(plumbing.height(other) >= here for other in beside):
            found.append(point.name)
    return found


def _ways(plumbing: Plumbing) -> list[tuple[str, str]]:
    """Ways water can run by its own weight, from a point to a point; a one-way valve lets none back."""
    work = plumbing.work
    checked = {one.on for one in work.valve if one.kind in ONE_WAY}
    found = [(run.start, run.end) for run in work.run]
    found += [(run.end, run.start) for run in work.run if run.name not in checked]
    if work.pump is not None:
        found += [(work.pump.start, work.pump.end), (work.pump.end, work.pump.start)]
    return found


def _pockets(plumbing: Plumbing, assumed: tuple[str, ...]) -> Finding:
    low = pockets(plumbing)
    value = float(len(low))
    remedy = Remedy(f"fit a drain cock (an open end with a valve) at {', '.join(low)}") if low else None
    steps = tuple(Step(name, "lower than all it is joined to", "", f"{n(plumbing.height(name), 2)} m") for name in low)
    return Finding(
        "pockets", "Does every part of the pipework drain?", ", ".join(low), value, 0.0, "pockets", "at_most",
        "fails" if low else "holds", DRAINS, remedy=remedy, working=steps, assumed=assumed,
    )  # fmt: skip


def _dead_legs(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Finding:
    """Runs no duty sends water through: it goes stale there."""
    states = [state for one in worked for state in one.states]
    dead = [run.name for run in plumbing.work.run if all(abs(state.flow(run.name)) < _STILL for state in states)]
    shop, limit = shop_values()["dead_leg"], shop_value("dead_leg")
    remedy = Remedy(f"take away {', '.join(dead)}, or add a duty that flushes it") if dead else None
    return Finding(
        "dead-legs", "Does every run of the drinking-water pipework get fresh water?", ", ".join(dead),
        float(len(dead)), limit, "runs", "at_most", "holds" if len(dead) <= limit else "fails",
        Rule(shop.source, mark=shop.mark), remedy=remedy, assumed=assumed,
    )  # fmt: skip


def spread(state: DutyState) -> list[tuple[Spray, float]]:
    """Sprays of a duty that wet a known width, with their flows [m3/s].

    state: the duty at a filling
    """
    sprays = {one.name: one for one in state.plumbing.work.spray}
    return [(sprays[name], flow) for name, flow in state.to_sprays.items() if sprays[name].width is not None]


def middles(spray: Spray) -> list[float]:
    """Middles of what sprays of one kind wet, side by side about their common middle [m].

    spray: the sprays, of a known width each
    """
    first = float(spray.y) - 0.5 * (spray.count - 1) * float(spray.width or 0.0)
    return [first + i * float(spray.width or 0.0) for i in range(spray.count)]


def strips(found: Sequence[tuple[Spray, float]]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Part of all water on each metre of width, in strips across all that is wetted [1/m].

    found: sprays with their flows
    """
    nozzles = [
        Nozzle(middle, 0.5 * float(one.width or 0.0), "even", flow / one.count)
        for one, flow in found
        for middle in middles(one)
    ]
    low, high = (f(n.place + side * n.half_width for n in nozzles) for f, side in ((min, -1), (max, 1)))
    return pattern(np.linspace(low, high, max(2, round((high - low) / _STRIP) + 1)), nozzles)


def _even(one: Worked, assumed: tuple[str, ...]) -> Iterator[Finding]:
    """How evenly several sprays of a duty wet the road."""
    found = spread(one.states[0]) if one.states else []
    if len(found) < 2 or one.duty.road_speed is None:
        return
    value, shop = max(0.0, float(christiansen_uniformity(strips(found)))), shop_values()["evenness"]
    limit, flow = shop_value("evenness"), sum(each for _, each in found)
    wide = len(strips(found)) * _STRIP
    depth = float(application_depth(flow=flow, speed=float(one.duty.road_speed), width=wide))
    mean = f"{n(LITRES_A_MINUTE * flow)} L/min on {n(wide, 1)} m at {one.duty.road_speed.text}"
    steps = (
        Step("mean depth", "Q / (v w)", mean, f"{n(1000 * depth, 2)} L/m²"),
        Step("evenness", "1 - mean deviation / mean", "", f"{n(100 * value, 1)} %", "Christiansen's coefficient"),
    )
    yield Finding(
        f"evenness-{one.slug}", f"Is the water spread evenly when it is asked to {one.duty.name}?", "", value, limit,
        "share", "at_least", verdict(value, limit, "at_least"), Rule(shop.source, mark=shop.mark), working=steps,
        assumed=assumed,
    )  # fmt: skip


