"""The tank while it fills and empties: overflow, vents, air gap."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tunwright.checks.finding import Finding
from tunwright.checks.pipework.tank.air_gap import air_gap_findings
from tunwright.checks.pipework.tank.fastest import fillings
from tunwright.checks.pipework.tank.overflow import overflow_findings
from tunwright.checks.pipework.tank.vents import vent_finding
from tunwright.checks.pipework.worked import Worked
from tunwright.truck.pipework.plumbing import Plumbing


def tank_findings(plumbing: Plumbing, worked: Sequence[Worked], assumed: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about overflow, vents and air gap.

    plumbing: the pipework
    worked: the duties that were worked out
    assumed: paths of the assumed inputs
    """
    count = range(len(plumbing.truck.solid.compartments))
    rates = [(-state.of_part(i), state, one, i) for one in worked for state in one.states for i in count]
    into = [row for row in rates if row[0] > 0.0] + [row[:4] for row in fillings(plumbing, worked)]
    out = [(-q, s, one, i) for q, s, one, i in rates if q < 0.0]
    if into:
        yield from overflow_findings(plumbing, worked, assumed)
        yield vent_finding(plumbing, into, assumed, breathes="out")
        yield from air_gap_findings(plumbing, assumed)
    if out:
        yield vent_finding(plumbing, out, assumed, breathes="in")
