"""Friction of water in straight pipe and hose: Reynolds number and friction factor.

The friction factor is Darcy's. It comes from `fluids`, which solves Colebrook's formula to nine digits; the package is
loaded at the first call, because that takes 0.4 s, and kept. Numbers are checked by one comparison, not by `positive`,
because a pipe network asks thousands of times.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

ROUGHEST = 0.05
"""Greatest relative roughness of the Moody chart [-]."""


def mean_velocity(*, flow: float, diameter: float) -> float:
    """Mean velocity in a round pipe [m/s], v = 4 Q / (pi d2), with the sign of the flow.

    flow: Q [m3/s]
    diameter: inside diameter d [m], above 0
    ValueError: the diameter is not above 0
    """
    if not diameter > 0:
        raise _not_above_0("diameter", diameter, "0.1 m")
    return 4 * flow / (math.pi * diameter * diameter)


def reynolds(*, velocity: float, diameter: float, viscosity: float) -> float:
    """Reynolds number [-], Re = |v| d / nu.

    velocity: mean velocity v [m/s], of any sign
    diameter: inside diameter d [m], above 0
    viscosity: kinematic viscosity nu [m2/s], above 0; water of 20 C 1.0e-6
    ValueError: diameter or viscosity are not above 0
    """
    if not diameter > 0:
        raise _not_above_0("diameter", diameter, "0.1 m")
    if not viscosity > 0:
        raise _not_above_0("viscosity", viscosity, "1.0e-6 m2/s")
    return abs(velocity) * diameter / viscosity


def friction_factor(*, reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor of a round pipe f [-].

    Laminar below Re = 2040: f = 64 / Re. From there on, the uncertain range up to Re = 4000 included, the formula of
    Colebrook (1939): 1/sqrt f = -2 lg(r / 3.7 + 2.51 / (Re sqrt f)). At 2040 it jumps from 0.031 to 0.049
    or more, and the head loss with it: there is no flow for the heads between.

    reynolds: Reynolds number Re [-], above 0
    relative_roughness: roughness over inside diameter r [-], 0 to 0.05
    ValueError: outside these ranges

    Source: Colebrook 1939, through fluids.friction.friction_factor; the limit of 2040 is that of Avila et al. 2011.
    """
    if not (reynolds > 0 and 0 <= relative_roughness <= ROUGHEST):
        raise _no_factor(reynolds, relative_roughness)
    return _moody()(reynolds, relative_roughness)


def turbulent_factor(*, relative_roughness: float) -> float:
    """Darcy friction factor in complete turbulence fT [-], fT = 0.25 / lg(r / 3.7)^2.

    Fittings that are tabled as multiples of fT mean that of clean steel pipe (roughness 0.045 mm) of their size,
    whatever the pipe is made of.

    relative_roughness: roughness over inside diameter r [-], above 0 to 0.05
    ValueError: outside this range

    Source: Crane TP-410M, 2009, the limit of Colebrook's formula.
    """
    if not 0 < relative_roughness <= ROUGHEST:
        raise ValueError(
            f"The relative roughness must be above 0 and at most {ROUGHEST:g}; {relative_roughness:g} was given, "
            "for example 0.00045."
        )
    return 0.25 / math.log10(relative_roughness / 3.7) ** 2


@lru_cache(maxsize=1)
def _moody() -> Callable[[float, float], float]:
    from fluids.friction import friction_factor as moody  # noqa: PLC0415 -- loading it takes 0.4 s

    return moody


def _no_factor(reynolds: float, relative_roughness: float) -> ValueError:
    return ValueError(
        f"A friction factor needs a Reynolds number above 0 and a relative roughness of 0 to {ROUGHEST:g}; "
        f"{reynolds:g} and {relative_roughness:g} were given, for example 1e5 and 0.0005."
    )


def _not_above_0(what: str, value: float, example: str) -> ValueError:
    return ValueError(f"The {what} must be above 0; {value:g} was given, for example {example}.")
