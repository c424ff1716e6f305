"""What is not known stays open: no equal shares for missing springs, no grades without a height, no NaN that holds."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tunwright.build.reading import read_text
from tunwright.checks.assess import Assessment
from tunwright.checks.finding import verdict

SUPPORTS = """
format = 1
[order]
title = "three supports"
[chassis]
gross_rating = "32 t"
cg_height = "1.0 m"
[[chassis.axle]]
name = "steer 1"
at = "0 m"
kerb_load = "3600 kg"
rating = "9 t"
steered = true
spring_rate = "300 N/mm"
[[chassis.axle]]
name = "steer 2"
at = "1.8 m"
kerb_load = "3200 kg"
rating = "9 t"
steered = true
spring_rate = "250 N/mm"
[[chassis.axle]]
name = "rear"
at = "5.0 m"
rating = "13 t"
kerb_load = "3000 kg"
driven = true
spring_rate = "900 N/mm"
[tank]
middle = "3 m"
length = "4 m"
bottom = "1.2 m"
shell = "4 mm"
dry_mass = "1000 kg"
[tank.section]
shape = "rectangle"
width = "2 m"
height = "1 m"
"""


def assessed(text: str) -> Assessment:
    return Assessment(read_text(text).build)


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_missing_spring_rate_leaves_every_axle_open(number: int) -> None:
    rate = ("300 N/mm", "250 N/mm", "900 N/mm")[number - 1]
    found = assessed(SUPPORTS.replace(f'spring_rate = "{rate}"\n', ""))
    assert np.isnan(found.truck.table.axles).all()
    missing = f"chassis.axle[{number}].spring_rate"
    loads = [f for f in found.findings if f.key.startswith(("axle-", "front-share", "driven-share", "braking-"))]
    assert len(loads) >= 8
    for finding in loads:
        assert finding.verdict == "open", finding.key
        assert finding.value is None
        assert missing in finding.missing
    assert found.finding("gross").verdict == "holds"
    assert found.exit_code in (1, 3)
    assert found.counts["open"] >= 8


def test_with_every_spring_rate_the_axles_are_judged() -> None:
    found = assessed(SUPPORTS)
    assert found.finding("axle-steer-1").verdict in ("holds", "close", "fails")
    assert not found.finding("axle-steer-1").missing


def test_lowering_a_third_support_after_the_weighing_is_open() -> None:
    """What a lowered axle takes of the chassis itself depends on springs as weighed, which nobody weighed."""
    up = SUPPORTS.replace('kerb_load = "3200 kg"', 'kerb_load = "0 kg"\nlift = true\nraised_when_weighed = true')
    found = assessed(up)
    lowered = next(s for s in found.truck.axles.stances if not s.lifted)
    assert lowered.shares is None
    assert lowered.missing == ("chassis.axle[2].kerb_load",)
    assert found.finding("axle-steer-2").verdict in ("open", "fails")
    assert "chassis.axle[2].kerb_load" in found.finding("axle-steer-2").missing


def test_without_a_height_grades_and_braking_are_open_and_the_level_is_not() -> None:
    found = assessed(SUPPORTS.replace('cg_height = "1.0 m"\n', ""))
    grade = [f for f in found.findings if f.key.endswith("-grade") or f.key.startswith("braking-")]
    assert len(grade) == 4
    for finding in grade:
        assert finding.verdict == "open", finding.key
        assert "chassis.cg_height" in finding.missing
    for key in ("axle-steer-1", "axle-rear", "gross", "front-share"):
        assert found.finding(key).verdict in ("holds", "close", "fails"), key
    known = assessed(SUPPORTS).truck.table
    table = found.truck.table
    level = np.array([s.level for s in table.states])
    assert np.isnan(table.axles[~level & np.array([s.slope == 0 for s in table.states])]).all()
    assert table.axles[level] == pytest.approx(known.axles[level], rel=1e-12)
    assert np.isnan(table.centre[:, 2]).all()
    assert np.isfinite(table.centre[:, :2]).all()


@pytest.mark.parametrize("sense", ["at_most", "at_least"])
@pytest.mark.parametrize(
    ("value", "limit"),
    [
        (math.nan, 1.0),
        (1.0, math.nan),
        (math.nan, math.nan),
        (None, 1.0),
        (1.0, None),
        (math.inf, 1.0),
        (-math.inf, 1.0),
    ],
)
def test_what_is_no_number_never_holds(value: float | None, limit: float | None, sense: str) -> None:
    assert verdict(value, limit, sense) == "open"


def test_numbers_hold_come_close_and_fail() -> None:
    """Within 3 % is close; on the limit is not a failure; a billionth beyond is rounding, a millionth is not."""
    assert [verdict(x, 100.0, "at_most") for x in (90, 97.1, 100, 100 + 5e-8, 100.001)] == [
        "holds", "close", "close", "close", "fails",
    ]  # fmt: skip
    assert [verdict(x, 100.0, "at_least") for x in (110, 102.9, 100, 99.999)] == ["holds", "close", "close", "fails"]
