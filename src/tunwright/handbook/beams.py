"""Straight thin-walled beams in space with seven freedoms an end: three displacements, three rotations, warping.

Bending is Euler-Bernoulli (no shear deformation), torsion is Saint-Venant's and Vlasov's together, exact for loads at
the ends. The freedoms of an end belong to a reference point of the section (the middle of a rail's web, say): the
centroid, where axial force acts, and the shear centre, where shear does not twist, may lie elsewhere.

Axes of a beam: x along it, y and z across. Freedoms: u, v, w, the rotations about x, y, z, and the twist's rate
chi = d(theta_x)/dx. End forces in the same order: N, Vy, Vz, T, My, Mz and the bimoment B = E Iw d(chi)/dx; they are
those on the face that looks along +x.

Sources: V. Z. Vlasov, Thin-Walled Elastic Beams (1961), ch. II, for the equations; the stiffness in torsion is that
of a tie on two supports (J. S. Przemieniecki, Theory of Matrix Structural Analysis, 1968, ch. 15) with G J for the
tension and E Iw for the bending stiffness. Both from memory; the tests derive them again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Warping = Literal["shared", "free", "held"]
FREEDOMS = 7
U, V, W, RX, RY, RZ, CHI = range(FREEDOMS)
_SHORT = 0.05  # below this decay over a length the exact torsion cancels; a series is better


@dataclass(frozen=True)
class BeamSection:
    """What a beam needs of its section; y and z from the reference point.

    area: [m2]
    iy, iz: second moments about the centroid's y and z axes [m4]
    iyz: product moment [m4], 0 for a section that is symmetric about either axis
    torsion: Saint-Venant's constant J [m4]
    warping: warping constant Iw about the shear centre [m6], 0 where the section does not warp
    centroid: (y, z) [m]
    shear_centre: (y, z) [m]
    warped: axial displacement of the reference point for a unit of chi, against the section's mean [m2]
    young, shear: moduli E and G [Pa]
    """

    area: float
    iy: float
    iz: float
    torsion: float
    warping: float = 0.0
    iyz: float = 0.0
    centroid: tuple[float, float] = (0.0, 0.0)
    shear_centre: tuple[float, float] = (0.0, 0.0)
    warped: float = 0.0
    young: float = 210e9
    shear: float = 81e9


def stiffness(sections: Sequence[BeamSection], length: Floats, warping: Sequence[Warping]) -> Floats:
    """Stiffness matrices (n, 14, 14) of beams about their reference points.

    sections: of each beam
    length: [m] (n,), above 0
    warping: of each beam: shared with what it meets, free at both ends, or held at both ends; the last two leave the
        rows of chi empty
    """
    own = _own_stiffness(sections, length, warping)
    turn = shifts(sections)
    turn_t = turn.transpose(0, 2, 1)
    for a in (slice(0, FREEDOMS), slice(FREEDOMS, None)):
        own[:, a] = turn_t @ own[:, a]
    for a in (slice(0, FREEDOMS), slice(FREEDOMS, None)):
        own[:, :, a] = own[:, :, a] @ turn
    return own


def shifts(sections: Sequence[BeamSection]) -> Floats:
    """Matrices (n, 7, 7): freedoms of the reference point into u of the centroid, v and w of the shear centre.

    sections: the sections
    """
    found = np.tile(np.eye(FREEDOMS), (len(sections), 1, 1))
    yc, zc = np.array([s.centroid for s in sections]).reshape(-1, 2).T
    ys, zs = np.array([s.shear_centre for s in sections]).reshape(-1, 2).T
    found[:, V, RX], found[:, W, RX] = -zs, ys
    found[:, RY, CHI], found[:, RZ, CHI] = -ys, -zs
    found[:, U, RY], found[:, U, RZ] = zc, -yc
    found[:, U, CHI] = -zc * ys + yc * zs - np.array([s.warped for s in sections])
    return found


def _own_stiffness(sections: Sequence[BeamSection], length: Floats, warping: Sequence[Warping]) -> Floats:
    """About the centroid in tension, about the shear centre in shear and torsion."""
    young, shear, area, iy, iz, iyz, torsion, warp = np.array(
        [(s.young, s.shear, s.area, s.iy, s.iz, s.iyz, s.torsion, s.warping) for s in sections]
    ).T
    k = np.zeros((len(sections), 2 * FREEDOMS, 2 * FREEDOMS))
    tie = young * area / length
    for i, j, sign in ((U, U, 1), (U, U + 7, -1), (U + 7, U, -1), (U + 7, U + 7, 1)):
        k[:, i, j] = sign * tie
    bent = _hermite(length)
    in_y, in_z = (V, RZ, V + 7, RZ + 7), (W, RY, W + 7, RY + 7)
    turned = np.array([1.0, -1.0, 1.0, -1.0])  # theta_y = -dw/dx
    for i in range(4):
        for j in range(4):
            k[:, in_y[i], in_y[j]] = young * iz * bent[:, i, j]
            k[:, in_z[i], in_z[j]] = young * iy * bent[:, i, j] * turned[i] * turned[j]
            k[:, in_y[i], in_z[j]] = young * iyz * bent[:, i, j] * turned[j]
            k[:, in_z[j], in_y[i]] = k[:, in_y[i], in_z[j]]
    twisted = torsion_stiffness(shear * torsion, young * warp, length, warping)
    at = np.array([RX, CHI, RX + 7, CHI + 7])
    k[:, at[:, None], at] = twisted
    return k


def _hermite(length: Floats) -> Floats:
    """Bending stiffness over E I (n, 4, 4) for deflection and slope at both ends."""
    one = np.ones_like(length)
    rows = [
        [12 * one, 6 * length, -12 * one, 6 * length],
        [6 * length, 4 * length**2, -6 * length, 2 * length**2],
        [-12 * one, -6 * length, 12 * one, -6 * length],
        [6 * length, 2 * length**2, -6 * length, 4 * length**2],
    ]
    return np.moveaxis(np.array(rows), 2, 0) / length[:, None, None] ** 3


def torsion_stiffness(gj: Floats, ew: Floats, length: Floats, warping: Sequence[Warping]) -> Floats:
    """Stiffness in torsion (n, 4, 4) for theta_x and chi at both ends.

    With a = L sqrt(G J / (E Iw)) and d = 2 - 2 cosh a + a sinh a: E Iw / L^3 times a^3 sinh a / d for the twist,
    a^2 (cosh a - 1) / d L between twist and warping, a (a cosh a - sinh a) / d L^2 and a (sinh a - a) / d L^2 for the
    warping. Free ends leave G J / L; held ends the first term alone.

    gj: G J [N m2] (n,)
    ew: E Iw [N m4] (n,); 0 for a section that does not warp
    length: [m] (n,)
    warping: see `stiffness`
    """
    warps = ew > 0.0
    safe = np.where(warps, ew, 1.0)
    a = np.minimum(length * np.sqrt(gj / safe), 600.0)
    exact = safe / length**3 * np.array(_tie(np.maximum(a, _SHORT)))
    series = safe / length**3 * np.array(_short_tie(a))
    twist, mixed, near, far = np.where(a < _SHORT, series, exact)
    kind = np.array(warping)
    plain = gj / length
    twist = np.where(warps & (kind != "free"), twist, plain)
    mixed, near, far = (np.where(warps & (kind == "shared"), part, 0.0) for part in (mixed, near, far))
    one, two = mixed * length, length**2
    rows = [
        [twist, one, -twist, one],
        [one, near * two, -one, far * two],
        [-twist, -one, twist, -one],
        [one, far * two, -one, near * two],
    ]
    return np.moveaxis(np.array(rows), 2, 0)


def _tie(a: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """The four terms over E Iw / L^3, all divided by cosh a so that nothing overflows."""
    flat, tan = 1.0 / np.cosh(a), np.tanh(a)
    d = 2.0 * (flat - 1.0) + a * tan
    return a**3 * tan / d, a**2 * (1.0 - flat) / d, a * (a - tan) / d, a * (tan - a * flat) / d


def _short_tie(a: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """The first two terms of the series in a^2."""
    return 12 + 1.2 * a**2, 6 + 0.1 * a**2, 4 + a**2 * 4 / 30, 2 - a**2 / 30
