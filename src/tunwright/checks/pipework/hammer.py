"""Water hammer: does the pipework bear it when a valve closes fast?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.factors import BAR, LITRES_A_MINUTE
from tunwright.build.pipework import Valve
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Step, verdict
from tunwright.checks.pipework.bears import bears
from tunwright.checks.pipework.changed_duty import with_shut
from tunwright.checks.pipework.worked import Worked, at
from tunwright.handbook.pipe_network import NoFlow
from tunwright.handbook.water import BULK_MODULUS
from tunwright.handbook.water_hammer import joukowsky, reflection_time, slow_closing, wave_speed
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.plumbing import ONE_WAY, Plumbing

_QUICK = ("ball valve", "butterfly valve")  # a quarter of a turn shuts them
_LEAST = 0.02  # slower water makes no hammer worth a word [m/s]
_SHORTEST = 0.1  # column of water a wave runs along at least [m]


def hammer_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The valve whose closing raises the pressure most, on top of what stood or then stands before it.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    rows = [
        (_risen(plumbing, valve, state), valve, state, one)
        for valve in plumbing.work.valve
        if valve.kind not in ONE_WAY and _time(valve) is not None
        for one in worked
        for state in (one.states[0], one.states[-1])
        if abs(state.velocity(valve.on)) > _LEAST
    ]
    if not rows:
        return
    value, valve, state, one = max(rows, key=lambda row: row[0])
    (limit, rule), speed, column = bears(plumbing, [valve.on]), _wave(plumbing, valve), _column(state, valve.on)
    back = 1e3 * reflection_time(length=column, wave_speed=speed)
    taken = "" if valve.closes_in is not None else ", taken for a hand"
    flow = f"{n(LITRES_A_MINUTE * abs(state.flow(valve.on)))} L/min in {n(_time(valve) or 0.0, 2)} s{taken}"
    steps = (
        Step("wave speed", "√(K/ρ / (1 + K D / E t))", plumbing.runs[valve.on].size, f"{n(speed)} m/s", "Korteweg"),
        Step("wave comes back", "2 L / a, L to the pump, tank or main", f"{n(column, 1)} m", f"{n(back, 1)} ms"),
        Step("pressure", "p + ρ a Δv, less where it closes slowly", flow, f"{n(value / BAR, 2)} bar", "Joukowsky"),
        *_supply(plumbing, state),
    )
    yield Finding(
        "hammer", "Does the pipework bear the hammer of the valves that close fast?", f"{valve.name}: {at(one, state)}",
        value / BAR, limit / BAR, "bar", "at_most", verdict(value / BAR, limit / BAR, "at_most"), rule, working=steps,
        assumed=assumed,
    )  # fmt: skip


def _supply(plumbing: Plumbing, state: DutyState) -> Iterator[Step]:
    """A word on the hose that leads to a hydrant, where the wave runs on into it."""
    drawn = [one.name for one in plumbing.work.point if one.hydrant is not None and state.drawn(one.name) > 0.0]
    if drawn and state.pump is None:
        yield Step("not in it", "the supply hose: a long one of stiff pipe makes the hammer greater", drawn[0], "")


def _time(valve: Valve) -> float | None:
    """Time a valve closes in [s]: as stated, a hand's turn for a quarter-turn valve, None for one that takes long."""
    if valve.closes_in is not None:
        return float(valve.closes_in)
    return shop_value("hand_closes_in") if valve.kind in _QUICK else None


def _wave(plumbing: Plumbing, valve: Valve) -> float:
    size, density = plumbing.size(plumbing.runs[valve.on]), plumbing.liquid.density
    wall = {"diameter": size.inside, "thickness": size.wall, "young": size.made.young}
    return float(wave_speed(bulk_modulus=BULK_MODULUS, density=density, **wall))


def _column(state: DutyState, run: str) -> float:
    """Length of the water behind a valve, back to pump, tank, main or open water [m]."""
    work, here, length = state.plumbing.work, state.before(run), float(state.plumbing.runs[run].length)
    ends = set(state.plumbing.given(state.fill)) | {one.name for one in work.point if one.hydrant is not None}
    ends |= {work.pump.end} if work.pump is not None else set()
    seen = {run}
    while here not in ends:
        into = [one.name for one in work.run if one.name not in seen and here == state.behind(one.name)]
        if not into:
            break
        seen.add(max(into, key=lambda name: abs(state.flow(name))))
        run = max(into, key=lambda name: abs(state.flow(name)))
        length, here = length + float(state.plumbing.runs[run].length), state.before(run)
    return max(length, _SHORTEST)


def _risen(plumbing: Plumbing, valve: Valve, state: DutyState) -> float:
    """Pressure before a valve that closes [Pa]: the hammer on what stood there, or on what then stands if that is more.

    Most of the flow is stopped in the last part of its travel, so only that part of the time counts.
    """
    speed, time, here = _wave(plumbing, valve), _time(valve) or 0.0, state.before(valve.on)
    change = {"density": plumbing.liquid.density, "wave_speed": speed, "velocity_change": abs(state.velocity(valve.on))}
    length, time = _column(state, valve.on), time * shop_value("closing_last_part")
    if time <= reflection_time(length=length, wave_speed=speed):
        rise = float(joukowsky(**change))
    else:
        rise = float(slow_closing(**change, length=length, closing_time=time))
    return max(0.0, state.pressure(here), _then(plumbing, valve, state, here)) + rise


def _then(plumbing: Plumbing, valve: Valve, state: DutyState, here: str) -> float:
    """Pressure that stands before a valve once it is shut [Pa]."""
    try:
        found = DutyState(plumbing, with_shut(state.duty, valve.name), state.fill, state).pressure(here)
    except NoFlow:
        return 0.0
    return 0.0 if math.isnan(found) else found
