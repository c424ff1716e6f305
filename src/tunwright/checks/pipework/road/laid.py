"""What a duty lays on the road at its speed, from the driest filling to the wettest."""

from __future__ import annotations

from dataclasses import dataclass

from tunwright.build.shown import show_number as n
from tunwright.checks.pipework.road.across import wetted
from tunwright.checks.pipework.worked import Worked
from tunwright.handbook.spreading import application_depth
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.pipework.holding import on_the_road, road_flow


@dataclass(frozen=True)
class Laid:
    """What a duty lays at its speed on the road, over all its fillings.

    least: depth [m]
    most: depth [m]
    width: of road that is wet [m]
    speed: on the road [m/s]
    driest: the filling at which least is laid
    wettest: the filling at which most is laid
    """

    least: float
    most: float
    width: float
    speed: float
    driest: DutyState
    wettest: DutyState


def depth(flow: float, *, speed: float, width: float) -> float:
    """Depth a flow lays [m]; 0 where nothing flows.

    flow: on the road [m3/s]
    speed: on the road [m/s]
    width: wetted [m]
    """
    return float(application_depth(flow=flow, speed=speed, width=width)) if flow > 0.0 else 0.0


def laid(one: Worked) -> Laid | None:
    """What a duty lays; None without a speed on the road, or where nothing of a known width is sprayed.

    one: the duty
    """
    sprays = {spray.name: spray for state in one.states for spray, _ in on_the_road(state)}
    if one.duty.road_speed is None or not sprays:
        return None
    speed, width = float(one.duty.road_speed), wetted(sprays.values())
    driest, wettest = min(one.states, key=road_flow), max(one.states, key=road_flow)
    least, most = (depth(road_flow(state), speed=speed, width=width) for state in (driest, wettest))
    return Laid(least, most, width, speed, driest, wettest)


def pools(found: Laid) -> str:
    """A word where more water is laid than a road takes, nothing else.

    found: what is laid
    """
    most = shop_value("lays_most")
    if found.most <= most:
        return ""
    return (
        f"Up to {n(1000 * found.most, 2)} L/m²: more than {n(1000 * most, 1)} L/m² at one pass may stand in pools and "
        "make the road slippery."
    )
