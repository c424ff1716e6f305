"""Pressures the pipework has to bear: the pump shut off, and the hammer of a valve that closes fast."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.build.pipework import Valve
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, verdict
from tunwright.checks.pipes_worked import BAR, LITRES_A_MINUTE, Worked, at
from tunwright.handbook.water_hammer import joukowsky, reflection_time, slow_closing, wave_speed
from tunwright.tables.read import shop_value, shop_values
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

BULK, STEEL = 2.2e9, 210e9
"""Bulk modulus of cold water and Young's modulus of steel [Pa], from memory."""

_LEAST = 0.02  # slower water makes no hammer worth a word [m/s]


def limit_of(plumbing: Plumbing) -> tuple[float, Rule]:
    """Greatest pressure the pipework bears [Pa], and who says so.

    plumbing: the pipework
    """
    own, shop = plumbing.work.pressure, shop_values()["pipe_pressure"]
    if own is not None:
        return float(own), Rule("pipes, valves and hoses", mark="the build's")
    return shop_value("pipe_pressure"), Rule(shop.source, mark=shop.mark)


def pressure_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about the greatest pressures.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    yield from _shut_off(plumbing, worked, assumed)
    yield from _hammer(plumbing, worked, assumed)


def _shut_off(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The pump at its fastest, everything behind it shut, the tank full before it; a relief valve takes the top off."""
    curve, pump = plumbing.curve, plumbing.work.pump
    speeds = [(plumbing.speed(one.duty), one) for one in worked if plumbing.speed(one.duty) > 0.0]
    if curve is None or pump is None or not speeds:
        return
    speed, one = max(speeds, key=lambda pair: pair[0])
    before = max(0.0, max((state.pressure(pump.start) for state in one.states), default=0.0))
    alone = before + plumbing.liquid.pressure(curve.dead_head(speed))
    reliefs = [float(each.full) for each in plumbing.work.relief if each.start == pump.end]
    value, (limit, rule) = min([alone, *reliefs]), limit_of(plumbing)
    words = f"{n(before / BAR, 2)} bar + {n(curve.dead_head(speed), 1)} m"
    steps = [Step("pump shut off", "inlet + head of the curve at no flow", words, f"{n(alone / BAR, 2)} bar")]
    if reliefs and min(reliefs) < alone:
        steps.append(Step("relief valve", "passes its flow at", "", f"{n(min(reliefs) / BAR, 2)} bar"))
    remedy = Remedy(f"set a relief valve behind the pump to pass its flow at {n(limit / BAR, 1)} bar")
    judged = verdict(value / BAR, limit / BAR, "at_most")
    yield Finding(
        "pressure-shut-off", "Does the pipework bear the pump with everything shut?", one.duty.name, value / BAR,
        limit / BAR, "bar", "at_most", judged, rule, remedy=remedy if judged == "fails" else None,
        working=tuple(steps), assumed=assumed,
    )  # fmt: skip


def _hammer(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The valve whose closing raises the pressure most, on top of what stands before it."""
    valves = [one for one in plumbing.work.valve if one.closes_in is not None and one.kind not in ONE_WAY]
    rows = [
        (_risen(plumbing, valve, state), valve, state, one)
        for valve in valves
        for one in worked
        for state in one.states
        if state.velocity(valve.on) > _LEAST
    ]
    if not rows:
        return
    value, valve, state, one = max(rows, key=lambda row: row[0])
    limit, rule = limit_of(plumbing)
    run = plumbing.runs[valve.on]
    speed = _wave(plumbing, valve)
    back = reflection_time(length=float(run.length), wave_speed=speed)
    steps = (
        Step("wave speed", "√(K/ρ / (1 + K D / E t))", f"{run.size}", f"{n(speed)} m/s", "Korteweg"),
        Step("wave comes back", "2 L / a", f"{n(float(run.length), 1)} m", f"{n(1e3 * back, 1)} ms"),
        Step(
            "pressure rise",
            "ρ a Δv, less where it closes more slowly than the wave comes back",
            f"{n(LITRES_A_MINUTE * state.flow(run.name))} L/min in {n(float(valve.closes_in or 0.0), 2)} s",
            f"to {n(value / BAR, 2)} bar",
            "Joukowsky",
        ),
    )
    yield Finding(
        "hammer", "Does the pipework bear the hammer of the valves that close fast?", f"{valve.name}: {at(one, state)}",
        value / BAR, limit / BAR, "bar", "at_most", verdict(value / BAR, limit / BAR, "at_most"), rule, working=steps,
        assumed=assumed,
    )  # fmt: skip


def _wave(plumbing: Plumbing, valve: Valve) -> float:
    size = plumbing.size(plumbing.runs[valve.on])
    return float(
        wave_speed(
            bulk_modulus=BULK,
            density=plumbing.liquid.density,
            diameter=size.inside,
            thickness=size.wall,
            young=STEEL if size.material not in ("PE", "new PE", "rubber hose", "ribbed hose") else 0.8e9,
        )
    )


def _risen(plumbing: Plumbing, valve: Valve, state: DutyState) -> float:
    """Pressure before a valve that has just closed [Pa]."""
    run, density = plumbing.runs[valve.on], plumbing.liquid.density
    speed, time = _wave(plumbing, valve), float(valve.closes_in or 0.0)
    change = {"density": density, "wave_speed": speed, "velocity_change": state.velocity(run.name)}
    length = float(run.length)
    if time <= reflection_time(length=length, wave_speed=speed):
        rise = float(joukowsky(**change))
    else:
        rise = float(slow_closing(**change, length=length, closing_time=time))
    return max(0.0, state.pressure(run.start)) + rise
