"""Australia: general mass limits of the Heavy Vehicle (Mass, Dimension and Loading) National Regulation.

Values were read in public charts and in the model schedule of 1996, not in the current text. Limits are round figures
of the law: nothing is let pass.
"""

from __future__ import annotations

import pytest

from tunwright.checks.legal import dimension_limits, legal_limits
from tunwright.checks.legal_limit import LegalLimit
from tunwright.handbook.axle_law import LawAxle
from tunwright.tables.read import rule_set

SCHEDULE = "HV (MDL) National Regulation, Schedule 1, general mass limits"


def steer(at: float, *, sharing: bool | None = None) -> LawAxle:
    return LawAxle(at=at, steered=True, driven=False, tyres=2, load_sharing=sharing)


def dual(at: float) -> LawAxle:
    return LawAxle(at=at, steered=False, driven=True, tyres=4)


def single(at: float, width: float | None) -> LawAxle:
    return LawAxle(at=at, steered=False, driven=False, tyres=2, tyre_width=width)


def limits(*axles: LawAxle) -> dict[str, LegalLimit]:
    return {limit.key: limit for limit in legal_limits(rule_set("au-general"), axles)}


def kilograms(limit: LegalLimit) -> float:
    assert limit.value_kg is not None
    return limit.value_kg


@pytest.mark.parametrize(("axle", "tonnes"), [(dual(4.5), 9.0), (single(4.5, 0.374), 6.0), (single(4.5, 0.375), 6.7),
                                              (single(4.5, 0.449), 6.7), (single(4.5, 0.450), 7.0)])
def test_single_axles(check, axle: LawAxle, tonnes: float) -> None:
    found = limits(steer(0), axle)
    check("single steer axle", source=SCHEDULE, expected=6_000, ours=kilograms(found["single-axle:1"]), tol=0,
          unit="kg")
    check(f"single axle, {axle.tyres} tyres, width {axle.tyre_width}", source=SCHEDULE, expected=1000 * tonnes,
          ours=kilograms(found["single-axle:2"]), tol=0, unit="kg")


@pytest.mark.parametrize(("sharing", "tonnes"), [(True, 11.0), (False, 10.0)])
def test_twin_steer(check, sharing: bool, tonnes: float) -> None:
    found = limits(steer(0, sharing=sharing), steer(1.9, sharing=sharing), dual(5.5))
    check(f"twin steer, load-sharing {sharing}", source=SCHEDULE, expected=1000 * tonnes,
          ours=kilograms(found["tandem:1+2"]), tol=0, unit="kg")


@pytest.mark.parametrize(("front", "rear", "tonnes"), [
    (dual(4.5), dual(5.8), 16.5), (dual(4.5), single(5.8, 0.3), 13.0), (single(4.5, 0.374), single(5.8, 0.374), 11.0),
    (single(4.5, 0.375), single(5.8, 0.449), 13.3), (single(4.5, 0.45), single(5.8, 0.5), 14.0),
    (single(4.5, 0.45), single(5.8, 0.3), 11.0)])
def test_tandem_groups(check, front: LawAxle, rear: LawAxle, tonnes: float) -> None:
    found = limits(steer(0), front, rear)
    case = f"tandem, {front.tyres}+{rear.tyres} tyres, widths {front.tyre_width} and {rear.tyre_width}"
    check(case, source=SCHEDULE, expected=1000 * tonnes, ours=kilograms(found["tandem:2+3"]), tol=0, unit="kg")


def test_tri_axle_group(check) -> None:
    found = limits(steer(0), dual(4.5), dual(5.8), dual(7.1))
    check("tri-axle group", source=SCHEDULE, expected=20_000, ours=kilograms(found["tri-axle:2+3+4"]), tol=0,
          unit="kg")
    assert not any(key.startswith("tandem") for key in found)  # an axle belongs to one group only


@pytest.mark.parametrize(("axles", "key", "tonnes"), [
    ((steer(0), dual(4.5)), "gross-2", 15.0), ((steer(0), dual(4.5), dual(5.8)), "gross-3", 22.5),
    ((steer(0), steer(1.9), dual(5.5), dual(6.8)), "gross-any", 42.5)])
def test_gross_limits(check, axles: tuple[LawAxle, ...], key: str, tonnes: float) -> None:
    check(f"{len(axles)} axles", source="general mass limits, rigid trucks; 42.5 t for a combination",
          expected=1000 * tonnes, ours=kilograms(limits(*axles)[key]), tol=0, unit="kg")


@pytest.mark.parametrize(("axles", "tonnes"), [
    ((steer(0), dual(4.5), dual(5.8)), 6.0 + 16.5),
    ((steer(0, sharing=True), steer(1.9, sharing=True), dual(5.5), dual(6.8)), 11.0 + 16.5)])
def test_the_sum_of_the_axle_limits(check, axles: tuple[LawAxle, ...], tonnes: float) -> None:
    """6x4: 22.5 t; 8x4 with load-sharing twin steer: 27.5 t."""
    groups = [one for one in limits(*axles).values() if not one.key.startswith("gross")]
    assert sorted(place for one in groups for place in one.axles) == list(range(len(axles)))
    check(f"sum of axle limits, {len(axles)} axles", source=SCHEDULE, expected=1000 * tonnes,
          ours=sum(kilograms(one) for one in groups), tol=0, unit="kg")


@pytest.mark.parametrize(("spacing", "keys"), [
    (0.99, {"single-axle:2+3"}), (1.0, {"tandem:2+3"}), (2.0, {"tandem:2+3"}),
    (2.01, {"single-axle:2", "single-axle:3"})])
def test_what_makes_a_tandem(spacing: float, keys: set[str]) -> None:
    """Tandem 1.0 m to 2.0 m; axles less than 1.0 m apart count as one. Read at a state road authority."""
    found = limits(steer(0), dual(5.8 - spacing), dual(5.8))
    assert {key for key in found if not key.startswith("gross")} == {"single-axle:1", *keys}


def test_two_axles_less_than_1_m_apart_carry_what_one_carries(check) -> None:
    found = limits(steer(0), dual(4.5), dual(5.4))
    check("two dual axles 0.9 m apart", source="axles less than 1.0 m apart count as one", expected=9_000,
          ours=kilograms(found["single-axle:2+3"]), tol=0, unit="kg")


@pytest.mark.parametrize(("outer", "group"), [(2.0, "tandem"), (2.01, "tri-axle"), (3.2, "tri-axle")])
def test_what_makes_a_tri_axle_group(outer: float, group: str) -> None:
    """Tri-axle group: over 2.0 m to 3.2 m."""
    assert f"{group}:2+3+4" in limits(steer(0), dual(4.5), dual(4.5 + outer / 2), dual(4.5 + outer))


def test_what_makes_a_quad_axle_group() -> None:
    """Quad-axle group: over 3.2 m to 4.9 m; its 20 t are from memory."""
    for outer, expected in ((4.8, True), (4.9, True), (4.95, False)):
        found = limits(steer(0), *(dual(4.5 + outer * share / 3) for share in range(4)))
        assert ("quad-axle:2+3+4+5" in found) is expected


def test_length(check) -> None:
    length = next(one for one in dimension_limits(rule_set("au-general")) if one.dimension == "length")
    check("length of a rigid truck", source="HV (MDL) National Regulation, Schedule 6, in a public chart",
          expected=12.5, ours=length.value_m, tol=0, unit="m")
