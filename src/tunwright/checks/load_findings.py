"""Findings about axle loads: each limit judged in every state it applies to, the worst state named and worked out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from tunwright.checks.assumed import HEIGHTS, LOADS, MASSES, resting_on
from tunwright.checks.finding import Finding, verdict
from tunwright.checks.load_limit import LoadLimit
from tunwright.checks.working import load_working
from tunwright.truck.truck import Truck

Floats = NDArray[np.float64]
MIDDLE = 0.001
"""A centre of gravity nearer to the middle than this stands in it [m]."""


def load_findings(truck: Truck, limits: Sequence[LoadLimit], assumed: Sequence[str]) -> Iterator[Finding]:
    """One finding for each limit.

    truck: the truck
    limits: the limits
    assumed: paths of the assumed inputs
    """
    for limit in limits:
        yield _judged(truck, limit, assumed)


def _judged(truck: Truck, limit: LoadLimit, assumed: Sequence[str]) -> Finding:
    rows, table = limit.part(truck.table)
    values, bounds = limit.value(table), limit.limit(table, track_of(truck, limit))
    missing = _missing(truck, limit)
    if missing and not np.isfinite(values).any():
        return _open(limit, missing)
    worst = worst_state(limit, values, bounds)
    share = limit.share is not None
    total = float(table.axles[worst].sum())
    value = float(values[worst]) / total if share else float(values[worst])
    bound = limit.share if share else float(bounds[worst])
    found = verdict(value, bound, limit.sense)
    if found != "fails" and missing:
        found = "open"
    patterns = _reads(limit)
    return Finding(
        limit.key,
        limit.question,
        table.states[worst].words,
        value,
        None if bound is None else float(bound),
        "share" if share else "kg",
        limit.sense,
        found,
        limit.rule,
        working=load_working(truck, limit, int(rows[worst]), float(bounds[worst])),
        assumed=resting_on(assumed, patterns),
        missing=missing,
        note=limit.note,
    )


def track_of(truck: Truck, limit: LoadLimit) -> float | None:
    """Track of the axle of a limit on its heavier side [m].

    truck: the truck
    limit: the limit
    """
    track = truck.axles.axle[limit.axles[0]].track
    return float(track) if limit.sided and track is not None else None


def worst_state(limit: LoadLimit, values: Floats, bounds: Floats) -> int:
    """Index of the state with the least room to the limit, as a share of the limit.

    limit: the limit
    values: value in each state [kg]
    bounds: limit in each state [kg]
    """
    room = (bounds - values if limit.sense == "at_most" else values - bounds) / np.maximum(np.abs(bounds), 1e-9)
    return int(np.argmin(np.where(np.isfinite(room), room, np.inf)))


def _reads(limit: LoadLimit) -> tuple[str, ...]:
    """Patterns of the inputs a limit and its loads rest on."""
    if limit.on_gross:
        return (*MASSES, r"chassis\.gross_rating")
    numbers = "|".join(str(i + 1) for i in limit.axles)
    own = rf"chassis\.axle\[({numbers})\]\.(rating|tyre_rating|track)" if limit.sided or len(limit.axles) == 1 else ""
    rules = (r"chassis\.group\[\d+\]\.rating", r"chassis\.(front|driven)_share")
    return tuple(p for p in (*LOADS, *(HEIGHTS if limit.where == "grades" else ()), own, *rules) if p)


def _missing(truck: Truck, limit: LoadLimit) -> tuple[str, ...]:
    """Inputs without which the limit cannot be judged in every state."""
    found = list(limit.missing)
    if not limit.on_gross:
        for number, stance in enumerate(truck.axles.stances):
            if limit.stance in (None, number):
                found.extend(stance.missing)
    if limit.where == "grades" and truck.build.chassis.cg_height is None:
        found.append("chassis.cg_height")
    off = np.abs(truck.table.centre[:, 1]).max()
    if limit.sided and track_of(truck, limit) is None and off > MIDDLE:
        found.append(f"chassis.axle[{limit.axles[0] + 1}].track")
    return tuple(dict.fromkeys(found))


def _open(limit: LoadLimit, missing: tuple[str, ...]) -> Finding:
    share = limit.share is not None
    return Finding(
        limit.key,
        limit.question,
        "",
        None,
        limit.share if share else limit.kg,
        "share" if share else "kg",
        limit.sense,
        "open",
        limit.rule,
        missing=missing,
        note=limit.note,
    )
