"""Room on the chassis: the gap behind the cab, the overhang behind the last axle, and the outer size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Rule, Sense, Step, not_known, shop_rule, verdict
from tunwright.checks.legal import dimension_limits
from tunwright.checks.legal_limit import DimensionLimit
from tunwright.checks.load_limit import law_axles
from tunwright.tables.read import rule_set, shop_value
from tunwright.truck.size import floor_over, outer_size, rear_group_centre
from tunwright.truck.truck import Truck

USUAL_RAIL = 0.38
"""Half the usual distance over the rails [m]; common practice, no source."""


@dataclass(frozen=True)
class PlaceLimit:
    """A limit on where the tank may stand: slope x + start <= limit, x the place of its middle.

    key: key of its finding
    """

    key: str
    slope: float
    start: float
    limit: float


def _shop_rule(key: str) -> tuple[float, Rule]:
    return shop_value(key), shop_rule(key)


def place_limits(truck: Truck) -> list[PlaceLimit]:
    """Limits on the place of the tank that its room sets.

    truck: the truck
    """
    found, middle, size = [], float(truck.build.tank.middle), outer_size(truck)
    cab = truck.build.chassis.cab.back
    if cab is not None:
        gap = shop_value("min_cab_gap")
        found.append(PlaceLimit("cab-gap", -1.0, middle - size.tank_front, -(float(cab) + gap)))
    most = _most_overhang(truck) + rear_group_centre(truck)
    if _frame_rear(truck) <= most:
        found.append(PlaceLimit("rear-overhang", 1.0, size.tank_rear - middle, most))
    return found


def space_findings(truck: Truck) -> Iterator[Finding]:
    """Findings about room and outer size.

    truck: the truck
    """
    yield _cab_gap(truck)
    yield _overhang(truck)
    yield _clear_of_frame(truck)
    yield _on_the_rails(truck)
    for name in truck.build.order.rules:
        for limit in dimension_limits(rule_set(name), law_axles(truck)[0]):
            yield _dimension(truck, limit)


def _cab_gap(truck: Truck) -> Finding:
    question = "Enough room between cab and tank?"
    least, rule = _shop_rule("min_cab_gap")
    back = truck.build.chassis.cab.back
    if back is None:
        return not_known("cab-gap", question, rule, "m", ("chassis.cab.back",), sense="at_least", limit=least)
    front = outer_size(truck).tank_front
    return _plain(
        "cab-gap",
        question,
        front - float(back),
        least,
        "at_least",
        rule,
        Step(
            "gap",
            "front of tank − back of cab",
            f"{n(front, 3)} − {n(float(back), 3)}",
            f"{n(front - float(back), 3)} m",
        ),
    )


def _clear_of_frame(truck: Truck) -> Finding:
    """The tank's floor over the rails against the top of the subframe, or of the rails where there is none."""
    question = "Does the tank stand clear of the frame?"
    rule = Rule("two things cannot stand in one place", mark="derived")
    frame, sub = truck.build.chassis.frame, truck.build.subframe
    if frame.top is None:
        return not_known("tank-over-frame", question, rule, "m", ("chassis.frame.top",), sense="at_least", limit=0.0)
    top = float(frame.top) + (float(sub.height) if sub is not None else 0.0)
    rail = 0.5 * float(frame.width) if frame.width is not None else USUAL_RAIL
    lowest = floor_over(truck, rail) - float(truck.build.tank.shell)
    steps = (
        Step("floor over the rails at its lowest, outside", "inside floor − shell", "", f"{n(lowest, 3)} m"),
        Step("top of what carries the tank", "rail + subframe", f"{n(float(frame.top), 3)} + …", f"{n(top, 3)} m"),
    )
    return _plain("tank-over-frame", question, lowest - top, 0.0, "at_least", rule, *steps)


def _on_the_rails(truck: Truck) -> Finding:
    """What carries the tank against the ends of the rails."""
    question = "Do the rails reach under all that carries the tank?"
    rule = Rule("common practice, no source", mark="common practice")
    frame, sub, tank = truck.build.chassis.frame, truck.build.subframe, truck.build.tank
    missing = tuple(f"chassis.frame.{end}" for end in ("front", "rear") if getattr(frame, end) is None)
    if frame.front is None or frame.rear is None:
        return not_known("on-the-rails", question, rule, "m", missing, limit=0.0)
    if sub is not None:
        front, rear, what = float(sub.start), float(sub.end), "subframe"
    else:
        half = 0.5 * float(tank.length)
        front, rear, what = float(tank.middle) - half, float(tank.middle) + half, "tank between its tangent lines"
    beyond = max(float(frame.front) - front, rear - float(frame.rear))
    values = f"{n(front, 3)} to {n(rear, 3)} m on rails from {n(float(frame.front), 3)} to {n(float(frame.rear), 3)} m"
    step = Step(f"{what} beyond the rails", "the farther of both ends", values, f"{n(beyond, 3)} m")
    return _plain("on-the-rails", question, beyond, 0.0, "at_most", rule, step)


def _most_overhang(truck: Truck) -> float:
    share = shop_value("max_rear_overhang_share")
    return share * rear_group_centre(truck)


def _frame_rear(truck: Truck) -> float:
    rear = truck.build.chassis.frame.rear
    return float("-inf") if rear is None else float(rear)


def _overhang(truck: Truck) -> Finding:
    share, rule = _shop_rule("max_rear_overhang_share")
    question = "Rear overhang in proportion to the wheelbase?"
    if truck.build.chassis.frame.rear is None:
        limit = _most_overhang(truck)
        return not_known("rear-overhang", question, rule, "m", ("chassis.frame.rear",), limit=limit)
    base, rear = rear_group_centre(truck), outer_size(truck).rear
    limit = share * base
    steps = (
        Step("wheelbase to the rear group's centre", "a", "", f"{n(base, 3)} m"),
        Step("overhang", "rearmost point − a", f"{n(rear, 3)} − {n(base, 3)}", f"{n(rear - base, 3)} m"),
        Step("limit", "share × a", f"{share:g} × {n(base, 3)}", f"{n(limit, 3)} m"),
    )
    return _plain("rear-overhang", question, rear - base, limit, "at_most", rule, *steps)


def _dimension(truck: Truck, limit: DimensionLimit) -> Finding:
    size, rule = outer_size(truck), Rule(limit.document, limit.clause, limit.edition, limit.mark)
    value, parts, missing = size.of(limit.dimension)
    key = f"{limit.rules}-{limit.key}"
    if missing:
        return not_known(key, limit.question, rule, "m", missing, limit=limit.value_m, note=limit.note)
    step = Step(f"overall {limit.dimension}", parts, "", f"{n(value, 3)} m")
    return _plain(key, limit.question, value, limit.value_m, "at_most", rule, step, note=limit.note)


def _plain(
    key: str, question: str, value: float, limit: float, sense: Sense, rule: Rule, *steps: Step, note: str = ""
) -> Finding:
    return Finding(
        key,
        question,
        "in every state",
        value,
        limit,
        "m",
        sense,
        verdict(value, limit, sense),
        rule,
        working=steps,
        note=note,
    )
