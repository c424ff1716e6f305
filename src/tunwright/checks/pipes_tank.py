"""The tank while it fills and empties: overflow, vents, air gap."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.fields import slug
from tunwright.build.pipework import Overflow
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, not_known, verdict
from tunwright.checks.pipes_worked import LITRES_A_MINUTE, Worked
from tunwright.handbook.pipe_friction import turbulent_factor
from tunwright.handbook.pipe_parts import PipeRun
from tunwright.handbook.venting import vent_area
from tunwright.handbook.water import air_density
from tunwright.tables.fittings import fitting
from tunwright.tables.pipes import PipeSize, pipe_size, roughnesses, sizes
from tunwright.tables.read import shop_value, shop_values
from tunwright.truck.pipework.plumbing import Plumbing

BRIMS = Rule("the overflow passes all that comes in, at the height of water that is allowed", mark="derived")
_WEIR = 1.7  # flow over a rim, Q = 1.7 b h^1.5 for a broad crest, from memory [m0.5/s]


def tank_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about overflow, vents and air gap.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    rates = [(-state.from_tank, one) for one in worked for state in one.states]
    if not rates:
        return
    into, filling = max(rates, key=lambda pair: pair[0])
    out, emptying = min(rates, key=lambda pair: pair[0])
    if into > 0.0:
        yield _overflow(plumbing, into, filling, assumed)
        yield _vent(plumbing, into, filling, assumed, breathes="out")
        yield from _gap(plumbing, assumed)
    if out < 0.0:
        yield _vent(plumbing, -out, emptying, assumed, breathes="in")


def overflow_flow(plumbing: Plumbing, size: PipeSize, head: float) -> float:
    """What an overflow passes [m3/s]: over its rim, or through the pipe running full, whichever is less.

    plumbing: the pipework; it has an overflow
    size: the pipe
    head: water over the lip [m]
    """
    pipe = plumbing.work.overflow
    if pipe is None:
        return 0.0
    over_rim: float = _WEIR * math.pi * size.inside * head**1.5
    rough = turbulent_factor(relative_roughness=roughnesses()["steel"].value / size.inside)
    k = 1.5 + sum(fitting(name).coefficient(rough) for name in pipe.fittings)
    run = PipeRun(float(pipe.length), size.inside, size.roughness, k, plumbing.liquid.viscosity)
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if run.loss(middle)[0] < float(pipe.length) + head else (low, middle)
    return min(over_rim, low)


def _overflow(plumbing: Plumbing, flow: float, one: Worked, assumed: tuple[str, ...]) -> Finding:
    key, question = "overflow", "Does the overflow pass all that the fastest filling brings?"
    pipe = plumbing.work.overflow
    if pipe is None:
        missing, limit = ("pipework.overflow",), LITRES_A_MINUTE * flow
        return not_known(key, question, BRIMS, "L/min", missing, sense="at_least", limit=limit)
    size, head = pipe_size(pipe.series, pipe.size), float(pipe.head)
    passes = overflow_flow(plumbing, size, head)
    value, limit = LITRES_A_MINUTE * passes, LITRES_A_MINUTE * flow
    remedy = Remedy(_larger(plumbing, pipe, flow, value))
    judged = verdict(value, limit, "at_least")
    step = Step(
        "over its rim, or the pipe full", "1.7 π D h^1.5, (f L / D + ΣK + 1) v² / 2g = L + h",
        f"{pipe.size}, {n(1000 * head)} mm over the lip", f"{n(value)} L/min",
        "broad-crested weir, from memory; Darcy-Weisbach",
    )  # fmt: skip
    return Finding(
        key, question, one.duty.name, value, limit, "L/min", "at_least", judged, BRIMS,
        remedy=remedy if judged == "fails" else None, working=(step,), assumed=assumed,
    )  # fmt: skip


def _larger(plumbing: Plumbing, pipe: Overflow, flow: float, passes: float) -> str:
    """The smallest size that would do, else the least height of water over the lip at which this one does."""
    head, fill = float(pipe.head), f"or fill no faster than {n(passes)} L/min"
    for other in sizes(pipe.series):
        found = overflow_flow(plumbing, other, head)
        if found >= flow:
            return f"make the overflow {other.name}, which passes {n(LITRES_A_MINUTE * found)} L/min, {fill}"
    mine = pipe_size(pipe.series, pipe.size)
    higher = next((mm for mm in range(10, 405, 5) if overflow_flow(plumbing, mine, mm / 1000) >= flow), None)
    if higher is None:
        return f"{fill[3:]}; no pipe of the table passes more at {n(1000 * head)} mm over the lip"
    return f"allow {higher} mm of water over the lip, {fill}"


def _vent(plumbing: Plumbing, flow: float, one: Worked, assumed: tuple[str, ...], *, breathes: str) -> Finding:
    """Pressure difference that all vents together need for the air that goes in or out."""
    key = f"vent-{breathes}"
    word = "emptying" if breathes == "in" else "filling"
    harm = "sucked in" if breathes == "in" else "blown up"
    question = f"Do the vents let enough air {breathes} at the fastest {word}, so that the tank is not {harm}?"
    shop = shop_values()["tank_vacuum"]
    own = plumbing.work.vacuum
    limit = shop_value("tank_vacuum") if own is None else float(own)
    rule = Rule(shop.source, mark=shop.mark) if own is None else Rule("the tank's weakest panel", mark="the build's")
    vents = plumbing.work.vent
    if not vents:
        return not_known(key, question, rule, "kPa", ("pipework.vent",), limit=limit / 1e3)
    air = air_density(288.15, plumbing.liquid.air)
    works = sum(v.count * float(v.coefficient) * 0.25 * math.pi * float(v.bore) ** 2 for v in vents)
    needs = (flow / works) ** 2 * air / 2.0
    judged = verdict(needs / 1e3, limit / 1e3, "at_most")
    count, coefficient = sum(v.count for v in vents), float(vents[0].coefficient)
    area = float(vent_area(air_flow=flow, pressure_difference=limit, coefficient=coefficient, air_density=air))
    bore = 0.005 * math.ceil(math.sqrt(4.0 * area / (math.pi * count)) / 0.005)
    remedy = Remedy(f"make {'the vent' if count == 1 else f'each of the {count} vents'} {n(1000 * bore)} mm in bore")
    step = Step(
        "pressure difference", "(Q / Σ Cd A)² ρ / 2",
        f"{n(LITRES_A_MINUTE * flow)} L/min of air, Σ Cd A = {n(1e6 * works)} mm²", f"{n(needs / 1e3, 3)} kPa",
        "orifice, as for the normal venting of API 2000",
    )  # fmt: skip
    return Finding(
        key, question, one.duty.name, needs / 1e3, limit / 1e3, "kPa", "at_most", judged, rule,
        remedy=remedy if judged == "fails" else None, working=(step,), assumed=assumed,
    )  # fmt: skip


def _gap(plumbing: Plumbing, assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Air between the mouth a tank is filled by and the highest water there can be, so that nothing is sucked back."""
    lip = plumbing.tank.lip()
    for point in plumbing.work.point:
        runs = [run for run in plumbing.work.run if run.end == point.name]
        if not point.mouth or not runs or lip is None:
            continue
        bore = max(plumbing.size(run).inside for run in runs)
        limit = max(shop_value("air_gap_bores") * bore, shop_value("air_gap_least"))
        head = 0.0 if plumbing.work.overflow is None else float(plumbing.work.overflow.head)
        value = float(point.height or 0.0) - lip - head
        shop = shop_values()["air_gap_bores"]
        step = Step("air gap", "mouth - overflow lip - water over the lip", "", f"{n(1000 * value)} mm")
        yield Finding(
            f"air-gap-{slug(point.name)}", f"Is there an air gap under {point.name}, so that no water is sucked back?",
            "", value, limit, "m", "at_least", verdict(value, limit, "at_least"), Rule(shop.source, mark=shop.mark),
            working=(step,), assumed=assumed,
        )  # fmt: skip


