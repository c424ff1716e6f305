"""A body clamped to a frame by U-bolts or twin studs: what the clamps hold, what is left for shear plates.

Plain statics, derived. A clamp presses body and frame together; friction in that one joint face holds the body fore
and aft. The clamp itself, free to lean, is not counted as a stop. Friction and plates do not simply add up while
nothing slides, so a plate is safely sized with no friction at all (hold = 0).
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


def preload_to_hold(
    *, force: float, friction: float, legs: int, weight: float = 0.0, uplift: float = 0.0, loss: float = 0.0
) -> float:
    """Preload each leg needs so that friction alone holds a force [N], (H / mu - W + U) / (legs (1 - loss)), or 0.

    force: fore-and-aft force to hold [N], 0 or more
    friction: of the joint face [-], above 0
    legs: threaded legs of all clamps together [-], 1 or more
    weight: weight of the body resting on the face [N], 0 or more
    uplift: upward force on the body at the same time [N], 0 or more
    loss: part of the preload lost by settling [-], 0 up to below 1
    """
    positive(friction=(friction, "0.15"), legs=(legs, "12"))
    _share(loss)
    return max(force / friction - weight + uplift, 0.0) / (legs * (1 - loss))


def plate_forces(*, force: float, stiffness: ArrayLike, hold: float = 0.0) -> Floats:
    """Fore-and-aft force on each shear plate, (plates,) [N]: what friction does not hold, shared by stiffness.

    force: fore-and-aft force on the body [N], 0 or more
    stiffness: of each plate with its bolts, relative to the others, (plates,) [-]
    hold: force taken by friction [N], 0 or more
    ValueError: no plates, or stiffnesses that are negative or all 0
    """
    rates = np.atleast_1d(np.asarray(stiffness, dtype=float))
    if not (rates >= 0).all() or not 0 < rates.sum() < np.inf:
        raise ValueError(f"Stiffnesses are numbers of 0 or more, not all 0; {rates.tolist()} was given, "
                         "for example [1.0, 1.0].")
    shared: Floats = max(force - hold, 0.0) * rates / rates.sum()
    return shared


def plate_wrench(force: float, *, above: float) -> Floats:
    """What a shear plate brings to its bolts in the frame's web, (6,) [N, N m]: Fx, Fy, Fz, Mx, My, Mz.

    In the plate's plane: x with the force, y up, z out of the web, about the middle of the bolts; Mz = -F h.

    force: force on the plate along the frame [N]
    above: height of the joint face over the middle of the bolts h [m]
    """
    return np.array([force, 0.0, 0.0, 0.0, 0.0, -force * above])


def _share(loss: float) -> None:
    if not 0 <= loss < 1:
        raise ValueError(f"The loss is a part of the preload, 0 up to below 1; {loss:g} was given, for example 0.2.")
