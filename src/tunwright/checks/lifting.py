"""Lift axles: how much water may be aboard while they are up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from tunwright.build.fields import slug
from tunwright.build.shown import show_number as n
from tunwright.checks.fill_limit import fill_limit
from tunwright.checks.finding import Finding, Rule, Step, not_known, verdict
from tunwright.checks.load_limit import LoadLimit
from tunwright.truck.axles import Stance
from tunwright.truck.truck import Truck

RULE = Rule("every rating and rule set, with the axle up", mark="derived")


def lifting_findings(truck: Truck, limits: Sequence[LoadLimit]) -> Iterator[Finding]:
    """One finding for each choice of lifted axles.

    truck: the truck
    limits: the limits on its axle loads
    """
    for number, stance in enumerate(truck.axles.stances):
        if stance.lifted:
            yield _lifted(truck, [limit for limit in limits if limit.stance in (None, number)], number, stance)


def _lifted(truck: Truck, limits: Sequence[LoadLimit], number: int, stance: Stance) -> Finding:
    axles = [truck.axles.axle[i] for i in stance.lifted]
    key = "lifted-" + "-".join(slug(axle.name) for axle in axles)
    question = f"How much water may be aboard with {' and '.join(axle.called for axle in axles)} lifted?"
    if stance.shares is None:
        return not_known(key, question, RULE, "L", stance.missing, sense="at_least", limit=0.0)
    up = truck.sweep.only(np.array([s.stance == number for s in truck.sweep.states]))
    found = fill_limit(truck, limits, replace(up, states=tuple(replace(s, lifted=False) for s in up.states)))
    binds = next((limit.question for limit in limits if limit.key == found.binds), "no limit before the brim")
    litres = 1000.0 * found.water
    step = Step("first limit reached while filling", binds, "level and on grades", f"{n(litres)} L")
    held = verdict(litres, 0.0, "at_least")
    return Finding(key, question, "filling evenly", litres, 0.0, "L", "at_least", held, RULE, working=(step,))
