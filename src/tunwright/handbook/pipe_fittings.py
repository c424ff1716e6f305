"""Losses of fittings, changes of diameter, tees and orifice plates.

A loss coefficient K is a loss of head over the velocity head: h = K v^2 / 2g. Each function says which velocity.
Angles are in radians.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.positive import positive

_STEEP = math.radians(45)


class TeeLoss(NamedTuple):
    """Loss coefficients of a tee, both referred to the velocity of the whole flow; negative where a stream gains.

    run: of the stream that goes straight [-]
    branch: of the stream that turns [-]
    """

    run: float
    branch: float


def fitting_loss(*, k: float, velocity: float) -> float:
    """Head loss of a fitting [m], h = K v |v| / 2g, with the sign of the velocity.

    k: loss coefficient K [-]
    velocity: the one K is referred to v [m/s]
    """
    return k * velocity * abs(velocity) / (2 * GRAVITY)


def refer_loss(*, k: float, given: float, wanted: float) -> float:
    """The same loss referred to the velocity in another diameter [-], K (wanted / given)^4.

    k: loss coefficient K [-]
    given: diameter whose velocity K is referred to [m], above 0
    wanted: diameter whose velocity it shall be referred to [m], above 0
    """
    positive(given=(given, "0.08 m"), wanted=(wanted, "0.1 m"))
    ratio = wanted / given
    return k * ratio**4


def sudden_contraction(*, inlet: float, outlet: float) -> float:
    """Loss coefficient of a sudden contraction [-], K = 0.5 (1 - (d / D)^2), referred to the narrow pipe.

    inlet: inside diameter of the wide pipe D [m], above 0
    outlet: inside diameter of the narrow pipe d [m], above 0 up to D

    Source: Crane TP-410, formula 2 at 180 degrees.
    """
    return 0.5 * (1 - _area_ratio(narrow=outlet, wide=inlet))


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


def tee_converging(*, run: float, branch: float, pipe: float, side: float, angle: float = math.pi / 2) -> TeeLoss:
    """Losses where a branch flows into a run.

    run: flow that comes along the run [m3/s], 0 or more
    branch: flow that comes in through the branch [m3/s], 0 or more
    pipe: inside diameter of the run, the same before and behind [m], above 0
    side: inside diameter of the branch [m], above 0, at most that of the run
    angle: between branch and run [rad], 30 to below 60 degrees (a wye), or 90 degrees (a tee)
    ValueError: outside these ranges, or no flow at all

    Source: Crane TP-410, 2009 with its errata, through fluids.fittings.
    """
    from fluids.fittings import K_branch_converging_Crane, K_run_converging_Crane  # noqa: PLC0415 -- 0.4 s

    given = (pipe, side, run, branch, _tee_degrees(run=run, branch=branch, pipe=pipe, side=side, angle=angle))
    return TeeLoss(K_run_converging_Crane(*given), K_branch_converging_Crane(*given))


def tee_diverging(*, run: float, branch: float, pipe: float, side: float, angle: float = math.pi / 2) -> TeeLoss:
    """Losses where a branch takes water out of a run.

    run: flow that goes on along the run [m3/s], 0 or more
    branch: flow that leaves through the branch [m3/s], 0 or more
    pipe: inside diameter of the run, the same before and behind [m], above 0
    side: inside diameter of the branch [m], above 0, at most that of the run
    angle: between branch and run [rad], 30 to below 60 degrees (a wye), or 90 degrees (a tee)
    ValueError: outside these ranges, or no flow at all

    Source: Crane TP-410, 2009 with its errata, through fluids.fittings.
    """
    from fluids.fittings import K_branch_diverging_Crane, K_run_diverging_Crane  # noqa: PLC0415 -- 0.4 s

    given = (pipe, side, run, branch, _tee_degrees(run=run, branch=branch, pipe=pipe, side=side, angle=angle))
    return TeeLoss(K_run_diverging_Crane(*given), K_branch_diverging_Crane(*given))


def _tee_degrees(*, run: float, branch: float, pipe: float, side: float, angle: float) -> float:
    """The angle in degrees, if the formulas hold."""
    _area_ratio(narrow=side, wide=pipe)
    if not (run >= 0 and branch >= 0 and run + branch > 0):
        raise ValueError(
            f"The flows of a tee are 0 or more, not both 0; {run:g} and {branch:g} m3/s were given, "
            "for example 0.01 and 0.005."
        )
    degrees = math.degrees(angle)
    if not (30 - 1e-9 <= degrees < 60 - 1e-9 or abs(degrees - 90) < 1e-9):
        raise ValueError(f"A branch stands 30 to below 60 degrees, or 90 degrees, off its run; {degrees:g} was given, "
                         "for example 1.5708 rad, which is 90.")
    return degrees


def _area_ratio(*, narrow: float, wide: float) -> float:
    positive(narrow_diameter=(narrow, "0.05 m"), wide_diameter=(wide, "0.08 m"))
    if narrow > wide:
        raise ValueError(f"The narrow pipe has {narrow:g} m, the wide one {wide:g} m; the first must not be above "
                         "the second, for example 0.05 m and 0.08 m.")
    return (narrow / wide) ** 2


def orifice_coefficient(*, pipe: float, bore: float, reynolds: float) -> float:
    """Discharge coefficient of a sharp orifice plate [-], taps one diameter before and half a diameter behind it.

    pipe: inside diameter of the pipe D [m], 0.05 to 1
    bore: diameter of the hole d [m], 0.0125 or more, 0.1 D to 0.75 D
    reynolds: Reynolds number of the pipe [-], 5000 or more, and 16 000 (d / D)^2 or more where d is above 0.56 D
    ValueError: outside these ranges

    Source: ISO 5167-2:2003, formula of Reader-Harris and Gallagher, through fluids.flow_meter; within 0.5 % up to
    d = 0.6 D, within (1.667 d / D - 0.5) % above.
    """
    from fluids.flow_meter import C_Reader_Harris_Gallagher  # noqa: PLC0415 -- loading it takes 0.4 s

    _orifice(pipe, bore)
    least = 16_000 * (bore / pipe) ** 2 if bore > 0.56 * pipe else 5000.0
    if not reynolds >= least:
        raise ValueError(f"This orifice plate needs a Reynolds number of {least:.0f} or more; {reynolds:g} was given, "
                         "for example 1e5.")
    mass_flow = reynolds * math.pi / 4 * pipe
    return float(C_Reader_Harris_Gallagher(pipe, bore, 1.0, 1.0, mass_flow, "D"))


def orifice_flow(*, pressure: float, density: float, coefficient: float, pipe: float, bore: float) -> float:
    """Flow of a liquid through an orifice plate in a pipe [m3/s], Q = C A sqrt(2 p / (rho (1 - (d / D)^4))).

    pressure: difference between the taps p [Pa], 0 or more
    density: of the liquid rho [kg/m3], above 0
    coefficient: discharge coefficient C [-], above 0
    pipe: inside diameter of the pipe D [m], 0.05 to 1
    bore: diameter of the hole d [m], 0.0125 or more, 0.1 D to 0.75 D
    ValueError: outside these ranges

    Source: ISO 5167-2:2003 with the expansibility of a liquid, 1.
    """
    _orifice(pipe, bore)
    positive(density=(density, "1000 kg/m3"), coefficient=(coefficient, "0.61"))
    if not pressure >= 0:
        raise ValueError(f"The pressure difference must be 0 or more; {pressure:g} was given, for example 17e3 Pa.")
    area = math.pi / 4 * bore * bore
    return coefficient * area * math.sqrt(2 * pressure / (density * (1 - (bore / pipe) ** 4)))


def orifice_loss(*, coefficient: float, pipe: float, bore: float) -> float:
    """Loss coefficient of an orifice plate [-], (sqrt(1 - b4 (1 - C2)) / (C b2) - 1)^2, referred to the pipe.

    coefficient: discharge coefficient C [-], above 0 up to 1
    pipe: inside diameter of the pipe D [m], 0.05 to 1
    bore: diameter of the hole d [m], 0.0125 or more, 0.1 D to 0.75 D; b2 and b4 are powers of d / D
    ValueError: outside these ranges

    Source: ISO 5167-2:2003, 5.4.
    """
    _orifice(pipe, bore)
    if not 0 < coefficient <= 1:
        raise ValueError(f"A discharge coefficient is above 0 up to 1; {coefficient:g} was given, for example 0.61.")
    square = (bore / pipe) ** 2
    root = math.sqrt(1 - square * square * (1 - coefficient * coefficient))
    return (root / (coefficient * square) - 1) ** 2


def _orifice(pipe: float, bore: float) -> None:
    if not (0.05 <= pipe <= 1 and bore >= 0.0125 and 0.1 * pipe <= bore <= 0.75 * pipe):
        raise ValueError(
            "An orifice plate fits a pipe of 0.05 to 1 m, with a hole of 0.0125 m or more and 0.1 to 0.75 of the pipe; "
            f"{pipe:g} and {bore:g} m were given, for example 0.1 and 0.05."
        )
