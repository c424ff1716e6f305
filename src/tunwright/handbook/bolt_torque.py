"""How a tightening torque becomes a preload, and what preload a bolt may be given.

The thread is a wedge: its torque is F d2/2 tan(lead + friction angle), with tan(friction angle) = mu / cos 30 deg.
VDI 2230 prints the linear form of this, lead + 1.155 mu; its tables of assembly preload follow the exact one used here.
"""

from __future__ import annotations

import math

from tunwright.handbook.bolt import minor_diameter, pitch_diameter, stress_area
from tunwright.handbook.positive import positive

_FLANK = math.cos(math.radians(30))


def bearing_diameter(*, face: float, hole: float) -> float:
    """Mean diameter at which the head or nut rubs [m], DKm = (dw + dh)/2.

    face: outer diameter of the bearing face [m], above the hole
    hole: clearance hole [m], above 0

    Source: VDI 2230.
    """
    positive(hole=(hole, "0.0175 m"))
    if face <= hole:
        raise ValueError(f"The bearing face must be wider than the hole of {hole:g} m; {face:g} m was given, "
                         "for example 0.0225 m over a hole of 0.0175 m.")
    return (face + hole) / 2


def torque_arm(
    *,
    diameter: float,
    pitch: float,
    thread_friction: float,
    head_friction: float,
    rubbing_diameter: float,
    mean_diameter: float | None = None,
) -> float:
    """Torque per unit of preload [m], T/F = dm/2 tan(lead + friction angle) + mu_K DKm/2.

    diameter: nominal diameter [m], above 0
    pitch: thread pitch [m], above 0 and below the diameter
    thread_friction: friction of the threads mu_G [-], 0 to 0.6
    head_friction: friction under the turned head or nut mu_K [-], 0 to 0.6
    rubbing_diameter: mean diameter at which the turned head or nut rubs [m], above 0
    mean_diameter: diameter at which the threads rub [m]; without it the pitch diameter

    Source: VDI 2230 (the linear form is M = F (0.16 P + 0.58 d2 mu_G + DKm/2 mu_K)); the wedge without shortening:
    Shigley's Mechanical Engineering Design, 9th ed., equation 8-25.
    """
    positive(rubbing_diameter=(rubbing_diameter, "0.02 m"))
    middle = pitch_diameter(diameter=diameter, pitch=pitch) if mean_diameter is None else mean_diameter
    _friction(head_friction, "under the head")
    return middle / 2 * _wedge(middle, pitch, thread_friction) + head_friction * rubbing_diameter / 2


def torque(
    *,
    preload: float,
    diameter: float,
    pitch: float,
    thread_friction: float,
    head_friction: float,
    rubbing_diameter: float,
) -> float:
    """Tightening torque that gives a preload [N m], T = F (T/F) of `torque_arm`.

    preload: force in the bolt [N], above 0
    diameter: nominal diameter [m], above 0
    pitch: thread pitch [m], above 0 and below the diameter
    thread_friction: friction of the threads [-], 0 to 0.6
    head_friction: friction under the turned head or nut [-], 0 to 0.6
    rubbing_diameter: mean diameter at which the turned head or nut rubs [m], above 0

    Source: as `torque_arm`.
    """
    positive(preload=(preload, "70e3 N"))
    return preload * torque_arm(
        diameter=diameter,
        pitch=pitch,
        thread_friction=thread_friction,
        head_friction=head_friction,
        rubbing_diameter=rubbing_diameter,
    )


def preload(
    *,
    torque: float,
    diameter: float,
    pitch: float,
    thread_friction: float,
    head_friction: float,
    rubbing_diameter: float,
) -> float:
    """Preload that a tightening torque gives [N], the inverse of `torque`.

    torque: at the head or nut [N m], above 0
    diameter: nominal diameter [m], above 0
    pitch: thread pitch [m], above 0 and below the diameter
    thread_friction: friction of the threads [-], 0 to 0.6
    head_friction: friction under the turned head or nut [-], 0 to 0.6
    rubbing_diameter: mean diameter at which the turned head or nut rubs [m], above 0

    Source: as `torque_arm`.
    """
    positive(torque=(torque, "210 N m"))
    return torque / torque_arm(
        diameter=diameter,
        pitch=pitch,
        thread_friction=thread_friction,
        head_friction=head_friction,
        rubbing_diameter=rubbing_diameter,
    )


def assembly_preload(
    *, diameter: float, pitch: float, yield_strength: float, thread_friction: float, utilisation: float = 0.9
) -> float:
    """Preload at which tension and torsion together use a share of the yield strength [N].

    F = nu Rp As / sqrt(1 + 3 (3/2 d2/dS tan(lead + friction angle))^2), by von Mises, with the torsion carried
    plastically over the whole section (W = pi dS^3 / 12).

    diameter: nominal diameter [m], above 0
    pitch: thread pitch [m], above 0 and below the diameter
    yield_strength: least Rp0.2 of the class [Pa], above 0
    thread_friction: least friction of the threads [-], 0 to 0.6
    utilisation: share of the yield strength nu [-], above 0 up to 1

    Source: VDI 2230:2003, 5.4.3 (clause from memory); its tables for hexagon bolts use 0.9.
    """
    positive(yield_strength=(yield_strength, "640e6 Pa"), utilisation=(utilisation, "0.9"))
    if utilisation > 1:
        raise ValueError(f"The utilisation is a share of the yield strength, at most 1; {utilisation:g} was given, "
                         "for example 0.9.")
    middle = pitch_diameter(diameter=diameter, pitch=pitch)
    section = (middle + minor_diameter(diameter=diameter, pitch=pitch)) / 2
    twist = 1.5 * middle / section * _wedge(middle, pitch, thread_friction)
    area = stress_area(diameter=diameter, pitch=pitch)
    return utilisation * yield_strength * area / math.sqrt(1 + 3 * twist**2)


def _wedge(middle: float, pitch: float, friction: float) -> float:
    """tan(lead + friction angle) of the thread."""
    _friction(friction, "of the threads")
    lead, rub = pitch / (math.pi * middle), friction / _FLANK
    return (lead + rub) / (1 - lead * rub)


def _friction(value: float, where: str) -> None:
    if not 0 <= value <= 0.6:
        raise ValueError(f"The friction {where} must lie between 0 and 0.6; {value:g} was given, for example 0.14.")
