"""Side to side: how far the load stands off the middle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from tunwright.build.shown import show_number as n
from tunwright.checks.assumed import HEIGHTS, LOADS, resting_on
from tunwright.checks.finding import Finding, Rule, Step, not_known, shop_rule, verdict
from tunwright.tables.read import shop_values
from tunwright.truck.truck import Truck

KEY = "side-to-side"
QUESTION = "Does the vehicle stand evenly on its left and right wheels?"


def side_findings(truck: Truck, assumed: Sequence[str]) -> Iterator[Finding]:
    """The difference between the heavier and the lighter side, standing level.

    truck: the truck
    assumed: paths of the assumed inputs
    """
    usual = shop_values()["side_to_side_difference"]
    rule = shop_rule("side_to_side_difference")
    tracks = [axle.track for axle in truck.axles.axle]
    missing = tuple(f"chassis.axle[{i + 1}].track" for i, track in enumerate(tracks) if track is None)
    if missing:
        yield not_known(KEY, QUESTION, rule, "share", missing, limit=usual.value)
        yield _slope(truck, missing, assumed)
        return
    level = truck.table.only(np.array([s.level for s in truck.table.states]))
    total = level.axles.sum(axis=1)
    track = level.axles @ np.array([float(t or 0.0) for t in tracks]) / np.where(np.isfinite(total), total, np.nan)
    if not np.isfinite(track).any():
        yield not_known(KEY, QUESTION, rule, "share", truck.axles.stances[0].missing, limit=usual.value)
        return
    off = np.abs(level.centre[:, 1])
    part = 2.0 * off / track
    worst = int(np.nanargmax(part))
    side = "right" if level.centre[worst, 1] > 0 else "left"
    steps = (
        Step(
            "centre of gravity off the middle",
            "sum of m y / sum of m",
            f"to the {side}",
            f"{n(1000 * float(off[worst]), 1)} mm",
        ),
        Step("track, weighted with the axle loads", "T", "", f"{n(float(track[worst]), 3)} m"),
        Step(
            "difference of the sides as part of the whole",
            "2 y / T",
            f"2 × {n(float(off[worst]), 4)} / {n(float(track[worst]), 3)}",
            f"{100 * float(part[worst]):.2f} %",
            "statics, the frame taken as stiff in twist",
        ),
    )
    value = float(part[worst])
    yield _slope(truck, missing, assumed)
    yield Finding(
        KEY,
        QUESTION,
        f"{level.states[worst].words}, {side} side heavier",
        value,
        usual.value,
        "share",
        "at_most",
        verdict(value, usual.value, "at_most"),
        rule,
        working=steps,
        assumed=resting_on(assumed, (*LOADS, r"item\[\d+\]\.y")),
    )


def _slope(truck: Truck, missing: tuple[str, ...], assumed: Sequence[str]) -> Finding:
    """What is left on the wheels of the upper side on the tried side slope, springs and tyres taken as stiff."""
    slope = truck.tried.side_slope
    question = f"Do the wheels of the upper side stay down on a side slope of {n(100 * slope, 1)} %?"
    rule = Rule(
        "statics of a stiff vehicle; springs and tyres lower it, and roll-over is a question of its own", mark="derived"
    )
    if truck.build.chassis.cg_height is None:
        missing = (*missing, "chassis.cg_height")
    leaning = truck.table.only(np.array([bool(s.slope) and s.judged for s in truck.table.states], dtype=bool))
    total = leaning.axles.sum(axis=1)
    if missing or not leaning.states or not np.isfinite(total).any():
        return not_known(
            "side-slope",
            question,
            rule,
            "share",
            missing or truck.axles.stances[0].missing,
            sense="at_least",
            limit=0.0,
        )
    track = leaning.axles @ np.array([float(a.track or 0.0) for a in truck.axles.axle]) / total
    tan = np.array([s.slope for s in leaning.states])
    upper = 0.5 + (leaning.centre[:, 1] * np.sign(tan) - leaning.centre[:, 2] * np.abs(tan)) / track
    worst = int(np.nanargmin(upper))
    y, h, t = float(leaning.centre[worst, 1]), float(leaning.centre[worst, 2]), float(track[worst])
    value = float(upper[worst])
    given = f"y = {n(1000 * y)} mm, h = {n(h, 3)} m, tan = {n(slope, 3)}, T = {n(t, 3)} m"
    formula = "1/2 + (y − h tan) / T, y towards the upper side"
    step = Step("part of the load on the upper side", formula, given, f"{n(100 * value, 1)} %")
    return Finding(
        "side-slope",
        question,
        leaning.states[worst].words,
        value,
        0.0,
        "share",
        "at_least",
        verdict(value, 0.0, "at_least"),
        rule,
        working=(step,),
        assumed=resting_on(assumed, (*LOADS, *HEIGHTS)),
    )
