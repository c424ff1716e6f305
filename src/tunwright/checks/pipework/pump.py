"""The pump: within its curve, with water enough before it, turned by a drive that bears it, and able to prime."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from tunwright.build.factors import LITRES_A_MINUTE, TURNS_A_MINUTE
from tunwright.build.pipework import Pump
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Sense, Step, not_known, shop_rule, verdict
from tunwright.checks.pipework.all_shut import all_shut
from tunwright.checks.pipework.worked import STILL, Row, Worked, at
from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.pipe_network import NoFlow
from tunwright.handbook.water import HEAT_CAPACITY
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState, OverTime, PumpPoint
from tunwright.truck.pipework.plumbing import Plumbing

CURVE = Rule("the pump's curve", mark="maker's")
PTO = Rule("what the drive may give", mark="maker's")
LIFT = Rule("greatest lift at which the pump primes", mark="maker's")
AFFINITY = "affinity laws: Q with the speed, H with its square, P with its cube"
_BEARS = {"torque": "Does the drive bear the torque?", "power": "Has the drive power enough?"}


def pump_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about the pump.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    pump = plumbing.work.pump
    turning = [one for one in worked if one.states and one.states[0].pump is not None]
    if pump is None or not turning:
        return
    yield _within(plumbing, turning, assumed)
    yield from _least_flow(plumbing, pump, turning, assumed)
    yield from _shut(plumbing, pump, turning, assumed)
    yield _npsh(plumbing, turning, assumed)
    yield from _speeds(pump, turning, assumed)
    yield from _power(plumbing, pump, turning, assumed)
    for one in turning:
        if one.duty.kind == "draw" or _draws_open(plumbing, one):
            yield _prime(plumbing, pump, one, assumed)


def _worst(worked: Sequence[Worked], value: Callable[[PumpPoint], float], *, least: bool = False) -> Row | None:
    """The duty and filling with the greatest, or least, value that is known."""
    rows = [(value(state.pump), state, one) for one in worked for state in one.states if state.pump is not None]
    known = [row for row in rows if not math.isnan(row[0])]
    return (min if least else max)(known, key=lambda row: row[0]) if known else None


def _judged(
    key: str, question: str, row: Row, limit: float, unit: str, sense: Sense, rule: Rule, steps: tuple[Step, ...],
    assumed: tuple[str, ...], remedy: Remedy | None = None,
) -> Finding:  # fmt: skip
    value, state, one = row
    judged = verdict(value, limit, sense)
    return Finding(
        key, question, at(one, state), value, limit, unit, sense, judged, rule,
        working=steps, assumed=assumed, remedy=remedy if judged == "fails" else None,
    )  # fmt: skip


def _within(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Finding:
    """How much of its curve the pump uses; beyond the end it runs out."""
    row = _worst(worked, lambda point: point.flow / point.runout)
    if row is None:
        return not_known("pump-curve", "Does the pump work within its curve?", CURVE, "share", ("pipework.pump",))
    point, question = row[1].pump, "Does the pump work within its curve?"
    steps: tuple[Step, ...] = ()
    remedy = None
    if point is not None:
        end, rpm = f"{n(LITRES_A_MINUTE * point.runout)} L/min", n(TURNS_A_MINUTE * point.speed)
        words = f"{n(LITRES_A_MINUTE * point.flow)} of {end}"
        steps = (Step("flow over the last of its curve", AFFINITY, words, f"{n(100 * row[0], 1)} %"),)
        if plumbing.curve is not None:
            shut = plumbing.curve.dead_head(point.speed)
            left = f"{n(shut - point.head, 1)} m more than at this flow"
            steps += (Step("head with all shut", "H0 with the square of the speed", left, f"{n(shut, 1)} m"),)
        remedy = Remedy(f"throttle to {end} at {rpm} rpm, where the curve ends, or take a larger pump")
    return _judged("pump-curve", question, row, 1.0, "share", "at_most", CURVE, steps, assumed, remedy)


def _least_flow(
    plumbing: Plumbing, pump: Pump, worked: Sequence[Worked], assumed: tuple[str, ...]
) -> Iterator[Finding]:
    """The least flow through the pump over that of its best efficiency: with less it heats its own water."""
    curve = plumbing.curve
    if curve is None or curve.efficiency is None:
        return
    best = curve.best
    row = _worst(worked, lambda point: point.flow / best(point.speed), least=True)
    if row is None or row[1].pump is None:
        return
    point, limit = row[1].pump, shop_value("pump_least_flow")
    at_best, rise = best(point.speed), _warming(plumbing, point)
    values = f"{n(LITRES_A_MINUTE * point.flow)} of {n(LITRES_A_MINUTE * at_best)} L/min"
    steps = (Step("flow over that of best efficiency", AFFINITY, values, f"{n(100 * row[0], 1)} %"), *rise)
    past, slower = f"{n(LITRES_A_MINUTE * limit * at_best)} L/min", ", or run it slower" if point.flow > STILL else ""
    remedy = Remedy(f"let {past} or more go through the pump: open a way back to the tank{slower}")
    dry = math.isnan(row[1].pressure(pump.start))
    found = _judged(
        "pump-least-flow", "Does enough water go through the pump, so that it stays cool?", row, limit, "share",
        "at_least", shop_rule("pump_least_flow"), steps, assumed, remedy,
    )  # fmt: skip
    yield replace(found, note="The pump runs dry: no water stands before its inlet.") if dry else found


def _shut(plumbing: Plumbing, pump: Pump, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Least flow through the pump in any duty once all it feeds is shut, relief valves as they are."""
    rows = []
    for one in worked:
        try:
            bled = all_shut(plumbing, one.duty).flow.get(pump.name, 0.0)
            rows.append((LITRES_A_MINUTE * max(0.0, bled), one.states[0], one))
        except NoFlow:
            continue
    if not rows:
        return
    row, limit = min(rows, key=lambda each: each[0]), LITRES_A_MINUTE * shop_value("pump_bleed")
    remedy = Remedy(
        f"lead {n(2 * limit)} L/min back to the tank at all times: a small pipe from the pump's outlet, given as a "
        'relief valve that opens at "0.1 bar"; until then never leave the drive in with all valves shut'
    )
    yield _judged(
        "pump-shut", "Does water go through the pump while all it feeds is shut?", row, limit, "L/min", "at_least",
        shop_rule("pump_bleed"), (), assumed, remedy,
    )  # fmt: skip


def _warming(plumbing: Plumbing, point: PumpPoint) -> tuple[Step, ...]:
    """How much warmer the water leaves the pump than it came: what of its power is not work on the water."""
    if not (point.flow > STILL and math.isfinite(point.power)):
        return ()
    useful = plumbing.liquid.density * GRAVITY * point.flow * point.head
    rise = (point.power - useful) / (plumbing.liquid.density * HEAT_CAPACITY * point.flow)
    values = f"({n(point.power / 1e3, 1)} - {n(useful / 1e3, 1)}) kW in {n(LITRES_A_MINUTE * point.flow)} L/min"
    return (Step("water grows warmer by", "(P - ρ g Q H) / (ρ c Q)", values, f"{n(rise, 2)} K", "derived"),)


def _dirty(plumbing: Plumbing, worked: Sequence[Worked]) -> list[Worked]:
    """The duties at their first and last filling with strainers and filters about to be cleaned."""
    dirty, found = Plumbing(plumbing.truck, plumbing.work, dirty=True), []
    for one in worked:
        states = tuple(DutyState(dirty, one.duty, state.fill, state) for state in (one.states[0], one.states[-1]))
        found.append(Worked(one.duty, OverTime(states, math.nan, 0.0, states[-1].fill)))
    return found


def _npsh(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Finding:
    """What is left of the suction head over what the pump needs, strainers dirty where that is stated."""
    if any(one.dirty is not None for one in plumbing.work.device):
        worked = [*worked, *_dirty(plumbing, worked)]
    question = "Is there suction head enough, so that the pump does not cavitate?"
    rule = shop_rule("npsh_margin")
    row = _worst(worked, lambda point: point.has - point.needs, least=True)
    if row is None:
        tells = plumbing.curve is not None and plumbing.curve.npsh is not None
        missing = () if tells else ("pipework.pump.curve[1].npsh",)
        return not_known("npsh", question, rule, "m", missing, sense="at_least", limit=shop_value("npsh_margin"))
    point, liquid = row[1].pump, row[1].plumbing.liquid
    steps: tuple[Step, ...] = ()
    if point is not None:
        parts = f"({n(liquid.air / 1e3, 1)} - {n(liquid.vapour / 1e3, 1)}) kPa / ρg + pressure at the inlet"
        there = Step("there is", "(p air - p vapour) / ρg + p / ρg", parts, f"{n(point.has, 2)} m")
        steps = (there, Step("it needs", "curve, with the square of the speed", "", f"{n(point.needs, 2)} m"))
    limit = shop_value("npsh_margin")
    found = _judged("npsh", question, row, limit, "m", "at_least", rule, steps, assumed)
    return replace(found, state=f"{found.state}, strainers dirty") if row[1].plumbing.dirty else found


def _speeds(pump: Pump, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Engine speeds the duties ask for, against those it is run at."""
    low, high = float(pump.drive.least), float(pump.drive.most)
    out = [one for one in worked if one.duty.engine is not None and not low <= float(one.duty.engine) <= high]
    for one in out:
        speed = float(one.duty.engine or 0.0)
        sense: Sense = "at_most" if speed > high else "at_least"
        question = f"Is the engine run at a speed it may have when it is asked to {one.duty.name}?"
        row = (TURNS_A_MINUTE * speed, one.states[0], one)
        limit = TURNS_A_MINUTE * (high if speed > high else low)
        yield _judged(
            f"engine-speed-{one.slug}", question, row, limit, "rpm", sense,
             Rule("speeds the drive is run at", mark="the build's"), (), assumed,
        )  # fmt: skip


def _power(plumbing: Plumbing, pump: Pump, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Torque at the power take-off's own shaft, and power."""
    drive = pump.drive
    asked = (
        ("torque", drive.torque, lambda point: point.drive_torque, "N m", 1.0),
        ("power", drive.power, lambda point: point.power, "kW", 1e3),
    )
    for name, allowed, value, unit, factor in asked:
        key, question = f"pump-{name}", _BEARS[name]
        row = _worst(worked, value)
        if row is None:
            if any(point.efficiency is None for point in pump.curve):
                yield not_known(key, question, PTO, unit, ("pipework.pump.curve[1].efficiency",))
        elif allowed is None:
            if name == "torque" and (drive.kind == "pto" or drive.power is None):
                yield not_known(key, question, PTO, unit, (f"pipework.pump.drive.{name}",))
        else:
            point = row[1].pump
            steps: tuple[Step, ...] = ()
            if point is not None:
                eta = math.nan if plumbing.curve is None else plumbing.curve.efficiency_at(point.flow, point.speed)
                watts = f"ρ g {n(LITRES_A_MINUTE * point.flow)} L/min {n(point.head, 1)} m / {n(100 * eta)} %"
                steps = (Step("power at the pump's shaft", "ρ g Q H / η", watts, f"{n(point.power / 1e3, 1)} kW"),)
            scaled = (row[0] / factor, row[1], row[2])
            yield _judged(key, question, scaled, float(allowed) / factor, unit, "at_most", PTO, steps, assumed)


def _draws_open(plumbing: Plumbing, one: Worked) -> bool:
    """Whether a duty draws from open water."""
    waters = [point.name for point in plumbing.work.point if point.open_water]
    return any(state.leaves(name) > STILL for state in one.states for name in waters)


def _prime(plumbing: Plumbing, pump: Pump, one: Worked, assumed: tuple[str, ...]) -> Finding:
    """Whether the pump can draw the air out of its suction: from the water up to its inlet."""
    key, question = f"prime-{one.slug}", f"Does the pump prime when it is asked to {one.duty.name}?"
    state, waters = one.states[0], [point for point in plumbing.work.point if point.open_water]
    drawn = [point for point in waters if state.leaves(point.name) > STILL] or waters
    lift = plumbing.height(pump.start) - min((float(point.height or 0.0) for point in drawn), default=0.0)
    if lift <= 0.0:
        return Finding(key, question, at(one, state), lift, 0.0, "m", "at_most", "holds", LIFT, assumed=assumed)
    if pump.primes == "flooded":
        note = f"A flooded pump draws no air out; its inlet stands {n(lift, 2)} m above the water."
        state_words = at(one, state)
        return Finding(key, question, state_words, lift, 0.0, "m", "at_most", "fails", LIFT, note=note, assumed=assumed)
    if pump.lift is None:
        return not_known(key, question, LIFT, "m", ("pipework.pump.lift",))
    air = plumbing.liquid.head(plumbing.liquid.air) / 10.33
    limit = float(pump.lift) * min(1.0, air)
    steps = (
        Step("lift", "pump inlet over the water", "", f"{n(lift, 2)} m"),
        Step("lift it primes at, this high above the sea", "lift × air pressure / 10.33 m", "", f"{n(limit, 2)} m"),
    )
    over = f"{n(lift - limit, 2)} m"
    remedy = Remedy(f"draw from water {over} higher, or set the pump {over} lower: it primes up to {n(limit, 2)} m")
    return _judged(key, question, (lift, state, one), limit, "m", "at_most", LIFT, steps, assumed, remedy)
