"""The table a level sender is taught: few points of the dip chart, straight lines between, and how far they stray."""

from __future__ import annotations

import numpy as np

from tunwright.checks.assess import Assessment
from tunwright.handbook.instruments import Linearised, linearised
from tunwright.sheets.dips import dip_rows
from tunwright.sheets.pipework.listing import Column, Listing, Value, said

POINTS = 12
"""Points a sender holds where the build does not say."""

_FINE = 200  # rows of the dip chart they are chosen from


def sender_list(assessment: Assessment) -> Listing:
    """Points for every compartment, standing level.

    assessment: the assessment
    """
    columns = (
        Column("compartment", "compartment"),
        Column("level", "level", "bore"),
        Column("volume", "water", "volume"),
    )
    work, system = assessment.build.pipework, assessment.build.order.units
    points = POINTS if work is None or work.sender is None else work.sender.points
    table = dip_rows(assessment, step=dip_rows(assessment).levels[-1] / _FINE)
    levels, volumes = np.array(table.levels), np.array(table.volumes)
    rows: list[list[Value]] = []
    strays = 0.0
    for i, one in enumerate(table.columns):
        found = taught(levels, volumes[:, i], points)
        strays = max(strays, found.error)
        name = one.compartment or "tank"
        rows += [[name, float(x), float(v)] for x, v in zip(found.levels, found.volumes, strict=True)]
    foot = (
        f"Straight lines between the points stray by {said(strays, 'volume', system)} at most from the dip chart, the "
        "vehicle standing level. Level over the floor at the dip point; check two points with a stick."
    )
    return Listing("sender", "Level sender", columns, rows, foot)


def taught(levels: np.ndarray, volumes: np.ndarray, points: int) -> Linearised:
    """The points a sender is taught for one compartment.

    levels: of the dip chart, ascending (n,) [m]
    volumes: at the levels (n,) [m3]
    points: how many the sender holds
    """
    rising = np.append(True, np.diff(volumes) > 1e-9)  # above the roof nothing more comes in
    last = int(np.flatnonzero(rising)[-1]) + 1
    return linearised(levels[:last], volumes[:last], points=points)
