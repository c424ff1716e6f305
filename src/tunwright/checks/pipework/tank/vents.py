"""The vents: does enough air come in and go out, so that the tank is not sucked in or blown up?"""

from __future__ import annotations

import math
from collections.abc import Sequence

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Step, not_known, verdict
from tunwright.checks.pipework.tank.panel import panel_bears
from tunwright.checks.pipework.worked import Worked, at
from tunwright.handbook.venting import orifice_difference, thermal_in, thermal_out, vacuum, vent_area
from tunwright.handbook.water import air_density
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing

_WARM = 288.15  # air in the tank [K]
_NORMAL = 273.15, 101325.0  # what thermal breathing is counted at [K], [Pa]
_SUN, _RAIN, _WARM_RAIN = 0.32, 4.0, 6.5
"""Factors of thermal breathing out and in, Y and C [-]: below 42 degrees of latitude, which is the worst, for a liquid
that does not boil off, below 25 C and for one that is warmer; from memory."""

_TEPID = 298.15  # [K]

_BREATHING = "API 2000, 7th ed. = ISO 28300, bare tank below 42° of latitude; factors from memory"
Rate = tuple[float, DutyState, Worked, int]  # air [m3/s], when, of which duty, through which compartment


def _opening(plumbing: Plumbing, part: int) -> float:
    """Sum of coefficient times area of a compartment's vents [m2]; those of no compartment are parted among all."""
    names = [one.name for one in plumbing.truck.solid.compartments]
    found = 0.0
    for vent in plumbing.work.vent:
        share = 1.0 / len(names) if vent.compartment is None else float(vent.compartment == names[part])
        found += share * vent.count * float(vent.coefficient) * 0.25 * math.pi * float(vent.bore) ** 2
    return found


def _warms(plumbing: Plumbing, part: int, breathes: str) -> float:
    """Air the weather alone moves through the vents of a compartment that is all air inside [m3/s]."""
    volume, liquid = float(plumbing.truck.volumes.gross[part]), plumbing.liquid
    if breathes == "in":
        normal = thermal_in(tank_volume=volume, latitude_factor=_rain(plumbing))
    else:
        normal = thermal_out(tank_volume=volume, latitude_factor=_SUN)
    return float(normal) * air_density(*_NORMAL) / air_density(_WARM, liquid.air)


def _rain(plumbing: Plumbing) -> float:
    return _WARM_RAIN if float(plumbing.work.water) > _TEPID else _RAIN


def vent_finding(plumbing: Plumbing, rates: Sequence[Rate], assumed: tuple[str, ...], *, breathes: str) -> Finding:
    """Pressure difference that the vents of a compartment need for the air that goes in or out of it.

    plumbing: the pipework
    rates: air that moves through each compartment, by filling and duty; one at least
    assumed: paths of the assumed inputs
    breathes: "in" or "out"
    """
    word, harm = ("emptying", "sucked in") if breathes == "in" else ("filling", "blown up")
    question = f"Do the vents let enough air {breathes} at the fastest {word}, so that the tank is not {harm}?"
    limit, rule = panel_bears(plumbing)
    if not plumbing.work.vent:
        return not_known(f"vent-{breathes}", question, rule, "kPa", ("pipework.vent",), limit=limit / 1e3)
    airs = [(row[0] + _warms(plumbing, row[3], breathes), row) for row in rates]
    air, row = max(airs, key=lambda pair: pair[0] / max(_opening(plumbing, pair[1][3]), 1e-9))
    _, state, one, part = row
    name, many = plumbing.truck.solid.compartments[part].name, len(plumbing.truck.solid.compartments) > 1
    words, works = f"{name}, {at(one, state)}" if many else at(one, state), _opening(plumbing, part)
    if works <= 0.0:
        note = f"The {name} compartment has no vent."
        ends = limit / 1e3, "kPa"
        return Finding(f"vent-{breathes}", question, words, None, *ends, "at_most", "fails", rule, note=note)
    density = air_density(_WARM, plumbing.liquid.air)
    needs = float(orifice_difference(air_flow=air, works=works, air_density=density))
    judged = verdict(needs / 1e3, limit / 1e3, "at_most")
    return Finding(
        f"vent-{breathes}", question, words, needs / 1e3, limit / 1e3, "kPa", "at_most", judged, rule,
        working=_breath(plumbing, row, air, needs, breathes), assumed=assumed,
        remedy=_wider(plumbing, air, limit, density) if judged == "fails" else None,
    )  # fmt: skip


def _breath(plumbing: Plumbing, row: Rate, air: float, needs: float, breathes: str) -> tuple[Step, ...]:
    """How the pressure difference came about: the weather's air, then all of it through the vents."""
    flow, _, _, part = row
    works, volume = _opening(plumbing, part), float(plumbing.truck.volumes.gross[part])
    formula = f"{n(_rain(plumbing), 1)} V^0.7" if breathes == "in" else f"{n(_SUN, 2)} V^0.9"
    weather = f"{n(LITRES_A_MINUTE * (air - flow))} L/min"
    passes = f"{n(LITRES_A_MINUTE * flow)} + {n(LITRES_A_MINUTE * (air - flow))} L/min, Σ Cd A = {n(1e6 * works)} mm²"
    source = "orifice, as for the normal venting of API 2000"
    return (
        Step("air the weather moves", f"{formula} m³/h, normal air", f"V = {n(volume, 2)} m³", weather, _BREATHING),
        Step("pressure difference", "(Q / Σ Cd A)² ρ / 2", passes, f"{n(needs / 1e3, 3)} kPa", source),
    )


def _wider(plumbing: Plumbing, flow: float, limit: float, air: float) -> Remedy:
    """The bore that would do, of as many vents as each compartment has, and what it leaves."""
    vents, parts = plumbing.work.vent, len(plumbing.truck.solid.compartments)
    count = max(1.0, sum(v.count for v in vents) / parts)
    given = {"air_flow": flow, "coefficient": float(vents[0].coefficient), "air_density": air}
    area = float(vent_area(pressure_difference=limit, **given))
    bore = 0.005 * math.ceil(math.sqrt(4.0 * area / (math.pi * count)) / 0.005)
    left = float(vacuum(area=count * 0.25 * math.pi * bore**2, **given)) / 1e3
    many = sum(v.count for v in vents)
    which = "the vent" if many == 1 else f"each of the {many} vents"
    return Remedy(f"make {which} {n(1000 * bore)} mm in bore, which leaves {n(left, 2)} kPa")
