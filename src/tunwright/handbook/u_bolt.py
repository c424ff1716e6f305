"""A body clamped to a frame by U-bolts or twin studs: what the clamps hold.

Plain statics, derived. A clamp presses body and frame together; friction in that one joint face holds the body fore
and aft. The clamp itself, free to lean, is not counted as a stop.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]


def clamp_force(*, preload: float, legs: int = 2, loss: float = 0.0) -> float:
    """Force with which one clamp presses the body on the frame [N], F = legs (1 - loss) preload.

    preload: force in each leg after tightening [N], above 0
    legs: threaded legs of one clamp [-], 2 for a U-bolt or a pair of studs
    loss: part of the preload lost by settling and by a soft liner [-], 0 up to below 1; common practice, no source
    """
    positive(preload=(preload, "40e3 N"), legs=(legs, "2"))
    _share(loss)
    return legs * preload * (1 - loss)


def friction_hold(*, clamps: ArrayLike, friction: float, weight: float = 0.0, uplift: float = 0.0) -> float:
    """Greatest fore-and-aft force that friction holds [N], H = mu max(0, sum of clamps + weight - uplift).

    clamps: forces of all clamps that press [N], each 0 or more
    friction: of the joint face [-], above 0
    weight: weight of the body resting on the face [N], 0 or more
    uplift: upward force on the body at the same time [N], 0 or more
    """
    positive(friction=(friction, "0.15"))
    return friction * max(float(np.sum(clamps)) + weight - uplift, 0.0)


def _share(loss: float) -> None:
    if not 0 <= loss < 1:
        raise ValueError(f"The loss is a part of the preload, 0 up to below 1; {loss:g} was given, for example 0.2.")
