"""Capacity as ordered, and the volume of each bay."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Rule, Step, Verdict, shop_rule, verdict
from tunwright.tables.read import shop_values
from tunwright.truck.truck import Truck

ORDERED = Rule("the order", mark="customer's")


def capacity_findings(truck: Truck) -> Iterator[Finding]:
    """Does the tank hold what was ordered, and is no bay too large?

    truck: the truck
    """
    order = truck.build.order
    if order.volume is not None:
        yield _ordered(truck, float(order.volume), order.volume_means)
    yield _bay(truck)


def volumes_litres(truck: Truck) -> dict[str, float]:
    """Gross, net and usable volume [L].

    truck: the truck
    """
    v = truck.volumes
    return {
        "gross": 1000 * float(v.gross.sum()),
        "net": 1000 * float(v.net.sum()),
        "usable": 1000 * float(v.usable.sum()),
    }


def _ordered(truck: Truck, wanted: float, means: str) -> Finding:
    litres = volumes_litres(truck)
    lip = truck.build.tank.overflow_lip
    net_by = f"to the overflow lip at {lip.text}" if lip is not None else f"gross × (1 − {truck.volumes.ullage:g})"
    outlet = "above the outlet" if truck.build.tank.outlet else f"net × (1 − {truck.volumes.heel:g})"
    steps = (
        Step("gross", "volume to the roof, plates and pipes taken off", "", f"{n(litres['gross'])} L"),
        Step("net", net_by, "", f"{n(litres['net'])} L"),
        Step("usable", outlet, "", f"{n(litres['usable'])} L"),
    )
    held = litres[means] if truck.cap is None else min(litres[means], 1000 * truck.cap)
    value, limit = held, 1000 * wanted
    return Finding(
        "capacity",
        f"Does the tank hold the {means} volume that was ordered?",
        "standing level",
        value,
        limit,
        "L",
        "at_least",
        _enough(value, limit),
        ORDERED,
        working=steps,
    )


def _enough(value: float, limit: float) -> Verdict:
    """An ordered volume that is there is there; being near it is no worry."""
    found = verdict(value, limit, "at_least")
    return "holds" if found == "close" else found


def _bay(truck: Truck) -> Finding:
    usual = shop_values()["max_bay_litres"]
    bays = [bay for part in truck.solid.compartments for bay in part.bays]
    volumes = np.array([bay.gross for bay in bays]) * 1000
    worst = int(np.argmax(volumes))
    value = float(volumes[worst])
    step = Step(
        f"volume of {bays[worst].name}",
        "volume to the roof between its baffles",
        f"{n(bays[worst].start, 3)} m to {n(bays[worst].end, 3)} m",
        f"{n(value)} L",
    )
    return Finding(
        "bay-volume",
        "Is no bay between baffles too large?",
        bays[worst].name,
        value,
        usual.value,
        "L",
        "at_most",
        verdict(value, usual.value, "at_most"),
        shop_rule("max_bay_litres"),
        working=(step,),
    )
