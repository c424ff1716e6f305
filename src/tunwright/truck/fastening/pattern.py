"""The bolts of one side of a mount as a group in the rail's web.

In the plane of the web: x along the vehicle, y up, from the rail's upper flange; z out of the web. On the left x runs
rearwards, on the right forwards, so that the axes stay right-handed. The force comes in at the height of the upper
flange, `reach` out of the web. The plate is stiff and turns about its outline on the web (handbook, "pivot").
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tunwright.build.mounting import BoltSet
from tunwright.handbook.bolt_group import bolt_force_sizes, bolt_forces, bolt_group

Floats = NDArray[np.float64]


def first_row(bolts: BoltSet, rail_height: float | None) -> float | None:
    """From the rail's upper flange down to the upper row [m]; None where neither that nor the rail is known.

    bolts: the bolts
    rail_height: height of the rail [m]
    """
    if bolts.drop is not None:
        return float(bolts.drop)
    if rail_height is None:
        return None
    return 0.5 * (rail_height - (bolts.rows - 1) * float(bolts.row_spacing or 0.0))


def to_flange(bolts: BoltSet, rail_height: float) -> float:
    """Least distance of the middle of a hole from the outside of a flange [m].

    bolts: the bolts
    rail_height: height of the rail [m]
    """
    first = first_row(bolts, rail_height) or 0.0
    last = first + (bolts.rows - 1) * float(bolts.row_spacing or 0.0)
    return min(first, rail_height - last)


def places(bolts: BoltSet, drop: float) -> Floats:
    """Places of the bolts (bolts, 2) [m], row by row from above.

    bolts: the bolts
    drop: from the upper flange down to the upper row [m]
    """
    x = (np.arange(bolts.columns) - 0.5 * (bolts.columns - 1)) * float(bolts.spacing or 0.0)
    y = -drop - np.arange(bolts.rows) * float(bolts.row_spacing or 0.0)
    return np.column_stack([np.tile(x, bolts.rows), np.repeat(y, bolts.columns)])


def outline(bolts: BoltSet, at: Floats, drop: float) -> Floats:
    """Corners of the plate where it lies on the web (4, 2) [m]; upwards no farther than the flange.

    bolts: the bolts
    at: places of the bolts [m]
    drop: from the upper flange down to the upper row [m]
    """
    (left, low), (right, high) = at.min(axis=0) - float(bolts.edge), at.max(axis=0) + float(bolts.edge)
    high = min(high, at[:, 1].max() + drop)
    return np.array([(left, low), (right, low), (right, high), (left, high)])


def wrenches(force: Floats, side: str, reach: float) -> Floats:
    """Forces and moments on the group about the flange's height (cases, 6) [N, N m].

    force: force of the body along, across and up (cases, 3) [N]
    side: left or right
    reach: from the web out to where the force comes in [m]
    """
    out = -1.0 if side == "left" else 1.0
    fx, fy, fz = -out * force[:, 0], force[:, 2], out * force[:, 1]
    none = np.zeros(len(force))
    return np.column_stack([fx, fy, fz, -reach * fy, reach * fx, none])


def on_bolts(bolts: BoltSet, drop: float, loads: Floats) -> tuple[Floats, Floats]:
    """Shear and pull of every bolt (cases, bolts) [N].

    bolts: the bolts
    drop: from the upper flange down to the upper row [m]
    loads: from `wrenches`
    """
    at = places(bolts, drop)
    forces = bolt_forces(bolt_group(at), loads, turning="pivot", outline=outline(bolts, at, drop))
    return bolt_force_sizes(forces)
