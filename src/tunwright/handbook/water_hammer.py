"""Water hammer: the pressure when a valve shuts on flowing water.

The liquid has no friction here, and the pipe is one length of one size. What is found is a rise over the pressure while
the water flowed; after the valve, and where a pump stops, it is a fall of the same size.
"""

from __future__ import annotations

import math

from tunwright.handbook.positive import positive


def wave_speed(
    *, bulk_modulus: float, density: float, diameter: float, thickness: float, young: float, support: float = 1.0
) -> float:
    """Speed of a pressure wave in a pipe [m/s], a = sqrt(K / rho / (1 + c K D / (E t))).

    bulk_modulus: of the liquid K [Pa], above 0; 2.2e9 for cold water, far less with air in it
    density: of the liquid [kg/m3], above 0
    diameter: inside D [m], above 0
    thickness: of the wall t [m], above 0
    young: modulus of the wall E [Pa], above 0; math.inf for a stiff pipe
    support: how the pipe is held along its axis c [-], above 0: 1 with expansion joints, 1 - nu^2 held all along,
        1.25 - nu held at one end (from memory)

    Source: K. Subramanya, 1000 Solved Problems in Fluid Mechanics, example 14.12.
    """
    positive(bulk_modulus=(bulk_modulus, "2.2e9 Pa"), density=(density, "1000 kg/m3"))
    positive(diameter=(diameter, "0.1 m"), thickness=(thickness, "0.004 m"), support=(support, "1.0"))
    if not young > 0:
        raise ValueError(f"Young's modulus of the pipe must be above 0; {young:g} Pa was given, for example 205e9 Pa.")
    return math.sqrt(bulk_modulus / density / (1 + support * bulk_modulus * diameter / (young * thickness)))


def joukowsky(*, density: float, wave_speed: float, velocity_change: float) -> float:
    """Rise of pressure when the velocity falls at once [Pa], dp = rho a dv.

    density: of the liquid [kg/m3], above 0
    wave_speed: in the pipe a [m/s], above 0
    velocity_change: by which the velocity falls dv [m/s], 0 or more

    Source: N. E. Joukowsky 1898; R. L. Daugherty, J. B. Franzini, Fluid Mechanics with Engineering Applications,
    example 13.4.
    """
    positive(density=(density, "1000 kg/m3"), wave_speed=(wave_speed, "1300 m/s"))
    if not 0 <= velocity_change < math.inf:
        raise ValueError(f"The fall of the velocity must be 0 or more; {velocity_change:g} m/s was given, "
                         "for example 2 m/s.")
    return density * wave_speed * velocity_change


def reflection_time(*, length: float, wave_speed: float) -> float:
    """Time in which a wave comes back from the open end [s], 2 L / a; a valve that shuts faster shuts at once.

    length: of the pipe from the valve to the tank [m], above 0
    wave_speed: in the pipe a [m/s], above 0

    Source: as `joukowsky`.
    """
    positive(length=(length, "12 m"), wave_speed=(wave_speed, "1300 m/s"))
    return 2 * length / wave_speed


def slow_closing(
    *, density: float, wave_speed: float, velocity_change: float, length: float, closing_time: float
) -> float:
    """Greatest rise of pressure when the velocity falls evenly over a time [Pa], rho a dv min(1, (2 L / a) / t).

    Exact for a velocity that falls in a straight line; that of most valves falls late and then faster, so take the time
    of the last part of their travel. Twice what a stiff column of water, rho L dv / t, would give.

    density: of the liquid [kg/m3], above 0
    wave_speed: in the pipe a [m/s], above 0
    velocity_change: by which the velocity falls dv [m/s], 0 or more
    length: of the pipe from the valve to the tank L [m], above 0
    closing_time: in which it falls t [s], 0 or more

    Source: Daugherty and Franzini, example 13.4; Subramanya, example 14.18.
    """
    back = reflection_time(length=length, wave_speed=wave_speed)
    if not closing_time >= 0:
        raise ValueError(f"The closing time must be 0 or more; {closing_time:g} s was given, for example 2 s.")
    share = back / closing_time if closing_time > back else 1.0
    return share * joukowsky(density=density, wave_speed=wave_speed, velocity_change=velocity_change)
