"""United States: the bridge formula of 23 USC 127 / 23 CFR 658.17 (e), and the truck the reference works through.

The formula was read in copies of the law. The rows are computed from it; that the official table agrees with them, that
exact halves go down, and the rows at 8 ft are values from memory. A table prints whole 500 lb: nothing is let pass.
"""

from __future__ import annotations

import pytest

from tunwright.checks.legal import dimension_limits, legal_limits
from tunwright.checks.legal_limit import LegalLimit
from tunwright.handbook.axle_law import LawAxle
from tunwright.handbook.bridge import bridge_limit_lb
from tunwright.tables.read import rule_set

FORMULA = "23 CFR 658.17 (e), W = 500 (LN/(N-1) + 12N + 36), to the nearest 500 lb; table cell from memory"
MEMORY = "23 CFR 658.17 (e), federal bridge table; value from memory"
LIMITS = "23 CFR 658.17 (b)-(d) and 23 USC 127"
POUND = 0.45359237
FOOT = 0.3048

ROWS = [
    (2, 9, 39_000), (3, 10, 43_500), (3, 12, 45_000), (3, 16, 48_000), (3, 20, 51_000), (3, 24, 54_000),
    (3, 32, 60_000), (4, 12, 50_000), (6, 40, 78_000), (7, 24, 74_000), (4, 16, 52_500), (4, 20, 55_500),
    (4, 24, 58_000), (4, 28, 60_500), (4, 36, 66_000), (5, 20, 60_500), (5, 28, 65_500), (5, 40, 73_000),
    (5, 51, 80_000), (7, 32, 78_500),
]


@pytest.mark.parametrize(("axles", "feet", "pounds"), ROWS)
def test_every_row_of_the_table(check, axles: int, feet: int, pounds: int) -> None:
    ours = bridge_limit_lb(spread_ft=feet, axles=axles)
    check(f"bridge table, {axles} axles on {feet} ft", source=FORMULA, expected=pounds, ours=ours, tol=0, unit="lb")


@pytest.mark.parametrize(("feet", "pounds"), [(11, 44_000), (13, 45_500), (9, 42_500)])
def test_exact_halves_are_rounded_down(check, feet: int, pounds: int) -> None:
    ours = bridge_limit_lb(spread_ft=feet, axles=3)
    check(f"exact half, 3 axles on {feet} ft", source=MEMORY, expected=pounds, ours=ours, tol=0, unit="lb")


@pytest.mark.parametrize(("axles", "feet", "pounds"), [
    (2, 10, 40_000), (2, 30, 40_000),  # two single axles of 20 000 lb
    (2, 8, 34_000), (3, 8, 34_000), (2, 4, 34_000),  # at or under 8 ft: a tandem
    (2, 8.1, 38_000), (3, 8.1, 42_000),  # "more than 8": between 8 ft and the row of 9 ft
    (3, 60, 80_000), (6, 51, 80_000),  # never above the gross limit
])
def test_caps_and_the_tandem_end_of_the_table(check, axles: int, feet: float, pounds: int) -> None:
    ours = bridge_limit_lb(spread_ft=feet, axles=axles)
    check(f"bridge table, {axles} axles on {feet} ft", source=MEMORY, expected=pounds, ours=ours, tol=0, unit="lb")


@pytest.mark.parametrize(("feet", "pounds"), [(36, 68_000), (37, 68_000), (38, 68_000), (35.9, 66_000), (39, 68_000)])
def test_two_tandems_carry_34000_lb_each_from_36_ft_on(check, feet: float, pounds: int) -> None:
    ours = bridge_limit_lb(spread_ft=feet, axles=4, two_tandems=True)
    source = "23 USC 127 (a), two consecutive tandems 36 ft or more apart"
    check(f"two tandems on {feet} ft", source=source, expected=pounds, ours=ours, tol=0, unit="lb")


def test_without_two_tandems_the_formula_holds_at_38_ft(check) -> None:
    ours = bridge_limit_lb(spread_ft=38, axles=4)
    check("4 axles on 38 ft", source=FORMULA, expected=67_500, ours=ours, tol=0, unit="lb")


@pytest.mark.parametrize(("feet", "like"), [(19.49, 19), (19.5, 20), (20.49, 20)])
def test_the_distance_is_taken_to_the_nearest_foot_half_a_foot_upwards(feet: float, like: int) -> None:
    """Value from memory."""
    assert bridge_limit_lb(spread_ft=feet, axles=3) == bridge_limit_lb(spread_ft=like, axles=3)


@pytest.mark.parametrize("given", [{"axles": 1}, {"axles": 2.5}, {"spread_ft": 0.0}, {"spread_ft": float("nan")},
                                   {"spread_ft": float("inf")}])
def test_what_is_no_group_of_axles_is_refused(given: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="for example"):
        bridge_limit_lb(**{"spread_ft": 20.0, "axles": 3, **given})


def tanker(*feet: float) -> list[LawAxle]:
    return [LawAxle(at=place * FOOT, steered=number == 0, driven=number > 0, tyres=4 if number else 2)
            for number, place in enumerate(feet)]


def limits(axles: list[LawAxle]) -> dict[str, LegalLimit]:
    return {limit.key: limit for limit in legal_limits(rule_set("us-federal"), axles)}


def pounds_of(limit: LegalLimit) -> float:
    assert limit.value_kg is not None
    return limit.value_kg / POUND


def test_the_worked_example_is_legal_on_20_ft_and_not_on_18_ft(check) -> None:
    loads = [16_000 * POUND, 17_000 * POUND, 17_000 * POUND]
    for feet, allowed, legal in ((20.0, 51_000, True), (18.0, 49_500, False)):
        found = limits(tanker(0, feet - 4.5, feet))
        whole = found["bridge:1+2+3"]
        check(f"three-axle tanker on {feet:g} ft", source="23 CFR 658.17 (e), worked example", expected=allowed,
              ours=pounds_of(whole), tol=1e-6, unit="lb")
        over = {key for key, one in found.items() if one.carried(loads) / POUND > pounds_of(one) + 1e-6}
        assert over == (set() if legal else {"bridge:1+2+3"})


def test_single_tandem_and_gross_limits(check) -> None:
    found = limits(tanker(0, 15.5, 20))
    for key, pounds in (("single-axle:1", 20_000), ("tandem-axle:2+3", 34_000), ("gross", 80_000)):
        check(key, source=LIMITS, expected=pounds, ours=pounds_of(found[key]), tol=1e-6, unit="lb")
    assert set(found) == {"single-axle:1", "single-axle:2", "single-axle:3", "tandem-axle:2+3", "gross", "bridge:1+2",
                          "bridge:2+3", "bridge:1+2+3"}


@pytest.mark.parametrize(("inches", "key"), [(40, "single-axle:2+3"), (40.1, "tandem-axle:2+3"),
                                             (96, "tandem-axle:2+3"), (96.1, "single-axle:3")])
def test_a_tandem_is_over_40_in_and_not_over_96_in(inches: float, key: str) -> None:
    """23 CFR 658.17 (c) and (d); 23 CFR 658.5, definitions."""
    found = limits(tanker(0, 15.5, 15.5 + inches / 12))
    assert key in found
    assert [one for one in found if one.startswith("tandem")] == [one for one in (key,) if one.startswith("tandem")]


def test_three_axles_inside_96_in_are_one_tandem() -> None:
    """23 CFR 658.17 (d), as answered by the Federal Highway Administration."""
    found = limits(tanker(0, 15, 19, 23))
    assert [key for key in found if key.startswith("tandem")] == ["tandem-axle:2+3+4"]
    assert pounds_of(found["tandem-axle:2+3+4"]) == pytest.approx(34_000, abs=1e-6)


def test_two_tandems_on_one_truck_get_68000_lb(check) -> None:
    found = limits(tanker(0, 4, 32, 36))
    check("twin steer and tandem on 36 ft", source="23 USC 127 (a), two consecutive tandems", expected=68_000,
          ours=pounds_of(found["bridge:1+2+3+4"]), tol=1e-6, unit="lb")


def test_the_width_is_102_in(check) -> None:
    width = next(one for one in dimension_limits(rule_set("us-federal")) if one.dimension == "width")
    check("width", source="23 CFR 658.15; value from memory", expected=102, ours=width.value_m / 0.0254, tol=1e-9,
          unit="in")
