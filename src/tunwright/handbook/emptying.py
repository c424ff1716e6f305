"""How fast a vessel empties through an opening, how fast two level out, and how high a siphon may go.

The opening is small beside the surface, and what is above it is air at rest: no vent, pump or pipe holds the water
back. The coefficient of discharge is about 0.6 to 0.62 for a sharp edge, 0.8 for a short tube (textbooks of
hydraulics).
"""

from __future__ import annotations

import math

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.positive import positive


def orifice_flow(*, area: float, coefficient: float, head: float, gravity: float = GRAVITY) -> float:
    """Flow through an opening [m3/s], Q = C a sqrt(2 g h).

    area: of the opening [m2], above 0
    coefficient: of discharge C [-], above 0 up to 1
    head: of the surface over the middle of the opening, or between two surfaces [m], 0 or more
    gravity: acceleration of free fall [m/s2], above 0

    Source: Torricelli.
    """
    return _rate(area, coefficient, gravity) * math.sqrt(_height(head, "head"))


def emptying_time_prismatic(
    *,
    plan_area: float,
    orifice_area: float,
    coefficient: float,
    head_from: float,
    head_to: float = 0.0,
    gravity: float = GRAVITY,
) -> float:
    """Time in which the surface of an upright vessel sinks [s], t = 2 A (sqrt(h1) - sqrt(h2)) / (C a sqrt(2 g)).

    plan_area: of the vessel, the same at every height [m2], above 0
    orifice_area: of the opening [m2], above 0
    coefficient: of discharge C [-], above 0 up to 1
    head_from: of the surface over the opening, at first [m], 0 or more
    head_to: of the surface over the opening, at last [m], 0 up to the first
    gravity: acceleration of free fall [m/s2], above 0

    Source: derived; R. S. Paradise, Problems in Hydraulics, example 7.1, and any textbook of hydraulics.
    """
    positive(plan_area=(plan_area, "4 m2"))
    _falls(head_from, head_to)
    return 2 * plan_area * (math.sqrt(head_from) - math.sqrt(head_to)) / _rate(orifice_area, coefficient, gravity)


def equalising_time(
    *,
    area_1: float,
    area_2: float,
    orifice_area: float,
    coefficient: float,
    difference_from: float,
    difference_to: float = 0.0,
    gravity: float = GRAVITY,
) -> float:
    """Time in which two upright vessels joined by an opening level out [s]; of a wall between compartments, say.

    t = 2 A1 A2 (sqrt(d1) - sqrt(d2)) / ((A1 + A2) C a sqrt(2 g)), the opening under water all the time.

    area_1: plan area of the one vessel [m2], above 0
    area_2: plan area of the other [m2], above 0
    orifice_area: of the opening [m2], above 0
    coefficient: of discharge C [-], above 0 up to 1
    difference_from: of the two levels, at first [m], 0 or more
    difference_to: of the two levels, at last [m], 0 up to the first
    gravity: acceleration of free fall [m/s2], above 0

    Source: derived; C. Schaschke, Fluid Mechanics: Worked Examples for Engineers, example 6.6.
    """
    positive(area_1=(area_1, "8 m2"), area_2=(area_2, "4 m2"))
    return emptying_time_prismatic(
        plan_area=area_1 * area_2 / (area_1 + area_2),
        orifice_area=orifice_area,
        coefficient=coefficient,
        head_from=difference_from,
        head_to=difference_to,
        gravity=gravity,
    )


def emptying_time_horizontal_cylinder(
    *,
    radius: float,
    length: float,
    orifice_area: float,
    coefficient: float,
    height_from: float,
    height_to: float = 0.0,
    gravity: float = GRAVITY,
) -> float:
    """Time in which the surface in a lying round tank with flat ends sinks, opening at the bottom [s].

    t = 4 L ((2 R - h2)^1.5 - (2 R - h1)^1.5) / (3 C a sqrt(2 g)).

    radius: inside R [m], above 0
    length: inside L [m], above 0
    orifice_area: of the opening [m2], above 0
    coefficient: of discharge C [-], above 0 up to 1
    height_from: of the water over the bottom, at first h1 [m], 0 to 2 R
    height_to: of the water over the bottom, at last h2 [m], 0 up to the first
    gravity: acceleration of free fall [m/s2], above 0

    Source: derived; B. K. Sarkar, Fluid Mechanics and Hydraulic Machines, example 4.9.
    """
    positive(radius=(radius, "0.9 m"), length=(length, "4 m"))
    _falls(height_from, height_to)
    if height_from > 2 * radius:
        raise ValueError(f"The water stands at most {2 * radius:g} m high in this tank; {height_from:g} m was given, "
                         f"for example {radius:g} m, which is half full.")
    swept: float = (2 * radius - height_to) ** 1.5 - (2 * radius - height_from) ** 1.5
    return 4 / 3 * length * swept / _rate(orifice_area, coefficient, gravity)


def siphon_crest(
    *,
    air_pressure: float,
    vapour_pressure: float,
    density: float,
    velocity: float,
    loss: float = 0.0,
    gravity: float = GRAVITY,
) -> float:
    """Greatest height of a siphon's crest over the surface it draws from [m], (pa - pv)/(rho g) - v^2/2g - hl.

    There the water begins to boil; air comes out of it earlier, so common practice (no source) keeps 2 to 3 m below.

    air_pressure: absolute, on the surface [Pa], above the vapour pressure
    vapour_pressure: of the liquid, absolute [Pa], above 0; or another absolute pressure the crest may not fall below
    density: of the liquid [kg/m3], above 0
    velocity: in the pipe at the crest v [m/s], 0 or more; sqrt(2 g H) without losses, H down to the outlet
    loss: head lost on the way to the crest hl [m], 0 or more
    gravity: acceleration of free fall [m/s2], above 0

    Source: Bernoulli; B. R. Munson, D. F. Young, T. H. Okiishi, Fundamentals of Fluid Mechanics, example 3.10.
    """
    positive(vapour_pressure=(vapour_pressure, "1706 Pa"), density=(density, "1000 kg/m3"))
    positive(gravity=(gravity, "9.81 m/s2"))
    if not vapour_pressure < air_pressure < math.inf:
        raise ValueError(f"The air's pressure must be above the vapour pressure of {vapour_pressure:g} Pa; "
                         f"{air_pressure:g} Pa was given, for example 101325 Pa.")
    if not velocity >= 0:
        raise ValueError(f"The velocity must be 0 or more; {velocity:g} m/s was given, for example 2 m/s.")
    head = (air_pressure - vapour_pressure) / (density * gravity)
    return head - velocity**2 / (2 * gravity) - _height(loss, "head lost")


def _rate(area: float, coefficient: float, gravity: float) -> float:
    """Flow at a head of 1 m."""
    positive(area_of_the_opening=(area, "0.005 m2"), gravity=(gravity, "9.81 m/s2"))
    if not 0 < coefficient <= 1:
        raise ValueError(f"The coefficient of discharge must lie above 0 and not above 1; {coefficient:g} was given, "
                         "for example 0.6.")
    return coefficient * area * math.sqrt(2 * gravity)


def _height(value: float, what: str) -> float:
    if not 0 <= value < math.inf:
        raise ValueError(f"The {what} must be 0 or more; {value:g} m was given, for example 1.2 m.")
    return value


def _falls(first: float, last: float) -> None:
    if not 0 <= last <= first < math.inf:
        raise ValueError(f"The height falls, and not below 0; from {first:g} m to {last:g} m was given, "
                         "for example from 1.2 m to 0 m.")
