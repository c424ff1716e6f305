"""Thin-walled sections: a midline of straight walls, open, branched, closed or with several cells.

Axes and signs, for this module and those that use it. The beam runs along x, rearwards; y to the right, z up, so a
section is drawn as seen from behind. Forces are those on the face that looks rearwards, right-handed about the axes:

- N tension; My = int z s dA, tension on top; Mz = -int y s dA, tension on the left; all about the centroid
- Vy to the right, Vz up, through the shear centre; Vz = dMy/dx, Vy = -dMz/dx
- T (St Venant) and Tw (warping) about the shear centre, y towards z: anticlockwise from behind
- B = int w s dA, with Tw = dB/dx and B = -E Iw d2(twist)/dx2; the total torque is G J d(twist)/dx + Tw
- q, shear flow along a wall from its first to its second point

Method. Along a wall every quantity is linear, across it too: w = w(midline) + n r_t, with n the distance from the
midline and r_t the wall's place along itself, seen from the shear centre (the thickness term, which is all the warping
an angle has). What a cell does to warping and shear flow is found without looking for cells: the flow in a wall is
t (r_n - dw/ds), r_n its arm; flows at a point add up to nothing: one set of linear equations, one unknown a point.
In a wall without a cell it gives the sectorial coordinate dw = r_n ds; in a cell, Bredt's flow.
J = sum L t^3 / 3 - 0.105 t^4 for each free end + the torque of the flow. Vlasov, Thin-walled elastic beams, 1961; the
term of the free end is that of a rectangle, J = b t^3 / 3 (1 - 0.63 t / b), Timoshenko & Goodier, Theory of
Elasticity, 3rd ed., art. 109. Both from memory, held by the tests. (Where a wall ends on a linked one, t is that of
both, less the t^4 of the one that goes on.)

Stresses vary across the thickness and return N, My, Mz and B exactly. The flow lives on the midline and balances them
there, dq/ds = -t ds/dx, q = V S / I; that of Vy and Vz passes through the shear centre. It returns Vy, Vz and Tw less
what walls carry by bending across their own thickness, a share of t^2 / b^2 (all, in a flat bent about its weak axis).
A *link* joins two points of walls that lie face on face, without slip and without material: rivets, a weld, glue.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike

from tunwright.handbook.thin_walls import Floats, Ints, Net, SectionError, walls

__all__ = ["SectionError", "ThinSection", "mirrored", "thin_section"]


@dataclass(frozen=True, eq=False)
class ThinSection:
    """A section, its properties and what is needed to recover stresses; made by `thin_section`.

    points: midline points (n, 2), columns y and z [m]
    segments: walls (m, 2), from point to point
    thickness: of each wall [m]
    links: pairs of points joined without slip (k, 2)
    area: [m2]
    centroid: y, z [m]
    Iy: int z^2 dA about the centroid [m4]
    Iz: int y^2 dA about the centroid [m4]
    Iyz: int y z dA about the centroid [m4]
    J: St Venant torsion constant [m4]
    shear_centre: y, z [m]
    Iw: warping constant about the shear centre [m6]
    omega: normalised sectorial coordinate of each point [m2]
    fibres: where stresses are told (6 m, 2), y and z [m]: of each wall its start, middle and end, there first the face
        on the left of the wall's direction, then the face on the right
    unit_normal: stress in each fibre under N, My, Mz, B of 1 (4, 6 m)
    unit_flow: flow at start, middle and end of each wall under Vy, Vz, T, Tw of 1 (4, m, 3)
    unit_link: flow in each link, from its first to its second point, under the same (4, k)
    """

    points: Floats
    segments: Ints
    thickness: Floats
    links: Ints
    area: float
    centroid: tuple[float, float]
    Iy: float
    Iz: float
    Iyz: float
    J: float
    shear_centre: tuple[float, float]
    Iw: float
    omega: Floats = field(repr=False)
    fibres: Floats = field(repr=False)
    unit_normal: Floats = field(repr=False)
    unit_flow: Floats = field(repr=False)
    unit_link: Floats = field(repr=False)

    def __post_init__(self) -> None:
        for value in vars(self).values():
            if isinstance(value, np.ndarray):
                value.setflags(write=False)  # a section is made once and handed round

    @property
    def above(self) -> float:
        """From the centroid up to the highest fibre [m]."""
        return float(self.fibres[:, 1].max()) - self.centroid[1]

    @property
    def below(self) -> float:
        """From the centroid down to the lowest fibre [m]."""
        return self.centroid[1] - float(self.fibres[:, 1].min())

    @property
    def right(self) -> float:
        """From the centroid to the fibre farthest to the right [m]."""
        return float(self.fibres[:, 0].max()) - self.centroid[0]

    @property
    def left(self) -> float:
        """From the centroid to the fibre farthest to the left [m]."""
        return self.centroid[0] - float(self.fibres[:, 0].min())

    @property
    def moduli(self) -> tuple[float, float, float, float]:
        """Section moduli of the outer fibres: top and bottom Iy / z, left and right Iz / y [m3].

        Where Iyz is not 0, stresses follow from `normal_stress`, not from these.
        """
        return self.Iy / self.above, self.Iy / self.below, self.Iz / self.left, self.Iz / self.right

    def normal_stress(
        self, *, N: ArrayLike = 0.0, My: ArrayLike = 0.0, Mz: ArrayLike = 0.0, B: ArrayLike = 0.0
    ) -> Floats:
        """Stress in every fibre [Pa], tension positive: (6 m,) from numbers, (n, 6 m) from arrays (n,).

        s = N / A + (My Iz + Mz Iyz) z / D - (Mz Iy + My Iyz) y / D + B w / Iw, D = Iy Iz - Iyz^2.

        N: axial force at the centroid [N]
        My: moment about y, tension on top [N m]
        Mz: moment about z, tension on the left [N m]
        B: bimoment [N m2]
        """
        stress: Floats = _stacked(N, My, Mz, B) @ self.unit_normal
        return stress

    def shear_flow(
        self, *, Vy: ArrayLike = 0.0, Vz: ArrayLike = 0.0, T: ArrayLike = 0.0, Tw: ArrayLike = 0.0
    ) -> Floats:
        """Flow at start, middle and end of every wall [N/m]: (m, 3) from numbers, (n, m, 3) from arrays (n,).

        Between the three it is a parabola; in a long wall that does not cross the neutral axis at its middle the peak
        may lie between, and a point put there tells it.

        Vy: shear force to the right, through the shear centre [N]
        Vz: shear force up, through the shear centre [N]
        T: St Venant torque; flows in cells only [N m]
        Tw: warping torque [N m]
        """
        flow: Floats = np.tensordot(_stacked(Vy, Vz, T, Tw), self.unit_flow, axes=1)
        return flow

    def link_flow(self, *, Vy: ArrayLike = 0.0, Vz: ArrayLike = 0.0, T: ArrayLike = 0.0, Tw: ArrayLike = 0.0) -> Floats:
        """Shear flow every link carries along the beam [N/m]: (k,) from numbers, (n, k) from arrays (n,).

        Times the pitch of the fasteners in that line it is the force on one.

        Vy: shear force to the right, through the shear centre [N]
        Vz: shear force up, through the shear centre [N]
        T: St Venant torque [N m]
        Tw: warping torque [N m]
        """
        flow: Floats = _stacked(Vy, Vz, T, Tw) @ self.unit_link
        return flow

    def shear_stress(
        self, *, Vy: ArrayLike = 0.0, Vz: ArrayLike = 0.0, T: ArrayLike = 0.0, Tw: ArrayLike = 0.0
    ) -> Floats:
        """Shear stress along the wall in every fibre [Pa], q / t and T t / J: (6 m,) or (n, 6 m).

        Vy: shear force to the right, through the shear centre [N]
        Vz: shear force up, through the shear centre [N]
        T: St Venant torque [N m]
        Tw: warping torque [N m]
        """
        mean = self.shear_flow(Vy=Vy, Vz=Vz, T=T, Tw=Tw)[..., None] / self.thickness[:, None, None]
        skin = np.asarray(T, dtype=float)[..., None, None, None] * self.thickness[:, None, None] / self.J
        both: Floats = mean + skin * np.array([-1.0, 1.0])
        return both.reshape((*both.shape[:-3], -1))


def thin_section(
    points: ArrayLike, segments: Sequence[tuple[int, int]] | Ints, thickness: ArrayLike, links: ArrayLike = ()
) -> ThinSection:
    """A section from its midline.

    points: midline points (n, 2), y and z [m]
    segments: walls (m, 2) as numbers of points; all walls and links must hang together
    thickness: of each wall, or one for all [m], above 0
    links: pairs of points (k, 2) that are joined without slip [-]; no ring of links alone
    """
    wall = walls(points, segments, thickness, links)
    area = float(wall.area.sum())
    centroid = wall.area @ wall.points[wall.ends].mean(axis=1) / area
    r = wall.points - centroid
    net = Net(wall)
    warp, *bredt = net.warp(r)
    warp -= wall.area @ warp[wall.ends].mean(axis=1) / area
    place = (r[wall.ends] * wall.along[:, None]).sum(axis=-1)  # of the wall's points along itself, from the centroid
    y, z, w = (wall.field(*one) for one in zip((*r.T, warp), (*wall.across.T[..., None], place), strict=True))

    by_midline, by_thickness = wall.gram(np.stack([y, z, w]))
    total = by_midline + by_thickness
    mid, full = np.linalg.pinv(by_midline[:2, :2], rcond=1e-10, hermitian=True), np.linalg.inv(total[:2, :2])
    pole, rest = mid @ by_midline[:2, 2], full @ total[:2, 2]  # as much of y and z as there is in w
    w = w - rest[0] * y - rest[1] * z
    Iw = float(total[2, 2] - total[:2, 2] @ rest)

    J = wall.torsion_of_walls() + float(bredt[0] @ wall.arms(r, wall.ends) + bredt[1] @ wall.arms(r, wall.links))
    flows = net.shear(np.stack([y[0], z[0], w[0]]))
    twist = (np.repeat(bredt[0][:, None], 3, axis=1) / J, bredt[1] / J)
    at_y, at_z, at_w = (wall.at_fibres(one) for one in (y, z, w))
    by_y, by_z = full @ np.stack([at_y, at_z])
    return ThinSection(
        points=wall.points,
        segments=wall.ends,
        thickness=wall.thickness,
        links=wall.links,
        area=area,
        centroid=(float(centroid[0]), float(centroid[1])),
        Iy=float(total[1, 1]),
        Iz=float(total[0, 0]),
        Iyz=float(total[0, 1]),
        J=J,
        shear_centre=(float(centroid[0] + pole[1]), float(centroid[1] - pole[0])),
        Iw=Iw,
        omega=warp - r @ rest,
        fibres=np.stack([at_y, at_z], axis=1) + centroid,
        unit_normal=np.stack([np.full_like(at_y, 1 / area), by_z, -by_y, at_w / Iw]),
        unit_flow=_units(flows[0], twist[0], full, Iw),
        unit_link=_units(flows[1], twist[1], full, Iw),
    )


def mirrored(section: ThinSection) -> ThinSection:
    """The same section with right and left exchanged: the right rail from the left one.

    section: the section; its y = 0 stays where it is
    """
    return thin_section(section.points * (-1.0, 1.0), section.segments, section.thickness, section.links)


def _units(flows: Floats, twist: Floats, full: Floats, Iw: float) -> Floats:
    """Flows under Vy, Vz, T, Tw of 1 from those of ds/dx = y, z, w: ds/dx = full (Vy, Vz) . (y, z) + Tw w / Iw."""
    return np.concatenate([np.tensordot(full, flows[:2], axes=1), twist[None], flows[2:] / Iw])


def _stacked(*forces: ArrayLike) -> Floats:
    return np.stack(np.broadcast_arrays(*(np.asarray(one, dtype=float) for one in forces)), axis=-1)
