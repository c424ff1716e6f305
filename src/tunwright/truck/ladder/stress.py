"""Stresses along the rails and the subframe: von Mises from bending, axial force, bimoment, shear and torsion.

At both ends of every stretch, in every fibre `handbook.thin_section` tells, s = sqrt(s_x^2 + 3 t^2). What holes, welds
and bolts add is not in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from tunwright.handbook.beams import CHI, RX, RY, RZ, U, V, W
from tunwright.handbook.thin_section import ThinSection
from tunwright.truck.ladder.ladder import Ladder, Trial
from tunwright.truck.ladder.sections import SHEAR
from tunwright.truck.ladder.structure import Stretch

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Worst:
    """The greatest stress of a member.

    value: von Mises stress [Pa]
    normal: greatest stress along the member there, with its sign [Pa]
    stretch: where
    x: place behind the first axle [m]
    trial: in which case
    fill: number of the fill
    forces: N, Vy, Vz, T, My, Mz, B there [N, N m, N m2]
    """

    value: float
    normal: float
    stretch: Stretch
    x: float
    trial: Trial
    fill: int
    forces: Floats


class Stresses:
    """Stresses of a frame in all its cases.

    ladder: the frame, loaded
    """

    def __init__(self, ladder: Ladder) -> None:
        self.ladder = ladder
        self.stretches = ladder.structure.stretches

    @cached_property
    def forces(self) -> dict[str, Floats]:
        """Section forces by case (stretches, 2, 7, fills)."""
        return {trial.case.key: self.ladder.section_forces(trial) for trial in self.ladder.trials}

    @cached_property
    def mises(self) -> dict[str, Floats]:
        """Von Mises stress by case, worst fibre (stretches, 2, fills) [Pa]."""
        keys = list(self.forces)
        whole = np.stack([self.forces[key] for key in keys])  # (cases, stretches, 2, 7, fills)
        twist = np.stack([self.ladder.twist_rates(trial) for trial in self.ladder.trials])
        found = np.zeros((len(keys), *whole.shape[1:3], whole.shape[4]))
        for section, mine in self._alike():
            f = np.moveaxis(whole[:, mine], 3, 0)  # (7, cases, mine, 2, fills)
            slow = SHEAR * section.J * twist[:, mine]
            normal = np.stack([f[U], f[RY], f[RZ], -f[CHI]], axis=-1) @ section.unit_normal
            shear = np.stack([f[V], f[W], slow, f[RX] - slow], axis=-1) @ _unit_shear(section)
            found[:, mine] = np.sqrt((normal**2 + 3.0 * shear**2).max(axis=-1))
        return dict(zip(keys, found, strict=True))

    def worst(self, member: str, *, static: bool | None = None) -> Worst:
        """The greatest stress of a member over places, cases and fills.

        member: end of its name: rail or subframe
        static: only at rest (standing and on jacks), or only otherwise; None for all
        """
        mine = [i for i, one in enumerate(self.stretches) if one.member.endswith(member)]
        trials = [t for t in self.ladder.trials if static in (None, t.case.static) and not t.lost]
        table = np.stack([self.mises[t.case.key][mine] for t in trials])
        case, stretch, end, fill = np.unravel_index(int(table.argmax()), table.shape)
        one, trial = self.stretches[mine[stretch]], trials[case]
        forces = self.forces[trial.case.key][mine[stretch], end, :, fill]
        normal = one.walls.thin.normal_stress(N=forces[U], My=forces[RY], Mz=forces[RZ], B=-forces[CHI])
        return Worst(
            float(table[case, stretch, end, fill]),
            float(normal[np.abs(normal).argmax()]),
            one,
            one.end if end else one.start,
            trial,
            int(fill),
            forces,
        )

    def along(self, member: str, trial: Trial, fill: int) -> tuple[Floats, Floats, Floats]:
        """Places (2 n,) [m], section forces (2 n, 7) and von Mises stress (2 n,) [Pa] along a member, front to rear.

        member: left rail, right rail, left subframe or right subframe
        trial: the case
        fill: number of the fill
        """
        mine = [i for i, one in enumerate(self.stretches) if one.member == member]
        places = np.array([(self.stretches[i].start, self.stretches[i].end) for i in mine]).ravel()
        forces = self.forces[trial.case.key][mine][..., fill].reshape(-1, 7)
        return places, forces, self.mises[trial.case.key][mine][..., fill].ravel()

    def _alike(self) -> list[tuple[ThinSection, list[int]]]:
        """Stretches of one section together."""
        found: dict[int, list[int]] = {}
        for i, one in enumerate(self.stretches):
            found.setdefault(id(one.walls.thin), []).append(i)
        return [(self.stretches[mine[0]].walls.thin, mine) for mine in found.values()]


@lru_cache(maxsize=64)
def _unit_shear(section: ThinSection) -> Floats:
    """Shear stress in every fibre under Vy, Vz, T, Tw of 1 (4, fibres)."""
    one = np.eye(4)
    return section.shear_stress(Vy=one[0], Vz=one[1], T=one[2], Tw=one[3])
