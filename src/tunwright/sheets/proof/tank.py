"""What a build says of the tank and the sprays that a log is held against."""

from __future__ import annotations

import numpy as np

from tunwright.checks.assess import Assessment
from tunwright.checks.pipework.road.across import wetted
from tunwright.proof.delivered import Delivered
from tunwright.proof.delivery_log import Deliveries, Tank
from tunwright.proof.log import Log
from tunwright.sheets.pipework.flows import half
from tunwright.truck.pipework.holding import on_the_road, road_flow

_WET = 0.5  # of the greatest flow, above which it sprays


def with_tank(log: Log, assessment: Assessment) -> Deliveries:
    """A log held against a build: its tank, and the width of the spray duty whose flow comes nearest.

    log: the log
    assessment: the build
    """
    volumes = assessment.truck.volumes
    width, duty = _sprayed(assessment, usual_flow(log))
    return Deliveries(log, Tank(volumes.dip, float(volumes.net.sum()), len(volumes.net), width, duty))


def usual_flow(log: Log) -> float:
    """Flow while it delivers: the median of what is above half of the greatest [m3/s]; 0 where nothing flows.

    log: the log
    """
    steps = log.step > 0.0
    flow = Delivered(log).each[steps] / log.step[steps]
    return float(np.median(flow[flow >= _WET * flow.max()])) if flow.size and flow.max() > 0.0 else 0.0


def _sprayed(assessment: Assessment, flow: float) -> tuple[float | None, str]:
    """Width and name of the spray duty nearest to a flow; none where no spray has a width."""
    if assessment.build.pipework is None:
        return None, ""
    sprays = [one for one in assessment.pipes.worked if one.duty.kind == "spray" and one.states]
    found = [(one, half(one)) for one in sprays]
    known = [(one, state) for one, state in found if on_the_road(state)]
    if not known:
        return None, ""
    nearest, state = min(known, key=lambda pair: abs(road_flow(pair[1]) - flow))
    return wetted(spray for spray, _ in on_the_road(state)), nearest.duty.name
