"""The two fillet welds that carry a bracket's plate: stresses and both methods of EN 1993-1-8.

In the plane of the plate as in `pattern`: y up from the rail's upper flange, z outwards. The force comes in at the
height of the flange, in the plane of the welds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tunwright.build.model import Build
from tunwright.build.mounting import Mount, Weld
from tunwright.handbook.fillet_weld import CORRELATION, long_lap_factor, shear_strength
from tunwright.handbook.weld_lines import WeldGroup, weld_group, weld_stress, weld_use
from tunwright.tables.read import materials
from tunwright.truck.fastening.pattern import wrenches
from tunwright.truck.fastening.sides import Side


@dataclass(frozen=True)
class WeldWorst:
    """The weld where it is used most.

    directional, simplified: part of its strength by either method, less of it where the lap is long [-]
    side: left or right
    words: the case
    force: force of the body there along, across and up [N]
    """

    directional: float
    simplified: float
    side: str
    words: str
    force: tuple[float, float, float]


def rise(build: Build, weld: Weld) -> float | None:
    """From the rail's upper flange up to the middle of the welds [m]; None where not known.

    build: the build
    weld: the welds
    """
    if weld.rise is not None:
        return float(weld.rise)
    return None if build.subframe is None else 0.5 * float(build.subframe.height)


def lowest(weld: Weld, height: float) -> float:
    """How far the lower end of the welds stays above the rail's upper flange [m].

    weld: the welds
    height: of their middle over the flange [m]
    """
    return height - 0.5 * float(weld.length if weld.way == "upright" else weld.apart)


def group(weld: Weld, height: float) -> WeldGroup:
    """The welds as lines; a throat is taken off at each end.

    weld: the welds
    height: of their middle over the flange [m]
    """
    half, apart = 0.5 * float(weld.length), 0.5 * float(weld.apart)
    if weld.way == "upright":
        lines = [[(x, height - half), (x, height + half)] for x in (-apart, apart)]
    else:
        lines = [[(-half, height + y), (half, height + y)] for y in (-apart, apart)]
    return weld_group([(line, float(weld.throat)) for line in lines], full_ends=False)


def plate(mount: Mount) -> float:
    """Thickness of the plate that is welded [m]; 8 mm where it is not stated.

    mount: the mount
    """
    return 0.008 if mount.bolts is None else float(mount.bolts.plate)


def strength(weld: Weld, thickness: float) -> float:
    """Shear strength of the throat by the simplified method [Pa].

    weld: the welds
    thickness: of the plate [m]
    """
    tensile = materials()[weld.steel].tensile_strength(thickness)
    return shear_strength(tensile_strength=tensile, correlation=CORRELATION[weld.steel])


def lap(weld: Weld) -> float:
    """How far the plate laps what it is welded to, the longer way, for the force may come either way [m].

    weld: the welds
    """
    return max(float(weld.length), float(weld.apart))


def lap_factor(weld: Weld) -> float:
    """Part of their strength that is left to welds of a long lap [-]; hardly any, but some, from 900 throats on.

    weld: the welds
    """
    return max(long_lap_factor(length=lap(weld), throat=float(weld.throat)), 1e-3)


def worst(weld: Weld, thickness: float, sides: tuple[Side, ...], height: float) -> WeldWorst:
    """Where the welds of both sides are used most.

    weld: the welds
    thickness: of the plate [m]
    sides: forces on both sides
    height: of the middle of the welds over the flange [m]
    """
    tensile, lines, found = materials()[weld.steel].tensile_strength(thickness), group(weld, height), []
    left = lap_factor(weld)
    for side in sides:
        stress = weld_stress(lines, wrenches(side.carried, side.name, 0.0))
        use = weld_use(stress, tensile_strength=tensile, correlation=CORRELATION[weld.steel])
        case = int(np.argmax(use.directional))
        x, y, z = (float(f) for f in side.carried[case])
        pair = float(use.directional[case]) / left, float(use.simplified[case]) / left
        found.append(WeldWorst(*pair, side.name, side.words[case], (x, y, z)))
    return max(found, key=lambda one: one.directional)
