"""What a lifting lug and its weld are loaded with by their leg, and what they would carry."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from tunwright.build.lifting import LiftingLug
from tunwright.handbook.fillet_weld import CORRELATION
from tunwright.handbook.lifting_lug import Lug, capacities, foot_use
from tunwright.handbook.weld_lines import weld_group, weld_stress, weld_use
from tunwright.tables.entries import Material
from tunwright.tables.read import materials, shop_value
from tunwright.truck.hoisting import Hoisting, Hung

FRACTURE = 1.2
"""Design factor on fracture over that on yield, ASME BTH-1, 3-1.3, from memory."""

_STAINLESS = 1.0  # correlation factor of stainless steels, EN 1993-1-4, from memory; taken for any that is not listed


@dataclass(frozen=True)
class LugPull:
    """The pull of one leg on its lug, in the lug's own directions.

    lift: what is lifted
    eye: what the eye is called
    pull: the whole pull [N]
    up: its part away from the foot [N]
    across: its part in the plane of the plate, along its foot [N]
    aside: its part out of the plane [N], at least the share the shop takes
    """

    lift: str
    eye: str
    pull: float
    up: float
    across: float
    aside: float


@dataclass(frozen=True)
class LugWeld:
    """The welds at a lug's foot, one on either side.

    throat: effective throat [m]
    length: of each [m]
    steel: the weaker of the steels they join
    tensile_strength: of it [Pa]
    correlation: factor beta_w [-]
    """

    throat: float
    length: float
    steel: str
    tensile_strength: float
    correlation: float


class HoistLug:
    """The lug of a lift; all eyes have the same.

    hoisting: the lift
    lug: the lug
    """

    def __init__(self, hoisting: Hoisting, lug: LiftingLug) -> None:
        self.hoisting, self.lug = hoisting, lug
        self.steel = materials()[lug.steel]
        self.factor = shop_value("lug_design_factor")

    @property
    def yield_strength(self) -> float:
        """Yield strength of the plate [Pa]."""
        return self.steel.yield_strength(float(self.lug.thickness))

    @property
    def tensile_strength(self) -> float:
        """Tensile strength of the plate [Pa]."""
        return self.steel.tensile_strength(float(self.lug.thickness))

    @cached_property
    def plate(self) -> Lug:
        """The plate with its hole and pin."""
        one = self.lug
        return Lug(
            thickness=float(one.thickness),
            hole=float(one.hole),
            pin=float(one.pin),
            end=float(one.end),
            side=float(one.side),
            rounding=None if one.rounding is None else float(one.rounding),
        )

    @cached_property
    def carries(self) -> dict[str, float]:
        """What it carries in its plane, by name [N]."""
        return capacities(
            self.plate,
            yield_strength=self.yield_strength,
            tensile_strength=self.tensile_strength,
            design_factor=self.factor,
        )

    @cached_property
    def pulls(self) -> tuple[LugPull, ...]:
        """What every leg of every lift does to its lug."""
        return tuple(pull for hung in self.hoisting.hung for pull in self._pulls(hung))

    def _pulls(self, hung: Hung) -> list[LugPull]:
        ways = hung.hanging.pull @ self.hoisting.truck.frame.turn  # in the tank's own axes
        found = []
        for eye, pull, way in zip(self.hoisting.names, self.hoisting.pulls(hung).tolist(), ways.tolist(), strict=True):
            x, y, z = (abs(pull * part) for part in way)
            across, aside = {"along": (x, y), "across": (y, x), "hook": (math.hypot(x, y), 0.0)}[self.lug.turned]
            found.append(LugPull(hung.name, eye, pull, z, across, max(aside, shop_value("lug_aside") * pull)))
        return found

    def foot(self, pull: LugPull) -> float:
        """Utilisation of the plate at its foot [-].

        pull: the pull on it
        """
        one = self.lug
        size = {"thickness": float(one.thickness), "width": float(one.width), "height": float(one.height)}
        load = {"pull": pull.up, "aside": pull.aside, "across": pull.across}
        return foot_use(**size, **load, yield_strength=self.yield_strength, design_factor=self.factor)

    @property
    def on_steel(self) -> bool:
        """Whether the tank is of a steel the lug can be welded to."""
        return materials()[self.hoisting.truck.build.tank.material].family != "aluminium"

    @cached_property
    def welded(self) -> LugWeld | None:
        """The welds, None where they are not stated or join no steel."""
        one, tank = self.lug, self.hoisting.truck.build.tank
        if not self.on_steel or one.throat is None or one.weld_length is None:
            return None
        sides: list[tuple[Material, float]] = [
            (self.steel, float(one.thickness)),
            (materials()[tank.material], float(tank.shell)),
        ]
        weaker, strength = min(((m, m.tensile_strength(t)) for m, t in sides), key=lambda side: side[1])
        factor = CORRELATION.get(weaker.key, _STAINLESS)
        return LugWeld(float(one.throat), float(one.weld_length), weaker.key, strength, factor)

    def weld(self, pull: LugPull) -> tuple[float, float]:
        """Utilisation of the weld at the foot by the directional and the simplified method [-]; NaN without a weld.

        pull: the pull on the lug
        """
        weld = self.welded
        if weld is None:
            return float("nan"), float("nan")
        half, out, height = 0.5 * weld.length, 0.5 * float(self.lug.thickness), float(self.lug.height)
        lines = [([(-half, y), (half, y)], weld.throat) for y in (-out, out)]
        load = (pull.across, pull.aside, pull.up, -height * pull.aside, height * pull.across, 0.0)
        stress = weld_stress(weld_group(lines, full_ends=False), np.array(load))
        margin = FRACTURE * self.factor
        used = weld_use(
            stress, tensile_strength=weld.tensile_strength, correlation=weld.correlation, gamma=margin
        )  # fmt: skip
        return float(used.directional[0]), float(used.simplified[0])
