"""The overflow: does it pass the fastest filling at the height of water that is allowed?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.pipework import Overflow
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, not_known, verdict
from tunwright.checks.pipework.tank.fastest import fillings
from tunwright.checks.pipework.tank.panel import panel_bears
from tunwright.checks.pipework.worked import Worked
from tunwright.tables.pipes import pipe_size, sizes
from tunwright.truck.pipework.overflow import overflow_flow, overflow_ways
from tunwright.truck.pipework.plumbing import Plumbing

BRIMS = Rule("the overflow passes all that comes in, at the height of water that is allowed", mark="derived")
_WAYS = (
    ("over its rim", "1.7 π D h^1.5", "broad crest, from memory"),
    ("through its drowned mouth", "0.6 A √(2 g h)", "orifice, from memory"),
    ("through the pipe", "(f L / D + ΣK + 1.5) v² / 2g = drop + h", "Darcy-Weisbach"),
)


def overflow_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Whether the overflow of a compartment passes the fastest filling of it.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    key, question = "overflow", "Does the overflow pass all that the fastest filling brings?"
    rows = fillings(plumbing, worked)
    if not rows:
        return
    flow, _, one, _, how = max(rows, key=lambda row: row[0])
    words = f"{one.duty.name}{how}"
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
    yield _on_roof(plumbing, pipe, assumed)
    yield Finding(
        key, question, words, value, limit, "L/min", "at_least", judged, BRIMS, working=steps, assumed=assumed,
        remedy=Remedy(_larger(plumbing, pipe, flow, value)) if judged == "fails" else None,
    )  # fmt: skip


def _room(plumbing: Plumbing) -> float:
    """From the overflow lip up to the roof [m]; nothing where there is no lip."""
    lip = plumbing.tank.lip()
    return plumbing.tank.roof() - lip if lip is not None else 0.0


def _on_roof(plumbing: Plumbing, pipe: Overflow, assumed: tuple[str, ...]) -> Finding:
    """Pressure under the roof with the water as high over the lip as is allowed."""
    room, (limit, rule), head = _room(plumbing), panel_bears(plumbing), float(pipe.head)
    value = plumbing.liquid.pressure(max(0.0, head - room)) / 1e3
    over = f"{n(1000 * head)} mm over the lip, {n(1000 * room)} mm up to the roof"
    step = Step("pressure under the roof", "ρ g (head - room)", over, f"{n(value, 3)} kPa")
    judged = verdict(value, limit / 1e3, "at_most")
    most = room + plumbing.liquid.head(limit)
    remedy = Remedy(f"allow no more than {n(math.floor(1000 * most))} mm over the lip, or set the lip lower")
    return Finding(
        "overflow-roof", "Does the roof bear the water that stands over the lip?", "", value, limit / 1e3, "kPa",
        "at_most", judged, rule, working=(step,), remedy=remedy if judged == "fails" else None, assumed=assumed,
    )  # fmt: skip


def _larger(plumbing: Plumbing, pipe: Overflow, flow: float, passes: float) -> str:
    """The smallest size that would do, else a height over the lip at which this one does and that the roof bears."""
    head, fill = float(pipe.head), f"or fill no faster than {n(passes)} L/min"
    for other in sizes(pipe.series):
        found = overflow_flow(plumbing, other, head)
        if found >= flow:
            return f"make the overflow {other.name}, which passes {n(LITRES_A_MINUTE * found)} L/min, {fill}"
    mine, most = pipe_size(pipe.series, pipe.size), _room(plumbing) + plumbing.liquid.head(panel_bears(plumbing)[0])
    tried = range(10, int(1000 * most) + 1, 5)
    higher = next((mm for mm in tried if overflow_flow(plumbing, mine, mm / 1000) >= flow), None)
    if higher is None:
        last = sizes(pipe.series)[-1]
        largest = f"{last.name}, the largest, passes {n(LITRES_A_MINUTE * overflow_flow(plumbing, last, head))} L/min"
        return f"{fill[3:]}; {largest}, so it takes two overflows"
    return f"allow {higher} mm of water over the lip, {fill}"
