"""One bolt with an ISO metric thread: its areas and its loads."""

from __future__ import annotations

import math

from tunwright.handbook.positive import positive


def pitch_diameter(*, diameter: float, pitch: float) -> float:
    """Pitch diameter of an ISO metric thread [m], d2 = d - 0.649519 P.

    diameter: nominal diameter [m], above 0
    pitch: thread pitch [m], above 0 and below the diameter

    Source: ISO 724 / ISO 68-1 profile; from memory.
    """
    _thread(diameter, pitch)
    return diameter - 0.649519 * pitch


def minor_diameter(*, diameter: float, pitch: float) -> float:
    """Minor diameter of the bolt's thread [m], d3 = d - 1.226869 P.

    diameter: nominal diameter [m], above 0
    pitch: thread pitch [m], above 0 and below the diameter

    Source: ISO 898-1, 9.1.6 (with ISO 724); from memory.
    """
    _thread(diameter, pitch)
    return diameter - 1.226869 * pitch


def stress_area(*, diameter: float, pitch: float) -> float:
    """Tensile stress area of an ISO metric thread [m2], As = pi/4 ((d2 + d3)/2)^2 = pi/4 (d - 0.938194 P)^2.

    diameter: nominal diameter [m], above 0
    pitch: thread pitch [m], above 0 and below the diameter

    Source: ISO 898-1. Its tables of loads use this area rounded to three digits.
    """
    middle, minor = pitch_diameter(diameter=diameter, pitch=pitch), minor_diameter(diameter=diameter, pitch=pitch)
    return math.pi / 4 * ((middle + minor) / 2) ** 2


def proof_load(*, area: float, proof_stress: float) -> float:
    """Proof load [N], Fp = As Sp.

    area: nominal stress area [m2], above 0
    proof_stress: stress under proof load of the class [Pa], above 0

    Source: ISO 898-1.
    """
    positive(area=(area, "157e-6 m2"), proof_stress=(proof_stress, "580e6 Pa"))
    return area * proof_stress


def _thread(diameter: float, pitch: float) -> None:
    positive(diameter=(diameter, "0.016 m"), pitch=(pitch, "0.002 m"))
    if pitch >= diameter / 2:
        raise ValueError(f"The pitch must be well below the diameter of {diameter:g} m; {pitch:g} m was given, "
                         "for example 0.002 m for M16.")
