"""Room on the chassis: the gap behind the cab, the overhang behind the last axle, and the outer size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Rule, Sense, Step, not_known, verdict
from tunwright.checks.legal import dimension_limits
from tunwright.checks.legal_limit import DimensionLimit
from tunwright.checks.load_limit import law_axles
from tunwright.tables.read import rule_set, shop_values
from tunwright.truck.size import outer_size, rear_group_centre
from tunwright.truck.truck import Truck


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
    found = shop_values()[key]
    return found.value, Rule(found.source, mark=found.mark)


def place_limits(truck: Truck) -> list[PlaceLimit]:
    """Limits on the place of the tank that its room sets.

    truck: the truck
    """
    found, middle, size = [], float(truck.build.tank.middle), outer_size(truck)
    cab = truck.build.chassis.cab.back
    if cab is not None:
        gap = shop_values()["min_cab_gap"].value
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


def _most_overhang(truck: Truck) -> float:
    share = shop_values()["max_rear_overhang_share"].value
    return share * rear_group_centre(truck)


def _frame_rear(truck: Truck) -> float:
    rear = truck.build.chassis.frame.rear
    return float("-inf") if rear is None else float(rear)


def _overhang(truck: Truck) -> Finding:
    share, rule = _shop_rule("max_rear_overhang_share")
    base, rear = rear_group_centre(truck), outer_size(truck).rear
    limit = share * base
    steps = (
        Step("wheelbase to the rear group's centre", "a", "", f"{n(base, 3)} m"),
        Step("overhang", "rearmost point − a", f"{n(rear, 3)} − {n(base, 3)}", f"{n(rear - base, 3)} m"),
        Step("limit", "share × a", f"{share:g} × {n(base, 3)}", f"{n(limit, 3)} m"),
    )
    return _plain(
        "rear-overhang", "Rear overhang in proportion to the wheelbase?", rear - base, limit, "at_most", rule, *steps
    )


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
