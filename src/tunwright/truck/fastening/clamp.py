"""U-bolts or studs round rail and subframe: they press both together; friction holds fore, aft and sideways.

Each leg pulls alike. A leg that leans is not counted as a stop.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tunwright.build.mounting import BoltSet
from tunwright.handbook.bolt_joint import proof_use
from tunwright.handbook.u_bolt import clamp_force, friction_hold
from tunwright.tables.read import shop_value
from tunwright.truck.fastening.joint import Worst
from tunwright.truck.fastening.resist import OneBolt, slip_gamma
from tunwright.truck.fastening.sides import Side

Floats = NDArray[np.float64]


class Clamp:
    """The clamps of both sides of a mount.

    bolts: their legs
    sides: forces on both sides
    """

    def __init__(self, bolts: BoltSet, sides: tuple[Side, ...]) -> None:
        self.bolts, self.sides = bolts, sides
        self.one = OneBolt(bolts)
        self.legs = bolts.columns * bolts.rows

    @property
    def pressed(self) -> float:
        """Force with which the legs of one side press at least [N]."""
        return clamp_force(preload=self.one.tightened.least, legs=self.legs, loss=shop_value("preload_loss"))

    def hold(self, up: float, *, daily: bool) -> float:
        """What friction holds on one side [N], with the partial factor against slip.

        up: force of the body upwards there [N]
        daily: in daily use; else the factor is that of the ultimate limit state, for nothing else holds there
        """
        lift, weight = max(up, 0.0), max(-up, 0.0)
        held = friction_hold(clamps=self.pressed, friction=self.one.slip_factor, uplift=lift, weight=weight)
        return held / slip_gamma(daily=daily)

    def slip(self) -> Worst:
        """Fore, aft and sideways against friction, hard cases too: nothing else holds there."""
        worst = [self._worst(side, self._slip_use(side)) for side in self.sides]
        return max(worst, key=lambda one: one.use)

    def strength(self) -> Worst | None:
        """Pull of a leg against its resistance; None for a class EN 1993-1-8 does not cover."""
        bears = self.one.tension
        if bears is None:
            return None
        worst = [self._worst(side, np.maximum(side.force[:, 2], 0.0) / self.legs / bears) for side in self.sides]
        return max(worst, key=lambda one: one.use)

    def proof(self) -> Worst:
        """Greatest preload with the whole pull, against the proof load: how soft the clamped parts are is not known."""
        how, found = self.one.tightened, []
        for side in self.sides:
            pull = np.maximum(side.force[:, 2], 0.0) / self.legs
            found.append(self._worst(side, proof_use(proof_load=how.proof, preload=how.most, pull=pull)))
        return max(found, key=lambda one: one.use)

    def _slip_use(self, side: Side) -> Floats:
        level = np.hypot(side.force[:, 0], side.force[:, 1])
        pairs = zip(side.force[:, 2], side.daily, strict=True)
        held = np.array([self.hold(float(up), daily=bool(daily)) for up, daily in pairs])
        used: Floats = level / np.maximum(held, 1.0)
        return used

    def _worst(self, side: Side, use: Floats) -> Worst:
        case = int(np.argmax(use))
        x, y, z = (float(f) for f in side.force[case])
        pull, daily = max(z, 0.0) / self.legs, bool(side.daily[case])
        return Worst(float(use[case]), side.name, side.words[case], (x, y, z), float(np.hypot(x, y)), pull, 1, daily)
