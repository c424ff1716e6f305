"""Round trips and statics of torque, joints, U-bolts and the foot of a lug."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.handbook.bolt_joint import frustum_stiffness, load_share, member_stiffness, proof_use
from tunwright.handbook.bolt_torque import assembly_preload, preload, torque, torque_arm
from tunwright.handbook.lifting_lug import Lug, capacities, foot_use
from tunwright.handbook.u_bolt import clamp_force, friction_hold
from tunwright.tables.bolts import bolt_sizes


def test_torque_round_trip(check) -> None:
    worst = 0.0
    for seed in range(200):
        rng = np.random.default_rng(seed)
        size = bolt_sizes()[str(rng.choice(list(bolt_sizes())))]
        bolt = {"diameter": size.diameter, "pitch": size.pitch, "thread_friction": rng.uniform(0.05, 0.3),
                "head_friction": rng.uniform(0.05, 0.3), "rubbing_diameter": rng.uniform(1.1, 1.5) * size.diameter}
        force = rng.uniform(1e3, 2e5)
        worst = max(worst, abs(preload(torque=torque(preload=force, **bolt), **bolt) / force - 1))
    check("preload from its own torque", source="round trip", expected=1, ours=1 + worst, tol=1e-12)


def test_without_friction_torque_is_work_of_the_lead(check) -> None:
    arm = torque_arm(diameter=0.016, pitch=0.002, thread_friction=0, head_friction=0, rubbing_diameter=0.02)
    check("torque over preload without friction", source="work of one turn, F P = 2 pi T",
          expected=0.002 / (2 * math.pi), ours=arm, tol=1e-15, unit="m")


def test_assembly_preload_uses_the_stated_share_of_yield(check) -> None:
    """Tension and plastic torsion put together again by von Mises."""
    d, pitch, friction = 0.016, 0.002, 0.12
    force = assembly_preload(diameter=d, pitch=pitch, yield_strength=640e6, thread_friction=friction, utilisation=0.8)
    section = d - 0.938194 * pitch
    arm = torque_arm(diameter=d, pitch=pitch, thread_friction=friction, head_friction=0, rubbing_diameter=0.02)
    stress = math.hypot(force / (math.pi / 4 * section**2), math.sqrt(3) * force * arm / (math.pi / 12 * section**3))
    check("von Mises stress at the assembly preload", source="0.8 x 640 MPa, put together again", expected=512,
          ours=stress / 1e6, tol=1e-6, unit="MPa")


def test_layers_of_one_metal_are_one_plate(check) -> None:
    whole = member_stiffness(layers=[(0.03, 210e9)], hole=0.016, face=0.024)
    cut = member_stiffness(layers=[(0.004, 210e9), (0.021, 210e9), (0.005, 210e9)], hole=0.016, face=0.024)
    half = frustum_stiffness(hole=0.016, face=0.024, thickness=0.015, modulus=210e9)
    check("three layers of one metal", source="one plate", expected=whole, ours=cut, tol=1e-6 * whole, unit="N/m")
    check("one plate", source="two cones in series", expected=half / 2, ours=whole, tol=1e-6 * whole, unit="N/m")


def test_a_steep_cone_is_a_tube(check) -> None:
    """With a small half angle the cone becomes a tube, E A / t."""
    ours = frustum_stiffness(hole=0.016, face=0.024, thickness=0.01, modulus=210e9, half_angle=1e-4)
    tube = 210e9 * math.pi / 4 * (0.024**2 - 0.016**2) / 0.01
    check("cone of almost no angle", source="E A / t of the tube", expected=tube, ours=ours, tol=1e-3 * tube,
          unit="N/m")


def test_a_joint_that_has_opened_leaves_the_whole_pull_to_the_bolt() -> None:
    """Closed the bolt gains its share, until at Fi / (1 - C) = 40 kN the members carry nothing."""
    bolt = {"proof_load": 100e3, "preload": 30e3, "share": load_share(bolt=1.0, members=3.0)}
    assert proof_use(pull=[0.0, 20e3, 40e3, 60e3], **bolt) == pytest.approx([0.30, 0.35, 0.40, 0.60])
    assert proof_use(proof_load=100e3, preload=30e3, pull=20e3) == pytest.approx(0.5), "share not known: all of it"


def test_clamps_hold_what_they_were_tightened_for(check) -> None:
    each = (60e3 / 0.15 - 90e3 + 20e3) / (12 * (1 - 0.2))
    clamps = [clamp_force(preload=each, loss=0.2)] * 6
    held = friction_hold(clamps=clamps, friction=0.15, weight=90e3, uplift=20e3)
    check("force held by six clamps", source="round trip: the force they were tightened for", expected=60e3, ours=held,
          tol=1e-6, unit="N")
    assert friction_hold(clamps=[1e3], friction=0.15, uplift=5e3) == 0.0


@pytest.mark.parametrize("call", [
    lambda: clamp_force(preload=-1.0), lambda: clamp_force(preload=1e3, loss=1.0),
    lambda: clamp_force(preload=1e3, legs=0), lambda: friction_hold(clamps=[1e3], friction=0.0),
    lambda: proof_use(proof_load=0.0, preload=1e3, pull=1e3)])
def test_what_cannot_be_is_refused(call) -> None:
    with pytest.raises(ValueError, match="for example"):
        call()


def test_the_foot_of_a_lug(check) -> None:
    """Bending about either axis from beam theory, M / W."""
    foot = {"thickness": 0.02, "width": 0.1, "height": 0.05, "yield_strength": 235e6, "design_factor": 3.0}
    bent = foot_use(pull=0, aside=2e3, **foot)
    hand = math.hypot(2e3 * 0.05 / (0.1 * 0.02**2 / 6), math.sqrt(3) * 2e3 / 0.002) * 3 / 235e6
    check("foot bent aside", source="M/W with mean shear, by hand", expected=hand, ours=bent, tol=1e-12)
    pulled = foot_use(pull=50e3, aside=0, **foot)
    check("foot pulled", source="N/A, by hand", expected=50e3 / 0.002 * 3 / 235e6, ours=pulled, tol=1e-12)
    assert foot_use(pull=50e3, aside=2e3, across=5e3, **foot) > max(bent, pulled)


def test_a_lug_scales(check) -> None:
    """Twice as large in every direction carries four times as much."""
    small = {"thickness": 0.01, "hole": 0.02, "pin": 0.018, "end": 0.02, "side": 0.018, "rounding": 0.031}
    steel = {"yield_strength": 235e6, "tensile_strength": 360e6, "design_factor": 3.0}
    one = capacities(Lug(**small), **steel)
    two = capacities(Lug(**{name: 2 * size for name, size in small.items()}), **steel)
    for name, load in one.items():
        check(f"{name} of a lug twice as large", source="four times, similarity", expected=4, ours=two[name] / load,
              tol=1e-12)
