"""What cannot be the curve of a pump, each in a sentence."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def row(name: str, given: Floats, count: int) -> Floats:
    """A row of numbers of a curve, kept from being changed.

    name: what they are
    given: the numbers, (n,), in the unit of what they are [SI]
    count: how many there are to be
    """
    row = np.atleast_1d(np.array(given, dtype=float))
    if count < 2:
        raise ValueError("One point is no curve: how the head falls with the flow is not known. Give two points or "
                         "more, for example 0 m3/s at 72 m and 0.025 m3/s at 55 m.")
    if row.shape != (count,):
        raise ValueError(f"Every point of a pump curve has each value: {count} flows, and {name} for {row.size}.")
    if not np.isfinite(row).all():
        raise ValueError(f"The {name} of every point must be a number; {row.tolist()} was given.")
    row.setflags(write=False)
    return row


def refuse_flows(flow: Floats) -> None:
    """Flows that do not go from little to much.

    flow: of the points [m3/s]
    """
    if flow[0] < 0.0:
        raise ValueError(f"The flows of a curve are 0 or more; {flow[0]:g} m3/s was given, for example 0 m3/s.")
    for i, (this, following) in enumerate(pairwise(flow), 1):
        if following <= this:
            raise ValueError(f"The flows of a curve go from little to much; point {i + 1} with {following:g} m3/s does "
                             f"not lie above point {i} with {this:g} m3/s.")


def refuse_heads(flow: Floats, head: Floats) -> None:
    """Heads that rise with the flow or are not above 0.

    flow: of the points [m3/s]
    head: at these flows [m]
    """
    for i, (this, following) in enumerate(pairwise(head), 1):
        if following > this:
            raise ValueError(f"The head may not rise with the flow: from point {i} to point {i + 1} it goes from "
                             f"{this:g} m at {flow[i - 1]:g} m3/s to {following:g} m at {flow[i]:g} m3/s, and the pump "
                             "would swing between two flows. Leave out the points before its highest.")
    if head[0] <= 0.0 or head[-1] < 0.0:
        raise ValueError(f"The heads of a curve are 0 or more, the first above 0; {head.tolist()} m was given, for "
                         "example 72 m and 55 m.")


def refuse_efficiencies(flow: Floats, efficiency: Floats) -> None:
    """Efficiencies that cannot be.

    flow: of the points [m3/s]
    efficiency: at these flows [-]
    """
    if efficiency.min() < 0.0 or efficiency.max() > 1.0:
        wrong = efficiency.min() if efficiency.min() < 0.0 else efficiency.max()
        raise ValueError(f"An efficiency lies between 0 and 1; {wrong:g} was given, for example 0.62, which is 62 %.")
    if (efficiency[flow > 0.0] == 0.0).any():
        raise ValueError("An efficiency of 0 where water flows would take endless power; leave that point out, or give "
                         "its efficiency, for example 0.3.")
