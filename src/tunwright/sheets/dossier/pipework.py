"""Pipework: what every duty brings, and the flow and pressure in each run of it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.kind import System
from tunwright.build.typed import capital
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import ORDER, Finding
from tunwright.checks.pipework.worked import Worked
from tunwright.sheets.dossier.amounts import NO_SIGN
from tunwright.sheets.dossier.blocks import Block, Cell, Part, cell, column, head, row, table, unknown, verdict_cell
from tunwright.sheets.dossier.blocks import words as paragraph
from tunwright.sheets.pipework.flows import concerning, half, range_of, wet_runs
from tunwright.sheets.pipework.listing import MEASURES, said
from tunwright.sheets.pipework.lists import size_name
from tunwright.sheets.pipework.schematic.first_page import schematic_part
from tunwright.truck.pipework.duties import DutyState

_ABOUT = (
    "Flows and pressures from continuity and energy in every pipe: friction by Darcy, Weisbach and Colebrook, fittings "
    "by their loss coefficients. Pressures are over that of the air, velocity head included. The schematic follows; "
    "lists for the shop, the operating plate, the road table and the pump's test are sheets of their own."
)


def pipework_part(assessment: Assessment) -> list[Block]:
    """The parts on the pipework of a build that has some, as plain data: figures, then the schematic.

    assessment: the assessment
    """
    worked, system = assessment.pipes.worked, assessment.build.order.units
    blocks = [paragraph(_ABOUT)]
    if worked:
        blocks += [_duties(worked, assessment.findings, system), *_trouble(worked)]
    else:
        blocks.append(unknown("The build asks the pipework to do nothing, so nothing of it is judged."))
    for one in worked:
        blocks += _runs(one, system)
    return [Part("Pipework", blocks).data(), schematic_part(assessment)]


def _duties(worked: Sequence[Worked], findings: Sequence[Finding], system: System) -> Block:
    """One line a duty: flow, pump and time over all levels of the tank, and the worst verdict on it."""
    columns = [
        column("duty", "1fr"),
        column(f"flow, {_unit('flow', system)}", "23mm", right=True),
        column(f"pump, {_unit('rotation', system)}", "15mm", right=True),
        column(f"head, {_unit('head', system)}", "17mm", right=True),
        column(f"power, {_unit('power', system)}", "19mm", right=True),
        column("time, min", "15mm", right=True),
        column("findings", "20mm"),
    ]
    rows = [row(_duty(one, concerning(findings, one), system)) for one in worked]
    foot = "Least and greatest over all levels of the tank. Time: from full to empty or empty to full, slowest part."
    return table(columns, rows, foot=foot)


def _duty(one: Worked, findings: Sequence[Finding], system: System) -> list[Cell]:
    verdicts = {each.verdict for each in findings}
    verdict = verdict_cell(next((each for each in ORDER if each in verdicts), "holds"))
    if one.over is None:
        return [one.duty.name, *[NO_SIGN] * 5, verdict_cell("fails")]
    found: list[Cell] = [one.duty.name, _range(range_of(one, one.delivered), "flow", system)]
    pumps = [state.pump for state in one.states if state.pump is not None]
    for kind, values in (
        ("rotation", [point.speed for point in pumps]),
        ("head", [point.head for point in pumps]),
        ("power", [point.power for point in pumps if math.isfinite(point.power)]),
    ):
        found.append(_range((min(values), max(values)), kind, system) if values else NO_SIGN)
    time = one.over.time
    return [*found, f"{time / 60.0:.1f}" if math.isfinite(time) else NO_SIGN, verdict]


def _range(ends: tuple[float, float], kind: str, system: System) -> str:
    """A range without its unit; one figure where both look alike."""
    unit = _unit(kind, system)
    least, most = (said(value, kind, system).removesuffix(unit).strip() for value in ends)
    return most if least == most else f"{least} to {most}"


def _figure(value: float, kind: str, system: System) -> str:
    """A quantity without its unit."""
    return _range((value, value), kind, system)


def _unit(kind: str, system: System) -> str:
    return MEASURES[kind][system].symbol


def _trouble(worked: Sequence[Worked]) -> Iterator[Block]:
    for one in worked:
        if one.trouble:
            yield unknown(f"{capital(one.duty.name)}: {one.trouble}")


def _runs(one: Worked, system: System) -> Iterator[Block]:
    """Flow, velocity and pressure along the runs of a duty, the tank half full."""
    if one.over is None or not wet_runs(half(one)):
        return
    state = half(one)
    columns = [
        column("run", "1fr"),
        column("pipe", "1fr"),
        column(f"flow, {_unit('flow', system)}", "21mm", right=True),
        column(f"velocity, {_unit('velocity', system)}", "23mm", right=True),
        column(f"pressure, {_unit('pressure', system)}", "23mm", right=True),
        column("at its end", "1fr"),
    ]
    yield head(f"{capital(one.duty.name)}, tank half full")
    yield table(columns, [*_along(state, system), *_leaving(state, system)], size=7.5)


def _along(state: DutyState, system: System) -> Iterator[Block]:
    """One line a run: its pipe, flow, velocity, and the pressure behind it."""
    for name in wet_runs(state):
        run, behind = state.plumbing.runs[name], state.behind(name)
        pipe = f"{run.series}, {size_name(state.plumbing.size(run), system)}"
        flow = _figure(abs(state.flow(name)), "flow", system)
        speed = _figure(abs(state.velocity(name)), "velocity", system)
        yield row([name, pipe, flow, speed, _figure(state.pressure(behind), "pressure", system), behind])


def _leaving(state: DutyState, system: System) -> Iterator[Block]:
    """One line for each outlet that water leaves by, with the pressure before it."""
    for name, flow in state.to_sprays.items():
        on = state.plumbing.sprays[name].on
        before = _figure(state.pressure(on), "pressure", system)
        yield row([cell(name, bold=True), "leaves", _figure(flow, "flow", system), "", before, f"from {on}"])
