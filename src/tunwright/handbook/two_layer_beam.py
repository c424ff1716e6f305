"""Two members one on the other, joined by fasteners that give: a frame rail and its subframe.

Signs as in `thin_section`: My puts tension on top (over a support), so that a beam that sags has My < 0; N is tension.
Both members bend alike. The fasteners, taken as spread along the joint, are a stiffness k: shear flow per slip [N/m2],
for fasteners of stiffness K [N/m] in rows at a pitch s, k = rows K / s.

What the joint gives is one number, `give` [1/N], by which it lengthens the flexibility of the two members in tension:
0 for a joint that does not slip, infinite for none, and by the gamma method pi^2 / (k l^2). Then

  EA = 1 / (1/E1A1 + 1/E2A2 + give),  EI = E1I1 + E2I2 + EA r^2,  flow = V EA r / EI

That is EN 1995-1-1:2004 Annex B, (B.1) to (B.10), for two members, written so that neither is the first; it is exact
for a load that is a half sine over the span, and near enough for others. l is the span of a simple beam, 0.8 of that of
a continuous one, twice the overhang (B.1.3 (1)). From memory, held by the tests.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.thin_section import ThinSection

Floats = NDArray[np.float64]

TIGHT = 0.0
"""Give of a joint that does not slip [1/N]."""

LOOSE = math.inf
"""Give of no joint: the members lie on each other [1/N]."""


class BeamError(ValueError):
    """A pair of members that cannot exist; the message says why."""


@dataclass(frozen=True, kw_only=True)
class Member:
    """One of the two.

    E: modulus of elasticity [Pa]
    A: area [m2]
    Iy: second moment about its own centroid [m4]
    above: from its centroid to its top fibre [m]
    below: from its centroid to its bottom fibre [m]
    """

    E: float
    A: float
    Iy: float
    above: float
    below: float

    def __post_init__(self) -> None:
        for name, value in vars(self).items():
            if not (value > 0 and math.isfinite(value)):
                raise BeamError(f"{name} of a member must be above 0, not {value:g}")


def member(section: ThinSection, *, E: float) -> Member:
    """A section as a member.

    section: its section, with Iyz = 0, or kept from bending sideways
    E: modulus of elasticity [Pa], for steel 210e9
    """
    return Member(E=E, A=section.area, Iy=section.Iy, above=section.above, below=section.below)


@dataclass(frozen=True, eq=False)
class Shares:
    """What each member carries, and its stress; numbers or arrays as the forces were.

    M_lower: moment in the lower member [N m]
    M_upper: moment in the upper member [N m]
    N_lower: axial force in the lower member [N]
    N_upper: axial force in the upper member [N]
    stress: top and bottom of the upper, top and bottom of the lower member (..., 4) [Pa], tension positive
    """

    M_lower: Floats
    M_upper: Floats
    N_lower: Floats
    N_upper: Floats
    stress: Floats


@dataclass(frozen=True, kw_only=True)
class TwoLayerBeam:
    """A lower and an upper member, parallel.

    lower: the lower member
    upper: the upper member
    gap: between the two, for example a rubber strip [m], 0 or more
    """

    lower: Member
    upper: Member
    gap: float = 0.0

    def __post_init__(self) -> None:
        if not (self.gap >= 0 and math.isfinite(self.gap)):
            raise BeamError(f"the gap between two members must be 0 or more, not {self.gap:g} m")

    @property
    def distance(self) -> float:
        """Between the centroids, r [m]."""
        return self.lower.above + self.gap + self.upper.below

    @property
    def apart(self) -> float:
        """E1I1 + E2I2, bending stiffness of the two without a joint [N m2]."""
        return self.lower.E * self.lower.Iy + self.upper.E * self.upper.Iy

    def together(self, give: float) -> float:
        """Stiffness of the two against stretching past each other, EA = 1 / (1/E1A1 + 1/E2A2 + give) [N].

        give: of the joint [1/N], 0 to infinite
        """
        if not give >= 0:
            raise BeamError(
                f"the give of a joint must be 0 (none) or more, up to infinite (no joint), not {give:g} 1/N"
            )
        return 1.0 / (1.0 / (self.lower.E * self.lower.A) + 1.0 / (self.upper.E * self.upper.A) + give)

    def stiffness(self, give: float) -> float:
        """Bending stiffness EI = E1I1 + E2I2 + EA r^2 [N m2].

        give: of the joint [1/N], 0 to infinite
        """
        return self.apart + self.together(give) * self.distance**2

    def flow(self, give: float, *, Vz: ArrayLike) -> Floats:
        """Shear flow in the joint, Vz EA r / EI [N/m]; with give = 0 it is V S / I.

        give: of the joint [1/N], 0 to infinite
        Vz: shear force [N]
        """
        return np.asarray(Vz, dtype=float) * (self.together(give) * self.distance / self.stiffness(give))

    def shares(self, give: float, *, My: ArrayLike = 0.0, N_lower: ArrayLike = 0.0, N_upper: ArrayLike = 0.0) -> Shares:
        """How the two share a moment and axial forces that are put into each of them.

        The joint hands X from the lower to the upper member, X (1/EA + r^2 / (E1I1 + E2I2)) =
        r My / (E1I1 + E2I2) + N_lower / E1A1 - N_upper / E2A2; the curvature is (My - X r) / (E1I1 + E2I2).

        give: of the joint [1/N], 0 to infinite
        My: moment of all forces, each axial one taken at the centroid of its member [N m]
        N_lower: axial force put into the lower member at its centroid [N]
        N_upper: axial force put into the upper member at its centroid [N]
        """
        moment, put_low, put_up = (np.asarray(one, dtype=float) for one in (My, N_lower, N_upper))
        low, up, r = self.lower, self.upper, self.distance
        apart_strain = r * moment / self.apart + put_low / (low.E * low.A) - put_up / (up.E * up.A)
        EA = self.together(give)
        handed = apart_strain * EA / (1.0 + EA * r**2 / self.apart)
        curvature = (moment - handed * r) / self.apart
        in_low, in_up = np.broadcast_arrays(put_low - handed, put_up + handed)
        stress = [
            up.E * up.above * curvature + in_up / up.A,
            -up.E * up.below * curvature + in_up / up.A,
            low.E * low.above * curvature + in_low / low.A,
            -low.E * low.below * curvature + in_low / low.A,
        ]
        M_low, M_up = low.E * low.Iy * curvature, up.E * up.Iy * curvature
        return Shares(M_low, M_up, in_low, in_up, np.stack(np.broadcast_arrays(*stress), axis=-1))


def gamma_give(*, k: float, length: float) -> float:
    """Give of a joint by the gamma method, pi^2 / (k l^2) [1/N].

    k: shear flow per slip [N/m2], 0 or more
    length: l, span of a simple beam, 0.8 of that of a continuous one, twice an overhang [m]
    """
    if not (k >= 0 and length > 0):
        raise BeamError(f"a joint needs a stiffness of 0 or more and a length above 0, not {k:g} N/m2 and {length:g} m")
    return math.pi**2 / (k * length**2) if k else LOOSE


@dataclass(frozen=True, eq=False)
class UniformLoad:
    """A simple beam of two members under a uniform load.

    deflection: at mid-span, down [m]
    stiffness: EI of the plain beam that deflects as much [N m2]
    handed: axial force handed from the lower to the upper member at each x [N]; negative where the load is down
    flow: shear flow in the joint at each x [N/m]
    """

    deflection: float
    stiffness: float
    handed: Floats
    flow: Floats


def uniform_load(beam: TwoLayerBeam, *, k: float, span: float, load: float, x: ArrayLike) -> UniformLoad:
    """Newmark's solution for a simple beam under a uniform load; exact for members that slip by flow / k.

    With a^2 = k (1/E1A1 + 1/E2A2 + r^2 / EI0), EI0 = E1I1 + E2I2, EI1 the stiffness without slip and c = r EA / EI1:
    |N| = c (q x (l - x) / 2 - q / a^2 + q / a^2 cosh(a (x - l/2)) / cosh(a l / 2)),
    w = 5 q l^4 / (384 EI1) + r c q / (a^2 EI0) (l^2 / 8 - (1 - 1 / cosh(a l / 2)) / a^2).
    Newmark, Siess & Viest, Proc. Soc. Exp. Stress Analysis 9, 1951; derived anew.

    beam: the two members
    k: shear flow per slip [N/m2], above 0
    span: l, between the supports [m], above 0
    load: q, down [N/m]
    x: places along the span [m], 0 to l
    """
    if not (k > 0 and span > 0):
        raise BeamError(f"a beam needs a joint stiffness and a span above 0, not {k:g} N/m2 and {span:g} m")
    at, r, EI0, EI1 = np.asarray(x, dtype=float), beam.distance, beam.apart, beam.stiffness(TIGHT)
    EA = beam.together(TIGHT)
    c = r * EA / EI1
    a = math.sqrt(k * EI1 / (EA * EI0))
    whole = 1.0 + math.exp(-a * span)
    near, far = np.expm1(-a * at), np.expm1(-a * (span - at))
    mid = math.expm1(-a * span / 2) ** 2 / whole  # 1 - 1 / cosh(a l / 2), without overflow and without cancelling
    deflection = 5 * load * span**4 / (384 * EI1)
    deflection += r * c * load / (a**2 * EI0) * (span**2 / 8 - mid / a**2)
    handed = -c * load * (at * (span - at) / 2 - near * far / whole / a**2)
    flow = -c * load * (span / 2 - at + (far - near) / whole / a)
    return UniformLoad(deflection, 5 * load * span**4 / (384 * deflection), handed, flow)


def pitch(*, capacity: float, flow: float) -> float:
    """Greatest distance between fasteners along a joint, capacity / flow [m]; infinite without flow.

    capacity: what the fasteners across the joint carry together [N], above 0
    flow: shear flow in the joint [N/m]
    """
    if not capacity > 0:
        raise BeamError(f"what a fastener carries must be above 0, not {capacity:g} N")
    return capacity / abs(flow) if flow else math.inf
