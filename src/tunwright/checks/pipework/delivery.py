"""What the pipework delivers: flow and time of each duty, pressure at its outlets."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.factors import BAR, LITRES_A_MINUTE, TURNS_A_MINUTE
from tunwright.build.fields import slug
from tunwright.build.pipework import Duty
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import TINY, Finding, Rule, Step, verdict
from tunwright.checks.pipework.more_flow import more
from tunwright.checks.pipework.still import why_still
from tunwright.checks.pipework.velocity import velocity_findings
from tunwright.checks.pipework.worked import STILL, WANTED, Worked, at
from tunwright.truck.pipework.duties import DutyState, over_time
from tunwright.truck.pipework.plumbing import Plumbing

_NOTHING = 0.01  # less is none [L/min]
_FRICTION = ("(f L / D + K) v² / 2g", "Darcy-Weisbach, Colebrook, fittings by Crane TP-410")
_HOSE = ("R L Q² + K v² / 2g", "coefficient of the table of hoses, fittings by Crane TP-410")
WORKS = Rule("least pressure it works with", mark="maker's")


def delivery_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings on flow, time, pressure and velocity.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    for one in worked:
        yield from _flow(plumbing, one, assumed)
        yield from _time(plumbing, one, assumed)
    yield from _pressures(plumbing, worked, assumed)
    yield from velocity_findings(plumbing, worked, assumed)


def _flow(plumbing: Plumbing, one: Worked, assumed: tuple[str, ...]) -> Iterator[Finding]:
    state = min(one.states, key=one.delivered)
    value = LITRES_A_MINUTE * one.delivered(state)
    limit = 1.0 if one.duty.wants is None else LITRES_A_MINUTE * float(one.duty.wants)
    flows = value > _NOTHING
    if one.duty.wants is None and flows:
        return
    question = f"Does enough water flow when it is asked to {one.duty.name}?"
    judged = verdict(value, limit, "at_least") if flows else "fails"
    remedy = None
    if judged == "fails" and flows:
        remedy = more(plumbing, one, lambda work, duty: _brings(work, one, duty) >= limit / LITRES_A_MINUTE)
    yield Finding(
        f"duty-{one.slug}",
        question,
        f"{100 * state.fill:.0f} % full",
        value,
        limit,
        "L/min",
        "at_least",
        judged,
        WANTED,
        note="" if flows else why_still(one),
        remedy=remedy,
        working=_working(state),
        assumed=assumed,
    )


def _brings(plumbing: Plumbing, one: Worked, duty: Duty) -> float:
    """The least a duty brings over its fillings, with other pipes or another engine speed [m3/s]."""
    return min(one.delivered(DutyState(plumbing, duty, state.fill, state)) for state in one.states)


def _turning(state: DutyState) -> list[Step]:
    """Where the pump works, nothing where it stands still."""
    point = state.pump
    if point is None:
        return []
    rpm = f"{n(TURNS_A_MINUTE * point.speed)} rpm"
    gives = f"{n(LITRES_A_MINUTE * point.flow)} L/min, {n(point.head, 1)} m"
    return [Step("pump", "curve at its speed, by the affinity laws", rpm, gives)]


def _leaving(state: DutyState, name: str) -> Step:
    """What leaves by a spray."""
    before = f"{n(state.pressure(state.plumbing.sprays[name].on) / BAR, 2)} bar before it"
    return Step(name, "Q = k √p", before, f"{n(LITRES_A_MINUTE * state.to_sprays[name])} L/min")


def _working(state: DutyState) -> tuple[Step, ...]:
    """Flow and pressure along the way, point by point."""
    work = state.plumbing.work
    steps = _turning(state)
    for run in work.run:
        flow = state.flow(run.name)
        if abs(flow) > STILL:
            loses, source = _FRICTION if state.plumbing.size(run).resistance is None else _HOSE
            size = f"{run.size}, {n(abs(state.velocity(run.name)), 2)} m/s"
            bar = state.pressure(state.behind(run.name)) / BAR
            gives = f"{n(LITRES_A_MINUTE * abs(flow))} L/min, {n(bar, 2)} bar behind it"
            steps.append(Step(run.name, loses, size, gives, source))
    steps += [_leaving(state, name) for name in state.to_sprays]
    return tuple(steps)


def _time(plumbing: Plumbing, one: Worked, assumed: tuple[str, ...]) -> Iterator[Finding]:
    if one.duty.within is None or one.over is None or math.isnan(one.over.time):
        return
    value, limit = one.over.time / 60.0, float(one.duty.within) / 60.0
    word = "filled" if one.inward else "emptied"
    volume, parts = f"{n(1000 * one.over.volume)} L", one.over.parts
    limit_s, remedy = float(one.duty.within), None
    if not value <= limit * (1.0 + TINY):
        remedy = more(plumbing, one, lambda work, duty: over_time(work, duty).time <= limit_s)
    each = tuple(Step(name, "of its own", "", f"{n(t / 60.0, 1)} min") for name, t in parts.items() if len(parts) > 1)
    yield Finding(
        f"duty-time-{one.slug}",
        f"Is the tank {word} in time when it is asked to {one.duty.name}?",
        "" if math.isfinite(value) else "nothing flows at some filling",
        value if math.isfinite(value) else None,
        limit,
        "min",
        "at_most",
        verdict(value, limit, "at_most") if math.isfinite(value) else "fails",
        WANTED,
        remedy=remedy,
        working=(Step("time", "∫ dV / Q, the slowest", volume, f"{n(value, 1)} min", "16 Gauss points"), *each),
        assumed=assumed,
    )


def _pressures(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The least pressure before each outlet that has one, in the duties it works in."""
    for spray in plumbing.work.spray:
        states = [(state, one) for one in worked for state in one.states if spray.name in state.to_sprays]
        if spray.least is None or not states:
            continue
        state, one = min(states, key=lambda pair: pair[0].pressure(spray.on))
        value, limit = state.pressure(spray.on) / BAR, float(spray.least) / BAR
        yield Finding(
            f"pressure-{slug(spray.name)}",
            f"Is there pressure enough at {spray.name}?",
            at(one, state),
            value,
            limit,
            "bar",
            "at_least",
            verdict(value, limit, "at_least"),
            WORKS,
            working=(*_turning(state), _leaving(state, spray.name)),
            assumed=assumed,
        )
