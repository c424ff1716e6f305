"""Bolts against ISO 898-1: stress areas, proof loads, minimum ultimate loads; the rest of the table of sizes.

The standard's loads are the nominal stress area (three digits) times the stress of the class. Three of its printed
loads are not that product rounded: M10 8.8 proof 33 700 (58.0 x 580 = 33 640), M8 8.8 ultimate 29 200 (36.6 x 800 =
29 280) and M16 8.8 ultimate 125 000 (157 x 800 = 125 600). The product is the definition, so it is what we give; the
printed values are kept here, and the product must lie within one unit of their last digit. M14 10.9 proof is exactly a
half (95 450, printed 95 500).
"""

from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest

from tunwright.handbook.bolt import minor_diameter, pitch_diameter, proof_load, stress_area
from tunwright.tables.bolts import bolt_classes, bolt_friction, bolt_sizes, slip_factors
from tunwright.tables.rule_types import MARKS

LOADS = "ISO 898-1, minimum ultimate tensile loads and proof loads, coarse thread (copies of the tables)"
AREAS = "ISO 898-1, nominal stress area"
PROOF = [
    ("M8", "8.8", 21_200, 50), ("M8", "10.9", 30_400, 50), ("M10", "10.9", 48_100, 50), ("M12", "8.8", 48_900, 50),
    ("M12", "10.9", 70_000, 50), ("M14", "8.8", 66_700, 50), ("M14", "10.9", 95_500, 50 + 1e-6),
    ("M16", "8.8", 91_000, 500), ("M16", "10.9", 130_000, 500), ("M20", "8.8", 147_000, 500),
    ("M24", "10.9", 293_000, 500),
]
ULTIMATE = [
    ("M8", "10.9", 38_100, 50), ("M10", "8.8", 46_400, 50), ("M10", "10.9", 60_300, 50), ("M12", "8.8", 67_400, 50),
    ("M12", "10.9", 87_700, 50), ("M14", "8.8", 92_000, 50), ("M14", "10.9", 120_000, 500),
    ("M16", "10.9", 163_000, 500), ("M20", "8.8", 203_000, 500), ("M20", "10.9", 255_000, 500),
    ("M24", "8.8", 293_000, 500), ("M24", "10.9", 367_000, 500), ("M30", "8.8", 466_000, 500),
    ("M30", "10.9", 583_000, 500),
]


def ours_proof(size: str, grade: str) -> float:
    bolt = bolt_sizes()[size]
    return proof_load(area=bolt.stress_area, proof_stress=bolt_classes()[grade].proof_stress(bolt.diameter))


def ours_ultimate(size: str, grade: str) -> float:
    bolt = bolt_sizes()[size]
    return bolt.stress_area * bolt_classes()[grade].tensile_strength(bolt.diameter)


@pytest.mark.parametrize(("size", "grade", "newton", "tol"), PROOF)
def test_proof_loads(check, size: str, grade: str, newton: float, tol: float) -> None:
    check(f"proof load {size} {grade}", source=LOADS, expected=newton, ours=ours_proof(size, grade), tol=tol, unit="N")


@pytest.mark.parametrize(("size", "grade", "newton", "tol"), ULTIMATE)
def test_ultimate_loads(check, size: str, grade: str, newton: float, tol: float) -> None:
    check(f"minimum ultimate load {size} {grade}", source=LOADS, expected=newton, ours=ours_ultimate(size, grade),
          tol=tol, unit="N")


@pytest.mark.parametrize(("ours", "size", "printed", "unit_of_print"), [
    (ours_proof, "M10", 33_700, 100), (ours_ultimate, "M8", 29_200, 100), (ours_ultimate, "M16", 125_000, 1000)])
def test_printed_loads_that_are_not_the_product(ours, size: str, printed: float, unit_of_print: float) -> None:
    off = abs(ours(size, "8.8") - printed)
    assert unit_of_print / 2 < off < unit_of_print


@pytest.mark.parametrize(("size", "grade", "newton"), [("M30", "8.8", 336_600), ("M30", "10.9", 465_630)])
def test_loads_the_copy_did_not_show(check, size: str, grade: str, newton: float) -> None:
    check(f"proof load {size} {grade}", source="ISO 898-1, As,nom x Sp; the copy was cut there, recomputed",
          expected=newton, ours=ours_proof(size, grade), tol=1e-6, unit="N")


AREA_MM2 = {"M8": (36.6, 36.61), "M10": (58.0, 57.99), "M12": (84.3, 84.27), "M14": (115, None), "M16": (157, 156.67),
            "M18": (192, None), "M20": (245, 244.79), "M22": (303, None), "M24": (353, 352.50), "M27": (459, None),
            "M30": (561, 560.59)}


@pytest.mark.parametrize("size", AREA_MM2)
def test_stress_areas(check, size: str) -> None:
    bolt = bolt_sizes()[size]
    nominal, exact = AREA_MM2[size]
    ours = stress_area(diameter=bolt.diameter, pitch=bolt.pitch) * 1e6
    assert bolt.stress_area * 1e6 == pytest.approx(nominal)
    check(f"stress area {size}", source=AREAS, expected=nominal, ours=ours, tol=0.05 if nominal < 100 else 0.5,
          unit="mm2")
    if exact is not None:
        check(f"stress area {size}, unrounded", source="pi/4 (d - 0.938194 P)^2, ISO 898-1, by hand", expected=exact,
              ours=ours, tol=0.005, unit="mm2")


@pytest.mark.parametrize(("size", "pitch_mm", "minor_mm"), [("M16", 14.701, 13.546), ("M20", 18.376, 16.933),
                                                            ("M24", 22.051, 20.319)])
def test_thread_diameters(check, size: str, pitch_mm: float, minor_mm: float) -> None:
    bolt = bolt_sizes()[size]
    source = "ISO 724, basic dimensions (d3 by ISO 965); from memory"
    check(f"pitch diameter {size}", source=source, expected=pitch_mm, tol=0.0005, unit="mm",
          ours=1000 * pitch_diameter(diameter=bolt.diameter, pitch=bolt.pitch))
    check(f"minor diameter of the bolt {size}", source=source, expected=minor_mm, tol=0.0005, unit="mm",
          ours=1000 * minor_diameter(diameter=bolt.diameter, pitch=bolt.pitch))


@pytest.mark.parametrize(("size", "flats", "head", "holes"), [
    ("M8", 13, 5.3, (8.4, 9, 10)), ("M10", 16, 6.4, (10.5, 11, 12)), ("M12", 18, 7.5, (13, 13.5, 14.5)),
    ("M14", 21, 8.8, (15, 15.5, 16.5)), ("M16", 24, 10, (17, 17.5, 18.5)), ("M20", 30, 12.5, (21, 22, 24)),
    ("M24", 36, 15, (25, 26, 28)), ("M27", 41, 17, (28, 30, 32)), ("M30", 46, 18.7, (31, 33, 35))])
def test_heads_and_holes(size: str, flats: float, head: float, holes: tuple[float, ...]) -> None:
    """ISO 4014 and ISO 273, entered a second time: heads from a copy of a list of heads, holes partly from a copy."""
    bolt = bolt_sizes()[size]
    assert (bolt.flats * 1000, bolt.head * 1000) == pytest.approx((flats, head))
    assert [hole * 1000 for hole in bolt.holes.values()] == pytest.approx(list(holes))


def test_sizes_are_plausible() -> None:
    for bolt in bolt_sizes().values():
        assert bolt.diameter < bolt.holes["fine"] < bolt.holes["medium"] < bolt.holes["coarse"] < bolt.face < bolt.flats
        assert bolt.flats < bolt.corners < bolt.flats * 2 / 3**0.5
        assert 0.55 < bolt.head / bolt.diameter < 0.7


def test_every_row_says_how_it_is_known() -> None:
    rows = [*bolt_classes().values(), *bolt_friction().values(), *slip_factors().values()]
    assert all(row.mark in MARKS and row.source for row in rows)
    sizes = tomllib.loads(files("tunwright.tables").joinpath("bolts.toml").read_text("utf-8"))["size"]
    assert sizes["mark"] in MARKS
    assert "ISO 4014" in sizes["source"]
    assert "memory" in sizes["note"]
    assert all(0 < row.least < row.most < 0.6 for row in bolt_friction().values())


def test_a_diameter_outside_the_table_is_refused() -> None:
    with pytest.raises(ValueError, match="for example 16 mm"):
        bolt_classes()["8.8"].proof_stress(0.042)
    with pytest.raises(ValueError, match="0 was given"):
        proof_load(area=0.0, proof_stress=580e6)
