"""European Union: Directive 96/53/EC Annex I (consolidated) and the front axle share of Regulation (EU) 2021/535.

Values were read in copies and summaries of the Annex; its point numbers, and 31 t without the condition, are from
memory. Limits are round figures of the law: nothing is let pass.
"""

from __future__ import annotations

import pytest

from tunwright.checks.legal import dimension_limits, legal_limits
from tunwright.checks.legal_limit import LegalLimit
from tunwright.handbook.axle_law import LawAxle
from tunwright.tables.read import rule_set

ANNEX = "Directive 96/53/EC Annex I"


def steer(at: float) -> LawAxle:
    return LawAxle(at=at, steered=True, driven=False, tyres=2)


def drive(at: float, *, air: bool | None = False, tyres: int = 4) -> LawAxle:
    return LawAxle(at=at, steered=False, driven=True, tyres=tyres, air_suspension=air)


def tag(at: float, *, air: bool | None = False) -> LawAxle:
    return LawAxle(at=at, steered=False, driven=False, tyres=2, air_suspension=air)


def limits(*axles: LawAxle) -> dict[str, LegalLimit]:
    return {limit.key: limit for limit in legal_limits(rule_set("eu-96-53"), axles)}


def kilograms(limit: LegalLimit) -> float:
    assert limit.value_kg is not None
    return limit.value_kg


@pytest.mark.parametrize(("dimension", "metres", "point"), [("length", 12.00, "1.1"), ("width", 2.55, "1.2 (a)"),
                                                            ("height", 4.00, "1.3")])
def test_outer_size(check, dimension: str, metres: float, point: str) -> None:
    found = {one.dimension: one for one in dimension_limits(rule_set("eu-96-53"))}
    check(dimension, source=f"{ANNEX}, {point}", expected=metres, ours=found[dimension].value_m, tol=0, unit="m")


@pytest.mark.parametrize(("key", "tonnes", "point"), [("axle-other:1", 10.0, "3.1"), ("axle-driven:2", 11.5, "3.4"),
                                                      ("gross-2", 18.0, "2.3.1")])
def test_two_axles(check, key: str, tonnes: float, point: str) -> None:
    found = limits(steer(0), drive(4.5))
    check(f"two axles, {key}", source=f"{ANNEX}, {point}", expected=1000 * tonnes, ours=kilograms(found[key]), tol=0,
          unit="kg")


@pytest.mark.parametrize(("spacing", "band", "tonnes"), [
    (0.99, "tandem-below-1.0", 11.5), (1.0, "tandem-1.0-to-1.3", 16.0), (1.299, "tandem-1.0-to-1.3", 16.0),
    (1.3, "tandem-1.3-to-1.8", 19.0), (1.799, "tandem-1.3-to-1.8", 19.0)])
def test_tandem_by_spacing_with_twin_tyres_and_air(check, spacing: float, band: str, tonnes: float) -> None:
    found = limits(steer(0), drive(4.9 - spacing, air=True), drive(4.9, air=True))
    tandems = {key: limit for key, limit in found.items() if key.startswith("tandem")}
    assert set(tandems) == {f"{band}:2+3"}
    check(f"tandem of {spacing} m", source=f"{ANNEX}, 3.5", expected=1000 * tonnes,
          ours=kilograms(tandems[f"{band}:2+3"]), tol=0, unit="kg")


def test_axles_1_8_m_apart_are_no_tandem() -> None:
    """Annex I, 3.5.3: below 1.8 m."""
    assert not any(key.startswith("tandem") for key in limits(steer(0), drive(3.1), drive(4.9)))


@pytest.mark.parametrize(("loads", "tandem", "gross"), [
    ((7_000, 9_500, 9_500), 19_000, 26_000),  # each driven axle within 9.5 t: the higher values hold
    ((7_000, 9_501, 9_400), 18_000, 25_000),  # one above: they do not
])
def test_leaf_springs_and_twin_tyres_hang_on_9_5_t_an_axle(check, loads: tuple[float, ...], tandem: float,
                                                           gross: float) -> None:
    found = limits(steer(0), drive(4.2), drive(5.55))
    check(f"tandem, driven axles {loads[1]} and {loads[2]} kg", source=f"{ANNEX}, 3.5.3", expected=tandem,
          ours=kilograms(found["tandem-1.3-to-1.8:2+3"].at(loads)), tol=0, unit="kg")
    check(f"three axles, driven {loads[1]} and {loads[2]} kg", source=f"{ANNEX}, 2.3.2", expected=gross,
          ours=kilograms(found["gross-3"].at(loads)), tol=0, unit="kg")
    assert kilograms(found["gross-3"]) == 25_000  # before the loads are known, the safe side


def test_9_5_t_is_asked_of_driven_axles_for_the_gross_and_of_both_axles_for_the_tandem(check) -> None:
    found = limits(steer(0), drive(4.2), drive(5.55))
    check("three axles, front 9.8 t, driven 8 t", source=f"{ANNEX}, 2.3.2", expected=26_000,
          ours=kilograms(found["gross-3"].at([9_800, 8_000, 8_000])), tol=0, unit="kg")
    found = limits(steer(0), drive(4.2), tag(5.55))
    check("tandem, driven 8 t, tag 9.6 t", source=f"{ANNEX}, 3.5.3", expected=18_000,
          ours=kilograms(found["tandem-1.3-to-1.8:2+3"].at([7_000, 8_000, 9_600])), tol=0, unit="kg")


@pytest.mark.parametrize(("air", "tyres", "tonnes"), [(True, 4, 26.0), (True, 2, 25.0), (False, 2, 25.0)])
def test_three_axles(check, air: bool, tyres: int, tonnes: float) -> None:
    found = limits(steer(0), drive(4.2, air=air, tyres=tyres), drive(5.55, air=air, tyres=tyres))
    check(f"three axles, air {air}, {tyres} tyres an axle", source=f"{ANNEX}, 2.3.2", expected=1000 * tonnes,
          ours=kilograms(found["gross-3"]), tol=0, unit="kg")
    assert found["gross-3"].raised is None


def test_a_6x2_with_air_has_its_condition_from_the_driven_axle(check) -> None:
    found = limits(steer(0), drive(4.2, air=True), tag(5.55, air=True))
    check("6x2 gross", source=f"{ANNEX}, 2.3.2", expected=26_000, ours=kilograms(found["gross-3"]), tol=0, unit="kg")
    check("6x2 tandem", source=f"{ANNEX}, 3.5.3", expected=19_000, ours=kilograms(found["tandem-1.3-to-1.8:2+3"]),
          tol=0, unit="kg")
    check("6x2 tag axle", source=f"{ANNEX}, 3.1", expected=10_000, ours=kilograms(found["axle-other:3"]), tol=0,
          unit="kg")


def test_four_axles_with_the_condition(check) -> None:
    found = limits(steer(0), steer(1.9), drive(5.2, air=True), drive(6.55, air=True))
    check("four axles", source=f"{ANNEX}, 2.3.3", expected=32_000, ours=kilograms(found["gross-4"]), tol=0, unit="kg")
    assert found["gross-4"].missing is None


def test_four_axles_without_the_condition_are_left_to_a_text_not_read(check) -> None:
    """31 t is national, not in Annex I, and from memory: shown, never relied on."""
    loads = [6_500, 6_500, 9_600, 9_400]
    bare = limits(steer(0), steer(1.9), drive(5.2), drive(6.55))["gross-4"]
    assert bare.at(loads).missing is not None
    assert bare.at(loads).mark == "memory"
    check("four axles without air, above 9.5 t", source="national rule; value from memory, not in Annex I",
          expected=31_000, ours=kilograms(bare.at(loads)), tol=0, unit="kg")
    within = bare.at([6_500, 6_500, 9_500, 9_500])
    assert within.missing is None
    check("four axles without air, 9.5 t an axle", source=f"{ANNEX}, 2.3.3", expected=32_000, ours=kilograms(within),
          tol=0, unit="kg")


@pytest.mark.parametrize(("metres", "tonnes"), [(5.80, 29.0), (6.40, 32.0)])
def test_five_tonnes_a_metre(check, metres: float, tonnes: float) -> None:
    found = limits(steer(0), steer(1.9), drive(metres - 1.35, air=True), drive(metres, air=True))
    check(f"four axles on {metres} m", source=f"{ANNEX}, 4.3 (number from memory)", expected=1000 * tonnes,
          ours=kilograms(found["gross-per-spread"]), tol=0, unit="kg")


def test_five_tonnes_a_metre_is_asked_of_four_axles_only() -> None:
    """Annex I, 4.3."""
    assert "gross-per-spread" not in limits(steer(0), drive(4.2), drive(5.55))


@pytest.mark.parametrize(("key", "share", "source", "axles"), [
    ("driven-share", 0.25, f"{ANNEX}, 4.1 (number from memory)", (2, 3)),
    ("front-share", 0.20, "Regulation (EU) 2021/535 Annex XIII; clause number from memory", (0, 1))])
def test_shares_of_the_gross_mass(check, key: str, share: float, source: str, axles: tuple[int, ...]) -> None:
    limit = limits(steer(0), steer(1.9), drive(5.2), drive(6.55))[key]
    assert (limit.axles, limit.of, limit.sense) == (axles, "gross", "at_least")
    check(key, source=source, expected=share, ours=limit.share, tol=0)
    loads = [6_000, 6_000, 9_000, 9_000]
    check(f"{key} of 30 t", source=source, expected=30_000 * share, ours=kilograms(limit.at(loads)), tol=1e-9,
          unit="kg")
