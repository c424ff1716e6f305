"""The pump test sheet: what the pump is expected to do in each of its duties, how far off it may be, and room to write.

The allowed deviations are shop values.
"""

from __future__ import annotations

from tunwright.build.pipework import Pump
from tunwright.build.shown import show_number
from tunwright.checks.pipework.worked import Worked
from tunwright.sheets.pipework.flows import half
from tunwright.sheets.pipework.listing import Column, Listing, Value
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import PumpPoint
from tunwright.truck.pipework.plumbing import Plumbing

MEASURED = ("engine", "flow", "outlet", "torque")
"""What is written down at the test."""


def pump_test(plumbing: Plumbing, duties: tuple[Worked, ...]) -> Listing:
    """Expected and allowed values of every duty the pump turns in, with empty columns for what is measured.

    plumbing: the pipework
    duties: the duties
    """
    expected = (
        Column("engine", "engine", "rotation"), Column("pump", "pump", "rotation"), Column("flow", "flow", "flow"),
        Column("head", "head", "head"), Column("outlet", "pressure at the outlet", "pressure"),
        Column("power", "power", "power"), Column("torque", drive_words(plumbing.work.pump), "torque"),
    )  # fmt: skip
    named = {one.key: one for one in expected}
    limits = [("flow", "least"), ("flow", "most"), ("outlet", "least"), ("outlet", "most"), ("power", "most"),
              ("torque", "most")]  # fmt: skip
    columns = (
        Column("duty", "duty"),
        *expected,
        *(Column(f"{key}_{end}", f"{end} {named[key].name}", named[key].kind) for key, end in limits),
        *(Column(f"measured_{key}", f"measured {named[key].name}", named[key].kind) for key in MEASURED),
        Column("signature", "signature"),
    )
    rows = []
    for one in duties:
        point = half(one).pump if one.states else None
        if plumbing.work.pump is not None and point is not None:
            rows.append([one.duty.name, *_figures(one, point, plumbing.work.pump), *[None] * (len(MEASURED) + 1)])
    return Listing("pump-test", "Pump test", columns, rows, _foot())


def drive_words(pump: Pump | None) -> str:
    """What the torque at the drive is called.

    pump: the pump, None where there is none
    """
    return "torque at the power take-off" if pump is not None and pump.drive.kind == "pto" else "torque at the drive"


def _figures(one: Worked, point: PumpPoint, pump: Pump) -> list[Value]:
    engine, outlet = float(one.duty.engine or 0.0), half(one).pressure(pump.end)
    flow, head, power = (shop_value(f"pump_test_{name}") for name in ("flow", "head", "power"))
    most = [point.power * (1 + power), point.drive_torque * (1 + power)]
    band = [point.flow * (1 - flow), point.flow * (1 + flow), outlet - head * abs(outlet), outlet + head * abs(outlet)]
    return [engine, point.speed, point.flow, point.head, outlet, point.power, point.drive_torque, *band, *most]


def _foot() -> str:
    shares = (shop_value(f"pump_test_{name}") for name in ("flow", "head", "power"))
    flow, head, power = (f"{show_number(100 * share)} %" for share in shares)
    return (
        f"Expected with the tank half full and the valves as in the duty. Allowed: flow ± {flow}, pressure ± {head}, "
        f"power and torque {power} more at most; these are shop values. Run until the readings stand still, engine at "
        "the speed named; read all at once."
    )
