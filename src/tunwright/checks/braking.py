"""Braking: reported, and judged only against a maker's dynamic rating and that no axle lifts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from tunwright.build.fields import slug
from tunwright.build.shown import show_number as n
from tunwright.checks.assumed import HEIGHTS, LOADS, resting_on
from tunwright.checks.finding import Finding, Rule, Step, not_known, verdict
from tunwright.checks.load_limit import LoadLimit
from tunwright.checks.working import load_working
from tunwright.truck.truck import Truck

PUSH = Rule("statics: a wheel can only push", mark="derived")
TORQUE_NOTE = "Brake torques inside an axle group are not shared out; the group acts at its centre."


def braking_findings(truck: Truck, assumed: Sequence[str]) -> Iterator[Finding]:
    """Findings under braking, each bay keeping its water.

    truck: the truck
    assumed: paths of the assumed inputs
    """
    at = f"{truck.tried.braking:g} g"
    question = f"Does every axle stay down while braking at {at}?"
    rated = [(i, axle) for i, axle in enumerate(truck.axles.axle) if axle.dynamic_rating is not None]
    missing = tuple(dict.fromkeys(m for stance in truck.axles.stances for m in stance.missing))
    if truck.build.chassis.cg_height is None:
        missing = (*missing, "chassis.cg_height")
    if missing:
        yield not_known("braking-axles-down", question, PUSH, "kg", missing, sense="at_least", limit=0.0)
        for _, axle in rated:
            yield not_known(
                f"braking-axle-{slug(axle.name)}",
                f"Load on {axle.called} while braking within its dynamic rating?",
                Rule("dynamic rating of the chassis", mark="maker's"),
                "kg",
                missing,
                limit=float(axle.dynamic_rating or 0.0),
            )
        return
    mask = np.array([s.surface == "braked" for s in truck.table.states])
    rows = np.flatnonzero(mask)
    rests = resting_on(assumed, LOADS + HEIGHTS)
    yield _down(truck, rows, question, rests)
    for i, axle in rated:
        limit = LoadLimit(
            f"braking-axle-{slug(axle.name)}",
            f"Load on {axle.called} while braking within its dynamic rating?",
            (i,),
            "at_most",
            float(axle.dynamic_rating or 0.0),
            None,
            "grades",
            Rule("dynamic rating of the chassis", mark="maker's"),
        )
        row = int(rows[np.argmax(truck.table.axles[rows, i])])
        yield _found(truck, limit, row, rests)


def _down(
    truck: Truck, rows: np.ndarray[tuple[int], np.dtype[np.intp]], question: str, rests: tuple[str, ...]
) -> Finding:
    loads = truck.table.axles[rows].copy()
    for k, row in enumerate(rows):
        loads[k, list(truck.axles.stances[truck.table.states[row].stance].lifted)] = np.inf
    worst, axle = (int(v) for v in np.unravel_index(int(np.argmin(loads)), loads.shape))
    limit = LoadLimit("braking-axles-down", question, (axle,), "at_least", 0.0, None, "grades", PUSH)
    found = _found(truck, limit, int(rows[worst]), rests)
    return found


def _found(truck: Truck, limit: LoadLimit, row: int, rests: tuple[str, ...]) -> Finding:
    """The finding of a limit in one braking state, with still and levelled water beside it."""
    state = truck.table.states[row]
    value = float(truck.table.axles[row, limit.axles[0]])
    bound = float(limit.kg or 0.0)
    beside = _beside(truck, row, limit.axles[0])
    against = Step("against the limit", "load, limit", "", f"{n(value)} kg, {n(bound)} kg")
    steps = (*load_working(truck, limit, row, max(bound, 1e-9))[:-1], *beside, against)
    return Finding(
        limit.key,
        limit.question,
        f"{truck.axles.axle[limit.axles[0]].called}, {state.words}",
        value,
        bound,
        "kg",
        limit.sense,
        verdict(value, bound, limit.sense),
        limit.rule,
        working=steps,
        assumed=rests,
        note=TORQUE_NOTE,
    )


def _beside(truck: Truck, row: int, axle: int) -> Iterator[Step]:
    """The same state with the water frozen, and with it levelled through all bays."""
    state = truck.table.states[row]
    for surface, words in (
        ("frozen", "with the water frozen"),
        ("levelled", "with the water levelled through all bays"),
    ):
        for other, load in zip(truck.table.states, truck.table.axles, strict=True):
            same = (other.sort, other.fill, other.brim, other.crew, other.stance) == (
                state.sort,
                state.fill,
                state.brim,
                state.crew,
                state.stance,
            )
            if same and other.surface == surface:
                yield Step(words, "for comparison", "", f"{n(float(load[axle]))} kg")
