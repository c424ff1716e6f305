"""Nozzles: flow, reaction, how far a jet could fly at most, and what the air leaves of that.

Pressures are gauge, before the nozzle, and total: where the bore is not small beside the pipe they contain the velocity
head in it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.positive import positive


def flow(*, diameter: float, pressure: float, coefficient: float, density: float) -> float:
    """Flow of a nozzle [m3/s], Q = c pi/4 d^2 sqrt(2 p / rho).

    diameter: of the bore [m], above 0
    pressure: before the nozzle [Pa], 0 or more
    coefficient: of discharge [-], above 0 up to 1; about 0.97 to 0.995 for a smooth bore, from memory
    density: of the liquid [kg/m3], above 0

    Source: Torricelli; with US units it reads Q = 29.84 c d^2 sqrt(P) (fire service handbooks, from memory).
    """
    positive(diameter=(diameter, "0.0254 m"), density=(density, "1000 kg/m3"))
    _share(coefficient, "coefficient of discharge", "0.97")
    return coefficient * math.pi / 4 * diameter**2 * math.sqrt(2 * _pressure(pressure) / density)


def reaction(*, diameter: float, pressure: float) -> float:
    """Force a smooth bore pushes back with [N], R = 2 A p: momentum rho Q v of a jet as wide as the bore.

    diameter: of the bore [m], above 0
    pressure: before the nozzle [Pa], 0 or more

    Source: derived; with US units it is the R = 1.57 d^2 P of fire service handbooks.
    """
    positive(diameter=(diameter, "0.0254 m"))
    return math.pi / 2 * diameter**2 * _pressure(pressure)


def fog_reaction(*, flow: float, pressure: float, density: float, velocity_coefficient: float = 1.0) -> float:
    """Force a spray nozzle pushes back with [N], R = rho Q v with v = c sqrt(2 p / rho), so c Q sqrt(2 rho p).

    At most that: a wide cone pushes back with the cosine of its half angle, averaged.

    flow: through the nozzle [m3/s], 0 or more
    pressure: before the nozzle [Pa], 0 or more
    density: of the liquid [kg/m3], above 0
    velocity_coefficient: speed of the jet over that without loss c [-], above 0 up to 1

    Source: derived. The R = 0.0505 Q sqrt(P) of fire service handbooks (gpm, psi, lbf) is this with c = 0.96.
    """
    positive(density=(density, "1000 kg/m3"))
    _share(velocity_coefficient, "velocity coefficient", "0.96")
    return velocity_coefficient * _flow(flow) * math.sqrt(2 * density * _pressure(pressure))


@dataclass(frozen=True)
class Throw:
    """How far and how high a jet flies.

    distance: along level ground to where it comes down [m]
    height: of its highest point over the ground [m]
    """

    distance: float
    height: float


def reach(
    *,
    pressure: float,
    density: float,
    angle: float,
    allowance: float,
    above: float = 0.0,
    velocity_coefficient: float = 1.0,
    gravity: float = GRAVITY,
) -> Throw:
    """How far and how high a jet flies: without air an upper bound, here times an allowance for the air.

    v = c sqrt(2 p / rho); distance v cos(a) / g (v sin(a) + sqrt(v^2 sin(a)^2 + 2 g z)), rise (v sin(a))^2 / 2 g.
    Nothing here knows how a jet breaks up: with allowance 1 no true jet gets so far, a fine spray by far not.

    pressure: before the nozzle [Pa], 0 or more
    density: of the liquid [kg/m3], above 0
    angle: of the jet over the horizontal [rad], -pi/2 to pi/2
    allowance: share of distance and rise the air leaves [-], above 0 up to 1; measured, or common practice, no source
    above: height of the nozzle over the ground z [m], 0 or more
    velocity_coefficient: speed of the jet over that without loss c [-], above 0 up to 1
    gravity: acceleration of free fall [m/s2], above 0

    Source: derived, free flight of a point.
    """
    positive(density=(density, "1000 kg/m3"), gravity=(gravity, "9.81 m/s2"))
    _share(allowance, "allowance for the air", "0.5")
    _share(velocity_coefficient, "velocity coefficient", "0.97")
    if not abs(angle) <= math.pi / 2:
        raise ValueError(f"A jet points -pi/2 to pi/2 over the horizontal; {angle:g} rad was given, "
                         "for example 0.52 rad.")
    if not above >= 0:
        raise ValueError(f"The nozzle stands 0 m or more above the ground; {above:g} m was given, for example 1.2 m.")
    speed = velocity_coefficient * math.sqrt(2 * _pressure(pressure) / density)
    level, up = speed * math.cos(angle), speed * math.sin(angle)
    distance = level / gravity * (up + math.sqrt(up**2 + 2 * gravity * above))
    return Throw(allowance * distance, above + allowance * max(up, 0.0) ** 2 / (2 * gravity))


def air_share(*, pressure: float, density: float, diameter: float, halved_at: float, gravity: float = GRAVITY) -> float:
    """Share of its distance without air that a jet reaches [-], 1 / (1 + H / (N d)) with its head H = p / rho g.

    A thick slow jet hardly feels the air, a thin fast one breaks up. Made for 20 to 35 degrees over the horizontal, in
    still air, for a good nozzle; steeper jets come down up to a fifth shorter than this says.

    pressure: before the nozzle [Pa], 0 or more
    density: of the liquid [kg/m3], above 0
    diameter: of the bore [m], above 0
    halved_at: head in bores at which half of the distance is left N [-], above 0
    gravity: acceleration of free fall [m/s2], above 0

    Source: form and N are a fit of ours. With N = 2000 it gives 0.80 to 1.06 of the 42 ranges that C. Theobald measured
    at 30 and 35 degrees (Fire Safety Journal 4, 1981; bores 13 to 25 mm, 2.1 to 6.2 bar; copy of the data).
    """
    positive(
        density=(density, "1000 kg/m3"), diameter=(diameter, "0.024 m"), halved_at=(halved_at, "2000"),
        gravity=(gravity, "9.81 m/s2"),
    )  # fmt: skip
    return 1.0 / (1.0 + _pressure(pressure) / (density * gravity * halved_at * diameter))


def _pressure(pressure: float) -> float:
    if not 0 <= pressure < math.inf:
        raise ValueError(f"The pressure before a nozzle must be 0 or more; {pressure:g} Pa was given, "
                         "for example 3e5 Pa.")
    return pressure


def _flow(flow: float) -> float:
    if not 0 <= flow < math.inf:
        raise ValueError(f"The flow must be 0 or more; {flow:g} m3/s was given, for example 0.005 m3/s.")
    return flow


def _share(value: float, what: str, example: str) -> None:
    if not 0 < value <= 1:
        raise ValueError(f"The {what} must lie above 0 and not above 1; {value:g} was given, for example {example}.")
