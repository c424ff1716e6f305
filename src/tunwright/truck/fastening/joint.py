"""The bolts of a mount in the rail's web: shear and pull of each in every case, and how much of its resistance is used.

Both sides are looked at together.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from tunwright.build.model import Build
from tunwright.build.mounting import BoltSet
from tunwright.handbook.bolt_joint import proof_use
from tunwright.handbook.bolt_resistance import combined_use
from tunwright.tables.read import shop_value
from tunwright.truck.fastening.pattern import first_row, on_bolts, wrenches
from tunwright.truck.fastening.resist import OneBolt
from tunwright.truck.fastening.sides import Side

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Web:
    """The rail where a mount is bolted to it.

    thickness: [m], None where not known
    tensile: tensile strength, estimated from the yield strength [Pa], None where that is not known
    height: of the rail [m], None where not known
    lining: thickness of a reinforcement on the web [m]
    """

    thickness: float | None
    tensile: float | None
    height: float | None
    lining: float


def web_at(build: Build, x: float) -> Web:
    """The rail at a place.

    build: the build
    x: the place [m]
    """
    frame = build.chassis.frame
    liner = next((one for one in frame.liner if one.start <= x <= one.end), None)
    lining = 0.0 if liner is None or liner.shape == "strip" else float(liner.thickness)
    return Web(
        None if frame.rail_thickness is None else float(frame.rail_thickness),
        None if frame.yield_strength is None else shop_value("tensile_over_yield") * float(frame.yield_strength),
        None if frame.rail_height is None else float(frame.rail_height),
        lining,
    )


@dataclass(frozen=True)
class Worst:
    """The greatest part of a resistance that is used, and where.

    use: [-]
    side: left or right
    words: the case
    force: force of the body there along, across and up [N]
    shear, pull: of the bolt [N]
    bolt: number of the bolt, from 1 in the upper row
    daily: whether the case is one of daily use
    """

    use: float
    side: str
    words: str
    force: tuple[float, float, float]
    shear: float
    pull: float
    bolt: int
    daily: bool


class Joint:
    """The bolts of both sides of a mount.

    bolts: the bolts
    kind: of the mount
    sides: forces on both sides
    web: the rail there
    """

    def __init__(self, bolts: BoltSet, kind: str, sides: tuple[Side, ...], web: Web) -> None:
        self.bolts, self.kind, self.sides, self.web = bolts, kind, sides, web
        self.one = OneBolt(bolts)

    @property
    def missing(self) -> tuple[str, ...]:
        """Keys, below the bolts or of the frame, without which no bolt can be loaded."""
        found = ["bolts.reach"] if self.reach is None else []
        if first_row(self.bolts, self.web.height) is None:
            found.append("chassis.frame.rail_height")
        return tuple(found)

    @property
    def reach(self) -> float | None:
        """From the web out to where the force comes in [m]."""
        if self.bolts.reach is not None:
            return float(self.bolts.reach)
        return 0.5 * float(self.bolts.plate) if self.kind == "plate" else None

    @property
    def drop(self) -> float:
        """From the upper flange down to the upper row [m]."""
        return first_row(self.bolts, self.web.height) or 0.0

    @cached_property
    def _rows(self) -> list[tuple[Side, int]]:
        return [(side, i) for side in self.sides for i in range(len(side.words))]

    @cached_property
    def _each(self) -> tuple[Floats, Floats]:
        """Shear and pull of every bolt (sides and cases, bolts) [N]."""
        reach = self.reach or 0.0
        loads = np.concatenate([wrenches(side.carried, side.name, reach) for side in self.sides])
        shear, pull = on_bolts(self.bolts, self.drop, loads)
        return shear, np.maximum(pull, 0.0)

    def _worst(self, use: Floats, *, daily: bool = False) -> Worst:
        """The worst bolt.

        use: (sides and cases, bolts) [-]
        daily: of daily use alone
        """
        if daily:
            use = np.where(np.concatenate([side.daily for side in self.sides])[:, None], use, -1.0)
        row, bolt = (int(i) for i in np.unravel_index(int(np.argmax(use)), use.shape))
        side, case = self._rows[row]
        x, y, z = (float(f) for f in side.carried[case])
        shear, pull = (float(part[row, bolt]) for part in self._each)
        most, of_daily_use = float(use[row, bolt]), bool(side.daily[case])
        return Worst(most, side.name, side.words[case], (x, y, z), shear, pull, bolt + 1, of_daily_use)

    @property
    def grip(self) -> float | None:
        """Thickness of what the bolts clamp [m], None where not known."""
        web = self.web
        return None if web.thickness is None else float(self.bolts.plate) + web.thickness + web.lining

    @cached_property
    def share(self) -> float | None:
        """Part of an outside pull that a bolt feels [-], None without the grip."""
        return None if self.grip is None else self.one.share(self.grip)

    # what is used of it

    def strength(self) -> Worst | None:
        """Shear, tension and both together; None for a class EN 1993-1-8 does not cover."""
        bears, holds = self.one.shear, self.one.tension
        if bears is None or holds is None:
            return None
        shear, pull = self._each
        return self._worst(combined_use(shear=shear, tension=pull, shear_resistance=bears, tension_resistance=holds))

    def slip(self) -> Worst:
        """Against slip in daily use."""
        return self._worst(self._slip_use, daily=True)

    def slip_when_hard(self) -> float:
        """Part of the friction that is used in any case, the hard ones too [-]."""
        return float(self._slip_use.max())

    @cached_property
    def _slip_use(self) -> Floats:
        shear, pull = self._each
        used: Floats = shear / np.maximum(self.one.slip(pull), 1e-3 * self.one.slip())
        return used

    def bearing(self, thickness: float, tensile: float, *, edges: bool) -> Worst:
        """The hole pressed on its side, or the head pulled through.

        thickness: of plate or web [m]
        tensile: its tensile strength [Pa]
        edges: it ends beside the bolts
        """
        shear, pull = self._each
        pressed = shear / self.one.bearing(thickness, tensile, edges=edges)
        return self._worst(np.maximum(pressed, pull / self.one.punching(thickness, tensile)))

    def proof(self) -> Worst | None:
        """Greatest preload with the bolt's share of the pull, against its proof load; None without the grip."""
        if self.share is None:
            return None
        how, (_, pull) = self.one.tightened, self._each
        return self._worst(proof_use(proof_load=how.proof, preload=how.most, pull=pull, share=self.share))
