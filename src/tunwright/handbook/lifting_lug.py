"""A plate with a hole for a shackle pin (pad eye): what it carries along its middle plane and aside.

In the plane by the formulas of ASME BTH-1-2014, 3-3.3.1 to 3-3.3.4, read in public worksheets of the standard and not
in the standard itself; aside by plain bending at the foot (derived). Capacities are divided by the design factor. The
weld at the foot belongs to `weld_lines`. Fatigue and the shackle are not included.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tunwright.handbook.positive import positive


@dataclass(frozen=True, kw_only=True)
class Lug:
    """A pad eye.

    thickness: of the plate t [m]
    hole: diameter of the hole Dh [m]
    pin: diameter of the pin Dp [m], not above the hole
    end: edge of the hole to the end of the plate along the load a [m]
    side: edge of the hole to the side of the plate across the load be [m]
    rounding: radius of a rounded end about the hole [m], None for a straight end
    """

    thickness: float
    hole: float
    pin: float
    end: float
    side: float
    rounding: float | None = None

    def __post_init__(self) -> None:
        positive(thickness=(self.thickness, "0.02 m"), hole=(self.hole, "0.03 m"), pin=(self.pin, "0.028 m"))
        positive(end=(self.end, "0.03 m"), side=(self.side, "0.03 m"))
        if self.pin > self.hole:
            raise ValueError(f"The pin must fit the hole of {self.hole:g} m; {self.pin:g} m was given, "
                             f"for example {0.95 * self.hole:.3g} m.")
        if self.rounding is not None and self.rounding < self.pin / 2:
            raise ValueError(f"The rounding must not be below half the pin; {self.rounding:g} m was given, "
                             f"for example {self.hole / 2 + self.end:.3g} m.")

    @property
    def looseness(self) -> float:
        """Reduction for a pin smaller than its hole [-], Cr = 1 - 0.275 sqrt(1 - Dp^2/Dh^2) (3-46)."""
        return 1 - 0.275 * math.sqrt(1 - (self.pin / self.hole) ** 2)


def effective_side(lug: Lug, *, yield_strength: float, tensile_strength: float) -> float:
    """Width that counts on each side of the hole [m], min(be, 4 t, 0.6 be Fu/Fy sqrt(Dh/be)).

    4 t guards against dishing: a plate thin for its width buckles out of its plane beyond the pin.

    lug: the pad eye
    yield_strength: Fy [Pa], above 0
    tensile_strength: Fu [Pa], above 0

    Source: ASME BTH-1-2014, equations 3-47 and 3-48, read in public worksheets.
    """
    positive(yield_strength=(yield_strength, "355e6 Pa"), tensile_strength=(tensile_strength, "470e6 Pa"))
    spread = 0.6 * lug.side * tensile_strength / yield_strength * math.sqrt(lug.hole / lug.side)
    return min(lug.side, 4 * lug.thickness, spread)


def net_tension(lug: Lug, *, yield_strength: float, tensile_strength: float, design_factor: float) -> float:
    """Load at tension through the hole [N], Pt = Cr Fu / (1.2 Nd) 2 t beff.

    lug: the pad eye
    yield_strength: Fy [Pa], above 0
    tensile_strength: Fu [Pa], above 0
    design_factor: Nd [-], above 0; 2.0 in design category A, 3.0 in B (from memory)

    Source: ASME BTH-1-2014, equation 3-45, read in public worksheets.
    """
    wide = effective_side(lug, yield_strength=yield_strength, tensile_strength=tensile_strength)
    return lug.looseness * _rupture(tensile_strength, design_factor) * 2 * lug.thickness * wide


def end_fracture(lug: Lug, *, tensile_strength: float, design_factor: float) -> float:
    """Load at fracture in one plane beyond the hole [N], Pb = Cr Fu/(1.2 Nd) [1.13 a + 0.92 be/(1 + be/Dh)] t.

    lug: the pad eye
    tensile_strength: Fu [Pa], above 0
    design_factor: Nd [-], above 0

    Source: ASME BTH-1-2014, equation 3-49, read in public worksheets; a is its R - Dh/2.
    """
    ring = 1.13 * lug.end + 0.92 * lug.side / (1 + lug.side / lug.hole)
    return lug.looseness * _rupture(tensile_strength, design_factor) * ring * lug.thickness


def tear_out(lug: Lug, *, tensile_strength: float, design_factor: float) -> float:
    """Load at shear along two planes beyond the hole [N], Pv = 0.7 Fu / (1.2 Nd) Av.

    Av = 2 [a - z + Dp/2 (1 - cos phi)] t, phi = 55 degrees Dp/Dh; z is what a rounded end takes off the planes.

    lug: the pad eye
    tensile_strength: Fu [Pa], above 0
    design_factor: Nd [-], above 0

    Source: ASME BTH-1-2014, equations 3-50 to 3-52 and C3-2, read in public worksheets. The edition of 2005 wrote the
    second part as Dh/2 (1 - cos 45 degrees).
    """
    turn = math.radians(55) * lug.pin / lug.hole
    lost = 0.0
    if lug.rounding is not None:
        lost = lug.rounding - math.sqrt(lug.rounding**2 - (lug.pin / 2 * math.sin(turn)) ** 2)
    length = lug.end - lost + lug.pin / 2 * (1 - math.cos(turn))
    return 0.7 * _rupture(tensile_strength, design_factor) * 2 * length * lug.thickness


def pin_bearing(lug: Lug, *, yield_strength: float, design_factor: float, turning: bool = False) -> float:
    """Load at bearing of the pin in the hole [N], Pp = 1.25 Fy / Nd Dp t, half of it (0.63) where the pin turns often.

    lug: the pad eye
    yield_strength: Fy [Pa], above 0
    design_factor: Nd [-], above 0
    turning: whether the joint turns under load many times

    Source: ASME BTH-1-2014, equations 3-53 and 3-54, read in public worksheets.
    """
    positive(yield_strength=(yield_strength, "355e6 Pa"), design_factor=(design_factor, "3.0"))
    return (0.63 if turning else 1.25) * yield_strength / design_factor * lug.pin * lug.thickness


def capacities(
    lug: Lug, *, yield_strength: float, tensile_strength: float, design_factor: float, turning: bool = False
) -> dict[str, float]:
    """All loads the lug carries in its plane, by name [N]; the least of them counts.

    lug: the pad eye
    yield_strength: Fy [Pa], above 0
    tensile_strength: Fu [Pa], above 0
    design_factor: Nd [-], above 0; 2.0 in design category A, 3.0 in B (from memory)
    turning: whether the joint turns under load many times

    Source: ASME BTH-1-2014, 3-3.3, read in public worksheets.
    """
    ductile = {"yield_strength": yield_strength, "design_factor": design_factor}
    brittle = {"tensile_strength": tensile_strength, "design_factor": design_factor}
    return {
        "net tension": net_tension(lug, yield_strength=yield_strength, **brittle),
        "end fracture": end_fracture(lug, **brittle),
        "tear-out": tear_out(lug, **brittle),
        "pin bearing": pin_bearing(lug, turning=turning, **ductile),
    }


def foot_use(
    *,
    thickness: float,
    width: float,
    height: float,
    pull: float,
    aside: float,
    yield_strength: float,
    design_factor: float,
    across: float = 0.0,
) -> float:
    """Utilisation of the plate at its foot under a pull and forces in and out of its plane [-].

    Elastic von Mises at the worse corner, N/(w t) + 6 h A/(w t^2) + 6 h C/(t w^2), with the mean shear, over Fy / Nd.

    thickness: of the plate t [m], above 0
    width: of the plate at its foot w [m], above 0
    height: of the pin's centre over the foot h [m], above 0
    pull: along the plate, away from its foot N [N]
    aside: out of the plate's plane, at the pin A [N]
    yield_strength: Fy [Pa], above 0
    design_factor: Nd [-], above 0
    across: in the plate's plane, across it, at the pin C [N]

    Source: derived, beam theory; a sling at an angle out of the plane brings pull and aside together.
    """
    positive(thickness=(thickness, "0.02 m"), width=(width, "0.12 m"), height=(height, "0.06 m"))
    positive(yield_strength=(yield_strength, "355e6 Pa"), design_factor=(design_factor, "3.0"))
    area = width * thickness
    normal = abs(pull) / area + 6 * height * (abs(aside) / (area * thickness) + abs(across) / (area * width))
    shear = math.hypot(aside, across) / area
    return math.hypot(normal, math.sqrt(3) * shear) * design_factor / yield_strength


def _rupture(tensile_strength: float, design_factor: float) -> float:
    """Allowed stress at rupture, Fu / (1.2 Nd)."""
    positive(tensile_strength=(tensile_strength, "470e6 Pa"), design_factor=(design_factor, "3.0"))
    return tensile_strength / (1.2 * design_factor)
