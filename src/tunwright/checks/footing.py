"""Standing on all wheels: tyres whose rating is known, and no axle that lifts off, level or on a grade."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from tunwright.checks.assumed import HEIGHTS, LOADS, resting_on
from tunwright.checks.finding import Finding, Rule, not_known, verdict
from tunwright.checks.load_limit import LoadLimit
from tunwright.checks.working import load_working
from tunwright.truck.truck import Truck

PUSH = Rule("statics: a wheel can only push", mark="derived")
KEY, QUESTION = "axles-down", "Does every axle stay on the ground, level and on grades?"


def footing_findings(truck: Truck, assumed: Sequence[str]) -> Iterator[Finding]:
    """Findings about tyres that cannot be judged and axles that lift.

    truck: the truck
    assumed: paths of the assumed inputs
    """
    bare = tuple(f"chassis.axle[{i + 1}].tyre_rating" for i, a in enumerate(truck.axles.axle) if a.tyre_rating is None)
    if bare:
        question = "Are the tyres rated for the loads on them?"
        yield not_known("tyres", question, Rule("load rating of the tyres", mark="maker's"), "kg", bare)
    missing = tuple(dict.fromkeys(m for stance in truck.axles.stances for m in stance.missing))
    if missing:
        yield not_known(KEY, QUESTION, PUSH, "kg", missing, sense="at_least", limit=0.0)
        return
    yield _down(truck, assumed)


def _down(truck: Truck, assumed: Sequence[str]) -> Finding:
    """The axle that carries least in any state that is judged."""
    table = truck.table
    rows = np.array([i for i, s in enumerate(table.states) if s.judged and not s.slope and not s.braking])
    loads = table.axles[rows].copy()
    for k, row in enumerate(rows):
        loads[k, list(truck.axles.stances[table.states[row].stance].lifted)] = np.inf
    loads[~np.isfinite(loads)] = np.inf
    worst, axle = (int(v) for v in np.unravel_index(int(np.argmin(loads)), loads.shape))
    row, value = int(rows[worst]), float(loads[worst, axle])
    limit = LoadLimit(KEY, QUESTION, (axle,), "at_least", 0.0, None, "grades", PUSH)
    state = f"{truck.axles.axle[axle].called}, {table.states[row].words}"
    return Finding(
        KEY,
        QUESTION,
        state,
        value,
        0.0,
        "kg",
        "at_least",
        verdict(value, 0.0, "at_least"),
        PUSH,
        working=load_working(truck, limit, row, 1.0)[:-1],
        assumed=resting_on(assumed, LOADS + HEIGHTS),
    )
