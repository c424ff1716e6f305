"""A group of fillet welds treated as lines in one plane, elastic, for many load cases at once.

Each weld is a chain of straight pieces along its root, in the plane x, y of the base; z stands on it. A load case is
what the attached part brings: Fx, Fy, Fz, Mx, My, Mz about the origin. The stress on the throat (force by throat area)
is direct share, plus twist about the group's centroid, plus bending; every piece counts with its throat, so that the
stresses add up to the load exactly. A straight piece is worst at one of its ends, so stresses are given there.

Source: the lines of Shigley's Mechanical Engineering Design, 9th ed., 9-3 to 9-5, with each line's throat.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.fillet_weld import GAMMA_M2, directional_use, effective_length, simplified_use
from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class WeldGroup:
    """Straight pieces of weld.

    start: beginning of each piece, (pieces, 2) [m]
    end: end of each piece, (pieces, 2) [m]
    throat: throat of each piece, (pieces,) [m]
    """

    start: Floats
    end: Floats
    throat: Floats

    @property
    def length(self) -> Floats:
        """Length of each piece, (pieces,) [m]."""
        lengths: Floats = np.linalg.norm(self.end - self.start, axis=1)
        return lengths

    @property
    def area(self) -> Floats:
        """Throat area of each piece, (pieces,) [m2]."""
        return self.length * self.throat

    @property
    def centre(self) -> Floats:
        """Centroid of the throat areas, (2,) [m]."""
        middle: Floats = self.area @ (self.start + self.end) / (2 * self.area.sum())
        return middle

    @property
    def spread(self) -> Floats:
        """Second moments of the throat areas about the centroid, [[xx, xy], [xy, yy]] [m4]; xx + yy is J."""
        arm, along = (self.start + self.end) / 2 - self.centre, self.end - self.start
        outer = arm[:, :, None] * arm[:, None, :] + along[:, :, None] * along[:, None, :] / 12
        moments: Floats = np.einsum("i,ijk->jk", self.area, outer)
        return moments


def weld_group(welds: Sequence[tuple[ArrayLike, float]], *, full_ends: bool = True) -> WeldGroup:
    """A group of welds.

    welds: for each weld its chain of points (points, 2) [m] and its throat [m]; a loop ends where it starts
    full_ends: whether the welds are full to their ends; if not, a throat is taken off both ends of every open chain
    ValueError: fewer than two points, a throat that is not above 0, or too little length left
    """
    pieces = [_pieces(chain, throat, full_ends=full_ends) for chain, throat in welds]
    if not pieces:
        raise ValueError("A group needs a weld, for example ([(0, 0), (0.1, 0)], 0.004).")
    start, end, throats = (np.concatenate(part) for part in zip(*pieces, strict=True))
    return WeldGroup(start, end, throats)


def _pieces(chain: ArrayLike, throat: float, *, full_ends: bool) -> tuple[Floats, Floats, Floats]:
    points = np.asarray(chain, dtype=float)
    positive(throat=(throat, "0.004 m"))
    if points.ndim != 2 or points.shape[1] != 2 or len(points) < 2 or not np.isfinite(points).all():
        raise ValueError("A weld is two or more points x, y in metres, for example [(0, 0), (0.1, 0)].")
    steps = np.hypot(*np.diff(points, axis=0).T)
    if steps.min() <= 0:
        raise ValueError("Points that follow each other must differ, for example [(0, 0), (0.1, 0)].")
    if not full_ends and not np.allclose(points[0], points[-1]):
        points = _shortened(points, float(steps.sum()), throat)
    return points[:-1], points[1:], np.full(len(points) - 1, throat)


def _shortened(points: Floats, length: float, throat: float) -> Floats:
    """The chain less a throat at both ends."""
    effective_length(length, throat=throat)
    at = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    kept = np.unique(np.clip(at, throat, length - throat))
    return np.column_stack([np.interp(kept, at, points[:, 0]), np.interp(kept, at, points[:, 1])])


@dataclass(frozen=True, eq=False)
class WeldStress:
    """Stress on the throat at the ends of every piece: first all starts, then all ends.

    at: places, (points, 2) [m]
    throat: throat at each, (points,) [m]
    vector: force by throat area along x, y, z, (cases, points, 3) [Pa]
    along: its part along the weld, shear in the throat, (cases, points) [Pa]
    across: its part in the plane across the weld, (cases, points) [Pa]
    up: its part along z, (cases, points) [Pa]
    """

    at: Floats
    throat: Floats
    vector: Floats
    along: Floats
    across: Floats
    up: Floats

    def on_throat(self) -> tuple[Floats, Floats]:
        """Normal stress and shear across on a throat at 45 degrees, (cases, points) [Pa].

        The side on which the fillet lies is not asked: of the two possible throats the one with more shear, which is
        the worse by the directional method, is taken.
        """
        one, other = (self.across + self.up) / np.sqrt(2), (self.across - self.up) / np.sqrt(2)
        first = np.abs(one) <= np.abs(other)
        return np.where(first, one, other), np.where(first, other, one)


def weld_stress(group: WeldGroup, loads: ArrayLike) -> WeldStress:
    """Stress on the throats in each load case.

    group: the welds
    loads: Fx, Fy, Fz [N], Mx, My, Mz [N m] about the origin, (cases, 6) or (6,)
    ValueError: a moment that welds in one line cannot carry

    Source: derived; see the head of this module.
    """
    cases = np.atleast_2d(np.asarray(loads, dtype=float))
    if cases.ndim != 2 or cases.shape[1] != 6 or not np.isfinite(cases).all():
        raise ValueError("A load case is six numbers Fx, Fy, Fz, Mx, My, Mz, for example (0, 0, 1e3, 0, 0, 0).")
    at = np.concatenate([group.start, group.end])
    arm, area, spread = at - group.centre, group.area.sum(), group.spread
    x, y = group.centre
    twist = cases[:, 5] - x * cases[:, 1] + y * cases[:, 0]
    tilt = np.stack([-(cases[:, 4] + x * cases[:, 2]), cases[:, 3] - y * cases[:, 2]], axis=1)
    slope = tilt @ np.linalg.pinv(spread, rcond=1e-12, hermitian=True)
    if (np.abs(slope @ spread - tilt) > 1e-6 * (np.abs(tilt).max(axis=1, keepdims=True) + 1e-9)).any():
        raise ValueError("Welds in one line carry no moment about that line; give a second line or close the loop.")
    plane = np.stack([-arm[:, 1], arm[:, 0]], axis=1) / np.trace(spread)
    vector = np.concatenate(
        [
            cases[:, None, :2] / area + twist[:, None, None] * plane,
            (cases[:, 2:3] / area + slope @ arm.T)[:, :, None],
        ],
        axis=2,
    )
    tangent = np.tile((group.end - group.start) / group.length[:, None], (2, 1))
    along = np.einsum("cpk,pk->cp", vector[:, :, :2], tangent)
    across = vector[:, :, 0] * tangent[:, 1] - vector[:, :, 1] * tangent[:, 0]
    return WeldStress(at, np.tile(group.throat, 2), vector, along, across, vector[:, :, 2])


@dataclass(frozen=True, eq=False)
class WeldUse:
    """Utilisation of a group, worst place of each load case.

    directional: by the directional method, (cases,) [-]
    simplified: by the simplified method, (cases,) [-]
    place: index into the stress's places of the directional worst, (cases,)
    """

    directional: Floats
    simplified: Floats
    place: NDArray[np.intp]


def weld_use(
    stress: WeldStress, *, tensile_strength: float, correlation: float, gamma: float = GAMMA_M2
) -> WeldUse:
    """Worst utilisation of the welds by both methods.

    stress: from `weld_stress`
    tensile_strength: nominal fu of the weaker part joined [Pa], above 0
    correlation: beta_w [-], above 0
    gamma: partial factor [-], above 0

    Source: EN 1993-1-8, 4.5.3.2 and 4.5.3.3.
    """
    normal, shear = stress.on_throat()
    steel = {"tensile_strength": tensile_strength, "correlation": correlation, "gamma": gamma}
    directional = directional_use(normal=normal, shear_across=shear, shear_along=stress.along, **steel)
    size = np.linalg.norm(stress.vector, axis=2) * stress.throat
    simplified = simplified_use(line_force=size, throat=stress.throat, **steel)
    return WeldUse(directional.max(axis=1), simplified.max(axis=1), np.argmax(directional, axis=1))
