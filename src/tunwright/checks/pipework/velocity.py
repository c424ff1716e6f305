"""Velocity: is the water slow enough before the pump, and behind it?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Step, shop_rule, verdict
from tunwright.checks.pipework.more_flow import widened
from tunwright.checks.pipework.worked import Worked, at
from tunwright.handbook.pipe_network import NoFlow
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing


def velocity_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The fastest water before the pump and behind it.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    for suction in (True, False):
        yield from _velocity(plumbing, worked, assumed, suction=suction)


def _velocity(
    plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...], *, suction: bool
) -> Iterator[Finding]:
    """The fastest water on one side of the pump; where it stands still all runs are like those behind it."""
    before = _before_pump(plumbing)
    found = [
        (abs(state.velocity(run)), run, state, one)
        for one in worked
        for state in one.states
        for run in plumbing.runs
        if (run in before and state.pump is not None) == suction
    ]
    if not found:
        return
    value, run, state, one = max(found, key=lambda row: row[0])
    shop = "velocity_suction" if suction else "velocity_delivery"
    side = "before the pump" if suction else "behind the pump, or without it,"
    step = Step("velocity", "Q / A", f"{run}, {n(LITRES_A_MINUTE * abs(state.flow(run)))} L/min", f"{n(value, 2)} m/s")
    judged = verdict(value, shop_value(shop), "at_most")
    yield Finding(
        shop.replace("_", "-"),
        f"Is the water {side} slow enough?",
        f"{run}: {at(one, state)}",
        value,
        shop_value(shop),
        "m/s",
        "at_most",
        judged,
        shop_rule(shop),
        working=(step,),
        assumed=assumed,
        remedy=_wider(state, run, shop_value(shop)) if judged == "fails" else None,
    )


def _wider(state: DutyState, run: str, limit: float) -> Remedy | None:
    """The size of a run in which the water is slow enough, None where no size of its kind is."""
    for name, wide in widened(state.plumbing, state.plumbing.runs[run]):
        try:
            speed = abs(DutyState(wide, state.duty, state.fill, state).velocity(run))
        except NoFlow:
            continue
        if speed <= limit:
            return Remedy(f"make {run} {name} with its valves and fittings: {n(speed, 2)} m/s; or let less flow")
    return None


def _before_pump(plumbing: Plumbing) -> set[str]:
    """Runs on the suction side: those from the pump's inlet to tank, hydrant or open water, the pump not passed."""
    pump, work = plumbing.work.pump, plumbing.work
    if pump is None:
        return set()
    ends = {one.name for one in work.point if one.outlet is not None or one.mouth or one.open_water or one.hydrant}
    found: set[str] = set()
    waiting, seen = [pump.start], {pump.start, pump.end}
    while waiting:
        here = waiting.pop()
        for run in (one for one in work.run if here in (one.start, one.end)):
            found.add(run.name)
            fresh = {run.start, run.end} - seen
            seen |= fresh
            waiting += fresh - ends
    return found
