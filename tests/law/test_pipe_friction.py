"""Friction and fittings keep their laws: Colebrook, Poiseuille, Blasius, momentum, and the library's own formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.handbook.pipe_fittings import (
    fitting_loss,
    gradual_reducer,
    orifice_coefficient,
    orifice_flow,
    orifice_loss,
    refer_loss,
    sudden_contraction,
    sudden_enlargement,
    tee_converging,
    tee_diverging,
)
from tunwright.handbook.pipe_friction import (
    GRAVITY,
    friction_factor,
    friction_head,
    hazen_williams_head,
    mean_velocity,
    reynolds,
    turbulent_factor,
)

NUMBERS = [float(number) for number in np.geomspace(2040, 1e9, 60)]
ROUGH = [0.0, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.05]
PIPE = {"length": 10.0, "diameter": 0.1, "roughness": 4.5e-5, "viscosity": 1e-6}


def test_colebrook_is_solved(check) -> None:
    worst = 0.0
    for number in NUMBERS:
        for rough in ROUGH:
            root = math.sqrt(friction_factor(reynolds=number, relative_roughness=rough))
            worst = max(worst, abs(1 / root + 2 * math.log10(rough / 3.7 + 2.51 / (number * root))))
    check("residual of Colebrook's formula, Re 2040 to 1e9", source="1/sqrt f + 2 lg(r/3.7 + 2.51/(Re sqrt f)) = 0",
          expected=0, ours=worst, tol=1e-8)


def test_laminar_flow(check) -> None:
    """h = 128 nu L Q / (pi g d^4), whatever the roughness."""
    worst = 0.0
    for number in np.geomspace(1e-3, 2039, 40):
        for diameter in (0.02, 0.1):
            flow = number * 1e-4 * math.pi * diameter / 4
            head = friction_head(flow=flow, length=5, diameter=diameter, roughness=1e-4, viscosity=1e-4)
            worst = max(worst, abs(head / (128 * 1e-4 * 5 * flow / (math.pi * GRAVITY * diameter**4)) - 1))
    check("laminar head loss, relative", source="Hagen and Poiseuille, closed form", expected=0, ours=worst, tol=1e-12)


def test_blasius(check) -> None:
    """Blasius fitted smooth pipe up to Re = 1e5 with a power law; Prandtl's is 2.8 % below it at Re = 2e4.

    Moody (1944) holds 5 % to be the accuracy of either.
    """
    off = [friction_factor(reynolds=number, relative_roughness=0) / (0.3164 / number**0.25) - 1
           for number in np.geomspace(4000, 1e5, 50)]
    check("smooth pipe over Blasius, worst, relative", source="0.3164 / Re^0.25, Re 4000 to 1e5", expected=0,
          ours=max(off, key=abs), tol=0.05)


def test_the_turbulent_factor_is_the_limit(check) -> None:
    ratios = [friction_factor(reynolds=1e14, relative_roughness=rough) / turbulent_factor(relative_roughness=rough)
              for rough in ROUGH[1:]]
    worst = max(abs(ratio - 1) for ratio in ratios)
    check("fT, relative", source="Colebrook's formula at Re = 1e14", expected=0, ours=worst, tol=1e-6)


def test_it_rubs_more_where_it_is_faster_or_rougher() -> None:
    heads = [friction_head(flow=flow, **PIPE) for flow in np.geomspace(1e-6, 0.1, 400)]
    assert all(np.diff(heads) > 0)
    for rough in ROUGH:
        assert all(np.diff([friction_factor(reynolds=number, relative_roughness=rough) for number in NUMBERS]) < 0)
    for number in NUMBERS:
        factors = [friction_factor(reynolds=number, relative_roughness=rough) for rough in ROUGH]
        assert factors == sorted(factors)


def test_flow_that_turns_round_turns_the_loss_round() -> None:
    for flow in (1e-5, 0.003, 0.05):
        assert friction_head(flow=-flow, **PIPE) == -friction_head(flow=flow, **PIPE) < 0
        hazen = {"length": 10.0, "diameter": 0.1, "coefficient": 140.0}
        assert hazen_williams_head(flow=-flow, **hazen) == -hazen_williams_head(flow=flow, **hazen) < 0
        assert fitting_loss(k=2, velocity=-flow) == -fitting_loss(k=2, velocity=flow) < 0
    assert friction_head(flow=0, **PIPE) == 0 == hazen_williams_head(flow=0, length=1, diameter=0.1, coefficient=100)


def test_hazen_williams_there_and_back(check) -> None:
    worst = 0.0
    for diameter in (0.05, 0.1, 0.3):
        for flow in np.geomspace(1e-4, 0.2, 20):
            head = hazen_williams_head(flow=float(flow), length=7, diameter=diameter, coefficient=130)
            back = 130 * (head * diameter**4.8704 / (10.67 * 7)) ** (1 / 1.852)
            worst = max(worst, abs(back / flow - 1))
    check("Hazen-Williams, flow to head and back, relative", source="the formula solved for the flow", expected=0,
          ours=worst, tol=1e-12)


def test_hazen_williams_of_1905(check) -> None:
    """The formula as it was given, v = 0.849 C R^0.63 S^0.54.

    0.849 has 0.0005 to spare (0.11 % of the head), 10.67 has 0.005 (0.05 %), and 1.852 for 1 / 0.54 makes 0.17 % where
    Q / C is 1e-5: 0.33 % together.
    """
    off = []
    for diameter in (0.05, 0.1, 0.3):
        for slope in (0.002, 0.02, 0.2):
            flow = 0.849 * 130 * (diameter / 4) ** 0.63 * slope**0.54 * math.pi / 4 * diameter**2
            off.append(hazen_williams_head(flow=flow, length=1, diameter=diameter, coefficient=130) / slope - 1)
    check("Hazen-Williams head, worst, relative", source="v = 0.849 C R^0.63 S^0.54 in SI", expected=0,
          ours=max(off, key=abs), tol=0.0033)


def test_momentum_behind_a_sudden_enlargement(check) -> None:
    """Pressure p1 acts on the whole wide section where the jet comes in; what momentum does not give back is lost."""
    worst = 0.0
    for inlet, outlet, flow in ((0.05, 0.08, 0.01), (0.1, 0.1, 0.02), (0.05, 5.0, 0.005), (0.15, 0.2, 0.06)):
        before, behind = (mean_velocity(flow=flow, diameter=diameter) for diameter in (inlet, outlet))
        rise = behind * (before - behind) / GRAVITY
        lost = (before**2 - behind**2) / (2 * GRAVITY) - rise
        head = fitting_loss(k=sudden_enlargement(inlet=inlet, outlet=outlet), velocity=before)
        worst = max(worst, abs(head - lost))
    check("head loss of a sudden enlargement", source="momentum and energy of the two sections", expected=0, ours=worst,
          tol=1e-12, unit="m")


def test_the_same_loss_in_another_pipe() -> None:
    k = refer_loss(k=3.0, given=0.05, wanted=0.08)
    losses = [fitting_loss(k=value, velocity=mean_velocity(flow=0.01, diameter=diameter))
              for value, diameter in ((3.0, 0.05), (k, 0.08))]
    assert losses[0] == pytest.approx(losses[1], rel=1e-12)


@pytest.mark.parametrize("degrees", [0, 10, 30, 44.9, 60, 90, 180])
def test_reducers(check, degrees: float) -> None:
    from fluids.fittings import contraction_conical_Crane, diffuser_conical_Crane

    for wide, narrow in ((0.1, 0.08), (0.15, 0.05)):
        angle = math.radians(degrees)
        check(f"reducer of {degrees:g} degrees, narrowing", source="fluids 1.3.1, Crane TP-410",
              expected=contraction_conical_Crane(wide, narrow, angle=degrees),
              ours=gradual_reducer(inlet=wide, outlet=narrow, angle=angle), tol=1e-12)
        check(f"reducer of {degrees:g} degrees, widening", source="fluids 1.3.1, Crane TP-410",
              expected=diffuser_conical_Crane(narrow, wide, angle=degrees),
              ours=gradual_reducer(inlet=narrow, outlet=wide, angle=angle), tol=1e-12)


def test_a_blunt_reducer_is_a_step() -> None:
    assert gradual_reducer(inlet=0.1, outlet=0.06, angle=math.pi) == sudden_contraction(inlet=0.1, outlet=0.06)
    assert gradual_reducer(inlet=0.06, outlet=0.1, angle=math.pi) == sudden_enlargement(inlet=0.06, outlet=0.1)
    assert gradual_reducer(inlet=0.1, outlet=0.1, angle=math.pi) == 0


def test_a_tee_without_its_branch_loses_nothing_straight_on() -> None:
    assert tee_converging(run=0.01, branch=0, pipe=0.1, side=0.1).run == 0
    assert tee_diverging(run=0.01, branch=0, pipe=0.1, side=0.1).run == 0


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.8, 1.0])
def test_a_tee_gains_no_power(share: float) -> None:
    """One stream may gain from the other, both together may not."""
    for tee in (tee_converging, tee_diverging):
        for side in (0.05, 0.1):
            loss = tee(run=0.01 * (1 - share), branch=0.01 * share, pipe=0.1, side=side)
            assert (1 - share) * loss.run + share * loss.branch > -1e-12


def test_an_orifice_loses_what_the_standard_says(check) -> None:
    """The loss over the difference of the taps is (root - C b2) / (root + C b2), root = sqrt(1 - b4 (1 - C2))."""
    worst = 0.0
    for pipe, bore in ((0.1, 0.03), (0.1, 0.05), (0.2, 0.14)):
        coefficient = orifice_coefficient(pipe=pipe, bore=bore, reynolds=2e5)
        flow = orifice_flow(pressure=20e3, density=1000, coefficient=coefficient, pipe=pipe, bore=bore)
        k = orifice_loss(coefficient=coefficient, pipe=pipe, bore=bore)
        lost = fitting_loss(k=k, velocity=mean_velocity(flow=flow, diameter=pipe)) * 1000 * GRAVITY / 20e3
        narrow = coefficient * (bore / pipe) ** 2
        root = math.sqrt(1 - (bore / pipe) ** 4 * (1 - coefficient**2))
        worst = max(worst, abs(lost - (root - narrow) / (root + narrow)))
    check("loss of an orifice plate, share of its difference", source="ISO 5167-2:2003, 5.4, closed form", expected=0,
          ours=worst, tol=1e-12)


@pytest.mark.parametrize(("call", "sentence"), [
    (lambda: friction_factor(reynolds=0, relative_roughness=1e-4), "above 0 and a relative roughness of 0 to 0.05"),
    (lambda: friction_factor(reynolds=1e5, relative_roughness=0.06), "100000 and 0.06 were given, for example"),
    (lambda: friction_factor(reynolds=math.nan, relative_roughness=0), "nan and 0 were given"),
    (lambda: turbulent_factor(relative_roughness=0), "above 0 and at most 0.05; 0 was given"),
    (lambda: friction_head(**{**PIPE, "length": -1}, flow=1), "length must be 0 or more; -1 was given"),
    (lambda: friction_head(**{**PIPE, "diameter": 0}, flow=1), "diameter must be above 0; 0 was given"),
    (lambda: reynolds(velocity=1, diameter=0.1, viscosity=0), "viscosity must be above 0; 0 was given"),
    (lambda: hazen_williams_head(flow=1, length=1, diameter=0.1, coefficient=0), "0.1 m, 0 and 1 m were given"),
    (lambda: sudden_contraction(inlet=0.05, outlet=0.08), "narrow pipe has 0.08 m, the wide one 0.05 m"),
    (lambda: gradual_reducer(inlet=0.1, outlet=0.05, angle=4), "0 to 3.1416 rad; 4 was given"),
    (lambda: tee_converging(run=0, branch=0, pipe=0.1, side=0.1), "not both 0; 0 and 0 m3/s were given"),
    (lambda: tee_diverging(run=1, branch=1, pipe=0.1, side=0.1, angle=1.2), "or 90 degrees, off its run; 68.7"),
    (lambda: tee_diverging(run=1, branch=1, pipe=0.1, side=0.1, angle=math.radians(60)), "below 60 degrees.*; 60 was"),
    (lambda: orifice_coefficient(pipe=0.1, bore=0.05, reynolds=4000), "Reynolds number of 5000 or more; 4000 was"),
    (lambda: orifice_coefficient(pipe=0.1, bore=0.08, reynolds=1e5), "0.1 to 0.75 of the pipe; 0.1 and 0.08 m"),
    (lambda: orifice_flow(pressure=-1, density=1000, coefficient=0.6, pipe=0.1, bore=0.05), "0 or more; -1 was given"),
    (lambda: orifice_loss(coefficient=1.1, pipe=0.1, bore=0.05), "above 0 up to 1; 1.1 was given")])
def test_what_cannot_be_meant_is_refused(call, sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        call()
