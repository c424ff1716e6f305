"""Fillet welds against EN 1993-1-8 worked values and textbook weld groups."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.handbook.fillet_weld import CORRELATION, effective_length, long_lap_factor, shear_strength
from tunwright.handbook.weld_lines import WeldStress, weld_group, weld_stress, weld_use

EN = "EN 1993-1-8, 4.5.3.3, fvw,d = fu/(sqrt(3) beta_w gamma_M2) (public summaries)"
MPA = 1e6


@pytest.mark.parametrize(("steel", "fu", "expected"), [("S235", 360, 207.8), ("S275", 430, 233.7), ("S355", 470, 241.2),
                                                       ("S355", 490, 251.5), ("S355", 510, 261.7)])
def test_strength_of_the_throat(check, steel: str, fu: float, expected: float) -> None:
    ours = shear_strength(tensile_strength=fu * MPA, correlation=CORRELATION[steel]) / MPA
    check(f"fvw,d {steel}, fu {fu}", source=EN, expected=expected, ours=ours, tol=0.05, unit="MPa")


def test_strength_of_a_length(check) -> None:
    ours = shear_strength(tensile_strength=360 * MPA, correlation=0.8) * 0.004 / 1e6
    check("Fw,Rd S235, a = 4 mm", source=EN, expected=0.8314, ours=ours, tol=0.00005, unit="kN/mm")


def transverse(force: float = 300e3) -> WeldStress:
    """Two welds of 150 mm, 5 mm throat, pulled off their plate."""
    group = weld_group([([(0, y), (0.15, y)], 0.005) for y in (0.0, 0.01)])
    return weld_stress(group, (0, 0, force, 0.005 * force, -0.075 * force, 0))


def test_both_methods(check) -> None:
    source = "EN 1993-1-8, 4.5.3: S355 (fu 470), 300 kN across 2 x 150 mm, a = 5 mm, worked by hand"
    stress = transverse()
    use = weld_use(stress, tensile_strength=470 * MPA, correlation=0.9)
    check("normal stress on the throat", source=source, expected=141.4, ours=np.abs(stress.on_throat()[0]).max() / MPA,
          tol=0.05, unit="MPa")
    check("directional utilisation", source=source, expected=0.6770, ours=use.directional[0], tol=0.00005)
    check("simplified utilisation", source=source, expected=0.8292, ours=use.simplified[0], tol=0.00005)
    check("simplified over directional, purely across", source="sqrt(3/2), exact", expected=math.sqrt(1.5),
          ours=use.simplified[0] / use.directional[0], tol=1e-12)


JINDAL = "Jindal, Machine Design, Example {}"


def test_direct_shear(check) -> None:
    """12-3 takes the throat as 0.707 of the leg; with 1/sqrt(2) it is 81.459 kN."""
    four = weld_group([([(x, y), (x + 0.060, y)], 0.008 / 2**0.5) for x in (0.0, 0.1) for y in (0.0, 0.1)])
    stress = np.linalg.norm(weld_stress(four, (100e3, 0, 0, 0, 0, -5e3)).vector, axis=2).max() / MPA
    check("stress, 100 kN on 4 x 60 mm, leg 8 mm", source=JINDAL.format("12-1"), expected=73.7, ours=stress, tol=0.05,
          unit="MPa")
    group = weld_group([([(0, y), (0.060, y)], 0.707 * 0.012) for y in (0.0, 0.1)])
    stress = np.linalg.norm(weld_stress(group, (1e3, 0, 0, 0, 0, -50.0)).vector, axis=2).max() / MPA
    check("load, 2 x 60 mm, leg 12 mm, 80 MPa", source=JINDAL.format("12-3"), expected=81.45, ours=80 / stress,
          tol=0.005, unit="kN")


def test_eccentric_pull(check) -> None:
    group = weld_group([([(0, y), (0.1, y)], 0.001) for y in (-0.05, 0.05)])
    line = weld_stress(group, (0, 0, 6e3, 6e3 * 0.2, -6e3 * 0.05, 0)).up.max() * 0.001 / 1000
    check("line force, 2 x 100 mm, 6 kN at 200 mm", source=JINDAL.format("12-4"), expected=150, ours=line, tol=0.5,
          unit="N/mm")
    check("throat at 80 MPa", source=JINDAL.format("12-4"), expected=1.875, ours=line / 80, tol=0.0005, unit="mm")
    check("leg at 80 MPa", source=JINDAL.format("12-4"), expected=2.65, ours=2**0.5 * line / 80, tol=0.005, unit="mm")


def two_inch_welds(throat: float):
    return weld_group([([(x, -1), (x, 1)], throat) for x in (-1.0, 1.0)])


def test_two_vertical_welds(check) -> None:
    """tau = 9.22 F is printed from J rounded to 1.18; unrounded it is 9.237 F. F itself, 2.165, rounds to 2.17."""
    source = "Shigley's Mechanical Engineering Design, Problem 9-5 (solution manual): two 2 in welds 2 in apart, h 5/16"
    group = two_inch_welds(0.707 * 5 / 16)
    polar = np.trace(group.spread)
    worst = np.linalg.norm(weld_stress(group, (0, -1, 0, 0, 0, -7)).vector, axis=2).max()
    check("unit polar second moment", source=source, expected=5.333, ours=polar / (0.707 * 5 / 16), tol=0.0005,
          unit="in3")
    check("polar second moment", source=source, expected=1.18, ours=polar, tol=0.005, unit="in4")
    check("load at 20 kpsi", source=source, expected=2.17, ours=20 / worst, tol=0.005, unit="kip")


def test_properties_of_weld_outlines(check) -> None:
    """Unit second moments of area, b = 3, d = 5."""
    source = "Shigley's Mechanical Engineering Design, 9th ed., Table 9-2, case {}; closed form"
    b, d = 3.0, 5.0
    box = [(0, 0), (b, 0), (b, d), (0, d), (0, 0)]
    cases = {
        "1": ([[(0, 0), (0, d)]], d**3 / 12),
        "2": ([[(0, 0), (0, d)], [(b, 0), (b, d)]], d**3 / 6),
        "3": ([[(0, 0), (b, 0)], [(0, d), (b, d)]], b * d**2 / 2),
        "4": ([[(b, 0), (0, 0), (0, d), (b, d)]], d**2 / 12 * (6 * b + d)),
        "5": ([[(0, 0), (0, d), (b, d), (b, 0)]],
              2 * d**3 / 3 - 2 * d**2 * (d**2 / (b + 2 * d)) + (b + 2 * d) * (d**2 / (b + 2 * d)) ** 2),
        "6": ([box], d**2 / 6 * (3 * b + d)),
    }
    for case, (chains, expected) in cases.items():
        ours = weld_group([(chain, 1.0) for chain in chains]).spread[1, 1]
        check(f"Iu, outline {case}", source=source.format(case), expected=expected, ours=ours, tol=1e-9 * expected,
              unit="in3")
    ju = np.trace(weld_group([(box, 1.0)]).spread)
    check("Ju of a box", source="Shigley's, Table 9-1, case 6, (b + d)^3/6; from memory", expected=(b + d) ** 3 / 6,
          ours=ju, tol=1e-9 * ju, unit="in3")


BHANDARI = "Bhandari, Design of Machine Elements, Example {} (companion's result): {}"


@pytest.mark.parametrize(("example", "words", "chains", "load", "allowed", "throat"), [
    ("8.9", "two 50 mm welds 50 mm apart, 7.5 kN at 125 mm, 100 MPa",
     [[(-25, 25), (25, 25)], [(-25, -25), (25, -25)]], (7500, 125), 100, 4.538894),
    ("8.10", "a U of 50, 100, 50 mm, 60 kN at 150 mm from its tips, 100 MPa",
     [[(50, 50), (0, 50), (0, -50), (50, -50)]], (60e3, 200), 100, 20.186421),
    ("8.11", "a U of 150, 100, 150 mm, 25 kN at 100 mm from its leg, 55 MPa",
     [[(-50, 150), (-50, 0), (50, 0), (50, 150)]], (25e3, 150), 55, 4.630044),
])
def test_groups_that_are_twisted(check, example, words, chains, load, allowed, throat) -> None:
    group = weld_group([(np.array(chain) / 1000, 0.001) for chain in chains])
    force, at = load
    stress = weld_stress(group, (0, -force, 0, 0, 0, -force * at / 1000))
    worst = np.linalg.norm(stress.vector, axis=2).max() / MPA
    check("throat", source=BHANDARI.format(example, words), expected=throat, ours=worst / allowed, tol=5e-7, unit="mm")


def test_effective_length() -> None:
    assert effective_length(0.100, throat=0.004) == pytest.approx(0.092)
    for length, throat in [(0.037, 0.004), (0.100, 0.0025), (0.060, 0.008)]:
        with pytest.raises(ValueError, match="for example"):
            effective_length(length, throat=throat)


def test_long_laps(check) -> None:
    source = "EN 1993-1-8, 4.11, 1.2 - 0.2 L/(150 a) by hand; formula from memory"
    check("factor at 300 a", source=source, expected=0.8, ours=long_lap_factor(length=1.2, throat=0.004), tol=1e-12)
    assert long_lap_factor(length=0.6, throat=0.004) == 1.0
    assert long_lap_factor(length=9.0, throat=0.004) == 0.0
