"""What stands on each axle: statics of a stiff vehicle on its supports.

A *support* is one axle alone or a group whose axles share in fixed parts (a walking beam, linked air springs); it acts
at its sharing-weighted centre. One load or couple on two supports is plain statics. On three or more supports the
frame sinks as a stiff body on their springs: R_i = k_i (u + v x_i), with sum R_i = P and sum R_i x_i = P x.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


class SupportError(ValueError):
    """The supports cannot carry a load anywhere: fewer than two, or all at one place."""


class StiffnessMissing(ValueError):
    """Three or more supports and no spring rates to share the load by."""

    def __init__(self, which: Sequence[int]) -> None:
        super().__init__("spring rates are missing")
        self.which = tuple(which)


@dataclass(frozen=True)
class Support:
    """One axle or one equalised group.

    axles: indexes of its axles
    shares: part of the support's added load on each of them, summing to 1 [-]
    at: its axles' places [m]
    rate: vertical spring rate of the whole support [N/m], None where unknown
    """

    axles: tuple[int, ...]
    shares: tuple[float, ...]
    at: tuple[float, ...]
    rate: float | None = None

    @property
    def centre(self) -> float:
        """Where the support acts [m]: the sharing-weighted centre of its axles."""
        return sum(share * x for share, x in zip(self.shares, self.at, strict=True))


@dataclass(frozen=True, eq=False)
class Sharing:
    """How an added force and an added couple come down on the axles.

    per_force: (axles, 2) such that load = P (per_force[:, 0] + per_force[:, 1] x) for a force P at x [-, 1/m]
    per_couple: (axles,) load on each axle for a couple of 1 Nm that loads the rear [1/m]
    """

    per_force: Floats
    per_couple: Floats

    def of_force(self, force: Floats | float, x: Floats | float) -> Floats:
        """Axle loads (..., axles) [N] of a downward force.

        force: downward force [N]
        x: where it acts, from the first axle rearwards [m]
        """
        p, place = np.asarray(force)[..., None], np.asarray(x)[..., None]
        loads: Floats = p * (self.per_force[:, 0] + self.per_force[:, 1] * place)
        return loads

    def of_couple(self, couple: Floats | float) -> Floats:
        """Axle loads (..., axles) [N] of a couple about the y axis that loads the rear axles.

        couple: moment [N m]
        """
        loads: Floats = np.asarray(couple)[..., None] * self.per_couple
        return loads


def sharing(supports: Sequence[Support], axles: int) -> Sharing:
    """The sharing of added loads between axles.

    supports: the supports that stand on the ground
    axles: number of axles; those in no support (lifted) carry nothing [-]
    """
    centres = np.array([s.centre for s in supports])
    if len(supports) < 2 or np.ptp(centres) < 1e-6:
        raise SupportError(f"the vehicle stands on {len(supports)} support(s) at one place and would tip over")
    per_support = _two(centres) if len(supports) == 2 else _many(supports, centres)
    force, couple = np.zeros((axles, 2)), np.zeros(axles)
    for support, row in zip(supports, per_support, strict=True):
        for axle, share in zip(support.axles, support.shares, strict=True):
            force[axle] += share * row
            couple[axle] += share * row[1]
    return Sharing(force, couple)


def _two(centres: Floats) -> Floats:
    """Rows (constant, slope) of each of two supports."""
    base = centres[1] - centres[0]
    return np.array([[centres[1] / base, -1 / base], [-centres[0] / base, 1 / base]])


def _many(supports: Sequence[Support], centres: Floats) -> Floats:
    """Rows (constant, slope) of each of three or more supports, by their springs."""
    missing = [i for i, s in enumerate(supports) if s.rate is None]
    if missing:
        raise StiffnessMissing([axle for i in missing for axle in supports[i].axles])
    k = np.array([s.rate for s in supports], dtype=float)
    system = np.array([[k.sum(), k @ centres], [k @ centres, k @ centres**2]])
    sink = np.linalg.inv(system)  # columns: answer to (P, 0) and to (0, P x)
    rows: Floats = k[:, None] * (sink[0] + centres[:, None] * sink[1])
    return rows
