"""Pressures the pipework has to bear: everything shut, the hammer of a valve that closes fast, and too little of it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.pipework import Duty, Valve
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, verdict
from tunwright.checks.pipework.worked import BAR, LITRES_A_MINUTE, Worked, at
from tunwright.handbook.pipe_network import NoFlow, flowing
from tunwright.handbook.water_hammer import joukowsky, reflection_time, slow_closing, wave_speed
from tunwright.tables.read import shop_value, shop_values
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

BULK, STEEL, SOFT = 2.2e9, 210e9, 0.8e9
"""Bulk modulus of cold water, Young's moduli of steel and of plastic and rubber [Pa]; from memory."""

_QUICK = ("ball valve", "butterfly valve")  # a quarter of a turn shuts them
_STILL = 1e-6  # flow that counts as none [m3/s]
_LEAST = 0.02  # slower water makes no hammer worth a word [m/s]
_SHORTEST = 0.1  # column of water a wave runs along at least [m]


def limit_of(plumbing: Plumbing) -> tuple[float, Rule]:
    """Greatest pressure the pipework bears [Pa], and who says so.

    plumbing: the pipework
    """
    own, shop = plumbing.work.pressure, shop_values()["pipe_pressure"]
    if own is not None:
        return float(own), Rule("pipes, valves and hoses", mark="the build's")
    return shop_value("pipe_pressure"), Rule(shop.source, mark=shop.mark)


def pressure_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about the greatest and the least pressures.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    yield from _standing(plumbing, worked, assumed)
    yield from _hammer(plumbing, worked, assumed)
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
    behind = {run.name for run in plumbing.work.run if pump.end in (run.start, run.end)}
    behind |= {spray.name for spray in plumbing.work.spray if spray.on == pump.end}
    links = [one for one in plumbing.links(fastest, 1.0) if one.name not in behind]
    head = flowing(links, plumbing.given(1.0)).head.get(pump.end, math.nan)
    return plumbing.liquid.pressure(head - plumbing.height(pump.end))


def highest(plumbing: Plumbing) -> tuple[float, str]:
    """Greatest pressure with everything shut [Pa], of the pump in any duty and of the hydrants, and where.

    plumbing: the pipework
    """
    found = [(float(one.hydrant.static), one.name) for one in plumbing.work.point if one.hydrant is not None]
    for duty in plumbing.work.duty:
        if duty.engine is not None:
            try:
                found.append((shut_off(plumbing, duty), f"behind the pump, {duty.name}"))
            except NoFlow:
                continue
    return max((row for row in found if not math.isnan(row[0])), default=(0.0, ""))


def _standing(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    value, where = highest(plumbing)
    if not worked or value <= 0.0:
        return
    limit, rule = limit_of(plumbing)
    judged = verdict(value / BAR, limit / BAR, "at_most")
    remedy = Remedy(f"set a relief valve there that passes the whole flow at {n(limit / BAR, 1)} bar")
    how = "pump at the drive's greatest speed, full tank, relief valves as they are; hydrants as they stand"
    step = Step("everything shut", how, where, f"{n(value / BAR, 2)} bar")
    yield Finding(
        "pressure-shut-off", "Does the pipework bear the pressure with everything shut?", where, value / BAR,
        limit / BAR, "bar", "at_most", judged, rule, remedy=remedy if judged == "fails" else None, working=(step,),
        assumed=assumed,
    )  # fmt: skip


def _hammer(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The valve whose closing raises the pressure most, on top of what stood or then stands before it."""
    rows = [
        (_risen(plumbing, valve, state), valve, state, one)
        for valve in plumbing.work.valve
        if valve.kind not in ONE_WAY and _time(valve) is not None
        for one in worked
        for state in (one.states[0], one.states[-1])
        if abs(state.velocity(valve.on)) > _LEAST
    ]
    if not rows:
        return
    value, valve, state, one = max(rows, key=lambda row: row[0])
    (limit, rule), speed, column = limit_of(plumbing), _wave(plumbing, valve), _column(state, valve.on)
    back = 1e3 * reflection_time(length=column, wave_speed=speed)
    taken = "" if valve.closes_in is not None else ", taken for a hand"
    flow = f"{n(LITRES_A_MINUTE * abs(state.flow(valve.on)))} L/min in {n(_time(valve) or 0.0, 2)} s{taken}"
    steps = (
        Step("wave speed", "√(K/ρ / (1 + K D / E t))", plumbing.runs[valve.on].size, f"{n(speed)} m/s", "Korteweg"),
        Step("wave comes back", "2 L / a, L to the pump, tank or main", f"{n(column, 1)} m", f"{n(back, 1)} ms"),
        Step("pressure", "p + ρ a Δv, less where it closes slowly", flow, f"{n(value / BAR, 2)} bar", "Joukowsky"),
    )
    yield Finding(
        "hammer", "Does the pipework bear the hammer of the valves that close fast?", f"{valve.name}: {at(one, state)}",
        value / BAR, limit / BAR, "bar", "at_most", verdict(value / BAR, limit / BAR, "at_most"), rule, working=steps,
        assumed=assumed,
    )  # fmt: skip


def _time(valve: Valve) -> float | None:
    """Time a valve closes in [s]: as stated, a hand's turn for a quarter-turn valve, None for one that takes long."""
    if valve.closes_in is not None:
        return float(valve.closes_in)
    return shop_value("hand_closes_in") if valve.kind in _QUICK else None


def _wave(plumbing: Plumbing, valve: Valve) -> float:
    size, density = plumbing.size(plumbing.runs[valve.on]), plumbing.liquid.density
    wall = {"diameter": size.inside, "thickness": size.wall, "young": SOFT if size.soft else STEEL}
    return float(wave_speed(bulk_modulus=BULK, density=density, **wall))


def _upstream(state: DutyState, run: str) -> str:
    one = state.plumbing.runs[run]
    return one.start if state.flow(run) >= 0.0 else one.end


def _column(state: DutyState, run: str) -> float:
    """Length of the water behind a valve, back to pump, tank, main or open water [m]."""
    work, here, length = state.plumbing.work, _upstream(state, run), float(state.plumbing.runs[run].length)
    ends = set(state.plumbing.given(state.fill)) | {one.name for one in work.point if one.hydrant is not None}
    ends |= {work.pump.end} if work.pump is not None else set()
    seen = {run}
    while here not in ends:
        into = [one.name for one in work.run if one.name not in seen and here == _downstream(state, one.name)]
        if not into:
            break
        seen.add(max(into, key=lambda name: abs(state.flow(name))))
        run = max(into, key=lambda name: abs(state.flow(name)))
        length, here = length + float(state.plumbing.runs[run].length), _upstream(state, run)
    return max(length, _SHORTEST)


def _downstream(state: DutyState, run: str) -> str:
    one = state.plumbing.runs[run]
    return one.end if state.flow(run) >= 0.0 else one.start


def _risen(plumbing: Plumbing, valve: Valve, state: DutyState) -> float:
    """Pressure before a valve that closes [Pa]: with the hammer, or what then stands there if that is more."""
    speed, time, here = _wave(plumbing, valve), _time(valve) or 0.0, _upstream(state, valve.on)
    change = {"density": plumbing.liquid.density, "wave_speed": speed, "velocity_change": abs(state.velocity(valve.on))}
    length = _column(state, valve.on)
    if time <= reflection_time(length=length, wave_speed=speed):
        rise = float(joukowsky(**change))
    else:
        rise = float(slow_closing(**change, length=length, closing_time=time))
    return max(max(0.0, state.pressure(here)) + rise, _then(plumbing, valve, state, here))


def _then(plumbing: Plumbing, valve: Valve, state: DutyState, here: str) -> float:
    """Pressure that stands before a valve once it is shut [Pa]."""
    shut = {
        "open": [name for name in state.duty.open if name != valve.name],
        "throttled": [one for one in state.duty.throttled if one.valve != valve.name],
    }
    try:
        found = DutyState(plumbing, state.duty.model_copy(update=shut), state.fill, state).pressure(here)
    except NoFlow:
        return 0.0
    return 0.0 if math.isnan(found) else found


def absolute(state: DutyState, point: str) -> float:
    """Least pressure over a vacuum in the pipes at a point [Pa].

    The velocity head of the fastest run there is taken away: a network reckons with p + rho g z + rho v^2 / 2.

    state: a duty at a filling
    point: the point
    """
    liquid, runs = state.plumbing.liquid, state.plumbing.work.run
    fastest = max((abs(state.velocity(one.name)) for one in runs if point in (one.start, one.end)), default=0.0)
    return liquid.air + state.pressure(point) - 0.5 * liquid.density * fastest**2


def _least(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The least pressure at any point water flows through, over that of a vacuum."""
    liquid, rows = plumbing.liquid, []
    for one in worked:
        for state in one.states:
            wet = [run for run in plumbing.work.run if abs(state.flow(run.name)) > _STILL]
            ends = {end for run in wet for end in (run.start, run.end)}
            rows += [(absolute(state, name), name, state, one) for name in ends]
    known = [row for row in rows if not math.isnan(row[0])]
    if not known:
        return
    value, name, state, one = min(known, key=lambda row: row[0])
    limit, shop = liquid.vapour + shop_value("least_pressure"), shop_values()["least_pressure"]
    moves = liquid.air + state.pressure(name) - value
    parts = f"{n(liquid.air / 1e3, 1)} + {n(state.pressure(name) / 1e3, 1)} - {n(moves / 1e3, 1)} kPa"
    step = Step("absolute pressure", "air + pressure in the pipe - ρ v² / 2", parts, f"{n(value / 1e3, 1)} kPa")
    yield Finding(
        "pressure-least", "Does the water nowhere come near to boiling in the pipes?", f"{name}: {at(one, state)}",
        value / 1e3, limit / 1e3, "kPa", "at_least", verdict(value / 1e3, limit / 1e3, "at_least"),
        Rule(shop.source, mark=shop.mark),
        working=(step,), assumed=assumed,
    )  # fmt: skip
