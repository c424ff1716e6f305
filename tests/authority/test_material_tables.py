"""Materials and gauges against the printed tables."""

from __future__ import annotations

import pytest

from tunwright.tables.read import gauges, materials

EN10025 = "EN 10025-2, ReH by thickness"
YIELDS = {"S235": (235, 225, 215, 215, 215), "S275": (275, 265, 255, 245, 235), "S355": (355, 345, 335, 325, 315)}
TENSILE = {"S235": ((360, 510), (360, 510)), "S275": ((430, 580), (410, 560)), "S355": ((510, 680), (470, 630))}


@pytest.mark.parametrize("key", YIELDS)
def test_structural_steel(check, key: str) -> None:
    steel = materials()[key]
    for thickness, yield_mpa in zip((16, 40, 63, 80, 100), YIELDS[key], strict=True):
        check(f"{key} at {thickness} mm", source=EN10025, expected=yield_mpa,
              ours=steel.yield_strength(thickness / 1000) / 1e6, tol=1e-9, unit="MPa")
    for thickness, (least, most) in zip((3, 100), TENSILE[key], strict=True):
        step = next(step for step in steel.tensile_steps if thickness / 1000 <= step[0])
        assert (step[1] / 1e6, step[2] / 1e6) == (least, most)
        check(f"{key} Rm at {thickness} mm", source="EN 10025-2, Rm by thickness", expected=least,
              ours=steel.tensile_strength(thickness / 1000) / 1e6, tol=1e-9, unit="MPa")


@pytest.mark.parametrize(("key", "mm", "yield_mpa"), [("S235", 150, 195), ("S235", 200, 185), ("S235", 250, 175),
                                                      ("S355", 150, 295), ("S355", 200, 285), ("S355", 250, 275)])
def test_the_longer_series(check, key: str, mm: float, yield_mpa: float) -> None:
    check(f"{key} at {mm} mm", source=EN10025, expected=yield_mpa,
          ours=materials()[key].yield_strength(mm / 1000) / 1e6, tol=1e-9, unit="MPa")


@pytest.mark.parametrize(("key", "yield_mpa", "tensile", "density", "modulus", "source"), [
    ("1.4301", 210, 520, 7900, 200, "EN 10088-4, hot rolled; value from memory"),
    ("1.4404", 220, 530, 8000, 200, "EN 10088-4, hot rolled; value from memory"),
    ("5083", 125, 275, 2660, 70, "EN 485-2, O/H111, 3-6 mm; value from memory"),
    ("5754", 80, 190, 2670, 70, "EN 485-2, O/H111; value from memory"),
    ("A36", 250, 400, 7850, 200, "ASTM A36/A36M, plates; modulus from memory"),
    ("S235", 235, 360, 7850, 210, "EN 10025-2; density and modulus EN 1993-1-1, value from memory")])
def test_other_plates(check, key: str, yield_mpa: float, tensile: float, density: float, modulus: float,
                      source: str) -> None:
    plate = materials()[key]
    check(f"{key} yield", source=source, expected=yield_mpa, ours=plate.yield_strength(0.005) / 1e6, tol=1e-9,
          unit="MPa")
    check(f"{key} Rm", source=source, expected=tensile, ours=plate.tensile_strength(0.005) / 1e6, tol=1e-9, unit="MPa")
    check(f"{key} density", source=source, expected=density, ours=plate.density, tol=0, unit="kg/m3")
    check(f"{key} modulus", source=source, expected=modulus, ours=plate.youngs_modulus / 1e9, tol=1e-9, unit="GPa")


@pytest.mark.parametrize(("gauge", "mm", "tol"), [(8, 4.18, 0.005), (10, 3.42, 0.005)])
def test_gauges_in_a_public_specification(check, gauge: int, mm: float, tol: float) -> None:
    check(f"{gauge} gauge carbon steel", source="MIL-D-52923B, shell and baffles", expected=mm,
          ours=1000 * gauges("carbon steel")[gauge], tol=tol, unit="mm")


def test_ten_gauge_in_inches(check) -> None:
    """The specification prints 0.134, the standard 0.1345: just half of the last digit."""
    check("10 gauge carbon steel", source="MIL-T-28571G, 10 gauge (0.134 in)", expected=0.134,
          ours=gauges("carbon steel")[10] / 0.0254, tol=0.0005 + 1e-12, unit="in")


def test_steel_gauges_are_the_weight_series(check) -> None:
    ounces = {7: 120, 8: 110, 9: 100, 10: 90, 11: 80, 12: 70, 13: 60, 14: 50, 15: 45, 16: 40}
    for gauge, weight in ounces.items():
        check(f"{gauge} gauge carbon steel", source="Manufacturers' Standard Gauge, oz/ft2 over 41.82 lb/ft2 per inch",
              expected=weight / 16 / 41.82, ours=gauges("carbon steel")[gauge] / 0.0254, tol=5e-5 + 1e-12, unit="in")


def test_stainless_gauges_are_binary_fractions(check) -> None:
    parts = {7: 24, 8: 22, 9: 20, 10: 18, 11: 16, 12: 14, 13: 12, 14: 10, 15: 9, 16: 8}
    for gauge, part in parts.items():
        check(f"{gauge} gauge stainless", source="stainless gauge, 128ths of an inch", expected=part / 128,
              ours=gauges("stainless")[gauge] / 0.0254, tol=5e-5 + 1e-12, unit="in")


def test_aluminium_gauges_are_the_geometric_series(check) -> None:
    for gauge, thickness in gauges("aluminium").items():
        check(f"{gauge} gauge aluminium", source="Brown and Sharpe, 0.005 in x 92^((36 - n)/39)",
              expected=0.005 * 92 ** ((36 - gauge) / 39), ours=thickness / 0.0254, tol=5e-5, unit="in")
