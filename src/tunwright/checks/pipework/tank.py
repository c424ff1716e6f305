"""The tank while it fills and empties: overflow, vents, air gap."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.fields import slug
from tunwright.build.pipework import Duty, Overflow, Point
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, not_known, verdict
from tunwright.checks.pipework.worked import LITRES_A_MINUTE, Worked, at
from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.pipe_network import NoFlow
from tunwright.handbook.pipe_parts import PipeRun
from tunwright.handbook.venting import orifice_difference, thermal_in, thermal_out, vacuum, vent_area
from tunwright.handbook.water import air_density
from tunwright.tables.pipes import PipeSize, pipe_size, sizes
from tunwright.tables.read import shop_value, shop_values
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import Plumbing, fittings_loss

BRIMS = Rule("the overflow passes all that comes in, at the height of water that is allowed", mark="derived")
_WEIR, _ORIFICE = 1.7, 0.6
"""Flow over a rim, Q = 1.7 b h^1.5 (broad crest) [m0.5/s], and coefficient of a drowned mouth [-]; from memory."""

_WAYS = (
    ("over its rim", "1.7 π D h^1.5", "broad crest, from memory"),
    ("through its drowned mouth", "0.6 A √(2 g h)", "orifice, from memory"),
    ("through the pipe", "(f L / D + ΣK + 1.5) v² / 2g = drop + h", "Darcy-Weisbach"),
)
_WARM = 288.15  # air in the tank [K]
_NORMAL = 273.15, 101325.0  # what thermal breathing is counted at [K], [Pa]
_SUN, _RAIN = 0.32, 4.0
"""Factors of thermal breathing out and in, Y and C [-]: below 42 degrees of latitude, which is the worst, for a liquid
below 25 C that does not boil off; from memory."""

_BREATHING = "API 2000, 7th ed. = ISO 28300, bare tank below 42° of latitude, water below 25 °C; factors from memory"
Rate = tuple[float, DutyState, Worked, int]  # air [m3/s], when, of which duty, through which compartment


def tank_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about overflow, vents and air gap.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    count = range(len(plumbing.truck.solid.compartments))
    rates = [(-state.of_part(i), state, one, i) for one in worked for state in one.states for i in count]
    into, out = [row for row in rates if row[0] > 0.0], [(-q, s, one, i) for q, s, one, i in rates if q < 0.0]
    if into:
        yield from _overflow(plumbing, worked, assumed)
        yield _vent(plumbing, into, assumed, breathes="out")
        yield from _gaps(plumbing, assumed)
    if out:
        yield _vent(plumbing, out, assumed, breathes="in")


def overflow_flow(plumbing: Plumbing, size: PipeSize, head: float) -> float:
    """What an overflow passes [m3/s]: over its rim, through its drowned mouth, or the pipe full, whichever is least.

    Its pipe is not counted on to suck: no more fall drives it than from the lip to its end.

    plumbing: the pipework; it has an overflow
    size: the pipe
    head: water over the lip [m]
    """
    return min(overflow_ways(plumbing, size, head))


def overflow_ways(plumbing: Plumbing, size: PipeSize, head: float) -> tuple[float, float, float]:
    """What the rim, the drowned mouth and the pipe of an overflow each pass [m3/s].

    plumbing: the pipework; it has an overflow
    size: the pipe
    head: water over the lip [m]
    """
    pipe = plumbing.work.overflow
    if pipe is None:
        return 0.0, 0.0, 0.0
    over_rim = _WEIR * math.pi * size.inside * head**1.5
    drowned = _ORIFICE * 0.25 * math.pi * size.inside**2 * math.sqrt(2.0 * GRAVITY * head)
    k = 1.5 + fittings_loss(pipe.fittings, size.inside)
    run = PipeRun(float(pipe.length), size.inside, size.roughness, k, plumbing.liquid.viscosity)
    drop = min(float(pipe.length), float(pipe.drop or pipe.length)) + head
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if run.loss(middle)[0] < drop else (low, middle)
    return float(over_rim), float(drowned), float(low)


def _wide(duty: Duty) -> Duty:
    """A duty with its throttled valves wide open, as somebody may leave them."""
    return duty.model_copy(update={"open": [*duty.open, *(one.valve for one in duty.throttled)], "throttled": []})


def _fastest(plumbing: Plumbing, worked: Sequence[Worked]) -> tuple[float, str]:
    """The most that comes into one compartment [m3/s], with throttled valves wide open, and when."""
    found = [(0.0, "")]
    for one in worked:
        try:
            state = DutyState(plumbing, _wide(one.duty), 1.0)
        except NoFlow:
            continue
        wide = ", its valves wide open" if one.duty.throttled else ""
        flow = max(-state.of_part(i) for i in range(len(plumbing.truck.solid.compartments)))
        found.append((flow, f"{one.duty.name}{wide}"))
    return max(found)


def _overflow(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Whether the overflow of a compartment passes the fastest filling of it."""
    key, question = "overflow", "Does the overflow pass all that the fastest filling brings?"
    flow, words = _fastest(plumbing, worked)
    if flow <= 0.0:
        return
    pipe, limit = plumbing.work.overflow, LITRES_A_MINUTE * flow
    if pipe is None:
        yield not_known(key, question, BRIMS, "L/min", ("pipework.overflow",), sense="at_least", limit=limit)
        return
    size, head = pipe_size(pipe.series, pipe.size), float(pipe.head)
    value = LITRES_A_MINUTE * overflow_flow(plumbing, size, head)
    judged = verdict(value, limit, "at_least")
    at_lip = f"{pipe.size}, {n(1000 * head)} mm over the lip"
    steps = tuple(
        Step(what, formula, at_lip, f"{n(LITRES_A_MINUTE * passes)} L/min", source)
        for (what, formula, source), passes in zip(_WAYS, overflow_ways(plumbing, size, head), strict=True)
    )
    yield Finding(
        key, question, words, value, limit, "L/min", "at_least", judged, BRIMS, working=steps, assumed=assumed,
        remedy=Remedy(_larger(plumbing, pipe, flow, value)) if judged == "fails" else None,
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
        normal = thermal_in(tank_volume=volume, latitude_factor=_RAIN)
    else:
        normal = thermal_out(tank_volume=volume, latitude_factor=_SUN)
    return float(normal) * air_density(*_NORMAL) / air_density(_WARM, liquid.air)


def _vent(plumbing: Plumbing, rates: Sequence[Rate], assumed: tuple[str, ...], *, breathes: str) -> Finding:
    """Pressure difference that the vents of a compartment need for the air that goes in or out of it."""
    word, harm = ("emptying", "sucked in") if breathes == "in" else ("filling", "blown up")
    question = f"Do the vents let enough air {breathes} at the fastest {word}, so that the tank is not {harm}?"
    own, shop = plumbing.work.vacuum, shop_values()["tank_vacuum"]
    limit = shop_value("tank_vacuum") if own is None else float(own)
    rule = Rule(shop.source, mark=shop.mark) if own is None else Rule("the tank's weakest panel", mark="the build's")
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
    formula = f"{n(_RAIN)} V^0.7" if breathes == "in" else f"{n(_SUN, 2)} V^0.9"
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


def _gaps(plumbing: Plumbing, assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The air gap of each mouth that something ends in."""
    work = plumbing.work
    ends = {one.start for one in work.run} | {one.end for one in work.run}
    ends |= {one.start for one in work.relief} | {one.end for one in work.relief}
    for point in work.point:
        if point.mouth and point.name in ends:
            yield _gap(plumbing, point, assumed)


def air_gap(plumbing: Plumbing, point: Point) -> tuple[float, float]:
    """Air between a mouth and the highest water there can be, and the least it must be [m].

    plumbing: the pipework
    point: a mouth
    """
    bores = [plumbing.size(run).inside for run in plumbing.work.run if point.name in (run.start, run.end)]
    least = max(shop_value("air_gap_bores") * max(bores, default=0.0), shop_value("air_gap_least"))
    return float(point.height or 0.0) - highest_water(plumbing), least


def highest_water(plumbing: Plumbing) -> float:
    """Height above the ground of the highest water there can be: over the lip, or the roof where there is no lip [m].

    plumbing: the pipework
    """
    lip = plumbing.tank.lip()
    if lip is None:
        return plumbing.tank.roof()
    return lip + (0.0 if plumbing.work.overflow is None else float(plumbing.work.overflow.head))


def _gap(plumbing: Plumbing, point: Point, assumed: tuple[str, ...]) -> Finding:
    lip = plumbing.tank.lip()
    words, shop = "overflow lip" if lip is not None else "roof of the tank", shop_values()["air_gap_bores"]
    highest = plumbing.tank.roof() if lip is None else lip
    (value, limit), over = air_gap(plumbing, point), highest_water(plumbing) - highest
    values = f"{n(1000 * float(point.height or 0.0))} - {n(1000 * highest)} - {n(1000 * over)} mm"
    step = Step("air gap", f"mouth - {words} - water over the lip", values, f"{n(1000 * value)} mm")
    return Finding(
        f"air-gap-{slug(point.name)}", f"Is there an air gap under {point.name}, so that no water is sucked back?", "",
        value, limit, "m", "at_least", verdict(value, limit, "at_least"), Rule(shop.source, mark=shop.mark),
        working=(step,), remedy=Remedy(f"raise its mouth by {n(1000 * (limit - value))} mm") if value < limit else None,
        assumed=assumed,
    )  # fmt: skip
