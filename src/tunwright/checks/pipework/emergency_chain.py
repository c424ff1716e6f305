"""An emergency chain on the network of a duty: the pipework after each step."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.pipework import AtRest, Duty
from tunwright.build.units import Quantity
from tunwright.checks.pipework.changed_duty import with_shut
from tunwright.checks.pipework.passing import passages, reached
from tunwright.checks.pipework.worked import STILL, Worked
from tunwright.handbook.pipe_network import NoFlow
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing

ENGINE = "engine"
_LEAST_LOSS = 0.5  # head a pump at rest loses at the end of its curve at least [m]


@dataclass(frozen=True)
class Stage:
    """The pipework after a step.

    step: what was stopped or shut; empty before the first
    flow: water that comes in or leaves, whichever is more [m3/s]; NaN where no flow was found
    pressure: greatest there is where water presses [Pa]; NaN where no flow was found
    where: the point it stands at
    runs: where water comes in or leaves, in words
    turns: whether the pump turns
    pumps: whether water goes through it
    state: the solved network; None where nothing is left to solve, or no flow was found
    """

    step: str
    flow: float
    pressure: float
    where: str
    runs: str
    turns: bool
    pumps: bool
    state: DutyState | None = field(default=None, compare=False)


@dataclass(frozen=True, eq=False)
class Chain:
    """A duty as the chain is carried out.

    worked: the duty
    begin: the filling it begins at
    stages: before the first step, then after each
    """

    worked: Worked
    begin: DutyState
    stages: tuple[Stage, ...]

    @property
    def left(self) -> float:
        """Flow after the last step [m3/s], NaN where it was not found."""
        return self.stages[-1].flow

    @property
    def runs(self) -> str:
        """Where water still comes in or leaves after the last step."""
        return self.stages[-1].runs


def resting(plumbing: Plumbing) -> Plumbing:
    """The pipework with a pump that lets water pass at rest: as stated, else as its curve falls with the flow.

    By the affinity laws H = n2 H0 - k Q2; at rest k Q2 is left, which the water loses. One that shuts tight is safer.

    plumbing: the pipework
    """
    pump, curve = plumbing.work.pump, plumbing.curve
    if pump is None or curve is None or pump.rest is not None:
        return plumbing
    last = curve.runout()
    loses = plumbing.liquid.pressure(max(curve.dead_head() - curve.head_at(last), _LEAST_LOSS))
    rest = AtRest(loses=Quantity(loses, f"{loses:.0f} Pa", "pressure"), flow=Quantity(last, f"{last:.6f} m3/s", "flow"))
    work = plumbing.work.model_copy(update={"pump": pump.model_copy(update={"rest": rest})})
    return Plumbing(plumbing.truck, work)


def chains(plumbing: Plumbing, worked: Sequence[Worked], steps: Sequence[str]) -> list[Chain]:
    """The chain carried out in every duty, from its first and from its last filling.

    plumbing: the pipework
    worked: the duties that were worked out
    steps: what is shut, one after the other
    """
    return [_carried_out(plumbing, one, _resting(plumbing, one, state), steps) for one, state in _begins(worked)]


def worst(found: Sequence[Chain]) -> Chain:
    """The duty with most water after the last step, then with most on the way there; one that was not found is worst.

    found: the chain in every duty, one at least
    """
    return max(found, key=lambda one: (math.isnan(one.left), one.left, *(stage.flow for stage in one.stages[::-1])))


def left(plumbing: Plumbing, worked: Sequence[Worked], steps: Sequence[str]) -> tuple[float, float]:
    """Flow after the last step: the most of any duty, and of all of them together [m3/s]; infinite where not found.

    plumbing: the pipework
    worked: the duties that were worked out
    steps: what is shut
    """
    shut = [(_all_shut(one.duty, steps), state) for one, state in _begins(worked)]
    flows = [_stage(plumbing, duty, state, "", state).flow for duty, state in shut]
    known = [math.inf if math.isnan(flow) else flow for flow in flows]
    return max(known, default=0.0), sum(known)


def worked_by(plumbing: Plumbing, name: str) -> str:
    """What works a thing of the chain: air, electric, itself or hand; the engine has its key.

    plumbing: the pipework
    name: a valve, or engine
    """
    valves = {one.name: one.works for one in plumbing.work.valve}
    return "key" if name == ENGINE else valves.get(name, "hand")


def _begins(worked: Sequence[Worked]) -> Iterator[tuple[Worked, DutyState]]:
    for one in worked:
        ends = dict.fromkeys((0, len(one.states) - 1)) if one.states else {}
        yield from ((one, one.states[i]) for i in ends)


def _resting(plumbing: Plumbing, one: Worked, state: DutyState) -> DutyState:
    """A state of a duty in this pipework; as it was where no flow is found in it."""
    try:
        return DutyState(plumbing, one.duty, state.fill, state)
    except NoFlow:
        return state


def _without(duty: Duty, name: str) -> Duty:
    """A duty with the engine stopped or a valve shut; the same one where that changes nothing."""
    if name != ENGINE:
        return with_shut(duty, name)
    return duty if duty.engine is None else duty.model_copy(update={"engine": None})


def _all_shut(duty: Duty, steps: Sequence[str]) -> Duty:
    for name in steps:
        duty = _without(duty, name)
    return duty


def _carried_out(plumbing: Plumbing, one: Worked, begin: DutyState, steps: Sequence[str]) -> Chain:
    duty, stages = one.duty, [_seen(plumbing, one.duty, begin, "", begin)]
    for name in steps:
        then, last = _without(duty, name), stages[-1]
        if then is duty:
            stages.append(replace(last, step=name))
        else:
            stages.append(_stage(plumbing, then, last.state or begin, name, begin))
        duty = then
    return Chain(one, begin, tuple(stages))


def _stage(plumbing: Plumbing, duty: Duty, near: DutyState, step: str, begin: DutyState) -> Stage:
    try:
        return _seen(plumbing, duty, DutyState(plumbing, duty, begin.fill, near), step, begin)
    except NoFlow:
        given = plumbing.given(begin.fill)
        driven = any(end in given for link in plumbing.links(duty, begin.fill) for end in (link.start, link.end))
        unknown = math.nan if driven else 0.0  # where nothing leads to a given pressure, nothing flows
        return Stage(step, unknown, unknown, "", "", turns=plumbing.speed(duty) > 0.0, pumps=False)


def _seen(plumbing: Plumbing, duty: Duty, state: DutyState, step: str, begin: DutyState) -> Stage:
    """A solved step: what comes in and leaves, and where the greatest pressure stands."""
    comes, goes = _comes(state), _goes(state)
    flow = max(sum(q for _, q in comes), sum(q for _, q in goes))
    words = [f"{_litres(q)} in by {name}" for name, q in comes] + [f"{_litres(q)} out by {name}" for name, q in goes]
    pressure, where = _greatest(plumbing, duty, state, begin)
    pump = plumbing.work.pump
    pumps = pump is not None and abs(state.flow(pump.name)) > STILL
    turns = plumbing.speed(duty) > 0.0
    return Stage(step, flow, pressure, where, ", ".join(words), turns, pumps, state)


def _litres(flow: float) -> str:
    return f"{LITRES_A_MINUTE * flow:.0f} L/min"


def _comes(state: DutyState) -> list[tuple[str, float]]:
    """Where water comes into the pipework that is not the tank's: hydrants and open water."""
    points = state.plumbing.work.point
    found = [(one.name, state.drawn(one.name)) for one in points if one.hydrant is not None]
    found += [(one.name, state.leaves(one.name)) for one in points if one.open_water]
    return [(name, flow) for name, flow in found if flow > STILL]


def _goes(state: DutyState) -> list[tuple[str, float]]:
    """Where water leaves: sprays and open ends, and back into open water."""
    back = [(one.name, -state.leaves(one.name)) for one in state.plumbing.work.point if one.open_water]
    return [(name, flow) for name, flow in [*state.to_sprays.items(), *back] if flow > STILL]


def _greatest(plumbing: Plumbing, duty: Duty, state: DutyState, begin: DutyState) -> tuple[float, str]:
    """The greatest pressure at a point that tank, open water or a hydrant in use press on, and which."""
    used = {one.name for one in plumbing.work.point if begin.drawn(one.name) > STILL}
    sources = used | {name for name in plumbing.given(state.fill) if name in plumbing.points}
    pressed = reached(passages(plumbing, duty, past_pump=False), sources)
    known = [(state.pressure(name), name) for name in pressed if not math.isnan(state.pressure(name))]
    return max(known, default=(0.0, ""))
