"""A preloaded joint against a textbook, and the resistances of EN 1993-1-8 against worked values."""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

from tunwright.handbook.bolt_joint import bolt_stiffness, load_share, member_stiffness, proof_use
from tunwright.handbook.bolt_resistance import (
    bearing_resistance,
    combined_use,
    punching_resistance,
    shear_factor,
    shear_resistance,
    slip_resistance,
    tension_resistance,
)

SHIGLEY = "Shigley's Mechanical Engineering Design, 9th ed., Example 8-4: 5/8-11 grade 5, no. 25 cast iron"
PSI, INCH, POUND = 6894.757293168, 0.0254, 4.4482216152605
MEGA_LBF_IN = 1e6 * POUND / INCH


def test_the_joint_of_a_textbook(check) -> None:
    """The book's 5.52 bolts come from rounded numbers; unrounded they are 5.51, so six either way.

    Its factors are read off how the proof load is used: all of it in use, and the pull alone in the bolt.
    """
    d = 0.625 * INCH
    bolt = bolt_stiffness(shank_area=0.3068 * INCH**2, stress_area=0.226 * INCH**2, shank_length=0.75 * INCH,
                          thread_length=0.75 * INCH, modulus=30e6 * PSI)
    members = member_stiffness(layers=[(0.75 * INCH, 14e6 * PSI)] * 2, hole=d, face=1.5 * d)
    share = load_share(bolt=bolt, members=members)
    proof = 0.226 * 85_000 * POUND
    six = {"preload": 0.75 * proof, "pull": 36_000 * POUND / 6, "share": share}
    check("bolt stiffness", source=SHIGLEY, expected=5.21, ours=bolt / MEGA_LBF_IN, tol=0.005, unit="Mlbf/in")
    check("member stiffness", source=SHIGLEY, expected=8.95, ours=members / MEGA_LBF_IN, tol=0.005, unit="Mlbf/in")
    check("share of the bolt C", source=SHIGLEY, expected=0.368, ours=share, tol=0.0005)
    check("preload", source=SHIGLEY, expected=14.4, ours=six["preload"] / POUND / 1000, tol=0.05, unit="kip")

    def use(times: float) -> float:
        return float(proof_use(proof_load=proof, **six | {"pull": times * six["pull"]}))

    factors = {
        "overload": (2.18, brentq(lambda times: use(times) - 1, 0.1, 10)),
        "yielding": (1.16, 1 / use(1)),
        "separation": (3.80, brentq(lambda times: use(times) * proof / six["pull"] - times - 1e-9, 0.1, 10)),
    }
    for name, (expected, ours) in factors.items():
        check(f"{name} factor, 6 bolts", source=SHIGLEY, expected=expected, ours=ours, tol=0.005)


HAND = "EN 1993-1-8, Table 3.4 worked by hand; formula from memory"
SHEET = "public worksheet of EN 1993-1-8, Table 3.4: M20, class 4.6, S235, t = 8 mm, d0 = 22 mm"


def test_shear_and_tension(check) -> None:
    check("Fv,Rd M16 8.8, thread in shear", source=HAND, expected=60.29, tol=0.005, unit="kN",
          ours=shear_resistance(area=157e-6, tensile_strength=800e6) / 1000)
    check("Ft,Rd M16 8.8", source=HAND, expected=90.43, tol=0.005, unit="kN",
          ours=tension_resistance(stress_area=157e-6, tensile_strength=800e6) / 1000)
    check("Fv,Rd M20 8.8, thread in shear", source="public worked example, EN 1993-1-8, Table 3.4", expected=94.08,
          tol=0.005, unit="kN", ours=shear_resistance(area=245e-6, tensile_strength=800e6) / 1000)
    check("Fv,Rd M20 4.6", source=SHEET, expected=47.04, tol=0.005, unit="kN",
          ours=shear_resistance(area=245e-6, tensile_strength=400e6) / 1000)
    check("Ft,Rd M20 4.6", source=SHEET, expected=70.56, tol=0.005, unit="kN",
          ours=tension_resistance(stress_area=245e-6, tensile_strength=400e6) / 1000)


def test_bearing_and_punching(check) -> None:
    """The sheet enters the bolt's 400 MPa where Table 3.4 has the plate's fu (360); so do we, to check the rest."""
    plate = {"diameter": 0.020, "hole": 0.022, "thickness": 0.008, "plate_strength": 400e6, "bolt_strength": 400e6}
    check("Fb,Rd at the end, least distances", source=SHEET, expected=33.997, tol=0.0005, unit="kN",
          ours=bearing_resistance(end=0.0264, edge=0.0264, **plate) / 1000)
    check("Fb,Rd further in, least distances", source=SHEET, expected=41.079, tol=0.0005, unit="kN",
          ours=bearing_resistance(pitch=0.0484, gauge=0.0528, **plate) / 1000)
    check("Bp,Rd, dm = 30 mm", source=SHEET, expected=130.288, tol=0.0005, unit="kN",
          ours=punching_resistance(mean_head=0.030, thickness=0.008, plate_strength=360e6) / 1000)
    wide = bearing_resistance(**{**plate, "plate_strength": 360e6, "bolt_strength": 800e6})
    check("Fb,Rd far from all edges", source="EN 1993-1-8, Table 3.4, 2.5 fu d t / 1.25 by hand", expected=115.2,
          ours=wide / 1000, tol=1e-9, unit="kN")
    one_row = bearing_resistance(**{**plate, "plate_strength": 360e6, "bolt_strength": 800e6}, single_row=True)
    source = "EN 1993-1-8, 3.6.1 (10) from memory, 1.5 fu d t / 1.25 by hand"
    check("Fb,Rd far from all edges, one bolt row", source=source, expected=69.12, ours=one_row / 1000, tol=1e-9,
          unit="kN")
    near = {"end": 0.0264, "edge": 0.0264, **plate}
    assert bearing_resistance(**near, single_row=True) == bearing_resistance(**near), "below the bound as it was"


def test_slip(check) -> None:
    preload = 171.5e3
    source = "EN 1993-1-8, 3.9: M20 10.9, two faces, friction 0.4 (worked value read), Fp,C = 0.7 fub As = 171.5 kN"
    check("Fs,Rd M20 10.9", source=source, expected=109.76, tol=0.005, unit="kN",
          ours=slip_resistance(preload=preload, slip_factor=0.4, surfaces=2) / 1000)
    assert slip_resistance(preload=preload, slip_factor=0.4, tension=preload / 0.8) == pytest.approx(0.0, abs=1e-6)


def test_shear_and_tension_together() -> None:
    both = {"shear_resistance": 60e3, "tension_resistance": 90e3}
    assert combined_use(shear=30e3, tension=63e3, **both) == pytest.approx(1.0)
    assert combined_use(shear=0.0, tension=90e3, **both) == pytest.approx(1.0)
    assert combined_use(shear=-60e3, tension=-1e3, **both) == pytest.approx(1.0)


def test_only_strong_classes_lose_in_the_thread() -> None:
    assert shear_factor(bolt_class="8.8", thread_in_shear=True) == 0.6
    assert shear_factor(bolt_class="10.9", thread_in_shear=True) == 0.5
    assert shear_factor(bolt_class="10.9", thread_in_shear=False) == 0.6
    with pytest.raises(ValueError, match=r"8\.8"):
        shear_factor(bolt_class="9.9", thread_in_shear=True)


@pytest.mark.parametrize("given", [{"end": 0.020}, {"pitch": 0.03}, {"edge": 0.01}, {"gauge": 0.04}, {"hole": 0.015}])
def test_distances_below_the_least_are_refused(given: dict[str, float]) -> None:
    plate = {"diameter": 0.016, "hole": 0.0175, "thickness": 0.008, "plate_strength": 470e6, "bolt_strength": 800e6}
    with pytest.raises(ValueError, match="for example"):
        bearing_resistance(**{**plate, **given})
