"""A preloaded bolt and the parts it clamps, as two springs: how much of an outside pull the bolt feels."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]

_SOURCE_ANGLE = math.radians(30)


def bolt_stiffness(
    *, shank_area: float, stress_area: float, shank_length: float, thread_length: float, modulus: float
) -> float:
    """Stiffness of a bolt within its grip [N/m], kb = Ad At E / (Ad lt + At ld).

    shank_area: full section of the unthreaded part [m2], above 0
    stress_area: tensile stress area of the thread [m2], above 0
    shank_length: unthreaded length in the grip [m], 0 or more
    thread_length: threaded length in the grip [m], 0 or more, not both 0
    modulus: Young's modulus of the bolt [Pa], above 0

    Source: Shigley's Mechanical Engineering Design, 9th ed., equation 8-17.
    """
    positive(shank_area=(shank_area, "201e-6 m2"), stress_area=(stress_area, "157e-6 m2"))
    positive(modulus=(modulus, "205e9 Pa"), length_of_the_grip=(shank_length + thread_length, "0.04 m"))
    give = shank_length / shank_area + thread_length / stress_area
    return modulus / give


def frustum_stiffness(
    *, hole: float, face: float, thickness: float, modulus: float, half_angle: float = _SOURCE_ANGLE
) -> float:
    """Stiffness of one clamped layer as a cone widening from its narrow end [N/m].

    k = pi E d tan(a) / ln[(2 t tan(a) + D - d)(D + d) / ((2 t tan(a) + D + d)(D - d))]

    hole: hole diameter, taken as the bolt's diameter in the source [m], above 0
    face: diameter of the cone's narrow end [m], above the hole
    thickness: of the layer [m], above 0
    modulus: Young's modulus of the layer [Pa], above 0
    half_angle: half the cone's angle [rad], above 0; 30 degrees in the source

    Source: Shigley's Mechanical Engineering Design, 9th ed., equation 8-19.
    """
    positive(hole=(hole, "0.016 m"), thickness=(thickness, "0.01 m"), modulus=(modulus, "210e9 Pa"))
    positive(half_angle=(half_angle, "0.5236 rad"))
    if face <= hole:
        raise ValueError(f"The face must be wider than the hole of {hole:g} m; {face:g} m was given, "
                         "for example 0.024 m over 0.016 m.")
    slope = math.tan(half_angle)
    wide = 2 * thickness * slope + face
    ratio = (wide - hole) * (face + hole) / ((wide + hole) * (face - hole))
    return math.pi * modulus * hole * slope / math.log(ratio)


def member_stiffness(
    *, layers: Sequence[tuple[float, float]], hole: float, face: float, half_angle: float = _SOURCE_ANGLE
) -> float:
    """Stiffness of all clamped layers between a head and a nut of one face diameter [N/m].

    Two cones widen from the head and from the nut and meet in the middle of the grip; a layer that the middle cuts is
    counted on both sides, and the pieces stand in series.

    layers: thickness [m] and Young's modulus [Pa] of each layer, from the head to the nut
    hole: hole diameter, taken as the bolt's diameter in the source [m], above 0
    face: diameter of the bearing face of head and nut [m], above the hole
    half_angle: half the cone's angle [rad], above 0; 30 degrees in the source

    The parts must be at least as wide as the cones. Source: Shigley's Mechanical Engineering Design, 9th ed., 8-5.
    """
    grip = sum(thickness for thickness, _ in layers)
    give = 0.0
    for side in (layers, tuple(reversed(layers))):
        depth = 0.0
        for thickness, modulus in side:
            piece = min(thickness, grip / 2 - depth)
            if piece <= grip * 1e-12:
                break
            narrow = face + 2 * depth * math.tan(half_angle)
            give += 1 / frustum_stiffness(
                hole=hole, face=narrow, thickness=piece, modulus=modulus, half_angle=half_angle
            )
            depth += thickness
    positive(thickness_of_the_layers=(grip, "0.02 m"))
    return 1 / give


def load_share(*, bolt: float, members: float) -> float:
    """Part of an outside pull that the bolt feels while the joint is closed [-], C = kb / (kb + km).

    bolt: stiffness of the bolt [N/m], above 0
    members: stiffness of the clamped parts [N/m], above 0

    Source: Shigley's Mechanical Engineering Design, 9th ed., section 8-7.
    """
    positive(bolt=(bolt, "900e6 N/m"), members=(members, "1500e6 N/m"))
    return bolt / (bolt + members)


def proof_use(*, proof_load: float, preload: float, pull: ArrayLike, share: float = 1.0) -> Floats:
    """Part of a bolt's proof load that preload and pull use [-], (C P + Fi) / (Sp At); P / (Sp At) once it has opened.

    The joint opens where C P + Fi = P: from there the bolt carries the whole pull.

    proof_load: proof load of the bolt [N], above 0
    preload: force in the bolt before the pull [N], 0 or more
    pull: outside pull on one bolt or many [N], 0 or more
    share: part of the pull the bolt feels C [-], 0 to 1; 1 where it is not known

    Source: Shigley's Mechanical Engineering Design, 9th ed., equation 8-28 turned over; 8-30 where it opens.
    """
    positive(proof_load=(proof_load, "91e3 N"))
    outside = np.asarray(pull, dtype=float)
    use: Floats = np.maximum(preload + share * outside, outside) / proof_load
    return use
