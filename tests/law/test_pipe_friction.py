"""Friction and changes of bore keep their laws: Colebrook, Poiseuille, Blasius, momentum, the library's formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.handbook.gravity import GRAVITY
from tunwright.handbook.pipe_fittings import gradual_reducer, sudden_enlargement
from tunwright.handbook.pipe_friction import friction_factor, mean_velocity, reynolds, turbulent_factor
from tunwright.handbook.pipe_parts import PipeRun

NUMBERS = [float(number) for number in np.geomspace(2040, 1e9, 60)]
ROUGH = [0.0, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.05]
PIPE = PipeRun(length=10.0, inside=0.1, roughness=4.5e-5, fittings=2.0, viscosity=1e-6)


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
    for number in np.geomspace(1e-3, 1999, 40):
        for diameter in (0.02, 0.1):
            flow = number * 1e-4 * math.pi * diameter / 4
            head, _ = PipeRun(5, diameter, 1e-4, 0.0, 1e-4).loss(flow)
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
    heads = [PIPE.loss(flow)[0] for flow in np.geomspace(1e-6, 0.1, 400)]
    assert all(np.diff(heads) > 0)
    for rough in ROUGH:
        assert all(np.diff([friction_factor(reynolds=number, relative_roughness=rough) for number in NUMBERS]) < 0)
    for number in NUMBERS:
        factors = [friction_factor(reynolds=number, relative_roughness=rough) for rough in ROUGH]
        assert factors == sorted(factors)


def test_flow_that_turns_round_turns_the_loss_round() -> None:
    for flow in (1e-5, 0.003, 0.05):
        assert PIPE.loss(-flow)[0] == -PIPE.loss(flow)[0] < 0
    assert PIPE.loss(0.0)[0] == 0


def test_momentum_behind_a_sudden_enlargement(check) -> None:
    """Pressure p1 acts on the whole wide section where the jet comes in; what momentum does not give back is lost."""
    worst = 0.0
    for inlet, outlet, flow in ((0.05, 0.08, 0.01), (0.1, 0.1, 0.02), (0.05, 5.0, 0.005), (0.15, 0.2, 0.06)):
        before, behind = (mean_velocity(flow=flow, diameter=diameter) for diameter in (inlet, outlet))
        rise = behind * (before - behind) / GRAVITY
        lost = (before**2 - behind**2) / (2 * GRAVITY) - rise
        head = sudden_enlargement(inlet=inlet, outlet=outlet) * before**2 / (2 * GRAVITY)
        worst = max(worst, abs(head - lost))
    check("head loss of a sudden enlargement", source="momentum and energy of the two sections", expected=0, ours=worst,
          tol=1e-12, unit="m")


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
    assert gradual_reducer(inlet=0.1, outlet=0.06, angle=math.pi) == pytest.approx(0.5 * (1 - 0.36), rel=1e-12)
    assert gradual_reducer(inlet=0.06, outlet=0.1, angle=math.pi) == sudden_enlargement(inlet=0.06, outlet=0.1)
    assert gradual_reducer(inlet=0.1, outlet=0.1, angle=math.pi) == 0


@pytest.mark.parametrize(("call", "sentence"), [
    (lambda: friction_factor(reynolds=0, relative_roughness=1e-4), "above 0 and a relative roughness of 0 to 0.05"),
    (lambda: friction_factor(reynolds=1e5, relative_roughness=0.06), "100000 and 0.06 were given, for example"),
    (lambda: friction_factor(reynolds=math.nan, relative_roughness=0), "nan and 0 were given"),
    (lambda: turbulent_factor(relative_roughness=0), "above 0 and at most 0.05; 0 was given"),
    (lambda: reynolds(velocity=1, diameter=0.1, viscosity=0), "viscosity must be above 0; 0 was given"),
    (lambda: sudden_enlargement(inlet=0.08, outlet=0.05), "narrow pipe has 0.08 m, the wide one 0.05 m"),
    (lambda: mean_velocity(flow=1, diameter=0), "diameter must be above 0; 0 was given"),
    (lambda: gradual_reducer(inlet=0.1, outlet=0.05, angle=4), "0 to 3.1416 rad; 4 was given")])
def test_what_cannot_be_meant_is_refused(call, sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        call()
