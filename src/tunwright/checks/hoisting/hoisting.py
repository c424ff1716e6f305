"""Lifting the tank on to the chassis: does it hang, how do the legs stand and pull, does it tilt; lugs and crane.

A build without a table [lifting] asks none of this.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

import numpy as np

from tunwright.build.lifting import Lifting
from tunwright.build.shown import show_number as n
from tunwright.checks.assumed import resting_on
from tunwright.checks.finding import Finding, Rule, Sense, Step, not_known, shop_rule, verdict
from tunwright.checks.hoisting.crane import crane_findings
from tunwright.checks.hoisting.lug import lug_findings
from tunwright.checks.hoisting.working import (
    against,
    hook_step,
    lacking,
    leg_step,
    pull_steps,
    tilt_steps,
    weight_steps,
)
from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.sling import FLATTEST
from tunwright.tables.read import shop_values
from tunwright.truck.hoisting import Hoisting, Hung
from tunwright.truck.truck import Truck

BALANCE = Rule("statics: a leg can only pull, so the weight acts between the eyes", mark="derived")
STEEP = Rule("EN 13414-1", "Table 4: legs up to 60° off the vertical", "2003, read in a copy of the table", "seen")
SLING = Rule("working load limit of one leg, from the sling's tag", mark="maker's")


def hoisting_findings(truck: Truck, assumed: Sequence[str], lifting: Lifting | None = None) -> Iterator[Finding]:
    """Findings about the lift, none where the build says nothing of it.

    truck: the truck
    assumed: paths of the assumed inputs
    lifting: the lift in place of the build's own, for trying a change
    """
    chosen = lifting or truck.build.lifting
    if chosen is None:
        return
    hoisting, rests = Hoisting(truck, chosen), resting_on(assumed, _reads(truck))
    yield _balance(hoisting, rests)
    yield _angle(hoisting, rests)
    yield _pull(hoisting, rests)
    yield _tilt(hoisting, rests)
    yield from lug_findings(hoisting, rests)
    yield from crane_findings(hoisting, rests)


def _reads(truck: Truck) -> list[str]:
    """Patterns of the inputs that weights and places on the hook rest on."""
    items = [rf"item\[{i + 1}\]\." for i, item in enumerate(truck.build.item) if item.on == "tank"]
    return [r"tank\.", r"lifting\.", *items, *([r"subframe\."] if truck.build.subframe else [])]


def _worst(hoisting: Hoisting, of: Callable[[Hung], float]) -> tuple[Hung, float]:
    """The lift that has the greatest of something, of those that hang, and how much that is."""
    worst = max(hoisting.hung, key=of)
    return worst, of(worst)


def _found(
    key: str,
    question: str,
    state: str,
    value: float,
    limit: float,
    unit: str,
    rule: Rule,
    steps: Sequence[Step],
    rests: tuple[str, ...],
    *,
    sense: Sense = "at_most",
) -> Finding:
    held = verdict(value, limit, sense)
    return Finding(key, question, state, value, limit, unit, sense, held, rule, working=tuple(steps), assumed=rests)


def _balance(hoisting: Hoisting, rests: tuple[str, ...]) -> Finding:
    key, question = "hoist-balance", "Does the tank hang between its eyes?"
    worst = min(hoisting.lifts, key=lambda lift: lift.room)
    if not hoisting.known:
        return not_known(key, question, BALANCE, "m", ("lifting.leg_length",), sense="at_least", limit=0.0)
    step = Step(
        "line of the weight inside the eyes",
        "least distance to a line between eyes; of two eyes also the depth of the centre under them",
        "",
        f"{n(worst.room, 3)} m",
        "derived",
    )
    steps = (*weight_steps(hoisting, worst), hook_step(hoisting, worst), step)
    return _found(key, question, worst.name, worst.room, 0.0, "m", BALANCE, steps, rests, sense="at_least")


def _angle(hoisting: Hoisting, rests: tuple[str, ...]) -> Finding:
    key, question = "hoist-angle", "Do the legs of the sling stand steep enough?"
    limit = round(math.degrees(FLATTEST), 9)
    missing = lacking(hoisting)
    if missing:
        return not_known(key, question, STEEP, "deg", missing, limit=limit)
    lift, value = _worst(hoisting, lambda one: math.degrees(float(one.hanging.angle.max())))
    leg = int(np.argmax(lift.hanging.angle))
    steps = (*weight_steps(hoisting, lift), hook_step(hoisting, lift), leg_step(hoisting, lift, leg))
    return _found(key, question, f"{lift.name}, {hoisting.names[leg]}", value, limit, "deg", STEEP, steps, rests)


def _pull(hoisting: Hoisting, rests: tuple[str, ...]) -> Finding:
    key, question = "hoist-pull", "Does every leg of the sling carry its pull?"
    rating, missing = hoisting.lifting.leg_rating, lacking(hoisting)
    limit = None if rating is None else float(rating)
    if missing:
        return not_known(key, question, SLING, "kg", missing, limit=limit)
    lift, value = _worst(hoisting, lambda one: float(hoisting.pulls(one).max()) / GRAVITY)
    if rating is None:
        note = f"The greatest pull of a leg is {n(value)} kg; a sling with legs of at least as much would do."
        return not_known(key, question, SLING, "kg", ("lifting.leg_rating",), note=note)
    leg = int(np.argmax(hoisting.pulls(lift)))
    steps = (
        *weight_steps(hoisting, lift),
        hook_step(hoisting, lift),
        *pull_steps(hoisting, lift, leg),
        against(value, float(rating), "kg"),
    )
    state = f"{lift.name}, {hoisting.names[leg]}"
    return _found(key, question, state, value, float(rating), "kg", SLING, steps, rests)


def _tilt(hoisting: Hoisting, rests: tuple[str, ...]) -> Finding:
    key, question, usual = "hoist-tilt", "Does the tank hang level enough to be set down?", shop_values()["hoist_tilt"]
    rule, missing = shop_rule("hoist_tilt"), lacking(hoisting)
    if missing:
        return not_known(key, question, rule, "deg", missing, limit=usual.value)
    lift, value = _worst(hoisting, lambda one: math.degrees(one.hanging.tilt))
    steps = (*weight_steps(hoisting, lift), hook_step(hoisting, lift), *tilt_steps(lift))
    return _found(key, question, lift.name, value, usual.value, "deg", rule, steps, rests)
