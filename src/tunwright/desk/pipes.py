"""The pipework as the page has set it: a duty with its valves turned by hand, drawn with what then flows."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from tunwright.build.factors import LITRES_A_MINUTE, TURNS_A_MINUTE
from tunwright.build.kind import System
from tunwright.build.pipework import Duty, Pipework, Throttled
from tunwright.build.units import Quantity
from tunwright.checks.assess import Assessment
from tunwright.checks.pipework.road.laid import laid
from tunwright.checks.pipework.worked import Worked
from tunwright.desk.live import assessed
from tunwright.sheets import words
from tunwright.sheets.pipework.listing import said
from tunwright.sheets.pipework.schematic.drawing import schematic_drawing
from tunwright.sheets.svg import write_svg
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.jets import is_jet, jet_in
from tunwright.truck.pipework.plumbing import ONE_WAY

_SHUT = 0.005


def pipes_look(text: str, units: str | None, wish: Mapping[str, Any]) -> dict[str, Any]:
    """The schematic and figures. Raises BuildProblems.

    text: the draft
    units: metric or us in place of the order's own
    wish: duty (name, or empty), openings (share by valve), engine [rpm] or None, fill
    """
    base = assessed(text, units)
    work = base.build.pipework
    if work is None:
        return {"there": False}
    duty = _turned(work, _named(work, str(wish.get("duty") or "")), wish)
    fill = min(max(float(wish.get("fill", 1.0)), 0.0), 1.0)
    only = work.model_copy(update={"duty": [duty]})
    shown = Assessment(base.build.model_copy(update={"pipework": only}), fill=fill)
    return {
        "there": True,
        "duties": [one.name for one in work.duty],
        "duty": duty.name,
        "fill": fill,
        "engine": None if duty.engine is None else round(TURNS_A_MINUTE * float(duty.engine)),
        "engine_range": _range(work),
        "valves": [*_valves(work, duty)],
        "svg": write_svg(schematic_drawing(shown, duty.name), theme="css"),
        "said": _said(shown.pipes.worked[0], shown),
    }


def _named(work: Pipework, name: str) -> Duty:
    """A duty of the build; the first where the name is none, and one of shut valves where there are no duties."""
    found = next((one for one in work.duty if one.name == name), None)
    if found is not None:
        return found
    return work.duty[0] if work.duty else Duty(name="as it is set", kind="spray")


def _turned(work: Pipework, duty: Duty, wish: Mapping[str, Any]) -> Duty:
    """A duty with the valves and the engine as the page has them."""
    openings, engine = wish.get("openings"), wish.get("engine")
    changes: dict[str, Any] = {}
    if openings is not None:
        known = {one["name"] for one in _valves(work, duty)}
        shares = {name: float(share) for name, share in openings.items() if name in known}
        changes["open"] = [name for name, share in shares.items() if share >= 1.0]
        part = [(name, Quantity(s, f"{100 * s:g} %", "ratio")) for name, s in shares.items() if _SHUT < s < 1.0]
        changes["throttled"] = [Throttled(valve=name, open=share) for name, share in part]
    if "engine" in wish:
        turns = work.pump is not None and engine is not None and float(engine) > 0.0
        speed = float(engine or 0.0) / TURNS_A_MINUTE
        changes["engine"] = Quantity(speed, f"{engine:g} rpm", "rotation") if turns else None
    return duty.model_copy(update=changes)


def _range(work: Pipework) -> list[int] | None:
    if work.pump is None:
        return None
    return [round(TURNS_A_MINUTE * float(speed)) for speed in (work.pump.drive.least, work.pump.drive.most)]


def _valves(work: Pipework, duty: Duty) -> list[dict[str, Any]]:
    """The valves that can be turned, with how far they are open."""
    listed = [(one.name, one.purpose or one.on) for one in work.valve if one.kind not in ONE_WAY]
    listed += [(one.valve, one.name) for one in work.spray if one.valve is not None and one.valve not in dict(listed)]
    part = {one.valve: float(one.open) for one in duty.throttled}
    return [
        {"name": name, "purpose": purpose, "share": part.get(name, 1.0 if name in duty.open else 0.0)}
        for name, purpose in listed
    ]


def _said(worked: Worked, shown: Assessment) -> list[list[str]]:
    """What flows, in rows of words and figures; or why nothing does."""
    if not worked.states:
        return [["Nothing flows", worked.trouble]]
    state, system = worked.states[0], shown.build.order.units

    def flow(value: float) -> str:
        return words.figure(LITRES_A_MINUTE * value, "L/min", shown)

    def head(value: float) -> str:
        return said(value, "head", system)

    rows = [[name, flow(value)] for name, value in state.to_sprays.items()]
    rows += [*_jets(state, system), *_road(worked, system)]
    if abs(state.from_tank) > 1e-6:
        rows.append(["out of the tank" if state.from_tank > 0.0 else "into the tank", flow(abs(state.from_tank))])
    point = state.pump
    if point is not None:
        rows.append(["pump", f"{flow(point.flow)}, {head(point.head)}, {TURNS_A_MINUTE * point.speed:.0f} rpm"])
        if not math.isnan(point.power):
            torque = words.figure(point.torque, "N m", shown)
            rows.append(["at the pump's shaft", f"{words.figure(point.power / 1e3, 'kW', shown)}, {torque}"])
        if not math.isnan(point.needs):
            rows.append(["suction head to spare", head(point.has - point.needs)])
        if not point.within:
            rows.append(["the pump", "runs past the end of its curve"])
    return rows or [["Nothing flows", "look at the valves and at the heights"]]


def _jets(state: DutyState, system: System) -> Iterator[list[str]]:
    """How hard each jet pushes and how far it reaches."""
    for spray in state.plumbing.work.spray:
        jet = jet_in(state, spray) if is_jet(spray) else None
        if jet is not None:
            push, reach = said(jet.reaction, "force", system), said(jet.reach, "head", system)
            yield [f"{spray.name} pushes", f"{push}, reaches {reach}"]


def _road(worked: Worked, system: System) -> Iterator[list[str]]:
    """What is laid on the road at the duty's speed."""
    found = laid(worked)
    if found is not None:
        speed = said(found.speed, "road", system)
        yield ["on the road", f"{said(found.least, 'depth', system)} at {speed}"]
