"""Design resistances of one bolt: EN 1993-1-8:2005 with its corrigendum of 2009, Tables 3.3 and 3.4, 3.9, 3.6.1.

Formulas from memory; some of them seen in public worksheets. Long joints (3.8), packing plates (3.6.1 (12)) and fatigue
are not included.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]
GAMMA_M2 = 1.25
GAMMA_M3, GAMMA_M3_SER = 1.25, 1.1
LEAST_END, LEAST_EDGE, LEAST_PITCH, LEAST_GAUGE = 1.2, 1.2, 2.2, 2.4
ONE_ROW = 1.5
"""Most that k1 alpha_b may be in a lap with one bolt row [-], 3.6.1 (10)."""

_WEAK_IN_THREAD = ("4.8", "5.8", "6.8", "10.9")
_CLASSES = ("4.6", "5.6", "8.8", *_WEAK_IN_THREAD)


def shear_factor(*, bolt_class: str, thread_in_shear: bool) -> float:
    """Factor alpha_v of the shear resistance [-].

    bolt_class: 4.6 | 4.8 | 5.6 | 5.8 | 6.8 | 8.8 | 10.9
    thread_in_shear: whether the shear plane passes the thread
    ValueError: another class

    Source: EN 1993-1-8, Table 3.4.
    """
    if bolt_class not in _CLASSES:
        raise ValueError(f"Shear is given for the classes {', '.join(_CLASSES)}; {bolt_class!r} was given, "
                         "for example '8.8'.")
    return 0.5 if thread_in_shear and bolt_class in _WEAK_IN_THREAD else 0.6


def shear_resistance(*, area: float, tensile_strength: float, factor: float = 0.6, gamma: float = GAMMA_M2) -> float:
    """Shear resistance of one shear plane [N], Fv,Rd = alpha_v fub A / gamma_M2.

    area: stress area where the plane passes the thread, full section where it passes the shank [m2], above 0
    tensile_strength: nominal fub of the class [Pa], above 0
    factor: alpha_v [-], from `shear_factor`
    gamma: partial factor [-], above 0

    Source: EN 1993-1-8, Table 3.4.
    """
    positive(area=(area, "157e-6 m2"), tensile_strength=(tensile_strength, "800e6 Pa"), gamma=(gamma, "1.25"))
    return factor * tensile_strength * area / gamma


def tension_resistance(
    *, stress_area: float, tensile_strength: float, countersunk: bool = False, gamma: float = GAMMA_M2
) -> float:
    """Tension resistance [N], Ft,Rd = k2 fub As / gamma_M2, k2 = 0.9, or 0.63 for a countersunk head.

    stress_area: tensile stress area [m2], above 0
    tensile_strength: nominal fub of the class [Pa], above 0
    countersunk: whether the head is countersunk
    gamma: partial factor [-], above 0

    Source: EN 1993-1-8, Table 3.4.
    """
    positive(stress_area=(stress_area, "157e-6 m2"), tensile_strength=(tensile_strength, "800e6 Pa"))
    positive(gamma=(gamma, "1.25"))
    return (0.63 if countersunk else 0.9) * tensile_strength * stress_area / gamma


def combined_use(
    *, shear: ArrayLike, tension: ArrayLike, shear_resistance: float, tension_resistance: float
) -> Floats:
    """Utilisation under shear and tension together [-]: the larger of Fv/Fv,Rd + Ft/(1.4 Ft,Rd) and Ft/Ft,Rd.

    shear: shear on one bolt or many [N], 0 or more
    tension: pull on the same, prying included [N]; compression counts as none
    shear_resistance: Fv,Rd [N], above 0
    tension_resistance: Ft,Rd [N], above 0

    Source: EN 1993-1-8, Table 3.4.
    """
    positive(shear_resistance=(shear_resistance, "60e3 N"), tension_resistance=(tension_resistance, "90e3 N"))
    pull = np.maximum(tension, 0.0) / tension_resistance
    return np.maximum(np.abs(shear) / shear_resistance + pull / 1.4, pull)


def bearing_resistance(
    *,
    diameter: float,
    hole: float,
    thickness: float,
    plate_strength: float,
    bolt_strength: float,
    end: float | None = None,
    pitch: float | None = None,
    edge: float | None = None,
    gauge: float | None = None,
    single_row: bool = False,
    gamma: float = GAMMA_M2,
) -> float:
    """Bearing resistance of a plate at one bolt [N], Fb,Rd = k1 alpha_b fu d t / gamma_M2.

    alpha_b = min(alpha_d, fub/fu, 1), alpha_d = e1/(3 d0) at the end, p1/(3 d0) - 1/4 further in; k1 = min(2.5,
    2.8 e2/d0 - 1.7 at an edge, 1.4 p2/d0 - 1.7 between lines). A distance left out does not count; where several are
    given the least counts. In a lap with one bolt row in single shear no more than 1.5 fu d t / gamma_M2.

    diameter: of the bolt d [m], above 0
    hole: clearance hole d0 [m], not below the diameter
    thickness: of the plate [m], above 0
    plate_strength: tensile strength of the plate fu [Pa], above 0
    bolt_strength: nominal tensile strength of the bolt fub [Pa], above 0
    end: hole centre to the plate's end along the load e1 [m], 1.2 d0 or more
    pitch: between holes along the load p1 [m], 2.2 d0 or more
    edge: hole centre to the plate's edge across the load e2 [m], 1.2 d0 or more
    gauge: between lines of holes across the load p2 [m], 2.4 d0 or more
    single_row: whether it is such a lap, with one bolt alone along the load
    gamma: partial factor [-], above 0
    ValueError: a distance below its least value

    Oversize holes take 0.8 and slots across the load 0.6 of it. Source: EN 1993-1-8, Tables 3.3 and 3.4, 3.6.1 (10).
    """
    positive(diameter=(diameter, "0.016 m"), thickness=(thickness, "0.008 m"), gamma=(gamma, "1.25"))
    positive(plate_strength=(plate_strength, "470e6 Pa"), bolt_strength=(bolt_strength, "800e6 Pa"))
    if hole < diameter:
        raise ValueError(f"The hole must not be below the bolt's {diameter:g} m; {hole:g} m was given, "
                         f"for example {diameter + 0.002:g} m.")
    _far_enough(hole, end=end, pitch=pitch, edge=edge, gauge=gauge)
    along, across = [bolt_strength / plate_strength, 1.0], [2.5]
    along += [] if end is None else [end / (3 * hole)]
    along += [] if pitch is None else [pitch / (3 * hole) - 0.25]
    across += [] if edge is None else [2.8 * edge / hole - 1.7]
    across += [] if gauge is None else [1.4 * gauge / hole - 1.7]
    factor = min(min(across) * min(along), ONE_ROW if single_row else math.inf)
    return factor * plate_strength * diameter * thickness / gamma


def _far_enough(hole: float, **distances: float | None) -> None:
    least = {"end": LEAST_END, "edge": LEAST_EDGE, "pitch": LEAST_PITCH, "gauge": LEAST_GAUGE}
    for name, distance in distances.items():
        if distance is not None and distance < least[name] * hole * (1 - 1e-9):
            raise ValueError(f"The {name} distance must be {least[name]:g} holes of {hole:g} m or more; "
                             f"{distance:g} m was given, for example {1.5 * least[name] * hole:.3g} m.")


def slip_resistance(
    *,
    preload: float,
    slip_factor: float,
    surfaces: int = 1,
    hole_factor: float = 1.0,
    tension: ArrayLike = 0.0,
    gamma: float = GAMMA_M3,
) -> Floats:
    """Slip resistance of a preloaded bolt [N], Fs,Rd = ks n mu (Fp,C - 0.8 Ft) / gamma_M3, not below 0.

    preload: Fp,C, 0.7 fub As [N], above 0
    slip_factor: mu of the clamped surfaces [-], above 0
    surfaces: friction surfaces n [-], 1 or more
    hole_factor: ks [-], 1.0 for normal holes, 0.85 oversize or short slots across the load, 0.7 long slots across,
        0.76 short and 0.63 long slots along it
    tension: outside pull on one bolt or many at the same time [N]; compression counts as none
    gamma: partial factor [-], above 0; 1.25 in the ultimate, 1.1 in the serviceability limit state

    Source: EN 1993-1-8, 3.9, Tables 3.6 and 3.7.
    """
    positive(preload=(preload, "110e3 N"), slip_factor=(slip_factor, "0.2"), gamma=(gamma, "1.25"))
    positive(surfaces=(surfaces, "1"), hole_factor=(hole_factor, "1.0"))
    left = np.maximum(preload - 0.8 * np.maximum(tension, 0.0), 0.0)
    return np.asarray(hole_factor * surfaces * slip_factor * left / gamma)


def punching_resistance(
    *, mean_head: float, thickness: float, plate_strength: float, gamma: float = GAMMA_M2
) -> float:
    """Resistance of a plate against a head or nut pulled through it [N], Bp,Rd = 0.6 pi dm tp fu / gamma_M2.

    mean_head: mean of the widths across flats and across corners of head or nut, the smaller of the two [m], above 0
    thickness: of the plate under it [m], above 0
    plate_strength: tensile strength of the plate [Pa], above 0
    gamma: partial factor [-], above 0

    Source: EN 1993-1-8, Table 3.4.
    """
    positive(mean_head=(mean_head, "0.0246 m"), thickness=(thickness, "0.008 m"), gamma=(gamma, "1.25"))
    positive(plate_strength=(plate_strength, "470e6 Pa"))
    return 0.6 * math.pi * mean_head * thickness * plate_strength / gamma
