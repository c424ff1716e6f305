"""Pressures the pipework has to bear: everything shut, the hammer of a valve, and too little of it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from tunwright.build.factors import BAR
from tunwright.build.pipework import Duty, PipeRun
from tunwright.build.shown import show
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Step, shop_rule, verdict
from tunwright.checks.pipework.all_shut import all_shut
from tunwright.checks.pipework.bears import bears, pressed
from tunwright.checks.pipework.hammer import hammer_findings
from tunwright.checks.pipework.worked import STILL, Worked, at
from tunwright.handbook.pipe_network import NoFlow
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing


def pressure_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about the greatest and the least pressures.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    yield from _standing(plumbing, worked, assumed)
    yield from hammer_findings(plumbing, worked, assumed)
    yield from _least(plumbing, worked, assumed)


def shut_off(plumbing: Plumbing, duty: Duty) -> float:
    """Pressure behind the pump at the drive's greatest speed, tank full, all behind it shut but relief valves [Pa].

    plumbing: the pipework
    duty: what is open before the pump
    """
    pump, curve = plumbing.work.pump, plumbing.curve
    if pump is None or curve is None:
        return math.nan
    fastest = duty.model_copy(update={"engine": pump.drive.most})
    head = all_shut(plumbing, fastest).head.get(pump.end, math.nan)
    return plumbing.liquid.pressure(head - plumbing.height(pump.end))


def highest(plumbing: Plumbing) -> tuple[float, str]:
    """Greatest pressure with everything shut [Pa], of the pump in any duty and of the hydrants, and where.

    plumbing: the pipework
    """
    found = [(pressure, words) for pressure, words, _ in _everything_shut(plumbing)]
    return max(found, default=(0.0, ""))


def _everything_shut(plumbing: Plumbing) -> Iterator[tuple[float, str, str]]:
    """Pressures that stand with everything shut [Pa], where in words, and at which point."""
    for one in plumbing.work.point:
        if one.hydrant is not None:
            yield float(one.hydrant.static), one.name, one.name
    pump = plumbing.work.pump
    for duty in plumbing.work.duty:
        if duty.engine is not None and pump is not None:
            try:
                pressure = shut_off(plumbing, duty)
            except NoFlow:
                continue
            if not math.isnan(pressure):
                most = show(float(pump.drive.most), "rotation")
                yield pressure, f"behind the pump at {most} of its engine, {duty.name}", pump.end


def _standing(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    rows = [(row, bears(plumbing, pressed(plumbing, row[2]))) for row in _everything_shut(plumbing)]
    if not worked or not rows:
        return
    (value, where, _), (limit, rule) = max(rows, key=lambda pair: pair[0][0] / pair[1][0])
    judged = verdict(value / BAR, limit / BAR, "at_most")
    remedy = Remedy(f"set a relief valve there that passes the whole flow at {n(limit / BAR, 1)} bar")
    how = "pump at the drive's greatest speed, full tank, relief valves as they are; hydrants as they stand"
    step = Step("everything shut", how, where, f"{n(value / BAR, 2)} bar")
    yield Finding(
        "pressure-shut-off", "Does the pipework bear the pressure with everything shut?", where, value / BAR,
        limit / BAR, "bar", "at_most", judged, rule, remedy=remedy if judged == "fails" else None, working=(step,),
        assumed=assumed,
    )  # fmt: skip


def absolute(state: DutyState, point: str) -> float:
    """Least pressure over a vacuum in the pipes at a point [Pa].

    The velocity head of the fastest run there is taken away: a network reckons with p + rho g z + rho v^2 / 2.

    state: a duty at a filling
    point: the point
    """
    liquid, runs = state.plumbing.liquid, state.plumbing.work.run
    fastest = max((abs(state.velocity(one.name)) for one in runs if point in (one.start, one.end)), default=0.0)
    return liquid.air + state.pressure(point) - 0.5 * liquid.density * fastest**2


def _at_its_highest(state: DutyState, run: PipeRun) -> tuple[float, str] | None:
    """Least pressure over a vacuum at the highest corner of a run's way [Pa], where it is higher than both its ends.

    Head is lost evenly along the way.
    """
    spots = [(float(one.at), float(one.y), float(one.height)) for one in run.corner]
    high = max(range(len(spots)), key=lambda i: spots[i][2], default=0)
    heads = [state.flowing.head.get(end, math.nan) for end in (run.start, run.end)]
    if not 0 < high < len(spots) - 1 or any(map(math.isnan, heads)):
        return None
    legs = [math.dist(a, b) for a, b in pairwise(spots)]
    part = sum(legs[:high]) / sum(legs)
    liquid, moves = state.plumbing.liquid, 0.5 * state.plumbing.liquid.density * state.velocity(run.name) ** 2
    level = heads[0] + part * (heads[1] - heads[0]) - spots[high][2]
    return liquid.air + liquid.pressure(level) - moves, f"{run.name} at its highest"


def _least(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The least pressure at any point water flows through, over that of a vacuum."""
    liquid, rows = plumbing.liquid, []
    for one in worked:
        for state in one.states:
            wet = [run for run in plumbing.work.run if abs(state.flow(run.name)) > STILL]
            ends = {end for run in wet for end in (run.start, run.end)}
            rows += [(absolute(state, name), name, state, one) for name in ends]
            rows += [(*high, state, one) for run in wet if (high := _at_its_highest(state, run)) is not None]
    known = [row for row in rows if not math.isnan(row[0])]
    if not known:
        return
    value, name, state, one = min(known, key=lambda row: row[0])
    limit = liquid.vapour + shop_value("least_pressure")
    parts = f"{n(liquid.air / 1e3, 1)} kPa of air, {n((value - liquid.air) / 1e3, 1)} kPa to it in the pipe"
    step = Step("absolute pressure", "air + pressure in the pipe - ρ v² / 2", parts, f"{n(value / 1e3, 1)} kPa")
    yield Finding(
        "pressure-least", "Does the water nowhere come near to boiling in the pipes?", f"{name}: {at(one, state)}",
        value / 1e3, limit / 1e3, "kPa", "at_least", verdict(value / 1e3, limit / 1e3, "at_least"),
        shop_rule("least_pressure"), working=(step,), assumed=assumed,
    )  # fmt: skip
