"""Hydrants: drawn no harder than they were read at, and pressure enough left in the main."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.factors import BAR, LITRES_A_MINUTE
from tunwright.build.fields import slug
from tunwright.build.pipework import Duty, Hydrant, Point
from tunwright.build.pipework.duties import Throttled
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, shop_rule, verdict
from tunwright.checks.pipework.changed_duty import with_all_wide, with_part_open, with_shut
from tunwright.checks.pipework.worked import STILL, Row, Worked, at
from tunwright.handbook.pipe_network import NoFlow
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState, over_time
from tunwright.truck.pipework.hydrants import flow_leaving, pressure_by_power, pressure_left
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

READ = Rule("flow the hydrant was read at", mark="measured")
PARABOLA = "static - (static - residual) (Q / Q read)²"
NFPA = "NFPA 291: the flow goes with the drop to the power 0.54; read in copies"
_HALVINGS = 24


def hydrant_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about every hydrant that is drawn from.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    for point in plumbing.work.point:
        if point.hydrant is None:
            continue
        rows = [(state.drawn(point.name), state, one) for one in worked for state in one.states]
        row = max(rows, key=lambda each: each[0], default=None)
        if row is not None and row[0] > STILL:
            yield _read(plumbing, point, point.hydrant, row, assumed)
            yield _left(plumbing, point, point.hydrant, row, assumed)


def _read(plumbing: Plumbing, point: Point, hydrant: Hydrant, row: Row, assumed: tuple[str, ...]) -> Finding:
    """The most that is drawn, against the flow of the reading; beyond that nothing is known."""
    flow, state, one = row
    value, limit = LITRES_A_MINUTE * flow, LITRES_A_MINUTE * float(hydrant.flow)
    judged = verdict(value, limit, "at_most")
    drop = 1.0 - float(hydrant.residual) / float(hydrant.static)
    wanted = "NFPA 291 wants 10 % at least, older editions 25 %; read in copies"
    reading = f"{hydrant.static.text} at rest, {hydrant.residual.text} at {hydrant.flow.text}"
    note = ""
    if judged == "fails":
        throttled = _throttled(plumbing, point, one, float(hydrant.flow))
        note = (
            f"Beyond its reading the hydrant is reckoned on, not known: read it again at {n(value)} L/min or more, or "
            f"throttle to {_to(float(hydrant.flow), throttled)}."
        )
    return Finding(
        f"hydrant-reading-{slug(point.name)}", f"Is what is drawn at {point.name} covered by its reading?",
        at(one, state), value, limit, "L/min", "at_most", "open" if judged == "fails" else judged, READ, note=note,
        working=(Step("drop of the reading", "1 - residual / static", reading, f"{n(100 * drop)} %", wanted),),
        assumed=assumed,
    )  # fmt: skip


def _left(plumbing: Plumbing, point: Point, hydrant: Hydrant, row: Row, assumed: tuple[str, ...]) -> Finding:
    """Pressure that stays in the main at the most that is drawn."""
    flow, state, one = row
    value, limit = pressure_left(hydrant, flow), shop_value("main_least")
    judged = verdict(value / BAR, limit / BAR, "at_least")
    notes = ["This is beyond the flow the hydrant was read at."] if flow > float(hydrant.flow) * (1.0 + 1e-9) else []
    wide = _drawn(plumbing, point, with_all_wide(one.duty), state.fill)
    if judged == "holds" and pressure_left(hydrant, wide) < limit:
        judged = "close"  # a valve that somebody opens too far
        left = n(pressure_left(hydrant, wide) / BAR, 2)
        notes.append(f"With its valves left wide open only {left} bar would stay: mark how far they are opened.")
    remedy = _gentler(plumbing, point, hydrant, one, limit) if judged == "fails" else None
    return Finding(
        f"main-{slug(point.name)}", f"Does pressure enough stay in the main at {point.name}?", at(one, state),
        value / BAR, limit / BAR, "bar", "at_least", judged, shop_rule("main_least"), assumed=assumed,
        note=" ".join(notes), remedy=remedy,
        working=tuple(_working(plumbing, point, hydrant, row)),
    )  # fmt: skip


def _working(plumbing: Plumbing, point: Point, hydrant: Hydrant, row: Row) -> Iterator[Step]:
    flow, state, one = row
    drawn = f"{n(LITRES_A_MINUTE * flow)} L/min, read at {hydrant.flow.text}"
    yield Step("pressure left", PARABOLA, drawn, f"{n(pressure_left(hydrant, flow) / BAR, 2)} bar", "parabola, derived")
    other = f"{n(pressure_by_power(hydrant, flow) / BAR, 2)} bar"
    yield Step("a second way", "static - drop (Q / Q read)^1.85", drawn, other, NFPA)
    wide = with_all_wide(one.duty)
    if wide is not one.duty:
        most = _drawn(plumbing, point, wide, state.fill)
        left = n(pressure_left(hydrant, most) / BAR, 2)
        yield Step("valves left wide open", PARABOLA, f"{n(LITRES_A_MINUTE * most)} L/min", f"{left} bar")
    yield Step("not in it", "what others draw from the main meanwhile", "", "", "ask the water authority")


def _drawn(plumbing: Plumbing, point: Point, duty: Duty, fill: float) -> float:
    try:
        return DutyState(plumbing, duty, fill).drawn(point.name)
    except NoFlow:
        return 0.0


# remedies, each tried


def _gentler(plumbing: Plumbing, point: Point, hydrant: Hydrant, one: Worked, limit: float) -> Remedy:
    """The flow that leaves pressure enough, and the valve that is throttled for it."""
    most = flow_leaving(hydrant, limit)
    if most <= 0.0:
        return Remedy(f"fill elsewhere: {hydrant.static.text} at rest is less than has to stay in the main")
    found = _throttled(plumbing, point, one, most)
    words, breaks = _to(most, found), tuple[str, ...]()
    if found is not None and one.duty.within is not None:
        time = over_time(plumbing, found[0]).time
        words += f"; it then takes {n(time / 60.0, 1)} min"
        breaks = (f"duty-time-{one.slug}",) if time > float(one.duty.within) else ()
    return Remedy(f"throttle to {words}", breaks)


def _to(flow: float, found: tuple[Duty, Throttled] | None) -> str:
    how = "" if found is None else f" ({found[1].valve} {n(100 * found[1].open)} % open)"
    return f"{n(LITRES_A_MINUTE * flow)} L/min{how}"


def _throttled(plumbing: Plumbing, point: Point, one: Worked, most: float) -> tuple[Duty, Throttled] | None:
    """The duty with the first valve behind a hydrant throttled until no more than a flow is drawn, None without one."""
    fills = [state.fill for state in one.states]
    passed = [run for run in plumbing.runs if max(abs(state.flow(run)) for state in one.states) > 0.99 * most]
    valves = [each.name for each in plumbing.work.valve if each.on in passed and each.kind not in ONE_WAY]
    for name in sorted(valves, key=lambda each: with_shut(one.duty, each) is one.duty):
        low, high = 0.0, 1.0
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            drawn = _drawn(plumbing, point, with_part_open(one.duty, name, middle), fills[0])
            low, high = (middle, high) if drawn <= most else (low, middle)
        part = math.floor(100.0 * low) / 100.0
        duty = with_part_open(one.duty, name, part)
        if part > 0.0 and max(_drawn(plumbing, point, duty, fill) for fill in fills) <= most * (1.0 + 1e-9):
            return duty, duty.throttled[-1]
    return None
