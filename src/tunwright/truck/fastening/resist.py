"""What one bolt of a set can bear: EN 1993-1-8, the shear plane through the thread, single shear."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.build.mounting import BoltSet
from tunwright.build.mounting_sense import hole
from tunwright.handbook import bolt_joint
from tunwright.handbook import bolt_resistance as en
from tunwright.tables.bolts import slip_factors
from tunwright.truck.fastening.tightening import Tightening, tightening

Floats = NDArray[np.float64]
BOLT_STEEL, PLATE_STEEL = 205e9, 210e9


def slip_gamma(*, daily: bool) -> float:
    """Partial factor against slip [-]: EN 1993-1-8, 2.2, serviceability in daily use, else ultimate.

    daily: in daily use
    """
    return en.GAMMA_M3_SER if daily else en.GAMMA_M3


class OneBolt:
    """One bolt of a set, tightened.

    bolts: the set
    """

    def __init__(self, bolts: BoltSet) -> None:
        self.bolts = bolts

    @cached_property
    def tightened(self) -> Tightening:
        """How it is tightened."""
        return tightening(self.bolts)

    @property
    def covered(self) -> bool:
        """Whether EN 1993-1-8 covers its class."""
        return self.bolts.grade != "12.9"

    @property
    def shear(self) -> float | None:
        """Shear resistance [N]; None for a class EN 1993-1-8 does not cover."""
        if not self.covered:
            return None
        factor = en.shear_factor(bolt_class=self.bolts.grade, thread_in_shear=True)
        how = self.tightened
        return en.shear_resistance(
            area=how.size.stress_area, tensile_strength=how.grade.nominal_tensile, factor=factor
        )

    @property
    def tension(self) -> float | None:
        """Tension resistance [N]; None for a class EN 1993-1-8 does not cover."""
        if not self.covered:
            return None
        how = self.tightened
        return en.tension_resistance(stress_area=how.size.stress_area, tensile_strength=how.grade.nominal_tensile)

    @property
    def slip_factor(self) -> float:
        """Friction between web and plate [-]."""
        return slip_factors()[self.bolts.surface].value

    def slip(self, tension: ArrayLike = 0.0) -> Floats:
        """Slip resistance at the least preload after settling, in daily use [N].

        tension: pull on it, or on many [N]
        """
        return en.slip_resistance(
            preload=self.tightened.settled, slip_factor=self.slip_factor, tension=tension, gamma=slip_gamma(daily=True)
        )

    def bearing(self, thickness: float, tensile: float, *, edges: bool) -> float:
        """Bearing resistance of its hole, the worse of both directions [N].

        thickness: of plate or web [m]
        tensile: its tensile strength [Pa]
        edges: it ends beside the bolts, as the plate does
        """
        bolts = self.bolts
        edge = float(bolts.edge) if edges else None
        along = None if bolts.columns == 1 else float(bolts.spacing or 0.0)
        up = None if bolts.rows == 1 else float(bolts.row_spacing or 0.0)
        return min(
            en.bearing_resistance(
                diameter=self.tightened.size.diameter,
                hole=hole(bolts),
                thickness=thickness,
                plate_strength=tensile,
                bolt_strength=self.tightened.grade.nominal_tensile,
                end=edge,
                edge=edge,
                pitch=pitch,
                gauge=gauge,
                single_row=pitch is None,
            )
            for pitch, gauge in ((along, up), (up, along))
        )

    def punching(self, thickness: float, tensile: float) -> float:
        """Resistance of plate or web against the head or nut pulled through it [N].

        thickness: of plate or web [m]
        tensile: its tensile strength [Pa]
        """
        size = self.tightened.size
        return en.punching_resistance(
            mean_head=0.5 * (size.flats + size.corners), thickness=thickness, plate_strength=tensile
        )

    def share(self, grip: float) -> float:
        """Part of an outside pull that it feels while the joint is closed [-]; its shank in the whole grip.

        grip: thickness of what is clamped [m]
        """
        size = self.tightened.size
        bolt = bolt_joint.bolt_stiffness(
            shank_area=np.pi / 4 * size.diameter**2,
            stress_area=size.stress_area,
            shank_length=grip,
            thread_length=0.0,
            modulus=BOLT_STEEL,
        )
        members = bolt_joint.member_stiffness(layers=((grip, PLATE_STEEL),), hole=size.diameter, face=size.face)
        return bolt_joint.load_share(bolt=bolt, members=members)
