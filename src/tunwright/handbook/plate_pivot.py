"""A stiff plate held down by bolts on a stiff base: which corners press, what the bolts pull.

The plate can lift off as a whole, turn about an edge of its outline, about a corner, or not lift at all. Each of these
is a linear system; for any load exactly one set of pulls comes with no bolt pressed, no corner pulled and no part of
the plate below the base. That all pulls come out positive by themselves follows from the bolts lying inside the
outline. Derived: it is the least of the elastic energy of the bolts among all balanced sets of forces.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def pivot_pulls(*, at: Floats, weight: Floats, loads: Floats, outline: ArrayLike) -> tuple[Floats, Floats]:
    """Pulls (cases, bolts) [N] and pressures of the outline's corners (cases, corners) [N], 0 or more.

    Where the plate presses without lifting, the corners' shares are one of many that balance.

    at: places of the bolts, (bolts, 2) [m]
    weight: relative stiffness of the bolts, (bolts,) [-]
    loads: Fz [N], Mx, My [N m] about the origin, (cases, 3)
    outline: corners of the pressed area, convex and around all bolts, (corners, 2) [m]
    ValueError: the outline is not convex or does not surround the bolts
    """
    corners = np.asarray(outline, dtype=float)
    _surrounds(corners, at)
    span = float(np.ptp(corners, axis=0).max())
    bolt, corner = _levers(at, span), _levers(corners, span)
    wanted = loads / np.array([1.0, span, span])
    size = np.abs(wanted).max(axis=1) + 1e-12
    states = [_flat(corner, wanted), *(_lifted(bolt, weight, corner, touch, wanted) for touch in _touching(corners))]
    pulls = np.stack([np.pad(pull, ((0, 0), (0, len(at) - pull.shape[1]))) for pull, _, _ in states])
    presses = np.stack([press for _, press, _ in states])
    faults = np.stack([fault for _, _, fault in states]) / size
    best = np.argmin(np.where(faults < 1e-9, 0.0, faults), axis=0)
    rows = np.arange(len(loads))
    if (faults[best, rows] > 1e-6).any():
        raise ValueError("No balance was found between these bolts and this outline; the outline must reach beyond "
                         "the bolts on every side, for example 0.03 m.")
    return pulls[best, rows], presses[best, rows]


def _touching(corners: Floats) -> list[list[int]]:
    """Sets of corners the plate may touch with while it lifts: none, an edge, a corner."""
    count = len(corners)
    return [[], *([i, (i + 1) % count] for i in range(count)), *([i] for i in range(count))]


def _lifted(
    bolt: Floats, weight: Floats, corner: Floats, touch: list[int], wanted: Floats
) -> tuple[Floats, Floats, Floats]:
    """Pulls, pressures and the worst broken rule of each case, if the plate touches with these corners only."""
    on = corner[touch]
    system = np.block([[(bolt.T * weight) @ bolt, -on.T], [on, np.zeros((len(on), len(on)))]])
    answer = np.pad(wanted, ((0, 0), (0, len(on)))) @ np.linalg.pinv(system, rcond=1e-11).T
    lift, pushed = answer[:, :3], answer[:, 3:]
    pulls = (lift @ bolt.T) * weight
    gaps = lift @ corner.T * weight.max()
    missing = np.abs(pulls @ bolt - pushed @ on - wanted).max(axis=1)
    fault = np.maximum(missing, np.maximum(-gaps.min(axis=1), -pushed.min(axis=1, initial=0.0)))
    presses = np.zeros((len(wanted), len(corner)))
    presses[:, touch] = pushed
    return pulls, presses, np.maximum(fault, 0.0)


def _flat(corner: Floats, wanted: Floats) -> tuple[Floats, Floats, Floats]:
    """The same for a plate that stays down: no pulls, the load inside the outline, carried by three corners."""
    count = len(corner)
    best, presses = np.full(len(wanted), np.inf), np.zeros((len(wanted), count))
    for i in range(1, count - 1):
        share = -wanted @ np.linalg.inv(corner[[0, i, i + 1]])
        fault = np.maximum(-share.min(axis=1), 0.0)
        better = fault < best
        best = np.where(better, fault, best)
        presses[better] = 0.0
        presses[np.ix_(better, [0, i, i + 1])] = share[better]
    return np.zeros((len(wanted), 0)), presses, best


def _levers(places: Floats, span: float) -> Floats:
    """Force and moments of a unit pull at each place, moments as a share of the span."""
    return np.column_stack([np.ones(len(places)), places[:, 1] / span, -places[:, 0] / span])


def _surrounds(corners: Floats, at: Floats) -> None:
    """Refuse an outline that is not convex or does not surround the bolts."""
    if corners.ndim != 2 or corners.shape[1:] != (2,) or len(corners) < 3:
        raise ValueError("An outline is three or more corners x, y [m], for example [(0, 0), (0.2, 0), (0, 0.1)].")
    sides = np.roll(corners, -1, axis=0) - corners
    turns = _cross(sides, np.roll(sides, -1, axis=0))
    if not ((turns > 0).all() or (turns < 0).all()):
        raise ValueError("The outline must be convex, without repeated corners, for example a rectangle.")
    if (_cross(sides, at[:, None, :] - corners) * np.sign(turns[0]) <= 0).any():
        raise ValueError("All bolts must lie inside the outline, for example 0.03 m from its edges.")


def _cross(one: Floats, other: Floats) -> Floats:
    """The z part of the cross product of vectors in the plane."""
    across: Floats = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    return across
