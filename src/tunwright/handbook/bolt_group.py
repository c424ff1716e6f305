"""Forces on the bolts of a group in one plane, for many load cases at once.

The bolts lie in the plane x, y; z stands on it and points away from what they are bolted to, so that a positive z force
pulls. A load case is what the attached part brings: Fx, Fy, Fz, Mx, My, Mz about the origin of the bolts' places,
right-handed. What comes out is the force each bolt carries: x and y in the plane, z as pull.

In the plane the group is elastic about its centroid: direct share plus a part that grows with the distance from the
centroid. Out of the plane there are two rules:

- "centroid": the plate turns about the centroid of the bolts, those on the pressed side take a negative pull (a plate
  that touches only at the bolts);
- "pivot": a stiff plate on a stiff base turns about an edge or corner of its outline; bolts pull only, pulls grow with
  the distance from the pivot, and the outline's corners press. This is the exact answer for a plate without preload,
  and for a preloaded one that has opened.

Prying of a plate that bends is not included: multiply the pulls by a factor where it is to be expected.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.plate_pivot import pivot_pulls

Floats = NDArray[np.float64]
Turning = Literal["centroid", "pivot"]


@dataclass(frozen=True, eq=False)
class BoltGroup:
    """Bolts in a plane.

    at: places x, y of the bolts, (bolts, 2) [m]
    shear_weight: stiffness of each bolt in the plane relative to the others, (bolts,) [-]
    tension_weight: stiffness of each bolt against pull relative to the others, (bolts,) [-]
    """

    at: Floats
    shear_weight: Floats
    tension_weight: Floats


def bolt_group(
    at: ArrayLike, *, shear_weight: ArrayLike | None = None, tension_weight: ArrayLike | None = None
) -> BoltGroup:
    """A group of bolts, all alike unless weights are given.

    at: places x, y of the bolts, (bolts, 2) [m]
    shear_weight: relative stiffness in the plane, (bolts,) [-]; 0 for a bolt in a slot
    tension_weight: relative stiffness against pull, (bolts,) [-]
    ValueError: no bolts, or weights that are negative or all 0
    """
    places = np.atleast_2d(np.asarray(at, dtype=float))
    if places.ndim != 2 or places.shape[1] != 2 or not np.isfinite(places).all():
        raise ValueError("Bolts are places x, y in metres, for example [(0.0, 0.0), (0.1, 0.0)].")
    return BoltGroup(places, _weights(shear_weight, len(places)), _weights(tension_weight, len(places)))


def _weights(given: ArrayLike | None, count: int) -> Floats:
    weights = np.ones(count) if given is None else np.asarray(given, dtype=float)
    if weights.shape != (count,) or not (weights >= 0).all() or not 0 < weights.sum() < np.inf:
        raise ValueError(f"Weights are one number of 0 or more for each of the {count} bolts, not all 0; "
                         f"{weights.tolist()} was given, for example {[1.0] * count}.")
    return weights


def bolt_forces(
    group: BoltGroup, loads: ArrayLike, *, turning: Turning = "centroid", outline: ArrayLike | None = None
) -> Floats:
    """Force on each bolt in each load case, (cases, bolts, 3) [N].

    group: the bolts
    loads: Fx, Fy, Fz [N], Mx, My, Mz [N m] about the origin, (cases, 6) or (6,)
    turning: "centroid" or "pivot", see the head of this module
    outline: corners of the pressed area, convex and around all bolts, (corners, 2) [m]; needed for "pivot"
    ValueError: a load the group cannot carry, for example a twist on bolts at one place

    Source: derived (elastic bolt group: Shigley's Mechanical Engineering Design, 9th ed., 8-12).
    """
    cases = _cases(loads)
    if turning == "pivot":
        if outline is None:
            raise ValueError("A plate that pivots needs its outline, for example [(0, 0), (0.2, 0), (0.2, 0.1), "
                             "(0, 0.1)].")
        pulls, _ = pivot_pulls(at=group.at, weight=group.tension_weight, loads=cases[:, 2:5], outline=outline)
    elif turning == "centroid":
        pulls = elastic_pulls(group, cases)
    else:
        raise ValueError(f"A plate turns about its 'centroid' or a 'pivot'; {turning!r} was given.")
    return np.concatenate([shears(group, cases), pulls[:, :, None]], axis=2)


def shears(group: BoltGroup, loads: ArrayLike) -> Floats:
    """In-plane force on each bolt, (cases, bolts, 2) [N]: w (F / sum w + M_c x r / sum w r^2).

    group: the bolts
    loads: Fx, Fy, Fz [N], Mx, My, Mz [N m] about the origin, (cases, 6) or (6,)
    ValueError: a twist on bolts at one place

    Source: Shigley's Mechanical Engineering Design, 9th ed., 8-12; weights: derived.
    """
    cases, weight = _cases(loads), group.shear_weight
    centre = weight @ group.at / weight.sum()
    arm = group.at - centre
    polar = float(weight @ (arm**2).sum(axis=1))
    twist = cases[:, 5] - centre[0] * cases[:, 1] + centre[1] * cases[:, 0]
    if polar <= 1e-18 * weight.sum():
        if (np.abs(twist) > 1e-9 * (1 + np.abs(cases).max(axis=1))).any():
            raise ValueError("Bolts at one place carry no twist; give two or more places, for example 0.1 m apart.")
        polar = 1.0
    across = np.stack([-arm[:, 1], arm[:, 0]], axis=1)
    direct = cases[:, None, :2] / weight.sum()
    forces: Floats = weight[:, None] * (direct + twist[:, None, None] * across / polar)
    return forces


def elastic_pulls(group: BoltGroup, loads: ArrayLike) -> Floats:
    """Pull on each bolt by the rule "centroid", (cases, bolts) [N]; negative where the bolt is pressed.

    Pulls lie on a plane, T = w (c + a x + b y), with sum T = Fz, sum T y = Mx, sum T x = -My.

    group: the bolts
    loads: Fx, Fy, Fz [N], Mx, My, Mz [N m] about the origin, (cases, 6) or (6,)
    ValueError: a moment that bolts in one line cannot carry

    Source: derived.
    """
    cases = _cases(loads)[:, 2:5]
    span = max(float(np.ptp(group.at, axis=0).max()), 1e-3)
    lever = np.column_stack([np.ones(len(group.at)), group.at[:, 1] / span, -group.at[:, 0] / span])
    wanted = cases / np.array([1.0, span, span])
    system = (lever.T * group.tension_weight) @ lever
    tilt = wanted @ np.linalg.pinv(system, rcond=1e-10, hermitian=True)
    pulls: Floats = (tilt @ lever.T) * group.tension_weight
    if (np.abs(pulls @ lever - wanted) > 1e-6 * (np.abs(wanted).max(axis=1, keepdims=True) + 1e-9)).any():
        raise ValueError("Bolts in one line carry no moment about that line; use the rule 'pivot' or a second line.")
    return pulls


def _cases(loads: ArrayLike) -> Floats:
    cases = np.atleast_2d(np.asarray(loads, dtype=float))
    if cases.ndim != 2 or cases.shape[1] != 6 or not np.isfinite(cases).all():
        raise ValueError("A load case is six numbers Fx, Fy, Fz, Mx, My, Mz, for example (0, 0, 1e3, 0, 0, 0).")
    return cases


def bolt_force_sizes(forces: Floats) -> tuple[Floats, Floats]:
    """Shear and pull of each bolt, (cases, bolts) [N] each; a bolt that is pressed has a negative pull.

    forces: from `bolt_forces`, (cases, bolts, 3) [N]
    """
    return np.linalg.norm(forces[:, :, :2], axis=2), forces[:, :, 2]
