"""Losses where a pipe changes its bore.

A loss coefficient K is a loss of head over the velocity head: h = K v^2 / 2g. Each function says which velocity.
Angles are in radians.
"""

from __future__ import annotations

import math

from tunwright.handbook.positive import positive

_STEEP = math.radians(45)


def sudden_enlargement(*, inlet: float, outlet: float) -> float:
    """Loss coefficient of a sudden enlargement [-], K = (1 - (d / D)^2)^2, referred to the narrow pipe.

    inlet: inside diameter of the narrow pipe d [m], above 0
    outlet: inside diameter of the wide pipe D [m], d or more

    Source: Borda and Carnot: momentum on the wide section.
    """
    rest = 1 - _area_ratio(narrow=inlet, wide=outlet)
    return rest * rest


def gradual_reducer(*, inlet: float, outlet: float, angle: float) -> float:
    """Loss coefficient of a conical reducer in either direction [-], referred to the narrow pipe.

    Narrowing: 0.8 sin(a/2) (1 - b2) up to 45 degrees, 0.5 sqrt(sin(a/2)) (1 - b2) above. Widening: 2.6 sin(a/2)
    (1 - b2)^2 up to 45 degrees, (1 - b2)^2 above. b2 is the ratio of the areas.

    inlet: inside diameter where the water comes in [m], above 0
    outlet: inside diameter where it goes out [m], above 0
    angle: of the cone, both sides together a [rad], 0 to pi

    Source: Crane TP-410, formulas 1 to 4.
    """
    if not 0 <= angle <= math.pi:
        raise ValueError(f"The angle of a reducer is 0 to 3.1416 rad; {angle:g} was given, for example 0.52.")
    sine = math.sin(angle / 2)
    if outlet <= inlet:
        rest = 1 - _area_ratio(narrow=outlet, wide=inlet)
        return (0.8 * sine if angle <= _STEEP else 0.5 * math.sqrt(sine)) * rest
    sudden = sudden_enlargement(inlet=inlet, outlet=outlet)
    return 2.6 * sine * sudden if angle <= _STEEP else sudden


def _area_ratio(*, narrow: float, wide: float) -> float:
    positive(narrow_diameter=(narrow, "0.05 m"), wide_diameter=(wide, "0.08 m"))
    if narrow > wide:
        raise ValueError(f"The narrow pipe has {narrow:g} m, the wide one {wide:g} m; the first must not be above "
                         "the second, for example 0.05 m and 0.08 m.")
    return (narrow / wide) ** 2
