"""Fillet welds by EN 1993-1-8:2005, section 4: throat, effective length, and strength by both methods.

Steel of 4 mm and more; long laps lose strength (4.11); fatigue is not included. Clauses seen in public summaries; what
is from memory says so.
"""

from __future__ import annotations

import math
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]

GAMMA_M2 = 1.25
LEAST_THROAT = 0.003
LEAST_LENGTH = 0.03
CORRELATION = MappingProxyType({"S235": 0.8, "S275": 0.85, "S355": 0.9, "S420": 1.0, "S460": 1.0})
"""Correlation factor beta_w by steel, EN 1993-1-8, Table 4.1."""


def effective_length(length: float, *, throat: float) -> float:
    """Effective length of a fillet whose ends are not full [m], l - 2 a.

    length: overall length of the run [m]
    throat: throat a [m], 3 mm or more
    ValueError: throat under 3 mm, or effective length under 6 a or 30 mm: such a weld must not carry load

    Source: EN 1993-1-8, 4.5.1 and 4.5.2.
    """
    if not throat >= LEAST_THROAT * (1 - 1e-9):
        raise ValueError(f"The throat must be 0.003 m or more; {throat:g} m was given, for example 0.004 m.")
    left = length - 2 * throat
    least = max(6 * throat, LEAST_LENGTH)
    if not left >= least * (1 - 1e-9):
        raise ValueError(f"The effective length, the run less two throats, must be {least:g} m or more; {left:g} m is "
                         f"left of {length:g} m, for example a run of {least + 2 * throat + 0.01:.3g} m.")
    return left


def shear_strength(*, tensile_strength: float, correlation: float, gamma: float = GAMMA_M2) -> float:
    """Design shear strength of the throat [Pa], fvw,d = fu / (sqrt(3) beta_w gamma_M2).

    tensile_strength: nominal fu of the weaker part joined [Pa], above 0
    correlation: beta_w [-], above 0, see CORRELATION
    gamma: partial factor [-], above 0

    For S355 the sources differ in fu: 470 MPa is the minimum of EN 10025-2 for 3-100 mm, EN 1993-1-1 prints 490 after
    its corrigendum and 510 before. Source: EN 1993-1-8, 4.5.3.3.
    """
    positive(tensile_strength=(tensile_strength, "470e6 Pa"), correlation=(correlation, "0.9"), gamma=(gamma, "1.25"))
    return tensile_strength / (math.sqrt(3) * correlation * gamma)


def directional_use(
    *,
    normal: ArrayLike,
    shear_across: ArrayLike,
    shear_along: ArrayLike,
    tensile_strength: float,
    correlation: float,
    gamma: float = GAMMA_M2,
) -> Floats:
    """Utilisation of the throat by the directional method [-].

    The larger of sqrt(s^2 + 3 (t_across^2 + t_along^2)) / (fu / (beta_w gamma_M2)) and |s| / (0.9 fu / gamma_M2).

    normal: stress perpendicular to the throat [Pa]
    shear_across: shear in the throat across the weld's axis [Pa]
    shear_along: shear in the throat along the weld's axis [Pa]
    tensile_strength: nominal fu of the weaker part joined [Pa], above 0
    correlation: beta_w [-], above 0, see CORRELATION
    gamma: partial factor [-], above 0

    Source: EN 1993-1-8, 4.5.3.2, equation 4.1.
    """
    positive(tensile_strength=(tensile_strength, "470e6 Pa"), correlation=(correlation, "0.9"), gamma=(gamma, "1.25"))
    s, across, along = (np.asarray(stress, dtype=float) for stress in (normal, shear_across, shear_along))
    together = np.sqrt(s**2 + 3 * (across**2 + along**2)) * correlation * gamma / tensile_strength
    alone = np.abs(s) * gamma / (0.9 * tensile_strength)
    use: Floats = np.maximum(together, alone)
    return use


def simplified_use(
    *, line_force: ArrayLike, throat: ArrayLike, tensile_strength: float, correlation: float, gamma: float = GAMMA_M2
) -> Floats:
    """Utilisation by the simplified method [-], Fw,Ed / (fvw,d a), whatever the direction of the force.

    line_force: resultant force on a length of weld [N/m], 0 or more
    throat: throat a [m], above 0
    tensile_strength: nominal fu of the weaker part joined [Pa], above 0
    correlation: beta_w [-], above 0, see CORRELATION
    gamma: partial factor [-], above 0

    Source: EN 1993-1-8, 4.5.3.3.
    """
    strength = shear_strength(tensile_strength=tensile_strength, correlation=correlation, gamma=gamma)
    use: Floats = np.asarray(line_force, dtype=float) / (strength * np.asarray(throat, dtype=float))
    return use


def long_lap_factor(*, length: float, throat: float) -> float:
    """Part of its strength a long fillet in a lap joint keeps [-], 1.2 - 0.2 L / (150 a) from 150 a on, 0 from 900 a.

    length: overall length of the lap in the direction of the force [m], above 0
    throat: throat a [m], above 0

    Source: EN 1993-1-8, 4.11, equation 4.9; from memory.
    """
    positive(length=(length, "0.4 m"), throat=(throat, "0.004 m"))
    return min(max(1.2 - 0.2 * length / (150 * throat), 0.0), 1.0)
