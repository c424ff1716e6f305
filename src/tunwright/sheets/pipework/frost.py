"""Standing in the cold as a list: every run that keeps its water, its hours to ice, and the heating that holds it."""

from __future__ import annotations

from tunwright.build.factors import FOOT
from tunwright.build.kind import System
from tunwright.build.pipework import Frost, PipeRun
from tunwright.build.shown import show
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import verdict
from tunwright.checks.pipework.frost import HOLD, ICE, least_insulation, time_to_ice, tracing
from tunwright.handbook.icing import FREEZING
from tunwright.sheets.pipework.listing import Column, Listing, Value
from tunwright.sheets.pipework.lists import size_name
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.plumbing import Plumbing

_HOUR = 3600.0
CAUTION = (
    "Heat tracing, its earth-fault protection and its thermostat are a licensed electrician's work by the local code; "
    "on plastic pipe and hose only what its maker allows, and never on pipe that stands empty."
)


def frost_list(plumbing: Plumbing, system: System) -> Listing:
    """Every run that keeps its water; no rows where no frost is stated, or all is drained.

    plumbing: the pipework
    system: "metric" or "us"
    """
    per, unit = (1.0, "W/m") if system == "metric" else (float(FOOT), "W/ft")
    columns = (
        Column("run", "run"), Column("size", "size"), Column("length", "length", "run"),
        Column("insulation", "insulation", "bore"), Column("bare_h", "to ice bare, h"),
        Column("insulated_h", "to ice as it is, h"), Column("wanted_h", "wanted, h"),
        Column("heat_bare_w_m", f"heating bare, {unit}"), Column("heat_w_m", f"heating as it is, {unit}"),
        Column("bare_w", "whole run bare, W"), Column("whole_w", "whole run as it is, W"),
        Column("verdict", "verdict"),
    )  # fmt: skip
    frost = plumbing.work.frost
    cold = frost is not None and float(frost.air) < FREEZING
    stays = [run for run in plumbing.work.run if not run.falls] if cold else []
    rows = [_row(plumbing, frost, run, per, system) for run in stays if frost is not None]
    sums = [sum(float(row[i] or 0.0) for row in rows) for i in (2, 9, 10)]
    total: list[Value] = ["all", "", sums[0], *[None] * 6, round(sums[1], 1), round(sums[2], 1), ""]
    return Listing("frost", "Standing in the cold", columns, rows, _foot(frost, system), total if rows else None)


def _row(plumbing: Plumbing, frost: Frost, run: PipeRun, per: float, system: System) -> list[Value]:
    own, length = float(run.insulation or 0.0), float(run.length)
    bare, insulated = (time_to_ice(plumbing, frost, run, thick) / _HOUR for thick in (0.0, own))
    hot, mild = (tracing(plumbing, frost, run, thick) for thick in (0.0, own))
    start: list[Value] = [run.name, size_name(plumbing.size(run), system), length, own or None]
    hours: list[Value] = [round(bare, 1), round(insulated, 1), round(float(frost.stands) / _HOUR, 1)]
    heat: list[Value] = [round(hot * per, 1), round(mild * per, 1), round(hot * length, 1), round(mild * length, 1)]
    return [*start, *hours, *heat, _judged(plumbing, frost, run, insulated, bare, system)]


def _judged(plumbing: Plumbing, frost: Frost, run: PipeRun, insulated: float, bare: float, system: System) -> str:
    """What is to be done about a run, in words."""
    wanted = float(frost.stands) / _HOUR
    if verdict(bare, wanted, "at_least") == "holds":
        return "stands it bare"
    if verdict(insulated, wanted, "at_least") == "holds":
        return "stands it as insulated"
    if insulated >= wanted:
        return "stands it, but only just"
    thick = least_insulation(plumbing, frost, run)
    if thick is None:
        return "freezes: heat it, or drain it"
    return f"freezes: insulate it with {show(thick, 'length', system=system)}, heat it, or drain it"


def _foot(frost: Frost | None, system: System) -> str:
    if frost is None:
        return "No cold is stated: give the build pipework.frost."
    air, water, hold = (show(float(at), "temperature", system=system) for at in (frost.air, frost.water, HOLD))
    wind = show(float(frost.wind), "speed", system=system)
    return (
        f"In air of {air}, wind {wind}, water at {water} when it begins, until {n(100 * ICE)} % of it is ice. "
        f"Heating holds {hold} with {n(100 * shop_value('tracing_reserve'))} % in reserve for supports, valves, age. "
        "Valves, the body of the pump, couplings and small taps freeze sooner than pipe: drain them, pump drain open, "
        f"hoses rolled up empty. {CAUTION}"
    )
