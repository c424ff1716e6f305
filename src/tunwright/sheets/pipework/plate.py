"""The operating plate: for every duty what to open, what to shut, how fast the engine, and what to expect."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from tunwright.build.kind import System
from tunwright.build.pipework import Duty, Pump
from tunwright.build.shown import show
from tunwright.build.typed import listed
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.emergency_chain import worked_by
from tunwright.checks.pipework.worked import Worked
from tunwright.sheets.pipework.expected import expected
from tunwright.sheets.pipework.flows import concerning
from tunwright.sheets.pipework.listing import Column, Listing, Value
from tunwright.sheets.pipework.lists import own_valves, position
from tunwright.sheets.pipework.road.load import Permitted
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

BARRED = "Not released"
"""What a line begins with that forbids a duty; it is no step."""

ON_THE_ROAD = "on the road, pump at rest"
EMERGENCY = "in an emergency"
_PRIMES = {
    "flooded": "",
    "self-priming": "See that the body of the pump is full of water.",
    "ejector": "Let the ejector draw until water comes.",
}


def operating_plate(
    plumbing: Plumbing, duties: Sequence[Worked], findings: Sequence[Finding], allowed: Permitted, system: System
) -> Listing:
    """What a driver does for every duty, sentence by sentence, an emergency before them, the road after.

    plumbing: the pipework
    duties: the duties
    findings: findings of the pipework; a duty in which one fails is not released
    allowed: how full the truck may drive
    system: "metric" or "us"
    """
    columns = (Column("duty", "duty"), Column("step", "step"), Column("do", "do"))
    rows: list[list[Value]] = _titled(EMERGENCY, _emergency(plumbing, findings))
    for one in duties:
        failing = [each.question for each in concerning(findings, one) if each.verdict == "fails"]
        barred = [f"{BARRED}: {question} It fails." for question in failing]
        rows += _titled(one.duty.name, [*barred, *_steps(one, plumbing, allowed, system)])
    rows += _titled(ON_THE_ROAD, _on_the_road(plumbing))
    return Listing("plate", "Operating plate", columns, rows)


def _titled(title: str, steps: Iterable[str]) -> list[list[Value]]:
    rows: list[list[Value]] = []
    count = 0
    for step in steps:
        bars = step.startswith(BARRED)
        count += not bars
        rows.append([title, "" if bars else count, step])
    return rows


def _steps(one: Worked, plumbing: Plumbing, allowed: Permitted, system: System) -> Iterator[str]:
    duty = one.duty
    if duty.engine is not None and duty.road_speed is None:
        yield "Stand on firm ground. Set the parking brake, gearbox in neutral."
    if duty.kind == "fill":
        yield "Couple the filling hose and lock it."
    if duty.kind == "draw":
        yield "Hang the suction hose deep into the water, its strainer clear of the ground. Make its couplings tight."
    if duty.kind == "drain":
        yield "Let water out only where it may run to."
    yield from _valves(plumbing, duty)
    yield from _begin(plumbing, duty, system)
    yield from expected(one, plumbing, system, allowed)
    yield _end(duty, plumbing.work.pump)


def _labels(plumbing: Plumbing) -> dict[str, str]:
    """Valves that somebody works, with what they are for."""
    hand = [one for one in plumbing.work.valve if one.kind not in ONE_WAY]
    found = {one.name: f"{one.name} ({one.purpose})" if one.purpose else one.name for one in hand}
    serves = {one.valve: one.name for one in plumbing.work.spray}
    return found | {name: f"{name} ({serves[name]})" for name in own_valves(plumbing)}


def _valves(plumbing: Plumbing, duty: Duty) -> Iterator[str]:
    labels = _labels(plumbing)
    parts = {name: plumbing.opening(name, duty) for name in labels}
    shut = [name for name, part in parts.items() if part <= 0.0]
    opened = [labels[name] for name, part in parts.items() if part >= 1.0]
    if shut:
        yield f"Shut {listed(shut, 'and')}."
    if opened:
        yield f"Open {listed(opened, 'and')}."
    for name, part in parts.items():
        if 0.0 < part < 1.0:
            yield f"Set {labels[name]} to {position(part)} open."


def _begin(plumbing: Plumbing, duty: Duty, system: System) -> Iterator[str]:
    pump = plumbing.work.pump
    if duty.kind in ("monitor", "reel"):
        yield "Hold or lock the nozzle, pointed where nobody is."
    if pump is not None and duty.engine is not None:
        if duty.kind == "draw" and _PRIMES[pump.primes]:
            yield _PRIMES[pump.primes]
        start = "Start the engine of the pump. Bring it" if _own_engine(pump) else "Engage the drive. Bring the engine"
        yield f"{start} to {show(float(duty.engine), 'rotation')}."
    if duty.kind == "fill":
        yield "Open the hydrant slowly, then fully."
    if duty.road_speed is not None:
        yield f"Drive at {show(float(duty.road_speed), 'speed', system=system)}, no slower while it sprays."


def _end(duty: Duty, pump: Pump | None) -> str:
    if duty.kind == "fill":
        return "Stop before it overflows: shut the hydrant slowly, then the valve. Uncouple when the pressure is gone."
    if duty.engine is not None:
        stop = "Stop before it overflows" if duty.kind == "draw" else "Stop before the tank is empty"
        return f"{stop}: engine to idle, {_rest(pump)}, then the valves as on the road."
    return "Then the valves as on the road."


def _own_engine(pump: Pump) -> bool:
    return pump.drive.kind == "engine"


def _rest(pump: Pump | None) -> str:
    return "then off" if pump is not None and _own_engine(pump) else "drive out"


def _on_the_road(plumbing: Plumbing) -> Iterator[str]:
    hand = [one for one in plumbing.work.valve if one.kind not in ONE_WAY]
    shut = [one.name for one in hand if one.normal == "shut"] + own_valves(plumbing)
    opened = [one.name for one in hand if one.normal == "open"]
    pump = plumbing.work.pump
    if pump is not None:
        yield "Engine of the pump off." if _own_engine(pump) else "Drive of the pump out."
    if shut:
        yield f"Shut {listed(shut, 'and')}."
    if opened:
        yield f"Open {listed(opened, 'and')}."
    yield "Hoses stowed and locked, couplings capped."


def _emergency(plumbing: Plumbing, findings: Sequence[Finding]) -> Iterator[str]:
    labels, chain = _labels(plumbing), plumbing.work.emergency
    for one in findings:
        if one.key.startswith("emergency") and one.verdict == "fails":
            yield f"{BARRED}: {one.question} It fails."
    if not chain:
        yield f"{BARRED}: the build does not say what is shut in an emergency, and in which order."
        return
    for name in chain:
        by_hand = " by hand" if worked_by(plumbing, name) == "hand" else ""
        yield "Stop the engine." if name == "engine" else f"Shut {labels.get(name, name)}{by_hand}."
    yield "Keep everybody away until the pressure is gone."
