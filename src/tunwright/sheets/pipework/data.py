"""The pipework and its duties as plain data: always metric, never NaN."""

from __future__ import annotations

import math
from typing import Any

from tunwright.build.factors import BAR, LITRES_A_MINUTE, TURNS_A_MINUTE
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import Finding
from tunwright.checks.pipework.road.laid import laid
from tunwright.checks.pipework.worked import Worked
from tunwright.sheets.data import number
from tunwright.sheets.pipework.expected import stays
from tunwright.sheets.pipework.flows import asked, concerning, findings_of, plumbed, wet_runs
from tunwright.truck.pipework.duties import DutyState

_ZERO_CELSIUS = 273.15


def pipework_data(assessment: Assessment, duty: str | None = None) -> dict[str, Any]:
    """Every duty with its flows, pressures, velocities, pump and time. Raises ValueError where there is no pipework.

    assessment: the assessment
    duty: name of the one duty that is asked for, None for all
    """
    worked, plumbing, findings = asked(assessment, duty), plumbed(assessment), findings_of(assessment)
    return {
        "title": assessment.build.order.title,
        "water_c": number(float(plumbing.work.water) - _ZERO_CELSIUS, 2),
        "altitude_m": number(float(plumbing.work.altitude), 1),
        "net_l": number(1000 * plumbing.tank.net, 1),
        "duties": [_duty(one, findings) for one in worked],
        "findings": [{"key": one.key, "verdict": one.verdict} for one in findings],
    }


def _duty(one: Worked, findings: list[Finding]) -> dict[str, Any]:
    duty, over = one.duty, one.over
    return {
        "name": duty.name,
        "kind": duty.kind,
        "engine_rpm": None if duty.engine is None else number(TURNS_A_MINUTE * float(duty.engine), 1),
        "road_speed_km_h": None if duty.road_speed is None else number(3.6 * float(duty.road_speed), 2),
        "open": list(duty.open),
        "throttled": [{"valve": part.valve, "open": number(float(part.open), 4)} for part in duty.throttled],
        "trouble": one.trouble,
        "time_min": None if over is None else number(over.time / 60.0, 3),
        "volume_l": None if over is None or not math.isfinite(over.time) else number(1000 * over.volume, 1),
        "stays_l": number(1000 * stays(one), 1),
        **_laid(one),
        "states": [_state(one, state) for state in one.states],
        "findings": [each.key for each in concerning(findings, one)],
    }


def _laid(one: Worked) -> dict[str, Any]:
    """Water on the road at the duty's speed, over all levels of the tank."""
    found = laid(one) if one.over is not None else None
    return {
        "lays_least_l_m2": None if found is None else number(1000 * found.least, 4),
        "lays_most_l_m2": None if found is None else number(1000 * found.most, 4),
        "lays_width_m": None if found is None else number(found.width, 3),
    }


def _state(one: Worked, state: DutyState) -> dict[str, Any]:
    return {
        "fill": number(state.fill, 4),
        "delivered_l_min": number(LITRES_A_MINUTE * one.delivered(state), 2),
        "from_tank_l_min": number(LITRES_A_MINUTE * state.from_tank, 2),
        "runs": [_run(state, name) for name in wet_runs(state)],
        "outlets": [
            {
                "name": each.name,
                "flow_l_min": number(LITRES_A_MINUTE * state.to_sprays[each.name], 2),
                "pressure_bar": number(state.pressure(each.on) / BAR, 4),
            }
            for each in state.plumbing.work.spray
            if each.name in state.to_sprays
        ],
        "pump": _pump(state),
    }


def _run(state: DutyState, name: str) -> dict[str, Any]:
    return {
        "name": name,
        "flow_l_min": number(LITRES_A_MINUTE * state.flow(name), 2),
        "velocity_m_s": number(state.velocity(name), 4),
        "pressure_behind_bar": number(state.pressure(state.behind(name)) / BAR, 4),
    }


def _pump(state: DutyState) -> dict[str, Any] | None:
    pump, point = state.plumbing.work.pump, state.pump
    if pump is None or point is None:
        return None
    return {
        "speed_rpm": number(TURNS_A_MINUTE * point.speed, 1),
        "flow_l_min": number(LITRES_A_MINUTE * point.flow, 2),
        "head_m": number(point.head),
        "inlet_bar": number(state.pressure(pump.start) / BAR, 4),
        "outlet_bar": number(state.pressure(pump.end) / BAR, 4),
        "power_kw": number(point.power / 1000.0),
        "torque_nm": number(point.torque, 2),
        "npsh_has_m": number(point.has),
        "npsh_needs_m": number(point.needs),
        "within_curve": point.within,
    }
